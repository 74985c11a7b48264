/* history.c - two stacks of steps; undo and redo swap the case with the top one.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Invariant: a step on the undo stack holds the case before its edit, one on the redo stack the
 * case after. */
#include "ui/history.h"

typedef struct {
  const char *name;
  Case *c;
  StepPeaks peaks; /* of that case */
} Step;

struct History {
  GArray *undo, *redo; /* Step */
};

Case *case_heap_copy(const Case *c)
{
  Case *copy = g_new(Case, 1);
  case_init(copy);
  if (case_copy(copy, c) == FAULT_NONE)
    return copy;
  case_heap_free(copy);
  return NULL;
}

void case_heap_free(Case *c)
{
  if (c == NULL)
    return;
  case_clear(c);
  g_free(c);
}

static void step_clear(void *data)
{
  Step *step = data;
  case_heap_free(step->c);
}

static GArray *steps_new(void)
{
  GArray *steps = g_array_new(FALSE, FALSE, sizeof(Step));
  g_array_set_clear_func(steps, step_clear);
  return steps;
}

History *history_new(void)
{
  History *history = g_new(History, 1);
  *history = (History){steps_new(), steps_new()};
  return history;
}

void history_free(History *history)
{
  if (history == NULL)
    return;
  g_array_unref(history->undo);
  g_array_unref(history->redo);
  g_free(history);
}

void history_forget(History *history)
{
  g_array_set_size(history->undo, 0);
  g_array_set_size(history->redo, 0);
}

void history_push(History *history, const char *name, Case *before, const StepPeaks *peaks)
{
  Step step = {name, before, *peaks};
  g_array_append_val(history->undo, step);
  g_array_set_size(history->redo, 0);
}

static const char *top_name(const GArray *steps)
{
  return steps->len > 0 ? g_array_index(steps, Step, steps->len - 1).name : NULL;
}

const char *history_undo_name(const History *history)
{
  return top_name(history->undo);
}

const char *history_redo_name(const History *history)
{
  return top_name(history->redo);
}

/* Moves the top step to the other stack; what it held and *c change places. */
static bool step_over(GArray *from, GArray *to, Case *c, StepPeaks *peaks)
{
  if (from->len == 0)
    return false;
  Step step = g_array_index(from, Step, from->len - 1);
  Case held = *step.c;
  *step.c = *c;
  *c = held;
  GPtrArray *record = c->history; /* stays with the case at hand: what was recorded, was */
  c->history = step.c->history;
  step.c->history = record;
  StepPeaks known = step.peaks;
  step.peaks = *peaks;
  *peaks = known;
  g_array_append_val(to, step);
  g_array_index(from, Step, from->len - 1).c = NULL; /* moved, not freed */
  g_array_set_size(from, from->len - 1);
  return true;
}

bool history_undo(History *history, Case *c, StepPeaks *peaks)
{
  return step_over(history->undo, history->redo, c, peaks);
}

bool history_redo(History *history, Case *c, StepPeaks *peaks)
{
  return step_over(history->redo, history->undo, c, peaks);
}

static void steps_each(GArray *steps, void (*each)(Case *c, void *data), void *data)
{
  for (guint i = 0; i < steps->len; i++)
    each(g_array_index(steps, Step, i).c, data);
}

void history_each(History *history, void (*each)(Case *c, void *data), void *data)
{
  steps_each(history->undo, each, data);
  steps_each(history->redo, each, data);
}

/* ---- all states, as a list ---- */

size_t history_states(const History *history)
{
  return (size_t)history->undo->len + history->redo->len + 1;
}

size_t history_at(const History *history)
{
  return history->undo->len;
}

/* Step number k, counted from the first. */
static const Step *step_number(const History *history, size_t k)
{
  guint done = history->undo->len, all = done + history->redo->len;
  if (k < done)
    return &g_array_index(history->undo, Step, k);
  return k < all ? &g_array_index(history->redo, Step, all - 1 - k) : NULL;
}

const char *history_name(const History *history, size_t i)
{
  const Step *step = i > 0 ? step_number(history, i - 1) : NULL;
  return step ? step->name : NULL;
}

/* The step that holds state i; NULL for the one at hand. */
static const Step *step_holding(const History *history, size_t i)
{
  size_t at = history_at(history);
  return i < at ? step_number(history, i) : i > at ? step_number(history, i - 1) : NULL;
}

const Case *history_case(const History *history, size_t i)
{
  const Step *step = step_holding(history, i);
  return step ? step->c : NULL;
}

const StepPeaks *history_peaks(const History *history, size_t i)
{
  const Step *step = step_holding(history, i);
  return step ? &step->peaks : NULL;
}
