/* The evening's list: tables of radios and planned conditions, typed, pasted or taken from an earlier bench. */
#include "core/bench/proposals/list.h"
#include "core/bench/edit/edit.h"
#include "core/bench/proposals/pasted.h"
#include "core/bench/sheet/sheet.h"
#include "tests/suite.h"

static SpBench *
sheet (const char *name)
{
  g_autofree char *relative = g_strconcat ("samples/", name, NULL), *path = sp_test_path (relative);
  g_autoptr (GError) error = NULL;
  SpBench *bench = sp_bench_read (path, &error);
  sp_no_error (error);
  return bench;
}

static SpList *
parse (const char *text, const char *planned)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  return sp_list_parse (bytes, "list", planned);
}

/* "Mirrick|4711|Ola|2 m:5;70 cm:2", a radio behind the other. */
static char *
told (const SpBench *bench)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < bench->n_radios; i++) {
    const SpRadio *radio = &bench->radios[i];
    g_string_append_printf (text, "%s%s|%s|%s|", i ? "\n" : "", radio->name, radio->serial ? radio->serial : "",
                            radio->owner ? radio->owner : "");
    for (guint k = 0; k < bench->n_conditions; k++)
      if (bench->conditions[k].radio == i)
        g_string_append_printf (text, "%s:%g;", bench->conditions[k].name, bench->conditions[k].rated_w);
  }
  return g_string_free (text, FALSE);
}

START_TEST (tables_of_all_kinds)
{
  static const struct {
    const char *text, *planned, *is;
  } cases[] = {
    { "Mirrick,4711,Ola Berg,5,\"2 m high, 70 cm high\"\nAskerby,,,,\n", NULL,
      "Mirrick|4711|Ola Berg|2 m high:5;70 cm high:5;\nAskerby|||:nan;" },
    { "Mirrick;4711;Ola Berg;0,5;2 m\n", NULL, "Mirrick|4711|Ola Berg|2 m:0.5;" },
    { "Radio\tOwner\tRated power (mW)\tBand\nMirrick\tOla\t500\t2 m\nMirrick\tOla\t100\t70 cm\n", NULL, "Mirrick||Ola|2 m:0.5;70 cm:0.1;" },
    { "# tonight\n\nMirrick\nAskerby\n", "2 m high, 70 cm 5W", "Mirrick|||2 m high:nan;70 cm 5W:5;\nAskerby|||2 m high:nan;70 cm 5W:5;" },
    { "serial number,radio\n7,\"Blue, shelf\"\n", "", "Blue, shelf|7||:nan;" },
    { "radio,condition,rated_w\nMirrick,2 m 5 W,4\n", NULL, "Mirrick|||2 m 5 W:4;" }, /* what is said wins over what the name tells */
    { "mirrick,1,,,2 m\nMIRRICK,2,,,6 m\n", NULL, "mirrick|2||2 m:nan;6 m:nan;" },
    { "\xef\xbb\xbfradio;owner\r\nMirrick;\xc3\x85se\r\n", NULL, "Mirrick||\xc3\x85se|:nan;" },
    { "radio,condition\nMirrick,14.2 MHz CW 100 W\n", NULL, "Mirrick|||14.2 MHz CW 100 W:100;" },
    { "radio,owner\nMirrick,=1+1\n", NULL, "Mirrick||=1+1|:nan;" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SpBench) bench = sheet ("blank.sheet");
    g_autoptr (SpList) list = parse (cases[i].text, cases[i].planned);
    ck_assert_uint_eq (list->n_wrong, 0);
    g_autoptr (SpBench) full = sp_bench_with_list (bench, list, &error);
    sp_no_error (error);
    g_autofree char *is = told (full);
    ck_assert_str_eq (is, cases[i].is);
  }
}
END_TEST

START_TEST (a_frequency_a_mode_and_a_mask)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpBench) bench = sheet ("blank.sheet");
  g_autofree char *text = g_strdup_printf ("radio,condition,frequency (MHz),mode,bandwidth,mask,field.firmware,longest_key_down_s\n"
                                           "Mirrick,2 m,145.5,fm,12.5 kHz,%s,2.14,20\n",
                                           sp_mask_names ()[0]);
  g_autoptr (SpList) list = parse (text, NULL);
  g_autoptr (SpBench) full = sp_bench_with_list (bench, list, &error);
  sp_no_error (error);
  const SpCondition *condition = &full->conditions[0];
  ck_assert_double_eq (condition->fundamental_hz, 145.5e6);
  ck_assert_double_eq (condition->necessary_bandwidth_hz, 12.5e3);
  ck_assert_str_eq (condition->mode, "fm");
  ck_assert_ptr_nonnull (condition->mask);
  ck_assert_double_eq (full->radios[0].longest_key_down_s, 20);
  g_autoptr (SpList) by_name = parse ("radio,condition\nAskerby,14.2 MHz CW 100 W\n", NULL);
  g_autoptr (SpBench) named = sp_bench_with_list (bench, by_name, &error);
  sp_no_error (error);
  ck_assert_double_eq (named->conditions[0].fundamental_hz, 14.2e6);
  ck_assert_str_eq (named->conditions[0].mode, "CW");
}
END_TEST

/* Each wrong line has its place; nothing is taken. */
START_TEST (what_is_wrong_has_its_place)
{
  static const struct {
    const char *text, *says;
  } cases[] = { { "radio,rated power\nMirrick,5\nAskerby,many\n", "list:3:9: " },
                { "radio,rated power\nMirrick,0\n", "list:2:9: " },
                { "radio,owner\n,Ola\n", "list:2:1: no radio" },
                { "radio,owner\nMirrick,Ola,x\n", "list:2:13: more fields" },
                { "owner,serial\nOla,3\n", "list:1:1: a heading without" },
                { "radio,owner\nMir/rick,Ola\n", "list:2:1: a radio's name" },
                { "radio,frequency\nMirrick,145\n", "list:2:9: " },
                { "radio\001\n", "list:1:6: " } };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SpBench) bench = sheet ("blank.sheet");
    g_autoptr (SpList) list = parse (cases[i].text, NULL);
    ck_assert_uint_eq (list->n_wrong, 1);
    ck_assert_ptr_null (sp_bench_with_list (bench, list, &error));
    ck_assert_msg (strstr (error->message, cases[i].says) == error->message, "%u: %s", i, error->message);
  }
  g_autoptr (GString) many = g_string_new ("radio,owner\n");
  for (guint i = 0; i < 1001; i++)
    g_string_append_printf (many, "R%u,x\n", i);
  g_autoptr (SpList) list = parse (many->str, NULL);
  ck_assert_uint_eq (list->n_wrong, 1);
}
END_TEST

/* A bench that has sweeps keeps them; what a line leaves empty stays. */
START_TEST (radios_that_are_there_are_found)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpBench) bench = sheet ("club.sheet");
  g_autoptr (SpList) list = parse ("radio,serial,owner,conditions\nDORNIMEL,99,,\"2m, 6 m\"\n", NULL);
  g_autoptr (SpBench) full = sp_bench_with_list (bench, list, &error);
  sp_no_error (error);
  ck_assert_uint_eq (full->n_radios, bench->n_radios);
  ck_assert_uint_eq (full->n_conditions, bench->n_conditions + 1);
  for (guint i = 0; i < full->n_radios; i++)
    if (g_str_equal (full->radios[i].name, "Dornimel")) {
      ck_assert_str_eq (full->radios[i].serial, "99");
      ck_assert_str_eq (full->radios[i].owner ? full->radios[i].owner : "", bench->radios[i].owner ? bench->radios[i].owner : "");
    }
}
END_TEST

START_TEST (radios_of_an_earlier_bench)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpBench) blank = sheet ("blank.sheet"), club = sheet ("club.sheet");
  g_autoptr (SpBench) full = sp_bench_with_radios_of (blank, club, &error);
  sp_no_error (error);
  ck_assert_uint_eq (full->n_radios, club->n_radios);
  ck_assert_uint_eq (full->n_conditions, club->n_conditions);
  for (guint i = 0; i < full->n_conditions; i++) {
    ck_assert_uint_eq (full->conditions[i].n_sweeps, 0);
    ck_assert (isnan (full->conditions[i].meter_dbm));
    ck_assert_ptr_null (full->conditions[i].chain);
  }
  g_autoptr (SpBench) twice = sp_bench_with_radios_of (full, club, &error);
  sp_no_error (error);
  ck_assert_str_eq (twice->sha256, full->sha256);
}
END_TEST

/* Several keys by one edit; one that is refused fails all, and is told. */
START_TEST (keys_set_together)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpBench) club = sheet ("club.sheet");
  SpKeyValue cells[] = {
    { FALSE, 0, "rated_w", "7" }, { FALSE, 1, "mode", "CW" }, { TRUE, 0, "owner", "Ola" }, { FALSE, 2, "rated_w", "" }
  };
  guint failed;
  g_autoptr (SpBench) all = sp_bench_set_several (club, cells, G_N_ELEMENTS (cells), &failed, &error);
  sp_no_error (error);
  ck_assert_double_eq (all->conditions[0].rated_w, 7);
  ck_assert_str_eq (all->conditions[1].mode, "CW");
  ck_assert_str_eq (all->radios[0].owner, "Ola");
  ck_assert (isnan (all->conditions[2].rated_w));
  cells[1] = (SpKeyValue){ FALSE, 1, "duty", "7" };
  ck_assert_ptr_null (sp_bench_set_several (club, cells, G_N_ELEMENTS (cells), &failed, &error));
  ck_assert_uint_eq (failed, 1);
}
END_TEST

START_TEST (a_table_is_ordered_and_pasted_into)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpBench) club = sheet ("club.sheet");
  g_autofree guint *order = sp_bench_table_order (club);
  for (guint i = 1; i < club->n_conditions; i++) {
    const SpCondition *a = &club->conditions[order[i - 1]], *b = &club->conditions[order[i]];
    int names = g_utf8_collate (club->radios[a->radio].name, club->radios[b->radio].name);
    ck_assert (names < 0 || (names == 0 && !(a->fundamental_hz > b->fundamental_hz)));
  }
  const char *keys[] = { "fundamental", "rated_w", "mode", NULL };
  const guint rows[] = { 4, 1, 2 };
  g_autoptr (SpBench) pasted = sp_bench_with_pasted (club, "145,5 MHz\t5\tFM\n7 MHz\t0,5\n\t\t\"A\"\n", rows, 3, keys, ',', &error);
  sp_no_error (error);
  ck_assert_double_eq (pasted->conditions[4].fundamental_hz, 145.5e6);
  ck_assert_double_eq (pasted->conditions[1].rated_w, 0.5);
  ck_assert (isnan (pasted->conditions[2].rated_w)); /* an empty field takes it out */
  ck_assert_str_eq (pasted->conditions[2].mode, "A");
  g_autoptr (SpBench) filled = sp_bench_with_pasted (club, "3\n", rows, 3, keys + 1, '.', &error);
  sp_no_error (error);
  for (guint i = 0; i < 3; i++)
    ck_assert_double_eq (filled->conditions[rows[i]].rated_w, 3);
  static const struct {
    const char *text, *says;
  } wrong[] = { { "7 MHz\t5\n8 MHz\tmany", "pasted:2:7: " },
                { "7 MHz;5;FM;x", "pasted:1:12: more columns" },
                { "7 MHz\n7 MHz\n7 MHz\n7 MHz\n", "pasted:4:1: more lines" },
                { "7", "pasted:1:1: " } };
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++) {
    g_autoptr (GError) why = NULL;
    ck_assert_ptr_null (sp_bench_with_pasted (club, wrong[i].text, rows, 3, keys, '.', &why));
    ck_assert_msg (strstr (why->message, wrong[i].says) == why->message, "%s", why->message);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("import/list");
  TCase *t = tcase_create ("list");
  tcase_add_test (t, tables_of_all_kinds);
  tcase_add_test (t, a_frequency_a_mode_and_a_mask);
  tcase_add_test (t, what_is_wrong_has_its_place);
  tcase_add_test (t, radios_that_are_there_are_found);
  tcase_add_test (t, radios_of_an_earlier_bench);
  tcase_add_test (t, keys_set_together);
  tcase_add_test (t, a_table_is_ordered_and_pasted_into);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
