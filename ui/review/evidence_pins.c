/* evidence_pins.c - remarks on the drawing of a case: shown, pinned, moved before they are sent.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/walk.h"
#include "ui/arrow_key.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/remark_pins.h"
#include "ui/review/evidence_picture_private.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define STEP_MM 0.1
#define FINE_MM 0.02

static const Remark *own_remark(SoffitEvidencePicture *self, guint i)
{
  const GPtrArray *own = review_desk_remarks(self->desk);
  return i < own->len ? own->pdata[i] : NULL;
}

/* The place of a remark on this sheet, moved or not; false when it belongs elsewhere. */
static bool remark_tip(SoffitEvidencePicture *self, const Remark *remark, Point *tip)
{
  bool moves = self->hand == HAND_MOVES && remark == own_remark(self, self->moved);
  *tip = view_px(self->view, moves ? self->pin : remark->at);
  return remark->connector == review_desk_connector(self->desk) && point_finite(remark->at);
}

/* The pins that stand on the picture, one after the other: the case's remarks, then those not sent
 * yet.  Settled ones and those of other connectors count, but have no pin. */
typedef struct {
  const GPtrArray *group[2];
  int k;
  guint i;
  unsigned number; /* 1 .. */
  bool waits;      /* not sent yet */
  const Remark *remark;
  Point tip; /* px */
} PinWalk;

static PinWalk pins_of(SoffitEvidencePicture *self)
{
  return (PinWalk){
      .group = {review_desk_evidence(self->desk)->c.remark, review_desk_remarks(self->desk)}};
}

static bool pin_next(SoffitEvidencePicture *self, PinWalk *pin)
{
  for (; pin->k < 2; pin->k++, pin->i = 0)
    while (pin->i < pin->group[pin->k]->len) {
      pin->remark = pin->group[pin->k]->pdata[pin->i++];
      pin->number++;
      pin->waits = pin->k == 1;
      if (remark_tip(self, pin->remark, &pin->tip) && pin->remark->settled != ANSWER_YES)
        return true;
    }
  return false;
}

void picture_pins_draw(SoffitEvidencePicture *self, cairo_t *cr, const DrawContext *context)
{
  Places places = self->taken;
  PinWalk pin = pins_of(self);
  while (pin_next(self, &pin)) {
    draw_pin(cr, context, pin.tip, pin.number, pin.waits);
    draw_pin_words(cr, context, &places, pin.tip,
                   *pin.remark->initials ? pin.remark->initials : NULL, pin.remark->text);
  }
  if (self->hand == HAND_NEW)
    draw_pin(cr, context, view_px(self->view, self->pin), pin.number + 1, true);
}

/* ---- words ---- */

/* Those that are written already: numbers go on behind them. */
static guint remarks_before(SoffitEvidencePicture *self)
{
  const Evidence *e = review_desk_evidence(self->desk);
  return e && !e->unread ? e->c.remark->len : 0;
}

void picture_name_show(SoffitEvidencePicture *self)
{
  const ConnectorAssessment *k = picture_neck(self);
  if (!k) {
    spoken_name(GTK_WIDGET(self), _("Drawing: nothing to show yet"));
    return;
  }
  g_autofree char *peak = words_number(k->peak_mpa.value, 0), *range = words_range(k->peak_mpa, 0),
                  *x = words_number(self->pin.x, self->hand == HAND_MOVES ? 2 : 1),
                  *y = words_number(self->pin.y, self->hand == HAND_MOVES ? 2 : 1);
  g_autofree char *name =
      self->hand == HAND_MOVES
          ? g_strdup_printf(_("Remark %u moves: at x %s, y %s mm on connector %s"),
                            self->moved + remarks_before(self) + 1, x, y, k->name)
      : self->hand == HAND_NEW
          ? g_strdup_printf(_("Pin at x %s, y %s mm on connector %s"), x, y, k->name)
          : g_strdup_printf(_("Connector %s at the order’s load: %s MPa (%s) at the hot spot"),
                            k->name, peak, range);
  spoken_name(GTK_WIDGET(self), name);
}

/* ---- pins ---- */

void picture_pins_drop(SoffitEvidencePicture *self)
{
  self->hand = HAND_EMPTY;
  picture_name_show(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

bool evidence_picture_leave(SoffitEvidencePicture *self)
{
  bool held = self->hand != HAND_EMPTY;
  if (held)
    picture_pins_drop(self);
  return held;
}

void picture_pins_fresh(SoffitEvidencePicture *self)
{
  if (self->hand == HAND_MOVES && !own_remark(self, self->moved))
    self->hand = HAND_EMPTY;
  picture_name_show(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

/* ---- one that is there already, and not sent yet ---- */

static void remark_take(SoffitEvidencePicture *self, guint i)
{
  self->hand = HAND_MOVES;
  self->moved = i;
  self->pin = own_remark(self, i)->at;
}

static void remark_to(SoffitEvidencePicture *self, Point at)
{
  Point least = view_mm(self->view, point(0, self->height)),
        most = view_mm(self->view, point(self->width, 0)); /* it stays on the sheet */
  self->pin = point(fmin(fmax(at.x, least.x), most.x), fmin(fmax(at.y, least.y), most.y));
  picture_name_show(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void remark_keep(SoffitEvidencePicture *self)
{
  Point at = self->pin;
  self->hand = HAND_EMPTY;
  review_desk_move(self->desk, self->moved, at); /* "draft": drawn and called anew */
}

void evidence_picture_move(SoffitEvidencePicture *self)
{
  const GPtrArray *own = review_desk_remarks(self->desk);
  if (!picture_neck(self) || !own->len)
    return;
  guint i = self->hand == HAND_MOVES && self->moved > 0 ? self->moved - 1 : own->len - 1;
  const Remark *remark = own_remark(self, i);
  if (!point_finite(remark->at))
    return;
  gtk_widget_grab_focus(GTK_WIDGET(self));
  if (remark->connector != review_desk_connector(self->desk))
    review_desk_set_connector(self->desk, remark->connector);
  remark_take(self, i);
  picture_pins_fresh(self);
}

/* The newest of one's own under the pointer; G_MAXUINT: none. */
static guint remark_under(SoffitEvidencePicture *self, Point px)
{
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  for (guint i = review_desk_remarks(self->desk)->len; i-- > 0;) {
    Point tip;
    if (remark_tip(self, own_remark(self, i), &tip) && pin_hit(&context, tip, px))
      return i;
  }
  return G_MAXUINT;
}

static bool pins_reachable(SoffitEvidencePicture *self)
{
  return picture_answer(self) && self->sheet &&
         !(self->comparing && evidence_picture_can_compare(self));
}

static void drag_begin(GtkGestureDrag *drag, double x, double y, SoffitEvidencePicture *self)
{
  guint i =
      pins_reachable(self) && self->hand != HAND_NEW ? remark_under(self, point(x, y)) : G_MAXUINT;
  if (i == G_MAXUINT) {
    gtk_gesture_set_state(GTK_GESTURE(drag), GTK_EVENT_SEQUENCE_DENIED);
    return;
  }
  remark_take(self, i);
  Point tip = view_px(self->view, self->pin);
  self->grabbed = point(x - tip.x, y - tip.y);
  gtk_widget_grab_focus(GTK_WIDGET(self));
}

static void drag_update(GtkGestureDrag *drag, double dx, double dy, SoffitEvidencePicture *self)
{
  double x, y;
  if (self->hand == HAND_MOVES && gtk_gesture_drag_get_start_point(drag, &x, &y))
    remark_to(self, view_mm(self->view, point(x + dx - self->grabbed.x, y + dy - self->grabbed.y)));
}

static void drag_end(GtkGestureDrag *drag, double dx, double dy, SoffitEvidencePicture *self)
{
  (void)drag;
  if (self->hand == HAND_MOVES && (fabs(dx) > 0 || fabs(dy) > 0))
    remark_keep(self);
  else if (self->hand == HAND_MOVES)
    picture_pins_drop(self);
}

/* ---- a new one ---- */

static const Outline *gum_line(SoffitEvidencePicture *self)
{
  return &picture_answer(self)->c.connector[review_desk_connector(self->desk)].side[SIDE_GINGIVAL];
}

static void pin_to(SoffitEvidencePicture *self, double t)
{
  self->pin_t = t;
  self->pin = outline_at(gum_line(self), t);
  self->hand = HAND_NEW;
  picture_name_show(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

void evidence_picture_pin(SoffitEvidencePicture *self)
{
  const ConnectorAssessment *k = picture_neck(self);
  if (!k)
    return;
  Point at = k->field ? point(k->peak.at.x, k->peak.at.y) : k->form.roof;
  gtk_widget_grab_focus(GTK_WIDGET(self));
  review_desk_set_connector(self->desk, review_desk_connector(self->desk)); /* it stays */
  pin_to(self, point_finite(at) ? outline_nearest(gum_line(self), at, NULL)
                                : (double)outline_pieces(gum_line(self)) / 2);
}

/* The next landmark of the line in this direction. */
static void pin_jump(SoffitEvidencePicture *self, int by)
{
  const ConnectorAssessment *k = picture_neck(self);
  Landmark mark[LANDMARK_N];
  Point hot = k->field ? point(k->peak.at.x, k->peak.at.y) : point(NAN, NAN);
  size_t n = walk_landmarks(gum_line(self), &k->form, hot, mark);
  for (size_t i = 0; i < n; i++) {
    double t = mark[by > 0 ? i : n - 1 - i].t;
    if (by * (t - self->pin_t) > WALK_SAME_MM) {
      pin_to(self, t);
      return;
    }
  }
}

static void pin_ask(SoffitEvidencePicture *self)
{
  Point p = view_px(self->view, self->pin);
  GdkRectangle at = {(int)p.x, (int)p.y, 1, 1};
  gtk_popover_set_pointing_to(GTK_POPOVER(self->popover), &at);
  gtk_editable_set_text(GTK_EDITABLE(self->entry), "");
  gtk_popover_popup(GTK_POPOVER(self->popover));
  gtk_widget_grab_focus(self->entry);
}

static void pin_said(SoffitEvidencePicture *self)
{
  g_autofree char *text = g_strdup(gtk_editable_get_text(GTK_EDITABLE(self->entry)));
  gtk_popover_popdown(GTK_POPOVER(self->popover));
  if (*g_strstrip(text))
    review_desk_pin(self->desk, review_desk_connector(self->desk), self->pin, text);
  picture_pins_drop(self);
  gtk_widget_grab_focus(GTK_WIDGET(self));
}

static gboolean key_pressed(GtkEventControllerKey *controller, guint key, guint code,
                            GdkModifierType state, SoffitEvidencePicture *self)
{
  (void)controller, (void)code;
  Point by;
  if (self->hand == HAND_EMPTY || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)))
    return FALSE;
  if (key == GDK_KEY_Return || key == GDK_KEY_KP_Enter) {
    if (self->hand == HAND_NEW)
      pin_ask(self);
    else
      remark_keep(self);
    return TRUE;
  }
  if (key == GDK_KEY_Escape)
    return evidence_picture_leave(self);
  if (!arrow_key(key, state & GDK_SHIFT_MASK ? FINE_MM : STEP_MM, &by))
    return FALSE;
  double to;
  if (self->hand == HAND_MOVES)
    remark_to(self, point(self->pin.x + by.x, self->pin.y + by.y));
  else if (by.y > 0 || by.y < 0)
    pin_jump(self, by.y > 0 ? 1 : -1);
  else if (walk_step(gum_line(self), self->pin_t, by.x, &to) == FAULT_NONE)
    pin_to(self, to);
  return TRUE;
}

static void pressed(GtkGestureClick *click, int n, double x, double y, SoffitEvidencePicture *self)
{
  (void)click, (void)n;
  bool begun = self->hand == HAND_NEW;
  gtk_widget_grab_focus(GTK_WIDGET(self));
  if (!pins_reachable(self) || (!begun && remark_under(self, point(x, y)) != G_MAXUINT))
    return;
  self->pin = view_mm(self->view, point(x, y));
  if (!begun && n < 2) /* a click alone takes the focus; pointing is N, or a double click */
    return;
  self->pin_t = outline_nearest(gum_line(self), self->pin, NULL);
  self->hand = HAND_NEW;
  pin_ask(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

/* A pin tells its words under the pointer, also where there was no room to write them. */
static gboolean tip_asked(SoffitEvidencePicture *self, int x, int y, gboolean keyboard,
                          GtkTooltip *tooltip)
{
  (void)keyboard;
  if (!picture_answer(self) || !self->sheet)
    return FALSE;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  for (PinWalk pin = pins_of(self); pin_next(self, &pin);)
    if (pin_hit(&context, pin.tip, point(x, y))) {
      g_autofree char *words = pin_words(pin.number, pin.remark->initials, pin.remark->text);
      gtk_tooltip_set_text(tooltip, words);
      return TRUE;
    }
  return FALSE;
}

/* ---- building ---- */

void picture_pins_init(SoffitEvidencePicture *self)
{
  GtkEventController *keys = gtk_event_controller_key_new();
  GtkGesture *click = gtk_gesture_click_new(), *drag = gtk_gesture_drag_new();
  gtk_widget_set_has_tooltip(GTK_WIDGET(self), TRUE);
  g_signal_connect(self, "query-tooltip", G_CALLBACK(tip_asked), NULL);
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), self);
  g_signal_connect(click, "pressed", G_CALLBACK(pressed), self);
  g_signal_connect(drag, "drag-begin", G_CALLBACK(drag_begin), self);
  g_signal_connect(drag, "drag-update", G_CALLBACK(drag_update), self);
  g_signal_connect(drag, "drag-end", G_CALLBACK(drag_end), self);
  gtk_widget_add_controller(GTK_WIDGET(self), keys);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(click));
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(drag));
  self->popover = gtk_popover_new();
  self->entry = gtk_entry_new();
  gtk_editable_set_width_chars(GTK_EDITABLE(self->entry), 32);
  gtk_entry_set_placeholder_text(GTK_ENTRY(self->entry), _("what is to be changed here"));
  spoken_name(self->entry, _("Words of the remark"));
  g_signal_connect_swapped(self->entry, "activate", G_CALLBACK(pin_said), self);
  gtk_popover_set_child(GTK_POPOVER(self->popover), self->entry);
  gtk_popover_set_position(GTK_POPOVER(self->popover), GTK_POS_BOTTOM);
  gtk_widget_set_parent(self->popover, GTK_WIDGET(self));
}
