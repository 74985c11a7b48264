/* message_bar.h - a line below the header: what went wrong or what is offered, and what to do.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One message at a time; a newer one takes the place.  Spoken when it appears (role alert). */
#pragma once
#include <gtk/gtk.h>

#define SOFFIT_TYPE_MESSAGE_BAR (message_bar_get_type())
G_DECLARE_FINAL_TYPE(SoffitMessageBar, message_bar, SOFFIT, MESSAGE_BAR, GtkBox)

typedef void (*MessageAnswer)(int button, void *data); /* 0 .. n_button - 1 */

GtkWidget *message_bar_new(void);
void message_bar_error(SoffitMessageBar *bar, const char *text);
/* A question; button texts are translated; the bar closes with the answer, or unanswered by its
 * cross. */
void message_bar_ask(SoffitMessageBar *bar, const char *text, const char *const button[],
                     int n_button, MessageAnswer answer, void *data);
void message_bar_clear(SoffitMessageBar *bar);
