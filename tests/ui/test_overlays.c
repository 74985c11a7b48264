/* test_overlays.c - what the drawing shows: one key each, the choice kept, pictures that tell it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px.  No display is opened. */
#include "fake_assessment.h"
#include "ui/canvas/overlays.h"
#include "ui/canvas/tool_row.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/picture_key.h"
#include "ui/preferences.h"
#include <glib/gstdio.h>
#include <string.h>

#define WIDTH 872
#define HEIGHT 600

/* ---- list and keys ---- */

static void test_keys(void)
{
  size_t n, n_tool;
  const Overlay *all = overlays(&n);
  const Tool *const *tool = tool_row_tools(&n_tool);
  unsigned seen = 0;
  for (size_t i = 0; i < n; i++) {
    g_test_message("%s", all[i].name);
    g_assert_cmpuint(seen & all[i].layers, ==, 0); /* every layer belongs to one entry */
    seen |= all[i].layers;
    g_assert_true(overlay_of_key(all[i].key, !all[i].plain) == &all[i]);
    g_assert_true(overlay_of_key(gdk_keyval_to_lower(all[i].key), !all[i].plain) == &all[i]);
    g_assert_null(overlay_of_key(all[i].key, all[i].plain));
    g_assert_cmpuint(all[i].key, >=, GDK_KEY_A);
    g_assert_cmpuint(all[i].key, <=, GDK_KEY_Z);
    /* Shift+F hides a photo, Shift+X mirrors a flank */
    g_assert_true(all[i].plain || (all[i].key != GDK_KEY_F && all[i].key != GDK_KEY_X));
    for (size_t k = 0; k < n; k++)
      g_assert_true(k == i || (all[k].key != all[i].key && all[k].icon != all[i].icon &&
                               g_strcmp0(all[k].keep, all[i].keep) != 0));
    for (size_t k = 0; k < n_tool; k++)
      g_assert_true(!all[i].plain || tool[k]->key != gdk_keyval_to_lower(all[i].key));
  }
  /* the twelve of the drawing table */
  const unsigned wanted[] = {LAYER_GRID,     LAYER_COMB,  LAYER_SHADE,  LAYER_FLOW,
                             LAYER_LOUPE,    LAYER_GUM,   LAYER_BRUSH,  LAYER_CUTTER,
                             LAYER_ENVELOPE, LAYER_GHOST, LAYER_BEFORE, LAYER_READING};
  for (size_t i = 0; i < G_N_ELEMENTS(wanted); i++)
    g_assert_cmpuint(seen & wanted[i], ==, wanted[i]);
}

static void test_kept(void)
{
  size_t n;
  const Overlay *all = overlays(&n);
  unsigned first = overlays_kept(), always = LAYER_OUTLINE | LAYER_GUM_LINE | LAYER_KNOTS |
                                             LAYER_NECK | LAYER_LABELS | LAYER_TITLES | LAYER_PAPER;
  for (size_t i = 0; i < n; i++)
    g_assert_true(((first & all[i].layers) != 0) == all[i].first);
  for (size_t i = 0; i < n; i++) { /* the other way round, one by one */
    overlay_keep(&all[i], !all[i].first);
    for (size_t k = 0; k < n; k++) {
      bool other = all[k].keep && k <= i;
      g_assert_true(((overlays_kept() & all[k].layers) != 0) == (all[k].first != other));
    }
  }
  g_assert_cmpuint(overlays_kept() & always, ==, always); /* the line is never hidden */
  for (size_t i = 0; i < n; i++)
    if (all[i].keep) /* absurd: as if nobody chose */
      preference_word_set(all[i].keep, "perhaps");
  g_assert_cmpuint(overlays_kept(), ==, first);
}

/* ---- pictures ---- */

static GString *said; /* all words that were looked up */

static const char *listening(const char *msgid)
{
  g_string_append_printf(said, "[%s]", msgid);
  return msgid;
}

typedef struct {
  cairo_surface_t *surface;
  Places taken;
} Drawn;

static Drawn drawn(const Assessment *a, unsigned layers, const Outline *before)
{
  DrawContext context = {
      .palette = PALETTE_LIGHT, .scale = 1, .decimal = ".", .translate = listening};
  Drawn d = {.surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT)};
  cairo_t *cr = cairo_create(d.surface);
  ConnectorPicture picture = connector_picture(a, 1, WIDTH, HEIGHT, &context);
  picture.layers = layers;
  picture.taken = &d.taken;
  picture.before = before;
  picture.before_step = before ? "Move knot" : NULL;
  g_string_truncate(said, 0);
  picture_connector(cr, WIDTH, HEIGHT, &context, &picture);
  g_assert_cmpint(cairo_status(cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy(cr);
  cairo_surface_flush(d.surface);
  return d;
}

static size_t differing(cairo_surface_t *a, cairo_surface_t *b)
{
  const guint32 *p = (const guint32 *)(void *)cairo_image_surface_get_data(a),
                *q = (const guint32 *)(void *)cairo_image_surface_get_data(b);
  size_t n = 0;
  for (size_t i = 0; i < (size_t)WIDTH * HEIGHT; i++)
    n += p[i] != q[i];
  return n;
}

/* Words that came take a place of their own, whole on the drawing and clear of all others. */
static void apart(const Places *taken, size_t from)
{
  for (size_t i = from; i < taken->n; i++) {
    Box a = taken->taken[i];
    g_assert_true(a.x >= 0 && a.y >= 0 && a.x + a.width <= WIDTH && a.y + a.height <= HEIGHT);
    for (size_t k = 0; k < taken->n; k++) {
      Box b = taken->taken[k];
      g_assert_true(k == i || !(a.x < b.x + b.width && b.x < a.x + a.width &&
                                a.y < b.y + b.height && b.y < a.y + a.height));
    }
  }
}

static bool says(const char *words)
{
  return strstr(said->str, words) != NULL;
}

static void test_reading(void)
{
  Assessment *a = fake_assessment_new();
  Form *form = &a->connector[1].form;
  const unsigned plain = LAYER_ALL & ~(unsigned)LAYER_LOUPE;
  static const struct {
    FormKind kind;
    const char *word;
  } row[] = {{FORM_U, "[U shape]"}, {FORM_BETWEEN, "[between U and V]"}, {FORM_V, "[V shape]"}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    form->kind = row[i].kind;
    Drawn without = drawn(a, plain, NULL);
    g_assert_false(says(row[i].word));
    Drawn with = drawn(a, plain | LAYER_READING, NULL);
    g_assert_true(says(row[i].word));
    g_assert_true(says("[opening]"));
    g_assert_true(says("roof radius {0.2} mm ({1.2}–{2.2})")); /* with its band */
    g_assert_cmpuint(differing(without.surface, with.surface), >, 1500);
    g_assert_cmpuint(with.taken.n, >=, without.taken.n + 2);
    apart(&with.taken, without.taken.n);
    cairo_surface_destroy(without.surface);
    cairo_surface_destroy(with.surface);
  }
  form->roof_radius = banded(10, 4, 10); /* flat: no figure */
  Drawn flat = drawn(a, plain | LAYER_READING, NULL);
  g_assert_true(says("roof radius above"));
  g_assert_false(says("roof radius {0.2}"));
  form->kind = FORM_NONE; /* no embrasure: nothing to read */
  Drawn none = drawn(a, plain, NULL), same = drawn(a, plain | LAYER_READING, NULL);
  g_assert_cmpuint(differing(none.surface, same.surface), ==, 0);
  cairo_surface_destroy(flat.surface);
  cairo_surface_destroy(none.surface);
  cairo_surface_destroy(same.surface);
  fake_assessment_free(a);
}

static void test_before(void)
{
  Assessment *a = fake_assessment_new();
  const Outline *now = &a->c.connector[1].side[SIDE_GINGIVAL];
  Outline before;
  outline_init(&before);
  g_assert_cmpint(outline_copy(&before, now), ==, FAULT_NONE);
  const unsigned plain = LAYER_ALL & ~(unsigned)LAYER_LOUPE;
  Drawn without = drawn(a, plain, &before); /* not asked for */
  g_assert_false(says("[line before]"));
  Drawn same = drawn(a, plain | LAYER_BEFORE, &before); /* no change: nothing to tell */
  g_assert_false(says("[line before]"));
  const double lower[6] = {1, 0, 0, 0.8, 0, 0};
  outline_transform(&before, lower);
  Drawn with = drawn(a, plain | LAYER_BEFORE, &before);
  g_assert_true(says("[line before]"));
  g_assert_true(says("[Move knot]")); /* and what changed it */
  g_assert_cmpuint(differing(without.surface, with.surface), >, 500);
  g_assert_cmpuint(with.taken.n, ==, without.taken.n + 1);
  apart(&with.taken, without.taken.n);
  Drawn none = drawn(a, plain | LAYER_BEFORE, NULL); /* never changed */
  g_assert_cmpuint(differing(without.surface, none.surface), ==, 0);
  cairo_surface_destroy(without.surface);
  cairo_surface_destroy(same.surface);
  cairo_surface_destroy(with.surface);
  cairo_surface_destroy(none.surface);
  outline_clear(&before);
  fake_assessment_free(a);
}

/* The brush that passes is told with its size and how well that is known. */
static void test_brush(void)
{
  Assessment *a = fake_assessment_new();
  const unsigned plain = LAYER_ALL & ~(unsigned)(LAYER_LOUPE | LAYER_BRUSH | LAYER_ROOM);
  static const struct {
    double gap;
    bool passes, remembered;
  } row[] = {{1.85, true, true}, {0.75, true, false}, {0.4, false, true}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    a->connector[1].form.gap_circle = row[i].gap;
    Drawn without = drawn(a, plain, NULL);
    g_assert_false(says("ISO 16409"));
    Drawn with = drawn(a, plain | LAYER_BRUSH | LAYER_ROOM, NULL);
    g_assert_true(says("up to {0.1} passes: size {1}") == row[i].passes);
    g_assert_true(says("[no brush passes]") == !row[i].passes);
    g_assert_true(says("[ISO 16409, from memory]") == row[i].remembered);
    g_assert_cmpuint(differing(without.surface, with.surface), >, 300);
    cairo_surface_destroy(without.surface);
    cairo_surface_destroy(with.surface);
  }
  fake_assessment_free(a);
}

/* Each overlay changes the picture, and each alone can be left out. */
static void test_each(void)
{
  size_t n;
  const Overlay *all = overlays(&n);
  Assessment *a = fake_assessment_new();
  for (size_t i = 0; i < n; i++) {
    if (all[i].layers & (LAYER_GHOST | LAYER_ENVELOPE | LAYER_BEFORE))
      continue; /* nothing is given that they show */
    g_test_message("%s", all[i].name);
    a->c.enlargement = 1.25;
    a->c.cutter_diameter = 1;
    const unsigned rest = LAYER_ALL & ~all[i].layers;
    Drawn without = drawn(a, rest, NULL), with = drawn(a, rest | all[i].layers, NULL);
    g_assert_cmpuint(differing(without.surface, with.surface), >, 200);
    cairo_surface_destroy(without.surface);
    cairo_surface_destroy(with.surface);
  }
  fake_assessment_free(a);
}

/* No strength, no answer: no limit, and a dash in the key. */
static void test_no_limit(void)
{
  ConnectorAssessment k = {.strength_mpa = {NAN, NAN, NAN}};
  g_assert_true(isnan(connector_limit(&k, false)));
  g_assert_true(isnan(connector_limit(&k, true)));
  k.trial_peak.mpa = 612;
  g_assert_cmpfloat(connector_limit(&k, false), ==, 612);
  k.strength_mpa.value = 480;
  g_assert_cmpfloat(connector_limit(&k, false), ==, 480);
  char words[TEXT_ROOM];
  DrawContext context = {.palette = PALETTE_LIGHT, .scale = 1, .decimal = "."};
  g_assert_cmpstr(say(&context, words, "limit {0} MPa", NAN, 0, 0, 0), ==, "limit – MPa");
  g_assert_cmpstr(say_spread(&context, words, banded(612, 600, 624)), ==, "± 2 %");
  g_assert_cmpstr(say_spread(&context, words, banded(5075, 0, 11292)), ==, "0–11292");
}

int main(int argc, char **argv)
{
  /* the library's own isolation of folders leaks under the sanitizer */
  g_autofree char *config = g_dir_make_tmp("soffit-overlays-XXXXXX", NULL);
  g_assert_true(config && g_setenv("XDG_CONFIG_HOME", config, TRUE));
  g_test_init(&argc, &argv, NULL);
  said = g_string_new(NULL);
  g_test_add_func("/overlays/keys", test_keys);
  g_test_add_func("/overlays/kept", test_kept);
  g_test_add_func("/overlays/reading", test_reading);
  g_test_add_func("/overlays/before", test_before);
  g_test_add_func("/overlays/brush", test_brush);
  g_test_add_func("/overlays/each", test_each);
  g_test_add_func("/overlays/no-limit", test_no_limit);
  int failed = g_test_run();
  g_string_free(said, TRUE);
  g_autofree char *folder = g_build_filename(config, "soffit", NULL);
  g_autofree char *file = g_build_filename(folder, "window.ini", NULL);
  g_remove(file);
  g_rmdir(folder);
  g_rmdir(config);
  return failed;
}
