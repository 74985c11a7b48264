/* lab_round.c - see lab_round.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/lab_round.h"
#include "ui/wake.h"
#include "ui/worker.h"

struct LabRound {
  Lab *lab;
  LabPool *pool;
  LabRoundDeliver deliver;
  void *data;
  gint64 delivered_us; /* monotonic */
  guint later;         /* source */
  GMutex mutex;        /* guards all below */
  GArray *answer;
  Wake *wake; /* NULL: the owner has gone */
};

static void answer_clear(void *answer)
{
  lab_row_free(((LabAnswer *)answer)->row);
}

static GArray *answers_new(void)
{
  GArray *answers = g_array_new(FALSE, FALSE, sizeof(LabAnswer));
  g_array_set_clear_func(answers, answer_clear);
  return answers;
}

static void row_done(LabRow *row, guint64 number, void *data)
{
  LabRound *round = data;
  LabAnswer answer = {row, number};
  g_mutex_lock(&round->mutex);
  g_array_append_val(round->answer, answer);
  if (round->wake)
    wake_ring(round->wake);
  g_mutex_unlock(&round->mutex);
}

static void round_deliver(LabRound *round)
{
  g_mutex_lock(&round->mutex);
  g_autoptr(GArray) answers = round->answer;
  round->answer = answers_new();
  g_mutex_unlock(&round->mutex);
  round->delivered_us = g_get_monotonic_time();
  if (answers->len)
    round->deliver(answers, round->data);
}

static gboolean deliver_later(void *data)
{
  LabRound *round = data;
  round->later = 0;
  round_deliver(round);
  return G_SOURCE_REMOVE;
}

static gboolean round_woken(void *data)
{
  LabRound *round = data;
  gint64 since_ms = (g_get_monotonic_time() - round->delivered_us) / 1000;
  if (round->later)
    return G_SOURCE_CONTINUE;
  if (round->delivered_us && since_ms < LAB_BATCH_MS)
    round->later = g_timeout_add((guint)(LAB_BATCH_MS - since_ms), deliver_later, round);
  else
    round_deliver(round);
  return G_SOURCE_CONTINUE;
}

LabRound *lab_round_new(Lab *lab, int threads, LabRoundDeliver deliver, void *data)
{
  LabRound *round = g_new0(LabRound, 1);
  round->lab = lab;
  round->deliver = deliver;
  round->data = data;
  round->answer = answers_new();
  g_mutex_init(&round->mutex);
  round->wake = wake_new(round_woken, round);
  round->pool = lab_pool_new(lab, threads, worker_stand_far_back, row_done, round);
  return round;
}

const Lab *lab_round_lab(const LabRound *round)
{
  return round->lab;
}

LabPool *lab_round_pool(LabRound *round)
{
  return round->pool;
}

/* Rounds that are ending, in the whole program. */
static GMutex ending_mutex;
static GCond ending_fewer;
static guint ending;

bool lab_rounds_over(guint patience_ms)
{
  gint64 until = g_get_monotonic_time() + patience_ms * (gint64)1000;
  bool over = true;
  g_mutex_lock(&ending_mutex);
  while (ending > 0 && over)
    over = g_cond_wait_until(&ending_fewer, &ending_mutex, until);
  over = ending == 0;
  g_mutex_unlock(&ending_mutex);
  return over;
}

/* On a thread of its own: it may have to wait for a file. */
static void *round_end(void *data)
{
  LabRound *round = data;
  lab_pool_free(round->pool);
  lab_free(round->lab);
  g_array_unref(round->answer);
  g_mutex_clear(&round->mutex);
  g_free(round);
  g_mutex_lock(&ending_mutex);
  ending--;
  g_cond_broadcast(&ending_fewer);
  g_mutex_unlock(&ending_mutex);
  return NULL;
}

void lab_round_free(LabRound *round)
{
  if (!round)
    return;
  g_clear_handle_id(&round->later, g_source_remove);
  g_mutex_lock(&round->mutex);
  wake_free(g_steal_pointer(&round->wake));
  g_mutex_unlock(&round->mutex);
  g_mutex_lock(&ending_mutex);
  ending++;
  g_mutex_unlock(&ending_mutex);
  g_thread_unref(g_thread_new("soffit-lab-end", round_end, round));
}
