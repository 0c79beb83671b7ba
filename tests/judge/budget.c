/* budget.c - the terms behind a level: degrees of freedom by column, the check source, a meter, what the chain's term is made of */
#include "tests/judge/found.h"

#include "core/budget/propagate.h"
#include "core/judge/judge.h"
#include "core/quantity/coverage.h"

#define HEAD                                                                                                                               \
  "[bench]\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\ntemperature_c=23\nnecessary_bandwidth=16kHz\nradio_vswr=1.0\n"            \
  "radio_harmonic_vswr=1.0\n"
#define RUN                                                                                                                                \
  "[run]\nstage=pad\nsource_vswr=1.0\nmeter_vswr=1.0\nstage_vswr=1.0\nmeter_linearity_db=0.01\nmeter_resolution_db=0.001\ntemperature_c="  \
  "23\n"                                                                                                                                   \
  "[at 100MHz]\nbefore=0.00@0; 0.01@1\ninserted=-30.11@3; -30.15@4; -30.12@5\nafter=0.02@7\n"                                              \
  "[at 400MHz]\nbefore=0.00@0; 0.02@1\ninserted=-30.31@3; -30.31@4; -30.40@5\nafter=0.00@7\n"

static const Sweep loud = { 1e6, 1601e6, 32001, 100e3, 20, "sample", -90, { { 146.2e6, -3.01 }, { 292.4e6, -46 } }, 7 };

static SpFindings *
judged (const char *shop, const char *extra, const char *condition)
{
  g_autofree char *sheet = g_strconcat (HEAD, extra, "[radio Testling]\nfundamental=146.2MHz\n", condition, NULL);
  shop_put_sweep (shop, "k.csv", &loud);
  return shop_judge (shop, SHOP_INTERCEPTS, sheet);
}

static const SpTerm *
term_of (const SpBudget *budget, SpTermKind kind)
{
  for (guint i = 0; i < budget->n; i++)
    if (budget->terms[i].kind == kind)
      return &budget->terms[i];
  return NULL;
}

START_TEST (the_check_source_counts_once)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) still = judged (shop, "", "keyed=k.csv\n");
  g_autoptr (SpFindings) falls = judged (shop, "check_before_dbm=-20.0\ncheck_after_dbm=-20.3\n", "keyed=k.csv\n");
  g_autoptr (SpFindings) rises = judged (shop, "check_before_dbm=-20.3\ncheck_after_dbm=-20.0\n", "keyed=k.csv\n");
  const SpBudget *a = &still->conditions[0].emissions[0].budget, *b = &falls->conditions[0].emissions[0].budget;
  const SpTerm *term = term_of (b, SP_TERM_CHECK_DRIFT), *up = term_of (&rises->conditions[0].emissions[0].budget, SP_TERM_CHECK_DRIFT);
  ck_assert_ptr_null (term_of (a, SP_TERM_CHECK_DRIFT));
  ck_assert_double_eq_tol (term->u_level_db, 0.3 / sqrt (3), 1e-9);
  ck_assert (term->u_power_db == term->u_level_db && term->u_dbc_db == 0 && sp_term_cancels (term));
  ck_assert_int_eq (term->side, 1);
  ck_assert_int_eq (up->side, -1);
  ck_assert_double_eq_tol (b->u_level_db, hypot (a->u_level_db, term->u_level_db), 1e-12);
  ck_assert_double_eq (a->u_dbc_db, b->u_dbc_db);
  /* P's own budget has it too */
  ck_assert_double_eq_tol (falls->conditions[0].power_u_db, hypot (still->conditions[0].power_u_db, term->u_level_db), 1e-12);
  ck_assert_ptr_nonnull (term_of (&falls->conditions[0].power_budget, SP_TERM_CHECK_DRIFT));
  shop_close (shop);
}
END_TEST

/* A meter that anchors: a level is the meter's plus a dBc, so the drift is gone from it; P is the meter alone. */
START_TEST (a_meter_takes_the_drift_away)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged (shop, "check_before_dbm=-20.0\ncheck_after_dbm=-20.3\n",
                                     "keyed=k.csv\nmeter_dbm=37\nmeter_u_db=0.2\n");
  const SpConditionFindings *c = &f->conditions[0];
  ck_assert (c->by_meter && c->anchored);
  const SpTerm *drift = term_of (&c->emissions[0].budget, SP_TERM_CHECK_DRIFT), *meter = term_of (&c->emissions[0].budget, SP_TERM_METER);
  ck_assert (!drift || (drift->u_level_db == 0 && drift->u_power_db == 0 && drift->u_dbc_db == 0));
  ck_assert_double_eq_tol (meter->u_level_db, 0.2, 1e-12);
  ck_assert_uint_eq (c->power_budget.n, 1);
  ck_assert_int_eq (c->power_budget.terms[0].kind, SP_TERM_METER);
  ck_assert_double_eq_tol (c->power_u_db, 0.2, 1e-12);
  shop_close (shop);
}
END_TEST

static SpFindings *
judged_by_run (const char *shop)
{
  shop_put (shop, "pad.run", RUN);
  g_autofree char *sheet = g_strconcat (HEAD, "[radio Testling]\nfundamental=146.2MHz\nkeyed=k.csv\nchain=run.chain\n", NULL);
  shop_put (shop, "run.chain",
            "[chain]\nstages=pad;small\n[stage pad]\nkind=pad\nrating_w=50\nrun=pad.run\npower_coefficient=0\nconnector_u_db=0.01\n"
            "[stage small]\nkind=pad\nrating_w=2\nvswr=1.0\npoints=1MHz 10.0 0.02; 3GHz 10.0 0.02\npower_coefficient=0\n");
  shop_put_sweep (shop, "k.csv", &loud);
  return shop_judge (shop, SHOP_INTERCEPTS, sheet);
}

START_TEST (a_run_brings_degrees_of_freedom)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged_by_run (shop);
  const SpBudget *b = &f->conditions[0].emissions[0].budget;
  const SpTerm *chain = term_of (b, SP_TERM_CHAIN);
  ck_assert (isfinite (chain->dof) && isfinite (chain->dof_power) && chain->dof > 1);
  double fourths = pow (chain->u_level_db, 4) / chain->dof + pow (chain->u_power_db, 4) / chain->dof_power;
  ck_assert_double_eq_tol (chain->dof_dbc / (pow (chain->u_dbc_db, 4) / fourths), 1, 1e-9);
  ck_assert_double_eq (b->dof_level, floor (pow (b->u_level_db, 4) / (pow (chain->u_level_db, 4) / chain->dof) * (1 + 1e-12)));
  ck_assert_double_eq (b->k_level, sp_coverage_factor (b->dof_level));
  ck_assert_double_eq_tol (b->expanded_level_db, b->k_level * b->u_level_db, 1e-12);
  shop_close (shop);
}
END_TEST

/* The pointer's U are the budget's, k by the same degrees of freedom: the loss by the chain's alone, the level without what a reading adds. */
START_TEST (the_pointers_u_has_the_same_degrees_of_freedom)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged_by_run (shop);
  const SpEmission *e = harmonic (f, 2);
  const SpTerm *chain = term_of (&e->budget, SP_TERM_CHAIN);
  SpAt at = sp_findings_at (f, 0, e->frequency_hz);
  double squares = 0, fourths = pow (chain->u_level_db, 4) / chain->dof;
  for (guint i = 0; i < e->budget.n; i++) {
    const SpTerm *t = &e->budget.terms[i];
    if (t->source != SP_BUDGET_FROM_SWEEP && t->kind != SP_TERM_PRODUCT)
      squares += t->u_level_db * t->u_level_db;
  }
  double k = sp_coverage_factor (squares * squares / fourths);
  ck_assert_double_gt (k, 2 + 1e-6);
  ck_assert_double_eq_tol (at.expanded_db / sqrt (squares), k, 1e-9);
  SpChainLoss loss = sp_chain_loss (sp_condition_chain (f->bench, &f->bench->conditions[0]), e->frequency_hz, 23, 0, NULL);
  double k_loss = sp_coverage_factor (loss.dof_independent * pow (loss.u_db / loss.u_independent_db, 4));
  ck_assert_double_gt (k_loss, 2.1);
  ck_assert_double_eq_tol (at.loss_expanded_db / loss.u_db, k_loss, 1e-9);
  shop_close (shop);
}
END_TEST

START_TEST (the_chains_term_is_its_stages)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged_by_run (shop);
  int second = sp_findings_of_order (f, 0, 2);
  SpUncertaintySource source = sp_uncertainty_source (f, 0, second);
  guint n;
  g_autofree SpUncertaintyStage *stages = sp_uncertainty_source_stages (f, &source, &n);
  const SpTerm *chain = term_of (source.budget, SP_TERM_CHAIN);
  double squares = 0;
  ck_assert_uint_eq (n, 2);
  for (guint i = 0; i < n; i++)
    squares += stages[i].u_db * stages[i].u_db;
  ck_assert_double_eq_tol (sqrt (squares), chain->u_level_db, 1e-12);
  double u[] = { stages[0].u_db, stages[1].u_db }, dof[] = { stages[0].dof, stages[1].dof };
  ck_assert_double_eq_tol (sp_effective_dof (2, u, dof) / chain->dof, 1, 1e-9);
  ck_assert_int_eq (stages[0].from, SP_BUDGET_FROM_RUN);
  ck_assert_int_eq (stages[1].from, SP_BUDGET_FROM_POINTS);
  SpRunResult *result;
  const SpRunPoint *point = sp_uncertainty_stage_run (&stages[0], source.frequency_hz, &result);
  ck_assert_double_eq (point->frequency_hz, 400e6); /* 292 MHz is nearer to 400 than to 100, in octaves */
  sp_run_result_free (result);
  ck_assert_ptr_null (sp_uncertainty_stage_run (&stages[1], source.frequency_hz, &result));
  ck_assert_ptr_null (result);
  shop_close (shop);
}
END_TEST

START_TEST (which_level_is_meant)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged (shop, "", "keyed=k.csv\n");
  ck_assert_int_eq (sp_findings_of_order (f, 0, 1), SP_SOURCE_POWER);
  ck_assert_int_eq (sp_findings_of_order (f, 0, 3), 1);
  ck_assert_int_eq (sp_findings_of_order (f, 0, 99), -2);
  ck_assert_int_eq (sp_findings_of_order (f, 0, 0), -2);
  ck_assert_int_eq (sp_findings_nearest (f, 0, 150e6), SP_SOURCE_POWER);
  ck_assert_int_eq (sp_findings_nearest (f, 0, 300e6), 0);
  SpUncertaintySource power = sp_uncertainty_source (f, 0, SP_SOURCE_POWER);
  ck_assert_double_eq (power.level_dbm, f->conditions[0].power_dbm);
  ck_assert_double_eq (power.budget->expanded_level_db, f->conditions[0].power_expanded_db);
  ck_assert_double_eq (power.budget->u_dbc_db, 0);
  shop_close (shop);
}
END_TEST

START_TEST (draws_stop_when_asked)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged (shop, "", "keyed=k.csv\n");
  g_autoptr (GCancellable) stop = g_cancellable_new ();
  SpBudgetDrawn drawn;
  const SpBudget *b = &f->conditions[0].emissions[0].budget;
  g_cancellable_cancel (stop);
  ck_assert (!sp_budget_draw (b, 0, 1, 100000, 1, stop, &drawn));
  ck_assert (isnan (drawn.column[SP_BUDGET_LEVEL].u));
  ck_assert (!sp_budget_draw (b, 0, 1, SP_DRAWS_LEAST - 1, 1, NULL, &drawn));
  ck_assert (sp_budget_draw (b, 0, 1, SP_DRAWS_LEAST, 1, NULL, &drawn));
  shop_close (shop);
}
END_TEST

/* The 2nd harmonic 0.2 dB below the absolute limit, 5 W into a pad of 30 dB rated 10 W; `keys` of that pad. */
static SpFindings *
judged_hot (const char *shop, const char *keys)
{
  Sweep w = loud;
  w.lines[1].level_dbm = -56.2;
  g_autofree char *chain = g_strconcat ("[chain]\nstages=pad;small\ntemperature_c=3\n[stage pad]\nkind=pad\nrating_w=10\nvswr=1.0\n"
                                        "points=1MHz 30.0 0.05; 3GHz 30.0 0.05\n",
                                        keys,
                                        "[stage small]\nkind=pad\nrating_w=2\nvswr=1.0\n"
                                        "points=1MHz 10.0 0.02; 3GHz 10.0 0.02\npower_coefficient=0\ntemperature_coefficient=0\n",
                                        NULL);
  shop_put (shop, "hot.chain", chain);
  shop_put_sweep (shop, "k.csv", &w);
  return shop_judge (shop, SHOP_INTERCEPTS, HEAD "[radio Testling]\nfundamental=146.2MHz\nkeyed=k.csv\nchain=hot.chain\n");
}

/* Nobody states its change per watt: 0.04 dB/dB at the rated 10 W, half of it at 5 W, 0.6 dB of 30. That is most of U, so it is said, with the stage and
 * what settles it; stated, it is gone. */
START_TEST (an_assumed_term_of_weight_is_said)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged_hot (shop, "temperature_coefficient=0\n");
  const SpEmission *e = harmonic (f, 2);
  const SpTerm *term = term_of (&e->budget, SP_TERM_SELF_HEATING);
  double watts = sp_watt_from_dbm (f->conditions[0].power_dbm);
  ck_assert_double_eq_tol (term->u_margin_db, 30 * 0.004 * watts / sqrt (3), 1e-9);
  ck_assert (term->assumed);
  ck_assert_str_eq (term->assumed_stage, "pad");
  const SpReason *said = warning (f, SP_REASON_ASSUMED_DECIDES);
  ck_assert_ptr_nonnull (said);
  ck_assert_int_eq (said->ASSUMED_DECIDES.term, SP_TERM_SELF_HEATING);
  ck_assert_str_eq (said->ASSUMED_DECIDES.stage, "pad");
  ck_assert_double_eq (said->ASSUMED_DECIDES.u_db, term->u_margin_db);
  ck_assert_double_eq (said->ASSUMED_DECIDES.order, 2);
  expect (e, SP_VERDICT_INCONCLUSIVE, SP_REASON_WITHIN_UNCERTAINTY);
  ck_assert_int_eq (e->would_prove->code, SP_REASON_PROVE_UNCERTAINTY);
  ck_assert_int_eq (e->would_prove->PROVE_UNCERTAINTY.assumed, SP_TERM_SELF_HEATING);
  ck_assert_str_eq (e->would_prove->PROVE_UNCERTAINTY.stage, "pad");
  g_autoptr (SpFindings) stated = judged_hot (shop, "power_coefficient=0\ntemperature_coefficient=0\n");
  ck_assert_ptr_null (warning (stated, SP_REASON_ASSUMED_DECIDES));
  ck_assert_int_eq (harmonic (stated, 2)->would_prove ? harmonic (stated, 2)->would_prove->PROVE_UNCERTAINTY.assumed : SP_NO_WORD,
                    SP_NO_WORD);
  ck_assert (harmonic (stated, 2)->budget.u_margin_db < e->budget.u_margin_db / 1.3); /* accuracy, flatness and scale are left */
  shop_close (shop);
}
END_TEST

/* 20 K warmer than when it was calibrated: 30 dB times 0.0004 times 20. */
START_TEST (an_assumed_temperature_term_is_said_too)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged_hot (shop, "power_coefficient=0\n");
  const SpReason *said = warning (f, SP_REASON_ASSUMED_DECIDES);
  ck_assert_ptr_nonnull (said);
  ck_assert_int_eq (said->ASSUMED_DECIDES.term, SP_TERM_TEMPERATURE);
  ck_assert_str_eq (said->ASSUMED_DECIDES.stage, "pad");
  ck_assert_double_eq_tol (said->ASSUMED_DECIDES.u_db, 0.24, 1e-9);
  shop_close (shop);
}
END_TEST

/* A limit that follows P has the heat in both: it cancels, and only P's own U is made of it. */
START_TEST (what_cancels_decides_nothing)
{
  char *shop = shop_open ();
  shop_put (shop, "relative.mask", "[mask]\nname=relative\nharmonics=5\n[rule all]\nspurious=1MHz 3GHz\nattenuation_db=52.8\n");
  g_autoptr (SpFindings) absolute = judged_hot (shop, "temperature_coefficient=0\n");
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS,
                                         HEAD "[radio Testling]\nfundamental=146.2MHz\nkeyed=k.csv\nchain=hot.chain\nmask=relative.mask\n");
  ck_assert_ptr_nonnull (warning (absolute, SP_REASON_ASSUMED_DECIDES));
  ck_assert_double_eq (harmonic (f, 2)->limit_slope, 1);
  ck_assert (term_of (&harmonic (f, 2)->budget, SP_TERM_SELF_HEATING)->assumed);
  ck_assert_double_eq_tol (term_of (&harmonic (f, 2)->budget, SP_TERM_SELF_HEATING)->u_margin_db, 0, 1e-9);
  const SpReason *of_power = warning (f, SP_REASON_ASSUMED_DECIDES);
  ck_assert_ptr_nonnull (of_power);
  ck_assert_double_eq (of_power->ASSUMED_DECIDES.order, 1); /* not an emission's: P's */
  shop_close (shop);
}
END_TEST

static gboolean
assumed (const SpFindings *f, SpTermKind kind)
{
  const SpTerm *term = term_of (&f->conditions[0].emissions[0].budget, kind);
  ck_assert_ptr_nonnull (term);
  return term->assumed;
}

/* Each term by itself: a VSWR of nobody's, a point without u. */
START_TEST (each_term_that_nobody_stated_is_marked)
{
  char *shop = shop_open ();
  static const char *const chain = "[chain]\nstages=pad;small\n[stage pad]\nkind=pad\nrating_w=50\n%spoints=1MHz 30.0%s; 3GHz 30.0%s\n"
                                   "[stage small]\nkind=pad\nrating_w=2\nvswr=1.1\npoints=1MHz 10.0 0.02; 3GHz 10.0 0.02\n";
  shop_put_sweep (shop, "k.csv", &loud);
  for (guint stated = 0; stated < 2; stated++) {
    const char *u = stated ? " 0.05" : "";
    g_autofree char *text = g_strdup_printf (chain, stated ? "vswr=1.1\n" : "", u, u);
    shop_put (shop, "own.chain", text);
    g_autoptr (SpFindings) f
        = shop_judge (shop, SHOP_INTERCEPTS,
                      "[bench]\nchain=own.chain\nanalyzer=t.analyzer\nmask=us-amateur\n"
                      "radio_vswr=1.5\nradio_harmonic_vswr=inf\n[radio Testling]\nfundamental=146.2MHz\nkeyed=k.csv\n");
    ck_assert_int_eq (assumed (f, SP_TERM_CHAIN), !stated);
    ck_assert_int_eq (assumed (f, SP_TERM_MISMATCH_INNER), !stated);
    ck_assert_int_eq (assumed (f, SP_TERM_MISMATCH_RADIO), !stated);
    ck_assert (assumed (f, SP_TERM_SELF_HEATING));
    g_autoptr (SpFindings) silent = shop_judge (shop, SHOP_INTERCEPTS,
                                                "[bench]\nchain=own.chain\nanalyzer=t.analyzer\nmask=us-amateur\n"
                                                "[radio Testling]\nfundamental=146.2MHz\nkeyed=k.csv\n");
    ck_assert (assumed (silent, SP_TERM_MISMATCH_RADIO)); /* nobody states the radio's */
  }
  shop_close (shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/budget");
  TCase *t = tcase_create ("terms");
  tcase_set_timeout (t, 60);
  tcase_add_test (t, the_check_source_counts_once);
  tcase_add_test (t, a_meter_takes_the_drift_away);
  tcase_add_test (t, a_run_brings_degrees_of_freedom);
  tcase_add_test (t, the_pointers_u_has_the_same_degrees_of_freedom);
  tcase_add_test (t, the_chains_term_is_its_stages);
  tcase_add_test (t, which_level_is_meant);
  tcase_add_test (t, draws_stop_when_asked);
  tcase_add_test (t, an_assumed_term_of_weight_is_said);
  tcase_add_test (t, an_assumed_temperature_term_is_said_too);
  tcase_add_test (t, what_cancels_decides_nothing);
  tcase_add_test (t, each_term_that_nobody_stated_is_marked);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
