/* queue_view.c - what of a lab is wanted: facet, words, order; see queue.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/queue.h"
#include "ui/review/row_words.h"
#include "ui/words.h"
#include <string.h>

/* ---- names ---- */

static const char *const facet_id[QUEUE_FACETS] = {"all", "rework", "close", "holds", "unreadable"};
static const char *const order_id[QUEUE_ORDERS] = {"worst",  "case",    "span",   "material",
                                                   "neck",   "verdict", "margin", "chance",
                                                   "finish", "since",   "hand"};

const char *queue_facet_name(QueueFacet facet)
{
  static const char *const name[QUEUE_FACETS] = {N_("all"), N_("rework"), N_("close"), N_("holds"),
                                                 N_("unreadable")};
  return name[facet];
}

const char *queue_order_name(QueueOrder order)
{
  static const char *const name[QUEUE_ORDERS] = {
      N_("Worst first"),     N_("By case"),         N_("By span"),     N_("By material"),
      N_("By weakest neck"), N_("By verdict"),      N_("By margin"),   N_("By chance of a break"),
      N_("By finish"),       N_("Longest waiting"), N_("By last hand")};
  return name[order];
}

const char *queue_column_name(QueueOrder column)
{
  static const char *const name[QUEUE_ORDERS] = {
      "",           N_("Case"),   N_("Span"),   N_("Material"), N_("Weakest"),  N_("Verdict"),
      N_("Margin"), N_("Chance"), N_("Finish"), N_("Waiting"),  N_("Last hand")};
  return name[column];
}

const char *queue_column_id(QueueOrder column)
{
  return order_id[column];
}

bool queue_order_falls(QueueOrder order)
{
  return order == ORDER_SPAN || order == ORDER_CHANCE;
}

char *queue_view_to_text(const QueueView *view)
{
  return g_strdup_printf("%s %s %s%s %s", facet_id[view->facet], view->waiting ? "waiting" : "any",
                         view->reversed ? "-" : "", order_id[view->order],
                         view->words ? view->words : "");
}

static int id_find(const char *const *id, int n, const char *word, int otherwise)
{
  for (int i = 0; word && i < n; i++)
    if (strcmp(id[i], word) == 0)
      return i;
  return otherwise;
}

QueueOrder queue_column_from_id(const char *id)
{
  int column = id_find(order_id, QUEUE_ORDERS, id, ORDER_WORST);
  return column == ORDER_WORST ? QUEUE_ORDERS : (QueueOrder)column;
}

void queue_view_from_text(QueueView *view, const char *text)
{
  g_auto(GStrv) part = g_strsplit(text, " ", 4);
  guint n = g_strv_length(part);
  view->facet = (QueueFacet)id_find(facet_id, QUEUE_FACETS, n > 0 ? part[0] : NULL, QUEUE_ALL);
  view->waiting = n > 1 && strcmp(part[1], "waiting") == 0;
  const char *order = n > 2 ? part[2] : "";
  view->reversed = *order == '-';
  view->order =
      (QueueOrder)id_find(order_id, QUEUE_ORDERS, order + (view->reversed ? 1 : 0), ORDER_WORST);
  g_free(view->words);
  view->words = n > 3 && *part[3] ? g_strdup(part[3]) : NULL;
}

/* ---- rows ---- */

bool row_waits(const LabRow *row)
{
  return row->state == ROW_UNREADABLE ||
         (row->state >= ROW_READ &&
          (row->standing == STANDING_WAITS || row->standing == STANDING_REOPENED));
}

bool row_in_facet(const LabRow *row, QueueFacet facet)
{
  switch (facet) {
  case QUEUE_ALL:
    return true;
  case QUEUE_UNREADABLE:
    return row->state == ROW_UNREADABLE;
  default:
    return row->state == ROW_READY && row->verdict == (facet == QUEUE_REWORK  ? VERDICT_REWORK
                                                       : facet == QUEUE_CLOSE ? VERDICT_CLOSE
                                                                              : VERDICT_HOLDS);
  }
}

/* ---- words ---- */

/* One of the words that are wanted: `TR`, `hand:TR`, `hand:"TR"`. */
typedef struct {
  QueueOrder column; /* QUEUE_ORDERS: anywhere */
  bool whole;        /* all that stands in the column */
  char *text;        /* owned */
} Wanted;

static QueueOrder column_named(const char *text, size_t length)
{
  for (QueueOrder column = ORDER_CASE; column < QUEUE_ORDERS; column++) {
    g_autofree char *word = g_strndup(text, length), *said = g_utf8_casefold(word, -1),
                    *name = g_utf8_casefold(_(queue_column_name(column)), -1);
    if (strcmp(said, order_id[column]) == 0 || strcmp(said, name) == 0)
      return column;
  }
  return QUEUE_ORDERS;
}

/* Takes the next word off the text; false at its end. */
static bool word_take(const char **text, Wanted *word)
{
  const char *at = *text + strspn(*text, " \t"), *mark = strpbrk(at, ": \t\"");
  if (!*at)
    return false;
  *word = (Wanted){.column = QUEUE_ORDERS};
  if (mark && *mark == ':' && (word->column = column_named(at, (size_t)(mark - at))) < QUEUE_ORDERS)
    at = mark + 1;
  const char *close = *at == '"' ? strchr(at + 1, '"') : NULL;
  if (close) {
    word->whole = word->column < QUEUE_ORDERS;
    word->text = g_strndup(at + 1, (size_t)(close - at) - 1);
    *text = close + 1;
  } else {
    size_t length = strcspn(at, " \t");
    word->text = g_strndup(at, length);
    *text = at + length;
  }
  return true;
}

static bool word_fits(const Wanted *word, const char *all, const LabRow *row)
{
  g_autofree char *wanted = g_utf8_casefold(word->text, -1);
  if (word->column == QUEUE_ORDERS)
    return strstr(all, wanted) != NULL;
  g_autofree char *cell = row_words_cell(row, word->column, 0), *place = g_utf8_casefold(cell, -1);
  return word->whole ? strcmp(place, wanted) == 0 : strstr(place, wanted) != NULL;
}

bool row_has_words(const LabRow *row, const char *words)
{
  if (!words || !*words)
    return true;
  g_autofree char *all = row_words_to_find(row), *place = g_utf8_casefold(all, -1);
  bool fits = true;
  for (Wanted word; fits && word_take(&words, &word); g_free(word.text))
    fits = word_fits(&word, place, row);
  return fits;
}

char *queue_words_get(const char *words, QueueOrder column)
{
  Wanted word;
  while (words && word_take(&words, &word)) {
    if (word.column == column && word.whole)
      return word.text;
    g_free(word.text);
  }
  return NULL;
}

char *queue_words_set(const char *words, QueueOrder column, const char *value)
{
  g_autoptr(GString) kept = g_string_new(NULL);
  Wanted word;
  for (const char *from = words; words && word_take(&words, &word); from = words) {
    if (word.column != column || !word.whole) {
      g_autofree char *same = g_strndup(from, (size_t)(words - from));
      g_string_append_printf(kept, "%s%s", kept->len ? " " : "", g_strstrip(same));
    }
    g_free(word.text);
  }
  if (value)
    g_string_append_printf(kept, "%s%s:\"%s\"", kept->len ? " " : "", order_id[column], value);
  return g_string_free(g_steal_pointer(&kept), FALSE);
}

void queue_value_free(void *data)
{
  QueueValue *value = data;
  g_free(value->text);
  g_free(value);
}

/* ---- order ---- */

/* Below 0: a comes first.  Unknown ones come last, whichever way round. */
static int known_compare(bool a_known, bool b_known, int by, bool reversed)
{
  return !a_known || !b_known ? !a_known - !b_known : reversed ? -by : by;
}

static int number_compare(double a, double b, bool reversed)
{
  return known_compare(!isnan(a), !isnan(b), (a > b) - (a < b), reversed);
}

static int text_compare(const char *a, const char *b, bool reversed)
{
  return known_compare(*a != '\0', *b != '\0', strcmp(a, b), reversed);
}

static int span_compare(const LabRow *a, const LabRow *b, bool reversed)
{
  int by = (a->n_unit < b->n_unit) - (a->n_unit > b->n_unit);
  return known_compare(a->n_unit > 0, b->n_unit > 0, by ? by : a->tooth_first - b->tooth_first,
                       reversed);
}

int row_compare(const LabRow *a, const LabRow *b, QueueOrder order, bool reversed)
{
  const bool a_ready = a->state == ROW_READY, b_ready = b->state == ROW_READY;
  gint64 a_since = a->waiting_since_us, b_since = b->waiting_since_us;
  int by = 0;
  switch (order) {
  case ORDER_CASE:
    by = text_compare(a->number, b->number, reversed);
    break;
  case ORDER_SPAN:
    by = span_compare(a, b, reversed);
    break;
  case ORDER_MATERIAL:
    by = text_compare(a->material, b->material, reversed);
    break;
  case ORDER_CONNECTOR:
    by = text_compare(a->weakest, b->weakest, reversed);
    break;
  case ORDER_VERDICT:
    by = known_compare(a->verdict != VERDICT_NONE, b->verdict != VERDICT_NONE,
                       (int)b->verdict - (int)a->verdict, reversed);
    break;
  case ORDER_MARGIN:
    by = number_compare(a->margin.value, b->margin.value, reversed);
    break;
  case ORDER_CHANCE:
    by = number_compare(-a->chance_percent.value, -b->chance_percent.value, reversed);
    break;
  case ORDER_FINISH:
    by = known_compare(a_ready, b_ready, (int)a->finish - (int)b->finish, reversed);
    break;
  case ORDER_WAITING: /* the longest first */
    by = known_compare(a_since != 0, b_since != 0, (a_since > b_since) - (a_since < b_since),
                       reversed);
    break;
  case ORDER_HAND:
    by = text_compare(a->author, b->author, reversed);
    break;
  default:
    return reversed ? -lab_row_compare(a, b) : lab_row_compare(a, b);
  }
  return by ? by : lab_row_compare(a, b);
}
