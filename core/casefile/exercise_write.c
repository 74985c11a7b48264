/* exercise_write.c - an exercise as XML that a teacher can read, and whether two are the same.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  The start is written as a case file is; of the worked answer the connectors that differ. */
#include "casefile/case_entry.h"
#include "casefile/case_parts.h"
#include "casefile/exercise_fields.h"
#include "casefile/exercise_xml.h"
#include "casefile/save.h"
#include <string.h>

/* The <case> element of a case file, without what stands before it. */
static void write_start(GString *out, const Exercise *e)
{
  GString *text = case_to_xml(&e->start);
  const char *element = strstr(text->str, "<case ");
  g_string_append_printf(out, "  <start>\n%s  </start>\n", element);
  g_string_free(text, TRUE);
}

static void write_answer(GString *out, const Exercise *e)
{
  if (e->answer.n_unit == 0)
    return;
  g_string_append(out, "  <answer>\n  <connectors xmlns=\"" CASE_NAMESPACE "\">\n");
  for (size_t i = 0; i + 1 < e->answer.n_unit; i++)
    if (!case_alike(&e->start, &e->answer, i))
      case_write_connector(out, &e->answer, i);
  g_string_append(out, "  </connectors>\n  </answer>\n");
}

static void write_criteria(GString *out, const Exercise *e)
{
  if (e->criterion->len == 0)
    return;
  g_string_append(out, "  <criteria>\n");
  for (guint i = 0; i < e->criterion->len; i++) {
    const Criterion *c = &g_array_index(e->criterion, Criterion, i);
    g_string_append(out, "    <criterion");
    write_between(out, &e->start, c->connector);
    attributes_write(out, &criterion_element, c);
    g_string_append(out, "/>\n");
  }
  g_string_append(out, "  </criteria>\n");
}

static void write_choice(GString *out, const Choice *choice)
{
  g_string_append(out, "      <choice");
  attributes_write(out, &choice_element, choice);
  if (choice->right)
    write_text(out, "right", "yes");
  if (choice->instead)
    write_text(out, "instead", "yes");
  g_string_append(out, "/>\n");
}

static void write_question(GString *out, const Exercise *e, const Question *q)
{
  g_string_append(out, "    <question");
  attributes_write(out, &question_element, q);
  if (q->kind == QUESTION_CONNECTOR)
    attributes_write(out, &question_find_element, q);
  if (q->kind == QUESTION_NUMBER && isnan(q->right))
    attributes_write(out, &question_measure_element, q);
  write_between(out, &e->start, q->connector);
  g_string_append(out, q->n_choice ? ">\n" : "/>\n");
  for (size_t i = 0; i < q->n_choice; i++)
    write_choice(out, &q->choice[i]);
  if (q->n_choice)
    g_string_append(out, "    </question>\n");
}

static void write_words(GString *out, const char *indent, const char *element, bool ghost,
                        const char *words)
{
  g_string_append_printf(out, "%s<%s%s>", indent, element, ghost ? " ghost=\"yes\"" : "");
  write_escaped(out, words);
  g_string_append_printf(out, "</%s>\n", element);
}

GString *exercise_to_xml(const Exercise *e)
{
  GString *out =
      g_string_new("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                   "<!-- An exercise of the school bench.  Sizes in mm after firing; y up from the "
                   "tissue line, gum drawn down. -->\n"
                   "<exercise xmlns=\"" EXERCISE_NAMESPACE "\" version=\"1\"");
  attributes_write(out, &exercise_element, e);
  write_between(out, &e->start, e->focus);
  g_string_append(out, ">\n");
  write_words(out, "  ", "scenario", false, e->scenario);
  write_words(out, "  ", "task", false, e->task);
  write_start(out, e);
  write_criteria(out, e);
  if (e->n_question)
    g_string_append(out, "  <questions>\n");
  for (size_t i = 0; i < e->n_question; i++)
    write_question(out, e, &e->question[i]);
  if (e->n_question)
    g_string_append(out, "  </questions>\n");
  if (e->n_hint)
    g_string_append(out, "  <hints>\n");
  for (size_t i = 0; i < e->n_hint; i++)
    write_words(out, "    ", "hint", e->hint[i].ghost, e->hint[i].text);
  if (e->n_hint)
    g_string_append(out, "  </hints>\n");
  write_words(out, "  ", "learnt", false, e->learnt);
  write_answer(out, e);
  g_string_append(out, "</exercise>\n");
  return out;
}

bool exercise_save(const Exercise *exercise, const char *path, GError **error)
{
  GString *text = exercise_to_xml(exercise);
  bool saved = file_save(path, text->str, text->len, error);
  g_string_free(text, TRUE);
  return saved;
}

Exercise *exercise_copy(const Exercise *exercise, GError **error)
{
  GString *text = exercise_to_xml(exercise);
  Exercise *copy = exercise_load_memory(text->str, text->len, exercise->id, false, error);
  g_string_free(text, TRUE);
  return copy;
}

/* ---- the same ---- */

static bool question_equal(const Question *a, const Question *b)
{
  bool same = attributes_equal(&question_element, a, b) && a->find == b->find &&
              a->measure == b->measure && a->connector == b->connector &&
              a->n_choice == b->n_choice;
  for (size_t i = 0; same && i < a->n_choice; i++)
    same = attributes_equal(&choice_element, &a->choice[i], &b->choice[i]) &&
           a->choice[i].right == b->choice[i].right && a->choice[i].instead == b->choice[i].instead;
  return same;
}

bool exercise_equal(const Exercise *a, const Exercise *b)
{
  bool same = attributes_equal(&exercise_element, a, b) && a->focus == b->focus &&
              strcmp(a->scenario, b->scenario) == 0 && strcmp(a->task, b->task) == 0 &&
              strcmp(a->learnt, b->learnt) == 0 && case_equal(&a->start, &b->start) &&
              a->answer.n_unit == b->answer.n_unit && a->n_question == b->n_question &&
              a->n_hint == b->n_hint && a->criterion->len == b->criterion->len;
  if (same && a->answer.n_unit)
    same = case_equal(&a->answer, &b->answer);
  for (guint i = 0; same && i < a->criterion->len; i++) {
    const Criterion *p = &g_array_index(a->criterion, Criterion, i),
                    *q = &g_array_index(b->criterion, Criterion, i);
    same = attributes_equal(&criterion_element, p, q) && p->connector == q->connector;
  }
  for (size_t i = 0; same && i < a->n_question; i++)
    same = question_equal(&a->question[i], &b->question[i]);
  for (size_t i = 0; same && i < a->n_hint; i++)
    same = strcmp(a->hint[i].text, b->hint[i].text) == 0 && a->hint[i].ghost == b->hint[i].ghost;
  return same;
}
