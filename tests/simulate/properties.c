/* What holds of every bench, whatever stands in it: more evidence does not help by being there, less noise does not hurt, a stronger
 * emission does not help, and how the same readings are laid out changes nothing. Over random benches (random.h); each failure is told with
 * its seed and the bench in words (SP_TELL=1: all of them; SP_SEED=n: that bench alone, SP_BENCHES=n: so many).
 *
 * Adding a sweep may improve a verdict only by seeing deeper: each emission whose verdict was worse than the new one was not seen, not
 * swept, not resolved or not tested there (unknown_before), each gap is under the added sweep; or the place's floor is lower now by
 * DEEPER_DB than any sweep's was, and the verdict was no *exceeds*. A verdict that *exceeds* never improves.
 */
#include "tests/simulate/alike.h"
#include "tests/simulate/random.h"
#include "tests/suite.h"

#define DEEPER_DB 1.0
#define CLEAR_DB 3.0 /* so far from the limit a verdict is false */
#define EDGE_DB 0.2  /* a margin so near to its U may fall either way by repeatability */
#define SAME_DB 0.05 /* levels of the same readings, laid out otherwise */
#define SAME_FLOOR_DB 0.5
#define CUT_POINTS 150 /* near a cut the noise's window is another */

typedef gboolean (*Holds) (SimScene *scene, const SpFindings *before, SimChance *chance, GString *why);

static gboolean
within (const SimTake *take, double f)
{
  double spacing = (take->settings.stop_hz - take->settings.start_hz) / (take->settings.points - 1);
  return f >= take->settings.start_hz - spacing && f <= take->settings.stop_hz + spacing;
}

static gboolean
unknown_before (const SpEmission *e, SpPurpose added)
{
  switch (e->reason ? e->reason->code : SP_N_REASONS) {
  case SP_REASON_FLOOR_ABOVE_LIMIT:
  case SP_REASON_NOT_SWEPT:
  case SP_REASON_UNDERSAMPLED:
  case SP_REASON_NOT_RESOLVED:
  case SP_REASON_BOUND_STRADDLES:
  case SP_REASON_UNTESTED:
  case SP_REASON_ANALYZER_POSSIBLE: return TRUE;
  case SP_REASON_RADIO_PART_STRADDLES: /* what a step is for */ return added == SP_PURPOSE_STEP;
  case SP_REASON_NO_POWER:
  case SP_REASON_POWER_LOWER_BOUND: return added == SP_PURPOSE_KEYED;
  default: return FALSE;
  }
}

static double
widest_rbw (const SimScene *s)
{
  double rbw = 0;
  for (guint k = 0; k < s->n_takes; k++)
    rbw = fmax (rbw, s->take[k].settings.rbw_hz);
  return rbw;
}

/* -- adding a sweep -- */

/* Why this emission's verdict may have improved; FALSE: nothing excuses it. */
static gboolean
may_improve (const SimScene *after, const SimTake *added, const SpEmission *was, const SpConditionFindings *now)
{
  if (was->verdict == SP_VERDICT_EXCEEDS || !within (added, was->frequency_hz))
    return FALSE;
  if (unknown_before (was, added->purpose))
    return TRUE;
  const SpEmission *is = sim_same_emission (now, was, 2 * widest_rbw (after));
  if (is && is->floor_dbm <= was->floor_dbm - DEEPER_DB)
    return TRUE;
  double u = was->budget.expanded_margin_db;
  return fabs (fabs (was->margin_db) - u) <= EDGE_DB;
}

static gboolean
adding_holds (SimScene *s, const SpFindings *before, SimChance *r, GString *why, SimAdd kind)
{
  SimScene more = sim_scene_copy (s);
  SimTake *added = sim_random_add (&more, kind, r);
  const SpConditionFindings *was = sim_scene_condition (s, before);
  gboolean good = TRUE;
  if (added) {
    g_autoptr (SpFindings) findings = sim_scene_judge (&more);
    const SpConditionFindings *now = sim_scene_condition (&more, findings);
    for (guint i = 0; sim_rank (now) < sim_rank (was) && i < was->n_emissions; i++) {
      const SpEmission *e = &was->emissions[i];
      if (e->verdict <= sim_rank (now) || may_improve (&more, added, e, now))
        continue;
      good = FALSE;
      sim_tell_emission (why, "before", e);
      sim_tell_emission (why, "after", sim_same_emission (now, e, 2 * widest_rbw (&more)));
    }
    for (guint i = 0; sim_rank (now) < sim_rank (was) && sim_rank (now) < SP_VERDICT_NOT_PROVEN && i < was->n_gaps; i++)
      if (!within (added, was->gaps[i].from_hz) || !within (added, was->gaps[i].to_hz)) {
        good = FALSE;
        sim_tell_gaps (why, "before", was);
      }
    if (!good) {
      g_autofree char *words = sim_scene_words (&more);
      g_string_append_printf (why, "; %s becomes %s with the last sweep of\n%s", sp_verdict_name (was->verdict),
                              sp_verdict_name (now->verdict), words);
    }
  }
  sim_scene_clear (&more);
  return good;
}

static gboolean
adding_a_sweep (SimScene *s, const SpFindings *before, SimChance *r, GString *why)
{
  SimAdd kind = (SimAdd) (sim_uniform (r) * SIM_ADD_KINDS);
  g_string_append (why, sim_add_name (kind));
  return adding_holds (s, before, r, why, kind);
}

/* -- less noise, more emission -- */

/* A source whose truth bears out what is said of this emission: it stands above limit - U there, or so near that it may. */
static gboolean
borne_out (SimScene *s, const SpEmission *e)
{
  for (guint k = 1; k < s->n_sources; k++) {
    const SimEmission *it = &s->source[k].emission;
    gboolean there = (e->order > 0 && s->source[k].order == e->order)
                     || fabs (it->frequency_hz - e->frequency_hz) <= sim_emission_width_hz (it) + widest_rbw (s);
    if (there && (s->source[k].always || sim_scene_excess_db (s, k, TRUE) > -(e->budget.expanded_margin_db + 1)))
      return TRUE;
  }
  return FALSE;
}

static gboolean
less_noise (SimScene *s, const SpFindings *before, SimChance *r, GString *why)
{
  const SpConditionFindings *was = sim_scene_condition (s, before);
  SimScene deeper = sim_scene_copy (s);
  sim_scene_forget (&deeper);
  deeper.noise_dbm_hz -= sim_between (r, 3, 15);
  g_autoptr (SpFindings) findings = sim_scene_judge (&deeper);
  const SpConditionFindings *now = sim_scene_condition (&deeper, findings);
  gboolean good = sim_rank (now) <= sim_rank (was), explained = FALSE;
  for (guint i = 0; !good && i < now->n_emissions; i++) {
    const SpEmission *e = &now->emissions[i];
    if (e->verdict <= sim_rank (was))
      continue;
    explained |= borne_out (&deeper, e);
    sim_tell_emission (why, "before", sim_same_emission (was, e, 2 * widest_rbw (s)));
    sim_tell_emission (why, "after", e);
  }
  if (!good && !explained) {
    sim_tell_gaps (why, "before", was);
    sim_tell_gaps (why, "after", now);
    g_string_append_printf (why, "; %s becomes %s at %.1f dBm/Hz", sp_verdict_name (was->verdict), sp_verdict_name (now->verdict),
                            deeper.noise_dbm_hz);
  }
  sim_scene_clear (&deeper);
  return good || explained;
}

static gboolean
more_emission (SimScene *s, const SpFindings *before, SimChance *r, GString *why)
{
  if (s->n_sources < 2)
    return TRUE;
  const SpConditionFindings *was = sim_scene_condition (s, before);
  SimScene louder = sim_scene_copy (s);
  guint source = 1 + (guint) (sim_uniform (r) * (s->n_sources - 1));
  SimEmission *it = &louder.source[source].emission;
  double by = sim_between (r, 1, 25);
  sim_scene_forget (&louder);
  it->level_dbm += by;
  g_autoptr (SpFindings) findings = sim_scene_judge (&louder);
  const SpConditionFindings *now = sim_scene_condition (&louder, findings);
  gboolean good = TRUE;
  for (guint i = 0; sim_rank (now) < sim_rank (was) && i < was->n_emissions; i++) {
    const SpEmission *e = &was->emissions[i], *is = sim_same_emission (now, e, 2 * widest_rbw (s));
    gboolean there = (e->order > 0 && louder.source[source].order == e->order)
                     || fabs (it->frequency_hz - e->frequency_hz) <= sim_emission_width_hz (it) + widest_rbw (s);
    gboolean seen_now = there && !e->detected && is && is->detected;
    if (e->verdict <= sim_rank (now) || seen_now)
      continue;
    good = FALSE;
    sim_tell_emission (why, "before", e);
    sim_tell_emission (why, "after", is);
  }
  if (sim_rank (now) < sim_rank (was) && was->n_gaps > now->n_gaps) {
    good = FALSE;
    sim_tell_gaps (why, "before", was);
    sim_tell_gaps (why, "after", now);
  }
  if (!good)
    g_string_append_printf (why, "; %s becomes %s with source %u (%.6g MHz) %.1f dB up", sp_verdict_name (was->verdict),
                            sp_verdict_name (now->verdict), source, it->frequency_hz / 1e6, by);
  sim_scene_clear (&louder);
  return good;
}

/* -- laid out otherwise -- */

/* A keyed sweep in two files. The carrier's P may hang on one of them alone: same readings, same P. */
static gboolean
cut_in_two (SimScene *s, const SpFindings *before, SimChance *r, GString *why)
{
  guint keyed = 0;
  for (guint k = 0; k < s->n_takes; k++)
    keyed += s->take[k].purpose == SP_PURPOSE_KEYED;
  if (s->n_takes == SCENE_TAKES)
    return TRUE;
  SimScene cut = sim_scene_copy (s);
  SimTake *first = &cut.take[(guint) (sim_uniform (r) * keyed)];
  g_autoptr (SpTrace) whole = g_steal_pointer (&first->trace);
  guint64 at = (guint64) (sim_between (r, 0.2, 0.8) * (double) whole->n);
  double cut_hz = whole->frequency_hz[at], spacing = whole->frequency_hz[1] - whole->frequency_hz[0],
         reach = CUT_POINTS * spacing + 5 * first->settings.rbw_hz;
  SimTake second = *first;
  second.trace = sp_trace_new ("upper", whole->n - at, whole->frequency_hz + at, whole->reading_dbm + at, &whole->settings, NULL);
  first->trace = sp_trace_new ("lower", at, whole->frequency_hz, whole->reading_dbm, &whole->settings, NULL);
  cut.take[cut.n_takes++] = second;
  g_autoptr (SpFindings) findings = sim_scene_judge (&cut);
  g_string_append_printf (why, "cut at %.6g MHz", cut_hz / 1e6);
  double carrier_hz = s->source[0].emission.frequency_hz;
  gboolean good = fabs (carrier_hz - cut_hz) < reach /* it is the carrier that was cut */
                  || sim_alike (sim_scene_condition (s, before), sim_scene_condition (&cut, findings),
                                &(SimLeave){ SAME_DB, SAME_FLOOR_DB, cut_hz, reach }, why);
  sim_scene_clear (&cut);
  return good;
}

static gboolean
in_another_order (SimScene *s, const SpFindings *before, SimChance *r, GString *why)
{
  SimScene turned = sim_scene_copy (s);
  (void) r;
  for (guint i = 0, j = turned.n_takes - 1; i < j; i++, j--) {
    SimTake take = turned.take[i];
    turned.take[i] = turned.take[j];
    turned.take[j] = take;
  }
  g_autoptr (SpFindings) findings = sim_scene_judge (&turned);
  gboolean good = sim_alike (sim_scene_condition (s, before), sim_scene_condition (&turned, findings), &(SimLeave){ SAME_DB, 0, 0, 0 },
                             why);
  sim_scene_clear (&turned);
  return good;
}

/* The same readings as files: rows from the top down, other units. */
static gboolean
in_other_units (SimScene *s, const SpFindings *before, SimChance *r, GString *why)
{
  static const char *const units[] = { NULL, "dBuV", "W" };
  static const double hz[] = { 1, 1e3, 1e6 };
  SimScene files = sim_scene_copy (s);
  sim_scene_forget (&files);
  for (guint k = 0; k < files.n_takes; k++) {
    SimTake *take = &files.take[k];
    take->as_text = TRUE;
    take->backwards = sim_uniform (r) < 0.5;
    take->unit = units[(guint) (sim_uniform (r) * 3)];
    take->unit_hz = hz[(guint) (sim_uniform (r) * 3)];
  }
  g_autoptr (SpFindings) findings = sim_scene_judge (&files);
  gboolean good = sim_alike (sim_scene_condition (s, before), sim_scene_condition (&files, findings), &(SimLeave){ 1e-6, 1e-6, 0, 0 }, why);
  sim_scene_clear (&files);
  return good;
}

static gboolean
beside_others (SimScene *s, const SpFindings *before, SimChance *r, GString *why)
{
  SimScene other = sim_random_scene (s->seed + 5000000), both = sim_scene_copy (s);
  (void) r;
  for (guint k = 0; k < other.n_takes; k++)
    if (other.take[k].purpose == SP_PURPOSE_STEP) { /* a step elsewhere on the sheet may settle whose an emission is */
      for (guint j = k; j < other.n_takes; j++)
        g_clear_pointer (&other.take[j].trace, sp_trace_unref);
      other.n_takes = k;
    }
  both.beside = &other;
  g_autoptr (SpFindings) findings = sim_scene_judge (&both);
  gboolean good = sim_alike (sim_scene_condition (s, before), sim_scene_condition (&both, findings), &(SimLeave){ 0, 0, 0, 0 }, why);
  sim_scene_clear (&both);
  sim_scene_clear (&other);
  return good;
}

/* The same world, twice as many points: other noise, so verdicts may differ near the limit, but not from one end to the other; levels agree
 * within U. */
static gboolean
twice_the_points (SimScene *s, const SpFindings *before, SimChance *r, GString *why)
{
  const SpConditionFindings *was = sim_scene_condition (s, before);
  SimScene dense = sim_scene_copy (s);
  (void) r;
  sim_scene_forget (&dense);
  for (guint k = 0; k < dense.n_takes; k++)
    dense.take[k].settings.points = 2 * dense.take[k].settings.points - 1;
  g_autoptr (SpFindings) findings = sim_scene_judge (&dense);
  const SpConditionFindings *now = sim_scene_condition (&dense, findings);
  SpVerdict low = MIN (was->verdict, now->verdict), high = MAX (was->verdict, now->verdict);
  gboolean good = !(low == SP_VERDICT_COMPLIES && high == SP_VERDICT_EXCEEDS);
  for (guint i = 0; i < was->n_emissions; i++) {
    const SpEmission *e = &was->emissions[i], *is = sim_same_emission (now, e, widest_rbw (s));
    double u = e->budget.expanded_level_db + (is ? is->budget.expanded_level_db : 0);
    if (!e->detected || e->unresolved || sim_at_threshold (e, 1) || (is && is->detected && fabs (e->level_dbm - is->level_dbm) <= u))
      continue;
    if (is && is->unresolved)
      continue;
    good = FALSE;
    sim_tell_emission (why, "before", e);
    sim_tell_emission (why, "after", is);
  }
  if (!good)
    g_string_append_printf (why, "; %s and with twice the points %s", sp_verdict_name (was->verdict), sp_verdict_name (now->verdict));
  sim_scene_clear (&dense);
  return good;
}

/* -- the truth itself -- */

static gboolean
no_false_complies (SimScene *s, const SpFindings *before, SimChance *r, GString *why)
{
  const SpConditionFindings *was = sim_scene_condition (s, before);
  guint source;
  double over = sim_scene_worst_excess_db (s, FALSE, &source);
  (void) r;
  if (over < CLEAR_DB || was->verdict > SP_VERDICT_COMPLIES)
    return TRUE;
  g_string_append_printf (why, "%s though %.6g MHz stands %.1f dB over", sp_verdict_name (was->verdict),
                          s->source[source].emission.frequency_hz / 1e6, over);
  sim_tell_emission (why, "found", sim_scene_find (s, before, source));
  return FALSE;
}

static gboolean
no_false_exceeds (SimScene *s, const SpFindings *before, SimChance *r, GString *why)
{
  const SpConditionFindings *was = sim_scene_condition (s, before);
  guint source;
  double over = sim_scene_worst_excess_db (s, TRUE, &source);
  (void) r;
  if (over > -CLEAR_DB || was->verdict != SP_VERDICT_EXCEEDS)
    return TRUE;
  g_string_append_printf (why, "exceeds though the worst, %.6g MHz, lies %.1f dB below", s->source[source].emission.frequency_hz / 1e6,
                          -over);
  sim_tell_emission (why, "found", &was->emissions[was->worst_emission]);
  return FALSE;
}

static const struct {
  const char *key, *name;
  Holds holds;
  guint quick, full;
} properties[] = {
  { "adding", "a verdict improves by a sweep that is only added", adding_a_sweep, 18, 3000 },
  { "noise", "a verdict worsens by less noise, and the truth does not bear it out", less_noise, 8, 1500 },
  { "louder", "a verdict improves by a stronger emission", more_emission, 8, 1500 },
  { "cut", "a sweep cut in two is another", cut_in_two, 8, 1000 },
  { "order", "the order of sweeps changes something", in_another_order, 8, 1000 },
  { "units", "rows from the top down, or units, change something", in_other_units, 4, 500 },
  { "beside", "other radios on the sheet change something", beside_others, 4, 500 },
  { "dense", "twice the points are another world", twice_the_points, 6, 1000 },
  { "complies", "complies, truth 3 dB and more over", no_false_complies, 28, 6000 },
  { "exceeds", "exceeds, truth 3 dB and more below", no_false_exceeds, 28, 6000 },
};

/* The bench, what came of it, and what should. */
static void
tell (gboolean holds, const char *what, guint64 seed, SimScene *s, const SpFindings *findings, const GString *why)
{
  g_autofree char *words = sim_scene_words (s);
  const SpConditionFindings *c = sim_scene_condition (s, findings);
  g_autoptr (GString) found = g_string_new (NULL);
  sim_tell_gaps (found, "found", c);
  if (c->worst_emission >= 0)
    sim_tell_emission (found, "worst", &c->emissions[c->worst_emission]);
  printf ("  %s\t%s: seed %" G_GUINT64_FORMAT ", %s: %s\n    as it is%s\n%s\n", holds ? "holds" : "failed", what, seed,
          sp_verdict_name (c->verdict), why->str, found->str, words);
}

START_TEST (properties_hold)
{
  const char *only = g_getenv ("SP_SEED"), *many = g_getenv ("SP_BENCHES");
  guint n = only   ? 1
            : many ? (guint) atoi (many)
                   : sim_many (properties[_i].quick, properties[_i].full),
        failed = 0, of[SP_VERDICT_EXCEEDS + 1] = { 0 };
  for (guint i = 0; i < n; i++) {
    guint64 seed = only ? g_ascii_strtoull (only, NULL, 10) : 10000 * (guint64) (_i + 1) + i;
    SimScene s = sim_random_scene (seed);
    SimChance chance = sim_chance (seed + 77);
    g_autoptr (SpFindings) findings = sim_scene_judge (&s);
    g_autoptr (GString) why = g_string_new (NULL);
    gboolean holds = properties[_i].holds (&s, findings, &chance, why);
    failed += !holds;
    of[sim_scene_condition (&s, findings)->verdict]++;
    if (only || (!holds && (failed <= 2 || g_getenv ("SP_TELL"))))
      tell (holds, properties[_i].name, seed, &s, findings, why);
    sim_scene_clear (&s);
  }
  printf ("simulated\tno limit %u complies %u not proven %u inconclusive %u exceeds %u\t%s\n", of[0], of[1], of[2], of[3], of[4],
          properties[_i].name);
  sim_at_most (properties[_i].name, failed, n, 1e-9);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("simulate/properties");
  for (int i = 0; i < (int) G_N_ELEMENTS (properties); i++) { /* one alone: CK_RUN_CASE=adding */
    TCase *c = tcase_create (properties[i].key);
    tcase_set_timeout (c, 7200);
    tcase_add_loop_test (c, properties_hold, i, i + 1);
    suite_add_tcase (s, c);
  }
  return s;
}

SP_MAIN (suite)
