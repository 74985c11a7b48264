/* cli_shape.c - soffit-cli outline and connector: bare shapes from SVG files.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/tolerance.h"
#include "casefile/svg_xml.h"
#include "cli.h"
#include "json_print.h"
#include "mechanics/plane.h"
#include "mechanics/section.h"
#include "mechanics/solid.h"
#include "outline/form.h"
#include "ui/words.h"
#include <math.h>
#include <stdio.h>

#define YOUNG_MPA 205000.0 /* 3Y-TZP; the stress of these models does not depend on it */
#define POISSON 0.31

static double milliseconds(gint64 start)
{
  return (double)(g_get_monotonic_time() - start) / 1e3;
}

/* Prints a line of the human form or of JSON from the same list of values. */
typedef struct {
  const char *key;
  double value;
} Reading;

static void readings_put(GString *json, const Reading *reading, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    if (json)
      json_number(json, reading[i].key, reading[i].value);
    else
      printf("  %-18s %.6g\n", reading[i].key, reading[i].value);
  }
}

static void place_put(GString *json, const char *key, double x, double y)
{
  if (json) {
    json_open(json, key, '[');
    json_value(json, x);
    json_value(json, y);
    json_close(json, ']');
  } else
    printf("  %-18s %.4f, %.4f\n", key, x, y);
}

static int bad_shape(const char *path, Point where, Fault fault)
{
  if (!point_finite(where))
    return cli_bad("%s: %s", path, _(fault_text(fault)));
  return cli_bad(_("%s: at x %.2f, y %.2f: %s"), path, where.x, -where.y, _(fault_text(fault)));
}

int cli_outline(int argc, char **argv)
{
  double bend = NAN, shear = 0, thickness = 1;
  gboolean json = FALSE;
  const GOptionEntry entry[] = {
      {"bend", 0, 0, G_OPTION_ARG_DOUBLE, &bend,
       N_("Moment at the neck; positive stretches the lower edge"), "N_MM"},
      {"shear", 0, 0, G_OPTION_ARG_DOUBLE, &shear, N_("Shear force at the neck"), "N"},
      {"thickness", 0, 0, G_OPTION_ARG_DOUBLE, &thickness, N_("Thickness, 1 unless given"), "MM"},
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("One JSON object a line"), NULL},
      G_OPTION_ENTRY_NULL};
  if (!cli_options("FILE.svg", _("Plane answer for one closed path in mm."), entry, &argc, &argv))
    return EXIT_BAD;
  if (argc != 2 || !isfinite(bend) || !isfinite(shear))
    return cli_bad("%s", _("outline needs one SVG file and --bend N_MM."));
  if (!(thickness > 0 && thickness < MAX_SIZE_MM))
    return cli_bad(_("--thickness must be between 0 and %g mm."), MAX_SIZE_MM);
  gint64 start = g_get_monotonic_time();
  Outline silhouette;
  outline_init(&silhouette);
  g_autoptr(GError) error = NULL;
  if (!svg_load_silhouette(argv[1], &silhouette, &error)) {
    outline_clear(&silhouette);
    return cli_bad("%s", error->message);
  }
  PlaneWork *work = NULL;
  PlaneSettings settings = {YOUNG_MPA, POISSON, PLANE_FINENESS};
  Field *field = NULL;
  PlaneReading r;
  Point where = {NAN, NAN};
  Peak peak;
  Fault fault = plane_work_new(&work);
  if (!fault)
    fault = plane_silhouette(work, &silhouette, thickness, &settings, &field, &r, &where);
  if (!fault)
    fault = field_peak(field, (NeckLoad){bend, shear}, &peak);
  if (fault)
    bad_shape(argv[1], where, fault);
  else {
    double nominal = fabs(bend) * r.nominal_per_n_mm;
    Reading reading[] = {{"neck_height_mm", r.neck_height},
                         {"nominal_mpa", nominal},
                         {"peak_mpa", peak.mpa},
                         {"factor", nominal > 0 ? peak.mpa / nominal : NAN}};
    Reading more[] = {{"roof_radius_mm", r.roof_radius},
                      {"nodes", (double)r.nodes},
                      {"error_percent", fmax(r.error_percent, peak.band_percent)},
                      {"milliseconds", milliseconds(start)}};
    GString *line = json ? json_begin() : NULL;
    readings_put(line, reading, G_N_ELEMENTS(reading));
    place_put(line, "peak_at_mm", peak.at.x, -peak.at.y); /* as in the SVG */
    readings_put(line, more, G_N_ELEMENTS(more));
    if (line)
      json_end_print(line);
  }
  field_unref(field);
  plane_work_free(work);
  outline_clear(&silhouette);
  return fault ? EXIT_BAD : EXIT_HOLDS;
}

static void answer_put(GString *json, const char *name, const Field *field, NeckLoad load,
                       double nominal, double ms)
{
  Peak peak;
  if (field_peak(field, load, &peak))
    return;
  Reading reading[] = {{"peak_mpa", peak.mpa},
                       {"factor", nominal > 0 ? peak.mpa / nominal : NAN},
                       {"band_percent", peak.band_percent},
                       {"unknowns", (double)field->unknowns},
                       {"milliseconds", ms},
                       {"seconds", ms / 1000}};
  if (json)
    json_open(json, name, '{');
  else
    printf("%s:\n", name);
  readings_put(json, reading, G_N_ELEMENTS(reading));
  if (json)
    json_close(json, '}');
}

/* "2,4" */
static gboolean roundness_parse(const char *text, double *neck, double *body)
{
  char *end = NULL;
  *neck = g_ascii_strtod(text, &end);
  if (end == text || *end != ',')
    return FALSE;
  const char *second = end + 1;
  *body = g_ascii_strtod(second, &end);
  return end != second && *end == '\0' && *neck >= 1.5 && *neck <= 8 && *body >= 1.5 && *body <= 8;
}

int cli_connector(int argc, char **argv)
{
  double bend = NAN, shear = 0, neck = 2, body = 4;
  gboolean json = FALSE, plane = FALSE, fine = FALSE;
  g_autofree char *roundness = NULL;
  const GOptionEntry entry[] = {
      {"bend", 0, 0, G_OPTION_ARG_DOUBLE, &bend,
       N_("Moment at the neck; positive stretches the gum side"), "N_MM"},
      {"shear", 0, 0, G_OPTION_ARG_DOUBLE, &shear, N_("Shear force at the neck"), "N"},
      {"roundness", 0, 0, G_OPTION_ARG_STRING, &roundness,
       N_("Exponents of the section, 2,4 unless given"), "NECK,BODY"},
      {"plane", 0, 0, G_OPTION_ARG_NONE, &plane, N_("Also the plane answer"), NULL},
      {"fine", 0, 0, G_OPTION_ARG_NONE, &fine, N_("Converged answer on a finer mesh"), NULL},
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("One JSON object a line"), NULL},
      G_OPTION_ENTRY_NULL};
  if (!cli_options("FILE.svg",
                   _("Solid answer for four open paths: gingival, occlusal, buccal, lingual; and a "
                     "closed one, section, if the neck's section is drawn."),
                   entry, &argc, &argv))
    return EXIT_BAD;
  if (argc != 2 || !isfinite(bend) || !isfinite(shear))
    return cli_bad("%s", _("connector needs one SVG file and --bend N_MM."));
  if (roundness && !roundness_parse(roundness, &neck, &body))
    return cli_bad("%s", _("--roundness needs two numbers from 1.5 to 8, such as 2,4."));

  Outline side[SIDE_N], section_drawn;
  outline_init(&section_drawn);
  for (int i = 0; i < SIDE_N; i++)
    outline_init(&side[i]);
  g_autoptr(GError) error = NULL;
  Fault fault = FAULT_NONE;
  Form form;
  Section section;
  Loft *loft = NULL;
  SolidWork *solid_work = NULL;
  PlaneWork *plane_work = NULL;
  Field *solid = NULL, *flat = NULL;
  Point where = {NAN, NAN};
  int status = EXIT_HOLDS;
  if (!svg_load_connector(argv[1], side, &section_drawn, &error)) {
    status = cli_bad("%s", error->message);
    goto out;
  }
  const Outline *drawn = section_drawn.n > 0 ? &section_drawn : NULL;
  if (drawn && roundness)
    fprintf(stderr, "%s\n", _("The neck's section is drawn: its roundness is not used."));
  fault = form_read(&side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &side[SIDE_BUCCAL],
                    &side[SIDE_LINGUAL], NULL, &form, &where);
  if (!fault)
    fault = section_neck(drawn, form.neck_height / 2, form.neck_height / 2, form.neck_buccal,
                         form.neck_lingual, neck, form.neck_y, &section);
  LoftInput input = {&side[SIDE_GINGIVAL],
                     &side[SIDE_OCCLUSAL],
                     &side[SIDE_BUCCAL],
                     &side[SIDE_LINGUAL],
                     fault ? 0 : form.neck_x,
                     neck,
                     body,
                     drawn};
  double solid_ms = 0, plane_ms = 0;
  if (!fault)
    fault = solid_work_new(&solid_work);
  if (!fault) {
    gint64 start = g_get_monotonic_time();
    SolidSettings settings = {YOUNG_MPA, POISSON, fine ? SOLID_FINE : SOLID_FULL, NULL, NULL};
    Vec3 at = {NAN, NAN, NAN};
    fault = loft_new(&input, &loft, &where);
    if (!fault && (fault = solid_solve(solid_work, loft, &settings, &solid, &at)))
      where = point(at.x, at.y);
    solid_ms = milliseconds(start);
  }
  bool refused = fault == FAULT_FOLD; /* the ribs do not fit: the plane answer stands in */
  if (refused || (plane && !fault)) {
    gint64 start = g_get_monotonic_time();
    PlaneSettings settings = {YOUNG_MPA, POISSON, PLANE_FINENESS};
    PlaneReading reading;
    fault = plane_work_new(&plane_work);
    if (!fault)
      fault = plane_connector(plane_work, &input, &settings, &flat, &reading, &where);
    plane_ms = milliseconds(start);
  }
  if (fault) {
    status = bad_shape(argv[1], where, fault);
    goto out;
  }
  NeckLoad load = {bend, shear};
  double nominal = fabs(bend) / (bend >= 0 ? section.w_gingival : section.w_occlusal);
  Reading reading[] = {{"neck_height_mm", form.neck_height},
                       {"neck_width_mm", section.width},
                       {"neck_area_mm2", section.area},
                       {"roof_radius_mm", form.roof_radius.value},
                       {"i_mm4", section.i_z},
                       {"w_gingival_mm3", section.w_gingival},
                       {"w_occlusal_mm3", section.w_occlusal},
                       {"torsion_mm4", section.torsion},
                       {"nominal_mpa", nominal}};
  GString *line = json ? json_begin() : NULL;
  readings_put(line, reading, G_N_ELEMENTS(reading));
  if (solid)
    answer_put(line, "solid", solid, load, nominal, solid_ms);
  if (flat)
    answer_put(line, "plane", flat, load, nominal, plane_ms);
  if (line)
    json_end_print(line);
out:
  field_unref(solid);
  field_unref(flat);
  solid_work_free(solid_work);
  plane_work_free(plane_work);
  loft_free(loft);
  for (int i = 0; i < SIDE_N; i++)
    outline_clear(&side[i]);
  outline_clear(&section_drawn);
  return status;
}
