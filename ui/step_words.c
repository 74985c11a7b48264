/* step_words.c - see step_words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/step_words.h"
#include "ui/words.h"
#include <math.h>

#define SAME_PERCENT 0.5 /* rounds to nothing */

char *step_peak_text(Banded peak_mpa)
{
  if (!isfinite(peak_mpa.value))
    return g_strdup("–");
  peak_mpa.low = fmax(peak_mpa.low, 0); /* a sharp corner has a band wider than its value */
  g_autofree char *value = words_number(peak_mpa.value, 0), *range = words_range(peak_mpa, 0);
  return g_strdup_printf("%s MPa (%s)", value, range);
}

char *step_change_text(Banded before, Banded now)
{
  if (!isfinite(before.value) || !isfinite(now.value) || !(before.value > 0))
    return g_strdup("");
  double percent = 100 * (now.value - before.value) / before.value;
  if (fabs(percent) < SAME_PERCENT)
    return g_strdup(_("about the same pull"));
  g_autofree char *number = words_number(fabs(percent), 0);
  return g_strdup_printf(percent < 0 ? _("%s %% less pull") : _("%s %% more pull"), number);
}

Banded step_peak_before(SoffitSession *session, size_t i, size_t connector)
{
  while (i-- > 0) {
    Banded peak = session_state(session, i, connector).peak_mpa;
    if (isfinite(peak.value))
      return peak;
  }
  return banded(NAN, NAN, NAN);
}

char *step_sentence(SoffitSession *session, size_t i, size_t connector)
{
  SessionState state = session_state(session, i, connector);
  g_autofree char *peak =
      isfinite(state.peak_mpa.value) ? step_peak_text(state.peak_mpa) : g_strdup(_("never solved"));
  g_autofree char *change =
      step_change_text(step_peak_before(session, i, connector), state.peak_mpa);
  return g_strdup_printf("%s: %s%s%s%s%s", state.name ? _(state.name) : _("As opened"), peak,
                         *change ? ", " : "", change, i == session_state_at(session) ? ", " : "",
                         i == session_state_at(session) ? _("at hand") : "");
}
