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
    NUMBER_ROW("young", Material, young_mpa, 1, 1e7),
    NUMBER_ROW("poisson", Material, poisson, 0, 0.49),
    NUMBER_ROW("toughness", Material, toughness, 0.01, 1000),
    NUMBER_ROW("toughness-band", Material, toughness_percent, 0, 100),
    NUMBER_ROW("strength", Material, strength_mpa, 1, 1e5),
    NUMBER_ROW("strength-band", Material, strength_percent, 0, 100),
    NUMBER_ROW("weibull", Material, weibull, 1, 200),
    WORD_ROW("bar", Material, bar, WORDS_BAR),
    NUMBER_ROW("bar-span", Material, bar_span, 0.1, 1000),
    NUMBER_ROW("bar-width", Material, bar_width, 0.1, 1000),
    NUMBER_ROW("bar-thickness", Material, bar_thickness, 0.1, 1000),
    SHORT_ROW("bar-finish", Material, bar_finish),
    WHOLE_ROW("iso-class", Material, iso_class, 1, 5),
    NUMBER_ROW("polish-gain", Material, polish_gain_top, 0.5, 3),
    SHORT_ROW("source", Material, source),
    SHORT_ROW("confidence", Material, confidence),
};
const Element material_element = {"material", material_row, G_N_ELEMENTS(material_row)};

bool material_read_element(Reader *r, xmlNode *node, const Material *shipped, size_t n,
                           Material *material)
{
  if (!read_required(r, node, "id", "3y"))
    return false;
  Material m = {.name = ""};
  read_short_text(r, node, "id", m.id, sizeof m.id); /* first: it names the card to start from */
  const Material *known = card_find(shipped, n, m.id);
  if (known)
    m = *known;
  attributes_read(r, node, &material_element, &m);
  if (r->failed)
    return false;
  FinishState finish;
  Fault fault = material_check(&m);
  if (!fault && !finish_from_id(m.bar_finish, &finish))
    fault = FAULT_RANGE;
  if (fault)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "the material card \"%s\" is not complete. Give its young, poisson, "
                       "toughness, strength, weibull, "
                       "bar sizes and bar-finish.",
                       m.id);
  *material = m;
  return true;
}

static GArray *materials_read(const char *text, size_t length, const char *name, GError **error)
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
    if (!r.failed)
      document_validate(&r, doc, "schema/materials.rng");
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
  GArray *cards = materials_read(text, length, path, error);
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
      cards = materials_read(text, size, "materials.xml", NULL);
      g_bytes_unref(bytes);
    }
    g_once_init_leave(&shipped, cards ? cards : g_array_new(FALSE, TRUE, sizeof(Material)));
  }
  *n = shipped->len;
  return (const Material *)(const void *)shipped->data;
}

const Material *material_find(const char *id)
{
  size_t n;
  const Material *card = materials_shipped(&n);
  return card_find(card, n, id);
}
