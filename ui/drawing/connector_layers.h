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
void draw_ground(const ConnectorSheet *sheet); /* paper, grid, tissue */
/* What lies over a photo lets it through. */
void draw_over_photo(const ConnectorSheet *sheet, void (*draw)(const ConnectorSheet *sheet));
void draw_material(const ConnectorSheet *sheet); /* body, shade, crosses, flow, zero */
void draw_outlines(const ConnectorSheet *sheet);
void draw_ghost(const ConnectorSheet *sheet);
void draw_comb(const ConnectorSheet *sheet);
void draw_knots(const ConnectorSheet *sheet);
/* connector_loupe.c: ring, loupe and plate, where they find room */
void draw_hot_spot(const ConnectorSheet *sheet, Places *places);
/* connector_sizes.c: depth, mouth, radius, opening */
void draw_sizes(const ConnectorSheet *sheet, Places *places);
/* connector_labels.c: neck, loupe, plates, words */
void draw_words(const ConnectorSheet *sheet);
/* picture_connector.c: middle (px) and radius (px) of the gauges in the embrasure; false when there
 * is nothing to show. */
bool gauge_cutter(const ConnectorSheet *sheet, Point *centre, double *radius);
bool gauge_brush(const ConnectorSheet *sheet, Point *centre, double *radius);
/* How much larger than fired the shown sizes are: 1 but in the drawing of the soft piece. */
double soft_enlargement(const ConnectorSheet *sheet);
bool gauge_room(const ConnectorSheet *sheet, Point *centre, double *radius);
