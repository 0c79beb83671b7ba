/* statement.c - the sentence on a condition, for a radio's owner: what follows the word of its verdict */
#include "ui/words/paper.h"
#include "ui/words/speak.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* by hand: one code a row; a sentence breaks where its text does */
/* clang-format off */
WHEN (stands_over, STATES_PART_BELOW, f->over_db > 0)
WHEN (analyzers_own, STATES_PART_BELOW, f->over_db > 0 && f->analyzer)
WHEN (weakened, STATES_PART_BELOW, f->part_dbm > f->level_dbm)
WHEN (nothing_seen, STATES_UNSEEN, f->nothing_seen)
WHEN (no_floor, STATES_CLEAR, isnan (f->off_db))
WHEN (exceeds_unmeasured, STATES_EXCEEDS, f->uncalibrated)
WHEN (part_exceeds, STATES_EXCEEDS, f->part)
WHEN (part_less, STATES_EXCEEDS, !isnan (f->part_over_db))
WHEN (lies_over, STATES_WITHIN_U, f->over)
WHEN (part_from_nothing, STATES_PART_STRADDLES, !isfinite (f->part_low_dbm))
WHEN (floor_over, STATES_FLOOR, f->over)
WHEN (reads_over, STATES_WHOSE, f->over)
WHEN (part_hides, STATES_WHOSE, f->tested)
WHEN (ambient_over, STATES_AMBIENT, f->over)
WHEN (coarse_seen, STATES_COARSE, f->seen)
WHEN (no_sweep, STATES_NOT_SWEPT, isnan (f->swept_to_hz))
WHEN (sweep_ends, STATES_NOT_SWEPT, f->swept_to_hz < f->at_hz)
WHEN (gap_and_another, STATES_GAP, f->others == 1)
WHEN (gap_and_others, STATES_GAP, f->others > 1)

static const Sentence *const stated[] = {
#define SAYS(CODE, ...) [SP_REASON_##CODE] = SENTENCES (__VA_ARGS__),
#define ALWAYS(text) { NULL, text }

SAYS (STATES_NO_LIMIT, ALWAYS (N_ ("the rule quoted sets no number here; the levels stand for information.")))
SAYS (STATES_BELOW, ALWAYS (N_ ("nearest to the limit is the {emission}, {off_db} dB under it, known to \302\261 {expanded_db} dB.")))
SAYS (STATES_PART_BELOW,
  { analyzers_own, N_ ("what stands over the limit at the {emission} is the analyzer's own. At most {part_dbm} of it is the radio's, "
                       "{off_db} dB under the limit, U {expanded_db} dB.") },
  { stands_over, N_ ("what stands over the limit at the {emission} is not the radio's alone. At most {part_dbm} of it is the "
                     "radio's, {off_db} dB under the limit, U {expanded_db} dB.") },
  { weakened, N_ ("nearest to the limit is the {emission}. It reads {level_dbm} and is not the radio's alone; as much as {part_dbm} may be, "
                  "since two signals can weaken each other: {off_db} dB under the limit, U {expanded_db} dB.") },
  ALWAYS (N_ ("nearest to the limit is the {emission}. At most {part_dbm} of it is the radio's, {off_db} dB under the limit, U "
              "{expanded_db} dB.")))
SAYS (STATES_UNSEEN,
  { nothing_seen, N_ ("nothing was seen, and a harmonic {off_db} dB under the limit would have shown, U {expanded_db} dB.") },
  ALWAYS (N_ ("nearest to the limit is what was not seen: the {emission} would have shown {off_db} dB under it, U {expanded_db} dB.")))
SAYS (STATES_CLEAR,
  { no_floor, N_ ("nothing stands over the limit in the range that it asks for.") },
  ALWAYS (N_ ("nothing stands over the limit in the range that it asks for, and {off_db} dB under it would have shown.")))
SAYS (STATES_EXCEEDS,
  { exceeds_unmeasured, N_ ("the {emission} stands {off_db} dB over the limit, U {expanded_db} dB: more than a chain that was not "
                            "measured there could make of it.") },
  { part_exceeds, N_ ("what is the radio's own of the {emission} stands at least {off_db} dB over the limit, U {expanded_db} dB.") },
  { part_less, N_ ("the {emission} reads {off_db} dB over the limit, and what is the radio's own of it stands at least {part_over_db} dB "
                   "over, U {expanded_db} dB.") },
  ALWAYS (N_ ("the {emission} stands {off_db} dB over the limit, known to \302\261 {expanded_db} dB, and it is the radio's own.")))
SAYS (STATES_WITHIN_U,
  { lies_over, N_ ("the {emission} lies {off_db} dB over the limit, but is known only to \302\261 {expanded_db} dB.") },
  ALWAYS (N_ ("the {emission} lies {off_db} dB under the limit, but is known only to \302\261 {expanded_db} dB.")))
SAYS (STATES_PART_STRADDLES,
  { part_from_nothing, N_ ("of the {emission} anything up to {part_high_dbm} can be the radio's, U {expanded_db} dB, and the limit "
                           "lies within that.") },
  ALWAYS (N_ ("of the {emission} between {part_low_dbm} and {part_high_dbm} are the radio's, U {expanded_db} dB, and the limit lies "
              "within that.")))
SAYS (STATES_FLOOR,
  { floor_over, N_ ("{proven}the {emission} was not seen, and as much as {off_db} dB over the limit would not have shown, U "
                    "{expanded_db} dB.") },
  ALWAYS (N_ ("{proven}the {emission} was not seen, and would have shown from {off_db} dB under the limit on: with U {expanded_db} "
              "dB that is {short_db} dB short.")))
SAYS (STATES_WHOSE,
  { reads_over, N_ ("the {emission} reads {off_db} dB over the limit, U {expanded_db} dB, and nobody can tell yet how much of it is "
                    "the analyzer's.") },
  { part_hides, N_ ("the {emission} stands {off_db} dB under the limit, but as much as {part_dbm} of the radio's may be hidden by "
                    "the analyzer, U {expanded_db} dB: {short_db} dB short.") },
  ALWAYS (N_ ("the {emission} stands {off_db} dB under the limit, but nobody can tell yet whose it is: with U {expanded_db} dB that "
              "is {short_db} dB short.")))
SAYS (STATES_AMBIENT,
  { ambient_over, N_ ("the {emission} reads {off_db} dB over the limit, but something stands there with the key up too.") },
  ALWAYS (N_ ("the {emission} reads {off_db} dB under the limit, but what stands there with the key up may hide more of it.")))
SAYS (STATES_BOUND, ALWAYS (N_ ("of the {emission} the sweep tells only that it lies between {low_dbm} and {high_dbm}, with the "
                                "limit of {limit_dbm} within.")))
SAYS (STATES_COARSE,
  { coarse_seen, N_ ("{proven}the sweep's points lie so far apart that the {emission} may be higher than it reads.") },
  ALWAYS (N_ ("{proven}the sweep's points lie so far apart that the {emission} may fall between them.")))
SAYS (STATES_NOT_SWEPT,
  { no_sweep, N_ ("no sweep was taken.") },
  { sweep_ends, N_ ("{proven}the sweep ends at {swept_to_hz}, below the {emission} at {at_hz}.") },
  ALWAYS (N_ ("{proven}no sweep covers the {emission} at {at_hz}.")))
SAYS (STATES_UNCALIBRATED, ALWAYS (N_ ("{proven}the chain was not measured at {uncalibrated_hz}, so the {emission} is not known.")))
SAYS (STATES_UNRESOLVED, ALWAYS (N_ ("{proven}the sweep is too coarse to tell the {emission} at {at_hz} from what stands beside it.")))
SAYS (STATES_NO_POWER, ALWAYS (N_ ("the limit follows the radio's power, and that is not known.")))
SAYS (STATES_MORE_POWER, ALWAYS (N_ ("the carrier is clipped: the power is {power_dbm} or more, and the limit follows it.")))
SAYS (STATES_NO_CARRIER, ALWAYS (N_ ("no sweep shows the carrier where it should stand.")))
SAYS (STATES_GAP,
  { gap_and_another, N_ ("{proven}nothing is shown from {from_hz} to {to_hz} and in one other stretch ({because}).") },
  { gap_and_others, N_ ("{proven}nothing is shown from {from_hz} to {to_hz} and in {others} other stretches ({because}).") },
  ALWAYS (N_ ("{proven}nothing is shown from {from_hz} to {to_hz} ({because}).")))
};

WHEN (short_known, STATES_GAP, f->short_db > 0)
static const Sentence because[] = { { short_known, N_ ("{why_words}, {short_db} dB short") }, { NULL, "{why_words}" }, { NULL, NULL } };
/* clang-format on */

static char *
decides (const SpReason *reason, SpHand hand)
{
  const __typeof__ (reason->STATES_BELOW) *f = &reason->STATES_BELOW; /* the others begin alike */
  SpEmission one = { .order = f->order > 0 ? (guint) f->order : 0, .frequency_hz = f->at_hz };
  return sp_words_emission (&one, hand);
}

static char *
up_to (double order, SpHand hand)
{
  SpEmission last = { .order = order > 0 ? (guint) order : 0 };
  g_autofree char *name = sp_words_emission (&last, hand);
  return order > 1 ? g_strdup_printf (_ ("clean up to its %s, but "), name) : g_strdup ("");
}

static char *
proven (const SpReason *reason, SpHand hand)
{
  return up_to (reason->STATES_FLOOR.proven_order, hand); /* the others begin alike */
}

static char *
gap_proven (const SpReason *reason, SpHand hand)
{
  return up_to (reason->STATES_GAP.proven_order, hand);
}

static char *
gap_why (const SpReason *reason, SpHand hand)
{
  (void) hand;
  return g_strdup (sp_words_gap_why ((SpReasonCode) reason->STATES_GAP.why));
}

#define SAYS_EMISSION(CODE)                                                                                                                \
  {                                                                                                                                        \
    SP_REASON_STATES_##CODE, "emission", NULL, FALSE, decides                                                                              \
  }
#define SAYS_PROVEN(CODE)                                                                                                                  \
  SAYS_EMISSION (CODE),                                                                                                                    \
  {                                                                                                                                        \
    SP_REASON_STATES_##CODE, "proven", NULL, FALSE, proven                                                                                 \
  }
const Phrase statement_phrases[] = {
  SAYS_EMISSION (BELOW),
  SAYS_EMISSION (PART_BELOW),
  SAYS_EMISSION (UNSEEN),
  SAYS_EMISSION (EXCEEDS),
  SAYS_EMISSION (WITHIN_U),
  SAYS_EMISSION (PART_STRADDLES),
  SAYS_PROVEN (FLOOR),
  SAYS_EMISSION (WHOSE),
  SAYS_EMISSION (AMBIENT),
  SAYS_EMISSION (BOUND),
  SAYS_PROVEN (COARSE),
  SAYS_PROVEN (NOT_SWEPT),
  SAYS_PROVEN (UNCALIBRATED),
  SAYS_PROVEN (UNRESOLVED),
  { SP_REASON_STATES_GAP, "proven", NULL, FALSE, gap_proven },
  { SP_REASON_STATES_GAP, "because", because, FALSE, NULL },
  { SP_REASON_STATES_GAP, "why_words", NULL, FALSE, gap_why },
};
const gsize n_statement_phrases = G_N_ELEMENTS (statement_phrases);

const Sentence *
statement_of (SpReasonCode code)
{
  return (gsize) code < G_N_ELEMENTS (stated) ? stated[code] : NULL;
}

/* ---- the whole ---- */

const char *
sp_words_verdict_first (SpVerdict verdict)
{
  switch (verdict) {
  case SP_VERDICT_COMPLIES: return _ ("Complies");
  case SP_VERDICT_EXCEEDS: return _ ("Exceeds");
  case SP_VERDICT_INCONCLUSIVE: return _ ("Inconclusive");
  case SP_VERDICT_NOT_PROVEN: return _ ("Not proven");
  case SP_VERDICT_NO_LIMIT: return _ ("No limit");
  }
  g_return_val_if_reached ("");
}

/* The emission that is unsettled over its limit while another decides. */
static char *
besides (const SpConditionFindings *found, SpHand hand)
{
  const SpEmission *unsettled = sp_findings_unsettled (found);
  if (!unsettled)
    return g_strdup ("");
  g_autofree char *name = sp_words_emission (unsettled, hand), *over = sp_words_number (-unsettled->margin_db, 1, hand);
  return g_strdup_printf (_ (" Besides, the %s reads %s dB over; whose it is is not shown."), name, over);
}

static char *
overloaded (const SpConditionFindings *found, SpHand hand)
{
  const SpReason *overload = sp_findings_overload (found);
  if (!overload)
    return g_strdup ("");
  g_autofree char *over = sp_words_number (overload->OVERLOAD.over_db, 0, hand);
  return g_strdup_printf (_ (" The analyzer was overloaded, by %s dB at its mixer."), over);
}

char *
sp_words_statement_tail (const SpConditionFindings *found, SpHand hand)
{
  g_autofree char *tail = sp_words_reason (found->statement, hand), *more = besides (found, hand), *over = overloaded (found, hand);
  return g_strconcat (tail, more, over, NULL);
}

char *
sp_words_statement (const SpConditionFindings *found, SpHand hand)
{
  g_autofree char *tail = sp_words_statement_tail (found, hand);
  return g_strdup_printf ("%s: %s", sp_words_verdict_first (found->verdict), tail);
}

char *
sp_words_explanation (const SpConditionFindings *found, SpHand hand)
{
  const SpEmission *deciding = sp_findings_deciding (found);
  g_autoptr (GPtrArray) said = g_ptr_array_new_with_free_func (g_free);
  if (deciding && deciding->reason) {
    g_autofree char *name = sp_words_emission (deciding, hand), *reason = sp_words_reason (deciding->reason, hand);
    g_ptr_array_add (said, g_strdup_printf (_ ("The %s: %s"), name, reason));
  }
  char *not_shown = sp_words_not_shown (found, hand), *unsettled = sp_words_unsettled (found, hand);
  if (deciding && deciding->would_prove)
    g_ptr_array_add (said, sp_words_reason (deciding->would_prove, hand));
  if (not_shown)
    g_ptr_array_add (said, not_shown);
  if (unsettled)
    g_ptr_array_add (said, unsettled);
  g_ptr_array_add (said, NULL);
  return g_strjoinv (" ", (char **) said->pdata);
}

char *
sp_words_second (const SpFindings *findings, guint condition, SpHand hand)
{
  const SpConditionFindings *second = sp_findings_second (findings, condition);
  if (!second)
    return NULL;
  const SpMask *mask = sp_condition_second_mask (findings->bench, &findings->bench->conditions[condition]);
  g_autofree char *said = sp_words_statement (second, hand), *name = sp_words_mask (mask);
  return g_strdup_printf (_ ("Second mask, %s. %s"), name, said);
}
