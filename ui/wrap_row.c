/* wrap_row.c - see wrap_row.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/wrap_row.h"
#include "ui/parts.h"

struct _SoffitWrapRow {
  GtkWidget parent;
  int spacing, line_spacing;
};

G_DEFINE_FINAL_TYPE(SoffitWrapRow, wrap_row, GTK_TYPE_WIDGET)

typedef struct {
  GtkWidget *first, *end; /* borrowed; end: the first of the next line, NULL */
  int width, height, expanding;
} Line;

static GtkWidget *shown_from(GtkWidget *part)
{
  while (part && !gtk_widget_should_layout(part))
    part = gtk_widget_get_next_sibling(part);
  return part;
}

static GtkWidget *shown_after(GtkWidget *part)
{
  return shown_from(gtk_widget_get_next_sibling(part));
}

static int part_width(GtkWidget *part, int most)
{
  int least, natural;
  gtk_widget_measure(part, GTK_ORIENTATION_HORIZONTAL, -1, &least, &natural, NULL, NULL);
  return MAX(least, MIN(natural, most));
}

static int part_height(GtkWidget *part, int width)
{
  int least, natural;
  gtk_widget_measure(part, GTK_ORIENTATION_VERTICAL, width, &least, &natural, NULL, NULL);
  return natural;
}

static Line line_from(SoffitWrapRow *self, GtkWidget *first, int most)
{
  Line line = {.first = first, .end = first};
  for (; line.end; line.end = shown_after(line.end)) {
    int width = part_width(line.end, most),
        with = line.width + (line.end == first ? 0 : self->spacing) + width;
    if (line.end != first && with > most)
      break;
    line.width = with;
    line.height = MAX(line.height, part_height(line.end, width));
    line.expanding += gtk_widget_compute_expand(line.end, GTK_ORIENTATION_HORIZONTAL) ? 1 : 0;
  }
  return line;
}

static void wrap_row_measure(GtkWidget *widget, GtkOrientation orientation, int for_size,
                             int *least, int *natural, int *least_baseline, int *natural_baseline)
{
  SoffitWrapRow *self = SOFFIT_WRAP_ROW(widget);
  GtkWidget *first = shown_from(gtk_widget_get_first_child(widget));
  *least = *natural = 0;
  *least_baseline = *natural_baseline = -1;
  if (orientation == GTK_ORIENTATION_HORIZONTAL) {
    for (GtkWidget *part = first; part; part = shown_after(part)) {
      *least = MAX(*least, part_width(part, 0));
      *natural += (part == first ? 0 : self->spacing) + part_width(part, G_MAXINT);
    }
    return;
  }
  for (GtkWidget *part = first; part;) {
    Line line = line_from(self, part, for_size < 0 ? G_MAXINT : for_size);
    *natural += (part == first ? 0 : self->line_spacing) + line.height;
    part = line.end;
  }
  *least = *natural;
}

static void wrap_row_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  (void)height, (void)baseline;
  SoffitWrapRow *self = SOFFIT_WRAP_ROW(widget);
  bool mirrored = gtk_widget_get_direction(widget) == GTK_TEXT_DIR_RTL;
  int y = 0;
  for (GtkWidget *part = shown_from(gtk_widget_get_first_child(widget)); part;) {
    Line line = line_from(self, part, width);
    int x = 0, share = line.expanding ? MAX(width - line.width, 0) / line.expanding : 0;
    for (; part != line.end; part = shown_after(part)) {
      int wide = part_width(part, width) +
                 (gtk_widget_compute_expand(part, GTK_ORIENTATION_HORIZONTAL) ? share : 0);
      part_place(part, mirrored ? width - x - wide : x, y, wide, line.height);
      x += wide + self->spacing;
    }
    y += line.height + self->line_spacing;
  }
}

static GtkSizeRequestMode wrap_row_request_mode(GtkWidget *widget)
{
  (void)widget;
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void wrap_row_dispose(GObject *object)
{
  for (GtkWidget *part; (part = gtk_widget_get_first_child(GTK_WIDGET(object)));)
    gtk_widget_unparent(part);
  G_OBJECT_CLASS(wrap_row_parent_class)->dispose(object);
}

static void wrap_row_class_init(SoffitWrapRowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = wrap_row_dispose;
  widget_class->measure = wrap_row_measure;
  widget_class->size_allocate = wrap_row_size_allocate;
  widget_class->get_request_mode = wrap_row_request_mode;
  gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void wrap_row_init(SoffitWrapRow *self)
{
  (void)self;
}

void wrap_row_append(SoffitWrapRow *row, GtkWidget *part)
{
  gtk_widget_insert_before(part, GTK_WIDGET(row), NULL);
}

GtkWidget *wrap_row_new(int spacing, int line_spacing)
{
  SoffitWrapRow *row = g_object_new(SOFFIT_TYPE_WRAP_ROW, NULL);
  row->spacing = spacing;
  row->line_spacing = line_spacing;
  return GTK_WIDGET(row);
}
