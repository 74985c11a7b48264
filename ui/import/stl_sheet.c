/* stl_sheet.c - which neck of a surface goes to which connector, and the taking over.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/import/stl_sheet.h"
#include "casefile/drawn.h"
#include "ui/case_form.h"
#include "ui/import/stl_parts.h"
#include "ui/words.h"

#define TICK_MS 100
#define DEG (G_PI / 180)
#define COARSE_ROOF 1.2 /* of the radius, at the upper end of its band: more is said */
#define ENLARGED_LEAST 1.05
#define ENLARGED_NEAR 0.04 /* of the enlargement */
#define LENGTH_OFF 0.15    /* of the units' lengths: worth a word */

static void sheet_free(StlSheet *sheet)
{
  if (sheet->ticker)
    g_source_remove(sheet->ticker);
  stl_job_free(sheet->job);
  surface_unref(sheet->surface);
  g_free(sheet->span);
  for (size_t i = 0; i < CONNECTORS_MOST; i++)
    trace_clear(&sheet->trace[i]);
  g_object_unref(sheet->session);
  g_free(sheet->path);
  g_free(sheet);
}

/* ---- what is shown ---- */

static void reading_show(StlSheet *sheet, size_t i)
{
  const Neck *plane = &sheet->plane[i];
  g_autofree char *area = words_number(plane->area, 1), *height = words_number(plane->height, 2),
                  *width = words_number(plane->width, 2), *yaw = words_number(plane->yaw / DEG, 1),
                  *pitch = words_number(plane->pitch / DEG, 1);
  g_autofree char *text =
      g_strdup_printf(_("%s mm², %s mm high, %s mm wide; tilted up %s°, to the cheek %s°"), area,
                      height, width, pitch, yaw);
  gtk_label_set_text(GTK_LABEL(sheet->reading[i]), sheet->span ? text : "");
}

static size_t used_count(const StlSheet *sheet)
{
  size_t n = 0;
  for (size_t i = 0; i < sheet->n; i++)
    n += sheet->used[i];
  return n;
}

static void state_show(StlSheet *sheet)
{
  bool busy = stl_job_busy(sheet->job);
  gtk_widget_set_visible(sheet->sheet.progress, busy);
  gtk_widget_set_visible(sheet->sheet.stop, busy);
  gtk_widget_set_sensitive(sheet->sheet.choices, !busy);
  gtk_widget_set_sensitive(sheet->turns, sheet->span != NULL);
  gtk_widget_set_sensitive(sheet->sheet.take, !busy && sheet->span && used_count(sheet) > 0);
  gtk_button_set_label(GTK_BUTTON(sheet->sheet.take),
                       sheet->remarks ? _("Take over all the same") : _("Take over"));
  gtk_widget_queue_draw(sheet->sheet.picture);
}

static gboolean tick(void *data)
{
  StlSheet *sheet = data;
  if (!stl_job_busy(sheet->job)) {
    sheet->ticker = 0;
    state_show(sheet);
    return G_SOURCE_REMOVE;
  }
  gtk_progress_bar_set_fraction(GTK_PROGRESS_BAR(sheet->sheet.progress),
                                stl_job_progress(sheet->job));
  return G_SOURCE_CONTINUE;
}

/* After a task was asked for. */
static void wait_begin(StlSheet *sheet, const char *words)
{
  import_sheet_tell(&sheet->sheet, words);
  gtk_progress_bar_set_fraction(GTK_PROGRESS_BAR(sheet->sheet.progress), 0);
  if (!sheet->ticker)
    sheet->ticker = g_timeout_add(TICK_MS, tick, sheet);
  state_show(sheet);
}

static void remarks_drop(StlSheet *sheet)
{
  for (size_t i = 0; i < CONNECTORS_MOST; i++)
    trace_clear(&sheet->trace[i]);
  sheet->remarks = false;
}

static void notes_show(StlSheet *sheet, const Phrase note[], size_t n)
{
  GtkWidget *old;
  while ((old = gtk_widget_get_first_child(sheet->notes)))
    gtk_box_remove(GTK_BOX(sheet->notes), old);
  for (size_t i = 0; i < n; i++) {
    g_autofree char *words = words_phrase(&note[i]), *line = g_strconcat("! ", words, NULL);
    gtk_box_append(GTK_BOX(sheet->notes), import_line(line, "note"));
  }
}

/* ---- planes ---- */

void stl_sheet_choose(StlSheet *sheet, size_t connector)
{
  sheet->chosen = connector;
  for (size_t i = 0; i < sheet->n; i++) {
    g_autofree char *mark = g_strconcat(i == connector ? "▸ " : "", sheet->name[i], NULL);
    gtk_label_set_text(GTK_LABEL(sheet->label[i]), mark);
  }
  gtk_widget_queue_draw(sheet->sheet.picture);
}

static void choice_set(StlSheet *sheet, size_t i, guint choice)
{
  sheet->choice[i] = choice;
  sheet->used[i] = choice > 0;
  sheet->filling = true;
  gtk_drop_down_set_selected(GTK_DROP_DOWN(sheet->field[i]), choice);
  sheet->filling = false;
}

void stl_sheet_move(StlSheet *sheet, size_t connector, double x, double yaw, double pitch)
{
  remarks_drop(sheet);
  choice_set(sheet, connector, (guint)sheet->span->n_neck + 1);
  stl_job_plane(sheet->job, sheet->surface, sheet->span, connector, x, yaw, pitch);
  state_show(sheet);
}

static void choice_changed(GtkDropDown *field, GParamSpec *property, StlSheet *sheet)
{
  (void)property;
  if (sheet->filling || !sheet->span)
    return;
  for (size_t i = 0; i < sheet->n; i++)
    if (GTK_WIDGET(field) == sheet->field[i]) {
      guint choice = gtk_drop_down_get_selected(field);
      remarks_drop(sheet);
      choice_set(sheet, i, choice);
      if (choice > 0 && choice <= sheet->span->n_neck)
        sheet->plane[i] = sheet->span->neck[choice - 1];
      stl_sheet_choose(sheet, i);
      reading_show(sheet, i);
    }
  state_show(sheet);
}

/* Names of the necks that were found; the field keeps its place. */
static void fields_fill(StlSheet *sheet)
{
  size_t n_neck = sheet->span ? sheet->span->n_neck : 0;
  sheet->filling = true;
  for (size_t i = 0; i < sheet->n; i++) {
    GtkStringList *words = gtk_string_list_new(NULL);
    gtk_string_list_append(words, _("as drawn now"));
    for (size_t k = 0; k < n_neck; k++) {
      g_autofree char *at = words_number(sheet->span->neck[k].x - sheet->span->low, 1);
      g_autofree char *text = g_strdup_printf(_("neck %zu, at %s mm"), k + 1, at);
      gtk_string_list_append(words, text);
    }
    gtk_string_list_append(words, _("plane by hand"));
    gtk_drop_down_set_model(GTK_DROP_DOWN(sheet->field[i]), G_LIST_MODEL(words));
    g_object_unref(words);
  }
  sheet->filling = false;
}

/* Each connector begins at its neck; without one, at the place the units' lengths give, unused. */
static void planes_begin(StlSheet *sheet)
{
  size_t neck[CONNECTORS_MOST];
  MeshSpan *span = sheet->span;
  double length = span->high - span->low;
  span_match(span, sheet->share, sheet->n, false, neck);
  fields_fill(sheet);
  for (size_t i = 0; i < sheet->n; i++) {
    bool found = neck[i] != NECK_NONE;
    if (found)
      sheet->plane[i] = span->neck[neck[i]];
    else if (span_neck_at(&sheet->surface->mesh, span, span->low + sheet->share[i] * length, 0, 0,
                          &sheet->plane[i]))
      sheet->plane[i] = (Neck){.x = span->low + sheet->share[i] * length, .frame = span->frame};
    choice_set(sheet, i, found ? (guint)neck[i] + 1 : 0);
    reading_show(sheet, i);
  }
}

/* ---- answers ---- */

static void facts_show(StlSheet *sheet)
{
  const StlReport *report = &sheet->surface->report;
  Vec3 size = vec3_sub(report->state.high, report->state.low);
  g_autofree char *x = words_number(size.x, 1), *y = words_number(size.y, 1),
                  *z = words_number(size.z, 1), *name = g_path_get_basename(sheet->path);
  g_autofree char *text =
      g_strdup_printf(_("%s: %zu triangles, %s × %s × %s mm, unit %s, %zu necks found"), name,
                      report->triangles, x, y, z, stl_unit_name(report->unit), sheet->span->n_neck);
  gtk_label_set_text(GTK_LABEL(sheet->facts), text);
}

/* What to check before it is used: a surface enlarged for milling would promise too much. */
static char *size_remark(const StlSheet *sheet)
{
  const Case *c = session_case(sheet->session);
  double units = 0, length = sheet->span->high - sheet->span->low;
  for (size_t i = 0; i < c->n_unit; i++)
    units += c->unit[i].length;
  g_autofree char *has = words_number(length, 1), *wants = words_number(units, 1),
                  *factor = words_number(c->enlargement, 3);
  if (c->enlargement > ENLARGED_LEAST && fabs(length / units / c->enlargement - 1) < ENLARGED_NEAR)
    return g_strdup_printf(
        _("The span is %s mm, the units together %s mm: as if enlarged by %s for "
          "milling. Use the surface in its size after firing."),
        has, wants, factor);
  if (used_count(sheet) == 0)
    return g_strdup(_("No neck was found. Drag a plane to each connector by hand."));
  if (fabs(length / units - 1) > LENGTH_OFF)
    return g_strdup_printf(
        _("The span is %s mm, the units together %s mm. Check unit and case; the "
          "surface must have its size after firing."),
        has, wants);
  return g_strdup(_("Check which side is up and which unit comes first. Sizes must be those after "
                    "firing."));
}

static void commit(StlSheet *sheet)
{
  Case *c = session_edit_begin(sheet->session, N_("Take outlines from a surface"));
  Fault fault = c ? FAULT_NONE : session_edit_fault(sheet->session);
  for (size_t i = 0; i < sheet->n && !fault; i++)
    if (sheet->used[i])
      fault = case_take_trace(c, i, &sheet->trace[i]);
  if (fault) {
    if (c)
      session_edit_cancel(sheet->session);
    import_sheet_tell(&sheet->sheet, words_translate(fault_text(fault)));
    return;
  }
  session_edit_end(sheet->session);
  for (size_t i = 0; i < sheet->n; i++)
    if (sheet->used[i] && !sheet->used[session_focus(sheet->session)])
      session_set_focus(sheet->session, i);
  gtk_window_close(GTK_WINDOW(sheet->sheet.window));
}

/* A roof that its triangles tell badly; `high` the upper end of its band, share. */
static void coarse_tell(GString *remarks, const char *name, double high)
{
  if (high <= COARSE_ROOF)
    return;
  g_autofree char *percent = words_number(100 * (high - 1), 0);
  g_autofree char *words =
      g_strdup_printf(_("its triangles are so large at the roof that the radius is known to %s %% "
                        "only; look at the piece, or export it finer."),
                      percent);
  g_string_append_printf(remarks, "%s%s: %s", remarks->len ? "\n" : "", name, words);
}

/* What a person should know of the outlines before they are taken. */
static void traced(StlSheet *sheet, StlAnswer *answer)
{
  GString *remarks = g_string_new(NULL);
  remarks_drop(sheet);
  for (size_t i = 0; i < sheet->n; i++) {
    Form form;
    Trace *trace = &sheet->trace[i];
    if (!sheet->used[i])
      continue;
    *trace = answer->trace[i];
    trace_init(&answer->trace[i]);
    for (size_t k = 0; k < trace->n_note; k++) {
      g_autofree char *words = words_phrase(&trace->note[k]);
      g_string_append_printf(remarks, "%s%s: %s", remarks->len ? "\n" : "", sheet->name[i], words);
    }
    Fault fault = form_read(&trace->gingival, &trace->occlusal, &trace->buccal, &trace->lingual,
                            NULL, &form, NULL);
    if (fault)
      g_string_append_printf(remarks, "%s%s: %s", remarks->len ? "\n" : "", sheet->name[i],
                             words_translate(fault_text(fault)));
    else
      coarse_tell(remarks, sheet->name[i],
                  drawn_share(surface_roof_doubt(form.roof_radius.value, trace->roof_turn)).high);
  }
  if (remarks->len == 0) {
    commit(sheet);
  } else {
    sheet->remarks = true;
    import_sheet_tell(&sheet->sheet, remarks->str);
    state_show(sheet);
  }
  g_string_free(remarks, TRUE);
}

static void answered(StlAnswer *answer, void *data)
{
  StlSheet *sheet = data;
  if (answer->fault) {
    g_autofree char *placed =
        answer->task == STL_TRACE && answer->message
            ? g_strdup_printf("%s: %s", sheet->name[answer->connector], answer->message)
            : NULL;
    import_sheet_tell(&sheet->sheet, placed            ? placed
                                     : answer->message ? answer->message
                                                       : _("Stopped. Nothing was changed."));
    state_show(sheet);
    return;
  }
  switch (answer->task) {
  case STL_LOAD:
    surface_unref(sheet->surface);
    sheet->surface = g_steal_pointer(&answer->surface);
    notes_show(sheet, sheet->surface->report.note, sheet->surface->report.n_note);
    stl_sheet_choose(sheet, session_focus(sheet->session));
    G_GNUC_FALLTHROUGH;
  case STL_TURN:
    g_free(sheet->span);
    sheet->span = g_steal_pointer(&answer->span);
    remarks_drop(sheet);
    facts_show(sheet);
    planes_begin(sheet);
    {
      g_autofree char *remark = size_remark(sheet);
      import_sheet_tell(&sheet->sheet, remark);
    }
    break;
  case STL_PLANE:
    sheet->plane[answer->connector] = answer->neck;
    reading_show(sheet, answer->connector);
    break;
  case STL_TRACE:
    traced(sheet, answer);
    return; /* the sheet may be gone */
  }
  state_show(sheet);
}

/* ---- wishes ---- */

static int by_x(const void *a, const void *b)
{
  double p = *(const double *)a, q = *(const double *)b;
  return (p > q) - (p < q);
}

/* Half way to the planes beside it; at the ends half of what is left. */
static void take_over(StlSheet *sheet)
{
  double x[CONNECTORS_MOST + 2], reach[CONNECTORS_MOST][2];
  if (sheet->remarks) {
    commit(sheet);
    return;
  }
  x[0] = sheet->span->low;
  for (size_t i = 0; i < sheet->n; i++)
    x[i + 1] = sheet->plane[i].x;
  x[sheet->n + 1] = sheet->span->high;
  qsort(x, sheet->n + 2, sizeof *x, by_x);
  for (size_t i = 0; i < sheet->n; i++) {
    double own = sheet->plane[i].x, before = x[0], after = x[sheet->n + 1];
    for (size_t k = 0; k < sheet->n + 2; k++) {
      before = x[k] < own - 1e-6 ? fmax(before, x[k]) : before;
      after = x[k] > own + 1e-6 ? fmin(after, x[k]) : after;
    }
    reach[i][0] = CLAMP((own - before) / 2, 1, 30);
    reach[i][1] = CLAMP((after - own) / 2, 1, 30);
  }
  stl_job_trace(sheet->job, sheet->surface, sheet->used, sheet->plane, reach, sheet->n);
  wait_begin(sheet, _("The outlines are being taken …"));
}

static void load(StlSheet *sheet, StlUnit unit)
{
  stl_job_load(sheet->job, sheet->path, unit, case_cheek_behind(session_case(sheet->session)),
               sheet->share, sheet->n);
  wait_begin(sheet, NULL);
}

static void unit_changed(GtkDropDown *field, GParamSpec *property, StlSheet *sheet)
{
  (void)property;
  load(sheet, (StlUnit)gtk_drop_down_get_selected(field));
}

static void turn_clicked(GtkButton *button, StlSheet *sheet)
{
  if (!sheet->span)
    return;
  bool quarter = g_object_get_data(G_OBJECT(button), "quarter") != NULL;
  MeshFrame frame = mesh_frame_turned(sheet->span->frame, quarter ? 1 : 0, !quarter);
  stl_job_turn(sheet->job, sheet->surface, &frame);
  wait_begin(sheet, _("Turned; the necks are being found again …"));
}

static void stop_clicked(GtkButton *button, StlSheet *sheet)
{
  (void)button;
  stl_job_stop(sheet->job);
}

/* ---- building ---- */

static GtkWidget *turn_button(StlSheet *sheet, const char *text, bool quarter)
{
  GtkWidget *button = gtk_button_new_with_label(text);
  gtk_widget_add_css_class(button, "quiet");
  if (quarter)
    g_object_set_data(G_OBJECT(button), "quarter", button);
  gtk_widget_set_hexpand(button, TRUE);
  g_signal_connect(button, "clicked", G_CALLBACK(turn_clicked), sheet);
  return button;
}

static void connectors_build(StlSheet *sheet, GtkWidget *box)
{
  const Case *c = session_case(sheet->session);
  for (size_t i = 0; i < sheet->n; i++) {
    GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
    connector_name(c, i, '/', sheet->name[i]);
    sheet->label[i] = import_line(sheet->name[i], "title");
    sheet->field[i] = gtk_drop_down_new(NULL, NULL);
    gtk_widget_set_hexpand(sheet->field[i], TRUE);
    field_name(sheet->field[i], sheet->name[i]);
    g_signal_connect(sheet->field[i], "notify::selected", G_CALLBACK(choice_changed), sheet);
    sheet->reading[i] = import_line(NULL, "note");
    gtk_widget_add_css_class(sheet->reading[i], "dim");
    gtk_box_append(GTK_BOX(row), sheet->label[i]);
    gtk_box_append(GTK_BOX(row), sheet->field[i]);
    gtk_box_append(GTK_BOX(box), row);
    gtk_box_append(GTK_BOX(box), sheet->reading[i]);
  }
}

static void choices_build(StlSheet *sheet)
{
  static const char *const unit[STL_UNIT_N] = {N_("unit guessed from the size"), N_("millimetres"),
                                               N_("inches"), N_("metres")};
  GtkWidget *box = sheet->sheet.choices;
  GtkStringList *units = gtk_string_list_new(NULL);
  for (int i = 0; i < STL_UNIT_N; i++)
    gtk_string_list_append(units, _(unit[i]));
  sheet->facts = import_line(NULL, NULL);
  sheet->unit = gtk_drop_down_new(G_LIST_MODEL(units), NULL);
  field_name(sheet->unit, _("Unit of the file"));
  g_signal_connect(sheet->unit, "notify::selected", G_CALLBACK(unit_changed), sheet);
  sheet->notes = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  sheet->turns = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_box_append(GTK_BOX(sheet->turns), turn_button(sheet, _("Quarter turn"), true));
  gtk_box_append(GTK_BOX(sheet->turns), turn_button(sheet, _("End for end"), false));
  gtk_box_append(GTK_BOX(box), sheet->facts);
  gtk_box_append(GTK_BOX(box), sheet->unit);
  gtk_box_append(GTK_BOX(box), sheet->notes);
  gtk_box_append(GTK_BOX(box), import_line(_("How it lies"), "title"));
  gtk_box_append(GTK_BOX(box), sheet->turns);
  connectors_build(sheet, box);
  fields_fill(sheet);
  GtkWidget *help = import_line(
      _("Drag a plane near its middle to move it, farther out to tilt it. Keys on the picture: "
        "Page "
        "Up and Down choose, arrows move by 0.05 mm and tilt by 0.5°, with Ctrl in the plan, with "
        "Shift finer."),
      "note");
  gtk_widget_add_css_class(help, "dim");
  gtk_box_append(GTK_BOX(box), help);
}

void stl_sheet_show(GtkWindow *parent, SoffitSession *session, const char *path)
{
  StlSheet *sheet = g_new0(StlSheet, 1);
  const Case *c = session_case(session);
  sheet->session = g_object_ref(session);
  sheet->path = g_strdup(path);
  sheet->job = stl_job_new(answered, sheet);
  sheet->n = c->n_unit > 0 ? c->n_unit - 1 : 0;
  sheet->chosen = session_focus(session);
  case_connector_shares(c, sheet->share);
  import_sheet_build(&sheet->sheet, parent, _("Outlines from a surface"), G_CALLBACK(take_over),
                     sheet);
  choices_build(sheet);
  stl_hand_attach(sheet);
  g_signal_connect(sheet->sheet.stop, "clicked", G_CALLBACK(stop_clicked), sheet);
  g_object_set_data_full(G_OBJECT(sheet->sheet.window), "sheet", sheet, (GDestroyNotify)sheet_free);
  gtk_window_present(GTK_WINDOW(sheet->sheet.window));
  load(sheet, STL_UNIT_GUESS);
  gtk_widget_grab_focus(sheet->sheet.picture);
}
