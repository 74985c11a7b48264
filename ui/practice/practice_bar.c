/* practice_bar.c - right: a test bar with the notch that is being drawn, bending as the bridge
 * does. SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/likeness.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/picture_notch.h"
#include "ui/notch_job.h"
#include "ui/parts.h"
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

/* px: the bar as wide as the column, and what is drawn around it, which grows with the text. */
#define BAR_PX 74
#define AROUND_PX 44
/* Of the rollers, in heights of the bar. */
#define SPAN 2.6
#define INNER 1.7

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *box, *like, *unlike, *area, *bar_words, *own_words, *was_words, *turned, *clipped;
  GtkWidget *before, *before_area, *before_words; /* the start's own bar, above this one */
  SoffitNotchJob *job, *start_job;                /* owned refs */
  Likeness now, start;
  bool known, start_known;
  double limit_mpa;
} BarView;

static bool likeness_of(const Assessment *a, size_t connector, Likeness *likeness)
{
  return a && likeness_read(a, connector, likeness) == FAULT_NONE;
}

static void area_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  BarView *self = data;
  bool before = GTK_WIDGET(area) == self->before_area;
  const Likeness *likeness = before ? &self->start : &self->now;
  const NotchShown *shown = notch_job_shown(before ? self->start_job : self->job);
  if (!shown || !(before ? self->start_known : self->known))
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  BarSetup setup = bar_setup_default(BAR_FOUR_POINT_QUARTER);
  setup.span = SPAN * shown->bar.height;
  setup.inner = INNER * shown->bar.height;
  NotchPicture picture = {.setup = &setup,
                          .bar = &shown->bar,
                          .answer = shown->answer,
                          .shaded = shown->shaded,
                          .zero = &shown->zero,
                          .reference_mpa = likeness_plain_mpa(&shown->bar, likeness->nominal_mpa),
                          .limit_mpa = self->limit_mpa,
                          .small = true};
  picture_notch(cr, width, height, &context, &picture);
}

/* "The bar: 1.9 times (± 1 %)" */
static char *times_text(const char *who, Banded now)
{
  g_autofree char *times = words_number(now.value, 1),
                  *band = words_number(fmax(ceil(100 * (now.high / now.value - 1)), 1), 0);
  return g_strdup_printf(_("%s: %s times (± %s %%)"), who, times, band);
}

static Banded bar_times(SoffitNotchJob *job, const Likeness *likeness)
{
  const NotchShown *shown = notch_job_shown(job);
  return shown && shown->answer
             ? likeness_bar_times(&shown->bar, shown->answer, likeness->line_percent)
             : banded(NAN, NAN, NAN);
}

/* Words below one of the bars: its factor and the connector's; empty while they are not known. */
static void figures_show(BarView *self, bool there, Banded bar)
{
  g_autofree char *bar_text = there ? times_text(_("The bar"), bar) : g_strdup(_("following")),
                  *own_text =
                      there ? times_text(_("Your connector"), self->now.times) : g_strdup(""),
                  *spoken =
                      g_strdup_printf(_("Test bar with the notch of your connector. %s"), bar_text);
  gtk_label_set_text(GTK_LABEL(self->bar_words), bar_text);
  gtk_label_set_text(GTK_LABEL(self->own_words), own_text);
  gtk_widget_set_visible(self->own_words, there);
  spoken_name(self->area, spoken);
}

static void start_show(BarView *self, bool known, Banded was)
{
  PracticeStep step = practice_desk_step(self->desk);
  g_autofree char *bar = words_number(was.value, 1),
                  *own = words_number(self->start.times.value, 1),
                  *text = g_strdup_printf(_("At the start: bar %s, connector %s."), bar, own),
                  *spoken = g_strdup_printf(_("Test bar with the notch of the start. %s"), text);
  gtk_label_set_text(GTK_LABEL(self->was_words), text);
  gtk_label_set_text(GTK_LABEL(self->before_words), known ? text : _("following"));
  gtk_widget_set_visible(self->was_words, known && step == PRACTICE_REDRAW);
  spoken_name(self->before_area, known ? spoken : _("following"));
}

static void words_show(BarView *self)
{
  Banded bar = bar_times(self->job, &self->now), was = bar_times(self->start_job, &self->start);
  bool there = self->known && !isnan(bar.value);
  figures_show(self, there, bar);
  start_show(self, there && self->start_known && !isnan(was.value), was);
  gtk_widget_set_visible(self->turned, self->known && self->now.turned);
  gtk_widget_set_visible(self->clipped, self->known && self->now.clipped);
  gtk_widget_queue_draw(self->area);
  gtk_widget_queue_draw(self->before_area);
}

static void view_show(BarView *self)
{
  SoffitSession *session = practice_desk_session(self->desk);
  PracticeStep step = practice_desk_step(self->desk);
  const Assessment *a =
      step == PRACTICE_COMPARE ? practice_desk_mine(self->desk) : session_assessment(session);
  size_t i = session_focus(session);
  bool shown = step == PRACTICE_SEE || step == PRACTICE_REDRAW || practice_desk_swiping(self->desk);
  gtk_widget_set_visible(self->box, shown);
  gtk_widget_set_visible(self->before, practice_desk_swiping(self->desk));
  if (!shown)
    return;
  int height = BAR_PX + (int)(AROUND_PX * text_scale(self->area));
  gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(self->area), height);
  gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(self->before_area), height);
  self->known = likeness_of(a, i, &self->now);
  self->start_known = likeness_of(practice_desk_start(self->desk), i, &self->start);
  if (self->known) {
    self->limit_mpa = connector_limit(&a->connector[i], false);
    notch_job_request(self->job, &self->now.bar);
  }
  if (self->start_known)
    notch_job_request(self->start_job, &self->start.bar);
  bool answered = a && i < a->n_connector && !a->connector[i].fault;
  gtk_widget_set_visible(self->like, self->known || !answered);
  gtk_widget_set_visible(self->unlike, answered && !self->known);
  words_show(self);
}

static void view_free(gpointer data)
{
  BarView *self = data;
  g_signal_handlers_disconnect_by_data(self->job, self);
  g_signal_handlers_disconnect_by_data(self->start_job, self);
  g_object_unref(self->job);
  g_object_unref(self->start_job);
  g_free(self);
}

static SoffitNotchJob *job_new(BarView *self)
{
  SoffitNotchJob *job = notch_job_new();
  g_signal_connect_swapped(job, "solved", G_CALLBACK(words_show), self);
  return job;
}

static void session_follow(BarView *self, const char *signal)
{
  GClosure *closure = g_cclosure_new_swap(G_CALLBACK(view_show), self, NULL);
  g_object_watch_closure(G_OBJECT(self->box), closure);
  g_signal_connect_closure(practice_desk_session(self->desk), signal, closure, FALSE);
}

static GtkWidget *area_new(BarView *self)
{
  GtkWidget *area = gtk_drawing_area_new();
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), area_draw, self, NULL);
  gtk_widget_add_css_class(area, "paper");
  return area;
}

GtkWidget *practice_bar_new(SoffitPracticeDesk *desk)
{
  BarView *self = g_new0(BarView, 1);
  self->desk = desk;
  self->job = job_new(self);
  self->start_job = job_new(self);
  self->box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  self->like = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  self->area = area_new(self);
  self->before_area = area_new(self);
  self->before_words = part_label("", NULL);
  self->before = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  gtk_box_append(GTK_BOX(self->before), self->before_area);
  gtk_box_append(GTK_BOX(self->before), self->before_words);
  self->bar_words = part_label("", NULL);
  self->own_words = part_label("", NULL);
  self->was_words = part_label("", "note");
  self->clipped = part_label(_("Its notch is as near to yours as a bar allows."), "note");
  self->turned = part_label(_("Here the biting side is pulled: the bar lies upside down, its notch "
                              "is the biting groove."),
                            "note");
  self->unlike = part_label(
      _("Here the pull is largest at the cheek or tongue side: a bar with a notch would show "
        "something else."),
      "note");
  GtkWidget *part[] = {
      self->before,
      self->area,
      self->bar_words,
      self->own_words,
      self->was_words,
      self->turned,
      part_label(_("As many times the pull as in a smooth piece of the neck's height."), "note"),
      part_label(
          _("Alike: neck height, depth, roof radius, opening. Not alike: the bar is flat and "
            "only bends. It is a likeness; your connector's own figure decides."),
          "note"),
      self->clipped};
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    gtk_box_append(GTK_BOX(self->like), part[i]);
  gtk_box_append(GTK_BOX(self->box), part_label(_("The same notch in a bar"), "title"));
  gtk_box_append(GTK_BOX(self->box), self->like);
  gtk_box_append(GTK_BOX(self->box), self->unlike);
  g_object_set_data_full(G_OBJECT(self->box), "bar", self, view_free);
  session_follow(self, "assessment-changed");
  session_follow(self, "focus-changed");
  practice_follow(desk, self->box,
                  (const char *const[]){"exercise-changed", "step-changed", "work-changed", NULL},
                  G_CALLBACK(view_show), self);
  return self->box;
}
