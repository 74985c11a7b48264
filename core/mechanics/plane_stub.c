/* plane_stub.c - temporary. */
#include "mechanics/plane.h"
Fault plane_work_new(PlaneWork **work) { *work = (PlaneWork *)0; return FAULT_NONE; }
void plane_work_free(PlaneWork *work) { (void)work; }
Fault plane_silhouette(PlaneWork *w, const Outline *s, double t, const PlaneSettings *st, Field **f, PlaneReading *r, Point *p) { (void)w;(void)s;(void)t;(void)st;(void)f;(void)r;(void)p; return FAULT_MESH; }
Fault plane_connector(PlaneWork *w, const LoftInput *i, const PlaneSettings *st, Field **f, PlaneReading *r, Point *p) { (void)w;(void)i;(void)st;(void)f;(void)r;(void)p; return FAULT_MESH; }
