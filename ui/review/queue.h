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

/* Orders but the first are columns of the table too. */
const char *queue_column_name(QueueOrder column); /* English msgid: "Margin"; its head */
const char *queue_column_id(QueueOrder column);   /* "margin": files, words */
QueueOrder queue_column_from_id(const char *id);  /* QUEUE_ORDERS: none */
/* Whether the order of a column begins with the largest: "chance", "span". */
bool queue_order_falls(QueueOrder order);

/* What is wanted. */
typedef struct {
  QueueFacet facet;
  bool waiting; /* only those that wait for a decision, and those that nobody can read */
  char *words;  /* owned: all of them must be in the row; NULL = any */
  QueueOrder order;
  bool reversed; /* the other way round; what is not known stays last */
} QueueView;
/* "rework waiting worst TR 3Y", "all any -margin" when reversed; as saved filters keep it. */
char *queue_view_to_text(const QueueView *view);
void queue_view_from_text(QueueView *view, const char *text); /* what is not known is left out */

/* Whether every word is somewhere in the row: number, title, teeth, material, weakest connector,
 * verdict, headline, hand, file; in the user's language, capitals do not matter.  "hand:TR" is
 * looked for in that column alone (its id or its name), hand:"TR" is all that stands there. */
bool row_has_words(const LabRow *row, const char *words);
bool row_waits(const LabRow *row);
bool row_in_facet(const LabRow *row, QueueFacet facet);
int row_compare(const LabRow *a, const LabRow *b, QueueOrder order, bool reversed);
/* What a column must be, of words such as `TR hand:"TR"`; owned, NULL = anything.  Another value,
 * or none, in its place; owned. */
char *queue_words_get(const char *words, QueueOrder column);
char *queue_words_set(const char *words, QueueOrder column, const char *value);

#define SOFFIT_TYPE_QUEUE (queue_get_type())
G_DECLARE_FINAL_TYPE(SoffitQueue, queue, SOFFIT, QUEUE, GObject)
SoffitQueue *queue_new(SoffitLabDesk *desk);
const QueueView *queue_view(SoffitQueue *queue);                /* borrowed */
void queue_set_view(SoffitQueue *queue, const QueueView *view); /* copied */
/* Rows of a facet with the words and the waiting of the view. */
guint queue_count(SoffitQueue *queue, QueueFacet facet);
guint queue_waiting(SoffitQueue *queue); /* that wait, whatever the view */
typedef struct {
  char *text; /* owned: as the column shows it */
  guint rows;
} QueueValue;
void queue_value_free(void *value);
/* QueueValue, owned, by their text: what stands in a column of the rows that the view would show if
 * it did not ask for one value there. */
GPtrArray *queue_values(SoffitQueue *queue, QueueOrder column);
/* Position of a file; GTK's "invalid" (G_MAXUINT) when it is not shown. */
guint queue_position(SoffitQueue *queue, const char *file);
/* Decided by this window: not shown until the file says what it is. */
void queue_hide(SoffitQueue *queue, const char *file, bool hidden);
