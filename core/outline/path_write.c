/* path_write.c - an outline written as SVG path data.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Numbers as they stand, six decimals, '.' whatever the locale. */
#include "outline/outline.h"
#include "base/tolerance.h"
#include <stdint.h>

typedef struct {
  char *buf;
  size_t room, n; /* n counts on past the room */
} Writer;

static void put(Writer *w, char c)
{
  if (w->n + 1 < w->room)
    w->buf[w->n] = c;
  w->n++;
}

/* A number in millionths, trailing zeros trimmed. */
static void put_number(Writer *w, double value)
{
  int64_t millionths = llround(value * 1e6);
  if (millionths < 0)
    put(w, '-');
  uint64_t left = (uint64_t)(millionths < 0 ? -millionths : millionths);
  char digit[24];
  int n = 0, places = 6;
  while (places > 0 && left % 10 == 0) {
    left /= 10;
    places--;
  }
  do {
    digit[n++] = (char)('0' + left % 10);
    left /= 10;
  } while (left > 0 || n <= places);
  while (n > 0) {
    if (n == places)
      put(w, '.');
    put(w, digit[--n]);
  }
}

static void put_point(Writer *w, Point p)
{
  put(w, ' ');
  put_number(w, p.x);
  put(w, ' ');
  put_number(w, p.y);
}

static bool writable(const Outline *outline)
{
  for (size_t i = 0; i < outline->n; i++) {
    const Knot *k = &outline->knot[i];
    const double v[6] = {k->at.x, k->at.y, k->in.x, k->in.y, k->out.x, k->out.y};
    for (int j = 0; j < 6; j++)
      if (!(fabs(v[j]) <= 1e12))
        return false;
  }
  return outline->n > 0;
}

size_t outline_to_path(const Outline *outline, char *buf, size_t room)
{
  Writer w = {buf, room, 0};
  if (writable(outline)) {
    put(&w, 'M');
    put_point(&w, outline->knot[0].at);
    for (size_t i = 0; i < outline_pieces(outline); i++) {
      const Knot *a = &outline->knot[i], *b = &outline->knot[(i + 1) % outline->n];
      bool straight = point_distance(a->at, a->out) <= TOL_POINT_MM &&
                      point_distance(b->in, b->at) <= TOL_POINT_MM;
      if (straight && i + 1 == outline->n)
        break; /* Z draws it */
      put(&w, ' ');
      put(&w, straight ? 'L' : 'C');
      if (!straight) {
        put_point(&w, a->out);
        put_point(&w, b->in);
      }
      put_point(&w, b->at);
    }
    if (outline->closed) {
      put(&w, ' ');
      put(&w, 'Z');
    }
  }
  if (room > 0)
    buf[w.n < room ? w.n : room - 1] = '\0';
  return w.n;
}
