/* path.c - SVG path data in and out.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Grammar and elliptical arcs: W3C SVG 1.1 (second edition), chapter 8 and appendix F.6.  Numbers are read without the
 * locale; one subpath. */
#include "outline/outline.h"
#include <float.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define ARC_STEP 0.5235987755982988 /* 30 degrees a cubic */
#define LARGEST 1e6                 /* coordinates beyond this are no drawing */

typedef struct {
  const char *start, *p;
  bool bad;
} Reader;

static void skip(Reader *r)
{
  while (*r->p == ' ' || *r->p == '\t' || *r->p == '\n' || *r->p == '\r' || *r->p == '\f' || *r->p == ',')
    r->p++;
}

static bool digit(char c)
{
  return c >= '0' && c <= '9';
}

/* True when a number can start here. */
static bool number_ahead(Reader *r)
{
  skip(r);
  const char *p = r->p;
  p += *p == '+' || *p == '-';
  return digit(*p) || (*p == '.' && digit(p[1]));
}

static double number(Reader *r)
{
  if (r->bad || !number_ahead(r)) {
    r->bad = true;
    return 0;
  }
  double sign = 1, value = 0, scale = 1;
  if (*r->p == '+' || *r->p == '-')
    sign = *r->p++ == '-' ? -1 : 1;
  for (; digit(*r->p); r->p++)
    value = value * 10 + (*r->p - '0');
  if (*r->p == '.')
    for (r->p++; digit(*r->p); r->p++) {
      value = value * 10 + (*r->p - '0');
      scale *= 10;
    }
  const char *e = r->p;
  int exponent = 0;
  if (*e == 'e' || *e == 'E') {
    int direction = 1;
    e++;
    if (*e == '+' || *e == '-')
      direction = *e++ == '-' ? -1 : 1;
    if (digit(*e)) {
      for (; digit(*e); e++)
        if (exponent < 1000)
          exponent = exponent * 10 + (*e - '0');
      exponent *= direction;
      r->p = e;
    }
  }
  /* one division: digits and power of ten are exact in the usual range, so is then the nearest double */
  double result = sign * (scale < DBL_MAX ? value / scale : 0);
  if (exponent)
    result *= pow(10, exponent);
  if (!isfinite(result) || fabs(result) > LARGEST) {
    r->bad = true;
    return 0;
  }
  return result;
}

static double flag(Reader *r)
{
  skip(r);
  if (r->bad || (*r->p != '0' && *r->p != '1')) {
    r->bad = true;
    return 0;
  }
  return *r->p++ - '0';
}

/* An elliptical arc in endpoint form as cubics of at most 30 degrees. */
static Fault arc_to(Outline *outline, Point from, double rx, double ry, double turn_deg, bool large, bool sweep, Point to)
{
  rx = fabs(rx), ry = fabs(ry);
  if (point_distance(from, to) == 0)
    return FAULT_NONE;
  if (rx == 0 || ry == 0)
    return outline_line_to(outline, to);
  double a = turn_deg * acos(-1.0) / 180, ca = cos(a), sa = sin(a);
  double hx = (from.x - to.x) / 2, hy = (from.y - to.y) / 2;
  double x1 = ca * hx + sa * hy, y1 = -sa * hx + ca * hy;
  double over = x1 * x1 / (rx * rx) + y1 * y1 / (ry * ry);
  if (over > 1) { /* too small to reach: scaled up until it just does */
    rx *= sqrt(over);
    ry *= sqrt(over);
    over = 1;
  }
  double k = (large == sweep ? -1 : 1) * sqrt(fmax(0, 1 / over - 1));
  double cx1 = k * rx * y1 / ry, cy1 = -k * ry * x1 / rx;
  double cx = ca * cx1 - sa * cy1 + (from.x + to.x) / 2, cy = sa * cx1 + ca * cy1 + (from.y + to.y) / 2;
  double t0 = atan2((y1 - cy1) / ry, (x1 - cx1) / rx), t1 = atan2((-y1 - cy1) / ry, (-x1 - cx1) / rx), sweep_angle = t1 - t0;
  if (sweep && sweep_angle < 0)
    sweep_angle += 2 * acos(-1.0);
  if (!sweep && sweep_angle > 0)
    sweep_angle -= 2 * acos(-1.0);
  int n = (int)ceil(fabs(sweep_angle) / ARC_STEP - 1e-9);
  n = n < 1 ? 1 : n;
  double step = sweep_angle / n, h = 4.0 / 3 * tan(step / 4);
  for (int i = 0; i < n; i++) {
    double u = t0 + i * step, v = u + step;
    Point unit[3] = {{cos(u) - h * sin(u), sin(u) + h * cos(u)}, {cos(v) + h * sin(v), sin(v) - h * cos(v)}, {cos(v), sin(v)}}, at[3];
    for (int m = 0; m < 3; m++) {
      double ex = rx * unit[m].x, ey = ry * unit[m].y;
      at[m] = point(cx + ca * ex - sa * ey, cy + sa * ex + ca * ey);
    }
    Fault fault = outline_curve_to(outline, at[0], at[1], i == n - 1 ? to : at[2]);
    if (fault)
      return fault;
  }
  return FAULT_NONE;
}

typedef struct {
  Outline *outline;
  Point at, control; /* pen, last control point for S and T */
  char before;       /* command before, upper case          */
} Pen;

static Point pair(Reader *r, const Pen *pen, bool relative)
{
  double x = number(r), y = number(r);
  return relative ? point_add(pen->at, point(x, y)) : point(x, y);
}

static Point reflected(const Pen *pen, char one, char other)
{
  return pen->before == one || pen->before == other ? point_sub(point_scale(pen->at, 2), pen->control) : pen->at;
}

/* Zero-length pieces say nothing and are left out. */
static Fault line(Pen *pen, Point to)
{
  Fault fault = point_distance(pen->at, to) > 0 ? outline_line_to(pen->outline, to) : FAULT_NONE;
  pen->at = pen->control = to;
  return fault;
}

static Fault curve(Pen *pen, Point c1, Point c2, Point to, Point control)
{
  bool nothing = point_distance(pen->at, to) == 0 && point_distance(pen->at, c1) == 0 && point_distance(pen->at, c2) == 0;
  Fault fault = nothing ? FAULT_NONE : outline_curve_to(pen->outline, c1, c2, to);
  pen->at = to;
  pen->control = control;
  return fault;
}

static Fault quadratic(Pen *pen, Point c, Point to)
{
  return curve(pen, point_mix(pen->at, c, 2.0 / 3), point_mix(to, c, 2.0 / 3), to, c);
}

/* One set of arguments of a command that is not M or Z. */
static Fault segment(Reader *r, Pen *pen, char command, bool relative)
{
  Point c1, c2, to;
  double rx, ry, turn;
  bool large, sweep;
  switch (command) {
  case 'L':
    to = pair(r, pen, relative);
    return r->bad ? FAULT_RANGE : line(pen, to);
  case 'H':
    to = point(number(r) + (relative ? pen->at.x : 0), pen->at.y);
    return r->bad ? FAULT_RANGE : line(pen, to);
  case 'V':
    to = point(pen->at.x, number(r) + (relative ? pen->at.y : 0));
    return r->bad ? FAULT_RANGE : line(pen, to);
  case 'C':
    c1 = pair(r, pen, relative), c2 = pair(r, pen, relative), to = pair(r, pen, relative);
    return r->bad ? FAULT_RANGE : curve(pen, c1, c2, to, c2);
  case 'S':
    c1 = reflected(pen, 'C', 'S'), c2 = pair(r, pen, relative), to = pair(r, pen, relative);
    return r->bad ? FAULT_RANGE : curve(pen, c1, c2, to, c2);
  case 'Q':
    c1 = pair(r, pen, relative), to = pair(r, pen, relative);
    return r->bad ? FAULT_RANGE : quadratic(pen, c1, to);
  case 'T':
    c1 = reflected(pen, 'Q', 'T'), to = pair(r, pen, relative);
    return r->bad ? FAULT_RANGE : quadratic(pen, c1, to);
  case 'A': {
    rx = number(r), ry = number(r), turn = number(r);
    large = flag(r) > 0, sweep = flag(r) > 0;
    to = pair(r, pen, relative);
    Fault fault = r->bad ? FAULT_RANGE : arc_to(pen->outline, pen->at, rx, ry, turn, large, sweep, to);
    pen->at = pen->control = to;
    return fault;
  }
  default:
    r->bad = true;
    return FAULT_RANGE;
  }
}

static Fault path_read(Reader *r, Outline *outline)
{
  Pen pen = {.outline = outline};
  skip(r);
  if (*r->p != 'M' && *r->p != 'm')
    return FAULT_RANGE;
  r->p++;
  pen.at = pen.control = pair(r, &pen, false);
  if (r->bad)
    return FAULT_RANGE;
  Fault fault = outline_move_to(outline, pen.at);
  Point first = pen.at;
  char command = 'L'; /* more pairs after M are lines */
  bool relative = r->start[strcspn(r->start, "Mm")] == 'm';
  while (!fault) {
    skip(r);
    char c = *r->p;
    if (c == '\0')
      return FAULT_NONE;
    if (c == 'Z' || c == 'z') {
      r->p++;
      skip(r);
      if (*r->p != '\0' || outline->n < 2)
        return FAULT_RANGE; /* a second subpath is no outline */
      if (point_distance(pen.at, first) < 1e-9 && outline->n > 2) {
        outline->knot[0].in = outline->knot[outline->n - 1].in;
        outline->n--;
      }
      outline->closed = true;
      return FAULT_NONE;
    }
    if (!number_ahead(r)) {
      if (!strchr("LlHhVvCcSsQqTtAa", c))
        return FAULT_RANGE;
      relative = c >= 'a';
      command = (char)(relative ? c - 'a' + 'A' : c);
      r->p++;
    }
    fault = segment(r, &pen, command, relative);
    pen.before = command;
  }
  return fault;
}

Fault outline_from_path(Outline *outline, const char *d, size_t *bad_at)
{
  Reader reader = {d, d, false};
  Outline fresh;
  outline_init(&fresh);
  Fault fault = path_read(&reader, &fresh);
  if (!fault)
    fault = outline_check(&fresh);
  if (fault) {
    if (bad_at)
      *bad_at = (size_t)(reader.p - d);
    outline_clear(&fresh);
    return fault;
  }
  outline_clear(outline);
  *outline = fresh;
  return FAULT_NONE;
}

/* --- out ---------------------------------------------------------------------------------------------------- */

typedef struct {
  char *buf;
  size_t room, length;
} Writer;

static void put(Writer *w, const char *text)
{
  for (; *text; text++, w->length++)
    if (w->length + 1 < w->room)
      w->buf[w->length] = *text;
}

/* Six decimals, trimmed, '.' whatever the locale. */
static void put_number(Writer *w, double value)
{
  char text[40];
  double rounded = nearbyint(fabs(value) * 1e6);
  unsigned long long whole = (unsigned long long)fmin(rounded, 9e18);
  int n = snprintf(text, sizeof text, " %s%llu.%06llu", value < 0 && whole > 0 ? "-" : "", whole / 1000000, whole % 1000000);
  while (n > 0 && text[n - 1] == '0')
    text[--n] = '\0';
  if (n > 0 && text[n - 1] == '.')
    text[--n] = '\0';
  put(w, text);
}

static void put_point(Writer *w, Point p)
{
  put_number(w, p.x);
  put_number(w, p.y);
}

size_t outline_to_path(const Outline *outline, char *buf, size_t room)
{
  Writer w = {buf, room, 0};
  if (outline->n > 0) {
    put(&w, "M");
    put_point(&w, outline->knot[0].at);
  }
  for (size_t i = 0; i < outline_pieces(outline); i++) {
    Point c[4];
    outline_piece(outline, i, c);
    const Knot *a = &outline->knot[i], *b = &outline->knot[(i + 1) % outline->n];
    bool straight = point_distance(a->at, a->out) == 0 && point_distance(b->at, b->in) == 0;
    put(&w, straight ? " L" : " C");
    if (!straight) {
      put_point(&w, c[1]);
      put_point(&w, c[2]);
    }
    put_point(&w, c[3]);
  }
  if (outline->closed)
    put(&w, " Z");
  if (room > 0)
    buf[w.length < room ? w.length : room - 1] = '\0';
  return w.length;
}
