/* section_desk.c - the neck's section as the hand shapes it: by roundness, or point by point.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm; z to the right towards the cheek, y up, from the middle of the neck.  The four outlines rule
 * the size: when a point is let go, the section is stretched to them again. */
#include "ui/arrow_key.h"
#include "ui/trace/section_desk.h"
#include "mechanics/section_shape.h"
#include "outline/knot.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_shape.h"
#include "ui/spoken.h"
#include "ui/trace/shape_desk.h"
#include "ui/words.h"

#define STEP_MM 0.05
#define FINE_MM 0.01
#define MARGIN_PX 62.0

typedef struct {
  SoffitSession *session; /* owned ref */
  GtkWidget *window, *round, *drawn, *numbers, *points, *even, *picture, *message, *figures;
  GtkWidget *spin[2];
  size_t chosen;
  Outline before; /* owned: at the begin of a drag */
  Point grip;
  Case *edit;             /* of the drag at hand */
  bool dragging, filling; /* filling: fields are set from the case */
} Desk;

static const Connector *joint(const Desk *desk)
{
  return &session_case(desk->session)->connector[session_focus(desk->session)];
}

/* What has been read of the neck; false before the first answer. */
static bool halves(const Desk *desk, NeckHalves *neck)
{
  const Assessment *a = session_assessment(desk->session);
  if (!a || session_focus(desk->session) >= a->n_connector)
    return false;
  const Form *form = &a->connector[session_focus(desk->session)].form;
  *neck = (NeckHalves){form->neck_height / 2, form->neck_buccal, form->neck_lingual};
  return neck->height > 0 && neck->buccal > 0 && neck->lingual > 0;
}

/* ---- edits ---- */

/* Puts a section into the edit at hand if ribs can follow it; the reason is told where not. */
static bool section_put(Desk *desk, Case *c, Outline *made)
{
  Point where;
  const char *reason;
  if (!section_check(made, &where, &reason)) {
    shape_tell(desk->message, _(reason));
    return false;
  }
  shape_tell(desk->message, "");
  Outline *section = &c->connector[session_focus(desk->session)].section;
  outline_clear(section);
  *section = *made;
  outline_init(made);
  session_edit_update(desk->session);
  return true;
}

/* One whole edit: a section made from the one at hand, stretched to the neck. */
static void section_edit(Desk *desk, const char *name, bool series, Outline *made)
{
  NeckHalves neck;
  Case *c = series ? session_edit_begin_series(desk->session, name)
                   : session_edit_begin(desk->session, name);
  if (!c)
    return;
  if (halves(desk, &neck) && !section_fit(made, neck, made) && section_put(desk, c, made))
    session_edit_end(desk->session);
  else
    session_edit_cancel(desk->session);
}

static void kind_chosen(GtkToggleButton *button, Desk *desk)
{
  if (desk->filling || !gtk_toggle_button_get_active(button))
    return;
  const Connector *k = joint(desk);
  NeckHalves neck;
  Outline made;
  outline_init(&made);
  desk->chosen = SIZE_MAX;
  if (GTK_WIDGET(button) == desk->round && k->section.n > 0) {
    Case *c = session_edit_begin(desk->session, N_("Section back to roundness"));
    if (c) {
      outline_clear(&c->connector[session_focus(desk->session)].section);
      session_edit_end(desk->session);
    }
  } else if (GTK_WIDGET(button) == desk->drawn && k->section.n == 0 && halves(desk, &neck) &&
             !section_from_roundness(k->roundness_neck, neck, &made))
    section_edit(desk, N_("Draw section"), false, &made);
  outline_clear(&made);
}

static void roundness_changed(GtkSpinButton *spin, Desk *desk)
{
  if (desk->filling)
    return;
  Case *c = session_edit_begin_series(desk->session, N_("Section roundness"));
  if (!c)
    return;
  Connector *k = &c->connector[session_focus(desk->session)];
  double *value = GTK_WIDGET(spin) == desk->spin[0] ? &k->roundness_neck : &k->roundness_body;
  *value = gtk_spin_button_get_value(spin);
  session_edit_end(desk->session);
}

static void even_toggled(GtkCheckButton *check, Desk *desk)
{
  NeckHalves neck;
  Outline made;
  if (desk->filling || !gtk_check_button_get_active(check) || !halves(desk, &neck))
    return;
  outline_init(&made);
  if (!section_make_even(&joint(desk)->section, neck, &made))
    section_edit(desk, N_("Section alike on both sides"), false, &made);
  outline_clear(&made);
}

static bool even_wanted(const Desk *desk)
{
  return gtk_check_button_get_active(GTK_CHECK_BUTTON(desk->even));
}

/* ---- the picture ---- */

static View view_of(const Desk *desk, NeckHalves neck, int width, int height)
{
  double scale = text_scale(desk->picture), wide = 2 * fmax(neck.buccal, neck.lingual);
  View view = {fmin((width - 2 * MARGIN_PX * scale) / wide,
                    (height - 2 * MARGIN_PX * scale) / (2 * neck.height)),
               width / 2.0, height / 2.0};
  return view;
}

static void picture_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Desk *desk = data;
  NeckHalves neck;
  char font[64];
  if (!halves(desk, &neck))
    return;
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  View view = view_of(desk, neck, width, height);
  const Connector *k = joint(desk);
  Outline round;
  outline_init(&round);
  const Outline *shown = &k->section;
  if (shown->n == 0 && !section_from_roundness(k->roundness_neck, neck, &round))
    shown = &round;
  section_picture(cr, &context, view, neck, shown, k->section.n > 0, desk->chosen);
  outline_clear(&round);
}

/* ---- the hand ---- */

static bool view_now(const Desk *desk, View *view)
{
  NeckHalves neck;
  if (!halves(desk, &neck))
    return false;
  *view = view_of(desk, neck, gtk_widget_get_width(desk->picture),
                  gtk_widget_get_height(desk->picture));
  return true;
}

static void choose(Desk *desk, size_t knot)
{
  const Outline *section = &joint(desk)->section;
  desk->chosen = knot;
  gtk_widget_queue_draw(desk->picture);
  if (knot >= section->n)
    return;
  char text[128];
  Point at = section->knot[knot].at;
  g_snprintf(text, sizeof text, _("Point %d of %d: %+.2f mm towards the cheek, %+.2f mm up"),
             (int)knot + 1, (int)section->n, at.x, at.y);
  spoken_description(desk->picture, text);
}

static void drag_begin(GtkGestureDrag *gesture, double x, double y, gpointer data)
{
  (void)gesture;
  Desk *desk = data;
  View view;
  const Outline *section = &joint(desk)->section;
  desk->dragging = false;
  gtk_widget_grab_focus(desk->picture);
  if (section->n == 0 || !view_now(desk, &view))
    return;
  Point at = view_mm(view, point(x, y));
  size_t found = knot_near(section, at, shape_reach_mm(desk->picture, view), NULL);
  choose(desk, found);
  if (found == SIZE_MAX || outline_copy(&desk->before, section) ||
      !(desk->edit = session_edit_begin(desk->session, N_("Move section point"))))
    return;
  desk->grip = point_sub(section->knot[found].at, at);
  desk->dragging = true;
}

static void drag_update(GtkGestureDrag *gesture, double dx, double dy, gpointer data)
{
  Desk *desk = data;
  double x, y;
  View view;
  Outline made;
  if (!desk->dragging || !session_editing(desk->session) || !view_now(desk, &view) ||
      !gtk_gesture_drag_get_start_point(gesture, &x, &y))
    return;
  outline_init(&made);
  Point to = point_add(view_mm(view, point(x + dx, y + dy)), desk->grip);
  if (!section_move_knot(&desk->before, desk->chosen, to, even_wanted(desk), &made))
    section_put(desk, desk->edit, &made);
  outline_clear(&made);
}

static void drag_end(GtkGestureDrag *gesture, double dx, double dy, gpointer data)
{
  (void)gesture, (void)dx, (void)dy;
  Desk *desk = data;
  NeckHalves neck;
  Outline made;
  if (!desk->dragging)
    return;
  desk->dragging = false;
  outline_init(&made);
  if (session_editing(desk->session) && halves(desk, &neck) &&
      !section_fit(&joint(desk)->section, neck, &made))
    section_put(desk, desk->edit, &made);
  outline_clear(&made);
  session_edit_end(desk->session);
  choose(desk, desk->chosen);
}

static gboolean key_pressed(GtkEventControllerKey *keys, guint key, guint code,
                            GdkModifierType state, gpointer data)
{
  (void)keys, (void)code;
  Desk *desk = data;
  const Outline *section = &joint(desk)->section;
  if (section->n == 0)
    return FALSE;
  size_t n = section->n, chosen = desk->chosen < n ? desk->chosen : SIZE_MAX;
  if (key == GDK_KEY_Page_Down || key == GDK_KEY_Page_Up) {
    bool on = key == GDK_KEY_Page_Down;
    choose(desk, chosen == SIZE_MAX ? 0 : (chosen + (on ? 1 : n - 1)) % n);
    return TRUE;
  }
  Point by;
  if (chosen == SIZE_MAX || !arrow_key(key, state & GDK_SHIFT_MASK ? FINE_MM : STEP_MM, &by))
    return FALSE;
  Outline made;
  outline_init(&made);
  if (!section_move_knot(section, chosen, point_add(section->knot[chosen].at, by),
                         even_wanted(desk), &made))
    section_edit(desk, N_("Move section point"), true, &made);
  outline_clear(&made);
  choose(desk, chosen);
  return TRUE;
}

/* ---- the window ---- */

static void desk_fill(void *data)
{
  Desk *desk = data;
  const Connector *k = joint(desk);
  bool drawn = k->section.n > 0;
  desk->filling = true;
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(drawn ? desk->drawn : desk->round), TRUE);
  gtk_widget_set_sensitive(desk->spin[0], !drawn);
  gtk_widget_set_visible(desk->points, drawn);
  gtk_spin_button_set_value(GTK_SPIN_BUTTON(desk->spin[0]), k->roundness_neck);
  gtk_spin_button_set_value(GTK_SPIN_BUTTON(desk->spin[1]), k->roundness_body);
  desk->filling = false;
  shape_figures_show(desk->figures, desk->session);
  gtk_widget_queue_draw(desk->picture);
}

static void desk_free(void *data)
{
  Desk *desk = data;
  if (desk->dragging)
    session_edit_end(desk->session);
  g_signal_handlers_disconnect_by_data(desk->session, desk);
  outline_clear(&desk->before);
  g_object_unref(desk->session);
  g_free(desk);
}

static GtkWidget *spin_build(Desk *desk, const char *name)
{
  GtkWidget *spin = gtk_spin_button_new_with_range(1.5, 8, 0.1);
  gtk_spin_button_set_digits(GTK_SPIN_BUTTON(spin), 1);
  gtk_widget_set_size_request(spin, -1, 44);
  spoken_name(spin, name);
  g_signal_connect(spin, "value-changed", G_CALLBACK(roundness_changed), desk);
  GtkWidget *label = gtk_label_new(name);
  gtk_box_append(GTK_BOX(desk->numbers), label);
  gtk_box_append(GTK_BOX(desk->numbers), spin);
  return spin;
}

static GtkWidget *kind_build(Desk *desk, GtkWidget *row, const char *name)
{
  GtkWidget *button = gtk_toggle_button_new_with_label(name);
  gtk_widget_set_size_request(button, 130, 44);
  g_signal_connect(button, "toggled", G_CALLBACK(kind_chosen), desk);
  gtk_box_append(GTK_BOX(row), button);
  return button;
}

static GtkWidget *head_build(Desk *desk)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class(row, "linked");
  desk->round = kind_build(desk, row, _("By roundness"));
  desk->drawn = kind_build(desk, row, _("Drawn"));
  gtk_toggle_button_set_group(GTK_TOGGLE_BUTTON(desk->drawn), GTK_TOGGLE_BUTTON(desk->round));
  return row;
}

static const ShapeHand hand = {picture_draw, drag_begin, drag_update, drag_end, key_pressed};

static void body_build(Desk *desk, GtkWidget *box)
{
  gtk_box_append(GTK_BOX(box), head_build(desk));
  desk->picture =
      shape_picture_new(_("Neck section: Page Up and Page Down choose a point, arrow keys move it"),
                        420, 340, &hand, desk);
  gtk_box_append(GTK_BOX(box), desk->picture);
  gtk_box_append(GTK_BOX(box), desk->figures = shape_note_new(""));
  desk->points = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6);
  desk->even = gtk_check_button_new_with_label(_("Cheek and tongue side alike"));
  gtk_widget_set_size_request(desk->even, -1, 44);
  g_signal_connect(desk->even, "toggled", G_CALLBACK(even_toggled), desk);
  gtk_box_append(GTK_BOX(desk->points), desk->even);
  gtk_box_append(GTK_BOX(desk->points),
                 shape_note_new(_(
                     "Drag a point, or choose one with Page Up and Page Down and move it with the "
                     "arrow keys (with Shift: finer). The four outlines rule the size: the section "
                     "is stretched to them.")));
  gtk_box_append(GTK_BOX(box), desk->points);
  desk->numbers = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 10);
  desk->spin[0] = spin_build(desk, _("Roundness of the neck"));
  desk->spin[1] = spin_build(desk, _("of the bodies"));
  gtk_box_append(GTK_BOX(box), desk->numbers);
  gtk_box_append(GTK_BOX(box), shape_note_new(_("2 is an oval, 4 a box with round corners.")));
  gtk_box_append(GTK_BOX(box), desk->message = shape_note_new(""));
}

void section_desk_open(GtkWindow *parent, SoffitSession *session)
{
  if (!session_has_case(session))
    return;
  Desk *desk = g_new0(Desk, 1);
  desk->session = g_object_ref(session);
  desk->chosen = SIZE_MAX;
  outline_init(&desk->before);
  GtkWidget *box;
  desk->window = shape_window_new(parent, session, _("Neck section %s"), &box);
  body_build(desk, box);
  gtk_box_append(GTK_BOX(box), shape_undo_new(session));
  DrawnSection *drawn = NULL;
  bool even = joint(desk)->section.n == 0 || (!drawn_section_new(&joint(desk)->section, &drawn) &&
                                              drawn_section_lopsided(drawn) < 0.01);
  drawn_section_free(drawn);
  desk->filling = true;
  gtk_check_button_set_active(GTK_CHECK_BUTTON(desk->even), even);
  desk->filling = false;
  shape_window_follow(desk->window, session, desk_fill, desk, desk_free);
  gtk_window_present(GTK_WINDOW(desk->window));
}
