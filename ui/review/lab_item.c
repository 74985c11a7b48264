/* lab_item.c - one row of the list of cases as an object.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/lab_desk_private.h"

G_DEFINE_FINAL_TYPE(SoffitLabItem, lab_item, G_TYPE_OBJECT)

static guint signal_changed;

static void lab_item_finalize(GObject *object)
{
  g_free(SOFFIT_LAB_ITEM(object)->file);
  lab_row_free(SOFFIT_LAB_ITEM(object)->row);
  G_OBJECT_CLASS(lab_item_parent_class)->finalize(object);
}

static void lab_item_class_init(SoffitLabItemClass *class)
{
  G_OBJECT_CLASS(class)->finalize = lab_item_finalize;
  signal_changed = g_signal_new("changed", G_TYPE_FROM_CLASS(class), G_SIGNAL_RUN_LAST, 0, NULL,
                                NULL, NULL, G_TYPE_NONE, 0);
}

static void lab_item_init(SoffitLabItem *item)
{
  (void)item;
}

SoffitLabItem *lab_item_new(const LabFile *file)
{
  SoffitLabItem *item = g_object_new(SOFFIT_TYPE_LAB_ITEM, NULL);
  item->file = g_strdup(file->name);
  item->row = lab_row_new(file->name);
  item->changed_us = file->changed_us;
  item->size = file->size;
  item->node = file->node;
  return item;
}

const LabRow *lab_item_row(SoffitLabItem *item)
{
  return item->row;
}

void lab_item_set(SoffitLabItem *item, LabRow *row)
{
  lab_row_free(item->row);
  item->row = row;
}

void lab_item_tell_changed(SoffitLabItem *item)
{
  g_signal_emit(item, signal_changed, 0);
}
