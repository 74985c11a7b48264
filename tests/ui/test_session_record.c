/* test_session_record.c - what saving writes into the history, by whom, signed; undo leaves it be.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case_xml.h"
#include "record/decision.h"
#include "ui/person_profile.h"
#include "ui/session.h"
#include <glib/gstdio.h>

static char *folder; /* of the test: preferences, keys, cases */

static Fault run_nothing(Assessor *assessor, const Case *c, const AssessSettings *settings,
                         Assessment **result)
{
  (void)assessor, (void)c, (void)settings, (void)result;
  return FAULT_NO_NECK;
}

static SoffitSession *session_demo(void)
{
  SoffitSession *session = session_new("", run_nothing);
  GError *error = NULL;
  session_open_demo(session, "demo/QB-02.xml", &error);
  g_assert_no_error(error);
  return session;
}

static void load_set(SoffitSession *session, double force)
{
  Case *c = session_edit_begin(session, "Change the load");
  c->order_load_n = force;
  session_edit_end(session);
}

static const HistoryEntry *last(const Case *c)
{
  return c->history->pdata[c->history->len - 1];
}

static void words_are(const Case *c, const char *words)
{
  g_autofree char *is = entry_words(last(c));
  g_assert_cmpstr(is, ==, words);
}

static void save(SoffitSession *session, const char *path)
{
  GError *error = NULL;
  session_save(session, path, &error);
  g_assert_no_error(error);
  g_assert_false(session_modified(session));
}

static void test_person(void)
{
  Person person = person_profile(); /* nobody has said */
  g_assert_false(person_chosen());
  g_assert_cmpuint(strlen(person.name), >, 0);
  g_assert_cmpstr(person.role, ==, "bench technician");
  person_clear(&person);
  const Person ann = {"Ann Bench", "trainee", "AB"};
  person_profile_set(&ann);
  person = person_profile();
  g_assert_true(person_chosen());
  g_assert_cmpstr(person.name, ==, "Ann Bench");
  g_assert_cmpstr(person.role, ==, "trainee");
  person_clear(&person);
  static const char *const made[][2] = {
      {"Ann Bench", "AB"}, {"jörg von Örtz", "JVÖ"}, {"界 隈", "界隈"}, {" - ", ""}};
  for (size_t i = 0; i < G_N_ELEMENTS(made); i++) {
    g_autofree char *initials = person_initials(made[i][0]);
    g_assert_cmpstr(initials, ==, made[i][1]);
  }
}

static void test_saved(void)
{
  g_autofree char *path = g_build_filename(folder, "a.xml", NULL);
  g_autofree char *other = g_build_filename(folder, "b.xml", NULL);
  g_autofree char *nowhere = g_build_filename(folder, "none", "c.xml", NULL);
  SoffitSession *session = session_demo();
  const Case *c = session_case(session);
  guint old = c->history->len;
  save(session, path); /* as it came: nothing to tell */
  g_assert_cmpuint(c->history->len, ==, old);
  load_set(session, 700);
  session_set_trial(session, 3, 333);
  GError *error = NULL;
  g_assert_false(session_save(session, nowhere, &error)); /* not saved, not told */
  g_clear_error(&error);
  g_assert_cmpuint(c->history->len, ==, old);
  g_assert_true(session_modified(session));
  save(session, NULL);
  g_assert_cmpuint(c->history->len, ==, old + 1);
  words_are(c, "Order’s load: 600 N → 700 N");
  g_assert_cmpstr(last(c)->name, ==, "Ann Bench");
  g_assert_cmpstr(last(c)->role, ==, "trainee");
  g_assert_cmpstr(last(c)->initials, ==, "AB");
  g_assert_cmpstr(last(c)->key, ==, "");
  /* undone: the case is another one again, the entry stays */
  session_undo(session);
  session_undo(session);
  g_assert_cmpfloat(c->order_load_n, ==, 600);
  g_assert_cmpuint(c->history->len, ==, old + 1);
  g_assert_true(session_modified(session));
  save(session, NULL);
  g_assert_cmpuint(c->history->len, ==, old + 2);
  words_are(c, "Order’s load: 700 N → 600 N");
  session_redo(session); /* the order's load again */
  g_assert_cmpfloat(c->order_load_n, ==, 700);
  g_assert_cmpuint(c->history->len, ==, old + 2);
  session_undo(session);
  g_assert_false(session_modified(session));
  session_go_to(session, 2);
  g_assert_cmpuint(c->history->len, ==, old + 2);
  save(session, other);
  g_assert_cmpuint(c->history->len, ==, old + 3);
  g_assert_cmpint(chain_check(c).state, ==, CHAIN_WHOLE);
  /* and in the file */
  Case file;
  case_init(&file);
  case_load(&file, other, &error);
  g_assert_no_error(error);
  g_assert_true(case_equal(&file, c));
  g_assert_cmpint(chain_check(&file).state, ==, CHAIN_WHOLE);
  Standing standing;
  g_assert_cmpint(case_standing(&file, NULL, &standing), ==, FAULT_NONE);
  g_assert_false(standing.outside);
  standing_clear(&standing);
  case_clear(&file);
  g_object_unref(session);
  g_unlink(path);
  g_unlink(other);
}

static void test_first(void)
{
  g_autofree char *path = g_build_filename(folder, "new.xml", NULL);
  SoffitSession *demo = session_demo(), *session = session_new("", run_nothing);
  GError *error = NULL;
  session_start(session, session_case(demo), &error);
  g_assert_no_error(error);
  const Case *c = session_case(session);
  guint old = c->history->len;
  save(session, path);
  g_assert_cmpuint(c->history->len, ==, old + 1);
  words_are(c, "Saved for the first time");
  g_object_unref(demo);
  g_object_unref(session);
  g_unlink(path);
}

static void test_signed(void)
{
  g_autofree char *path = g_build_filename(folder, "s.xml", NULL);
  Person person = person_profile();
  g_autofree char *file = person_key_place(&person);
  g_autofree char *home = g_path_get_dirname(file);
  GError *error = NULL;
  g_assert_true(g_str_has_prefix(file, folder));
  g_mkdir_with_parents(home, 0700);
  signing_key_make(file, &person, &error);
  g_assert_no_error(error);
  g_autofree char *next = person_key_place(&person); /* never over another */
  g_assert_cmpstr(next, !=, file);
  person_key_file_set(file);
  SigningKey *key = person_signing_key(&person, NULL);
  signing_key_publish(key, folder, &error);
  g_assert_no_error(error);
  PublicKeys *keys = public_keys_load(folder, NULL);
  SoffitSession *session = session_demo();
  load_set(session, 700);
  save(session, path);
  const Case *c = session_case(session);
  g_assert_cmpstr(last(c)->key, ==, signing_key_id(key));
  g_assert_cmpint(entry_signed(last(c), keys), ==, SIGNED_WELL);
  /* another role: the key is not theirs */
  person_profile_set(&(Person){person.name, "supervisor", person.initials});
  Person promoted = person_profile();
  g_autofree char *why = NULL;
  g_assert_null(person_signing_key(&promoted, &why));
  g_assert_nonnull(strstr(why, "another name or role"));
  load_set(session, 720);
  save(session, NULL);
  g_assert_cmpint(entry_signed(last(c), keys), ==, SIGNED_NOT);
  g_assert_cmpstr(last(c)->role, ==, "supervisor");
  /* a key file that went */
  g_unlink(file);
  g_clear_pointer(&why, g_free);
  g_assert_null(person_signing_key(&person, &why));
  g_assert_nonnull(strstr(why, file));
  person_key_file_set(NULL);
  g_clear_pointer(&why, g_free);
  g_assert_null(person_signing_key(&person, &why));
  g_assert_null(why);
  g_object_unref(session);
  public_keys_free(keys);
  signing_key_free(key);
  person_clear(&person);
  person_clear(&promoted);
  g_unlink(path);
}

static void folder_remove(const char *path)
{
  g_autoptr(GDir) dir = g_dir_open(path, 0, NULL);
  for (const char *name; dir && (name = g_dir_read_name(dir));) {
    g_autofree char *file = g_build_filename(path, name, NULL);
    if (g_file_test(file, G_FILE_TEST_IS_DIR))
      folder_remove(file);
    else
      g_unlink(file);
  }
  g_rmdir(path);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  folder = g_dir_make_tmp("soffit-XXXXXX", NULL);
  g_setenv("XDG_CONFIG_HOME", folder, TRUE); /* preferences of its own */
  g_setenv("XDG_DATA_HOME", folder, TRUE);
  g_test_add_func("/session-record/person", test_person);
  g_test_add_func("/session-record/saved", test_saved);
  g_test_add_func("/session-record/first", test_first);
  g_test_add_func("/session-record/signed", test_signed);
  int status = g_test_run();
  folder_remove(folder);
  g_free(folder);
  return status;
}
