/* lab_desk.h - the open lab folder: its rows as they are read, assessed and changed by others.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Main thread only; reading, assessing and looking for changes are done by threads of its own.  No
 * database: the files are the lab.
 *
 * A GListModel of SoffitLabItem in no order that means anything: sort it by lab_row_compare.  An
 * item stays the same object while its file is there; rows of a folder that cannot be reached stay,
 * with TROUBLE_AWAY.
 *
 * Signals of the desk, besides items-changed of the model:
 *   "row-changed"    (SoffitLabItem *)  another row took the place of lab_item_row()
 *   "progress"       after a batch of row-changed: sort and count anew now, not at every row
 *   "state-changed"  folder, settings, lab_desk_trouble() or lab_desk_away() changed
 * Signal of the item: "changed", with row-changed. */
#pragma once
#include "lab/lab_read.h"
#include <gio/gio.h>

#define SOFFIT_TYPE_LAB_ITEM (lab_item_get_type())
G_DECLARE_FINAL_TYPE(SoffitLabItem, lab_item, SOFFIT, LAB_ITEM, GObject)
const LabRow *lab_item_row(SoffitLabItem *item); /* borrowed until it changes; never NULL */

#define SOFFIT_TYPE_LAB_DESK (lab_desk_get_type())
G_DECLARE_FINAL_TYPE(SoffitLabDesk, lab_desk, SOFFIT, LAB_DESK, GObject)

typedef struct {
  int threads;     /* that read and assess; 0 = one a core */
  bool monitor;    /* be told of changes by the file system */
  guint poll_ms;   /* look for changes at least so often (a listing that takes long is spared) */
  guint settle_ms; /* a file that cannot be read is called broken when it has not changed so long */
  const char *cache_dir; /* NULL = of the user; "" = keep nothing */
} LabDeskSettings;
LabDeskSettings lab_desk_settings_default(void);

SoffitLabDesk *lab_desk_new(const LabDeskSettings *settings); /* NULL = default */
/* Names come within a moment; what is wrong with the folder is told by lab_desk_trouble(). Another
 * folder takes the place of the one that is open. */
void lab_desk_open(SoffitLabDesk *desk, const char *folder);
void lab_desk_close(SoffitLabDesk *desk);         /* no folder; keeps the cache */
const char *lab_desk_folder(SoffitLabDesk *desk); /* NULL = none */

/* Settings and keys of the folder, never NULL while one is open.  Borrowed until state-changed. */
const Lab *lab_desk_lab(SoffitLabDesk *desk);
/* What is wrong with the folder or its settings, in words; NULL = nothing. */
const char *lab_desk_trouble(SoffitLabDesk *desk);
bool lab_desk_away(SoffitLabDesk *desk); /* the folder cannot be reached: rows are as last seen */

typedef struct {
  guint files, read, ready, unreadable; /* read: with those that are ready */
  bool listed;                          /* the names are there */
  bool over;                            /* everything is read and assessed */
} LabProgress;
LabProgress lab_desk_progress(SoffitLabDesk *desk);

/* The item of a file name; NULL = none.  Borrowed. */
SoffitLabItem *lab_desk_find(SoffitLabDesk *desk, const char *file);
/* These are on the screen: they are read and assessed first.  Cheap to call at every scroll. */
void lab_desk_look_at(SoffitLabDesk *desk, const char *const file[], size_t n);
/* A file was written by this window: read it at once instead of when it is noticed. */
void lab_desk_written(SoffitLabDesk *desk, const char *file);
void lab_desk_rescan(SoffitLabDesk *desk);

/* Thresholds from now on: written to the folder, undecided cases are judged anew. */
bool lab_desk_set_limits(SoffitLabDesk *desk, const VerdictLimits *limits, const Person *by,
                         GError **error);
