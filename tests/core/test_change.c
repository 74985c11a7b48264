/* test_change.c - the words for what became different of a case, one change after the other.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/connector_size.h"
#include "casefile/material_xml.h"
#include "casefile/variant.h"
#include "record/change.h"
#include "case_files.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static void set(char **text, const char *to)
{
  g_free(*text);
  *text = g_strdup(to);
}

static void phrase_append(GString *out, const char *lead, const Phrase *phrase)
{
  char words[512];
  phrase_format(phrase, NULL, NULL, words, sizeof words);
  g_string_append_printf(out, "%s%s", lead, phrase->text ? words : "–");
}

/* All changes, one a line: "35/36: Roof radius: 0.20 mm > 0.75 mm"; parts must rise. */
static char *told(const Case *before, const Case *after)
{
  g_autoptr(GArray) changes = case_changes(before, after);
  GString *out = g_string_new(NULL);
  for (guint i = 0; i < changes->len; i++) {
    const CaseChange *change = &g_array_index(changes, CaseChange, i);
    g_assert_true(i == 0 || (change - 1)->part <= change->part);
    g_assert_true(change->connector == SIZE_MAX || change->connector + 1 < after->n_unit);
    phrase_append(out, i ? "\n" : "", &change->what);
    phrase_append(out, ": ", &change->before);
    phrase_append(out, " > ", &change->after);
  }
  return g_string_free(out, FALSE);
}

/* --- one member each --- */

static void tick_set(Case *c, const char *step, const char *initials)
{
  Tick *tick = g_new0(Tick, 1);
  *tick = (Tick){g_strdup(step), g_strdup(initials), g_strdup("2026-03-02T10:20:00Z")};
  g_ptr_array_add(c->tick, tick);
}
static void ticked(Case *c)
{
  tick_set(c, "order-read", "AB");
  tick_set(c, "roof-too-sharp", "AB");
  tick_set(c, "of-my-own", "");
}
static void event_set(Case *c, EventKind kind, double depth, double x)
{
  SurfaceEvent event = SURFACE_EVENT_NONE;
  event.kind = kind;
  event.depth = depth;
  event.at_x = x;
  g_array_append_val(c->connector[0].event, event);
}
static void events(Case *c)
{
  event_set(c, EVENT_DISC, 0.3, -0.5);
  event_set(c, EVENT_GROUND, NAN, NAN);
}
static void remark_set(Case *c, size_t connector, const char *text)
{
  Remark *remark = remark_new();
  remark->connector = connector;
  set(&remark->text, text);
  g_ptr_array_add(c->remark, remark);
}
static void remarks(Case *c)
{
  remark_set(c, SIZE_MAX, "Ask the\ndentist");
  remark_set(c, 2, "rounder here");
}
static void own_card(Case *c)
{
  g_strlcpy(c->material.id, "lab-7", sizeof c->material.id);
  g_strlcpy(c->material.name, "Own bars", sizeof c->material.name);
}
static void other_card(Case *c)
{
  c->material = *material_find("5y");
}
static void card_figures(Case *c)
{
  c->material.strength_mpa = 1001;
  g_strlcpy(c->material.of[FIGURE_YOUNG].source, "somewhere", sizeof c->material.of[0].source);
}
static void card_sources(Case *c)
{
  g_strlcpy(c->material.of[FIGURE_YOUNG].source, "somewhere", sizeof c->material.of[0].source);
}
static void roof(Case *c)
{
  ok(connector_size_set(c, 0, SIZE_RADIUS, 0.45));
}
static void width(Case *c)
{
  c->connector[1].neck_width = 4.5;
  ok(case_complete(c));
}
static void hair(Case *c) /* no reading shows it */
{
  outline_transform(&c->connector[0].side[SIDE_GINGIVAL], (const double[6]){1, 0, 0, 1, 1e-4, 0});
}
static void end_bent(Case *c) /* far from neck and roof */
{
  Outline *side = &c->connector[0].side[SIDE_OCCLUSAL];
  c->connector[0].drawn[SIDE_OCCLUSAL] = true;
  side->knot[0].at.y += 0.2;
  side->knot[0].in.y += 0.2;
}
static void end_bent_more(Case *c)
{
  end_bent(c);
  end_bent(c);
}
static void section(Case *c)
{
  ok(outline_copy(&c->connector[0].section, &c->connector[0].side[SIDE_GINGIVAL]));
}
static void unit_gone(Case *c)
{
  c->n_unit--;
}
static void bites(Case *c)
{
  c->load_case[0] = (LoadCase){.x = NAN, .incline_deg = 30, .on = {{35, 1}}, .n_on = 1};
  c->n_load_case = 1;
}
static void broke(Case *c)
{
  c->origin.connector = 1;
  c->origin.kind = ORIGIN_SCRATCH;
  c->origin.years = 2.5;
  set(&c->origin.seen, "mirror, hackle");
}
static void own_hold(Case *c)
{
  c->unit[0].support = SUPPORT_OWN;
  c->unit[0].own = (SpanSpring){4000, INFINITY};
}
static void texts(Case *c)
{
  set(&c->number, "QB-3");
  set(&c->title, "");
  set(&c->author, "bench technician");
  set(&c->blank_batch, "L7");
  set(&c->firing_record, "P4, 2 March");
}
static void photo(Case *c)
{
  Photo *p = &c->connector[0].photo;
  set(&p->file, "photos/a.jpg");
  set(&p->sha256, "ab");
  p->plane.width = p->plane.height = 100;
  p->traced = ANSWER_YES;
}
static void unseen(Case *c)
{
  c->trial = (CaseLoad){2, 333};
  ok(variant_pin(&c->connector[0], "pin"));
  ok(case_approve(c));
  g_ptr_array_add(c->history, history_entry_new());
  set(&c->connector[0].photo.file, "photos/b.jpg");
  c->connector[0].photo.opacity = 0.2;
}
#define PLAIN(name, ...)                                                                           \
  static void name(Case *c)                                                                        \
  {                                                                                                \
    __VA_ARGS__;                                                                                   \
  }
PLAIN(load, c->order_load_n = 650)
PLAIN(little, c->order_load_n = 600.01)
PLAIN(order, c->brush_mm = NAN, c->grinding_habit = ANSWER_YES, c->service.years = 15,
      c->free_height = 6)
PLAIN(blank, c->enlargement = 1.234, c->cutter_diameter = 0.6)
PLAIN(unit, c->unit[0].role = ROLE_IMPLANT, c->unit[1].length = 7.25,
      c->unit[3].support = SUPPORT_SOFT, c->unit[2].saddle = FINISH_HIGH_POLISH,
      c->unit[2].saddle_shape = SADDLE_OVAL)
PLAIN(finish, c->connector[1].finish[ZONE_ROOF] = FINISH_HIGH_POLISH,
      c->connector[1].finish[ZONE_LEGS] = FINISH_UNKNOWN, c->connector[1].polish_steps = 5)
PLAIN(bench, c->connector[2].measured_height = 3.456, c->connector[2].dye = CHECK_CLEAN,
      c->connector[2].brush_passes = ANSWER_NO, c->step = STEP_FIRING, c->fit = FIT_PASSIVE,
      c->inside = FINISH_FINE_GROUND, c->firings = 3)

static void test_words(void)
{
  static const struct {
    void (*change)(Case *);
    const char *words;
  } row[] = {
      {load, "Order’s load: 600 N > 650 N"},
      {little, "Order’s load: 600.0000 N > 600.0100 N"},
      {order, "Grinding habit: no > yes\nYears of service: – > 15\nBrush to pass: 1.10 mm > "
              "–\nFree height: – > 6.00 mm"},
      {texts,
       "Case number: QB-02 > QB-3\nTitle: Four units with V embrasures > –\nMade by: trainee "
       "> bench technician\nBatch of the blank: – > L7\nFiring record: – > P4, 2 March"},
      {bites, "Bite 1: – > bite on 35, 30 degrees towards the cheek"},
      {other_card, "Material card: Zirconia 3Y > Zirconia 5Y"},
      {own_card, "Material card: Zirconia 3Y > Own bars"},
      {card_figures, "Material card, strength: 850 MPa > 1001 MPa"},
      {card_sources, "Material card, own factors and single sources: – > changed"},
      {blank, "Enlargement: 1.250 > 1.234\nCutter: – > 0.60 mm"},
      {unit,
       "34: role: abutment > implant\n35: length: 7.00 mm > 7.25 mm\n36: finish of the tissue "
       "side: milled only > high gloss\n36: shape of the tissue side: – > oval\n37: support: "
       "middle firm > soft"},
      {own_hold, "34: support: middle firm > own values"},
      {unit_gone, "Unit 37: abutment > –\n36/37: Connector: there > –"},
      {roof, "34/35: Roof radius: 0.20 mm > 0.45 mm\n34/35: Opening angle: 51.5° > 45.2°"},
      {width, "35/36: Neck width: 3.20 mm > 4.50 mm\n35/36: Wanted neck width: 3.20 mm > 4.50 mm"},
      {hair, "34/35: Gum-side outline: – > moved by less than 0.01 mm"},
      {end_bent, "34/35: Biting-side outline: proposed > drawn"},
      {section, "34/35: Neck section: by roundness > drawn"},
      {finish, "35/36: finish, roof: milled only > high gloss\n35/36: finish, legs: milled only > "
               "–\n35/36: polishing, rubber coarse: – > done\n35/36: polishing, rubber fine: – > "
               "done"},
      {events, "34/35: mark: – > disc mark at −0.5 mm, 0.30 mm deep\n34/35: mark: – > ground"},
      {bench,
       "36/37: Measured neck height: – > 3.46 mm\n36/37: Brush passes: – > no\n36/37: Dye: – "
       "> clean\nStep of the job: drawing > firing\nFinish inside: milled only > ground fine, "
       "wet\nFit: – > passive\nFirings so far: – > 3"},
      {photo, "34/35: Photo: – > photos/a.jpg\n34/35: Outline traced on the photo: – > yes"},
      {ticked, "Order read, brush 1.1 noted: – > ticked by AB\nRound the gum-side roof to at least "
               "0.45 millimetres.: – > ticked by AB\nof-my-own: – > ticked by "},
      {remarks, "Remark: – > Ask the dentist\n36/37: Remark: – > rounder here"},
      {broke, "Broke at: – > 35/36\nKind of start: – > scratch of grinding or milling\nYears in "
              "service: – > 2.5\nSeen on the broken faces: – > mirror, hackle"},
      {unseen, ""},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    Case c, changed;
    demo_load(&c, "demo/QB-02.xml");
    case_init(&changed);
    ok(case_copy(&changed, &c));
    row[i].change(&changed);
    g_autofree char *words = told(&c, &changed);
    g_assert_cmpstr(words, ==, row[i].words);
    g_autofree char *same = told(&changed, &changed);
    g_assert_cmpstr(same, ==, "");
    case_clear(&c);
    case_clear(&changed);
  }
}

/* Changed again from a state that was changed: both sides there. */
static void test_second(void)
{
  Case c, d;
  demo_load(&c, "demo/QB-02.xml");
  case_init(&d);
  ticked(&c), events(&c), remarks(&c), end_bent(&c), photo(&c), bites(&c), own_hold(&c);
  ok(case_copy(&d, &c));
  g_ptr_array_remove_index(d.tick, 1);
  set(&((Tick *)d.tick->pdata[0])->initials, "SH");
  g_array_index(d.connector[0].event, SurfaceEvent, 0).removed = ANSWER_YES;
  g_array_remove_index(d.connector[0].event, 1);
  ((Remark *)d.remark->pdata[0])->settled = ANSWER_YES;
  g_ptr_array_remove_index(d.remark, 1);
  end_bent_more(&d);
  d.connector[0].photo.plane.zoom = 2;
  d.load_case[0].on[0].tooth = 36;
  d.unit[0].own.rotation_n_mm_rad = 9000;
  g_autofree char *words = told(&c, &d);
  g_assert_cmpstr(
      words, ==,
      "Bite 1: bite on 35, 30 degrees towards the cheek > bite on 36, 30 degrees towards the "
      "cheek\n34: hold against turning: ∞ N·mm/rad > 9000 N·mm/rad\n34/35: Biting-side outline: – "
      "> "
      "moved by up to 0.40 mm\n34/35: the mark since: – > worked out\n34/35: mark: ground > "
      "–\n34/35: "
      "Photo: – > placed or scaled anew\nRound the gum-side roof to at least 0.45 millimetres.: "
      "ticked by AB > taken back\nOrder read, brush 1.1 noted: ticked by AB > ticked again by "
      "SH\n36/37: Remark: rounder here > –\nRemark settled: – > Ask the dentist");
  case_clear(&c);
  case_clear(&d);
}

/* A unit more at the left: connectors are found again by their teeth. */
static void test_units(void)
{
  Case c, d;
  demo_load(&c, "demo/QB-02.xml");
  demo_load(&d, "demo/QB-02.xml");
  c.n_unit--; /* 34 35 36 */
  for (size_t i = 0; i + 1 < d.n_unit; i++)
    d.unit[i] = d.unit[i + 1];
  ok(connector_copy(&d.connector[0], &c.connector[1]));
  d.n_unit--; /* 35 36 37 */
  d.connector[0].measured_height = 3;
  g_autofree char *words = told(&c, &d);
  g_assert_cmpstr(
      words, ==,
      "Unit 34: abutment > –\nUnit 37: – > abutment\n34/35: Connector: there > –\n36/37: "
      "Connector: – > there\n35/36: Measured neck height: – > 3.00 mm");
  case_clear(&c);
  case_clear(&d);
}

/* Long words of any script: cut at characters, and so that the difference is seen. */
static void test_long(void)
{
  Case c, d;
  demo_load(&c, "demo/QB-02.xml");
  demo_load(&d, "demo/QB-02.xml");
  g_autoptr(GString) text = g_string_new(NULL);
  for (int i = 0; i < 5000; i++)
    g_string_append(text, "界");
  set(&c.dentist_note, text->str);
  g_string_append(text, "end");
  set(&d.dentist_note, text->str);
  g_autoptr(GArray) changes = case_changes(&c, &d);
  g_assert_cmpuint(changes->len, ==, 1);
  const CaseChange *change = &g_array_index(changes, CaseChange, 0);
  g_assert_true(g_utf8_validate(change->before.name, -1, NULL));
  g_assert_true(g_utf8_validate(change->after.name, -1, NULL));
  g_assert_true(g_str_has_prefix(change->after.name, "…"));
  g_assert_true(g_str_has_suffix(change->after.name, "界end"));
  g_assert_false(g_str_has_suffix(change->before.name, "end"));
  set(&d.dentist_note, "short");
  g_autofree char *words = told(&d, &c);
  g_assert_true(g_str_has_prefix(words, "Note to the dentist: short > 界界"));
  g_assert_true(g_str_has_suffix(words, "界…"));
  case_clear(&c);
  case_clear(&d);
}

/* Whatever is different for a digest is told in words (record/digest.h), in random pairs. */
static void test_parts(void)
{
  for (CasePart part = 0; part < PART_N; part++)
    g_assert_cmpuint(strlen(case_part_name(part)), >, 0);
  for (int i = 1; i <= 10; i++)
    for (int j = 1; j <= 10; j++) {
      g_autofree char *p = g_strdup_printf("demo/QB-%02d.xml", i);
      g_autofree char *q = g_strdup_printf("demo/QB-%02d.xml", j);
      Case c, d;
      demo_load(&c, p);
      demo_load(&d, q);
      g_autofree char *words = told(&c, &d);
      g_assert_true((i == j) == (*words == '\0'));
      case_clear(&c);
      case_clear(&d);
    }
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/change/words", test_words);
  g_test_add_func("/change/second", test_second);
  g_test_add_func("/change/units", test_units);
  g_test_add_func("/change/long", test_long);
  g_test_add_func("/change/demo-pairs", test_parts);
  return g_test_run();
}
