/* The first look at an export: what each line is, the shape, the columns; and options changed one key at a time. */
#include "core/trace/read/read.h"
#include "core/trace/read/understood.h"
#include "tests/suite.h"

static SpUnderstood *
look_at (const char *text, const char *options_text)
{
  SpTraceOptions options;
  ck_assert (sp_trace_options_from_text (options_text, &options, NULL));
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (SpTrace) trace = sp_trace_read_bytes (bytes, "a.csv", &options, NULL);
  SpUnderstood *look = sp_trace_understood (bytes, &options, trace);
  sp_trace_options_clear (&options);
  return look;
}

static const char table[] = "Evening,first\nRBW,10 kHz\n\nFrequency (MHz),Level (dBm)\n1,-50\n2,-51\nx,-52\n4,-53\n5,-54\n";

static void
roles_are (const SpUnderstood *look, const char *roles)
{
  ck_assert_uint_eq (look->n, strlen (roles));
  for (guint i = 0; i < look->n; i++)
    ck_assert_msg ("-sHdx"[look->lines[i].role] == roles[i], "line %u: role %d", i + 1, look->lines[i].role);
}

START_TEST (lines_have_roles)
{
  g_autoptr (SpUnderstood) look = look_at (table, "bad=skip");
  roles_are (look, "ss-Hddxdd");
  ck_assert_str_eq (look->lines[3].text, "Frequency (MHz),Level (dBm)");
  ck_assert_uint_eq (look->lines[8].number, 9);
  ck_assert_str_eq (look->columns, "Frequency (MHz), Level (dBm)");
  ck_assert_str_eq (look->frequency, "Frequency (MHz)");
  ck_assert_str_eq (look->delimiter, "comma");
  ck_assert_str_eq (look->encoding, "UTF-8");
}
END_TEST

START_TEST (a_refused_file_is_looked_at_too)
{
  g_autoptr (SpUnderstood) look = look_at (table, ""), text = look_at ("no\nnumbers\nhere\n", "");
  roles_are (look, "ss-Hddddd");
  roles_are (text, "---");
  ck_assert_str_eq (text->shape, "");
  ck_assert_ptr_null (text->frequency);
}
END_TEST

START_TEST (a_table_far_below_is_shown)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (int i = 0; i < 40; i++)
    g_string_append_printf (text, "key %d;%d\n", i, i);
  g_string_append (text, "MHz;dBm\n1;2\n2;3\n3;4\n4;5\n5;6\n");
  g_autoptr (SpUnderstood) look = look_at (text->str, "");
  ck_assert_uint_eq (look->n, SP_UNDERSTOOD_LINES);
  ck_assert_uint_eq (look->lines[11].number, 12);
  ck_assert_uint_eq (look->lines[12].number, 41); /* the names */
  ck_assert_int_eq (look->lines[12].role, SP_LINE_HEADER);
  ck_assert_int_eq (look->lines[13].role, SP_LINE_DATA);
}
END_TEST

/* Values do not count; keys, names and the way of writing do. */
START_TEST (shape_is_how_it_is_written)
{
  static const struct {
    const char *text;
    gboolean same;
  } cases[] = {
    { "Evening,first\nRBW,30 kHz\n\nFrequency (MHz),Level (dBm)\n100,-5\n200,-5.1\n300,-5\n", TRUE },
    { "Evening,first\nRBW,30 kHz\nVBW,1 kHz\n\nFrequency (MHz),Level (dBm)\n100,-5\n200,-5.1\n300,-5\n", FALSE },
    { "Evening;first\nRBW;30 kHz\n\nFrequency (MHz);Level (dBm)\n100;-5\n200;-5\n300;-5\n", FALSE },
    { "Evening,first\nRBW,30 kHz\n\nFrequency (MHz),Level (dBuV)\n100,-5\n200,-5.1\n300,-5\n", FALSE },
  };
  g_autoptr (SpUnderstood) look = look_at (table, "bad=skip");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (SpUnderstood) other = look_at (cases[i].text, "");
    ck_assert_msg (g_str_equal (look->shape, other->shape) == cases[i].same, "case %u:\n%s", i, other->shape);
  }
}
END_TEST

START_TEST (long_lines_and_long_files_are_cut)
{
  g_autoptr (GString) text = g_string_new ("note: ");
  for (int i = 0; i < 1000; i++)
    g_string_append (text, "\xc3\xa4");
  g_string_append (text, "\nMHz;dBm\n");
  for (int i = 1; i < 20000; i++)
    g_string_append_printf (text, "%d;%d\n", i, -i % 90);
  g_autoptr (SpUnderstood) look = look_at (text->str, "");
  ck_assert_int_eq (g_utf8_strlen (look->lines[0].text, -1), SP_UNDERSTOOD_CHARACTERS);
  ck_assert (g_utf8_validate (look->lines[0].text, -1, NULL));
  ck_assert_str_eq (look->encoding, "UTF-8");
  ck_assert_int_eq (look->lines[2].role, SP_LINE_DATA);
}
END_TEST

START_TEST (bytes_that_are_no_text)
{
  g_autoptr (GBytes) bytes = g_bytes_new_static ("#18\0\1\2\3\4\5\6\7", 11), none = g_bytes_new_static ("", 0);
  g_autoptr (SpUnderstood) look = sp_trace_understood (bytes, NULL, NULL), empty = sp_trace_understood (none, NULL, NULL);
  ck_assert_uint_eq (look->n, 0);
  ck_assert_ptr_null (look->encoding);
  ck_assert_uint_eq (empty->n, 0);
}
END_TEST

START_TEST (options_change_one_key)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *two = sp_trace_options_set ("rbw=10kHz", "attenuation", "20", &error);
  g_autofree char *changed = sp_trace_options_set (two, "rbw", "30 kHz", &error);
  g_autofree char *gone = sp_trace_options_set (changed, "rbw", NULL, &error);
  g_autofree char *named = sp_trace_options_set (gone, "column", "a & b?", &error);
  g_autofree char *column = sp_trace_options_get (named, "column"), *absent = sp_trace_options_get (named, "rbw");
  sp_no_error (error);
  ck_assert_str_eq (two, "rbw=10000&attenuation=20");
  ck_assert_str_eq (changed, "rbw=30000&attenuation=20");
  ck_assert_str_eq (gone, "attenuation=20");
  ck_assert_str_eq (column, "a & b?");
  ck_assert_ptr_null (absent);
  ck_assert_ptr_null (sp_trace_options_set (named, "rbw", "wide", &error));
  ck_assert_ptr_nonnull (strstr (error->message, "?rbw=wide: "));
}
END_TEST

/* A trace taken from a file with several columns says which one, so that its options alone read it again. */
START_TEST (columns_read_together_are_read_again_one_by_one)
{
  static const char text[] = "Index,Frequency (MHz),A (dBm),B (dBm)\n1,1,-50,-60\n2,2,-51,-61\n3,3,-52,-62\n";
  g_autoptr (GBytes) bytes = g_bytes_new_static (text, strlen (text));
  g_autoptr (GPtrArray) traces = sp_trace_read_all_bytes (bytes, "a.csv", NULL, NULL);
  ck_assert_uint_eq (traces->len, 2);
  for (guint i = 0; i < 2; i++) {
    const SpTrace *trace = traces->pdata[i];
    SpTraceOptions options;
    ck_assert (sp_trace_options_from_text (trace->options, &options, NULL));
    g_autoptr (SpTrace) again = sp_trace_read_bytes (bytes, "a.csv", &options, NULL);
    ck_assert_str_eq (again->column, trace->column);
    ck_assert_str_eq (again->options, trace->options);
    ck_assert_double_eq (again->reading_dbm[2], trace->reading_dbm[2]);
    sp_trace_options_clear (&options);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("trace/look");
  TCase *t = tcase_create ("look");
  tcase_add_test (t, lines_have_roles);
  tcase_add_test (t, a_refused_file_is_looked_at_too);
  tcase_add_test (t, a_table_far_below_is_shown);
  tcase_add_test (t, shape_is_how_it_is_written);
  tcase_add_test (t, long_lines_and_long_files_are_cut);
  tcase_add_test (t, bytes_that_are_no_text);
  tcase_add_test (t, options_change_one_key);
  tcase_add_test (t, columns_read_together_are_read_again_one_by_one);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
