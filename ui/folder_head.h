/* folder_head.h - the head of a dialog about a folder: a button that asks for one, and its path.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <gtk/gtk.h>

typedef struct {
  GtkWidget *row, *choose, *where;
  GtkFileChooserNative *chooser;
  const char *key, *title; /* preference that keeps the folder; title of the system's dialog */
  void (*read)(void *data, const char *folder);
  void *data;
} FolderHead;

/* hint: stands where the path will.  `read` is called with each folder that is chosen. */
void folder_head_build(FolderHead *head, const char *key, const char *title, const char *hint,
                       void (*read)(void *data, const char *folder), void *data);
void folder_head_clear(FolderHead *head);
/* Shows the path. */
void folder_head_show(FolderHead *head, const char *folder);
