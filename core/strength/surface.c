/* surface.c - see surface.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "strength/surface.h"
#include "base/phrase.h"
#include "strength/treatment.h"
#include <math.h>
#include <string.h>

FinishState material_bars_finish(const Material *m)
{
  FinishState bars;
  return finish_from_id(m->bar_finish, &bars) ? bars : FINISH_AS_FIRED;
}

static Banded own_band(const OwnFactor *own, bool turned)
{
  return turned ? banded(1 / own->factor, 1 / own->high, 1 / own->low)
                : banded(own->factor, own->low, own->high);
}

const OwnFactor *own_factor_find(const Material *m, FinishState a, FinishState b)
{
  for (size_t i = 0; i < m->n_own; i++) {
    const OwnFactor *own = &m->own[i];
    if ((own->state == a && own->against == b) || (own->state == b && own->against == a))
      return own;
  }
  return NULL;
}

static const OwnFactor *own_of(const Material *m, FinishState state)
{
  for (size_t i = 0; i < m->n_own; i++)
    if (m->own[i].state == state)
      return &m->own[i];
  return NULL;
}

static Banded product(Banded a, Banded b)
{
  double value = a.value * b.value, low = hypot(log(a.value / a.low), log(b.value / b.low)),
         high = hypot(log(a.high / a.value), log(b.high / b.value));
  return banded(value, value * exp(-low), value * exp(high));
}

SurfaceFactor surface_factor(const Material *m, FinishState state, FinishState reference)
{
  Banded along = banded(1, 1, 1); /* from the state to the one that it follows */
  const char *source = NULL;
  for (size_t step = 0; step <= m->n_own && state != reference; step++) {
    const OwnFactor *pair = own_factor_find(m, state, reference), *own = own_of(m, state);
    if (pair)
      return (SurfaceFactor){product(along, own_band(pair, pair->state != state)),
                             source ? source : pair->source, true};
    if (!own)
      break;
    along = product(along, own_band(own, false));
    source = source ? source : own->source;
    state = own->against;
  }
  Banded book = finish_factor(state, reference, m->polish_gain_top);
  return (SurfaceFactor){source ? product(along, book) : book,
                         source ? source : finish_source(state), source != NULL};
}

SurfaceFactor surface_on_bars(const Material *m, const ZoneSurface *surface)
{
  SurfaceFactor factor = surface_factor(m, surface->state, material_bars_finish(m));
  if (surface->mark > 0) {
    factor.of = disc_factor(factor.of, banded_percent(m->toughness, m->toughness_percent),
                            m->strength_mpa, surface->mark, surface->edge);
    factor.source = disc_depth_source;
  }
  return factor;
}

/* Equal, or neither is known. */
static bool same_number(double a, double b)
{
  return !(a < b || a > b) && isnan(a) == isnan(b);
}

bool zone_surface_same(const ZoneSurface *a, const ZoneSurface *b)
{
  return a->state == b->state && same_number(a->mark, b->mark) && same_number(a->edge, b->edge);
}

/* ---- keeping them ---- */

static const char *factor_wrong(const OwnFactor *own)
{
  if ((unsigned)own->state >= FINISH_N || (unsigned)own->against >= FINISH_N ||
      own->state == FINISH_UNKNOWN || own->against == FINISH_UNKNOWN)
    return N_("An own finish factor does not say which two finishes were compared. Name both.");
  if (own->state == own->against)
    return N_("An own finish factor compares a finish with itself. Choose which finish each set "
              "of bars had.");
  if (!(own->low >= OWN_FACTOR_LEAST && own->low <= own->factor && own->factor <= own->high &&
        own->high <= OWN_FACTOR_MOST))
    return N_("An own finish factor lies between 0.1 and 10, inside its own band. Correct factor, "
              "low and high.");
  if (!memchr(own->source, 0, sizeof own->source) || !own->source[0])
    return N_("An own finish factor has no source. Write which bars it is from, how many, and the "
              "day.");
  return NULL;
}

/* A state that follows others until it comes back to itself is measured against nothing. */
static bool goes_round(const Material *m, const OwnFactor *begin)
{
  const OwnFactor *at = begin;
  for (size_t step = 0; at && step <= m->n_own; step++)
    at = own_of(m, at->against);
  return at != NULL;
}

Fault own_factors_check(const Material *m, const char **reason)
{
  *reason = m->n_own > OWN_FACTORS
                ? N_("There are too many own finish factors. Remove those no longer needed.")
                : NULL;
  for (size_t i = 0; !*reason && i < m->n_own; i++) {
    *reason = factor_wrong(&m->own[i]);
    for (size_t k = 0; !*reason && k < i; k++)
      if (m->own[k].state == m->own[i].state ||
          (m->own[k].state == m->own[i].against && m->own[k].against == m->own[i].state))
        *reason = N_("A finish has two own factors, or two finishes are compared twice. Keep one.");
  }
  for (size_t i = 0; !*reason && i < m->n_own; i++)
    if (goes_round(m, &m->own[i]))
      *reason = N_("The own finish factors go round in a circle: none is measured against a finish "
                   "of the book. Remove one.");
  return *reason ? FAULT_RANGE : FAULT_NONE;
}

void own_factor_remove(Material *m, size_t at)
{
  if (at >= m->n_own)
    return;
  memmove(&m->own[at], &m->own[at + 1], (m->n_own - at - 1) * sizeof *m->own);
  m->own[--m->n_own] = (OwnFactor){0};
}

Fault own_factor_set(Material *m, const OwnFactor *factor, const char **reason)
{
  const char *unread;
  Material fresh = *m;
  reason = reason ? reason : &unread;
  for (size_t i = fresh.n_own; i-- > 0;)
    if (fresh.own[i].state == factor->state ||
        (fresh.own[i].state == factor->against && fresh.own[i].against == factor->state))
      own_factor_remove(&fresh, i);
  if (fresh.n_own >= OWN_FACTORS) {
    *reason = N_("There are too many own finish factors. Remove those no longer needed.");
    return FAULT_RANGE;
  }
  fresh.own[fresh.n_own++] = *factor;
  Fault fault = own_factors_check(&fresh, reason);
  if (!fault)
    *m = fresh;
  return fault;
}
