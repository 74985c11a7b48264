/* gain_bar.h - how much an advice brings: a bar, and under it the whisker of its band.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Percent; the figure stands beside it in words, so assistive technology does not hear it. */
#pragma once
#include "base/banded.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_GAIN_BAR (gain_bar_get_type())
G_DECLARE_FINAL_TYPE(SoffitGainBar, gain_bar, SOFFIT, GAIN_BAR, GtkWidget)

GtkWidget *gain_bar_new(void);
/* full: the percent at the end of the trough, > 0 */
void gain_bar_set(SoffitGainBar *bar, Banded percent, double full);
