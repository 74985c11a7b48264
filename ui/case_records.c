/* case_records.c - what the bench states: neck by neck, of the whole bridge, and when it leaves.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Fields are bound to members of the draft; the page of a neck is filled anew when it is
 * shown, when another neck is chosen and when a mark comes or goes. */
#include "ui/case_form.h"
#include "ui/spoken.h"
#include "ui/words.h"

static const char *const answer[] = {N_("not recorded"), N_("no"), N_("yes")};
static const char *const check[] = {N_("not recorded"), N_("clean"), N_("a line stays")};

static void neck_fill(CaseDraft *draft);

static void finish_row(GtkWidget *form, const char *name, FinishState *state)
{
  const char *finish[FINISH_N];
  for (int i = 0; i < FINISH_N; i++)
    finish[i] = finish_name((FinishState)i);
  form_choice(form, name, "", finish, FINISH_N, (unsigned *)state);
}

/* ---- one neck ---- */

/* "× 0.51 (0.34–0.68) of the card's bars (high gloss), like a flaw of 96 µm (54–216)", and where
 * that comes from. */
static char *factor_text(const Material *m, Banded factor, const char *source)
{
  Banded flaw = finish_flaw_um(m->toughness, m->strength_mpa, factor);
  g_autofree char *value = words_number(factor.value, 2), *range = words_range(factor, 2),
                  *deep = words_number(flaw.value, 0), *depths = words_range(flaw, 0);
  return g_strdup_printf(
      _("strength × %s (%s) of the card’s bars (%s), like a flaw of %s µm (%s); %s"), value, range,
      words_translate(finish_name(material_bars_finish(m))), deep, depths, words_translate(source));
}

/* Beside the finish of a zone: what it does to the strength. */
static void finish_note_show(GtkDropDown *field, GParamSpec *property, GtkLabel *note)
{
  (void)property;
  const CaseDraft *draft = g_object_get_data(G_OBJECT(field), "draft");
  const Material *m = &draft->c.material;
  FinishState state = (FinishState)gtk_drop_down_get_selected(field);
  SurfaceFactor factor = surface_factor(m, state, material_bars_finish(m));
  g_autofree char *text = factor_text(m, factor.of, factor.source);
  gtk_label_set_text(note, text);
}

static void finish_note_add(GtkWidget *form, CaseDraft *draft)
{
  int row = form_rows(form) - 1;
  GtkWidget *field = gtk_grid_get_child_at(GTK_GRID(form), 1, row),
            *note = gtk_grid_get_child_at(GTK_GRID(form), 2, row);
  g_object_set_data(G_OBJECT(field), "draft", draft);
  g_signal_connect(field, "notify::selected", G_CALLBACK(finish_note_show), note);
  finish_note_show(GTK_DROP_DOWN(field), NULL, GTK_LABEL(note));
}

static void finish_to_all(GtkButton *button, CaseDraft *draft)
{
  Case *c = &draft->c;
  const Connector *from = &c->connector[draft->connector];
  for (size_t i = 0; i + 1 < c->n_unit; i++)
    if (i != draft->connector)
      memcpy(c->connector[i].finish, from->finish, sizeof from->finish);
  gtk_button_set_label(button, _("Same at all necks ✓"));
}

static void finish_section(GtkWidget *form, CaseDraft *draft)
{
  static const char *const step[POLISH_STEP_N] = {N_("rubber coarse"), N_("rubber middle"),
                                                  N_("rubber fine"), N_("gloss")};
  Connector *k = &draft->c.connector[draft->connector];
  form_title(form, _("Finish"));
  for (int zone = 0; zone < ZONE_NECK_N; zone++) {
    finish_row(form, words_translate(zone_name((FinishZone)zone)), &k->finish[zone]);
    finish_note_add(form, draft);
  }
  GtkWidget *all = gtk_button_new_with_label(_("Same at all necks"));
  gtk_widget_add_css_class(all, "quiet");
  g_signal_connect(all, "clicked", G_CALLBACK(finish_to_all), draft);
  form_row(form, "", all, "");
  form_set(form, _("Polishing done"), _("every step, coarse to fine"), step, POLISH_STEP_N,
           &k->polish_steps);
}

static void plan_section(GtkWidget *form, Connector *k)
{
  form_title(form, _("Cutting plan"));
  form_number(form, _("Cut-back"), _("mm off the cheek side, for build-up"), &k->cut_back, 0, 5,
              0.1, 2);
  form_number(form, _("Crown wall"), _("mm, thinnest place beside the neck"), &k->wall, 0, 5, 0.05,
              2);
  form_number(form, _("Holding pin"), _("mm from the neck"), &k->pin_distance, 0, 20, 0.5, 1);
  form_choice(form, _("In a weaker layer"), _("of a layered blank"), answer, G_N_ELEMENTS(answer),
              (unsigned *)&k->weaker_layer);
}

static void measured_section(GtkWidget *form, Connector *k)
{
  form_title(form, _("Measured and checked"));
  form_number(form, _("Papilla"), _("mm above the feet"), &k->papilla, 0, 10, 0.1, 1);
  form_number(form, _("Soft neck height"), _("mm, before firing"), &k->soft_height, 0, 20, 0.01, 2);
  form_number(form, _("Neck height"), _("mm, after firing"), &k->measured_height, 0, 15, 0.01, 2);
  form_choice(form, _("Brush passes"), _("after the coat"), answer, G_N_ELEMENTS(answer),
              (unsigned *)&k->brush_passes);
  form_choice(form, _("Dye"), "", check, G_N_ELEMENTS(check), (unsigned *)&k->dye);
  form_choice(form, _("Light"), "", check, G_N_ELEMENTS(check), (unsigned *)&k->light);
}

static void mark_add(GtkButton *button, CaseDraft *draft)
{
  (void)button;
  SurfaceEvent event = SURFACE_EVENT_NONE;
  g_array_append_val(draft->c.connector[draft->connector].event, event);
  neck_fill(draft);
  gtk_widget_grab_focus(draft->last_mark);
}

static void mark_remove(GtkButton *button, CaseDraft *draft)
{
  GArray *events = draft->c.connector[draft->connector].event;
  guint at = GPOINTER_TO_UINT(g_object_get_data(G_OBJECT(button), "mark"));
  if (at < events->len)
    g_array_remove_index(events, at);
  neck_fill(draft);
  gtk_widget_grab_focus(draft->add_mark);
}

static char *mark_effect(const Material *m, const Connector *k, const SurfaceEvent *event)
{
  FinishZone zone = event->zone ? (FinishZone)(event->zone - 1) : ZONE_ROOF;
  Treatment treatment;
  bool dry;
  if (!surface_event_treatment(event, &treatment, &dry))
    return g_strdup("");
  ZoneSurface after = {finish_after(k->finish[zone], treatment, dry), NAN, NAN};
  if (treatment == TREAT_DISC)
    after.mark = surface_event_undrawn(k, event, zone), after.edge = event->edge_radius;
  SurfaceFactor factor = surface_on_bars(m, &after);
  g_autofree char *text = factor_text(
      m, factor.of, factor.own || after.mark > 0 ? factor.source : treatment_source(treatment));
  bool drawn = treatment == TREAT_DISC && event->depth > 0 && isnan(after.mark);
  return drawn ? g_strconcat(text, ". ", _("Its depth is drawn, so the drawing counts."), NULL)
               : g_steal_pointer(&text);
}

static GtkWidget *mark_row(CaseDraft *draft, guint at)
{
  /* as EventKind and YesNo */
  static const char *const kind[] = {N_("disc mark"), N_("ground"),          N_("blasted"),
                                     N_("heated"),    N_("knife cut, soft"), N_("glazed")};
  const char *zone[ZONE_NECK_N + 1] = {N_("where it lies")};
  for (int i = 0; i < ZONE_NECK_N; i++)
    zone[i + 1] = zone_name((FinishZone)i);
  static const char *const removed[] = {N_("not recorded"), N_("still there"), N_("worked out")};
  static const char *const water[] = {N_("water not recorded"), N_("dry"), N_("under water")};
  SurfaceEvent *event =
      &g_array_index(draft->c.connector[draft->connector].event, SurfaceEvent, at);
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *remove = gtk_button_new_from_icon_name("list-remove-symbolic");
  gtk_widget_add_css_class(remove, "plain");
  spoken_tooltip(remove, _("Remove this mark"));
  gtk_accessible_update_property(GTK_ACCESSIBLE(remove), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Remove this mark"), -1);
  g_object_set_data(G_OBJECT(remove), "mark", GUINT_TO_POINTER(at));
  g_signal_connect(remove, "clicked", G_CALLBACK(mark_remove), draft);
  draft->last_mark = field_choice(_("Mark"), kind, G_N_ELEMENTS(kind), (unsigned *)&event->kind);
  gtk_box_append(GTK_BOX(row), draft->last_mark);
  gtk_box_append(GTK_BOX(row), gtk_label_new(_("at")));
  gtk_box_append(GTK_BOX(row),
                 field_number(_("Place, mm from the neck"), &event->at_x, -10, 10, 0.1, 1));
  gtk_box_append(GTK_BOX(row), gtk_label_new(_("deep")));
  gtk_box_append(GTK_BOX(row), field_number(_("Depth, mm"), &event->depth, 0, 5, 0.05, 2));
  gtk_box_append(GTK_BOX(row),
                 field_choice(_("Water"), water, G_N_ELEMENTS(water), (unsigned *)&event->water));
  gtk_box_append(GTK_BOX(row), remove);
  GtkWidget *second = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_box_append(GTK_BOX(second), field_choice(_("Zone"), zone, ZONE_NECK_N + 1, &event->zone));
  gtk_box_append(GTK_BOX(second), gtk_label_new(_("edge")));
  gtk_box_append(GTK_BOX(second),
                 field_number(_("Edge radius, mm"), &event->edge_radius, 0, 2, 0.01, 2));
  gtk_box_append(GTK_BOX(second), field_choice(_("Since"), removed, G_N_ELEMENTS(removed),
                                               (unsigned *)&event->removed));
  GtkWidget *both = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4), *effect = gtk_label_new(NULL);
  g_autofree char *text =
      mark_effect(&draft->c.material, &draft->c.connector[draft->connector], event);
  gtk_label_set_text(GTK_LABEL(effect), text);
  gtk_label_set_xalign(GTK_LABEL(effect), 0);
  gtk_label_set_wrap(GTK_LABEL(effect), TRUE);
  gtk_widget_add_css_class(effect, "note");
  gtk_widget_add_css_class(effect, "dim");
  gtk_box_append(GTK_BOX(both), row);
  gtk_box_append(GTK_BOX(both), second);
  gtk_box_append(GTK_BOX(both), effect);
  return both;
}

static void marks_section(GtkWidget *form, CaseDraft *draft)
{
  const GArray *events = draft->c.connector[draft->connector].event;
  form_title(form, _("Marks"));
  for (guint at = 0; at < events->len; at++)
    form_wide(form, mark_row(draft, at));
  GtkWidget *add = gtk_button_new_with_label(_("Add a mark"));
  gtk_widget_add_css_class(add, "quiet");
  gtk_widget_set_halign(add, GTK_ALIGN_START);
  g_signal_connect(add, "clicked", G_CALLBACK(mark_add), draft);
  draft->add_mark = add;
  form_row(form, "", add, _("disc, grinding, blasting, heat, glaze, knife"));
}

static void neck_chosen(GtkDropDown *field, GParamSpec *property, CaseDraft *draft)
{
  (void)property;
  guint chosen = gtk_drop_down_get_selected(field);
  if (chosen + 1 >= draft->c.n_unit || chosen == draft->connector)
    return;
  draft->connector = chosen;
  neck_fill(draft);
  gtk_widget_grab_focus(draft->neck_name);
}

static GtkWidget *neck_field(CaseDraft *draft)
{
  GtkStringList *names = gtk_string_list_new(NULL);
  for (size_t i = 0; i + 1 < draft->c.n_unit; i++) {
    char name[12];
    connector_name(&draft->c, i, '/', name);
    gtk_string_list_append(names, name);
  }
  GtkWidget *field = gtk_drop_down_new(G_LIST_MODEL(names), NULL);
  gtk_drop_down_set_selected(GTK_DROP_DOWN(field), (guint)draft->connector);
  g_signal_connect(field, "notify::selected", G_CALLBACK(neck_chosen), draft);
  return field;
}

static void neck_fill(CaseDraft *draft)
{
  GtkWidget *old = gtk_widget_get_first_child(draft->page_neck);
  if (old)
    gtk_box_remove(GTK_BOX(draft->page_neck), old);
  Connector *k = &draft->c.connector[draft->connector];
  GtkWidget *form = form_new();
  draft->neck_name = neck_field(draft);
  form_row(form, _("Connector"), draft->neck_name, "");
  finish_section(form, draft);
  plan_section(form, k);
  measured_section(form, k);
  marks_section(form, draft);
  gtk_box_append(GTK_BOX(draft->page_neck), form);
}

static void neck_shown(GtkWidget *page, CaseDraft *draft)
{
  (void)page;
  neck_fill(draft);
}

GtkWidget *case_neck_page(CaseDraft *draft)
{
  draft->page_neck = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  g_signal_connect(draft->page_neck, "map", G_CALLBACK(neck_shown), draft);
  return draft->page_neck;
}

/* ---- the whole bridge ---- */

GtkWidget *case_bridge_page(CaseDraft *draft)
{
  static const char *const fit[] = {N_("not recorded"), N_("passive"), N_("rocks")};
  static const char *const shape[] = {N_("not recorded"), N_("oval"), N_("flat"), N_("hollow")};
  Case *c = &draft->c;
  GtkWidget *form = form_new();
  form_title(form, _("Firing"));
  form_text(form, _("Record"), _("programme, date, place in the furnace"), &c->firing_record);
  form_choice(form, _("Fast programme"), "", answer, G_N_ELEMENTS(answer),
              (unsigned *)&c->fast_firing);
  form_number(form, _("Thickest place"), _("mm"), &c->thickest, 0, 20, 0.1, 1);
  form_number(form, _("Allowed when fast"), _("mm, as the maker says"), &c->thickest_fast, 0, 20,
              0.1, 1);
  form_number(form, _("Firings so far"), "", &c->firings, 0, 20, 1, 0);
  form_number(form, _("Firings allowed"), _("as the maker says"), &c->firings_limit, 0, 20, 1, 0);
  form_number(form, _("Span planned"), _("mm, over all"), &c->planned_span, 0, 150, 0.05, 2);
  form_number(form, _("Span fired"), _("mm, over all"), &c->fired_span, 0, 150, 0.05, 2);
  form_title(form, _("Fit and outer faces"));
  form_choice(form, _("Smoothed while soft"), "", answer, G_N_ELEMENTS(answer),
              (unsigned *)&c->soft_handled);
  form_choice(form, _("Fit"), _("on the model, no force"), fit, G_N_ELEMENTS(fit),
              (unsigned *)&c->fit);
  finish_row(form, words_translate(zone_name(ZONE_INSIDE)), &c->inside);
  finish_row(form, words_translate(zone_name(ZONE_EDGES)), &c->edges);
  finish_row(form, words_translate(zone_name(ZONE_BITING_FACE)), &c->biting_face);
  form_title(form, _("Tissue side"));
  for (size_t i = 0; i < c->n_unit; i++) {
    Unit *unit = &c->unit[i];
    if (unit->role != ROLE_PONTIC && unit->role != ROLE_HANGING)
      continue;
    g_autofree char *finish = g_strdup_printf(_("Finish of %d"), unit->tooth),
                    *form_of = g_strdup_printf(_("Shape of %d"), unit->tooth);
    finish_row(form, finish, &unit->saddle);
    form_choice(form, form_of, "", shape, G_N_ELEMENTS(shape), (unsigned *)&unit->saddle_shape);
  }
  return form;
}

/* ---- hand-over ---- */

static void approve(GtkButton *button, CaseDraft *draft)
{
  Fault fault = case_approve(&draft->c);
  gtk_button_set_label(button,
                       fault ? words_translate(fault_text(fault)) : _("Approved as drawn now ✓"));
}

GtkWidget *case_handover_page(CaseDraft *draft)
{
  Case *c = &draft->c;
  GtkWidget *form = form_new();
  form_title(form, _("Signing"));
  form_text(form, _("Made by"), _("role, no name"), &c->author);
  form_text(form, _("Approved by"), _("role of a second person"), &c->approver);
  GtkWidget *seen = gtk_button_new_with_label(_("Approve as drawn now"));
  gtk_widget_add_css_class(seen, "quiet");
  g_signal_connect(seen, "clicked", G_CALLBACK(approve), draft);
  form_row(form, "", seen, _("keeps outlines, section and roundness: a later change is told"));
  form_title(form, _("Hand-over"));
  form_text(form, _("Note to the dentist"), _("where not to grind, how to polish, which brush"),
            &c->dentist_note);
  return form;
}
