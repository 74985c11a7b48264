/* case.h - everything a case holds, as plain data.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N; sizes are final sizes (after firing).  Units stand in the order of the elevation from
 * small to large x. Each connector has a frame of its own: x = 0 neck plane, y = 0 tissue line, y
 * up, z buccal +. NaN = a number not recorded; 0-valued enums = not recorded.  No patient name
 * anywhere: a case number only. Strings are UTF-8, owned, never NULL ("" when empty). */
#pragma once
#include "mechanics/plane_bridge.h"
#include "mechanics/span.h"
#include "outline/form.h"
#include "outline/outline.h"
#include "outline/photo_plane.h"
#include "outline/shape.h"
#include "strength/finish.h"
#include "strength/material.h"
#include "strength/service.h"
#include "strength/surface.h"
#include "strength/treatment.h"
#include <glib.h>

typedef enum { ROLE_ABUTMENT, ROLE_IMPLANT, ROLE_PONTIC, ROLE_HANGING, ROLE_N } UnitRole;
typedef enum { SUPPORT_MID, SUPPORT_SOFT, SUPPORT_STIFF, SUPPORT_OWN } SupportKind;
typedef enum { SIDE_GINGIVAL, SIDE_OCCLUSAL, SIDE_BUCCAL, SIDE_LINGUAL, SIDE_N } Side;

/* The thirteen steps of the job (trade checklist); a case stands before or in one of them. */
typedef enum {
  STEP_INTAKE = 1,
  STEP_DRAWING,
  STEP_CUTTING_PLAN,
  STEP_SOFT,
  STEP_FIRING,
  STEP_FITTING,
  STEP_ADJUSTING,
  STEP_FINISHING,
  STEP_COAT,
  STEP_LAST_LOOK,
  STEP_SIGNING,
  STEP_HANDOVER,
  STEP_BROKEN,
  STEP_END
} JobStep;

typedef enum { ANSWER_UNKNOWN, ANSWER_NO, ANSWER_YES } YesNo;
typedef enum { CHECK_UNKNOWN, CHECK_CLEAN, CHECK_LINE } CheckResult; /* dye, light */
typedef enum { FIT_UNKNOWN, FIT_PASSIVE, FIT_ROCKS } FitResult;
typedef enum { SADDLE_UNKNOWN, SADDLE_OVAL, SADDLE_FLAT, SADDLE_HOLLOW } SaddleShape;

typedef struct {
  int tooth; /* ISO 3950: 11-18 21-28 31-38 41-48                        */
  UnitRole role;
  double length, width, height; /* along the arch, cheek to tongue, crown height    */
  SupportKind support;          /* abutments and implants                                    */
  SpanSpring own;               /* when SUPPORT_OWN                                          */
  FinishState saddle;           /* pontics                                                   */
  SaddleShape saddle_shape;
} Unit;

/* Something that happened to a connector: a knife cut while it was soft, the others after firing.
 */
typedef enum {
  EVENT_DISC,
  EVENT_GROUND,
  EVENT_BLASTED,
  EVENT_HEAT,
  EVENT_CUT,
  EVENT_GLAZE
} EventKind;
typedef struct {
  EventKind kind;
  double at_x, depth, edge_radius; /* disc, cut: place on the gum side, mm; NaN if unknown        */
  YesNo water;
  unsigned zone; /* FinishZone + 1; 0 = not recorded: where at_x lies, else the whole gum side */
  YesNo removed; /* worked out since: ground past its bottom and polished                  */
} SurfaceEvent;
#define SURFACE_EVENT_NONE ((SurfaceEvent){.at_x = NAN, .depth = NAN, .edge_radius = NAN})

/* Steps of polishing that were done, coarse to fine: bit 1u << step. */
typedef enum { POLISH_COARSE, POLISH_MIDDLE, POLISH_FINE, POLISH_GLOSS, POLISH_STEP_N } PolishStep;

/* A photo below the drawing, casefile/photo.h. */
typedef struct {
  char *file;       /* path beside the case file, never absolute; "" = none                    */
  char *sha256;     /* of its bytes, 64 hex digits                                             */
  GBytes *inside;   /* owned ref: the file itself, kept inside of the case; NULL: beside it    */
  PhotoPlane plane; /* width 0 = none, traced or not; marks and scale stay when the file goes */
  double opacity;   /* 0 .. 1                                                                  */
  YesNo locked;
  YesNo traced; /* the gum-side outline was drawn on it: its scale is the outline's        */
} Photo;

typedef struct Variant Variant;

typedef struct {
  Outline side[SIDE_N]; /* owned; always present after case_complete()                           */
  bool drawn[SIDE_N];   /* false: proposed by Soffit from the sizes below                        */
  double roof_doubt_percent; /* standard error of the roof radius as the pen drew it, of the radius;
                                NaN = exact: typed or proposed (drawn.h) */
  double neck_width; /* wanted width at the neck, for proposed plan outlines                  */
  double groove_y, groove_radius, groove_open_deg; /* wanted biting groove, for a proposed one */
  double plan_radius; /* NaN: chosen so that the ribs do not fold                              */
  double roundness_neck, roundness_body; /* 2, 4 */
  Outline section; /* owned: drawn neck section (mechanics/drawn_section.h); n = 0: by roundness */
  Outline approved[SIDE_N]; /* owned; as the supervisor saw them, n = 0 if never          */
  Outline approved_section; /* owned; the drawn section seen with them, n = 0: by roundness */
  double approved_roundness_neck, approved_roundness_body; /* NaN if never                */
  Outline room;       /* owned; drawn by hand: what the embrasure may fill, n = 0 if not */
  GPtrArray *variant; /* Variant (variant.h), owned: pinned to be compared with          */
  FinishState finish[ZONE_NECK_N];
  unsigned polish_steps; /* set of PolishStep, 0 = not recorded                           */
  GArray *event;         /* SurfaceEvent, owned                                                   */
  double cut_back;       /* depth taken off the cheek side for build-up, NaN                */
  double wall;           /* thinnest crown wall beside the neck, NaN                        */
  double pin_distance;   /* holding pin to the neck, NaN                                    */
  YesNo weaker_layer;    /* the neck lies in the weaker layer of a layered blank            */
  YesNo brush_passes;    /* the ordered brush, after the coat                               */
  double measured_height; /* calliper after firing, NaN */
  double soft_height; /* calliper before firing, NaN                                           */
  double papilla;     /* height of the papilla tip above the feet, NaN = flat tissue           */
  CheckResult dye, light;
  Photo photo;
  long file_line; /* where it stood in its file, for messages; 0 = in none; not compared     */
} Connector;

typedef struct { /* one load pressed on the biting edge                                   */
  double x;      /* along the span; NaN = worst place                                     */
  double force_n;
} CaseLoad;

typedef struct { /* a tooth that a bite presses on                                       */
  int tooth;
  double share; /* > 0: its part of the whole                                            */
} BiteShare;
typedef struct {      /* a bite of the order's load that the bridge is judged by, load_case.h     */
  double x;           /* along the span; NaN = worst place, or the teeth below                 */
  double incline_deg; /* from the axis of the tooth; > 0 towards the cheek, < 0 the tongue      */
  BiteShare on[SPAN_MAX_UNITS]; /* pressed together, each on the middle of its biting face     */
  size_t n_on;
} LoadCase;

typedef struct { /* a tick on the finishing list                                          */
  char *step;    /* stable id of the list step                                            */
  char *initials;
  char *time; /* ISO 8601                                                              */
} Tick;

/* What an entry of the history tells. */
typedef enum {
  ENTRY_NOTE, /* free words, all that old files have */
  ENTRY_CHANGE,
  ENTRY_SENT, /* to the supervisor */
  ENTRY_PASS,
  ENTRY_RETURN,
  ENTRY_WAIT, /* left waiting, with a reason */
  ENTRY_TAKEN_OVER,
  ENTRY_MERGE,
  ENTRY_KINDS
} EntryKind;

/* Append-only; chained and signed by record/chain.h.  "" where an old file has nothing. */
typedef struct {
  EntryKind kind;
  char *time; /* ISO 8601 in UTC, "2026-03-02T10:20:00Z"; old files: free words, "day 1" */
  char *role, *initials, *name;
  char *text;           /* what happened, the remark, the reason */
  char *before, *after; /* in words, where something changed */
  char *content;        /* digest of the case as it stood (record/digest.h), 64 hex digits */
  char *limits;         /* decisions: the thresholds they were taken by, "1.00 1.25" */
  char *chain; /* SHA-256 over this entry and the chain before it, 64 hex digits; "" = from before
                  the record was chained */
  char *key;   /* of the signer, 16 hex digits; "" = unsigned */
  char *signature; /* Ed25519 over `chain`, base64 */
} HistoryEntry;
const char *entry_kind_id(EntryKind kind);   /* "pass": file, chain and JSON */
const char *entry_kind_name(EntryKind kind); /* English msgid, "passed" */
/* What a file keeps of a text: valid UTF-8, and spaces for characters that XML cannot hold; owned.
 */
char *text_kept(const char *text);
HistoryEntry *history_entry_new(void); /* every text "" */
void history_entry_free(gpointer entry);

/* Words pinned to a place of the sketch. */
typedef struct {
  size_t connector; /* SIZE_MAX: of the bridge                                         */
  Point at;         /* on its elevation, mm; NaN: no place                             */
  char *time, *role, *initials, *text;
  YesNo settled; /* by the technician, in words of the history                      */
} Remark;
Remark *remark_new(void);
void remark_free(gpointer remark);

/* What a break began on. */
typedef enum {
  ORIGIN_UNKNOWN,
  ORIGIN_SCRATCH, /* grinding or milling mark */
  ORIGIN_DISC,    /* cut of a disc            */
  ORIGIN_PORE,    /* pore, inclusion, layer border */
  ORIGIN_CONTACT, /* worn or chipped by chewing */
  ORIGIN_FIRING,  /* crack that came with firing */
  ORIGIN_COAT,    /* began in glaze or build-up */
  ORIGIN_OTHER,
  ORIGIN_KINDS
} OriginKind;

typedef struct {      /* where a break began                                           */
  unsigned zone;      /* FinishZone + 1, 0 = not recorded                              */
  size_t connector;   /* SIZE_MAX = not recorded                                       */
  double at_x, depth; /* mm, depth of the flaw; NaN                                    */
  double at_y;        /* mm above the tissue line, NaN                                 */
  OriginKind kind;
  double load_n; /* N at which it broke, where that is known; NaN                 */
  double years;  /* in service, NaN                                               */
  char *seen;    /* what the broken faces show                                    */
  char *photo;   /* path beside the case file, never absolute                     */
} BreakOrigin;

typedef struct {
  char *number;      /* "QB-02"                                                               */
  char *title;       /* a line of free words                                                  */
  Material material; /* a copy: the case keeps what it was judged with                        */
  char *blank_batch;
  Unit unit[SPAN_MAX_UNITS];
  size_t n_unit;
  Connector connector[SPAN_MAX_UNITS - 1]; /* n_unit - 1 of them: i joins unit i and i + 1 */
  double order_load_n; /* design load, swept along the biting edge                              */
  CaseLoad trial;      /* where the picture's load stands                                       */
  LoadCase load_case[SPAN_LOAD_CASES];
  size_t n_load_case; /* besides the order's load straight down                                */
  Service service;    /* what the bridge is to go through; NaN = not said, see case_service()  */
  double enlargement, cutter_diameter, brush_mm; /* brush: passage hole diameter ISO 16409 */
  double enlargement_label; /* as read from the label of the blank, NaN                        */
  double free_height; /* tissue to the highest possible biting groove, NaN                     */
  double arch_bow; /* largest distance of a pontic middle from its abutment line: the bridge stands
                      on an arc; NaN = straight                                             */
  YesNo grinding_habit, soft_handled;
  JobStep step; /* where the work stands                                                 */
  FinishState inside, edges, biting_face;
  FitResult fit;
  char *firing_record;
  double firings, firings_limit, planned_span, fired_span; /* NaN */
  YesNo fast_firing;
  double thickest, thickest_fast; /* thickest place; what the maker allows for fast firing; NaN */
  char *dentist_note;             /* what the dentist was told: grinding, polish, brush         */
  BreakOrigin origin;
  GPtrArray *tick;    /* Tick                                                                  */
  GPtrArray *history; /* HistoryEntry                                                          */
  GPtrArray *remark;  /* Remark, in the order they were pinned                                 */
  char *author, *approver; /* role ids */
} Case;

#define ROOF_DOUBT_MOST 1000.0 /* percent; nothing is known of the radius long before */
#define UNIT_SIZE_MIN_MM 1.0
#define UNIT_SIZE_MAX_MM 30.0
#define CASE_LOAD_MAX_N 10000.0

void case_init(Case *c); /* an empty case with defaults */
/* With the habits of the trade (service.h) in place of what is not said. */
Service case_service(const Case *c);
void case_clear(Case *c);
MUST_CHECK Fault case_copy(Case *to, const Case *from); /* deep; `to` inited, replaced */
/* All that a file keeps; proposed outlines follow from it and are not compared. */
bool case_equal(const Case *a, const Case *b);
/* The same but for the trial load, the break, ticks and history: all that readings, beam and the
 * answer at the order's load rest on.  connector: the only one to compare, SIZE_MAX = all. */
bool case_alike(const Case *a, const Case *b, size_t connector);
/* What a file must meet to be opened: number of units, teeth, their order, sizes.  On false *unit
 * is the index of the unit at fault (SIZE_MAX: the bridge) and *reason a static English msgid: what
 * is wrong, what to do. */
bool case_check_units(const Case *c, size_t *unit, const char **reason);
/* Sizes, teeth, order of units, loads, roles, outlines (crossing, no neck); *place = what is wrong
 * ("unit 3", "34/35 gingival"), a plain sentence in *reason (static English msgid). */
bool case_check(const Case *c, char place[32], const char **reason);
/* Fills every outline that is not drawn (shape.h) from the sizes of the units, and every wanted
 * size that is NaN but plan_radius. */
MUST_CHECK Fault case_complete(Case *c);
/* The same for one connector; on a fault *side names the outline that cannot be proposed, the
 * others stand. */
MUST_CHECK Fault connector_complete(Case *c, size_t connector, Side *side);
Neighbours case_neighbours(const Case *c, size_t connector);
/* The beam of the case.  form: the readings of its n_unit - 1 connectors. */
MUST_CHECK Fault case_span_input(const Case *c, const Form form[], SpanInput *input);
/* 1 / radius of the arch it stands on, from the recorded bow; FAULT_RANGE beyond a half circle. */
MUST_CHECK Fault case_turn(const Case *c, double *turn_1_mm);
/* The springs of its supports, those of middle hold taken as `mid`. */
void case_span_supports(const Case *c, SupportKind mid, SpanInput *input);
/* One neck of it, from the outlines as they are or as they would be. */
MUST_CHECK Fault case_span_neck(const Case *c, size_t connector, const Outline *gingival,
                                const Outline *occlusal, const Form *form, SpanNeck *neck);
/* What a unit stands on, the same for the beam and the flat body: fills the supports alone. */
void case_support(const Unit *unit, SpanUnit *beam);
/* The same bridge as one flat body, on the supports of its beam.  Outlines are borrowed from the
 * case.  Cheap: a digest is taken of it for every load. */
MUST_CHECK Fault case_bridge_input(const Case *c, const Form form[], BridgeInput *input);
SpanSpring support_spring(SupportKind kind, UnitRole role); /* core/SOURCES.md "supports" */

/* Keeps the outlines, sections and roundness of all connectors as those that the supervisor has
 * seen. */
MUST_CHECK Fault case_approve(Case *c);
/* How far any outline, the section of the neck or the rounding of the bodies has gone from the
 * approved one, mm; NaN if none was approved.  Stops looking beyond enough_mm. */
double connector_changed(const Connector *connector, double enough_mm);
/* The largest distance of points of either outline to the other, mm; NaN without memory.  Stops
 * looking beyond enough_mm. */
double outlines_apart(const Outline *now, const Outline *seen, double enough_mm);

/* Radius of the sharpest roof that the cutter makes, final size; NaN when not said. */
double case_cutter_radius(const Case *c);

/* How far up the deepest disc mark of the gum side reaches, mm above the feet: the deeper of what
 * is drawn and what the gauge read; NaN without a mark. */
double connector_mark_bottom(const Connector *connector);

/* The finish as it is now: what was recorded, and what events after firing that were not worked out
 * since have made of it.  An event never makes a surface better. */
void connector_finish_now(const Connector *connector, FinishState now[ZONE_NECK_N]);
/* These states with the disc marks that are recorded on them: how deep beyond what is drawn. */
void connector_surfaces(const Connector *connector, const FinishState state[ZONE_NECK_N],
                        ZoneSurface surface[ZONE_NECK_N]);
void connector_surfaces_now(const Connector *connector, ZoneSurface surface[ZONE_NECK_N]);
/* Depth of a mark of a zone beyond the cut that is drawn at its place, mm; NaN: none, not known. */
double surface_event_undrawn(const Connector *connector, const SurfaceEvent *event,
                             FinishZone zone);
/* Whether an event touched a zone of the neck. */
bool surface_event_touches(const Connector *connector, const SurfaceEvent *event, FinishZone zone);
/* False for a knife cut, which belongs to the soft piece. */
bool surface_event_treatment(const SurfaceEvent *event, Treatment *treatment, bool *dry);

/* The drawn section of the neck; NULL: by roundness. */
const Outline *connector_section(const Connector *connector);

void connector_init(Connector *connector);
void connector_clear(Connector *connector);
/* Whether a place of the elevation lies on the sketch of the connector, half a unit to each side
 * and a crown high; y NaN: whether x does. */
bool connector_on_sketch(const Case *c, size_t connector, double x, double y);
/* The record of the break: its place, its photo.  *reason: static English msgid. */
bool origin_check(const Case *c, const char **reason);
bool photo_beside(const char *photo);          /* a path beside the file, never out of its folder */
const char *origin_kind_name(OriginKind kind); /* English msgid */
const char *origin_kind_id(OriginKind kind);   /* "scratch"; "" when not recorded */

MUST_CHECK Fault connector_copy(Connector *to, const Connector *from);
/* "34/35" for people, "34-35" with sep '-' for JSON and files. */
void connector_name(const Case *c, size_t connector, char sep, char name[12]);
/* The connector that a person calls "34/35" or "34-35"; SIZE_MAX when the case has none. */
size_t connector_named(const Case *c, const char *name);

bool tooth_valid(int tooth);
bool tooth_upper(int tooth);
bool tooth_is_molar(int tooth);
bool tooth_is_front(int tooth);
/* true when going from unit i to i + 1 leads away from the midline (distal is right). */
bool connector_distal_right(const Case *c, size_t connector);
/* Mean crown sizes, core/SOURCES.md "teeth". */
MUST_CHECK Fault tooth_mean_size(int tooth, double *length, double *width, double *height);
