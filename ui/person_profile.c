/* person_profile.c - see person_profile.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/person_profile.h"
#include "base/phrase.h"
#include "ui/preferences.h"
#include "ui/tick_edit.h"
#include <string.h>

#define NAME_KEY "person-name"
#define ROLE_KEY "person-role"
#define INITIALS_KEY "person-initials"
#define SIGNING_KEY "person-signing-key"

const char *const person_role[PERSON_ROLES] = {N_("bench technician"), N_("supervisor"),
                                               N_("trainee"), N_("intake desk")};

static char *chosen(const char *key)
{
  char *word = preference_word(key);
  if (word && *g_strstrip(word))
    return word;
  g_free(word);
  return NULL;
}

char *person_initials(const char *name)
{
  GString *made = g_string_new(NULL);
  bool start = true;
  for (const char *p = name; *p && g_utf8_strlen(made->str, -1) < INITIALS_MOST;
       p = g_utf8_next_char(p)) {
    gunichar sign = g_utf8_get_char(p);
    if (start && g_unichar_isalnum(sign))
      g_string_append_unichar(made, g_unichar_toupper(sign));
    start = !g_unichar_isalnum(sign);
  }
  return g_string_free(made, FALSE);
}

/* GLib says "Unknown" for an account without a name. */
static char *system_name(void)
{
  const char *real = g_get_real_name(), *login = g_get_user_name();
  bool known = real && *real && strcmp(real, "Unknown") != 0;
  return g_utf8_make_valid(known ? real : login && *login ? login : "–", -1);
}

Person person_profile(void)
{
  Person person = {chosen(NAME_KEY), chosen(ROLE_KEY), chosen(INITIALS_KEY)};
  if (!person.name)
    person.name = system_name();
  if (!person.role)
    person.role = g_strdup(person_role[0]);
  if (!person.initials)
    person.initials = person_initials(person.name);
  return person;
}

bool person_chosen(void)
{
  g_autofree char *name = chosen(NAME_KEY);
  return name != NULL;
}

void person_profile_set(const Person *person)
{
  preference_word_set(NAME_KEY, person->name);
  preference_word_set(ROLE_KEY, person->role);
  preference_word_set(INITIALS_KEY, person->initials);
}

void person_clear(Person *person)
{
  g_free(person->name);
  g_free(person->role);
  g_free(person->initials);
  *person = (Person){0};
}

/* --- the key --- */

char *person_key_file(void)
{
  return chosen(SIGNING_KEY);
}

void person_key_file_set(const char *path)
{
  preference_word_set(SIGNING_KEY, path ? path : "");
}

SigningKey *person_signing_key(const Person *person, char **why)
{
  g_autofree char *file = person_key_file();
  g_autoptr(GError) error = NULL;
  SigningKey *key = NULL;
  char *trouble = NULL;
  if (file && !signing_key_load(&key, file, &error))
    trouble = g_strdup(error->message);
  if (key && !signing_key_belongs(key, person)) {
    g_clear_pointer(&key, signing_key_free);
    trouble = g_strdup(g_dgettext("soffit", N_("The signing key is of another name or role. Make a "
                                               "new one for this person.")));
  }
  if (why)
    *why = trouble;
  else
    g_free(trouble);
  return key;
}

char *person_key_place(const Person *person)
{
  g_autofree char *name = g_str_to_ascii(person->name, "C");
  g_strcanon(name, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789", '-');
  g_autofree char *folder = g_build_filename(g_get_user_data_dir(), "soffit", NULL);
  for (unsigned n = 1;; n++) {
    g_autofree char *base = g_strdup_printf("signing-%.40s-%u.key", name, n);
    char *path = g_build_filename(folder, base, NULL);
    if (!g_file_test(path, G_FILE_TEST_EXISTS))
      return path;
    g_free(path);
  }
}
