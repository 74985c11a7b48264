/* reading_text.h - the six readings of a connector in words: figure, unit, band, note, state and
 * source. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Figures are those of ConnectorAssessment; nothing is computed here.  No GTK: the window and tests
 * use it. */
#pragma once
#include "assess.h"

typedef enum {
  READING_NECK,
  READING_RADIUS,
  READING_ROOM,
  READING_MARGIN,
  READING_SCRATCH,
  READING_CHANCE,
  READING_N
} ReadingKind;

typedef struct {
  const char *name;   /* translated, borrowed: "Roof radius"                      */
  char *figure;       /* "3.25 × 3.2"                                             */
  const char *unit;   /* "mm", "µm", "%", ""                                      */
  char *band;         /* "(0.72–0.87)" or ""                                      */
  char *note;         /* second line: "8.2 mm², needs 12"                         */
  Verdict state;      /* sign beside the note; VERDICT_NONE = none                */
  char *detail;       /* popover: what it is, band, both loads                    */
  const char *source; /* popover, translated, borrowed                            */
} ReadingText;

/* reading: READING_N items, cleared or zero; replaced. */
void reading_texts_make(const Assessment *assessment, size_t connector,
                        ReadingText reading[READING_N]);
/* What the whole bridge in the plane says against the beam at this neck, in plain words; "" where
 * they agree within 10 % or were not compared.  To be freed. */
char *reading_bridge_text(const Assessment *assessment, size_t connector);
void reading_text_clear(ReadingText *reading);
