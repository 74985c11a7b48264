/* canvas_pin.c - see canvas_pin.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas_pin.h"
#include "ui/arrow_key.h"
#include "ui/parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define STEP_MM 0.1
#define FINE_MM 0.01
#define LARGE_MM 1.0
#define FAR_MM UNIT_SIZE_MAX_MM /* a file keeps no place beyond */

typedef struct {
  size_t connector; /* that it was taken into the hand at: no other is pinned by it */
  Point at;         /* mm */
} Pin;

static Pin *pin_of(SoffitCanvas *canvas)
{
  Pin *pin = g_object_get_data(G_OBJECT(canvas), "soffit-pin");
  return pin && session_has_case(canvas->session) &&
                 pin->connector == session_focus(canvas->session)
             ? pin
             : NULL;
}

bool canvas_pin_at(SoffitCanvas *canvas, Point *at)
{
  const Pin *pin = pin_of(canvas);
  if (pin)
    *at = pin->at;
  return pin != NULL;
}

void canvas_pin_drop(SoffitCanvas *canvas)
{
  if (pin_of(canvas))
    spoken_description(GTK_WIDGET(canvas), _("The pin is put away."));
  g_object_set_data(G_OBJECT(canvas), "soffit-pin", NULL);
  gtk_widget_queue_draw(GTK_WIDGET(canvas));
}

static void pin_to(SoffitCanvas *canvas, Point to)
{
  Pin *pin = pin_of(canvas);
  pin->at = point(CLAMP(to.x, -FAR_MM, FAR_MM), CLAMP(to.y, -FAR_MM, FAR_MM));
  g_autofree char *x = words_number(pin->at.x, 2), *y = words_number(pin->at.y, 2);
  g_autofree char *words =
      g_strdup_printf(_("Pin at x %s, y %s mm: arrows move it, Enter asks for its words"), x, y);
  spoken_description(GTK_WIDGET(canvas), words);
  gtk_widget_queue_draw(GTK_WIDGET(canvas));
}

bool canvas_pin_begin(SoffitCanvas *canvas)
{
  SoffitSession *session = canvas->session;
  const Assessment *a = session_assessment(session);
  size_t k = session_focus(session);
  if (!session_has_case(session) || pin_of(canvas))
    return false;
  const ConnectorAssessment *answer = a && k < a->n_connector ? &a->connector[k] : NULL;
  Point at = answer && answer->field ? point(answer->trial_peak.at.x, answer->trial_peak.at.y)
             : answer                ? answer->form.roof
                                     : point(0, 0);
  Pin *pin = g_new0(Pin, 1);
  pin->connector = k;
  g_object_set_data_full(G_OBJECT(canvas), "soffit-pin", pin, g_free);
  gtk_widget_grab_focus(GTK_WIDGET(canvas));
  pin_to(canvas, point_finite(at) ? at : point(0, 0));
  return true;
}

/* ---- its words ---- */

static gboolean popover_drop(void *popover)
{
  gtk_widget_unparent(popover);
  return G_SOURCE_REMOVE;
}

static void popover_closed(GtkWidget *popover, SoffitCanvas *canvas)
{
  canvas_pin_drop(canvas);
  gtk_widget_grab_focus(GTK_WIDGET(canvas));
  g_idle_add_full(G_PRIORITY_DEFAULT_IDLE, popover_drop, g_object_ref(popover), g_object_unref);
}

static void pin_said(GtkEntry *entry, SoffitCanvas *canvas)
{
  GtkWidget *popover = gtk_widget_get_ancestor(GTK_WIDGET(entry), GTK_TYPE_POPOVER),
            *wrong = g_object_get_data(G_OBJECT(entry), "wrong");
  g_autofree char *text = g_strstrip(g_strdup(gtk_editable_get_text(GTK_EDITABLE(entry))));
  g_autoptr(GError) error = NULL;
  Point at;
  if (*text && canvas_pin_at(canvas, &at) &&
      !session_remark(canvas->session, session_focus(canvas->session), at, text, &error)) {
    gtk_label_set_text(GTK_LABEL(wrong), error ? error->message : "");
    gtk_widget_set_visible(wrong, error != NULL);
    return;
  }
  gtk_popover_popdown(GTK_POPOVER(popover));
}

/* The pin is still in the hand: win.remark then asks without a place. */
static void about_bridge(GtkWidget *button)
{
  GtkWidget *popover = gtk_widget_get_ancestor(button, GTK_TYPE_POPOVER);
  gtk_widget_activate_action(button, "win.remark", NULL);
  gtk_popover_popdown(GTK_POPOVER(popover));
}

static void pin_ask(SoffitCanvas *canvas)
{
  GtkWidget *popover = gtk_popover_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6),
            *entry = gtk_entry_new(), *wrong = part_label("", "wrong");
  Point px = view_px(canvas->hand.view, pin_of(canvas)->at);
  gtk_editable_set_width_chars(GTK_EDITABLE(entry), 32);
  gtk_entry_set_placeholder_text(GTK_ENTRY(entry), _("what is to be changed here"));
  spoken_name(entry, _("Words of the remark"));
  g_object_set_data(G_OBJECT(entry), "wrong", wrong);
  gtk_widget_set_visible(wrong, FALSE);
  gtk_box_append(GTK_BOX(box), entry);
  gtk_box_append(GTK_BOX(box), wrong);
  GtkWidget *bridge = gtk_button_new_with_label(_("About the bridge…"));
  gtk_widget_add_css_class(bridge, "small");
  gtk_widget_set_halign(bridge, GTK_ALIGN_END);
  g_signal_connect(bridge, "clicked", G_CALLBACK(about_bridge), NULL);
  gtk_box_append(GTK_BOX(box), bridge);
  gtk_popover_set_child(GTK_POPOVER(popover), box);
  gtk_popover_set_position(GTK_POPOVER(popover), GTK_POS_BOTTOM);
  gtk_popover_set_pointing_to(GTK_POPOVER(popover), &(GdkRectangle){(int)px.x, (int)px.y, 1, 1});
  gtk_widget_set_parent(popover, GTK_WIDGET(canvas));
  g_signal_connect(entry, "activate", G_CALLBACK(pin_said), canvas);
  g_signal_connect(popover, "closed", G_CALLBACK(popover_closed), canvas);
  gtk_popover_popup(GTK_POPOVER(popover));
  gtk_widget_grab_focus(entry);
}

/* ---- the hand ---- */

bool canvas_pin_press(SoffitCanvas *canvas, Point at)
{
  if (!pin_of(canvas))
    return false;
  pin_to(canvas, at);
  pin_ask(canvas);
  return true;
}

bool canvas_pin_key(SoffitCanvas *canvas, guint key, GdkModifierType state)
{
  const Pin *pin = pin_of(canvas);
  double step = state & GDK_ALT_MASK ? LARGE_MM : state & GDK_SHIFT_MASK ? FINE_MM : STEP_MM;
  Point by;
  if (!pin)
    return false;
  if (arrow_key(key, step, &by))
    pin_to(canvas, point_add(pin->at, by));
  else if (key == GDK_KEY_Return || key == GDK_KEY_KP_Enter)
    pin_ask(canvas);
  else if (key == GDK_KEY_Escape)
    canvas_pin_drop(canvas);
  else
    return false;
  return true;
}
