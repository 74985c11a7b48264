/* question.c - see question.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/question.h"
#include "practice/criterion.h"
#include <glib.h>
#include <math.h>
#include <string.h>

/* ---- what is right ---- */

/* Smaller is what is looked for, whatever the question. */
static double find_value(QuestionFind find, const ConnectorAssessment *k)
{
  switch (find) {
  case FIND_WEAKEST:
    return k->trial_margin.value;
  case FIND_LOWEST_NECK:
    return k->form.neck_height;
  case FIND_SHARPEST_ROOF:
    return k->form.roof_radius.value;
  case FIND_TIGHTEST_GAP:
    return k->form.gap_circle;
  default:
    return NAN;
  }
}

size_t question_connector(const Question *question, const Assessment *start)
{
  size_t found = SIZE_MAX;
  double least = INFINITY;
  for (size_t i = 0; i < start->n_connector; i++) {
    double value = find_value(question->find, &start->connector[i]);
    if (value < least) {
      least = value;
      found = i;
    }
  }
  return found;
}

double question_number(const Question *question, const Work *work)
{
  if (!isnan(question->right))
    return question->right;
  Work begun = *work; /* read off the start */
  begun.mine = work->start;
  return measure_value(question->measure, &begun, question->connector);
}

/* ---- places ---- */

static bool number_of(const char *text, double *value)
{
  char *end;
  *value = g_ascii_strtod(text, &end);
  return end != text && *end == '\0' && isfinite(*value);
}

bool place_from_text(const Case *c, const char *text, size_t *connector, Point *at)
{
  g_auto(GStrv) part = g_strsplit(text, " ", 4);
  if (g_strv_length(part) != 3 || !number_of(part[1], &at->x) || !number_of(part[2], &at->y))
    return false;
  *connector = connector_named(c, part[0]);
  return *connector != SIZE_MAX;
}

char *place_to_text(const Case *c, size_t connector, Point at)
{
  char name[12], x[G_ASCII_DTOSTR_BUF_SIZE], y[G_ASCII_DTOSTR_BUF_SIZE];
  connector_name(c, connector, '-', name);
  g_ascii_formatd(x, sizeof x, "%.3f", at.x);
  g_ascii_formatd(y, sizeof y, "%.3f", at.y);
  return g_strjoin(" ", name, x, y, NULL);
}

double place_miss(const Assessment *start, size_t connector, Point at)
{
  if (connector >= start->n_connector)
    return NAN;
  const ConnectorAssessment *k = &start->connector[connector];
  return k->field ? hypot(at.x - k->trial_peak.at.x, at.y - k->trial_peak.at.y) : NAN;
}

/* ---- answers ---- */

static Phrase named(const char *text, const Case *c, size_t connector)
{
  Phrase phrase = {.text = text};
  if (connector < c->n_unit && connector + 1 < c->n_unit)
    connector_name(c, connector, '/', phrase.place);
  return phrase;
}

static void judge_connector(const Question *q, const Work *work, const char *answer, Judged *j)
{
  const Case *c = &work->start->c;
  size_t is = connector_named(c, answer), right = question_connector(q, work->start);
  j->right = is == right && right != SIZE_MAX;
  if (is != SIZE_MAX)
    j->is = named("{place}", c, is);
  if (!j->right)
    j->reason = right == SIZE_MAX ? named(N_("This drawing cannot be measured."), c, right)
                                  : named(N_("It is {place}."), c, right);
}

static bool chosen(char *const *part, const char *id)
{
  for (; *part; part++)
    if (strcmp(*part, id) == 0)
      return true;
  return false;
}

/* Several may be right; each that is missed or wrong costs the same. */
static void judge_choice(const Question *q, const char *answer, Judged *j)
{
  g_auto(GStrv) part = g_strsplit(answer, " ", -1);
  size_t right = 0, hit = 0, wrong = 0;
  const Choice *missed = NULL, *first = NULL;
  bool several = false; /* right together, or each by itself ("draw" or "ask") */
  for (size_t i = 0; i < q->n_choice; i++)
    several = several || q->choice[i].instead;
  for (size_t i = 0; i < q->n_choice; i++) {
    const Choice *choice = &q->choice[i];
    bool is = chosen(part, choice->id);
    right += choice->right;
    hit += is && choice->right;
    wrong += is && !choice->right;
    if (choice->right && !is && !missed)
      missed = choice;
    if (is && !first)
      first = choice;
  }
  if (several && hit > 0)
    right = hit, missed = NULL;
  j->right = hit == right && wrong <= (size_t)q->most_wrong;
  j->share = right ? fmax(0, (double)hit - (double)wrong) / (double)right : 0;
  if (first)
    j->is = (Phrase){.text = hit + wrong > 1 ? N_("{0} chosen") : first->text,
                     .value = {(double)(hit + wrong)}};
  if (!j->right)
    j->reason = missed ? (Phrase){.text = N_("Missing: {word}."), .word = missed->text}
                       : (Phrase){.text = N_("{0} too many are chosen."),
                                  .value = {(double)wrong - q->most_wrong}};
}

static void judge_number(const Question *q, const Work *work, const char *answer, Judged *j)
{
  double is, right = question_number(q, work);
  g_autofree char *plain = g_strdelimit(g_strdup(answer), ",", '.');
  if (!number_of(g_strstrip(plain), &is)) {
    j->reason = (Phrase){.text = N_("This is no number. Write one such as {0.2}."), .value = {1.5}};
    return;
  }
  double off = fabs(is - right);
  j->right = off <= q->within * (1 + 1e-9);
  j->share = j->right || !(off > 0) ? 1 : fmax(0, 2 - off / q->within) / 2;
  j->is = (Phrase){.text = "{0.2}", .value = {is}};
  if (!j->right)
    j->reason = (Phrase){.text = N_("It is {0.2}."), .value = {right}};
}

static void judge_place(const Question *q, const Work *work, const char *answer, Judged *j)
{
  const Assessment *start = work->start;
  size_t is, want = q->connector == SIZE_MAX ? work_weakest(start) : q->connector;
  Point at;
  if (!place_from_text(&start->c, answer, &is, &at)) {
    j->reason = (Phrase){.text = N_("This is no place on the drawing.")};
    return;
  }
  double miss = place_miss(start, want, at);
  j->is = named("{place}", &start->c, is);
  if (is != want) {
    j->reason = named(N_("It is worst at {place}."), &start->c, want);
    return;
  }
  j->right = miss <= q->within;
  j->share = j->right ? 1 : fmax(0, 2 - miss / q->within) / 2;
  j->reason = (Phrase){.text = N_("Your cross lies {0.1} mm from the hot spot."), .value = {miss}};
  if (j->right)
    j->is = j->reason, j->reason = (Phrase){.text = NULL};
}

static void judge_order(const Question *q, const char *answer, Judged *j)
{
  g_auto(GStrv) part = g_strsplit(answer, " ", -1);
  size_t n = g_strv_length(part), good = 0, first = SIZE_MAX;
  for (size_t i = 0; i < q->n_choice; i++) {
    bool right = i < n && strcmp(part[i], q->choice[i].id) == 0;
    good += right;
    if (!right && first == SIZE_MAX)
      first = i;
  }
  j->right = good == q->n_choice && n == good;
  j->share = (double)good / (double)q->n_choice;
  j->is = (Phrase){.text = N_("{0} of {1} in place"), .value = {(double)good, (double)q->n_choice}};
  if (!j->right && first != SIZE_MAX)
    j->reason = (Phrase){.text = N_("Step {0} is: {word}."),
                         .value = {(double)first + 1},
                         .word = q->choice[first].text};
}

Judged question_judge(const Question *q, const Work *work, const char *answer)
{
  Judged j = {.answered = answer && *answer, .is = {.text = NULL}};
  if (!j.answered) {
    j.reason = (Phrase){.text = N_("Not answered yet.")};
    return j;
  }
  switch (q->kind) {
  case QUESTION_CONNECTOR:
    judge_connector(q, work, answer, &j);
    break;
  case QUESTION_CHOICE:
    judge_choice(q, answer, &j);
    break;
  case QUESTION_NUMBER:
    judge_number(q, work, answer, &j);
    break;
  case QUESTION_PLACE:
    judge_place(q, work, answer, &j);
    break;
  case QUESTION_ORDER:
  default:
    judge_order(q, answer, &j);
    break;
  }
  if (j.right)
    j.share = 1;
  return j;
}

bool question_instead(const Question *q, const char *answer)
{
  if (q->kind != QUESTION_CHOICE || !answer)
    return false;
  for (size_t i = 0; i < q->n_choice; i++)
    if (q->choice[i].right && q->choice[i].instead && strcmp(answer, q->choice[i].id) == 0)
      return true;
  return false;
}
