/* fake_assessment.c - see fake_assessment.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "fake_assessment.h"
#include <string.h>

#define NX 150
#define NY 38
#define NECK_RINGS 24
#define NECK_SPOKES 72

typedef struct {
  double foot, corner, radius, groove, width, moment, peak, order_peak;
} Neck;

/* feet, roof and radius, groove: demo case; moments and peaks at 175 N and 600 N: the look's table
 */
static const Neck neck_of[3] = {{1.4, 2.9, 0.2, 6, 3.1, 194, 172, 590},
                                {1.5, 3.0, 0.2, 6, 3.2, 686, 612, 2098},
                                {1.4, 2.7, 0.25, 5.7, 3.1, 497, 407, 1395}};

static void sheet_alloc(FieldSheet *s, size_t n_vertex, size_t n_triangle)
{
  s->n_vertex = n_vertex;
  s->n_triangle = n_triangle;
  s->at = calloc(n_vertex, sizeof *s->at);
  s->stress = calloc(n_vertex, sizeof *s->stress);
  s->corner = calloc(n_triangle, sizeof *s->corner);
}

static void sheet_cells(FieldSheet *s, size_t nx, size_t ny)
{
  size_t k = 0;
  for (size_t i = 0; i < nx; i++)
    for (size_t j = 0; j < ny; j++) {
      uint32_t a = (uint32_t)(i * (ny + 1) + j), b = a + 1, c = a + (uint32_t)ny + 1, d = c + 1;
      memcpy(s->corner[k++], (uint32_t[3]){a, c, d}, sizeof(uint32_t[3]));
      memcpy(s->corner[k++], (uint32_t[3]){a, b, d}, sizeof(uint32_t[3])); /* wound the other way */
    }
}

void fake_sheet(FieldSheet *s, Point low, Point high, size_t nx, size_t ny)
{
  sheet_alloc(s, (nx + 1) * (ny + 1), 2 * nx * ny);
  for (size_t i = 0; i <= nx; i++)
    for (size_t j = 0; j <= ny; j++)
      s->at[i * (ny + 1) + j] = point(low.x + (high.x - low.x) * (double)i / (double)nx,
                                      low.y + (high.y - low.y) * (double)j / (double)ny);
  sheet_cells(s, nx, ny);
}

/* y of an outline at x, by bisection of samples; lowest = the lower one where it doubles back. */
static double outline_y(const Outline *o, double x)
{
  double last = (double)outline_pieces(o), low = 0, high = last;
  for (int i = 0; i < 50; i++) {
    double t = (low + high) / 2;
    if (outline_at(o, t).x < x)
      low = t;
    else
      high = t;
  }
  return outline_at(o, low).y;
}

static void stress_set(float s[6], double value, double angle)
{
  s[0] = (float)(value * cos(angle) * cos(angle));
  s[1] = (float)(value * sin(angle) * sin(angle));
  s[3] = (float)(value * sin(angle) * cos(angle));
}

/* Bending over the height there, brightened near the roof, pull along the gum-side outline. */
static void elevation_fill(FieldSheet *s, const Connector *c, const Neck *n, double roof,
                           double from, double to)
{
  const Outline *gum = &c->side[SIDE_GINGIVAL], *top = &c->side[SIDE_OCCLUSAL];
  sheet_alloc(s, (NX + 1) * (NY + 1), 2 * NX * NY);
  for (size_t i = 0; i <= NX; i++) {
    double u = 2.0 * (double)i / NX - 1, w = 0.25 * u + 0.75 * u * u * u; /* crowded at the neck */
    double x = w < 0 ? -w * from : w * to, low = outline_y(gum, x), high = outline_y(top, x);
    double slope = (outline_y(gum, x + 0.05) - outline_y(gum, x - 0.05)) / 0.1, h = high - low;
    for (size_t j = 0; j <= NY; j++) {
      double v = pow((double)j / NY, 1.6), y = low + v * h, d = hypot(x, y - roof);
      double plain = -(y - (low + high) / 2) * 12 / (n->width * h * h * h);
      double bright = 1 + 2.0 * exp(-d / 0.35),
             shelter = 1 - 0.9 * exp(-(y < roof ? (roof - y) * fabs(x) : 0));
      size_t k = i * (NY + 1) + j;
      s->at[k] = point(x, y);
      stress_set(s->stress[k][UNIT_BEND],
                 plain * (plain > 0 ? bright * (y < roof ? shelter : 1) : 1),
                 atan(slope) * (1 - v) * exp(-d / 2.5));
    }
  }
  sheet_cells(s, NX, NY);
}

static void neck_fill(FieldSheet *s, const Neck *n, double roof)
{
  double h = n->groove - roof;
  sheet_alloc(s, 1 + NECK_RINGS * NECK_SPOKES, NECK_SPOKES * (2 * NECK_RINGS - 1));
  s->at[0] = point(0, (n->groove + roof) / 2);
  for (size_t i = 0; i < NECK_RINGS * NECK_SPOKES; i++) {
    double r = (double)(i / NECK_SPOKES + 1) / NECK_RINGS,
           a = 2 * G_PI * (double)(i % NECK_SPOKES) / NECK_SPOKES;
    Point p = point(n->width / 2 * r * cos(a), s->at[0].y + h / 2 * r * sin(a));
    double plain = -(p.y - s->at[0].y) * 12 / (n->width * h * h * h);
    s->at[i + 1] = p;
    s->stress[i + 1][UNIT_BEND][0] =
        (float)(plain * (plain > 0 ? 1 + 2 * exp(-(p.y - roof) / 0.35) : 1));
  }
  size_t k = 0;
  for (uint32_t i = 0; i < NECK_SPOKES; i++) {
    uint32_t next = (i + 1) % NECK_SPOKES;
    memcpy(s->corner[k++], (uint32_t[3]){0, 1 + i, 1 + next}, sizeof(uint32_t[3]));
    for (uint32_t r = 1; r < NECK_RINGS; r++) {
      uint32_t in = 1 + (r - 1) * NECK_SPOKES, out = 1 + r * NECK_SPOKES;
      memcpy(s->corner[k++], (uint32_t[3]){in + i, out + i, out + next}, sizeof(uint32_t[3]));
      memcpy(s->corner[k++], (uint32_t[3]){in + i, in + next, out + next}, sizeof(uint32_t[3]));
    }
  }
}

static void gum_side_fill(FieldSheet *s, const Connector *c, const Neck *n, double roof)
{
  fake_sheet(s, point(-3, -1), point(3, 1), 60, 30);
  double h = n->groove - roof;
  for (size_t i = 0; i < s->n_vertex; i++) {
    double x = s->at[i].x, v = s->at[i].y;
    s->at[i].y =
        v * (v > 0 ? outline_y(&c->side[SIDE_BUCCAL], x) : -outline_y(&c->side[SIDE_LINGUAL], x));
    s->stress[i][UNIT_BEND][0] =
        (float)(3 * 6 / (n->width * h * h) * exp(-fabs(x) / 0.4) * (1 - 0.3 * v * v));
  }
}

static void corners(Outline *o, const Corner corner[], size_t n)
{
  g_assert_cmpint(outline_from_corners(o, corner, n), ==, FAULT_NONE);
}

static void connector_fill(Connector *c, const Unit *before, const Unit *after, const Neck *n)
{
  double l = before->length / 2, r = after->length / 2, half = n->width / 2;
  corners(&c->side[SIDE_GINGIVAL],
          (Corner[]){
              {-l, 0, 0}, {-n->foot, 0, 0}, {0, n->corner, n->radius}, {n->foot, 0, 0}, {r, 0, 0}},
          5);
  corners(&c->side[SIDE_OCCLUSAL],
          (Corner[]){{-l, before->height, 0},
                     {-1.5, before->height, 0.6},
                     {0, n->groove - 0.25, 0.4},
                     {1.5, after->height, 0.6},
                     {r, after->height, 0}},
          5);
  for (int side = 0; side < 2; side++) {
    double sign = side ? -1 : 1;
    corners(&c->side[side ? SIDE_LINGUAL : SIDE_BUCCAL],
            (Corner[]){{-l, sign * before->width / 2, 0},
                       {-1.3, sign * before->width / 2, 0.5},
                       {0, sign * (half - 0.62), 0.5},
                       {1.3, sign * after->width / 2, 0.5},
                       {r, sign * after->width / 2, 0}},
            5);
  }
  c->neck_width = n->width;
}

/* Invented: eight inputs, each a little less wide; seven steps, one of them a gain. */
static void why_fill(ConnectorAssessment *out)
{
  static const double factor[FALL_N] = {0.56, 0.88, 0.59, 1.12, 0.64, 1, 0.64};
  out->service_margin = banded(0.37, 0.26, 0.75);
  out->service_chance_percent = banded(88, 52, 100);
  out->trial_service_chance_percent = banded(66, 20, 99);
  out->service_scratch_um = banded(1.4, 0.8, 2.2);
  out->trial_service_scratch_um = banded(18, 9, 30);
  out->n_driver = INPUT_N;
  for (int i = 0; i < INPUT_N; i++) {
    double wide = 0.5 - 0.05 * i;
    out->driver[i] = (ChanceDriver){
        .input = {(InputKind)i, FINISH_AS_MILLED, {1, 1 - wide, 1 + wide, "a source"}},
        .at_low = {{0.6, 0, 90}, {0.37 * (1 - wide), 0, 99}},
        .at_high = {{0.6, 0, 30}, {0.37 * (1 + wide), 0, 40}}};
  }
  out->waterfall = (Waterfall){.known = true, .best = 3.1, .most = FALL_HEIGHT};
  double margin = out->waterfall.best;
  for (int i = 0; i < FALL_N; i++) {
    margin *= factor[i];
    out->waterfall.step[i] = (FallStep){.kind = (FallKind)i,
                                        .before = 4,
                                        .after = 3,
                                        .finish = FINISH_AS_MILLED,
                                        .bites_a_day = 700,
                                        .margin = margin,
                                        .factor = banded_percent(factor[i], 8)};
  }
}

static void answer_fill(ConnectorAssessment *out, const Connector *c, const Neck *n,
                        const Unit *before, const Unit *after)
{
  const Outline *side = c->side;
  g_assert_cmpint(form_read(&side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &side[SIDE_BUCCAL],
                            &side[SIDE_LINGUAL], NULL, &out->form, NULL),
                  ==, FAULT_NONE);
  out->field = field_new();
  out->field->answer = ANSWER_SOLID;
  out->field->band_percent = 2;
  double roof = out->form.roof.y;
  elevation_fill(&out->field->sheet[SHEET_ELEVATION], c, n, roof, -before->length / 2,
                 after->length / 2);
  neck_fill(&out->field->sheet[SHEET_NECK], n, roof);
  gum_side_fill(&out->field->sheet[SHEET_GUM_SIDE], c, n, roof);
  FieldSheet *sheet = &out->field->sheet[SHEET_ELEVATION];
  double most = 0;
  for (size_t i = 0; i < sheet->n_vertex; i++)
    most = fmax(most, (double)sheet->stress[i][UNIT_BEND][0]);
  out->trial.moment_n_mm = n->peak / most; /* of the made-up field */
  out->order.moment_n_mm = n->order_peak / most;
  double to_true = n->moment / out->trial.moment_n_mm; /* figures show the true moments */
  for (int k = 0; k < SHEET_N; k++)
    for (size_t i = 0; i < out->field->sheet[k].n_vertex; i++)
      for (int j = 0; j < 6; j++)
        out->field->sheet[k].stress[i][UNIT_BEND][j] /= (float)to_true;
  out->trial.moment_n_mm *= to_true;
  out->order.moment_n_mm *= to_true;
  out->peak.at = (Vec3){out->form.roof.x, out->form.roof.y, 0};
  out->peak.mpa = n->order_peak;
  out->trial_peak = out->peak;
  out->trial_peak.mpa = n->peak;
  out->peak_mpa = banded_percent(n->order_peak, 2);
  out->trial_peak_mpa = banded_percent(n->peak, 2);
  out->strength_mpa = banded(480, 440, 530);
  out->margin = banded(480 / n->order_peak, 440 / n->order_peak, 530 / n->order_peak);
  out->trial_margin = banded(480 / n->peak, 440 / n->peak, 530 / n->peak);
  out->carries_n =
      banded(600 * 480 / n->order_peak, 600 * 440 / n->order_peak, 600 * 530 / n->order_peak);
  out->chance_percent = banded(99, 90, 100);
  out->trial_chance_percent = banded(44, 19, 75);
  out->scratch_um = banded(3.4, 2.8, 4.2);
  out->trial_scratch_um = banded(40, 32, 48);
  out->section.area = G_PI / 4 * n->width * out->form.neck_height;
  out->section.height = out->form.neck_height;
  out->section.width = n->width;
  out->limits = (ConnectorLimits){SPAN_BACK_TWO, 12, 4, 5};
  out->cutter_shortfall = 0.25;
  out->nominal_mpa = n->order_peak / 3;
  out->bench_multiplier = 3;
  out->order_x = 19.5;
  why_fill(out);
  out->verdict = VERDICT_REWORK;
}

static void advice_fill(Assessment *a)
{
  static const struct {
    AdviceKind kind;
    const char *act, *why;
    double gain, low, high, value;
  } list[] = {
      {ADVICE_ROUND, "Round the roof to {0.2}", "Turn the V into a U, feet stay", 73, 66, 80, 0.75},
      {ADVICE_POLISH, "Polish the gum side", "High gloss, before stain", 56, 0, 90, 0},
      {ADVICE_LOWER, "Lower the roof to {0.1}", "Height counts twice", 50, 45, 55, 1.7},
      {ADVICE_BEST, "Best outline, same room", "Dashed on the drawing", 28, 22, 33, 0},
      {ADVICE_WIDEN, "Widen the neck to {0.1}", "Towards the tongue side", 13, 11, 15, 3.6}};
  a->n_advice = G_N_ELEMENTS(list);
  a->advice = g_new0(Advice, a->n_advice);
  for (size_t i = 0; i < a->n_advice; i++) {
    a->advice[i] = (Advice){.kind = list[i].kind, .connector = 1, .target = list[i].value};
    a->advice[i].act = (Phrase){.text = list[i].act, .value = {list[i].value}, .place = "35/36"};
    a->advice[i].why = (Phrase){.text = list[i].why};
    a->advice[i].gain_percent = banded(list[i].gain, list[i].low, list[i].high);
    a->advice[i].side = -1;
  }
  corners(&a->advice[3].ghost,
          (Corner[]){{-3.5, 0, 0},
                     {-1.5, 0, 0.3},
                     {-0.85, 2.76, 0.9},
                     {0.85, 2.76, 0.9},
                     {1.5, 0, 0.3},
                     {5.5, 0, 0}},
          6);
  corners(&a->advice[4].ghost,
          (Corner[]){{-3.5, 4, 0}, {-1.3, 4, 0.5}, {0, 1.8, 0.5}, {1.3, 5.25, 0.5}, {5.5, 5.25, 0}},
          5);
}

static bool never(const Facts *facts, size_t connector, double shown[4])
{
  (void)facts, (void)connector, (void)shown;
  return false;
}

static void rules_fill(Assessment *a)
{
  static const Rule sharp = {"roof-too-sharp",
                             STEP_DRAWING,
                             SEVERITY_STOP,
                             false,
                             false,
                             never,
                             "Roof too sharp: {0.2} of {1.2} mm",
                             "Round the roof.",
                             "A sharp roof gathers stress.",
                             "radius before and after",
                             "K6",
                             "common practice, no source"};
  static const Rule small = {"neck-area-short",
                             STEP_DRAWING,
                             SEVERITY_STOP,
                             false,
                             false,
                             never,
                             "Neck too small: {0.1} of {1.1} mm²",
                             "Lower the roof or widen the neck.",
                             "A small neck bends further.",
                             "area before and after",
                             "K1 K2",
                             "common practice, no source"};
  a->fired = g_array_new(FALSE, TRUE, sizeof(FiredRule));
  a->worklist = g_array_new(FALSE, TRUE, sizeof(WorkItem));
  for (size_t i = 0; i < 3; i++) {
    FiredRule fired[2] = {{&sharp, i, {0.2, 0.45}}, {&small, i, {8.2, 12}}};
    g_array_append_vals(a->fired, fired, 2);
  }
  static const Tick tick = {(char *)"read-order", (char *)"ID", (char *)"2024-03-04T08:30:00Z"};
  static const struct {
    const char *act, *why, *caution;
    JobStep step;
    Severity severity;
  } list[] = {{"Order read, brush 1.1 noted", "", "", STEP_INTAKE, SEVERITY_NOTE},
              {"Redraw three roofs", "then ask the supervisor", "K6", STEP_DRAWING, SEVERITY_STOP},
              {"Smooth the roofs while soft", "Steps removed now cost seconds", "K1", STEP_SOFT,
               SEVERITY_LOOK},
              {"Fire with the span supported", "", "K3", STEP_FIRING, SEVERITY_NOTE},
              {"Polish the gum side before stain", "Unpolished roofs break first", "K1 K2",
               STEP_FINISHING, SEVERITY_STOP},
              {"Dye and light check on every neck", "", "K7", STEP_LAST_LOOK, SEVERITY_STOP}};
  for (size_t i = 0; i < G_N_ELEMENTS(list); i++) {
    WorkItem item = {
        .step = list[i].step, .caution = list[i].caution, .severity = list[i].severity};
    item.act.text = list[i].act;
    item.why.text = list[i].why;
    item.state = i == 0 ? WORK_DONE : i == 1 ? WORK_NOW : WORK_WAITS;
    item.tick = i == 0 ? &tick : NULL;
    g_array_append_val(a->worklist, item);
  }
}

static void curve_fill(Assessment *a)
{
  static const double x[] = {3.5, 7, 14, 19.5, 25, 30.25}, m[] = {0, 194, 686, 1010, 497, 0};
  a->n_curve = G_N_ELEMENTS(x);
  a->curve_x = g_memdup2(x, sizeof x);
  a->curve_moment = g_memdup2(m, sizeof m);
}

Assessment *fake_assessment_new(void)
{
  static const Unit unit[4] = {
      {.tooth = 34, .role = ROLE_ABUTMENT, .length = 7, .width = 7.5, .height = 8.5},
      {.tooth = 35, .role = ROLE_PONTIC, .length = 7, .width = 8, .height = 8},
      {.tooth = 36, .role = ROLE_PONTIC, .length = 11, .width = 10.5, .height = 7.5},
      {.tooth = 37, .role = ROLE_ABUTMENT, .length = 10.5, .width = 10, .height = 7}};
  Assessment *a = g_new0(Assessment, 1);
  Case *c = &a->c;
  case_init(c);
  g_free(c->number);
  g_free(c->title);
  c->number = g_strdup("QB-02");
  c->title = g_strdup("Four units with V embrasures");
  memcpy(c->unit, unit, sizeof unit);
  c->n_unit = 4;
  c->order_load_n = 600;
  c->trial = (CaseLoad){19.5, 175};
  c->enlargement = 1.25;
  c->cutter_diameter = 1.0;
  c->brush_mm = 1.1;
  g_strlcpy(c->material.name, "class 5, 3Y type", sizeof c->material.name);
  g_strlcpy(c->material.source, "invented for the test", sizeof c->material.source);
  a->n_connector = 3;
  for (size_t i = 0; i < 3; i++) {
    connector_fill(&c->connector[i], &unit[i], &unit[i + 1], &neck_of[i]);
    answer_fill(&a->connector[i], &c->connector[i], &neck_of[i], &unit[i], &unit[i + 1]);
    g_snprintf(a->connector[i].name, sizeof a->connector[i].name, "%d/%d", unit[i].tooth,
               unit[i + 1].tooth);
  }
  a->weakest = 1;
  a->verdict = VERDICT_REWORK;
  a->carries_n = a->connector[1].carries_n;
  a->together_n = banded(660, 420, 800);
  a->trial_x = 19.5;
  a->span_length = 35.5;
  memcpy(a->neck_x, (double[3]){7, 14, 25}, sizeof(double[3]));
  a->facts.c = c;
  a->grade = ASSESS_REST;
  a->refs = 1;
  curve_fill(a);
  advice_fill(a);
  rules_fill(a);
  return a;
}

void fake_assessment_free(Assessment *a)
{
  for (size_t i = 0; i < a->n_connector; i++)
    field_unref(a->connector[i].field);
  for (size_t i = 0; i < a->n_advice; i++)
    outline_clear(&a->advice[i].ghost);
  g_free(a->advice);
  g_free(a->curve_x);
  g_free(a->curve_moment);
  g_array_unref(a->fired);
  g_array_unref(a->worklist);
  case_clear(&a->c);
  g_free(a);
}
