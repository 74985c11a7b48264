/* evidence_make.c - see evidence_make.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/evidence_make.h"
#include "casefile/case_xml.h"
#include "lab/seen_store.h"
#include "record/change.h"

#define CHANGED_MM 0.01 /* outlines that differ by less are the approved ones */
#define HANDS 2         /* somebody waits for the first picture */

static void assessment_drop(Assessment *a)
{
  if (a)
    assessment_unref(a);
}

void evidence_free(void *data)
{
  Evidence *e = data;
  if (!e)
    return;
  g_free(e->file);
  g_free(e->unread);
  case_clear(&e->c);
  standing_clear(&e->standing);
  for (int i = 0; i < SINCE_N; i++) {
    g_clear_pointer(&e->base[i].changes, g_array_unref);
    assessment_drop(e->base[i].a);
  }
  assessment_drop(e->first);
  assessment_drop(e->a);
  flat_bridge_free(e->flat);
  g_free(e);
}

void part_free(void *data)
{
  Part *part = data;
  g_free(part->file);
  evidence_free(part->fresh);
  assessment_drop(part->a);
  for (int i = 0; i < SINCE_N; i++)
    assessment_drop(part->base[i]);
  flat_bridge_free(part->flat);
  g_free(part);
}

Place *place_new(const EvidenceWanted *wanted)
{
  Place *place = g_atomic_rc_box_new0(Place);
  place->folder = g_strdup(wanted->folder);
  place->file = g_strdup(wanted->file);
  place->seen = g_strdup(wanted->seen);
  place->changed_us = wanted->changed_us;
  place->first = wanted->first;
  case_init(&place->c);
  for (int i = 0; i < SINCE_N; i++)
    case_init(&place->base[i]);
  return place;
}

static void place_clear(void *data)
{
  Place *place = data;
  g_free(place->folder);
  g_free(place->file);
  g_free(place->seen);
  case_clear(&place->c);
  for (int i = 0; i < SINCE_N; i++)
    case_clear(&place->base[i]);
}

void place_unref(Place *place)
{
  if (place)
    g_atomic_rc_box_release_full(place, place_clear);
}

/* ---- the case, and as it was before ---- */

/* The case with the outlines that were approved; false when nothing was. */
static bool case_approved(const Case *c, Case *before)
{
  bool any = false;
  for (size_t i = 0; i + 1 < c->n_unit; i++)
    any = any || c->connector[i].approved[0].n > 1;
  if (!any || case_copy(before, c))
    return false;
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    Connector *k = &before->connector[i];
    if (!(connector_changed(&c->connector[i], CHANGED_MM) > CHANGED_MM))
      continue;
    for (int side = 0; side < SIDE_N; side++)
      if (k->approved[side].n > 1 && outline_copy(&k->side[side], &k->approved[side]))
        return false;
    if (k->approved[0].n > 1 && outline_copy(&k->section, &k->approved_section))
      return false;
    if (isfinite(k->approved_roundness_neck)) {
      k->roundness_neck = k->approved_roundness_neck;
      k->roundness_body = k->approved_roundness_body;
    }
  }
  return true;
}

static bool same_teeth(const Case *a, const Case *b)
{
  bool same = a->n_unit == b->n_unit;
  for (size_t i = 0; same && i < a->n_unit; i++)
    same = a->unit[i].tooth == b->unit[i].tooth;
  return same;
}

/* As a file of this program has it: rounded as what was seen is, so that rounding is no change. */
static bool case_written(const Case *c, Case *written)
{
  GString *xml = case_to_xml(c);
  bool read = case_load_memory(written, xml->str, xml->len, c->number, NULL);
  g_string_free(xml, TRUE);
  return read;
}

static void bases_find(Place *place, Evidence *e)
{
  gint64 looked;
  EvidenceBase *seen = &e->base[SINCE_SEEN], *approved = &e->base[SINCE_APPROVED];
  SeenState state = place->seen ? seen_look_back(place->seen, place->file, &e->c, g_get_real_time(),
                                                 &place->base[SINCE_SEEN], &looked)
                                : SEEN_NEVER;
  seen->there = state != SEEN_NEVER;
  seen->time_us = seen->there ? looked : 0;
  Case now;
  case_init(&now);
  if (state == SEEN_OTHER && case_written(&e->c, &now))
    seen->changes = case_changes(&place->base[SINCE_SEEN], &now);
  approved->there = case_approved(&e->c, &place->base[SINCE_APPROVED]);
  if (approved->there)
    approved->changes = case_changes(&place->base[SINCE_APPROVED], &e->c);
  for (int i = 0; i < SINCE_N; i++)
    place->differs[i] = e->base[i].changes && same_teeth(&place->base[i], &e->c) &&
                        !case_alike(&place->base[i], i == SINCE_SEEN ? &now : &e->c, SIZE_MAX);
  case_clear(&now);
}

static void part_read(Place *place, Part *part)
{
  Evidence *e = part->fresh = g_new0(Evidence, 1);
  g_autofree char *path = g_build_filename(place->folder, place->file, NULL), *trouble = NULL;
  g_autoptr(GError) error = NULL;
  e->file = g_strdup(place->file);
  e->changed_us = place->changed_us;
  case_init(&e->c);
  if (!case_load_seen(&e->c, path, e->seen, &error)) {
    e->unread = g_strdup(error->message);
    return;
  }
  g_autoptr(Lab) lab = lab_new(place->folder, &trouble);
  part->fault = case_standing(&e->c, lab->keys, &e->standing);
  e->limits = lab_settings_limits(lab->settings, &e->c, &e->standing);
  bases_find(place, e);
  place->limits = e->limits;
  place->read = part->fault == FAULT_NONE && case_copy(&place->c, &e->c) == FAULT_NONE;
}

/* ---- answers ---- */

static void part_rest(Assessor *assessor, const Place *place, AssessSettings *settings, Part *part)
{
  Point where;
  settings->grade = ASSESS_REST;
  settings->waterfall = true;
  part->fault = assess(assessor, &place->c, settings, &part->a);
  if (!part->a || settings->cancelled(settings->cancel_data))
    return;
  part->flat = flat_bridge_new();
  if (flat_bridge_show(part->flat, part->a, true, &where))
    g_clear_pointer(&part->flat, flat_bridge_free);
}

static void part_assess(Assessor *assessor, const Place *place, AssessSettings *settings,
                        Part *part)
{
  settings->grade = ASSESS_LIVE;
  switch (part->stage) {
  case EVIDENCE_FIRST:
    settings->threads = HANDS;
    settings->only = MIN(place->first, place->c.n_unit - 2);
    part->fault = assess(assessor, &place->c, settings, &part->a);
    break;
  case EVIDENCE_LIVE:
    part->fault = assess(assessor, &place->c, settings, &part->a);
    break;
  case EVIDENCE_REST:
    part_rest(assessor, place, settings, part);
    break;
  default:
    for (int i = 0; i < SINCE_N && !part->fault; i++)
      if (place->differs[i])
        part->fault = assess(assessor, &place->base[i], settings, &part->base[i]);
  }
}

Part *part_make(Assessor *assessor, Place *place, bool (*cancelled)(void *data), void *data)
{
  Part *part = g_new0(Part, 1);
  part->file = g_strdup(place->file);
  part->changed_us = place->changed_us;
  part->stage = place->stage;
  if (part->stage == EVIDENCE_READ) {
    part_read(place, part);
    return part;
  }
  AssessSettings settings = assess_settings_default();
  settings.limits = place->limits;
  settings.cancelled = cancelled;
  settings.cancel_data = data;
  part_assess(assessor, place, &settings, part);
  return part;
}
