/* The limit that a judging takes: of the right class, with its slope, and what is told of it. */
#include "tests/judge/found.h"

#define SHEET(mask, condition)                                                                                                             \
  "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=" mask "\ntemperature_c=23\nnecessary_bandwidth=2700Hz\nradio_vswr=1.0\n"    \
  "radio_harmonic_vswr=1.0\n\n[radio Testling]\n" condition "\n"

/* The carrier through 40 dB of chain, on 20 m. */
static SpFindings *
judged (const char *shop, double power_dbm, const char *sheet)
{
  Sweep sweep = { 1e6, 151e6, 30001, 10e3, 20, "sample", -90, { { 14.1e6, power_dbm - 40 }, { 42.3e6, -1.0 - 40 } }, 7 };
  shop_put_sweep (shop, "k.csv", &sweep);
  return shop_judge (shop, SHOP_INTERCEPTS, sheet);
}

/* 47 CFR 97.307(d): 43 dB below the mean power, for any power. 25.7 W with a U that reaches below the 25 W of clause (e). */
START_TEST (class_of_another_clause)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged (shop, 44.10, SHEET ("us-amateur", "fundamental=14.1MHz\nkeyed=k.csv"));
  const SpConditionFindings *c = &f->conditions[0];
  const SpEmission *e = harmonic (f, 3);
  ck_assert_double_lt (c->power_dbm - c->power_expanded_db, 10 * log10 (25) + 30);
  ck_assert_double_eq_tol (e->limit_dbm, c->power_dbm - 43, 1e-9);
  ck_assert_double_eq (e->limit_slope, 1);
  ck_assert_ptr_null (warning (f, SP_REASON_POWER_CLASS));
  shop_close (shop);
}
END_TEST

/* Installed before 2003: 30 dB under 5 W, 40 dB from there on. 4.8 W may be 5 W, whose limit is 37.0 - 40 dBm. */
START_TEST (class_that_p_straddles)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged (shop, 36.812, SHEET ("us-amateur-before-2003", "fundamental=14.1MHz\nkeyed=k.csv"));
  const SpEmission *e = harmonic (f, 3);
  const SpReason *reason = warning (f, SP_REASON_POWER_CLASS);
  ck_assert_double_eq_tol (e->limit_dbm, 10 * log10 (5) + 30 - 40, 1e-9);
  ck_assert_double_eq (e->limit_slope, 0);
  ck_assert_ptr_nonnull (reason);
  ck_assert_double_eq (reason->POWER_CLASS.edge_w, 5);
  ck_assert_str_eq (reason->POWER_CLASS.below, "rule 97.307(d), below 30 MHz, less than 5 W");
  ck_assert_str_eq (reason->POWER_CLASS.above, "rule 97.307(d), below 30 MHz, 5 W and more");
  shop_close (shop);
}
END_TEST

/* A pad, a notch, a pad: safe as drawn, and a short at the radio's socket without the first pad. */
START_TEST (notch_first_by_a_single_fault)
{
  char *shop = shop_open ();
  shop_put (shop, "notch.chain",
            "[chain]\nstages=a;notch;b\n[stage a]\nkind=pad\nlabel_db=10\nrating_w=50\n[stage notch]\nkind=notch\nlabel_db=20\n"
            "rating_w=50\n[stage b]\nkind=pad\nlabel_db=10\nrating_w=50\n");
  g_autoptr (SpFindings) f = judged (shop, 36.812, SHEET ("us-amateur", "chain=notch.chain\nfundamental=14.1MHz\nkeyed=k.csv"));
  const SpReason *reason = warning (f, SP_REASON_FAULT_REFLECTS);
  ck_assert (f->safe);
  ck_assert_ptr_nonnull (reason);
  ck_assert_str_eq (reason->FAULT_REFLECTS.reflector, "notch");
  ck_assert_double_eq_tol (reason->FAULT_REFLECTS.return_loss_db, 0, 1e-9);
  shop_close (shop);
}
END_TEST

/* us-amateur ends at 225 MHz, us-frs at 467 MHz: for a radio of 14.1 MHz the first asks 43 dB, the second nothing, which 'no limit' alone does not say. */
START_TEST (mask_of_other_radios)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged (shop, 36.812, SHEET ("us-frs", "fundamental=14.1MHz\nkeyed=k.csv"));
  g_autoptr (SpFindings) own = judged (shop, 36.812, SHEET ("us-amateur", "fundamental=14.1MHz\nkeyed=k.csv"));
  const SpReason *reason = warning (f, SP_REASON_CLASSES_NONE);
  ck_assert_int_eq (f->conditions[0].verdict, SP_VERDICT_NO_LIMIT);
  ck_assert_ptr_nonnull (reason);
  ck_assert_double_eq_tol (reason->CLASSES_NONE.fundamental_hz, 14.1e6, 1e3);
  ck_assert_double_eq_tol (reason->CLASSES_NONE.power_w, 4.8, 0.05);
  ck_assert_ptr_null (warning (own, SP_REASON_CLASSES_NONE));
  shop_close (shop);
}
END_TEST

/* A mask for up to 5 W, and a radio of 5.2 W +- 0.7 dB: it may be one of those, so the mask is not for others alone. */
START_TEST (mask_of_a_class_within_reach)
{
  char *shop = shop_open ();
  shop_put (shop, "small.mask", "[mask]\nname=small\n[rule 1]\npower_w=0 5\nattenuation_db=40\n");
  g_autoptr (SpFindings) near = judged (shop, 37.16, SHEET ("small.mask", "fundamental=14.1MHz\nkeyed=k.csv"));
  g_autoptr (SpFindings) far = judged (shop, 40, SHEET ("small.mask", "fundamental=14.1MHz\nkeyed=k.csv"));
  ck_assert_ptr_null (warning (near, SP_REASON_CLASSES_NONE));
  ck_assert_ptr_nonnull (warning (near, SP_REASON_POWER_CLASS));
  ck_assert_double_eq_tol (harmonic (near, 3)->limit_dbm, 10 * log10 (5) + 30 - 40, 1e-9);
  ck_assert_ptr_nonnull (warning (far, SP_REASON_CLASSES_NONE));
  shop_close (shop);
}
END_TEST

/* 4.8 W with a U of some 0.7 dB: 5 W may be it, 6.5 W (1.3 dB more) and 3.5 W (1.4 dB less) may not. */
START_TEST (rated_power_beyond_u)
{
  static const struct {
    const char *rated;
    gboolean told;
    double over_db;
  } row[] = { { "5", FALSE, 0 }, { "6.5", TRUE, -1.317 }, { "3.5", TRUE, 1.372 } };
  for (guint i = 0; i < G_N_ELEMENTS (row); i++) {
    char *shop = shop_open ();
    g_autofree char *sheet = g_strdup_printf (SHEET ("us-amateur", "fundamental=14.1MHz\nrated_w=%s\nkeyed=k.csv"), row[i].rated);
    g_autoptr (SpFindings) f = judged (shop, 36.812, sheet);
    const SpReason *reason = warning (f, SP_REASON_RATED_POWER);
    ck_assert_int_eq (reason != NULL, row[i].told);
    if (reason) {
      ck_assert_double_eq_tol (reason->RATED_POWER.over_db, row[i].over_db, 0.03);
      ck_assert_double_eq (reason->RATED_POWER.expanded_db, f->conditions[0].power_expanded_db);
    }
    shop_close (shop);
  }
}
END_TEST

/* A clipped carrier is at least so much: under the rated power nothing is told, over it by more than U it is. */
START_TEST (rated_power_of_a_clipped_carrier)
{
  for (guint over = 0; over < 2; over++) {
    char *shop = shop_open ();
    Sweep sweep = { 1e6, 151e6, 30001, 10e3, 20, "sample", -90, { { 14.1e6, 36.812 - 40 }, { 42.3e6, -1.0 - 40 } }, 7 };
    shop_put_sweep (shop, "k.csv", &sweep);
    g_autofree char *sheet = g_strdup_printf (SHEET ("us-amateur", "fundamental=14.1MHz\nrated_w=%s\nkeyed=k.csv?reference=-20dBm"),
                                              over ? "1" : "20");
    g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, sheet);
    ck_assert_ptr_nonnull (warning (f, SP_REASON_CLIPPED));
    ck_assert_int_eq (warning (f, SP_REASON_RATED_POWER) != NULL, over);
    shop_close (shop);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/limits");
  TCase *t = tcase_create ("limits");
  tcase_set_timeout (t, 60);
  tcase_add_test (t, class_of_another_clause);
  tcase_add_test (t, class_that_p_straddles);
  tcase_add_test (t, notch_first_by_a_single_fault);
  tcase_add_test (t, mask_of_other_radios);
  tcase_add_test (t, mask_of_a_class_within_reach);
  tcase_add_test (t, rated_power_beyond_u);
  tcase_add_test (t, rated_power_of_a_clipped_carrier);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
