/* overlays.h - what the drawing shows besides its line: one entry and one key each; the choice is
 * kept for this desktop. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/canvas.h"

struct _Overlay {
  unsigned layers;  /* ConnectorLayer flags that come and go together         */
  const char *name; /* msgid                                                  */
  guint key;        /* GDK key, upper case                                    */
  bool plain;       /* the key without Shift, else with it                    */
  ToolIcon icon;
  const char *keep; /* preference; NULL: not kept, it belongs to the open case */
  bool first;       /* shown before anybody chose                             */
};

#define OVERLAY_COLUMNS 2
/* In the order of the list: column by column. */
const Overlay *overlays(size_t *n);
/* NULL: no overlay's key. */
const Overlay *overlay_of_key(guint key, bool shift);

/* Layers to show, as last chosen: all that is always shown among them. */
unsigned overlays_kept(void);
void overlay_keep(const Overlay *overlay, bool shown);

/* The button with its list. */
GtkWidget *overlay_menu_new(SoffitCanvas *canvas);
void overlay_menu_update(GtkWidget *menu); /* after layers changed */
