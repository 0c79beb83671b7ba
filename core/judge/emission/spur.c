/* spur.c - finds emissions off the harmonics: lines, and bands wider than the filter */
#include "core/judge/emission/emission.h"
#include "core/judge/sweep/sweep.h"

#include <math.h>

static gboolean
overlap (const SpEmission *e, const SpDetection *detection, double half_hz)
{
  return detection->to_hz >= e->from_hz - half_hz && detection->from_hz <= e->to_hz + half_hz;
}

void
sp_judging_add_spur (const SpJudging *c, SpSpurSearch *search, guint k, const SpDetection *detection, double half_hz)
{
  GArray *found = search->found;
  for (guint j = 0; j < found->len; j++) {
    SpEmission *other = &g_array_index (found, SpEmission, j);
    if (other->corrected == k || !overlap (other, detection, half_hz))
      continue;
    if (detection->level_dbm - sp_judging_power_dbm (c, &c->sweeps[k]) > other->level_dbc)
      sp_judging_fill (c, other, detection, k, search->warnings);
    return;
  }
  SpEmission e;
  sp_emission_init (&e, 0, detection->frequency_hz);
  sp_judging_fill (c, &e, detection, k, search->warnings);
  g_array_append_val (found, e);
}

static void
add_spur (const SpJudging *c, SpSpurSearch *search, guint k, guint64 i)
{
  const GArray *found = search->found;
  const SpJudgedSweep *s = &c->sweeps[k];
  double f = s->trace->frequency_hz[i], half = sp_judging_window_half (s, i);
  for (guint j = 0; j < found->len; j++) { /* part of a band that is already listed */
    const SpEmission *other = &g_array_index (found, SpEmission, j);
    if (other->corrected == k && other->kind != SP_KIND_LINE && f >= other->from_hz && f <= other->to_hz)
      return;
  }
  SpDetection detection = { .reference_hz = sp_judging_reference_hz (c, f) };
  detection.floor_dbm = sp_judging_floor_at (c, s, i, f, (double) s->trace->n, &detection.cause);
  sp_judging_take_line (c, s, i, &detection);
  sp_judging_connect (c, s, i, 0, &detection);
  sp_judging_add_spur (c, search, k, &detection, half);
}

static int
by_level_at (const void *a, const void *b, void *levels)
{
  double x = ((const double *) levels)[*(const guint64 *) a], y = ((const double *) levels)[*(const guint64 *) b];
  return (x < y) - (x > y);
}

/* The SP_MAX_SPURS highest peaks of one sweep; a warning counts the others. */
static void
spurs_of_sweep (const SpJudging *c, SpSpurSearch *search, guint k)
{
  const SpJudgedSweep *s = &c->sweeps[k];
  guint64 n = s->trace->n;
  g_autoptr (GArray) peaks = sp_find_peaks (n, s->out->level_dbm, s->out->noise_dbm, s->sweep_threshold_db, SP_SPUR_PROMINENCE_DB);
  guint kept = 0;
  for (guint j = 0; j < peaks->len; j++)
    if (!sp_judging_taken (c, s, g_array_index (peaks, guint64, j), 0))
      g_array_index (peaks, guint64, kept++) = g_array_index (peaks, guint64, j);
  g_array_set_size (peaks, kept);
  if (kept > SP_MAX_SPURS)
    sp_reasons_add (search->warnings, sp_reason (SPURS_CUT, .file = s->trace->file, .peaks = kept, .listed = SP_MAX_SPURS));
  g_array_sort_with_data (peaks, by_level_at, s->out->level_dbm);
  if (kept > SP_MAX_SPURS)
    g_array_set_size (peaks, SP_MAX_SPURS);
  for (guint j = 0; j < peaks->len; j++)
    add_spur (c, search, k, g_array_index (peaks, guint64, j));
  sp_judging_rises (c, search, k);
}

static int
by_level_down (const void *a, const void *b)
{
  const SpEmission *x = a, *y = b;
  return (x->level_dbm < y->level_dbm) - (x->level_dbm > y->level_dbm);
}

static int
by_frequency (const void *a, const void *b)
{
  const SpEmission *x = a, *y = b;
  return (x->frequency_hz > y->frequency_hz) - (x->frequency_hz < y->frequency_hz);
}

/* A part of a harmonic's band is not a spur. */
static gboolean
is_of_harmonic (const SpEmission *spur, const GArray *harmonics)
{
  for (guint i = 0; i < harmonics->len; i++) {
    const SpEmission *h = &g_array_index (harmonics, SpEmission, i);
    if (h->detected && h->kind != SP_KIND_LINE && spur->from_hz >= h->from_hz && spur->to_hz <= h->to_hz
        && spur->level_dbm <= h->level_dbm + h->sampling_loss_db)
      return TRUE;
  }
  return FALSE;
}

GArray *
sp_judging_spurs (const SpJudging *c, const GArray *harmonics, GArray *climbs, GPtrArray *warnings)
{
  GArray *spurs = g_array_new (FALSE, FALSE, sizeof (SpEmission));
  SpSpurSearch search = { spurs, climbs, warnings };
  for (guint k = 0; k < c->n; k++)
    spurs_of_sweep (c, &search, k);
  for (guint i = 0; i < spurs->len;)
    if (is_of_harmonic (&g_array_index (spurs, SpEmission, i), harmonics))
      g_array_remove_index (spurs, i);
    else
      i++;
  g_array_sort (spurs, by_level_down);
  if (spurs->len > SP_MAX_SPURS)
    g_array_set_size (spurs, SP_MAX_SPURS);
  g_array_sort (spurs, by_frequency);
  return spurs;
}
