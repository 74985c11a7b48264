/* report_pdf.c - see report_pdf.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report_pdf.h"
#include "casefile/save.h"
#include "ui/drawing/paper.h"
#include "ui/words.h"
#include <cairo-pdf.h>
#include <gio/gio.h>

#define PIXELS_A_POINT 4 /* of the shade: 288 dots per inch */
#define CREATOR "Soffit"

static cairo_status_t keep(void *closure, const unsigned char *data, unsigned int length)
{
  GByteArray *bytes = closure;
  if (length > G_MAXUINT - bytes->len)
    return CAIRO_STATUS_WRITE_ERROR;
  g_byte_array_append(bytes, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static cairo_status_t drop(void *closure, const unsigned char *data, unsigned int length)
{
  (void)closure, (void)data, (void)length;
  return CAIRO_STATUS_SUCCESS;
}

/* Draws onto a new PDF surface; *pages is the number shown in the feet, then the number drawn. */
static cairo_status_t draw(const Assessment *a, const DrawContext *context, const char *time,
                           cairo_write_func_t write, void *closure, int *pages)
{
  cairo_surface_t *surface =
      cairo_pdf_surface_create_for_stream(write, closure, PAPER_A4_WIDTH, PAPER_A4_HEIGHT);
  g_autofree char *title =
      g_strdup_printf("%s%s%s", a->c.number, a->c.title[0] ? " – " : "", a->c.title);
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, CREATOR);
  cairo_t *cr = cairo_create(surface);
  *pages = paper_draw(cr, context, a, time, *pages, write == drop);
  cairo_status_t status = cairo_status(cr);
  cairo_destroy(cr);
  cairo_surface_finish(surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status(surface);
  cairo_surface_destroy(surface);
  return status;
}

bool report_write_pdf(const Assessment *a, const char *path, const char *title_time,
                      PhraseTranslate translate, const char *decimal, GError **error)
{
  DrawContext context = {.palette = PALETTE_LIGHT,
                         .decimal = decimal,
                         .translate = translate,
                         .scale = PAPER_SCALE,
                         .resolution = PIXELS_A_POINT};
  g_autoptr(GByteArray) bytes = g_byte_array_new();
  int pages = 0;
  cairo_status_t status = draw(a, &context, title_time, drop, NULL, &pages);
  if (status == CAIRO_STATUS_SUCCESS)
    status = draw(a, &context, title_time, keep, bytes, &pages);
  if (status != CAIRO_STATUS_SUCCESS) {
    g_set_error(error, G_IO_ERROR, G_IO_ERROR_FAILED, _("The report cannot be drawn: %s"),
                cairo_status_to_string(status));
    return false;
  }
  return file_save(path, (const char *)bytes->data, bytes->len, error);
}
