/* lab_desk_private.h - what the desk knows of a file besides its row.  Private to
 * ui/review/lab_*.c. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "lab/lab_list.h"
#include "ui/review/lab_desk.h"

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
};

SoffitLabItem *lab_item_new(const LabFile *file);
/* Takes the row over, without a signal. */
void lab_item_set(SoffitLabItem *item, LabRow *row);
void lab_item_tell_changed(SoffitLabItem *item);
