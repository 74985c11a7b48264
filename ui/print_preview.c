/* print_preview.c - see print_preview.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * GTK's own preview hands a file to a viewer, and does nothing where there is none. */
#include "ui/print_preview.h"
#include "ui/dialog_window.h"
#include "ui/parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define WIDTH 760
#define HEIGHT 860
#define LEAST 200 /* px, width of a page */
#define GAP 16    /* px around pages, .print-pages in soffit.css */

typedef struct {
  PrintJob *job;           /* owned ref */
  const GPtrArray *sheets; /* borrowed from the job */
  GPtrArray *page;         /* of widgets, borrowed from the window */
  GtkWidget *window, *scroller, *column, *where, *before, *next;
} Preview;

static void preview_free(gpointer data)
{
  Preview *self = data;
  g_ptr_array_unref(self->page);
  print_job_unref(self->job);
  g_free(self);
}

static void page_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer sheet)
{
  (void)height;
  const PaperJob *paper = g_object_get_data(G_OBJECT(area), "soffit-paper");
  cairo_set_source_rgb(cr, 1, 1, 1); /* paper, whatever the colours of the desktop */
  cairo_paint(cr);
  cairo_scale(cr, width / paper->width, width / paper->width);
  cairo_set_source_surface(cr, sheet, 0, 0);
  cairo_paint(cr);
}

static double page_top(Preview *self, guint page)
{
  double x = 0, y = 0;
  gtk_widget_translate_coordinates(self->page->pdata[page], self->column, 0, 0, &x, &y);
  return y;
}

static GtkAdjustment *place_of(Preview *self)
{
  return gtk_scrolled_window_get_vadjustment(GTK_SCROLLED_WINDOW(self->scroller));
}

/* The page that the middle of the view is on. */
static guint page_at(Preview *self)
{
  GtkAdjustment *at = place_of(self);
  double middle = gtk_adjustment_get_value(at) + gtk_adjustment_get_page_size(at) / 2;
  guint page = 0;
  while (page + 1 < self->page->len && page_top(self, page + 1) <= middle)
    page++;
  return page;
}

static void where_show(Preview *self)
{
  guint page = page_at(self);
  g_autofree char *text = g_strdup_printf(_("page %u of %u"), page + 1, self->page->len);
  if (g_strcmp0(gtk_label_get_text(GTK_LABEL(self->where)), text))
    gtk_label_set_text(GTK_LABEL(self->where), text);
  gtk_widget_set_sensitive(self->before, page > 0);
  gtk_widget_set_sensitive(self->next, page + 1 < self->page->len);
}

static void page_go(Preview *self, guint page)
{
  gtk_adjustment_set_value(place_of(self), page_top(self, page) - GAP);
}

static void before_clicked(Preview *self)
{
  guint page = page_at(self);
  page_go(self, page > 0 ? page - 1 : 0);
}

static void next_clicked(Preview *self)
{
  page_go(self, MIN(page_at(self) + 1, self->page->len - 1));
}

static gboolean key_pressed(GtkEventControllerKey *keys, guint key, guint code,
                            GdkModifierType state, Preview *self)
{
  (void)keys, (void)code, (void)state;
  if (key == GDK_KEY_Page_Up || key == GDK_KEY_KP_Page_Up)
    before_clicked(self);
  else if (key == GDK_KEY_Page_Down || key == GDK_KEY_KP_Page_Down)
    next_clicked(self);
  else if (key == GDK_KEY_Home || key == GDK_KEY_KP_Home)
    page_go(self, 0);
  else if (key == GDK_KEY_End || key == GDK_KEY_KP_End)
    page_go(self, self->page->len - 1);
  else
    return FALSE;
  return TRUE;
}

/* --- building --- */

static GtkSizeRequestMode height_for_width(GtkWidget *area)
{
  (void)area;
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

/* As high as the paper is for its width. */
static void page_measure(GtkWidget *area, GtkOrientation orientation, int for_size, int *minimum,
                         int *natural, int *minimum_baseline, int *natural_baseline)
{
  const PaperJob *paper = g_object_get_data(G_OBJECT(area), "soffit-paper");
  *minimum_baseline = *natural_baseline = -1;
  if (orientation == GTK_ORIENTATION_HORIZONTAL) {
    *minimum = LEAST;
    *natural = (int)paper->width;
  } else {
    double width = for_size >= 0 ? for_size : LEAST;
    *minimum = *natural = (int)(width * paper->height / paper->width + 0.5);
  }
}

static void page_allocate(GtkWidget *area, int width, int height, int baseline)
{
  (void)area, (void)width, (void)height, (void)baseline; /* nothing inside */
}

static GtkWidget *page_build(Preview *self, guint i)
{
  GtkWidget *area = gtk_drawing_area_new();
  g_autofree char *name = g_strdup_printf(_("Page %u of %u"), i + 1, self->sheets->len);
  g_object_set_data(G_OBJECT(area), "soffit-paper", (gpointer)print_job_paper(self->job));
  gtk_widget_set_layout_manager(
      area, gtk_custom_layout_new(height_for_width, page_measure, page_allocate));
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), page_draw, self->sheets->pdata[i], NULL);
  gtk_widget_add_css_class(area, "print-page");
  spoken_name(area, name);
  return area;
}

static GtkWidget *pages_build(Preview *self)
{
  self->column = gtk_box_new(GTK_ORIENTATION_VERTICAL, GAP);
  gtk_widget_add_css_class(self->column, "print-pages");
  for (guint i = 0; i < self->sheets->len; i++) {
    g_ptr_array_add(self->page, page_build(self, i));
    gtk_box_append(GTK_BOX(self->column), self->page->pdata[i]);
  }
  self->scroller = gtk_scrolled_window_new();
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(self->scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_ALWAYS);
  gtk_scrolled_window_set_overlay_scrolling(GTK_SCROLLED_WINDOW(self->scroller), FALSE);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(self->scroller), self->column);
  gtk_widget_set_vexpand(self->scroller, TRUE);
  g_signal_connect_swapped(place_of(self), "value-changed", G_CALLBACK(where_show), self);
  g_signal_connect_swapped(place_of(self), "changed", G_CALLBACK(where_show), self);
  return self->scroller;
}

static GtkWidget *foot_build(Preview *self)
{
  GtkWidget *foot = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *close = dialog_button_new(_("Close"), "quiet", NULL, NULL);
  self->before = part_button(_("Page before"), "quiet", G_CALLBACK(before_clicked), self);
  self->next = part_button(_("Next page"), "quiet", G_CALLBACK(next_clicked), self);
  self->where = gtk_label_new(NULL);
  gtk_widget_set_margin_start(self->where, 8);
  gtk_widget_set_hexpand(close, TRUE);
  gtk_widget_set_halign(close, GTK_ALIGN_END);
  gtk_widget_add_css_class(foot, "actions");
  gtk_box_append(GTK_BOX(foot), self->before);
  gtk_box_append(GTK_BOX(foot), self->next);
  gtk_box_append(GTK_BOX(foot), self->where);
  gtk_box_append(GTK_BOX(foot), close);
  return foot;
}

bool print_preview_show(GtkWindow *parent, PrintJob *job)
{
  const GPtrArray *sheets = print_job_sheets(job);
  if (!sheets)
    return false;
  Preview *self = g_new0(Preview, 1);
  self->job = print_job_ref(job);
  self->sheets = sheets;
  self->page = g_ptr_array_new();
  self->window = dialog_window_new(parent, _("Preview"), WIDTH, HEIGHT);
  GtkWidget *all = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0), *pages = pages_build(self);
  GtkWidget *foot = foot_build(self);
  gtk_box_append(GTK_BOX(all), pages);
  gtk_box_append(GTK_BOX(all), foot);
  gtk_window_set_child(GTK_WINDOW(self->window), all);
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE); /* before the scroller */
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), self);
  gtk_widget_add_controller(self->window, keys);
  g_object_set_data_full(G_OBJECT(self->window), "soffit-preview", self, preview_free);
  where_show(self);
  gtk_window_present(GTK_WINDOW(self->window));
  gtk_widget_grab_focus(self->next);
  return true;
}
