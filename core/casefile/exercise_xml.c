/* exercise_xml.c - see exercise_xml.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  The case inside is read as a case file is; the attributes of the rest by tables. */
#include "casefile/exercise_xml.h"
#include "casefile/case_entry.h"
#include "casefile/case_parts.h"
#include "casefile/exercise_fields.h"
#include <libxml/tree.h>
#include <string.h>

/* "yes" of an attribute; anything but yes and no is an error. */
static bool read_yes(Reader *r, xmlNode *node, const char *name)
{
  int answer = ANSWER_UNKNOWN;
  read_word(r, node, name, WORDS_YES_NO, &answer);
  return answer == ANSWER_YES;
}

/* ---- the case ---- */

/* Its tree as a document of its own, so that the schema of cases can look at it; lines stay. */
static bool read_start(Reader *r, xmlNode *root, bool check, Exercise *e)
{
  xmlNode *start = node_child(root, "start"), *node = node_child(start, "case");
  if (!node)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(start ? start : root),
                       "the exercise has no <start> with a <case>. Copy one from a case file.");
  xmlDoc *doc = xmlNewDoc(NULL);
  xmlNode *copy = doc ? xmlDocCopyNode(node, doc, 1) : NULL;
  if (copy)
    xmlDocSetRootElement(doc, copy);
  else
    reader_fail(r, CASE_ERROR_VALUE, 0, "%s", fault_text(FAULT_MEMORY));
  if (copy && document_check_root(r, doc, "case", CASE_NAMESPACE)) {
    document_strip_foreign(doc, CASE_NAMESPACE);
    if (case_read_tree(r, copy, &e->start) && check)
      document_validate(r, doc, "schema/case.rng");
  }
  document_free(doc);
  return !r->failed;
}

/* The connectors that it names are drawn anew, the others stay. */
static bool read_answer(Reader *r, xmlNode *root, Exercise *e)
{
  xmlNode *answer = node_child(root, "answer"), *all = node_child(answer, "connectors");
  if (!answer)
    return true;
  if (!all)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(answer),
                       "the <answer> has no <connectors>. Copy them from a case file.");
  if (case_copy(&e->answer, &e->start))
    return reader_fail(r, CASE_ERROR_VALUE, 0, "%s", fault_text(FAULT_MEMORY));
  for (xmlNode *node = node_child(all, "connector"); node; node = node_next(node, "connector")) {
    size_t i = SIZE_MAX;
    read_between(r, node, &e->start, &i);
    if (r->failed || i == SIZE_MAX)
      continue;
    connector_clear(&e->answer.connector[i]);
    connector_init(&e->answer.connector[i]);
  }
  return !r->failed && case_read_connectors(r, answer, &e->answer);
}

/* ---- criteria, questions, hints ---- */

static bool read_criterion(Reader *r, xmlNode *node, Exercise *e)
{
  Criterion c = {.connector = SIZE_MAX, .least = NAN, .most = NAN};
  if (e->criterion->len == CRITERIA_MOST)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "there are more than %d criteria. Delete some.", CRITERIA_MOST);
  if (!read_required(r, node, "measure", "roof-radius"))
    return false;
  attributes_read(r, node, &criterion_element, &c);
  read_between(r, node, &e->start, &c.connector);
  if (!r->failed && isnan(c.least) && isnan(c.most))
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "the criterion has no limit. Write least=\"0.8\" or most=\"2.5\".");
  bool least = !isnan(c.least) && !measure_has_least(c.measure);
  if (!r->failed && (least || (!isnan(c.most) && !measure_has_most(c.measure))))
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "%s=\"\" means nothing for the measure \"%s\". Give the other limit.",
                least ? "least" : "most", measure_id(c.measure));
  if (!r->failed && c.least > c.most)
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "nothing can be at least %g and at most %g. Correct one of them.", c.least, c.most);
  g_array_append_val(e->criterion, c);
  return !r->failed;
}

/* What a question needs to be answered rightly. */
static bool question_check(Reader *r, xmlNode *node, const Question *q, bool measured)
{
  size_t right = 0;
  for (size_t i = 0; i < q->n_choice; i++)
    right += q->choice[i].right;
  if (q->kind == QUESTION_CHOICE && (q->n_choice < 2 || right == 0))
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "the question needs two <choice> at least, one of them right=\"yes\".");
  if (q->kind == QUESTION_ORDER && q->n_choice < 2)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "the question needs two <choice> at least, in their right order.");
  if (q->kind == QUESTION_NUMBER && isnan(q->right) && !measured)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "nothing says which number is right. Write right=\"4.7\", or "
                       "measure=\"neck-height\" between=\"34-35\".");
  if ((q->kind == QUESTION_NUMBER || q->kind == QUESTION_PLACE) && !(q->within > 0))
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "nothing says how near is near enough. Write within=\"0.1\".");
  return true;
}

static bool read_choice(Reader *r, xmlNode *node, Question *q)
{
  if (q->n_choice == CHOICES_MOST)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "there are more than %d choices. Delete some.", CHOICES_MOST);
  if (!read_required(r, node, "id", "height") || !read_required(r, node, "text", "height"))
    return false;
  Choice *choice = &q->choice[q->n_choice++];
  *choice = (Choice){.id = g_strdup(""), .text = g_strdup("")};
  attributes_read(r, node, &choice_element, choice);
  choice->right = read_yes(r, node, "right");
  choice->instead = read_yes(r, node, "instead");
  return !r->failed;
}

static bool read_question(Reader *r, xmlNode *node, Exercise *e)
{
  if (e->n_question == QUESTIONS_MOST)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "there are more than %d questions. Delete some.", QUESTIONS_MOST);
  if (!read_required(r, node, "id", "first") || !read_required(r, node, "kind", "connector") ||
      !read_required(r, node, "text", "Which neck breaks first?"))
    return false;
  Question *q = &e->question[e->n_question++];
  *q = (Question){
      .id = g_strdup(""), .text = g_strdup(""), .connector = SIZE_MAX, .right = NAN, .within = NAN};
  attributes_read(r, node, &question_element, q);
  attributes_read(r, node, &question_find_element, q);
  attributes_read(r, node, &question_measure_element, q);
  read_between(r, node, &e->start, &q->connector);
  for (xmlNode *c = node_child(node, "choice"); c && !r->failed; c = node_next(c, "choice"))
    read_choice(r, c, q);
  for (size_t i = 0; i + 1 < e->n_question && !r->failed; i++)
    if (strcmp(e->question[i].id, q->id) == 0)
      reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                  "the question \"%.40s\" is there twice. Give one of them another id.", q->id);
  g_autofree char *measure = node_attribute(node, "measure");
  return !r->failed && question_check(r, node, q, measure && q->connector != SIZE_MAX);
}

/* Words between tags; a break of the line is a space. */
static char *words_of(xmlNode *node)
{
  char *text = node_content(node), *to = text;
  for (const char *p = text; *p; p++) {
    bool space = g_ascii_isspace(*p);
    if (!space || (to > text && to[-1] != ' '))
      *to++ = space ? ' ' : *p;
  }
  *to = '\0';
  return text;
}

static bool read_hint(Reader *r, xmlNode *node, Exercise *e)
{
  if (e->n_hint == HINTS_MOST)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "there are more than %d hints. Delete some.", HINTS_MOST);
  Hint *hint = &e->hint[e->n_hint++];
  hint->text = words_of(node);
  hint->ghost = read_yes(r, node, "ghost");
  if (!r->failed && hint->ghost && e->answer.n_unit == 0)
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "this hint shows the answer, but there is no <answer>. Add it behind <learnt>.");
  return !r->failed;
}

static void read_words(Reader *r, xmlNode *root, const char *name, char **words)
{
  xmlNode *node = node_child(root, name);
  if (!node) {
    reader_fail(r, CASE_ERROR_VALUE, node_line(root), "the exercise has no <%s>. Add it.", name);
    return;
  }
  g_free(*words);
  *words = words_of(node);
}

/* Each child of `parent` with this name. */
static void read_each(Reader *r, xmlNode *parent, const char *name, Exercise *e,
                      bool (*read)(Reader *, xmlNode *, Exercise *))
{
  for (xmlNode *node = node_child(parent, name); node && !r->failed; node = node_next(node, name))
    read(r, node, e);
}

static void read_exercise(Reader *r, xmlNode *root, bool check, Exercise *e)
{
  static const char *const needed[][2] = {
      {"id", "1.1"}, {"title", "From V to U"}, {"kind", "reshape"}, {"level", "1"}};
  for (size_t i = 0; i < G_N_ELEMENTS(needed); i++)
    if (!read_required(r, root, needed[i][0], needed[i][1]))
      return;
  attributes_read(r, root, &exercise_element, e);
  read_words(r, root, "scenario", &e->scenario);
  read_words(r, root, "task", &e->task);
  read_words(r, root, "learnt", &e->learnt);
  if (r->failed || !read_start(r, root, check, e) || !read_answer(r, root, e))
    return;
  read_between(r, root, &e->start, &e->focus); /* the connector to draw */
  read_each(r, node_child(root, "criteria"), "criterion", e, read_criterion);
  read_each(r, node_child(root, "questions"), "question", e, read_question);
  read_each(r, node_child(root, "hints"), "hint", e, read_hint);
}

Exercise *exercise_load_memory(const char *text, size_t length, const char *name, bool shipped,
                               GError **error)
{
  Reader r = {name, error, false};
  xmlDoc *doc = document_parse(&r, text, length);
  if (!doc)
    return NULL;
  Exercise *e = exercise_new();
  if (document_check_root(&r, doc, "exercise", EXERCISE_NAMESPACE)) {
    read_exercise(&r, xmlDocGetRootElement(doc), !shipped, e);
    if (!r.failed && !shipped) {
      document_strip_foreign(doc, EXERCISE_NAMESPACE);
      document_validate(&r, doc, "schema/exercise.rng");
    }
  }
  document_free(doc);
  if (!r.failed)
    return e;
  exercise_free(e);
  return NULL;
}

Exercise *exercise_load(const char *path, GError **error)
{
  char *text;
  size_t length;
  if (!document_read_file(path, &text, &length, error))
    return NULL;
  Exercise *e = exercise_load_memory(text, length, path, false, error);
  g_free(text);
  if (e) {
    g_free(e->file);
    e->file = g_strdup(path);
  }
  return e;
}
