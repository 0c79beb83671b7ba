/* mask.c - a mask evaluated: powers' classes, uncertainty across them, segments */
#include "tests/mask/masks.h"

#include <string.h>

#include "core/mask/mask.h"
#include "core/quantity/units.h"

/* Overlapping rules of every kind: sloped ones that cross, bend at ceiling and relief, a flat one above and below them. */
static const char tangled[] = "[mask]\nexclude=1\n"
                              "[rule a]\nemission=30MHz 3GHz\nattenuation_db=20 80\nceiling_dbm=5\nrelief_dbm=-25\n"
                              "[rule b]\nemission=50MHz 2GHz\nattenuation_db=70 30\nrelief_dbm=-30\n"
                              "[rule c]\nemission=>100MHz <200MHz\nattenuation_db=43 + 10 log P\n"
                              "[rule d]\noffset=10kHz 1MHz\nattenuation_db=25\nexclude=0\n"
                              "[rule e]\noffset_bandwidths=0.5 2.5\nattenuation_db=40\nexclude=0.5\n"
                              "[rule f]\nfundamental=100MHz inf\nemission=500MHz 600MHz\nattenuation_db=60\n"
                              "[rule g]\npower_w=1 10\nemission=700MHz inf\nattenuation_db=65\n";

static double
value_at (const SpLimitSegment *s, double f)
{
  if (s->limit_dbm == s->limit_end_dbm)
    return s->limit_dbm;
  return s->limit_dbm + (s->limit_end_dbm - s->limit_dbm) * log (f / s->from_hz) / log (s->to_hz / s->from_hz);
}

static void
check_segments (const SpMask *mask, double f0, double p, double bandwidth, double rbw, double from, double to, GRand *rand)
{
  g_autoptr (GArray) segments = sp_mask_segments (mask, f0, p, bandwidth, rbw, from, to);
  double reached = from;
  for (guint i = 0; i < segments->len; i++) {
    const SpLimitSegment *s = &g_array_index (segments, SpLimitSegment, i);
    ck_assert (s->from_hz == reached && s->to_hz > s->from_hz);
    reached = s->to_hz;
    for (int k = 0; k < 20; k++) {
      double f = s->from_hz + (s->to_hz - s->from_hz) * g_rand_double_range (rand, 1e-6, 1 - 1e-6);
      SpLimit want = sp_mask_limit (mask, f0, p, bandwidth, rbw, f);
      ck_assert_msg (isnan (want.limit_dbm) ? isnan (s->limit_dbm) : fabs (value_at (s, f) - want.limit_dbm) < 1e-7,
                     "%s f0 %g P %g at %.10g Hz: segment %.9g, limit %.9g", mask->name, f0, p, f, value_at (s, f), want.limit_dbm);
      ck_assert (!want.excluded || !s->rule);
    }
  }
  ck_assert (reached == to);
}

START_TEST (segments_agree_with_points)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (12);
  const char *const *names = sp_mask_names ();
  for (guint i = 0; names[i]; i++) {
    g_autoptr (SpMask) mask = load (names[i]);
    for (int k = 0; k < 60; k++) {
      double p = pow (10, g_rand_double_range (rand, -3, 3)),
             f0 = mask->rules[0].f0.high.value < 1e9 ? g_rand_double_range (rand, mask->rules[0].f0.low.value, mask->rules[0].f0.high.value)
                                                     : pow (10, g_rand_double_range (rand, 6, 9));
      check_segments (mask, f0, p, 3e3, k % 2 ? 100 : NAN, k % 3 ? 9e3 : 0, 4e9, rand);
      check_segments (mask, f0, p, 16e3, 1e3, f0 * 0.99, f0 * 1.01, rand);
    }
  }
  g_autoptr (SpMask) mask = parse (tangled);
  for (int k = 0; k < 2000; k++)
    check_segments (mask, pow (10, g_rand_double_range (rand, 7, 9)), pow (10, g_rand_double_range (rand, -2, 2)), 16e3, NAN,
                    k % 2 ? 0 : g_rand_double_range (rand, 1, 1e8), g_rand_double_range (rand, 2e8, 5e9), rand);
}
END_TEST

START_TEST (segments_bend_where_they_should)
{
  g_autoptr (SpMask) mask = parse ("[mask]\n[rule 1]\nemission=100MHz 1GHz\nattenuation_db=20 70\nceiling_dbm=0\nrelief_dbm=-30\n");
  g_autoptr (GArray) segments = sp_mask_segments (mask, 10e6, 1, 16e3, NAN, 50e6, 2e9);
  ck_assert_uint_eq (segments->len, 5); /* gap, ceiling, slope, relief, gap */
  const SpLimitSegment *s = (const SpLimitSegment *) segments->data;
  ck_assert (isnan (s[0].limit_dbm) && !s[0].rule && s[0].to_hz == 100e6);
  ck_assert (s[1].limit_dbm == 0 && s[1].limit_end_dbm == 0);
  ck_assert_double_eq_tol (s[1].to_hz, 100e6 * pow (10, 0.2), 1); /* 10 + 50 lg(f/100 MHz) = 0 dB over: A = 30 */
  ck_assert_double_eq_tol (s[2].limit_dbm, 0, 1e-9);
  ck_assert_double_eq_tol (s[2].limit_end_dbm, -30, 1e-9);
  ck_assert_double_eq_tol (s[3].from_hz, 100e6 * pow (10, 0.8), 1);
  ck_assert (s[3].limit_dbm == -30 && s[3].to_hz == 1e9 && isnan (s[4].limit_dbm));
  g_autoptr (GArray) none = sp_mask_segments (mask, 10e6, 1, 16e3, NAN, 2e9, 50e6);
  ck_assert_uint_eq (none->len, 0);
}
END_TEST

START_TEST (the_fundamentals_own)
{
  g_autoptr (SpMask) mask = load ("us-amateur");
  g_autoptr (SpMask) wide = load ("at-amateur");
  ck_assert_double_eq (sp_mask_exclude_hz (mask, 146e6, 5, 16e3, NAN), 8e3);
  ck_assert_double_eq (sp_mask_exclude_hz (mask, 146e6, 5, 16e3, 10e3), 30e3); /* at least 3 RBW */
  ck_assert_double_eq (sp_mask_exclude_hz (mask, 446e6, 5, 16e3, NAN), 8e3);   /* no rule applies: the mask's own */
  ck_assert_double_eq (sp_mask_exclude_hz (wide, 146e6, 5, 16e3, NAN), 40e3);
  SpLimit inside = sp_mask_limit (mask, 146e6, 5, 16e3, NAN, 146e6 + 7999), edge = sp_mask_limit (mask, 146e6, 5, 16e3, NAN, 146e6 - 8000);
  ck_assert (inside.excluded && isnan (inside.limit_dbm) && !inside.rule);
  ck_assert (!edge.excluded && edge.rule);
  SpLimit none = sp_mask_limit (mask, 446e6, 5, 16e3, NAN, 892e6);
  ck_assert (!none.excluded && !none.rule && isnan (none.limit_dbm));
  /* the excluded zone is a gap between two segments */
  g_autoptr (GArray) segments = sp_mask_segments (mask, 146e6, 5, 16e3, NAN, 100e6, 200e6);
  ck_assert_uint_eq (segments->len, 3);
  const SpLimitSegment *gap = &g_array_index (segments, SpLimitSegment, 1);
  ck_assert (gap->from_hz == 146e6 - 8e3 && gap->to_hz == 146e6 + 8e3 && isnan (gap->limit_dbm));
}
END_TEST

/* Of several rules that apply the least excludes, whatever their order: where one rule reaches, the emission is not the fundamental's own. */
START_TEST (the_least_exclusion_of_the_rules_that_apply)
{
  static const char *const orders[] = {
    "[mask]\nexclude=0.5\n[rule a]\nexclude=1\nattenuation_db=40\n[rule b]\nexclude=3\nattenuation_db=60\n",
    "[mask]\nexclude=0.5\n[rule b]\nexclude=3\nattenuation_db=60\n[rule a]\nexclude=1\nattenuation_db=40\n",
  };
  for (guint i = 0; i < G_N_ELEMENTS (orders); i++) {
    g_autoptr (SpMask) mask = parse (orders[i]);
    ck_assert_double_eq (sp_mask_exclude_hz (mask, 146e6, 5, 16e3, NAN), 16e3);
    ck_assert_double_eq (sp_mask_exclude_hz (mask, 146e6, 5, 16e3, 10e3), 30e3);
    SpLimit own = sp_mask_limit (mask, 146e6, 5, 16e3, NAN, 146e6 + 15e3), one = sp_mask_limit (mask, 146e6, 5, 16e3, NAN, 146e6 + 17e3),
            both = sp_mask_limit (mask, 146e6, 5, 16e3, NAN, 146e6 + 49e3);
    ck_assert (own.excluded && !own.rule);
    ck_assert (!one.excluded && one.rule && one.rule->exclude_bandwidths == 1);
    ck_assert (!both.excluded && both.rule && both.rule->exclude_bandwidths == 3); /* 20 dB stricter */
  }
  /* a rule of another power class does not count */
  g_autoptr (SpMask) classes = parse (
      "[mask]\n[rule a]\npower_w=10 inf\nexclude=1\nattenuation_db=40\n[rule b]\nexclude=3\nattenuation_db=60\n");
  ck_assert_double_eq (sp_mask_exclude_hz (classes, 146e6, 5, 16e3, NAN), 48e3);
  ck_assert_double_eq (sp_mask_exclude_hz (classes, 146e6, 20, 16e3, NAN), 16e3);
}
END_TEST

START_TEST (slope_with_power)
{
  g_autoptr (SpMask) mask = load ("us-amateur");
  g_autoptr (SpMask) frs = load ("us-frs");
  ck_assert_double_eq (sp_mask_limit (mask, 14e6, 5, 16e3, NAN, 28e6).slope, 1);
  ck_assert_double_eq (sp_mask_limit (mask, 146e6, 5, 16e3, NAN, 292e6).slope, 0); /* ceiling */
  ck_assert_double_eq (sp_mask_limit (mask, 146e6, 0.2, 16e3, NAN, 292e6).slope, 1);
  ck_assert_double_eq (sp_mask_limit (mask, 146e6, 0.05, 16e3, NAN, 292e6).slope, 0); /* relief */
  ck_assert_double_eq (sp_mask_limit (frs, 462.6e6, 5, 16e3, NAN, 925e6).slope, 0);   /* 43 + 10 log P */
  /* slope is the derivative */
  double step = pow (10, 0.001), a = sp_mask_limit (mask, 14e6, 5, 16e3, NAN, 28e6).limit_dbm;
  ck_assert_double_eq_tol (sp_mask_limit (mask, 14e6, 5 * step, 16e3, NAN, 28e6).limit_dbm - a, 0.01, 1e-9);
}
END_TEST

START_TEST (power_not_known)
{
  g_autoptr (SpMask) mask = load ("us-amateur");
  g_autoptr (SpMask) frs = load ("us-frs");
  SpLimit follows = sp_mask_limit (mask, 14e6, NAN, 16e3, NAN, 28e6), classes = sp_mask_limit (mask, 146e6, NAN, 16e3, NAN, 292e6);
  ck_assert (isnan (follows.limit_dbm) && follows.rule);
  ck_assert (isnan (classes.limit_dbm) && classes.rule);
  ck_assert (!sp_mask_limit (mask, 446e6, NAN, 16e3, NAN, 892e6).rule);
  ck_assert_double_eq (sp_mask_limit (frs, 462.6e6, NAN, 16e3, NAN, 925e6).limit_dbm, -13);
}
END_TEST

static double
with_u (const SpMask *mask, double f0, double p, double u, SpClassEdge *edge)
{
  return sp_mask_limit_with_u (mask, f0, p, u, 16e3, NAN, 3 * f0, edge).limit_dbm;
}

START_TEST (stricter_class)
{
  g_autoptr (SpMask) before = load ("us-amateur-before-2003");
  SpClassEdge edge;
  /* 4.9 W +- 0.5 dB may be 5 W: 40 dB from 5 W down is -3.0103 dBm */
  ck_assert_double_eq_tol (with_u (before, 7e6, 4.9, 0.5, &edge), 10 * log10 (5) - 10, 1e-9);
  ck_assert_double_eq (edge.power_w, 5);
  ck_assert_str_eq (edge.below->name, "rule 97.307(d), below 30 MHz, less than 5 W");
  ck_assert_str_eq (edge.above->name, "rule 97.307(d), below 30 MHz, 5 W and more");
  ck_assert_double_eq (sp_mask_limit_with_u (before, 7e6, 4.9, 0.5, 16e3, NAN, 21e6, NULL).slope, 0);
  ck_assert_double_eq_tol (with_u (before, 7e6, 4.9, 0.05, &edge), 10 * log10 (4.9), 1e-9);
  ck_assert (isnan (edge.power_w) && !edge.below && !edge.above);
  /* 5.1 W: its own class is the stricter and follows P; P - U stands in the other, so the edge is named */
  ck_assert_double_eq_tol (with_u (before, 7e6, 5.1, 0.5, &edge), 10 * log10 (5.1) - 10, 1e-9);
  ck_assert_double_eq (sp_mask_limit_with_u (before, 7e6, 5.1, 0.5, 16e3, NAN, 21e6, NULL).slope, 1);
  ck_assert_double_eq (edge.power_w, 5);
  ck_assert_double_eq_tol (with_u (before, 7e6, 6, 0.5, &edge), 10 * log10 (6) - 10, 1e-9);
  ck_assert (isnan (edge.power_w));
  /* 25 W is an edge without a step: from above, the limit of the class below is the stricter and its taking is told; from below nothing moves */
  ck_assert_double_eq_tol (with_u (before, 146e6, 26, 0.5, &edge), 10 * log10 (25e-6) + 30, 1e-9);
  ck_assert_double_eq (edge.power_w, 25);
  ck_assert_double_eq_tol (with_u (before, 146e6, 24, 0.5, &edge), 10 * log10 (25e-6) + 30, 1e-9);
  ck_assert (isnan (edge.power_w));
  /* no uncertainty, no straddling */
  ck_assert_double_eq_tol (with_u (before, 7e6, 4.999999, 0, &edge), 10 * log10 (4.999999), 1e-9);
  ck_assert_double_eq_tol (with_u (before, 7e6, 4.999999, NAN, &edge), 10 * log10 (4.999999), 1e-9);
  ck_assert (isnan (edge.power_w));
}
END_TEST

/* Below 30 MHz clause (d) knows no class; 25 W divides clause (e), from 30 MHz on. 97.307(d): 43 dB below the mean power. */
START_TEST (another_clauses_class_moves_nothing)
{
  static const char *const masks[] = { "us-amateur", "us-amateur-strict" };
  for (guint i = 0; i < G_N_ELEMENTS (masks); i++) {
    g_autoptr (SpMask) mask = load (masks[i]);
    double p = sp_watt_from_dbm (44.10); /* 25.7 W: P - 0.69 dB is less than 25 W */
    SpClassEdge edge;
    SpLimit limit = sp_mask_limit_with_u (mask, 14.1e6, p, 0.69, 2.7e3, NAN, 42.3e6, &edge);
    ck_assert_double_eq_tol (limit.limit_dbm, 44.10 - 43, 1e-9);
    ck_assert_double_eq (limit.slope, 1);
    ck_assert (isnan (edge.power_w));
  }
  /* nor does a class whose neighbour asks the same, nor one that only another emission or the own exclusion has */
  g_autoptr (SpMask) split = parse (
      "[mask]\nexclude=0\n[rule a]\npower_w=0 25\nattenuation_db=43\n[rule b]\npower_w=25 inf\nattenuation_db=43\n"
      "[rule c]\npower_w=0 26\nemission=50MHz 60MHz\nattenuation_db=60\n"
      "[rule d]\npower_w=0 24\nexclude=1000\nattenuation_db=70\n");
  SpClassEdge edge;
  SpLimit limit = sp_mask_limit_with_u (split, 14.1e6, 25.5, 0.5, 100e3, NAN, 42.3e6, &edge);
  ck_assert_double_eq_tol (limit.limit_dbm, 10 * log10 (25.5) + 30 - 43, 1e-9);
  ck_assert (limit.slope == 1 && isnan (edge.power_w));
}
END_TEST

typedef struct {
  char *ranges; /* fundamental=, emission= */
  double p_low_w, p_high_w;
  char *demand;
} Draft;

static void
put_draft (GString *text, const Draft *d, guint number, double p_low_w, double p_high_w)
{
  g_autofree char *end = isinf (p_high_w) ? g_strdup ("inf") : g_strdup_printf ("%.17g", p_high_w);
  g_string_append_printf (text, "[rule %u]\n%spower_w=%.17g %s\n%s", number, d->ranges, p_low_w, end, d->demand);
}

static Draft
draft (GRand *rand)
{
  double low = g_rand_double_range (rand, 0.5, 20), high = low * g_rand_double_range (rand, 1.1, 4), a = g_rand_double_range (rand, 20, 60);
  Draft d = { .p_low_w = g_rand_boolean (rand) ? 0 : low, .p_high_w = g_rand_boolean (rand) ? INFINITY : high };
  d.ranges = g_strdup_printf ("%s%s",
                              g_rand_boolean (rand)   ? ""
                              : g_rand_boolean (rand) ? "fundamental=1MHz 30MHz\n"
                                                      : "fundamental=30MHz 300MHz\n",
                              g_rand_boolean (rand) ? "" : "emission=20MHz 50MHz\n");
  d.demand = g_rand_boolean (rand)   ? g_strdup_printf ("attenuation_db=%.3f\n", a)
             : g_rand_boolean (rand) ? g_strdup_printf ("attenuation_db=%.3f\nceiling_dbm=%.3f\n", a, g_rand_double_range (rand, -30, 0))
                                     : g_strdup_printf ("attenuation_db=%.3f + 10 log P\n", a);
  return d;
}

/* Truth: the same demand cut at any power, demands elsewhere, and the order of rules leave every limit, slope and named edge as they were. */
START_TEST (classes_elsewhere_move_nothing)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (97307);
  guint moved = 0;
  for (int k = 0; k < 4000; k++) {
    Draft d[3];
    guint n = g_rand_int_range (rand, 1, 4), number = 0;
    g_autoptr (GString) plain = g_string_new ("[mask]\nexclude=0\n"), more = g_string_new ("[mask]\nexclude=0\n");
    double p = g_rand_double_range (rand, 1, 30), u = g_rand_double_range (rand, 0, 2), f0 = 14e6;
    double near = p * pow (10, g_rand_double_range (rand, -u, u) / 10);
    /* elsewhere: another fundamental, another place, or inside what it excludes about the carrier; its class ends within U of P */
    g_string_append_printf (more, "[rule x]\nfundamental=30MHz 300MHz\npower_w=0 %.17g\nattenuation_db=80\n", near);
    g_string_append_printf (more, "[rule y]\nemission=100MHz 200MHz\npower_w=%.17g inf\nattenuation_db=80\n", near);
    g_string_append_printf (more, "[rule z]\nexclude=1000\npower_w=%.17g inf\nattenuation_db=80\n", near);
    for (guint i = 0; i < n; i++)
      d[i] = draft (rand);
    for (guint i = 0; i < n; i++)
      put_draft (plain, &d[i], i, d[i].p_low_w, d[i].p_high_w);
    for (guint i = n; i-- > 0;) { /* the other way round, each cut in two where it holds there */
      double cut = near > d[i].p_low_w && near < d[i].p_high_w ? near : d[i].p_high_w;
      put_draft (more, &d[i], number++, d[i].p_low_w, cut);
      if (cut < d[i].p_high_w)
        put_draft (more, &d[i], number++, cut, d[i].p_high_w);
    }
    g_autoptr (SpMask) a = parse (plain->str);
    g_autoptr (SpMask) b = parse (more->str);
    SpClassEdge edge_a, edge_b;
    SpLimit want = sp_mask_limit_with_u (a, f0, p, u, 50e3, NAN, 42e6, &edge_a),
            got = sp_mask_limit_with_u (b, f0, p, u, 50e3, NAN, 42e6, &edge_b);
    ck_assert (!want.rule == !got.rule);
    if (want.rule)
      ck_assert_msg (fabs (want.limit_dbm - got.limit_dbm) < 1e-9 && fabs (want.slope - got.slope) < 1e-9,
                     "P %g U %g: %.12g (%g), %.12g (%g)\n%s\n%s", p, u, want.limit_dbm, want.slope, got.limit_dbm, got.slope, plain->str,
                     more->str);
    ck_assert (isnan (edge_a.power_w) ? isnan (edge_b.power_w) : fabs (edge_a.power_w - edge_b.power_w) < 1e-9);
    moved += !isnan (edge_a.power_w);
    for (guint i = 0; i < n; i++) {
      g_free (d[i].ranges);
      g_free (d[i].demand);
    }
  }
  ck_assert_uint_gt (moved, 200); /* true classes were met too */
}
END_TEST

START_TEST (never_looser_than_any_power_within_u)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (61);
  g_autoptr (SpMask) mask = parse (
      "[mask]\nexclude=0\n[rule low]\npower_w=0 <2\nattenuation_db=50\n[rule mid]\npower_w=>=2 7\nattenuation_db=30\n"
      "[rule high]\npower_w=7 50\nattenuation_db=45\nceiling_dbm=-3\n");
  for (int i = 0; i < 20000; i++) {
    double p = pow (10, g_rand_double_range (rand, -0.5, 2)), u = g_rand_double_range (rand, 0, 3), f0 = 10e6;
    SpLimit got = sp_mask_limit_with_u (mask, f0, p, u, 16e3, NAN, 20e6, NULL);
    SpLimit at = sp_mask_limit (mask, f0, p, 16e3, NAN, 20e6);
    ck_assert (!at.rule || got.limit_dbm <= at.limit_dbm);
    double x = p * pow (10, g_rand_double_range (rand, -u, u) / 10);
    SpLimit other = sp_mask_limit (mask, f0, x, 16e3, NAN, 20e6);
    /* another class counts at its edge: exact for a greater power; for a smaller one the limit falls on from that edge with the power */
    if (other.rule && other.rule != at.rule)
      ck_assert_msg (got.limit_dbm <= other.limit_dbm + fmax (0, 10 * log10 (p / x)) + 1e-9, "P %g U %g: %g, at %g W %g", p, u,
                     got.limit_dbm, x, other.limit_dbm);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("mask");
  TCase *t = tcase_create ("all");
  tcase_set_timeout (t, 120);
  tcase_add_test (t, segments_agree_with_points);
  tcase_add_test (t, segments_bend_where_they_should);
  tcase_add_test (t, the_fundamentals_own);
  tcase_add_test (t, the_least_exclusion_of_the_rules_that_apply);
  tcase_add_test (t, slope_with_power);
  tcase_add_test (t, power_not_known);
  tcase_add_test (t, stricter_class);
  tcase_add_test (t, another_clauses_class_moves_nothing);
  tcase_add_test (t, classes_elsewhere_move_nothing);
  tcase_add_test (t, never_looser_than_any_power_within_u);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
