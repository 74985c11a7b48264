/* history.c - two stacks of steps; undo and redo swap the case with the top one.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Invariant: a step on the undo stack holds the case before its edit, one on the redo stack the
 * case after. */
#include "ui/history.h"

typedef struct {
  const char *name;
  Case *c;
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

void history_push(History *history, const char *name, Case *before)
{
  Step step = {name, before};
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
static bool step_over(GArray *from, GArray *to, Case *c)
{
  if (from->len == 0)
    return false;
  Step step = g_array_index(from, Step, from->len - 1);
  Case held = *step.c;
  *step.c = *c;
  *c = held;
  g_array_append_val(to, step);
  g_array_index(from, Step, from->len - 1).c = NULL; /* moved, not freed */
  g_array_set_size(from, from->len - 1);
  return true;
}

bool history_undo(History *history, Case *c)
{
  return step_over(history->undo, history->redo, c);
}

bool history_redo(History *history, Case *c)
{
  return step_over(history->redo, history->undo, c);
}
