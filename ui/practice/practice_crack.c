/* practice_crack.c - how it would crack: a button, and the sketch over the drawing in slow motion.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas.h"
#include "ui/drawing/picture_crack.h"
#include "ui/parts.h"
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define PLAY_S 4.0

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *canvas;
  CrackWay way;
  bool shown;
  guint tick;
  gint64 begun_us; /* 0: with the next frame */
} Play;

static bool way_of(SoffitPracticeDesk *desk, CrackWay *way)
{
  SoffitSession *session = practice_desk_session(desk);
  const Assessment *a = session_assessment(session);
  size_t i = session_focus(session);
  if (!a || i >= a->n_connector || !a->connector[i].field)
    return false;
  const ConnectorAssessment *k = &a->connector[i];
  return crack_way(&k->field->sheet[SHEET_ELEVATION], k->trial,
                   point(k->trial_peak.at.x, k->trial_peak.at.y), way) == FAULT_NONE;
}

/* --- over the drawing --- */

static void play_stop(Play *self)
{
  if (self->tick)
    gtk_widget_remove_tick_callback(self->canvas, self->tick);
  self->tick = 0;
}

static gboolean play_frame(GtkWidget *canvas, GdkFrameClock *clock, gpointer data)
{
  Play *self = data;
  gint64 now = gdk_frame_clock_get_frame_time(clock);
  if (self->begun_us == 0)
    self->begun_us = now;
  double share = MIN((double)(now - self->begun_us) / (PLAY_S * G_USEC_PER_SEC), 1);
  canvas_set_crack(SOFFIT_CANVAS(canvas), &self->way, share);
  if (share < 1)
    return G_SOURCE_CONTINUE;
  self->tick = 0;
  return G_SOURCE_REMOVE;
}

/* Another load bends the way: then it is shown as far as it had come. */
static void play_show(Play *self)
{
  bool shown = practice_desk_cracking(self->desk) && way_of(self->desk, &self->way);
  if (!shown) {
    play_stop(self);
    canvas_set_crack(SOFFIT_CANVAS(self->canvas), NULL, 0);
  } else if (!self->shown && part_motion(self->canvas)) {
    self->begun_us = 0;
    self->tick = gtk_widget_add_tick_callback(self->canvas, play_frame, self, NULL);
  } else if (!self->tick)
    canvas_set_crack(SOFFIT_CANVAS(self->canvas), &self->way, 1);
  self->shown = shown;
}

void practice_crack_attach(SoffitPracticeDesk *desk, GtkWidget *canvas)
{
  Play *self = g_new0(Play, 1);
  self->desk = desk;
  self->canvas = canvas;
  g_object_set_data_full(G_OBJECT(canvas), "crack", self, g_free);
  for (int i = 0; i < 2; i++) {
    GClosure *closure = g_cclosure_new_swap(G_CALLBACK(play_show), self, NULL);
    g_object_watch_closure(G_OBJECT(canvas), closure);
    g_signal_connect_closure(practice_desk_session(desk),
                             i ? "assessment-changed" : "focus-changed", closure, FALSE);
  }
  practice_follow(desk, canvas,
                  (const char *const[]){"exercise-changed", "step-changed", "work-changed", NULL},
                  G_CALLBACK(play_show), self);
}

/* --- the button --- */

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *box, *button, *words;
  bool filling;
} Control;

static void toggled(GtkToggleButton *button, gpointer data)
{
  Control *self = data;
  if (!self->filling)
    practice_desk_set_cracking(self->desk, gtk_toggle_button_get_active(button));
}

static void control_show(Control *self)
{
  CrackWay way;
  bool see = practice_desk_step(self->desk) == PRACTICE_SEE,
       cracking = practice_desk_cracking(self->desk), known = see && way_of(self->desk, &way);
  self->filling = true;
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->button), cracking);
  self->filling = false;
  gtk_widget_set_visible(self->box, see);
  gtk_widget_set_sensitive(self->button, known);
  g_autofree char *text = NULL;
  if (cracking && known)
    text = g_strdup_printf(
        "%s %s", words_translate(crack_end_words(way.end)),
        _("It starts at the hot spot and runs across the pull. A sketch of the way, no "
          "prediction of time; a crack that has begun changes the pull around it."));
  gtk_label_set_text(GTK_LABEL(self->words), text ? text : "");
  gtk_widget_set_visible(self->words, text != NULL);
}

GtkWidget *practice_crack_new(SoffitPracticeDesk *desk)
{
  Control *self = g_new0(Control, 1);
  self->desk = desk;
  self->box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6);
  self->button = gtk_toggle_button_new_with_label(_("How it would crack  C"));
  gtk_widget_add_css_class(self->button, "quiet");
  spoken_name(self->button, _("How it would crack"));
  g_signal_connect(self->button, "toggled", G_CALLBACK(toggled), self);
  self->words = part_label("", "note");
  gtk_box_append(GTK_BOX(self->box), self->button);
  gtk_box_append(GTK_BOX(self->box), self->words);
  g_object_set_data_full(G_OBJECT(self->box), "crack", self, g_free);
  practice_follow(
      desk, self->box,
      (const char *const[]){"exercise-changed", "step-changed", "work-changed", "scored", NULL},
      G_CALLBACK(control_show), self);
  return self->box;
}
