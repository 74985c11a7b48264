/* bars_record.c - where a bar broke: tapped on its picture, kept in the lines of its set.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm from the middle of the span and above the stretched edge.  Arrow keys move the place by 0.1
 * mm, with Shift by 0.01.  Every change is written into the text of the set; Ctrl+Z takes the last
 * one back. */
#include "assess_break.h"
#include "casefile/save.h"
#include "ui/arrow_key.h"
#include "ui/bars/bars_parts.h"
#include "ui/canvas/draw_context.h"
#include "ui/case_form.h"
#include "ui/dialog_window.h"
#include "ui/drawing/picture_bar_break.h"
#include "ui/file_choice.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define STEP_MM 0.1
#define FINE_MM 0.01

/* A text before and after a change. */
typedef struct {
  int set;
  char *before, *after;
} Change;

typedef struct {
  SoffitBarsDesk *desk; /* owned ref */
  GtkWidget *box, *picture, *which, *number, *about, *x, *y, *kind, *photo, *notched, *said, *total;
  GtkWidget *fields, *save;      /* all that need a bar; in them */
  GtkFileChooserNative *chooser; /* owned while it is open */
  GPtrArray *change;             /* Change, owned */
  BarOrigin origin;              /* of the bar, as it stands on its line */
  Bar bar;
  guint line; /* of the bar; 0 = there is none */
  bool filling;
  bool refused; /* what stands in the fields could not be kept: it stays to be mended */
} RecordView;

static void change_free(void *data)
{
  Change *change = data;
  g_free(change->before);
  g_free(change->after);
  g_free(change);
}

static int chosen_set(const RecordView *view)
{
  return gtk_drop_down_get_selected(GTK_DROP_DOWN(view->which)) == 1;
}

static guint chosen_row(const RecordView *view)
{
  return (guint)gtk_spin_button_get_value_as_int(GTK_SPIN_BUTTON(view->number)) - 1;
}

static bool is_disc(const RecordView *view)
{
  return bars_desk_input(view->desk)->test == BAR_DISC;
}

/* ---- what is said ---- */

static char *found_text(const BarBreak *b)
{
  g_autofree char *mpa = words_number(b->largest_mpa, 0), *apart = words_number(b->distance, 1),
                  *share = words_number(100 * b->share, 0),
                  *least = words_number(100 * b->least_share, 0);
  const char *hit = b->hit ? _("It began there.") : _("It began in another place.");
  if (b->at_notch)
    return g_strdup_printf(_("Largest pull expected: root of the notch, %s MPa. %s %s mm apart."),
                           mpa, hit, apart);
  return g_strdup_printf(
      _("Largest pull expected: stretched edge, %s MPa. %s %s mm apart; the pull "
        "there is %s %% of the largest, nine of ten begin above %s %%."),
      mpa, hit, apart, share, least);
}

static void said_show(RecordView *view)
{
  const BarsRecords *records = bars_desk_records(view->desk, chosen_set(view));
  const BarsTable *table = bars_desk_table(view->desk, chosen_set(view));
  guint row = chosen_row(view);
  bool known = records && records->found && table && row < table->row->len &&
               bars_desk_settled(view->desk) && records->found[row].largest_mpa > 0;
  g_autofree char *text = known ? found_text(&records->found[row]) : NULL;
  const char *none = !view->line     ? _("Type or open bars first; then choose the one that broke.")
                     : is_disc(view) ? _("The place is compared for bars, not for discs.")
                     : isnan(view->origin.x) || isnan(view->origin.y)
                         ? _("Tap the place where the break began.")
                         : "";
  gtk_label_set_text(GTK_LABEL(view->said), known ? text : none);
  size_t hits = records ? records->hits : 0, placed = records ? records->placed : 0;
  Banded share = hit_share_percent(hits, placed);
  g_autofree char *value = words_number(share.value, 0), *range = words_range(share, 0),
                  *total = placed ? g_strdup_printf(_("This set: %zu of %zu began where expected, "
                                                      "%s %% (%s; Wilson, 90 in 100)."),
                                                    hits, placed, value, range)
                                  : g_strdup("");
  gtk_label_set_text(GTK_LABEL(view->total), total);
  gtk_widget_set_visible(view->total, placed > 0);
  g_autofree char *x = words_number(view->origin.x, 2), *y = words_number(view->origin.y, 2),
                  *name =
                      g_strdup_printf(_("Picture of the bar. Start of the break at x %s, height "
                                        "%s mm; arrow keys move it."),
                                      x, y);
  spoken_name(view->picture, name);
}

/* ---- keeping ---- */

static void text_put(RecordView *view, int set, const char *text)
{
  bars_desk_set_text(view->desk, set, text);
  gtk_widget_queue_draw(view->picture);
}

static void record_keep(RecordView *view)
{
  const BarsInput *in = bars_desk_input(view->desk);
  BarSetup setup = bars_desk_setup(view->desk);
  int set = chosen_set(view);
  if (view->filling || !view->line)
    return;
  g_autoptr(GError) error = NULL;
  Change *change = g_new0(Change, 1);
  change->set = set;
  change->before = g_strdup(in->set[set].text);
  change->after = bar_origin_write(change->before, &view->line, &setup, in->width, in->thickness,
                                   &view->origin, &error);
  view->refused = !change->after;
  if (!change->after) {
    gtk_label_set_text(GTK_LABEL(view->said), error->message + strspn(error->message, ": "));
    change_free(change);
    return;
  }
  text_put(view, set, change->after);
  g_ptr_array_add(view->change, change);
  said_show(view);
}

static bool change_undo(RecordView *view)
{
  if (!view->change->len)
    return false;
  g_autofree Change *change = g_ptr_array_steal_index(view->change, view->change->len - 1);
  bool as_left = g_strcmp0(bars_desk_input(view->desk)->set[change->set].text, change->after) == 0;
  if (as_left)
    text_put(view, change->set, change->before);
  g_free(change->before);
  g_free(change->after);
  return as_left;
}

/* ---- the bar at hand ---- */

static void fields_fill(RecordView *view)
{
  view->filling = true;
  const BarOrigin *o = &view->origin;
  double x = o->x, y = o->y; /* the fields write into the record */
  GtkWidget *const field[2] = {view->x, view->y};
  for (int i = 0; i < 2; i++) {
    char text[G_ASCII_DTOSTR_BUF_SIZE] = ""; /* as it is typed, no typographic minus */
    if (!isnan(i ? y : x))
      g_ascii_formatd(text, sizeof text, "%.2f", i ? y : x);
    gtk_editable_set_text(GTK_EDITABLE(field[i]), text);
    gtk_spin_button_update(GTK_SPIN_BUTTON(field[i]));
  }
  view->origin.x = x;
  view->origin.y = y;
  gtk_drop_down_set_selected(GTK_DROP_DOWN(view->kind), o->kind);
  if (g_strcmp0(gtk_editable_get_text(GTK_EDITABLE(view->photo)), o->photo) != 0)
    gtk_editable_set_text(GTK_EDITABLE(view->photo), o->photo);
  gtk_check_button_set_active(GTK_CHECK_BUTTON(view->notched), o->notched);
  view->filling = false;
}

static void bar_show(RecordView *view)
{
  const BarsTable *table = bars_desk_table(view->desk, chosen_set(view));
  BarSetup setup = bars_desk_setup(view->desk);
  guint n = table ? table->row->len : 0;
  view->filling = true;
  gtk_spin_button_set_range(GTK_SPIN_BUTTON(view->number), 1, MAX(n, 1));
  view->filling = false;
  guint row = chosen_row(view);
  view->line = 0;
  view->origin = BAR_ORIGIN_NONE;
  if (row < n) {
    const BarsRow *at = &g_array_index(table->row, BarsRow, row);
    if (!bar_origin_read(table, row, &setup, &view->origin, NULL)) /* told beside the lines */
      view->origin = BAR_ORIGIN_NONE;
    view->line = at->line;
    view->bar = at->bar;
  }
  g_autofree char *force = words_number(view->bar.force_n, 0),
                  *about = row < n
                               ? g_strdup_printf(_("of %u, line %u: %s N"), n, view->line, force)
                               : g_strdup("");
  gtk_label_set_text(GTK_LABEL(view->about), about);
  gtk_widget_set_sensitive(view->fields, row < n);
  fields_fill(view);
  said_show(view);
  gtk_widget_queue_draw(view->picture);
}

static void bar_chosen(RecordView *view)
{
  if (view->filling)
    return;
  view->refused = false;
  bar_show(view);
}

static void answer_changed(RecordView *view)
{
  if (bars_desk_settled(view->desk) && !view->refused)
    bar_show(view);
}

/* ---- the place ---- */

static void place_take(RecordView *view, double x, double y)
{
  if (!view->line || is_disc(view))
    return;
  double half = bars_desk_input(view->desk)->span / 2;
  view->origin.x = round(100 * CLAMP(x, -half, half)) / 100;
  view->origin.y = round(100 * CLAMP(y, 0, view->bar.thickness)) / 100;
  fields_fill(view);
  record_keep(view);
}

static NotchPicture picture_of(const RecordView *view, BarSetup *setup, NotchedBar *bar)
{
  const BarOrigin *o = &view->origin;
  *setup = bars_desk_setup(view->desk);
  *bar = o->notched ? o->notch : (NotchedBar){view->bar.thickness, view->bar.width, 0, 0.06, 40};
  return (NotchPicture){.setup = setup,
                        .bar = bar,
                        .place = o->notched ? o->notch_x : 0,
                        .reference_mpa = bar_strength(setup, &view->bar),
                        .limit_mpa = bars_desk_limit(view->desk)};
}

static void picture_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  RecordView *view = data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  BarSetup setup;
  NotchedBar bar;
  if (!view->line || is_disc(view))
    return;
  NotchPicture picture = picture_of(view, &setup, &bar);
  picture_bar_break(cr, width, height, &context, &picture, point(view->origin.x, view->origin.y));
}

static void tapped(GtkGestureClick *gesture, int n, double px, double py, RecordView *view)
{
  (void)gesture, (void)n;
  char font[64];
  DrawContext context = draw_context_for(view->picture, font);
  BarSetup setup;
  NotchedBar bar;
  gtk_widget_grab_focus(view->picture);
  if (!view->line || is_disc(view))
    return;
  NotchPicture picture = picture_of(view, &setup, &bar);
  Point mm = view_mm(notch_view(gtk_widget_get_width(view->picture),
                                gtk_widget_get_height(view->picture), &context, &picture),
                     point(px, py));
  place_take(view, mm.x, mm.y);
}

static gboolean picture_key(GtkEventControllerKey *keys, guint key, guint code,
                            GdkModifierType state, RecordView *view)
{
  (void)keys, (void)code;
  Point by;
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) ||
      !arrow_key(key, state & GDK_SHIFT_MASK ? FINE_MM : STEP_MM, &by))
    return FALSE;
  const BarOrigin *o = &view->origin;
  if (isnan(o->x) || isnan(o->y)) /* begins in the middle of the stretched edge */
    place_take(view, 0, 0);
  else
    place_take(view, o->x + by.x, o->y + by.y);
  return TRUE;
}

static gboolean undo_key(GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state,
                         RecordView *view)
{
  (void)keys, (void)code;
  return key == GDK_KEY_z && (state & GDK_CONTROL_MASK) && change_undo(view);
}

/* ---- fields ---- */

static void number_typed(RecordView *view)
{
  gtk_widget_queue_draw(view->picture);
  record_keep(view);
}

static void photo_typed(GtkEditable *field, RecordView *view)
{
  if (view->filling)
    return;
  g_strlcpy(view->origin.photo, gtk_editable_get_text(field), sizeof view->origin.photo);
  record_keep(view);
}

/* The notch that the other page shows. */
static void notched_toggled(GtkCheckButton *field, RecordView *view)
{
  if (view->filling)
    return;
  const BarsInput *in = bars_desk_input(view->desk);
  view->origin.notched = gtk_check_button_get_active(field) && in->notch.depth > 0;
  view->origin.notch = in->notch;
  view->origin.notch.height = view->bar.thickness;
  view->origin.notch.width = view->bar.width;
  view->origin.notch_x = in->place;
  record_keep(view);
}

/* ---- the table on disk ---- */

static void save_chosen(GtkNativeDialog *native, int response, RecordView *view)
{
  (void)native;
  g_autofree char *path = file_choice_done(&view->chooser, response);
  if (!path)
    return;
  const char *text = bars_desk_input(view->desk)->set[chosen_set(view)].text;
  g_autoptr(GError) error = NULL;
  bool saved = file_save(path, text, strlen(text), &error);
  gtk_label_set_text(GTK_LABEL(view->said), saved ? _("The set is saved.") : error->message);
}

static void save_asked(GtkButton *button, RecordView *view)
{
  GtkRoot *root = gtk_widget_get_root(GTK_WIDGET(button));
  GtkFileChooserNative *chooser = file_choice_new(
      &view->chooser, GTK_WINDOW(root), _("Save the set"), GTK_FILE_CHOOSER_ACTION_SAVE, _("Save"));
  if (!chooser)
    return;
  g_autofree char *name = g_strconcat(bars_desk_name(view->desk, chosen_set(view)), ".csv", NULL);
  gtk_file_chooser_set_current_name(GTK_FILE_CHOOSER(chooser), g_strdelimit(name, "/", '-'));
  g_signal_connect(chooser, "response", G_CALLBACK(save_chosen), view);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

static GtkWidget *chooser_build(RecordView *view)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  const char *const set[] = {_("first set"), _("second set"), NULL};
  view->which = gtk_drop_down_new_from_strings(set);
  field_name(view->which, _("set of the bar"));
  view->number = gtk_spin_button_new_with_range(1, 1, 1);
  gtk_editable_set_width_chars(GTK_EDITABLE(view->number), 4);
  gtk_editable_set_max_width_chars(GTK_EDITABLE(view->number), 4);
  field_name(view->number, _("bar of the set"));
  view->about = gtk_label_new(NULL);
  gtk_widget_add_css_class(view->about, "note");
  g_signal_connect_swapped(view->which, "notify::selected", G_CALLBACK(bar_chosen), view);
  g_signal_connect_swapped(view->number, "value-changed", G_CALLBACK(bar_chosen), view);
  gtk_box_append(GTK_BOX(row), view->which);
  gtk_box_append(GTK_BOX(row), gtk_label_new(_("bar")));
  gtk_box_append(GTK_BOX(row), view->number);
  gtk_label_set_xalign(GTK_LABEL(view->about), 0);
  gtk_label_set_ellipsize(GTK_LABEL(view->about), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand(view->about, TRUE);
  gtk_box_append(GTK_BOX(row), view->about);
  return row;
}

static void field_append(GtkWidget *row, const char *name, GtkWidget *field)
{
  GtkWidget *label = gtk_label_new(name);
  gtk_widget_add_css_class(label, "note");
  gtk_box_append(GTK_BOX(row), label);
  gtk_box_append(GTK_BOX(row), field);
}

static GtkWidget *fields_build(RecordView *view)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4),
            *place = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *found = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *last = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  const char *kind[ORIGIN_KINDS];
  for (int i = 0; i < ORIGIN_KINDS; i++)
    kind[i] = origin_kind_name((OriginKind)i);
  view->x = field_number(_("Start of the break: place, mm from the middle"), &view->origin.x, -50,
                         50, STEP_MM, 2);
  view->y = field_number(_("Start of the break: height, mm above the stretched edge"),
                         &view->origin.y, 0, 20, STEP_MM, 2);
  view->kind = field_choice(_("Kind of start"), kind, ORIGIN_KINDS, (unsigned *)&view->origin.kind);
  view->photo = gtk_entry_new();
  gtk_entry_set_max_length(GTK_ENTRY(view->photo), (int)sizeof view->origin.photo - 1);
  gtk_widget_set_hexpand(view->photo, TRUE);
  gtk_editable_set_width_chars(GTK_EDITABLE(view->photo), 5);
  field_name(view->photo, _("Photo, file beside the table"));
  view->notched = gtk_check_button_new_with_label(_("notched as on the other page"));
  g_signal_connect_swapped(view->x, "value-changed", G_CALLBACK(number_typed), view);
  g_signal_connect_swapped(view->y, "value-changed", G_CALLBACK(number_typed), view);
  g_signal_connect_swapped(view->kind, "notify::selected", G_CALLBACK(record_keep), view);
  g_signal_connect(view->photo, "changed", G_CALLBACK(photo_typed), view);
  g_signal_connect(view->notched, "toggled", G_CALLBACK(notched_toggled), view);
  gtk_widget_set_hexpand(view->notched, TRUE);
  view->save = dialog_button_new(_("Save the set…"), "quiet", G_CALLBACK(save_asked), view);
  field_append(place, _("place, mm"), view->x);
  field_append(place, _("height, mm"), view->y);
  field_append(found, _("kind"), view->kind);
  field_append(found, _("photo"), view->photo);
  gtk_box_append(GTK_BOX(box), place);
  gtk_box_append(GTK_BOX(box), found);
  gtk_box_append(GTK_BOX(last), view->notched);
  gtk_box_append(GTK_BOX(last), view->save);
  gtk_box_append(GTK_BOX(box), last);
  view->fields = box;
  return box;
}

static GtkWidget *said_new(void)
{
  GtkWidget *label = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_width_chars(GTK_LABEL(label), 40); /* the column keeps its width */
  gtk_label_set_max_width_chars(GTK_LABEL(label), 40);
  gtk_widget_add_css_class(label, "note");
  return label;
}

static void record_gone(RecordView *view)
{
  g_signal_handlers_disconnect_by_data(view->desk, view);
  g_clear_object(&view->chooser);
  g_object_unref(view->desk);
  g_ptr_array_unref(view->change);
  g_free(view);
}

GtkWidget *bars_record_new(SoffitBarsDesk *desk, int picture_px)
{
  RecordView *view = g_new0(RecordView, 1);
  view->desk = g_object_ref(desk);
  view->origin = BAR_ORIGIN_NONE;
  view->change = g_ptr_array_new_with_free_func(change_free);
  view->box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  view->picture = gtk_drawing_area_new();
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(view->picture), picture_draw, view, NULL);
  gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(view->picture), picture_px);
  gtk_widget_set_focusable(view->picture, TRUE);
  GtkGesture *tap = gtk_gesture_click_new();
  g_signal_connect(tap, "pressed", G_CALLBACK(tapped), view);
  gtk_widget_add_controller(view->picture, GTK_EVENT_CONTROLLER(tap));
  GtkEventController *keys = gtk_event_controller_key_new(), *undo = gtk_event_controller_key_new();
  g_signal_connect(keys, "key-pressed", G_CALLBACK(picture_key), view);
  gtk_widget_add_controller(view->picture, keys);
  g_signal_connect(undo, "key-pressed", G_CALLBACK(undo_key), view);
  gtk_widget_add_controller(view->box, undo);
  view->said = said_new();
  view->total = said_new();
  gtk_box_append(GTK_BOX(view->box), chooser_build(view));
  gtk_box_append(GTK_BOX(view->box), view->picture);
  gtk_box_append(GTK_BOX(view->box), view->said);
  gtk_box_append(GTK_BOX(view->box), view->total);
  gtk_box_append(GTK_BOX(view->box), fields_build(view));
  g_signal_connect_swapped(desk, "answer-changed", G_CALLBACK(answer_changed), view);
  g_object_set_data_full(G_OBJECT(view->box), "view", view, (GDestroyNotify)record_gone);
  bar_show(view);
  return view->box;
}
