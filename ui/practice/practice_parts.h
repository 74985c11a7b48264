/* practice_parts.h - the parts of the page of the school bench.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each follows the desk by itself, for as long as it lives. */
#pragma once
#include "ui/practice/practice_desk.h"
#include <gtk/gtk.h>

GtkWidget *practice_steps_new(SoffitPracticeDesk *desk); /* the row of steps, and the load case */
GtkWidget *practice_task_new(SoffitPracticeDesk *desk,
                             GtkWidget *list);               /* left: exercise, task, prediction */
GtkWidget *practice_questions_new(SoffitPracticeDesk *desk); /* what is asked before the shading */
GtkWidget *practice_middle_new(SoffitPracticeDesk *desk); /* drawings and the table of criteria */
GtkWidget *practice_sizes_new(SoffitPracticeDesk *desk);  /* width, groove */
GtkWidget *practice_table_new(SoffitPracticeDesk *desk);
GtkWidget *practice_why_new(SoffitPracticeDesk *desk); /* right: score, reasons, hints, progress */
/* The drawing without its answer, and the cross: by pen, mouse, finger and arrow keys.
 *   small  in  only shows, beside the task */
GtkWidget *practice_cross_new(SoffitPracticeDesk *desk, bool small);
void practice_list_open(GtkWidget *button);
GtkWidget *practice_list_button_new(SoffitPracticeDesk *desk);    /* chooses an exercise */
GtkWidget *practice_profile_button_new(SoffitPracticeDesk *desk); /* who practises */
/* At PRACTICE_SEE: plays the sketch of a crack, and what it is. */
GtkWidget *practice_crack_new(SoffitPracticeDesk *desk);
/* Its way over the drawing, in slow motion where the desktop wants motion. */
void practice_crack_attach(SoffitPracticeDesk *desk, GtkWidget *canvas);
/* Free play: mine against the best, while it is drawn. */
GtkWidget *practice_against_new(SoffitPracticeDesk *desk);
/* At PRACTICE_SEE and PRACTICE_REDRAW: a test bar with the connector's notch, and what both do to
 * the pull; while before and after are compared, one with the start's notch above it. */
GtkWidget *practice_bar_new(SoffitPracticeDesk *desk);
/* The peaks of the attempts as a small curve. */
GtkWidget *practice_peaks_new(SoffitPracticeDesk *desk);
/* follow(data) at each of the signals, as long as the widget lives; once at once. */
void practice_follow(SoffitPracticeDesk *desk, GtkWidget *widget, const char *const signal[],
                     GCallback follow, gpointer data);
