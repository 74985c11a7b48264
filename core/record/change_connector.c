/* change_connector.c - what became different of one connector, in words.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/connector_size.h"
#include "casefile/photo.h"
#include "record/change_parts.h"
#include <string.h>

#define SAME_MM 5e-7   /* a file keeps six decimals */
#define FAR_MM 1000.0  /* measure to the end */
#define SHOWN_MM 0.005 /* half of what is shown */

#define ROW(name, member, as)                                                                      \
  {                                                                                                \
    name, offsetof(Connector, member), as                                                          \
  }
static const ChangeRow wanted_row[] = {
    ROW(N_("Wanted neck width"), neck_width, SAID_MM),
    ROW(N_("Wanted biting groove"), groove_y, SAID_MM),
    ROW(N_("Wanted groove radius"), groove_radius, SAID_MM),
    ROW(N_("Wanted groove opening"), groove_open_deg, SAID_DEGREE),
    ROW(N_("Wanted plan radius"), plan_radius, SAID_MM),
    ROW(N_("Roundness of the neck"), roundness_neck, SAID_NUMBER),
    ROW(N_("Roundness of the bodies"), roundness_body, SAID_NUMBER),
    ROW(N_("Doubt of the drawn roof"), roof_doubt_percent, SAID_PERCENT),
};
static const ChangeRow work_row[] = {
    ROW(N_("Cut-back"), cut_back, SAID_MM),
    ROW(N_("Crown wall"), wall, SAID_MM),
    ROW(N_("Holding pin"), pin_distance, SAID_MM),
    ROW(N_("In a weaker layer"), weaker_layer, SAID_YES_NO),
    ROW(N_("Papilla"), papilla, SAID_MM),
    ROW(N_("Soft neck height"), soft_height, SAID_MM),
    ROW(N_("Measured neck height"), measured_height, SAID_MM),
    ROW(N_("Brush passes"), brush_passes, SAID_YES_NO),
    ROW(N_("Dye"), dye, SAID_CHECK),
    ROW(N_("Light"), light, SAID_CHECK),
};
#undef ROW
#define ROW(name, member, as)                                                                      \
  {                                                                                                \
    name, offsetof(SurfaceEvent, member), as                                                       \
  }
static const ChangeRow event_row[] = {
    ROW(N_("mark"), kind, SAID_EVENT),
    ROW(N_("place of the mark"), at_x, SAID_MM),
    ROW(N_("its depth"), depth, SAID_MM),
    ROW(N_("its edge radius"), edge_radius, SAID_MM),
    ROW(N_("its zone"), zone, SAID_ZONE),
    ROW(N_("under water or dry"), water, SAID_WATER),
    ROW(N_("the mark since"), removed, SAID_REMOVED),
};
#undef ROW

static const char *const side_name[SIDE_N] = {
    [SIDE_GINGIVAL] = N_("Gum-side outline"),
    [SIDE_OCCLUSAL] = N_("Biting-side outline"),
    [SIDE_BUCCAL] = N_("Cheek-side outline"),
    [SIDE_LINGUAL] = N_("Tongue-side outline"),
};

/* --- outlines --- */

static bool form_of(const Connector *k, Form *form)
{
  const Outline *side = k->side;
  for (int s = 0; s < SIDE_N; s++)
    if (side[s].n < 2)
      return false;
  return form_read(&side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &side[SIDE_BUCCAL],
                   &side[SIDE_LINGUAL], NULL, form, NULL) == FAULT_NONE;
}

static Phrase size_phrase(SizeKind kind, double value)
{
  return (Phrase){.text = isnan(value)          ? NULL
                          : size_is_angle(kind) ? N_("{0.1}°")
                                                : N_("{0.2} mm"),
                  .value = {value}};
}

/* Readings that would be shown differently; whether one of the gum side is among them. */
static bool sizes_compare(const ChangePlace *place, const Connector *a, const Connector *b)
{
  Form before, after;
  bool gum = false, seen_a = form_of(a, &before), seen_b = form_of(b, &after);
  for (SizeKind kind = 0; kind < SIZE_KINDS; kind++) {
    Phrase p = size_phrase(kind, seen_a ? size_of_form(&before, kind) : NAN);
    Phrase q = size_phrase(kind, seen_b ? size_of_form(&after, kind) : NAN);
    char shown[2][64];
    phrase_format(&p, NULL, NULL, shown[0], sizeof shown[0]);
    phrase_format(&q, NULL, NULL, shown[1], sizeof shown[1]);
    if (strcmp(shown[0], shown[1]) == 0)
      continue;
    gum = gum || kind != SIZE_NECK_WIDTH;
    change_add(place, size_name(kind), &p, &q);
  }
  return gum;
}

/* NULL name of the state: not there. */
static void outline_compare(const ChangePlace *place, const char *name, const Outline *a,
                            const Outline *b, const char *without)
{
  Phrase none = {.text = without}, drawn = {.text = N_("drawn")};
  if (a->n == 0 && b->n == 0)
    return;
  if (a->n == 0 || b->n == 0) {
    change_add(place, name, a->n ? &drawn : &none, b->n ? &drawn : &none);
    return;
  }
  if (outline_equal(a, b, SAME_MM))
    return;
  double apart = outlines_apart(b, a, FAR_MM);
  Phrase moved = {.text = apart < SHOWN_MM ? N_("moved by less than 0.01 mm")
                                           : N_("moved by up to {0.2} mm"),
                  .value = {apart}};
  change_add(place, name, NULL, &moved);
}

static void outlines_compare(const ChangePlace *place, const Connector *a, const Connector *b)
{
  static const Outline none = {0};
  bool same = true;
  for (int s = 0; s < SIDE_N; s++)
    same = same && outline_equal(&a->side[s], &b->side[s], SAME_MM);
  bool gum = !same && sizes_compare(place, a, b);
  for (int s = 0; s < SIDE_N; s++) {
    bool told = s == SIDE_GINGIVAL && gum && a->drawn[s] == b->drawn[s];
    if (!told)
      outline_compare(place, side_name[s], a->drawn[s] ? &a->side[s] : &none,
                      b->drawn[s] ? &b->side[s] : &none, N_("proposed"));
  }
  outline_compare(place, N_("Neck section"), &a->section, &b->section, N_("by roundness"));
  outline_compare(place, N_("Room for the outline"), &a->room, &b->room, NULL);
  rows_compare(place, wanted_row, G_N_ELEMENTS(wanted_row), a, b);
}

/* --- finish and marks --- */

static void finish_compare(const ChangePlace *at, const Connector *a, const Connector *b)
{
  static const char *const step[POLISH_STEP_N] = {N_("rubber coarse"), N_("rubber middle"),
                                                  N_("rubber fine"), N_("gloss")};
  ChangePlace place = *at;
  place.what.text = N_("{place}: finish, {word}");
  for (int zone = 0; zone < ZONE_NECK_N; zone++) {
    ChangeRow row = {zone_name((FinishZone)zone), 0, SAID_FINISH};
    rows_compare(&place, &row, 1, &a->finish[zone], &b->finish[zone]);
  }
  place.what.text = N_("{place}: polishing, {word}");
  Phrase done = {.text = N_("done")};
  for (unsigned i = 0; i < POLISH_STEP_N; i++) {
    bool was = a->polish_steps & 1u << i, is = b->polish_steps & 1u << i;
    if (was != is)
      change_add(&place, step[i], was ? &done : NULL, is ? &done : NULL);
  }
}

static Phrase event_phrase(const SurfaceEvent *event)
{
  bool at = !isnan(event->at_x), deep = !isnan(event->depth);
  return (Phrase){.text = at && deep ? N_("{word} at {1.1} mm, {0.2} mm deep")
                          : at       ? N_("{word} at {1.1} mm")
                          : deep     ? N_("{word}, {0.2} mm deep")
                                     : "{word}",
                  .word = said_word(SAID_EVENT, (int)event->kind),
                  .value = {event->depth, event->at_x}};
}

static bool event_same(const SurfaceEvent *a, const SurfaceEvent *b)
{
  g_autoptr(GArray) nothing = g_array_new(FALSE, TRUE, sizeof(CaseChange));
  ChangePlace place = place_bridge(nothing, PART_FINISH);
  return !rows_compare(&place, event_row, G_N_ELEMENTS(event_row), a, b);
}

/* New array of pointers to the marks of `a` that `b` does not have, each of b's counted once. */
static GPtrArray *events_left(const GArray *a, const GArray *b)
{
  GPtrArray *left = g_ptr_array_new();
  g_autofree bool *taken = g_new0(bool, b->len + 1);
  for (guint i = 0; i < a->len; i++) {
    SurfaceEvent *event = &g_array_index(a, SurfaceEvent, i);
    guint j = 0;
    while (j < b->len && (taken[j] || !event_same(event, &g_array_index(b, SurfaceEvent, j))))
      j++;
    if (j < b->len)
      taken[j] = true;
    else
      g_ptr_array_add(left, event);
  }
  return left;
}

/* Marks that went and came are taken as one that was changed, in their order. */
static void events_compare(const ChangePlace *place, const GArray *a, const GArray *b)
{
  g_autoptr(GPtrArray) gone = events_left(a, b);
  g_autoptr(GPtrArray) come = events_left(b, a);
  for (guint i = 0; i < MAX(gone->len, come->len); i++) {
    const SurfaceEvent *was = i < gone->len ? gone->pdata[i] : NULL,
                       *is = i < come->len ? come->pdata[i] : NULL;
    if (was && is) {
      rows_compare(place, event_row, G_N_ELEMENTS(event_row), was, is);
    } else {
      Phrase phrase = event_phrase(was ? was : is);
      change_add(place, N_("mark"), was ? &phrase : NULL, is ? &phrase : NULL);
    }
  }
}

/* --- photo --- */

static void photo_compare(const ChangePlace *place, const Photo *a, const Photo *b)
{
  Phrase before = words_cut(a->file, b->file), after = words_cut(b->file, a->file);
  Photo as_before = *b; /* a view: only the picture and its place are compared */
  as_before.opacity = a->opacity;
  as_before.locked = a->locked;
  as_before.traced = a->traced;
  as_before.file = a->file;
  if (strcmp(a->sha256, b->sha256) != 0)
    change_add(place, N_("Photo"), *a->sha256 ? &before : NULL, *b->sha256 ? &after : NULL);
  else if (!photo_equal(a, &as_before))
    change_add(place, N_("Photo"), NULL, &(Phrase){.text = N_("placed or scaled anew")});
  ChangeRow traced = {N_("Outline traced on the photo"), offsetof(Photo, traced), SAID_YES_NO};
  rows_compare(place, &traced, 1, a, b);
}

void connector_changes(GArray *out, const Case *before, size_t i, const Case *after, size_t j)
{
  const Connector *a = &before->connector[i], *b = &after->connector[j];
  ChangePlace place = place_connector(out, PART_CONNECTOR, after, j);
  outlines_compare(&place, a, b);
  place.part = PART_FINISH;
  finish_compare(&place, a, b);
  events_compare(&place, a->event, b->event);
  rows_compare(&place, work_row, G_N_ELEMENTS(work_row), a, b);
  place.part = PART_PHOTO;
  photo_compare(&place, &a->photo, &b->photo);
}
