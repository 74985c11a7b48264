/* advice_list.h - what helps most at the current connector: try a change on the drawing, keep it or
 * leave it. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_ADVICE_LIST (advice_list_get_type())
G_DECLARE_FINAL_TYPE(SoffitAdviceList, advice_list, SOFFIT, ADVICE_LIST, GtkBox)

#define ADVICE_SHOWN 5
/* most: rows at the most, 1 .. ADVICE_SHOWN; with less than that the closing sentence is left out
 */
GtkWidget *advice_list_new(SoffitSession *session, size_t most);

/* The advices that are shown, best first; borrowed from the rest answer.  Returns how many. */
size_t advice_shown(SoffitSession *session, const Advice *shown[ADVICE_SHOWN]);
/* Tries the advice with this number (0 = first); false when there is none. */
bool advice_try(SoffitSession *session, size_t number);
