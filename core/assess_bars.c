/* assess_bars.c - see assess_bars.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_bars.h"
#include <string.h>

/* The peak of the notch solved last: bars of one set share it. */
typedef struct {
  NotchedBar bar;
  double times; /* 0 = none yet */
} Solved;

static Fault times_of(const NotchedBar *bar, Solved *last)
{
  if (last->times > 0 && memcmp(bar, &last->bar, sizeof *bar) == 0)
    return FAULT_NONE;
  NotchedBarAnswer *answer = NULL;
  Fault fault = notched_bar_solve(bar, &answer);
  if (fault)
    return fault;
  *last = (Solved){*bar, fmax(answer->times, 1)};
  notched_bar_answer_free(answer);
  return FAULT_NONE;
}

static Fault check_with(const BarOrigin *o, const BarSetup *setup, const Bar *bar, double modulus,
                        Solved *last, BarBreak *result)
{
  if (setup->test == BAR_DISC)
    return FAULT_RANGE;
  Fault fault = o->notched ? times_of(&o->notch, last) : FAULT_NONE;
  return fault ? fault
               : bar_break_check(setup, bar, point(o->x, o->y), modulus,
                                 o->notched ? &o->notch : NULL, o->notch_x, last->times, result);
}

/* Of "FILE:LINE: ...". */
static guint64 line_of(const char *message, size_t name)
{
  return g_ascii_strtoull(message + name + 1, NULL, 10);
}

static int message_order(const void *a, const void *b, void *name)
{
  size_t length = strlen(name);
  guint64 left = line_of(*(char *const *)a, length), right = line_of(*(char *const *)b, length);
  return (left > right) - (left < right);
}

static void wrong_tell(BarsTable *table, const GError *why)
{
  g_ptr_array_add(table->message,
                  g_strdup_printf("%s %s", why->message,
                                  g_dgettext("soffit", N_("The bar is used, its record is not."))));
}

void bars_records_clear(BarsRecords *records)
{
  g_clear_pointer(&records->found, g_free);
}

Fault bars_records(BarsTable *table, const BarSetup *setup, double modulus,
                   bool (*cancelled)(void *data), void *data, BarsRecords *records)
{
  *records = (BarsRecords){0};
  Solved last = {.times = 0};
  guint told = table->message->len;
  if (!table->further->len)
    return FAULT_NONE;
  for (guint i = 0; i < table->row->len; i++) {
    g_autoptr(GError) why = NULL;
    BarOrigin origin;
    BarBreak result = {0};
    if (cancelled && cancelled(data))
      return FAULT_CANCELLED;
    if (!bar_origin_read(table, i, setup, &origin, &why)) {
      wrong_tell(table, why);
      continue;
    }
    if (!bar_origin_recorded(&origin))
      continue;
    records->recorded++;
    records->kind[origin.kind]++;
    Fault fault = check_with(&origin, setup, &g_array_index(table->row, BarsRow, i).bar, modulus,
                             &last, &result);
    if (fault == FAULT_MEMORY)
      return fault;
    if (!records->found)
      records->found = g_new0(BarBreak, table->row->len);
    records->placed += !fault;
    records->hits += !fault && result.hit;
    records->found[i] = result;
  }
  if (table->message->len > told)
    g_ptr_array_sort_with_data(table->message, message_order, table->name);
  return FAULT_NONE;
}
