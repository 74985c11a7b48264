/* practice_why.c - right: how far, why the best one carries more, hints, what is learnt, what next.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/parts.h"
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define WIDTH 288
#define LOAD_LEAST_N 50
#define LOAD_STEP_N 25

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *scroller, *head, *peaks, *load_box, *load, *load_words, *gain_box, *gain_title,
      *gain_row[SCORE_GAINS_MOST];
  GtkWidget *gain_figure[SCORE_GAINS_MOST], *gain_act[SCORE_GAINS_MOST],
      *gain_why[SCORE_GAINS_MOST];
  GtkWidget *reasons, *remarks, *learnt_box, *learnt, *hint_text, *hint, *hand_in, *again, *swap,
      *swipe, *next;
  bool filling;
} WhyColumn;

/* --- load --- */

static void load_changed(GtkRange *range, gpointer data)
{
  WhyColumn *self = data;
  if (!self->filling)
    practice_desk_set_load(self->desk, gtk_range_get_value(range));
}

static void load_show(WhyColumn *self)
{
  const CaseLoad *own = &practice_desk_exercise(self->desk)->start.trial;
  double force = session_case(practice_desk_session(self->desk))->trial.force_n;
  self->filling = true;
  gtk_range_set_range(GTK_RANGE(self->load), LOAD_LEAST_N, 2 * own->force_n);
  gtk_range_set_value(GTK_RANGE(self->load), force);
  self->filling = false;
  g_autofree char *now = words_number(force, 0), *asked = words_number(own->force_n, 0);
  g_autofree char *text =
      g_strdup_printf(_("%s N on the biting edge; the exercise counts at %s N."), now, asked);
  gtk_label_set_text(GTK_LABEL(self->load_words), text);
  gtk_widget_set_visible(self->load_box, practice_desk_step(self->desk) == PRACTICE_SEE);
}

/* --- score --- */

/* "−10 %" with a true minus sign. */
static char *fall_text(double percent)
{
  g_autofree char *number = words_number(percent, 0);
  return g_strdup_printf("−%s %%", number);
}

static void gains_show(WhyColumn *self, const Score *score)
{
  bool any = score && score->n_gain > 0;
  for (size_t i = 0; i < SCORE_GAINS_MOST; i++) {
    gtk_widget_set_visible(self->gain_row[i], any && i < score->n_gain);
    if (!any || i >= score->n_gain)
      continue;
    g_autofree char *fall = fall_text(score->gain[i].fall_percent);
    g_autofree char *act = words_phrase(&score->gain[i].act),
                    *why = words_phrase(&score->gain[i].why);
    gtk_label_set_text(GTK_LABEL(self->gain_figure[i]), fall);
    gtk_label_set_text(GTK_LABEL(self->gain_act[i]), act);
    gtk_label_set_text(GTK_LABEL(self->gain_why[i]), why);
  }
  gtk_widget_set_visible(self->gain_box, any);
}

static char *reasons_text(const Score *score)
{
  GString *text = g_string_new(NULL);
  for (size_t i = 0; score && i < score->n; i++) {
    if (!score->row[i].reason.text || score->row[i].is_question)
      continue;
    g_autofree char *reason = words_phrase(&score->row[i].reason);
    g_string_append_printf(text, "%s%s", text->len ? "\n" : "", reason);
  }
  return g_string_free(text, FALSE);
}

static char *remarks_text(const Score *score)
{
  GString *text = g_string_new(NULL);
  for (size_t i = 0; score && i < score->n_remark; i++) {
    g_autofree char *remark = words_phrase(&score->remark[i]);
    g_string_append_printf(text, "%s%s", text->len ? "\n" : "", remark);
  }
  return g_string_free(text, FALSE);
}

static void words_show(GtkWidget *label, char *text)
{
  gtk_label_set_text(GTK_LABEL(label), text);
  gtk_widget_set_visible(label, *text != '\0');
  g_free(text);
}

static void head_show(WhyColumn *self, const Score *score)
{
  g_autofree char *text =
      practice_desk_busy(self->desk) ? g_strdup(_("Looking for the best outline in this room …"))
      : practice_desk_fault(self->desk)
          ? g_strdup_printf(_("No score: %s"),
                            words_translate(fault_text(practice_desk_fault(self->desk))))
      : practice_desk_step(self->desk) == PRACTICE_PREDICT
          ? g_strdup(_("First your prediction, then the pull."))
      : score ? words_phrase(&score->head)
              : g_strdup(_("following"));
  gtk_label_set_text(GTK_LABEL(self->head), text);
  bool plays = practice_desk_plays(self->desk), /* whose figures stand below */
      busy = practice_desk_busy(self->desk) || practice_desk_fault(self->desk);
  gtk_widget_set_visible(self->head,
                         !plays || busy || practice_desk_step(self->desk) == PRACTICE_COMPARE);
  g_autofree char *peaks = NULL;
  PracticeStep step = practice_desk_step(self->desk); /* elsewhere the drawing says it */
  bool told = step == PRACTICE_REDRAW || step == PRACTICE_COMPARE;
  if (score && !plays && told && !practice_desk_swiping(self->desk) &&
      isfinite(score->mine_mpa.value)) {
    g_autofree char *mine = words_number(score->mine_mpa.value, 0),
                    *start = words_number(score->start_mpa.value, 0);
    peaks = g_strdup_printf(_("Pulled %s MPa at the hot spot; it was %s."), mine, start);
  }
  words_show(self->peaks, g_strdup(peaks ? peaks : ""));
}

/* --- hints --- */

static void hints_show(WhyColumn *self)
{
  const Exercise *e = practice_desk_exercise(self->desk);
  size_t open = practice_desk_hints(self->desk);
  GString *text = g_string_new(NULL);
  for (size_t i = 0; i < open; i++)
    g_string_append_printf(text, "%s%s", text->len ? "\n\n" : "", words_translate(e->hint[i].text));
  words_show(self->hint_text, g_string_free(text, FALSE));
  g_autofree char *label =
      g_strdup_printf(_("Hint %zu of %zu"), MIN(open + 1, e->n_hint), e->n_hint);
  gtk_button_set_label(GTK_BUTTON(self->hint), open < e->n_hint ? label : _("No more hints"));
  gtk_widget_set_sensitive(self->hint, open < e->n_hint);
  gtk_widget_set_visible(self->hint,
                         e->n_hint > 0 && practice_desk_step(self->desk) != PRACTICE_COMPARE);
}

static void column_show(WhyColumn *self)
{
  const Exercise *e = practice_desk_exercise(self->desk);
  PracticeStep step = practice_desk_step(self->desk);
  const Score *score = practice_desk_score(self->desk);
  bool compare = step == PRACTICE_COMPARE, hidden = step == PRACTICE_PREDICT;
  head_show(self, score);
  load_show(self);
  gains_show(self, compare ? score : NULL);
  words_show(self->reasons, compare ? reasons_text(score) : g_strdup(""));
  words_show(self->remarks, hidden ? g_strdup("") : remarks_text(score));
  gtk_label_set_text(GTK_LABEL(self->learnt), words_translate(e->learnt));
  gtk_widget_set_visible(self->learnt_box, compare);
  hints_show(self);
  gtk_widget_set_visible(self->hand_in, step == PRACTICE_SEE || step == PRACTICE_REDRAW);
  gtk_widget_set_sensitive(self->hand_in, !practice_desk_busy(self->desk) && score);
  gtk_button_set_label(GTK_BUTTON(self->hand_in),
                       practice_desk_plays(self->desk) ? _("See both side by side") : _("Hand in"));
  gtk_widget_set_visible(self->again, compare);
  gtk_widget_set_visible(self->swap, compare && practice_desk_best(self->desk));
  self->filling = true;
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->swipe), practice_desk_swiping(self->desk));
  self->filling = false;
  gtk_widget_set_visible(self->swipe, compare);
  gtk_widget_set_visible(self->next, compare);
}

/* Another page of it is read from its top. */
static void column_top(WhyColumn *self)
{
  GtkAdjustment *down = gtk_scrolled_window_get_vadjustment(GTK_SCROLLED_WINDOW(self->scroller));
  gtk_adjustment_set_value(down, gtk_adjustment_get_lower(down));
}

static void again_clicked(WhyColumn *self)
{
  practice_desk_go(self->desk, practice_desk_has_step(self->desk, PRACTICE_REDRAW) ? PRACTICE_REDRAW
                                                                                   : PRACTICE_SEE);
}

static GtkWidget *gains_build(WhyColumn *self)
{
  self->gain_box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  gtk_box_append(GTK_BOX(self->gain_box), part_label(_("What would bring the pull down"), "title"));
  for (size_t i = 0; i < SCORE_GAINS_MOST; i++) {
    GtkWidget *row = self->gain_row[i] = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12),
              *words = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
    self->gain_figure[i] = part_label("", "figure");
    self->gain_act[i] = part_label("", "title");
    self->gain_why[i] = part_label("", "note");
    gtk_widget_set_valign(self->gain_figure[i], GTK_ALIGN_START);
    gtk_widget_set_size_request(self->gain_figure[i], 72, -1);
    gtk_label_set_wrap(GTK_LABEL(self->gain_figure[i]), FALSE);
    gtk_widget_set_hexpand(words, TRUE);
    gtk_box_append(GTK_BOX(words), self->gain_act[i]);
    gtk_box_append(GTK_BOX(words), self->gain_why[i]);
    gtk_box_append(GTK_BOX(row), self->gain_figure[i]);
    gtk_box_append(GTK_BOX(row), words);
    gtk_box_append(GTK_BOX(self->gain_box), row);
  }
  gtk_box_append(
      GTK_BOX(self->gain_box),
      part_label(_("Each alone, at the order's load; shares of the pull at the hot spot."),
                 "note"));
  return self->gain_box;
}

static GtkWidget *load_build(WhyColumn *self)
{
  self->load_box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
  gtk_box_append(GTK_BOX(self->load_box), part_label(_("Press harder, press softer"), "title"));
  self->load =
      gtk_scale_new_with_range(GTK_ORIENTATION_HORIZONTAL, LOAD_LEAST_N, 1200, LOAD_STEP_N);
  spoken_name(self->load, _("Load on the biting edge, N"));
  g_signal_connect(self->load, "value-changed", G_CALLBACK(load_changed), self);
  self->load_words = part_label("", "note");
  gtk_box_append(GTK_BOX(self->load_box), self->load);
  gtk_box_append(GTK_BOX(self->load_box), self->load_words);
  return self->load_box;
}

static GtkWidget *learnt_build(WhyColumn *self)
{
  self->learnt_box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
  gtk_widget_add_css_class(self->learnt_box, "practice-learnt");
  gtk_box_append(GTK_BOX(self->learnt_box), part_label(_("learnt"), "note"));
  self->learnt = part_label("", "practice-sentence");
  gtk_box_append(GTK_BOX(self->learnt_box), self->learnt);
  return self->learnt_box;
}

static void swipe_toggled(GtkToggleButton *button, gpointer data)
{
  WhyColumn *self = data;
  if (!self->filling)
    practice_desk_set_swiping(self->desk, gtk_toggle_button_get_active(button));
  column_top(self);
}

static GtkWidget *actions_build(WhyColumn *self)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8),
            *pair = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_widget_add_css_class(box, "practice-actions");
  self->hint = part_button("", "quiet", G_CALLBACK(practice_desk_open_hint), self->desk);
  self->hand_in =
      part_button(_("Hand in"), "strong", G_CALLBACK(practice_desk_hand_in), self->desk);
  self->swap = part_button(_("Swap  X"), "quiet", G_CALLBACK(practice_desk_swap), self->desk);
  self->again = part_button(_("Try again  T"), "quiet", G_CALLBACK(again_clicked), self);
  self->swipe = gtk_toggle_button_new_with_label(_("Before and after  S"));
  gtk_widget_add_css_class(self->swipe, "quiet");
  g_signal_connect(self->swipe, "toggled", G_CALLBACK(swipe_toggled), self);
  self->next =
      part_button(_("Next exercise  N"), "strong", G_CALLBACK(practice_desk_open_next), self->desk);
  gtk_widget_set_hexpand(self->swap, TRUE);
  gtk_widget_set_hexpand(self->again, TRUE);
  gtk_box_append(GTK_BOX(pair), self->swap);
  gtk_box_append(GTK_BOX(pair), self->again);
  gtk_box_append(GTK_BOX(box), self->hint);
  gtk_box_append(GTK_BOX(box), self->hand_in);
  gtk_box_append(GTK_BOX(box), self->swipe);
  gtk_box_append(GTK_BOX(box), pair);
  gtk_box_append(GTK_BOX(box), self->next);
  return box;
}

GtkWidget *practice_why_new(SoffitPracticeDesk *desk)
{
  WhyColumn *self = g_new0(WhyColumn, 1);
  self->desk = desk;
  GtkWidget *column = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 14), *scroller = gtk_scrolled_window_new();
  self->scroller = scroller;
  gtk_widget_add_css_class(box, "practice-column");
  self->head = part_label("", "word");
  self->peaks = part_label("", "dim");
  self->reasons = part_label("", NULL);
  self->remarks = part_label("", "note");
  self->hint_text = part_label("", "practice-hint");
  gtk_accessible_update_property(GTK_ACCESSIBLE(self->head), GTK_ACCESSIBLE_PROPERTY_LEVEL, 1, -1);
  GtkWidget *part[] = {self->head,
                       self->peaks,
                       practice_against_new(desk),
                       load_build(self),
                       practice_crack_new(desk),
                       practice_bar_new(desk),
                       practice_sizes_new(desk),
                       self->reasons,
                       gains_build(self),
                       learnt_build(self),
                       self->remarks,
                       self->hint_text};
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    gtk_box_append(GTK_BOX(box), part[i]);
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), box);
  gtk_widget_set_vexpand(scroller, TRUE);
  gtk_box_append(GTK_BOX(column), scroller);
  gtk_box_append(GTK_BOX(column), actions_build(self));
  gtk_widget_set_size_request(column, WIDTH, -1);
  gtk_widget_add_css_class(column, "side");
  g_object_set_data_full(G_OBJECT(column), "why", self, g_free);
  practice_follow(
      desk, column,
      (const char *const[]){"exercise-changed", "step-changed", "work-changed", "scored", NULL},
      G_CALLBACK(column_show), self);
  practice_follow(desk, column, (const char *const[]){"exercise-changed", "step-changed", NULL},
                  G_CALLBACK(column_top), self);
  return column;
}
