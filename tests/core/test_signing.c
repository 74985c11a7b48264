/* test_signing.c - Ed25519 against the vectors of RFC 8032, key files, signatures that do not hold.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/decision.h"
#include "record/signing_parts.h"
#include "case_files.h"
#include <sys/stat.h>

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static const Person head = {"Sam Head", "supervisor", "SH"};

static void set(char **text, const char *to)
{
  g_free(*text);
  *text = g_strdup(to);
}

static size_t unhex(const char *hex, unsigned char *bytes)
{
  size_t n = strlen(hex) / 2;
  for (size_t i = 0; i < n; i++)
    bytes[i] = (unsigned char)(g_ascii_xdigit_value(hex[2 * i]) * 16 +
                               g_ascii_xdigit_value(hex[2 * i + 1]));
  return n;
}

/* RFC 8032, section 7.1: tests 1, 2, 3 and "SHA(abc)". */
static const struct {
  const char *secret, *public_key, *message, *signature;
} vector[] = {
    {"9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
     "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", "",
     "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b"
     "46b"
     "d25bf5f0595bbe24655141438e7a100b"},
    {"4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
     "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "72",
     "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11"
     "d8c"
     "387b2eaeb4302aeeb00d291612bb0c00"},
    {"c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
     "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025", "af82",
     "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc"
     "659"
     "4a7c15e9716ed28dc027beceea1ec40a"},
    {"833fe62409237b9d62ec77587520911e9a759cec1d19755b7da901b96dca3d42",
     "ec172b93ad5e563bf4932c70e1245034c35467ef2efd4d64ebf819683467e2bf",
     "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a2192992a274fc1a836ba3c23a3fee"
     "bbd"
     "454d4423643ce80e2a9ac94fa54ca49f",
     "dc2a4459e7369633a52b1bf277839a00201009a3efbf3ecb69bea2186c26b58909351fc9ac90b3ecfdfbc7c66431e"
     "030"
     "3dca179c138ac17ad9bef1177331a704"},
};

static void test_vectors(void)
{
  for (size_t i = 0; i < G_N_ELEMENTS(vector); i++) {
    unsigned char seed[32], key[32], want[32], message[64], signature[64];
    g_assert_cmpuint(unhex(vector[i].secret, seed), ==, 32);
    size_t n = unhex(vector[i].message, message);
    SigningKey *signer = signing_key_from_seed(seed, &head);
    g_test_message("vector %zu", i);
    signing_key_public(signer, key);
    unhex(vector[i].public_key, want);
    g_assert_true(memcmp(key, want, 32) == 0);
    g_autofree char *signed_text = signing_key_sign(signer, message, n);
    gsize length = 0;
    g_autofree guchar *got = g_base64_decode(signed_text, &length);
    g_assert_cmpuint(unhex(vector[i].signature, signature), ==, 64);
    g_assert_cmpuint(length, ==, 64);
    g_assert_true(memcmp(got, signature, 64) == 0);
    /* the id of a key is the begin of the SHA-256 of its public half */
    g_autofree char *sum = g_compute_checksum_for_data(G_CHECKSUM_SHA256, want, 32);
    g_assert_cmpstr(signing_key_id(signer), ==, (sum[16] = '\0', sum));
    signing_key_free(signer);
  }
}

/* A new key in the folder of the test, and its public half published. */
static SigningKey *key_made(const Person *whose)
{
  g_autofree char *file = in_folder("secret");
  GError *error = NULL;
  SigningKey *key = NULL;
  g_unlink(file);
  signing_key_make(file, whose, &error);
  g_assert_no_error(error);
  signing_key_load(&key, file, &error);
  g_assert_no_error(error);
  signing_key_publish(key, folder, &error);
  g_assert_no_error(error);
  g_unlink(file);
  return key;
}

static void keys_empty(void)
{
  g_autofree char *keys = in_folder("keys");
  g_autoptr(GDir) dir = g_dir_open(keys, 0, NULL);
  for (const char *name; dir && (name = g_dir_read_name(dir));) {
    g_autofree char *file = g_build_filename(keys, name, NULL);
    g_remove(file);
  }
  g_rmdir(keys);
}

static void test_files(void)
{
  g_autofree char *file = in_folder("secret");
  GError *error = NULL;
  const Person odd = {"Ün\n\"Köhn\" \\ 界", "bench technician", ""};
  SigningKey *key = NULL;
  signing_key_make(file, &odd, &error);
  g_assert_no_error(error);
  struct stat info;
  g_assert_cmpint(stat(file, &info), ==, 0);
  g_assert_cmpint(info.st_mode & 0777, ==, 0600);
  g_assert_false(signing_key_make(file, &odd, &error)); /* never over another */
  g_assert_nonnull(strstr(error->message, "nothing is written over"));
  g_clear_error(&error);
  signing_key_load(&key, file, &error);
  g_assert_no_error(error);
  g_assert_true(signing_key_belongs(key, &odd));
  g_assert_false(signing_key_belongs(key, &(Person){odd.name, "supervisor", ""}));
  signing_key_free(key);
  key = NULL;
  /* readable by others, damaged, none, nobody's */
  g_chmod(file, 0640);
  g_assert_false(signing_key_load(&key, file, &error));
  g_assert_nonnull(strstr(error->message, "Others may read"));
  g_clear_error(&error);
  g_autofree char *text = NULL;
  gsize length;
  g_assert_true(g_file_get_contents(file, &text, &length, NULL));
  for (gsize cut = 0; cut < length; cut++) {
    g_assert_true(
        g_file_set_contents_full(file, text, (gssize)cut, G_FILE_SET_CONTENTS_NONE, 0600, NULL));
    g_assert_false(signing_key_load(&key, file, &error));
    g_clear_error(&error);
  }
  g_unlink(file);
  g_assert_false(signing_key_load(&key, file, &error));
  g_clear_error(&error);
  g_assert_false(signing_key_make(file, &(Person){"", "supervisor", ""}, &error));
  g_clear_error(&error);
  g_assert_false(g_file_test(file, G_FILE_TEST_EXISTS));
  g_assert_null(key);
}

static void test_lab(void)
{
  GPtrArray *trouble = NULL;
  PublicKeys *keys = public_keys_load(folder, &trouble); /* no folder of keys: none */
  g_assert_cmpuint(public_keys_count(keys), ==, 0);
  g_assert_cmpuint(trouble->len, ==, 0);
  g_ptr_array_unref(trouble);
  public_keys_free(keys);
  const Person other = {"Ünal 界 \"K\"", "bench technician", "ÜK"};
  SigningKey *first = key_made(&head), *second = key_made(&other);
  /* twice the same, half a file, another file, a point that is none, a folder */
  const char *const bad[][2] = {
      {"a.key", "[public key]\nname=A\nrole=b\ned25519=AAAA\n"},
      {"b.key", ""},
      {"c.key", "\xff\xfe no text"},
      {"d.key", "[public key]\nname=A\nrole=b\n"
                "ed25519=AQAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA=\n"},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    g_autofree char *file = g_build_filename(folder, "keys", bad[i][0], NULL);
    g_assert_true(g_file_set_contents(file, bad[i][1], -1, NULL));
  }
  g_autofree char *name = g_strconcat(signing_key_id(first), ".key", NULL);
  g_autofree char *good = g_build_filename(folder, "keys", name, NULL);
  g_autofree char *twin = g_build_filename(folder, "keys", "zz.key", NULL);
  g_autofree char *sub = g_build_filename(folder, "keys", "e.key", NULL);
  g_autofree char *text = NULL;
  g_assert_true(g_file_get_contents(good, &text, NULL, NULL));
  g_assert_nonnull(strstr(text, "name=Sam Head\nrole=supervisor\ninitials=SH\n"));
  g_assert_true(g_file_set_contents(twin, text, -1, NULL));
  g_assert_cmpint(g_mkdir(sub, 0700), ==, 0);
  keys = public_keys_load(folder, &trouble);
  g_assert_cmpuint(public_keys_count(keys), ==, 2);
  g_assert_cmpuint(trouble->len, ==, G_N_ELEMENTS(bad) + 2);
  g_assert_nonnull(strstr(trouble->pdata[0], "a.key"));
  const PublicKey *found = public_keys_find(keys, signing_key_id(second));
  g_assert_nonnull(found);
  g_assert_cmpstr(found->name, ==, other.name);
  g_assert_cmpstr(found->initials, ==, "ÜK");
  g_assert_null(public_keys_find(keys, "0123456789abcdef"));
  g_ptr_array_unref(trouble);
  public_keys_free(keys);
  signing_key_free(first);
  signing_key_free(second);
  keys_empty();
}

static void signed_as(const Case *c, const PublicKeys *keys, SignedState state)
{
  Standing s;
  ok(case_standing(c, keys, &s));
  g_assert_cmpint(s.signature, ==, state);
  standing_clear(&s);
}

static void test_decisions(void)
{
  VerdictLimits limits = verdict_limits_default();
  const Person other = {"Somebody Else", "supervisor", "SE"};
  SigningKey *key = key_made(&head), *stranger = key_made(&other);
  PublicKeys *keys = public_keys_load(folder, NULL);
  Case c;
  demo_load(&c, "demo/QB-02.xml");
  ok(case_decide(&c, ENTRY_PASS, &head, "good", 0, &limits, NULL));
  signed_as(&c, keys, SIGNED_NOT);
  ok(case_decide(&c, ENTRY_PASS, &head, "good", 0, &limits, key));
  signed_as(&c, keys, SIGNED_WELL);
  signed_as(&c, NULL, SIGNED_UNKNOWN);
  HistoryEntry *last = c.history->pdata[c.history->len - 1];
  g_autofree char *signature = g_strdup(last->signature), *chain = g_strdup(last->chain);
  /* the words changed below the signature */
  set(&last->text, "goods");
  signed_as(&c, keys, SIGNED_WRONG);
  /* and the chain made to fit them again: nobody can sign that */
  g_autoptr(GString) bytes = chain_bytes(&c, c.history->len - 1);
  g_free(last->chain);
  last->chain = g_compute_checksum_for_string(G_CHECKSUM_SHA256, bytes->str, (gssize)bytes->len);
  g_assert_cmpint(chain_check(&c).state, ==, CHAIN_WHOLE);
  signed_as(&c, keys, SIGNED_WRONG);
  set(&last->text, "good");
  set(&last->chain, chain);
  signed_as(&c, keys, SIGNED_WELL);
  /* damaged, missing, of another length, without its key */
  const char *const wrong[] = {"", "AAAA", "!", "\xff"};
  for (size_t i = 0; i < G_N_ELEMENTS(wrong); i++) {
    set(&last->signature, wrong[i]);
    g_assert_cmpint(entry_signed(last, keys), ==, SIGNED_WRONG);
  }
  set(&last->signature, signature);
  set(&last->key, "");
  g_assert_cmpint(entry_signed(last, keys), ==, SIGNED_WRONG);
  set(&last->key, "0123456789abcdef");
  g_assert_cmpint(entry_signed(last, keys), ==, SIGNED_UNKNOWN);
  /* somebody signs as the supervisor with a key of his own that the lab knows */
  ok(case_decide(&c, ENTRY_PASS, &head, "mine", 0, &limits, stranger));
  signed_as(&c, keys, SIGNED_WRONG);
  ok(case_decide(&c, ENTRY_PASS, &(Person){"Sam Head", "trainee", "SH"}, "mine", 0, &limits, key));
  signed_as(&c, keys, SIGNED_WRONG);
  case_clear(&c);
  public_keys_free(keys);
  signing_key_free(key);
  signing_key_free(stranger);
  keys_empty();
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/signing/rfc-8032", test_vectors);
  g_test_add_func("/signing/files", test_files);
  g_test_add_func("/signing/lab", test_lab);
  g_test_add_func("/signing/decisions", test_decisions);
  return folder_run();
}
