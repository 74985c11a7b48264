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

bool material_read_element(Reader *r, xmlNode *node, const Material *shipped, size_t n,
                           Material *material)
{
  if (!read_required(r, node, "id", "3y"))
    return false;
  Material m = {.name = ""};
  read_short_text(r, node, "id", m.id, sizeof m.id);
  const Material *known = card_find(shipped, n, m.id);
  if (known)
    m = *known;
  double class = m.iso_class;
  int bar = (int)m.bar;
  read_short_text(r, node, "name", m.name, sizeof m.name);
  read_number(r, node, "young", 1, 1e7, &m.young_mpa);
  read_number(r, node, "poisson", 0, 0.49, &m.poisson);
  read_number(r, node, "toughness", 0.01, 1000, &m.toughness);
  read_number(r, node, "toughness-band", 0, 100, &m.toughness_percent);
  read_number(r, node, "strength", 1, 1e5, &m.strength_mpa);
  read_number(r, node, "strength-band", 0, 100, &m.strength_percent);
  read_number(r, node, "weibull", 1, 200, &m.weibull);
  read_word(r, node, "bar", WORDS_BAR, &bar);
  read_number(r, node, "bar-span", 0.1, 1000, &m.bar_span);
  read_number(r, node, "bar-width", 0.1, 1000, &m.bar_width);
  read_number(r, node, "bar-thickness", 0.1, 1000, &m.bar_thickness);
  read_short_text(r, node, "bar-finish", m.bar_finish, sizeof m.bar_finish);
  read_number(r, node, "iso-class", 1, 5, &class);
  read_number(r, node, "polish-gain", 0.5, 3, &m.polish_gain_top);
  read_short_text(r, node, "source", m.source, sizeof m.source);
  read_short_text(r, node, "confidence", m.confidence, sizeof m.confidence);
  if (r->failed)
    return false;
  m.bar = (BarTest)bar;
  m.iso_class = (int)class;
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

void material_write_element(GString *out, const Material *m)
{
  g_string_append(out, "  <material");
  write_text(out, "id", m->id);
  write_text(out, "name", m->name);
  g_string_append(out, "\n   ");
  write_number(out, "young", m->young_mpa);
  write_number(out, "poisson", m->poisson);
  write_number(out, "toughness", m->toughness);
  write_number(out, "toughness-band", m->toughness_percent);
  write_number(out, "strength", m->strength_mpa);
  write_number(out, "strength-band", m->strength_percent);
  write_number(out, "weibull", m->weibull);
  g_string_append(out, "\n   ");
  write_word(out, "bar", WORDS_BAR, (int)m->bar);
  write_number(out, "bar-span", m->bar_span);
  write_number(out, "bar-width", m->bar_width);
  write_number(out, "bar-thickness", m->bar_thickness);
  write_text(out, "bar-finish", m->bar_finish);
  write_number(out, "iso-class", m->iso_class);
  write_number(out, "polish-gain", m->polish_gain_top);
  g_string_append(out, "\n   ");
  write_text(out, "source", m->source);
  write_text(out, "confidence", m->confidence);
  g_string_append(out, "/>\n");
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
