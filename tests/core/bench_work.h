/* bench_work.h - exercises of the school bench worked through by a test.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/exercise_xml.h"
#include "casefile/shipped.h"
#include "practice/exercise_set.h"
#include "practice/question.h"
#include "practice/score.h"
#include <glib.h>
#include <string.h>

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static inline Assessment *bench_assess(Assessor *assessor, const Case *c, AssessGrade grade)
{
  AssessSettings settings = assess_settings_default();
  Assessment *a = NULL;
  settings.grade = grade;
  settings.threads = 2;
  ok(assess(assessor, c, &settings, &a));
  return a;
}

/* The answer that is right, as the window would write it; to be freed. */
static inline char *bench_right(const Question *q, const Work *work)
{
  const Assessment *start = work->start;
  char name[12], number[G_ASCII_DTOSTR_BUF_SIZE];
  if (q->kind == QUESTION_CONNECTOR) {
    connector_name(&start->c, question_connector(q, start), '-', name);
    return g_strdup(name);
  }
  if (q->kind == QUESTION_NUMBER)
    return g_strdup(g_ascii_formatd(number, sizeof number, "%.2f", question_number(q, work)));
  if (q->kind == QUESTION_PLACE) {
    size_t at = q->connector == SIZE_MAX ? work_weakest(start) : q->connector;
    Vec3 hot = start->connector[at].trial_peak.at;
    return place_to_text(&start->c, at, point(hot.x, hot.y));
  }
  GString *text = g_string_new(NULL);
  for (size_t i = 0; i < q->n_choice; i++)
    if ((q->kind == QUESTION_ORDER || q->choice[i].right) && !q->choice[i].instead)
      g_string_append_printf(text, "%s%s", text->len ? " " : "", q->choice[i].id);
  return g_string_free(text, FALSE);
}

static inline void bench_answer(Work *work)
{
  for (size_t i = 0; i < work->exercise->n_question; i++)
    work->answer[i] = bench_right(&work->exercise->question[i], work);
}

static inline void bench_clear(Work *work)
{
  for (size_t i = 0; i < work->exercise->n_question; i++)
    g_free((char *)work->answer[i]);
}
