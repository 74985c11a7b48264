/* limits_dialog.c - thresholds of the verdict: from now on, on record, never backwards.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/dialog_window.h"
#include "ui/parts.h"
#include "ui/person_profile.h"
#include "ui/review/review_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define WIDE_CHARS 46 /* of the words below the fields */

typedef struct {
  SoffitReviewDesk *desk; /* owned ref */
  GtkWidget *window, *close, *holds, *wrong;
} Limits;

static void limits_free(void *data)
{
  Limits *self = data;
  g_object_unref(self->desk);
  g_free(self);
}

static void wrong_say(Limits *self, const char *text)
{
  gtk_label_set_text(GTK_LABEL(self->wrong), text);
  spoken_name(self->wrong, text);
  gtk_widget_set_visible(self->wrong, TRUE);
}

static void limits_set(Limits *self)
{
  const VerdictLimits limits = {
      .close_margin = gtk_spin_button_get_value(GTK_SPIN_BUTTON(self->close)),
      .holds_margin = gtk_spin_button_get_value(GTK_SPIN_BUTTON(self->holds))};
  const char *reason;
  g_autoptr(GError) error = NULL;
  if (!verdict_limits_check(&limits, &reason)) {
    wrong_say(self, _(reason));
    return;
  }
  Person by = person_profile();
  bool set = lab_desk_set_limits(review_desk_lab(self->desk), &limits, &by, &error);
  person_clear(&by);
  if (set)
    gtk_window_destroy(GTK_WINDOW(self->window));
  else
    wrong_say(self, error->message);
}

static GtkWidget *margin_field(GtkWidget *grid, int row, const char *text, double value)
{
  GtkWidget *field = gtk_spin_button_new_with_range(MARGIN_LIMIT_LEAST, MARGIN_LIMIT_MOST, 0.05),
            *label = part_label(text, NULL);
  gtk_spin_button_set_digits(GTK_SPIN_BUTTON(field), 2);
  gtk_spin_button_set_value(GTK_SPIN_BUTTON(field), value);
  spoken_name(field, text);
  gtk_label_set_wrap(GTK_LABEL(label), FALSE);
  gtk_grid_attach(GTK_GRID(grid), label, 0, row, 1, 1);
  gtk_grid_attach(GTK_GRID(grid), field, 1, row, 1, 1);
  return field;
}

/* Never narrower: GTK makes a window as high as its words would be at their narrowest. */
static GtkWidget *words_new(const char *text, const char *class_name)
{
  GtkWidget *words = part_label(text, class_name);
  gtk_label_set_width_chars(GTK_LABEL(words), WIDE_CHARS);
  gtk_label_set_max_width_chars(GTK_LABEL(words), WIDE_CHARS);
  return words;
}

/* Who set those in force, and since when. */
static char *set_by(const LabThresholds *now)
{
  g_autoptr(GDateTime) since =
      now->since_us ? g_date_time_new_from_unix_local(now->since_us / G_USEC_PER_SEC) : NULL;
  g_autofree char *day = since ? g_date_time_format(since, _("%-d %b %Y, %H:%M")) : NULL;
  return day ? g_strdup_printf(_("Set by %s, %s."), now->by, g_strstrip(day))
             : g_strdup(_("The usual ones; nobody has set others."));
}

void limits_dialog_new(GtkWindow *parent, SoffitReviewDesk *desk)
{
  const Lab *lab = lab_desk_lab(review_desk_lab(desk));
  if (!lab)
    return;
  const LabThresholds *now = lab_settings_now(lab->settings);
  Limits *self = g_new0(Limits, 1);
  self->desk = g_object_ref(desk);
  self->window = dialog_window_new(parent, _("Limits of this lab"), 0, 0);
  GtkWidget *form = gtk_box_new(GTK_ORIENTATION_VERTICAL, 12), *grid = gtk_grid_new(),
            *all = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *actions = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  g_autofree char *by = set_by(now);
  gtk_grid_set_row_spacing(GTK_GRID(grid), 8);
  gtk_grid_set_column_spacing(GTK_GRID(grid), 16);
  self->close = margin_field(grid, 0, _("rework below a margin of"), now->limits.close_margin);
  self->holds = margin_field(grid, 1, _("close below a margin of"), now->limits.holds_margin);
  self->wrong = words_new("", "wrong");
  gtk_widget_set_visible(self->wrong, FALSE); /* takes no room before there is something to say */
  gtk_box_append(GTK_BOX(form), grid);
  gtk_box_append(GTK_BOX(form), words_new(by, "note"));
  gtk_box_append(GTK_BOX(form),
                 words_new(_("They count from now on. Decisions keep those that they were "
                             "taken by; who set them, and when, stays in the lab’s folder."),
                           "note"));
  gtk_box_append(GTK_BOX(form), self->wrong);
  gtk_widget_add_css_class(form, "form");
  gtk_widget_set_vexpand(form, TRUE); /* the buttons stand at the edge */
  gtk_widget_set_halign(actions, GTK_ALIGN_FILL);
  GtkWidget *leave = dialog_button_new(_("Leave as they are"), "quiet", NULL, NULL),
            *set = part_button(_("Set from now on"), "strong", G_CALLBACK(limits_set), self);
  gtk_widget_set_hexpand(leave, TRUE);
  gtk_widget_set_halign(leave, GTK_ALIGN_END);
  gtk_box_append(GTK_BOX(actions), leave);
  gtk_box_append(GTK_BOX(actions), set);
  gtk_widget_add_css_class(actions, "actions");
  gtk_box_append(GTK_BOX(all), form);
  gtk_box_append(GTK_BOX(all), actions);
  gtk_window_set_child(GTK_WINDOW(self->window), all);
  g_object_set_data_full(G_OBJECT(self->window), "soffit-limits", self, limits_free);
  gtk_window_present(GTK_WINDOW(self->window));
}
