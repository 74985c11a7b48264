/* merge_words.c - see merge_words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/merge_words.h"
#include "ui/words.h"

static const char *const part_name[PART_N] = {
    [PART_ORDER] = N_("Order"),     [PART_MATERIAL] = N_("Material"),
    [PART_UNITS] = N_("Units"),     [PART_CONNECTOR] = N_("Lines"),
    [PART_FINISH] = N_("Finish"),   [PART_PHOTO] = N_("Photo"),
    [PART_BRIDGE] = N_("Bench"),    [PART_LIST] = N_("List"),
    [PART_REMARKS] = N_("Remarks"), [PART_BREAK] = N_("Break")};

char *merge_part_words(const Case *c, const MergeRow *row)
{
  char name[12];
  if (row->connector == SIZE_MAX || row->connector + 1 >= c->n_unit)
    return g_strdup(_(part_name[row->part]));
  connector_name(c, row->connector, '/', name);
  return g_strdup_printf("%s: %s", name, _(part_name[row->part]));
}

char *merge_side_words(const Case *base, const Case *side, const Case *other, const MergeRow *row,
                       bool changed)
{
  (void)base, (void)side, (void)other, (void)row;
  return g_strdup(changed ? _("changed") : _("as it was"));
}
