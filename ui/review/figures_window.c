/* figures_window.c - see figures_window.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/figures_window.h"
#include "ui/canvas/draw_context.h"
#include "ui/dialog_window.h"
#include "ui/drawing/picture_lab.h"
#include "ui/figures_words.h"
#include "ui/parts.h"
#include "ui/review/figures_job.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define PICTURES 4
#define PICTURE_HEIGHT 230

typedef struct {
  GtkWidget *window, *bar, *note, *stack, *picture[PICTURES], *words[FIGURES_N], *hands;
  FiguresJob *job;
  LabStats stats;
} FiguresWindow;

static void window_free(FiguresWindow *w)
{
  figures_job_free(w->job);
  lab_stats_clear(&w->stats);
  g_free(w);
}

static void picture_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  static void (*const draw[PICTURES])(cairo_t * cr, int width, int height,
                                      const DrawContext *context, const LabStats *stats) = {
      picture_lab_months, picture_lab_causes, picture_lab_sizes, picture_lab_calibration};
  FiguresWindow *w = data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  for (int i = 0; i < PICTURES; i++)
    if (GTK_WIDGET(area) == w->picture[i])
      draw[i](cr, width, height, &context, &w->stats);
}

static void topic_fill(FiguresWindow *w, FiguresTopic topic)
{
  g_autoptr(GPtrArray) said = figures_sentences(&w->stats, topic);
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint i = 0; i < said->len; i++)
    g_string_append_printf(text, "%s%s", i ? "\n" : "", (const char *)said->pdata[i]);
  gtk_label_set_text(GTK_LABEL(w->words[topic]), text->str);
  if (topic < PICTURES) {
    spoken_description(w->picture[topic], text->str);
    gtk_widget_queue_draw(w->picture[topic]);
  } else {
    gtk_widget_set_visible(w->hands, said->len > 0);
  }
}

static void samples_show(FiguresWindow *w, const LabSamples *samples)
{
  lab_stats_clear(&w->stats);
  lab_stats_make((const LabSample *)(void *)samples->sample->data, samples->sample->len,
                 samples->by_technician, &w->stats);
  for (int topic = 0; topic < FIGURES_N; topic++)
    topic_fill(w, (FiguresTopic)topic);
  g_autoptr(GString) note = g_string_new(samples->trouble ? samples->trouble : "");
  if (note->len && samples->unread)
    g_string_append_c(note, ' ');
  if (samples->unread)
    g_string_append_printf(note,
                           words_plural("%u file has no answer and is not counted.",
                                        "%u files have no answer and are not counted.",
                                        samples->unread),
                           samples->unread);
  gtk_label_set_text(GTK_LABEL(w->note), note->str);
  gtk_stack_set_visible_child_name(GTK_STACK(w->stack), "figures");
}

static void job_changed(const FiguresState *state, void *data)
{
  FiguresWindow *w = data;
  gtk_progress_bar_set_fraction(GTK_PROGRESS_BAR(w->bar),
                                state->of ? (double)state->done / state->of : 0);
  g_autofree char *text = g_strdup_printf(_("%d of %d cases"), (int)state->done, (int)state->of);
  gtk_progress_bar_set_text(GTK_PROGRESS_BAR(w->bar), text);
  if (!state->over)
    return;
  gtk_widget_set_visible(w->bar, FALSE);
  if (state->samples)
    samples_show(w, state->samples);
  else if (state->trouble)
    gtk_label_set_text(GTK_LABEL(w->note), state->trouble);
}

static GtkWidget *card_new(FiguresWindow *w, FiguresTopic topic)
{
  GtkWidget *card = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  const char *title = _(figures_title(topic));
  gtk_box_append(GTK_BOX(card), part_label(title, "title"));
  if (topic < PICTURES) {
    GtkWidget *picture = w->picture[topic] = gtk_drawing_area_new();
    gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(picture), PICTURE_HEIGHT);
    gtk_drawing_area_set_content_width(GTK_DRAWING_AREA(picture), 380);
    gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(picture), picture_draw, w, NULL);
    gtk_widget_set_hexpand(picture, TRUE);
    spoken_name(picture, title);
    gtk_box_append(GTK_BOX(card), picture);
  }
  w->words[topic] = part_label("", "note");
  gtk_label_set_selectable(GTK_LABEL(w->words[topic]), TRUE);
  GtkWidget *words = gtk_expander_new(_("In words"));
  gtk_expander_set_child(GTK_EXPANDER(words), w->words[topic]);
  gtk_expander_set_expanded(GTK_EXPANDER(words), topic >= FIGURES_CALIBRATION);
  gtk_box_append(GTK_BOX(card), words);
  gtk_widget_add_css_class(card, "figures-card");
  gtk_widget_set_valign(card, GTK_ALIGN_START);
  gtk_widget_set_hexpand(card, TRUE);
  return card;
}

static GtkWidget *cards_build(FiguresWindow *w)
{
  GtkWidget *grid = gtk_grid_new(), *scroller = gtk_scrolled_window_new();
  gtk_grid_set_column_homogeneous(GTK_GRID(grid), TRUE);
  gtk_grid_set_column_spacing(GTK_GRID(grid), 12);
  gtk_grid_set_row_spacing(GTK_GRID(grid), 12);
  gtk_widget_add_css_class(grid, "figures-grid");
  for (int topic = 0; topic < PICTURES; topic++)
    gtk_grid_attach(GTK_GRID(grid), card_new(w, (FiguresTopic)topic), topic % 2, topic / 2, 1, 1);
  w->hands = card_new(w, FIGURES_HANDS);
  gtk_grid_attach(GTK_GRID(grid), w->hands, 0, 2, 2, 1);
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), grid);
  gtk_widget_set_vexpand(scroller, TRUE);
  return scroller;
}

void figures_window_show(GtkWindow *parent, const char *folder)
{
  FiguresWindow *w = g_new0(FiguresWindow, 1);
  lab_stats_make(NULL, 0, false, &w->stats);
  w->window = dialog_window_new(parent, _("Figures of the lab"), 1060, 760);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *actions = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8), *waiting = part_label("", NULL);
  w->bar = gtk_progress_bar_new();
  gtk_progress_bar_set_show_text(GTK_PROGRESS_BAR(w->bar), TRUE);
  gtk_widget_add_css_class(w->bar, "figures-bar");
  spoken_name(w->bar, _("Cases read and assessed"));
  w->stack = gtk_stack_new();
  gtk_stack_add_named(GTK_STACK(w->stack), waiting, "waiting");
  gtk_stack_add_named(GTK_STACK(w->stack), cards_build(w), "figures");
  w->note = part_label("", "note");
  gtk_widget_set_hexpand(w->note, TRUE);
  gtk_box_append(GTK_BOX(actions), w->note);
  gtk_box_append(GTK_BOX(actions), dialog_button_new(_("Close"), "quiet", NULL, NULL));
  gtk_widget_add_css_class(actions, "actions");
  gtk_box_append(GTK_BOX(box), w->bar);
  gtk_box_append(GTK_BOX(box), w->stack);
  gtk_box_append(GTK_BOX(box), actions);
  gtk_window_set_child(GTK_WINDOW(w->window), box);
  g_object_set_data_full(G_OBJECT(w->window), "figures", w, (GDestroyNotify)window_free);
  w->job = figures_job_new(folder, job_changed, w);
  gtk_window_present(GTK_WINDOW(w->window));
}
