/* cli_practice.c - soffit-cli practice: the exercises of the school bench, without a window.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Practice work is kept apart from patients' work and never releases a bridge. */
#include "casefile/case_xml.h"
#include "casefile/svg_xml.h"
#include "cli.h"
#include "json_print.h"
#include "practice/class_folder.h"
#include "practice/criterion.h"
#include "practice/exercise_set.h"
#include "practice/score.h"
#include "ui/drawing/paper_pdf.h"
#include "ui/words.h"
#include <stdio.h>
#include <string.h>

typedef struct {
  gboolean list, json;
  char *folder, *class_folder, *pdf, *outline, *connector;
  char **answer; /* "first=35-36" */
} Options;

/* ---- lists ---- */

static int list_print(const GPtrArray *set, gboolean json)
{
  for (guint i = 0; i < set->len; i++) {
    const Exercise *e = set->pdata[i];
    if (!json) {
      printf("%-5s %d  %-22s %s\n", e->id, e->level, _(exercise_kind_name(e->kind)), _(e->title));
      continue;
    }
    GString *line = json_begin();
    json_text(line, "id", e->id);
    json_number(line, "level", e->level);
    json_text(line, "title", e->title);
    json_number(line, "criteria", e->criterion->len);
    json_number(line, "questions", (double)e->n_question);
    json_end_print(line);
  }
  return EXIT_HOLDS;
}

static void class_row_print(const ClassRow *row, guint exercises, gboolean json)
{
  const char *name = *row->progress->trainee ? row->progress->trainee : row->file;
  if (json) {
    GString *line = json_begin();
    json_text(line, "trainee", name);
    json_number(line, "passed", row->passed);
    json_number(line, "of", exercises);
    json_open(line, "box", '{');
    for (int skill = 0; skill < SKILLS; skill++)
      json_number(line, skill_id((Skill)skill), row->skill[skill].box);
    json_close(line, '}');
    json_number(line, "place_mm", row->place_mm);
    json_number(line, "gain_points", row->gain_points);
    json_end_print(line);
    return;
  }
  printf(_("%-20s %2u of %u passed; "), name, row->passed, exercises);
  for (int skill = 0; skill < SKILLS; skill++)
    printf("%s %d%s", _(skill_name((Skill)skill)), row->skill[skill].box,
           skill + 1 < SKILLS ? ", " : "\n");
}

static int class_print(const Options *o, const GPtrArray *set)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) message = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(GPtrArray) rows = class_read(o->class_folder, set, message, &error);
  if (!rows)
    return cli_bad("%s", error->message);
  for (guint i = 0; i < rows->len; i++)
    class_row_print(rows->pdata[i], exercises_counted(set), o->json);
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  g_autofree char *day = g_date_time_format(now, "%Y-%m-%d");
  DrawContext context = paper_context(words_translate, words_decimal());
  if (o->pdf && rows->len == 0)
    return cli_bad(_("%s: no progress file here. Ask the trainees to keep theirs in it."),
                   o->class_folder);
  if (o->pdf && !paper_write_class(rows, set, paper_size_default(), day, &context, NULL, NULL,
                                   o->pdf, &error))
    return cli_bad("%s", error->message);
  for (guint i = 0; i < message->len; i++)
    cli_bad("%s", (const char *)message->pdata[i]);
  return message->len ? EXIT_NOT : EXIT_HOLDS;
}

/* ---- a drawing handed in ---- */

/* Takes over the connectors of a case with the same units. */
static bool case_take(const char *path, const Exercise *e, Case *mine)
{
  g_autoptr(GError) error = NULL;
  Case read;
  case_init(&read);
  bool good = case_load(&read, path, &error);
  if (!good)
    cli_bad("%s", error->message);
  for (size_t i = 0; good && i < e->start.n_unit; i++)
    good = read.n_unit == e->start.n_unit && read.unit[i].tooth == e->start.unit[i].tooth;
  if (!good && !error)
    cli_bad(_("%s: this is another bridge than that of exercise %s. Draw the one of the exercise."),
            path, e->id);
  for (size_t i = 0; good && i + 1 < read.n_unit; i++) {
    connector_clear(&mine->connector[i]);
    connector_init(&mine->connector[i]);
    good = connector_copy(&mine->connector[i], &read.connector[i]) == FAULT_NONE;
  }
  case_clear(&read);
  return good;
}

/* Four lines, or the gum side alone. */
static bool svg_take(const char *path, size_t connector, Case *mine)
{
  g_autoptr(GError) error = NULL, other = NULL;
  Connector *k = &mine->connector[connector];
  Outline side[SIDE_N] = {0}, section = {0};
  Side at;
  Fault fault = FAULT_NONE;
  if (svg_load_connector(path, side, &section, &error)) {
    for (int s = 0; s < SIDE_N && !fault; s++) {
      fault = outline_copy(&k->side[s], &side[s]);
      k->drawn[s] = true;
      outline_clear(&side[s]);
    }
  } else {
    g_autoptr(SvgDrawing) drawing = svg_drawing_load(path, &other);
    if (!drawing || drawing->line->len != 1) {
      cli_bad("%s", other ? other->message : error->message);
      return false;
    }
    const SvgLine *line = drawing->line->pdata[0];
    Outline *gum = &k->side[SIDE_GINGIVAL];
    fault = outline_copy(gum, &line->outline);
    if (!fault && gum->n && gum->knot[0].at.x > gum->knot[gum->n - 1].at.x)
      outline_reverse(gum);
    k->drawn[SIDE_GINGIVAL] = true;
    if (!fault)
      fault = connector_complete(mine, connector, &at);
  }
  outline_clear(&section);
  if (fault)
    cli_bad("%s: %s", path, _(fault_text(fault)));
  return !fault;
}

static bool answers_take(const Options *o, Work *work)
{
  const Exercise *e = work->exercise;
  for (char **a = o->answer; a && *a; a++) {
    const char *value = strchr(*a, '=');
    size_t i = 0;
    while (i < e->n_question && (!value || strlen(e->question[i].id) != (size_t)(value - *a) ||
                                 !g_str_has_prefix(*a, e->question[i].id)))
      i++;
    if (i == e->n_question) {
      cli_bad(_("exercise %s has no question for \"%s\". Write QUESTION=ANSWER."), e->id, *a);
      return false;
    }
    work->answer[i] = value + 1;
  }
  return true;
}

static Assessment *assess_rest(Assessor *assessor, const Case *c, size_t focus, Fault *fault)
{
  AssessSettings settings = assess_settings_default();
  Assessment *a = NULL;
  settings.grade = ASSESS_REST;
  settings.threads = (int)MIN(g_get_num_processors(), 4);
  settings.focus = focus;
  if (!*fault)
    *fault = assess(assessor, c, &settings, &a);
  return a;
}

/* ---- the score in words ---- */

static void row_json(GString *line, const ScoreRow *row)
{
  g_autofree char *asked = words_phrase(&row->asked), *is = words_phrase(&row->is),
                  *reason = words_phrase(&row->reason);
  json_open(line, NULL, '{');
  json_text(line, "asked", asked);
  json_text(line, "met", row->met ? "yes" : "no");
  json_text(line, "is", is);
  json_number(line, "share", row->share);
  json_text(line, "reason", reason);
  json_close(line, '}');
}

static void score_json(const Exercise *e, const Score *s)
{
  GString *line = json_begin();
  json_text(line, "exercise", e->id);
  json_text(line, "passed", s->passed ? "yes" : "no");
  json_number(line, "met", (double)s->met);
  json_number(line, "of", (double)s->n);
  json_number(line, "share", s->share);
  json_number(line, "start_mpa", s->start_mpa.value);
  json_number(line, "mine_mpa", s->mine_mpa.value);
  json_number(line, "mine_low_mpa", s->mine_mpa.low);
  json_number(line, "mine_high_mpa", s->mine_mpa.high);
  json_number(line, "best_mpa", s->best_mpa.value);
  json_open(line, "rows", '[');
  for (size_t i = 0; i < s->n; i++)
    row_json(line, &s->row[i]);
  json_close(line, ']');
  json_end_print(line);
}

static void score_print(const Exercise *e, const Case *c, const Score *s)
{
  g_autofree char *head = words_phrase(&s->head);
  printf("%s %s: %s\n", e->id, _(e->title), head);
  for (size_t i = 0; i < s->n; i++) {
    const ScoreRow *row = &s->row[i];
    g_autofree char *asked = words_phrase(&row->asked), *is = words_phrase(&row->is);
    char name[12] = "";
    if (row->connector < c->n_unit)
      connector_name(c, row->connector, '/', name);
    printf("  %s %s%s%s: %s\n", row->met ? _("met    ") : _("not yet"), name, *name ? " " : "",
           asked, is);
    if (row->reason.text) {
      g_autofree char *reason = words_phrase(&row->reason);
      printf("            %s\n", reason);
    }
  }
  for (size_t i = 0; i < s->n_remark; i++) {
    g_autofree char *remark = words_phrase(&s->remark[i]);
    printf("  %s\n", remark);
  }
  printf("  %s\n", _(s->passed ? e->learnt : e->task));
}

static int hand_in(const Options *o, const Exercise *e, Case *mine)
{
  Assessor *assessor = NULL;
  Work work = {.exercise = e, .strokes = -1};
  Assessment *start = NULL, *drawn = NULL, *ideal = NULL;
  Case best;
  case_init(&best);
  Fault fault = assessor_new(&assessor);
  start = assess_rest(assessor, &e->start, e->focus, &fault);
  drawn = assess_rest(assessor, mine, e->focus, &fault);
  BestSettings settings = {.threads = (int)MIN(g_get_num_processors(), 4)};
  if (!fault && e->criterion->len && work_best(assessor, e, mine, &settings, &best) == FAULT_NONE)
    ideal = assess_rest(assessor, &best, e->focus, &fault);
  int status = EXIT_BAD;
  work.start = start, work.mine = drawn, work.best = ideal;
  if (fault)
    cli_bad("%s: %s", e->id, _(fault_text(fault)));
  else if (answers_take(o, &work)) {
    Score *score = g_new(Score, 1);
    score_work(&work, score);
    if (o->json)
      score_json(e, score);
    else
      score_print(e, mine, score);
    status = score->passed ? EXIT_HOLDS : EXIT_NOT;
    g_free(score);
  }
  Assessment *all[] = {start, drawn, ideal};
  for (size_t i = 0; i < G_N_ELEMENTS(all); i++)
    if (all[i])
      assessment_unref(all[i]);
  case_clear(&best);
  assessor_free(assessor);
  return status;
}

static int exercise_print(const Exercise *e)
{
  printf("%s %s\n  %s\n  %s\n", e->id, _(e->title), _(e->scenario), _(e->task));
  for (size_t i = 0; i < e->n_question; i++) {
    const Question *q = &e->question[i];
    printf("  %s: %s\n", q->id, _(q->text));
    for (size_t k = 0; k < q->n_choice; k++)
      printf("    %s: %s\n", q->choice[k].id, _(q->choice[k].text));
  }
  for (guint i = 0; i < e->criterion->len; i++) {
    Phrase asked = criterion_phrase(&g_array_index(e->criterion, Criterion, i), &e->start);
    g_autofree char *text = words_phrase(&asked);
    printf("  - %s %s\n", asked.place, text);
  }
  return EXIT_HOLDS;
}

static int with_exercise(const Options *o, const Exercise *e)
{
  if (!o->outline && !o->answer)
    return exercise_print(e);
  size_t connector = e->focus;
  for (size_t i = 0; o->connector && i + 1 < e->start.n_unit; i++) {
    char name[12];
    connector_name(&e->start, i, '-', name);
    connector = strcmp(name, o->connector) == 0 ? i : connector;
  }
  Case mine;
  case_init(&mine);
  int status = EXIT_BAD;
  bool good = case_copy(&mine, &e->start) == FAULT_NONE;
  if (good && o->outline)
    good = g_str_has_suffix(o->outline, ".svg") ? svg_take(o->outline, connector, &mine)
                                                : case_take(o->outline, e, &mine);
  if (good)
    status = hand_in(o, e, &mine);
  case_clear(&mine);
  return status;
}

int cli_practice(int argc, char **argv)
{
  Options o = {0};
  const GOptionEntry entry[] = {
      {"list", 0, 0, G_OPTION_ARG_NONE, &o.list, N_("All exercises"), NULL},
      {"folder", 0, 0, G_OPTION_ARG_FILENAME, &o.folder, N_("More exercises"), N_("FOLDER")},
      {"outline", 0, 0, G_OPTION_ARG_FILENAME, &o.outline, N_("The drawing to score"),
       N_("FILE.svg|CASE.xml")},
      {"connector", 0, 0, G_OPTION_ARG_STRING, &o.connector,
       N_("Which connector an SVG file draws; else the one of the exercise"), "34-35"},
      {"answer", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o.answer, N_("Answer to a question; repeat it"),
       N_("QUESTION=ANSWER")},
      {"class", 0, 0, G_OPTION_ARG_FILENAME, &o.class_folder,
       N_("Progress of a class, one row a trainee"), N_("FOLDER")},
      {"pdf", 0, 0, G_OPTION_ARG_FILENAME, &o.pdf, N_("With --class: one page a trainee"),
       N_("FILE.pdf")},
      {"json", 0, 0, G_OPTION_ARG_NONE, &o.json, N_("One JSON object a line"), NULL},
      G_OPTION_ENTRY_NULL};
  if (!cli_options("[EXERCISE]", _("Exercises of the school bench, scored with reasons."), entry,
                   &argc, &argv))
    return EXIT_BAD;
  g_autoptr(GPtrArray) message = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(GPtrArray) set = exercises_all(o.folder, message);
  for (guint i = 0; i < message->len; i++)
    cli_bad("%s", (const char *)message->pdata[i]);
  const Exercise *e = argc == 2 ? exercise_find(set, argv[1]) : NULL;
  int status = o.class_folder        ? class_print(&o, set)
               : o.list || argc == 1 ? list_print(set, o.json)
               : e                   ? with_exercise(&o, e)
               : argc == 2           ? cli_bad(_("no exercise \"%s\". Try --list."), argv[1])
                           : cli_bad("%s", _("practice needs one exercise, such as 1.1."));
  g_free(o.folder);
  g_free(o.class_folder);
  g_free(o.pdf);
  g_free(o.outline);
  g_free(o.connector);
  g_strfreev(o.answer);
  return message->len && status == EXIT_HOLDS ? EXIT_NOT : status;
}
