/* plan_desk.c - see plan_desk.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm; x to the right, z up towards the cheek.  What a change does: ui/plan_edit.c. */
#include "ui/arrow_key.h"
#include "ui/trace/plan_desk.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/picture_plan.h"
#include "ui/drawing/picture_shape.h"
#include "ui/plan_edit.h"
#include "ui/size_rows.h"
#include "ui/spoken.h"
#include "ui/trace/shape_desk.h"
#include "ui/words.h"

#define STEP_MM 0.1
#define FINE_MM 0.01
#define WIDTH 900
#define HEIGHT 620
#define COLUMN 260

typedef struct {
  SoffitSession *session; /* owned ref */
  PlanHand hand;
  GtkWidget *picture, *place, *figures, *alike, *propose, *remove, *turn, *message;
  Point grip;
  View view;              /* of the last picture; stays while a point is dragged */
  int width, height;      /* that it was for */
  Palette palette;        /* and the shade */
  cairo_surface_t *shade; /* owned; NULL: to be made of the latest answer */
  size_t connector;       /* shown last */
  bool filling;           /* widgets are set from the case */
} Desk;

static const ConnectorAssessment *answer_of(const Desk *desk)
{
  const Assessment *a = session_assessment(desk->session);
  size_t connector = session_focus(desk->session);
  return a && connector < a->n_connector ? &a->connector[connector] : NULL;
}

static void shade_drop(Desk *desk)
{
  g_clear_pointer(&desk->shade, cairo_surface_destroy);
}

/* ---- what is shown ---- */

static void desk_fill(void *data)
{
  Desk *desk = data;
  PlanHand *hand = &desk->hand;
  if (session_focus(desk->session) != desk->connector) {
    desk->connector = session_focus(desk->session);
    hand->knot = SIZE_MAX;
    shade_drop(desk);
    plan_look(hand);
  }
  g_autofree char *place = plan_place_words(hand);
  gtk_label_set_text(GTK_LABEL(desk->place), place ? place : _("No point chosen"));
  spoken_description(desk->picture, place ? place : _("No point chosen"));
  shape_figures_show(desk->figures, desk->session);
  shape_tell(desk->message, hand->trouble ? hand->trouble : "");
  desk->filling = true;
  gtk_check_button_set_active(GTK_CHECK_BUTTON(desk->alike), hand->alike);
  desk->filling = false;
  shape_able(desk->propose, plan_drawn(hand));
  shape_able(desk->remove, plan_chosen(hand));
  shape_able(desk->turn, plan_chosen(hand));
  gtk_widget_queue_draw(desk->picture);
}

/* The case changed by another way than the hand's: undone, or its width typed.  What a drag ran
 * into stays said when it ends. */
static void state_changed(Desk *desk)
{
  if (!desk->hand.dragging)
    plan_look(&desk->hand);
  desk_fill(desk);
}

static void answer_changed(Desk *desk)
{
  shade_drop(desk);
}

/* The shade of the latest answer in the view at hand. */
static void shade_make(Desk *desk, const DrawContext *context)
{
  const ConnectorAssessment *answer = answer_of(desk);
  Shaded *shaded = NULL;
  if (desk->shade || !answer || !answer->field ||
      shaded_new(answer->field, SHEET_GUM_SIDE, answer->trial, &shaded))
    return;
  desk->shade = plan_shade(desk->width, desk->height, context, desk->view, shaded,
                           connector_limit(answer, false));
  shaded_free(shaded);
}

static bool view_same(View a, View b)
{
  return a.scale == b.scale && a.x == b.x && a.y == b.y;
}

static void picture_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Desk *desk = data;
  const PlanHand *hand = &desk->hand;
  const Case *c = session_case(desk->session);
  size_t connector = session_focus(desk->session);
  char font[64];
  if (connector + 1 >= c->n_unit)
    return;
  const Connector *k = &c->connector[connector];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  View view = hand->dragging ? desk->view : plan_shape_view(width, height, &context, k);
  if (!view_same(view, desk->view) || width != desk->width || height != desk->height ||
      context.palette != desk->palette)
    shade_drop(desk);
  desk->view = view;
  desk->width = width;
  desk->height = height;
  desk->palette = context.palette;
  shade_make(desk, &context);
  const ConnectorAssessment *answer = answer_of(desk);
  Form form;
  bool neck = !form_neck_read(&k->side[SIDE_GINGIVAL], &k->side[SIDE_OCCLUSAL],
                              &k->side[SIDE_BUCCAL], &k->side[SIDE_LINGUAL], &form, NULL);
  PlanShape plan = {
      .drawn = k,
      .shade = desk->shade,
      .late = session_following(desk->session),
      .unshaded = answer && answer->field && !desk->shade,
      .neck_x = neck ? form.neck_x : NAN,
      .neck_width = neck ? form.neck_width : NAN,
      .tooth = {c->unit[connector].tooth, c->unit[connector + 1].tooth},
      .knot = {hand->side == SIDE_BUCCAL ? hand->knot : SIZE_MAX,
               hand->side == SIDE_LINGUAL ? hand->knot : SIZE_MAX},
      .trouble_x = hand->trouble ? hand->trouble_at.x : NAN,
  };
  plan_shape_picture(cr, width, height, &context, view, &plan);
}

/* ---- the hand ---- */

static void press(GtkGestureDrag *gesture, double x, double y, gpointer data)
{
  (void)gesture;
  Desk *desk = data;
  Point at = view_mm(desk->view, point(x, y));
  gtk_widget_grab_focus(desk->picture);
  if (plan_choose_at(&desk->hand, at, shape_reach_mm(desk->picture, desk->view))) {
    desk->grip = point_sub(plan_line(&desk->hand, desk->hand.side)->knot[desk->hand.knot].at, at);
    plan_drag_begin(&desk->hand);
  }
  desk_fill(desk);
}

static void drag(GtkGestureDrag *gesture, double dx, double dy, gpointer data)
{
  Desk *desk = data;
  double x, y;
  if (!gtk_gesture_drag_get_start_point(gesture, &x, &y))
    return;
  plan_drag_to(&desk->hand, point_add(view_mm(desk->view, point(x + dx, y + dy)), desk->grip));
  desk_fill(desk);
}

static void release(GtkGestureDrag *gesture, double dx, double dy, gpointer data)
{
  (void)gesture, (void)dx, (void)dy;
  Desk *desk = data;
  plan_drag_end(&desk->hand);
  desk_fill(desk);
}

/* The line touched twice where there is no point: a new one. */
static void pressed_twice(GtkGestureClick *gesture, int times, double x, double y, Desk *desk)
{
  (void)gesture;
  if (times != 2 || plan_chosen(&desk->hand))
    return;
  plan_add_at(&desk->hand, view_mm(desk->view, point(x, y)),
              shape_reach_mm(desk->picture, desk->view));
  desk_fill(desk);
}

static void add(Desk *desk)
{
  if (!plan_chosen(&desk->hand))
    plan_choose_next(&desk->hand, 1);
  plan_add(&desk->hand);
  desk_fill(desk);
}

static void drop(Desk *desk)
{
  plan_remove(&desk->hand);
  desk_fill(desk);
}

static void turn(Desk *desk)
{
  plan_turn(&desk->hand);
  desk_fill(desk);
}

static void propose(Desk *desk)
{
  plan_propose(&desk->hand);
  desk_fill(desk);
}

static void alike_toggled(GtkCheckButton *check, Desk *desk)
{
  if (desk->filling)
    return;
  plan_set_alike(&desk->hand, gtk_check_button_get_active(check));
  desk_fill(desk);
}

static gboolean key_pressed(GtkEventControllerKey *keys, guint key, guint code,
                            GdkModifierType state, gpointer data)
{
  (void)keys, (void)code;
  Desk *desk = data;
  Point by;
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  if (arrow_key(key, state & GDK_SHIFT_MASK ? FINE_MM : STEP_MM, &by)) {
    if (!plan_chosen(&desk->hand))
      return FALSE;
    plan_nudge(&desk->hand, by);
    desk_fill(desk);
    return TRUE;
  }
  switch (key) {
  case GDK_KEY_Page_Down:
  case GDK_KEY_Page_Up:
    plan_choose_next(&desk->hand, key == GDK_KEY_Page_Down ? 1 : -1);
    desk_fill(desk);
    return TRUE;
  case GDK_KEY_a:
  case GDK_KEY_Insert:
    add(desk);
    return TRUE;
  case GDK_KEY_Delete:
  case GDK_KEY_BackSpace:
    drop(desk);
    return TRUE;
  case GDK_KEY_t:
    turn(desk);
    return TRUE;
  default:
    return FALSE;
  }
}

/* ---- the window ---- */

static GtkWidget *button_add(Desk *desk, GtkWidget *box, const char *text, void (*clicked)(Desk *))
{
  GtkWidget *button = gtk_button_new_with_label(text);
  gtk_widget_add_css_class(button, "quiet");
  g_signal_connect_swapped(button, "clicked", G_CALLBACK(clicked), desk);
  gtk_widget_set_size_request(button, -1, 44);
  gtk_box_append(GTK_BOX(box), button);
  return button;
}

static GtkWidget *picture_build(Desk *desk)
{
  static const ShapeHand hand = {picture_draw, press, drag, release, key_pressed};
  GtkWidget *picture = desk->picture =
      shape_picture_new(_("From the gum side: Page Up and Page Down choose a point, arrow keys "
                          "move it, A adds, Delete removes, T turns smooth and sharp"),
                        420, 420, &hand, desk);
  gtk_widget_set_hexpand(picture, TRUE);
  GtkGesture *twice = gtk_gesture_click_new();
  g_signal_connect(twice, "pressed", G_CALLBACK(pressed_twice), desk);
  gtk_widget_add_controller(picture, GTK_EVENT_CONTROLLER(twice));
  return picture;
}

static void alike_build(Desk *desk, GtkWidget *column)
{
  desk->alike = gtk_check_button_new_with_label(_("Cheek and tongue side alike"));
  spoken_tooltip(desk->alike, _("The other side is the image of the one whose point is chosen"));
  gtk_widget_set_size_request(desk->alike, -1, 44);
  g_signal_connect(desk->alike, "toggled", G_CALLBACK(alike_toggled), desk);
  gtk_box_append(GTK_BOX(column), desk->alike);
}

static GtkWidget *column_build(Desk *desk)
{
  static const SizeKind width[] = {SIZE_NECK_WIDTH};
  GtkWidget *column = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_set_size_request(column, COLUMN, -1);
  gtk_widget_set_hexpand(column, FALSE); /* the picture takes what is left */
  gtk_box_append(GTK_BOX(column), desk->figures = shape_note_new(""));
  gtk_box_append(GTK_BOX(column), size_rows_new(desk->session, width, G_N_ELEMENTS(width)));
  alike_build(desk, column);
  gtk_box_append(GTK_BOX(column), desk->place = shape_note_new(""));
  button_add(desk, column, _("Add point"), add);
  desk->remove = button_add(desk, column, _("Remove point"), drop);
  desk->turn = button_add(desk, column, _("Smooth or sharp"), turn);
  desk->propose = button_add(desk, column, _("Propose again"), propose);
  spoken_tooltip(desk->propose, _("Soffit draws both outlines again from the sizes of the teeth"));
  gtk_box_append(GTK_BOX(column),
                 shape_note_new(_("Drag a point, or choose one with Page Up and Page Down and move "
                                  "it with the arrow keys (0.1 mm, with Shift 0.01 mm). Touch the "
                                  "line twice, or press A, for a new point.")));
  return column;
}

static void body_build(Desk *desk, GtkWidget *box)
{
  GtkWidget *both = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 16),
            *below = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 16);
  gtk_box_append(GTK_BOX(both), picture_build(desk));
  gtk_box_append(GTK_BOX(both), column_build(desk));
  desk->message = shape_note_new("");
  gtk_widget_set_hexpand(desk->message, TRUE);
  gtk_box_append(GTK_BOX(below), desk->message);
  gtk_box_append(GTK_BOX(below), shape_undo_new(desk->session));
  gtk_box_append(GTK_BOX(box), both);
  gtk_box_append(GTK_BOX(box), below);
}

static void desk_free(void *data)
{
  Desk *desk = data;
  g_signal_handlers_disconnect_by_data(desk->session, desk);
  plan_hand_clear(&desk->hand);
  shade_drop(desk);
  g_object_unref(desk->session);
  g_free(desk);
}

void plan_desk_open(GtkWindow *parent, SoffitSession *session)
{
  if (!session_has_case(session))
    return;
  Desk *desk = g_new0(Desk, 1);
  GtkWidget *box, *window;
  desk->session = g_object_ref(session);
  desk->connector = session_focus(session);
  plan_hand_init(&desk->hand, session);
  window = shape_window_new(parent, session, _("Gum side %s"), &box);
  gtk_window_set_default_size(GTK_WINDOW(window), WIDTH, HEIGHT);
  body_build(desk, box);
  g_signal_connect_swapped(session, "assessment-changed", G_CALLBACK(answer_changed), desk);
  shape_window_follow(window, session, desk_fill, desk, desk_free);
  g_signal_connect_swapped(session, "state-changed", G_CALLBACK(state_changed), desk);
  gtk_window_present(GTK_WINDOW(window));
  gtk_widget_grab_focus(desk->picture);
}
