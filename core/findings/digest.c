/* digest.c - chooses what of the findings stands on a page */
#include "core/findings/digest.h"

#include <math.h>
#include <string.h>

/* ---- rows ---- */

static gboolean
is_unseen_harmonic (const SpEmission *e)
{
  return e->order > 1 && !e->detected;
}

/* Blind comes before any number, no number last. */
static double
room_rank (const SpEmission *e)
{
  double room_db = sp_emission_room_db (e);
  return e->decision == SP_DECISION_BLIND ? -INFINITY : isnan (room_db) ? INFINITY : room_db;
}

static gboolean
is_worse (const SpEmission *a, const SpEmission *b)
{
  return a->verdict != b->verdict ? a->verdict > b->verdict : room_rank (a) < room_rank (b);
}

static int
by_weight (gconstpointer a, gconstpointer b, gpointer emissions)
{
  const SpEmission *e = emissions, *x = &e[((const SpDigestRow *) a)->emission], *y = &e[((const SpDigestRow *) b)->emission];
  return is_worse (x, y) ? -1 : is_worse (y, x) ? 1 : (x->frequency_hz > y->frequency_hz) - (x->frequency_hz < y->frequency_hz);
}

static SpDigestRow
row_of (const SpConditionFindings *found, guint i)
{
  guint order = found->emissions[i].order;
  return (SpDigestRow){ i, 1, order, order, TRUE };
}

static void
join (SpDigestRow *row, const SpConditionFindings *found, guint i)
{
  const SpEmission *e = &found->emissions[i];
  row->unbroken = row->unbroken && e->order == row->last_order + 1;
  row->last_order = e->order;
  row->n++;
  if (room_rank (e) < room_rank (&found->emissions[row->emission]))
    row->emission = i;
}

/* One row of the harmonics that were not seen, or not swept, with that verdict; none where there are none. */
static void
join_unseen (GArray *rows, const SpConditionFindings *found, int verdict, gboolean swept)
{
  SpDigestRow *unseen = NULL;
  for (guint i = 0; i < found->n_emissions; i++) {
    const SpEmission *e = &found->emissions[i];
    SpDigestRow row = row_of (found, i);
    if (!is_unseen_harmonic (e) || (int) e->verdict != verdict || !e->swept != !swept)
      continue;
    if (unseen)
      join (unseen, found, i);
    else
      unseen = &g_array_index (g_array_append_val (rows, row), SpDigestRow, rows->len - 1);
  }
}

SpDigestRow *
sp_digest_short (const SpConditionFindings *found, guint most, guint *n, guint *left_out)
{
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (SpDigestRow));
  for (guint i = 0; i < found->n_emissions; i++)
    if (!is_unseen_harmonic (&found->emissions[i])) {
      SpDigestRow row = row_of (found, i);
      g_array_append_val (rows, row);
    }
  if (rows->len) /* a sort of nothing is undefined */
    g_array_sort_with_data (rows, by_weight, found->emissions);
  *left_out = rows->len > most ? rows->len - most : 0;
  if (*left_out)
    g_array_set_size (rows, most);
  for (int verdict = SP_VERDICT_EXCEEDS; verdict >= 0; verdict--) {
    join_unseen (rows, found, verdict, TRUE);
    join_unseen (rows, found, verdict, FALSE);
  }
  *n = rows->len;
  return (SpDigestRow *) g_array_free (g_steal_pointer (&rows), FALSE);
}

SpDigestRow *
sp_digest_whole (const SpConditionFindings *found, guint *n)
{
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (SpDigestRow));
  for (guint i = 0; i < found->n_emissions; i++) {
    const SpEmission *e = &found->emissions[i];
    SpDigestRow *last = rows->len ? &g_array_index (rows, SpDigestRow, rows->len - 1) : NULL, row = row_of (found, i);
    const SpEmission *before = last ? &found->emissions[last->emission] : NULL;
    if (before && is_unseen_harmonic (before) && is_unseen_harmonic (e) && before->verdict == e->verdict && before->swept == e->swept
        && e->order == last->last_order + 1)
      join (last, found, i);
    else
      g_array_append_val (rows, row);
  }
  *n = rows->len;
  return (SpDigestRow *) g_array_free (g_steal_pointer (&rows), FALSE);
}

/* ---- what is shown, and how far ---- */

SpDigestShown
sp_digest_shown (const SpConditionFindings *found)
{
  SpDigestShown shown = { 0 };
  for (guint i = 0; i < found->n_emissions; i++) {
    const SpEmission *e = &found->emissions[i];
    shown.harmonics += e->order > 1 ? 1 : 0;
    if (e->detected) {
      shown.seen++;
      shown.origins[e->origin]++;
    } else if (e->order > 1 && e->swept) {
      shown.unseen++;
      shown.floor_over += e->floor_dbm > e->limit_dbm ? 1 : 0;
    }
  }
  return shown;
}

gboolean
sp_digest_swept (const SpConditionFindings *found, double *from_hz, double *to_hz)
{
  *from_hz = INFINITY, *to_hz = -INFINITY;
  for (guint k = 0; k < found->n_corrected; k++)
    if (found->corrected[k].n > 0) {
      *from_hz = MIN (*from_hz, found->corrected[k].frequency_hz[0]);
      *to_hz = MAX (*to_hz, found->corrected[k].frequency_hz[found->corrected[k].n - 1]);
    }
  return *from_hz < *to_hz;
}

void
sp_digest_tally (const SpFindings *findings, const guint *conditions, guint n, guint tally[SP_VERDICT_EXCEEDS + 1])
{
  memset (tally, 0, (SP_VERDICT_EXCEEDS + 1) * sizeof *tally);
  for (guint i = 0; i < n; i++)
    tally[findings->conditions[conditions[i]].verdict]++;
}

/* ---- two sweeps of the same ---- */

#define SAME_CARRIER 1e-3 /* relative: the same channel (common practice, no source) */

static gboolean
are_alike (const SpFindings *findings, guint a, guint b)
{
  const SpConditionFindings *x = &findings->conditions[a], *y = &findings->conditions[b];
  const SpCondition *p = &findings->bench->conditions[x->condition], *q = &findings->bench->conditions[y->condition];
  return p->radio == q->radio && g_strcmp0 (p->mode, q->mode) == 0 && fabs (x->fundamental_hz / y->fundamental_hz - 1) < SAME_CARRIER
         && fabs (x->power_dbm - y->power_dbm) <= MAX (x->power_expanded_db, y->power_expanded_db);
}

int
sp_digest_deeper (const SpFindings *findings, guint a, guint b)
{
  const SpConditionFindings *x = &findings->conditions[a], *y = &findings->conditions[b];
  double sum_db = 0;
  if (!are_alike (findings, a, b))
    return 0;
  for (guint i = 0; i < x->n_emissions; i++)
    for (guint k = 0; k < y->n_emissions; k++) {
      double over_db = x->emissions[i].floor_dbm - y->emissions[k].floor_dbm;
      if (x->emissions[i].order > 1 && x->emissions[i].order == y->emissions[k].order && isfinite (over_db))
        sum_db += over_db;
    }
  return sum_db > 0 ? 1 : sum_db < 0 ? -1 : 0;
}

/* ---- ages ---- */

static SpAge
age_of (const SpBench *bench, const SpChain *chain, double day)
{
  SpAge age = { day, bench->date_day - day, chain->interval_days, FALSE };
  age.overdue = age.age_days > age.interval_days;
  return age;
}

SpAge
sp_digest_stage_age (const SpBench *bench, const SpChain *chain, guint stage)
{
  double day = chain->stages[stage]->calibrated_day;
  return age_of (bench, chain, isnan (day) ? chain->calibrated_day : day);
}

SpAge
sp_digest_chain_age (const SpBench *bench, const SpChain *chain)
{
  SpAge oldest = age_of (bench, chain, chain->calibrated_day);
  for (guint i = 0; i < chain->n; i++) {
    SpAge age = sp_digest_stage_age (bench, chain, i);
    if (age.day < oldest.day || isnan (oldest.day))
      oldest = age;
  }
  return oldest;
}

/* ---- losses ---- */

SpDigestLoss
sp_digest_loss (const SpBench *bench, const SpChain *chain, int stage, double fundamental_hz, guint order)
{
  SpDigestLoss loss = { .frequency_hz = order * fundamental_hz };
  if (stage >= 0) {
    SpStageLoss one = sp_stage_loss (chain, (guint) stage, loss.frequency_hz, bench->temperature_c, 0);
    loss.loss_db = one.loss_db;
    loss.expanded_db = sp_coverage_factor (INFINITY) * one.u_db;
  } else {
    SpChainLoss all = sp_chain_loss (chain, loss.frequency_hz, bench->temperature_c, 0, NULL);
    loss.loss_db = all.loss_db;
    loss.expanded_db = sp_coverage_factor (INFINITY) * all.u_db;
  }
  return loss;
}

/* ---- what would prove it ---- */

SpReason *
sp_digest_would_prove (const SpFindings *findings, guint condition, const SpReason *would_prove)
{
  if (!would_prove)
    return NULL;
  if (would_prove->code != SP_REASON_PROVE_STEP || !would_prove->PROVE_STEP.condition)
    return sp_reason_ref (would_prove);
  guint radio = findings->bench->conditions[findings->conditions[condition].condition].radio;
  for (guint i = 0; i < findings->n; i++)
    if (findings->bench->conditions[findings->conditions[i].condition].radio == radio
        && strcmp (findings->conditions[i].name, would_prove->PROVE_STEP.condition) == 0)
      return sp_reason_ref (would_prove);
  SpReason alone = *would_prove;
  alone.PROVE_STEP.condition = NULL;
  alone.PROVE_STEP.settles = NAN;
  return sp_reason_new (&alone);
}
