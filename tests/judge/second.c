/* Two limits at once: what a second mask would have is told, and changes nothing. */
#include "tests/judge/found.h"

#define SHEET(bench, condition)                                                                                                            \
  "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=law.mask\n" bench "temperature_c=23\nnecessary_bandwidth=16kHz\n"            \
  "radio_vswr=1.0\nradio_harmonic_vswr=1.0\n[radio Testling]\nfundamental=146.2MHz\nkeyed=k.csv\n" condition

static void
put_mask (const char *shop, const char *file, const char *name, guint harmonics, double ceiling_dbm)
{
  g_autofree char *text = g_strdup_printf ("[mask]\nname=%s\nharmonics=%u\n[rule 1]\nemission=250MHz 800MHz\nceiling_dbm=%g\n", name,
                                           harmonics, ceiling_dbm);
  shop_put (shop, file, text);
}

/* The third harmonic reads -60 dBm through 40 dB: -20 dBm at the socket. */
static char *
open_shop (void)
{
  static const Sweep sweep = { 1e6, 801e6, 16001, 100e3, 20, "sample", -95, { { 146.2e6, -3.01 }, { 438.6e6, -60 } }, 7 };
  char *shop = shop_open ();
  shop_put_sweep (shop, "k.csv", &sweep);
  put_mask (shop, "law.mask", "Law", 3, -16);
  put_mask (shop, "club.mask", "Club", 3, -26);
  return shop;
}

/* By hand: -16 - (-20) = 4 dB under the law, -26 - (-20) = 6 dB over the club's; u of the rectangular terms 0.4, 0.3, 0.2 and two pads of 0.05 is
 * 0.32 dB, so both are beyond any U. Noise 35 dB below the line shakes the reading by some 0.1 dB. */
START_TEST (worked_by_hand)
{
  char *shop = open_shop ();
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("second_mask=club.mask\n", ""));
  const SpConditionFindings *second = sp_findings_second (f, 0);
  const SpEmission *law = harmonic (f, 3), *club = sp_second_emission (second, law);
  ck_assert_int_eq (f->conditions[0].verdict, SP_VERDICT_COMPLIES);
  ck_assert_double_eq_tol (law->margin_db, 4, 0.4);
  ck_assert_int_eq (second->verdict, SP_VERDICT_EXCEEDS);
  ck_assert_int_eq (club->verdict, SP_VERDICT_EXCEEDS);
  ck_assert_double_eq (club->limit_dbm, -26);
  ck_assert_double_eq_tol (sp_findings_room_db (second), law->margin_db - 10, 1e-9); /* one level held to two numbers */
  ck_assert_double_eq (club->level_dbm, law->level_dbm);
  shop_close (shop);
}
END_TEST

START_TEST (decides_nothing)
{
  char *shop = open_shop ();
  g_autoptr (SpFindings) with = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("second_mask=club.mask\n", ""));
  g_autoptr (SpFindings) without = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("", ""));
  const SpConditionFindings *a = &with->conditions[0], *b = &without->conditions[0];
  ck_assert (!without->second && !sp_findings_second (without, 0));
  ck_assert (with->bench->second_mask && strcmp (with->bench->sha256, without->bench->sha256) != 0);
  ck_assert_int_eq (a->verdict, b->verdict);
  ck_assert_uint_eq (a->n_emissions, b->n_emissions);
  ck_assert_uint_eq (a->warnings->len, b->warnings->len);
  for (guint i = 0; i < a->n_emissions; i++) {
    ck_assert_int_eq (a->emissions[i].row, b->emissions[i].row);
    ck_assert (memcmp (&a->emissions[i].margin_db, &b->emissions[i].margin_db, sizeof (double)) == 0);
  }
  shop_close (shop);
}
END_TEST

/* Whatever the limit, a stricter one is never met better: each verdict is at least as bad as that of the limit 2 dB higher. */
START_TEST (the_stricter_never_has_the_better_verdict)
{
  char *shop = open_shop ();
  SpVerdict before = SP_VERDICT_NO_LIMIT;
  guint seen = 0;
  for (double ceiling_dbm = -10; ceiling_dbm >= -70; ceiling_dbm -= 2) {
    put_mask (shop, "club.mask", "Club", 3, ceiling_dbm);
    g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("second_mask=club.mask\n", ""));
    SpVerdict verdict = sp_findings_second (f, 0)->verdict;
    ck_assert_msg (verdict >= before, "%g dBm: %s after %s", ceiling_dbm, sp_verdict_name (verdict), sp_verdict_name (before));
    if (ceiling_dbm <= -16)
      ck_assert_int_ge (verdict, f->conditions[0].verdict);
    seen |= 1u << verdict;
    before = verdict;
  }
  ck_assert (seen & 1u << SP_VERDICT_COMPLIES && seen & 1u << SP_VERDICT_EXCEEDS); /* the row had an end on either side */
  shop_close (shop);
}
END_TEST

/* A condition's own wins; it may look for more harmonics, or fewer, than the mask that decides. */
START_TEST (a_condition_has_its_own)
{
  char *shop = open_shop ();
  put_mask (shop, "own.mask", "Own", 5, -26);
  put_mask (shop, "short.mask", "Short", 2, -26);
  g_autoptr (SpFindings) own = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("second_mask=club.mask\n", "second_mask=own.mask\n"));
  const SpConditionFindings *second = sp_findings_second (own, 0);
  ck_assert_str_eq (sp_condition_second_mask (own->bench, &own->bench->conditions[0])->title, "Own");
  ck_assert_uint_eq (second->emissions[3].order, 5);
  ck_assert_ptr_null (sp_second_emission (&own->conditions[0], &second->emissions[3]));
  g_autoptr (SpFindings) fewer = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("", "second_mask=short.mask\n"));
  const SpEmission *as_spur = sp_second_emission (sp_findings_second (fewer, 0), harmonic (fewer, 3));
  ck_assert (as_spur && as_spur->order == 0 && as_spur->limit_dbm == -26); /* a spur to it, of which no product is known */
  ck_assert_int_eq (as_spur->verdict, SP_VERDICT_NOT_PROVEN);
  shop_close (shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/second");
  TCase *c = tcase_create ("second");
  tcase_set_timeout (c, 60);
  tcase_add_test (c, worked_by_hand);
  tcase_add_test (c, decides_nothing);
  tcase_add_test (c, the_stricter_never_has_the_better_verdict);
  tcase_add_test (c, a_condition_has_its_own);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
