/* break_origin.c - where a break began: names of its kinds, and whether a place lies on the sketch.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, y up. */
#include "base/phrase.h"
#include "casefile/case.h"
#include "casefile/case_words.h"
#include <string.h>

#define BESIDE_MM 0.5 /* a finger is no needle */

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

/* A box that no change of an outline leaves: what was saved can always be read again. */
bool connector_on_sketch(const Case *c, size_t connector, double x, double y)
{
  if (connector + 1 >= c->n_unit)
    return false;
  if (isnan(x))
    return isnan(y); /* a height alone is no place */
  Neighbours around = case_neighbours(c, connector);
  double high = fmax(around.height[0], around.height[1]);
  return x >= -around.length[0] - BESIDE_MM && x <= around.length[1] + BESIDE_MM &&
         (isnan(y) || (y >= -BESIDE_MM && y <= high + BESIDE_MM));
}

bool photo_beside(const char *photo)
{
  return !g_path_is_absolute(photo) && !strstr(photo, "..") && !strchr(photo, '\\');
}

bool origin_check(const Case *c, const char **reason)
{
  const BreakOrigin *origin = &c->origin;
  if (!photo_beside(origin->photo)) {
    *reason = N_("The photo of the break leaves the folder of the case. Put it beside the case and "
                 "write its name.");
    return false;
  }
  bool placed = origin->connector + 1 < c->n_unit;
  if (placed && !connector_on_sketch(c, origin->connector, origin->at_x, origin->at_y)) {
    *reason =
        N_("The start of the break lies off the sketch. Correct its place and height: mm from "
           "the neck and above the tissue line.");
    return false;
  }
  return true;
}
