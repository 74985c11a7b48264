/* path.c - SVG path data read into an outline.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Numbers as they stand, no unit.  Grammar: W3C SVG 1.1, 8.3; elliptic arcs: its appendix F.6.  The
 * reader does not depend on the locale and never looks past the terminating zero. */
#include "outline/outline.h"
#include "base/tolerance.h"
#include <stdint.h>
#include <string.h>

#define MAX_NUMBER 1e9

typedef struct {
  const char *text, *at; /* whole string; next byte                              */
  const char *group;     /* start of the arguments that are being read           */
  const char *wrong;     /* what to blame when the piece just read does not fit  */
  Outline *outline;
  Point here, control; /* current point; last control point of C S Q T         */
  char last;           /* upper case of the command before                     */
} Reader;

/* ---- numbers ---- */

static bool is_space(char c)
{
  return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f';
}

static bool is_digit(char c)
{
  return c >= '0' && c <= '9';
}

static void skip_space(Reader *r)
{
  while (is_space(*r->at))
    r->at++;
}

/* Between two arguments: white space and at most one comma. */
static void skip_comma(Reader *r)
{
  skip_space(r);
  if (*r->at == ',') {
    r->at++;
    skip_space(r);
  }
}

static bool starts_number(const char *c)
{
  if (*c == '+' || *c == '-')
    c++;
  return is_digit(*c) || (*c == '.' && is_digit(c[1]));
}

/* Digits into mantissa and power of ten; digits past the 18th only count. */
static const char *read_digits(const char *c, uint64_t *mantissa, int *power, bool fraction)
{
  for (; is_digit(*c); c++) {
    bool kept = *mantissa < UINT64_C(100000000000000000);
    if (kept)
      *mantissa = *mantissa * 10 + (uint64_t)(*c - '0');
    if (*power > -100000 && *power < 100000)
      *power += fraction ? (kept ? -1 : 0) : (kept ? 0 : 1);
  }
  return c;
}

/* "e" and its digits; nothing when no digit follows ("1em" is the number 1). */
static const char *read_exponent(const char *c, int *power)
{
  if (*c != 'e' && *c != 'E')
    return c;
  const char *digit = c + 1;
  bool minus = *digit == '-';
  if (*digit == '+' || *digit == '-')
    digit++;
  if (!is_digit(*digit))
    return c;
  int exponent = 0;
  for (; is_digit(*digit); digit++)
    if (exponent < 100000)
      exponent = exponent * 10 + (*digit - '0');
  *power += minus ? -exponent : exponent;
  return digit;
}

static Fault read_number(Reader *r, double *value)
{
  const char *start = r->at, *c = start;
  r->wrong = start;
  if (!starts_number(c))
    return FAULT_RANGE;
  bool minus = *c == '-';
  if (*c == '+' || *c == '-')
    c++;
  uint64_t mantissa = 0;
  int power = 0;
  c = read_digits(c, &mantissa, &power, false);
  if (*c == '.')
    c = read_digits(c + 1, &mantissa, &power, true);
  c = read_exponent(c, &power);
  double size = (double)mantissa;
  if (mantissa > 0) {
    if (power < -400)
      size = 0;
    else if (power > 400)
      size = INFINITY;
    else if (power < 0) /* a division rounds once: 0.1 is 1/10 exactly rounded */
      size = (double)((long double)mantissa / powl(10, -power));
    else
      size = (double)((long double)mantissa * powl(10, power));
  }
  if (!(size <= MAX_NUMBER))
    return FAULT_RANGE;
  *value = minus ? -size : size;
  r->at = c;
  return FAULT_NONE;
}

static Fault read_flag(Reader *r, bool *flag)
{
  r->wrong = r->at;
  if (*r->at != '0' && *r->at != '1')
    return FAULT_RANGE;
  *flag = *r->at++ == '1';
  return FAULT_NONE;
}

static Fault read_numbers(Reader *r, double value[], int n)
{
  for (int i = 0; i < n; i++) {
    if (i > 0)
      skip_comma(r);
    Fault fault = read_number(r, &value[i]);
    if (fault)
      return fault;
  }
  return FAULT_NONE;
}

/* ---- pieces ---- */

/* Repeats of a point are lawful in path data and draw nothing: left out. */
static Fault add_curve(Reader *r, Point c1, Point c2, Point p)
{
  Point from = r->here;
  r->here = p;
  if (point_distance(from, c1) <= TOL_POINT_MM && point_distance(from, c2) <= TOL_POINT_MM &&
      point_distance(from, p) <= TOL_POINT_MM)
    return FAULT_NONE;
  return outline_curve_to(r->outline, c1, c2, p);
}

static Fault add_line(Reader *r, Point p)
{
  r->here = p;
  if (point_distance(r->outline->knot[r->outline->n - 1].at, p) <= TOL_POINT_MM)
    return FAULT_NONE;
  return outline_line_to(r->outline, p);
}

/* A parabola is a cubic with its handles two thirds of the way to the control point. */
static Fault add_parabola(Reader *r, Point control, Point p)
{
  return add_curve(r, point_mix(r->here, control, 2.0 / 3), point_mix(p, control, 2.0 / 3), p);
}

typedef struct {
  double rx, ry, cos_phi, sin_phi;
  Point centre;
} Ellipse;

static Point ellipse_point(const Ellipse *e, double x, double y)
{
  x *= e->rx;
  y *= e->ry;
  return point(e->centre.x + e->cos_phi * x - e->sin_phi * y,
               e->centre.y + e->sin_phi * x + e->cos_phi * y);
}

/* Cubics of at most 30 degrees of the unit circle, mapped to the ellipse. */
static Fault add_turns(Reader *r, const Ellipse *e, double start, double turn, Point end)
{
  int n = (int)ceil(fabs(turn) / (M_PI / 6) - 1e-9);
  if (n < 1)
    n = 1;
  double step = turn / n, k = 4.0 / 3 * tan(step / 4);
  Fault fault = FAULT_NONE;
  for (int i = 0; i < n && !fault; i++) {
    double a = start + step * i, b = start + step * (i + 1);
    Point c1 = ellipse_point(e, cos(a) - k * sin(a), sin(a) + k * cos(a));
    Point c2 = ellipse_point(e, cos(b) + k * sin(b), sin(b) - k * cos(b));
    fault = add_curve(r, c1, c2, i + 1 < n ? ellipse_point(e, cos(b), sin(b)) : end);
  }
  return fault;
}

static Fault add_arc(Reader *r, double rx, double ry, double phi_deg, bool large, bool sweep,
                     Point p)
{
  rx = fabs(rx); /* F.6.6: out-of-range radii */
  ry = fabs(ry);
  Point half = point_scale(point_sub(r->here, p), 0.5);
  if (rx <= TOL_POINT_MM || ry <= TOL_POINT_MM || point_length(half) <= TOL_POINT_MM / 2)
    return add_line(r, p);
  double phi = remainder(phi_deg, 360) * M_PI / 180;
  Ellipse e = {rx, ry, cos(phi), sin(phi), point_mix(r->here, p, 0.5)};
  /* F.6.5.1: half the chord, turned into the axes; here in units of the radii */
  double u = (e.cos_phi * half.x + e.sin_phi * half.y) / rx;
  double v = (-e.sin_phi * half.x + e.cos_phi * half.y) / ry;
  double reach = u * u + v * v; /* F.6.6.2: Lambda */
  if (reach > 1) {
    double grow = sqrt(reach);
    e.rx *= grow;
    e.ry *= grow;
    u /= grow;
    v /= grow;
    reach = 1;
  }
  /* F.6.5.2: centre on the chord's upright bisector of the unit circle */
  double away = sqrt(fmax(0, (1 - reach) / reach)) * (large == sweep ? -1 : 1);
  Point centre = point(away * v, -away * u);
  e.centre = ellipse_point(&e, centre.x, centre.y);
  double start = atan2(v - centre.y, u - centre.x), end = atan2(-v - centre.y, -u - centre.x);
  double turn = remainder(end - start, 2 * M_PI);
  if (sweep && turn < 0)
    turn += 2 * M_PI;
  if (!sweep && turn > 0)
    turn -= 2 * M_PI;
  return add_turns(r, &e, start, turn, p);
}

/* ---- commands ---- */

static Point target(const Reader *r, bool relative, double x, double y)
{
  return relative ? point(r->here.x + x, r->here.y + y) : point(x, y);
}

static Fault read_straight(Reader *r, char command, bool relative)
{
  double v[2] = {0};
  Fault fault = read_numbers(r, v, command == 'L' ? 2 : 1);
  if (fault)
    return fault;
  r->wrong = r->group;
  Point p = target(r, relative, v[0], v[1]);
  if (command == 'H')
    p.y = r->here.y;
  if (command == 'V')
    p = point(r->here.x, relative ? r->here.y + v[0] : v[0]);
  return add_line(r, p);
}

/* C S Q T: the control points that are not written are mirrored from the piece before. */
static Fault read_curve(Reader *r, char command, bool relative)
{
  bool cubic = command == 'C' || command == 'S', smooth = command == 'S' || command == 'T';
  double v[6] = {0};
  int n = command == 'C' ? 6 : command == 'T' ? 2 : 4;
  Fault fault = read_numbers(r, v, n);
  if (fault)
    return fault;
  r->wrong = r->group;
  bool follows = cubic ? r->last == 'C' || r->last == 'S' : r->last == 'Q' || r->last == 'T';
  Point mirrored = follows ? point_sub(point_scale(r->here, 2), r->control) : r->here;
  Point p = target(r, relative, v[n - 2], v[n - 1]);
  Point c1 = smooth ? mirrored : target(r, relative, v[0], v[1]);
  if (!cubic) {
    r->control = c1;
    return add_parabola(r, c1, p);
  }
  Point c2 = target(r, relative, v[n - 4], v[n - 3]);
  r->control = c2;
  return add_curve(r, c1, c2, p);
}

static Fault read_arc(Reader *r, bool relative)
{
  double radius[3] = {0}, end[2] = {0};
  bool large = false, sweep = false;
  Fault fault = read_numbers(r, radius, 3);
  if (!fault) {
    skip_comma(r);
    fault = read_flag(r, &large);
  }
  if (!fault) {
    skip_comma(r);
    fault = read_flag(r, &sweep);
  }
  if (!fault) {
    skip_comma(r);
    fault = read_numbers(r, end, 2);
  }
  if (fault)
    return fault;
  r->wrong = r->group;
  return add_arc(r, radius[0], radius[1], radius[2], large, sweep,
                 target(r, relative, end[0], end[1]));
}

/* All argument groups of one command. */
static Fault read_command(Reader *r, char letter)
{
  bool relative = letter >= 'a';
  char command = (char)(relative ? letter - 'a' + 'A' : letter);
  for (;;) {
    r->group = r->at;
    Fault fault = command == 'A'                   ? read_arc(r, relative)
                  : strchr("LHV", command) != NULL ? read_straight(r, command, relative)
                                                   : read_curve(r, command, relative);
    if (fault)
      return fault;
    r->last = command;
    const char *end = r->at;
    skip_comma(r);
    if (!starts_number(r->at)) {
      if (memchr(end, ',', (size_t)(r->at - end)) !=
          NULL) { /* a comma must be followed by a number */
        r->wrong = r->at;
        return FAULT_RANGE;
      }
      return FAULT_NONE;
    }
  }
}

static Fault read_start(Reader *r)
{
  skip_space(r);
  r->wrong = r->at;
  if (*r->at != 'M' && *r->at != 'm')
    return FAULT_RANGE;
  bool relative = *r->at++ == 'm';
  skip_space(r);
  double v[2];
  Fault fault = read_numbers(r, v, 2);
  if (fault)
    return fault;
  r->here = point(v[0], v[1]);
  fault = outline_move_to(r->outline, r->here);
  r->last = 'M';
  if (fault)
    return fault;
  skip_comma(r);
  return starts_number(r->at) ? read_command(r, relative ? 'l' : 'L') : FAULT_NONE;
}

static Fault read_path(Reader *r)
{
  Fault fault = read_start(r);
  while (!fault) {
    skip_space(r);
    char letter = *r->at;
    r->wrong = r->at;
    if (letter == '\0')
      break;
    if (r->outline->closed || strchr("LHVCSQTAZlhvcsqtaz", letter) == NULL)
      return FAULT_RANGE; /* a second subpath, or no command */
    r->at++;
    if (letter == 'Z' || letter == 'z') {
      fault = outline_close(r->outline);
      continue;
    }
    skip_space(r);
    fault = read_command(r, letter);
  }
  return !fault && r->outline->n < 2 ? FAULT_DEGENERATE : fault;
}

Fault outline_from_path(Outline *outline, const char *d, size_t *bad_at)
{
  if (!d)
    d = "";
  Outline made = {0};
  Reader r = {.text = d, .at = d, .wrong = d, .outline = &made};
  Fault fault = read_path(&r);
  if (fault) {
    outline_clear(&made);
    if (bad_at)
      *bad_at = (size_t)(r.wrong - r.text);
    return fault;
  }
  outline_clear(outline);
  *outline = made;
  return FAULT_NONE;
}
