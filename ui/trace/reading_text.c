/* reading_text.c - see reading_text.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Limits shown beside the roof radius are those of the drawing rules (verdict/needs.h). */
#include "ui/trace/reading_text.h"
#include "assess_bridge.h"
#include "casefile/drawn.h"
#include "casefile/load_case.h"
#include "casefile/photo.h"
#include "ui/words.h"
#include <math.h>
#include <string.h>

#define BITE_ROOM 160
#define DRAWN_TELLS_PERCENT 75.0 /* a wider band of the roof radius is no figure */

void reading_text_clear(ReadingText *reading)
{
  g_free(reading->figure);
  g_free(reading->band);
  g_free(reading->note);
  g_free(reading->detail);
  *reading = (ReadingText){0};
}

/* " (0.72–0.87)" without the blank, or "" */
static char *band_text(Banded number, int decimals)
{
  g_autofree char *range = words_range(number, decimals);
  return *range ? g_strdup_printf("(%s)", range) : g_strdup("");
}

static Verdict state_when(bool known, bool rework, bool close)
{
  return !known ? VERDICT_NONE : rework ? VERDICT_REWORK : close ? VERDICT_CLOSE : VERDICT_HOLDS;
}

/* A line that was traced on a photo is as well known as the photo's scale. */
static void traced_make(const ConnectorAssessment *joint, ReadingKind kind, ReadingText *reading)
{
  double scale = joint->trace_percent;
  g_autofree char *plain = g_steal_pointer(&reading->detail);
  if (isnan(scale)) {
    reading->state = VERDICT_NONE;
    g_free(reading->note);
    reading->note = g_strdup(_("photo without scale"));
    reading->detail = g_strdup_printf(
        "%s\n%s", plain,
        _("Traced on a photo without scale: this size is not known. Scale the photo first."));
    return;
  }
  double here = kind == READING_NECK     ? neck_trace_percent(scale, &joint->form)
                : kind == READING_MARGIN ? pull_trace_percent(scale, &joint->form)
                                         : scale;
  g_autofree char *photo = words_number(scale, 1), *part = words_number(here, 1);
  reading->detail =
      kind == READING_MARGIN
          ? g_strdup_printf(_("%s\nThe line was traced on a photo whose scale is known to ± %s %%. "
                              "That is ± %s %% of the pull, three times that of the neck’s height, "
                              "and is in the band."),
                            plain, photo, part)
          : g_strdup_printf(_("%s\nThe line was traced on a photo whose scale is known to ± %s %%: "
                              "this size is known to ± %s %%."),
                            plain, photo, part);
}

/* A roof that a hand drew is as well known as the points of the pen tell it. */
static void drawn_make(const ConnectorAssessment *joint, ReadingKind kind, ReadingText *reading)
{
  RoofShare share = drawn_share(joint->roof_doubt_percent);
  double percent = 100 * (share.high - 1),
         pull = 100 * (drawn_pull(joint->roof_doubt_percent).high - 1);
  g_autofree char *plain = g_steal_pointer(&reading->detail);
  g_autofree char *radius = words_number(percent, 0), *part = words_number(pull, 0);
  g_autofree char *drawn =
      percent > DRAWN_TELLS_PERCENT
          ? g_strdup(_("Drawn by hand or cut from a surface: so sharp a roof lies within the "
                       "scatter of the points."))
          : g_strdup_printf(
                _("Drawn by hand or cut from a surface: the roof radius is known to ± %s %%."),
                radius);
  g_autofree char *felt =
      kind == READING_MARGIN
          ? g_strdup_printf(_(" That is ± %s %% of the pull, and is in the band."), part)
          : g_strdup("");
  reading->detail =
      g_strdup_printf("%s\n%s%s %s", plain, drawn, felt, _("Type the radius, or trace larger."));
}

/* An outline that cannot be read: no figure, and why. */
static void neck_make_none(const ConnectorAssessment *joint, ReadingText *reading)
{
  const char *why = words_translate(fault_text(joint->fault));
  reading->name = _("Neck");
  reading->figure = g_strdup("–");
  reading->unit = "";
  reading->band = g_strdup("");
  reading->state = VERDICT_REWORK;
  reading->note = g_strdup(why);
  reading->detail = g_strdup(why);
  reading->source = "";
}

static void neck_make(const ConnectorAssessment *joint, ReadingText *reading)
{
  if (isnan(joint->form.neck_height)) {
    neck_make_none(joint, reading);
    return;
  }
  g_autofree char *high = words_number(joint->form.neck_height, 2);
  g_autofree char *wide = words_number(joint->form.neck_width, 1);
  g_autofree char *area = words_number(joint->section.area, 1);
  g_autofree char *need = words_number(joint->limits.area_need, 0);
  g_autofree char *need_high = words_number(joint->limits.height_need, 1);
  bool known = isfinite(joint->limits.area_need);
  bool small = known && joint->section.area < joint->limits.area_need;
  bool low = known && joint->form.neck_height < joint->limits.height_need;
  reading->name = _("Neck");
  reading->figure = g_strdup_printf("%s × %s", high, wide);
  reading->unit = _("mm");
  reading->band = g_strdup("");
  reading->state = state_when(known, small || low, false);
  double traced = neck_trace_percent(joint->trace_percent, &joint->form);
  g_autofree char *percent = words_number(traced, 1);
  if (traced > 0) /* no room for a band beside two figures */
    reading->note = known ? g_strdup_printf(_("± %s %%, needs %s mm²"), percent, need)
                          : g_strdup_printf(_("± %s %%, no limit set"), percent);
  else if (!known)
    reading->note = g_strdup_printf(_("%s mm², no limit set"), area);
  else if (small || !low)
    reading->note = g_strdup_printf(_("%s mm², needs %s"), area, need);
  else
    reading->note = g_strdup_printf(_("%s mm², height needs %s"), area, need_high);
  reading->detail = g_strdup_printf(
      _("Height and width of the thinnest place, after firing. Its section has %s mm². Wanted for "
        "this "
        "place in the span (%s): %s mm² and %s mm high. Measured on the drawing, to 0.01 mm."),
      area, words_translate(span_class_name(joint->limits.span)), need, need_high);
  reading->source =
      _("Limits: common practice and reviews of connector sizes, from memory; no proof.");
}

static void radius_make(const ConnectorAssessment *joint, ReadingText *reading)
{
  double radius = joint->form.roof_radius.value;
  g_autofree char *wanted = words_number(ROOF_WANTED_MM, 2);
  g_autofree char *range = words_range(joint->form.roof_radius, 2);
  reading->name = _("Roof radius");
  reading->unit = _("mm");
  bool known_so_far = joint->trace_percent > 0 || joint->roof_doubt_percent > 0;
  reading->band =
      known_so_far && radius < 9.99 ? band_text(joint->form.roof_radius, 2) : g_strdup("");
  if (radius > 9.99) { /* a flat roof has no radius worth a figure */
    g_autofree char *most = words_number(9.99, 0);
    reading->figure = g_strdup_printf("> %s", most);
  } else {
    reading->figure = words_number(radius, 2);
  }
  reading->state = state_when(isfinite(radius), below_limit(radius, ROOF_STOP_MM),
                              below_limit(radius, ROOF_WANTED_MM));
  reading->note = g_strdup_printf(
      below_limit(radius, ROOF_WANTED_MM) ? _("needs %s or more") : _("wanted %s or more"), wanted);
  reading->detail = g_strdup_printf(
      _("Smallest radius in the upper 40 %% of the embrasure, read from the line as drawn: %s mm. "
        "A sharp roof "
        "gathers two to three times the stretch. Needs %s mm; the rounder the better."),
      range, wanted);
  reading->source = _("Multiplier: Dent Mater 2010;26:1133. Limit: from memory.");
}

static void room_make(const Assessment *assessment, const ConnectorAssessment *joint,
                      ReadingText *reading)
{
  double room = joint->form.gap_circle, brush = assessment->c.brush_mm;
  g_autofree char *size = words_number(brush, 1);
  g_autofree char *reach = words_number(assessment->c.cutter_diameter, 1);
  g_autofree char *shortfall = words_number(joint->cutter_shortfall, 2);
  bool known = isfinite(brush) && brush > 0;
  reading->name = _("Room");
  reading->figure = words_number(room, 2);
  reading->unit = _("mm");
  reading->band = joint->trace_percent > 0
                      ? band_text(banded_percent_positive(room, joint->trace_percent), 2)
                      : g_strdup("");
  reading->state = state_when(known && isfinite(room), room < brush, false);
  reading->note = !known          ? g_strdup(_("no brush ordered"))
                  : isnan(room)   ? g_strdup("")
                  : room >= brush ? g_strdup_printf(_("brush %s passes"), size)
                                  : g_strdup_printf(_("brush %s does not pass"), size);
  g_autofree char *cutter =
      joint->cutter_shortfall > 0.005
          ? g_strdup_printf(_("Cutter %s stops %s mm short of the roof."), reach, shortfall)
          : g_strdup_printf(_("Cutter %s reaches the roof."), reach);
  reading->detail = g_strdup_printf(_("Largest circle between gum side and tissue, to 0.01 mm. The "
                                      "ordered brush has a passage hole of %s mm. %s"),
                                    size, cutter);
  reading->source = _("Passage hole diameter: ISO 16409. Circle: geometry of the drawing.");
}

static char *phrase_text(const Phrase *phrase)
{
  char text[512];
  phrase_format(phrase, words_translate, words_decimal(), text, sizeof text);
  return g_strdup(text);
}

/* "Finish there, milled only: strength × 0.64 (0.58–0.68) of the card's bars; own bars, ..." */
static char *finish_text(const ConnectorAssessment *joint)
{
  const SurfaceFactor *factor = &joint->finish_from;
  if (!factor->source)
    return g_strdup("");
  g_autofree char *value = words_number(factor->of.value, 2), *range = words_range(factor->of, 2);
  return g_strdup_printf(_("\nFinish there, %s: strength × %s (%s) of the card’s bars; %s."),
                         words_translate(finish_name(joint->governing_finish)), value, range,
                         words_translate(factor->source));
}

static void margin_make(const Assessment *assessment, size_t connector, ReadingText *reading)
{
  const ConnectorAssessment *joint = &assessment->connector[connector];
  VerdictLimits limits = verdict_limits_default();
  double at_order = joint->margin.value;
  g_autofree char *order = words_number(at_order, 2);
  g_autofree char *order_band = band_text(joint->margin, 2);
  g_autofree char *force = words_number(assessment->c.order_load_n, 0);
  g_autofree char *trial_force = words_number(assessment->c.trial.force_n, 0);
  g_autofree char *trial = words_number(joint->trial_margin.value, 2);
  reading->name = _("Margin");
  reading->figure = words_number(joint->trial_margin.value, 2);
  reading->unit = "";
  reading->band = band_text(joint->trial_margin, 2);
  reading->state = state_when(isfinite(at_order), at_order < limits.close_margin,
                              at_order < limits.holds_margin);
  reading->note = g_strdup_printf(_("order %s N: %s"), force, order);
  g_autofree char *peak = words_number(joint->peak_mpa.value, 0);
  g_autofree char *peak_band = words_range(joint->peak_mpa, 0);
  g_autofree char *strength = words_number(joint->strength_mpa.value, 0);
  g_autofree char *strength_band = words_range(joint->strength_mpa, 0);
  Phrase moments;
  g_autofree char *bridge =
      bridge_moments_phrase(assessment, connector, &moments) ? phrase_text(&moments) : g_strdup("");
  g_autofree char *detail = g_strdup_printf(
      _("Strength over pull at the hot spot: %s %s at the trial load of %s N, %s %s at the order’s "
        "%s N. At the "
        "order’s load the pull is %s MPa (%s); at %s MPa (%s) 5 of 100 would break."),
      trial, reading->band, trial_force, order, order_band, force, peak, peak_band, strength,
      strength_band);
  Phrase bite = load_case_phrase(&assessment->c, joint->load_case, joint->order_x);
  char governs[BITE_ROOM];
  phrase_format(&bite, words_translate, words_decimal(), governs, sizeof governs);
  g_autofree char *finish = finish_text(joint);
  reading->detail = g_strdup_printf(
      "%s %s %s%s%s%s%s%s", detail, _("Governed by:"), governs, joint->peak.by_section ? ". " : ".",
      joint->peak.by_section ? _("Twist and sideways bending by section formulas: wider band.")
                             : "",
      *bridge ? "\n" : "", bridge, finish);
  const char *source = material_source(&assessment->c.material, FIGURE_STRENGTH);
  reading->source = *source ? words_translate(source) : _("Material card without a source.");
}

static char *scratch_text(Banded depth)
{
  if (depth.value < SCRATCH_MOST_UM || isnan(depth.value))
    return words_banded(depth, 0, "µm");
  g_autofree char *most = words_number(SCRATCH_MOST_UM, 0);
  return g_strdup_printf("> %s µm", most);
}

/* Figure and band of a reading whose text is "figure unit (band)". */
static void figure_part(ReadingText *reading, const char *text, const char *unit)
{
  const char *space = strstr(text, unit);
  reading->figure = g_strchomp(g_strndup(text, (gsize)(space - text)));
  reading->unit = unit;
  reading->band = g_strstrip(g_strdup(space + strlen(unit)));
}

static void scratch_make(const Assessment *assessment, const ConnectorAssessment *joint,
                         ReadingText *reading)
{
  Service service = case_service(&assessment->c);
  g_autofree char *now = scratch_text(joint->trial_scratch_um);
  g_autofree char *later = scratch_text(joint->trial_service_scratch_um);
  g_autofree char *order = scratch_text(joint->scratch_um);
  g_autofree char *order_later = scratch_text(joint->service_scratch_um);
  g_autofree char *force = words_number(assessment->c.order_load_n, 0);
  g_autofree char *trial_force = words_number(assessment->c.trial.force_n, 0);
  g_autofree char *years = words_number(service.years, 0);
  reading->name = _("Scratch depth");
  figure_part(reading, now, "µm");
  reading->state = VERDICT_NONE;
  reading->note = g_strdup_printf(_("%s years: %s"), years, later);
  reading->detail = g_strdup_printf(
      _("A half-round scratch deeper than this at the hot spot, across the pull, would be enough "
        "to break the bridge: at %s N at once %s, after %s years %s; at the order’s %s N %s and "
        "%s. A long scratch is enough at less than half of it. The band is that of toughness, "
        "bite, hold of the teeth and growth."),
      trial_force, now, years, later, force, order, order_later);
  reading->source = _("Surface crack by Newman and Raju in the stress that falls off below the "
                      "surface; toughness of the material card; growth as for the chance.");
}

static void chance_make(const Assessment *assessment, const ConnectorAssessment *joint,
                        ReadingText *reading)
{
  Service service = case_service(&assessment->c);
  g_autofree char *now = words_chance(joint->trial_chance_percent);
  g_autofree char *later = words_chance(joint->trial_service_chance_percent);
  g_autofree char *order = words_chance(joint->chance_percent);
  g_autofree char *order_later = words_chance(joint->service_chance_percent);
  g_autofree char *force = words_number(assessment->c.order_load_n, 0);
  g_autofree char *trial_force = words_number(assessment->c.trial.force_n, 0);
  g_autofree char *years = words_number(service.years, 0);
  g_autofree char *bites = words_number(service.bites_a_day, 0);
  reading->name = _("Chance, one bite");
  figure_part(reading, now, "%");
  reading->state = VERDICT_NONE;
  reading->note = g_strdup_printf(_("%s years: %s"), years, later);
  reading->detail = g_strdup_printf(
      _("Of 100 such necks so many would break in one bite of %s N: %s; in %s years of %s such "
        "bites a day: %s. At the order’s %s N, a guess of its own: %s and %s. Every bite at the "
        "full load is the safe side. 90 of 100 draws of all inputs lie in the band."),
      trial_force, now, years, bites, later, force, order, order_later);
  reading->source =
      _("Weibull statistics of the surface, scaled from the bars of the material card; slow crack "
        "growth v = A Kⁿ with its threshold.");
}

char *reading_bridge_text(const Assessment *assessment, size_t connector)
{
  Phrase phrase;
  return bridge_differs_phrase(assessment, connector, &phrase) ? phrase_text(&phrase)
                                                               : g_strdup("");
}

void reading_texts_make(const Assessment *assessment, size_t connector,
                        ReadingText reading[READING_N])
{
  const ConnectorAssessment *joint = &assessment->connector[connector];
  for (int i = 0; i < READING_N; i++)
    reading_text_clear(&reading[i]);
  neck_make(joint, &reading[READING_NECK]);
  radius_make(joint, &reading[READING_RADIUS]);
  room_make(assessment, joint, &reading[READING_ROOM]);
  margin_make(assessment, connector, &reading[READING_MARGIN]);
  scratch_make(assessment, joint, &reading[READING_SCRATCH]);
  chance_make(assessment, joint, &reading[READING_CHANCE]);
  if (joint->trace_percent > 0 || isnan(joint->trace_percent))
    for (int i = 0; i <= READING_MARGIN; i++)
      traced_make(joint, (ReadingKind)i, &reading[i]);
  if (joint->roof_doubt_percent > 0 && !joint->fault) {
    drawn_make(joint, READING_RADIUS, &reading[READING_RADIUS]);
    drawn_make(joint, READING_MARGIN, &reading[READING_MARGIN]);
  }
}
