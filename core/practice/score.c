/* score.c - see score.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/score.h"
#include "practice/criterion.h"
#include "practice/question.h"
#include "verdict/brush_size.h"
#include <math.h>
#include <string.h>

#define NEAR_BEST_PERCENT 5.0 /* ours: what no hand draws better */
#define ALIKE_DEG 5.0         /* legs that differ less are alike: common practice */

static void row_add(Score *score, const ScoreRow *row)
{
  score->row[score->n++] = *row;
  score->met += row->met;
  score->share += row->share;
  unsigned bit = 1u << row->skill;
  if (!row->met)
    score->wrong |= bit;
  else
    score->right |= bit;
}

static void question_row(const Work *work, size_t i, Score *score)
{
  const Question *q = &work->exercise->question[i];
  Judged judged = question_judge(q, work, work->answer[i]);
  row_add(score, &(ScoreRow){.is_question = true,
                             .index = i,
                             .connector = q->connector,
                             .skill = q->skill,
                             .met = judged.right,
                             .share = judged.share,
                             .asked = {.text = q->text},
                             .is = judged.is,
                             .reason = judged.reason});
}

static void criterion_row(const Work *work, size_t i, Score *score)
{
  const Criterion *c = &g_array_index(work->exercise->criterion, Criterion, i);
  Work begun = *work, ideal = *work;
  double value, start, best;
  size_t worst = criterion_worst(c, work, &value);
  begun.mine = work->start;
  criterion_worst(c, &begun, &start);
  ScoreRow row = {.index = i,
                  .connector = worst,
                  .skill = measure_skill(c->measure),
                  .met = criterion_met(c, value),
                  .share = criterion_share(c, start, value),
                  .asked = criterion_phrase(c, &work->mine->c),
                  .is = measure_phrase(c->measure, value)};
  if (work->best && c->measure != MEASURE_STROKES) {
    ideal.mine = work->best;
    criterion_worst(c, &ideal, &best);
    row.best = measure_phrase(c->measure, best);
    row.best_met = criterion_met(c, best);
  }
  if (!row.met)
    row.reason = criterion_reason(c, work, worst, value);
  row_add(score, &row);
}

/* ---- remarks ---- */

static void remark(Score *score, Phrase phrase)
{
  if (score->n_remark < SCORE_REMARKS_MOST)
    score->remark[score->n_remark++] = phrase;
}

static void remark_peak(Score *score)
{
  double above = 100 * (score->mine_mpa.value / score->best_mpa.value - 1);
  double band = 100 * (score->mine_mpa.high / score->mine_mpa.value - 1);
  if (isnan(above))
    return;
  Phrase phrase = {.value = {score->mine_mpa.value, score->best_mpa.value, above, band}};
  if (above < -NEAR_BEST_PERCENT)
    phrase.text = N_("Your peak is {0} MPa (± {3} %): lower than the best at the start's height, "
                     "{1} MPa.");
  else if (above <= NEAR_BEST_PERCENT)
    phrase.text = N_("Your peak is {0} MPa (± {3} %): as good as the best in this room, {1} MPa.");
  else
    phrase.text = N_("Your peak is {0} MPa (± {3} %), the best in this room {1} MPa: {2} % above.");
  remark(score, phrase);
}

static void remarks_reach(const ConnectorAssessment *k, const Case *c, Score *score)
{
  BrushSize through = brush_size_through(k->form.gap_circle);
  double need = c->brush_mm;
  if (need > 0 && k->form.gap_circle + 0.005 >= need)
    remark(
        score,
        (Phrase){.text = N_("Brush {0.1} passes: the gap circle is {1.2} mm, room for size {2}."),
                 .value = {need, k->form.gap_circle, through.size}});
  else if (need > 0)
    remark(score, (Phrase){.text = N_("Brush {0.1} does not pass: the gap circle is {1.2} mm."),
                           .value = {need, k->form.gap_circle}});
  double cutter = case_cutter_radius(c);
  if (k->cutter_shortfall > 0.005)
    remark(score,
           (Phrase){.text = N_("The cutter stops {0.2} mm short of the roof: it makes {1.2}."),
                    .value = {k->cutter_shortfall, cutter}});
  else if (!isnan(cutter))
    remark(score, (Phrase){.text = N_("The cutter reaches: it makes roofs of {0.2} and more."),
                           .value = {cutter}});
  double differs = fabs(k->form.leg_lean_left_deg - k->form.leg_lean_right_deg);
  if (differs > ALIKE_DEG)
    remark(score, (Phrase){.text = N_("The sides are uneven: the legs differ by {0}°."),
                           .value = {differs}});
  else if (!isnan(differs))
    remark(score,
           (Phrase){.text = N_("Both sides are alike, within {0}°."), .value = {ceil(differs)}});
}

/* What Soffit would do next, as falls of the peak; the load is the order's, not the trainee's. */
static void gains(const Work *work, Score *score)
{
  for (size_t i = 0; i < work->mine->n_advice && score->n_gain < SCORE_GAINS_MOST; i++) {
    const Advice *advice = &work->mine->advice[i];
    double gain = advice->gain_percent.value / 100;
    if (advice->connector != work->exercise->focus || advice->kind == ADVICE_LOAD ||
        advice->kind == ADVICE_POLISH || !(gain > 0.01))
      continue;
    score->gain[score->n_gain++] = (ScoreGain){100 * gain / (1 + gain), advice->act, advice->why};
  }
}

Phrase duel_phrase(Banded mine, Banded best)
{
  double above = 100 * (mine.value / best.value - 1);
  Phrase phrase = {.value = {fabs(above), mine.value, best.value}};
  phrase.text =
      isnan(above)                ? N_("The best outline in this room is not known yet.")
      : above > NEAR_BEST_PERCENT ? N_("{0} % above the best: mine {1} MPa, the best {2} MPa.")
      : above < -NEAR_BEST_PERCENT
          ? N_("{0} % below the best of the start’s room: mine {1} MPa, that one {2} MPa.")
          : N_("As good as the best: mine {1} MPa, the best {2} MPa.");
  return phrase;
}

static Phrase head_of(const Score *score)
{
  if (score->n == 0)
    return duel_phrase(score->mine_mpa, score->best_mpa);
  double steps = (double)(score->n - score->met);
  return (Phrase){.text = score->passed ? N_("{0} of {1}: passed")
                          : steps < 1.5 ? N_("{0} of {1}: one step to go")
                                        : N_("{0} of {1}: {2} steps to go"),
                  .value = {(double)score->met, (double)score->n, steps}};
}

void score_work(const Work *work, Score *score)
{
  static const Banded none = {NAN, NAN, NAN};
  const Exercise *e = work->exercise;
  memset(score, 0, sizeof *score);
  bool instead = false;
  for (size_t i = 0; i < e->n_question; i++) {
    question_row(work, i, score);
    instead = instead || question_instead(&e->question[i], work->answer[i]);
  }
  for (guint i = 0; i < e->criterion->len && !instead; i++)
    criterion_row(work, i, score);
  score->passed = score->met == score->n;
  score->share = score->n ? score->share / (double)score->n : 1;
  score->right &= ~score->wrong; /* a skill is shown when all that asks for it is met */
  size_t focus = e->focus;
  score->start_mpa = work->start->connector[focus].trial_peak_mpa;
  score->mine_mpa = work->mine->connector[focus].trial_peak_mpa;
  score->best_mpa = work->best ? work->best->connector[focus].trial_peak_mpa : none;
  score->head = head_of(score);
  remark_peak(score);
  remarks_reach(&work->mine->connector[focus], &work->mine->c, score);
  if (work->strokes > 0)
    remark(score, (Phrase){.text = N_("Strokes used: {0}."), .value = {work->strokes}});
  gains(work, score);
}
