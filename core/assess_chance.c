/* assess_chance.c - one connector's inputs with their scatter, and what follows from them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_chance.h"
#include "casefile/drawn.h"
#include "casefile/load_case.h"
#include "casefile/photo.h"
#include "strength/crack.h"
#include <math.h>

/* Bites of men and women over their mean: 382 and 216 N of 299 (Helkimo et al. 1977, read). */
#define BITE_LOW 0.72
#define BITE_HIGH 1.28
#define MEAN_DEPTH_MM 0.10 /* Peak.mean_mpa reaches so far */

/* Where a load stands and how it reaches the neck. */
typedef struct {
  const Peak *peak;
  NeckLoad load;
  bool at_order; /* the end of the envelope, else the trial load at x */
  size_t load_case;
  double x;
} Loaded;

/* How alike two loads pull: of the extremes of a bite the one that governed is told by it. */
static double alike(const NeckLoad *a, const NeckLoad *b)
{
  return a->moment_n_mm * b->moment_n_mm + a->lateral_n_mm * b->lateral_n_mm +
         a->torsion_n_mm * b->torsion_n_mm;
}

static bool action_of(const Case *c, size_t connector, const Span *span, const Loaded *loaded,
                      double neck_x, NeckLoad *load)
{
  if (!loaded->at_order) {
    SpanLoad trial = {.x = loaded->x, .force_n = c->trial.force_n};
    return !span_action(span, &trial, 1, neck_x, load);
  }
  SpanEnvelope e = {0};
  if (case_envelope(c, span, connector, &e))
    return false;
  double best = -INFINITY;
  for (size_t i = 0; i < e.n; i++)
    if (e.at[i].load_case == loaded->load_case && alike(&e.at[i].load, &loaded->load) > best) {
      best = alike(&e.at[i].load, &loaded->load);
      *load = e.at[i].load;
    }
  return best > -INFINITY;
}

/* Largest pull with this beam over that with the beam as it is; 1 where that cannot be said. */
static double pull_ratio(const Field *field, const Loaded *loaded, bool known, NeckLoad load)
{
  Peak peak;
  if (!known || field_peak(field, load, &peak) || !(loaded->peak->mpa > 0) || !(peak.mpa > 0))
    return 1;
  return peak.mpa / loaded->peak->mpa;
}

static Range support_range(const Case *c, size_t connector, const SupportSpans *spans,
                           const Loaded *loaded, const Field *field)
{
  const Span *span[2] = {spans->soft, spans->stiff};
  double ratio[2] = {1, 1};
  for (int k = 0; k < 2; k++) {
    NeckLoad load = {0, 0};
    bool known =
        span[k] && action_of(c, connector, span[k], loaded, span_neck_x(span[k], connector), &load);
    ratio[k] = pull_ratio(field, loaded, known, load);
  }
  return (Range){1, ratio[0], ratio[1],
                 N_("teeth soft to stiff, up to ten times either way: from memory, the largest "
                    "unknown")};
}

static void load_inputs_add(const Case *c, size_t connector, const SupportSpans *spans,
                            const Loaded *loaded, const ConnectorAssessment *out,
                            ChanceModel *model)
{
  const Field *field = out->field;
  double band = loaded->peak->band_percent / 100;
  if (loaded->at_order)
    chance_input_add(model, (ChanceInput){.kind = INPUT_LOAD,
                                          .range = {1, BITE_LOW, BITE_HIGH,
                                                    N_("bites of men and women over their mean, "
                                                       "382 and 216 N (Helkimo 1977, read)")}});
  chance_input_add(model,
                   (ChanceInput){.kind = INPUT_SUPPORT,
                                 .range = support_range(c, connector, spans, loaded, field)});
  chance_input_add(model, (ChanceInput){.kind = INPUT_FIELD,
                                        .range = {1, fmax(0.1, 1 - band), 1 + band,
                                                  N_("error band of the calculation")}});
  RoofShare drawn = drawn_pull(out->roof_doubt_percent);
  if (out->roof_doubt_percent > 0)
    chance_input_add(model, (ChanceInput){.kind = INPUT_DRAWN,
                                          .range = {1, drawn.low, drawn.high,
                                                    N_("roof radius as well as pen or surface tell "
                                                       "it, by what the pull follows from it")}});
  double traced = pull_trace_percent(out->trace_percent, &out->form) / 100;
  if (traced > 0)
    chance_input_add(model, (ChanceInput){.kind = INPUT_TRACE,
                                          .range = {1, 1 / (1 + traced), 1 + traced,
                                                    N_("scale of the photo that the line was "
                                                       "traced on, three times that of the "
                                                       "neck")}});
}

/* ---- scratch ---- */

/* Logarithm of the depth, with toughness and pull as factors on their middles. */
static double scratch_log(const Peak *peak, double decay, double toughness, double pull)
{
  double depth = crack_scratch_gradient_um(toughness, pull * peak->mpa, decay);
  return log(isnan(depth) ? SCRATCH_MOST_UM : fmin(depth, SCRATCH_MOST_UM));
}

typedef struct {
  double toughness, pull; /* factors on the middle */
} ScratchEnd;

static Banded scratch_band(const Material *m, const Peak *peak, const ScratchEnd end[][2], size_t n,
                           double left)
{
  if (!(peak->mpa > 1))
    return banded(NAN, NAN, NAN);
  double decay = crack_decay_mm(peak->mpa, peak->mean_mpa, MEAN_DEPTH_MM);
  if (isnan(decay)) /* the pull turns to squeeze within 0.1 mm: no gradient is counted on */
    decay = INFINITY;
  double middle = scratch_log(peak, decay, m->toughness * left, 1), below = 0, above = 0;
  for (size_t i = 0; i < n; i++) {
    double a = scratch_log(peak, decay, m->toughness * left * end[i][0].toughness, end[i][0].pull),
           b = scratch_log(peak, decay, m->toughness * left * end[i][1].toughness, end[i][1].pull);
    below = hypot(below, fmin(0, fmin(a, b) - middle));
    above = hypot(above, fmax(0, fmax(a, b) - middle));
  }
  return banded(exp(middle), exp(middle - below), fmin(SCRATCH_MOST_UM, exp(middle + above)));
}

/* Strength that service leaves with one input at an end, over that with all at their middle. */
static double left_at(const ChanceModel *model, int index, double end, double middle)
{
  double z[CHANCE_INPUTS] = {0};
  if (index < 0)
    return 1;
  z[index] = end;
  ChancePoint p = chance_at(model, z);
  double left = p.service.margin / p.once.margin / middle;
  return isfinite(left) ? left : 1;
}

/* A scratch grows as any flaw does: after the years that depth is enough which at once would break
 * under the stress over the strength left. */
static void scratches_make(const Material *m, const ChanceModel *model, const Peak *peak,
                           Banded *once, Banded *service)
{
  static const InputKind pulls[] = {INPUT_LOAD, INPUT_SUPPORT, INPUT_FIELD, INPUT_TRACE,
                                    INPUT_DRAWN},
                         years[] = {INPUT_EXPONENT, INPUT_THRESHOLD, INPUT_BITES};
  ScratchEnd end[9][2];
  size_t n = 0;
  double tough = m->toughness_percent / 100;
  end[n][0] = (ScratchEnd){fmax(0.1, 1 - tough), 1};
  end[n++][1] = (ScratchEnd){1 + tough, 1};
  for (size_t i = 0; i < sizeof pulls / sizeof *pulls; i++) {
    int index = model->of[pulls[i]];
    if (index < 0)
      continue;
    end[n][0] = (ScratchEnd){1, model->input[index].range.low};
    end[n++][1] = (ScratchEnd){1, model->input[index].range.high};
  }
  *once = scratch_band(m, peak, (const ScratchEnd(*)[2])end, n, 1);
  ChancePoint p = chance_at(model, NULL);
  double left = p.service.margin / p.once.margin;
  if (!isfinite(left))
    left = 1;
  for (size_t i = 0; i < sizeof years / sizeof *years; i++) {
    int index = model->of[years[i]];
    end[n][0] = (ScratchEnd){left_at(model, index, -CHANCE_END_Z, left), 1};
    end[n++][1] = (ScratchEnd){left_at(model, index, CHANCE_END_Z, left), 1};
  }
  *service = scratch_band(m, peak, (const ScratchEnd(*)[2])end, n, left);
}

/* ---- one connector ---- */

static Fault model_make(const Case *c, size_t connector, const SupportSpans *spans,
                        const Loaded *loaded, const ConnectorAssessment *out, ChanceModel *model)
{
  Service service = case_service(c);
  ZoneSurface surface[ZONE_NECK_N];
  connector_surfaces_now(&c->connector[connector], surface);
  Fault fault = chance_model_make(out->field, loaded->load, &c->material, surface, &service, model);
  if (!fault)
    load_inputs_add(c, connector, spans, loaded, out, model);
  return fault;
}

static ChanceBand band_of(const ChanceModel *model, bool quick)
{
  return quick ? chance_band_quick(model) : chance_band(model, CHANCE_DRAWS);
}

Fault connector_chance(const Case *c, size_t connector, const SupportSpans *spans, bool quick,
                       ConnectorAssessment *out)
{
  const Loaded order = {&out->peak, out->order, true, out->load_case, NAN};
  ChanceModel model;
  Fault fault = model_make(c, connector, spans, &order, out, &model);
  if (fault)
    return fault;
  ChanceBand band = band_of(&model, quick);
  out->chance_percent = band.chance_percent;
  out->service_margin = band.service_margin;
  out->service_chance_percent = band.service_chance_percent;
  out->n_driver = chance_drivers(&model, out->driver);
  scratches_make(&c->material, &model, &out->peak, &out->scratch_um, &out->service_scratch_um);
  return FAULT_NONE;
}

Fault connector_chance_trial(const Case *c, size_t connector, const SupportSpans *spans,
                             double trial_x, bool quick, ConnectorAssessment *out)
{
  const Loaded trial = {&out->trial_peak, out->trial, false, 0, trial_x};
  ChanceModel model;
  Fault fault = model_make(c, connector, spans, &trial, out, &model);
  if (fault)
    return fault;
  ChanceBand band = band_of(&model, quick);
  out->trial_chance_percent = band.chance_percent;
  out->trial_service_chance_percent = band.service_chance_percent;
  scratches_make(&c->material, &model, &out->trial_peak, &out->trial_scratch_um,
                 &out->trial_service_scratch_um);
  return FAULT_NONE;
}
