#include "ui/report/workbook/workbook.h"
#include "core/bench/bench.h"
#include "core/bench/sheet/sheet.h"
#include "core/judge/judge.h"
#include "tests/suite.h"
#include "ui/report/workbook/workbook-private.h"

#include <glib/gstdio.h>
#include <locale.h>
#include <string.h>

static char *
name_of (const char *wish, GHashTable *taken)
{
  char *name = workbook_sheet_name (wish, taken);
  ck_assert_uint_le (g_utf8_strlen (name, -1), 31);
  ck_assert_ptr_null (strpbrk (name, "[]:*?/\\'!"));
  ck_assert_uint_gt (strlen (name), 0);
  return name;
}

START_TEST (sheet_names_are_legal_and_unique)
{
  static const struct {
    const char *wish, *name;
  } cases[] = {
    { "Mirrick/2 m high", "Mirrick 2 m high" },
    { "mirrick 2 M HIGH", "mirrick 2 M HIGH (2)" },
    { "Mirrick:2 m high", "Mirrick 2 m high (3)" },
    { "'quoted'", "quoted" },
    { "", "condition" },
    { "///", "condition (2)" },
    { "History", "History (2)" },
    { "A name that is longer than a sheet's own may be", "A name that is longer than a sh" },
    { "A name that is longer than a sheet's own may be!", "A name that is longer than  (2)" },
    { "_x003D_1", "x003D_1" },
  };
  g_autoptr (GHashTable) taken = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *name = name_of (cases[i].wish, taken);
    ck_assert_str_eq (name, cases[i].name);
  }
  GString *umlauts = g_string_new (NULL); /* counted in characters, not in bytes */
  for (guint i = 0; i < 40; i++)
    g_string_append (umlauts, "\xc3\xa4");
  g_autofree char *name = name_of (umlauts->str, taken);
  ck_assert_uint_eq (g_utf8_strlen (name, -1), 31);
  g_string_free (umlauts, TRUE);
}
END_TEST

START_TEST (texts_fit_a_cell)
{
  g_autofree char *control = workbook_text ("a\tb\001c\nd\xef\xbf\xbf");
  ck_assert_str_eq (control, "a b c\nd\xef\xbf\xbd");
  g_autofree char *torn = workbook_text ("a\377b");
  ck_assert (g_utf8_validate (torn, -1, NULL));
  g_autofree char *many = g_strnfill (40000, 'x'), *cut = workbook_text (many);
  ck_assert_uint_eq (strlen (cut), 32767);
  GString *wide = g_string_new (NULL); /* two UTF-16 units each */
  for (guint i = 0; i < 20000; i++)
    g_string_append (wide, "\xf0\x9f\x93\xa1");
  g_autofree char *fits = workbook_text (wide->str);
  ck_assert_uint_eq (g_utf8_strlen (fits, -1), 16383);
  g_string_free (wide, TRUE);
  g_autofree char *reference = workbook_sheet_reference ("O'Brien"), *quoted = workbook_quoted ("say \"x\"");
  ck_assert_str_eq (reference, "'O''Brien'");
  ck_assert_str_eq (quoted, "\"say \"\"x\"\"\"");
}
END_TEST

/* A locale whose decimal mark is a comma, made here: none may be installed. */
static void
make_comma_locale (const char *folder)
{
  g_autofree char *source = g_build_filename (folder, "source", NULL), *map = g_build_filename (folder, "map", NULL);
  g_autofree char *made = g_build_filename (folder, "comma", NULL), *out = NULL, *errors = NULL;
  GString *text = g_string_new ("<code_set_name> ASCII\n<comment_char> %\n<escape_char> /\nCHARMAP\n");
  for (guint i = 0; i < 128; i++)
    g_string_append_printf (text, "<U%04X> /x%02x C%u\n", i, i, i);
  g_string_append (text, "END CHARMAP\n");
  ck_assert (g_file_set_contents (map, text->str, -1, NULL));
  g_string_free (text, TRUE);
  ck_assert (g_file_set_contents (source,
                                  "comment_char %\nescape_char /\nLC_NUMERIC\ndecimal_point \",\"\nthousands_sep \"\"\ngrouping -1\n"
                                  "END LC_NUMERIC\n",
                                  -1, NULL));
  char *command[] = { "localedef", "--no-archive", "-c", "-i", source, "-f", map, made, NULL };
  ck_assert (g_spawn_sync (NULL, command, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &errors, NULL, NULL));
  g_setenv ("LOCPATH", folder, TRUE);
  ck_assert_msg (setlocale (LC_NUMERIC, "comma") != NULL, "localedef made no locale: %s", errors);
  g_unlink (source);
  g_unlink (map);
}

static void
remove_locale (const char *folder)
{
  char *command[] = { "rm", "-r", (char *) folder, NULL };
  ck_assert (g_spawn_sync (NULL, command, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL));
}

START_TEST (decimal_point_in_every_locale)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *sheet = sp_test_path ("samples/club.sheet"), *folder = g_dir_make_tmp ("spurproof-locale-XXXXXX", NULL);
  g_autoptr (SpBench) bench = sp_bench_read (sheet, &error);
  sp_no_error (error);
  g_autoptr (SpFindings) findings = sp_judge (bench);
  SpView view;
  sp_view_init (&view);
  g_autoptr (GBytes) point = sp_workbook_export (findings, &view, TRUE, &error);
  sp_no_error (error);
  make_comma_locale (folder);
  g_autofree char *before = g_strdup_printf ("%.1f", 1.5);
  g_autoptr (GBytes) comma = sp_workbook_export (findings, &view, TRUE, &error);
  sp_no_error (error);
  g_autofree char *after = g_strdup_printf ("%.1f", 1.5);
  setlocale (LC_NUMERIC, "C");
  remove_locale (folder);
  ck_assert_str_eq (before, "1,5");
  ck_assert_str_eq (after, "1,5");
  ck_assert (g_bytes_equal (point, comma));
}
END_TEST

static Suite *
suite (void)
{
  Suite *all = suite_create ("report/workbook");
  TCase *cells = tcase_create ("workbook");
  tcase_set_timeout (cells, 120);
  tcase_add_test (cells, sheet_names_are_legal_and_unique);
  tcase_add_test (cells, texts_fit_a_cell);
  tcase_add_test (cells, decimal_point_in_every_locale);
  suite_add_tcase (all, cells);
  return all;
}

SP_MAIN (suite)
