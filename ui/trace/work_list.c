/* work_list.c - rows of check box, act, reason, initials and time.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Rows are kept and refilled, so that the keyboard focus stays where it is.  The initials that were
 * given last are remembered while the window lives. */
#include "ui/trace/work_list.h"
#include "ui/spoken.h"
#include "ui/tab_stop.h"
#include "ui/tick_edit.h"
#include "ui/words.h"

typedef struct {
  SoffitWorkList *list; /* borrowed */
  GtkWidget *row, *check, *act, *why, *who, *initials, *warning, *more, *detail;
  char id[40];
  bool harms;  /* there is a warning */
  bool warned; /* it was given: the next tick counts */
  WorkState state;
} WorkRow;

struct _SoffitWorkList {
  GtkBox parent;
  SoffitSession *session; /* owned ref */
  GtkWidget *rows, *stop, *count;
  GPtrArray *row; /* WorkRow, owned */
  char *initials; /* owned; the last ones */
  bool showing;   /* rows are being filled: toggles are not the person's */
};

G_DEFINE_FINAL_TYPE(SoffitWorkList, work_list, GTK_TYPE_BOX)

static GtkWidget *label_new(const char *class_name)
{
  GtkWidget *label = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
  if (class_name)
    gtk_widget_add_css_class(label, class_name);
  return label;
}

/* What would harm is not ticked at the first go: the warning is shown, and has to be gone past. */
static bool row_warn(WorkRow *row)
{
  if (!row->harms || row->warned)
    return false;
  row->warned = true;
  g_autofree char *text = g_strconcat(gtk_label_get_text(GTK_LABEL(row->warning)), " ",
                                      _("Tick once more to record it all the same."), NULL);
  gtk_label_set_text(GTK_LABEL(row->warning), text);
  spoken_name(row->row, text);
  return true;
}

static void row_tick(WorkRow *row)
{
  if (row_warn(row))
    return;
  SoffitWorkList *self = row->list;
  const char *given = gtk_editable_get_text(GTK_EDITABLE(row->initials));
  g_autofree char *initials = g_strdup(*given ? given : self->initials ? self->initials : "");
  g_strstrip(initials);
  if (!initials_valid(initials)) {
    gtk_widget_add_css_class(row->initials, "error");
    spoken_tooltip(row->initials, _("Give your initials first: one to eight letters."));
    gtk_widget_grab_focus(row->initials);
    return;
  }
  gtk_widget_remove_css_class(row->initials, "error");
  g_free(self->initials);
  self->initials = g_strdup(initials);
  g_autofree char *id = g_strdup(row->id);
  tick_step(self->session, id, initials);
}

static void row_toggled(GtkCheckButton *check, WorkRow *row)
{
  SoffitWorkList *self = row->list;
  if (self->showing)
    return;
  bool active = gtk_check_button_get_active(check);
  if (active && row->state != WORK_DONE)
    row_tick(row);
  else if (!active && row->state == WORK_DONE)
    untick_step(self->session, row->id);
  self->showing = true; /* what is shown follows the record, not the click */
  gtk_check_button_set_active(check, row->state == WORK_DONE);
  self->showing = false;
}

static void initials_entered(GtkEntry *entry, WorkRow *row)
{
  (void)entry;
  row_tick(row);
}

/* Space and Enter anywhere in the row tick it. */
static void row_activated(GtkListBox *list, GtkListBoxRow *activated, SoffitWorkList *self)
{
  (void)list;
  int i = gtk_list_box_row_get_index(activated);
  if (i < 0 || (guint)i >= self->row->len)
    return;
  WorkRow *row = g_ptr_array_index(self->row, i);
  if (row->state == WORK_NOW)
    row_tick(row);
}

static void more_toggled(GtkToggleButton *button, WorkRow *row)
{
  gtk_widget_set_visible(row->detail, gtk_toggle_button_get_active(button));
}

static gboolean more_asked(GtkWidget *row, GVariant *arguments, gpointer data)
{
  (void)row, (void)arguments;
  GtkToggleButton *more = GTK_TOGGLE_BUTTON(((WorkRow *)data)->more);
  gtk_toggle_button_set_active(more, !gtk_toggle_button_get_active(more));
  return TRUE;
}

/* "Why": reason, evidence, source, cautions and what it would change, below the row. */
static void detail_add(WorkRow *row, GtkWidget *words)
{
  row->warning = label_new("warning");
  gtk_box_append(GTK_BOX(words), row->warning);
  row->detail = label_new("note");
  gtk_widget_set_visible(row->detail, FALSE);
  gtk_box_append(GTK_BOX(words), row->detail);
  row->more = gtk_toggle_button_new_with_label("?");
  gtk_widget_add_css_class(row->more, "plain");
  gtk_widget_set_valign(row->more, GTK_ALIGN_CENTER);
  spoken_tooltip(row->more, _("Why, evidence, and what it would change"));
  g_signal_connect(row->more, "toggled", G_CALLBACK(more_toggled), row);
}

static WorkRow *row_new(SoffitWorkList *self)
{
  WorkRow *row = g_new0(WorkRow, 1);
  row->list = self;
  row->check = gtk_check_button_new();
  gtk_widget_set_valign(row->check, GTK_ALIGN_CENTER);
  row->act = label_new(NULL);
  row->why = label_new("note");
  gtk_widget_add_css_class(row->why, "dim");
  GtkWidget *words = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_hexpand(words, TRUE);
  gtk_widget_set_valign(words, GTK_ALIGN_CENTER);
  gtk_box_append(GTK_BOX(words), row->act);
  gtk_box_append(GTK_BOX(words), row->why);
  detail_add(row, words);
  row->who = label_new("note");
  gtk_widget_add_css_class(row->who, "dim");
  gtk_label_set_wrap(GTK_LABEL(row->who), FALSE);
  gtk_label_set_ellipsize(GTK_LABEL(row->who), PANGO_ELLIPSIZE_END);
  row->initials = gtk_entry_new();
  gtk_entry_set_placeholder_text(GTK_ENTRY(row->initials), _("initials"));
  gtk_entry_set_max_length(GTK_ENTRY(row->initials), INITIALS_MOST);
  gtk_editable_set_width_chars(GTK_EDITABLE(row->initials), 6);
  gtk_editable_set_max_width_chars(GTK_EDITABLE(row->initials), 6);
  gtk_widget_add_css_class(row->initials, "initials");
  gtk_widget_set_valign(row->initials, GTK_ALIGN_CENTER);
  gtk_accessible_update_property(GTK_ACCESSIBLE(row->initials), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Initials"), -1);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 10);
  gtk_box_append(GTK_BOX(box), row->check);
  gtk_box_append(GTK_BOX(box), words);
  gtk_box_append(GTK_BOX(box), row->who);
  gtk_box_append(GTK_BOX(box), row->initials);
  gtk_box_append(GTK_BOX(box), row->more);
  row->row = gtk_list_box_row_new();
  gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(row->row), box);
  GtkEventController *keys = gtk_shortcut_controller_new();
  gtk_shortcut_controller_add_shortcut(
      GTK_SHORTCUT_CONTROLLER(keys),
      gtk_shortcut_new(gtk_keyval_trigger_new(GDK_KEY_F2, 0),
                       gtk_callback_action_new(more_asked, row, NULL)));
  gtk_widget_add_controller(row->row, keys);
  g_signal_connect(row->check, "toggled", G_CALLBACK(row_toggled), row);
  g_signal_connect(row->initials, "activate", G_CALLBACK(initials_entered), row);
  gtk_list_box_append(GTK_LIST_BOX(self->rows), row->row);
  return row;
}

/* "ID · 25 Nov 10:20"; a time that is no ISO 8601 is shown as it stands. */
static char *who_text(const Tick *tick)
{
  g_autoptr(GTimeZone) zone = g_time_zone_new_local();
  g_autoptr(GDateTime) time = g_date_time_new_from_iso8601(tick->time, zone);
  g_autofree char *shown =
      time ? g_date_time_format(time, _("%-d %b %H:%M")) : g_strdup(tick->time);
  return *shown ? g_strdup_printf("%s · %s", tick->initials, shown) : g_strdup(tick->initials);
}

static void class_when(GtkWidget *widget, const char *name, bool on)
{
  (on ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(widget, name);
}

static void line_add(GString *text, const char *title, const char *words)
{
  if (words && *words)
    g_string_append_printf(text, "%s%s%s%s", text->len ? "\n" : "", title ? title : "",
                           title ? ": " : "", words);
}

static char *margin_text(Banded margin)
{
  g_autofree char *value = words_number(margin.value, 2), *range = words_range(margin, 2);
  return *range ? g_strdup_printf("%s (%s)", value, range) : g_steal_pointer(&value);
}

static char *detail_text(const WorkItem *item)
{
  GString *text = g_string_new(NULL);
  line_add(text, NULL, item->reason ? words_translate(item->reason) : "");
  line_add(text, _("Evidence"), item->record ? words_translate(item->record) : "");
  if (item->treatment != TREAT_N && item->margin_after.value > 0) {
    g_autofree char *before = margin_text(item->margin_before),
                    *after = margin_text(item->margin_after);
    g_autofree char *change = g_strdup_printf(_("margin %s now, %s after"), before, after);
    g_autofree char *title = g_strdup_printf(_("Would change at %s"), item->place);
    line_add(text, title, change);
  }
  for (const char *k = item->caution ? strchr(item->caution, 'K') : NULL; k; k = strchr(k + 1, 'K'))
    if (caution_text(k[1] - '0'))
      line_add(text, NULL, words_translate(caution_text(k[1] - '0')));
  line_add(text, _("Source"), item->source ? words_translate(item->source) : "");
  return g_string_free(text, FALSE);
}

/* The warning and what is told on demand. */
static void row_show_more(WorkRow *row, const WorkItem *item, bool other)
{
  g_autofree char *harm = item->warning.text ? words_phrase(&item->warning) : g_strdup("");
  g_autofree char *warning = g_strconcat("⚠ ", harm, NULL), *detail = detail_text(item);
  bool kept = row->warned && !other && row->harms && *harm;
  row->harms = *harm != '\0';
  row->warned = kept;
  if (!kept)
    gtk_label_set_text(GTK_LABEL(row->warning), warning);
  gtk_widget_set_visible(row->warning, row->harms && item->state != WORK_DONE);
  gtk_label_set_text(GTK_LABEL(row->detail), detail);
  gtk_widget_set_visible(row->more, *detail != '\0');
  if (other)
    gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(row->more), FALSE);
  g_autofree char *name = g_strdup_printf("%s: %s", _("Why, evidence, and what it would change"),
                                          gtk_label_get_text(GTK_LABEL(row->act)));
  spoken_name(row->more, name);
}

static void row_show(WorkRow *row, const WorkItem *item)
{
  g_autofree char *act = words_phrase(&item->act), *why = words_phrase(&item->why);
  bool other = strcmp(row->id, item->id) != 0;
  g_strlcpy(row->id, item->id, sizeof row->id);
  row->state = item->state;
  if (item->state == WORK_NOW) {
    g_autofree char *bold = g_markup_printf_escaped("<b>%s</b>", act);
    gtk_label_set_markup(GTK_LABEL(row->act), bold);
  } else {
    gtk_label_set_text(GTK_LABEL(row->act), act);
  }
  gtk_label_set_text(GTK_LABEL(row->why), why);
  gtk_widget_set_visible(row->why, item->state == WORK_NOW && *why);
  g_autofree char *who = item->tick ? who_text(item->tick) : g_strdup("");
  gtk_label_set_text(GTK_LABEL(row->who), who);
  gtk_widget_set_visible(row->who, *who != '\0');
  gtk_widget_set_visible(row->initials, item->state == WORK_NOW);
  if (other)
    gtk_editable_set_text(GTK_EDITABLE(row->initials),
                          row->list->initials ? row->list->initials : "");
  gtk_check_button_set_active(GTK_CHECK_BUTTON(row->check), item->state == WORK_DONE);
  gtk_widget_set_sensitive(row->check, item->state != WORK_WAITS);
  class_when(row->row, "now", item->state == WORK_NOW);
  class_when(row->row, "waits", item->state == WORK_WAITS);
  spoken_tooltip(row->row, *why ? why : NULL);
  row_show_more(row, item, other);
  const char *state = item->state == WORK_DONE  ? _("done")
                      : item->state == WORK_NOW ? _("now")
                                                : _("waits");
  g_autofree char *spoken =
      g_strconcat(act, ", ", state, ".", *why ? " " : "", why, *who ? ", " : "", who,
                  item->warning.text ? " " : "",
                  item->warning.text ? gtk_label_get_text(GTK_LABEL(row->warning)) : "", NULL);
  spoken_name(row->row, spoken);
  spoken_name(row->check, act);
}

static void work_list_update(SoffitWorkList *self)
{
  const Assessment *assessment = session_assessment(self->session);
  guint n = assessment && assessment->worklist ? assessment->worklist->len : 0, n_done = 0;
  gtk_widget_set_visible(GTK_WIDGET(self), n > 0);
  self->showing = true;
  while (self->row->len < n)
    g_ptr_array_add(self->row, row_new(self));
  for (guint i = 0; i < self->row->len; i++) {
    WorkRow *row = g_ptr_array_index(self->row, i);
    gtk_widget_set_visible(row->row, i < n);
    if (i >= n)
      continue;
    const WorkItem *item = &g_array_index(assessment->worklist, WorkItem, i);
    row_show(row, item);
    n_done += item->state == WORK_DONE;
    if (item->state == WORK_NOW)
      tab_stop_begin_at(SOFFIT_TAB_STOP(self->stop), row->row);
  }
  self->showing = false;
  g_autofree char *count = g_strdup_printf(_("%u of %u done"), n_done, n);
  gtk_label_set_text(GTK_LABEL(self->count), count);
}

static void work_list_dispose(GObject *object)
{
  g_clear_object(&SOFFIT_WORK_LIST(object)->session);
  G_OBJECT_CLASS(work_list_parent_class)->dispose(object);
}

static void work_list_finalize(GObject *object)
{
  SoffitWorkList *self = SOFFIT_WORK_LIST(object);
  g_ptr_array_unref(self->row);
  g_free(self->initials);
  G_OBJECT_CLASS(work_list_parent_class)->finalize(object);
}

static void work_list_class_init(SoffitWorkListClass *class)
{
  G_OBJECT_CLASS(class)->dispose = work_list_dispose;
  G_OBJECT_CLASS(class)->finalize = work_list_finalize;
}

static void work_list_init(SoffitWorkList *self)
{
  self->row = g_ptr_array_new_with_free_func(g_free);
  gtk_orientable_set_orientation(GTK_ORIENTABLE(self), GTK_ORIENTATION_VERTICAL);
  gtk_widget_add_css_class(GTK_WIDGET(self), "panel");
  gtk_widget_add_css_class(GTK_WIDGET(self), "listed");
  GtkWidget *head = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_widget_add_css_class(head, "inset");
  GtkWidget *title = label_new("title");
  gtk_label_set_text(GTK_LABEL(title), _("Finishing list"));
  gtk_widget_set_hexpand(title, TRUE);
  self->count = label_new("note");
  gtk_widget_add_css_class(self->count, "dim");
  gtk_box_append(GTK_BOX(head), title);
  gtk_box_append(GTK_BOX(head), self->count);
  gtk_box_append(GTK_BOX(self), head);
  self->rows = gtk_list_box_new();
  gtk_list_box_set_selection_mode(GTK_LIST_BOX(self->rows), GTK_SELECTION_NONE);
  gtk_list_box_set_activate_on_single_click(GTK_LIST_BOX(self->rows), FALSE);
  gtk_widget_add_css_class(self->rows, "rows");
  gtk_widget_set_margin_top(self->rows, 6);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self->rows), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Finishing list"), -1);
  g_signal_connect(self->rows, "row-activated", G_CALLBACK(row_activated), self);
  self->stop = tab_stop_new(self->rows);
  gtk_box_append(GTK_BOX(self), self->stop);
}

GtkWidget *work_list_new(SoffitSession *session)
{
  SoffitWorkList *self = g_object_new(SOFFIT_TYPE_WORK_LIST, NULL);
  self->session = g_object_ref(session);
  g_signal_connect_object(session, "assessment-changed", G_CALLBACK(work_list_update), self,
                          G_CONNECT_SWAPPED);
  work_list_update(self);
  return GTK_WIDGET(self);
}
