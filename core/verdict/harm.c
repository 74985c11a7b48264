/* harm.c - see harm.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "verdict/harm.h"
#include <math.h>
#include <string.h>

static bool is_fired(const Facts *f, size_t i)
{
  (void)i;
  return f->c->step > STEP_FIRING;
}

static bool rescue_thin(const Facts *f, size_t i)
{
  const ConnectorFacts *k = &f->connector[i];
  return k->rescue_area < k->limits.area_need || k->rescue_height < k->limits.height_need;
}

static bool knife_cut(const Facts *f, size_t i)
{
  const GArray *events = f->c->connector[i].event;
  for (guint k = 0; events && k < events->len; k++) {
    const SurfaceEvent *event = &g_array_index(events, SurfaceEvent, k);
    if (event->kind == EVENT_CUT && event->removed != ANSWER_YES)
      return true;
  }
  return false;
}

static bool gum_side_rough(const Facts *f, size_t i)
{
  FinishState now[ZONE_NECK_N];
  connector_finish_now(&f->c->connector[i], now);
  return !finish_polished(now[ZONE_ROOF]) || !finish_polished(now[ZONE_LEGS]);
}

static bool line_seen(const Facts *f, size_t i)
{
  return f->c->connector[i].dye == CHECK_LINE || f->c->connector[i].light == CHECK_LINE;
}

static bool not_dyed(const Facts *f, size_t i)
{
  return f->c->connector[i].dye == CHECK_UNKNOWN;
}

static bool last_firing_used(const Facts *f, size_t i)
{
  (void)i;
  return f->c->firings >= f->c->firings_limit;
}

/* The first that holds is told. */
static const struct {
  const char *step;
  bool of_bridge;
  bool (*harms)(const Facts *f, size_t i);
  const char *warning;
} harm[] = {
    {"redraw", true, is_fired,
     N_("The bridge is fired: do not cut the new line into it. Make it new, or ask the "
        "supervisor.")},
    {"smooth-soft", true, is_fired,
     N_("The bridge is fired: soft tools do nothing any more. Use fine diamond under water, then "
        "rubber.")},
    {"disc-mark", false, rescue_thin,
     N_("{place}: after the mark is ground out too little neck would be left. Make the bridge "
        "new.")},
    {"fire", false, knife_cut,
     N_("{place}: the knife cut becomes a crack when it is fired. Take it out first.")},
    {"polish-gum", false, line_seen,
     N_("{place}: a line was seen. It is not polished away: stop and show it.")},
    {"roof-not-polished", false, line_seen,
     N_("{place}: a line was seen. It is not polished away: stop and show it.")},
    {"coat", false, line_seen,
     N_("{place}: a line was seen. Glaze would hide it: stop and show it.")},
    {"coat", false, gum_side_rough,
     N_("{place}: the gum side is not polished. Glaze hides scratches and does not heal them: "
        "polish first.")},
    {"coat", true, last_firing_used,
     N_("The maker's number of firings is reached: ask the supervisor before another one.")},
    {"coat", false, not_dyed,
     N_("{place}: no dye check yet. Glaze would hide a line: check first, and again at the end.")},
    {"hand-over", false, line_seen,
     N_("{place}: a line was seen. Do not deliver; the licensed dentist decides.")},
    {"hand-over", false, not_dyed,
     N_("{place}: no dye check. A fine crack would leave the house.")},
};

Phrase harm_of(const char *step, const Facts *f)
{
  Phrase phrase = {.text = NULL};
  size_t n = f->c->n_unit > 0 ? f->c->n_unit - 1 : 0;
  for (size_t h = 0; h < sizeof harm / sizeof *harm && !phrase.text; h++) {
    if (strcmp(harm[h].step, step) != 0)
      continue;
    for (size_t i = 0; i < (harm[h].of_bridge ? 1 : n) && !phrase.text; i++)
      if (harm[h].harms(f, i)) {
        phrase.text = harm[h].warning;
        connector_name(f->c, i, '/', phrase.place);
      }
  }
  return phrase;
}
