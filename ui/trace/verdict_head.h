/* verdict_head.h - the verdict of the bridge: sign, word, and the load it carries beside the load
 * ordered. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Always at the order's load; a trial load never changes it. */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_VERDICT_HEAD (verdict_head_get_type())
G_DECLARE_FINAL_TYPE(SoffitVerdictHead, verdict_head, SOFFIT, VERDICT_HEAD, GtkBox)

GtkWidget *verdict_head_new(SoffitSession *session);
