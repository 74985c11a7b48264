/* assess.h - the one call: case in, assessment out.  Window, command line, paper, tests and batch
 * use it. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, N mm, MPa, um, percent as named.  Data flows one way (DEVELOPERS.md):
 *   outlines -> ribs -> { readings, section, field } -> span moments -> stress -> strength of each
 * zone
 *   -> margin and chance -> rules -> verdict, advice, finishing list.
 * Thread-safe: an Assessor belongs to one thread at a time and caches fields of unchanged
 * connectors, so that a moved load or a changed finish costs no solution.  The result is immutable
 * and may be shared. */
#pragma once
#include "assess_waterfall.h"
#include "base/banded.h"
#include "base/phrase.h"
#include "casefile/case.h"
#include "mechanics/field.h"
#include "mechanics/section.h"
#include "outline/form.h"
#include "strength/chance.h"
#include "verdict/verdict.h"
#include "verdict/worklist.h"

typedef enum {
  ASSESS_LIVE, /* every frame while the pen moves: buccal = lingual averaged, no advice */
  ASSESS_REST, /* pen rests: true sides, advice  */
  ASSESS_FINE  /* as at rest, on the fine mesh: the converged answer  */
} AssessGrade;

typedef enum {
  ADVICE_ROUND,
  ADVICE_POLISH,
  ADVICE_LOWER,
  ADVICE_BEST,
  ADVICE_WIDEN,
  ADVICE_LOAD,
  ADVICE_GROOVE,
  ADVICE_N
} AdviceKind;

/* Deeper scratches feel stress that is not known: the field keeps its mean over 0.10 mm, which is
 * what the edge of a scratch of 0.44 mm feels. */
#define SCRATCH_MOST_UM 440.0

/* Every change of shape is solved, and today's shape beside it, with a coarser mesh than the answer
 * (assess_advice.h): the gain is their ratio, each at the moments of its own beam.  All changes at
 * once are solved for the weakest connector alone. */
typedef struct {
  AdviceKind kind;
  size_t connector;
  Phrase act;          /* "Round the roof to {0.2}"                                        */
  Phrase why;          /* "Turn the V into a U, feet stay"                                 */
  Banded gain_percent; /* more load carried                                                */
  double target;       /* new radius, roof height, width, load or 0                        */
  Outline ghost;       /* owned: the changed outline (gingival, or plan); n = 0 if none    */
  int side;            /* Side that the ghost replaces; -1 if none                         */
  FinishState finish[ZONE_NECK_N]; /* after the change                                     */
} Advice;

/* Bending of a neck by the whole bridge in the plane (assess_bridge.h), held against the beam's
 * that all other figures rest on. NaN: not asked for, or it has no answer. */
typedef struct {
  double order_n_mm, trial_n_mm; /* order's load at order_x; trial load where it stands        */
  double differs_percent; /* largest difference over the influence line, as a share of the beam's
                             largest moment there; >= 0 */
  double differs_x;       /* where the load stands for it                                      */
} BridgeMoment;

typedef struct {
  char name[12];  /* "34/35"                                                     */
  Fault fault;    /* why there is no answer, or FAULT_NONE                       */
  Point fault_at; /* where on the elevation                                      */
  Form form;
  Section section; /* neck section                                                */
  ConnectorLimits limits;
  bool sides_averaged;       /* the live answer took buccal = lingual                       */
  double trace_percent;      /* sizes of a line traced on a photo; 0 = not traced, NaN = no scale */
  double roof_doubt_percent; /* standard error of the roof radius as drawn by hand; 0 = exact */
  bool tool_rounded;         /* roof was sharper than the cutter can make: shown as drawn   */
  /* at the order's load, worst place */
  NeckLoad order;   /* the governing pair                                          */
  double order_x;   /* where the load stands for it                                */
  size_t load_case; /* whose it is: 0 the order's load, k the case's load_case[k - 1] */
  BridgeMoment bridge;
  double pin_moment_n_mm; /* same with hinges that do not sink: the safe side            */
  double nominal_mpa;     /* M c / I of the neck section                                 */
  Peak peak;              /* order load                                                  */
  Banded peak_mpa;
  /* at the trial load, where it stands */
  NeckLoad trial;
  Peak trial_peak;
  Banded trial_peak_mpa;
  Banded strength_mpa; /* stress at the hot spot at which 5 of 100 would break        */
  FinishState governing_finish;
  SurfaceFactor finish_from; /* its factor over the card's bars; the source lives as long as this */
  Banded margin;             /* strength / peak at the order's load                         */
  Banded trial_margin;
  Banded carries_n; /* load at which 5 of 100 would break, same places             */
  /* With the scatter of every input.  The order's load is a guess and scatters too; the trial load
   * is what it says.  Service: every bite at the full load (core/strength/service.h). */
  Banded chance_percent; /* one overload at the order's load                            */
  Banded trial_chance_percent;
  Banded service_margin, service_chance_percent; /* after the years of service          */
  Banded trial_service_chance_percent;
  ChanceDriver driver[CHANCE_INPUTS]; /* what the band comes from: n_driver, largest first */
  size_t n_driver;
  /* a deeper half-round scratch at the hot spot would be enough; SCRATCH_MOST_UM = more than that
   */
  Banded scratch_um, service_scratch_um; /* order's load, at once and after the years   */
  Banded trial_scratch_um, trial_service_scratch_um;
  Waterfall waterfall;     /* when asked for */
  double cutter_shortfall; /* mm the cutter stops short of the roof; 0 if it reaches      */
  double bench_multiplier; /* closed-form cross-check of peak / nominal                   */
  Field *field;            /* owned ref; NULL without an answer                           */
  Verdict verdict;
} ConnectorAssessment;

/* Band of a pull of this connector, percent: the calculation's and that of the line. */
double connector_band_percent(const ConnectorAssessment *k, const Peak *peak);

typedef struct {
  Case c; /* owned copy: what was assessed                                */
  size_t n_connector;
  ConnectorAssessment connector[SPAN_MAX_UNITS - 1];
  size_t weakest;   /* index of the connector that goes first                       */
  Verdict verdict;  /* of the bridge                                                */
  Banded carries_n; /* of the weakest                                               */
  double trial_x;   /* where the trial load stands                                  */
  /* moment curve at the trial load */
  size_t n_curve;
  double *curve_x, *curve_moment; /* owned                                                   */
  double span_length;
  double neck_x[SPAN_MAX_UNITS - 1];
  GArray *fired;    /* FiredRule, owned                                             */
  GArray *worklist; /* WorkItem, owned                                              */
  Advice *advice;   /* n_advice, owned: the weakest connector's first, best gain first */
  size_t n_advice;
  Banded together_n;  /* load carried with all shape and finish advices of the weakest kept; NaN if
                         none */
  Facts facts;        /* facts.c points at c                                          */
  Fault fault;        /* of the bridge as a whole                                     */
  Fault bridge_fault; /* why the whole bridge in the plane has no answer */
  Point bridge_fault_at;
  AssessGrade grade;
  double seconds;
  int refs;
} Assessment;

typedef struct Assessor Assessor;
MUST_CHECK Fault assessor_new(Assessor **assessor);
void assessor_free(Assessor *assessor);
/* What was solved so far goes, some 100 MB after many shapes; working memory stays.  For programs
 * that see each case once. */
void assessor_forget(Assessor *assessor);

typedef struct {
  AssessGrade grade;
  VerdictLimits limits;
  int threads;  /* connectors at once; 1 .. 16                                  */
  size_t focus; /* connector whose advice is wanted in full; SIZE_MAX = all     */
  size_t only;  /* connector that is wanted alone, soon: the others are read but not solved,
                   no field and no fault, and the verdict of the bridge is none; SIZE_MAX = all */
  double fine_above_percent; /* ASSESS_FINE: where the band at rest is narrower, that answer stands;
                                0 = all on the fine mesh */
  bool whole_bridge;         /* not live: hold the moments against the whole bridge in the plane */
  bool waterfall; /* of the focus (SIZE_MAX: of all), not live: four more shapes are solved  */
  bool compared;  /* one shape is compared with others like it: solved by the solid where that can,
                     however wide its band */
  bool figures_only; /* nobody will draw: the fields have no sheets */
  bool (*cancelled)(void *data);
  void *cancel_data;
} AssessSettings;
AssessSettings assess_settings_default(void);

/* FAULT_CANCELLED, FAULT_MEMORY or FAULT_NONE; faults of single connectors are inside. */
MUST_CHECK Fault assess(Assessor *assessor, const Case *c, const AssessSettings *settings,
                        Assessment **result);
Assessment *assessment_ref(Assessment *assessment);
void assessment_unref(Assessment *assessment);
/* Reasons of one connector, in order, as phrases (at most room): rules first, then margin. */
size_t assessment_reasons(const Assessment *assessment, size_t connector, Phrase reason[],
                          size_t room);
