/* Emissions with a width, swept through filters from a thirtieth to thirty times as wide, by every detector and average, against limits in
 * several reference bandwidths: what exceeds by 3 dB never complies, what lies 3 dB below never exceeds, and a level holds the truth within
 * U or is said to be a bound. Failures are told with their seed and the bench in words (SP_TELL=1: all of them; SP_SEED=n: that bench
 * alone; SP_BENCHES=n: so many of each kind).
 *
 * The truth is the power in the limit's reference bandwidth, or all of it where the limit names none. Not asked, because no sweep could
 * tell: what is all within the filter and swells and fades there (noise, AM, keying; not FM) reads as a line does. One look of it is a line
 * of any level (WANTS_LOOKS), its greatest a higher one, its least, or the mean of its decibels, a lower one.
 */
#include "tests/simulate/scene.h"
#include "tests/suite.h"

#define F0 146e6
#define LIMIT_DBM (-20.0)
#define CLEAR_DB 3.0
#define WIDEST_RBW 5e6
#define LINE_SLACK_DB 2.1 /* three standard errors of 40 looks at what fades and passes for a line: nothing tells them from a line's */
#define WANTS_LOOKS 0.1   /* RBW over the width of what fades, up to which a sweep without average has looks enough in the band itself */

typedef struct {
  const char *name;
  SimEmission shape; /* of a harmonic: the carrier's modulation */
  guint order;       /* 0: a spur of its own */
} Kind;

static const Kind kinds[] = {
  { "FM by a tone, 2nd harmonic", { SIM_FM_TONE, F0, 0, 1e3, 5e3, 0, 0 }, 2 },
  { "FM by a tone, 3rd harmonic", { SIM_FM_TONE, F0, 0, 1e3, 5e3, 0, 0 }, 3 },
  { "FM by a tone, 10th harmonic", { SIM_FM_TONE, F0, 0, 1e3, 5e3, 0, 0 }, 10 },
  { "FM by speech, 2nd harmonic", { SIM_FM_SPEECH, F0, 0, 0, 2e3, 0, 0 }, 2 },
  { "FM by speech, 3rd harmonic", { SIM_FM_SPEECH, F0, 0, 0, 2e3, 0, 0 }, 3 },
  { "FM by speech, 10th harmonic", { SIM_FM_SPEECH, F0, 0, 0, 2e3, 0, 0 }, 10 },
  { "AM by a tone, 3rd harmonic", { SIM_AM_TONE, F0, 0, 1e3, 0, 0.8, 0 }, 3 },
  { "keying, 2nd harmonic", { SIM_KEYING, F0, 0, 100, 0, 0, 0 }, 2 },
  { "flat noise of 10 kHz", { SIM_NOISE_FLAT, 0, 0, 0, 0, 0, 1e4 }, 0 },
  { "flat noise of 100 kHz", { SIM_NOISE_FLAT, 0, 0, 0, 0, 0, 1e5 }, 0 },
  { "flat noise of 1 MHz", { SIM_NOISE_FLAT, 0, 0, 0, 0, 0, 1e6 }, 0 },
  { "flat noise of 10 MHz", { SIM_NOISE_FLAT, 0, 0, 0, 0, 0, 1e7 }, 0 },
  { "Gaussian noise of 300 kHz", { SIM_NOISE_GAUSS, 0, 0, 0, 0, 0, 3e5 }, 0 },
};

typedef struct {
  SpDetector detector;
  SpAverage average;
  guint averages;
  gboolean max_hold;
} Way;

static const Way ways[] = {
  { SP_DETECTOR_RMS, SP_AVERAGE_POWER, 16, FALSE },      { SP_DETECTOR_SAMPLE, SP_AVERAGE_POWER, 16, FALSE },
  { SP_DETECTOR_AVERAGE, SP_AVERAGE_POWER, 16, FALSE },  { SP_DETECTOR_RMS, SP_AVERAGE_NONE, 1, FALSE },
  { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, FALSE },     { SP_DETECTOR_AVERAGE, SP_AVERAGE_NONE, 1, FALSE },
  { SP_DETECTOR_SAMPLE, SP_AVERAGE_LOG, 16, FALSE },     { SP_DETECTOR_AVERAGE, SP_AVERAGE_LOG, 16, FALSE },
  { SP_DETECTOR_SAMPLE, SP_AVERAGE_VOLTAGE, 16, FALSE }, { SP_DETECTOR_AVERAGE, SP_AVERAGE_VOLTAGE, 16, FALSE },
  { SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, FALSE },       { SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 16, TRUE },
  { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 16, TRUE },     { SP_DETECTOR_PEAK, SP_AVERAGE_POWER, 16, FALSE },
  { SP_DETECTOR_NEGATIVE, SP_AVERAGE_NONE, 1, FALSE },   { SP_DETECTOR_NORMAL, SP_AVERAGE_NONE, 1, FALSE },
};
static const double ratios[] = { 1. / 30, 1. / 10, 1. / 3, 1, 3, 10, 30 };
static const double references[] = { NAN, 100e3, 10e3, 1e3 };

/* It swells and fades in a filter that lets all of it through. */
static gboolean
fades (const Kind *kind)
{
  return kind->shape.kind != SIM_FM_TONE && kind->shape.kind != SIM_FM_SPEECH;
}

static gboolean
reads_high (const Way *way)
{
  return way->detector == SP_DETECTOR_PEAK || way->detector == SP_DETECTOR_NORMAL || way->max_hold;
}

static gboolean
reads_low (const Way *way)
{
  return way->detector == SP_DETECTOR_NEGATIVE || way->average == SP_AVERAGE_LOG || way->average == SP_AVERAGE_VOLTAGE
         || (way->detector == SP_DETECTOR_AVERAGE && way->average == SP_AVERAGE_NONE);
}

typedef struct {
  const Kind *kind;
  const Way *way;
  double ratio, rbw_hz, reference_hz, over_db; /* of the truth over the limit */
  gboolean step, search;
} Case;

/* All within the filter, or on and off in it, so that the way of looking moves a line's level and nothing shows it. */
static gboolean
passes_for_a_line (const Case *c)
{
  return fades (c->kind) && (c->ratio > 0.5 || (c->kind->shape.kind == SIM_KEYING && c->rbw_hz > c->kind->shape.tone_hz));
}

static gboolean
draw_case (Case *c, const Kind *kind, gboolean over, SimChance *chance)
{
  SimEmission e = kind->order ? sim_emission_harmonic (&kind->shape, kind->order, 0) : kind->shape;
  c->kind = kind;
  c->way = &ways[(guint) (sim_uniform (chance) * G_N_ELEMENTS (ways))];
  c->ratio = ratios[(guint) (sim_uniform (chance) * G_N_ELEMENTS (ratios))];
  c->rbw_hz = fmax (10, c->ratio * sim_emission_width_hz (&e));
  c->reference_hz = references[(guint) (sim_uniform (chance) * G_N_ELEMENTS (references))];
  c->over_db = (over ? 1 : -1) * sim_between (chance, CLEAR_DB, 4 * CLEAR_DB);
  c->step = !kind->order || sim_uniform (chance) < 0.5;
  c->search = sim_uniform (chance) < 0.5;
  return c->rbw_hz <= WIDEST_RBW && !(fades (kind) && c->way->averages == 1 && (c->ratio > WANTS_LOOKS || passes_for_a_line (c)));
}

/* Averages enough that a noise-like line's mean is known to a decibel; where nothing is averaged, so slow that the modulation passes in
 * each filter. */
static SimSettings
settings_of (const Case *c, double middle_hz, double width_hz)
{
  double half = fmax (60 * c->rbw_hz, 6 * width_hz);
  SimSettings s = { middle_hz - half, middle_hz + half, 1 + 2 * (guint) ceil (2 * half / c->rbw_hz),
                    c->rbw_hz,        c->way->detector, c->way->average,
                    c->way->averages, c->way->max_hold, 0.5 };
  double tone = c->kind->shape.tone_hz > 0 ? c->kind->shape.tone_hz : 500;
  if (fades (c->kind) && c->way->averages > 1 && c->ratio > WANTS_LOOKS)
    s.averages = 40;
  if (c->kind->order && c->way->averages == 1 && c->ratio < 2)
    s.rate = fmin (0.5, tone / (2 * c->rbw_hz));
  return s;
}

static void
make_scene (SimScene *s, const Case *c, guint64 seed)
{
  sim_scene_init (s, seed);
  s->noise_dbm_hz = -160;
  s->mode = c->kind->order ? "FM" : "CW";
  SimEmission carrier = c->kind->order ? c->kind->shape : (SimEmission){ .kind = SIM_CW, .frequency_hz = F0 };
  carrier.level_dbm = 37;
  SimEmission e = c->kind->order ? sim_emission_harmonic (&carrier, c->kind->order, 0) : c->kind->shape;
  double width = sim_emission_width_hz (&e), span = fmax (60 * c->rbw_hz, 6 * width);
  if (!c->kind->order)
    e.frequency_hz = F0 + 0.8 * span; /* a step bears witness where the carrier is in sight */
  SimSettings near = { F0 - 2e6, F0 + 2e6, 401, 30e3, SP_DETECTOR_RMS, SP_AVERAGE_POWER, 8, FALSE, 0.5 },
              far = settings_of (c, e.frequency_hz, width);
  e.level_dbm = LIMIT_DBM + c->over_db - sim_emission_in_dbm (&e, c->reference_hz, c->over_db < 0);
  GString *mask = g_string_new ("[mask]\nname=m\nexclude=1\n");
  g_string_append_printf (mask, "harmonics=%u\n", MAX (c->kind->order, 1));
  if (c->search)
    g_string_append_printf (mask, "search=%.12g %.12g\n", e.frequency_hz - 0.4 * span, far.stop_hz);
  g_string_append_printf (mask, "[rule 1]\nemission=%.12g %.12g\nceiling_dbm=%.9g\n", e.frequency_hz - 0.4 * span, far.stop_hz, LIMIT_DBM);
  if (!isnan (c->reference_hz))
    g_string_append_printf (mask, "reference_bandwidth=%.9g\n", c->reference_hz);
  g_strlcpy (s->mask, mask->str, sizeof s->mask);
  g_string_free (mask, TRUE);
  sim_scene_add (s, &carrier, 1, FALSE);
  sim_scene_add (s, &e, c->kind->order, FALSE);
  sim_scene_sweep (s, SP_PURPOSE_KEYED, &near, 10, 1);
  sim_scene_sweep (s, SP_PURPOSE_KEYED, &far, 10, 2);
  if (c->step) {
    sim_scene_sweep (s, SP_PURPOSE_STEP, &near, 20, 3);
    sim_scene_sweep (s, SP_PURPOSE_STEP, &far, 20, 4);
  }
}

typedef struct {
  guint n, wrong, of[SP_VERDICT_EXCEEDS + 1], levels, outside, told;
} Tally;

/* Does what is said of the level hold? It may be a bound: as read so much too high, or too low. */
static gboolean
level_holds (const SpEmission *e, double slack_db, double least_dbm, double most_dbm)
{
  double u = e->budget.expanded_level_db + slack_db;
  return e->level_dbm - e->excess_db - u <= most_dbm && e->level_dbm + fmax (0, e->sampling_loss_db) + u >= least_dbm;
}

static void
tell (const Case *c, SimScene *s, guint64 seed, const SpFindings *findings, const SpEmission *e, const char *what)
{
  g_autofree char *words = sim_scene_words (s);
  printf ("  failed\t%s: %s, seed %" G_GUINT64_FORMAT ", RBW %.3g widths, reference %.3g kHz: %s", what, c->kind->name, seed, c->ratio,
          c->reference_hz / 1e3, sp_verdict_name (findings->conditions[0].verdict));
  if (e)
    printf ("; truth %.2f to %.2f; level %.2f (-%.2f +%.2f) U %.2f, band of %.4g kHz%s, limit %.2f, %s, %s",
            sim_scene_truth_dbm (s, 1, FALSE), sim_scene_truth_dbm (s, 1, TRUE), e->level_dbm, e->excess_db, e->sampling_loss_db,
            e->budget.expanded_level_db, (e->to_hz - e->from_hz) / 1e3, e->summed ? " summed" : "", e->limit_dbm,
            sp_verdict_name (e->verdict), e->reason ? sp_reason_name (e->reason->code) : "");
  printf ("\n%s\n", words);
}

static void
run_case (const Case *c, guint64 seed, Tally *t)
{
  SimScene s;
  make_scene (&s, c, seed);
  g_autoptr (SpFindings) findings = sim_scene_judge (&s);
  SpVerdict verdict = findings->conditions[0].verdict, wrong = c->over_db > 0 ? SP_VERDICT_COMPLIES : SP_VERDICT_EXCEEDS;
  gboolean silent = c->over_db > 0 && verdict == SP_VERDICT_NO_LIMIT; /* as if nothing were there */
  const SpEmission *e = sim_scene_find (&s, findings, 1);
  gboolean line = passes_for_a_line (c), high = line && reads_high (c->way), low = line && reads_low (c->way);
  gboolean failed = (verdict == wrong || silent) && !(wrong == SP_VERDICT_EXCEEDS ? high : low);
  t->n++;
  t->of[verdict]++;
  t->wrong += failed;
  gboolean off = FALSE;
  if (e && e->detected && !high && !low) {
    t->levels++;
    off = !level_holds (e, line ? LINE_SLACK_DB : 0, sim_scene_truth_dbm (&s, 1, FALSE), sim_scene_truth_dbm (&s, 1, TRUE));
    t->outside += off;
  }
  if ((failed || off) && t->told++ < (g_getenv ("SP_TELL") ? 1000 : 2))
    tell (c, &s, seed, findings, e, failed ? wrong == SP_VERDICT_COMPLIES ? "false complies" : "false exceeds" : "level outside U");
  sim_scene_clear (&s);
}

static void
run (const Kind *kind, gboolean over, guint64 seed, Tally *t)
{
  const char *only = g_getenv ("SP_SEED"), *many = g_getenv ("SP_BENCHES");
  guint n = many ? (guint) atoi (many) : sim_many (6, 1200);
  guint64 alone = only ? g_ascii_strtoull (only, NULL, 10) : 0;
  for (guint i = only ? (guint) (alone % 100000) : 0; only ? t->n == 0 && alone / 100000 == seed : t->n < n; i++) {
    guint64 its_own = seed * 100000 + i;
    SimChance chance = sim_chance (its_own);
    Case c;
    if (draw_case (&c, kind, over, &chance))
      run_case (&c, its_own, t);
  }
}

static void
check (const Kind *kind, const char *what, const Tally *t)
{
  g_autofree char *name = g_strdup_printf ("%s: %s", kind->name, what),
                  *level = g_strdup_printf ("%s: level not within U, nor a bound that holds", kind->name);
  if (t->n == 0) /* another was asked for */
    return;
  printf ("simulated\tno limit %u complies %u not proven %u inconclusive %u exceeds %u\t%s\n", t->of[0], t->of[1], t->of[2], t->of[3],
          t->of[4], name);
  printf ("simulated\t%u of %u\t%.3f %% +- %.3f\t%s\n", t->outside, t->levels, 100. * t->outside / t->levels,
          100 * sqrt ((double) t->outside * (t->levels - t->outside) / t->levels) / t->levels, level);
  sim_at_most (name, t->wrong, t->n, 1e-9);
}

/* 95.45 % within U, were all of U's terms errors that the scene draws. */
static void
check_levels (const Tally *t)
{
  if (t->levels)
    sim_at_most ("levels", t->outside, t->levels, 0.0455);
}

START_TEST (what_exceeds_does_not_comply)
{
  Tally t = { 0 };
  run (&kinds[_i], TRUE, 100 + (guint64) _i, &t);
  check (&kinds[_i], "complies, truth 3 dB and more over", &t);
  check_levels (&t);
  if (t.n > 1)
    sim_at_least ("exceeds and is called so: not by saying nothing", t.of[SP_VERDICT_EXCEEDS], t.n, 0.2);
}
END_TEST

START_TEST (what_complies_does_not_exceed)
{
  Tally t = { 0 };
  run (&kinds[_i], FALSE, 200 + (guint64) _i, &t);
  check (&kinds[_i], "exceeds, truth 3 dB and more below", &t);
  check_levels (&t);
  if (t.n > 1)
    sim_at_least ("complies and is called so", t.of[SP_VERDICT_COMPLIES], t.n, 0.2);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("simulate/widths");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 7200);
  tcase_add_loop_test (c, what_exceeds_does_not_comply, 0, G_N_ELEMENTS (kinds));
  tcase_add_loop_test (c, what_complies_does_not_exceed, 0, G_N_ELEMENTS (kinds));
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
