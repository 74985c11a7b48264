/* shade_job.h - the shade of the drawing or of the strip, made in a thread: the latest request
 * wins. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * While a hand draws or moves the view the whole drawing is made there too, so that no frame waits
 * for it.  Requested and delivered on the thread that made the job (its main context). */
#pragma once
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/picture_span.h"

typedef struct {
  Assessment *a;     /* owned ref                                           */
  bool whole_bridge; /* the strip: view is not used                         */
  size_t connector;
  int width, height; /* px                                                  */
  View view;
  Palette palette;
  double scale, resolution;
  Connector *drawn; /* the whole drawing is wanted, with these outlines; NULL = the shade   */
  ConnectorPicture picture; /* what it shows, without advice                                      */
  DrawContext context; /* for it; its font is copied                                          */
  Room room;           /* the request's own, where has_room                                   */
  bool has_room;
  Outline before; /* the request's own: the line before its last change; n = 0: none */
  char font[64];
} ShadeRequest;
/* The outlines that a request takes with it: shade_job_request owns them.  NULL without memory. */
Connector *shade_outlines_new(const Connector *from);

typedef struct {
  ShadeRequest request;
  ConnectorInk *ink;        /* owned; NULL without an answer or for the strip */
  cairo_surface_t *shade;   /* owned; NULL without an answer                  */
  cairo_surface_t *drawing; /* owned; NULL when not asked for */
  Fault fault;              /* strip: why the shade is the one before, or bare */
  Point fault_at;           /* along the span; NaN: nowhere in particular     */
  bool old;                 /* strip: the shade is the one before             */
} ShadeAnswer;
void shade_answer_free(ShadeAnswer *answer); /* accepts NULL */

typedef void (*ShadeDeliver)(ShadeAnswer *answer, void *data); /* takes the answer */

typedef struct ShadeJob ShadeJob;
ShadeJob *shade_job_new(ShadeDeliver deliver, void *data);
void shade_job_free(ShadeJob *job); /* joins; nothing is delivered after; accepts NULL */
/* Another case: the whole bridge of before is of no use any more. */
void shade_job_forget(ShadeJob *job);
/* Takes its own reference of the assessment, and the outlines. */
void shade_job_request(ShadeJob *job, const ShadeRequest *request);
