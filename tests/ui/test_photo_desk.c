/* test_photo_desk.c - a photo from its file to a verdict, without a screen.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "made_photo.h"
#include "casefile/case_xml.h"
#include "ui/photo/photo_desk.h"
#include <glib/gstdio.h>
#include <string.h>

typedef struct {
  SoffitSession *session;
  SoffitPhotoDesk *desk;
  char *folder, *state, *picture; /* owned */
  char *trouble;                  /* owned; the last one */
} Table;

static Fault run_none(Assessor *assessor, const Case *c, const AssessSettings *settings,
                      Assessment **result)
{
  (void)assessor, (void)c, (void)settings, (void)result;
  return FAULT_CANCELLED;
}

static void trouble_came(SoffitPhotoDesk *desk, const char *words, Table *t)
{
  (void)desk;
  g_free(t->trouble);
  t->trouble = g_strdup(words);
}

static void wait_for(Table *t, PhotoState state)
{
  gint64 end = g_get_monotonic_time() + 20 * G_USEC_PER_SEC;
  while (photo_desk_state(t->desk) != state ||
         (state == PHOTO_SHOWN && !photo_desk_underlay(t->desk))) {
    g_main_context_iteration(NULL, FALSE);
    if (g_get_monotonic_time() > end)
      g_error("state %d, wanted %d: %s", photo_desk_state(t->desk), state,
              t->trouble ? t->trouble : "");
  }
}

static void desk_begin(Table *t)
{
  t->session = session_new(t->state, run_none);
  t->desk = photo_desk_new(t->session);
  g_signal_connect(t->desk, "trouble", G_CALLBACK(trouble_came), t);
}

static void desk_end(Table *t)
{
  session_close(t->session);
  g_clear_object(&t->desk);
  g_clear_object(&t->session);
}

static void table_begin(Table *t)
{
  GError *error = NULL;
  *t = (Table){.folder = g_dir_make_tmp("soffit-photo-XXXXXX", &error)};
  g_assert_no_error(error);
  t->state = g_build_filename(t->folder, "state", NULL);
  t->picture = g_build_filename(t->folder, "piece one.PNG", NULL);
  g_autoptr(GdkPixbuf) photo = made_photo(0.03);
  gdk_pixbuf_save(photo, t->picture, "png", &error, NULL);
  g_assert_no_error(error);
  desk_begin(t);
  g_assert_true(session_open_demo(t->session, "demo/QB-02.xml", &error));
}

static void remove_all(const char *path)
{
  g_autoptr(GDir) dir = g_dir_open(path, 0, NULL);
  const char *name;
  while (dir && (name = g_dir_read_name(dir))) {
    g_autofree char *inside = g_build_filename(path, name, NULL);
    remove_all(inside);
  }
  g_remove(path);
}

static void table_end(Table *t)
{
  desk_end(t);
  remove_all(t->folder);
  g_free(t->folder);
  g_free(t->state);
  g_free(t->picture);
  g_free(t->trouble);
}

/* mm of the drawing where a place of the piece lies now. */
static Point lies(Table *t, Point piece_mm)
{
  PlaneMap map;
  g_assert_cmpint(photo_map(&photo_desk_photo(t->desk)->plane, &map), ==, FAULT_NONE);
  return plane_map_at(&map, made_px(piece_mm));
}

static void mark_piece(Table *t, PhotoMode mode, const Point piece[], size_t n)
{
  photo_desk_set_mode(t->desk, mode);
  while (photo_desk_marks(t->desk, (Point[PHOTO_MARKS]){{0}}) > 0)
    photo_desk_mark_drop(t->desk);
  for (size_t i = 0; i < n; i++)
    photo_desk_mark(t->desk, lies(t, piece[i]), 1e-9);
}

static const Point card[4] = {{-5, 10}, {5, 10}, {5, 8}, {-5, 8}};

static void straighten_and_scale(Table *t)
{
  Point tick[9];
  for (int i = 0; i < 9; i++)
    tick[i] = point(-2 + 0.5 * i, -1);
  mark_piece(t, PHOTO_CORNERS, card, 4);
  g_assert_cmpint(photo_desk_straighten(t->desk, 5, 1, NAN), ==, FAULT_NONE);
  mark_piece(t, PHOTO_TICKS, tick, 9);
  g_assert_cmpint(photo_desk_scale(t->desk, 0.5, 0.005), ==, FAULT_NONE);
}

static void test_whole_way(void)
{
  Table t;
  table_begin(&t);
  photo_desk_open(t.desk, t.picture);
  wait_for(&t, PHOTO_SHOWN);
  const Photo *photo = photo_desk_photo(t.desk);
  g_assert_true(g_str_has_prefix(photo->file, "photos/34-35-"));
  g_assert_true(g_str_has_suffix(photo->file, ".png"));
  g_assert_cmpuint(strlen(photo->sha256), ==, 64);
  g_assert_cmpstr(session_undo_name(t.session), ==, "Open photo");
  straighten_and_scale(&t);
  /* straight and true: known distances come out, wherever they lie */
  g_assert_cmpfloat(
      fabs(point_distance(lies(&t, point(-3, 1)), lies(&t, point(4, 6))) - hypot(7, 5)), <, 0.01);
  double mm_px, percent;
  g_assert_cmpint(photo_scale(&photo_desk_photo(t.desk)->plane, &mm_px, &percent), ==, FAULT_NONE);
  g_assert_cmpfloat(percent, >, 0.5);
  g_assert_cmpfloat(percent, <, 6);
  g_test_message("scale known to %.2f %%", percent);
  session_undo(t.session);
  g_assert_cmpint(photo_scale(&photo_desk_photo(t.desk)->plane, &mm_px, &percent), ==,
                  FAULT_UNSCALED);
  session_redo(t.session);
  session_undo(t.session), session_undo(t.session), session_undo(t.session);
  g_assert_cmpint(photo_desk_state(t.desk), ==, PHOTO_NONE);
  session_redo(t.session); /* its bytes wait in the store */
  wait_for(&t, PHOTO_SHOWN);
  table_end(&t);
}

static char *saved_photo(Table *t, const char *path)
{
  g_autofree char *folder = g_path_get_dirname(path);
  return g_build_filename(folder, photo_desk_photo(t->desk)->file, NULL);
}

static void test_saved_and_found_again(void)
{
  Table t;
  GError *error = NULL;
  table_begin(&t);
  photo_desk_open(t.desk, t.picture);
  wait_for(&t, PHOTO_SHOWN);
  straighten_and_scale(&t);
  g_autofree char *first = g_build_filename(t.folder, "first.xml", NULL),
                  *second = g_build_filename(t.folder, "other", "second.xml", NULL),
                  *other = g_build_filename(t.folder, "other", NULL);
  g_mkdir(other, 0777);
  g_assert_true(session_save(t.session, first, &error));
  g_autofree char *beside = saved_photo(&t, first);
  g_assert_true(g_file_test(beside, G_FILE_TEST_IS_REGULAR));
  /* the store may go: what was saved stands by itself */
  remove_all(t.state);
  g_assert_true(session_save(t.session, second, &error));
  g_autofree char *copied = saved_photo(&t, second);
  g_assert_true(g_file_test(copied, G_FILE_TEST_IS_REGULAR));
  desk_end(&t);
  desk_begin(&t);
  g_assert_true(session_open(t.session, second, &error));
  wait_for(&t, PHOTO_SHOWN);
  /* painted over, then gone: said, and the numbers stay */
  desk_end(&t);
  g_assert_true(g_file_set_contents(copied, "not the same", -1, &error));
  desk_begin(&t);
  g_assert_true(session_open(t.session, second, &error));
  wait_for(&t, PHOTO_LOST);
  g_assert_nonnull(strstr(t.trouble, "not the picture any more"));
  double mm_px, percent;
  g_assert_cmpint(photo_scale(&photo_desk_photo(t.desk)->plane, &mm_px, &percent), ==, FAULT_NONE);
  g_assert_null(photo_desk_underlay(t.desk));
  g_unlink(copied);
  desk_end(&t);
  desk_begin(&t);
  g_assert_true(session_open(t.session, second, &error));
  wait_for(&t, PHOTO_LOST);
  g_assert_nonnull(strstr(t.trouble, "the photo is not there"));
  /* the same photo opened again: all marks are good still */
  PhotoPlane before = photo_desk_photo(t.desk)->plane;
  photo_desk_open(t.desk, t.picture);
  wait_for(&t, PHOTO_SHOWN);
  g_assert_true(memcmp(&before, &photo_desk_photo(t.desk)->plane, sizeof before) == 0);
  /* kept inside of the case it needs no file beside; out again it lies there */
  photo_desk_set_inside(t.desk, true);
  g_assert_cmpstr(session_undo_name(t.session), ==, "Keep photo inside");
  g_assert_true(session_save(t.session, second, &error));
  g_unlink(copied);
  desk_end(&t);
  desk_begin(&t);
  g_assert_true(session_open(t.session, second, &error));
  wait_for(&t, PHOTO_SHOWN);
  g_assert_nonnull(photo_desk_photo(t.desk)->inside);
  photo_desk_set_inside(t.desk, false);
  g_assert_null(photo_desk_photo(t.desk)->inside);
  g_assert_true(session_save(t.session, second, &error));
  g_assert_true(g_file_test(copied, G_FILE_TEST_IS_REGULAR));
  table_end(&t);
}

static void test_bad_files(void)
{
  Table t;
  table_begin(&t);
  g_autofree char *text = g_build_filename(t.folder, "words.jpg", NULL),
                  *gone = g_build_filename(t.folder, "gone.png", NULL);
  g_assert_true(g_file_set_contents(text, "no picture", -1, NULL));
  const char *const path[] = {text, gone, t.folder},
                    *says[] = {"no PNG", "cannot be read", "no regular file"};
  for (size_t i = 0; i < G_N_ELEMENTS(path); i++) {
    g_clear_pointer(&t.trouble, g_free);
    photo_desk_open(t.desk, path[i]);
    wait_for(&t, PHOTO_NONE);
    g_test_message("%s", t.trouble);
    g_assert_nonnull(strstr(t.trouble, says[i]));
    g_assert_null(session_undo_name(t.session));
  }
  /* a good one stays when a bad one follows */
  photo_desk_open(t.desk, t.picture);
  wait_for(&t, PHOTO_SHOWN);
  photo_desk_open(t.desk, text);
  wait_for(&t, PHOTO_SHOWN);
  g_assert_nonnull(strstr(t.trouble, "no PNG"));
  table_end(&t);
}

static void test_marks(void)
{
  Table t;
  table_begin(&t);
  Point mm[PHOTO_MARKS];
  photo_desk_set_mode(t.desk, PHOTO_TICKS); /* nothing to mark on */
  g_assert_cmpint(photo_desk_mode(t.desk), ==, PHOTO_REST);
  photo_desk_open(t.desk, t.picture);
  wait_for(&t, PHOTO_SHOWN);
  photo_desk_set_mode(t.desk, PHOTO_CORNERS);
  for (int i = 0; i < 6; i++) /* no more than four */
    photo_desk_mark(t.desk, point(i, 1 + i % 2), 0.1);
  g_assert_cmpuint(photo_desk_marks(t.desk, mm), ==, 4);
  photo_desk_mark(t.desk, point(1.05, 2), 0.1); /* takes the second */
  g_assert_cmpuint(photo_desk_chosen(t.desk), ==, 1);
  photo_desk_mark_move(t.desk, point(-1, 3));
  photo_desk_marks(t.desk, mm);
  g_assert_cmpfloat(point_distance(mm[1], point(-1, 3)), <, 1e-9);
  photo_desk_mark_drop(t.desk);
  g_assert_cmpuint(photo_desk_marks(t.desk, mm), ==, 3);
  g_assert_cmpint(photo_desk_straighten(t.desk, 3, 2, NAN), ==, FAULT_DEGENERATE);
  photo_desk_set_mode(t.desk, PHOTO_TICKS);
  photo_desk_mark(t.desk, point(0, 1), 0.1);
  g_assert_cmpint(photo_desk_scale(t.desk, 3, 0), ==, FAULT_RANGE);
  photo_desk_mark(t.desk, point(0, 4), 0.1);
  g_assert_cmpint(photo_desk_scale(t.desk, NAN, 0), ==, FAULT_RANGE);
  g_assert_cmpint(photo_desk_scale(t.desk, 3, 0), ==, FAULT_NONE);
  /* placed by hand, unless it is held fast */
  double x = photo_desk_photo(t.desk)->plane.x;
  photo_desk_shift(t.desk, 0.25, 0);
  g_assert_cmpfloat(fabs(photo_desk_photo(t.desk)->plane.x - x - 0.25), <, 1e-12);
  photo_desk_set_locked(t.desk, true);
  photo_desk_shift(t.desk, 0.25, 0);
  photo_desk_turn(t.desk, 5);
  g_assert_cmpfloat(fabs(photo_desk_photo(t.desk)->plane.x - x - 0.25), <, 1e-12);
  photo_desk_set_locked(t.desk, false);
  photo_desk_reset(t.desk);
  g_assert_cmpuint(photo_desk_photo(t.desk)->plane.n_mark, ==, 0);
  /* another neck: its own photo, none */
  session_set_focus(t.session, 1);
  g_assert_cmpint(photo_desk_state(t.desk), ==, PHOTO_NONE);
  session_set_focus(t.session, 0);
  wait_for(&t, PHOTO_SHOWN);
  photo_desk_remove(t.desk);
  g_assert_cmpint(photo_desk_state(t.desk), ==, PHOTO_NONE);
  table_end(&t);
}

/* A traced line goes with the scale that comes later, feet on the tissue line. */
static void test_line_follows_scale(void)
{
  Table t;
  table_begin(&t);
  photo_desk_open(t.desk, t.picture);
  wait_for(&t, PHOTO_SHOWN);
  photo_desk_set_traced(t.desk, true);
  const Connector *k = &session_case(t.session)->connector[0];
  double before = k->side[SIDE_GINGIVAL].knot[0].at.x;
  photo_desk_set_mode(t.desk, PHOTO_TICKS);
  photo_desk_mark(t.desk, point(0, 1), 0.01);
  photo_desk_mark(t.desk, point(0, 4), 0.01);
  g_assert_cmpint(photo_desk_scale(t.desk, 3.3, 0), ==, FAULT_NONE); /* 1.1 times as large */
  g_assert_cmpfloat(fabs(k->side[SIDE_GINGIVAL].knot[0].at.x - 1.1 * before), <, 1e-9);
  g_assert_cmpfloat(fabs(k->side[SIDE_GINGIVAL].knot[0].at.y), <, 1e-9);
  session_undo(t.session);
  g_assert_cmpfloat(fabs(k->side[SIDE_GINGIVAL].knot[0].at.x - before), <, 1e-12);
  photo_desk_remove(t.desk); /* no scale, and the line is not free of it */
  g_assert_true(isnan(connector_trace_percent(k)));
  photo_desk_set_traced(t.desk, false);
  g_assert_cmpfloat(connector_trace_percent(k), <=, 0);
  table_end(&t);
}

/* A stroke 0.12 mm beside the roof clings to it. */
static void test_clings(void)
{
  Table t;
  table_begin(&t);
  photo_desk_open(t.desk, t.picture);
  wait_for(&t, PHOTO_SHOWN);
  straighten_and_scale(&t);
  enum { N = 60 };
  Point stroke[N], clung[N];
  double off = 0;
  for (int i = 0; i < N; i++) {
    double x = -1.1 + 2.2 * i / (N - 1);
    double slope = -2 * MADE_ROOF * x / (MADE_FOOT * MADE_FOOT), length = hypot(1, slope);
    Point roof = point(x, MADE_ROOF * (1 - x * x / (MADE_FOOT * MADE_FOOT)));
    stroke[i] = lies(&t, point(roof.x + 0.12 * slope / length, roof.y - 0.12 / length));
  }
  g_assert_false(photo_desk_clung(t.desk, stroke, N, clung)); /* off until asked for */
  photo_desk_set_cling(t.desk, true, 0.2);
  gint64 end = g_get_monotonic_time() + 20 * G_USEC_PER_SEC; /* until it is straightened, too */
  while (!photo_desk_clung(t.desk, stroke, N, clung) && g_get_monotonic_time() < end)
    g_main_context_iteration(NULL, FALSE);
  PlaneMap map, back, lens = made_map();
  g_assert_cmpint(photo_map(&photo_desk_photo(t.desk)->plane, &map), ==, FAULT_NONE);
  g_assert_cmpint(plane_map_invert(&map, &back), ==, FAULT_NONE);
  for (int i = 0; i < N; i++) { /* back on the piece, against the formula it was made from */
    Point p = plane_map_at(&lens, plane_map_at(&back, clung[i]));
    double slope = -2 * MADE_ROOF * p.x / (MADE_FOOT * MADE_FOOT);
    double miss = (p.y - MADE_ROOF * (1 - p.x * p.x / (MADE_FOOT * MADE_FOOT))) / hypot(1, slope);
    off += miss * miss / N;
  }
  g_test_message("0.12 mm beside the roof -> %.4f mm", sqrt(off));
  g_assert_cmpfloat(sqrt(off), <, 0.015);
  photo_desk_set_hidden(t.desk, true); /* nothing is seen: nothing to cling to */
  g_assert_false(photo_desk_clung(t.desk, stroke, N, clung));
  table_end(&t);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/photo-desk/whole-way", test_whole_way);
  g_test_add_func("/photo-desk/saved", test_saved_and_found_again);
  g_test_add_func("/photo-desk/bad-files", test_bad_files);
  g_test_add_func("/photo-desk/marks", test_marks);
  g_test_add_func("/photo-desk/line-follows-scale", test_line_follows_scale);
  g_test_add_func("/photo-desk/clings", test_clings);
  return g_test_run();
}
