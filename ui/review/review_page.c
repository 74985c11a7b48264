/* review_page.c - own size rule of the Review workspace, and its keys.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px at the look's text size; larger text scales them.  Measures: look.md "Grid and measures". */
#include "ui/review/review_page.h"
#include "ui/canvas/draw_context.h"
#include "ui/parts.h"
#include "ui/preferences.h"
#include "ui/review/evidence_picture.h"
#include "ui/review/figures_window.h"
#include "ui/review/review_parts.h"
#include "ui/words.h"

#define PREFERENCE "lab-folder"
#define PREFERENCE_FOLDED "review-queue-folded"
#define FOLD_WIDTH 1240
#define FOLD_HEIGHT 732
#define QUEUE_OPEN 392
#define QUEUE_FOLDED 312
#define COLUMN_OPEN 400
#define COLUMN_FOLDED 340
#define STRIP_OPEN 176
#define STRIP_FOLDED 132
#define STRIP_LARGE 252
#define LARGE_HEIGHT 1100
#define FIRED_OPEN 172
#define FIRED_FOLDED 128
#define BAR 118
#define BESIDE_WIDTH 1900 /* from here on the table leaves room for the evidence */
#define EVIDENCE_LEAST 940

struct _SoffitReviewPage {
  GtkWidget parent;
  SoffitReviewDesk *desk; /* owned */
  GtkWidget *empty, *queue, *strip, *picture, *fired, *column, *bar;
  bool asked;  /* the folder of before was looked for */
  bool unseen; /* the table takes all the room: the evidence is not in view */
  bool folded; /* the queue is put away: all the room is the evidence's */
};

G_DEFINE_FINAL_TYPE(SoffitReviewPage, review_page, GTK_TYPE_WIDGET)

SoffitReviewDesk *review_page_desk(SoffitReviewPage *self)
{
  return self->desk;
}

char *review_page_title(SoffitReviewPage *self)
{
  guint n = queue_waiting(review_desk_queue(self->desk));
  if (!lab_desk_folder(review_desk_lab(self->desk)))
    return g_strdup("");
  if (n == 0)
    return g_strdup(_("nothing waits"));
  return g_strdup_printf(words_plural("%u waits", "%u wait, worst first", n), n);
}

GString *review_page_table(SoffitReviewPage *self, ExportForm form)
{
  bool shown = lab_desk_folder(review_desk_lab(self->desk)) && !self->folded &&
               queue_pane_as_table(self->queue);
  return shown ? queue_pane_export(self->queue, form) : NULL;
}

/* ---- places ---- */

static int widest(GtkWidget *widget, double px)
{
  int least;
  gtk_widget_measure(widget, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return MAX((int)px, least);
}

static int tallest(GtkWidget *widget, int width, double px)
{
  int least;
  gtk_widget_measure(widget, GTK_ORIENTATION_VERTICAL, width, &least, NULL, NULL, NULL);
  return MAX((int)px, least);
}

/* As high as all its words want it, up to most. */
static int words_tall(GtkWidget *widget, int width, double px, double most)
{
  int natural;
  gtk_widget_measure(widget, GTK_ORIENTATION_VERTICAL, width, NULL, &natural, NULL, NULL);
  return tallest(widget, width, MAX(px, MIN(natural, most)));
}

/* The table takes what its columns need, or all where the evidence would not find room. */
static int queue_width(SoffitReviewPage *self, int width, double scale)
{
  if (self->folded)
    return 0;
  if (!queue_pane_as_table(self->queue))
    return widest(self->queue, scale * (width / scale < FOLD_WIDTH ? QUEUE_FOLDED : QUEUE_OPEN));
  int least = widest(self->queue, queue_pane_table_width(self->queue, width / scale < FOLD_WIDTH)),
      most = width - (int)(scale * EVIDENCE_LEAST);
  return width / scale < BESIDE_WIDTH ? width : MIN(least, most);
}

static void evidence_show(SoffitReviewPage *self, bool seen)
{
  GtkWidget *const part[] = {self->strip, self->picture, self->fired, self->column, self->bar};
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    gtk_widget_set_child_visible(part[i], seen);
  self->unseen = !seen;
}

static void review_page_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  (void)baseline;
  SoffitReviewPage *self = SOFFIT_REVIEW_PAGE(widget);
  double scale = text_scale(widget);
  bool narrow = width / scale < FOLD_WIDTH,
       low = height / scale<FOLD_HEIGHT, large = width / scale> 1900;
  if (gtk_widget_should_layout(self->empty)) {
    part_place(self->empty, 0, 0, width, height);
    return;
  }
  queue_pane_fold(self->queue, narrow);
  evidence_column_fold(self->column, narrow);
  int queue = queue_width(self, width, scale),
      column = widest(self->column, scale * (narrow  ? COLUMN_FOLDED
                                             : large ? COLUMN_OPEN * 1.3
                                                     : COLUMN_OPEN)),
      rest = width - queue, drawing = rest - column;
  evidence_show(self, queue < width);
  if (self->unseen) {
    part_place(self->queue, 0, 0, width, height);
    return;
  }
  int bar = tallest(self->bar, rest, scale * BAR),
      strip = words_tall(self->strip, rest,
                         scale * (low                             ? STRIP_FOLDED
                                  : height / scale > LARGE_HEIGHT ? STRIP_LARGE
                                                                  : STRIP_OPEN),
                         scale * STRIP_LARGE),
      fired = (int)(scale * (low                             ? FIRED_FOLDED
                             : height / scale > LARGE_HEIGHT ? 1.5 * FIRED_OPEN
                                                             : FIRED_OPEN));
  int body = height - bar - strip;
  if (!self->folded)
    part_place(self->queue, 0, 0, queue, height);
  part_place(self->strip, queue, 0, rest, strip);
  part_place(self->picture, queue, strip, drawing, body - fired);
  part_place(self->fired, queue, strip + body - fired, drawing, fired);
  part_place(self->column, queue + drawing, strip, column, body);
  part_place(self->bar, queue, height - bar, rest, bar);
}

static void review_page_measure(GtkWidget *widget, GtkOrientation orientation, int for_size,
                                int *least, int *natural, int *least_baseline,
                                int *natural_baseline)
{
  (void)widget, (void)for_size;
  *least = orientation == GTK_ORIENTATION_HORIZONTAL ? 880 : 560;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 1440 : 852;
  *least_baseline = *natural_baseline = -1;
}

/* Without a folder there is one sentence and a button. */
static void lab_changed(SoffitReviewPage *self)
{
  bool open = lab_desk_folder(review_desk_lab(self->desk)) != NULL;
  GtkWidget *const part[] = {self->queue, self->strip,  self->picture,
                             self->fired, self->column, self->bar};
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    gtk_widget_set_visible(part[i], open && !(part[i] == self->queue && self->folded));
  gtk_widget_set_visible(self->empty, !open);
  gtk_widget_queue_resize(GTK_WIDGET(self));
}

/* Where the keys go: the list, or the picture while it is put away. */
static GtkWidget *first_focus(SoffitReviewPage *self)
{
  return self->folded ? self->picture : queue_pane_list(self->queue);
}

static void folded_set(SoffitReviewPage *self, bool folded)
{
  self->folded = folded;
  preference_flag_set(PREFERENCE_FOLDED, folded);
  evidence_strip_set_folded(self->strip, folded);
  decision_bar_set_list(self->bar, first_focus(self));
  lab_changed(self);
  if (lab_desk_folder(review_desk_lab(self->desk)))
    gtk_widget_grab_focus(first_focus(self));
}

void review_page_open(SoffitReviewPage *self, const char *folder)
{
  self->asked = true;
  preference_word_set(PREFERENCE, folder);
  review_desk_open(self->desk, folder);
  gtk_widget_grab_focus(first_focus(self));
}

void review_page_enter(SoffitReviewPage *self)
{
  g_autofree char *kept = self->asked ? NULL : preference_word(PREFERENCE);
  self->asked = true;
  if (kept && *kept && !lab_desk_folder(review_desk_lab(self->desk)))
    review_desk_open(self->desk, kept);
  if (lab_desk_folder(review_desk_lab(self->desk)))
    gtk_widget_grab_focus(first_focus(self));
  else
    gtk_widget_child_focus(self->empty, GTK_DIR_TAB_FORWARD);
}

/* Stops of Tab go as the eye does: by place the queue, which is the tallest, would come between. */
static bool place_next(SoffitReviewPage *self, GtkDirectionType direction, bool around)
{
  GtkWidget *const part[] = {self->queue, self->strip,  self->picture,
                             self->fired, self->column, self->bar};
  const int n = G_N_ELEMENTS(part), by = direction == GTK_DIR_TAB_BACKWARD ? -1 : 1;
  GtkWidget *at = gtk_widget_get_focus_child(GTK_WIDGET(self));
  int place = by > 0 ? -1 : n;
  for (int i = 0; at && i < n; i++)
    if (part[i] == at)
      place = i;
  for (int step = 1; step <= n; step++) {
    int next = place + step * by;
    if (!around && (next < 0 || next >= n))
      return false;
    GtkWidget *one = part[(next % n + n) % n];
    if (one != at && gtk_widget_should_layout(one) && gtk_widget_child_focus(one, direction))
      return true;
  }
  return false;
}

static gboolean review_page_focus(GtkWidget *widget, GtkDirectionType direction)
{
  SoffitReviewPage *self = SOFFIT_REVIEW_PAGE(widget);
  bool tab = direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD;
  if (!tab || gtk_widget_should_layout(self->empty))
    return GTK_WIDGET_CLASS(review_page_parent_class)->focus(widget, direction);
  GtkWidget *at = gtk_widget_get_focus_child(widget);
  return (at && gtk_widget_child_focus(at, direction)) || place_next(self, direction, false);
}

/* ---- keys ---- */

/* Letters belong to whoever is written to; they act from the list and the pictures. */
static bool letters_here(SoffitReviewPage *self)
{
  GtkWidget *focus = gtk_root_get_focus(gtk_widget_get_root(GTK_WIDGET(self)));
  GtkWidget *list = queue_pane_list(self->queue);
  return focus == NULL || focus == list || gtk_widget_is_ancestor(focus, list) ||
         focus == self->picture;
}

/* Among chips, words and menus of the queue, none of them open. */
static bool above_list(SoffitReviewPage *self)
{
  GtkWidget *focus = gtk_root_get_focus(gtk_widget_get_root(GTK_WIDGET(self)));
  return focus && gtk_widget_is_ancestor(focus, self->queue) &&
         gtk_widget_get_native(focus) == gtk_widget_get_native(GTK_WIDGET(self));
}

static void neck_step(SoffitReviewPage *self, int by)
{
  size_t at = review_desk_connector(self->desk);
  if (by > 0 || at > 0)
    review_desk_set_connector(self->desk, by > 0 ? at + 1 : at - 1);
}

static void table_set(SoffitReviewPage *self, bool as_table)
{
  if (self->folded)
    folded_set(self, false);
  queue_pane_set_as_table(self->queue, as_table);
  decision_bar_set_list(self->bar, queue_pane_list(self->queue));
  gtk_widget_queue_resize(GTK_WIDGET(self));
}

static gboolean key_pressed(GtkEventControllerKey *controller, guint key, guint code,
                            GdkModifierType state, void *data)
{
  (void)controller, (void)code;
  SoffitReviewPage *self = data;
  if ((state & GDK_CONTROL_MASK) && gdk_keyval_to_lower(key) == GDK_KEY_f) {
    if (self->folded)
      folded_set(self, false);
    queue_pane_search(self->queue);
    return TRUE;
  }
  if (key == GDK_KEY_F9) { /* also while no case is open in the drawing */
    folded_set(self, !self->folded);
    return TRUE;
  }
  if (key == GDK_KEY_F6 && !gtk_widget_should_layout(self->empty)) {
    place_next(self, GTK_DIR_TAB_FORWARD, true);
    return TRUE;
  }
  if (key == GDK_KEY_Escape && above_list(self)) {
    gtk_widget_grab_focus(queue_pane_list(self->queue));
    return TRUE;
  }
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) || !letters_here(self))
    return FALSE;
  if (self->unseen && strchr("rpwn", (int)(gdk_keyval_to_lower(key) & 0x7f)) && key < 0x80) {
    table_set(self, false); /* nobody decides on what he does not see */
    return TRUE;
  }
  if (key >= GDK_KEY_0 && key <= GDK_KEY_9) {
    queue_pane_sort(self->queue, key == GDK_KEY_0 ? 9 : key - GDK_KEY_1);
    return TRUE;
  }
  switch (gdk_keyval_to_lower(key)) {
  case GDK_KEY_t:
    table_set(self, !queue_pane_as_table(self->queue));
    return TRUE;
  case GDK_KEY_e:
    gtk_widget_activate_action(GTK_WIDGET(self), "win.keep-table", NULL);
    return TRUE;
  case GDK_KEY_j:
    review_desk_step(self->desk, 1);
    return TRUE;
  case GDK_KEY_k:
    review_desk_step(self->desk, -1);
    return TRUE;
  case GDK_KEY_r:
    decision_bar_decide(self->bar, ENTRY_RETURN);
    return TRUE;
  case GDK_KEY_p:
    decision_bar_decide(self->bar, ENTRY_PASS);
    return TRUE;
  case GDK_KEY_w:
    decision_bar_decide(self->bar, ENTRY_WAIT);
    return TRUE;
  case GDK_KEY_n:
    evidence_picture_pin(SOFFIT_EVIDENCE_PICTURE(self->picture));
    return TRUE;
  case GDK_KEY_m:
    if (!self->unseen)
      evidence_picture_move(SOFFIT_EVIDENCE_PICTURE(self->picture));
    return TRUE;
  case GDK_KEY_Page_Up:
  case GDK_KEY_KP_Page_Up:
    if (self->unseen)
      return FALSE;
    neck_step(self, -1);
    return TRUE;
  case GDK_KEY_Page_Down:
  case GDK_KEY_KP_Page_Down:
    if (self->unseen)
      return FALSE;
    neck_step(self, 1);
    return TRUE;
  case GDK_KEY_Escape: /* what is in the hand first */
    if (!evidence_picture_leave(SOFFIT_EVIDENCE_PICTURE(self->picture)))
      gtk_widget_grab_focus(first_focus(self));
    return TRUE;
  default:
    return FALSE;
  }
}

static void action_limits(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  limits_dialog_new(GTK_WINDOW(gtk_widget_get_root(widget)), SOFFIT_REVIEW_PAGE(widget)->desk);
}

static void action_fold(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  folded_set(SOFFIT_REVIEW_PAGE(widget), !SOFFIT_REVIEW_PAGE(widget)->folded);
}

static void action_figures(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  const char *folder = lab_desk_folder(review_desk_lab(SOFFIT_REVIEW_PAGE(widget)->desk));
  if (folder)
    figures_window_show(GTK_WINDOW(gtk_widget_get_root(widget)), folder);
}

static void action_table(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  SoffitReviewPage *self = SOFFIT_REVIEW_PAGE(widget);
  table_set(self, !queue_pane_as_table(self->queue));
}

/* A row was chosen: its evidence, and where that is in view already, into the drawing. */
static void action_open(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  SoffitReviewPage *self = SOFFIT_REVIEW_PAGE(widget);
  if (self->unseen)
    table_set(self, false);
  else
    gtk_widget_activate_action(widget, "win.open-reviewed", NULL);
}

/* ---- the widget ---- */

static void review_page_dispose(GObject *object)
{
  SoffitReviewPage *self = SOFFIT_REVIEW_PAGE(object);
  GtkWidget **const part[] = {&self->empty, &self->queue,  &self->strip, &self->picture,
                              &self->fired, &self->column, &self->bar};
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    g_clear_pointer(part[i], gtk_widget_unparent);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(review_page_parent_class)->dispose(object);
}

static void review_page_class_init(SoffitReviewPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = review_page_dispose;
  widget_class->measure = review_page_measure;
  widget_class->size_allocate = review_page_size_allocate;
  widget_class->focus = review_page_focus;
  gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_install_action(widget_class, "review.limits", NULL, action_limits);
  gtk_widget_class_install_action(widget_class, "review.table", NULL, action_table);
  gtk_widget_class_install_action(widget_class, "review.open", NULL, action_open);
  gtk_widget_class_install_action(widget_class, "review.figures", NULL, action_figures);
  gtk_widget_class_install_action(widget_class, "review.fold", NULL, action_fold);
}

static GtkWidget *empty_build(void)
{
  GtkWidget *page = gtk_box_new(GTK_ORIENTATION_VERTICAL, 16),
            *sentence = gtk_label_new(_("Choose the folder of your lab’s cases.")),
            *open = gtk_button_new_with_label(_("Choose the folder…"));
  gtk_widget_add_css_class(sentence, "case-number");
  gtk_widget_add_css_class(open, "strong");
  gtk_widget_set_halign(open, GTK_ALIGN_CENTER);
  gtk_actionable_set_action_name(GTK_ACTIONABLE(open), "win.open-lab");
  gtk_widget_set_valign(sentence, GTK_ALIGN_END);
  gtk_widget_set_vexpand(sentence, TRUE);
  gtk_widget_set_valign(open, GTK_ALIGN_START);
  gtk_widget_set_vexpand(open, TRUE);
  gtk_box_append(GTK_BOX(page), sentence);
  gtk_box_append(GTK_BOX(page), open);
  gtk_widget_add_css_class(page, "empty");
  return page;
}

static void review_page_init(SoffitReviewPage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_name(keys, "soffit-review-keys");
  gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), self);
  gtk_widget_add_controller(GTK_WIDGET(self), keys);
  self->desk = review_desk_new(NULL);
  self->empty = empty_build();
  self->queue = queue_pane_new(self->desk);
  self->strip = evidence_strip_new(self->desk);
  self->picture = evidence_picture_new(self->desk);
  self->fired = evidence_fired_new(self->desk);
  self->column = evidence_column_new(self->desk);
  self->bar = decision_bar_new(self->desk);
  gtk_widget_add_css_class(self->picture, "paper");
  GtkWidget *const part[] = {self->empty, self->queue,  self->strip, self->picture,
                             self->fired, self->column, self->bar};
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    gtk_widget_set_parent(part[i], GTK_WIDGET(self));
  g_signal_connect_object(review_desk_lab(self->desk), "state-changed", G_CALLBACK(lab_changed),
                          self, G_CONNECT_SWAPPED);
  folded_set(self, preference_flag(PREFERENCE_FOLDED, false));
}

GtkWidget *review_page_new(void)
{
  return g_object_new(SOFFIT_TYPE_REVIEW_PAGE, NULL);
}
