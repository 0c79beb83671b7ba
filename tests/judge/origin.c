/* Whose an emission is: step tests, unkeyed and notched sweeps, repeats, on benches made on the spot from a stated truth. */
#include "tests/judge/found.h"

#define SHEET(condition)                                                                                                                   \
  "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\ntemperature_c=23\nnecessary_bandwidth=16kHz\nradio_vswr=1.0\n"   \
  "radio_harmonic_vswr=1.0\n[radio Testling]\nfundamental=146.2MHz\n" condition "\n"

/* 5 W through 40 dB: -3 dBm at the input; s = B/2. Limit -16.02 dBm at the socket: -56.02 at the input. */
static const Sweep clean = { 1e6, 801e6, 16001, 100e3, 20, "sample", -95, { { 146.2e6, -3.01 } }, 7 };

/* The same radio with one more line, another attenuation, noise that rises with it. */
static void
put (const char *shop, const char *name, double more_db, double frequency_hz, double level_dbm)
{
  Sweep w = clean;
  w.attenuation_db += more_db;
  w.noise_dbm += more_db;
  w.lines[1] = (Line){ frequency_hz, level_dbm };
  w.seed = (guint32) (more_db * 10 + frequency_hz / 1e6 + 3);
  shop_put_sweep (shop, name, &w);
}

static const SpEmission *
at (const SpFindings *f, double frequency_hz)
{
  for (guint i = 0; i < f->conditions[0].n_emissions; i++)
    if (fabs (f->conditions[0].emissions[i].frequency_hz - frequency_hz) < 150e3)
      return &f->conditions[0].emissions[i];
  ck_abort_msg ("nothing listed at %g Hz", frequency_hz);
}

#define SECOND 292.4e6
#define THIRD 438.6e6

START_TEST (what_stays_is_the_radios)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, SECOND, -46);
  put (shop, "a.csv", 10, SECOND, -46);
  g_autoptr (SpFindings) f = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=a.csv 10"));
  const SpEmission *e = at (f, SECOND);
  expect_origin (e, SP_ORIGIN_RADIO, SP_BASIS_STEP, SP_VERDICT_EXCEEDS);
  ck_assert_double_eq_tol (e->evidence->radio_dbm, -6, 0.5);
  ck_assert (e->radio_low_dbm < -6 && e->radio_high_dbm > -6 && e->radio_high_dbm - e->radio_low_dbm < 6);
  ck_assert_uint_eq (e->evidence->n, 2);
  ck_assert_double_eq (e->evidence->points[1].attenuation_db, 10);
  ck_assert_double_eq (e->evidence->points[1].product_shift_db, -10);
  ck_assert_double_eq_tol (e->evidence->points[1].fit_dbm, -6, 0.5);
  ck_assert (!e->evidence->contradicts);
  shop_close (shop);
}
END_TEST

START_TEST (what_falls_is_the_analyzers)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, THIRD, -46);
  put (shop, "a.csv", 10, THIRD, -66); /* third order: two dB for each dB */
  g_autoptr (SpFindings) f = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=a.csv 10"));
  const SpEmission *e = at (f, THIRD);
  expect_origin (e, SP_ORIGIN_ANALYZER, SP_BASIS_STEP, SP_VERDICT_COMPLIES); /* over the limit, but the radio's part lies far below */
  ck_assert_int_eq (e->reason->code, SP_REASON_RADIO_PART_BELOW);
  ck_assert_double_lt (e->radio_high_dbm, -18); /* the step's reading has 19 dB over its noise */
  ck_assert_double_eq_tol (e->evidence->analyzer_dbm, -6, 0.5);
  ck_assert (isnan (e->conformity));
  shop_close (shop);
}
END_TEST

START_TEST (what_vanishes_is_below_the_threshold_not_gone)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, SECOND, -65);
  put (shop, "a.csv", 10, 700e6, -150); /* noise -85 at the input, threshold about -75: nothing seen at the second */
  g_autoptr (SpFindings) f = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=a.csv 10"));
  const SpEmission *e = at (f, SECOND);
  ck_assert (e->evidence && e->evidence->n == 2 && !e->evidence->points[1].seen);
  expect_origin (e, SP_ORIGIN_ANALYZER, SP_BASIS_STEP, SP_VERDICT_COMPLIES);
  /* the radio's part is bounded by what would have been seen, not zero: threshold there is about -34 dBm at the socket */
  ck_assert_double_gt (e->radio_high_dbm, -40);
  ck_assert_double_lt (e->radio_high_dbm, -27);
  shop_close (shop);
}
END_TEST

/* Under noise that hides it in the step anyway, the step says nothing, and what the profile says stands. */
START_TEST (a_step_into_the_noise_is_no_test)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, SECOND, -75);
  put (shop, "a.csv", 20, 700e6, -150);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv\nstep=a.csv 20"));
  expect_origin (at (f, SECOND), SP_ORIGIN_RADIO, SP_BASIS_PREDICTED, SP_VERDICT_COMPLIES);
  shop_close (shop);
}
END_TEST

START_TEST (an_outside_pad_is_a_step_with_its_own_chain)
{
  char *shop = shop_open ();
  g_autofree char *longer = g_strconcat (SHOP_CHAIN, NULL);
  char *small = strstr (longer, "10.0 0.05; 3GHz 10.0");
  memcpy (small, "20.0 0.05; 3GHz 20.0", 20); /* the small pad is 20 dB instead */
  shop_put (shop, "pad.chain", longer);
  put (shop, "k.csv", 0, SECOND, -46);
  Sweep w = clean; /* 10 dB less at the input; the analyzer's second falls by 20 there: 10 at the socket */
  w.lines[0].level_dbm -= 10;
  w.lines[1] = (Line){ SECOND, -66 };
  shop_put_sweep (shop, "a.csv", &w);
  g_autoptr (SpFindings) f = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=a.csv 10\nstep_chain=pad.chain"));
  const SpEmission *e = at (f, SECOND);
  expect_origin (e, SP_ORIGIN_ANALYZER, SP_BASIS_STEP, SP_VERDICT_COMPLIES);
  ck_assert_double_eq_tol (e->evidence->points[1].attenuation_db, 10, 1e-6);
  ck_assert_double_eq_tol (e->evidence->points[1].product_shift_db, -10, 1e-6);
  ck_assert (!sp_reasons_have (f->conditions[0].warnings, SP_REASON_COMPRESSION));
  shop_close (shop);
}
END_TEST

START_TEST (steps_that_contradict_are_said)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, SECOND, -46);
  put (shop, "a.csv", 10, SECOND, -40);
  put (shop, "b.csv", 20, SECOND, -46);
  g_autoptr (SpFindings) f = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=a.csv 10;b.csv 20"));
  const SpEmission *e = at (f, SECOND);
  ck_assert (e->evidence->contradicts);
  expect_origin (e, SP_ORIGIN_MIXED, SP_BASIS_STEP, SP_VERDICT_NOT_PROVEN);
  ck_assert_double_eq_tol (e->radio_high_dbm, 0, 0.5);
  ck_assert (sp_reasons_have (f->conditions[0].warnings, SP_REASON_STEPS_CONTRADICT));
  shop_close (shop);
}
END_TEST

/* A test outranks a prediction: what falls with the steps is the analyzer's, however good its profile says it is. */
START_TEST (an_analyzer_worse_than_its_profile_is_said)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, SECOND, -46);
  put (shop, "a.csv", 10, SECOND, -56);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv\nstep=a.csv 10"));
  expect_origin (at (f, SECOND), SP_ORIGIN_ANALYZER, SP_BASIS_STEP, SP_VERDICT_COMPLIES);
  ck_assert (sp_reasons_have (f->conditions[0].warnings, SP_REASON_WORSE_THAN_PROFILE));
  ck_assert (!sp_reasons_have (f->conditions[0].warnings, SP_REASON_STEPS_CONTRADICT));
  shop_close (shop);
}
END_TEST

/* Near the limit it is the interval that leaves it open, and that is what the reason says. */
START_TEST (an_interval_across_the_limit_is_inconclusive)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, SECOND, -57);
  put (shop, "a.csv", 3, SECOND, -57.3);
  g_autoptr (SpFindings) f = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=a.csv 3"));
  const SpEmission *e = at (f, SECOND);
  ck_assert (e->level_dbm + e->budget.expanded_margin_db < e->limit_dbm && e->radio_high_dbm + e->budget.expanded_margin_db > e->limit_dbm);
  ck_assert_int_eq (e->reason->code, e->origin == SP_ORIGIN_RADIO ? SP_REASON_RADIO_PART_STRADDLES : SP_REASON_ANALYZER_POSSIBLE);
  ck_assert_int_eq (e->would_prove->code, SP_REASON_PROVE_STEP);
  shop_close (shop);
}
END_TEST

/* A spur that is no harmonic: flat is the radio's whatever its order; one that rises with the attenuation is made behind it. */
START_TEST (a_spur_of_unknown_order)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, 250e6, -60);
  put (shop, "a.csv", 10, 250e6, -60);
  g_autoptr (SpFindings) flat = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=a.csv 10"));
  ck_assert_int_eq (at (flat, 250e6)->origin, SP_ORIGIN_RADIO);
  put (shop, "a.csv", 10, 250e6, -50);
  g_autoptr (SpFindings) rising = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=a.csv 10"));
  ck_assert_int_eq (at (rising, 250e6)->origin, SP_ORIGIN_ANALYZER);
  ck_assert_uint_eq (at (rising, 250e6)->evidence->order, 0);
  shop_close (shop);
}
END_TEST

START_TEST (what_stands_there_unkeyed_may_be_from_the_air)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, 439.2e6, -46); /* a repeater on the hill; beside the third harmonic */
  Sweep room = clean;
  room.lines[0] = (Line){ 439.2e6, -47 };
  shop_put_sweep (shop, "room.csv", &room);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv\nunkeyed=room.csv"));
  const SpEmission *e = at (f, 439.2e6);
  expect_origin (e, SP_ORIGIN_AMBIENT, SP_BASIS_UNKEYED, SP_VERDICT_NOT_PROVEN);
  ck_assert_int_eq (e->reason->code, SP_REASON_AMBIENT_POSSIBLE);
  ck_assert_double_eq_tol (e->evidence->ambient_dbm, -7, 0.3);
  ck_assert (isinf (e->radio_low_dbm) && e->radio_high_dbm > e->level_dbm && isnan (e->conformity));
  /* 9 dB down it explains a part only */
  room.lines[0].level_dbm = -56;
  shop_put_sweep (shop, "room.csv", &room);
  g_autoptr (SpFindings) weak = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv\nunkeyed=room.csv"));
  ck_assert_int_ne (at (weak, 439.2e6)->origin, SP_ORIGIN_AMBIENT);
  ck_assert_int_eq (at (weak, 439.2e6)->verdict, SP_VERDICT_NOT_PROVEN); /* no order: whose it is, nobody has said */
  shop_close (shop);
}
END_TEST

START_TEST (an_unkeyed_sweep_that_reaches_no_deeper_proves_nothing)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, SECOND, -60);
  Sweep room = clean;
  room.lines[0] = (Line){ 0 };
  room.noise_dbm = -65;
  shop_put_sweep (shop, "room.csv", &room);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv\nunkeyed=room.csv"));
  ck_assert (at (f, SECOND)->evidence && !at (f, SECOND)->evidence->ambient_known);
  ck_assert (sp_reasons_have (f->conditions[0].warnings, SP_REASON_UNKEYED_FLOOR));
  room.stop_hz = 201e6;
  room.points = 4001;
  shop_put_sweep (shop, "room.csv", &room);
  g_autoptr (SpFindings) narrow = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv\nunkeyed=room.csv"));
  ck_assert (sp_reasons_have (narrow->conditions[0].warnings, SP_REASON_UNKEYED_SPAN));
  shop_close (shop);
}
END_TEST

#define NOTCH_CHAIN                                                                                                                        \
  "[chain]\nname=With notch\nstages=pad;stub\n[stage pad]\nkind=pad\nrating_w=50\nvswr=1.0\npoints=1MHz 30.0 0.05; 3GHz 30.0 0.05\n"       \
  "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n"                                                          \
  "[stage stub]\nkind=notch\nrating_w=2\nvswr=1.0\npoints=1MHz 1 0.1; 140MHz 3 0.1; 146.2MHz 40 0.5; 152MHz 3 0.1; 200MHz 1 0.1; 3GHz 1 "  \
  "0.1\n"                                                                                                                                  \
  "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n"

START_TEST (a_notch_turns_not_proven_into_complies)
{
  char *shop = shop_open ();
  Sweep deaf = clean;
  deaf.noise_dbm = -62;  /* -22 dBm at the socket */
  deaf.stop_hz = 1601e6; /* up to the tenth harmonic */
  deaf.points = 32001;
  shop_put_sweep (shop, "k.csv", &deaf);
  Sweep deep = deaf; /* carrier 40 + 30 dB down, the attenuator open */
  deep.lines[0].level_dbm = 36.99 - 70;
  deep.noise_dbm = -92;
  deep.attenuation_db = 0;
  shop_put_sweep (shop, "n.csv", &deep);
  shop_put (shop, "n.chain", NOTCH_CHAIN);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv"));
  ck_assert_int_eq (at (f, SECOND)->verdict, SP_VERDICT_NOT_PROVEN);
  g_autoptr (SpFindings) g = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv\nnotched=n.csv\nnotched_chain=n.chain"));
  ck_assert_int_eq (at (g, SECOND)->verdict, SP_VERDICT_COMPLIES);
  ck_assert_uint_eq (g->conditions[0].n_corrected, 2);
  ck_assert_int_eq (at (g, SECOND)->sweep, 1);
  ck_assert_double_eq_tol (g->conditions[0].power_dbm, 36.99, 0.1); /* P stands on the keyed sweep */
  /* without a chain of its own nobody knows what it takes from the harmonics */
  g_autoptr (SpFindings) h = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv\nnotched=n.csv"));
  ck_assert (sp_reasons_have (h->conditions[0].warnings, SP_REASON_SWEEP_NOT_USED));
  ck_assert_int_eq (at (h, SECOND)->verdict, SP_VERDICT_NOT_PROVEN);
  shop_close (shop);
}
END_TEST

/* A leak behind the chain reads alike through any chain: the lossier chain of the notched sweep must not make it the radio's. */
START_TEST (a_leak_behind_the_chain_is_no_more_the_radios)
{
  char *shop = shop_open ();
  Sweep deep = clean, room = clean;
  deep.lines[1] = (Line){ 250e6, -70 };
  room.lines[0] = (Line){ 250e6, -70 };
  shop_put_sweep (shop, "k.csv", &clean);
  shop_put_sweep (shop, "n.csv", &deep);
  shop_put_sweep (shop, "room.csv", &room);
  g_autofree char *lossy = g_strconcat (SHOP_CHAIN, NULL);
  memcpy (strstr (lossy, "10.0 0.05; 3GHz 10.0"), "25.0 0.05; 3GHz 25.0", 20);
  shop_put (shop, "n.chain", lossy);
  g_autoptr (SpFindings) f = shop_judge (shop, "", SHEET ("keyed=k.csv\nnotched=n.csv\nnotched_chain=n.chain\nunkeyed=room.csv"));
  ck_assert_int_eq (at (f, 250e6)->origin, SP_ORIGIN_AMBIENT);
  shop_close (shop);
}
END_TEST

/* A step's pad, a notch and an open attenuator are ways that the radio's power takes as well. */
START_TEST (every_chain_on_the_way_must_be_safe)
{
  char *shop = shop_open ();
  Sweep deep = clean;
  deep.lines[0].level_dbm = 36.99 - 70;
  shop_put_sweep (shop, "k.csv", &clean);
  shop_put_sweep (shop, "n.csv", &deep);
  shop_put (shop, "n.chain", NOTCH_CHAIN);
  g_autoptr (SpFindings) safe = shop_judge (shop, "", SHEET ("keyed=k.csv\nnotched=n.csv\nnotched_chain=n.chain"));
  ck_assert (safe->safe && safe->conditions[0].safe);
  g_autofree char *first = g_strconcat (NOTCH_CHAIN, NULL); /* the notch before the pad: it throws the carrier back, and is rated 2 W */
  memcpy (strstr (first, "stages=pad;stub"), "stages=stub;pad", 15);
  shop_put (shop, "n.chain", first);
  g_autoptr (SpFindings) f = shop_judge (shop, "", SHEET ("keyed=k.csv\nnotched=n.csv\nnotched_chain=n.chain"));
  ck_assert (!f->safe && !f->conditions[0].safe && f->conditions[0].headroom->safe);
  ck_assert (sp_reasons_have (f->conditions[0].warnings, SP_REASON_UNSAFE));
  shop_close (shop);
}
END_TEST

/* The notched sweep is a step test as well: the mixer sees 40 dB less of the carrier. */
START_TEST (a_notch_shows_whose_it_was)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, SECOND, -46);
  Sweep deep = clean;
  deep.lines[0].level_dbm = 36.99 - 70;
  deep.lines[1] = (Line){ SECOND, -40 - 31 }; /* -40 dBm of it is the radio's own */
  shop_put_sweep (shop, "n.csv", &deep);
  shop_put (shop, "n.chain", NOTCH_CHAIN);
  g_autoptr (SpFindings) f = shop_judge (shop, "", SHEET ("keyed=k.csv\nnotched=n.csv\nnotched_chain=n.chain"));
  const SpEmission *e = at (f, SECOND);
  expect_origin (e, SP_ORIGIN_ANALYZER, SP_BASIS_STEP, SP_VERDICT_COMPLIES);
  ck_assert_double_eq_tol (e->evidence->radio_dbm, -40, 1);
  shop_close (shop);
}
END_TEST

/* Keyed and notched sweep agree: what is the radio's stands in both, though the notch has lowered the analyzer's part by 80 dB. */
START_TEST (a_notch_that_agrees_is_no_contradiction)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, SECOND, -46.2);
  Sweep deep = clean;
  deep.lines[0].level_dbm = 36.99 - 70;
  deep.lines[1] = (Line){ SECOND, -6 - 31 };
  shop_put_sweep (shop, "n.csv", &deep);
  shop_put (shop, "n.chain", NOTCH_CHAIN);
  g_autoptr (SpFindings) f = shop_judge (shop, "", SHEET ("keyed=k.csv\nnotched=n.csv\nnotched_chain=n.chain"));
  const SpEmission *e = at (f, SECOND);
  expect_origin (e, SP_ORIGIN_RADIO, SP_BASIS_STEP, SP_VERDICT_EXCEEDS);
  ck_assert (!e->evidence->contradicts);
  ck_assert_double_eq_tol (e->evidence->radio_dbm, -6.1, 0.5);
  shop_close (shop);
}
END_TEST

/* What one of several sweeps shows was emitted; only what chance adds to the greatest of their readings is allowed for. */
START_TEST (one_of_three_repeats_exceeds)
{
  char *shop = shop_open ();
  static const double level[] = { -54.8, -55.9, -55.7 }; /* limit -56.02 at the input; U 0.64 */
  for (guint i = 0; i < 3; i++) {
    g_autofree char *name = g_strdup_printf ("k%u.csv", i);
    put (shop, name, 0, SECOND, level[i]);
  }
  g_autoptr (SpFindings) one = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k0.csv"));
  ck_assert_int_eq (at (one, SECOND)->verdict, SP_VERDICT_EXCEEDS);
  g_autoptr (SpFindings) three = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k0.csv;k1.csv;k2.csv"));
  ck_assert_int_eq (at (three, SECOND)->verdict, SP_VERDICT_EXCEEDS);
  const SpEmission *e = at (three, SECOND);
  ck_assert_double_lt (e->radio_low_dbm, at (one, SECOND)->radio_low_dbm); /* 0.42 standard deviations of one reading (normal law) */
  ck_assert_double_gt (e->radio_low_dbm, at (one, SECOND)->radio_low_dbm - 0.5 * e->repeat_scatter_db);
  ck_assert_double_eq (at (three, SECOND)->level_dbm, at (one, SECOND)->level_dbm);
  shop_close (shop);
}
END_TEST

START_TEST (seams_stand_where_sweeps_begin_and_end)
{
  char *shop = shop_open ();
  Sweep low = clean, high = clean;
  low.stop_hz = 400e6;
  low.points = 8001;
  high.start_hz = 350e6;
  high.lines[0] = (Line){ 0 };
  high.points = 9001;
  shop_put_sweep (shop, "low.csv", &low);
  shop_put_sweep (shop, "high.csv", &high);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=low.csv;high.csv;low.csv"));
  const SpConditionFindings *c = &f->conditions[0];
  ck_assert_uint_eq (c->n_seams, 2); /* the repeat of `low` makes none of its own */
  ck_assert (c->seams[0].begins && c->seams[0].frequency_hz == 350e6 && c->seams[0].corrected == 1);
  ck_assert (!c->seams[1].begins && c->seams[1].frequency_hz == 400e6 && c->seams[1].corrected == 0);
  high.start_hz = 400e6;
  high.points = 8001;
  shop_put_sweep (shop, "high.csv", &high);
  g_autoptr (SpFindings) joined = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=low.csv;high.csv"));
  ck_assert_uint_eq (joined->conditions[0].n_seams, 1);
  g_autoptr (SpFindings) one = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=low.csv"));
  ck_assert_uint_eq (one->conditions[0].n_seams, 0);
  shop_close (shop);
}
END_TEST

START_TEST (repeats_give_mean_and_type_a)
{
  char *shop = shop_open ();
  static const double level[] = { -60, -60.6, -59.4, -60.2 };
  for (guint i = 0; i < 4; i++) {
    g_autofree char *name = g_strdup_printf ("k%u.csv", i);
    put (shop, name, 0, SECOND, level[i]);
  }
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k0.csv;k1.csv;k2.csv;k3.csv"));
  const SpEmission *e = at (f, SECOND);
  ck_assert_uint_eq (e->repeats, 4);
  ck_assert_int_eq (e->sweep, 2); /* the worst is what is judged */
  ck_assert_double_eq_tol (e->level_dbm, -19.4, 0.25);
  ck_assert_double_eq_tol (e->repeat_mean_dbm, -20.05, 0.2);
  ck_assert_double_eq_tol (e->repeat_u_db, 0.25, 0.12); /* s = 0.50, n = 4 */
  ck_assert_uint_eq (at (f, THIRD)->repeats, 0);
  shop_close (shop);
}
END_TEST

START_TEST (sweeps_that_do_not_agree_are_said_and_the_worse_stands)
{
  char *shop = shop_open ();
  put (shop, "k.csv", 0, SECOND, -60);
  put (shop, "again.csv", 0, SECOND, -66);
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv;again.csv"));
  ck_assert_double_eq_tol (at (f, SECOND)->level_dbm, -20, 0.3);
  ck_assert (sp_reasons_have (f->conditions[0].warnings, SP_REASON_SWEEPS_DISAGREE));
  put (shop, "again.csv", 0, SECOND, -60.1);
  g_autoptr (SpFindings) same = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv;again.csv"));
  ck_assert (!sp_reasons_have (same->conditions[0].warnings, SP_REASON_SWEEPS_DISAGREE));
  shop_close (shop);
}
END_TEST

START_TEST (a_carrier_that_does_not_follow_the_step_is_compressed)
{
  char *shop = shop_open ();
  Sweep loud = clean;
  loud.lines[0].level_dbm -= 1.5;
  shop_put_sweep (shop, "k.csv", &loud);
  put (shop, "a.csv", 10, SECOND, -150);
  g_autoptr (SpFindings) f = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=a.csv 10"));
  ck_assert (sp_reasons_have (f->conditions[0].warnings, SP_REASON_COMPRESSION));
  shop_put_sweep (shop, "k.csv", &clean);
  g_autoptr (SpFindings) g = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=a.csv 10"));
  ck_assert (!sp_reasons_have (g->conditions[0].warnings, SP_REASON_COMPRESSION));
  shop_close (shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/origin");
  TCase *c = tcase_create ("origin");
  tcase_set_timeout (c, 60);
  tcase_add_test (c, what_stays_is_the_radios);
  tcase_add_test (c, what_falls_is_the_analyzers);
  tcase_add_test (c, what_vanishes_is_below_the_threshold_not_gone);
  tcase_add_test (c, a_step_into_the_noise_is_no_test);
  tcase_add_test (c, an_outside_pad_is_a_step_with_its_own_chain);
  tcase_add_test (c, steps_that_contradict_are_said);
  tcase_add_test (c, an_analyzer_worse_than_its_profile_is_said);
  tcase_add_test (c, an_interval_across_the_limit_is_inconclusive);
  tcase_add_test (c, a_spur_of_unknown_order);
  tcase_add_test (c, what_stands_there_unkeyed_may_be_from_the_air);
  tcase_add_test (c, an_unkeyed_sweep_that_reaches_no_deeper_proves_nothing);
  tcase_add_test (c, a_notch_turns_not_proven_into_complies);
  tcase_add_test (c, a_leak_behind_the_chain_is_no_more_the_radios);
  tcase_add_test (c, every_chain_on_the_way_must_be_safe);
  tcase_add_test (c, a_notch_shows_whose_it_was);
  tcase_add_test (c, a_notch_that_agrees_is_no_contradiction);
  tcase_add_test (c, one_of_three_repeats_exceeds);
  tcase_add_test (c, seams_stand_where_sweeps_begin_and_end);
  tcase_add_test (c, repeats_give_mean_and_type_a);
  tcase_add_test (c, sweeps_that_do_not_agree_are_said_and_the_worse_stands);
  tcase_add_test (c, a_carrier_that_does_not_follow_the_step_is_compressed);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
