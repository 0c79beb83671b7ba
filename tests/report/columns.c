/* columns.c - columns line up, whatever is written in them */
#include "tests/suite.h"

#include "ui/report/columns.h"

START_TEST (test_width)
{
  ck_assert_uint_eq (columns_width ("abc"), 3);
  ck_assert_uint_eq (columns_width ("\xc3\xa4\xc3\xb6"), 2); /* two letters, four bytes */
  ck_assert_uint_eq (columns_width ("e\xcc\x81"), 1);        /* a combining accent takes no place */
  ck_assert_uint_eq (columns_width ("\xe7\x84\xa1"), 2);     /* a wide character takes two */
}
END_TEST

START_TEST (test_table)
{
  GString *out = g_string_new (NULL);
  Columns *columns = columns_new ("lr", "name", "dB", NULL);
  columns_add (columns, g_strdup ("Zelbrid\xc3\xb6r"));
  columns_add (columns, g_strdup ("-1.5"));
  columns_add (columns, g_strdup ("K"));
  columns_add (columns, g_strdup (""));
  columns_finish (columns, 2, out);
  ck_assert_str_eq (out->str, "  name         dB\n"
                              "  ---------------\n"
                              "  Zelbrid\xc3\xb6r  -1.5\n"
                              "  K\n");
  g_string_free (out, TRUE);
}
END_TEST

static Suite *
suite (void)
{
  Suite *all = suite_create ("columns");
  TCase *columns = tcase_create ("columns");
  tcase_add_test (columns, test_width);
  tcase_add_test (columns, test_table);
  suite_add_tcase (all, columns);
  return all;
}

SP_MAIN (suite)
