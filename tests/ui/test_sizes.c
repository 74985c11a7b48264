/* test_sizes.c - labels of sizes on the elevation: all there, clear of each other, of the hot spot
 * and of what lies over the drawing. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px. */
#include "fake_assessment.h"
#include "ui/drawing/picture_connector.h"
#include <string.h>

#define HOT_RING 18.0

static const char *longer(const char *msgid)
{
  /* as long as words of other languages get */
  static const char *const word[][2] = {{"radius", "Kerbgrundradius"},
                                        {"depth", "Interdentaltiefe"},
                                        {"opening", "Öffnungswinkel"},
                                        {"mouth", "Öffnungsbreite"}};
  for (size_t i = 0; i < G_N_ELEMENTS(word); i++)
    if (g_str_equal(msgid, word[i][0]))
      return word[i][1];
  return msgid;
}

static bool touch(Box a, Box b)
{
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

/* Draws and looks; returns how many labels found a place. */
static int sizes_check(const Assessment *a, size_t connector, int width, int height,
                       const DrawContext *context, unsigned layers, Box over)
{
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create(surface);
  Box box[SIZE_KINDS] = {{0}};
  Places taken;
  ConnectorPicture picture = connector_picture(a, connector, width, height, context);
  picture.layers = layers;
  picture.size_box = box;
  picture.taken = &taken;
  picture.keep_free[0] = over;
  picture_connector(cr, width, height, context, &picture);
  g_assert_cmpint(cairo_status(cr), ==, CAIRO_STATUS_SUCCESS);
  const Peak *peak = &a->connector[connector].trial_peak;
  Point hot = view_px(picture.view, point(peak->at.x, peak->at.y));
  double ring = HOT_RING * context->scale;
  Box spot = {hot.x - ring, hot.y - ring, 2 * ring, 2 * ring};
  int n = 0;
  for (SizeKind i = 0; i < SIZE_KINDS; i++) {
    if (!(box[i].width > 0))
      continue;
    n++;
    g_assert_true(box[i].x >= 0 && box[i].y >= 0 && box[i].x + box[i].width <= width &&
                  box[i].y + box[i].height <= height);
    g_assert_false(touch(box[i], spot));
    g_assert_false(over.width > 0 && touch(box[i], over));
    int same = 0;
    for (size_t k = 0; k < taken.n; k++) /* among all words once, and clear of the others */
      if (memcmp(&taken.taken[k], &box[i], sizeof(Box)) == 0)
        same++;
      else
        g_assert_false(touch(box[i], taken.taken[k]));
    g_assert_cmpint(same, ==, 1);
  }
  cairo_destroy(cr);
  cairo_surface_destroy(surface);
  return n;
}

#define LABELS 5 /* neck height, radius, depth, opening, mouth; the width is seen from the gum */

static void test_labels(void)
{
  Assessment *a = fake_assessment_new();
  const int size[][2] = {{872, 600}, {760, 450}, {1130, 640}, {2000, 1150}};
  for (size_t s = 0; s < G_N_ELEMENTS(size); s++)
    for (size_t connector = 0; connector < a->n_connector; connector++)
      for (int words = 0; words < 2; words++) {
        DrawContext context = {.palette = palette_choose(words, false),
                               .scale = 1,
                               .decimal = ",",
                               .translate = words ? longer : NULL};
        int w = size[s][0], h = size[s][1];
        Box row = {w / 2.0 - 270, h - 62, 540, 46}, none = {0, 0, 0, 0};
        unsigned all = LAYER_ALL | LAYER_SIZES;
        g_test_message("%d x %d, connector %zu, words %d", w, h, connector, words);
        g_assert_cmpint(sizes_check(a, connector, w, h, &context, all, none), ==, LABELS);
        g_assert_cmpint(sizes_check(a, connector, w, h, &context, all, row), >=, LABELS - 1);
        /* only where asked for: the neck's height stands on every drawing */
        g_assert_cmpint(sizes_check(a, connector, w, h, &context, LAYER_ALL, none), ==, 1);
      }
  fake_assessment_free(a);
}

/* Too small for all: some are left out, none overlap. */
static void test_little_room(void)
{
  Assessment *a = fake_assessment_new();
  DrawContext context = {.palette = palette_choose(false, false), .scale = 1.6, .decimal = "."};
  for (int width = 60; width < 700; width += 71)
    sizes_check(a, 1, width, width * 2 / 3, &context, LAYER_ALL | LAYER_SIZES,
                (Box){0, 0, width / 3.0, 40});
  fake_assessment_free(a);
}

/* A line without an embrasure has no sizes of one. */
static void test_no_embrasure(void)
{
  Assessment *a = fake_assessment_new();
  DrawContext context = {.palette = palette_choose(false, false), .scale = 1, .decimal = "."};
  a->connector[1].form.kind = FORM_NONE;
  g_assert_cmpint(sizes_check(a, 1, 872, 600, &context, LAYER_ALL | LAYER_SIZES, (Box){0, 0, 0, 0}),
                  ==, 1);
  for (SizeKind kind = 0; kind < SIZE_KINDS; kind++)
    g_assert_true(isnan(size_of_form(&a->connector[1].form, kind)) ==
                  (kind != SIZE_NECK_HEIGHT && kind != SIZE_NECK_WIDTH));
  fake_assessment_free(a);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/sizes/labels", test_labels);
  g_test_add_func("/sizes/little-room", test_little_room);
  g_test_add_func("/sizes/no-embrasure", test_no_embrasure);
  return g_test_run();
}
