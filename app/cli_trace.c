/* cli_trace.c - soffit-cli trace and drawing: necks and outlines off an STL surface, a connector as
 * SVG. SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/save.h"
#include "casefile/stl_file.h"
#include "casefile/svg_xml.h"
#include "cli.h"
#include "json_print.h"
#include "mesh/trace.h"
#include "ui/words.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

#define DEG (M_PI / 180)

static int write_drawing(const Outline side[SIDE_N], const char *title, bool marks,
                         const char *path)
{
  g_autoptr(GError) error = NULL;
  GString *svg = svg_from_connector(side, title, marks);
  int status = EXIT_HOLDS;
  if (svg->len == 0)
    status = cli_bad("%s", _(fault_text(FAULT_MEMORY)));
  else if (!path)
    fputs(svg->str, stdout);
  else if (!file_save(path, svg->str, svg->len, &error))
    status = cli_bad("%s", error->message);
  g_string_free(svg, TRUE);
  return status;
}

/* ---- drawing ---- */

int cli_drawing(int argc, char **argv)
{
  g_autofree char *svg = NULL;
  gboolean plain = FALSE;
  const GOptionEntry entry[] = {{"svg", 0, 0, G_OPTION_ARG_FILENAME, &svg,
                                 N_("Where to write; printed unless given"), "FILE"},
                                {"plain", 0, 0, G_OPTION_ARG_NONE, &plain,
                                 N_("Without tissue line, neck and room for the brush"), NULL},
                                G_OPTION_ENTRY_NULL};
  if (!cli_options("CASE.xml 34-35", _("The four outlines of a connector as SVG in true mm."),
                   entry, &argc, &argv))
    return EXIT_BAD;
  if (argc != 3)
    return cli_bad("%s", _("drawing needs a case and a connector, such as 34-35."));
  g_autoptr(GError) error = NULL;
  Case c;
  case_init(&c);
  int status = EXIT_HOLDS;
  if (!case_load(&c, argv[1], &error)) {
    status = cli_bad("%s", error->message);
  } else {
    size_t i = connector_named(&c, argv[2]);
    if (i == SIZE_MAX) {
      status = cli_bad(_("%s: no connector \"%s\". Name its two teeth, such as 34-35."), argv[1],
                       argv[2]);
    } else {
      char name[12];
      connector_name(&c, i, '/', name);
      g_autofree char *title = g_strdup_printf("%s %s", c.number, name);
      status = write_drawing(c.connector[i].side, title, !plain, svg);
    }
  }
  case_clear(&c);
  return status;
}

/* ---- trace ---- */

typedef struct {
  char *unit, *up, *svg;
  int quarters, neck;
  double at, yaw_deg, pitch_deg;
  gboolean end_for_end, left_handed, json;
} TraceWish;

static gboolean unit_parse(const char *text, StlUnit *unit)
{
  static const char *const word[STL_UNIT_N] = {"guess", "mm", "inch", "m"};
  for (int i = 0; i < STL_UNIT_N; i++)
    if (!text || strcmp(word[i], text) == 0) {
      *unit = (StlUnit)i;
      return TRUE;
    }
  return FALSE;
}

/* "z", "-y" */
static gboolean up_parse(const char *text, Vec3 *up)
{
  if (!text)
    text = "z";
  double sign = *text == '-' ? -1 : 1;
  text += *text == '-';
  if (strlen(text) != 1 || *text < 'x' || *text > 'z')
    return FALSE;
  *up = (Vec3){*text == 'x' ? sign : 0, *text == 'y' ? sign : 0, *text == 'z' ? sign : 0};
  return TRUE;
}

static void phrases_put(GString *line, const char *key, const Phrase note[], size_t n)
{
  if (line)
    json_open(line, key, '[');
  for (size_t i = 0; i < n; i++) {
    g_autofree char *words = words_phrase(&note[i]);
    if (line)
      json_item(line, words);
    else
      printf("  ! %s\n", words);
  }
  if (line)
    json_close(line, ']');
}

static void surface_put(const char *path, const StlReport *report, const MeshSpan *span, bool json)
{
  Vec3 size = vec3_sub(report->state.high, report->state.low);
  GString *line = json ? json_begin() : NULL;
  if (line) {
    json_text(line, "file", path);
    json_text(line, "form", report->text ? "text" : "binary");
    json_text(line, "unit", stl_unit_name(report->unit));
    json_number(line, "triangles", (double)report->triangles);
    json_number(line, "volume_mm3", report->state.volume);
    json_number(line, "open_edges", (double)report->state.open);
    json_number(line, "span_mm", span->high - span->low);
    json_number(line, "necks", (double)span->n_neck);
  } else {
    printf(_("%s: %zu triangles, %.1f x %.1f x %.1f mm, span %.1f mm, %zu necks\n"), path,
           report->triangles, size.x, size.y, size.z, span->high - span->low, span->n_neck);
  }
  phrases_put(line, "notes", report->note, report->n_note);
  if (line)
    json_end_print(line);
}

static void neck_put(const MeshSpan *span, size_t number, const Neck *neck, const Trace *trace,
                     bool json)
{
  GString *line = json ? json_begin() : NULL;
  double section = trace->section.n ? outline_area(&trace->section) : NAN;
  if (line) {
    json_number(line, "neck", (double)number);
    json_number(line, "at_mm", neck->x - span->low);
    json_number(line, "area_mm2", neck->area);
    json_number(line, "height_mm", neck->height);
    json_number(line, "width_mm", neck->width);
    json_number(line, "yaw_deg", neck->yaw / DEG);
    json_number(line, "pitch_deg", neck->pitch / DEG);
    json_number(line, "waist", neck->waist);
    json_number(line, "section_area_mm2", section);
    json_number(line, "fit_mm", trace->worst_mm);
  } else {
    printf(_("neck %zu at %.2f mm: area %.2f mm2, height %.2f mm, width %.2f mm, tilted %.1f and "
             "%.1f degrees; lines within %.3f mm\n"),
           number, neck->x - span->low, neck->area, neck->height, neck->width, neck->yaw / DEG,
           neck->pitch / DEG, trace->worst_mm);
  }
  phrases_put(line, "notes", trace->note, trace->n_note);
  if (line)
    json_end_print(line);
}

/* One neck; its outlines go to `side` when wanted. */
static Fault neck_trace(const Mesh *mesh, const MeshSpan *span, size_t number, const Neck *neck,
                        const double reach[2], const TraceWish *wish, Outline side[SIDE_N])
{
  TraceSettings settings = {{reach[0], reach[1]}, TRACE_TOLERANCE_MM, 0.05};
  Trace trace;
  trace_init(&trace);
  Fault fault = trace_connector(mesh, neck, &settings, NULL, &trace);
  if (!fault) {
    if (wish->svg == NULL || strcmp(wish->svg, "-") != 0)
      neck_put(span, number, neck, &trace, wish->json);
    Outline *const from[SIDE_N] = {&trace.gingival, &trace.occlusal, &trace.buccal, &trace.lingual};
    for (int i = 0; i < SIDE_N && side; i++) {
      side[i] = *from[i];
      outline_init(from[i]);
    }
  }
  trace_clear(&trace);
  return fault;
}

static int trace_answer(const char *path, const Mesh *mesh, const StlReport *report,
                        const MeshSpan *span, const TraceWish *wish)
{
  bool by_hand = isfinite(wish->at), printed = wish->svg && strcmp(wish->svg, "-") == 0;
  Neck hand;
  double reach[2] = {4, 4};
  if (!printed)
    surface_put(path, report, span, wish->json);
  if (by_hand) {
    Fault fault = span_neck_at(mesh, span, span->low + wish->at, wish->yaw_deg * DEG,
                               wish->pitch_deg * DEG, &hand);
    if (fault)
      return cli_bad("%s: %s", path, _(fault_text(fault)));
  } else if (span->n_neck == 0) {
    return cli_bad(
        _("%s: no neck was found along the span. Say where with --at MM, or look whether "
          "the span lies along the longest side."),
        path);
  }
  if (wish->neck < 0 || (size_t)wish->neck > span->n_neck)
    return cli_bad(_("%s: there is no neck %d; %zu were found."), path, wish->neck, span->n_neck);
  if (wish->svg && !by_hand && wish->neck == 0 && span->n_neck > 1)
    return cli_bad(_("%s: %zu necks were found. Choose one with --neck."), path, span->n_neck);
  size_t first = wish->neck ? (size_t)wish->neck - 1 : 0;
  size_t end = by_hand ? 1 : wish->neck ? first + 1 : span->n_neck;
  int status = EXIT_HOLDS;
  for (size_t i = by_hand ? 0 : first; i < end && status == EXIT_HOLDS; i++) {
    Outline side[SIDE_N] = {0};
    if (!by_hand)
      trace_reach(span, i, reach);
    Fault fault = neck_trace(mesh, span, by_hand ? 0 : i + 1, by_hand ? &hand : &span->neck[i],
                             reach, wish, wish->svg ? side : NULL);
    if (fault)
      status = cli_bad("%s: %s", path, _(fault_text(fault)));
    else if (wish->svg) {
      g_autofree char *name = g_path_get_basename(path);
      status = write_drawing(side, name, true, printed ? NULL : wish->svg);
    }
    for (int k = 0; k < SIDE_N; k++)
      outline_clear(&side[k]);
  }
  return status;
}

int cli_trace(int argc, char **argv)
{
  TraceWish wish = {.at = NAN};
  const GOptionEntry entry[] = {
      {"unit", 0, 0, G_OPTION_ARG_STRING, &wish.unit,
       N_("mm, inch or m; guessed from the size unless given"), "UNIT"},
      {"up", 0, 0, G_OPTION_ARG_STRING, &wish.up,
       N_("Axis of the file that points to the biting side: z unless given"), "AXIS"},
      {"quarters", 0, 0, G_OPTION_ARG_INT, &wish.quarters, N_("Quarter turns about the span"), "N"},
      {"end-for-end", 0, 0, G_OPTION_ARG_NONE, &wish.end_for_end,
       N_("The other end of the span comes first"), NULL},
      {"cheek-behind", 0, 0, G_OPTION_ARG_NONE, &wish.left_handed,
       N_("The cheek side lies behind, seen with the first unit at the left"), NULL},
      {"neck", 0, 0, G_OPTION_ARG_INT, &wish.neck, N_("One of those found, from 1"), "N"},
      {"at", 0, 0, G_OPTION_ARG_DOUBLE, &wish.at, N_("A plane by hand, mm from the first end"),
       "MM"},
      {"yaw", 0, 0, G_OPTION_ARG_DOUBLE, &wish.yaw_deg, N_("Its tilt towards the cheek"), "DEG"},
      {"pitch", 0, 0, G_OPTION_ARG_DOUBLE, &wish.pitch_deg, N_("Its tilt upwards"), "DEG"},
      {"svg", 0, 0, G_OPTION_ARG_FILENAME, &wish.svg,
       N_("Where to write the four outlines; - prints them"), "FILE"},
      {"json", 0, 0, G_OPTION_ARG_NONE, &wish.json, N_("One JSON object a line"), NULL},
      G_OPTION_ENTRY_NULL};
  if (!cli_options("FILE.stl", _("Necks of a bridge and their outlines, from an STL surface."),
                   entry, &argc, &argv))
    return EXIT_BAD;
  StlUnit unit = STL_UNIT_GUESS;
  Vec3 up = {0, 0, 1};
  int status = EXIT_HOLDS;
  if (argc != 2)
    status = cli_bad("%s", _("trace needs one STL file."));
  else if (!unit_parse(wish.unit, &unit))
    status = cli_bad("%s", _("--unit is mm, inch or m."));
  else if (!up_parse(wish.up, &up))
    status = cli_bad("%s", _("--up is x, y, z, -x, -y or -z."));
  if (status == EXIT_HOLDS) {
    g_autoptr(GError) error = NULL;
    Mesh mesh = {0};
    StlReport report;
    MeshFrame frame;
    MeshSpan *span = g_new0(MeshSpan, 1);
    if (!stl_load(argv[1], unit, NULL, &mesh, &report, &error)) {
      status = cli_bad("%s", error->message);
    } else {
      Fault fault = mesh_frame_guess(&mesh, up, wish.left_handed, &frame);
      if (!fault) {
        frame = mesh_frame_turned(frame, wish.quarters, wish.end_for_end);
        fault = span_find(&mesh, &frame, NULL, span);
      }
      status = fault ? cli_bad("%s: %s", argv[1], _(fault_text(fault)))
                     : trace_answer(argv[1], &mesh, &report, span, &wish);
    }
    mesh_clear(&mesh);
    g_free(span);
  }
  g_free(wish.unit);
  g_free(wish.up);
  g_free(wish.svg);
  return status;
}
