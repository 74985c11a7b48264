/* tool_row.h - the row of tools and layers that floats over the drawing.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/canvas.h"

GtkWidget *tool_row_new(SoffitCanvas *canvas);
void tool_row_update(GtkWidget *row); /* after tool, layers or smoothing changed */

/* What stands in the row, in order; the keys of the canvas read it too. */
typedef struct {
  const Tool *tool; /* or                                             */
  bool listed;      /* the tool has no button in the row but a line in the list of layers */
  unsigned layer;   /* a layer to show or hide                        */
  const char *name; /* msgid, of a layer                              */
  guint key;        /* with Shift, of a layer                         */
  ToolIcon icon;
} ToolRowItem;
const ToolRowItem *tool_row_items(size_t *n);
