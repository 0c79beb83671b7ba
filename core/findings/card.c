/* card.c - the wanted sweeps of a condition, those that there are and those that would prove it */
#include "core/findings/card.h"

#include <math.h>

#include "core/findings/digest.h"
#include "core/findings/plan-inputs.h"
#include "core/quantity/units.h"

static const struct {
  const char *name;
  SpPurpose purpose;
} kinds[] = {
  [SP_WANTED_KEYED] = { "keyed", SP_PURPOSE_KEYED },       [SP_WANTED_AGAIN] = { "again", SP_PURPOSE_KEYED },
  [SP_WANTED_STEP] = { "step", SP_PURPOSE_STEP },          [SP_WANTED_UNKEYED] = { "unkeyed", SP_PURPOSE_UNKEYED },
  [SP_WANTED_NOTCHED] = { "notched", SP_PURPOSE_NOTCHED }, [SP_WANTED_STRETCH] = { "stretch", SP_PURPOSE_KEYED },
  [SP_WANTED_SILENCE] = { "silence", SP_PURPOSE_KEYED },   [SP_WANTED_ELSEWHERE] = { "elsewhere", SP_PURPOSE_KEYED },
};

const char *
sp_wanted_name (SpWantedKind kind)
{
  return kinds[kind].name;
}

SpPurpose
sp_wanted_purpose (SpWantedKind kind)
{
  return kinds[kind].purpose;
}

static SpWantedSweep
wanted_of (SpWantedKind kind)
{
  SpWantedSweep w = { .kind = kind };
  w.attenuation_db = w.more_db = w.notch_db = w.from_hz = w.to_hz = w.at_hz = w.parts = w.key_down_s = w.pause_s = NAN;
  return w;
}

/* ---- those that there are ---- */

/* NaN is alike to NaN. */
static gboolean
same (double a, double b)
{
  return a == b || (isnan (a) && isnan (b));
}

static gboolean
alike (const SpWantedSweep *a, const SpWantedSweep *b)
{
  return a->kind == b->kind && same (a->attenuation_db, b->attenuation_db) && same (a->more_db, b->more_db)
         && same (a->notch_db, b->notch_db) && same (a->from_hz, b->from_hz) && same (a->to_hz, b->to_hz);
}

static void
add_done (GArray *all, SpWantedSweep w)
{
  w.done = TRUE;
  w.n = 1;
  for (guint i = 0; i < all->len; i++)
    if (alike (&g_array_index (all, SpWantedSweep, i), &w)) {
      g_array_index (all, SpWantedSweep, i).n++;
      return;
    }
  g_array_append_val (all, w);
}

/* How much more the carrier loses on its way to the analyzer than through the condition's chain; NaN: no chain of its own. */
static double
notch_depth_db (const SpBench *bench, const SpConditionFindings *found, const SpSweep *sweep)
{
  const SpChain *chain = sp_condition_chain (bench, &bench->conditions[found->condition]);
  if (!sweep->chain || !chain || !(found->fundamental_hz > 0))
    return NAN;
  return sp_chain_loss (sweep->chain, found->fundamental_hz, bench->temperature_c, 0, NULL).loss_db
         - sp_chain_loss (chain, found->fundamental_hz, bench->temperature_c, 0, NULL).loss_db;
}

/* A later keyed sweep of another range is a stretch. */
static SpWantedSweep
keyed_as (const SpTrace *trace, const SpTrace *first)
{
  double from = trace->frequency_hz[0], to = trace->frequency_hz[trace->n - 1];
  gboolean whole = !first || (from == first->frequency_hz[0] && to == first->frequency_hz[first->n - 1]);
  SpWantedSweep w = wanted_of (whole ? SP_WANTED_KEYED : SP_WANTED_STRETCH);
  w.attenuation_db = trace->settings.attenuation_db;
  if (!whole) {
    w.from_hz = from;
    w.to_hz = to;
  }
  return w;
}

static void
take_done (GArray *all, const SpBench *bench, const SpConditionFindings *found)
{
  const SpCondition *condition = &bench->conditions[found->condition];
  const SpTrace *first = NULL;
  for (guint k = 0; k < condition->n_sweeps; k++) {
    const SpSweep *sweep = &condition->sweeps[k];
    SpWantedSweep w = wanted_of (sweep->purpose == SP_PURPOSE_STEP ? SP_WANTED_STEP : SP_WANTED_NOTCHED);
    if (!sp_findings_use (found, sweep->trace, sweep->purpose) || sweep->purpose == SP_PURPOSE_UNKEYED)
      continue;
    if (sweep->purpose == SP_PURPOSE_KEYED) {
      w = keyed_as (sweep->trace, first);
      first = first ? first : sweep->trace;
    } else if (sweep->purpose == SP_PURPOSE_STEP) {
      w.more_db = sweep->step_db;
    } else {
      w.notch_db = round (notch_depth_db (bench, found, sweep));
    }
    add_done (all, w);
  }
  if (sp_condition_unkeyed (bench, condition))
    add_done (all, wanted_of (SP_WANTED_UNKEYED));
}

/* ---- those that would prove it ---- */

static SpWantedKind
kind_of (const SpReason *reason, gboolean keyed)
{
  switch (reason->code) {
  case SP_REASON_PROVE_SPAN: return keyed ? SP_WANTED_STRETCH : SP_WANTED_KEYED;
  case SP_REASON_PROVE_SETTING:
  case SP_REASON_PROVE_SWEEP:
  case SP_REASON_PROVE_SAMPLING:
  case SP_REASON_PROVE_RESOLVE:
  case SP_REASON_PROVE_NARROWER:
  case SP_REASON_PROVE_REFERENCE:
  case SP_REASON_PROVE_STEP_NOISE:
  case SP_REASON_PROVE_RBW: return keyed ? SP_WANTED_AGAIN : SP_WANTED_KEYED;
  case SP_REASON_PROVE_STEP:
  case SP_REASON_PROVE_STEP_PAD:
  case SP_REASON_PROVE_BESIDE: return SP_WANTED_STEP;
  case SP_REASON_PROVE_NOTCH: return SP_WANTED_NOTCHED;
  case SP_REASON_PROVE_AMBIENT: return SP_WANTED_SILENCE;
  default: return SP_WANTED_ELSEWHERE;
  }
}

#define TAKE_KEYING(w, r, n_parts)                                                                                                         \
  ((w)->parts = fmax (1, (r).n_parts), (w)->key_down_s = (r).key_down_s, (w)->pause_s = (r).pause_s, (w)->basis = (SpTimeBasis) (r).basis)

static void
take_span (SpWantedSweep *w, const SpReason *reason)
{
  w->attenuation_db = reason->PROVE_SPAN.attenuation_db;
  w->from_hz = reason->PROVE_SPAN.from_hz;
  w->to_hz = reason->PROVE_SPAN.to_hz;
  w->notch_db = reason->PROVE_SPAN.notch_db;
  TAKE_KEYING (w, reason->PROVE_SPAN, parts);
}

static void
take_numbers (SpWantedSweep *w, const SpReason *reason)
{
  switch (reason->code) {
  case SP_REASON_PROVE_SPAN: take_span (w, reason); break;
  case SP_REASON_PROVE_SETTING: TAKE_KEYING (w, reason->PROVE_SETTING, key_down_parts); break;
  case SP_REASON_PROVE_NOTCH:
    w->notch_db = reason->PROVE_NOTCH.notch_db;
    TAKE_KEYING (w, reason->PROVE_NOTCH, key_down_parts);
    break;
  case SP_REASON_PROVE_BESIDE: TAKE_KEYING (w, reason->PROVE_BESIDE, key_down_parts); break;
  case SP_REASON_PROVE_STEP:
    w->more_db = reason->PROVE_STEP.step_db;
    w->pad = reason->PROVE_STEP.pad;
    break;
  case SP_REASON_PROVE_STEP_PAD:
    w->more_db = reason->PROVE_STEP_PAD.pad_db;
    w->pad = TRUE;
    break;
  case SP_REASON_PROVE_AMBIENT: w->at_hz = reason->PROVE_AMBIENT.at_hz; break;
  default: break;
  }
}

/* Takes `reason`. Of one code the one that asks for more serves all; of spans and places each stands alone. */
static void
add_open (GArray *all, GPtrArray *reasons, SpReason *reason, gboolean keyed)
{
  SpWantedSweep w = wanted_of (kind_of (reason, keyed));
  gboolean each = keyed && (reason->code == SP_REASON_PROVE_SPAN || reason->code == SP_REASON_PROVE_AMBIENT);
  g_ptr_array_add (reasons, reason);
  w.reason = reason;
  take_numbers (&w, reason);
  for (guint i = 0; i < all->len; i++) {
    SpWantedSweep *other = &g_array_index (all, SpWantedSweep, i);
    if (other->done || !other->reason || other->reason->code != reason->code || (each && !sp_reason_equal (other->reason, reason)))
      continue;
    if (sp_would_prove_asks_more (reason, other->reason))
      *other = w;
    return;
  }
  g_array_append_val (all, w);
}

/* With the key up it has not been looked at, and what decides may come from the air (common practice, no source). */
static gboolean
wants_unkeyed (const SpConditionFindings *found)
{
  for (guint i = 0; i < found->n_emissions; i++) {
    const SpEmission *e = &found->emissions[i];
    gboolean settled = e->verdict == SP_VERDICT_COMPLIES || e->verdict == SP_VERDICT_NO_LIMIT;
    if (e->detected && !settled && !(e->evidence && e->evidence->ambient_known))
      return TRUE;
  }
  return FALSE;
}

static gboolean
has (const GArray *all, SpWantedKind kind)
{
  for (guint i = 0; i < all->len; i++)
    if (g_array_index (all, SpWantedSweep, i).kind == kind)
      return TRUE;
  return FALSE;
}

/* A whole sweep that is wanted first may show what the floor or the points hide so far. */
static gboolean
waits_for_whole (const GArray *all, const SpGap *gap)
{
  gboolean floor = gap->why == SP_REASON_FLOOR_ABOVE_LIMIT || gap->why == SP_REASON_UNDERSAMPLED;
  for (guint i = 0; floor && i < all->len; i++) {
    const SpWantedSweep *w = &g_array_index (all, SpWantedSweep, i);
    if (!w->done && (w->kind == SP_WANTED_AGAIN || w->kind == SP_WANTED_NOTCHED))
      return TRUE;
  }
  return FALSE;
}

/* A radio that exceeds does so whatever else is proven: then nothing but the key-up sweep may change the word. */
static void
take_open (GArray *all, GPtrArray *reasons, const SpFindings *findings, const SpConditionFindings *found)
{
  gboolean keyed = has (all, SP_WANTED_KEYED), open = found->verdict != SP_VERDICT_EXCEEDS;
  for (guint i = 0; open && i < found->n_emissions; i++) {
    SpReason *reason = sp_digest_would_prove (findings, found->condition, found->emissions[i].would_prove);
    if (reason)
      add_open (all, reasons, reason, keyed);
  }
  for (guint i = 0; open && keyed && i < found->n_gaps; i++)
    if (found->gaps[i].would_close && !waits_for_whole (all, &found->gaps[i]))
      add_open (all, reasons, sp_reason_ref (found->gaps[i].would_close), keyed);
  SpWantedSweep first = wanted_of (SP_WANTED_KEYED), unkeyed = wanted_of (SP_WANTED_UNKEYED);
  if (!has (all, SP_WANTED_KEYED))
    g_array_append_val (all, first);
  if (keyed && !has (all, SP_WANTED_UNKEYED) && wants_unkeyed (found))
    g_array_append_val (all, unkeyed);
}

static int
by_kind (gconstpointer a, gconstpointer b)
{
  const SpWantedSweep *one = a, *other = b;
  return one->kind != other->kind ? (int) one->kind - (int) other->kind : other->done - one->done;
}

/* (transfer full); what it borrows goes into `reasons`. */
static GArray *
gather (const SpFindings *findings, guint condition, GPtrArray *reasons)
{
  const SpConditionFindings *found = &findings->conditions[condition];
  GArray *all = g_array_new (FALSE, FALSE, sizeof (SpWantedSweep));
  take_done (all, findings->bench, found);
  take_open (all, reasons, findings, found);
  g_array_sort (all, by_kind); /* a stable one: equal ones stay in their order */
  return all;
}

static int
first_open (const SpWantedSweep *wanted, guint n)
{
  for (guint i = 0; i < n; i++)
    if (!wanted[i].done && wanted[i].kind != SP_WANTED_ELSEWHERE)
      return (int) i;
  return -1;
}

static int
next_of (const SpFindings *findings, guint condition)
{
  for (guint k = 1; k < findings->n; k++) {
    guint i = (condition + k) % findings->n;
    g_autoptr (GPtrArray) reasons = sp_reasons_new ();
    g_autoptr (GArray) all = gather (findings, i, reasons);
    if (first_open ((const SpWantedSweep *) (void *) all->data, all->len) >= 0)
      return (int) i;
  }
  return -1;
}

/* ---- how long, and whether at all ---- */

/* A step, and a sweep with other points, take as long as the sweep that there is; how long a first one takes only its advice tells. */
static void
take_time (SpCard *card, const SpFindings *findings)
{
  SpSetting today;
  g_autoptr (SpPlan) plan = NULL;
  for (guint i = 0; i < card->n; i++) {
    SpWantedSweep *w = &card->wanted[i];
    if (w->done || w->kind == SP_WANTED_KEYED || w->kind == SP_WANTED_UNKEYED || w->kind == SP_WANTED_ELSEWHERE || !isnan (w->key_down_s))
      continue;
    plan = plan ? plan : sp_findings_plan (findings, card->condition, &today, NULL);
    if (!plan)
      return;
    SpKeying keying = sp_plan_keying (plan, &today);
    w->parts = keying.parts;
    w->key_down_s = keying.key_down_s;
    w->pause_s = keying.pause_s;
    w->basis = keying.basis;
  }
}

static double
power_at_most_w (const SpFindings *findings, guint condition)
{
  double rated = findings->bench->conditions[findings->conditions[condition].condition].rated_w;
  return fmax (rated, sp_watt_from_dbm (findings->conditions[condition].power_dbm)); /* NaN only where both are */
}

static const SpReason *
worst_unsafe (const SpHeadroom *headroom, const SpReason *worst)
{
  for (guint i = 0; headroom && i < headroom->reasons->len; i++) {
    const SpReason *reason = g_ptr_array_index (headroom->reasons, i);
    if (reason->code == SP_REASON_UNSAFE && (!worst || reason->UNSAFE.headroom_db < worst->UNSAFE.headroom_db))
      worst = reason;
  }
  return worst;
}

/* Its way through the condition's chain; with `ways` through a notch's too. */
static const SpReason *
burns_of (const SpConditionFindings *found, gboolean ways)
{
  const SpReason *worst = worst_unsafe (found->headroom, NULL);
  for (guint i = 0; ways && i < found->n_ways; i++)
    worst = worst_unsafe (found->ways[i].headroom, worst);
  return worst;
}

static void
take_last (SpCard *card, const SpFindings *findings)
{
  const SpCondition *condition = &findings->bench->conditions[findings->conditions[card->condition].condition];
  for (guint k = 0; k < condition->n_sweeps; k++)
    if (condition->sweeps[k].purpose != SP_PURPOSE_SUPERSEDED) {
      card->last = condition->sweeps[k].purpose;
      card->again = !card->burns || card->last == SP_PURPOSE_UNKEYED;
    }
}

SpCard *
sp_card_new (const SpFindings *findings, guint condition)
{
  SpCard *card = g_new0 (SpCard, 1);
  card->condition = condition;
  card->reasons = sp_reasons_new ();
  GArray *all = gather (findings, condition, card->reasons);
  card->n = all->len;
  card->wanted = (SpWantedSweep *) (void *) g_array_free (all, FALSE);
  card->now = first_open (card->wanted, card->n);
  card->next = next_of (findings, condition);
  card->power_w = power_at_most_w (findings, condition);
  card->burns = burns_of (&findings->conditions[condition], card->now >= 0 && card->wanted[card->now].kind == SP_WANTED_NOTCHED);
  card->next_power_w = card->next < 0 ? NAN : power_at_most_w (findings, (guint) card->next);
  card->next_burns = card->next < 0 ? NULL : burns_of (&findings->conditions[card->next], FALSE);
  take_last (card, findings);
  take_time (card, findings);
  return card;
}

gboolean
sp_card_forbids (const SpCard *card)
{
  return card->now >= 0 && card->burns && card->wanted[card->now].kind != SP_WANTED_UNKEYED;
}

const char *
sp_card_now_name (const SpCard *card)
{
  if (sp_card_forbids (card))
    return "do-not-key";
  if (card->now >= 0)
    return sp_wanted_name (card->wanted[card->now].kind);
  for (guint i = 0; i < card->n; i++)
    if (!card->wanted[i].done)
      return sp_wanted_name (SP_WANTED_ELSEWHERE);
  return "done";
}

gboolean
sp_card_keys (const SpCard *card)
{
  return card->now >= 0 && card->wanted[card->now].kind != SP_WANTED_UNKEYED && !sp_card_forbids (card);
}

void
sp_card_free (SpCard *card)
{
  g_ptr_array_unref (card->reasons);
  g_free (card->wanted);
  g_free (card);
}
