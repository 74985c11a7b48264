/* flat_bridge.c - see flat_bridge.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/flat_bridge.h"
#include "ui/drawing/picture_connector.h"

#define ROUND_NECK                                                                                 \
  1.7 /* pull of a round neck over that of a flat one: 16 / (3 pi) for an ellipse */
#define HARDLY_SHARE 0.02 /* of the limit: below, a neck is set as any round one           */
#define DEEPENING 0.6
#define NECK_PART 0.25 /* of the shorter unit beside: as far a neck's own setting holds */

struct FlatBridge {
  WholeBridge *whole;
  float *share; /* NULL: nothing shown yet */
};

FlatBridge *flat_bridge_new(void)
{
  FlatBridge *flat = g_new0(FlatBridge, 1);
  if (whole_bridge_new(&flat->whole))
    g_clear_pointer(&flat, g_free);
  return flat;
}

void flat_bridge_free(FlatBridge *flat)
{
  if (!flat)
    return;
  whole_bridge_free(flat->whole);
  g_free(flat->share);
  g_free(flat);
}

typedef struct {
  double x, reach; /* middle and half length of the neck's own stretch, mm */
  double setting;  /* share of the limit there for 1 MPa of the flat body; NaN: not known */
} NeckSetting;

static double neck_setting(const Assessment *a, size_t i, bool at_order, double flat_mpa)
{
  const ConnectorAssessment *k = &a->connector[i];
  bool its_load = !at_order || i == a->weakest; /* else the answer is for a load elsewhere */
  double limit = connector_limit(k, at_order), hardly = HARDLY_SHARE * limit,
         peak = at_order ? k->peak.mpa : k->trial_peak.mpa;
  if (!k->field || !(limit > 0))
    return NAN;
  if (!its_load || !isfinite(peak))
    return ROUND_NECK / limit;
  return (fmax(peak, 0) + ROUND_NECK * hardly) / (fmax(flat_mpa, 0) + hardly) / limit;
}

/* Necks without an answer take the setting of the nearest one that has one; false: none has. */
static bool settings_fill(NeckSetting neck[], size_t n)
{
  for (size_t i = 0; i < n; i++) {
    double nearest = INFINITY, setting = NAN;
    for (size_t j = 0; j < n && isnan(neck[i].setting); j++)
      if (isfinite(neck[j].setting) && fabs(neck[j].x - neck[i].x) < nearest) {
        nearest = fabs(neck[j].x - neck[i].x);
        setting = neck[j].setting;
      }
    if (isnan(neck[i].setting))
      neck[i].setting = setting;
  }
  return n > 0 && isfinite(neck[0].setting);
}

static double setting_at(const NeckSetting neck[], size_t n, double x)
{
  size_t i = 0;
  while (i + 1 < n && x > neck[i + 1].x - neck[i + 1].reach)
    i++;
  double from = neck[i].x + neck[i].reach;
  if (i + 1 == n || x <= from)
    return neck[i].setting;
  double to = neck[i + 1].x - neck[i + 1].reach;
  return neck[i].setting + (neck[i + 1].setting - neck[i].setting) * (x - from) / (to - from);
}

/* Bodies bear a hundredth of what their necks do: weak zones are drawn stronger, zero and limit
 * stay. */
static float deepened(double share)
{
  return (float)copysign(pow(fabs(share), DEEPENING), share);
}

/* MPa of the flat body into shares of the limit, in place. */
static void shares_set(const Assessment *a, const FieldSheet *sheet, bool at_order, float value[])
{
  NeckSetting neck[SPAN_MAX_UNITS - 1];
  for (size_t i = 0; i < a->n_connector; i++) {
    double most = 0, shorter = fmin(a->c.unit[i].length, a->c.unit[i + 1].length);
    neck[i] = (NeckSetting){a->neck_x[i], NECK_PART * shorter, NAN};
    for (size_t k = 0; k < sheet->n_vertex; k++)
      if (fabs(sheet->at[k].x - neck[i].x) <= neck[i].reach)
        most = fmax(most, (double)value[k]);
    neck[i].setting = neck_setting(a, i, at_order, most);
  }
  bool known = settings_fill(neck, a->n_connector);
  for (size_t k = 0; k < sheet->n_vertex; k++)
    value[k] =
        known ? deepened((double)value[k] * setting_at(neck, a->n_connector, sheet->at[k].x)) : NAN;
}

Fault flat_bridge_show(FlatBridge *flat, const Assessment *a, bool at_order, Point *where)
{
  SpanLoad load = {.x = a->trial_x, .force_n = a->c.trial.force_n};
  if (at_order && a->weakest < a->n_connector)
    load = (SpanLoad){.x = a->connector[a->weakest].order_x, .force_n = a->c.order_load_n};
  Fault fault = whole_bridge_load(flat->whole, a, load, where);
  const FieldSheet *sheet = whole_bridge_sheet(flat->whole);
  if (fault) {
    if (!sheet)
      g_clear_pointer(&flat->share, g_free);
    return fault;
  }
  flat->share = g_renew(float, flat->share, sheet->n_vertex);
  /* sum of the principal stresses: on a free edge the pull along it, and without a jump between
   * stretched and squeezed */
  for (size_t k = 0; k < sheet->n_vertex; k++)
    flat->share[k] = sheet->stress[k][UNIT_BEND][0] + sheet->stress[k][UNIT_BEND][1];
  shares_set(a, sheet, at_order, flat->share);
  return FAULT_NONE;
}

const FieldSheet *flat_bridge_sheet(const FlatBridge *flat, const float **share)
{
  *share = flat->share;
  return flat->share ? whole_bridge_sheet(flat->whole) : NULL;
}
