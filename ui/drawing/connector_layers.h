/* connector_layers.h - the parts of picture_connector: ground and material here, gauges and words
 * beside it. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/drawing/picture_connector.h"

#define COMB_ALPHA 0.62 /* of the accent, on paper; in full with high contrast */

typedef struct {
  cairo_t *cr;
  int width, height;
  const DrawContext *context;
  const ConnectorPicture *picture;
  const ConnectorAssessment *answer;
  const Connector *drawn;
  const ConnectorInk *ink; /* NULL without an answer */
  const Peak *peak;        /* NULL without an answer */
  Banded peak_mpa;
  double limit_mpa;
  View view;
} ConnectorSheet;

static inline bool layer(const ConnectorSheet *s, ConnectorLayer which)
{
  return (s->picture->layers & (unsigned)which) != 0;
}

/* connector_body.c */
void draw_ground(const ConnectorSheet *sheet);   /* paper, grid, tissue */
void draw_material(const ConnectorSheet *sheet); /* body, shade, crosses, flow, zero; lets a photo
                                                    through and ends softly on it */
void draw_outlines(const ConnectorSheet *sheet);
void draw_ghost(const ConnectorSheet *sheet);
/* connector_before.c: thin short strokes, not to be mixed up with the ghost's long ones */
void draw_before(const ConnectorSheet *sheet);
void draw_before_label(const ConnectorSheet *sheet, Places *places);
void draw_comb(const ConnectorSheet *sheet);
void draw_knots(const ConnectorSheet *sheet);
/* connector_loupe.c: ring, loupe and plate, where they find room */
void draw_hot_spot(const ConnectorSheet *sheet, Places *places);
/* connector_sizes.c: depth, mouth, radius, opening */
void draw_sizes(const ConnectorSheet *sheet, Places *places);
void draw_opening(const ConnectorSheet *sheet, Places *places);
/* connector_reading.c: legs, roof circle and the word for the form */
void draw_reading(const ConnectorSheet *sheet, Places *places);
/* connector_labels.c: places_find, but first among those that do not lie on the gum-side line. */
int places_find_off_line(const ConnectorSheet *sheet, Places *places, const Box candidate[],
                         size_t n);
/* connector_labels.c: neck, loupe, plates, words */
/* Where `other` lies furthest from `outline`, mm, among its places up to GHOST_REACH_MM to one side
 * of the neck (-1 left, 1 right). */
Point outline_widest(const Outline *other, const Outline *outline, double neck_x, int side);
#define GHOST_TAKEN_MM 0.01 /* nearer, two outlines are one */
void draw_words(const ConnectorSheet *sheet);
/* picture_connector.c: middle (px) and radius (px) of the gauges in the embrasure; false when there
 * is nothing to show. */
bool gauge_cutter(const ConnectorSheet *sheet, Point *centre, double *radius);
bool gauge_brush(const ConnectorSheet *sheet, Point *centre, double *radius);
/* How much larger than fired the shown sizes are: 1 but in the drawing of the soft piece. */
double soft_enlargement(const ConnectorSheet *sheet);
bool gauge_room(const ConnectorSheet *sheet, Point *centre, double *radius);
