/* digest.c - see digest.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/digest.h"
#include "casefile/case_xml.h"
#include "casefile/photo.h"

static void photo_judged(Photo *photo, char *nowhere)
{
  photo->file = nowhere;
  photo->opacity = PHOTO_OPACITY;
  photo->locked = ANSWER_UNKNOWN;
}

/* All is borrowed from the case or from here: nothing of the view is ever cleared. */
Fault case_digest(const Case *c, char hex[65])
{
  char nothing[] = "";
  g_autoptr(GPtrArray) none = g_ptr_array_new();
  Case view = *c;
  view.title = nothing;
  view.trial = (CaseLoad){NAN, c->order_load_n};
  view.history = view.remark = none;
  view.origin = (BreakOrigin){.connector = SIZE_MAX,
                              .at_x = NAN,
                              .depth = NAN,
                              .at_y = NAN,
                              .load_n = NAN,
                              .years = NAN,
                              .seen = nothing,
                              .photo = nothing};
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    Connector *k = &view.connector[i];
    k->variant = none;
    for (int side = 0; side < SIDE_N; side++)
      k->approved[side] = (Outline){0};
    k->approved_section = (Outline){0};
    k->approved_roundness_neck = k->approved_roundness_body = NAN;
    photo_judged(&k->photo, nothing);
  }
  g_autoptr(GString) xml = case_to_xml(&view);
  g_autofree char *digest =
      g_compute_checksum_for_data(G_CHECKSUM_SHA256, (const guchar *)xml->str, xml->len);
  g_strlcpy(hex, digest, 65);
  return FAULT_NONE;
}
