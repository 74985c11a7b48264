/* sign.h - the arch of a verdict as a small picture: whole, propped, parted.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * It repeats the word beside it, so assistive technology does not hear it. */
#pragma once
#include "verdict/verdict.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_SIGN (sign_get_type())
G_DECLARE_FINAL_TYPE(SoffitSign, sign, SOFFIT, SIGN, GtkWidget)

GtkWidget *sign_new(int px);
void sign_set(SoffitSign *sign, Verdict verdict); /* VERDICT_NONE: hidden */
