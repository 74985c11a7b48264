/* test_cards.c - material cards: what may be published, a lab's folder, classes of ISO 6872, a card
 * from bars. SPDX-License-Identifier: GPL-3.0-or-later */
#include "case_files.h"
#include "casefile/card_folder.h"
#include "casefile/material_xml.h"
#include "proof.h"
#include "strength/iso_class.h"

static const Source
    iso = {"ISO 6872:2015, table of classes (2024 edition not seen)", FROM_MEMORY},
    strengths = {"strength of the classes, PMC6935426", READ},
    growth = {"28.5 and 30.15 read for two dental kinds; 20 to 30 as the careful side", READ},
    threshold = {"K_I0 of 3Y-TZP 3.1 to 3.5 (Chevalier 1999, De Aza 2002)", FROM_MEMORY};

static Material lab_card(void)
{
  Material m = *material_find("3y");
  g_strlcpy(m.id, "lab-3y", sizeof m.id);
  g_strlcpy(m.name, "3Y, lot 0417", sizeof m.name);
  g_strlcpy(m.date, "2026-11-25", sizeof m.date);
  g_strlcpy(m.lot, "0417", sizeof m.lot);
  g_strlcpy(m.who, "AB", sizeof m.who);
  return m;
}

static void test_classes(void)
{
  static const double strength[] = {50, 100, 300, 500, 800}, tough[] = {0.7, 1, 2, 3.5, 5};
  for (int i = 0; i < ISO_CLASSES; i++) {
    g_autofree char *name = g_strdup_printf("class %d, least strength", i + 1);
    proof_row_within(name, iso, strength[i], iso_class(i + 1)->strength_mpa, 1e-9);
    proof_row_within("class, least toughness", iso, tough[i], iso_class(i + 1)->toughness, 1e-9);
    g_assert_cmpint(iso_class(i + 1)->number, ==, i + 1);
    g_assert_true(*iso_class(i + 1)->use);
    g_assert_cmpint(iso_class_reached(strength[i], NAN), ==, i + 1);
    g_assert_cmpint(iso_class_reached(strength[i] - 0.1, NAN), ==, i);
  }
  g_assert_null(iso_class(0));
  g_assert_null(iso_class(6));
  g_assert_cmpint(iso_class_reached(900, 3.6), ==, 4); /* strong, but not tough enough */
  g_assert_cmpint(iso_class_reached(NAN, 5), ==, 0);
}

static void test_shipped(void)
{
  static const struct {
    const char *id;
    double low, high, sum;
  } row[] = {{"3y", 800, 900, 1700}, {"4y", 560, 650, 1210}, {"5y", 470, 500, 970}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    const Material *m = material_find(row[i].id);
    proof_row_between(m->name, strengths, row[i].sum / 2, m->strength_mpa, row[i].low, row[i].high);
    proof_row_between("exponent of crack growth", growth, 28.5, m->growth_n, 20, 30.15);
    g_assert_cmpint((int)m->state, ==, CARD_PUBLISHED);
    g_assert_cmpint((int)material_check(m, NULL), ==, FAULT_NONE);
    for (int k = 0; k < FIGURE_N; k++)
      g_assert_true(m->of[k].source[0] || (k == FIGURE_THRESHOLD && isnan(m->threshold)));
  }
  proof_row_between("threshold of the 3Y class", threshold, 3.3, material_find("3y")->threshold,
                    3.1, 3.5);
  g_assert_cmpint((int)material_find("own")->state, ==, CARD_DRAFT);
}

/* A card without a source cannot be saved as published; as a draft it can. */
static void test_publish(void)
{
  Material m = lab_card();
  const char *reason = NULL;
  GError *error = NULL;
  g_assert_cmpint((int)material_check_own(&m, &reason), ==, FAULT_NONE);
  m.source[0] = m.of[FIGURE_TOUGHNESS].source[0] = '\0';
  g_assert_cmpint((int)material_check(&m, &reason), ==, FAULT_RANGE);
  g_assert_nonnull(strstr(reason, "without a source cannot be published"));
  g_assert_false(card_save(folder, &m, &error));
  g_assert_error(error, CASE_ERROR, CASE_ERROR_VALUE);
  g_assert_nonnull(strstr(error->message, "lab-3y: A figure without a source cannot be published"));
  g_clear_error(&error);
  m.state = CARD_DRAFT;
  g_assert_cmpint((int)material_check(&m, &reason), ==, FAULT_NONE);
  m = lab_card();
  m.confidence = CONFIDENCE_NONE;
  m.of[FIGURE_WEIBULL].confidence = CONFIDENCE_NONE;
  g_assert_cmpint((int)material_check(&m, &reason), ==, FAULT_RANGE);
  m = lab_card();
  m.threshold = NAN; /* what is not stated needs no source */
  m.source[0] = m.of[FIGURE_THRESHOLD].source[0] = '\0';
  g_assert_cmpint((int)material_check(&m, &reason), ==, FAULT_NONE);
}

static void test_refused(void)
{
  Material m = lab_card();
  const struct {
    double *value, bad;
    const char *words;
  } row[] = {
      {&m.young_mpa, 205, "205 GPa is 205000"},
      {&m.poisson, 0.6, "Poisson"},
      {&m.toughness, 5e6, "toughness"},
      {&m.threshold, 5.5, "above the toughness"},
      {&m.strength_mpa, 850e6, "strength"},
      {&m.weibull, 0.5, "modulus m"},
      {&m.growth_n, 31, "inside its own range"},
      {&m.growth_low, 2, "inside its own range"},
      {&m.growth_high, 500, "inside its own range"},
      {&m.bar_span, 0.2, "sizes of the bars"},
      {&m.polish_gain_top, 0.9, "polish gain"},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    const char *reason = "";
    double kept = *row[i].value;
    *row[i].value = row[i].bad;
    g_test_message("%s", row[i].words);
    g_assert_cmpint((int)material_check(&m, &reason), ==, FAULT_RANGE);
    g_assert_nonnull(strstr(reason, row[i].words));
    *row[i].value = kept;
  }
  static const char *const no_day[] = {"2026-02-29", "2026-13-01", "25.11.2026", "2026-11-31",
                                       "20"};
  for (size_t i = 0; i < G_N_ELEMENTS(no_day); i++)
    g_assert_false(card_day_valid(no_day[i]));
  g_assert_true(card_day_valid("2028-02-29"));
  g_strlcpy(m.who, "", sizeof m.who);
  g_assert_cmpint((int)material_check_own(&m, NULL), ==, FAULT_RANGE);
}

static void test_folder(void)
{
  g_autofree char *path = in_folder("lab-3y.xml");
  g_autofree char *bad = in_folder("bad.xml");
  g_autoptr(GPtrArray) message = g_ptr_array_new_with_free_func(g_free);
  GError *error = NULL;
  size_t shipped;
  materials_shipped(&shipped);
  Material m = lab_card();
  m.bar_count = 30;
  g_assert_true(card_save(folder, &m, &error));
  g_assert_no_error(error);
  g_assert_true(g_file_set_contents(bad,
                                    "<materials xmlns=\"https://soffit.invalid/materials\" "
                                    "version=\"1\">\n<material id=\"x\"/>\n</materials>",
                                    -1, NULL));
  g_autoptr(GArray) all = cards_all(folder, message);
  g_assert_cmpuint(all->len, ==, shipped + 1); /* the bad one is told, the rest kept */
  g_assert_true(material_equal(&g_array_index(all, Material, shipped), &m));
  g_assert_cmpuint(message->len, ==, 1);
  g_assert_nonnull(strstr(message->pdata[0], "bad.xml:2: the material card \"x\": The stiffness"));
  char id[32];
  card_new_id(folder, "Lab 3Y", id);
  g_assert_cmpstr(id, ==, "lab-3y-2");
  card_new_id(folder, " – ", id);
  g_assert_cmpstr(id, ==, "card");
  g_strlcpy(m.id, "3y", sizeof m.id);
  g_assert_false(card_save(folder, &m, &error));
  g_assert_nonnull(strstr(error->message, "shipped card"));
  g_clear_error(&error);
  g_strlcpy(m.id, "../out", sizeof m.id);
  g_assert_false(card_save(folder, &m, &error));
  g_assert_nonnull(strstr(error->message, "file name"));
  g_clear_error(&error);
  g_autoptr(GArray) none = cards_all("no such folder", message);
  g_assert_cmpuint(none->len, ==, shipped);
  g_unlink(path);
  g_unlink(bad);
}

static void test_bad_files(void)
{
  static const struct {
    const char *card, *words;
  } row[] = {
      {"strength=\"-850\"", "cards.xml:2: strength=\"-850\" of <material> is absurd"},
      {"strength=\"850e3\"", "is absurd"},
      {"iso-class=\"7\"", "iso-class=\"7\" of <material> is absurd"},
      {"confidence=\"sure\"", "confidence=\"sure\" of <material> is not known. Write one of: read"},
      {"state=\"final\"", "state=\"final\" of <material> is not known"},
      {"date=\"2026-02-30\"", "cards.xml:2: the material card \"lab\": The day of the card"},
      {"state=\"published\" source=\"\"", "cannot be published"},
      {"bars=\"2.5\"", "no whole number"},
      {"version=\"2\"", "version"},
      {"><source of=\"taste\"/></material", "of=\"taste\" of <source> is not known"},
      {"><note/></material", "<note> is not known inside <material>"},
      {"><source of=\"young\"/><source of=\"young\"/></material", "source of young is there twice"},
  };
  g_autofree char *path = in_folder("cards.xml");
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    bool child = row[i].card[0] == '>', newer = g_str_has_prefix(row[i].card, "version");
    const char *sign = strchr(row[i].card, '=');
    g_autofree char *name = g_strndup(row[i].card, sign ? (gsize)(sign + 1 - row[i].card) : 0);
    g_autoptr(GString) text = g_string_new(
        "<materials xmlns=\"https://soffit.invalid/materials\" version=\"1\">\n"
        "<material id=\"lab\" young=\"205000\" poisson=\"0.31\" toughness=\"5\" "
        "toughness-band=\"10\" strength=\"900\" "
        "strength-band=\"10\" weibull=\"12\" bar=\"three-point\" bar-span=\"14\" bar-width=\"4\" "
        "bar-thickness=\"1.2\" "
        "bar-finish=\"high-polish\" polish-gain=\"1.1\" confidence=\"own\" @/>\n</materials>\n");
    if (child) {
      g_string_replace(text, "@/>", row[i].card, 1);
      g_string_replace(text, "</material\n", "</material>\n", 1);
    } else if (newer)
      g_string_replace(text, "version=\"1\"", "version=\"2\"", 1),
          g_string_replace(text, "@", "", 1);
    else {
      g_autofree char *old = g_strdup_printf(" %s\"", name);
      char *there = strstr(text->str, old);
      if (there) { /* takes the place of the good one */
        gsize at = (gsize)(there - text->str);
        g_string_erase(text, (gssize)at, (gssize)(strchr(there + strlen(old), '"') + 1 - there));
      }
      g_string_replace(text, "@", row[i].card, 1);
    }
    g_assert_true(g_file_set_contents(path, text->str, -1, NULL));
    g_autoptr(GError) error = NULL;
    g_assert_null(materials_load(path, &error));
    g_test_message("%s", error->message);
    g_assert_nonnull(strstr(error->message, row[i].words));
  }
  g_unlink(path);
}

static void test_from_bars(void)
{
  const Material *like = material_find("3y");
  BarCard bars = {
      "Polished, own", BAR_THREE_POINT, 14,  4, 1.2, FINISH_HIGH_POLISH, 1006, 965, 1048, 12.4, 15,
      "2026-11-25",    "0417",          "AB"};
  Material card = {.id = ""};
  const char *reason = NULL;
  g_assert_cmpint((int)card_from_bars(like, &bars, &card, &reason), ==, FAULT_NONE);
  g_assert_cmpfloat(card.strength_mpa, ==, 1006);
  g_assert_cmpfloat_with_epsilon(card.strength_percent, 100 * 42 / 1006.0, 1e-9);
  g_assert_cmpfloat(card.weibull, ==, 12.4);
  g_assert_cmpint(card.bar_count, ==, 15);
  g_assert_cmpint((int)card.state, ==, CARD_DRAFT);
  g_assert_cmpint((int)material_confidence(&card, FIGURE_STRENGTH), ==, CONFIDENCE_OWN);
  g_assert_cmpint((int)material_confidence(&card, FIGURE_TOUGHNESS), ==, CONFIDENCE_READ);
  g_assert_cmpstr(card.bar_finish, ==, "high-polish");
  Material kept = card;
  bars.lot = "";
  g_assert_cmpint((int)card_from_bars(like, &bars, &card, &reason), ==, FAULT_RANGE);
  g_assert_nonnull(strstr(reason, "lot"));
  g_assert_true(material_equal(&kept, &card));
  bars.lot = "1", bars.finish = FINISH_UNKNOWN;
  g_assert_cmpint((int)card_from_bars(like, &bars, &card, &reason), ==, FAULT_RANGE);
}

/* The copy in a case keeps its sources; a file that names its own source does not take over those
 * of the shipped card it starts from. */
static void test_in_case(void)
{
  Case c, again;
  demo_load(&c, "demo/QB-02.xml");
  case_init(&again);
  c.material = lab_card();
  g_autoptr(GString) text = case_to_xml(&c);
  GError *error = NULL;
  g_assert_true(case_load_memory(&again, text->str, text->len, "again.xml", &error));
  g_assert_no_error(error);
  g_assert_true(material_equal(&c.material, &again.material));
  g_assert_true(case_equal(&c, &again));
  g_strlcpy(again.material.of[FIGURE_YOUNG].source, "other", 12);
  g_assert_false(case_equal(&c, &again));
  case_clear(&c);
  case_clear(&again);
  g_autofree char *demo = shipped_text("demo/QB-02.xml");
  g_autoptr(GString) own = g_string_new(demo);
  g_assert_cmpuint(g_string_replace(own, "<material id=\"3y\"",
                                    "<material id=\"3y\" source=\"maker's sheet\"", 1),
                   ==, 1);
  case_init(&c);
  g_assert_true(case_load_memory(&c, own->str, own->len, "sheet.xml", &error));
  g_assert_cmpstr(material_source(&c.material, FIGURE_STRENGTH), ==, "maker's sheet");
  case_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/cards/classes", test_classes);
  g_test_add_func("/cards/shipped", test_shipped);
  g_test_add_func("/cards/publish", test_publish);
  g_test_add_func("/cards/refused", test_refused);
  g_test_add_func("/cards/folder", test_folder);
  g_test_add_func("/cards/bad files", test_bad_files);
  g_test_add_func("/cards/from bars", test_from_bars);
  g_test_add_func("/cards/in a case", test_in_case);
  return folder_run();
}
