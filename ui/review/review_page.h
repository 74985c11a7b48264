/* review_page.h - the Review workspace: the lab's cases, worst first, their evidence, decisions.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/review/queue_export.h"
#include "ui/review/review_desk.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_REVIEW_PAGE (review_page_get_type())
G_DECLARE_FINAL_TYPE(SoffitReviewPage, review_page, SOFFIT, REVIEW_PAGE, GtkWidget)
GtkWidget *review_page_new(void);
SoffitReviewDesk *review_page_desk(SoffitReviewPage *page); /* borrowed */
/* The focus goes to the list; the folder of before is opened when none is. */
void review_page_enter(SoffitReviewPage *page);
/* Remembered for the next start. */
void review_page_open(SoffitReviewPage *page, const char *folder);
/* What the table shows, as a file, owned; NULL while it is not there. */
GString *review_page_table(SoffitReviewPage *page, ExportForm form);
/* "9 wait, worst first"; owned; changes with the signal "counted" of the desk's queue. */
char *review_page_title(SoffitReviewPage *page);
