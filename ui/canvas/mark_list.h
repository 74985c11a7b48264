/* mark_list.h - the marks of the drawing for a screen reader: an item with name, description and
 * place for each. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Nothing of it is drawn, and no pointer or key comes to it. */
#pragma once
#include "ui/drawing/ink.h"
#include <gtk/gtk.h>

typedef struct {
  char *name, *words; /* translated, owned       */
  Box px;             /* in the list, as wide as the drawing */
} Mark;

GArray *marks_new(void); /* of Mark; owns their words */
/* Takes name and words. */
void marks_add(GArray *marks, char *name, char *words, Box px);

#define SOFFIT_TYPE_MARK_LIST (mark_list_get_type())
G_DECLARE_FINAL_TYPE(SoffitMarkList, mark_list, SOFFIT, MARK_LIST, GtkWidget)

GtkWidget *mark_list_new(void);
/* Readers are told only what is new. */
void mark_list_show(SoffitMarkList *list, const GArray *marks);
