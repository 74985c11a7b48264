/* chance.h - chance of fracture with the scatter of everything that goes into it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A model is one connector under one load.  Each uncertain input has a middle and the two ends that
 * 5 and 95 of 100 cases stay inside; it is drawn from a normal distribution of its logarithm on
 * each side of the middle.  The band is that of CHANCE_DRAWS draws with a fixed seed: the same
 * model gives the same band, to the last bit.  No state, no allocation.  Source: core/SOURCES.md
 * "chance, band". */
#pragma once
#include "base/banded.h"
#include "strength/service.h"
#include "strength/surface.h"
#include "strength/weibull.h"

typedef enum {
  INPUT_STRENGTH,  /* characteristic strength of the bars, MPa         */
  INPUT_MODULUS,   /* their Weibull modulus                            */
  INPUT_FINISH,    /* factor of one state of surface                   */
  INPUT_LOAD,      /* bite over the load asked for                     */
  INPUT_SUPPORT,   /* pull with soft and stiff teeth over that of mid  */
  INPUT_FIELD,     /* true pull over the computed one                  */
  INPUT_TRACE,     /* the same, of a line traced on a photo            */
  INPUT_DRAWN,     /* the same, of a roof drawn by hand                */
  INPUT_EXPONENT,  /* n of slow crack growth                           */
  INPUT_THRESHOLD, /* K_I0 / K_Ic                                      */
  INPUT_BITES,     /* chewing cycles in service                        */
  INPUT_N
} InputKind;
const char *input_id(InputKind kind);   /* "strength": JSON              */
const char *input_name(InputKind kind); /* bench words, English msgid    */

#define CHANCE_INPUTS (INPUT_N + SURFACE_N)
typedef struct {
  InputKind kind;
  FinishState state; /* INPUT_FINISH: of which state                                */
  Range range;       /* in the input's own unit, all > 0; support may lie on one side */
  int bars;          /* INPUT_MODULUS: of how many bars; 0 = the card does not say   */
} ChanceInput;

/* Zone sums and the bars' effective surface as functions of the modulus: the logarithm of each is a
 * straight line in m plus a rest, known at RISK_NODES Chebyshev nodes of ln m (the middle one is
 * the card's modulus) and interpolated between them. */
#define RISK_NODES 5
#define RISK_CURVES (SURFACE_N + 1) /* the zones, then the bars */
typedef struct {
  double modulus, span;   /* nodes: ln of the modulus +- span */
  bool used[RISK_CURVES]; /* false: nothing is pulled there */
  double slope[RISK_CURVES], rest[RISK_CURVES][RISK_NODES];
} RiskTable;

typedef struct {
  RiskTable risk;
  double factor[SURFACE_N];    /* finish factor of each zone, middle      */
  int finish_input[SURFACE_N]; /* index of the input that scatters it, -1 */
  ChanceInput input[CHANCE_INPUTS];
  size_t n_input;
  int of[INPUT_N]; /* index of the input of a kind, -1 = not there    */
} ChanceModel;
/* Inputs of the card, of the finish of each zone and of the service; load, support and field are
 * added by the caller.  One pass over the field, at most 1 ms.  FAULT_RANGE without a strength or a
 * spread. */
MUST_CHECK Fault chance_model_make(const Field *field, NeckLoad load, const Material *material,
                                   const ZoneSurface surface[ZONE_NECK_N], const Service *service,
                                   ChanceModel *model);
void chance_input_add(ChanceModel *model, ChanceInput input);

typedef struct {         /* one overload, or after the years */
  double margin;         /* load factor at which 5 of 100 break; INFINITY where nothing is pulled */
  double risk_log;       /* ln of the risk R                                                */
  double chance_percent; /* 100 (1 - exp(-R))                                              */
} ChanceFigures;
typedef struct {
  ChanceFigures once, service;
} ChancePoint;
#define CHANCE_END_Z 1.6448536269514722 /* normal quantile of 95 %: z at the ends of an input */
/* z: one standard normal number an input; NULL: all at their middle. */
ChancePoint chance_at(const ChanceModel *model, const double z[]);

typedef struct {
  Banded margin, chance_percent, service_margin, service_chance_percent;
} ChanceBand; /* as the fields of ChancePoint */
#define CHANCE_DRAWS 2000
/* value: all inputs at their middle; low, high: 5 and 95 of 100 draws. draws: 20 .. CHANCE_DRAWS */
ChanceBand chance_band(const ChanceModel *model, int draws);

/* What one input alone does to the answer: it at its ends, all others at their middle. */
typedef struct {
  ChanceInput input;
  ChancePoint at_low, at_high;
} ChanceDriver;
/* driver: room for model->n_input; largest swing of the service margin first.  Returns how many
 * inputs scatter at all. */
size_t chance_drivers(const ChanceModel *model, ChanceDriver driver[]);
/* Band by adding the drivers' swings in squares (delta method): for the moving pen. */
ChanceBand chance_band_quick(const ChanceModel *model);
