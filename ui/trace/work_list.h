/* work_list.h - the finishing list: what is done, what comes now, what waits; a tick carries
 * initials and time. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_WORK_LIST (work_list_get_type())
G_DECLARE_FINAL_TYPE(SoffitWorkList, work_list, SOFFIT, WORK_LIST, GtkBox)

GtkWidget *work_list_new(SoffitSession *session);
