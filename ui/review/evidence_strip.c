/* evidence_strip.c - the case, its whole bridge at the order's load, the necks at a glance.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_span.h"
#include "ui/drawing/remark_pins.h"
#include "ui/parts.h"
#include "ui/review/evidence_words.h"
#include "ui/review/review_parts.h"
#include "ui/review/row_words.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define SIDE_WIDTH 150
#define GLANCES 5 /* necks that are told */
#define NAMES_PX 18
#define BRIDGE_LEAST 160

typedef struct {
  SoffitReviewDesk *desk; /* owned ref */
  GtkWidget *fold, *number, *span, *facts, *picture, *glance, *list;
} Strip;

static const Evidence *with_answer(Strip *self)
{
  const Evidence *e = review_desk_evidence(self->desk);
  return e && e->a ? e : NULL;
}

static SpanPicture picture_of(const Evidence *e, size_t chosen)
{
  SpanPicture picture = span_picture(e->a);
  picture.at_order = true;
  picture.handle = false;
  picture.doors = false;
  picture.door_width = 60;
  picture.below = NAMES_PX;
  picture.chosen = chosen;
  picture.flat = e->flat;
  return picture;
}

static void strip_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Strip *self = data;
  const Evidence *e = with_answer(self);
  if (!e)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  size_t chosen = review_desk_connector(self->desk);
  SpanPicture picture = picture_of(e, chosen);
  SpanGeometry g = span_geometry(&picture, width, height, &context);
  picture_span(cr, width, height, &context, &picture);
  for (size_t i = 0; i < e->a->n_connector; i++) {
    TextStyle style = {TEXT_NOTE, i == chosen, false, COLOUR_TEXT, ALIGN_CENTRE};
    text_draw(cr, &context, style, point(g.door_x[i], g.door_y + px(&context, 12)),
              e->a->connector[i].name);
  }
}

/* "35/36 carries 137 N (126–152)", the weakest first. */
static void glance_show(Strip *self)
{
  const Evidence *e = with_answer(self);
  g_autoptr(GString) all = g_string_new(NULL);
  size_t order[SPAN_MAX_UNITS];
  size_t n = e ? e->a->n_connector : 0;
  for (size_t i = 0; i < n; i++) {
    size_t k = i;
    for (; k > 0 &&
           e->a->connector[order[k - 1]].carries_n.value > e->a->connector[i].carries_n.value;
         k--)
      order[k] = order[k - 1];
    order[k] = i;
  }
  for (size_t i = 0; i < MIN(n, GLANCES); i++) {
    const ConnectorAssessment *k = &e->a->connector[order[i]];
    g_autofree char *value = words_number(k->carries_n.value, 0),
                    *range = words_range(k->carries_n, 0);
    if (all->len)
      g_string_append_c(all, '\n');
    if (k->fault)
      g_string_append_printf(all, "%s: %s", k->name, _(fault_text(k->fault)));
    else
      g_string_append_printf(all, _("%s carries %s N (%s)"), k->name, value, range);
  }
  gtk_label_set_text(GTK_LABEL(self->glance), all->str);
}

static void strip_show(Strip *self)
{
  const Evidence *e = review_desk_evidence(self->desk);
  const LabRow *row = review_desk_row(self->desk);
  g_autofree char *number = row ? row_words_case(row) : g_strdup(""),
                  *span = row ? row_words_span(row) : g_strdup(""),
                  *facts = e && !e->unread ? evidence_words_facts(e) : g_strdup(""),
                  *list = e && e->a ? evidence_words_list(e) : g_strdup("");
  gtk_label_set_text(GTK_LABEL(self->number), number);
  gtk_label_set_text(GTK_LABEL(self->span), span);
  gtk_label_set_text(GTK_LABEL(self->facts), facts);
  gtk_label_set_text(GTK_LABEL(self->list), list);
  spoken_tooltip(self->list, list);
  glance_show(self);
  g_autofree char *spoken = g_strdup_printf(_("Whole bridge of %s at the order’s load. %s"), number,
                                            gtk_label_get_text(GTK_LABEL(self->glance)));
  spoken_name(self->picture, spoken);
  gtk_widget_queue_draw(self->picture);
}

static void strip_pressed(GtkGestureClick *click, int n, double x, double y, Strip *self)
{
  (void)click, (void)n;
  const Evidence *e = with_answer(self);
  if (!e)
    return;
  char font[64];
  DrawContext context = draw_context_for(self->picture, font);
  SpanPicture picture = picture_of(e, SIZE_MAX);
  SpanGeometry g = span_geometry(&picture, gtk_widget_get_width(self->picture),
                                 gtk_widget_get_height(self->picture), &context);
  size_t neck = span_geometry_neck(&g, point(x, y));
  if (neck != SIZE_MAX)
    review_desk_set_connector(self->desk, neck);
}

static GtkWidget *side_new(GtkAlign align)
{
  GtkWidget *side = gtk_box_new(GTK_ORIENTATION_VERTICAL, 3);
  gtk_widget_set_size_request(side, SIDE_WIDTH, -1);
  gtk_widget_set_halign(side, align);
  gtk_widget_set_valign(side, GTK_ALIGN_START);
  gtk_widget_add_css_class(side, "evidence-side");
  return side;
}

void evidence_strip_set_folded(GtkWidget *strip, bool folded)
{
  Strip *self = g_object_get_data(G_OBJECT(strip), "soffit-evidence-strip");
  const char *words = folded ? _("Show the queue (F9)") : _("Put the queue away (F9)");
  gtk_button_set_label(GTK_BUTTON(self->fold), folded ? "›" : "‹");
  spoken_tooltip(self->fold, words);
  spoken_name(self->fold, words);
}

static void strip_free(void *data)
{
  Strip *self = data;
  g_signal_handlers_disconnect_by_data(self->desk, self);
  g_object_unref(self->desk);
  g_free(self);
}

static GtkWidget *cut(GtkWidget *label, int lines)
{
  gtk_label_set_lines(GTK_LABEL(label), lines);
  gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
  return label;
}

GtkWidget *evidence_strip_new(SoffitReviewDesk *desk)
{
  Strip *self = g_new0(Strip, 1);
  self->desk = g_object_ref(desk);
  GtkWidget *strip = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0), *left = side_new(GTK_ALIGN_FILL),
            *right = side_new(GTK_ALIGN_FILL), *head = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  self->number = part_label("", "case-number");
  self->span = cut(part_label("", "dim"), 1);
  self->facts = part_label("", "note");
  self->glance = part_label("", "note");
  self->list = cut(part_label("", "note"), 3);
  gtk_label_set_wrap(GTK_LABEL(self->glance), FALSE);
  gtk_label_set_ellipsize(GTK_LABEL(self->glance), PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars(GTK_LABEL(self->facts), 25); /* the bridge takes the rest */
  gtk_label_set_max_width_chars(GTK_LABEL(self->list), 27);
  gtk_label_set_justify(GTK_LABEL(self->glance), GTK_JUSTIFY_RIGHT);
  gtk_label_set_justify(GTK_LABEL(self->list), GTK_JUSTIFY_RIGHT);
  gtk_label_set_xalign(GTK_LABEL(self->glance), 1);
  gtk_label_set_xalign(GTK_LABEL(self->list), 1);
  gtk_widget_add_css_class(self->list, "dim");
  gtk_label_set_wrap(GTK_LABEL(self->number), FALSE);
  self->fold = gtk_button_new();
  gtk_actionable_set_action_name(GTK_ACTIONABLE(self->fold), "review.fold");
  gtk_widget_add_css_class(self->fold, "small");
  gtk_widget_add_css_class(self->fold, "fold");
  gtk_widget_set_valign(self->fold, GTK_ALIGN_CENTER);
  gtk_box_append(GTK_BOX(head), self->fold);
  gtk_box_append(GTK_BOX(head), self->number);
  gtk_box_append(GTK_BOX(head), self->span);
  gtk_box_append(GTK_BOX(left), head);
  gtk_box_append(GTK_BOX(left), self->facts);
  GtkWidget *title = part_label(_("Evidence at a glance"), "title");
  gtk_label_set_xalign(GTK_LABEL(title), 1);
  gtk_label_set_wrap(GTK_LABEL(title), FALSE);
  gtk_box_append(GTK_BOX(right), title);
  gtk_box_append(GTK_BOX(right), self->glance);
  gtk_box_append(GTK_BOX(right), self->list);
  self->picture = gtk_drawing_area_new();
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(self->picture), strip_draw, self, NULL);
  gtk_widget_set_hexpand(self->picture, TRUE);
  gtk_widget_set_size_request(self->picture, BRIDGE_LEAST, -1); /* words are cut first */
  GtkGesture *click = gtk_gesture_click_new();
  g_signal_connect(click, "pressed", G_CALLBACK(strip_pressed), self);
  gtk_widget_add_controller(self->picture, GTK_EVENT_CONTROLLER(click));
  gtk_box_append(GTK_BOX(strip), left);
  gtk_box_append(GTK_BOX(strip), self->picture);
  gtk_box_append(GTK_BOX(strip), right);
  gtk_widget_add_css_class(strip, "strip");
  g_object_set_data_full(G_OBJECT(strip), "soffit-evidence-strip", self, strip_free);
  g_signal_connect_swapped(desk, "selected", G_CALLBACK(strip_show), self);
  g_signal_connect_swapped(desk, "evidence", G_CALLBACK(strip_show), self);
  strip_show(self);
  return strip;
}
