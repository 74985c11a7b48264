/* return_cause.c - which part of the bridge the reason of a return names.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Reasons are free words: a cause counts where a word begins with one of its stems.  The stems are
 * a msgid, so that each language brings its own. */
#include "lab/lab_stats.h"
#include <string.h>

static const struct {
  const char *id, *name, *stems;
} cause_row[CAUSE_N] = {
    [CAUSE_ROOF] = {"roof", N_("roof"), N_("roof|embrasure|radius|radii")},
    [CAUSE_NECK] = {"neck", N_("neck"), N_("neck|area|thin|cross-section")},
    [CAUSE_GROOVE] = {"groove", N_("groove"), N_("groove|fissure")},
    [CAUSE_SIDES] = {"sides", N_("sides"), N_("sides|apex|lean|outline")},
    [CAUSE_FINISH] = {"finish", N_("finish"), N_("polish|ground|grind|glaz|finish|rough|surface")},
    [CAUSE_MARK] = {"mark", N_("mark or crack"), N_("disc|mark|scratch|crack|cut")},
    [CAUSE_BRUSH] = {"brush", N_("brush"), N_("brush|gap|clean|room")},
    [CAUSE_FIT] = {"fit", N_("fit"), N_("fit|rock|seat|margin")},
    [CAUSE_MATERIAL] = {"material", N_("material"), N_("material|class|card|blank|zirconia")},
    [CAUSE_LOAD] = {"load", N_("load"), N_("load|force|bite|span")},
    [CAUSE_OTHER] = {"other", N_("something else"), ""},
};

const char *return_cause_name(ReturnCause cause)
{
  return cause_row[cause].name;
}

const char *return_cause_id(ReturnCause cause)
{
  return cause_row[cause].id;
}

/* Whether a word of the text, both folded, begins with one of the stems. */
static bool stems_found(const char *text, const char *stems)
{
  g_autofree char *folded = g_utf8_casefold(stems, -1);
  g_auto(GStrv) stem = g_strsplit(folded, "|", 0);
  bool begins = true;
  for (const char *p = text; *p; p = g_utf8_next_char(p)) {
    for (char **s = stem; begins && *s; s++)
      if (**s && g_str_has_prefix(p, *s))
        return true;
    begins = !g_unichar_isalnum(g_utf8_get_char(p));
  }
  return false;
}

guint return_causes(const char *reason, PhraseTranslate translate)
{
  g_autofree char *valid = g_utf8_make_valid(reason, -1), *text = g_utf8_casefold(valid, -1);
  guint found = 0;
  for (int k = 0; k < CAUSE_OTHER; k++) {
    const char *stems = cause_row[k].stems;
    if (stems_found(text, stems) || (translate && stems_found(text, translate(stems))))
      found |= 1u << k;
  }
  return found ? found : 1u << CAUSE_OTHER;
}
