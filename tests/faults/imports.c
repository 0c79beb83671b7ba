/* imports.c - mutated exports come through the window's import: each is read, or refused in words that name it; the bench changes only by what is taken */
#include "tests/import/sheet.h"

#define FILES 40 /* of one round */
#define SEED_MOST 200000

static GPtrArray *seeds; /* of GBytes; first those that can be read */
static guint n_good;
static guint taken, refused;

static void
add_seeds (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  for (const char *name; dir && (name = g_dir_read_name (dir));)
    g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, (GCompareFunc) g_strcmp0);
  for (guint i = 0; i < names->len; i++) {
    g_autofree char *below = g_build_filename (path, names->pdata[i], NULL);
    char *bytes;
    gsize length;
    if (g_file_test (below, G_FILE_TEST_IS_DIR))
      add_seeds (below);
    else if (!g_str_has_suffix (below, ".json") && g_file_get_contents (below, &bytes, &length, NULL))
      g_ptr_array_add (seeds, g_bytes_new_take (bytes, MIN (length, SEED_MOST)));
  }
}

static void
gather_seeds (void)
{
  static const char *const folders[] = { "samples/raw", "tests/read/good", "tests/read/bad" };
  seeds = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);
  for (guint i = 0; i < G_N_ELEMENTS (folders); i++) {
    g_autofree char *path = sp_test_path (folders[i]);
    n_good = seeds->len;
    add_seeds (path);
  }
  ck_assert_uint_gt (seeds->len, 100);
}

static guint
below (GRand *rand, gsize n)
{
  return n > 1 ? (guint) g_rand_int_range (rand, 0, (gint32) n) : 0;
}

/* Where a line begins, at or after a place chosen by chance. */
static gsize
some_line (const GString *text, GRand *rand)
{
  const char *found = strchr (text->str + below (rand, text->len), '\n');
  return found ? (gsize) (found - text->str) + 1 : 0;
}

static void
mutate (GString *text, GRand *rand)
{
  static const char *const words[] = { "1e999",
                                       "-1e-999",
                                       "NaN",
                                       "inf",
                                       "0",
                                       "-",
                                       ";",
                                       ",",
                                       "\t",
                                       "\r",
                                       "\n\n",
                                       "\xff\xfe",
                                       "\xef\xbb\xbf",
                                       "\"",
                                       "'",
                                       "#",
                                       "!",
                                       "9999999999999999999999",
                                       "1,5",
                                       "1.5.5",
                                       "MHz",
                                       "dBm",
                                       "dB\xc2\xb5V",
                                       "Frequency,Level",
                                       "RBW,",
                                       "%n%s",
                                       "../../x",
                                       "2026-13-45",
                                       "#6999999999",
                                       "\342\210\2225" };
  gsize at = below (rand, text->len + 1), some = 1 + below (rand, below (rand, 4) ? 8 : 4000), length = MIN (text->len - at, some);
  switch (below (rand, 7)) {
  case 0:
    if (at < text->len)
      text->str[at] = (char) g_rand_int (rand);
    break;
  case 1: g_string_erase (text, (gssize) at, (gssize) length); break;
  case 2: {
    g_autofree char *part = g_memdup2 (text->str + at, MAX (length, 1));
    g_string_insert_len (text, (gssize) below (rand, text->len + 1), part, (gssize) length);
    break;
  }
  case 3: g_string_insert (text, (gssize) at, words[below (rand, G_N_ELEMENTS (words))]); break;
  case 4: g_string_truncate (text, at); break;
  case 5: {
    gsize line = text->len ? some_line (text, rand) : 0;
    g_string_insert (text, (gssize) line, words[below (rand, G_N_ELEMENTS (words))]);
    break;
  }
  default: {
    GBytes *other = seeds->pdata[below (rand, seeds->len)];
    gsize size;
    const char *bytes = g_bytes_get_data (other, &size);
    g_string_insert_len (text, (gssize) at, bytes, (gssize) MIN (size, 3000));
  }
  }
}

/* Every file by the seed of its number, so that one can be made again. */
static char *
write_mutant (guint number)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (number);
  GBytes *seed = seeds->pdata[below (rand, below (rand, 4) ? n_good : seeds->len)];
  gsize size;
  const char *bytes = g_bytes_get_data (seed, &size);
  g_autoptr (GString) text = g_string_new_len (bytes, (gssize) size);
  for (guint n = 1 + below (rand, 3); n > 0; n--)
    mutate (text, rand);
  g_autofree char *name = g_strdup_printf ("mutant-%u.csv", number);
  char *path = g_build_filename (folder, name, NULL);
  ck_assert (g_file_set_contents (path, text->str, (gssize) text->len, NULL));
  return path;
}

static void
try_all (void)
{
  guint n = sp_import_window_count (sheet);
  ck_assert_uint_ge (n, FILES);
  for (guint i = 0; i < n; i++) {
    const SpArrivalItem *item = sp_import_window_item (sheet, i);
    ck_assert_msg (item->trace || item->error, "%s: neither read nor refused", item->name);
    ck_assert_msg (!item->error || strstr (item->error, item->name), "%s: “%s” names no file", item->name, item->error);
    refused += item->error != NULL;
    taken += !item->error;
  }
  for (guint i = 0; i < n; i += 7) {
    gtk_single_selection_set_selected (sheet->selection, i);
    wait_until (is_ready);
  }
}

static void
round_of (guint first)
{
  char *paths[FILES + 1] = { NULL };
  for (guint i = 0; i < FILES; i++)
    paths[i] = write_mutant (first + i);
  open_files ("samples/blank.sheet", -1, paths);
  try_all ();
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  if (first / FILES % 2 == 1 && gtk_widget_get_sensitive (sheet->accept)) {
    accept_all ();
    if (strcmp (sp_session_bench (session)->sha256, hash) != 0)
      undo_and_compare ();
  }
  close_all ();
}

START_TEST (mutants_come_in)
{
  gather_seeds ();
  for (guint i = 0; i < (g_getenv ("SP_LONG") ? 200 : 4); i++)
    round_of (i * FILES);
  printf ("mutated exports: %u sweeps read, %u refused\n", taken, refused);
  ck_assert_uint_gt (taken, 10);
  ck_assert_uint_gt (refused, 10);
  g_ptr_array_unref (seeds);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("faults/imports");
  TCase *t = tcase_create ("imports");
  tcase_add_checked_fixture (t, make_folder, remove_folder);
  tcase_set_timeout (t, 3000);
  tcase_add_test (t, mutants_come_in);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
