/* test_photo_case.c - the photo of a connector: in the case file, beside it, and in the answer.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess.h"
#include "case_files.h"
#include "casefile/photo.h"
#include "proof.h"

static const Source cube = {"similar bodies under the same moment: stress as 1 / size^3", EXACT};

static void photo_put(Photo *photo)
{
  photo_init(photo);
  g_free(photo->file);
  g_free(photo->sha256);
  photo->sha256 = photo_sha256("a picture", 9);
  photo->file = g_strdup("photos/34-35-1a2b3c4d5e6f.jpg");
  photo_plane_init(&photo->plane, 4000, 3000, 20, point(0.1, 3.7));
  photo->opacity = 0.45;
  photo->locked = ANSWER_YES;
}

static void scale_put(Photo *photo, double distance_error)
{
  const Point mark[2] = {{1000, 1500}, {1600, 1500}};
  g_assert_cmpint(
      photo_set_marks(&photo->plane, mark, 2, 3, distance_error, 0.01, point(0, 0), NULL), ==,
      FAULT_NONE);
}

static void test_round_trip(void)
{
  Case c, back;
  demo_load(&c, "demo/QB-02.xml");
  case_init(&back);
  Photo *photo = &c.connector[1].photo;
  photo_clear(photo);
  photo_put(photo);
  const Point corner[4] = {{1100, 900}, {2900, 1000}, {2800, 2200}, {1000, 2100}};
  g_assert_cmpint(photo_set_corners(&photo->plane, corner, 12, 8, 0.05, point(0, 0), NULL), ==,
                  FAULT_NONE);
  scale_put(photo, 0.02);
  photo_turn(&photo->plane, -3.25, point(0, 0));
  photo->traced = ANSWER_YES;
  g_autofree char *path = in_folder("photo.xml");
  g_autoptr(GError) error = NULL;
  case_save(&c, path, &error);
  g_assert_no_error(error);
  case_load(&back, path, &error);
  g_assert_no_error(error);
  g_assert_true(case_equal(&c, &back));
  const Photo *read = &back.connector[1].photo;
  g_assert_cmpstr(read->file, ==, photo->file);
  PlaneMap a, b;
  g_assert_true(!photo_map(&photo->plane, &a) && !photo_map(&read->plane, &b));
  for (int i = 0; i < 9; i++)
    g_assert_cmpfloat(a.m[i], ==, b.m[i]);
  Case copy;
  case_init(&copy);
  g_assert_cmpint(case_copy(&copy, &c), ==, FAULT_NONE);
  g_assert_true(case_equal(&c, &copy));
  copy.connector[1].photo.opacity = 0.5;
  g_assert_false(case_equal(&c, &copy));
  /* taken away: what was traced keeps its scale */
  photo_remove(&copy.connector[1].photo);
  g_assert_false(photo_there(&copy.connector[1].photo));
  g_assert_cmpfloat(connector_trace_percent(&copy.connector[1]), >, 0);
  c.connector[1].photo.traced = ANSWER_UNKNOWN;
  photo_remove(&c.connector[1].photo);
  g_assert_cmpfloat(c.connector[1].photo.plane.width, <, 1);
  g_unlink(path);
  case_clear(&c);
  case_clear(&back);
  case_clear(&copy);
}

static void test_bad_elements(void)
{
  static const struct {
    const char *photo, *says;
  } row[] = {
      {"<photo file='/tmp/a.jpg' width='10' height='10' zoom='1'/>", "leaves the folder"},
      {"<photo file='../a.jpg' width='10' height='10' zoom='1'/>", "leaves the folder"},
      {"<photo file='a.jpg' height='10' zoom='1'/>", "width"},
      {"<photo file='a.jpg' width='nan' height='10' zoom='1'/>", "width"},
      {"<photo file='a.jpg' width='10' height='1e9' zoom='1'/>", "height"},
      {"<photo file='a.jpg' width='10' height='10' zoom='1' marks='(1, 1)'/>", "marks"},
      {"<photo file='a.jpg' width='10' height='10' zoom='1' marks='nonsense'/>", "marks"},
      {"<photo file='a.jpg' width='10' height='10' zoom='1' marks='(1, 1) (1, 1)' distance='3'/>",
       "give no picture"},
      {"<photo file='a.jpg' width='10' height='10' zoom='1' marks='(1, 1) (9, 1)'/>",
       "give no picture"},
      {"<photo file='a.jpg' width='10' height='10' zoom='1' corners='(0, 0) (1, 1) (2, 2) (3, 3)' "
       "rectangle-width='3' rectangle-height='2'/>",
       "give no picture"},
      {"<photo file='a.jpg' width='10' height='10' zoom='1' corners='(0, 0) (1, 1)'/>", "corners"},
      {"<photo file='a.jpg' width='10' height='10'/>", "give no picture"},
      {"<photo file='a.jpg' width='10' height='10' zoom='1' sha256='xyz'/>", "sha256"},
      {"<photo file='a.jpg' width='10' height='10' zoom='1' patient='x'/>", "patient"},
      {"<photo file='a.jpg' width='10' height='10' zoom='1' traced='perhaps'/>", "traced"},
      {"<photo width='10' height='10' zoom='1'/><photo width='10' height='10' zoom='1'/>", "twice"},
  };
  g_autofree char *text = shipped_text("demo/QB-02.xml");
  const char *place = strstr(text, "</connector>");
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    g_autofree char *bad =
        g_strdup_printf("%.*s%s%s", (int)(place - text), text, row[i].photo, place);
    Case c;
    GError *error = NULL;
    case_init(&c);
    g_assert_false(case_load_memory(&c, bad, strlen(bad), "bad.xml", &error));
    g_test_message("%s", error->message);
    g_assert_nonnull(strstr(error->message, row[i].says));
    g_assert_true(g_str_has_prefix(error->message, "bad.xml:"));
    g_error_free(error);
    case_clear(&c);
  }
}

static void test_files(void)
{
  Case c;
  GError *error = NULL;
  demo_load(&c, "demo/QB-02.xml");
  photo_clear(&c.connector[0].photo);
  photo_put(&c.connector[0].photo);
  Photo *photo = &c.connector[0].photo;
  g_free(photo->file);
  photo->file = photo_file_name(&c, 0, photo->sha256, "/somewhere/DSC 1.JPG");
  g_assert_true(g_str_has_prefix(photo->file, "photos/34-35-"));
  g_assert_true(g_str_has_suffix(photo->file, ".jpg"));
  g_autofree char *store = in_folder("store"), *first = in_folder("a/QB-02.xml"),
                  *second = in_folder("b/QB-02.xml");
  g_autoptr(GBytes) bytes = g_bytes_new_static("a picture", 9);
  g_assert_true(photo_store(store, photo, bytes, &error));
  char *path = NULL;
  GBytes *found = NULL;
  g_assert_cmpint(photo_find(photo, NULL, store, &path, &found), ==, PHOTO_FOUND);
  g_assert_true(g_bytes_equal(bytes, found));
  g_clear_pointer(&found, g_bytes_unref);
  g_clear_pointer(&path, g_free);
  g_assert_cmpint(photo_find(photo, first, NULL, &path, &found), ==, PHOTO_MISSING);
  g_clear_pointer(&path, g_free);
  /* saved, then saved under another name elsewhere */
  g_assert_true(photos_save(&c, first, NULL, store, &error));
  g_assert_true(photos_save(&c, second, first, NULL, &error));
  g_assert_cmpint(photo_find(photo, second, NULL, &path, &found), ==, PHOTO_FOUND);
  g_clear_pointer(&found, g_bytes_unref);
  /* somebody painted over it: nothing is taken, and not written over either */
  g_assert_true(g_file_set_contents(path, "another", 7, NULL));
  g_autofree char *painted = g_steal_pointer(&path);
  g_assert_cmpint(photo_find(photo, second, NULL, &path, &found), ==, PHOTO_CHANGED);
  g_assert_null(found);
  g_clear_pointer(&path, g_free);
  g_assert_true(photos_save(&c, second, first, NULL, &error));
  g_autofree char *kept = NULL;
  g_assert_true(g_file_get_contents(painted, &kept, NULL, NULL));
  g_assert_cmpstr(kept, ==, "another");
  /* the store has the right one */
  g_assert_cmpint(photo_find(photo, second, store, &path, &found), ==, PHOTO_FOUND);
  g_clear_pointer(&found, g_bytes_unref);
  g_unlink(path);
  g_clear_pointer(&path, g_free);
  /* a folder that cannot be made */
  g_autofree char *wall = in_folder("wall"), *behind = in_folder("wall/x/QB-02.xml");
  g_assert_true(g_file_set_contents(wall, "", 0, NULL));
  g_assert_false(photos_save(&c, behind, first, NULL, &error));
  g_assert_nonnull(strstr(error->message, "cannot be made"));
  g_clear_error(&error);
  g_unlink(wall);
  g_unlink(painted);
  g_autofree char *a = in_folder("a"), *b = in_folder("b");
  g_autofree char *a_file = g_build_filename(a, photo->file, NULL),
                  *a_photos = g_build_filename(a, "photos", NULL),
                  *b_photos = g_build_filename(b, "photos", NULL);
  g_unlink(a_file);
  g_rmdir(a_photos);
  g_rmdir(b_photos);
  g_rmdir(a);
  g_rmdir(b);
  g_rmdir(store);
  case_clear(&c);
}

static Assessment *run(const Case *c)
{
  Assessor *assessor = NULL;
  Assessment *a = NULL;
  AssessSettings settings = assess_settings_default();
  settings.grade = ASSESS_LIVE;
  g_assert_cmpint(assessor_new(&assessor), ==, FAULT_NONE);
  g_assert_cmpint(assess(assessor, c, &settings, &a), ==, FAULT_NONE);
  assessor_free(assessor);
  return a;
}

static double width(Banded b)
{
  return (b.high - b.low) / b.value;
}

/* A photo's scale widens bands and moves no middle; without a scale there is no verdict. */
static void test_bands(void)
{
  Case c;
  demo_load(&c, "demo/QB-03.xml");
  Assessment *plain = run(&c);
  Photo *photo = &c.connector[0].photo;
  photo_clear(photo);
  photo_put(photo);
  Assessment *below = run(&c); /* lies below, nothing was traced on it */
  g_assert_cmpfloat(below->connector[0].margin.low, ==, plain->connector[0].margin.low);
  photo->traced = ANSWER_YES;
  Assessment *unscaled = run(&c);
  g_assert_cmpint(unscaled->connector[0].verdict, ==, VERDICT_NONE);
  g_assert_cmpint(unscaled->connector[0].fault, ==, FAULT_UNSCALED);
  g_assert_true(isnan(unscaled->connector[0].margin.value));
  g_assert_true(isnan(unscaled->connector[0].chance_percent.value));
  g_assert_cmpint(unscaled->verdict, ==,
                  plain->connector[1].verdict == VERDICT_REWORK ? VERDICT_REWORK : VERDICT_NONE);
  Phrase reason[4];
  g_assert_cmpuint(assessment_reasons(unscaled, 0, reason, 4), >, 0);
  g_assert_nonnull(strstr(reason[0].text, "Scale the photo first"));
  scale_put(photo, 0.06); /* 2 %, and the marks add next to nothing */
  Assessment *scaled = run(&c);
  const ConnectorAssessment *p = &plain->connector[0], *s = &scaled->connector[0];
  double pull = pull_trace_percent(s->trace_percent, &s->form) / 100,
         calculated = p->peak.band_percent / 100;
  g_assert_cmpfloat(fabs(s->trace_percent - 2), <, 0.02);
  g_assert_cmpfloat(s->peak_mpa.value, ==, p->peak_mpa.value);
  g_assert_cmpfloat(s->margin.value, ==, p->margin.value);
  proof_row("band of the pull with a photo, both sides",
            (Source){"independent errors add in squares", EXACT}, 2 * hypot(calculated, pull),
            width(s->peak_mpa), 1e-6);
  g_assert_cmpfloat(width(s->margin), >, width(p->margin));
  g_assert_cmpfloat(width(s->chance_percent), >, width(p->chance_percent));
  g_assert_cmpfloat(s->form.roof_radius.high, >=, 1.02 * p->form.roof_radius.value);
  g_assert_cmpuint(s->n_driver, ==, p->n_driver + 1);
  assessment_unref(plain);
  assessment_unref(below);
  assessment_unref(unscaled);
  assessment_unref(scaled);
  case_clear(&c);
}

/* The line as it is at both ends of the photo's scale: the pull stays in its band. */
static void test_band_holds(void)
{
  static const char *const number[] = {"demo/QB-01.xml", "demo/QB-02.xml", "demo/QB-03.xml"};
  for (size_t q = 0; q < G_N_ELEMENTS(number); q++)
    for (int side = -1; side <= 1; side += 2) {
      Case c;
      demo_load(&c, number[q]);
      Assessment *plain = run(&c);
      double u = 2;
      const double k = 1 + side * u / 100;
      for (size_t i = 0; i + 1 < c.n_unit; i++) {
        const double matrix[6] = {k, 0, 0, k, 0, 0};
        outline_transform(&c.connector[i].side[SIDE_GINGIVAL], matrix);
        c.connector[i].drawn[SIDE_GINGIVAL] = true;
      }
      Assessment *other = run(&c);
      for (size_t i = 0; i < plain->n_connector; i++) {
        const ConnectorAssessment *p = &plain->connector[i], *o = &other->connector[i];
        Peak at_same;
        g_assert_cmpint(field_peak(o->field, p->order, &at_same), ==, FAULT_NONE);
        double change = 100 * (at_same.mpa / p->peak.mpa - 1),
               said = pull_trace_percent(u, &p->form);
        g_test_message("%s %s scaled by %g: pull %+.2f %%, band %.2f %%", number[q], p->name, k,
                       change, said);
        g_assert_cmpfloat(fabs(change), <=, said + 0.5); /* 0.5: mesh of the live answer */
      }
      assessment_unref(plain);
      assessment_unref(other);
      case_clear(&c);
    }
}

/* All four outlines scaled: the law that the three of pull_trace_percent comes from. */
static void test_cube_law(void)
{
  Case c;
  demo_load(&c, "demo/QB-03.xml");
  Assessment *plain = run(&c);
  const double k = 1.05, matrix[6] = {k, 0, 0, k, 0, 0};
  for (int s = 0; s < SIDE_N; s++) {
    outline_transform(&c.connector[0].side[s], matrix);
    c.connector[0].drawn[s] = true;
  }
  Assessment *other = run(&c);
  NeckLoad bend = {.moment_n_mm = 500};
  Peak a, b;
  g_assert_cmpint(field_peak(plain->connector[0].field, bend, &a), ==, FAULT_NONE);
  g_assert_cmpint(field_peak(other->connector[0].field, bend, &b), ==, FAULT_NONE);
  proof_row("pull of a connector 1.05 times as large, same bending", cube, 1 / (k * k * k),
            b.mpa / a.mpa, 1.0);
  assessment_unref(plain);
  assessment_unref(other);
  case_clear(&c);
}

/* Programs of Debian read what stands in the file: base64 of coreutils (RFC 4648). */
static void outside_decodes(const char *text, const guchar *bytes, size_t n)
{
  const char *begin = strchr(strstr(text, "<picture "), '>') + 1,
             *end = strstr(begin, "</picture>");
  g_autofree char *in = in_folder("picture.b64"), *out = in_folder("picture.bin");
  g_assert_true(g_file_set_contents(in, begin, end - begin, NULL));
  g_autofree char *command = g_strdup_printf("base64 -d -i '%s' > '%s'", in, out), *got = NULL;
  char *shell[] = {(char *)"sh", (char *)"-c", command, NULL};
  int status;
  g_assert_true(
      g_spawn_sync(NULL, shell, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, &status, NULL));
  g_assert_cmpint(status, ==, 0);
  size_t length;
  g_assert_true(g_file_get_contents(out, &got, &length, NULL));
  g_assert_true(length == n && memcmp(got, bytes, n) == 0);
  g_unlink(in);
  g_unlink(out);
}

static void found_is(const Photo *photo, const char *case_path, GBytes *bytes, bool beside)
{
  char *where;
  GBytes *found;
  g_assert_cmpint(photo_find(photo, case_path, NULL, &where, &found), ==, PHOTO_FOUND);
  g_assert_true(g_bytes_equal(found, bytes));
  g_assert_cmpint(g_unlink(where) == 0, ==, beside);
  g_bytes_unref(found);
  g_free(where);
}

/* Kept inside, the picture stands once at the end of the file however many necks have it, is found
 * without any file beside, and comes out again as it was. */
static void test_inside(void)
{
  guchar raw[1000];
  for (size_t i = 0; i < sizeof raw; i++)
    raw[i] = (guchar)(i * i + i / 7);
  g_autoptr(GBytes) bytes = g_bytes_new_static(raw, sizeof raw);
  g_autoptr(GError) error = NULL;
  Case c, back;
  demo_load(&c, "demo/QB-02.xml");
  case_init(&back);
  for (int k = 0; k < 2; k++) {
    Photo *photo = &c.connector[k].photo;
    photo_clear(photo);
    photo_put(photo);
    g_free(photo->sha256);
    photo->sha256 = photo_sha256(raw, sizeof raw);
    g_assert_true(photo_put_inside(photo, bytes, &error));
  }
  g_autofree char *path = in_folder("inside.xml"), *text = NULL, *store = in_folder("kept");
  g_assert_true(photos_save(&c, path, NULL, NULL, &error)); /* writes nothing beside */
  g_assert_true(case_save(&c, path, &error));
  g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
  const char *first = strstr(text, "<picture ");
  g_assert_true(first && first == g_strrstr(text, "<picture ")); /* once */
  g_assert_cmpint(strstr(text, "</connectors>") - text, <, first - text);
  g_assert_true(g_str_has_suffix(first, "  </pictures>\n</case>\n"));
  g_auto(GStrv) line = g_strsplit(first, "\n", -1);
  for (char **at = line; *at; at++)
    g_assert_cmpuint(strlen(*at), <=, 100); /* an editor can show them */
  outside_decodes(text, raw, sizeof raw);
  g_assert_true(case_load(&back, path, &error));
  g_assert_true(case_equal(&c, &back));
  found_is(&back.connector[1].photo, path, bytes, false);
  /* out again: from the store beside the case */
  Photo *photo = &back.connector[0].photo;
  g_assert_true(photo_store(store, photo, bytes, &error));
  photo_take_out(photo);
  photo_take_out(&back.connector[1].photo);
  g_assert_false(case_equal(&c, &back));
  g_assert_true(photos_save(&back, path, path, store, &error));
  g_assert_true(case_save(&back, path, &error));
  found_is(photo, path, bytes, true);
  /* too large is refused, and nothing has changed; the largest is read back */
  g_autofree char *much = g_malloc0(PHOTO_INSIDE_MOST + 1);
  g_autoptr(GBytes) large = g_bytes_new_static(much, PHOTO_INSIDE_MOST + 1);
  g_autoptr(GBytes) just = g_bytes_new_static(much, PHOTO_INSIDE_MOST);
  g_assert_false(photo_put_inside(photo, large, &error));
  g_assert_nonnull(strstr(error->message, "6.0 MiB; up to 6 MiB"));
  g_clear_error(&error);
  g_assert_null(photo->inside);
  g_free(photo->sha256);
  photo->sha256 = photo_sha256(much, PHOTO_INSIDE_MOST);
  g_assert_true(photo_put_inside(photo, just, &error));
  g_assert_true(case_save(&back, path, &error));
  case_load(&c, path, &error);
  g_assert_no_error(error);
  g_assert_true(case_equal(&c, &back));
  g_autofree char *name = g_path_get_basename(photo->file),
                  *kept = g_build_filename(store, name, NULL),
                  *sub = g_path_get_dirname(photo->file), *beside = in_folder(sub);
  g_unlink(kept);
  g_rmdir(store);
  g_rmdir(beside);
  g_unlink(path);
  case_clear(&c);
  case_clear(&back);
}

static void test_inside_refused(void)
{
/* SHA-256 of "abc": FIPS 180 */
#define SHA "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
#define OTHER "88d4266fd4e6338d13b845fcf289579d209c897823b9217da3e161936f031589" /* of "abcd" */
  static const struct {
    const char *pictures, *says;
  } row[] = {
      {"<picture sha256='" SHA "'>YWJj</picture>", NULL},
      {"<picture sha256='" SHA "'>YW\n Jj</picture>", NULL},
      {"<picture sha256='" SHA "'>YWJk</picture>", "damaged"},
      {"<picture sha256='" SHA "'>YW!Jj</picture>", "damaged"},
      {"<picture sha256='" SHA "'></picture>", "damaged"},
      {"<picture>YWJj</picture>", "damaged"},
      {"<picture sha256='" OTHER "'>YWJjZA==</picture>", "belongs to no"},
      {"<picture sha256='" SHA "'><line/></picture>", "not known"},
      {"", "pictures"},
  };
  g_autofree char *text = shipped_text("demo/QB-02.xml");
  const char *place = strstr(text, "</connector>"), *end = strstr(text, "</case>");
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    g_autofree char *changed = g_strdup_printf(
        "%.*s<photo file='a.jpg' sha256='" SHA "' width='10' height='10' zoom='1'/>%.*s<pictures>%s"
        "</pictures>%s",
        (int)(place - text), text, (int)(end - place), place, row[i].pictures, end);
    Case c;
    g_autoptr(GError) error = NULL;
    case_init(&c);
    bool good = case_load_memory(&c, changed, strlen(changed), "in.xml", &error);
    if (row[i].says) {
      g_assert_false(good);
      g_test_message("%s", error->message);
      g_assert_nonnull(strstr(error->message, row[i].says));
    } else {
      g_assert_no_error(error);
      GBytes *inside = c.connector[0].photo.inside;
      g_autoptr(GBytes) abc = g_bytes_new_static("abc", 3);
      g_assert_true(g_bytes_equal(inside, abc));
    }
    case_clear(&c);
  }
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/photo-case/round-trip", test_round_trip);
  g_test_add_func("/photo-case/bad-elements", test_bad_elements);
  g_test_add_func("/photo-case/files", test_files);
  g_test_add_func("/photo-case/inside", test_inside);
  g_test_add_func("/photo-case/inside-refused", test_inside_refused);
  g_test_add_func("/photo-case/bands", test_bands);
  g_test_add_func("/photo-case/band-holds", test_band_holds);
  g_test_add_func("/photo-case/cube-law", test_cube_law);
  return folder_run();
}
