#include "core/quantity/keyfile.h"
#include "core/quantity/error.h"
#include "core/quantity/file.h"
#include "tests/suite.h"

#include <glib/gstdio.h>
#include <string.h>

static SpKeyFile *
parse (const char *text)
{
  g_autoptr (GError) error = NULL;
  SpKeyFile *file = sp_key_file_parse (text, strlen (text), "t.chain", &error);
  sp_no_error (error);
  return file;
}

START_TEST (syntax)
{
  g_autoptr (SpKeyFile) file = parse ("\xEF\xBB\xBF# first\r\n"
                                      " [ stage \t patch ]   # why\r\n"
                                      "  name = Shelf two # note\r\n"
                                      "hash=a#b\n"
                                      "quoted=\"a # b\" # c\n"
                                      "two=\"a\" and \"b # c\"\n"
                                      "inch=3\" cable # gone\n"
                                      "empty=\n"
                                      "blank= # nothing\n"
                                      "eq=a=b\n"
                                      "äöü=größe 7\n"
                                      "\t# indented\n"
                                      "last=end");
  SpGroup *group = sp_key_file_find (file, "stage patch");
  static const struct {
    const char *key, *value;
    guint line, column;
  } rows[] = {
    { "name", "Shelf two", 3, 10 }, { "hash", "a#b", 4, 6 },  { "quoted", "a # b", 5, 9 }, { "two", "\"a\" and \"b # c\"", 6, 5 },
    { "inch", "3\" cable", 7, 6 },  { "empty", "", 8, 7 },    { "blank", "", 9, 7 },       { "eq", "a=b", 10, 4 },
    { "äöü", "größe 7", 11, 5 },    { "last", "end", 13, 6 },
  };

  ck_assert_ptr_nonnull (group);
  ck_assert_uint_eq (group->line, 2);
  ck_assert_uint_eq (group->keys->len, G_N_ELEMENTS (rows));
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    const SpKey *key = sp_group_find (group, rows[i].key);
    ck_assert_msg (key && strcmp (key->value, rows[i].value) == 0, "%s: “%s”", rows[i].key, key ? key->value : "absent");
    ck_assert_msg (key->line == rows[i].line && key->column == rows[i].column, "%s at %u:%u", rows[i].key, key->line, key->column);
  }
  ck_assert_ptr_null (sp_group_find (group, "absent"));
  ck_assert_ptr_null (sp_group_find (NULL, "name"));
  ck_assert_ptr_null (sp_key_file_find (file, "stage"));
}
END_TEST

START_TEST (bad_syntax)
{
  static const struct {
    const char *text, *message;
  } rows[] = {
    { "[a]\nx=1\nwhat\n", "t.chain:3:1: found “what”; expected [group], key=value or # and a comment" },
    { "[a]\nx=1\n  x =2\n", "t.chain:3:3: x stands here a second time, the first is in line 2; keep one of them" },
    { "[stage a]\n[b]\n [stage  a]\n", "t.chain:3:2: [stage a] stands here a second time, the first is in line 1; keep one of them" },
    { "# c\nx=1\n[a]\n", "t.chain:2:1: a key before the first group; expected [group]" },
    { "[a\n", "t.chain:1:3: expected ] to end the group's name" },
    { "[a # b]\n", "t.chain:1:3: expected ] to end the group's name" },
    { "[a[b]\n", "t.chain:1:3: expected ] to end the group's name" },
    { "[ ]\n", "t.chain:1:3: a group without a name; expected one, such as [chain]" },
    { "[ä] x\n", "t.chain:1:5: found “x” behind a group's name; expected the end of the line, or # and a comment after a blank" },
    { "[a]#c\n", "t.chain:1:4: found “#c” behind a group's name; expected the end of the line, or # and a comment after a blank" },
    { "[a]\n =1\n", "t.chain:2:2: expected a key's name before =" },
    { "[a]\nx=\"b # c\n", "t.chain:2:3: a double quote without its second" },
    { "[a]\nöx=\xe4\n", "t.chain:2:4: the byte 0xE4 is not UTF-8; save the file as UTF-8 text" },
    { "\xff\xfe[", "t.chain:1:1: the byte 0xFF is not UTF-8; save the file as UTF-8 text" },
    { "[a]\nx=\x07\n", "t.chain:2:3: the control character 0x07; expected text whose lines end with LF or CRLF" },
    { "[a]\rx=1\r", "t.chain:1:4: the control character 0x0D; expected text whose lines end with LF or CRLF" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autoptr (GError) error = NULL;
    ck_assert_msg (!sp_key_file_parse (rows[i].text, strlen (rows[i].text), "t.chain", &error), "taken: %s", rows[i].text);
    ck_assert_str_eq (error->message, rows[i].message);
    ck_assert_int_eq (error->code, SP_ERROR_INPUT);
  }
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (sp_key_file_parse ("[a]\nb\0c", 7, "t.chain", &error));
  ck_assert_str_eq (error->message, "t.chain:2:2: the byte 0x00 is not UTF-8; save the file as UTF-8 text");
}
END_TEST

static const char *const kinds[] = { "cable", "pad", NULL };

START_TEST (bad_values)
{
  static const struct {
    const char *line, *message;
  } rows[] = {
    { "number=12 dB", "t.chain:2:8: [a] number: found “12 dB”; expected a number from 0 to 100" },
    { "number=", "t.chain:2:8: [a] number: nothing stands here; expected a number from 0 to 100" },
    { "number=\"101\"", "t.chain:2:9: [a] number: found “101”; expected a number from 0 to 100" },
    { "number = -0.5", "t.chain:2:10: [a] number: found “-0.5”; expected a number from 0 to 100" },
    { "frequency=-1",
      "t.chain:2:11: [a] frequency: found “-1”; expected a frequency, such as 146.52MHz or 146520000 (Hz, kHz, MHz, GHz; not below 0)" },
    { "choice=Cable", "t.chain:2:8: [a] choice: found “Cable”; expected one of: cable, pad" },
    { "answer=true", "t.chain:2:8: [a] answer: found “true”; expected one of: no, yes" },
    { "date=2026-02-30", "t.chain:2:6: [a] date: found “2026-02-30”; expected a date that exists, as YEAR-MONTH-DAY" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autofree char *text = g_strdup_printf ("[a]\n%s\n", rows[i].line);
    g_autoptr (SpKeyFile) file = parse (text);
    g_autoptr (GError) error = NULL;
    SpGroup *group = sp_key_file_find (file, "a");
    double number = 5, frequency = 6;
    int choice = 7;
    gboolean answer = TRUE;
    guint32 day = 8;
    gboolean good = sp_group_number (file, group, "number", 0, 100, &number, &error)
                    && sp_group_frequency (file, group, "frequency", &frequency, &error)
                    && sp_group_choice (file, group, "choice", kinds, &choice, &error)
                    && sp_group_yes_no (file, group, "answer", &answer, &error) && sp_group_date (file, group, "date", &day, &error);
    ck_assert (!good);
    ck_assert_str_eq (error->message, rows[i].message);
    ck_assert (number == 5 && frequency == 6 && choice == 7 && answer == TRUE && day == 8);
  }
}
END_TEST

START_TEST (good_values)
{
  g_autoptr (SpKeyFile) file = parse (
      "[a]\nnumber=1e2\nfrequency=146.52MHz\nchoice=pad\nanswer=yes\ndate=2026-09-12\ntext=\" x \"\nlist=  5 1 ;; ä b; c;\n");
  g_autoptr (GError) error = NULL;
  SpGroup *group = sp_key_file_find (file, "a");
  double number = 0, frequency = 0, absent = 3;
  int choice = 7;
  gboolean answer = FALSE;
  guint32 day = 0;
  g_autofree char *text = g_strdup ("before");

  ck_assert (sp_group_number (file, group, "number", 0, 100, &number, &error)
             && sp_group_frequency (file, group, "frequency", &frequency, &error));
  ck_assert (sp_group_choice (file, group, "choice", kinds, &choice, &error) && sp_group_yes_no (file, group, "answer", &answer, &error));
  ck_assert (sp_group_date (file, group, "date", &day, &error) && sp_group_text (file, group, "text", &text, &error));
  ck_assert (sp_group_number (file, group, "absent", 0, 1, &absent, &error)
             && sp_group_number (file, NULL, "number", 0, 1, &absent, &error));
  sp_no_error (error);
  ck_assert (number == 100 && frequency == 146520000 && choice == 1 && answer == TRUE && day == 739871 && absent == 3);
  ck_assert_str_eq (text, " x ");

  const SpKey *key = sp_group_find (group, "list");
  g_autoptr (GArray) items = sp_key_items (key);
  static const struct {
    const char *text;
    guint offset;
  } expected[] = { { "5 1", 0 }, { "ä b", 7 }, { "c", 12 } };
  ck_assert_uint_eq (items->len, 3);
  for (guint i = 0; i < 3; i++) {
    SpItem *item = &g_array_index (items, SpItem, i);
    ck_assert_str_eq (item->text, expected[i].text);
    ck_assert_uint_eq (item->offset, expected[i].offset);
  }
  ck_assert (!sp_key_fail (file, group, key, 6, &error, "bad %s", "point"));
  ck_assert_str_eq (error->message, "t.chain:8:14: [a] list: bad point");
}
END_TEST

START_TEST (paths)
{
  static const struct {
    const char *file, *path, *resolved;
  } rows[] = {
    { "bench.chain", "pad.s2p", "pad.s2p" },
    { "/x/y/bench.chain", "pad.s2p", "/x/y/pad.s2p" },
    { "y/bench.chain", "../pad%20a.s2p", "y/../pad%20a.s2p" },
    { "/x/bench.chain", "/z/pad.s2p", "/z/pad.s2p" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autoptr (SpKeyFile) file = sp_key_file_parse ("", 0, rows[i].file, NULL);
    g_autofree char *resolved = sp_key_file_resolve (file, rows[i].path);
    ck_assert_str_eq (resolved, rows[i].resolved);
  }
}
END_TEST

START_TEST (unknown_keys_survive)
{
  g_autoptr (SpKeyFile) file = parse (
      "[chain]\nname=A\ncolour=\"blue # sky\"\n[shelf]\nheight=2\nplace=left\n[stage a]\nkind=pad\n[bare]\n");
  g_autoptr (GPtrArray) warnings = sp_reasons_new ();
  static const struct {
    const char *group, *key;
    double line;
  } expected[] = { { "chain", "colour", 3 }, { "shelf", "", 4 }, { "bare", "", 9 } };

  sp_group_find (sp_key_file_find (file, "chain"), "name");
  sp_group_find (sp_key_file_group (file, 2), "kind"); /* reached by index: marks its group all the same */
  sp_key_file_unknown (file, warnings);
  ck_assert_uint_eq (warnings->len, 3);
  for (guint i = 0; i < 3; i++) {
    const SpReason *reason = warnings->pdata[i];
    ck_assert_int_eq (reason->code, SP_REASON_UNKNOWN_KEY);
    ck_assert_str_eq (reason->UNKNOWN_KEY.file, "t.chain");
    ck_assert_str_eq (reason->UNKNOWN_KEY.group, expected[i].group);
    ck_assert_str_eq (reason->UNKNOWN_KEY.key, expected[i].key);
    ck_assert_double_eq (reason->UNKNOWN_KEY.line, expected[i].line);
  }
  g_autofree char *leftover = sp_key_file_leftover (file);
  ck_assert_str_eq (leftover, "[chain]\ncolour=\"blue # sky\"\n[shelf]\nheight=2\nplace=left\n[bare]\n");

  g_autofree char *joined = sp_key_file_join ("[ chain ] # ours\nname=B\n\n[stage a]\nkind=cable", leftover);
  ck_assert_str_eq (joined,
                    "[ chain ] # ours\ncolour=\"blue # sky\"\nname=B\n\n[stage a]\nkind=cable\n\n[shelf]\nheight=2\nplace=left\n[bare]\n");
  g_autoptr (SpKeyFile) again = parse (joined);
  ck_assert_str_eq (sp_group_find (sp_key_file_find (again, "chain"), "colour")->value, "blue # sky");
  g_autofree char *nothing = sp_key_file_join ("[a]\n", "");
  ck_assert_str_eq (nothing, "[a]\n");
}
END_TEST

static void
check_too_large (const char *text, const char *end)
{
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (sp_key_file_parse (text, strlen (text), "t.chain", &error));
  ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_LIMIT));
  ck_assert_msg (g_str_has_suffix (error->message, end), "%s", error->message);
}

START_TEST (limits)
{
  g_autofree char *lines = g_strnfill (100001, '\n'), *fits = g_strnfill (100000, '\n'), *wide = g_strnfill (65537, '#');
  g_autofree char *large = g_strnfill (16 * 1024 * 1024 + 1, ' ');

  check_too_large (lines, "has more than the 100000 lines that are read of such a file");
  check_too_large (wide, "t.chain:1: longer than the 65536 characters that a line may have");
  check_too_large (large, "is larger than the 16777216 bytes that are read of such a file");
  g_autoptr (SpKeyFile) file = parse (fits);
  ck_assert_uint_eq (sp_key_file_n_groups (file), 0);
}
END_TEST

START_TEST (many_keys)
{
  GString *text = g_string_new ("[a]\n");
  for (guint i = 0; i < 99000; i++)
    g_string_append_printf (text, "key%u=%u\n", i, i);
  g_autoptr (SpKeyFile) file = parse (text->str);
  g_autoptr (GPtrArray) warnings = sp_reasons_new ();
  sp_key_file_find (file, "a");
  sp_key_file_unknown (file, warnings);
  ck_assert_uint_eq (warnings->len, 99000);
  g_string_free (text, TRUE);
}
END_TEST

START_TEST (files)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("spurproof-XXXXXX", NULL), *path = g_build_filename (folder, "a.chain", NULL);
  gsize length;

  ck_assert (g_file_set_contents (path, "[a]\nx=1\nx=2\n", -1, NULL));
  ck_assert_ptr_null (sp_key_file_read (path, &error));
  g_autofree char *expected = g_strconcat (path, ":3:1: x stands here a second time, the first is in line 2; keep one of them", NULL);
  ck_assert_str_eq (error->message, expected);
  g_clear_error (&error);
  g_autofree char *bytes = sp_file_read (path, 12, &length, &error);
  ck_assert (bytes && length == 12 && strcmp (bytes, "[a]\nx=1\nx=2\n") == 0);
  ck_assert_ptr_null (sp_file_read (path, 11, &length, &error));
  ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_LIMIT));
  g_clear_error (&error);
  g_remove (path);
  ck_assert_ptr_null (sp_key_file_read (path, &error));
  ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_IO) && strstr (error->message, path));
  g_clear_error (&error);
  ck_assert_ptr_null (sp_key_file_read (folder, &error));
  ck_assert (g_str_has_suffix (error->message, ": is a folder; expected a file"));
  g_clear_error (&error);
  g_rmdir (folder);
}
END_TEST

/* Whatever it is fed, it ends with a file or with an error that has a place; a file's leftover reads back to the same. */
static void
feed (const char *bytes, gsize length)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *exact = g_memdup2 (bytes, MAX (length, 1)); /* nothing readable behind it */
  g_autoptr (SpKeyFile) file = sp_key_file_parse (exact, length, "t", &error);

  ck_assert ((file != NULL) != (error != NULL));
  if (!file) {
    ck_assert_msg (g_str_has_prefix (error->message, "t:"), "%s", error->message);
    ck_assert (g_utf8_validate (error->message, -1, NULL));
    return;
  }
  g_autofree char *leftover = sp_key_file_leftover (file);
  g_autoptr (SpKeyFile) again = parse (leftover);
  g_autofree char *same = sp_key_file_leftover (again);
  ck_assert_str_eq (same, leftover);
  for (guint i = 0; i < sp_key_file_n_groups (file); i++) {
    SpGroup *a = sp_key_file_group (file, i), *b = sp_key_file_group (again, i);
    ck_assert_str_eq (a->name, b->name);
    for (guint k = 0; k < a->keys->len; k++) {
      ck_assert_str_eq (((SpKey *) a->keys->pdata[k])->value, ((SpKey *) b->keys->pdata[k])->value);
      g_autoptr (GArray) items = sp_key_items (a->keys->pdata[k]);
      ck_assert (items != NULL);
    }
  }
}

START_TEST (random_bytes)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  static const char *const words[] = { "[a]",  "\n", "b=", "\"", " # ",          "#",    " ",      "=", "]", "[", ";", "ä",
                                       "\r\n", "c",  "\t", "1",  "\xEF\xBB\xBF", "\xC3", "[c d]\n" };

  for (guint i = 0; i < 30000; i++) {
    char any[64];
    guint n = g_rand_int_range (rand, 0, sizeof any);
    for (guint k = 0; k < n; k++)
      any[k] = (char) g_rand_int_range (rand, 0, 256);
    feed (any, n);

    g_autoptr (GString) text = g_string_new (i % 4 ? "[a]\n" : "");
    n = g_rand_int_range (rand, 0, 20);
    for (guint k = 0; k < n; k++)
      g_string_append (text, words[g_rand_int_range (rand, 0, G_N_ELEMENTS (words))]);
    feed (text->str, text->len);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("quantity/keyfile");
  TCase *tests = tcase_create ("key files");

  tcase_set_timeout (tests, 0);
  tcase_add_test (tests, syntax);
  tcase_add_test (tests, bad_syntax);
  tcase_add_test (tests, bad_values);
  tcase_add_test (tests, good_values);
  tcase_add_test (tests, paths);
  tcase_add_test (tests, unknown_keys_survive);
  tcase_add_test (tests, limits);
  tcase_add_test (tests, many_keys);
  tcase_add_test (tests, files);
  tcase_add_test (tests, random_bytes);
  suite_add_tcase (s, tests);
  return s;
}

SP_MAIN (suite)
