/* test_photo_decode.c - pictures of all kinds, and of none.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "made_photo.h"
#include "ui/photo/photo_decode.h"
#include "ui/photo/photo_look.h"
#include <string.h>

static PhotoPixels *decode(GBytes *bytes, GError **error)
{
  gsize n;
  const void *data = g_bytes_get_data(bytes, &n);
  return photo_decode(data, n, "piece.jpg", error);
}

/* Upper half red, lower half blue. */
static GdkPixbuf *halves(int width, int height)
{
  GdkPixbuf *p = gdk_pixbuf_new(GDK_COLORSPACE_RGB, FALSE, 8, width, height);
  gdk_pixbuf_fill(p, 0xff0000ff);
  g_autoptr(GdkPixbuf) low = gdk_pixbuf_new_subpixbuf(p, 0, height / 2, width, height - height / 2);
  gdk_pixbuf_fill(low, 0x0000ffff);
  return p;
}

static bool reddish(const unsigned char *rgb)
{
  return rgb[0] > 180 && rgb[1] < 80 && rgb[2] < 80;
}

static const unsigned char *pixel(const PhotoPixels *p, int x, int y)
{
  return p->rgb + 3 * ((size_t)y * (size_t)p->width + (size_t)x);
}

static void test_kinds(void)
{
  static const char *const kind[] = {"png", "jpeg", "tiff"};
  g_autoptr(GdkPixbuf) picture = halves(90, 60);
  for (size_t i = 0; i < G_N_ELEMENTS(kind); i++) {
    GError *error = NULL;
    g_autoptr(GBytes) bytes = made_bytes(picture, kind[i]);
    gsize n;
    const void *data = g_bytes_get_data(bytes, &n);
    g_assert_cmpstr(photo_kind(data, n), ==, kind[i]);
    PhotoPixels *p = decode(bytes, &error);
    g_assert_no_error(error);
    g_assert_true(p->width == 90 && p->height == 60);
    g_assert_true(reddish(pixel(p, 45, 3)) && !reddish(pixel(p, 45, 56)));
    photo_pixels_unref(p);
  }
}

/* A TIFF without compression: 16 bits of red, green, blue, or 8 bits of CMYK. */
static GBytes *tiff_made(int width, int height, bool cmyk)
{
  GByteArray *out = g_byte_array_new();
  int samples = cmyk ? 4 : 3, bits = cmyk ? 8 : 16;
  guint32 size = (guint32)(width * height * samples * bits / 8), bits_at = 8 + 10 * 12 + 2 + 4,
          data_at = bits_at + 8;
  const guint32 field[10][4] = {/* tag, type (3 short, 4 long), count, value */
                                {256, 4, 1, (guint32)width},
                                {257, 4, 1, (guint32)height},
                                {258, 3, (guint32)samples, bits_at},
                                {259, 3, 1, 1},
                                {262, 3, 1, cmyk ? 5 : 2},
                                {273, 4, 1, data_at},
                                {277, 3, 1, (guint32)samples},
                                {278, 4, 1, (guint32)height},
                                {279, 4, 1, size},
                                {284, 3, 1, 1}};
  const guint8 head[] = {'I', 'I', 42, 0, 8, 0, 0, 0, 10, 0};
  g_byte_array_append(out, head, sizeof head);
  for (int i = 0; i < 10; i++) {
    guint16 tag[2] = {GUINT16_TO_LE((guint16)field[i][0]), GUINT16_TO_LE((guint16)field[i][1])};
    guint32 value[2] = {GUINT32_TO_LE(field[i][2]), GUINT32_TO_LE(field[i][3])};
    g_byte_array_append(out, (guint8 *)tag, sizeof tag);
    g_byte_array_append(out, (guint8 *)value, sizeof value);
  }
  g_byte_array_set_size(out, data_at);
  for (int i = 0; i < 4; i++) {
    out->data[bits_at + 2 * (guint)i] = (guint8)bits;
    out->data[bits_at + 2 * (guint)i + 1] = 0;
  }
  memset(out->data + bits_at - 4, 0, 4); /* no further picture */
  for (int j = 0; j < height; j++)
    for (int i = 0; i < width; i++) {
      bool upper = j < height / 2;
      const guint8 ink[2][4] = {{255, 255, 0, 0}, {0, 255, 255, 0}};
      const guint16 light[2][3] = {{0, 0, 65535}, {65535, 0, 0}};
      if (cmyk)
        g_byte_array_append(out, ink[upper], 4);
      else
        g_byte_array_append(out, (const guint8 *)light[upper], 6);
    }
  return g_byte_array_free_to_bytes(out);
}

static void test_deep_and_cmyk(void)
{
  for (int cmyk = 0; cmyk < 2; cmyk++) {
    GError *error = NULL;
    g_autoptr(GBytes) bytes = tiff_made(40, 30, cmyk != 0);
    PhotoPixels *p = decode(bytes, &error);
    g_assert_no_error(error);
    g_assert_true(reddish(pixel(p, 20, 2)) && !reddish(pixel(p, 20, 28)));
    photo_pixels_unref(p);
  }
}

/* The eight ways a camera may lie, written into a JPEG by hand. */
static void test_turned(void)
{
  g_autoptr(GdkPixbuf) picture = halves(96, 64);
  g_autoptr(GBytes) plain = made_bytes(picture, "jpeg");
  gsize n;
  const guint8 *data = g_bytes_get_data(plain, &n);
  for (guint8 way = 1; way <= 8; way++) {
    const guint8 exif[] = {0xff, 0xe1, 0, 34, 'E', 'x', 'i', 'f', 0,    0, 'I', 'I',
                           42,   0,    8, 0,  0,   0,   1,   0,   0x12, 1, 3,   0,
                           1,    0,    0, 0,  way, 0,   0,   0,   0,    0, 0,   0};
    g_autoptr(GByteArray) out = g_byte_array_new();
    g_byte_array_append(out, data, 2);
    g_byte_array_append(out, exif, sizeof exif);
    g_byte_array_append(out, data + 2, (guint)(n - 2));
    g_autoptr(GBytes) bytes = g_bytes_new(out->data, out->len);
    GError *error = NULL;
    PhotoPixels *p = decode(bytes, &error);
    g_assert_no_error(error);
    bool across = way >= 5;
    g_assert_true(p->width == (across ? 64 : 96) && p->height == (across ? 96 : 64));
    g_assert_true((p->full_width > p->full_height) == !across);
    /* where the upper edge of what the camera wrote lies upright (EXIF 2.3, tag 274) */
    int x = across ? (way == 5 || way == 8 ? 3 : 60) : 48, y = across ? 48 : way <= 2 ? 3 : 60;
    if (!reddish(pixel(p, x, y)))
      g_test_fail_printf("orientation %u", way);
    photo_pixels_unref(p);
  }
}

static void refused(GBytes *bytes, PhotoErrorCode code, const char *says)
{
  GError *error = NULL;
  PhotoPixels *p = decode(bytes, &error);
  g_assert_null(p);
  g_assert_error(error, PHOTO_ERROR, (int)code);
  g_test_message("%s", error->message);
  g_assert_true(g_str_has_prefix(error->message, "piece.jpg: "));
  g_assert_nonnull(strstr(error->message, says));
  g_error_free(error);
}

/* A PNG that says it is large and holds nothing; sums as PNG wants them. */
static GBytes *png_saying(guint32 width, guint32 height)
{
  guint8 png[45] = "\x89PNG\r\n\x1a\n\0\0\0\rIHDR";
  const guint8 data[12] = {0, 0, 0, 9, 'I', 'D', 'A', 'T', 0x78, 0x9c, 0, 0};
  const guint32 size[2] = {GUINT32_TO_BE(width), GUINT32_TO_BE(height)};
  memcpy(png + 16, size, 8);
  png[24] = 8;
  png[25] = 2;
  guint32 sum = 0xffffffff;
  for (int i = 12; i < 29; i++) {
    sum ^= png[i];
    for (int k = 0; k < 8; k++)
      sum = sum >> 1 ^ (sum & 1 ? 0xedb88320 : 0);
  }
  sum = GUINT32_TO_BE(~sum);
  memcpy(png + 29, &sum, 4);
  memcpy(png + 33, data, sizeof data);
  return g_bytes_new(png, sizeof png);
}

static void test_refused(void)
{
  g_autoptr(GdkPixbuf) small = halves(5, 3), picture = halves(300, 200);
  g_autoptr(GBytes) empty = g_bytes_new_static("", 0), text = g_bytes_new_static("a,b\n1,2\n", 8),
                    gif = g_bytes_new_static("GIF89a\1\0\1\0", 10),
                    svg = g_bytes_new_static("<svg xmlns='x'/>", 16),
                    tiny = made_bytes(small, "png"), huge = png_saying(40000, 30000),
                    long_one = png_saying(200000, 20), nothing = png_saying(300, 200);
  refused(empty, PHOTO_ERROR_EMPTY, "empty");
  refused(text, PHOTO_ERROR_KIND, "no PNG, JPEG or TIFF");
  refused(gif, PHOTO_ERROR_KIND, "no PNG, JPEG or TIFF");
  refused(svg, PHOTO_ERROR_KIND, "no PNG, JPEG or TIFF");
  refused(tiny, PHOTO_ERROR_SMALL, "5 × 3");
  refused(huge, PHOTO_ERROR_LARGE, "40000 × 30000");
  refused(long_one, PHOTO_ERROR_LARGE, "200000 × 20");
  refused(nothing, PHOTO_ERROR_BROKEN, "damaged");
  static const char *const kind[] = {"png", "jpeg", "tiff"};
  for (size_t i = 0; i < G_N_ELEMENTS(kind); i++) {
    g_autoptr(GBytes) whole = made_bytes(picture, kind[i]);
    g_autoptr(GBytes) half = g_bytes_new_from_bytes(whole, 0, g_bytes_get_size(whole) / 2);
    refused(half, PHOTO_ERROR_BROKEN, "save it as PNG or JPEG");
  }
}

/* More than is kept: smaller, but its marks are in px of the file. */
static void test_large(void)
{
  GError *error = NULL;
  g_autoptr(GdkPixbuf) picture = halves(6000, 4000);
  g_autoptr(GBytes) bytes = made_bytes(picture, "jpeg");
  PhotoPixels *p = decode(bytes, &error);
  g_assert_no_error(error);
  g_assert_cmpfloat((double)p->width * p->height, <=, PHOTO_MEGAPIXELS_KEPT * 1e6);
  g_assert_cmpfloat((double)p->width * p->height, >, PHOTO_MEGAPIXELS_KEPT * 0.9e6);
  g_assert_cmpfloat(fabs(p->full_width - 6000) + fabs(p->full_height - 4000), <, 1e-9);
  g_assert_true(reddish(pixel(p, 100, p->height / 2 - 8)) &&
                !reddish(pixel(p, 100, p->height / 2 + 8)));
  photo_pixels_unref(p);
}

/* Broken at random: a picture or a message, never anything else. */
static void test_broken_at_random(void)
{
  static const char *const kind[] = {"png", "jpeg", "tiff"};
  g_autoptr(GdkPixbuf) picture = halves(40, 40);
  uint64_t state = 17;
  for (size_t k = 0; k < G_N_ELEMENTS(kind); k++) {
    g_autoptr(GBytes) good = made_bytes(picture, kind[k]);
    gsize n;
    const guint8 *from = g_bytes_get_data(good, &n);
    int read = 0;
    for (int turn = 0; turn < 300; turn++) {
      g_autofree guint8 *bad = g_memdup2(from, n);
      for (int i = 0; i < 1 + turn % 8; i++)
        bad[4 + random_next(&state) % (n - 4)] = (guint8)random_next(&state);
      gsize length = turn % 3 ? n : 1 + random_next(&state) % n;
      GError *error = NULL;
      PhotoPixels *p = photo_decode(bad, length, "piece.jpg", &error);
      g_assert_true((p == NULL) == (error != NULL));
      read += p != NULL;
      photo_pixels_unref(p);
      g_clear_error(&error);
    }
    g_test_message("%s: %d of 300 were still read", kind[k], read);
  }
}

/* Of the bright card on the photo: its sides, and how much of their rectangle it fills. */
static void card_sides(const PhotoPixels *p, double *width, double *height, double *filled)
{
  int left = p->width, right = 0, top = p->height, low = 0, bright = 0;
  for (int j = 0; j < p->height; j++)
    for (int i = 0; i < p->width; i++)
      if (abs(pixel(p, i, j)[0] - 242) < 12) {
        left = MIN(left, i), right = MAX(right, i + 1);
        top = MIN(top, j), low = MAX(low, j + 1);
        bright++;
      }
  *width = right - left;
  *height = low - top;
  *filled = bright / (*width * *height);
}

/* A card of 10 by 2 mm, photographed at a slant, is a rectangle of 5 to 1 once its corners are
 * marked (read: its size, made_photo.h). */
static void test_looked_at(void)
{
  const Point mm[4] = {{-5, 10}, {5, 10}, {5, 8}, {-5, 8}};
  Point corner[4];
  GError *error = NULL;
  Photo photo;
  double width, height, filled;
  g_autoptr(GdkPixbuf) picture = made_photo(0);
  g_autoptr(GBytes) bytes = made_bytes(picture, "png");
  photo_init(&photo);
  g_free(photo.file);
  photo.file = g_strdup("photos/piece.png");
  photo.inside = g_bytes_ref(bytes);
  photo_plane_init(&photo.plane, MADE_WIDTH, MADE_HEIGHT, 12, point(0, 4));
  PhotoPixels *taken = photo_look(&photo, NULL, 4000, &error);
  g_assert_no_error(error);
  g_assert_cmpint(taken->width, ==, MADE_WIDTH);
  card_sides(taken, &width, &height, &filled);
  g_assert_cmpfloat(filled, <, 0.9); /* as it was taken it stands aslant */
  for (int i = 0; i < 4; i++)
    corner[i] = made_px(mm[i]);
  g_assert_cmpint(photo_set_corners(&photo.plane, corner, 10, 2, 0.05, point(0, 4), NULL), ==,
                  FAULT_NONE);
  PhotoPixels *straight = photo_look(&photo, NULL, 4000, &error);
  g_assert_no_error(error);
  card_sides(straight, &width, &height, &filled);
  g_assert_cmpfloat_with_epsilon(width / height, 5, 0.15);
  g_assert_cmpfloat(filled, >, 0.97);
  PhotoPixels *small = photo_look(&photo, NULL, 100, &error);
  g_assert_cmpint(MAX(small->width, small->height), <=, 200);
  photo_pixels_unref(taken);
  photo_pixels_unref(straight);
  photo_pixels_unref(small);
  photo_clear(&photo);
}

static void lost(const char *file, const char *words)
{
  Photo photo;
  GError *error = NULL;
  photo_init(&photo);
  g_free(photo.file);
  photo.file = g_strdup(file);
  g_assert_null(photo_look(&photo, "nowhere/case.xml", 100, &error));
  g_assert_nonnull(strstr(error->message, file));
  g_assert_nonnull(strstr(error->message, words));
  g_clear_error(&error);
  photo_clear(&photo);
}

static void test_lost(void)
{
  lost("photos/gone.png", "is not there");
  lost("../../etc/passwd", "is not there"); /* never beside the folder of the case */
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_log_set_always_fatal(G_LOG_LEVEL_CRITICAL | G_LOG_FATAL_MASK);
  g_test_add_func("/photo-decode/kinds", test_kinds);
  g_test_add_func("/photo-decode/deep-and-cmyk", test_deep_and_cmyk);
  g_test_add_func("/photo-decode/turned", test_turned);
  g_test_add_func("/photo-decode/refused", test_refused);
  g_test_add_func("/photo-decode/large", test_large);
  g_test_add_func("/photo-decode/broken-at-random", test_broken_at_random);
  g_test_add_func("/photo-decode/looked-at", test_looked_at);
  g_test_add_func("/photo-decode/lost", test_lost);
  return g_test_run();
}
