/* figures.c - the figures that core/docs says the program computes: each is computed, and stands in the section that the table names */
#include "core/analyzer/analyzer.h"
#include "core/budget/budget.h"
#include "core/detection/detection.h"
#include "core/detection/spectrum.h"
#include "core/plan/plan.h"
#include "core/quantity/coverage.h"
#include "core/quantity/units.h"
#include "core/width/width.h"
#include "tests/suite.h"

#include <string.h>

#define TABLE "\n## 10. "
#define LEAST_ROWS 40

static const SpDetectorLaw one_look = { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, 1, FALSE };

/* ---- what the rows name; their argument stands behind the name ---- */

static double
student (double dof)
{
  return sp_coverage_factor (dof);
}

static double
effective_dof (G_GNUC_UNUSED double none)
{
  const double u[] = { 0.57, 0.25 }, dof[] = { 9, INFINITY };
  return sp_effective_dof (2, u, dof);
}

static double
conformity (double over_u)
{
  return sp_student_below (over_u, INFINITY);
}

static double
coefficient_product (double vswr)
{
  return sp_reflection_from_vswr (vswr) * sp_reflection_from_vswr (vswr == 1.2 ? 1.4 : vswr);
}

static double
mismatch_u (double vswr)
{
  return sp_mismatch_u_db (coefficient_product (vswr));
}

static double
mismatch_most (double vswr)
{
  double most, least;
  sp_mismatch_limits_db (coefficient_product (vswr), &most, &least);
  return most;
}

static double
mismatch_least (double vswr)
{
  double most, least;
  sp_mismatch_limits_db (coefficient_product (vswr), &most, &least);
  return least;
}

static double
noise_bandwidth (double poles)
{
  return sp_filter_nbw_ratio (poles > 0 ? SP_FILTER_SYNC4 : SP_FILTER_GAUSSIAN);
}

static double
averaged_noise (double kind)
{
  SpDetectorLaw law = { SP_DETECTOR_SAMPLE, SP_AVERAGE_LOG, 1, 10, FALSE };
  SpDetectorLaw voltage = { SP_DETECTOR_AVERAGE, SP_AVERAGE_NONE, 10, 1, FALSE };
  return sp_law_noise_mean_db (kind > 0 ? &law : &voltage);
}

static double
peak_of_noise (double looks)
{
  SpDetectorLaw law = { SP_DETECTOR_PEAK, SP_AVERAGE_NONE, looks, 1, FALSE };
  return sp_law_noise_mean_db (&law);
}

static double
threshold (double points)
{
  return sp_law_threshold_db (&one_look, points);
}

static double
detection_limit (double points)
{
  return sp_law_detection_limit_db (&one_look, threshold (points));
}

static double
power_over_noise (double over_db)
{
  SpDetectorLaw law = { SP_DETECTOR_SAMPLE, SP_AVERAGE_POWER, 1, 10, FALSE };
  double correction, u;
  sp_law_near_noise (&law, over_db, &correction, &u);
  return -correction;
}

static double
width_60_db (double poles)
{
  return sp_width_line_drop_hz (poles > 0 ? SP_FILTER_SYNC4 : SP_FILTER_GAUSSIAN, 1, 60);
}

static double
width_of_power (double poles)
{
  return sp_width_line_occupied_hz (poles > 0 ? SP_FILTER_SYNC4 : SP_FILTER_GAUSSIAN, 1);
}

static double
lost_between (double rbws)
{
  return sp_sampling_loss_db (SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, rbws, 1, sp_filter_nbw_ratio (SP_FILTER_GAUSSIAN));
}

static double
parabola (double level)
{
  double offset, vertex;
  sp_parabola (-20.5, -20.0, -21.1, &offset, &vertex);
  return level > 0 ? vertex : offset;
}

static double
range_of (double order)
{
  return sp_dynamic_range_db ((guint) order, order == 2 ? 35 : 12.5, -110, 0, 0, NULL);
}

static double
best_level_of (double order)
{
  double level;
  sp_dynamic_range_db ((guint) order, order == 2 ? 35 : 12.5, -110, 0, 0, &level);
  return level;
}

static double
in_filter (double dbc_hz)
{
  return dbc_hz + sp_db_from_ratio (1e3 * sp_filter_nbw_ratio (SP_FILTER_GAUSSIAN));
}

static double
microwatt (double power)
{
  return sp_dbm_from_watt (power * 1e-6);
}

static const struct {
  const char *name;
  double (*of) (double);
} figures[] = {
  { "effective degrees of freedom", effective_dof },
  { "Student's factor", student },
  { "conformity", conformity },
  { "mismatch m", coefficient_product },
  { "mismatch u", mismatch_u },
  { "mismatch at most", mismatch_most },
  { "mismatch at least", mismatch_least },
  { "noise bandwidth", noise_bandwidth },
  { "average of noise", averaged_noise },
  { "peak of noise", peak_of_noise },
  { "threshold", threshold },
  { "detection limit", detection_limit },
  { "noise in a power average", power_over_noise },
  { "60 dB width", width_60_db },
  { "99 % width", width_of_power },
  { "lost between points", lost_between },
  { "parabola", parabola },
  { "range", range_of },
  { "best mixer level", best_level_of },
  { "phase noise in 1 kHz", in_filter },
  { "microwatt", microwatt },
};

/* ---- the pages ---- */

static char *
page (const char *name)
{
  g_autofree char *file = g_strdup_printf ("core/docs/%s.md", name), *path = sp_test_path (file);
  g_autoptr (GError) error = NULL;
  char *text = NULL;
  g_file_get_contents (path, &text, NULL, &error);
  sp_no_error (error);
  return text;
}

/* "4.1" of a page: from its heading to the next of whatever depth. */
static char *
section (const char *text, const char *number)
{
  g_autofree char *heading = g_strdup_printf ("# %s%s ", number, strchr (number, '.') ? "" : ".");
  const char *from = strstr (text, heading);
  ck_assert_msg (from != NULL, "no section %s", number);
  const char *to = strstr (from, "\n##");
  return g_strndup (from, to ? (gsize) (to - from) : strlen (from));
}

/* As a number of its own: 1.76 does not stand in 21.7609. */
static gboolean
stands_in (const char *text, const char *number)
{
  gsize length = strlen (number);
  for (const char *at = text; (at = strstr (at, number)); at += length)
    if ((at == text || !strchr ("0123456789.", at[-1])) && !g_ascii_isdigit (at[length])
        && !(at[length] == '.' && g_ascii_isdigit (at[length + 1])))
      return TRUE;
  return FALSE;
}

/* Half the last digit that is printed. */
static double
half_digit (const char *number)
{
  const char *point = strchr (number, '.');
  return 0.5001 * pow (10, point ? -(double) strlen (point + 1) : 0);
}

static gboolean
check_row (char **cell)
{
  for (guint i = 0; i < G_N_ELEMENTS (figures); i++)
    if (g_str_equal (figures[i].name, cell[2])) {
      double want = g_ascii_strtod (cell[4], NULL), got = figures[i].of (g_ascii_strtod (cell[3], NULL));
      g_autofree char *what = g_strdup_printf ("%s of %s", cell[2], cell[3]);
      sp_near (what, "core/docs/metrology.md, section 10,", got, want, half_digit (cell[4]));
      return TRUE;
    }
  return FALSE;
}

/* | page section | figure | of | value | */
START_TEST (pages_say_what_the_program_computes)
{
  g_autofree char *metrology = page ("metrology"), *computation = page ("computation");
  const char *from = strstr (metrology, TABLE);
  ck_assert (from != NULL);
  g_auto (GStrv) lines = g_strsplit (from, "\n", -1);
  guint rows = 0, used = 0;
  for (char **line = lines; *line; line++) {
    g_auto (GStrv) cell = g_strsplit (*line, "|", -1);
    if (g_strv_length (cell) != 6 || g_str_has_prefix (*line, "|---") || g_str_has_prefix (*line, "| page"))
      continue;
    for (char **c = cell; *c; c++)
      g_strstrip (*c);
    gboolean other = g_str_has_prefix (cell[1], "computation.md ");
    g_autofree char *told = section (other ? computation : metrology, strchr (cell[1], ' ') + 1);
    ck_assert_msg (stands_in (told, cell[4]), "%s does not say %s", cell[1], cell[4]);
    ck_assert_msg (check_row (cell), "no function computes \"%s\"", cell[2]);
    rows++;
  }
  for (guint i = 0; i < G_N_ELEMENTS (figures); i++) {
    g_autofree char *named = g_strdup_printf ("| %s |", figures[i].name);
    used += strstr (from, named) != NULL;
  }
  ck_assert_uint_eq (used, G_N_ELEMENTS (figures));
  ck_assert_uint_ge (rows, LEAST_ROWS);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/figures");
  TCase *t = tcase_create ("pages");
  tcase_add_test (t, pages_say_what_the_program_computes);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
