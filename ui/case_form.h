/* case_form.h - the draft of a case that a dialog works on, and fields bound to its members.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Fields write straight into the draft, which does not move while its dialog lives. */
#pragma once
#include "assess.h"
#include <gtk/gtk.h>

typedef struct {
  Case c;
  size_t connector;                             /* whose facts are shown */
  GtkWidget *page_units;                        /* box that case_units refills */
  GtkWidget *page_neck;                         /* box that case_records refills */
  GtkWidget *neck_name, *last_mark, *add_mark;  /* on that page now: where the focus goes on */
  GtkWidget *page_bites, *last_bite, *add_bite; /* of case_bites, alike                     */
  Assessment *answer; /* owned ref; NULL without: where a break was to be expected */
} CaseDraft;

GtkWidget *form_new(void); /* a grid of label, field, note */
/* What a screen reader calls a field; rows and fields made here are named already. */
void field_name(GtkWidget *field, const char *name);
void form_title(GtkWidget *form, const char *title);
/* Those that take input return their field, borrowed.
 * NaN shows as an empty field; a field that is emptied becomes NaN.  Comma and point both part the
 * decimals. */
GtkWidget *form_number(GtkWidget *form, const char *name, const char *note, double *value,
                       double low, double high, double step, int decimals);
GtkWidget *form_text(GtkWidget *form, const char *name, const char *note, char **text);
/* Sentences over several lines; Tab goes on to the next field. */
GtkWidget *form_words(GtkWidget *form, const char *name, const char *note, char **text);
/* choice: n msgids; value: an enum, read and written as its number */
GtkWidget *form_choice(GtkWidget *form, const char *name, const char *note,
                       const char *const choice[], guint n, unsigned *value);
/* set: bit k = choice k; one tick box each */
void form_set(GtkWidget *form, const char *name, const char *note, const char *const choice[],
              guint n, unsigned *set);
void form_wide(GtkWidget *form, GtkWidget *field); /* over all columns */
int form_rows(GtkWidget *form);                    /* so far */
void form_row(GtkWidget *form, const char *name, GtkWidget *field, const char *note);

/* What is wrong with a field, beside it and to a screen reader; NULL: nothing is.  The words stand
 * in the note of its row, or in the label that field_told_by() gave it. */
void field_flaw(GtkWidget *field, const char *text);
void field_told_by(GtkWidget *field, GtkWidget *label);

/* The same fields without a row, for tables; name is what assistive technology hears. */
GtkWidget *field_number(const char *name, double *value, double low, double high, double step,
                        int decimals);
GtkWidget *field_choice(const char *name, const char *const choice[], guint n, unsigned *value);

/* The page of the units (case_units.c). */
GtkWidget *case_units_page(CaseDraft *draft);
/* How it is bitten on (case_bites.c). */
GtkWidget *case_bites_page(CaseDraft *draft);
/* What the bench states (case_records.c). */
GtkWidget *case_neck_page(CaseDraft *draft);
GtkWidget *case_bridge_page(CaseDraft *draft);
GtkWidget *case_handover_page(CaseDraft *draft);
/* Where a break began, tapped on the sketch (case_break.c). */
GtkWidget *case_break_page(CaseDraft *draft);
/* Three units 45-46-47 with mean sizes. */
void case_units_propose(Case *c);
