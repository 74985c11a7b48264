/* chance.c - inputs with their scatter, risk as a function of all of them, bands and drivers.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Random numbers: splitmix64 (Steele, Lea and Flood 2014, from memory) from a fixed seed, made
 * normal by Box and Muller. */
#include "strength/chance.h"
#include "base/random.h"
#include "base/phrase.h"
#include "strength/bars_scatter.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FIVE_OF_HUNDRED 0.051293294387550533 /* -ln 0.95 */
#define MOST_Z 3.5                           /* draws beyond are cut: one in two thousand */
#define NODE_SPAN 0.6                        /* ln m +- this, and MOST_Z of the modulus   */
#define SEED UINT64_C(0x9e3779b97f4a7c15)
#define BARS SURFACE_N /* the curve of the bars */

static const struct {
  const char *id, *name;
} input_table[INPUT_N] = {
    [INPUT_STRENGTH] = {"strength", N_("strength of the bars")},
    [INPUT_MODULUS] = {"modulus", N_("spread of the bars, m")},
    [INPUT_FINISH] = {"finish", N_("finish")},
    [INPUT_LOAD] = {"load", N_("bite")},
    [INPUT_SUPPORT] = {"support", N_("hold of the teeth")},
    [INPUT_FIELD] = {"field", N_("calculation")},
    [INPUT_TRACE] = {"photo", N_("scale of the photo")},
    [INPUT_DRAWN] = {"drawn", N_("roof as drawn")},
    [INPUT_EXPONENT] = {"exponent", N_("growth in water, n")},
    [INPUT_THRESHOLD] = {"threshold", N_("threshold of growth")},
    [INPUT_BITES] = {"bites", N_("number of bites")},
};

const char *input_id(InputKind kind)
{
  return (unsigned)kind < INPUT_N ? input_table[kind].id : "";
}

const char *input_name(InputKind kind)
{
  return (unsigned)kind < INPUT_N ? input_table[kind].name : "";
}

/* ---- risk as a function of the modulus ---- */

/* Chebyshev nodes -cos((2 k + 1) pi / 10) and their barycentric weights (-1)^k sin(the same). */
static const double node[RISK_NODES] = {-0.95105651629515357, -0.58778525229247313, 0,
                                        0.58778525229247313, 0.95105651629515357},
                    node_weight[RISK_NODES] = {0.30901699437494742, -0.80901699437494742, 1,
                                               -0.80901699437494742, 0.30901699437494742};

static void table_make(const Field *field, NeckLoad load, const Material *material, RiskTable *t)
{
  double m[RISK_NODES], sum[RISK_NODES][SURFACE_N];
  Banded ratio = bars_modulus_ratio(material_bars(material));
  double most = fmax(log(ratio.high), -log(ratio.low)) * MOST_Z / CHANCE_END_Z;
  *t = (RiskTable){.modulus = material->weibull, .span = fmax(NODE_SPAN, most)};
  for (int k = 0; k < RISK_NODES; k++)
    m[k] = material->weibull * exp(t->span * node[k]);
  weibull_zone_sums_at(field, load, m, RISK_NODES, sum);
  for (int c = 0; c < RISK_CURVES; c++) {
    t->used[c] = true;
    for (int k = 0; k < RISK_NODES; k++) {
      Material bars = *material;
      bars.weibull = m[k];
      double value = c == BARS ? material_bar_surface(&bars) : sum[k][c];
      t->used[c] = t->used[c] && value > 0 && isfinite(value);
      t->rest[c][k] = log(value);
    }
    const int last = RISK_NODES - 1;
    t->slope[c] = (t->rest[c][last] - t->rest[c][0]) / (m[last] - m[0]);
    for (int k = 0; k < RISK_NODES; k++)
      t->rest[c][k] -= t->slope[c] * m[k];
  }
}

/* ln of every curve at modulus m: Lagrange's polynomial in its barycentric form. */
static void table_at(const RiskTable *t, double m, double value_log[RISK_CURVES])
{
  double x = log(m / t->modulus) / t->span, weight[RISK_NODES], all = 0;
  for (int k = 0; k < RISK_NODES; k++) {
    double d = x - node[k];
    if (fabs(d) < 1e-12) {
      memset(weight, 0, sizeof weight);
      weight[k] = all = 1;
      break;
    }
    weight[k] = node_weight[k] / d;
    all += weight[k];
  }
  for (int c = 0; c < RISK_CURVES; c++) {
    double rest = 0;
    for (int k = 0; k < RISK_NODES && t->used[c]; k++)
      rest += weight[k] * t->rest[c][k];
    value_log[c] = t->used[c] ? t->slope[c] * m + rest / all : -INFINITY;
  }
}

/* ---- the model ---- */

void chance_input_add(ChanceModel *model, ChanceInput input)
{
  if (model->n_input == CHANCE_INPUTS)
    return;
  if (input.kind != INPUT_FINISH)
    model->of[input.kind] = (int)model->n_input;
  model->input[model->n_input++] = input;
}

static void finish_add(ChanceModel *model, const Material *m, const ZoneSurface surface[])
{
  for (int zone = 0; zone < SURFACE_N; zone++) {
    SurfaceFactor f = surface_on_bars(m, &surface[zone]);
    model->factor[zone] = f.of.value;
    model->finish_input[zone] = -1;
    for (int before = 0; before < zone; before++) /* a state is right or wrong everywhere */
      if (zone_surface_same(&surface[before], &surface[zone]))
        model->finish_input[zone] = model->finish_input[before];
    if (model->finish_input[zone] >= 0 || !model->risk.used[zone])
      continue;
    model->finish_input[zone] = (int)model->n_input;
    chance_input_add(model, (ChanceInput){.kind = INPUT_FINISH,
                                          .state = surface[zone].state,
                                          .range = {f.of.value, f.of.low, f.of.high, f.source}});
  }
}

/* The spread is known as well as that number of bars tells it. */
static void modulus_add(ChanceModel *model, const Material *m)
{
  Banded ratio = bars_modulus_ratio(material_bars(m));
  chance_input_add(
      model,
      (ChanceInput){
          .kind = INPUT_MODULUS,
          .bars = m->bar_count,
          .range = {m->weibull, m->weibull * ratio.low, m->weibull * ratio.high,
                    m->bar_count > 0
                        ? N_("as the card's number of bars gives it (own simulation of sets); "
                             "published for zirconia: 5.1 to 16.5")
                        : N_("the card does not say of how many bars: as thirty would give it (own "
                             "simulation of sets); published for zirconia: 5.1 to 16.5")}});
}

Fault chance_model_make(const Field *field, NeckLoad load, const Material *m,
                        const ZoneSurface surface[ZONE_NECK_N], const Service *service,
                        ChanceModel *model)
{
  if (!(m->weibull > 0 && m->strength_mpa > 0 && material_bar_surface(m) > 0) ||
      !isfinite(m->weibull))
    return FAULT_RANGE;
  *model = (ChanceModel){0};
  for (int kind = 0; kind < INPUT_N; kind++)
    model->of[kind] = -1;
  table_make(field, load, m, &model->risk);
  Banded strength = material_strength(m);
  Growth growth = growth_of(m);
  chance_input_add(model, (ChanceInput){.kind = INPUT_STRENGTH,
                                        .range = {strength.value, strength.low, strength.high,
                                                  material_source(m, FIGURE_STRENGTH)}});
  modulus_add(model, m);
  finish_add(model, m, surface);
  chance_input_add(model, (ChanceInput){.kind = INPUT_EXPONENT, .range = growth.exponent});
  chance_input_add(model, (ChanceInput){.kind = INPUT_THRESHOLD, .range = growth.threshold});
  chance_input_add(model, (ChanceInput){.kind = INPUT_BITES, .range = service_bites(service)});
  return FAULT_NONE;
}

/* An input at z is its middle times (end / middle)^(z / CHANCE_END_Z), the end on z's side: kept as
 * logarithms, with the slope on either side.  An input that is not there is a factor of 1. */
typedef struct {
  double middle, below, above;
} InputLog;
typedef struct {
  const ChanceModel *model;
  InputLog input[CHANCE_INPUTS];
} Prepared;

static void prepare(const ChanceModel *model, Prepared *p)
{
  p->model = model;
  for (size_t i = 0; i < model->n_input; i++) {
    const Range *r = &model->input[i].range;
    double middle = log(r->value);
    bool scatters = r->value > 0 && r->low > 0 && r->high > 0;
    p->input[i] = (InputLog){middle, scatters ? (middle - log(r->low)) / CHANCE_END_Z : 0,
                             scatters ? (log(r->high) - middle) / CHANCE_END_Z : 0};
  }
}

static double input_log(const Prepared *p, int index, const double z[])
{
  if (index < 0)
    return 0;
  const InputLog *in = &p->input[index];
  double at = z ? z[index] : 0;
  return in->middle + at * (at < 0 ? in->below : in->above);
}

static ChanceFigures figures_of(double margin_log, double modulus)
{
  double risk = log(FIVE_OF_HUNDRED) - modulus * margin_log;
  return (ChanceFigures){exp(margin_log), risk, 100 * -expm1(-exp(risk))};
}

static ChancePoint point_at(const Prepared *p, const double z[])
{
  const ChanceModel *model = p->model;
  double curve[RISK_CURVES], m = exp(input_log(p, model->of[INPUT_MODULUS], z));
  table_at(&model->risk, m, curve);
  double scale = input_log(p, model->of[INPUT_STRENGTH], z) - log(RISK_UNIT_MPA) + curve[BARS] / m,
         risk = 0, part[SURFACE_N], most = -INFINITY;
  for (int zone = 0; zone < SURFACE_N; zone++) {
    int i = model->finish_input[zone];
    double factor = i >= 0 ? input_log(p, i, z) : log(model->factor[zone]);
    part[zone] = curve[zone] - m * (scale + factor);
    most = fmax(most, part[zone]);
  }
  if (!(most > -INFINITY)) /* nothing is pulled */
    return (ChancePoint){{INFINITY, -INFINITY, 0}, {INFINITY, -INFINITY, 0}};
  for (int zone = 0; zone < SURFACE_N; zone++)
    risk += exp(part[zone] - most);
  static const InputKind pulls[] = {INPUT_LOAD, INPUT_SUPPORT, INPUT_FIELD, INPUT_TRACE,
                                    INPUT_DRAWN};
  double load = 0;
  for (size_t i = 0; i < sizeof pulls / sizeof *pulls; i++)
    load += input_log(p, model->of[pulls[i]], z);
  double once = (log(FIVE_OF_HUNDRED) - most - log(risk)) / m - load;
  double left = service_factor(exp(input_log(p, model->of[INPUT_EXPONENT], z)),
                               fmin(exp(input_log(p, model->of[INPUT_THRESHOLD], z)), 1),
                               exp(input_log(p, model->of[INPUT_BITES], z)));
  return (ChancePoint){figures_of(once, m), figures_of(once + log(left), m)};
}

ChancePoint chance_at(const ChanceModel *model, const double z[])
{
  Prepared p;
  prepare(model, &p);
  return point_at(&p, z);
}

/* ---- bands ---- */

/* Two numbers at a time; the count is made even so that every draw begins afresh. */
static void random_normal(uint64_t *state, double z[CHANCE_INPUTS])
{
  for (int i = 0; i < CHANCE_INPUTS; i += 2) {
    double r = sqrt(-2 * log(random_unit(state))), angle = 2 * acos(-1.0) * random_unit(state);
    z[i] = fmax(-MOST_Z, fmin(MOST_Z, r * cos(angle)));
    if (i + 1 < CHANCE_INPUTS)
      z[i + 1] = fmax(-MOST_Z, fmin(MOST_Z, r * sin(angle)));
  }
}

static int order(const void *pa, const void *pb)
{
  double a = *(const double *)pa, b = *(const double *)pb;
  return (a > b) - (a < b);
}

static Banded band_of(double value, double drawn[], int n)
{
  qsort(drawn, (size_t)n, sizeof *drawn, order);
  int cut = n / 20;
  return banded(value, fmin(value, drawn[cut]), fmax(value, drawn[n - 1 - cut]));
}

static Banded chance_banded(Banded risk_log)
{
  return banded(100 * -expm1(-exp(risk_log.value)), 100 * -expm1(-exp(risk_log.low)),
                100 * -expm1(-exp(risk_log.high)));
}

ChanceBand chance_band(const ChanceModel *model, int draws)
{
  static const int least = 20;
  double drawn[4][CHANCE_DRAWS], z[CHANCE_INPUTS];
  uint64_t state = SEED;
  Prepared prepared;
  prepare(model, &prepared);
  draws = draws < least ? least : draws > CHANCE_DRAWS ? CHANCE_DRAWS : draws;
  for (int i = 0; i < draws; i++) {
    random_normal(&state, z);
    ChancePoint p = point_at(&prepared, z);
    drawn[0][i] = p.once.margin;
    drawn[1][i] = p.once.risk_log;
    drawn[2][i] = p.service.margin;
    drawn[3][i] = p.service.risk_log;
  }
  ChancePoint middle = chance_at(model, NULL);
  return (ChanceBand){band_of(middle.once.margin, drawn[0], draws),
                      chance_banded(band_of(middle.once.risk_log, drawn[1], draws)),
                      band_of(middle.service.margin, drawn[2], draws),
                      chance_banded(band_of(middle.service.risk_log, drawn[3], draws))};
}

/* ---- drivers ---- */

static double swing(const ChanceDriver *d)
{
  return fabs(log(d->at_high.service.margin / d->at_low.service.margin));
}

static int driver_order(const void *pa, const void *pb)
{
  double a = swing(pa), b = swing(pb);
  return (a < b) - (a > b);
}

size_t chance_drivers(const ChanceModel *model, ChanceDriver driver[])
{
  double z[CHANCE_INPUTS] = {0};
  size_t n = 0;
  if (isinf(chance_at(model, NULL).once.margin))
    return 0; /* nothing is pulled */
  for (size_t i = 0; i < model->n_input; i++) {
    const Range *r = &model->input[i].range;
    if (!(r->value > 0) || !(r->low < r->value || r->high > r->value || r->high < r->value))
      continue;
    driver[n].input = model->input[i];
    z[i] = -CHANCE_END_Z;
    driver[n].at_low = chance_at(model, z);
    z[i] = CHANCE_END_Z;
    driver[n++].at_high = chance_at(model, z);
    z[i] = 0;
  }
  qsort(driver, n, sizeof *driver, driver_order);
  return n;
}

/* Swings below and above the middle, each added in squares. */
typedef struct {
  double middle, below, above;
} Swings;

static void swings_add(Swings *s, double a, double b)
{
  double low = fmin(s->middle, fmin(a, b)) - s->middle,
         high = fmax(s->middle, fmax(a, b)) - s->middle;
  s->below = hypot(s->below, low);
  s->above = hypot(s->above, high);
}

static Banded swings_band(Swings s)
{
  return banded(s.middle, s.middle - s.below, s.middle + s.above);
}

static Banded exp_banded(Banded b)
{
  return banded(exp(b.value), exp(b.low), exp(b.high));
}

ChanceBand chance_band_quick(const ChanceModel *model)
{
  ChanceDriver driver[CHANCE_INPUTS];
  size_t n = chance_drivers(model, driver);
  ChancePoint middle = chance_at(model, NULL);
  if (!isfinite(middle.once.margin)) {
    Banded margin = {INFINITY, INFINITY, INFINITY}, none = {0, 0, 0};
    return (ChanceBand){margin, none, margin, none};
  }
  Swings margin = {log(middle.once.margin), 0, 0}, risk = {middle.once.risk_log, 0, 0},
         later = {log(middle.service.margin), 0, 0}, later_risk = {middle.service.risk_log, 0, 0};
  for (size_t i = 0; i < n; i++) {
    const ChancePoint *a = &driver[i].at_low, *b = &driver[i].at_high;
    swings_add(&margin, log(a->once.margin), log(b->once.margin));
    swings_add(&risk, a->once.risk_log, b->once.risk_log);
    swings_add(&later, log(a->service.margin), log(b->service.margin));
    swings_add(&later_risk, a->service.risk_log, b->service.risk_log);
  }
  return (ChanceBand){exp_banded(swings_band(margin)), chance_banded(swings_band(risk)),
                      exp_banded(swings_band(later)), chance_banded(swings_band(later_risk))};
}
