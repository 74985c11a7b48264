/* assess_change.c - see assess_change.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_change.h"
#include "assess_connector.h"
#include <string.h>

static void item_judge(const Assessment *a, WorkItem *item)
{
  size_t i = item->connector < a->n_connector ? item->connector : a->weakest;
  if (item->treatment == TREAT_N || i >= a->n_connector || !a->connector[i].field)
    return;
  const ConnectorAssessment *k = &a->connector[i];
  FinishState finish[ZONE_NECK_N];
  connector_finish_now(&a->c.connector[i], finish);
  bool changed = false;
  for (int zone = 0; zone < ZONE_NECK_N; zone++) {
    FinishState after = finish_after(finish[zone], item->treatment, false);
    bool reached = (item->zones & 1u << zone) != 0 && after != finish[zone];
    finish[zone] = reached ? after : finish[zone];
    changed = changed || reached;
  }
  ZoneSurface surface[ZONE_NECK_N];
  connector_surfaces(&a->c.connector[i], finish, surface);
  Scales scales = scales_of(&a->c.material, surface);
  if (!changed || !scales_usable(&scales))
    return;
  item->margin_before = k->margin;
  item->margin_after = margin_of(k->field, &k->peak, k->order, &scales);
  g_strlcpy(item->place, k->name, sizeof item->place);
}

void worklist_judge(Assessment *a)
{
  for (guint n = 0; n < a->worklist->len; n++)
    item_judge(a, &g_array_index(a->worklist, WorkItem, n));
}
