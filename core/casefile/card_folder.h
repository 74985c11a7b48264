/* card_folder.h - a lab's own material cards: one file a card in one folder, beside the shipped
 * ones. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa, mm.  Shipped cards are never changed: a lab works on copies with ids of their own.  Saving
 * is whole or not at all (save.h); errors in domain CASE_ERROR. */
#pragma once
#include "strength/finish.h"
#include "strength/material.h"
#include <glib.h>

/* The shipped cards and those of the folder, in this order, the latter by id; new GArray of
 * Material. A file that cannot be read is left alone and told: its message ("FILE:LINE: what is
 * wrong. What to do.") is added to `message` (of char *, may be NULL).  A folder that is not there
 * is empty. */
GArray *cards_all(const char *folder, GPtrArray *message);

/* Writes FOLDER/ID.xml, making the folder.  Refuses with words: a card that lacks what a lab's card
 * must have (material_check_own), one published without a source, an id of a shipped card, an id
 * that is no file name (letters, digits, - and _). */
bool card_save(const char *folder, const Material *card, GError **error);

/* An id that is free in the folder, made from a name: "3Y, lot 0417" gives "3y-lot-0417". */
void card_new_id(const char *folder, const char *name, char id[32]);

/* What a series of broken bars says. */
typedef struct {
  const char *name;                   /* what people read                                   */
  BarTest test;                       /* what the strength was measured with                */
  double span, width, thickness;      /* mm; disc: support circle, piston, thickness        */
  FinishState finish;                 /* of the bars; not FINISH_UNKNOWN                    */
  double strength_mpa;                /* sigma_theta, 63.2 % broken                         */
  double strength_low, strength_high; /* its 90 % band, MPa                             */
  double weibull;                     /* m, unbiased                                        */
  size_t bars;                        /* how many                                           */
  const char *date, *lot, *who;       /* "2026-11-25"; of the blanks; initials or role      */
} BarCard;
/* The card of these bars: strength and modulus theirs, everything else that of `like`; a draft
 * without an id.  FAULT_RANGE with *reason (may be NULL) when it cannot be one; *card then
 * untouched. */
MUST_CHECK Fault card_from_bars(const Material *like, const BarCard *bars, Material *card,
                                const char **reason);
