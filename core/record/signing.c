/* signing.c - personal keys: made, kept, read; what they sign and whether that holds.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ed25519 of RFC 8032 by libsodium.  The secret half leaves memory of this file only into its own
 * file, and is wiped wherever it was. */
#include "base/phrase.h"
#include "record/signing_parts.h"
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <sodium.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define FILE_MOST 4096
#define FIRST_LINE "soffit signing key 1: keep it to yourself"
enum { LINE_FIRST, LINE_SECRET, LINE_NAME, LINE_ROLE, LINE_INITIALS, LINE_N };

struct SigningKey {
  unsigned char *secret; /* sodium_malloc, seed and public half */
  char id[17];
  Person whose; /* owned */
};

GQuark signing_error_quark(void)
{
  return g_quark_from_static_string("soffit-signing-error");
}

static bool fail(GError **error, SigningErrorCode code, const char *file, const char *what)
{
  g_set_error(error, SIGNING_ERROR, (int)code, "%s: %s", file, g_dgettext("soffit", what));
  return false;
}

static bool fail_errno(GError **error, const char *file, int reason)
{
  g_set_error(error, SIGNING_ERROR, SIGNING_ERROR_FILE, "%s: %s", file, g_strerror(reason));
  return false;
}

/* --- a key in memory --- */

void signing_key_public(const SigningKey *key, unsigned char public_key[32])
{
  memcpy(public_key, key->secret + crypto_sign_SEEDBYTES, crypto_sign_PUBLICKEYBYTES);
}

void public_key_id(const unsigned char public_key[32], char id[17])
{
  g_autofree char *digest = g_compute_checksum_for_data(G_CHECKSUM_SHA256, public_key, 32);
  g_strlcpy(id, digest, 17);
}

SigningKey *signing_key_from_seed(const unsigned char seed[32], const Person *whose)
{
  unsigned char public_key[crypto_sign_PUBLICKEYBYTES];
  if (sodium_init() < 0)
    return NULL;
  unsigned char *secret = sodium_malloc(crypto_sign_SECRETKEYBYTES);
  if (!secret)
    return NULL;
  crypto_sign_seed_keypair(public_key, secret, seed);
  SigningKey *key = g_new(SigningKey, 1);
  *key = (SigningKey){
      secret, "", {text_kept(whose->name), text_kept(whose->role), text_kept(whose->initials)}};
  public_key_id(public_key, key->id);
  return key;
}

void signing_key_free(SigningKey *key)
{
  if (!key)
    return;
  sodium_free(key->secret);
  g_free(key->whose.name);
  g_free(key->whose.role);
  g_free(key->whose.initials);
  g_free(key);
}

const char *signing_key_id(const SigningKey *key)
{
  return key->id;
}

bool signing_key_belongs(const SigningKey *key, const Person *by)
{
  return g_strcmp0(key->whose.name, by->name) == 0 && g_strcmp0(key->whose.role, by->role) == 0;
}

char *signing_key_sign(const SigningKey *key, const void *bytes, size_t n)
{
  unsigned char signature[crypto_sign_BYTES];
  crypto_sign_detached(signature, NULL, bytes, n, key->secret);
  return g_base64_encode(signature, sizeof signature);
}

/* --- its file --- */

static bool write_whole(int fd, const char *text, size_t n)
{
  while (n > 0) {
    ssize_t done = write(fd, text, n);
    if (done < 0 && errno != EINTR)
      return false;
    if (done > 0)
      text += done, n -= (size_t)done;
  }
  return fsync(fd) == 0;
}

/* The lines of the file; to be wiped. */
static void key_text(const unsigned char seed[32], const Person *whose, char text[FILE_MOST])
{
  char secret[sodium_base64_ENCODED_LEN(crypto_sign_SEEDBYTES, sodium_base64_VARIANT_ORIGINAL)];
  g_autofree char *name = g_strescape(whose->name, NULL);
  g_autofree char *role = g_strescape(whose->role, NULL);
  g_autofree char *initials = g_strescape(whose->initials, NULL);
  sodium_bin2base64(secret, sizeof secret, seed, crypto_sign_SEEDBYTES,
                    sodium_base64_VARIANT_ORIGINAL);
  g_snprintf(text, FILE_MOST, FIRST_LINE "\n%s\n%s\n%s\n%s\n", secret, name, role, initials);
  sodium_memzero(secret, sizeof secret);
}

bool signing_key_make(const char *file, const Person *whose, GError **error)
{
  unsigned char seed[crypto_sign_SEEDBYTES];
  char text[FILE_MOST];
  if (!whose->name || !*whose->name)
    return fail(error, SIGNING_ERROR_DAMAGED, file,
                N_("A signing key needs the name of its owner. Enter it first."));
  if (strlen(whose->name) + strlen(whose->role) + strlen(whose->initials) > FILE_MOST / 8)
    return fail(error, SIGNING_ERROR_DAMAGED, file,
                N_("The name is too long: choose a shorter one"));
  if (sodium_init() < 0)
    return fail(error, SIGNING_ERROR_FILE, file, N_("This machine gives no random numbers."));
  int fd = g_open(file, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600);
  if (fd < 0 && errno == EEXIST)
    return fail(error, SIGNING_ERROR_FILE, file,
                N_("There is a key already: choose another file, nothing is written over."));
  if (fd < 0)
    return fail_errno(error, file, errno);
  randombytes_buf(seed, sizeof seed);
  key_text(seed, whose, text);
  bool written = fchmod(fd, 0600) == 0 && write_whole(fd, text, strlen(text));
  int reason = errno;
  sodium_memzero(seed, sizeof seed);
  sodium_memzero(text, sizeof text);
  if (close(fd) == 0 && written)
    return true;
  g_unlink(file);
  return fail_errno(error, file, written ? errno : reason);
}

/* Cuts the text into its lines; false when there are other than LINE_N. */
static bool lines_cut(char *text, char *line[LINE_N])
{
  for (int i = 0; i < LINE_N; i++) {
    char *end = strchr(text, '\n');
    if (!end)
      return false;
    *end = '\0';
    line[i] = text;
    text = end + 1;
  }
  return *text == '\0';
}

static SigningKey *key_of_text(char *text)
{
  char *line[LINE_N];
  unsigned char seed[crypto_sign_SEEDBYTES];
  size_t n = 0;
  SigningKey *key = NULL;
  if (lines_cut(text, line) && strcmp(line[LINE_FIRST], FIRST_LINE) == 0 &&
      sodium_base642bin(seed, sizeof seed, line[LINE_SECRET], strlen(line[LINE_SECRET]), NULL, &n,
                        NULL, sodium_base64_VARIANT_ORIGINAL) == 0 &&
      n == sizeof seed && *line[LINE_NAME]) {
    Person whose = {g_strcompress(line[LINE_NAME]), g_strcompress(line[LINE_ROLE]),
                    g_strcompress(line[LINE_INITIALS])};
    key = signing_key_from_seed(seed, &whose);
    g_free(whose.name);
    g_free(whose.role);
    g_free(whose.initials);
  }
  sodium_memzero(seed, sizeof seed);
  return key;
}

bool signing_key_load(SigningKey **key, const char *file, GError **error)
{
  struct stat info;
  char text[FILE_MOST];
  int fd = g_open(file, O_RDONLY | O_CLOEXEC | O_NONBLOCK, 0);
  if (fd < 0)
    return fail_errno(error, file, errno);
  bool regular = fstat(fd, &info) == 0 && S_ISREG(info.st_mode);
  if (!regular || info.st_mode & 077) {
    close(fd);
    return fail(error, SIGNING_ERROR_DAMAGED, file,
                regular ? N_("Others may read this signing key. Make a new one, and take the old "
                             "one out of the lab’s folder.")
                        : N_("This is no signing key. Choose its file, or make a new one."));
  }
  ssize_t n = read(fd, text, sizeof text - 1);
  int reason = errno;
  close(fd);
  if (n < 0)
    return fail_errno(error, file, reason);
  text[n] = '\0';
  SigningKey *found = sodium_init() < 0 ? NULL : key_of_text(text);
  sodium_memzero(text, sizeof text);
  if (!found)
    return fail(error, SIGNING_ERROR_DAMAGED, file,
                N_("This is no signing key. Choose its file, or make a new one."));
  *key = found;
  return true;
}

bool signing_key_publish(const SigningKey *key, const char *lab_folder, GError **error)
{
  PublicKey half = {"", key->whose.name, key->whose.role, key->whose.initials, {0}};
  signing_key_public(key, half.key);
  public_key_id(half.key, half.id);
  return public_key_write(&half, lab_folder, error);
}

/* --- what it signed --- */

SignedState entry_signed(const HistoryEntry *entry, const PublicKeys *keys)
{
  if (!*entry->key && !*entry->signature)
    return SIGNED_NOT;
  if (!*entry->key || !*entry->signature || !*entry->chain)
    return SIGNED_WRONG;
  const PublicKey *key = keys ? public_keys_find(keys, entry->key) : NULL;
  if (!key)
    return SIGNED_UNKNOWN;
  unsigned char signature[crypto_sign_BYTES];
  size_t n = 0;
  bool fits =
      sodium_init() >= 0 &&
      sodium_base642bin(signature, sizeof signature, entry->signature, strlen(entry->signature),
                        NULL, &n, NULL, sodium_base64_VARIANT_ORIGINAL) == 0 &&
      n == sizeof signature &&
      crypto_sign_verify_detached(signature, (const unsigned char *)entry->chain,
                                  strlen(entry->chain), key->key) == 0 &&
      strcmp(key->name, entry->name) == 0 && strcmp(key->role, entry->role) == 0;
  return fits ? SIGNED_WELL : SIGNED_WRONG;
}

const char *signed_id(SignedState state)
{
  static const char *const id[] = {"no", "yes", "unknown key", "wrong"};
  return state < G_N_ELEMENTS(id) ? id[state] : "";
}

const char *signed_name(SignedState state)
{
  static const char *const name[] = {[SIGNED_NOT] = N_("unsigned"),
                                     [SIGNED_WELL] = N_("signed"),
                                     [SIGNED_UNKNOWN] = N_("signed by a key the lab does not have"),
                                     [SIGNED_WRONG] = N_("signature does not fit")};
  return state < G_N_ELEMENTS(name) ? name[state] : "";
}
