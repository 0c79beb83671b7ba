/* sheet.c - a bench read from a sheet, shared with other resources, and its hash */
#include "core/bench/sheet/sheet.h"
#include "core/bench/edit/edit.h"
#include "tests/reasons.h"
#include "tests/sheet/folder.h"

static SpBench *
good (const char *text)
{
  GError *error = NULL;
  SpBench *bench = read_sheet (text, &error);
  sp_no_error (error);
  return bench;
}

static gboolean
warned (const SpBench *bench, SpReasonCode code, const char *text)
{
  for (guint i = 0; i < bench->warnings->len; i++) {
    const SpReason *reason = bench->warnings->pdata[i];
    if (reason->code == code && reason_says (reason, text))
      return TRUE;
  }
  return FALSE;
}

/* Which modulation a tone does not go with; SP_NO_WORD: nothing is said. */
static int
unlike (const SpBench *bench)
{
  for (guint i = 0; i < bench->warnings->len; i++) {
    const SpReason *reason = bench->warnings->pdata[i];
    if (reason->code == SP_REASON_TONE_UNLIKE)
      return reason->TONE_UNLIKE.modulation;
  }
  return SP_NO_WORD;
}

START_TEST (everything_in_a_sheet)
{
  g_autoptr (SpBench) bench = good (
      "[bench]\ntitle=Autumn bench "
      "night\ndate=2026-10-03\noperator=Ilka\nplace=shed\nnote=cold\nchain=a.chain\nanalyzer=a.analyzer\nmask=us-amateur\n"
      "rule=simple\ntemperature_c=23\nnecessary_bandwidth=16kHz\nunkeyed=room.csv\nradio_vswr=1.5\nradio_harmonic_vswr=4\npads_at_hand=10 "
      "2; 6 0.5\n"
      "[radio Tolvane]\nowner=Ilka\nserial=0042\ninstalled=2015-06-01\nlongest_key_down_s=30\nnote=dented\nkeyed=k1.csv\n"
      "[radio Mirrick]\nserial=7\n"
      "[condition Mirrick/2 m high]\nfundamental=10MHz\nrated_w=5\nmeter_dbm=36.9\nmeter_u_db=0.2\nmeter=check\nmode=FM\nduty=0.5\n"
      "necessary_bandwidth=11kHz\nclocks=26MHz; 19.2 "
      "MHz\nmask=house.mask\nchain=b.chain\nanalyzer=b.analyzer\nunkeyed=k2.csv\nkeyed=k1.csv; k2.csv\n"
      "step=s10.csv 10; s20.csv 20\nnotched=k2.csv\nnotched_chain=b.chain\nsuperseded=none.csv\n"
      "[condition Mirrick/low]\nkeyed=k2.csv\nstep=k2.csv 10\nstep_chain=b.chain\n");
  ck_assert_str_eq (bench->title, "Autumn bench night");
  ck_assert_str_eq (bench->operator_name, "Ilka");
  ck_assert_str_eq (bench->date, "2026-10-03");
  ck_assert (bench->decision_rule == SP_DECISION_RULE_SIMPLE && bench->temperature_c == 23 && bench->necessary_bandwidth_hz == 16e3);
  ck_assert (bench->radio_vswr == 1.5 && bench->radio_harmonic_vswr == 4);
  ck_assert_uint_eq (bench->pads->len, 2);
  const SpPad *pads = &g_array_index (bench->pads, SpPad, 0);
  ck_assert (pads[0].loss_db == 10 && pads[0].rating_w == 2 && pads[1].loss_db == 6 && pads[1].rating_w == 0.5);
  ck_assert (bench->n_radios == 2 && bench->n_conditions == 3);
  ck_assert_str_eq (bench->radios[0].serial, "0042");
  ck_assert_double_eq (bench->date_day - bench->radios[0].installed_day, 4142); /* 2015-06-01 to 2026-10-03 */
  ck_assert (bench->radios[0].longest_key_down_s == 30 && isnan (bench->radios[1].longest_key_down_s));
  const SpCondition *own = &bench->conditions[0], *high = &bench->conditions[1], *low = &bench->conditions[2];
  ck_assert_str_eq (own->name, "");
  ck_assert (own->radio == 0 && own->n_sweeps == 1 && isnan (own->fundamental_hz) && own->duty == 1 && isnan (own->meter_dbm));
  ck_assert_str_eq (high->name, "2 m high");
  ck_assert (high->fundamental_hz == 10e6 && high->rated_w == 5 && high->meter_dbm == 36.9 && high->meter_u_db == 0.2);
  ck_assert (high->meter_use == SP_METER_CHECK && high->duty == 0.5 && high->necessary_bandwidth_hz == 11e3);
  ck_assert_str_eq (high->mode, "FM");
  ck_assert_uint_eq (high->clocks_hz->len, 2);
  ck_assert (g_array_index (high->clocks_hz, double, 0) == 26e6 && g_array_index (high->clocks_hz, double, 1) == 19.2e6);
  ck_assert (!low->clocks_hz);
  ck_assert_str_eq (sp_condition_chain (bench, high)->name, "Other shelf");
  ck_assert_str_eq (sp_condition_chain (bench, low)->name, "Shelf");
  ck_assert_str_eq (sp_condition_analyzer (bench, high)->name, "Two");
  ck_assert_str_eq (sp_condition_mask (bench, high)->name, "House");
  ck_assert_str_eq (sp_condition_mask (bench, low)->name, "us-amateur");
  /* sweeps in the sheet's order, with their purposes, steps and chains */
  static const SpPurpose want[] = { SP_PURPOSE_UNKEYED, SP_PURPOSE_KEYED,   SP_PURPOSE_KEYED,     SP_PURPOSE_STEP,
                                    SP_PURPOSE_STEP,    SP_PURPOSE_NOTCHED, SP_PURPOSE_SUPERSEDED };
  ck_assert_uint_eq (high->n_sweeps, G_N_ELEMENTS (want));
  for (guint i = 0; i < G_N_ELEMENTS (want); i++)
    ck_assert_int_eq (high->sweeps[i].purpose, want[i]);
  ck_assert (high->sweeps[3].step_db == 10 && high->sweeps[4].step_db == 20 && isnan (high->sweeps[1].step_db));
  ck_assert (!high->sweeps[3].chain && high->sweeps[5].chain && low->sweeps[1].chain && low->sweeps[1].step_db == 10);
  /* each file is read once */
  ck_assert_ptr_eq (own->sweeps[0].trace, high->sweeps[1].trace);
  ck_assert_ptr_eq (high->chain, high->sweeps[5].chain);
  ck_assert_ptr_eq (sp_condition_unkeyed (bench, high), high->sweeps[0].trace);
  ck_assert_ptr_eq (sp_condition_unkeyed (bench, low), bench->unkeyed);
  gboolean assumed;
  ck_assert (sp_condition_bandwidth_hz (bench, high, &assumed) == 11e3 && !assumed);
  ck_assert (sp_condition_bandwidth_hz (bench, low, &assumed) == 16e3 && !assumed);
  g_autofree char *a = sp_condition_name (bench, own), *b = sp_condition_name (bench, high);
  ck_assert_str_eq (a, "Tolvane");
  ck_assert_str_eq (b, "Mirrick/2 m high");
}
END_TEST

START_TEST (what_is_left_out)
{
  g_autoptr (SpBench) bench = good ("[bench]\nchain=a.chain\nanalyzer=a.analyzer\nmask=us-amateur\n[radio X]\nserial=1\n");
  gboolean assumed;
  ck_assert (bench->decision_rule == SP_DECISION_RULE_GUARDED && isnan (bench->temperature_c) && isnan (bench->radio_vswr)
             && isinf (bench->radio_harmonic_vswr));
  ck_assert (!bench->pads);
  ck_assert (!bench->unkeyed && !bench->title && isnan (bench->date_day) && bench->n_conditions == 1 && bench->conditions[0].n_sweeps == 0);
  ck_assert (sp_condition_bandwidth_hz (bench, bench->conditions, &assumed) == 16e3 && assumed);
  ck_assert (!sp_condition_unkeyed (bench, bench->conditions));
}
END_TEST

START_TEST (escaped_names_and_paths)
{
  g_autoptr (SpBench) bench = good (
      HEAD "[radio A%20b%23]\nkeyed=a b%3Bc%3F.csv\n[radio Step]\nkeyed=k1.csv\nstep=a b%3Bc%3F.csv?attenuation=20  10\n");
  ck_assert_str_eq (bench->radios[0].name, "A b#");
  ck_assert_uint_eq (bench->conditions[0].n_sweeps, 1);
  ck_assert_double_eq (bench->conditions[1].sweeps[1].step_db, 10);
  ck_assert_double_eq (bench->conditions[1].sweeps[1].trace->settings.attenuation_db, 20); /* the option wins over the file's 10 */
  ck_assert_ptr_ne (bench->conditions[0].sweeps[0].trace, bench->conditions[1].sweeps[1].trace);
}
END_TEST

START_TEST (steps_that_cannot_be_checked)
{
  g_autoptr (SpBench) bench = good (HEAD "[radio A]\nkeyed=k1.csv\nstep=none.csv 10\n");
  ck_assert (warned (bench, SP_REASON_STEP_UNKNOWN, "none.csv"));
  g_autoptr (SpBench) known = good (HEAD "[radio A]\nstep=s10.csv 10; none.csv?attenuation=30 20\nkeyed=k1.csv\n");
  ck_assert (!sp_reasons_have (known->warnings, SP_REASON_STEP_UNKNOWN));
  ck_assert_int_eq (known->conditions[0].sweeps[0].purpose, SP_PURPOSE_STEP); /* the sheet's order */
  g_autoptr (SpBench) nearly = good (HEAD "[radio A]\nkeyed=k1.csv\nstep=s10.csv 10.04; s10.csv 9.96\n");
  ck_assert_uint_eq (nearly->conditions[0].n_sweeps, 3);
}
END_TEST

/* A steady source read through chain and analyzer at both ends of the evening. */
START_TEST (check_source)
{
#define RADIO "[radio One]\nkeyed=k1.csv\n"
  g_autoptr (SpBench) none = good (HEAD RADIO), one = good (HEAD "check_before_dbm=-20.03\n" RADIO);
  g_autoptr (SpBench) both = good (HEAD "check_before_dbm=-20.03\ncheck_after_dbm=-20.15\n" RADIO);
  g_autoptr (SpBench) rising = good (HEAD "check_before_dbm=-20.15\ncheck_after_dbm=-20.03\n" RADIO);
  ck_assert (isnan (sp_bench_drift_db (none)) && isnan (sp_bench_drift_db (one)));
  ck_assert (sp_bench_drift_u_db (none) == 0 && sp_bench_drift_u_db (one) == 0);
  ck_assert_double_eq_tol (sp_bench_drift_db (both), -0.12, 1e-12);
  ck_assert_double_eq_tol (sp_bench_drift_u_db (both), 0.12 / sqrt (3), 1e-12);
  ck_assert_double_eq_tol (sp_bench_drift_u_db (rising), 0.12 / sqrt (3), 1e-12);
  ck_assert_str_ne (none->sha256, both->sha256);
  ck_assert_str_ne (rising->sha256, both->sha256);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (read_sheet (HEAD "check_before_dbm=loud\n" RADIO, &error));
  ck_assert_msg (strstr (error->message, ":7:18: [bench] check_before_dbm: found “loud”; expected a number") != NULL, "%s", error->message);
#undef RADIO
}
END_TEST

static int
home_told (const SpBench *bench, const char *key, double *line)
{
  for (guint i = 0; i < bench->warnings->len; i++) {
    const SpReason *reason = bench->warnings->pdata[i];
    if (reason->code == SP_REASON_UNKNOWN_KEY && strcmp (reason->UNKNOWN_KEY.key, key) == 0) {
      *line = reason->UNKNOWN_KEY.line;
      return reason->UNKNOWN_KEY.home;
    }
  }
  return -1;
}

/* With its line, and where it belongs. */
START_TEST (a_key_in_the_wrong_group_is_told)
{
  g_autoptr (SpBench) bench = good (HEAD "tone_hz=1kHz\nserial=5\ncolour=blue\n[radio A]\nrule=simple\nkeyed=k1.csv\n");
  double line;
  ck_assert_int_eq (home_told (bench, "tone_hz", &line), SP_KEY_OF_CONDITION);
  ck_assert_double_eq (line, 7);
  ck_assert_int_eq (home_told (bench, "serial", &line), SP_KEY_OF_RADIO);
  ck_assert_int_eq (home_told (bench, "rule", &line), SP_KEY_OF_BENCH);
  ck_assert_double_eq (line, 11);
  ck_assert_int_eq (home_told (bench, "colour", &line), SP_KEY_OF_NOBODY);
}
END_TEST

/* A tone belongs to a modulation with a tone, the bench's or the condition's own, and the other way round. */
START_TEST (tones_that_lack_and_tones_too_many)
{
#define RADIO "[radio A]\nkeyed=k1.csv\n"
  g_autoptr (SpBench) lacks = good (HEAD RADIO "modulation=tone\n"), half = good (HEAD RADIO "modulation=tone\ntone_hz=1kHz\n");
  g_autoptr (SpBench) whole = good (HEAD RADIO "modulation=tone\ntone_hz=1kHz\ndeviation_hz=3kHz\n"),
                      open = good (HEAD RADIO "tone_hz=1kHz\n");
  g_autoptr (SpBench) speech = good (HEAD RADIO "modulation=speech\ntone_hz=1kHz\n"),
                      common = good (HEAD "modulation=none\n" RADIO "tone_hz=1kHz\n");
  g_autoptr (SpBench) deviation = good (HEAD RADIO "modulation=speech\ndeviation_hz=3kHz\n");
  ck_assert (warned (lacks, SP_REASON_TONE_LACKS, "A") && warned (lacks, SP_REASON_TONE_LACKS, "tone_hz"));
  ck_assert (warned (half, SP_REASON_TONE_LACKS, "deviation_hz"));
  ck_assert (unlike (speech) == SP_MODULATION_SPEECH && unlike (common) == SP_MODULATION_NONE);
  SpBench *const quiet[] = { whole, open, deviation };
  for (guint i = 0; i < G_N_ELEMENTS (quiet); i++)
    ck_assert (!sp_reasons_have (quiet[i]->warnings, SP_REASON_TONE_LACKS) && !sp_reasons_have (quiet[i]->warnings, SP_REASON_TONE_UNLIKE));
#undef RADIO
}
END_TEST

START_TEST (warnings_are_collected)
{
  g_autoptr (SpBench) bench = good (HEAD "colour=blue\n[radio A]\nkeyed=k1.csv\n[shelf]\n");
  ck_assert (warned (bench, SP_REASON_UNKNOWN_KEY, "colour"));
  ck_assert (warned (bench, SP_REASON_UNKNOWN_KEY, "shelf"));
  ck_assert (sp_reasons_have (bench->warnings, SP_REASON_U_ASSUMED));        /* the analyzer's */
  ck_assert (!sp_reasons_have (bench->warnings, SP_REASON_CALIBRATION_OLD)); /* 59 days of 100 */
  g_autoptr (SpBench) old = good (
      "[bench]\ndate=2026-06-01\nchain=a.chain\nanalyzer=a.analyzer\nmask=us-amateur\n[radio A]\nkeyed=k1.csv\n");
  ck_assert (warned (old, SP_REASON_CALIBRATION_OLD, "Shelf"));
  for (guint i = 0; i < old->warnings->len; i++) {
    const SpReason *reason = old->warnings->pdata[i];
    ck_assert (reason->code != SP_REASON_CALIBRATION_OLD
               || (reason->CALIBRATION_OLD.age_days == 151 && reason->CALIBRATION_OLD.interval_days == 100));
  }
  /* a calibration of days to come is no calibration of that day; without a day nobody can say how old it is */
  g_autoptr (SpBench) early = good (
      "[bench]\ndate=2025-12-24\nchain=a.chain\nanalyzer=a.analyzer\nmask=us-amateur\n[radio A]\nkeyed=k1.csv\n");
  g_autoptr (SpBench) undated = good ("[bench]\nchain=a.chain\nanalyzer=a.analyzer\nmask=us-amateur\n[radio A]\nkeyed=k1.csv\n");
  ck_assert (warned (early, SP_REASON_CALIBRATION_LATER, "Shelf") && !warned (bench, SP_REASON_CALIBRATION_LATER, "Shelf"));
  for (guint i = 0; i < early->warnings->len; i++) {
    const SpReason *reason = early->warnings->pdata[i];
    ck_assert (reason->code != SP_REASON_CALIBRATION_LATER || reason->CALIBRATION_LATER.later_days == 8); /* 2026-01-01 */
  }
  ck_assert (warned (undated, SP_REASON_AGES_UNCHECKED, "Shelf") && !warned (old, SP_REASON_AGES_UNCHECKED, "Shelf"));
  /* other resources bring and take their warnings */
  GError *error = NULL;
  g_autofree char *path = g_build_filename (folder, "b.chain", NULL);
  g_autoptr (SpChain) chain = sp_chain_read (path, &error);
  sp_no_error (error);
  g_autoptr (SpBench) other = sp_bench_with (old, chain, NULL, NULL, -1);
  ck_assert (!sp_reasons_have (other->warnings, SP_REASON_CALIBRATION_OLD));
  g_autoptr (SpBench) plain = sp_bench_with (undated, chain, NULL, NULL,
                                             -1); /* b.chain states neither date nor interval: nothing to check */
  ck_assert (!sp_reasons_have (plain->warnings, SP_REASON_AGES_UNCHECKED));
}
END_TEST

START_TEST (own_stage_date)
{
  put ("c.chain", "[chain]\nname=C\nstages=old;new\ncalibrated=2026-05-01\ninterval_days=100\n[stage "
                  "old]\nkind=pad\ncalibrated=2020-01-01\nrating_w=1\nvswr=1.1\n"
                  "points=1MHz 3 0.1\n[stage new]\nkind=pad\nrating_w=1\nvswr=1.1\npoints=1MHz 3 0.1\n");
  g_autoptr (SpBench) bench = good ("[bench]\ndate=2026-06-01\nchain=c.chain\nanalyzer=a.analyzer\nmask=us-amateur\n");
  ck_assert (warned (bench, SP_REASON_CALIBRATION_OLD, "old"));
  ck_assert (!warned (bench, SP_REASON_CALIBRATION_OLD, "C"));
}
END_TEST

#define BASE HEAD "temperature_c=20\n[radio A]\nkeyed=k1.csv\n"

START_TEST (hash_of_what_judging_depends_on)
{
  g_autoptr (SpBench) base = good (BASE);
  static const char *const same[] = {
    "# a comment\n" BASE,
    "[radio A]\nkeyed=k1.csv\nowner=Ilka\nnote=x\n" HEAD "temperature_c=20.0\nnote=y\nplace=z\n",
    HEAD "temperature_c=20\n[radio A]\nkeyed=./k1.csv\n",
  };
  static const char *const other[] = {
    HEAD "temperature_c=21\n[radio A]\nkeyed=k1.csv\n",
    HEAD "temperature_c=20\n[radio B]\nkeyed=k1.csv\n",
    HEAD "temperature_c=20\n[radio A]\nkeyed=k2.csv\n",
    HEAD "temperature_c=20\n[radio A]\nkeyed=k1.csv?rbw=9kHz\n",
    HEAD "temperature_c=20\nrule=simple\n[radio A]\nkeyed=k1.csv\n",
    HEAD "temperature_c=20\n[radio A]\nkeyed=k1.csv\nmeter_dbm=30\n",
    HEAD "temperature_c=20\n[radio A]\nsuperseded=k1.csv\n",
    HEAD "temperature_c=20\nunkeyed=k1.csv\n[radio A]\nkeyed=k1.csv\n",
    HEAD "temperature_c=20\n[radio A]\nkeyed=k1.csv\nmask=house.mask\n",
    HEAD "temperature_c=20\n[radio A]\nkeyed=k1.csv\nduty=0.5\n",
    HEAD "temperature_c=20\n[radio A]\nkeyed=k1.csv;k1.csv\n",
  };
  ck_assert_uint_eq (strlen (base->sha256), 64);
  for (guint i = 0; i < G_N_ELEMENTS (same); i++) {
    g_autoptr (SpBench) bench = good (same[i]);
    ck_assert_msg (strcmp (base->sha256, bench->sha256) == 0, "%s", same[i]);
  }
  for (guint i = 0; i < G_N_ELEMENTS (other); i++) {
    g_autoptr (SpBench) bench = good (other[i]);
    ck_assert_msg (strcmp (base->sha256, bench->sha256) != 0, "%s", other[i]);
  }
}
END_TEST

START_TEST (with_other_resources)
{
  GError *error = NULL;
  g_autoptr (SpBench) bench = good (HEAD
                                    "[radio A]\n[condition A/x]\nkeyed=k1.csv\nmask=house.mask\n[condition A/y]\nkeyed=k2.csv\nmode=CW\n");
  g_autoptr (SpMask) mask = sp_mask_load ("at-amateur", &error);
  sp_no_error (error);
  g_autoptr (SpBench) other = sp_bench_with (bench, NULL, NULL, mask, SP_DECISION_RULE_SIMPLE);
  ck_assert_str_eq (sp_condition_mask (other, &other->conditions[0])->name, "at-amateur");
  ck_assert_str_eq (sp_condition_mask (other, &other->conditions[1])->name, "at-amateur");
  ck_assert_str_eq (sp_condition_mask (bench, &bench->conditions[0])->name, "House"); /* the old one is as it was */
  ck_assert (other->decision_rule == SP_DECISION_RULE_SIMPLE && bench->decision_rule == SP_DECISION_RULE_GUARDED);
  ck_assert_ptr_eq (other->conditions[0].sweeps[0].trace, bench->conditions[0].sweeps[0].trace);
  ck_assert_ptr_eq (other->chain, bench->chain);
  ck_assert_str_eq (other->conditions[1].mode, "CW");
  ck_assert_str_ne (other->sha256, bench->sha256);
  g_autoptr (SpBench) again = sp_bench_with (bench, NULL, NULL, NULL, -1);
  ck_assert_str_eq (again->sha256, bench->sha256);
  ck_assert_uint_eq (again->warnings->len, bench->warnings->len);
}
END_TEST

START_TEST (from_radios)
{
  GError *error = NULL;
  g_autoptr (SpBench) sheet = good (HEAD "[radio A]\nkeyed=k1.csv;k2.csv\n[radio B]\nkeyed=k2.csv?attenuation=20\n");
  g_autofree char *a = g_strdup_printf ("A=%s/k1.csv;%s/k2.csv", folder, folder),
                  *b = g_strdup_printf ("B=%s/k2.csv?attenuation=20", folder);
  const char *radios[] = { a, b, NULL };
  g_autoptr (SpBench) bench = sp_bench_from_radios (radios, sheet->chain, sheet->analyzer, sheet->mask, &error);
  sp_no_error (error);
  ck_assert (bench->n_radios == 2 && bench->n_conditions == 2 && bench->conditions[0].n_sweeps == 2);
  ck_assert_str_eq (bench->radios[1].name, "B");
  ck_assert_double_eq (bench->conditions[1].sweeps[0].trace->settings.attenuation_db, 20);
  ck_assert_str_eq (sp_trace_sha256 (bench->conditions[0].sweeps[1].trace), sp_trace_sha256 (sheet->conditions[0].sweeps[1].trace));
  static const char *const bad[] = { "A", "=k1.csv", "A=", "A/x=k1.csv", "A=;", "A=missing.csv", "A=k1.csv?rwb=3" };
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++) {
    g_autoptr (GError) why = NULL;
    const char *one[] = { bad[i], NULL };
    ck_assert_msg (!sp_bench_from_radios (one, sheet->chain, sheet->analyzer, sheet->mask, &why) && why, "%s", bad[i]);
  }
  const char *twice[] = { a, a, NULL };
  g_autoptr (GError) why = NULL;
  ck_assert (!sp_bench_from_radios (twice, sheet->chain, sheet->analyzer, sheet->mask, &why) && strstr (why->message, "twice"));
}
END_TEST

/* A hundred points from 9 MHz on 10 kHz apart, then as many 100 kHz apart; `again`: settings stand before these. */
static void
put_jumping (const char *name, const char *attenuation, const char *again)
{
  GString *text = g_string_new (NULL);
  g_string_append_printf (text, "Attenuation,%s dB\nRBW,10 kHz\nDetector,Sample\nFrequency (Hz),Level (dBm)\n", attenuation);
  for (guint i = 0; i < 200; i++) {
    g_string_append (text, i == 100 ? again : "");
    g_string_append_printf (text, "%u,%g\n", 9000000 + (i < 100 ? i * 10000 : 990000 + (i - 99) * 100000), -80 - i % 7 / 10.);
  }
  put (name, text->str);
  g_string_free (text, TRUE);
}

/* One file, as a user means it, and what it is: its stretches, all of that purpose, each with its options; read again they are the same. */
START_TEST (a_file_of_two_stretches)
{
  put_jumping ("jump.csv", "10", "");
  put_jumping ("step.csv", "20", "");
  put_jumping ("pre.csv", "10", "RBW,100 kHz\n");
  g_autoptr (SpBench) bench = good (
      HEAD "[radio A]\nkeyed=jump.csv\nstep=step.csv 10; s20.csv 20\n[radio B]\nkeyed=pre.csv; k1.csv\n"
           "[radio C]\nkeyed=jump.csv?to=9.99MHz&rbw=10kHz; jump.csv?from=9.99MHz&rbw=100kHz\n[radio D]\nkeyed=jump.csv\n");
  const SpCondition *a = &bench->conditions[0], *b = &bench->conditions[1], *c = &bench->conditions[2], *d = &bench->conditions[3];
  ck_assert_uint_eq (a->n_sweeps, 5);
  ck_assert (a->sweeps[1].purpose == SP_PURPOSE_KEYED && a->sweeps[1].trace->n == 101 && a->sweeps[0].trace->n == 100);
  ck_assert (a->sweeps[2].step_db == 10 && a->sweeps[3].step_db == 10 && a->sweeps[4].step_db == 20);
  ck_assert (a->sweeps[0].trace == d->sweeps[0].trace); /* one file, one value */
  ck_assert_uint_eq (b->n_sweeps, 3);
  ck_assert (b->sweeps[0].trace->settings.rbw_hz == 1e4 && b->sweeps[1].trace->settings.rbw_hz == 1e5);
  ck_assert_str_eq (b->sweeps[1].trace->options, "table=2");
  ck_assert (c->n_sweeps == 2 && c->sweeps[1].trace->settings.rbw_hz == 1e5 && c->sweeps[1].trace->n == 101);
  ck_assert (warned (bench, SP_REASON_SPACING_JUMPS, "step.csv"));
  ck_assert (!warned (bench, SP_REASON_SPACING_JUMPS, "pre.csv"));

  GError *error = NULL;
  ck_assert_ptr_null (read_sheet (HEAD "unkeyed=pre.csv\n[radio A]\nkeyed=k1.csv\n", &error)); /* one for all */
  ck_assert (strstr (error->message, "table=1"));
  g_clear_error (&error);
  /* The place of an error is the item's, however many sweeps those before it are. */
  ck_assert_ptr_null (read_sheet (HEAD "[radio A]\nkeyed=jump.csv\nstep=step.csv 10; s20.csv 15\n", &error));
  ck_assert_msg (strstr (error->message, ":9:19:") && strstr (error->message, "s20.csv"), "%s", error->message);
  g_clear_error (&error);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("sheet");
  TCase *t = tcase_create ("all");
  tcase_add_unchecked_fixture (t, make_folder, remove_folder);
  tcase_add_test (t, everything_in_a_sheet);
  tcase_add_test (t, what_is_left_out);
  tcase_add_test (t, escaped_names_and_paths);
  tcase_add_test (t, steps_that_cannot_be_checked);
  tcase_add_test (t, check_source);
  tcase_add_test (t, warnings_are_collected);
  tcase_add_test (t, a_key_in_the_wrong_group_is_told);
  tcase_add_test (t, tones_that_lack_and_tones_too_many);
  tcase_add_test (t, own_stage_date);
  tcase_add_test (t, hash_of_what_judging_depends_on);
  tcase_add_test (t, with_other_resources);
  tcase_add_test (t, from_radios);
  tcase_add_test (t, a_file_of_two_stretches);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
