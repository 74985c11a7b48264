/* picture_connector.h - one connector in elevation: the sketch that answers.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm and px.  The worker makes the ConnectorInk and the shade; drawing them costs little and
 * changes nothing. Labels never cover the hot spot and never each other: one that finds no place is
 * left out. */
#pragma once
#include "assess_room.h"
#include "casefile/connector_size.h"
#include "ui/drawing/shade.h"
#include "ui/drawing/text.h"
#include "ui/drawing/underlay.h"

/* What is drawn, in this order from the ground up. */
typedef enum {
  LAYER_PAPER = 1 << 0,    /* ground of the drawing                              */
  LAYER_GRID = 1 << 1,     /* 1 mm and 5 mm                                      */
  LAYER_GUM = 1 << 2,      /* tissue: fill, line, engraving                      */
  LAYER_BODY = 1 << 3,     /* material without stress                            */
  LAYER_SHADE = 1 << 4,    /* stress and hatch                                   */
  LAYER_CROSSES = 1 << 5,  /* millimetre crosses on the material                 */
  LAYER_FLOW = 1 << 6,     /* flow of the pull                                   */
  LAYER_ZERO = 1 << 7,     /* where squeeze turns to stretch                     */
  LAYER_ROOM = 1 << 8,     /* largest circle in the embrasure                    */
  LAYER_CUTTER = 1 << 9,   /* cutter as deep as it gets, and what it leaves      */
  LAYER_BRUSH = 1 << 10,   /* the ordered brush in its room                      */
  LAYER_GHOST = 1 << 11,   /* the outline of an advice                           */
  LAYER_OUTLINE = 1 << 12, /* what is drawn, but for the gum-side line            */
  LAYER_COMB = 1 << 13,    /* curvature of the gum-side outline                  */
  LAYER_NECK = 1 << 14,    /* neck plane and height                              */
  LAYER_KNOTS = 1 << 15,
  LAYER_LOUPE = 1 << 16,    /* hot spot, loupe and plate                          */
  LAYER_LABELS = 1 << 17,   /* words beside brush, room, cutter and ghost         */
  LAYER_TITLES = 1 << 18,   /* words in the corners                               */
  LAYER_GUM_LINE = 1 << 19, /* the gum-side line among the outlines             */
  LAYER_ENVELOPE = 1 << 20, /* the room that the embrasure may fill               */
  LAYER_ALL = (1 << 21) - 1,
  LAYER_SIZES = 1 << 21, /* depth, mouth, radius, opening; only where asked for */
  LAYER_SOFT = 1 << 22,  /* grid and words of the soft piece, before firing    */
  LAYER_READING =
      1 << 23,           /* U or V as measured: legs, opening, roof circle; only where asked for */
  LAYER_BEFORE = 1 << 24 /* the gum-side line before its last change; only where asked for */
} ConnectorLayer;

/* What the small pictures say of a face whose sheet the plane answer does not have. */
#define UNSHADED_WORDS N_("plane: no stress here")

/* What is derived from the field for one load: values, zero line, flow lines. Immutable. */
#define KEEP_FREE 4 /* things that a window may lay over the drawing */

typedef struct {
  Shaded *shaded; /* elevation; owned */
  LineSet zero, flow;
} ConnectorInk;

/* FAULT_DEGENERATE when the connector has no answer.
 *   at_order  in  the order's load instead of the trial load */
MUST_CHECK Fault connector_ink_new(const Assessment *a, size_t connector, bool at_order,
                                   ConnectorInk **ink);
void connector_ink_free(ConnectorInk *ink); /* accepts NULL */

typedef struct {
  const Assessment *a;
  size_t connector;
  bool at_order;   /* which load the shade and the figures belong to                       */
  bool late;       /* the answer is older than the outlines: shade at half strength        */
  View view;       /* connector_view() or the canvas's own                                 */
  unsigned layers; /* ConnectorLayer flags                                                 */
  const ConnectorInk *ink; /* NULL: made for this call                                            */
  cairo_surface_t *shade; /* shade_surface() of this view; NULL: rastered for this call           */
  const Connector *drawn; /* outlines to show; NULL: those of the assessment                      */
  const Advice *advice;   /* whose ghost is shown; NULL: none                                     */
  const Outline *before;  /* the gum-side line before its last change; NULL: none                 */
  const char *before_step; /* msgid of that change; NULL: not said                                */
  const Room *room;   /* its envelope is shown; NULL: none                                    */
  size_t chosen_knot; /* of the gum-side outline; SIZE_MAX: none                              */
  bool every_knot;    /* also those close together: somebody is about to take one             */
  Box *size_box; /* SIZE_KINDS of them, cleared; where the labels of sizes came to stand; or NULL */
  Places *taken; /* where words and loupe came to stand; or NULL                            */
  const Underlay *underlay; /* a photo below grid and body; NULL: none                            */
  double underlay_opacity;  /* 0 .. 1                                                             */
  Box keep_free[KEEP_FREE]; /* where the window lays something over it; 0 x 0: nowhere            */
} ConnectorPicture;

/* All layers, trial load, no advice; the view fits the whole height. */
ConnectorPicture connector_picture(const Assessment *a, size_t connector, int width, int height,
                                   const DrawContext *context);
/* Neck in the middle, crowns below the title, the tissue line 78 px above the bottom. */
View connector_view(const Assessment *a, size_t connector, int width, int height,
                    const DrawContext *context);
/* The same with another space below the tissue line, screen px: the window's tool row lies there.
 */
View connector_view_above(const Assessment *a, size_t connector, int width, int height,
                          double below_px, const DrawContext *context);
const char *form_word(FormKind kind); /* msgid: "U shape" */
/* The ordered cutter as deep as it gets, mm; false when there is nothing to show. */
bool connector_cutter(const Assessment *a, size_t connector, Point *centre, double *radius);
/* What stands beside the cutter, and beside room and brush; into buf[TEXT_ROOM], returned. */
char *connector_cutter_words(const DrawContext *context, const ConnectorPicture *picture,
                             char *buf);
char *connector_brush_words(const DrawContext *context, const ConnectorPicture *picture, char *buf);
/* Strokes the path that is set as what could be: dashed, on a halo of paper. */
void draw_ghost_line(cairo_t *cr, const DrawContext *context);
/* Stress at step 6 of the scale: the strength at the hot spot, or the peak where no strength is
 * known; NaN without either. */
double connector_limit(const ConnectorAssessment *connector, bool at_order);
void picture_connector(cairo_t *cr, int width, int height, const DrawContext *context,
                       const ConnectorPicture *picture);
