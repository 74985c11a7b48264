/* bars_page.h - the Bars workspace: strength tests typed, pasted or opened, and what they say.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

/* session: whose case takes over a material card. */
GtkWidget *bars_page_new(SoffitSession *session);
/* Puts the focus where bars are typed. */
void bars_page_enter(GtkWidget *page);
