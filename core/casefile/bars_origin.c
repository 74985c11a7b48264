/* bars_origin.c - see bars_origin.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/bars_origin.h"
#include "casefile/bars_text.h"
#include "casefile/case_words.h"
#include "casefile/document_xml.h"
#include <math.h>
#include <string.h>

#define BAR_LONGER 1.25 /* than the span, at most: as it is drawn */

enum { AT_X, AT_Y, AT_KIND, AT_PHOTO, NOTCH_X, NOTCH_DEPTH, NOTCH_RADIUS, NOTCH_OPEN, CELLS };
static const char *const name[CELLS] = {"origin_x_mm",     "origin_y_mm",   "origin_kind",
                                        "origin_photo",    "notch_x_mm",    "notch_depth_mm",
                                        "notch_radius_mm", "notch_open_deg"};

bool bar_origin_recorded(const BarOrigin *origin)
{
  return !isnan(origin->x) || !isnan(origin->y) || origin->kind != ORIGIN_UNKNOWN || *origin->photo;
}

static const char *cell_of(const BarsTable *table, const BarsRow *row, int which)
{
  for (guint i = 0; i < table->further->len; i++) {
    g_autofree char *plain = g_strstrip(g_strdup(g_ptr_array_index(table->further, i)));
    if (g_ascii_strcasecmp(plain, name[which]) == 0)
      return row->further[i];
  }
  return "";
}

/* What of it cannot be; NULL = all can.  *which: the cell. */
static const char *origin_wrong(const BarOrigin *o, const BarSetup *setup, const Bar *bar,
                                int *which)
{
  const NotchedBar *n = &o->notch;
  const double most = BAR_LONGER / 2 * setup->span;
  *which = AT_X;
  if (!isnan(o->x) && fabs(o->x) > most)
    return N_("lies beyond the end of the bar. Count from the middle of the span.");
  *which = AT_Y;
  if (!isnan(o->y) && (o->y < 0 || o->y > bar->thickness))
    return N_("lies outside the bar. Count from the stretched edge.");
  *which = AT_PHOTO;
  if (!photo_beside(o->photo))
    return N_("leaves the folder. Put the photo beside the table and write its name.");
  if (!o->notched)
    return NULL;
  *which = NOTCH_X;
  if (!(fabs(o->notch_x) <= most))
    return N_("lies beyond the end of the bar. Count from the middle of the span.");
  *which = NOTCH_DEPTH;
  if (!(n->depth >= 0.02 && n->depth <= 0.6 * bar->thickness))
    return N_("is no notch of this bar: 0.02 mm to 0.6 of its thickness.");
  *which = NOTCH_RADIUS;
  if (!(n->radius >= 0.02 && n->radius <= n->depth))
    return N_("is no radius of a notch: 0.02 mm to its depth.");
  *which = NOTCH_OPEN;
  if (!(n->open_deg >= 0 && n->open_deg <= 120))
    return N_("is no angle of a notch: 0 to 120 degrees.");
  return NULL;
}

static bool numbers_read(const BarsTable *table, const BarsRow *row, BarOrigin *o, Reader *r)
{
  double *const number[CELLS] = {[AT_X] = &o->x,
                                 [AT_Y] = &o->y,
                                 [NOTCH_X] = &o->notch_x,
                                 [NOTCH_DEPTH] = &o->notch.depth,
                                 [NOTCH_RADIUS] = &o->notch.radius,
                                 [NOTCH_OPEN] = &o->notch.open_deg};
  for (int i = 0; i < CELLS; i++) {
    const char *cell = cell_of(table, row, i);
    if (number[i] && *cell && !bars_number(cell, number[i]))
      return reader_fail(r, CASE_ERROR_VALUE, row->line,
                         "%s \"%.40s\" is no plain number. Write it like 1.5 or 1,5, without unit.",
                         name[i], cell);
  }
  return true;
}

bool bar_origin_read(const BarsTable *table, guint at, const BarSetup *setup, BarOrigin *origin,
                     GError **error)
{
  const BarsRow *row = &g_array_index(table->row, BarsRow, at);
  Reader r = {table->name, error, false};
  BarOrigin o = BAR_ORIGIN_NONE;
  *origin = o;
  if (!numbers_read(table, row, &o, &r))
    return false;
  o.notched = *cell_of(table, row, NOTCH_DEPTH) != '\0';
  o.notch.height = row->bar.thickness;
  o.notch.width = row->bar.width;
  const char *kind = cell_of(table, row, AT_KIND), *photo = cell_of(table, row, AT_PHOTO);
  int value = ORIGIN_UNKNOWN, which;
  if (*kind && !word_find(WORDS_ORIGIN, kind, &value)) {
    g_autofree char *known = words_joined(WORDS_ORIGIN);
    return reader_fail(&r, CASE_ERROR_VALUE, row->line,
                       "%s \"%.40s\" is not known. Write one of: %s.", name[AT_KIND], kind, known);
  }
  o.kind = (OriginKind)value;
  if (strlen(photo) >= sizeof o.photo)
    return reader_fail(&r, CASE_ERROR_VALUE, row->line, "%s is too long. Shorten the file name.",
                       name[AT_PHOTO]);
  g_strlcpy(o.photo, photo, sizeof o.photo);
  const char *wrong = origin_wrong(&o, setup, &row->bar, &which);
  if (wrong)
    return reader_fail(&r, CASE_ERROR_VALUE, row->line, "%s \"%.40s\" %s", name[which],
                       cell_of(table, row, which), g_dgettext("soffit", wrong));
  *origin = o;
  return true;
}

static char *number_cell(double value, bool wanted)
{
  char buf[32];
  return g_strdup(wanted && !isnan(value) ? number_to_text(value, buf) : "");
}

char *bar_origin_write(const char *text, guint *line, const BarSetup *setup, double width,
                       double thickness, const BarOrigin *o, GError **error)
{
  const NotchedBar *n = &o->notch;
  const double number[CELLS] = {[AT_X] = o->x,
                                [AT_Y] = o->y,
                                [NOTCH_X] = o->notch_x,
                                [NOTCH_DEPTH] = n->depth,
                                [NOTCH_RADIUS] = n->radius,
                                [NOTCH_OPEN] = n->open_deg};
  Reader r = {"", error, false};
  if (!photo_beside(o->photo)) {
    reader_fail(&r, CASE_ERROR_VALUE, *line, "%s \"%.40s\" %s", name[AT_PHOTO], o->photo,
                g_dgettext("soffit", N_("leaves the folder. Put the photo beside the table and "
                                        "write its name.")));
    return NULL;
  }
  BarsCell cell[CELLS];
  char *owned[CELLS];
  for (int i = 0; i < CELLS; i++) {
    owned[i] = i == AT_KIND    ? g_strdup(origin_kind_id(o->kind))
               : i == AT_PHOTO ? g_strdup(o->photo)
                               : number_cell(number[i], i < NOTCH_X || o->notched);
    cell[i] = (BarsCell){name[i], owned[i]};
  }
  char *out = bars_text_set(text, line, setup->test, width, thickness, cell, CELLS, error);
  for (int i = 0; i < CELLS; i++)
    g_free(owned[i]);
  return out;
}
