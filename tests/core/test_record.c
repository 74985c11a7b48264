/* test_record.c - digest of what was judged, the chained history, decisions and what reopens them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/photo.h"
#include "casefile/variant.h"
#include "record/decision.h"
#include "case_files.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static const Person bench = {"Ann Bench", "bench technician", "AB"};
static const Person head = {"Sam Head", "supervisor", "SH"};

static void set(char **text, const char *to)
{
  g_free(*text);
  *text = g_strdup(to);
}

static void reread(Case *back, const Case *c)
{
  g_autoptr(GString) text = case_to_xml(c);
  GError *error = NULL;
  case_init(back);
  case_load_memory(back, text->str, text->len, "again", &error);
  g_assert_no_error(error);
}

/* --- digest --- */

static void tick_add(Case *c)
{
  Tick *tick = g_new0(Tick, 1);
  *tick = (Tick){g_strdup("fire"), g_strdup("AB"), g_strdup("2026-03-02T10:20:00Z")};
  g_ptr_array_add(c->tick, tick);
}
static void event_add(Case *c)
{
  SurfaceEvent event = SURFACE_EVENT_NONE;
  g_array_append_val(c->connector[0].event, event);
}
static void outline_shift(Case *c)
{
  outline_transform(&c->connector[0].side[SIDE_GINGIVAL], (const double[6]){1, 0, 0, 1, 0, 2e-6});
}
static void plan_shift(Case *c)
{
  Connector *k = &c->connector[1];
  k->drawn[SIDE_BUCCAL] = true;
  outline_transform(&k->side[SIDE_BUCCAL], (const double[6]){1, 0, 0, 1.01, 0, 0});
}
static void section_draw(Case *c)
{
  ok(outline_copy(&c->connector[0].section, &c->connector[0].side[SIDE_GINGIVAL]));
}
static void room_draw(Case *c)
{
  ok(outline_copy(&c->connector[0].room, &c->connector[0].side[SIDE_GINGIVAL]));
}
static void photo_of(Case *c)
{
  set(&c->connector[0].photo.sha256, "00ff");
}
static void bite_add(Case *c)
{
  c->load_case[c->n_load_case++] = (LoadCase){.x = NAN, .incline_deg = 20};
}
static void batch(Case *c)
{
  set(&c->blank_batch, "L-77");
}
static void note(Case *c)
{
  set(&c->dentist_note, "Do not grind the roofs.");
}
static void number(Case *c)
{
  set(&c->number, "QB-99");
}
#define PLAIN(name, change)                                                                        \
  static void name(Case *c)                                                                        \
  {                                                                                                \
    change;                                                                                        \
  }
PLAIN(load, c->order_load_n += 1)
PLAIN(brush, c->brush_mm = 0.9)
PLAIN(service, c->service.years = 12)
PLAIN(card, c->material.strength_mpa += 1)
PLAIN(card_source, c->material.source[0] = '#')
PLAIN(cutter, c->cutter_diameter = 1.2)
PLAIN(unit_size, c->unit[1].length += 0.001)
PLAIN(unit_role, c->unit[0].role = ROLE_IMPLANT)
PLAIN(unit_hold, c->unit[0].support = SUPPORT_SOFT)
PLAIN(saddle, c->unit[1].saddle = FINISH_BLASTED)
PLAIN(roundness, c->connector[0].roundness_neck = 3)
PLAIN(doubt, c->connector[0].roof_doubt_percent = 7)
PLAIN(finish, c->connector[0].finish[ZONE_LEGS] = FINISH_DISC_CUT)
PLAIN(steps, c->connector[0].polish_steps ^= 4)
PLAIN(measured, c->connector[0].measured_height = 3.33)
PLAIN(dye, c->connector[0].dye = CHECK_LINE)
PLAIN(cut_back, c->connector[0].cut_back = 0.4)
PLAIN(step, c->step = STEP_COAT)
PLAIN(inside, c->inside = FINISH_COARSE_GROUND)
PLAIN(fit, c->fit = FIT_ROCKS)
PLAIN(firings, c->firings = 6)

static void test_digest(void)
{
  static void (*const judged[])(Case *) = {
      tick_add,  event_add,   outline_shift, plan_shift, section_draw, room_draw, photo_of,
      bite_add,  batch,       note,          number,     load,         brush,     service,
      card,      card_source, cutter,        unit_size,  unit_role,    unit_hold, saddle,
      roundness, doubt,       finish,        steps,      measured,     dye,       cut_back,
      step,      inside,      fit,           firings};
  Case c;
  char was[65], is[65];
  demo_load(&c, "demo/QB-02.xml");
  c.connector[0].photo.plane.width = 100; /* there, so that its digest is written */
  ok(case_digest(&c, was));
  g_assert_cmpuint(strlen(was), ==, 64);
  for (size_t i = 0; i < G_N_ELEMENTS(judged); i++) {
    Case changed;
    case_init(&changed);
    ok(case_copy(&changed, &c));
    judged[i](&changed);
    ok(case_digest(&changed, is));
    g_test_message("change %zu", i);
    g_assert_cmpstr(was, !=, is);
    case_clear(&changed);
  }
  /* and what was not judged */
  set(&c.title, "another line");
  c.trial = (CaseLoad){3, 123};
  ok(variant_pin(&c.connector[0], "pinned"));
  ok(case_approve(&c));
  ok(chain_append(&c, ENTRY_NOTE, &bench, "a note", NULL, NULL, NULL, NULL));
  Remark *remark = remark_new();
  set(&remark->text, "why so sharp?");
  g_ptr_array_add(c.remark, remark);
  c.origin.kind = ORIGIN_PORE;
  set(&c.origin.seen, "grey spot");
  set(&c.connector[0].photo.file, "photos/elsewhere.jpg");
  c.connector[0].photo.opacity = 0.1;
  c.connector[0].photo.locked = ANSWER_YES;
  ok(case_digest(&c, is));
  g_assert_cmpstr(was, ==, is);
  g_assert_cmpuint(c.history->len, >, 0); /* borrowed, not eaten */
  case_clear(&c);
}

/* Every shipped case keeps its digest through a file. */
static void test_digest_file(void)
{
  for (int i = 1; i <= 10; i++) {
    g_autofree char *name = g_strdup_printf("demo/QB-%02d.xml", i);
    Case c, back;
    char was[65], is[65];
    demo_load(&c, name);
    reread(&back, &c);
    ok(case_digest(&c, was));
    ok(case_digest(&back, is));
    g_assert_cmpstr(was, ==, is);
    case_clear(&c);
    case_clear(&back);
  }
}

/* --- chain --- */

static const HistoryEntry *entry(const Case *c, guint i)
{
  return c->history->pdata[i];
}

/* The digest that the program of every desktop gives for these bytes. */
static char *sha256sum(const GString *bytes)
{
  g_autofree char *file = in_folder("bytes");
  g_autofree char *out = NULL;
  GError *error = NULL;
  int status;
  g_assert_true(g_file_set_contents(file, bytes->str, (gssize)bytes->len, NULL));
  char *argv[] = {"sha256sum", file, NULL};
  g_spawn_sync(NULL, argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, NULL, &status, &error);
  g_assert_no_error(error);
  g_assert_cmpint(status, ==, 0);
  g_unlink(file);
  return g_strndup(out, 64);
}

/* A demo with two entries from before the chain, then three chained ones. */
static void chained_case(Case *c)
{
  demo_load(c, "demo/QB-02.xml");
  g_ptr_array_set_size(c->history, 0);
  for (int i = 1; i <= 2; i++) {
    HistoryEntry *old = history_entry_new();
    g_free(old->time);
    old->time = g_strdup_printf("day %d", i);
    set(&old->text, "drawn by hand");
    g_ptr_array_add(c->history, old);
  }
  g_assert_cmpint(chain_check(c).state, ==, CHAIN_NONE);
  ok(chain_append(c, ENTRY_CHANGE, &bench, "Roof radius", "0.20 mm", "0.75 mm", NULL, NULL));
  ok(chain_append(c, ENTRY_SENT, &bench, NULL, NULL, NULL, NULL, NULL));
  ok(chain_append(c, ENTRY_PASS, &head, "good", NULL, NULL, "1.00 1.25", NULL));
}

static void test_chain(void)
{
  Case c, back;
  chained_case(&c);
  ChainReading reading = chain_check(&c);
  g_assert_cmpint(reading.state, ==, CHAIN_WHOLE);
  g_assert_cmpuint(reading.first, ==, 2);
  for (guint i = 2; i < 5; i++) {
    g_autoptr(GString) bytes = chain_bytes(&c, i);
    g_autofree char *sum = sha256sum(bytes);
    g_assert_cmpstr(sum, ==, entry(&c, i)->chain);
  }
  /* the first covers the old ones, by what chain.h says */
  g_autoptr(GString) first = chain_bytes(&c, 2);
  g_assert_true(g_str_has_prefix(first->str, "soffit history 1\nearlier 2\nkind 4:note\ntime 5:day "
                                             "1\nname 0:\nrole 0:\ninitials 0:\ntext 13:drawn by "
                                             "hand\nbefore 0:\n"));
  g_assert_nonnull(strstr(first->str, "\nbefore 7:0.20 mm\nafter 7:0.75 mm\ncontent 64:"));
  g_autoptr(GString) next = chain_bytes(&c, 3);
  g_autofree char *begin =
      g_strdup_printf("soffit history 1\nprevious 64:%s\nkind 4:sent\n", entry(&c, 2)->chain);
  g_assert_true(g_str_has_prefix(next->str, begin));
  /* through a file */
  reread(&back, &c);
  g_assert_true(case_equal(&c, &back));
  g_assert_cmpint(chain_check(&back).state, ==, CHAIN_WHOLE);
  g_autofree char *words = entry_words(entry(&c, 2));
  g_assert_cmpstr(words, ==, "Roof radius: 0.20 mm → 0.75 mm");
  case_clear(&c);
  case_clear(&back);
}

static void broken_at(const Case *c, guint at)
{
  ChainReading reading = chain_check(c);
  g_assert_cmpint(reading.state, ==, CHAIN_BROKEN);
  g_assert_cmpuint(reading.broken_at, ==, at);
}

static void test_tampered(void)
{
  static const size_t text[] = {offsetof(HistoryEntry, time),     offsetof(HistoryEntry, role),
                                offsetof(HistoryEntry, initials), offsetof(HistoryEntry, name),
                                offsetof(HistoryEntry, text),     offsetof(HistoryEntry, before),
                                offsetof(HistoryEntry, after),    offsetof(HistoryEntry, key),
                                offsetof(HistoryEntry, content),  offsetof(HistoryEntry, limits)};
  for (guint i = 0; i < 5; i++)
    for (size_t k = 0; k < G_N_ELEMENTS(text); k++) {
      Case c;
      chained_case(&c);
      char **field = (char **)(void *)((char *)c.history->pdata[i] + text[k]);
      g_autofree char *more = g_strconcat(*field, "!", NULL);
      set(field, more);
      broken_at(&c, MAX(i, 2)); /* the old ones are covered by the first that is chained */
      case_clear(&c);
    }
  Case c;
  chained_case(&c); /* another kind */
  ((HistoryEntry *)c.history->pdata[4])->kind = ENTRY_RETURN;
  broken_at(&c, 4);
  case_clear(&c);
  for (guint gone = 0; gone < 4; gone++) { /* taken out */
    chained_case(&c);
    g_ptr_array_remove_index(c.history, gone);
    broken_at(&c, gone < 2 ? 1 : gone);
    case_clear(&c);
  }
  for (guint at = 0; at <= 4; at++) { /* put in between, without a chain */
    chained_case(&c);
    g_ptr_array_insert(c.history, (int)at, history_entry_new());
    broken_at(&c, MAX(at, at <= 2 ? 3 : 2));
    case_clear(&c);
  }
  chained_case(&c); /* swapped */
  gpointer swap = c.history->pdata[3];
  c.history->pdata[3] = c.history->pdata[4];
  c.history->pdata[4] = swap;
  broken_at(&c, 3);
  g_assert_cmpint(chain_append(&c, ENTRY_CHANGE, &bench, "later", NULL, NULL, NULL, NULL), ==,
                  FAULT_NONE);
  broken_at(&c, 3); /* what comes later does not mend it */
  g_assert_true(chain_fits(&c, 5));
  case_clear(&c);
  chained_case(&c); /* the newest cut off: not seen, chain.h and README say so */
  g_ptr_array_remove_index(c.history, 4);
  g_assert_cmpint(chain_check(&c).state, ==, CHAIN_WHOLE);
  case_clear(&c);
}

/* What people and careless programs write. */
static void test_texts(void)
{
  g_autoptr(GString) endless = g_string_new(NULL);
  for (int i = 0; i < 5000; i++)
    g_string_append(endless, i % 7 ? "ж" : "界");
  const char *const text[] = {"two\nlines\tand a tab",
                              "a\r\nb\rc",
                              "\"quoted\" 'too' <&> ]]>",
                              "قوس، जिरकोनिया, 破断, ζιρκόνια, Brücke",
                              "e\xcc\x81 and \xf0\x9f\xa6\xb7",
                              "  blanks at both ends \n",
                              "bell \a and escape \x1b",
                              "not UTF-8 \xff\xfe end",
                              "\xef\xbf\xbe\xef\xbf\xbf",
                              "\xc2\x85\xe2\x80\xa8",
                              "",
                              endless->str};
  Case c, back;
  demo_load(&c, "demo/QB-01.xml");
  for (size_t i = 0; i < G_N_ELEMENTS(text); i++) {
    Person odd = {(char *)text[i], "supervisor", (char *)text[i]};
    ok(chain_append(&c, ENTRY_RETURN, &odd, text[i], text[i], text[i], text[i], NULL));
  }
  g_assert_cmpint(chain_check(&c).state, ==, CHAIN_WHOLE);
  reread(&back, &c);
  g_assert_true(case_equal(&c, &back));
  g_assert_cmpint(chain_check(&back).state, ==, CHAIN_WHOLE);
  g_assert_cmpstr(entry(&back, back.history->len - 1)->text, ==, endless->str);
  g_assert_cmpstr(entry(&back, c.history->len - (guint)G_N_ELEMENTS(text) + 1)->before, ==,
                  "a\r\nb\rc");
  /* an old entry that no program of ours wrote: digested as a file keeps it */
  Case old;
  demo_load(&old, "demo/QB-01.xml");
  HistoryEntry *wild = history_entry_new();
  set(&wild->text, " \x01 wild \xff ");
  g_ptr_array_insert(old.history, 0, wild);
  ok(chain_append(&old, ENTRY_SENT, &bench, NULL, NULL, NULL, NULL, NULL));
  case_clear(&back);
  reread(&back, &old);
  g_assert_cmpint(chain_check(&back).state, ==, CHAIN_WHOLE);
  case_clear(&c);
  case_clear(&old);
  case_clear(&back);
}

static void test_clock(void)
{
  Case c;
  demo_load(&c, "demo/QB-01.xml");
  g_ptr_array_set_size(c.history, 0);
  ok(chain_append(&c, ENTRY_NOTE, &bench, "now", NULL, NULL, NULL, NULL));
  g_autoptr(GTimeZone) utc = g_time_zone_new_utc();
  g_autoptr(GDateTime) then = g_date_time_new_from_iso8601(entry(&c, 0)->time, utc);
  g_assert_cmpint(ABS(g_date_time_to_unix(then) - g_get_real_time() / G_USEC_PER_SEC), <=, 2);
  g_assert_cmpstr(entry(&c, 0)->text, ==, "now");
  set(&((HistoryEntry *)c.history->pdata[0])->time, "2199-01-01T00:00:00+02:00");
  ok(chain_append(&c, ENTRY_NOTE, &bench, "then", NULL, NULL, NULL, NULL));
  g_assert_cmpstr(entry(&c, 1)->time, ==, "2198-12-31T22:00:00Z");
  g_assert_true(g_str_has_prefix(entry(&c, 1)->text, "then\nThe clock stood at 20"));
  g_assert_nonnull(strstr(entry(&c, 1)->text, "before the last entry"));
  case_clear(&c);
}

/* --- decisions --- */

static void standing_is(const Case *c, StandingState state, guint why)
{
  Standing s;
  ok(case_standing(c, NULL, &s));
  g_assert_cmpint(s.state, ==, state);
  g_assert_cmpuint(s.why->len, ==, why);
  standing_clear(&s);
}

static void test_decision(void)
{
  VerdictLimits limits = verdict_limits_default();
  Case c, before;
  demo_load(&c, "demo/QB-02.xml");
  case_init(&before);
  g_ptr_array_set_size(c.history, 0);
  standing_is(&c, STANDING_DRAWN, 0);
  /* what needs a reason */
  g_assert_cmpint(case_decide(&c, ENTRY_RETURN, &head, NULL, 0, &limits, NULL), ==, FAULT_RANGE);
  g_assert_cmpint(case_decide(&c, ENTRY_WAIT, &head, " \n", 0, &limits, NULL), ==, FAULT_RANGE);
  g_assert_cmpint(case_decide(&c, ENTRY_PASS, &head, "", 1, &limits, NULL), ==, FAULT_RANGE);
  g_assert_cmpint(case_decide(&c, ENTRY_CHANGE, &head, "x", 0, &limits, NULL), ==, FAULT_RANGE);
  g_assert_cmpuint(c.history->len, ==, 0);
  ok(case_decide(&c, ENTRY_SENT, &bench, NULL, 0, &limits, NULL));
  standing_is(&c, STANDING_WAITS, 0);
  ok(case_decide(&c, ENTRY_RETURN, &head, "rounder, please", 0, &limits, NULL));
  standing_is(&c, STANDING_RETURNED, 0);
  ok(case_copy(&before, &c));
  c.order_load_n += 50;
  ok(record_changes(&c, &before, &bench, NULL));
  g_assert_cmpuint(c.history->len, ==, 3);
  standing_is(&c, STANDING_RETURNED, 0); /* until it is sent again */
  ok(case_decide(&c, ENTRY_SENT, &bench, NULL, 0, &limits, NULL));
  ok(case_decide(&c, ENTRY_WAIT, &head, "ask the dentist", 0, &limits, NULL));
  standing_is(&c, STANDING_WAITS, 0);
  ok(case_decide(&c, ENTRY_PASS, &head, NULL, 0, &limits, NULL));
  standing_is(&c, STANDING_PASSED, 0);
  g_assert_cmpstr(entry(&c, c.history->len - 1)->limits, ==, "1.00 1.25");
  g_assert_cmpuint(c.connector[0].approved[SIDE_GINGIVAL].n, >, 0);
  /* nothing judged changes: it stands; then a change by the record, then back again */
  ok(case_copy(&before, &c));
  set(&c.title, "renamed");
  standing_is(&c, STANDING_PASSED, 0);
  ok(record_changes(&c, &before, &bench, NULL));
  standing_is(&c, STANDING_PASSED, 0);
  ok(case_copy(&before, &c));
  c.order_load_n = 777;
  c.connector[0].finish[ZONE_ROOF] = FINISH_DISC_CUT;
  ok(record_changes(&c, &before, &bench, NULL));
  Standing s;
  ok(case_standing(&c, NULL, &s));
  g_assert_cmpint(s.state, ==, STANDING_REOPENED);
  g_assert_false(s.outside);
  g_assert_cmpuint(s.why->len, ==, 3); /* title, order, finish */
  g_assert_cmpstr(s.why->pdata[1], ==, "Order’s load: 650 N → 777 N");
  g_assert_cmpstr(s.why->pdata[2], ==, "34/35: finish, roof: milled only → disc mark");
  standing_clear(&s);
  /* by somebody who wrote no record */
  c.fit = FIT_ROCKS;
  ok(case_standing(&c, NULL, &s));
  g_assert_true(s.outside);
  g_assert_cmpuint(s.why->len, ==, 4);
  g_assert_cmpstr(s.why->pdata[3], ==, "Changed outside the record.");
  standing_clear(&s);
  case_clear(&c);
  case_clear(&before);
}

/* A decision whose own entry was changed is none; one after a broken entry stands and tells. */
static void test_decision_broken(void)
{
  Case c;
  Standing s;
  chained_case(&c);
  standing_is(&c, STANDING_PASSED, 0);
  set(&((HistoryEntry *)c.history->pdata[3])->time, "2020-01-01T00:00:00Z");
  ok(case_standing(&c, NULL, &s));
  g_assert_cmpint(s.state, ==, STANDING_PASSED);
  g_assert_cmpint(s.chain.state, ==, CHAIN_BROKEN);
  g_assert_cmpuint(s.chain.broken_at, ==, 3);
  standing_clear(&s);
  case_clear(&c);
  chained_case(&c);
  set(&((HistoryEntry *)c.history->pdata[4])->name, "Somebody Else");
  standing_is(&c, STANDING_REOPENED, 1);
  case_clear(&c);
  chained_case(&c); /* a digest written over to fit the case of now */
  c.order_load_n += 1;
  char hex[65];
  ok(case_digest(&c, hex));
  set(&((HistoryEntry *)c.history->pdata[4])->content, hex);
  ok(case_standing(&c, NULL, &s));
  g_assert_cmpint(s.state, ==, STANDING_REOPENED);
  g_assert_cmpuint(s.chain.broken_at, ==, 4);
  standing_clear(&s);
  case_clear(&c);
}

/* History and remarks keep every member through a file, and are compared by it. */
static void test_entries(void)
{
  Case c, back;
  demo_load(&c, "demo/QB-02.xml");
  for (int kind = 0; kind < ENTRY_KINDS; kind++) {
    HistoryEntry *e = history_entry_new();
    e->kind = (EntryKind)kind;
    char **field[] = {&e->time,  &e->role,    &e->initials, &e->name,  &e->text, &e->before,
                      &e->after, &e->content, &e->limits,   &e->chain, &e->key,  &e->signature};
    for (size_t i = 0; i < G_N_ELEMENTS(field); i++) {
      g_free(*field[i]);
      *field[i] = g_strdup_printf("field %zu of \"%s\"\n", i, entry_kind_name((EntryKind)kind));
    }
    g_strstrip(e->text);
    g_ptr_array_add(c.history, e);
  }
  for (int i = 0; i < 3; i++) {
    Remark *remark = remark_new();
    remark->connector = i ? (size_t)i - 1 : SIZE_MAX;
    remark->at = i == 1 ? point(-0.25, 3.125) : point(NAN, NAN);
    remark->settled = (YesNo)i;
    set(&remark->text, i ? "here,\nplease" : "whole bridge");
    set(&remark->role, "supervisor");
    set(&remark->initials, "SH");
    set(&remark->time, "2026-03-02T10:20:00Z");
    g_ptr_array_add(c.remark, remark);
  }
  reread(&back, &c);
  g_assert_true(case_equal(&c, &back));
  const HistoryEntry *last = entry(&back, back.history->len - 1);
  g_assert_cmpint(last->kind, ==, ENTRY_MERGE);
  g_assert_cmpstr(last->signature, ==, "field 11 of \"merged\"\n");
  const Remark *second = back.remark->pdata[1];
  g_assert_cmpuint(second->connector, ==, 0);
  g_assert_cmpfloat(second->at.y, ==, 3.125);
  g_assert_cmpstr(second->text, ==, "here,\nplease");
  g_assert_cmpint(((const Remark *)back.remark->pdata[2])->settled, ==, ANSWER_YES);
  Case copy;
  case_init(&copy);
  ok(case_copy(&copy, &back));
  g_assert_true(case_equal(&copy, &back));
  ((Remark *)copy.remark->pdata[2])->settled = ANSWER_NO;
  g_assert_false(case_equal(&copy, &back));
  ((Remark *)copy.remark->pdata[2])->settled = ANSWER_YES;
  set(&((HistoryEntry *)copy.history->pdata[copy.history->len - 1])->limits, "other");
  g_assert_false(case_equal(&copy, &back));
  case_clear(&c);
  case_clear(&back);
  case_clear(&copy);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/record/entries", test_entries);
  g_test_add_func("/record/digest", test_digest);
  g_test_add_func("/record/digest-file", test_digest_file);
  g_test_add_func("/record/chain", test_chain);
  g_test_add_func("/record/tampered", test_tampered);
  g_test_add_func("/record/texts", test_texts);
  g_test_add_func("/record/clock", test_clock);
  g_test_add_func("/record/decision", test_decision);
  g_test_add_func("/record/decision-broken", test_decision_broken);
  return folder_run();
}
