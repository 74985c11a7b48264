/* case_break.c - where a bridge broke: a place on the sketch, by finger, mouse or keys, and what
 * was found there. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm in the frame of the connector.  Arrow keys move the place by 0.1 mm, with Shift by 0.01. */
#include "assess_break.h"
#include "ui/arrow_key.h"
#include "ui/canvas/draw_context.h"
#include "ui/case_form.h"
#include "ui/drawing/text.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define SKETCH_WIDTH 380
#define SKETCH_HEIGHT 230
#define NEAR_MM 0.8 /* a tap this close to a line is meant on it */

typedef struct {
  CaseDraft *draft; /* borrowed */
  GtkWidget *sketch, *x, *y, *zone, *neck, *said;
  View view;
} BreakPage;

static size_t shown_connector(const BreakPage *page)
{
  const Case *c = &page->draft->c;
  bool recorded = c->origin.connector < c->n_unit && c->origin.connector + 1 < c->n_unit;
  return recorded ? c->origin.connector : page->draft->connector;
}

/* What was expected, and how far off it was. */
static void said_show(BreakPage *page)
{
  const CaseDraft *draft = page->draft;
  if (!draft->answer || draft->answer->weakest >= draft->answer->n_connector) {
    gtk_label_set_text(GTK_LABEL(page->said), "");
    return;
  }
  Assessment probe = *draft->answer; /* the answer as it is, with the record as it is typed */
  probe.c.origin = draft->c.origin;
  BreakCheck check = break_check(&probe);
  const ConnectorAssessment *hot = &probe.connector[check.expected];
  g_autofree char *expected =
      g_strdup_printf(_("Soffit expected %s, %s."), hot->name,
                      words_translate(zone_name((FinishZone)hot->peak.zone)));
  g_autofree char *far = words_number(check.distance, 1);
  g_autofree char *off =
      isnan(check.distance) ? g_strdup("") : g_strdup_printf(_("%s mm from the hot spot."), far);
  const char *hit = !check.recorded       ? ""
                    : check.zone_hit      ? _("It broke there.")
                    : check.connector_hit ? _("It broke at this connector, in another place.")
                                          : _("It broke at another connector.");
  g_autofree char *text = g_strjoin(" ", expected, hit, off, NULL);
  gtk_label_set_text(GTK_LABEL(page->said), text);
}

static void sketch_speak(BreakPage *page)
{
  const BreakOrigin *origin = &page->draft->c.origin;
  g_autofree char *x = words_number(origin->at_x, 1), *y = words_number(origin->at_y, 1);
  char name[12];
  connector_name(&page->draft->c, shown_connector(page), '/', name);
  g_autofree char *text = g_strdup_printf(
      _("Sketch of %s. Start of the break at x %s, y %s mm; arrow keys move it."), name, x, y);
  spoken_name(page->sketch, text);
}

static FinishZone zone_near(const Connector *k, Point at, FinishZone otherwise)
{
  const Outline *gum = &k->side[SIDE_GINGIVAL], *groove = &k->side[SIDE_OCCLUSAL];
  if (gum->n < 2 || groove->n < 2)
    return otherwise;
  Point low = outline_at(gum, outline_nearest(gum, at, NULL)),
        high = outline_at(groove, outline_nearest(groove, at, NULL));
  if (hypot(low.x - at.x, low.y - at.y) < NEAR_MM) {
    double roof = 0;
    for (size_t i = 0; i < gum->n; i++)
      roof = fmax(roof, fabs(gum->knot[i].at.x) < 1 ? gum->knot[i].at.y : 0);
    return low.y >= 0.6 * roof ? ZONE_ROOF : ZONE_LEGS;
  }
  return hypot(high.x - at.x, high.y - at.y) < NEAR_MM ? ZONE_GROOVE : otherwise;
}

static void origin_place(BreakPage *page, double x, double y)
{
  Case *c = &page->draft->c;
  size_t connector = shown_connector(page);
  if (!connector_on_sketch(c, connector, x, y))
    return;
  c->origin.connector = connector;
  c->origin.at_x = round(100 * x) / 100;
  c->origin.at_y = round(100 * y) / 100;
  FinishZone otherwise = c->origin.zone ? (FinishZone)(c->origin.zone - 1) : ZONE_N;
  FinishZone zone = zone_near(&c->connector[connector], point(x, y), otherwise);
  gtk_spin_button_set_value(GTK_SPIN_BUTTON(page->x), c->origin.at_x);
  gtk_spin_button_set_value(GTK_SPIN_BUTTON(page->y), c->origin.at_y);
  if (zone < ZONE_N)
    gtk_drop_down_set_selected(GTK_DROP_DOWN(page->zone), (guint)zone + 1);
  gtk_drop_down_set_selected(GTK_DROP_DOWN(page->neck), (guint)connector + 1);
  gtk_widget_queue_draw(page->sketch);
  sketch_speak(page);
  said_show(page);
}

static void tapped(GtkGestureClick *gesture, int n, double px, double py, BreakPage *page)
{
  (void)gesture, (void)n;
  Point mm = view_mm(page->view, point(px, py));
  gtk_widget_grab_focus(page->sketch);
  origin_place(page, mm.x, mm.y);
}

static gboolean key_pressed(GtkEventControllerKey *keys, guint key, guint code,
                            GdkModifierType state, BreakPage *page)
{
  (void)keys, (void)code;
  const BreakOrigin *origin = &page->draft->c.origin;
  const Connector *k = &page->draft->c.connector[shown_connector(page)];
  Point by;
  if (!arrow_key(key, state & GDK_SHIFT_MASK ? 0.01 : 0.1, &by))
    return FALSE;
  if (isnan(origin->at_x) || isnan(origin->at_y)) { /* begins on the gum-side line */
    double x = isnan(origin->at_x) ? 0 : origin->at_x;
    const Outline *gum = &k->side[SIDE_GINGIVAL];
    Point roof =
        gum->n < 2 ? point(x, 0) : outline_at(gum, outline_nearest(gum, point(x, 9), NULL));
    origin_place(page, x, roof.y);
  } else
    origin_place(page, origin->at_x + by.x, origin->at_y + by.y);
  return TRUE;
}

/* ---- the picture ---- */

static void draw_hot_spot(cairo_t *cr, const DrawContext *context, const BreakPage *page, size_t i)
{
  const Assessment *a = page->draft->answer;
  if (!a || a->weakest != i || i >= a->n_connector || !a->connector[i].field)
    return;
  const Peak *peak = &a->connector[i].peak;
  Point at = view_px(page->view, point(peak->at.x, peak->at.y));
  TextStyle style = {TEXT_NOTE, true, true, COLOUR_ACCENT, ALIGN_LEFT};
  ink_use(cr, context, COLOUR_ACCENT);
  ink_width(cr, context, 2);
  ink_dash(cr, context, DASH_GHOST);
  path_circle(cr, at, 14);
  cairo_stroke(cr);
  text_draw(cr, context, style, point(at.x + 18, at.y + 16), text_word(context, N_("expected")));
}

static void sketch_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  BreakPage *page = data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  const Case *c = &page->draft->c;
  size_t i = shown_connector(page);
  if (i + 1 >= c->n_unit)
    return;
  const Connector *k = &c->connector[i];
  Neighbours around = case_neighbours(c, i);
  double high = fmax(around.height[0], around.height[1]) + 1,
         wide = around.length[0] + around.length[1];
  page->view.scale = fmin(width / wide, height / high);
  page->view.x = width / 2.0 - page->view.scale * (around.length[1] - around.length[0]) / 2;
  page->view.y = height - page->view.scale * 0.5;
  ink_use(cr, &context, COLOUR_PAPER);
  cairo_paint(cr);
  if (k->side[SIDE_GINGIVAL].n < 2 || k->side[SIDE_OCCLUSAL].n < 2)
    return;
  cairo_new_path(cr);
  path_outline_on(cr, page->view, &k->side[SIDE_GINGIVAL], false);
  path_outline_on(cr, page->view, &k->side[SIDE_OCCLUSAL], true);
  cairo_close_path(cr);
  ink_colour(cr, palette_stress(context.palette, 0));
  cairo_fill(cr);
  ink_use(cr, &context, COLOUR_INK);
  ink_width(cr, &context, 2);
  path_outline(cr, page->view, &k->side[SIDE_GINGIVAL]);
  cairo_stroke(cr);
  path_outline(cr, page->view, &k->side[SIDE_OCCLUSAL]);
  cairo_stroke(cr);
  draw_hot_spot(cr, &context, page, i);
  if (isnan(c->origin.at_x) || c->origin.connector != i)
    return;
  ink_use(cr, &context, COLOUR_REWORK);
  ink_width(cr, &context, 3);
  if (isnan(c->origin.at_y)) { /* its height is not recorded */
    double x = view_px(page->view, point(c->origin.at_x, 0)).x;
    ink_dash(cr, &context, DASH_NECK);
    draw_line(cr, point(x, 0), point(x, height));
    return;
  }
  Point at = view_px(page->view, point(c->origin.at_x, c->origin.at_y));
  draw_line(cr, point(at.x - 8, at.y - 8), point(at.x + 8, at.y + 8));
  draw_line(cr, point(at.x - 8, at.y + 8), point(at.x + 8, at.y - 8));
}

static GtkWidget *sketch_new(BreakPage *page)
{
  page->sketch = gtk_drawing_area_new();
  gtk_drawing_area_set_content_width(GTK_DRAWING_AREA(page->sketch), SKETCH_WIDTH);
  gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(page->sketch), SKETCH_HEIGHT);
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(page->sketch), sketch_draw, page, NULL);
  gtk_widget_set_focusable(page->sketch, TRUE);
  gtk_widget_set_halign(page->sketch, GTK_ALIGN_START);
  GtkGesture *tap = gtk_gesture_click_new();
  g_signal_connect(tap, "pressed", G_CALLBACK(tapped), page);
  gtk_widget_add_controller(page->sketch, GTK_EVENT_CONTROLLER(tap));
  GtkEventController *keys = gtk_event_controller_key_new();
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), page);
  gtk_widget_add_controller(page->sketch, keys);
  return page->sketch;
}

/* ---- fields ---- */

/* SIZE_MAX stands as 0, "not recorded". */
static void neck_chosen(GtkDropDown *field, GParamSpec *property, BreakPage *page)
{
  (void)property;
  page->draft->c.origin.connector = (size_t)gtk_drop_down_get_selected(field) - 1;
  gtk_widget_queue_draw(page->sketch);
  sketch_speak(page);
  said_show(page);
}

static GtkWidget *neck_field(BreakPage *page)
{
  const Case *c = &page->draft->c;
  GtkStringList *names = gtk_string_list_new(NULL);
  gtk_string_list_append(names, _("not recorded"));
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    char name[12];
    connector_name(c, i, '/', name);
    gtk_string_list_append(names, name);
  }
  page->neck = gtk_drop_down_new(G_LIST_MODEL(names), NULL);
  gtk_drop_down_set_selected(GTK_DROP_DOWN(page->neck), c->origin.connector + 1 < c->n_unit
                                                            ? (guint)c->origin.connector + 1
                                                            : 0);
  g_signal_connect(page->neck, "notify::selected", G_CALLBACK(neck_chosen), page);
  return page->neck;
}

static void place_typed(GtkWidget *field, BreakPage *page)
{
  (void)field;
  gtk_widget_queue_draw(page->sketch);
  sketch_speak(page);
  said_show(page);
}

static void zone_chosen(GtkWidget *field, GParamSpec *property, BreakPage *page)
{
  (void)property;
  place_typed(field, page);
}

static void fields_add(GtkWidget *form, BreakPage *page)
{
  BreakOrigin *origin = &page->draft->c.origin;
  const char *zone[ZONE_N + 1] = {N_("not recorded")}, *kind[ORIGIN_KINDS];
  for (int i = 0; i < ZONE_N; i++)
    zone[i + 1] = zone_name((FinishZone)i);
  for (int i = 0; i < ORIGIN_KINDS; i++)
    kind[i] = origin_kind_name((OriginKind)i);
  form_row(form, _("Broke at"), neck_field(page), "");
  page->zone = field_choice(_("Began at"), zone, ZONE_N + 1, &origin->zone);
  form_row(form, _("Began at"), page->zone, "");
  page->x = field_number(_("Place"), &origin->at_x, -15, 15, 0.1, 2);
  form_row(form, _("Place"), page->x, _("mm from the neck"));
  page->y = field_number(_("Height"), &origin->at_y, -15, 15, 0.1, 2);
  form_row(form, _("Height"), page->y, _("mm above the tissue line"));
  g_signal_connect_after(page->x, "value-changed", G_CALLBACK(place_typed), page);
  g_signal_connect_after(page->y, "value-changed", G_CALLBACK(place_typed), page);
  g_signal_connect_after(page->zone, "notify::selected", G_CALLBACK(zone_chosen), page);
  form_choice(form, _("Kind of start"), "", kind, ORIGIN_KINDS, (unsigned *)&origin->kind);
  form_number(form, _("Flaw"), _("mm deep"), &origin->depth, 0, 5, 0.01, 2);
  form_number(form, _("Load at the break"), _("N, where it is known"), &origin->load_n, 0, 5000, 10,
              0);
  form_number(form, _("In service"), _("years"), &origin->years, 0, 60, 0.5, 1);
  form_text(form, _("Seen"), _("what the broken faces show"), &origin->seen);
  form_text(form, _("Photo"), _("file beside the case, its name only"), &origin->photo);
}

GtkWidget *case_break_page(CaseDraft *draft)
{
  BreakPage *page = g_new0(BreakPage, 1);
  page->draft = draft;
  GtkWidget *form = form_new();
  g_object_set_data_full(G_OBJECT(form), "page", page, g_free);
  form_title(form, _("After a break"));
  form_wide(form, sketch_new(page));
  page->said = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(page->said), 0);
  gtk_label_set_wrap(GTK_LABEL(page->said), TRUE);
  form_wide(form, page->said);
  fields_add(form, page);
  sketch_speak(page);
  said_show(page);
  return form;
}
