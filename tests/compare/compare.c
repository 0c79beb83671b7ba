/* compare.c - conditions side by side, and what moved between two judgings, on small benches of a stated truth */
#include "tests/suite.h"

#include "tests/judge/workshop.h"

#include "core/compare/compare.h"
#include "core/compare/waveband.h"
#include "core/judge/judge.h"

#define SHEET(chain)                                                                                                                       \
  "[bench]\nchain=" chain "\nanalyzer=t.analyzer\nmask=us-amateur\nnecessary_bandwidth=16kHz\nradio_vswr=1.0\nradio_harmonic_vswr=1\n"     \
  "[radio Plendour]\nkeyed=a.csv\n[radio Quernish]\n[condition Quernish/low]\nkeyed=b.csv\n[condition Quernish/high]\nkeyed=a.csv\n"

static char *shop;

static void
open_shop (void)
{
  Sweep a = { 10e6, 1500e6, 14901, 100e3, 20, "sample", -95, { { 146e6, -3.0 }, { 292e6, -50.0 }, { 438e6, -60.0 } } };
  Sweep b = { 10e6, 1500e6, 14901, 100e3, 20, "sample", -95, { { 146e6, -9.0 }, { 292e6, -63.0 } } };
  shop = shop_open ();
  shop_put_sweep (shop, "a.csv", &a);
  shop_put_sweep (shop, "b.csv", &b);
}

static void
close_shop (void)
{
  shop_close (shop);
}

static SpFindings *
judged (const char *sheet)
{
  g_autoptr (SpBench) bench = shop_bench (shop, "second_intercept_dbm=80\n", sheet);
  return sp_judge (bench);
}

START_TEST (rows_say_what_the_findings_say)
{
  g_autoptr (SpFindings) findings = judged (SHEET ("t.chain"));
  g_autoptr (SpComparison) comparison = sp_compare (findings);
  ck_assert_uint_eq (comparison->n, 3);
  ck_assert_uint_eq (comparison->most_order, 10);
  ck_assert_str_eq (comparison->rows[0].radio, "Plendour");
  ck_assert_str_eq (comparison->rows[0].condition, "");
  ck_assert_str_eq (comparison->rows[2].found->name, "Quernish/high");
  for (guint i = 0; i < comparison->n; i++) {
    const SpCompareRow *row = &comparison->rows[i];
    ck_assert_ptr_eq (row->found, &findings->conditions[i]);
    ck_assert_uint_eq (row->n_harmonics, 9);
    for (guint order = 2; order <= 10; order++) {
      const SpEmission *e = sp_compare_harmonic (row, order);
      ck_assert_ptr_nonnull (e);
      ck_assert_uint_eq (e->order, order);
    }
    ck_assert_ptr_null (sp_compare_harmonic (row, 1));
    ck_assert_ptr_null (sp_compare_harmonic (row, 11));
    ck_assert_double_eq_tol (row->power_w, pow (10, row->found->power_dbm / 10) / 1000, 1e-12);
  }
  /* 37 dBm and 31 dBm at the socket, 40 dB before the analyzer */
  ck_assert_double_eq_tol (10 * log10 (comparison->rows[0].power_w * 1000), 37, 0.05);
  ck_assert_double_eq_tol (10 * log10 (comparison->rows[1].power_w * 1000), 31, 0.05);
}
END_TEST

START_TEST (findings_outlive_their_maker)
{
  SpFindings *findings = judged (SHEET ("t.chain"));
  g_autoptr (SpComparison) comparison = sp_compare (findings);
  sp_findings_unref (findings);
  g_autoptr (SpComparison) again = sp_comparison_ref (comparison);
  ck_assert_str_eq (again->rows[1].found->name, "Quernish/low");
}
END_TEST

START_TEST (nothing_moves_against_itself)
{
  g_autoptr (SpFindings) findings = judged (SHEET ("t.chain"));
  g_autoptr (SpFindings) same = judged (SHEET ("t.chain"));
  g_autoptr (SpMoves) moves = sp_compare_moves (findings, same);
  ck_assert_uint_eq (moves->n_moved, 0);
  ck_assert_uint_eq (moves->n_conditions, 3);
  for (guint i = 0; i < 3; i++) {
    ck_assert (moves->conditions[i].before.there && moves->conditions[i].after.there);
    ck_assert_int_eq (moves->conditions[i].before.verdict, moves->conditions[i].after.verdict);
    ck_assert_double_eq (moves->conditions[i].power_change_db, 0);
  }
}
END_TEST

/* A chain that loses 1.5 dB more: every level that was read moves by it, and P with them. */
START_TEST (another_chain_moves_every_level)
{
  g_autoptr (SpFindings) before = judged (SHEET ("t.chain"));
  shop_put (shop, "u.chain",
            "[chain]\nname=Another\nstages=pad;small\n"
            "[stage pad]\nkind=pad\nrating_w=50\nvswr=1.0\npoints=1MHz 31.5 0.05; 3GHz 31.5 0.05\n"
            "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n"
            "[stage small]\nkind=pad\nrating_w=2\nvswr=1.0\npoints=1MHz 10.0 0.05; 3GHz 10.0 0.05\n"
            "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n");
  g_autoptr (SpFindings) after = judged (SHEET ("u.chain"));
  g_autoptr (SpMoves) moves = sp_compare_moves (before, after);
  guint seconds = 0;
  for (guint i = 0; i < moves->n_moved; i++) {
    const SpMove *move = &moves->moved[i];
    if (move->order != 2)
      continue;
    seconds++;
    ck_assert_double_eq_tol (move->level_change_db, 1.5, 1e-9);
    ck_assert (move->before.there && move->after.there);
  }
  ck_assert_uint_eq (seconds, 3);
  for (guint i = 0; i < moves->n_conditions; i++)
    ck_assert_double_eq_tol (moves->conditions[i].power_change_db, 1.5, 1e-9);
}
END_TEST

/* A chain of 0.002 dB more moves nothing that anybody is told: 0.00 dB is no move. */
START_TEST (what_does_not_show_is_no_move)
{
  g_autoptr (SpFindings) before = judged (SHEET ("t.chain"));
  shop_put (shop, "w.chain",
            "[chain]\nname=Another\nstages=pad;small\n"
            "[stage pad]\nkind=pad\nrating_w=50\nvswr=1.0\npoints=1MHz 30.002 0.05; 3GHz 30.002 0.05\n"
            "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n"
            "[stage small]\nkind=pad\nrating_w=2\nvswr=1.0\npoints=1MHz 10.0 0.05; 3GHz 10.0 0.05\n"
            "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n");
  g_autoptr (SpFindings) after = judged (SHEET ("w.chain"));
  g_autoptr (SpMoves) moves = sp_compare_moves (before, after);
  ck_assert_uint_eq (moves->n_moved, 0);
  ck_assert (before->conditions[0].power_dbm != after->conditions[0].power_dbm);
}
END_TEST

/* A chain of 0.35 dB more. On 2 m under 25 W the limit is 25 uW and margins fall by 0.35 dB; on 20 m it is P - 43 dB and goes with the level. So each
 * emission's limit says why margins move or not, and what moves alike is one group each. Nothing of it flips or passes U. */
START_TEST (the_limits_move_tells_why)
{
  static const char sheet[] = "[bench]\nchain=%s.chain\nanalyzer=t.analyzer\nmask=us-amateur\nnecessary_bandwidth=2700Hz\nradio_vswr=1.0\n"
                              "radio_harmonic_vswr=1\n[radio Plendour]\nkeyed=a.csv\n[radio Quernish]\nfundamental=14.1MHz\nkeyed=h.csv\n";
  Sweep hf = { 1e6, 151e6, 30001, 10e3, 20, "sample", -90, { { 14.1e6, -3.0 }, { 28.2e6, -60.0 } } };
  shop_put_sweep (shop, "h.csv", &hf);
  shop_put (shop, "v.chain",
            "[chain]\nname=Another\nstages=pad;small\n"
            "[stage pad]\nkind=pad\nrating_w=50\nvswr=1.0\npoints=1MHz 30.35 0.05; 3GHz 30.35 0.05\n"
            "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n"
            "[stage small]\nkind=pad\nrating_w=2\nvswr=1.0\npoints=1MHz 10.0 0.05; 3GHz 10.0 0.05\n"
            "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n");
  g_autofree char *first = g_strdup_printf (sheet, "t"), *second = g_strdup_printf (sheet, "v");
  g_autoptr (SpFindings) before = judged (first);
  g_autoptr (SpFindings) after = judged (second);
  g_autoptr (SpMoves) moves = sp_compare_moves (before, after);
  guint seen[2] = { 0, 0 }, grouped = 0;
  for (guint i = 0; i < moves->n_moved; i++) {
    const SpMove *m = &moves->moved[i];
    gboolean hf_radio = strcmp (m->name, "Quernish") == 0;
    if (m->order != 2)
      continue;
    seen[hf_radio]++;
    ck_assert_double_eq_tol (m->level_change_db, 0.35, 1e-6);
    ck_assert_double_eq_tol (m->limit_change_db, hf_radio ? 0.35 : 0, 1e-6);
    ck_assert_double_eq_tol (m->margin_change_db, hf_radio ? 0 : -0.35, 1e-6);
    ck_assert (!m->notable && !sp_move_is_shown (m, SP_MOVES_NOTABLE) && sp_move_is_shown (m, SP_MOVES_EACH));
    ck_assert_int_ge (m->alike, 0);
    const SpAlike *group = &moves->alike[m->alike];
    ck_assert_double_eq_tol (group->limit.high_db, hf_radio ? 0.35 : 0, SP_ALIKE_DB);
  }
  ck_assert (seen[0] == 1 && seen[1] == 1);
  for (guint k = 0; k < moves->n_alike; k++) {
    ck_assert_uint_ge (moves->alike[k].n, SP_ALIKE_LEAST);
    ck_assert_double_le (moves->alike[k].level.high_db - moves->alike[k].level.low_db, SP_ALIKE_DB);
    grouped += moves->alike[k].n;
  }
  for (guint i = 0; i < moves->n_moved; i++)
    grouped -= moves->moved[i].alike >= 0;
  ck_assert_uint_eq (grouped, 0);
  ck_assert_uint_eq (moves->n_notable, 0);
  ck_assert (!moves->conditions[0].notable && !moves->conditions[1].notable);
}
END_TEST

/* 6.8 dB more is beyond any U here: each emission whose margin moves by it stands for itself, and its condition with it. */
START_TEST (beyond_u_is_notable)
{
  g_autoptr (SpFindings) before = judged (SHEET ("t.chain"));
  shop_put (shop, "w.chain",
            "[chain]\nname=Another\nstages=pad\n[stage pad]\nkind=pad\nrating_w=50\nvswr=1.0\npoints=1MHz 46.8 0.07; 3GHz 46.8 0.07\n"
            "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n");
  g_autoptr (SpFindings) after = judged (SHEET ("w.chain"));
  g_autoptr (SpMoves) moves = sp_compare_moves (before, after);
  guint notable = 0;
  for (guint i = 0; i < moves->n_moved; i++) {
    const SpMove *m = &moves->moved[i];
    gboolean beyond = fabs (m->margin_change_db) > fmax (m->expanded_before_db, m->expanded_after_db);
    ck_assert_int_eq (m->notable, beyond || m->flips || !m->before.there || !m->after.there);
    ck_assert (!m->notable || m->alike < 0);
    notable += m->notable;
  }
  ck_assert_uint_gt (notable, 3);
  ck_assert_uint_eq (moves->n_notable, notable);
  ck_assert (moves->conditions[0].notable);
}
END_TEST

START_TEST (radios_that_come_and_go)
{
  g_autoptr (SpFindings) before = judged (SHEET ("t.chain"));
  g_autoptr (SpFindings) after = judged (
      "[bench]\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\nnecessary_bandwidth=16kHz\n"
      "radio_vswr=1.0\nradio_harmonic_vswr=1\n[radio Fennoch]\nkeyed=b.csv\n[radio Plendour]\nkeyed=b.csv\n");
  g_autoptr (SpMoves) moves = sp_compare_moves (before, after);
  ck_assert_uint_eq (moves->n_conditions, 4);
  ck_assert_str_eq (moves->conditions[0].name, "Plendour");
  ck_assert_double_eq_tol (moves->conditions[0].power_change_db, -6, 0.05);
  ck_assert (moves->conditions[1].before.there && !moves->conditions[1].after.there);
  ck_assert (isnan (moves->conditions[1].power_change_db));
  ck_assert_str_eq (moves->conditions[3].name, "Fennoch");
  ck_assert (!moves->conditions[3].before.there && moves->conditions[3].after.there);
  for (guint i = 0; i < moves->n_moved; i++) {
    ck_assert_str_eq (moves->moved[i].name, "Plendour");
    if (moves->moved[i].order == 2) { /* over the limit at 5 W, far below it at the lower level */
      ck_assert_double_eq_tol (moves->moved[i].level_change_db, -13, 0.3);
      ck_assert_int_eq (moves->moved[i].before.verdict, SP_VERDICT_EXCEEDS);
      ck_assert_int_ne (moves->moved[i].after.verdict, SP_VERDICT_EXCEEDS);
    }
  }
}
END_TEST

/* Spurs have no order: they are told by their frequency, and one that only one judging knows is said with a verdict on one side. */
START_TEST (spurs_are_told_by_frequency)
{
  Sweep spur = { 10e6, 1500e6, 14901, 100e3, 20, "sample", -95, { { 146e6, -3.0 }, { 200e6, -55.0 }, { 700e6, -50.0 } } };
  Sweep other = { 10e6, 1500e6, 14901, 100e3, 20, "sample", -95, { { 146e6, -3.0 }, { 200e6, -52.0 } } };
  static const char head[] = "[bench]\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\nnecessary_bandwidth=16kHz\n";
  shop_put_sweep (shop, "s.csv", &spur);
  shop_put_sweep (shop, "o.csv", &other);
  g_autofree char *first = g_strconcat (head, "[radio Plendour]\nkeyed=s.csv\n", NULL);
  g_autofree char *second = g_strconcat (head, "[radio Plendour]\nkeyed=o.csv\n", NULL);
  g_autoptr (SpFindings) before = judged (first);
  g_autoptr (SpFindings) after = judged (second);
  g_autoptr (SpMoves) moves = sp_compare_moves (before, after);
  guint moved = 0, gone = 0;
  for (guint i = 0; i < moves->n_moved; i++) {
    const SpMove *move = &moves->moved[i];
    if (move->order == 0 && fabs (move->frequency_hz - 200e6) < 16e3 && move->before.there && move->after.there) {
      ck_assert_double_eq_tol (move->level_change_db, 3, 0.2);
      moved++;
    }
    if (move->order == 0 && fabs (move->frequency_hz - 700e6) < 16e3) {
      ck_assert (move->before.there && !move->after.there);
      ck_assert (isnan (move->level_change_db));
      gone++;
    }
  }
  ck_assert_uint_eq (moved, 1);
  ck_assert_uint_eq (gone, 1);
}
END_TEST

START_TEST (wavebands_by_their_edges)
{
  static const struct {
    double frequency_hz;
    const char *name;
  } known[] = { { 1.8e6, "160 m" },  { 14.2e6, "20 m" }, { 50e6, "6 m" },   { 144e6, "2 m" },  { 148e6, "2 m" }, { 446e6, "70 cm" },
                { 1296e6, "23 cm" }, { 27e6, NULL },     { 143.9e6, NULL }, { 148.1e6, NULL }, { 1e3, NULL },    { 10e9, NULL } };
  for (guint i = 0; i < G_N_ELEMENTS (known); i++) {
    const SpWaveband *waveband = sp_waveband_of (known[i].frequency_hz);
    ck_assert_ptr_nonnull (waveband);
    ck_assert_msg (g_strcmp0 (waveband->name, known[i].name) == 0, "%g: %s", known[i].frequency_hz, waveband->name);
    ck_assert (known[i].frequency_hz >= waveband->from_hz && known[i].frequency_hz <= waveband->to_hz);
  }
  ck_assert_ptr_null (sp_waveband_of (NAN));
  ck_assert_ptr_null (sp_waveband_of (0));
  ck_assert_ptr_eq (sp_waveband_of (145e6), sp_waveband_of (147e6));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("compare");
  TCase *t = tcase_create ("compare");
  tcase_set_timeout (t, 120);
  tcase_add_checked_fixture (t, open_shop, close_shop);
  tcase_add_test (t, rows_say_what_the_findings_say);
  tcase_add_test (t, findings_outlive_their_maker);
  tcase_add_test (t, nothing_moves_against_itself);
  tcase_add_test (t, another_chain_moves_every_level);
  tcase_add_test (t, what_does_not_show_is_no_move);
  tcase_add_test (t, the_limits_move_tells_why);
  tcase_add_test (t, beyond_u_is_notable);
  tcase_add_test (t, radios_that_come_and_go);
  tcase_add_test (t, spurs_are_told_by_frequency);
  tcase_add_test (t, wavebands_by_their_edges);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
