/* assess_cache.c - fields of bodies solved before, found by a digest of everything they depend on.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_cache.h"
#include <glib.h>

#define CACHE_ROOM 96 /* about 1 MB each: today's shapes, their advices and a stretch of undo */

typedef struct {
  char *digest; /* SHA-256 of the body, owned; NULL = free place */
  Solved solved;
  guint64 used;
} Kept;

struct FieldCache {
  GMutex lock;
  Kept kept[CACHE_ROOM];
  guint64 clock;
};

FieldCache *field_cache_new(void)
{
  FieldCache *cache = g_try_new0(FieldCache, 1);
  if (cache)
    g_mutex_init(&cache->lock);
  return cache;
}

static void kept_clear(Kept *kept)
{
  g_clear_pointer(&kept->digest, g_free);
  field_unref(kept->solved.field);
  kept->solved = (Solved){0};
}

void field_cache_forget(FieldCache *cache)
{
  g_mutex_lock(&cache->lock);
  for (int i = 0; i < CACHE_ROOM; i++)
    kept_clear(&cache->kept[i]);
  g_mutex_unlock(&cache->lock);
}

void field_cache_free(FieldCache *cache)
{
  if (!cache)
    return;
  field_cache_forget(cache);
  g_mutex_clear(&cache->lock);
  g_free(cache);
}

void digest_numbers(GChecksum *sum, const double number[], size_t n)
{
  g_checksum_update(sum, (const guchar *)number, (gssize)(n * sizeof *number));
}

void digest_outline(GChecksum *sum, const Outline *outline)
{
  digest_numbers(sum, &(double){outline ? (double)outline->n : 0}, 1);
  if (outline && outline->n)
    g_checksum_update(sum, (const guchar *)outline->knot,
                      (gssize)(outline->n * sizeof *outline->knot));
}

static char *body_digest(const Body *body)
{
  g_autoptr(GChecksum) sum = g_checksum_new(G_CHECKSUM_SHA256);
  for (int k = 0; k < SIDE_N; k++)
    digest_outline(sum, body->side[k]);
  digest_outline(sum, body->section);
  const double number[] = {
      body->roundness_neck, body->roundness_body, body->young_mpa, body->poisson,  body->neck_x,
      (double)body->grade,  body->mirrored,       body->space,     body->compared, body->bare};
  digest_numbers(sum, number, G_N_ELEMENTS(number));
  return g_strdup(g_checksum_get_string(sum));
}

static Solved solved_ref(Solved solved)
{
  if (solved.field)
    field_ref(solved.field);
  return solved;
}

Solved field_cache_solve(FieldCache *cache, Solver *solver, const Body *body)
{
  char *digest = body_digest(body);
  g_mutex_lock(&cache->lock);
  for (int i = 0; i < CACHE_ROOM; i++)
    if (cache->kept[i].digest && strcmp(cache->kept[i].digest, digest) == 0) {
      cache->kept[i].used = ++cache->clock;
      Solved found = solved_ref(cache->kept[i].solved);
      g_mutex_unlock(&cache->lock);
      g_free(digest);
      return found;
    }
  g_mutex_unlock(&cache->lock);

  Solved solved = {0};
  solved.fault = body_solve(solver, body, &solved.field, &solved.averaged, &solved.where);
  if (solved.fault == FAULT_CANCELLED || solved.fault == FAULT_MEMORY) {
    g_free(digest);
    return solved;
  }
  g_mutex_lock(&cache->lock);
  Kept *oldest = &cache->kept[0];
  for (int i = 1; i < CACHE_ROOM; i++)
    if (cache->kept[i].used < oldest->used)
      oldest = &cache->kept[i];
  kept_clear(oldest);
  *oldest = (Kept){digest, solved_ref(solved), ++cache->clock};
  g_mutex_unlock(&cache->lock);
  return solved;
}
