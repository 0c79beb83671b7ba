/* What must not be taken for the carrier, or for a harmonic; a clipped carrier; limits that do not follow P. */
#include "tests/judge/found.h"

#define CEILING "emission=1kHz 3GHz\nceiling_dbm=-16\n" /* whatever the power */
#define SHEET(f0, condition)                                                                                                               \
  "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=t.mask\ntemperature_c=23\nnecessary_bandwidth=16kHz\nradio_vswr=1.0\n"       \
  "radio_harmonic_vswr=1.0\n\n[radio Testling]\n" f0 condition "\n"
#define AT_146 "fundamental=146MHz\n"

static void
put_mask (const char *shop, const char *harmonics, const char *rule)
{
  g_autofree char *text = g_strdup_printf (
      "[mask]\nname=own\nharmonics=%s\nexclude=0.5\n[rule 1]\nfundamental=1kHz 1GHz\npower_w=0 inf\n%s", harmonics, rule);
  shop_put (shop, "t.mask", text);
}

/* A trace point by point, NULL-ended pairs by frequency; elsewhere `quiet_dbm`. Positive peak, RBW 100 kHz. */
static void
put_points (const char *shop, const char *name, double step_hz, guint n, double quiet_dbm, const Line *lines)
{
  g_autoptr (GString) text = g_string_new ("RBW,100000 Hz\nAttenuation,10 dB\nDetector,peak\nFrequency (Hz),Level (dBm)\n");
  for (guint i = 0; i < n; i++) {
    double level = quiet_dbm + 0.37 * (i % 3);
    for (const Line *l = lines; l->frequency_hz >= 0; l++)
      if (fabs (l->frequency_hz - i * step_hz) < step_hz / 2)
        level = l->level_dbm;
    g_string_append_printf (text, "%.1f,%.2f\n", i * step_hz, level);
  }
  shop_put (shop, name, text->str);
}

/* Readings of a sweep that stop at a level, which is the reference level stated or none. */
static void
clip (const char *shop, const char *name, double at_dbm, gboolean stated)
{
  g_autofree char *path = g_build_filename (shop, name, NULL), *text = NULL;
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_auto (GStrv) rows = g_strsplit (text, "\n", -1);
  g_autoptr (GString) out = g_string_new (NULL);
  if (stated)
    g_string_append_printf (out, "Reference level,%.1f dBm\n", at_dbm);
  for (char **row = rows; *row; row++) {
    const char *comma = strchr (*row, ',');
    if (comma && g_ascii_isdigit (**row) && g_ascii_strtod (comma + 1, NULL) > at_dbm)
      g_string_append_printf (out, "%.*s,%.4f\n", (int) (comma - *row), *row, at_dbm);
    else if (**row)
      g_string_append_printf (out, "%s\n", *row);
  }
  shop_put (shop, name, out->str);
}

static void
nothing_complies (const SpFindings *f)
{
  ck_assert_int_eq (f->conditions[0].verdict, SP_VERDICT_NOT_PROVEN);
  for (guint i = 0; i < f->conditions[0].n_emissions; i++)
    ck_assert_int_eq (f->conditions[0].emissions[i].verdict, SP_VERDICT_NOT_PROVEN);
}

/* 5 W through 40 dB, and a second harmonic 11 dB over the ceiling. */
static const Sweep low_band = { 0, 100e6, 1001, 1e6, 10, "sample", -100, { { 1, -20 }, { 3.6e6, -3 }, { 7.2e6, -45 } }, 3 };
static const Sweep clean = { 100e6, 800e6, 20001, 100e3, 10, "sample", -98, { { 146e6, -3 } }, 5 };

START_TEST (below_five_rbw_there_is_no_fundamental)
{
  char *shop = shop_open ();
  put_mask (shop, "5", CEILING);
  shop_put_sweep (shop, "k.csv", &low_band);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("fundamental=3.6MHz\n", "keyed=k.csv"));
  const SpConditionFindings *c = &f->conditions[0];
  ck_assert (!c->has_fundamental && isnan (c->power_dbm));
  ck_assert_double_eq (c->fundamental_hz, 3.6e6); /* as stated: no harmonic is looked for elsewhere */
  const SpReason *why = warning (f, SP_REASON_FUNDAMENTAL_NEAR_ZERO);
  ck_assert_ptr_nonnull (why);
  ck_assert_double_eq (why->FUNDAMENTAL_NEAR_ZERO.response_hz, 5e6);
  ck_assert_double_eq (why->FUNDAMENTAL_NEAR_ZERO.rbw_hz, 0.72e6);
  nothing_complies (f);

  Sweep finer = low_band; /* 0.36 RBW: the same truth is seen for what it is */
  finer.rbw_hz = 100e3;
  finer.points = 10001;
  shop_put_sweep (shop, "k.csv", &finer);
  g_autoptr (SpFindings) seen = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("fundamental=3.6MHz\n", "keyed=k.csv"));
  ck_assert_double_eq_tol (seen->conditions[0].power_dbm, 37, 0.1);
  expect (harmonic (seen, 2), SP_VERDICT_EXCEEDS, SP_REASON_ABOVE_LIMIT);
  shop_close (shop);
}
END_TEST

START_TEST (a_skirt_at_the_windows_edge_is_no_carrier)
{
  char *shop = shop_open ();
  put_mask (shop, "5", CEILING);
  /* zero hertz ends at 150 kHz; the line at 137 kHz still climbs there, and none is at 160 kHz */
  Sweep w = { 0, 2e6, 2001, 30e3, 10, "sample", -100, { { 137e3, -3 } }, 3 };
  shop_put_sweep (shop, "k.csv", &w);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("fundamental=160kHz\n", "keyed=k.csv"));
  ck_assert (!f->conditions[0].has_fundamental);
  ck_assert_ptr_nonnull (warning (f, SP_REASON_NO_FUNDAMENTAL));
  ck_assert_int_eq (f->conditions[0].verdict, SP_VERDICT_NOT_PROVEN);
  w.lines[0].frequency_hz = 160e3;
  shop_put_sweep (shop, "k.csv", &w);
  g_autoptr (SpFindings) there = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("fundamental=160kHz\n", "keyed=k.csv"));
  ck_assert_double_eq_tol (there->conditions[0].power_dbm, 37, 0.1);
  shop_close (shop);
}
END_TEST

START_TEST (a_stated_frequency_is_honoured)
{
  char *shop = shop_open ();
  put_mask (shop, "5", CEILING);
  Sweep two = clean;
  two.lines[1] = (Line){ 146.25e6, 0 };
  shop_put_sweep (shop, "k.csv", &two);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=k.csv"));
  ck_assert_double_eq_tol (f->conditions[0].fundamental_hz, 146e6, 3.5e3);
  ck_assert_double_eq_tol (f->conditions[0].power_dbm, 37, 0.1); /* not 40 and 37 dBm together: 41.8 */
  const SpReason *beside = warning (f, SP_REASON_LINE_BESIDE);
  ck_assert_ptr_nonnull (beside);
  ck_assert_double_eq_tol (beside->LINE_BESIDE.line_hz, 146.25e6, 20e3);
  ck_assert_double_eq_tol (beside->LINE_BESIDE.over_db, 3, 0.3);
  ck_assert_ptr_null (warning (f, SP_REASON_FUNDAMENTAL_ELSEWHERE));
  shop_close (shop);
}
END_TEST

START_TEST (a_line_beside_the_stated_frequency_proves_nothing)
{
  char *shop = shop_open ();
  put_mask (shop, "5", CEILING);
  Sweep off = clean;
  off.lines[0].frequency_hz = 146.25e6;
  shop_put_sweep (shop, "k.csv", &off);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=k.csv"));
  const SpReason *why = warning (f, SP_REASON_FUNDAMENTAL_ELSEWHERE);
  ck_assert_ptr_nonnull (why);
  ck_assert_double_eq (why->FUNDAMENTAL_ELSEWHERE.stated_hz, 146e6);
  ck_assert_double_eq_tol (why->FUNDAMENTAL_ELSEWHERE.line_hz, 146.25e6, 5e3);
  expect (harmonic (f, 2), SP_VERDICT_NOT_PROVEN, SP_REASON_FUNDAMENTAL_ELSEWHERE);
  nothing_complies (f);
  g_autoptr (SpFindings) metered = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=k.csv\nmeter_dbm=30\nmeter_u_db=0.1"));
  ck_assert (!metered->conditions[0].anchored); /* no level is moved by a line that may be another's */
  nothing_complies (metered);
  shop_close (shop);
}
END_TEST

START_TEST (a_sweep_without_the_carrier_proves_nothing)
{
  char *shop = shop_open ();
  put_mask (shop, "5", CEILING);
  Sweep off = clean;
  off.lines[0].frequency_hz = 0;
  shop_put_sweep (shop, "k.csv", &off);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=k.csv"));
  expect (harmonic (f, 2), SP_VERDICT_NOT_PROVEN, SP_REASON_NO_FUNDAMENTAL);
  nothing_complies (f);
  /* 37 dBm by a meter would have shown too, through this chain; -62 would not (noise -98 + 40 dB) */
  g_autoptr (SpFindings) strong = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=k.csv\nmeter_dbm=37\nmeter_u_db=0.1"));
  nothing_complies (strong);
  g_autoptr (SpFindings) faint = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=k.csv\nmeter_dbm=-62\nmeter_u_db=0.1"));
  for (guint n = 2; n <= 5; n++)
    ck_assert_int_eq (harmonic (faint, n)->verdict, SP_VERDICT_COMPLIES);
  shop_close (shop);
}
END_TEST

START_TEST (a_coarse_sweep_does_not_resolve)
{
  char *shop = shop_open ();
  put_mask (shop, "5", CEILING);
  static const Line lines[] = { { 0, 0 }, { 3e6, -3 }, { -1, 0 } }; /* 1.9 MHz in its bucket of 3 MHz */
  put_points (shop, "k.csv", 3e6, 1001, -82, lines);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("fundamental=1.9MHz\n", "keyed=k.csv"));
  ck_assert_double_eq_tol (f->conditions[0].power_dbm, 37, 0.01);
  static const double others[] = { 1, 1, 1, 6 }; /* (n - 1) 1.9 MHz under twice 3 MHz; else the next harmonic 1.9 MHz on */
  for (guint n = 2; n <= 5; n++) {
    const SpEmission *e = harmonic (f, n);
    expect (e, SP_VERDICT_NOT_PROVEN, SP_REASON_NOT_RESOLVED);
    ck_assert (e->unresolved && e->swept && !e->detected && sp_emission_is_blind (e) && isnan (e->margin_db));
    ck_assert_double_eq (e->frequency_hz, n * 1.9e6);
    ck_assert_double_eq (e->reason->NOT_RESOLVED.beside_order, others[n - 2]);
    ck_assert_int_eq (e->would_prove->code, SP_REASON_PROVE_RESOLVE);
  }
  ck_assert_int_eq (f->conditions[0].verdict, SP_VERDICT_NOT_PROVEN);

  static const Line apart[] = { { 0, 0 }, { 30e6, -3 }, { -1, 0 } }; /* the same sweep resolves these */
  put_points (shop, "k.csv", 3e6, 1001, -82, apart);
  g_autoptr (SpFindings) resolved = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("fundamental=30MHz\n", "keyed=k.csv"));
  expect (harmonic (resolved, 2), SP_VERDICT_COMPLIES, SP_REASON_FLOOR_BELOW_LIMIT);
  shop_close (shop);
}
END_TEST

START_TEST (one_line_does_not_serve_two_harmonics)
{
  char *shop = shop_open ();
  put_mask (shop, "5", CEILING);
  static const Line lines[] = { { 0, 0 }, { 3e6, -3 }, { 12e6, -45 }, { -1, 0 } }; /* 3 * 3.6 and 4 * 3.6 MHz both within 3 MHz of 12 */
  put_points (shop, "k.csv", 3e6, 1001, -82, lines);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("fundamental=3.6MHz\n", "keyed=k.csv"));
  expect (harmonic (f, 3), SP_VERDICT_NOT_PROVEN, SP_REASON_NOT_RESOLVED);
  expect (harmonic (f, 4), SP_VERDICT_NOT_PROVEN, SP_REASON_NOT_RESOLVED);
  static const Line three[] = { { 146e6, -3 }, { -1, 0 } }; /* three points: the carrier is no harmonic of itself */
  put_points (shop, "k.csv", 146e6, 3, -82, three);
  g_autoptr (SpFindings) few = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=k.csv"));
  expect (harmonic (few, 2), SP_VERDICT_NOT_PROVEN, SP_REASON_NOT_RESOLVED);
  shop_close (shop);
}
END_TEST

/* I2 40: the analyzer makes 2 (-13) - 40 + 10 = -56 dBm of 5 W at its input, that is -16 at the socket; 3 dB more is seen. */
static const Sweep overdriven = { 100e6, 800e6, 20001, 100e3, 10, "sample", -98, { { 146e6, -3 }, { 292e6, -53 } }, 5 };

START_TEST (a_clipped_carrier_predicts_nothing)
{
  char *shop = shop_open ();
  put_mask (shop, "5", CEILING);
  for (int stated = 0; stated < 2; stated++) {
    shop_put_sweep (shop, "k.csv", &overdriven);
    clip (shop, "k.csv", -16, stated);
    g_autoptr (SpFindings) f = shop_judge (shop, "second_intercept_dbm=40\n", SHEET (AT_146, "keyed=k.csv"));
    const SpEmission *e = harmonic (f, 2);
    ck_assert_ptr_nonnull (warning (f, SP_REASON_CLIPPED));
    ck_assert_double_eq_tol (f->conditions[0].power_dbm, 24, 0.01);
    ck_assert_double_eq_tol (f->conditions[0].fundamental_hz, 146e6, 1);
    ck_assert (isnan (f->conditions[0].mixer_dbm) && isnan (e->product_high_dbm));
    ck_assert_int_eq (e->origin, SP_ORIGIN_UNTESTED);
    expect (e, SP_VERDICT_NOT_PROVEN, SP_REASON_UNTESTED);
    expect (harmonic (f, 3), SP_VERDICT_COMPLIES, SP_REASON_FLOOR_BELOW_LIMIT); /* the ceiling holds for any power */
  }
  shop_close (shop);
}
END_TEST

START_TEST (a_clipped_carriers_place_is_the_middle_of_its_top)
{
  char *shop = shop_open ();
  put_mask (shop, "10", CEILING);
  Sweep w = { 40e6, 600e6, 20001, 100e3, 10, "sample", -98, { { 50e6, -3 }, { 500e6, -55 } }, 5 };
  shop_put_sweep (shop, "k.csv", &w);
  clip (shop, "k.csv", -30, TRUE); /* 27 dB under: 12.04 (x/B)^2 = 27, x = 150 kHz either side */
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  ck_assert_double_eq_tol (f->conditions[0].fundamental_hz, 50e6, 28e3);
  ck_assert_double_eq_tol (f->conditions[0].fundamental_u_hz, 150e3 / sqrt (3), 28e3);
  const SpEmission *e = harmonic (f, 10);
  ck_assert (e->detected);
  ck_assert_double_eq_tol (e->level_dbm, -15, 0.3);
  expect (e, SP_VERDICT_NOT_PROVEN, SP_REASON_UNTESTED);
  shop_close (shop);
}
END_TEST

START_TEST (a_limit_that_follows_a_clipped_carrier)
{
  char *shop = shop_open ();
  Sweep w = overdriven, step = overdriven;
  w.lines[1].level_dbm = step.lines[1].level_dbm = -60; /* the radio's own: -20 dBm with either attenuation */
  step.attenuation_db = 20;
  step.noise_dbm += 10; /* with the attenuation */
  step.seed = 8;
  shop_put_sweep (shop, "k.csv", &w);
  clip (shop, "k.csv", -16, TRUE);
  shop_put_sweep (shop, "s.csv", &step);
  clip (shop, "s.csv", -16, TRUE); /* else P would be that sweep's: tests/judge/steps */
  const char *sheet = SHEET (AT_146, "keyed=k.csv\nstep=s.csv 10");
  /* 50 dB under P: -26 dBm for the 24 that are seen, -13 for the 37 that are sent */
  put_mask (shop, "5", "emission=1MHz 3GHz\nattenuation_db=50\n");
  g_autoptr (SpFindings) more = shop_judge (shop, "second_intercept_dbm=40\n", sheet);
  ck_assert_int_eq (harmonic (more, 2)->origin, SP_ORIGIN_RADIO);
  expect (harmonic (more, 2), SP_VERDICT_NOT_PROVEN, SP_REASON_POWER_LOWER_BOUND);
  expect (harmonic (more, 3), SP_VERDICT_COMPLIES, SP_REASON_FLOOR_BELOW_LIMIT); /* more power only lifts that limit */
  /* 60 + 20 lg P: the limit sinks as P grows; -24 dBm at 24 dBm, -37 at 37 */
  put_mask (shop, "5", "emission=1MHz 3GHz\nattenuation_db=60 + 20 log P\n");
  g_autoptr (SpFindings) less = shop_judge (shop, "second_intercept_dbm=40\n", sheet);
  expect (harmonic (less, 2), SP_VERDICT_EXCEEDS, SP_REASON_ABOVE_LIMIT);
  expect (harmonic (less, 3), SP_VERDICT_NOT_PROVEN, SP_REASON_POWER_LOWER_BOUND);
  /* A meter says how much it is: the limit is known again. */
  put_mask (shop, "5", "emission=1MHz 3GHz\nattenuation_db=50\n");
  g_autoptr (SpFindings) metered = shop_judge (shop, "second_intercept_dbm=40\n",
                                               SHEET (AT_146, "keyed=k.csv\nstep=s.csv 10\nmeter_dbm=37\nmeter_u_db=0.1"));
  ck_assert (!metered->conditions[0].anchored);
  ck_assert_double_eq_tol (harmonic (metered, 2)->limit_dbm, -13, 0.001);
  expect (harmonic (metered, 2), SP_VERDICT_COMPLIES,
          SP_REASON_RADIO_PART_BELOW); /* by one step alone some of it may be cancelled: its end decides */
  shop_close (shop);
}
END_TEST

/* Truth: 37 dBm, limit -13, the second harmonic 7 dB over it. The keyed sweep's top is cut 13 dB below the carrier. */
START_TEST (power_comes_from_a_step_that_is_not_clipped)
{
  char *shop = shop_open ();
  Sweep w = overdriven, step = overdriven, padded = overdriven;
  w.lines[1].level_dbm = step.lines[1].level_dbm = -46;
  step.attenuation_db = 20;
  step.noise_dbm += 10;
  step.seed = 8;
  padded.lines[0].level_dbm = -13;
  padded.lines[1].level_dbm = -56;
  padded.seed = 9;
  g_autofree char *longer = g_strdup (SHOP_CHAIN);
  memcpy (strstr (longer, "10.0 0.05; 3GHz 10.0"), "20.0 0.05; 3GHz 20.0", 20); /* the small pad is 20 dB instead */
  shop_put (shop, "pad.chain", longer);
  shop_put_sweep (shop, "k.csv", &w);
  clip (shop, "k.csv", -16, TRUE);
  shop_put_sweep (shop, "s.csv", &step);
  shop_put_sweep (shop, "p.csv", &padded);
  put_mask (shop, "5", "emission=1MHz 3GHz\nattenuation_db=50\n");
  static const char *const sheets[] = { SHEET (AT_146, "keyed=k.csv\nstep=s.csv 10"),
                                        SHEET (AT_146, "keyed=k.csv\nstep=p.csv 10\nstep_chain=pad.chain") };
  for (guint i = 0; i < G_N_ELEMENTS (sheets); i++) {
    g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, sheets[i]);
    const SpConditionFindings *c = &f->conditions[0];
    const SpEmission *e = harmonic (f, 2);
    const SpReason *why = warning (f, SP_REASON_POWER_FROM_STEP);
    ck_assert_ptr_nonnull (why);
    ck_assert_str_eq (strrchr (why->POWER_FROM_STEP.file, '/') + 1, i ? "p.csv" : "s.csv");
    ck_assert_double_eq_tol (c->power_dbm, 37, 0.1);
    ck_assert_double_eq_tol (c->mixer_dbm, -13, 0.1); /* of the clipped sweep: P less 40 dB of chain and 10 of its own */
    ck_assert_double_eq_tol (e->level_dbm, -6, 0.1);  /* its own */
    ck_assert_double_eq_tol (e->limit_dbm, -13, 0.1);
    expect_origin (e, SP_ORIGIN_RADIO, SP_BASIS_STEP, SP_VERDICT_EXCEEDS);
    gboolean switched = FALSE;
    for (guint k = 0; k < e->budget.n; k++)
      switched |= e->budget.terms[k].kind == SP_TERM_ATTENUATOR_SWITCH;
    ck_assert_int_eq (switched, i == 0);
  }
  /* Outside, and nobody gave its chain: nothing says how its reading comes to the socket. */
  padded.attenuation_db = NAN;
  shop_put_sweep (shop, "q.csv", &padded);
  g_autoptr (SpFindings) unknown = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=k.csv\nstep=q.csv 10"));
  ck_assert_ptr_null (warning (unknown, SP_REASON_POWER_FROM_STEP));
  ck_assert_double_eq_tol (unknown->conditions[0].power_dbm, 24, 0.1);
  expect (harmonic (unknown, 2), SP_VERDICT_NOT_PROVEN, SP_REASON_UNTESTED);
  shop_close (shop);
}
END_TEST

START_TEST (a_ceiling_needs_no_power)
{
  char *shop = shop_open ();
  Sweep above = clean; /* the carrier is not swept, so P is not known */
  above.start_hz = 200e6;
  above.points = 17143;
  shop_put_sweep (shop, "k.csv", &above);
  put_mask (shop, "5", CEILING);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=k.csv"));
  ck_assert (isnan (f->conditions[0].power_dbm));
  expect (harmonic (f, 2), SP_VERDICT_COMPLIES, SP_REASON_FLOOR_BELOW_LIMIT);
  ck_assert_double_eq (harmonic (f, 2)->limit_dbm, -16);
  /* 43 + 10 lg P under P is -13 dBm whatever P; 50 dB under it is not */
  put_mask (shop, "5", "emission=1MHz 3GHz\nattenuation_db=43 + 10 log P\n");
  g_autoptr (SpFindings) level = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=k.csv"));
  expect (harmonic (level, 2), SP_VERDICT_COMPLIES, SP_REASON_FLOOR_BELOW_LIMIT);
  ck_assert_double_eq_tol (harmonic (level, 2)->limit_dbm, -13, 1e-9);
  put_mask (shop, "5", "emission=1MHz 3GHz\nattenuation_db=50\n");
  g_autoptr (SpFindings) follows = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=k.csv"));
  expect (harmonic (follows, 2), SP_VERDICT_NOT_PROVEN, SP_REASON_NO_POWER);
  shop_close (shop);
}
END_TEST

/* A notch of 40 dB on f0 and 1 dB elsewhere behind the 40 dB. */
#define NOTCHED_CHAIN                                                                                                                      \
  "[chain]\nname=Notched\nstages=pad;notch\n[stage pad]\nkind=pad\nrating_w=50\nvswr=1.0\npoints=1MHz 40.0 0.05; 3GHz 40.0 0.05\n"         \
  "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n"                                                          \
  "[stage notch]\nkind=notch\nrating_w=50\nvswr=1.0\npoints=1MHz 1 0.05; 100MHz 1 0.05; 146MHz 40 0.05; 200MHz 1 0.05; 3GHz 1 0.05\n"      \
  "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n"

START_TEST (of_sweeps_that_agree_the_lowest_floor_chooses)
{
  char *shop = shop_open ();
  put_mask (shop, "5", CEILING);
  shop_put (shop, "n.chain", NOTCHED_CHAIN);
  Sweep keyed = overdriven, notched = overdriven;
  keyed.lines[1].level_dbm = -65; /* -25 dBm; the notched sweep shows the same, with no carrier at the mixer */
  notched.attenuation_db = 0;
  notched.lines[0].level_dbm = -43;
  notched.lines[1].level_dbm = -66;
  notched.seed = 9;
  shop_put_sweep (shop, "k.csv", &keyed);
  shop_put_sweep (shop, "n.csv", &notched);
  const char *sheet = SHEET (AT_146, "keyed=k.csv\nnotched=n.csv\nnotched_chain=n.chain");
  g_autoptr (SpFindings) agree = shop_judge (shop, "second_intercept_dbm=40\n", sheet);
  const SpEmission *e = harmonic (agree, 2);
  ck_assert_double_eq_tol (e->level_dbm, -25, 0.3);
  ck_assert_int_eq (e->corrected, 1);
  ck_assert_double_lt (e->floor_dbm, -40);
  expect (e, SP_VERDICT_COMPLIES, SP_REASON_BELOW_LIMIT);
  ck_assert_ptr_null (warning (agree, SP_REASON_SWEEPS_DISAGREE));

  notched.lines[1].level_dbm = -63; /* 3 dB more: beyond U, the worse stands and it is said */
  shop_put_sweep (shop, "n.csv", &notched);
  g_autoptr (SpFindings) worse = shop_judge (shop, "second_intercept_dbm=40\n", sheet);
  ck_assert_double_eq_tol (harmonic (worse, 2)->level_dbm, -22, 0.3);
  ck_assert_ptr_nonnull (warning (worse, SP_REASON_SWEEPS_DISAGREE));
  shop_close (shop);
}
END_TEST

START_TEST (other_spans_are_no_repeats)
{
  char *shop = shop_open ();
  put_mask (shop, "5", CEILING);
  Sweep low = clean, high = clean;
  low.stop_hz = high.start_hz = 300e6;
  low.points = 5715;
  high.points = 14287;
  high.seed = 6;
  shop_put_sweep (shop, "a.csv", &low);
  shop_put_sweep (shop, "b.csv", &high);
  g_autoptr (SpFindings) spans = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=a.csv;b.csv"));
  ck_assert_ptr_null (warning (spans, SP_REASON_REPEATS));
  for (guint n = 2; n <= 5; n++)
    ck_assert_int_eq (harmonic (spans, n)->verdict, SP_VERDICT_COMPLIES);
  low.seed = 9;
  shop_put_sweep (shop, "c.csv", &low);
  g_autoptr (SpFindings) twice = shop_judge (shop, SHOP_INTERCEPTS, SHEET (AT_146, "keyed=a.csv;b.csv;c.csv"));
  ck_assert_ptr_nonnull (warning (twice, SP_REASON_REPEATS));
  ck_assert_double_eq (warning (twice, SP_REASON_REPEATS)->REPEATS.sweeps, 2);
  shop_close (shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/fundamental");
  TCase *t = tcase_create ("all");
  tcase_add_test (t, below_five_rbw_there_is_no_fundamental);
  tcase_add_test (t, a_skirt_at_the_windows_edge_is_no_carrier);
  tcase_add_test (t, a_stated_frequency_is_honoured);
  tcase_add_test (t, a_line_beside_the_stated_frequency_proves_nothing);
  tcase_add_test (t, a_sweep_without_the_carrier_proves_nothing);
  tcase_add_test (t, a_coarse_sweep_does_not_resolve);
  tcase_add_test (t, one_line_does_not_serve_two_harmonics);
  tcase_add_test (t, a_clipped_carrier_predicts_nothing);
  tcase_add_test (t, a_clipped_carriers_place_is_the_middle_of_its_top);
  tcase_add_test (t, a_limit_that_follows_a_clipped_carrier);
  tcase_add_test (t, power_comes_from_a_step_that_is_not_clipped);
  tcase_add_test (t, a_ceiling_needs_no_power);
  tcase_add_test (t, of_sweeps_that_agree_the_lowest_floor_chooses);
  tcase_add_test (t, other_spans_are_no_repeats);
  tcase_set_timeout (t, 120);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
