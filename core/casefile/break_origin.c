/* break_origin.c - where a break began: names of its kinds, and whether a place lies on the sketch.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, y up. */
#include "base/phrase.h"
#include "casefile/case.h"
#include "casefile/case_words.h"

#define FINGER_MM 0.3
#define STEPS 400 /* of the search along an outline */

const char *origin_kind_name(OriginKind kind)
{
  static const char *const name[ORIGIN_KINDS] = {
      [ORIGIN_UNKNOWN] = N_("not recorded"),
      [ORIGIN_SCRATCH] = N_("scratch of grinding or milling"),
      [ORIGIN_DISC] = N_("disc mark"),
      [ORIGIN_PORE] = N_("pore, inclusion or layer border"),
      [ORIGIN_CONTACT] = N_("worn or chipped by chewing"),
      [ORIGIN_FIRING] = N_("crack that came with firing"),
      [ORIGIN_COAT] = N_("began in glaze or build-up"),
      [ORIGIN_OTHER] = N_("something else"),
  };
  return name[(unsigned)kind < ORIGIN_KINDS ? kind : ORIGIN_UNKNOWN];
}

const char *origin_kind_id(OriginKind kind)
{
  const char *id = word_of(WORDS_ORIGIN, (int)kind);
  return id ? id : "";
}

/* Lowest and highest place of the outline within a finger of x; false if there is none. */
static bool heights_at(const Outline *outline, double x, double *low, double *high)
{
  double last = (double)outline_pieces(outline);
  *low = INFINITY, *high = -INFINITY;
  for (int i = 0; i <= STEPS; i++) {
    Point p = outline_at(outline, last * i / STEPS);
    if (fabs(p.x - x) > FINGER_MM)
      continue;
    *low = fmin(*low, p.y);
    *high = fmax(*high, p.y);
  }
  return *low <= *high;
}

bool connector_on_sketch(const Case *c, size_t connector, double x, double y)
{
  if (connector + 1 >= c->n_unit)
    return false;
  if (isnan(x))
    return isnan(y); /* a height alone is no place */
  const Connector *k = &c->connector[connector];
  Neighbours around = case_neighbours(c, connector);
  if (x < -around.length[0] - FINGER_MM || x > around.length[1] + FINGER_MM)
    return false;
  double low, high, unused;
  if (!isnan(y) && k->side[SIDE_GINGIVAL].n >= 2 &&
      heights_at(&k->side[SIDE_GINGIVAL], x, &low, &unused) && y < low - FINGER_MM)
    return false;
  return isnan(y) || k->side[SIDE_OCCLUSAL].n < 2 ||
         !heights_at(&k->side[SIDE_OCCLUSAL], x, &unused, &high) || y <= high + FINGER_MM;
}
