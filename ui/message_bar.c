/* message_bar.c - see message_bar.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/message_bar.h"
#include "ui/spoken.h"
#include "ui/words.h"

struct _SoffitMessageBar {
  GtkBox parent;
  GtkWidget *label, *buttons;
  MessageAnswer answer;
  void *data;
};

G_DEFINE_FINAL_TYPE(SoffitMessageBar, message_bar, GTK_TYPE_BOX)

static void buttons_clear(SoffitMessageBar *self)
{
  GtkWidget *button;
  while ((button = gtk_widget_get_first_child(self->buttons)) != NULL)
    gtk_box_remove(GTK_BOX(self->buttons), button);
}

void message_bar_clear(SoffitMessageBar *self)
{
  gtk_widget_set_visible(GTK_WIDGET(self), FALSE);
  self->answer = NULL;
  buttons_clear(self);
}

static void message_show(SoffitMessageBar *self, const char *text, bool error)
{
  message_bar_clear(self);
  gtk_label_set_text(GTK_LABEL(self->label), text);
  (error ? gtk_widget_remove_css_class : gtk_widget_add_css_class)(GTK_WIDGET(self), "hint");
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  gtk_widget_set_visible(GTK_WIDGET(self), TRUE);
}

void message_bar_error(SoffitMessageBar *self, const char *text)
{
  message_show(self, text, true);
}

static void button_clicked(GtkButton *button, SoffitMessageBar *self)
{
  MessageAnswer answer = self->answer;
  void *data = self->data;
  int which = GPOINTER_TO_INT(g_object_get_data(G_OBJECT(button), "answer"));
  message_bar_clear(self);
  if (answer)
    answer(which, data);
}

void message_bar_ask(SoffitMessageBar *self, const char *text, const char *const button[],
                     int n_button, MessageAnswer answer, void *data)
{
  message_show(self, text, false);
  self->answer = answer;
  self->data = data;
  for (int i = 0; i < n_button; i++) {
    GtkWidget *widget = gtk_button_new_with_label(button[i]);
    g_object_set_data(G_OBJECT(widget), "answer", GINT_TO_POINTER(i));
    gtk_widget_add_css_class(widget, i == 0 ? "strong" : "quiet");
    g_signal_connect(widget, "clicked", G_CALLBACK(button_clicked), self);
    gtk_box_append(GTK_BOX(self->buttons), widget);
  }
}

static void message_bar_class_init(SoffitMessageBarClass *class)
{
  gtk_widget_class_set_accessible_role(GTK_WIDGET_CLASS(class), GTK_ACCESSIBLE_ROLE_ALERT);
}

static void message_bar_init(SoffitMessageBar *self)
{
  gtk_box_set_spacing(GTK_BOX(self), 12);
  gtk_widget_add_css_class(GTK_WIDGET(self), "message");
  gtk_widget_set_visible(GTK_WIDGET(self), FALSE);
  self->label = gtk_label_new(NULL);
  gtk_label_set_wrap(GTK_LABEL(self->label), TRUE);
  gtk_label_set_wrap_mode(GTK_LABEL(self->label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable(GTK_LABEL(self->label), TRUE);
  gtk_label_set_xalign(GTK_LABEL(self->label), 0);
  gtk_widget_set_hexpand(self->label, TRUE);
  self->buttons = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *cross = gtk_button_new_from_icon_name("window-close-symbolic");
  gtk_widget_add_css_class(cross, "plain");
  gtk_widget_set_valign(cross, GTK_ALIGN_CENTER);
  spoken_tooltip(cross, _("Close this message"));
  gtk_accessible_update_property(GTK_ACCESSIBLE(cross), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Close this message"), -1);
  g_signal_connect_swapped(cross, "clicked", G_CALLBACK(message_bar_clear), self);
  gtk_box_append(GTK_BOX(self), self->label);
  gtk_box_append(GTK_BOX(self), self->buttons);
  gtk_box_append(GTK_BOX(self), cross);
}

GtkWidget *message_bar_new(void)
{
  return g_object_new(SOFFIT_TYPE_MESSAGE_BAR, NULL);
}
