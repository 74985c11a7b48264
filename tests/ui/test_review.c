/* test_review.c - the Review workspace without its widgets: what the queue shows and in which
 * order, what is looked at, decisions that are written and move on; no display is opened.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "../core/case_files.h"
#include "wait_for.h"
#include "lab/seen_store.h"
#include "record/change.h"
#include "ui/person_profile.h"
#include "ui/review/lab_round.h"
#include "ui/review/review_desk.h"
#include "ui/review/queue_columns.h"
#include "ui/review/row_words.h"
#include "ui/words.h"
#include <signal.h>
#include <string.h>
#include <sys/resource.h>

#define WAIT_S 60
#define MUCH_N 900 /* more than any demo case orders */

static const LabDeskSettings quick = {
    .threads = 2, .poll_ms = 50, .settle_ms = 300, .cache_dir = ""};

/* ---- rows made by hand ---- */

static LabRow *row_make(const char *number, Verdict verdict, double margin, StandingState standing)
{
  LabRow *row = lab_row_new("a.xml");
  row->state = ROW_READY;
  row->verdict = verdict;
  row->margin = banded(margin, margin, margin);
  row->standing = standing;
  row->n_unit = 3;
  row->tooth_first = 35, row->tooth_last = 37;
  g_free(row->number);
  row->number = g_strdup(number);
  g_free(row->material);
  row->material = g_strdup("Zirconia 3Y");
  g_free(row->author);
  row->author = g_strdup("TR");
  g_strlcpy(row->weakest, "35/36", sizeof row->weakest);
  return row;
}

static void words_are_found(void)
{
  g_autoptr(LabRow) row = row_make("QB-02", VERDICT_REWORK, 0.2, STANDING_WAITS);
  g_assert_true(row_has_words(row, "TR rework 3Y"));
  g_assert_true(row_has_words(row, "  tr\tREWORK "));
  g_assert_true(row_has_words(row, "35/36 qb-02"));
  g_assert_true(row_has_words(row, ""));
  g_assert_false(row_has_words(row, "TR holds"));
  g_assert_false(row_has_words(row, "TR rework 5Y"));
}

static void orders_differ(void)
{
  g_autoptr(LabRow) bad = row_make("QB-09", VERDICT_REWORK, 0.4, STANDING_WAITS);
  g_autoptr(LabRow) good = row_make("QB-01", VERDICT_HOLDS, 2.1, STANDING_WAITS);
  bad->waiting_since_us = 2000, good->waiting_since_us = 1000;
  bad->chance_percent.value = 60, good->chance_percent.value = 2;
  g_assert_cmpint(row_compare(bad, good, ORDER_WORST, false), <, 0);
  g_assert_cmpint(row_compare(bad, good, ORDER_MARGIN, false), <, 0);
  g_assert_cmpint(row_compare(bad, good, ORDER_CHANCE, false), <, 0);
  g_assert_cmpint(row_compare(bad, good, ORDER_VERDICT, false), <, 0);
  g_assert_cmpint(row_compare(bad, good, ORDER_CASE, false), >, 0);
  g_assert_cmpint(row_compare(bad, good, ORDER_WAITING, false), >, 0);
  good->waiting_since_us = 0; /* what does not wait comes last */
  g_assert_cmpint(row_compare(bad, good, ORDER_WAITING, false), <, 0);
  for (QueueOrder order = ORDER_WORST; order < QUEUE_ORDERS;
       order++) { /* an order, whatever it is */
    g_assert_cmpint(row_compare(bad, bad, order, false), ==, 0);
    g_assert_cmpint(row_compare(bad, good, order, false) > 0, ==,
                    row_compare(good, bad, order, false) < 0);
  }
}

static void waiting_is_told(void)
{
  g_autoptr(LabRow) row = row_make("QB-02", VERDICT_CLOSE, 1.1, STANDING_WAITS);
  g_assert_true(row_waits(row));
  g_autofree char *close = row_words_brief(row);
  g_assert_cmpstr(close, ==, "close");
  row->stops = 3;
  g_autofree char *stops = row_words_brief(row);
  g_assert_cmpstr(stops, ==, "close · 3 stop");
  row->standing = STANDING_REOPENED;
  g_assert_true(row_waits(row));
  g_autofree char *again = row_words_brief(row);
  g_assert_cmpstr(again, ==, "close · open again");
  row->standing = STANDING_PASSED;
  g_assert_false(row_waits(row));
  row->state = ROW_UNREADABLE; /* somebody must look at it */
  g_assert_true(row_waits(row));
}

static void filters_are_kept_as_text(void)
{
  QueueView view = {QUEUE_CLOSE, true, (char *)"TR 3Y", ORDER_CHANCE}, back = {0};
  g_autofree char *text = queue_view_to_text(&view);
  queue_view_from_text(&back, text);
  g_assert_cmpint(back.facet, ==, QUEUE_CLOSE);
  g_assert_true(back.waiting);
  g_assert_cmpint(back.order, ==, ORDER_CHANCE);
  g_assert_cmpstr(back.words, ==, "TR 3Y");
  queue_view_from_text(&back, "nothing of this"); /* of another version */
  g_assert_cmpint(back.facet, ==, QUEUE_ALL);
  g_assert_cmpint(back.order, ==, ORDER_WORST);
  g_free(back.words);
}

static void columns_are_words_too(void)
{
  g_autoptr(LabRow) row = row_make("QB-02", VERDICT_REWORK, 0.2, STANDING_WAITS);
  g_assert_true(row_has_words(row, "hand:TR"));
  g_assert_true(row_has_words(row, "HAND:\"tr\" material:zirconia"));
  g_assert_true(row_has_words(row, "material:\"Zirconia 3Y\" rework"));
  g_assert_false(row_has_words(row, "hand:\"T\""));            /* not the whole */
  g_assert_false(row_has_words(row, "hand:QB"));               /* stands elsewhere */
  g_assert_false(row_has_words(row, "material:\"Zirconia\"")); /* not the whole */
  g_assert_true(row_has_words(row, "\"Zirconia 3Y\""));        /* anywhere, blank and all */
  g_assert_false(row_has_words(row, "nothing:TR"));            /* no column: a word */
  g_autofree char *set = queue_words_set("TR  rework", ORDER_HAND, "BM"),
                  *other = queue_words_set(set, ORDER_HAND, "A B"),
                  *none = queue_words_set(other, ORDER_HAND, NULL),
                  *is = queue_words_get(other, ORDER_HAND),
                  *nil = queue_words_get(other, ORDER_FINISH);
  g_assert_cmpstr(set, ==, "TR rework hand:\"BM\"");
  g_assert_cmpstr(other, ==, "TR rework hand:\"A B\"");
  g_assert_cmpstr(is, ==, "A B");
  g_assert_cmpstr(none, ==, "TR rework");
  g_assert_null(nil);
}

static void orders_turn_round(void)
{
  g_autoptr(LabRow) bad = row_make("QB-09", VERDICT_REWORK, 0.4, STANDING_WAITS);
  g_autoptr(LabRow) good = row_make("QB-01", VERDICT_HOLDS, 2.1, STANDING_WAITS);
  g_autoptr(LabRow) none = row_make("QB-05", VERDICT_NONE, NAN, STANDING_WAITS);
  g_assert_cmpint(row_compare(bad, good, ORDER_MARGIN, true), >, 0);
  g_assert_cmpint(row_compare(bad, good, ORDER_WORST, true), >, 0);
  for (int reversed = 0; reversed < 2; reversed++) { /* unknown last, whichever way round */
    g_assert_cmpint(row_compare(none, bad, ORDER_MARGIN, reversed), >, 0);
    g_assert_cmpint(row_compare(none, good, ORDER_VERDICT, reversed), >, 0);
  }
  QueueView view = {.order = ORDER_MARGIN, .reversed = true}, back = {0};
  g_autofree char *text = queue_view_to_text(&view);
  queue_view_from_text(&back, text);
  g_assert_cmpint(back.order, ==, ORDER_MARGIN);
  g_assert_true(back.reversed);
  g_free(back.words);
}

static void cells_say_it(void)
{
  g_autoptr(LabRow) row = row_make("QB-02", VERDICT_REWORK, 0.23, STANDING_PASSED);
  const gint64 now = 3 * 3600 * (gint64)G_USEC_PER_SEC;
  const struct {
    QueueOrder column;
    const char *text;
  } cell[] = {{ORDER_CASE, "QB-02"},
              {ORDER_SPAN, "3 units, 35-37"},
              {ORDER_MATERIAL, "Zirconia 3Y"},
              {ORDER_CONNECTOR, "35/36"},
              {ORDER_VERDICT, "rework"},
              {ORDER_MARGIN, "0.23 (0.21–0.25)"},
              {ORDER_CHANCE, "44 % (19–75)"},
              {ORDER_WAITING, "passed"},
              {ORDER_HAND, "TR"}};
  row->margin = banded(0.23, 0.21, 0.25);
  row->chance_percent = banded(44, 19, 75);
  for (size_t i = 0; i < G_N_ELEMENTS(cell); i++) {
    g_autofree char *text = row_words_cell(row, cell[i].column, now);
    g_assert_cmpstr(text, ==, cell[i].text);
  }
  row->waiting_since_us = 1;
  row->chance_percent = banded(0.01, 0, 0.2);
  row->margin.value = NAN;
  g_autofree char *waits = row_words_cell(row, ORDER_WAITING, now),
                  *chance = row_words_cell(row, ORDER_CHANCE, now),
                  *margin = row_words_cell(row, ORDER_MARGIN, now);
  g_assert_cmpstr(waits, ==, "2 h");
  g_assert_cmpstr(chance, ==, "< 0.1 % (0.0–0.2)");
  g_assert_cmpstr(margin, ==, "");
}

static void columns_are_kept(void)
{
  ColumnKept kept[QUEUE_COLUMNS];
  columns_kept_from_text(kept, "margin:120 -span nonsense margin case:7 -hand:90");
  g_assert_cmpint(kept[0].column, ==, ORDER_MARGIN);
  g_assert_cmpint(kept[0].width, ==, 120);
  g_assert_cmpint(kept[1].column, ==, ORDER_SPAN);
  g_assert_false(kept[1].shown);
  g_assert_cmpint(kept[2].width, ==, 0); /* too narrow to be read */
  g_assert_cmpint(kept[4].column, ==, ORDER_MATERIAL);
  g_autofree char *text = columns_kept_to_text(kept);
  g_assert_cmpstr(text, ==,
                  "margin:120 -span case -hand:90 material neck verdict chance finish since");
  guint seen = 0;
  for (int i = 0; i < QUEUE_COLUMNS; i++)
    seen |= 1u << kept[i].column;
  g_assert_cmpuint(seen, ==, (1u << QUEUE_ORDERS) - 2); /* every one, once */
  columns_kept_from_text(kept, "-case -span -material -neck -verdict -margin -chance -finish "
                               "-since -hand");
  g_assert_true(kept[0].shown); /* an empty table shows nothing */
}

static void rows_are_sentences(void)
{
  g_autoptr(LabRow) row = row_make("QB-02", VERDICT_REWORK, 0.2, STANDING_WAITS);
  row->stops = 9, row->looks = 3;
  row->waiting_since_us = 1;
  g_autofree char *said = row_words_sentence(row, 1 + 40 * 60 * (gint64)G_USEC_PER_SEC);
  g_assert_cmpstr(said, ==, "QB-02, rework. 3 units, 35-37. 9 stop · 3 look. TR · 40 min");
  g_autofree char *days = words_lasting(49 * 3600 * (gint64)G_USEC_PER_SEC);
  g_assert_cmpstr(days, ==, "2 days");
}

/* ---- a lab of demo cases ---- */

#define wait_for(desk, wanted) WAIT_FOR(wanted(desk), WAIT_S)

/* The queue counts a moment after the lab is through. */
static bool is_judged(SoffitReviewDesk *desk)
{
  SoffitQueue *queue = review_desk_queue(desk);
  if (queue_count(queue, QUEUE_REWORK) + queue_count(queue, QUEUE_CLOSE) +
          queue_count(queue, QUEUE_HOLDS) <
      queue_count(queue, QUEUE_ALL))
    return false;
  return lab_desk_progress(review_desk_lab(desk)).over && review_desk_evidence(desk) &&
         review_desk_evidence(desk)->a;
}

static bool is_written(SoffitReviewDesk *desk)
{
  return review_desk_writing(desk) == 0 && lab_desk_progress(review_desk_lab(desk)).over;
}

static Person person(void)
{
  return (Person){(char *)"Rosa Tann", (char *)"bench technician", (char *)"RT"};
}

/* A demo case, sent to the supervisor, in the lab. */
static void put_sent(const char *lab, const char *name, const char *demo)
{
  g_autofree char *path = g_build_filename(lab, name, NULL), *text = shipped_text(demo);
  g_autoptr(GError) error = NULL;
  const VerdictLimits limits = verdict_limits_default();
  Person by = person();
  Case c;
  case_init(&c);
  g_assert_true(case_load_memory(&c, text, strlen(text), demo, &error));
  g_assert_cmpint(case_decide(&c, ENTRY_SENT, &by, "sent", 0, &limits, NULL), ==, FAULT_NONE);
  g_assert_true(case_save(&c, path, &error));
  case_clear(&c);
}

static SoffitReviewDesk *desk_make(char **lab)
{
  *lab = in_folder("lab");
  g_assert_cmpint(g_mkdir(*lab, 0777), ==, 0);
  put_sent(*lab, "one.xml", "demo/QB-01.xml"); /* holds */
  put_sent(*lab, "two.xml", "demo/QB-02.xml"); /* the worst */
  put_sent(*lab, "three.xml", "demo/QB-03.xml");
  SoffitReviewDesk *desk = review_desk_new(&quick);
  review_desk_open(desk, *lab);
  wait_for(desk, is_judged);
  return desk;
}

static void desk_end(SoffitReviewDesk *desk, char *lab)
{
  g_autoptr(GDir) dir = g_dir_open(lab, 0, NULL);
  const char *name;
  while ((name = g_dir_read_name(dir)) != NULL) {
    g_autofree char *path = g_build_filename(lab, name, NULL);
    g_remove(path);
  }
  g_rmdir(lab);
  g_free(lab);
  g_object_unref(desk);
}

/* The newest entry of a file. */
static HistoryEntry *last_entry(Case *c, const char *lab, const char *name)
{
  g_autofree char *path = g_build_filename(lab, name, NULL);
  g_autoptr(GError) error = NULL;
  case_init(c);
  g_assert_true(case_load(c, path, &error));
  return c->history->pdata[c->history->len - 1];
}

static void queue_follows_the_view(void)
{
  char *lab;
  SoffitReviewDesk *desk = desk_make(&lab);
  SoffitQueue *queue = review_desk_queue(desk);
  g_assert_cmpuint(queue_waiting(queue), ==, 3);
  g_assert_cmpuint(queue_count(queue, QUEUE_ALL), ==, 3);
  g_assert_cmpuint(queue_count(queue, QUEUE_REWORK) + queue_count(queue, QUEUE_CLOSE) +
                       queue_count(queue, QUEUE_HOLDS),
                   ==, 3);
  g_assert_cmpuint(queue_position(queue, "one.xml"), ==, 2); /* it holds: last */
  QueueView view = {.facet = QUEUE_HOLDS, .waiting = true};
  queue_set_view(queue, &view);
  g_assert_cmpuint(g_list_model_get_n_items(G_LIST_MODEL(queue)), ==, 1);
  g_assert_cmpstr(review_desk_file(desk), ==, "one.xml"); /* the other is not shown any more */
  view = (QueueView){.words = (char *)"two.xml rework", .waiting = true};
  queue_set_view(queue, &view);
  g_assert_cmpstr(review_desk_file(desk), ==, "two.xml");
  review_desk_select(desk, "two.xml"); /* by somebody: it stays, whatever moves */
  view = (QueueView){.order = ORDER_CASE};
  queue_set_view(queue, &view);
  g_assert_cmpuint(queue_position(queue, "one.xml"), ==, 0);
  g_assert_cmpstr(review_desk_file(desk), ==, "two.xml"); /* stays */
  desk_end(desk, lab);
}

static void decision_is_written_and_moves_on(void)
{
  char *lab;
  SoffitReviewDesk *desk = desk_make(&lab);
  Case c;
  g_autofree char *first = g_strdup(review_desk_file(desk));
  g_assert_cmpuint(review_desk_stops(desk), >, 0);
  g_assert_true(review_desk_lacks_words(desk, ENTRY_PASS));
  g_assert_true(review_desk_lacks_words(desk, ENTRY_RETURN));
  g_assert_false(review_desk_decide(desk, ENTRY_PASS)); /* stops stand and nothing is written */
  review_desk_pin(desk, 0, point(0.1, 1.7), "round it to 0.75");
  g_assert_false(review_desk_lacks_words(desk, ENTRY_RETURN));
  g_assert_true(review_desk_decide(desk, ENTRY_RETURN));
  g_assert_cmpstr(review_desk_file(desk), !=, first); /* at once */
  g_assert_cmpuint(g_list_model_get_n_items(G_LIST_MODEL(review_desk_queue(desk))), ==, 2);
  wait_for(desk, is_written);
  const HistoryEntry *entry = last_entry(&c, lab, first);
  g_assert_cmpint(entry->kind, ==, ENTRY_RETURN);
  g_assert_cmpuint(strlen(entry->content), ==, 64);
  g_assert_cmpint(chain_check(&c).state, ==, CHAIN_WHOLE);
  g_assert_cmpuint(c.remark->len, ==, 1);
  g_assert_cmpstr(((Remark *)c.remark->pdata[0])->text, ==, "round it to 0.75");
  case_clear(&c);
  g_assert_cmpuint(review_desk_today(desk), ==, 1);
  WAIT_FOR(queue_waiting(review_desk_queue(desk)) == 2, WAIT_S); /* it counts a moment after */
  review_desk_take_back(desk); /* an entry more, nothing is removed */
  wait_for(desk, is_written);
  g_assert_cmpint(last_entry(&c, lab, first)->kind, ==, ENTRY_WAIT);
  g_assert_cmpuint(c.history->len, >=, 3);
  case_clear(&c);
  WAIT_FOR(queue_waiting(review_desk_queue(desk)) == 3, WAIT_S);
  desk_end(desk, lab);
}

static void told_keep(SoffitReviewDesk *desk, const char *words, gboolean wrong, GString *told)
{
  (void)desk;
  if (wrong)
    g_string_append(told, words);
}

/* Somebody writes the file between look and decision: nothing is overwritten, and it is told. */
static void changed_file_is_not_decided(void)
{
  char *lab;
  SoffitReviewDesk *desk = desk_make(&lab);
  g_autofree char *file = g_strdup(review_desk_file(desk));
  g_autofree char *path = g_build_filename(lab, file, NULL);
  g_autoptr(GString) told = g_string_new(NULL);
  g_autoptr(GError) error = NULL;
  Case c;
  g_signal_connect(desk, "told", G_CALLBACK(told_keep), told);
  review_desk_set_words(desk, "the dentist knows");
  last_entry(&c, lab, file);
  c.order_load_n += 5;
  g_assert_true(case_save(&c, path, &error));
  case_clear(&c);
  g_assert_true(review_desk_decide(desk, ENTRY_PASS));
  wait_for(desk, is_written);
  g_assert_cmpint(last_entry(&c, lab, file)->kind, ==, ENTRY_SENT);
  case_clear(&c);
  g_assert_nonnull(strstr(told->str, "changed while you looked at it"));
  g_assert_cmpstr(review_desk_file(desk), ==, file);                 /* it is looked at again */
  g_assert_cmpstr(review_desk_words(desk), ==, "the dentist knows"); /* and nothing is lost */
  desk_end(desk, lab);
}

/* The disk is full, as a limit of the system in the middle of the file: nothing is lost, and it is
 * decided once there is room. */
static void full_disk_is_told(void)
{
  char *lab;
  SoffitReviewDesk *desk = desk_make(&lab);
  g_autofree char *file = g_strdup(review_desk_file(desk));
  g_autofree char *path = g_build_filename(lab, file, NULL), *before = NULL, *after = NULL;
  g_autoptr(GString) told = g_string_new(NULL);
  struct rlimit limit, small;
  Case c;
  g_signal_connect(desk, "told", G_CALLBACK(told_keep), told);
  g_assert_true(g_file_get_contents(path, &before, NULL, NULL));
  review_desk_set_words(desk, "the dentist knows");
  signal(SIGXFSZ, SIG_IGN);
  g_assert_cmpint(getrlimit(RLIMIT_FSIZE, &limit), ==, 0);
  small = limit;
  small.rlim_cur = 1000; /* bytes; the case has more */
  g_assert_cmpint(setrlimit(RLIMIT_FSIZE, &small), ==, 0);
  g_assert_true(review_desk_decide(desk, ENTRY_PASS));
  wait_for(desk, is_written);
  g_assert_cmpint(setrlimit(RLIMIT_FSIZE, &limit), ==, 0);
  g_assert_nonnull(strstr(told->str, file));
  g_assert_nonnull(strstr(told->str, "another place"));
  g_assert_true(g_file_get_contents(path, &after, NULL, NULL));
  g_assert_cmpstr(after, ==, before);
  g_assert_cmpstr(review_desk_file(desk), ==, file);
  g_assert_cmpstr(review_desk_words(desk), ==, "the dentist knows");
  g_autoptr(GDir) dir = g_dir_open(lab, 0, NULL);
  for (const char *name; (name = g_dir_read_name(dir));) /* nothing half written is left */
    g_assert_true(g_str_has_suffix(name, ".xml") && strchr(name, '.') == strrchr(name, '.'));
  g_assert_true(review_desk_decide(desk, ENTRY_PASS));
  wait_for(desk, is_written);
  g_assert_cmpint(last_entry(&c, lab, file)->kind, ==, ENTRY_PASS);
  case_clear(&c);
  desk_end(desk, lab);
}

/* ---- what changed since he looked ---- */

static char *my_looks(SoffitReviewDesk *desk)
{
  Person me = person_profile();
  char *seen = seen_folder(NULL, lab_desk_folder(review_desk_lab(desk)), me.name);
  person_clear(&me);
  return seen;
}

static bool is_seen(SoffitReviewDesk *desk)
{
  const Evidence *e = review_desk_evidence(desk);
  g_autofree char *seen = my_looks(desk);
  Case before;
  gint64 looked;
  case_init(&before);
  SeenState state = seen_look_back(seen, e->file, &e->c, g_get_real_time(), &before, &looked);
  case_clear(&before);
  return state == SEEN_SAME;
}

static bool is_told(SoffitReviewDesk *desk)
{
  const Evidence *e = review_desk_evidence(desk);
  const EvidenceBase *base = e ? &e->base[SINCE_SEEN] : NULL;
  return e && e->stage == EVIDENCE_WHOLE && review_desk_since(desk) == SINCE_SEEN &&
         base->a && /* another bridge: remarks alone have no answer */
         base->a->c.order_load_n < e->c.order_load_n; /* of the file as it is now, not before */
}

/* He looks; somebody makes the bridge another one; what is told is against his look. */
static void changes_since_the_last_look(void)
{
  char *lab;
  SoffitReviewDesk *desk = desk_make(&lab);
  g_autofree char *file = g_strdup(review_desk_file(desk));
  g_autofree char *path = g_build_filename(lab, file, NULL);
  g_autoptr(GError) error = NULL;
  Case c;
  g_autofree char *looks = my_looks(desk);
  folder_drop(looks); /* of the tests before */
  review_desk_select(desk, NULL);
  review_desk_select(desk, file);
  wait_for(desk, is_seen);
  last_entry(&c, lab, file);
  const double was = c.order_load_n;
  c.order_load_n += 50;
  g_assert_true(case_save(&c, path, &error));
  case_clear(&c);
  wait_for(desk, is_told);
  const EvidenceBase *base = &review_desk_evidence(desk)->base[SINCE_SEEN];
  g_assert_cmpuint(base->changes->len, ==, 1); /* the load, and no rounding */
  g_autofree char *words = words_phrase(&g_array_index(base->changes, CaseChange, 0).before),
                  *load = g_strdup_printf("%.0f", was);
  g_test_message("changed: %s; the load was %s", words, load);
  g_assert_nonnull(strstr(words, load));
  g_assert_cmpfloat(base->a->c.order_load_n, ==, was);
  desk_end(desk, lab);
}

static void note_first(SoffitReviewDesk *desk, bool *first)
{
  const Evidence *e = review_desk_evidence(desk);
  if (e && !e->a && evidence_of_connector(e, review_desk_connector(desk)))
    *first = true;
}

static bool is_whole(SoffitReviewDesk *desk)
{
  const Evidence *e = review_desk_evidence(desk);
  return e && e->stage == EVIDENCE_WHOLE && e->c.order_load_n > MUCH_N;
}

/* A case that nobody prepared: its weakest connector has a picture before the bridge has its
 * answer. */
static void weakest_comes_first(void)
{
  char *lab;
  SoffitReviewDesk *desk = desk_make(&lab);
  bool first = false;
  Case c;
  g_autoptr(GError) error = NULL;
  review_desk_select(desk, "three.xml");
  wait_for(desk, is_judged);
  g_signal_connect(desk, "evidence", G_CALLBACK(note_first), &first);
  last_entry(&c, lab, "three.xml");
  c.order_load_n = MUCH_N + 5;
  g_autofree char *path = g_build_filename(lab, "three.xml", NULL);
  g_assert_true(case_save(&c, path, &error));
  case_clear(&c);
  wait_for(desk, is_whole);
  g_assert_true(first);
  g_assert_cmpuint(review_desk_connector(desk), ==, review_desk_evidence(desk)->a->weakest);
  desk_end(desk, lab);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_autofree char *state = g_dir_make_tmp("soffit-XXXXXX", NULL); /* what he has seen is there */
  g_setenv("XDG_STATE_HOME", state, TRUE);
  g_setenv("XDG_CONFIG_HOME", g_get_tmp_dir(), FALSE);
  g_test_add_func("/review/words", words_are_found);
  g_test_add_func("/review/orders", orders_differ);
  g_test_add_func("/review/waiting", waiting_is_told);
  g_test_add_func("/review/filters", filters_are_kept_as_text);
  g_test_add_func("/review/column-words", columns_are_words_too);
  g_test_add_func("/review/orders-round", orders_turn_round);
  g_test_add_func("/review/cells", cells_say_it);
  g_test_add_func("/review/columns", columns_are_kept);
  g_test_add_func("/review/sentences", rows_are_sentences);
  g_test_add_func("/review/queue", queue_follows_the_view);
  g_test_add_func("/review/decision", decision_is_written_and_moves_on);
  g_test_add_func("/review/changed", changed_file_is_not_decided);
  g_test_add_func("/review/full-disk", full_disk_is_told);
  g_test_add_func("/review/since", changes_since_the_last_look);
  g_test_add_func("/review/first", weakest_comes_first);
  int status = folder_run();
  g_assert_true(lab_rounds_over(60000)); /* no thread outlives the libraries */
  folder_drop(state);
  return status;
}
