/* case_units.c - the table of the units: tooth, role, sizes, support; add and remove at the ends or
 * between. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Connectors keep their outlines when units come or go beside them. */
#include "ui/case_form.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define TEETH 16 /* of one jaw */
#define LEAST_UNITS 2

/* Both jaws from the right end to the left one, as seen from the front: ISO 3950. */
static const int tooth_row[2][TEETH] = {
    {18, 17, 16, 15, 14, 13, 12, 11, 21, 22, 23, 24, 25, 26, 27, 28},
    {48, 47, 46, 45, 44, 43, 42, 41, 31, 32, 33, 34, 35, 36, 37, 38},
};

static void units_fill(CaseDraft *draft);

static int tooth_place(int tooth, int *jaw)
{
  *jaw = tooth_upper(tooth) ? 0 : 1;
  for (int i = 0; i < TEETH; i++)
    if (tooth_row[*jaw][i] == tooth)
      return i;
  return 0;
}

/* The tooth that follows after the end of the bridge; at the end of the jaw the last one again. */
static int tooth_after(const Case *c, bool right)
{
  int jaw, other_jaw;
  int first = tooth_place(c->unit[0].tooth, &other_jaw),
      last = tooth_place(c->unit[c->n_unit - 1].tooth, &jaw);
  int step = last >= first ? 1 : -1;
  int next = right ? last + step : first - step;
  return tooth_row[right ? jaw : other_jaw][CLAMP(next, 0, TEETH - 1)];
}

static void unit_set(Unit *unit, int tooth, UnitRole role)
{
  *unit = (Unit){.tooth = tooth, .role = role, .support = SUPPORT_MID};
  if (tooth_mean_size(tooth, &unit->length, &unit->width, &unit->height) != FAULT_NONE)
    unit->length = unit->width = unit->height = 8;
}

void case_units_propose(Case *c)
{
  unit_set(&c->unit[0], 45, ROLE_ABUTMENT);
  unit_set(&c->unit[1], 46, ROLE_PONTIC);
  unit_set(&c->unit[2], 47, ROLE_ABUTMENT);
  c->n_unit = 3;
}

static void unit_add(CaseDraft *draft, bool right)
{
  Case *c = &draft->c;
  if (c->n_unit >= SPAN_MAX_UNITS)
    return;
  int tooth = tooth_after(c, right);
  size_t n_joint = c->n_unit - 1, at = right ? c->n_unit : 0;
  if (!right) {
    memmove(&c->unit[1], &c->unit[0], c->n_unit * sizeof *c->unit);
    connector_clear(&c->connector[n_joint]);
    memmove(&c->connector[1], &c->connector[0], n_joint * sizeof *c->connector);
    connector_init(&c->connector[0]);
    c->origin.connector += c->origin.connector != SIZE_MAX;
  }
  unit_set(&c->unit[at], tooth, ROLE_ABUTMENT);
  c->n_unit++;
  units_fill(draft);
}

static void unit_add_left(GtkButton *button, CaseDraft *draft)
{
  (void)button;
  unit_add(draft, false);
}

static void unit_add_right(GtkButton *button, CaseDraft *draft)
{
  (void)button;
  unit_add(draft, true);
}

static void unit_remove(GtkButton *button, CaseDraft *draft)
{
  Case *c = &draft->c;
  size_t at = GPOINTER_TO_SIZE(g_object_get_data(G_OBJECT(button), "unit"));
  if (c->n_unit <= LEAST_UNITS || at >= c->n_unit)
    return;
  size_t n_joint = c->n_unit - 1, joint = MIN(at, n_joint - 1);
  memmove(&c->unit[at], &c->unit[at + 1], (c->n_unit - at - 1) * sizeof *c->unit);
  connector_clear(&c->connector[joint]);
  memmove(&c->connector[joint], &c->connector[joint + 1],
          (n_joint - joint - 1) * sizeof *c->connector);
  connector_init(&c->connector[n_joint - 1]);
  if (c->origin.connector == joint)
    c->origin.connector = SIZE_MAX;
  else if (c->origin.connector != SIZE_MAX && c->origin.connector > joint)
    c->origin.connector--;
  c->n_unit--;
  draft->connector = MIN(draft->connector, c->n_unit - 2);
  units_fill(draft);
}

static void tooth_chosen(GtkDropDown *field, GParamSpec *property, CaseDraft *draft)
{
  (void)property;
  size_t at = GPOINTER_TO_SIZE(g_object_get_data(G_OBJECT(field), "unit"));
  guint chosen = gtk_drop_down_get_selected(field);
  if (chosen >= 2 * TEETH)
    return;
  Unit *unit = &draft->c.unit[at];
  unit->tooth = tooth_row[chosen / TEETH][chosen % TEETH];
  if (tooth_mean_size(unit->tooth, &unit->length, &unit->width, &unit->height) == FAULT_NONE)
    units_fill(draft); /* sizes of the other tooth */
}

static GtkWidget *tooth_field(CaseDraft *draft, size_t at)
{
  GtkStringList *teeth = gtk_string_list_new(NULL);
  for (int i = 0; i < 2 * TEETH; i++) {
    g_autofree char *number = g_strdup_printf("%d", tooth_row[i / TEETH][i % TEETH]);
    gtk_string_list_append(teeth, number);
  }
  GtkWidget *field = gtk_drop_down_new(G_LIST_MODEL(teeth), NULL);
  int jaw, place = tooth_place(draft->c.unit[at].tooth, &jaw);
  gtk_drop_down_set_selected(GTK_DROP_DOWN(field), (guint)(jaw * TEETH + place));
  g_object_set_data(G_OBJECT(field), "unit", GSIZE_TO_POINTER(at));
  g_signal_connect(field, "notify::selected", G_CALLBACK(tooth_chosen), draft);
  field_name(field, _("Tooth"));
  return field;
}

static void unit_row(CaseDraft *draft, GtkWidget *table, size_t at)
{
  static const char *const role[ROLE_N] = {N_("abutment"), N_("implant"), N_("pontic"),
                                           N_("hanging")};
  static const char *const support[] = {N_("middle firm"), N_("soft"), N_("stiff"),
                                        N_("own values")};
  Unit *unit = &draft->c.unit[at];
  int row = (int)at + 1;
  GtkGrid *grid = GTK_GRID(table);
  gtk_grid_attach(grid, tooth_field(draft, at), 0, row, 1, 1);
  gtk_grid_attach(grid, field_choice(_("Role"), role, ROLE_N, (unsigned *)&unit->role), 1, row, 1,
                  1);
  gtk_grid_attach(grid, field_number(_("Length along the arch, mm"), &unit->length, 2, 25, 0.1, 1),
                  2, row, 1, 1);
  gtk_grid_attach(grid, field_number(_("Cheek to tongue, mm"), &unit->width, 2, 25, 0.1, 1), 3, row,
                  1, 1);
  gtk_grid_attach(grid, field_number(_("Crown height, mm"), &unit->height, 2, 25, 0.1, 1), 4, row,
                  1, 1);
  guint n_support = unit->support == SUPPORT_OWN ? 4 : 3; /* own values come from a file */
  gtk_grid_attach(grid, field_choice(_("Support"), support, n_support, (unsigned *)&unit->support),
                  5, row, 1, 1);
  GtkWidget *remove = gtk_button_new_from_icon_name("list-remove-symbolic");
  g_autofree char *name = g_strdup_printf(_("Remove unit %d"), unit->tooth);
  gtk_widget_add_css_class(remove, "plain");
  spoken_tooltip(remove, name);
  gtk_accessible_update_property(GTK_ACCESSIBLE(remove), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_widget_set_sensitive(remove, draft->c.n_unit > LEAST_UNITS);
  g_object_set_data(G_OBJECT(remove), "unit", GSIZE_TO_POINTER(at));
  g_signal_connect(remove, "clicked", G_CALLBACK(unit_remove), draft);
  gtk_grid_attach(grid, remove, 6, row, 1, 1);
}

static void units_fill(CaseDraft *draft)
{
  static const char *const head[] = {N_("Tooth"), N_("Role"),   N_("Length"),
                                     N_("Width"), N_("Height"), N_("Support")};
  GtkWidget *old = gtk_widget_get_first_child(draft->page_units);
  if (old)
    gtk_box_remove(GTK_BOX(draft->page_units), old);
  GtkWidget *table = gtk_grid_new();
  gtk_grid_set_column_spacing(GTK_GRID(table), 8);
  gtk_grid_set_row_spacing(GTK_GRID(table), 6);
  for (int i = 0; i < (int)G_N_ELEMENTS(head); i++) {
    GtkWidget *label = gtk_label_new(_(head[i]));
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_widget_add_css_class(label, "note");
    gtk_widget_add_css_class(label, "dim");
    gtk_grid_attach(GTK_GRID(table), label, i, 0, 1, 1);
  }
  for (size_t at = 0; at < draft->c.n_unit; at++)
    unit_row(draft, table, at);
  gtk_box_prepend(GTK_BOX(draft->page_units), table);
}

GtkWidget *case_units_page(CaseDraft *draft)
{
  draft->page_units = gtk_box_new(GTK_ORIENTATION_VERTICAL, 12);
  gtk_widget_add_css_class(draft->page_units, "form");
  GtkWidget *buttons = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *left = gtk_button_new_with_label(_("Add a unit at the left"));
  GtkWidget *right = gtk_button_new_with_label(_("Add a unit at the right"));
  gtk_widget_add_css_class(left, "quiet");
  gtk_widget_add_css_class(right, "quiet");
  g_signal_connect(left, "clicked", G_CALLBACK(unit_add_left), draft);
  g_signal_connect(right, "clicked", G_CALLBACK(unit_add_right), draft);
  gtk_box_append(GTK_BOX(buttons), left);
  gtk_box_append(GTK_BOX(buttons), right);
  GtkWidget *note = gtk_label_new(
      _("Sizes in mm after firing, proposed from mean teeth: change what you have measured."));
  gtk_label_set_xalign(GTK_LABEL(note), 0);
  gtk_widget_add_css_class(note, "note");
  gtk_widget_add_css_class(note, "dim");
  units_fill(draft);
  gtk_box_append(GTK_BOX(draft->page_units), buttons);
  gtk_box_append(GTK_BOX(draft->page_units), note);
  return draft->page_units;
}
