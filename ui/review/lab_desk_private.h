/* lab_desk_private.h - the desk from inside, and what it knows of a file besides its row.  Private
 * to ui/review/lab_*.c. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "lab/lab_list.h"
#include "ui/review/lab_desk.h"
#include "ui/review/lab_round.h"
#include "ui/review/lab_watch.h"

struct _SoffitLabItem {
  GObject parent;
  char *file; /* owned; as that of the row */
  LabRow *row;
  guint position; /* in the model */
  gint64 changed_us, size;
  guint64 node;    /* as last seen in a listing */
  gint64 moved_us; /* monotonic: when they last changed; 0 = long ago */
  guint64 asked;   /* number of the last asking */
  bool waits;      /* for its answer */
  bool again;      /* could not be opened: ask at the next listing */
  guint looked;    /* number of the look that it was on the screen in */
};

SoffitLabItem *lab_item_new(const LabFile *file);
/* Takes the row over, without a signal. */
void lab_item_set(SoffitLabItem *item, LabRow *row);
void lab_item_tell_changed(SoffitLabItem *item);

struct _SoffitLabDesk {
  GObject parent;
  LabDeskSettings settings;
  char *cache_dir; /* owned; settings.cache_dir is not used */
  char *folder;    /* NULL = none */
  char *cache;     /* its file; NULL = nothing is kept */
  LabWatch *watch;
  LabRound *round; /* NULL until the folder was seen first */
  GPtrArray *item; /* SoffitLabItem, owned, in the order of the model */
  GHashTable *by_file;
  char *trouble, *lab_trouble; /* of the folder, of its settings; NULL */
  guint64 device;              /* where the folder lay when it was seen last */
  bool listed, away;
  guint look;   /* number of the last lab_desk_look_at() */
  guint settle; /* source: look again at what may have been half copied */
  guint keep;   /* source: rows came since the cache was written */
};

typedef enum { DESK_ROW_CHANGED, DESK_PROGRESS, DESK_STATE_CHANGED } DeskSignal;
void lab_desk_tell(SoffitLabDesk *desk, DeskSignal signal, SoffitLabItem *item);

/* LabWatchSeen: what a look into the folder brings. */
void lab_desk_see(LabSight *sight, void *desk);
void lab_desk_ask(SoffitLabDesk *desk, SoffitLabItem *item, LabStage stage, LabUrgency urgency);
/* Writes the cache when rows came since; on a thread of its own or before it returns. */
void lab_desk_keep(SoffitLabDesk *desk, bool wait);
