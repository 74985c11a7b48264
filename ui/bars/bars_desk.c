/* bars_desk.c - see bars_desk.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/bars/bars_desk.h"
#include "ui/bars/bars_keep.h"
#include "ui/words.h"
#include <gio/gio.h>
#include <math.h>
#include <string.h>

#define PAUSE_MS 120 /* of the typing before it is read */
#define LIMIT_WITHOUT_BARS 600.0
#define FILE_NAME "bars.ini"

enum { ANSWER_CHANGED, NOTCH_CHANGED, TYPED, SIGNAL_N };
static guint signal_id[SIGNAL_N];

/* One round of reading and fitting, on a thread. */
typedef struct {
  BarSetup setup;
  double width, thickness;
  char *text[BARS_SETS];
  BarsTable *table[BARS_SETS];
  char *message[BARS_SETS]; /* no table at all */
  BarsAnswer *answer;
  BarsRecords records[BARS_SETS];
  Fault fault;
  GCancellable *stop;
} Reading;

struct _SoffitBarsDesk {
  GObject parent;
  BarsInput input;
  char *file; /* owned; NULL = kept nowhere */
  Reading *shown;
  SoffitNotchJob *notch; /* owned ref */
  Material card;         /* id "" = none */
  BarsBook book;         /* of the card in this test; surface 0 = none */
  guint pause;
  GCancellable *reading; /* what runs; NULL = nothing */
};

G_DEFINE_FINAL_TYPE(SoffitBarsDesk, bars_desk, G_TYPE_OBJECT)

static void reading_free(void *data)
{
  Reading *r = data;
  if (!r)
    return;
  for (int i = 0; i < BARS_SETS; i++) {
    g_free(r->text[i]);
    g_free(r->message[i]);
    bars_table_free(r->table[i]);
    bars_records_clear(&r->records[i]);
  }
  bars_answer_free(r->answer);
  g_object_unref(r->stop);
  g_free(r);
}

static bool keep_going(double part, void *data)
{
  (void)part;
  return !g_cancellable_is_cancelled(data);
}

static bool reading_stopped(void *data)
{
  return g_cancellable_is_cancelled(data);
}

static void records_read(Reading *r)
{
  for (int i = 0; i < BARS_SETS && r->answer && !r->fault; i++) {
    const BarsSetAnswer *set = &r->answer->set[i];
    if (r->table[i])
      r->fault = bars_records(r->table[i], &r->setup, set->fit_fault ? NAN : set->fit.modulus.value,
                              reading_stopped, r->stop, &r->records[i]);
  }
}

static void reading_run(GTask *task, gpointer source, gpointer data, GCancellable *stop)
{
  (void)source;
  Reading *r = data;
  Bar *bar[BARS_SETS] = {NULL};
  size_t n[BARS_SETS] = {0};
  for (int i = 0; i < BARS_SETS; i++) {
    g_autoptr(GError) error = NULL;
    r->table[i] = bars_typed_read(r->text[i], "", r->setup.test, r->width, r->thickness, &error);
    if (!r->table[i]) {
      r->message[i] = g_strdup(error->message);
      continue;
    }
    n[i] = r->table[i]->row->len;
    bar[i] = g_new(Bar, n[i] + 1);
    for (size_t k = 0; k < n[i]; k++)
      bar[i][k] = g_array_index(r->table[i]->row, BarsRow, k).bar;
  }
  r->fault = bars_answer(&r->setup, (const Bar *const *)bar, n, keep_going, stop, &r->answer);
  records_read(r);
  for (int i = 0; i < BARS_SETS; i++)
    g_free(bar[i]);
  g_task_return_boolean(task, TRUE);
}

static void notch_came(SoffitBarsDesk *self)
{
  g_signal_emit(self, signal_id[NOTCH_CHANGED], 0);
}

/* Height and width of the notched bar follow the bars; the notch stays in it. */
static void notch_fit(SoffitBarsDesk *self)
{
  BarsInput *in = &self->input;
  NotchedBar *b = &in->notch;
  b->height = in->thickness;
  b->width = in->width;
  if (b->depth < 0.02)
    b->depth = 0, b->radius = 0.06;
  b->depth = fmin(b->depth, 0.6 * b->height);
  b->radius = b->depth > 0 ? CLAMP(b->radius, 0.02, b->depth) : b->radius;
  in->place = CLAMP(in->place, -in->span / 2, in->span / 2);
}

/* The card in the test as it was answered; sizes of the usual bar, else as typed. */
static void book_make(SoffitBarsDesk *self)
{
  const BarsAnswer *a = self->shown ? self->shown->answer : NULL;
  double width = self->input.width, thickness = self->input.thickness;
  BarSetup setup = a ? a->setup : bars_desk_setup(self);
  for (int i = BARS_SETS - 1; a && i >= 0; i--)
    if (a->set[i].n_good)
      width = a->set[i].width, thickness = a->set[i].thickness;
  if (!self->card.id[0] || bars_book(&self->card, &setup, width, thickness, &self->book))
    self->book = (BarsBook){.surface = 0};
}

static void reading_done(GObject *source, GAsyncResult *result, gpointer data)
{
  (void)data;
  SoffitBarsDesk *self = SOFFIT_BARS_DESK(source);
  Reading *r = g_task_get_task_data(G_TASK(result));
  if (r->stop != self->reading)
    return; /* a newer one is on its way */
  g_clear_object(&self->reading);
  Reading *fresh = g_new(Reading, 1);
  *fresh = *r; /* taken over from the task */
  g_object_ref(fresh->stop);
  for (int i = 0; i < BARS_SETS; i++)
    r->text[i] = r->message[i] = NULL, r->table[i] = NULL, r->records[i].found = NULL;
  r->answer = NULL;
  reading_free(self->shown);
  self->shown = fresh;
  book_make(self);
  g_signal_emit(self, signal_id[ANSWER_CHANGED], 0);
}

/* --- what was typed --- */

static gboolean read_now(void *data)
{
  SoffitBarsDesk *self = data;
  self->pause = 0;
  if (self->reading)
    g_cancellable_cancel(self->reading);
  g_clear_object(&self->reading);
  self->reading = g_cancellable_new();
  Reading *r = g_new0(Reading, 1);
  r->setup = bars_desk_setup(self);
  r->width = self->input.width;
  r->thickness = self->input.thickness;
  for (int i = 0; i < BARS_SETS; i++)
    r->text[i] = g_strdup(self->input.set[i].text);
  r->stop = g_object_ref(self->reading);
  GTask *task = g_task_new(self, self->reading, reading_done, NULL);
  g_task_set_check_cancellable(task, FALSE);
  g_task_set_task_data(task, r, reading_free);
  g_task_run_in_thread(task, reading_run);
  g_object_unref(task);
  bars_input_keep(&self->input, self->file);
  return G_SOURCE_REMOVE;
}

void bars_desk_changed(SoffitBarsDesk *self)
{
  notch_fit(self);
  notch_job_request(self->notch, &self->input.notch);
  g_clear_handle_id(&self->pause, g_source_remove);
  self->pause = g_timeout_add(PAUSE_MS, read_now, self);
}

void bars_desk_set_text(SoffitBarsDesk *self, int set, const char *text)
{
  if (g_strcmp0(self->input.set[set].text, text) == 0)
    return;
  char *fresh = g_strdup(text);
  g_free(self->input.set[set].text);
  self->input.set[set].text = fresh;
  bars_desk_changed(self);
  g_signal_emit(self, signal_id[TYPED], 0);
}

void bars_desk_set_name(SoffitBarsDesk *self, int set, const char *name)
{
  char *fresh = g_strdup(name);
  g_free(self->input.set[set].name);
  self->input.set[set].name = fresh;
  bars_desk_changed(self);
}

/* Invented forces of bars 4 x 3 mm at quarter points of 20 mm. */
void bars_desk_example(SoffitBarsDesk *self)
{
  BarsInput *in = &self->input;
  in->test = BAR_FOUR_POINT_QUARTER;
  in->span = 20;
  in->width = 4;
  in->thickness = 3;
  in->set[0].finish = FINISH_AS_MILLED;
  in->set[1].finish = FINISH_HIGH_POLISH;
  bars_desk_set_name(self, 0, _("as milled"));
  bars_desk_set_name(self, 1, _("high gloss"));
  bars_desk_set_text(
      self, 0,
      "1092\n1267\n1296\n1330\n1349\n1394\n1445\n1469\n1522\n1586\n1601\n1606\n1622\n"
      "1644\n1774\n");
  bars_desk_set_text(
      self, 1,
      "1814\n2002\n2071\n2167\n2213\n2266\n2304\n2350\n2359\n2414\n2446\n2525\n2546\n"
      "2582\n2674\n");
  bars_desk_changed(self);
  g_signal_emit(self, signal_id[TYPED], 0);
}

BarsInput *bars_desk_input(SoffitBarsDesk *self)
{
  return &self->input;
}

BarSetup bars_desk_setup(SoffitBarsDesk *self)
{
  const BarsInput *in = &self->input;
  BarSetup setup = bar_setup_default((BarTest)in->test);
  setup.inner = in->test == BAR_DISC ? in->piston : setup.inner * in->span / setup.span;
  setup.span = in->span;
  return setup;
}

const BarsAnswer *bars_desk_answer(SoffitBarsDesk *self)
{
  return self->shown ? self->shown->answer : NULL;
}

void bars_desk_set_card(SoffitBarsDesk *self, const Material *card)
{
  self->card = *card;
  book_make(self);
  g_signal_emit(self, signal_id[ANSWER_CHANGED], 0);
}

const Material *bars_desk_card(SoffitBarsDesk *self)
{
  return self->card.id[0] ? &self->card : NULL;
}

const BarsBook *bars_desk_book(SoffitBarsDesk *self)
{
  return self->book.surface > 0 ? &self->book : NULL;
}

const BarsTable *bars_desk_table(SoffitBarsDesk *self, int set)
{
  return self->shown ? self->shown->table[set] : NULL;
}

const BarsRecords *bars_desk_records(SoffitBarsDesk *self, int set)
{
  return self->shown ? &self->shown->records[set] : NULL;
}

bool bars_desk_settled(SoffitBarsDesk *self)
{
  return self->shown && !self->reading && !self->pause;
}

const NotchShown *bars_desk_notch(SoffitBarsDesk *self)
{
  return notch_job_shown(self->notch);
}

const char *bars_desk_name(SoffitBarsDesk *self, int set)
{
  return self->input.set[set].name;
}

double bars_desk_limit(SoffitBarsDesk *self)
{
  const BarsAnswer *a = bars_desk_answer(self);
  for (int i = 0; a && i < BARS_SETS; i++)
    if (!a->set[i].fit_fault)
      return a->set[i].fit.scale.value;
  return LIMIT_WITHOUT_BARS;
}

/* "line 4: what is wrong" */
static void line_say(GString *out, guint line, const char *what)
{
  if (out->len)
    g_string_append_c(out, '\n');
  g_string_append_printf(out, _("line %u: %s"), line, what);
}

/* What is to be said about one bar; NULL = nothing. */
static char *bar_says(const Reading *r, const BarsSetAnswer *set, size_t i)
{
  if (set->fault[i]) {
    Phrase phrase = bar_fault_phrase(set->fault[i], &r->answer->setup, &set->bar[i]);
    return words_phrase(&phrase);
  }
  return set->outlier[i]
             ? g_strdup_printf(
                   _("%.0f MPa lies far from the others. Look at its origin; it is used."),
                   set->strength[i])
             : NULL;
}

char *bars_desk_messages(SoffitBarsDesk *self, int which, guint most)
{
  GString *out = g_string_new(NULL);
  const Reading *r = self->shown;
  guint n = 0;
  if (!r)
    return g_string_free(out, FALSE);
  if (r->message[which])
    g_string_append(out, r->message[which] + strspn(r->message[which], ":0123456789 "));
  const BarsTable *table = r->table[which];
  const BarsSetAnswer *set = r->answer ? &r->answer->set[which] : NULL;
  guint unread = 0; /* both kinds in the order of their lines */
  size_t i = 0;
  while (table && (unread < table->message->len || (set && i < set->n))) {
    char *what = NULL; /* ":LINE: what" */
    guint line = G_MAXUINT, at = G_MAXUINT;
    if (unread < table->message->len)
      line =
          (guint)g_ascii_strtoull((char *)g_ptr_array_index(table->message, unread) + 1, &what, 10);
    if (set && i < set->n)
      at = g_array_index(table->row, BarsRow, i).line;
    if (line <= at) {
      unread++;
      if (n++ < most)
        line_say(out, line, what + strspn(what, ": "));
      continue;
    }
    g_autofree char *said = bar_says(r, set, i++);
    if (said && n++ < most)
      line_say(out, at, said);
  }
  if (n > most)
    g_string_append_printf(out, words_plural("\nand %u more", "\nand %u more", n - most), n - most);
  return g_string_free(out, FALSE);
}

static void bars_desk_finalize(GObject *object)
{
  SoffitBarsDesk *self = SOFFIT_BARS_DESK(object);
  g_clear_handle_id(&self->pause, g_source_remove);
  if (self->reading)
    g_cancellable_cancel(self->reading);
  g_clear_object(&self->reading);
  g_signal_handlers_disconnect_by_data(self->notch, self);
  g_object_unref(self->notch);
  reading_free(self->shown);
  for (int i = 0; i < BARS_SETS; i++) {
    g_free(self->input.set[i].name);
    g_free(self->input.set[i].text);
  }
  g_free(self->file);
  G_OBJECT_CLASS(bars_desk_parent_class)->finalize(object);
}

static void bars_desk_class_init(SoffitBarsDeskClass *class)
{
  static const char *const name[SIGNAL_N] = {"answer-changed", "notch-changed", "typed"};
  G_OBJECT_CLASS(class)->finalize = bars_desk_finalize;
  for (int i = 0; i < SIGNAL_N; i++)
    signal_id[i] = g_signal_new(name[i], G_TYPE_FROM_CLASS(class), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 0);
}

static void bars_desk_init(SoffitBarsDesk *self)
{
  BarsInput *in = &self->input;
  self->notch = notch_job_new();
  g_signal_connect_swapped(self->notch, "solved", G_CALLBACK(notch_came), self);
  in->test = BAR_FOUR_POINT_QUARTER;
  in->span = 20;
  in->width = 4;
  in->thickness = 3;
  in->piston = 1.4;
  in->notch = (NotchedBar){3, 4, 0.36, 0.06, 40};
  in->set[0].finish = FINISH_AS_MILLED;
  in->set[1].finish = FINISH_HIGH_POLISH;
  for (int i = 0; i < BARS_SETS; i++)
    in->set[i].text = g_strdup("");
  in->set[0].name = g_strdup(_("first set"));
  in->set[1].name = g_strdup(_("second set"));
}

SoffitBarsDesk *bars_desk_new(const char *state_dir)
{
  SoffitBarsDesk *self = g_object_new(SOFFIT_TYPE_BARS_DESK, NULL);
  if (!state_dir)
    self->file = g_build_filename(g_get_user_state_dir(), "soffit", FILE_NAME, NULL);
  else if (*state_dir)
    self->file = g_build_filename(state_dir, FILE_NAME, NULL);
  bars_input_restore(&self->input, self->file);
  bars_desk_changed(self);
  return self;
}
