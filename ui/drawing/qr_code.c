/* qr_code.c - see qr_code.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/qr_code.h"
#include <qrencode.h>
#include <stddef.h>

#define QUIET 4 /* squares of white around, as the standard asks */
#define DARK 1  /* lowest bit of a square */

/* One path for all: neighbours that meet must show no hair line between them. */
static void squares(cairo_t *cr, const QRcode *code, double x, double y, double square)
{
  for (int row = 0; row < code->width; row++)
    for (int from = 0, to; from < code->width; from = to) {
      const unsigned char *line = code->data + (size_t)row * (size_t)code->width;
      for (to = from + 1; to < code->width && ((line[to] ^ line[from]) & DARK) == 0; to++)
        ;
      if (line[from] & DARK)
        cairo_rectangle(cr, x + from * square, y + row * square, (to - from) * square, square);
    }
}

bool draw_qr_code(cairo_t *cr, double x, double y, double size, const char *text)
{
  QRcode *code = QRcode_encodeString8bit(text, 0, QR_ECLEVEL_M);
  if (!code)
    return false;
  double square = size / (code->width + 2 * QUIET);
  cairo_save(cr);
  cairo_new_path(cr);
  cairo_rectangle(cr, x, y, size, size);
  cairo_set_source_rgb(cr, 1, 1, 1);
  cairo_fill(cr);
  squares(cr, code, x + QUIET * square, y + QUIET * square, square);
  cairo_set_source_rgb(cr, 0, 0, 0);
  cairo_fill(cr);
  cairo_restore(cr);
  QRcode_free(code);
  return true;
}
