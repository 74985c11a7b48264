/* paper_trainee.c - see paper_trainee.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Points.  What does not fit on the page are attempts of long ago. */
#include "ui/drawing/paper_trainee.h"
#include "practice/exercise_set.h"
#include "ui/drawing/paper_parts.h"
#include <math.h>
#include <string.h>

#define ACROSS 12
#define DOWN_MOST 6 /* the rest of the page has its place */
#define CELL_HIGH 24.0
#define ROW_HIGH 15.0

static TextStyle right(TextStyle style)
{
  return paper_aligned(style, ALIGN_RIGHT);
}

/* A cell an exercise: a tick where it was passed, a stroke where it was tried. */
static void cells_draw(Paper *p, const ClassRow *row, const GPtrArray *set)
{
  double left = paper_left(), wide = (paper_right(p) - left) / ACROSS;
  guint i = 0; /* cells */
  for (guint k = 0; k < set->len && i < ACROSS * DOWN_MOST; k++) {
    const Exercise *e = set->pdata[k];
    if (!exercise_counts(e))
      continue;
    const GPtrArray *attempt = row->progress->attempt;
    bool passed = progress_passed(row->progress, e->id), tried = false;
    for (guint a = 0; a < attempt->len; a++)
      tried = tried || strcmp(((const Attempt *)attempt->pdata[a])->exercise, e->id) == 0;
    Box box = {left + wide * (i % ACROSS) + 2, p->y + CELL_HIGH * (double)(i / ACROSS), wide - 4,
               CELL_HIGH - 4};
    path_box(p->cr, box, 2);
    ink_use(p->cr, p->context, passed ? COLOUR_SEL : COLOUR_PAPER);
    cairo_fill_preserve(p->cr);
    ink_use(p->cr, p->context, passed ? COLOUR_ACCENT : COLOUR_RULE);
    ink_width(p->cr, p->context, passed ? 1.6 : 1);
    cairo_stroke(p->cr);
    text_draw(p->cr, p->context, passed ? paper_strong : paper_body, point(box.x + 4, box.y + 14),
              e->id);
    text_draw(p->cr, p->context, right(passed ? paper_strong : paper_note),
              point(box.x + box.width - 4, box.y + 14),
              passed  ? "✓"
              : tried ? "–"
                      : "");
    i++;
  }
  p->y += CELL_HIGH * (double)((i + ACROSS - 1) / ACROSS) + 4;
}

static void skills_draw(Paper *p, const ClassRow *row)
{
  double l = paper_left(), r = paper_right(p);
  const double x[] = {l, l + 230, l + 310, l + 400, r};
  const TextStyle head[] = {paper_note, right(paper_note), right(paper_note), right(paper_note),
                            right(paper_note)},
                  body[] = {paper_body, right(paper_body), right(paper_body), right(paper_body),
                            right(paper_note)};
  const char *title[] = {
      "", text_word(p->context, N_("shown")), text_word(p->context, N_("not shown")),
      text_word(p->context, N_("in a row")), text_word(p->context, N_("last in"))};
  paper_row(p, 5, x, head, title);
  for (int i = 0; i < SKILLS; i++) {
    const SkillState *s = &row->skill[i];
    char shown[TEXT_ROOM], missed[TEXT_ROOM], streak[TEXT_ROOM];
    const char *cell[] = {text_word(p->context, skill_name((Skill)i)),
                          say_number(p->context, shown, s->right, 0),
                          say_number(p->context, missed, s->wrong, 0),
                          say_number(p->context, streak, s->streak, 0), s->last};
    paper_row(p, 5, x, body, cell);
  }
}

static void predictions_say(Paper *p, const ClassRow *row)
{
  char text[TEXT_ROOM];
  double wide = paper_right(p) - paper_left();
  if (isnan(row->place_mm) && isnan(row->gain_points)) {
    paper_words(p, paper_body, paper_left(), wide,
                text_word(p->context, N_("No predictions yet.")));
    return;
  }
  if (!isnan(row->place_mm))
    paper_words(p, paper_body, paper_left(), wide,
                say(p->context, text, N_("Crosses lie {0.1} mm from the hot spot on average."),
                    row->place_mm, 0, 0, 0));
  if (!isnan(row->gain_points))
    paper_words(p, paper_body, paper_left(), wide,
                say(p->context, text,
                    row->gain_points < 0 ? N_("Gains are guessed {0} points too low on average.")
                                         : N_("Gains are guessed {0} points too high on average."),
                    fabs(row->gain_points), 0, 0, 0));
}

/* The day, in UTC; "" for a time that no calendar has. */
static char *day_of(gint64 when)
{
  g_autoptr(GDateTime) at = g_date_time_new_from_unix_utc(when);
  return at ? g_date_time_format(at, "%Y-%m-%d") : g_strdup("");
}

static void attempts_draw(Paper *p, const ClassRow *row, const GPtrArray *set)
{
  double l = paper_left(), r = paper_right(p);
  const double x[] = {l, l + 70, l + 104, r - 60, r};
  const TextStyle style[] = {paper_note, paper_strong, paper_body, right(paper_body),
                             right(paper_note)};
  const GPtrArray *attempt = row->progress->attempt;
  double end = p->height - PAPER_FOOT - 8;
  guint rows = (guint)fmax(floor((end - p->y) / ROW_HIGH), 0), i = attempt->len,
        last = rows < attempt->len ? attempt->len - rows + 1 : 0; /* a row tells how many more */
  for (; i > last; i--) {
    const Attempt *a = attempt->pdata[i - 1];
    const Exercise *e = exercise_find(set, a->exercise);
    char met[TEXT_ROOM], hints[TEXT_ROOM];
    g_autofree char *day = day_of(a->when);
    say(p->context, met, a->passed ? N_("{0} of {1} ✓") : N_("{0} of {1}"), a->met, a->of, 0, 0);
    say(p->context, hints, a->shown ? N_("answer shown") : N_("hints {0}"), a->hints, 0, 0, 0);
    const char *cell[] = {day, a->exercise, e ? text_word(p->context, e->title) : "", met, hints};
    paper_row(p, 5, x, style, cell);
  }
  char more[TEXT_ROOM];
  if (i > 0)
    paper_words(p, paper_note, paper_left(), paper_right(p) - paper_left(),
                say(p->context, more, N_("… and {0} earlier ones"), i, 0, 0, 0));
}

static void foot_draw(Paper *p)
{
  double y = p->height - PAPER_FOOT + 16;
  p->y = y - 11;
  paper_rule(p);
  text_column(p->cr, p->context, paper_note, point(paper_left(), y + 3),
              paper_right(p) - paper_left(), 2, false,
              text_word(p->context, N_("Practice work is kept apart from patients' work and "
                                       "releases no bridge. Not a medical device.")));
}

void paper_trainee(cairo_t *cr, const DrawContext *context, const ClassRow *row,
                   const GPtrArray *set, double width, double height, const char *time)
{
  char text[TEXT_ROOM];
  Paper p = {.cr = cr,
             .context = context,
             .edge = context,
             .width = width,
             .height = height,
             .y = PAPER_MARGIN};
  const char *name = *row->progress->trainee ? row->progress->trainee : row->file;
  double wide = paper_right(&p) - paper_left();
  text_draw(cr, context, paper_note, point(paper_left(), p.y),
            text_word(context, N_("School bench")));
  text_draw(cr, context, right(paper_note), point(paper_right(&p), p.y), time ? time : "");
  p.y += 8;
  paper_rule(&p);
  p.y += 26;
  TextStyle title = {TEXT_VERDICT, true, false, COLOUR_TEXT, ALIGN_LEFT};
  text_column(cr, context, title, point(paper_left(), p.y), wide - 150, 1, false, name);
  say(context, text, N_("{0} of {1} passed"), row->passed, exercises_counted(set), 0, 0);
  text_draw(cr, context, right(paper_head), point(paper_right(&p), p.y), text);
  p.y += 16;
  cells_draw(&p, row, set);
  paper_heading(&p, N_("Understood"), N_("streaks of understanding, not of days"));
  skills_draw(&p, row);
  paper_heading(&p, N_("Predicted"), N_("before any shading was shown"));
  predictions_say(&p, row);
  paper_heading(&p, N_("Attempts"), N_("the latest first"));
  attempts_draw(&p, row, set);
  foot_draw(&p);
  cairo_show_page(cr);
}
