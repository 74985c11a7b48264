/* case_bites.c - the bites that a bridge is judged by, besides the order's load straight down.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, degrees.  The page is filled anew when a bite or a tooth of one comes or goes, and when it is
 * shown: the units may have changed. */
#include "casefile/load_case.h"
#include "ui/case_form.h"
#include "ui/spoken.h"
#include "ui/words.h"

/* Where a bite stands, in the order of the choice; behind them the units. */
enum { AT_WORST, AT_PLACE, AT_TEETH, AT_UNIT };

static void bites_fill(CaseDraft *draft);

static LoadCase *bite_of(CaseDraft *draft, GObject *widget)
{
  return &draft->c.load_case[GPOINTER_TO_SIZE(g_object_get_data(widget, "bite"))];
}

static GtkWidget *button_of(const char *icon, const char *name, size_t bite)
{
  GtkWidget *button = gtk_button_new_from_icon_name(icon);
  gtk_widget_add_css_class(button, "plain");
  spoken_tooltip(button, name);
  spoken_name(button, name);
  g_object_set_data(G_OBJECT(button), "bite", GSIZE_TO_POINTER(bite));
  return button;
}

static void bite_add(GtkButton *button, CaseDraft *draft)
{
  (void)button;
  Case *c = &draft->c;
  if (c->n_load_case == SPAN_LOAD_CASES)
    return;
  LoadCase *bite = &c->load_case[c->n_load_case++];
  load_case_init(bite);
  bite->incline_deg = 30;
  bites_fill(draft);
  gtk_widget_grab_focus(draft->last_bite);
}

static void bite_remove(GtkButton *button, CaseDraft *draft)
{
  Case *c = &draft->c;
  size_t at = (size_t)(bite_of(draft, G_OBJECT(button)) - c->load_case);
  memmove(&c->load_case[at], &c->load_case[at + 1],
          (c->n_load_case - at - 1) * sizeof *c->load_case);
  c->n_load_case--;
  bites_fill(draft);
  gtk_widget_grab_focus(draft->add_bite);
}

static void place_chosen(GtkDropDown *field, GParamSpec *property, CaseDraft *draft)
{
  (void)property;
  const Case *c = &draft->c;
  guint chosen = gtk_drop_down_get_selected(field);
  LoadCase *bite = bite_of(draft, G_OBJECT(field));
  double length = 0;
  for (size_t i = 0; i < c->n_unit; i++)
    length += c->unit[i].length;
  bite->x = chosen == AT_PLACE ? length / 2 : NAN;
  bite->n_on = 0;
  if (chosen == AT_TEETH)
    for (size_t i = 0; i < c->n_unit; i++)
      bite->on[bite->n_on++] = (BiteShare){c->unit[i].tooth, 1};
  else if (chosen >= AT_UNIT && chosen - (guint)AT_UNIT < c->n_unit)
    bite->on[bite->n_on++] = (BiteShare){c->unit[chosen - (guint)AT_UNIT].tooth, 1};
  bites_fill(draft);
  gtk_widget_grab_focus(draft->last_bite);
}

static guint place_now(const Case *c, const LoadCase *bite)
{
  if (bite->n_on == 0)
    return (guint)(isnan(bite->x) ? AT_WORST : AT_PLACE);
  for (size_t i = 0; i < c->n_unit && bite->n_on == 1; i++)
    if (c->unit[i].tooth == bite->on[0].tooth)
      return (guint)AT_UNIT + (guint)i;
  return AT_TEETH;
}

static GtkWidget *place_field(CaseDraft *draft, size_t at)
{
  const Case *c = &draft->c;
  GtkStringList *places = gtk_string_list_new(NULL);
  gtk_string_list_append(places, _("worst place"));
  gtk_string_list_append(places, _("a place in mm"));
  gtk_string_list_append(places, _("several units"));
  for (size_t i = 0; i < c->n_unit; i++) {
    g_autofree char *on = g_strdup_printf(_("on %d"), c->unit[i].tooth);
    gtk_string_list_append(places, on);
  }
  GtkWidget *field = gtk_drop_down_new(G_LIST_MODEL(places), NULL);
  gtk_drop_down_set_selected(GTK_DROP_DOWN(field), place_now(c, &c->load_case[at]));
  g_object_set_data(G_OBJECT(field), "bite", GSIZE_TO_POINTER(at));
  g_signal_connect(field, "notify::selected", G_CALLBACK(place_chosen), draft);
  field_name(field, _("Place of the bite"));
  return field;
}

static GtkWidget *bite_row(CaseDraft *draft, size_t at)
{
  LoadCase *bite = &draft->c.load_case[at];
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *place = place_field(draft, at), *remove;
  draft->last_bite = place;
  gtk_box_append(GTK_BOX(row), place);
  if (!isnan(bite->x))
    gtk_box_append(GTK_BOX(row), field_number(_("Place, mm from the left end"), &bite->x, 0,
                                              SPAN_MAX_UNITS * UNIT_SIZE_MAX_MM, 0.5, 1));
  gtk_box_append(GTK_BOX(row), gtk_label_new(_("leaning")));
  gtk_box_append(GTK_BOX(row),
                 field_number(_("Degrees from the axis of the tooth, plus to the cheek"),
                              &bite->incline_deg, -INCLINE_MOST_DEG, INCLINE_MOST_DEG, 5, 0));
  gtk_box_append(GTK_BOX(row), gtk_label_new("°"));
  remove = button_of("list-remove-symbolic", _("Remove this bite"), at);
  g_signal_connect(remove, "clicked", G_CALLBACK(bite_remove), draft);
  gtk_box_append(GTK_BOX(row), remove);
  return row;
}

/* ---- several units ---- */

static size_t share_of(const LoadCase *bite, int tooth)
{
  size_t at = 0;
  while (at < bite->n_on && bite->on[at].tooth != tooth)
    at++;
  return at;
}

static void tooth_toggled(GtkCheckButton *box, CaseDraft *draft)
{
  LoadCase *bite = bite_of(draft, G_OBJECT(box));
  int tooth = GPOINTER_TO_INT(g_object_get_data(G_OBJECT(box), "tooth"));
  size_t at = share_of(bite, tooth);
  if (gtk_check_button_get_active(box) && at == bite->n_on && at < SPAN_MAX_UNITS)
    bite->on[bite->n_on++] = (BiteShare){tooth, 1};
  else if (!gtk_check_button_get_active(box) && at < bite->n_on && bite->n_on > 1) {
    memmove(&bite->on[at], &bite->on[at + 1], (bite->n_on - at - 1) * sizeof *bite->on);
    bite->n_on--;
  }
  bites_fill(draft);
  gtk_widget_grab_focus(draft->last_bite);
}

static void shares_rows(GtkWidget *form, CaseDraft *draft, size_t bite_at)
{
  const Case *c = &draft->c;
  LoadCase *bite = &draft->c.load_case[bite_at];
  for (size_t i = 0; i < c->n_unit; i++) {
    g_autofree char *name = g_strdup_printf("%d", c->unit[i].tooth);
    GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
    GtkWidget *box = gtk_check_button_new_with_label(name);
    size_t at = share_of(bite, c->unit[i].tooth);
    gtk_check_button_set_active(GTK_CHECK_BUTTON(box), at < bite->n_on);
    g_object_set_data(G_OBJECT(box), "bite", GSIZE_TO_POINTER(bite_at));
    g_object_set_data(G_OBJECT(box), "tooth", GINT_TO_POINTER(c->unit[i].tooth));
    g_signal_connect(box, "toggled", G_CALLBACK(tooth_toggled), draft);
    gtk_box_append(GTK_BOX(row), box);
    if (at < bite->n_on) {
      gtk_box_append(GTK_BOX(row), gtk_label_new(_("share")));
      gtk_box_append(GTK_BOX(row),
                     field_number(_("Share of the whole bite"), &bite->on[at].share, 0, 100, 1, 1));
    }
    gtk_widget_set_margin_start(row, 24);
    form_wide(form, row);
  }
}

static void bites_fill(CaseDraft *draft)
{
  GtkWidget *old = gtk_widget_get_first_child(draft->page_bites);
  if (old)
    gtk_box_remove(GTK_BOX(draft->page_bites), old);
  GtkWidget *form = form_new();
  form_title(form, _("Bites"));
  GtkWidget *note = gtk_label_new(
      _("The order’s load, straight down at its worst place, is always judged. Add how this "
        "patient bites besides: each bite presses with the order’s load; the worst one governs. "
        "Plus leans towards the cheek, minus towards the tongue."));
  gtk_label_set_wrap(GTK_LABEL(note), TRUE);
  gtk_label_set_xalign(GTK_LABEL(note), 0);
  gtk_label_set_max_width_chars(GTK_LABEL(note), 60);
  gtk_widget_add_css_class(note, "note");
  gtk_widget_add_css_class(note, "dim");
  form_wide(form, note);
  for (size_t at = 0; at < draft->c.n_load_case; at++) {
    GtkWidget *row = bite_row(draft, at);
    form_wide(form, row);
    if (place_now(&draft->c, &draft->c.load_case[at]) == AT_TEETH)
      shares_rows(form, draft, at);
  }
  GtkWidget *add = gtk_button_new_with_label(_("Add a bite"));
  gtk_widget_add_css_class(add, "quiet");
  gtk_widget_set_halign(add, GTK_ALIGN_START);
  gtk_widget_set_sensitive(add, draft->c.n_load_case < SPAN_LOAD_CASES);
  g_signal_connect(add, "clicked", G_CALLBACK(bite_add), draft);
  draft->add_bite = add;
  form_wide(form, add);
  gtk_box_append(GTK_BOX(draft->page_bites), form);
}

static void bites_shown(GtkWidget *page, CaseDraft *draft)
{
  (void)page;
  bites_fill(draft);
}

GtkWidget *case_bites_page(CaseDraft *draft)
{
  draft->page_bites = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  g_signal_connect(draft->page_bites, "map", G_CALLBACK(bites_shown), draft);
  return draft->page_bites;
}
