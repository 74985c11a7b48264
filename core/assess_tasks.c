/* assess_tasks.c - bodies solved by a few threads; what follows from one may add others.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_tasks.h"
#include <glib.h>

typedef struct {
  TaskList *list;
  GMutex lock;
  GCond moved;
  size_t next;
  int busy;
  Fault fault;
} Queue;

typedef struct {
  Queue *queue;
  Solver *solver;
} Hand;

static bool stops(Fault fault)
{
  return fault == FAULT_CANCELLED || fault == FAULT_MEMORY;
}

static gpointer hand_work(gpointer data)
{
  Hand *hand = data;
  Queue *queue = hand->queue;
  TaskList *list = queue->list;
  g_mutex_lock(&queue->lock);
  for (;;) {
    while (!queue->fault && queue->next == list->n && queue->busy > 0)
      g_cond_wait(&queue->moved, &queue->lock);
    if (queue->fault || queue->next == list->n)
      break;
    Task *task = &list->task[queue->next++];
    queue->busy++;
    g_mutex_unlock(&queue->lock);
    task->solved = field_cache_solve(list->cache, hand->solver, &task->body);
    if (!stops(task->solved.fault))
      list->judge(list->data, task);
    g_mutex_lock(&queue->lock);
    queue->busy--;
    if (stops(task->solved.fault))
      queue->fault = task->solved.fault;
    else
      list->follow(list->data, task);
    g_cond_broadcast(&queue->moved);
  }
  g_mutex_unlock(&queue->lock);
  return NULL;
}

Fault tasks_run(TaskList *list)
{
  Queue queue = {.list = list};
  Hand hand[SOLVERS_MAX];
  GThread *thread[SOLVERS_MAX] = {NULL};
  g_mutex_init(&queue.lock);
  g_cond_init(&queue.moved);
  for (int i = 0; i < list->threads; i++) {
    hand[i] = (Hand){&queue, &list->solver[i]};
    if (i > 0) /* fewer hands if refused */
      thread[i] = g_thread_try_new("soffit-solve", hand_work, &hand[i], NULL);
  }
  hand_work(&hand[0]);
  for (int i = 1; i < list->threads; i++)
    if (thread[i])
      g_thread_join(thread[i]);
  g_cond_clear(&queue.moved);
  g_mutex_clear(&queue.lock);
  return queue.fault;
}

void tasks_clear(TaskList *list)
{
  for (size_t i = 0; i < list->n; i++)
    field_unref(list->task[i].solved.field);
  list->n = 0;
}
