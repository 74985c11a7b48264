/* queue.h - the rows of a lab that a person wants to see, in the order he wants them.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A GListModel of SoffitLabItem over the desk's.  However much changes, the model tells of it in
 * one step: the stretch in the middle that is different.  Main thread only.
 *
 * Signal "counted": the counts, or what is shown, may have changed. */
#pragma once
#include "ui/review/lab_desk.h"

typedef enum {
  QUEUE_ALL,
  QUEUE_REWORK,
  QUEUE_CLOSE,
  QUEUE_HOLDS,
  QUEUE_UNREADABLE,
  QUEUE_FACETS
} QueueFacet;

typedef enum {
  ORDER_WORST,
  ORDER_CASE,
  ORDER_SPAN,
  ORDER_MATERIAL,
  ORDER_CONNECTOR,
  ORDER_VERDICT,
  ORDER_MARGIN,
  ORDER_CHANCE,
  ORDER_FINISH,
  ORDER_WAITING,
  ORDER_HAND,
  QUEUE_ORDERS
} QueueOrder;
const char *queue_order_name(QueueOrder order); /* English msgid: "Worst first" */
const char *queue_facet_name(QueueFacet facet); /* English msgid: "all" */

/* What is wanted. */
typedef struct {
  QueueFacet facet;
  bool waiting; /* only those that wait for a decision, and those that nobody can read */
  char *words;  /* owned: all of them must be in the row; NULL = any */
  QueueOrder order;
} QueueView;
/* "rework waiting worst TR 3Y", as saved filters keep it. */
char *queue_view_to_text(const QueueView *view);
void queue_view_from_text(QueueView *view, const char *text); /* what is not known is left out */

/* Whether every word is somewhere in the row: number, title, teeth, material, weakest connector,
 * verdict, headline, hand, file; in the user's language, capitals do not matter. */
bool row_has_words(const LabRow *row, const char *words);
bool row_waits(const LabRow *row);
int row_compare(const LabRow *a, const LabRow *b, QueueOrder order);

#define SOFFIT_TYPE_QUEUE (queue_get_type())
G_DECLARE_FINAL_TYPE(SoffitQueue, queue, SOFFIT, QUEUE, GObject)
SoffitQueue *queue_new(SoffitLabDesk *desk);
const QueueView *queue_view(SoffitQueue *queue);                /* borrowed */
void queue_set_view(SoffitQueue *queue, const QueueView *view); /* copied */
/* Rows of a facet with the words and the waiting of the view. */
guint queue_count(SoffitQueue *queue, QueueFacet facet);
guint queue_waiting(SoffitQueue *queue); /* that wait, whatever the view */
/* Position of a file; GTK's "invalid" (G_MAXUINT) when it is not shown. */
guint queue_position(SoffitQueue *queue, const char *file);
/* Decided by this window: not shown until the file says what it is. */
void queue_hide(SoffitQueue *queue, const char *file, bool hidden);
