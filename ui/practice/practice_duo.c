/* practice_duo.c - see practice_duo.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/practice/practice_duo.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_connector.h"
#include "ui/parts.h"
#include "ui/practice/practice_parts.h"
#include "ui/sign.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include "ui/wrap_row.h"

#define SIGN_PX 22
#define BELOW_PX 44
#define SHOWN                                                                                      \
  (LAYER_ALL & ~(unsigned)(LAYER_GHOST | LAYER_KNOTS | LAYER_TITLES | LAYER_COMB | LAYER_CUTTER))

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *grid, *head[2], *name[2], *sign[2], *word[2], *area[2];
} Duo;

/* The drawing at the left (0) or right: mine, or the best. */
static const Assessment *shown(Duo *self, int side, bool *best)
{
  *best = practice_desk_swapped(self->desk) != (side == 1);
  return *best ? practice_desk_best(self->desk) : practice_desk_mine(self->desk);
}

static int side_of(Duo *self, GtkWidget *area)
{
  return area == self->area[1];
}

static void area_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Duo *self = data;
  bool best;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  const Assessment *a = shown(self, side_of(self, GTK_WIDGET(area)), &best);
  size_t connector = session_focus(practice_desk_session(self->desk));
  if (!a || connector >= a->n_connector)
    return;
  ConnectorPicture picture = connector_picture(a, connector, width, height, &context);
  picture.view = connector_view_above(a, connector, width, height, BELOW_PX, &context);
  picture.layers = SHOWN;
  picture_connector(cr, width, height, &context, &picture);
}

static void side_show(Duo *self, int side)
{
  bool best;
  const Assessment *a = shown(self, side, &best);
  size_t connector = session_focus(practice_desk_session(self->desk));
  guint attempt = practice_desk_peaks(self->desk)->len;
  g_autofree char *name =
      best ? g_strdup(_("Best in this room"))
           : g_strdup_printf(_("Mine, attempt %u"), attempt > 1 ? attempt - 1 : 1);
  gtk_label_set_text(GTK_LABEL(self->name[side]), name);
  Verdict verdict =
      a && connector < a->n_connector ? a->connector[connector].verdict : VERDICT_NONE;
  sign_set(SOFFIT_SIGN(self->sign[side]), verdict);
  gtk_label_set_text(GTK_LABEL(self->word[side]),
                     verdict == VERDICT_NONE ? "" : words_translate(verdict_name(verdict)));
  g_autofree char *peak = a && connector < a->n_connector
                              ? words_number(a->connector[connector].trial_peak_mpa.value, 0)
                              : g_strdup("–");
  g_autofree char *spoken = g_strdup_printf(_("%s: %s, pulled %s MPa at the hot spot"), name,
                                            words_translate(verdict_name(verdict)), peak);
  spoken_name(self->area[side], spoken);
  gtk_widget_set_visible(self->head[side], a != NULL);
  gtk_widget_set_visible(self->area[side], a != NULL);
  gtk_widget_queue_draw(self->area[side]);
}

static void duo_show(Duo *self)
{
  side_show(self, 0);
  side_show(self, 1);
}

GtkWidget *practice_duo_new(SoffitPracticeDesk *desk)
{
  Duo *self = g_new0(Duo, 1);
  self->desk = desk;
  self->grid = gtk_grid_new(); /* a grid: the heads are as high as the higher one */
  gtk_grid_set_column_homogeneous(GTK_GRID(self->grid), TRUE);
  for (int i = 0; i < 2; i++) {
    GtkWidget *head = wrap_row_new(8, 2), *verdict = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
    self->head[i] = head;
    self->name[i] = part_label("", "title");
    self->sign[i] = sign_new(SIGN_PX);
    self->word[i] = part_label("", NULL);
    gtk_widget_set_hexpand(self->name[i], TRUE);
    gtk_widget_add_css_class(head, "practice-head");
    gtk_box_append(GTK_BOX(verdict), self->sign[i]);
    gtk_box_append(GTK_BOX(verdict), self->word[i]);
    wrap_row_append(SOFFIT_WRAP_ROW(head), self->name[i]);
    wrap_row_append(SOFFIT_WRAP_ROW(head), verdict);
    self->area[i] = gtk_drawing_area_new();
    gtk_widget_add_css_class(self->area[i], "paper");
    gtk_widget_set_focusable(self->area[i], TRUE);
    gtk_widget_set_vexpand(self->area[i], TRUE);
    gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(self->area[i]), area_draw, self, NULL);
    gtk_grid_attach(GTK_GRID(self->grid), head, i, 0, 1, 1);
    gtk_grid_attach(GTK_GRID(self->grid), self->area[i], i, 1, 1, 1);
  }
  gtk_widget_add_css_class(self->head[1], "practice-second");
  gtk_widget_add_css_class(self->area[1], "practice-second");
  g_object_set_data_full(G_OBJECT(self->grid), "duo", self, g_free);
  g_signal_connect_object(practice_desk_session(desk), "focus-changed",
                          G_CALLBACK(gtk_widget_queue_draw), self->area[0], G_CONNECT_SWAPPED);
  g_signal_connect_object(practice_desk_session(desk), "focus-changed",
                          G_CALLBACK(gtk_widget_queue_draw), self->area[1], G_CONNECT_SWAPPED);
  practice_follow(
      desk, self->grid,
      (const char *const[]){"exercise-changed", "step-changed", "work-changed", "scored", NULL},
      G_CALLBACK(duo_show), self);
  return self->grid;
}
