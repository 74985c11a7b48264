/* stl_parts.h - the inside of the sheet of a surface.  Private to ui/import.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/import/import_sheet.h"
#include "ui/import/stl_job.h"

#define CONNECTORS_MOST (SPAN_MAX_UNITS - 1)

typedef struct {
  ImportSheet sheet;
  SoffitSession *session; /* owned ref */
  StlJob *job;            /* owned     */
  char *path;             /* owned     */
  Surface *surface;       /* owned ref; NULL until it is read */
  MeshSpan *span;         /* owned, or NULL                   */
  /* one for each connector of the case */
  size_t n, chosen;
  Neck plane[CONNECTORS_MOST];
  bool used[CONNECTORS_MOST];
  guint choice[CONNECTORS_MOST]; /* 0 as drawn, 1 .. n_neck, n_neck + 1 by hand */
  char name[CONNECTORS_MOST][12];
  double share[CONNECTORS_MOST];
  Trace trace[CONNECTORS_MOST]; /* owned: read, with remarks, waiting for the second press */
  bool remarks;
  GtkWidget *facts, *notes, *rows, *unit, *turns;
  GtkWidget *field[CONNECTORS_MOST], *reading[CONNECTORS_MOST], *label[CONNECTORS_MOST];
  guint ticker;
  bool filling;
} StlSheet;

/* The plane of a connector was moved: asked anew, shown when it comes. */
void stl_sheet_move(StlSheet *sheet, size_t connector, double x, double yaw, double pitch);
void stl_sheet_choose(StlSheet *sheet, size_t connector); /* whose plane the keys move */
/* Draws and takes the hand on the picture (stl_hand.c). */
void stl_hand_attach(StlSheet *sheet);
