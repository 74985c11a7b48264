/* card_folder.c - see card_folder.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/card_folder.h"
#include "base/phrase.h"
#include "casefile/case_xml.h"
#include "casefile/folder_files.h"
#include "casefile/material_xml.h"
#include "casefile/save.h"
#include <errno.h>
#include <math.h>
#include <string.h>

#define MOST_FILES 1000
#define ENDING ".xml"

static bool id_taken(const GArray *cards, const char *id)
{
  for (guint i = 0; i < cards->len; i++)
    if (strcmp(g_array_index(cards, Material, i).id, id) == 0)
      return true;
  return false;
}

static void tell(GPtrArray *message, const char *text)
{
  if (message)
    g_ptr_array_add(message, g_strdup(text));
}

GArray *cards_all(const char *folder, GPtrArray *message)
{
  size_t n;
  const Material *shipped = materials_shipped(&n);
  GArray *all = g_array_new(FALSE, TRUE, sizeof(Material));
  g_array_append_vals(all, shipped, (guint)n);
  g_autoptr(GPtrArray) names = folder ? folder_files(folder, ENDING, MOST_FILES, NULL) : NULL;
  for (guint i = 0; names && i < names->len; i++) {
    g_autofree char *path = g_build_filename(folder, names->pdata[i], NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(GArray) cards = materials_load(path, &error);
    if (!cards) {
      tell(message, error->message);
      continue;
    }
    for (guint k = 0; k < cards->len; k++) {
      const Material *card = &g_array_index(cards, Material, k);
      if (!id_taken(all, card->id)) {
        g_array_append_val(all, *card);
        continue;
      }
      g_autofree char *text = g_strdup_printf(
          g_dgettext("soffit", N_("%s: there is a card \"%s\" already. Give this one another id.")),
          path, card->id);
      tell(message, text);
    }
  }
  return all;
}

static bool id_is_name(const char *id)
{
  for (const char *p = id; *p; p++)
    if (!g_ascii_isalnum(*p) && *p != '-' && *p != '_')
      return false;
  return *id != '\0';
}

static bool refuse(GError **error, const char *id, const char *reason)
{
  g_set_error(error, CASE_ERROR, CASE_ERROR_VALUE, "%s: %s", *id ? id : "?",
              g_dgettext("soffit", reason));
  return false;
}

bool card_save(const char *folder, const Material *card, GError **error)
{
  const char *reason;
  if (material_check_own(card, &reason))
    return refuse(error, card->id, reason);
  if (!id_is_name(card->id))
    return refuse(error, card->id,
                  N_("The id becomes a file name. Write letters, digits, - and _ only."));
  if (material_find(card->id))
    return refuse(error, card->id,
                  N_("This id is that of a shipped card, which stays as it is. Give the copy "
                     "another id."));
  if (g_mkdir_with_parents(folder, 0777) != 0) {
    g_set_error(error, CASE_ERROR, CASE_ERROR_SAVE,
                g_dgettext("soffit",
                           N_("%s: the folder of the cards cannot be made (%s). Choose another.")),
                folder, g_strerror(errno));
    return false;
  }
  g_autofree char *name = g_strconcat(card->id, ENDING, NULL);
  g_autofree char *path = g_build_filename(folder, name, NULL);
  g_autoptr(GString) text = materials_to_xml(card, 1);
  return file_save(path, text->str, text->len, error);
}

void card_new_id(const char *folder, const char *name, char id[32])
{
  char stem[24];
  size_t n = 0;
  for (const char *p = name; *p && n + 1 < sizeof stem; p++) {
    if (g_ascii_isalnum(*p))
      stem[n++] = g_ascii_tolower(*p);
    else if (n > 0 && stem[n - 1] != '-')
      stem[n++] = '-';
  }
  while (n > 0 && stem[n - 1] == '-')
    n--;
  stem[n] = '\0';
  if (n == 0)
    g_strlcpy(stem, "card", sizeof stem);
  g_autoptr(GArray) all = cards_all(folder, NULL);
  g_strlcpy(id, stem, 32);
  for (int k = 2; k < 10000; k++) {
    g_autofree char *file = g_strconcat(id, ENDING, NULL);
    g_autofree char *path = folder ? g_build_filename(folder, file, NULL) : g_strdup("");
    if (!id_taken(all, id) && !g_file_test(path, G_FILE_TEST_EXISTS))
      return;
    g_snprintf(id, 32, "%s-%d", stem, k);
  }
}

Fault card_from_bars(const Material *like, const BarCard *bars, Material *card, const char **reason)
{
  const char *unread;
  reason = reason ? reason : &unread;
  Material m = *like;
  double half =
      fmax(bars->strength_high - bars->strength_mpa, bars->strength_mpa - bars->strength_low);
  if (bars->finish == FINISH_UNKNOWN || bars->bars < 3 || bars->bars > 100000 ||
      !(half >= 0 && half < bars->strength_mpa)) {
    *reason =
        N_("These bars make no card: their finish is not recorded, there are fewer than three, "
           "or the band leaves out the strength. Complete them first.");
    return FAULT_RANGE;
  }
  m.id[0] = '\0';
  g_strlcpy(m.name, bars->name, sizeof m.name);
  m.state = CARD_DRAFT;
  m.strength_mpa = bars->strength_mpa;
  m.strength_percent = 100 * half / bars->strength_mpa;
  m.weibull = bars->weibull;
  m.bar = bars->test;
  m.bar_span = bars->span, m.bar_width = bars->width, m.bar_thickness = bars->thickness;
  g_strlcpy(m.bar_finish, finish_id(bars->finish), sizeof m.bar_finish);
  m.bar_count = (int)bars->bars;
  g_strlcpy(m.date, bars->date, sizeof m.date);
  g_strlcpy(m.lot, bars->lot, sizeof m.lot);
  g_strlcpy(m.who, bars->who, sizeof m.who);
  for (int i = FIGURE_STRENGTH; i <= FIGURE_WEIBULL; i++) {
    m.of[i].confidence = CONFIDENCE_OWN;
    g_snprintf(m.of[i].source, sizeof m.of[i].source, "%zu own bars, lot %s, %s", bars->bars, m.lot,
               m.date);
  }
  Material checked = m; /* the id comes when it is saved */
  g_strlcpy(checked.id, "own", sizeof checked.id);
  Fault fault = material_check_own(&checked, reason);
  if (!fault)
    *card = m;
  return fault;
}
