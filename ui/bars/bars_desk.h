/* bars_desk.h - what all parts of the Bars workspace share: what was typed, and what it says.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N.  Main thread only; reading, fit and notch run on worker threads, the latest wins.  What
 * was typed is kept on disk and is there again at the next start.  Signals: "answer-changed"
 * (answer, messages or following), "notch-changed", "typed" (texts or names changed from outside).
 */
#pragma once
#include "assess_bars.h"
#include "strength/bars_use.h"
#include "strength/finish.h"
#include "ui/notch_job.h"
#include <glib-object.h>

typedef struct {
  unsigned test;           /* BarTest                                     */
  double span;             /* outer; disc: support circle                 */
  double width, thickness; /* for lines with the force alone; disc: diameter */
  double piston;           /* disc                                        */
  struct {
    char *name, *text; /* owned */
    unsigned finish;   /* FinishState of the bars */
  } set[BARS_SETS];
  NotchedBar notch; /* height and width follow the bars */
  double place;     /* of the notch from the middle    */
} BarsInput;

#define SOFFIT_TYPE_BARS_DESK (bars_desk_get_type())
G_DECLARE_FINAL_TYPE(SoffitBarsDesk, bars_desk, SOFFIT, BARS_DESK, GObject)

/* state_dir: where what was typed is kept; "" = nowhere, NULL = the user's state folder. */
SoffitBarsDesk *bars_desk_new(const char *state_dir);
BarsInput *bars_desk_input(SoffitBarsDesk *desk); /* write, then bars_desk_changed */
void bars_desk_changed(SoffitBarsDesk *desk);
void bars_desk_set_text(SoffitBarsDesk *desk, int set, const char *text);
void bars_desk_set_name(SoffitBarsDesk *desk, int set, const char *name);
void bars_desk_example(SoffitBarsDesk *desk); /* invented bars in both sets */

BarSetup bars_desk_setup(SoffitBarsDesk *desk);
/* Borrowed until the next signal; NULL before the first answer. */
const BarsAnswer *bars_desk_answer(SoffitBarsDesk *desk);
/* The lines as read, and the records of where bars broke; borrowed and NULL alike. */
const BarsTable *bars_desk_table(SoffitBarsDesk *desk, int set);
const BarsRecords *bars_desk_records(SoffitBarsDesk *desk, int set);
bool bars_desk_settled(SoffitBarsDesk *desk); /* the answer is that of the texts as they are */
const NotchShown *bars_desk_notch(SoffitBarsDesk *desk);
/* What is wrong with a set, a line each: "line 4: ..."; at most `most`; "" when nothing; owned. */
char *bars_desk_messages(SoffitBarsDesk *desk, int set, guint most);
/* The sets' names as shown; borrowed. */
const char *bars_desk_name(SoffitBarsDesk *desk, int set);
/* The card that the bars are shown beside, and what it would show in their test; NULL: none yet, or
 * it says too little. */
void bars_desk_set_card(SoffitBarsDesk *desk, const Material *card);
const Material *bars_desk_card(SoffitBarsDesk *desk);
const BarsBook *bars_desk_book(SoffitBarsDesk *desk);
double
bars_desk_limit(SoffitBarsDesk *desk); /* MPa of the notch's shade: 63 of 100 of the first set */
