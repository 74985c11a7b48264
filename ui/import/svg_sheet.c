/* svg_sheet.c - which line of a drawing is which side, where it lies, and the taking over.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/import/svg_sheet.h"
#include "casefile/svg_xml.h"
#include "outline/form.h"
#include "ui/canvas/draw_context.h"
#include "ui/case_form.h"
#include "ui/drawing/picture_lines.h"
#include "ui/import/import_sheet.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define LINES_SHOWN 60u
#define EDIT_NAME N_("Take outlines from a drawing")

/* Where the lines of the drawing go. */
typedef enum { PLACE_NECK, PLACE_DRAWN } Place;

typedef struct {
  ImportSheet sheet;
  SoffitSession *session; /* owned ref */
  SvgDrawing *drawing;    /* owned     */
  size_t connector, n;    /* n lines are offered */
  guint choice[SIDE_N];   /* 0 as drawn now, else line + 1 */
  guint place;
  GtkWidget *field[SIDE_N];
} SvgSheet;

static const char *const side_word[SIDE_N] = {N_("Gum side"), N_("Biting side"), N_("Cheek side"),
                                              N_("Tongue side")};
static const char *const side_id[SIDE_N] = {"gingival", "occlusal", "buccal", "lingual"};

static const SvgLine *line_at(const SvgSheet *sheet, size_t i)
{
  return g_ptr_array_index(sheet->drawing->line, i);
}

static void sheet_free(SvgSheet *sheet)
{
  svg_drawing_free(sheet->drawing);
  g_object_unref(sheet->session);
  g_free(sheet);
}

/* ---- the outlines ---- */

typedef struct {
  double x0, x1, y0, y1;
  double x_top, x_bottom; /* where the highest and the lowest place is */
} Extent;

static Extent extent_of(const Outline *o)
{
  Extent e = {INFINITY, -INFINITY, INFINITY, -INFINITY, 0, 0};
  for (double t = 0; t <= (double)outline_pieces(o); t += 1.0 / 32) {
    Point p = outline_at(o, t);
    e.x0 = fmin(e.x0, p.x);
    e.x1 = fmax(e.x1, p.x);
    if (p.y > e.y1)
      e.y1 = p.y, e.x_top = p.x;
    if (p.y < e.y0)
      e.y0 = p.y, e.x_bottom = p.x;
  }
  return e;
}

static void shift(Outline *o, double dx, double dy)
{
  outline_transform(o, (const double[6]){1, 0, 0, 1, dx, dy});
}

/* Elevation: the gum side's highest place goes to the neck plane and its feet to the tissue line;
 * the biting side follows it.  Plan: along the span alike. */
static void elevation_place(const SvgSheet *sheet, Outline side[SIDE_N], double *dx)
{
  double dy = 0;
  if (sheet->choice[SIDE_GINGIVAL]) {
    Extent gum = extent_of(&side[SIDE_GINGIVAL]);
    *dx = -gum.x_top;
    dy = -gum.y0;
  } else if (sheet->choice[SIDE_OCCLUSAL]) {
    *dx = -extent_of(&side[SIDE_OCCLUSAL]).x_bottom;
  }
  for (int i = 0; i <= SIDE_OCCLUSAL; i++)
    if (sheet->choice[i])
      shift(&side[i], *dx, dy);
}

/* z = 0: the drawing's axis; else the middle between both sides; a side that comes alone is put
 * where the old one has its neck. */
static void plan_place(const SvgSheet *sheet, Outline side[SIDE_N], double dx)
{
  const Connector *c = &session_case(sheet->session)->connector[sheet->connector];
  bool both = sheet->choice[SIDE_BUCCAL] && sheet->choice[SIDE_LINGUAL];
  bool alone = !sheet->choice[SIDE_GINGIVAL] && !sheet->choice[SIDE_OCCLUSAL];
  double axis = sheet->drawing->plan_axis;
  Extent own[SIDE_N];
  for (int i = SIDE_BUCCAL; i < SIDE_N; i++)
    own[i] = extent_of(&side[i]);
  if (isnan(axis) && both)
    axis = (own[SIDE_BUCCAL].y0 + own[SIDE_LINGUAL].y1) / 2;
  for (int i = SIDE_BUCCAL; i < SIDE_N; i++) {
    if (!sheet->choice[i])
      continue;
    Extent old = extent_of(&c->side[i]);
    double dz = isfinite(axis) ? -axis : i == SIDE_BUCCAL ? old.y0 - own[i].y0 : old.y1 - own[i].y1;
    double neck = i == SIDE_BUCCAL ? own[i].x_bottom : own[i].x_top;
    shift(&side[i], sheet->place == PLACE_NECK && alone ? -neck : dx, dz);
  }
}

/* Copies of what is chosen, else of what the connector has; all four belong to the caller. */
static Fault outlines_make(const SvgSheet *sheet, Outline side[SIDE_N])
{
  const Connector *c = &session_case(sheet->session)->connector[sheet->connector];
  Fault fault = FAULT_NONE;
  for (int i = 0; i < SIDE_N && !fault; i++) {
    const Outline *from =
        sheet->choice[i] ? &line_at(sheet, sheet->choice[i] - 1)->outline : &c->side[i];
    fault = outline_copy(&side[i], from);
    if (!fault && sheet->choice[i] && side[i].n > 1 &&
        side[i].knot[0].at.x > side[i].knot[side[i].n - 1].at.x)
      outline_reverse(&side[i]);
  }
  if (!fault) {
    double dx = 0;
    if (sheet->place == PLACE_NECK)
      elevation_place(sheet, side, &dx);
    plan_place(sheet, side, dx);
  }
  return fault;
}

/* What to say of the choice.  usable: it can be taken; sound: the connector can be judged with it.
 */
static char *outlines_remark(const SvgSheet *sheet, bool *usable, bool *sound)
{
  Outline side[SIDE_N];
  Form form;
  Point where = {NAN, NAN};
  size_t n = 0;
  *usable = *sound = false;
  for (int i = 0; i < SIDE_N; i++) {
    if (!sheet->choice[i])
      continue;
    n++;
    if (line_at(sheet, sheet->choice[i] - 1)->outline.closed)
      return g_strdup_printf(_("%s: line %u is closed. Draw it open, from one unit to the other."),
                             _(side_word[i]), sheet->choice[i]);
    for (int k = 0; k < i; k++)
      if (sheet->choice[k] == sheet->choice[i])
        return g_strdup_printf(_("Line %u has two parts. Choose another for one of them."),
                               sheet->choice[i]);
  }
  if (n == 0)
    return g_strdup(_("Say which line is which side."));
  for (int i = 0; i < SIDE_N; i++)
    outline_init(&side[i]);
  Fault fault = outlines_make(sheet, side);
  if (!fault)
    fault = form_read(&side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &side[SIDE_BUCCAL],
                      &side[SIDE_LINGUAL], NULL, &form, &where);
  for (int i = 0; i < SIDE_N; i++)
    outline_clear(&side[i]);
  *usable = fault != FAULT_MEMORY;
  *sound = fault == FAULT_NONE;
  if (fault) {
    const char *text = words_translate(fault_text(fault));
    g_autofree char *x = words_number(where.x, 1), *y = words_number(where.y, 1);
    return point_finite(where) ? g_strdup_printf("%s (x %s, y %s)", text, x, y) : g_strdup(text);
  }
  if (isnan(form.neck_width)) {
    *sound = false;
    return g_strdup(_("The plan does not reach over the neck. Choose another place."));
  }
  g_autofree char *height = words_number(form.neck_height, 2),
                  *width = words_number(form.neck_width, 2);
  return g_strdup_printf(_("The neck becomes %s mm high and %s mm wide."), height, width);
}

static bool outlines_take(SvgSheet *sheet)
{
  Outline side[SIDE_N];
  for (int i = 0; i < SIDE_N; i++)
    outline_init(&side[i]);
  Fault fault = outlines_make(sheet, side);
  if (!fault && !session_edit_begin(sheet->session, EDIT_NAME))
    fault = session_edit_fault(sheet->session);
  for (int i = 0; i < SIDE_N && !fault; i++)
    if (sheet->choice[i])
      fault = session_set_outline(sheet->session, sheet->connector, (Side)i, &side[i]);
  if (!fault && sheet->choice[SIDE_GINGIVAL])
    session_set_roof_doubt(sheet->session, sheet->connector, 0);
  if (fault)
    session_edit_cancel(sheet->session);
  else
    session_edit_end(sheet->session);
  for (int i = 0; i < SIDE_N; i++)
    outline_clear(&side[i]);
  return fault == FAULT_NONE;
}

/* ---- the sheet ---- */

static void draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, void *data)
{
  SvgSheet *sheet = data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  const Outline *line[LINES_SHOWN];
  const char *part[LINES_SHOWN];
  for (size_t i = 0; i < sheet->n; i++) {
    line[i] = &line_at(sheet, i)->outline;
    part[i] = NULL;
    for (int k = 0; k < SIDE_N; k++)
      if (sheet->choice[k] == i + 1)
        part[i] = _(side_word[k]);
  }
  const LinesPicture picture = {line, part, sheet->n};
  picture_lines(cr, width, height, &context, &picture);
}

static void state_show(SvgSheet *sheet)
{
  bool usable, sound;
  g_autofree char *remark = outlines_remark(sheet, &usable, &sound);
  import_sheet_tell(&sheet->sheet, remark);
  gtk_widget_set_sensitive(sheet->sheet.take, usable);
  gtk_widget_queue_draw(sheet->sheet.picture);
}

static void choice_changed(GtkDropDown *field, GParamSpec *property, SvgSheet *sheet)
{
  (void)property;
  for (int i = 0; i < SIDE_N; i++)
    if (GTK_WIDGET(field) == sheet->field[i])
      sheet->choice[i] = gtk_drop_down_get_selected(field);
  state_show(sheet);
}

static void place_changed(GtkDropDown *field, GParamSpec *property, SvgSheet *sheet)
{
  (void)property;
  sheet->place = gtk_drop_down_get_selected(field);
  state_show(sheet);
}

static void take_over(SvgSheet *sheet)
{
  if (outlines_take(sheet))
    gtk_window_close(GTK_WINDOW(sheet->sheet.window));
  else
    import_sheet_tell(&sheet->sheet, words_translate(fault_text(FAULT_MEMORY)));
}

static GtkStringList *line_names(const SvgSheet *sheet)
{
  GtkStringList *names = gtk_string_list_new(NULL);
  gtk_string_list_append(names, _("as drawn now"));
  for (size_t i = 0; i < sheet->n; i++) {
    const SvgLine *line = line_at(sheet, i);
    g_autofree char *length = words_number(outline_length(&line->outline), 1);
    g_autofree char *text =
        line->id ? g_strdup_printf(_("line %zu, “%.24s”, %s mm"), i + 1, line->id, length)
                 : g_strdup_printf(_("line %zu, %s mm"), i + 1, length);
    gtk_string_list_append(names, text);
  }
  return names;
}

static void choices_build(SvgSheet *sheet)
{
  GtkWidget *box = sheet->sheet.choices;
  char name[12];
  connector_name(session_case(sheet->session), sheet->connector, '/', name);
  g_autofree char *title = g_strdup_printf(_("Outlines of %s"), name);
  gtk_box_append(GTK_BOX(box), import_line(title, "title"));
  for (int i = 0; i < SIDE_N; i++) {
    gtk_box_append(GTK_BOX(box), import_line(_(side_word[i]), NULL));
    sheet->field[i] = gtk_drop_down_new(G_LIST_MODEL(line_names(sheet)), NULL);
    gtk_drop_down_set_selected(GTK_DROP_DOWN(sheet->field[i]), sheet->choice[i]);
    field_name(sheet->field[i], _(side_word[i]));
    g_signal_connect(sheet->field[i], "notify::selected", G_CALLBACK(choice_changed), sheet);
    gtk_box_append(GTK_BOX(box), sheet->field[i]);
  }
  const char *const place[] = {_("roof to the neck, feet to the tissue line"),
                               _("as drawn: x 0 the neck, y 0 the tissue line"), NULL};
  GtkWidget *where = gtk_drop_down_new_from_strings(place);
  gtk_drop_down_set_selected(GTK_DROP_DOWN(where), sheet->place);
  field_name(where, _("Place"));
  g_signal_connect(where, "notify::selected", G_CALLBACK(place_changed), sheet);
  gtk_box_append(GTK_BOX(box), import_line(_("Place"), NULL));
  gtk_box_append(GTK_BOX(box), where);
  for (guint i = 0; i < sheet->drawing->note->len && i < 3; i++) {
    g_autofree char *text =
        g_strconcat("! ", (const char *)g_ptr_array_index(sheet->drawing->note, i), NULL);
    gtk_box_append(GTK_BOX(box), import_line(text, "note"));
  }
  if (sheet->drawing->passed) {
    g_autofree char *text = g_strdup_printf(_("! Not read: %s."), sheet->drawing->passed);
    gtk_box_append(GTK_BOX(box), import_line(text, "note"));
  }
}

/* Lines that carry a side's id have their part already; a single open line is the gum side. */
static size_t choices_guess(SvgSheet *sheet)
{
  size_t named = 0, open = 0, only = 0;
  for (size_t k = 0; k < sheet->n; k++) {
    const SvgLine *line = line_at(sheet, k);
    if (!line->outline.closed) {
      open++;
      only = k;
    }
    for (int i = 0; i < SIDE_N; i++)
      if (line->id && strcmp(line->id, side_id[i]) == 0 && !sheet->choice[i]) {
        sheet->choice[i] = (guint)k + 1;
        named++;
      }
  }
  if (named == 0 && open == 1)
    sheet->choice[SIDE_GINGIVAL] = (guint)only + 1;
  sheet->place = PLACE_DRAWN;
  for (int i = 0; i < SIDE_N; i++) {
    Extent e = sheet->choice[i] ? extent_of(&line_at(sheet, sheet->choice[i] - 1)->outline)
                                : (Extent){.x0 = -1, .x1 = 1};
    if (named == 0 || e.x0 >= 0 || e.x1 <= 0) /* its zero is no neck */
      sheet->place = PLACE_NECK;
  }
  return named;
}

bool svg_sheet_show(GtkWindow *parent, SoffitSession *session, const char *path, GError **error)
{
  SvgDrawing *drawing = svg_drawing_load(path, error);
  if (!drawing)
    return false;
  SvgSheet *sheet = g_new0(SvgSheet, 1);
  sheet->session = g_object_ref(session);
  sheet->drawing = drawing;
  sheet->connector = session_focus(session);
  sheet->n = MIN(drawing->line->len, LINES_SHOWN);
  if (choices_guess(sheet) == SIDE_N) {
    bool usable, sound;
    g_free(outlines_remark(sheet, &usable, &sound));
    bool plain = sound && drawing->note->len == 0 && !drawing->passed;
    if (plain && outlines_take(sheet)) {
      sheet_free(sheet);
      return true;
    }
  }
  import_sheet_build(&sheet->sheet, parent, _("Outlines from a drawing"), G_CALLBACK(take_over),
                     sheet);
  choices_build(sheet);
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(sheet->sheet.picture), draw, sheet, NULL);
  spoken_name(sheet->sheet.picture, _("The lines of the drawing with their numbers"));
  g_object_set_data_full(G_OBJECT(sheet->sheet.window), "sheet", sheet, (GDestroyNotify)sheet_free);
  state_show(sheet);
  gtk_window_present(GTK_WINDOW(sheet->sheet.window));
  gtk_widget_grab_focus(sheet->field[SIDE_GINGIVAL]);
  return true;
}
