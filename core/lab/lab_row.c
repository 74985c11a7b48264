/* lab_row.c - see lab_row.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "lab/lab_row.h"
#include <string.h>

#define tr(text) g_dgettext("soffit", text)

const size_t lab_row_text[] = {offsetof(LabRow, file),   offsetof(LabRow, trouble),
                               offsetof(LabRow, unread), offsetof(LabRow, twin),
                               offsetof(LabRow, number), offsetof(LabRow, title),
                               offsetof(LabRow, author), offsetof(LabRow, material)};
const size_t lab_row_texts = G_N_ELEMENTS(lab_row_text);

LabRow *lab_row_new(const char *file)
{
  const Banded none = banded(NAN, NAN, NAN);
  LabRow *row = g_new(LabRow, 1);
  *row = (LabRow){.margin = none,
                  .chance_percent = none,
                  .carries_n = none,
                  .limits = verdict_limits_default(),
                  .unread_code = -1,
                  .order_n = NAN,
                  .roof_radius_mm = NAN,
                  .area_mm2 = NAN,
                  .peak_mpa = NAN};
  for (size_t i = 0; i < lab_row_texts; i++)
    LAB_ROW_TEXT(row, i) = g_strdup("");
  g_free(row->file);
  row->file = g_strdup(file);
  return row;
}

LabRow *lab_row_copy(const LabRow *row)
{
  LabRow *copy = g_memdup2(row, sizeof *row);
  for (size_t i = 0; i < lab_row_texts; i++)
    LAB_ROW_TEXT(copy, i) = g_strdup(LAB_ROW_TEXT(row, i));
  return copy;
}

void lab_row_free(LabRow *row)
{
  if (!row)
    return;
  for (size_t i = 0; i < lab_row_texts; i++)
    g_free(LAB_ROW_TEXT(row, i));
  g_free(row);
}

/* ---- order ---- */

static int row_rank(const LabRow *row)
{
  static const int rank[] = {
      [VERDICT_REWORK] = 1, [VERDICT_NONE] = 2, [VERDICT_CLOSE] = 3, [VERDICT_HOLDS] = 4};
  switch (row->state) {
  case ROW_UNREADABLE:
    return 0;
  case ROW_READY:
    return rank[row->verdict];
  case ROW_READ:
    return 5;
  default:
    return 6;
  }
}

/* An unknown margin is as bad as none. */
static int number_compare(double a, double b)
{
  if (isnan(a) || isnan(b))
    return !isnan(a) - !isnan(b);
  return (a > b) - (a < b);
}

int lab_row_compare(const LabRow *a, const LabRow *b)
{
  int order = row_rank(a) - row_rank(b);
  if (!order)
    order = number_compare(a->margin.value, b->margin.value);
  if (!order && a->waiting_since_us != b->waiting_since_us) {
    if (!a->waiting_since_us || !b->waiting_since_us) /* one does not wait */
      order = a->waiting_since_us ? -1 : 1;
    else
      order = a->waiting_since_us < b->waiting_since_us ? -1 : 1;
  }
  return order ? order : strcmp(a->file, b->file);
}

/* ---- words ---- */

Phrase lab_row_span(const LabRow *row)
{
  Phrase span = {.text = row->n_unit ? N_("{0} units, {name}") : NULL,
                 .value = {(double)row->n_unit}};
  g_snprintf(span.name, sizeof span.name, "%d-%d", row->tooth_first, row->tooth_last);
  return span;
}

static void words_add(GString *words, const char *sentence)
{
  if (words->len)
    g_string_append_c(words, ' ');
  g_string_append(words, sentence);
}

/* In the order of their weight. */
void lab_row_tell(LabRow *row)
{
  GString *words = g_string_new("");
  const guint is = row->troubles;
  if (is & TROUBLE_AWAY)
    words_add(words, tr(N_("The folder cannot be reached: shown as last seen.")));
  if (is & TROUBLE_GROWING)
    words_add(words, tr(N_("Still being copied, or cut off: it is read again when its size "
                           "settles.")));
  else if (is & (TROUBLE_UNREADABLE | TROUBLE_NEWER))
    words_add(words, row->unread);
  if (is & TROUBLE_FAULT)
    words_add(words, tr(fault_text(FAULT_MEMORY)));
  if (is & TROUBLE_CHAIN)
    words_add(words, tr(N_("The history was changed from outside: look at it before you decide.")));
  if (is & TROUBLE_OUTSIDE)
    words_add(words, tr(N_("The case was changed outside its record.")));
  if (is & TROUBLE_DUPLICATE) {
    g_autofree char *twin = g_filename_display_name(row->twin);
    g_autofree char *said =
        g_strdup_printf(tr(N_("%s has the same case number: give one of them another.")), twin);
    words_add(words, said);
  }
  if (is & TROUBLE_FUTURE)
    words_add(words,
              tr(N_("Its time has not come yet: a clock is or was wrong. Look at the clocks; "
                    "the waiting time cannot be trusted.")));
  g_free(row->trouble);
  row->trouble = g_string_free(words, FALSE);
}

static void row_set_twin(LabRow *row, const LabRow *twin)
{
  g_free(row->twin);
  row->twin = g_strdup(twin ? twin->file : "");
  row->troubles &= ~(guint)TROUBLE_DUPLICATE;
  row->troubles |= twin ? TROUBLE_DUPLICATE : 0;
  lab_row_tell(row);
}

void lab_rows_mark_duplicates(const GPtrArray *rows, void (*changed)(guint index, void *data),
                              void *data)
{
  /* the first two rows of a number, in the order of the array: one is the other's twin */
  g_autoptr(GHashTable) first = g_hash_table_new(g_str_hash, g_str_equal);
  g_autoptr(GHashTable) second = g_hash_table_new(g_str_hash, g_str_equal);
  for (guint i = 0; i < rows->len; i++) {
    LabRow *row = rows->pdata[i];
    if (!*row->number)
      continue;
    if (!g_hash_table_contains(first, row->number))
      g_hash_table_insert(first, row->number, row);
    else if (!g_hash_table_contains(second, row->number))
      g_hash_table_insert(second, row->number, row);
  }
  for (guint i = 0; i < rows->len; i++) {
    LabRow *row = rows->pdata[i];
    LabRow *one = *row->number ? g_hash_table_lookup(first, row->number) : NULL,
           *two = *row->number ? g_hash_table_lookup(second, row->number) : NULL;
    const LabRow *twin = row == one ? two : two ? one : NULL;
    if (strcmp(row->twin, twin ? twin->file : "") == 0)
      continue;
    row_set_twin(row, twin);
    if (changed)
      changed(i, data);
  }
}

const char *row_state_id(RowState state)
{
  static const char *const id[] = {"seen", "read", "ready", "unreadable"};
  return id[state];
}
