/* material.h - material cards: what a ceramic is, and where each figure comes from.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa, MPa sqrt(m), ratios.  Cards are data (data/materials.xml, read by casefile/material_xml). */
#pragma once
#include "base/fault.h"
#include "strength/finish.h"
#include <stdbool.h>
#include <stddef.h>

typedef enum { BAR_THREE_POINT, BAR_FOUR_POINT_QUARTER, BAR_FOUR_POINT_THIRD, BAR_DISC } BarTest;

/* How well a figure is known; 0 = not said. */
typedef enum {
  CONFIDENCE_NONE,
  CONFIDENCE_READ,     /* seen in the named publication            */
  CONFIDENCE_MEMORY,   /* of the named publication, not seen again */
  CONFIDENCE_OWN,      /* measured here                            */
  CONFIDENCE_PRACTICE, /* common practice, no source               */
  CONFIDENCE_N
} Confidence;

/* What a card states, each with a source of its own. */
typedef enum {
  FIGURE_YOUNG,
  FIGURE_POISSON,
  FIGURE_TOUGHNESS,
  FIGURE_THRESHOLD,
  FIGURE_STRENGTH,
  FIGURE_WEIBULL,
  FIGURE_GROWTH,
  FIGURE_CLASS,
  FIGURE_GAIN,
  FIGURE_N
} CardFigure;

typedef struct {
  char source[120];      /* "" = that of the card */
  Confidence confidence; /* 0 = that of the card  */
} FigureSource;

/* A draft is for whoever makes it; a published card is for the whole lab and has to say where each
 * figure is from. */
typedef enum { CARD_DRAFT, CARD_PUBLISHED } CardState;

/* What the lab measured itself: strength of bars of one finish over that of bars of another.  The
 * book's factors step back behind it (surface.h). */
typedef struct {
  FinishState state, against;
  double factor, low, high; /* 90 % band                                    */
  char source[120];         /* "own bars, 2026-11-25, 30 bars"              */
} OwnFactor;
#define OWN_FACTORS 8
#define OWN_FACTOR_LEAST 0.1
#define OWN_FACTOR_MOST 10.0

typedef struct {
  char id[32];     /* "3y", "4y", "5y", "own"; file name of a lab's card              */
  char name[64];   /* English msgid for shipped cards, free text for own ones         */
  CardState state; /* shipped cards are published                                     */
  double young_mpa, poisson;
  double toughness; /* K_Ic, MPa sqrt(m)                                                   */
  double toughness_percent; /* band, +-                                                           */
  double threshold; /* K_I0: no crack grows below, MPa sqrt(m); NaN or 0 = not known       */
  double growth_n, growth_low, growth_high; /* exponent of slow crack growth and its range;
                                               NaN or 0 = not known */
  double strength_mpa;     /* characteristic strength of the bars, 63.2 %                         */
  double strength_percent; /* band, +-                                                            */
  double weibull;          /* modulus m                                                           */
  BarTest bar;             /* what the strength was measured with                                 */
  double bar_span, bar_width,
      bar_thickness;   /* mm (outer span; disc: support circle, piston, thickness) */
  char bar_finish[24]; /* finish state id of the bars, e.g. "high-polish"                     */
  int bar_count;       /* how many bars; 0 = not known                                        */
  int iso_class;       /* ISO 6872 class 1-5                                                  */
  double
      polish_gain_top; /* upper limit of the finish factor for this material, e.g. 1.25; 1 = none */
  char source[160];    /* where the figures are from, and how well known                      */
  Confidence confidence;
  FigureSource of[FIGURE_N];
  char date[12]; /* of a lab's card, ISO 8601 day; "" = shipped                         */
  char lot[40];  /* of the blanks the bars were cut from                                */
  char who[24];  /* initials or role of who entered it, never a name                    */
  OwnFactor own[OWN_FACTORS];
  size_t n_own;
} Material;

/* FAULT_RANGE when the card cannot be used, or is published without what that asks for; *reason
 * (may be NULL) is then a static English msgid: what is wrong and what to do. */
MUST_CHECK Fault material_check(const Material *material, const char **reason);
/* What a lab's own card must have besides: day, who, and the lot where the bars are its own. */
MUST_CHECK Fault material_check_own(const Material *material, const char **reason);
/* The source that holds for a figure: its own or the card's. */
const char *material_source(const Material *material, CardFigure figure);
Confidence material_confidence(const Material *material, CardFigure figure);
const char *card_figure_name(CardFigure figure);    /* English msgid */
const char *confidence_name(Confidence confidence); /* English msgid */
bool card_day_valid(const char *day);               /* "2026-11-25", a day of the calendar */
/* Characteristic strength with its band: the card's, and no narrower than its number of bars gives.
 */
Banded material_strength(const Material *material);
int material_bars(const Material *material); /* how many; BARS_NOT_STATED unless stated */
/* Effective surface of the bars, mm^2 (core/SOURCES.md "effective surface"). */
double material_bar_surface(const Material *material);
