/* practice_duo.h - mine and the best: two equal drawings under the same load, each with its sign.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/practice/practice_desk.h"
#include <gtk/gtk.h>

GtkWidget *practice_duo_new(SoffitPracticeDesk *desk);
