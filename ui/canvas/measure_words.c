/* measure_words.c - see measure_words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/measure_words.h"
#include "ui/words.h"
#include <math.h>

#define SCREEN_TURN 179.9 /* a band this wide is no angle */

/* "3.25 mm (3.23–3.27)" */
static char *with_band(const char *unit, Banded b, int decimals)
{
  g_autofree char *value = words_number(b.value, decimals), *range = words_range(b, decimals);
  return g_strdup_printf("%s%s (%s)", value, unit, range);
}

/* Of a line, whichever way it was drawn: 0 level, 90 upright. */
static Banded tilt(Banded angle)
{
  double half = (angle.high - angle.low) / 2, a = fabs(angle.value);
  a = a > 90 ? 180 - a : a;
  return banded(a, fmax(a - half, 0), fmin(a + half, 90));
}

static void way_lines(const MeasuredPlace place[2], char *line[MEASURE_LINES])
{
  MeasuredWay way;
  if (measure_way(place, &way) != FAULT_NONE)
    return;
  line[0] = with_band(" mm", way.distance, 2);
  if (way.angle_deg.high - way.angle_deg.low > SCREEN_TURN)
    return;
  g_autofree char *angle = with_band("°", tilt(way.angle_deg), 1);
  line[1] = g_strdup_printf(_("%s from level"), angle);
  g_autofree char *along = words_number(fabs(way.along.value), 2),
                  *up = words_number(fabs(way.up.value), 2);
  line[2] = g_strdup_printf(_("%s along, %s in height"), along, up);
}

void measure_lines(const MeasuredPlace place[], size_t n, char *line[MEASURE_LINES])
{
  for (int i = 0; i < MEASURE_LINES; i++)
    line[i] = NULL;
  if (n == 1) {
    g_autofree char *x = words_number(place[0].at.x, 2), *y = words_number(place[0].at.y, 2);
    line[0] = g_strdup_printf(_("%s beside the neck, %s mm high"), x, y);
  } else if (n == 2) {
    way_lines(place, line);
  } else if (n == 3) {
    MeasuredCircle circle;
    if (measure_circle(place, &circle) != FAULT_NONE) {
      line[0] = g_strdup(_("No circle: the three lie in one line"));
      return;
    }
    g_autofree char *radius = with_band(" mm", circle.radius, 2),
                    *corner = with_band("°", circle.corner_deg, 1);
    line[0] = g_strdup_printf(_("radius %s"), radius);
    line[1] = g_strdup_printf(_("%s at the second place"), corner);
  }
}

char *measure_sentence(const MeasuredPlace place[], size_t n)
{
  char *line[MEASURE_LINES];
  measure_lines(place, n, line);
  GString *words = g_string_new(n == 1   ? _("First place")
                                : n == 2 ? _("Two places")
                                : n == 3 ? _("Three places")
                                         : _("Nothing measured"));
  for (int i = 0; i < MEASURE_LINES; i++) {
    if (line[i])
      g_string_append_printf(words, "%s%s", i ? ", " : ": ", line[i]);
    g_free(line[i]);
  }
  return g_string_free(words, FALSE);
}
