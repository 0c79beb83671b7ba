/* steady.c - spurs that stand at one frequency whatever the carrier's */
#include "core/compare/pivot.h"

#include <math.h>

typedef struct {
  guint radio, condition;
  const SpEmission *emission;
} Seen;

static int
compare_seen (gconstpointer a, gconstpointer b)
{
  const Seen *p = a, *q = b;
  if (p->radio != q->radio)
    return p->radio < q->radio ? -1 : 1;
  return (p->emission->frequency_hz > q->emission->frequency_hz) - (p->emission->frequency_hz < q->emission->frequency_hz);
}

static guint
radio_of (const SpComparison *comparison, guint i)
{
  return comparison->findings->bench->conditions[comparison->rows[i].found->condition].radio;
}

static GArray *
seen_spurs (const SpComparison *comparison)
{
  GArray *seen = g_array_new (FALSE, FALSE, sizeof (Seen));
  for (guint i = 0; i < comparison->n; i++) {
    const SpConditionFindings *found = comparison->rows[i].found;
    for (guint k = 0; k < found->n_emissions; k++)
      if (found->emissions[k].order == 0 && found->emissions[k].detected)
        g_array_append_vals (seen, &(Seen){ radio_of (comparison, i), i, &found->emissions[k] }, 1);
  }
  g_array_sort (seen, compare_seen);
  return seen;
}

static gboolean
is_swept (const SpConditionFindings *found, double frequency_hz)
{
  for (guint k = 0; k < found->n_corrected; k++) {
    const SpCorrected *sweep = &found->corrected[k];
    if (sweep->n && sweep->frequency_hz[0] <= frequency_hz && frequency_hz <= sweep->frequency_hz[sweep->n - 1])
      return TRUE;
  }
  return FALSE;
}

/* Two carriers that one waveband's width parts: a spur that follows the carrier would have moved. */
static gboolean
has_two_carriers (const SpComparison *comparison, const Seen *seen, guint n)
{
  for (guint k = 1; k < n; k++)
    if (sp_compare_waveband (comparison->findings, seen[k].condition) != sp_compare_waveband (comparison->findings, seen[0].condition))
      return TRUE;
  return FALSE;
}

static SpSteadySpur *
spur_of (const SpComparison *comparison, const Seen *seen, guint n, double low_hz, double high_hz)
{
  SpSteadySpur *spur = g_new0 (SpSteadySpur, 1);
  *spur = (SpSteadySpur){ .radio = comparison->rows[seen->condition].radio,
                          .low_hz = low_hz,
                          .high_hz = high_hz,
                          .frequency_hz = (low_hz + high_hz) / 2,
                          .half_hz = (high_hz - low_hz) / 2,
                          .n = n };
  spur->conditions = g_new (guint, n);
  double least_db = NAN;
  for (guint k = 0; k < n; k++) {
    double room_db = sp_emission_room_db (seen[k].emission);
    spur->conditions[k] = seen[k].condition;
    if (k == 0 || room_db < least_db || (isnan (least_db) && !isnan (room_db))) {
      least_db = room_db;
      spur->worst = seen[k].condition;
      spur->emission = seen[k].emission;
    }
  }
  for (guint i = 0; i < comparison->n; i++)
    spur->of += radio_of (comparison, i) == seen->radio && is_swept (comparison->rows[i].found, spur->frequency_hz) ? 1 : 0;
  return spur;
}

static void
spur_free (gpointer data)
{
  SpSteadySpur *spur = data;
  g_free (spur->conditions);
  g_free (spur);
}

/* How many from `first` on agree on a frequency, each of a condition of its own. */
static guint
agreeing (const GArray *seen, guint first, double *low_hz, double *high_hz)
{
  const Seen *from = &g_array_index (seen, Seen, first);
  guint n = 0;
  *low_hz = -INFINITY;
  *high_hz = INFINITY;
  for (; first + n < seen->len && from[n].radio == from->radio; n++) {
    const SpEmission *e = from[n].emission;
    double low = fmax (*low_hz, e->frequency_hz - e->frequency_half_hz), high = fmin (*high_hz, e->frequency_hz + e->frequency_half_hz);
    gboolean again = FALSE;
    for (guint k = 0; k < n; k++)
      again |= from[k].condition == from[n].condition;
    if (!(low <= high) || again)
      break;
    *low_hz = low;
    *high_hz = high;
  }
  return n;
}

GPtrArray *
sp_compare_steady_spurs (const SpComparison *comparison)
{
  GPtrArray *spurs = g_ptr_array_new_with_free_func (spur_free);
  g_autoptr (GArray) seen = seen_spurs (comparison);
  for (guint first = 0; first < seen->len;) {
    double low_hz, high_hz;
    guint n = agreeing (seen, first, &low_hz, &high_hz);
    const Seen *from = &g_array_index (seen, Seen, first);
    gboolean steady = n >= SP_STEADY_LEAST && has_two_carriers (comparison, from, n);
    if (steady)
      g_ptr_array_add (spurs, spur_of (comparison, from, n, low_hz, high_hz));
    first += steady ? n : 1;
  }
  return spurs;
}
