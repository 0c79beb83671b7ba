/* arrivals.c - one bench with all that has arrived in it: radios and conditions by their names */
#include "core/bench/proposals/proposals-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/bench/build.h"
#include "core/bench/edit/edit.h"
#include "core/bench/edit/settle.h"
#include "core/quantity/error.h"

static int
radio_named (const SpBench *bench, const char *name)
{
  for (guint i = 0; i < bench->n_radios; i++)
    if (g_str_equal (bench->radios[i].name, name))
      return (int) i;
  return -1;
}

static SpCondition *
condition_named (const SpBench *bench, guint radio, const char *name)
{
  for (guint i = 0; i < bench->n_conditions; i++)
    if (bench->conditions[i].radio == radio && g_str_equal (bench->conditions[i].name, name))
      return &bench->conditions[i];
  return NULL;
}

/* As the bench has it already; NULL. */
static const SpCondition *
present_target (const SpBench *bench, const SpProposal *to)
{
  g_autofree char *radio_name = g_strstrip (g_strdup (to->radio)), *name = g_strstrip (g_strdup (to->condition));
  int radio = radio_named (bench, radio_name);
  return radio < 0 ? NULL : condition_named (bench, (guint) radio, name);
}

SpChain *
sp_proposal_target_chain (const SpBench *bench, const SpProposal *proposal)
{
  const SpCondition *condition = present_target (bench, proposal);
  return condition ? sp_condition_chain (bench, condition) : bench->chain;
}

SpChain *
sp_proposal_sweep_chain (const SpBench *bench, const SpProposal *proposal)
{
  const SpCondition *condition = present_target (bench, proposal);
  if (!sp_purpose_has_chain (proposal->purpose))
    return NULL;
  if (proposal->chain)
    return proposal->chain;
  for (guint i = 0; condition && i < condition->n_sweeps; i++)
    if (condition->sweeps[i].purpose == proposal->purpose && condition->sweeps[i].chain)
      return condition->sweeps[i].chain;
  return NULL;
}

gboolean
sp_proposals_share_chain (const SpProposal *a, const SpProposal *b)
{
  return sp_purpose_has_chain (a->purpose) && a->purpose == b->purpose && g_str_equal (a->radio, b->radio)
         && g_str_equal (a->condition, b->condition);
}

/* What the name told of a condition that it made. */
static SpCondition *
with_facts (SpCondition *made, const SpProposal *to)
{
  if (to->fundamental_hz > 0)
    made->fundamental_hz = to->fundamental_hz;
  if (to->rated_w > 0)
    made->rated_w = to->rated_w;
  if (to->mode)
    g_free (made->mode), made->mode = g_strdup (to->mode);
  return made;
}

/* The condition it goes to, made where it is missing. `name`s are the copy's own. */
static SpCondition *
target_of (SpBench *copy, const SpProposal *to)
{
  g_autofree char *radio_name = g_strstrip (g_strdup (to->radio)), *name = g_strstrip (g_strdup (to->condition));
  int radio = radio_named (copy, radio_name);
  if (radio < 0) {
    sp_bench_add_radio (copy, g_steal_pointer (&radio_name));
    return with_facts (sp_bench_add_condition (copy, copy->n_radios - 1, g_steal_pointer (&name)), to);
  }
  SpCondition *condition = condition_named (copy, (guint) radio, name);
  SpCondition *nameless = condition ? NULL : condition_named (copy, (guint) radio, "");
  if (condition)
    return condition;
  if (!nameless || nameless->n_sweeps > 0)
    return with_facts (sp_bench_add_condition_behind (copy, (guint) radio, g_steal_pointer (&name)), to);
  g_free (nameless->name);
  nameless->name = g_steal_pointer (&name);
  return nameless;
}

static gboolean
check (const SpArrival *arrival, gboolean *unkeyed, GError **error)
{
  const SpProposal *to = &arrival->to;
  gboolean for_all = to->radio[strspn (to->radio, " \t")] == '\0';
  if (to->purpose == SP_PURPOSE_STEP && (!isfinite (to->step_db) || to->step_db == 0))
    return sp_fail (error, SP_ERROR_USAGE,
                    _ ("a step sweep needs the dB of attenuation it has more than the keyed one; expected a number other than 0"));
  if (!for_all)
    return TRUE;
  if (to->purpose != SP_PURPOSE_UNKEYED)
    return sp_fail (error, SP_ERROR_USAGE, _ ("only an unkeyed sweep stands for all radios; expected a radio for this one"));
  if (*unkeyed)
    return sp_fail (error, SP_ERROR_USAGE,
                    _ ("a second unkeyed sweep for all radios; expected one: name a radio for this one, or leave it out"));
  return *unkeyed = TRUE;
}

/* Whether it shows as much of the spectrum as another: a sweep close to the carrier stays beside a wide one. */
static gboolean
covers_the_same (const SpTrace *a, const SpTrace *b)
{
  double common = fmin (a->frequency_hz[a->n - 1], b->frequency_hz[b->n - 1]) - fmax (a->frequency_hz[0], b->frequency_hz[0]);
  double longer = fmax (a->frequency_hz[a->n - 1] - a->frequency_hz[0], b->frequency_hz[b->n - 1] - b->frequency_hz[0]);
  return common >= longer / 2;
}

/* The earlier sweep for the same purpose, of a step that with the same attenuation, stays and is judged no more. */
static void
supersede (SpCondition *condition, const SpArrival *arrival)
{
  const SpProposal *to = &arrival->to;
  for (guint i = 0; i < condition->n_sweeps; i++) {
    SpSweep *sweep = &condition->sweeps[i];
    if (sweep->purpose != to->purpose || (to->purpose == SP_PURPOSE_STEP && fabs (sweep->step_db - to->step_db) > SP_STEP_ALIKE_DB)
        || !covers_the_same (sweep->trace, arrival->trace))
      continue;
    sweep->purpose = SP_PURPOSE_SUPERSEDED;
    sweep->step_db = NAN;
    g_clear_pointer (&sweep->chain, sp_chain_unref);
  }
}

static gboolean
put (SpBench *copy, const SpArrival *arrival, GError **error)
{
  const SpProposal *to = &arrival->to;
  SpChain *chain = sp_purpose_has_chain (to->purpose) ? to->chain : NULL;
  if (to->radio[strspn (to->radio, " \t")] == '\0') {
    g_clear_pointer (&copy->unkeyed, sp_trace_unref);
    copy->unkeyed = sp_trace_ref (arrival->trace);
    return TRUE;
  }
  SpCondition *condition = target_of (copy, to);
  if (to->retake && to->purpose != SP_PURPOSE_SUPERSEDED)
    supersede (condition, arrival);
  if (!sp_condition_share_chain (condition, to->purpose, chain))
    return sp_fail (error, SP_ERROR_USAGE,
                    _ ("the %s sweeps of a condition come through one chain; expected the same for all, or another condition"),
                    sp_purpose_name (to->purpose));
  sp_condition_add_sweep (condition, to->purpose, sp_trace_ref (arrival->trace), chain ? sp_chain_ref (chain) : NULL,
                          to->purpose == SP_PURPOSE_STEP ? to->step_db : NAN);
  return TRUE;
}

/* Steps are read against the keyed sweep: keyed ones go in first; a re-take goes in after what it takes the place of. */
static guint *
keyed_first (const SpArrival *arrivals, guint n)
{
  guint *order = g_new (guint, n + 1), used = 0;
  for (guint pass = 0; pass < 4; pass++)
    for (guint i = 0; i < n; i++)
      if ((arrivals[i].to.purpose != SP_PURPOSE_KEYED) == (pass & 1) && (arrivals[i].to.retake != FALSE) == (pass >> 1))
        order[used++] = i;
  return order;
}

static SpBench *
with_first (const SpBench *bench, const SpArrival *arrivals, const guint *order, guint n, GError **error)
{
  g_autoptr (SpBench) copy = sp_bench_copy (bench, n);
  for (guint i = 0; i < n; i++)
    if (!put (copy, &arrivals[order[i]], error))
      return NULL;
  return sp_bench_settle (g_steal_pointer (&copy), error);
}

/* Which of them the sheet's reader refuses: halved until it is one, for reading again and again takes its time. */
static guint
first_refused (const SpBench *bench, const SpArrival *arrivals, const guint *order, guint n)
{
  guint good = 0, bad = n;
  while (bad - good > 1) {
    guint middle = good + (bad - good) / 2;
    g_autoptr (SpBench) some = with_first (bench, arrivals, order, middle, NULL);
    *(some ? &good : &bad) = middle;
  }
  return order[bad - 1];
}

SpBench *
sp_bench_with_arrivals (const SpBench *bench, const SpArrival *arrivals, guint n, guint *failed, GError **error)
{
  g_autofree guint *order = keyed_first (arrivals, n);
  gboolean unkeyed = FALSE;
  guint wrong = n;
  for (guint i = 0; i < n && wrong == n; i++)
    if (!check (&arrivals[i], &unkeyed, error))
      wrong = i;
  SpBench *full = wrong == n ? with_first (bench, arrivals, order, n, error) : NULL;
  if (!full && wrong == n && n > 0)
    wrong = first_refused (bench, arrivals, order, n);
  if (!full && wrong < n)
    g_prefix_error (error, "%s: ", arrivals[wrong].trace->file);
  if (failed)
    *failed = full ? n : wrong;
  return full;
}

/* ---- the day of a new bench ---- */

static gboolean
has_sweeps (const SpBench *bench)
{
  gboolean any = bench->unkeyed != NULL;
  for (guint i = 0; i < bench->n_conditions; i++)
    any |= bench->conditions[i].n_sweeps > 0;
  return any;
}

double
sp_bench_first_day (const SpBench *bench, double stated_day, double written_day, gboolean *stated)
{
  gboolean begun = !isnan (bench->date_day) || has_sweeps (bench);
  *stated = !begun && !isnan (stated_day);
  return begun ? NAN : *stated ? stated_day : written_day;
}

SpBench *
sp_bench_with_day (const SpBench *bench, double day, GError **error)
{
  if (isnan (day))
    return sp_bench_ref (bench);
  GDate date;
  char text[16];
  g_date_clear (&date, 1);
  g_date_set_julian (&date, (guint32) day);
  g_snprintf (text, sizeof text, "%04u-%02u-%02u", g_date_get_year (&date), g_date_get_month (&date), g_date_get_day (&date));
  return sp_bench_set (bench, "date", text, error);
}
