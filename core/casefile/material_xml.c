/* material_xml.c - material cards from XML: the shipped ones and a lab's own.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa, MPa sqrt(m), mm.  Schema data/schema/materials.rng. */
#include "casefile/material_xml.h"
#include "casefile/case_parts.h"
#include "casefile/shipped.h"
#include <libxml/tree.h>
#include <string.h>

#define MATERIALS_NAMESPACE "https://soffit.invalid/materials"
#define MOST_CARDS 1000

static const Material *card_find(const Material *card, size_t n, const char *id)
{
  for (size_t i = 0; i < n; i++)
    if (strcmp(card[i].id, id) == 0)
      return &card[i];
  return NULL;
}

static const Attribute material_row[] = {
    SHORT_ROW("id", Material, id),
    SHORT_ROW("name", Material, name),
    WORD_ROW("state", Material, state, WORDS_CARD),
    NUMBER_ROW("young", Material, young_mpa, 1, 1e7),
    NUMBER_ROW("poisson", Material, poisson, 0, 0.49),
    NUMBER_ROW("toughness", Material, toughness, 0.01, 1000),
    NUMBER_ROW("toughness-band", Material, toughness_percent, 0, 100),
    NUMBER_ROW("threshold", Material, threshold, 0, 1000),
    NUMBER_ROW("growth", Material, growth_n, 0, 1000),
    NUMBER_ROW("growth-low", Material, growth_low, 0, 1000),
    NUMBER_ROW("growth-high", Material, growth_high, 0, 1000),
    NUMBER_ROW("strength", Material, strength_mpa, 1, 1e5),
    NUMBER_ROW("strength-band", Material, strength_percent, 0, 100),
    NUMBER_ROW("weibull", Material, weibull, 1, 200),
    WORD_ROW("bar", Material, bar, WORDS_BAR),
    NUMBER_ROW("bar-span", Material, bar_span, 0.1, 1000),
    NUMBER_ROW("bar-width", Material, bar_width, 0.1, 1000),
    NUMBER_ROW("bar-thickness", Material, bar_thickness, 0.1, 1000),
    SHORT_ROW("bar-finish", Material, bar_finish),
    WHOLE_ROW("bars", Material, bar_count, 0, 100000),
    WHOLE_ROW("iso-class", Material, iso_class, 1, 5),
    NUMBER_ROW("polish-gain", Material, polish_gain_top, 0.5, 3),
    SHORT_ROW("source", Material, source),
    WORD_ROW("confidence", Material, confidence, WORDS_CONFIDENCE),
    SHORT_ROW("date", Material, date),
    SHORT_ROW("lot", Material, lot),
    SHORT_ROW("who", Material, who),
};
static const Element material_element = {"material", material_row, G_N_ELEMENTS(material_row)};

static const Attribute source_row[] = {
    SHORT_ROW("text", FigureSource, source),
    WORD_ROW("confidence", FigureSource, confidence, WORDS_CONFIDENCE),
};
static const Element source_element = {"source", source_row, G_N_ELEMENTS(source_row)};

static const Attribute factor_row[] = {
    WORD_ROW("state", OwnFactor, state, WORDS_FINISH),
    WORD_ROW("against", OwnFactor, against, WORDS_FINISH),
    NUMBER_ROW("value", OwnFactor, factor, OWN_FACTOR_LEAST, OWN_FACTOR_MOST),
    NUMBER_ROW("low", OwnFactor, low, OWN_FACTOR_LEAST, OWN_FACTOR_MOST),
    NUMBER_ROW("high", OwnFactor, high, OWN_FACTOR_LEAST, OWN_FACTOR_MOST),
    SHORT_ROW("source", OwnFactor, source),
};
static const Element factor_element = {"factor", factor_row, G_N_ELEMENTS(factor_row)};

bool material_equal(const Material *a, const Material *b)
{
  bool equal = attributes_equal(&material_element, a, b);
  for (int i = 0; i < FIGURE_N && equal; i++)
    equal = attributes_equal(&source_element, &a->of[i], &b->of[i]);
  equal = equal && a->n_own == b->n_own;
  for (size_t i = 0; i < a->n_own && equal; i++)
    equal = attributes_equal(&factor_element, &a->own[i], &b->own[i]);
  return equal;
}

void material_write(GString *out, const char *indent, const Material *m)
{
  size_t before = out->len;
  g_string_append_printf(out, "%s<material", indent);
  attributes_write(out, &material_element, m);
  size_t begun = out->len;
  g_string_append(out, ">\n");
  size_t empty = out->len;
  for (int i = 0; i < FIGURE_N; i++) {
    if (!m->of[i].source[0] && !m->of[i].confidence)
      continue;
    g_string_append_printf(out, "%s  <source", indent);
    write_word(out, "of", WORDS_FIGURE, i);
    attributes_write(out, &source_element, &m->of[i]);
    g_string_append(out, "/>\n");
  }
  g_autofree char *deeper = g_strconcat(indent, "  ", NULL);
  for (size_t i = 0; i < m->n_own; i++)
    element_write(out, deeper, &factor_element, &m->own[i]);
  if (!m->id[0])
    g_string_truncate(out, before); /* a card that says nothing */
  else if (out->len == empty) {
    g_string_truncate(out, begun);
    g_string_append(out, "/>\n");
  } else
    g_string_append_printf(out, "%s</material>\n", indent);
}

static void read_source(Reader *r, xmlNode *node, bool seen[FIGURE_N], Material *m)
{
  int figure = 0;
  if (!read_required(r, node, "of", "strength"))
    return;
  read_word(r, node, "of", WORDS_FIGURE, &figure);
  if (r->failed)
    return;
  if (seen[figure])
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "the source of %s is there twice. Delete one of them.",
                word_of(WORDS_FIGURE, figure));
  seen[figure] = true;
  m->of[figure] = (FigureSource){.source = ""};
  attributes_read(r, node, &source_element, &m->of[figure]);
}

static void read_factor(Reader *r, xmlNode *node, Material *m)
{
  static const char *const needed[][2] = {{"state", "high-polish"}, {"against", "as-milled"},
                                          {"value", "1.5"},         {"low", "1.4"},
                                          {"high", "1.6"},          {"source", "30 own bars"}};
  OwnFactor own = {.source = ""};
  for (size_t i = 0; i < G_N_ELEMENTS(needed); i++)
    if (!read_required(r, node, needed[i][0], needed[i][1]))
      return;
  attributes_read(r, node, &factor_element, &own);
  if (r->failed)
    return;
  if (m->n_own == OWN_FACTORS)
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "there are more than %d own finish factors. Delete some.", OWN_FACTORS);
  else
    m->own[m->n_own++] = own;
}

/* What stands inside the element; together with material_check, which looks at all factors. */
static void read_children(Reader *r, xmlNode *material, Material *m)
{
  bool seen[FIGURE_N] = {false};
  g_autofree char *of_all = node_attribute(material, "source");
  if (of_all) /* says where all figures of this file are from, not those of the card it began with
               */
    memset(m->of, 0, sizeof m->of);
  for (xmlNode *node = node_child(material, NULL); node && !r->failed;
       node = node_next(node, NULL)) {
    if (strcmp(node_name(node), source_element.name) == 0)
      read_source(r, node, seen, m);
    else if (strcmp(node_name(node), factor_element.name) == 0)
      read_factor(r, node, m);
    else
      reader_fail(r, CASE_ERROR_SCHEMA, node_line(node),
                  "<%.40s> is not known inside <material>. Correct its name or delete it.",
                  node_name(node));
  }
}

bool material_read_element(Reader *r, xmlNode *node, const Material *shipped, size_t n,
                           Material *material)
{
  if (!read_required(r, node, "id", "3y"))
    return false;
  Material m = {.threshold = NAN, .growth_n = NAN, .growth_low = NAN, .growth_high = NAN};
  read_short_text(r, node, "id", m.id, sizeof m.id); /* first: it names the card to start from */
  const Material *known = card_find(shipped, n, m.id);
  if (known)
    m = *known;
  attributes_read(r, node, &material_element, &m);
  read_children(r, node, &m);
  if (r->failed)
    return false;
  const char *reason;
  if (material_check(&m, &reason))
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node), "the material card \"%s\": %s", m.id,
                       g_dgettext("soffit", reason));
  *material = m;
  return true;
}

/* schema NULL: the file is known to fit (a test reads it as a user's would be read). */
static GArray *materials_read(const char *text, size_t length, const char *name, const char *schema,
                              GError **error)
{
  Reader r = {name, error, false};
  xmlDoc *doc = document_parse(&r, text, length);
  if (!doc)
    return NULL;
  GArray *cards = g_array_new(FALSE, TRUE, sizeof(Material));
  if (document_check_root(&r, doc, "materials", MATERIALS_NAMESPACE)) {
    document_strip_foreign(doc, MATERIALS_NAMESPACE);
    xmlNode *root = xmlDocGetRootElement(doc);
    Material m;
    for (xmlNode *node = node_child(root, "material"); node && !r.failed;
         node = node_next(node, "material")) {
      if (cards->len >= MOST_CARDS)
        reader_fail(&r, CASE_ERROR_VALUE, node_line(node),
                    "there are more than %d cards. Delete some.", MOST_CARDS);
      else if (material_read_element(&r, node, NULL, 0, &m)) {
        if (card_find((const Material *)(const void *)cards->data, cards->len, m.id))
          reader_fail(&r, CASE_ERROR_VALUE, node_line(node),
                      "the card \"%s\" is there twice. Give it another id.", m.id);
        g_array_append_val(cards, m);
      }
    }
    if (!r.failed && schema)
      document_validate(&r, doc, schema);
  }
  document_free(doc);
  if (r.failed) {
    g_array_unref(cards);
    return NULL;
  }
  return cards;
}

GArray *materials_load(const char *path, GError **error)
{
  char *text;
  size_t length;
  if (!document_read_file(path, &text, &length, error))
    return NULL;
  GArray *cards = materials_read(text, length, path, "schema/materials.rng", error);
  g_free(text);
  return cards;
}

const Material *materials_shipped(size_t *n)
{
  static GArray *shipped; /* made once, never changed */
  if (g_once_init_enter(&shipped)) {
    GBytes *bytes = shipped_file("materials.xml");
    GArray *cards = NULL;
    if (bytes) {
      gsize size;
      const char *text = g_bytes_get_data(bytes, &size);
      cards = materials_read(text, size, "materials.xml", NULL, NULL);
      g_bytes_unref(bytes);
    }
    g_once_init_leave(&shipped, cards ? cards : g_array_new(FALSE, TRUE, sizeof(Material)));
  }
  *n = shipped->len;
  return (const Material *)(const void *)shipped->data;
}

GString *materials_to_xml(const Material card[], size_t n)
{
  GString *out = g_string_new("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                              "<!-- MPa, MPa sqrt(m), bands in percent, bars in mm. -->\n"
                              "<materials xmlns=\"" MATERIALS_NAMESPACE "\" version=\"1\">\n");
  for (size_t i = 0; i < n; i++)
    material_write(out, "  ", &card[i]);
  g_string_append(out, "</materials>\n");
  return out;
}

const Material *material_find(const char *id)
{
  size_t n;
  const Material *card = materials_shipped(&n);
  return card_find(card, n, id);
}
