/* words.c - the words of findings: verdicts, origins, terms, emissions, faults, and the line on safety */
#include "ui/words/words.h"

#include "core/quantity/clean.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

const char *
sp_words_verdict (SpVerdict verdict)
{
  switch (verdict) {
  case SP_VERDICT_COMPLIES: return _ ("complies");
  case SP_VERDICT_EXCEEDS: return _ ("exceeds");
  case SP_VERDICT_INCONCLUSIVE: return _ ("inconclusive");
  case SP_VERDICT_NOT_PROVEN: return _ ("not proven");
  case SP_VERDICT_NO_LIMIT: return _ ("no limit");
  }
  g_return_val_if_reached ("");
}

const char *
sp_words_origin (SpOrigin origin)
{
  switch (origin) {
  case SP_ORIGIN_NONE: return "";
  case SP_ORIGIN_RADIO: return _ ("radio");
  case SP_ORIGIN_ANALYZER: return _ ("analyzer");
  case SP_ORIGIN_MIXED: return _ ("mixed");
  case SP_ORIGIN_AMBIENT: return _ ("ambient");
  case SP_ORIGIN_UNTESTED: return _ ("untested");
  }
  g_return_val_if_reached ("");
}

const char *
sp_words_origin_basis (SpOriginBasis basis)
{
  switch (basis) {
  case SP_BASIS_NONE: return NULL;
  case SP_BASIS_PREDICTED: return _ ("predicted");
  case SP_BASIS_STEP: return _ ("step");
  case SP_BASIS_UNKEYED: return _ ("unkeyed");
  }
  g_return_val_if_reached (NULL);
}

char *
sp_words_seen (const SpEmission *emission, double value, SpHand hand)
{
  if (sp_emission_is_blind (emission))
    return g_strdup (_ ("blind"));
  g_autofree char *number = sp_words_number (value, 1, hand);
  if (emission->detected || !emission->swept || isnan (value))
    return g_steal_pointer (&number);
  return g_strconcat (hand == SP_HAND_MACHINE ? "<" : "< ", number, NULL);
}

char *
sp_words_floor (const SpOutlook *outlook, SpHand hand)
{
  return sp_outlook_is_blind (outlook) ? g_strdup (_ ("blind")) : sp_words_number (outlook->floor_dbm, 1, hand);
}

char *
sp_words_missing (const SpOutlook *outlook, SpHand hand)
{
  return sp_words_signed (sp_outlook_is_blind (outlook) ? NAN : outlook->missing_db, 1, hand);
}

char *
sp_words_best_mixer (double best_dbm, gboolean assumed, SpHand hand)
{
  g_autofree char *level = sp_words_level (best_dbm, 1, hand);
  return assumed ? g_strdup_printf (_ ("%s (assumed: nobody states the analyzer's best level)"), level) : g_steal_pointer (&level);
}

char *
sp_words_room (const SpEmission *emission, SpHand hand)
{
  if (emission->decision == SP_DECISION_BLIND)
    return g_strdup (_ ("blind"));
  if (!sp_emission_room_is_known (emission) && !isnan (sp_emission_deciding_margin_db (emission)))
    return g_strdup (_ ("unknown"));
  double room_db = sp_emission_room_db (emission);
  return isnan (room_db) ? g_strdup ("") : sp_words_signed (room_db, 1, hand);
}

char *
sp_words_room_u (const SpEmission *emission, SpHand hand)
{
  g_autofree char *room = sp_words_room (emission, hand);
  double expanded_db = sp_emission_deciding_expanded_db (emission);
  if (isnan (sp_emission_room_db (emission)) || isnan (expanded_db))
    return g_steal_pointer (&room);
  g_autofree char *u = sp_words_number (expanded_db, 1, hand);
  return g_strdup_printf ("%s\302\240\302\261\302\240%s", room, u);
}

char *
sp_words_deciding_margin (const SpConditionFindings *found, SpHand hand)
{
  const SpEmission *deciding = sp_findings_deciding (found);
  return deciding ? sp_words_room (deciding, hand) : g_strdup ("");
}

char *
sp_words_unsettled (const SpConditionFindings *found, SpHand hand)
{
  const SpEmission *unsettled = sp_findings_unsettled (found);
  if (!unsettled)
    return NULL;
  g_autofree char *name = sp_words_emission (unsettled, hand), *over = sp_words_number (-unsettled->margin_db, 1, hand);
  g_autofree char *why = unsettled->reason ? sp_words_reason (unsettled->reason, hand) : g_strdup ("");
  g_autofree char *proof = unsettled->would_prove ? sp_words_reason (unsettled->would_prove, hand) : NULL;
  return g_strdup_printf (_ ("Not settled: the %s, %s dB above its limit. %s%s%s"), name, over, why, proof ? " " : "", proof ? proof : "");
}

const char *
sp_words_purpose (SpPurpose purpose)
{
  static const char *const words[] = { N_ ("keyed"), N_ ("not keyed"), N_ ("step: more attenuation"), N_ ("notched"), N_ ("superseded") };
  return _ (words[purpose]);
}

char *
sp_words_through (SpPurpose purpose, const SpChain *chain)
{
  if (chain)
    return g_strdup_printf (_ ("through %s"), chain->name);
  return g_strdup (purpose == SP_PURPOSE_NOTCHED ? _ ("not used before it has a chain: what does the notch take from the harmonics?")
                                                 : _ ("through the condition's chain, the analyzer's own attenuator changed"));
}

char *
sp_words_radio_part (const SpEmission *emission, SpHand hand)
{
  g_autofree char *low = sp_words_number (emission->radio_low_dbm, 1, hand), *high = sp_words_number (emission->radio_high_dbm, 1, hand);
  if (isnan (emission->radio_high_dbm))
    return g_steal_pointer (&high);
  return isinf (emission->radio_low_dbm) ? g_strconcat ("<", high, NULL) : g_strconcat (low, " .. ", high, NULL);
}

const char *
sp_words_cause (SpFloorCause cause)
{
  switch (cause) {
  case SP_CAUSE_NOISE: return _ ("noise");
  case SP_CAUSE_PHASE_NOISE: return _ ("phase noise");
  case SP_CAUSE_SKIRT: return _ ("skirt");
  case SP_CAUSE_PRODUCT: return _ ("distortion");
  }
  g_return_val_if_reached ("");
}

const char *
sp_words_outlook_cause (const SpOutlook *o)
{
  if (isnan (o->floor_dbm) || sp_outlook_is_blind (o))
    return "";
  return sp_outlook_is_by_step (o) ? _ ("distortion, by steps") : sp_words_cause (o->cause);
}

char *
sp_words_emission (const SpEmission *emission, SpHand hand)
{
  /* each ordinal is a whole string, since languages form them differently */
  static const char *const harmonics[] = {
    N_ ("2nd harmonic"),  N_ ("3rd harmonic"),  N_ ("4th harmonic"),  N_ ("5th harmonic"),  N_ ("6th harmonic"),
    N_ ("7th harmonic"),  N_ ("8th harmonic"),  N_ ("9th harmonic"),  N_ ("10th harmonic"), N_ ("11th harmonic"),
    N_ ("12th harmonic"), N_ ("13th harmonic"), N_ ("14th harmonic"), N_ ("15th harmonic"),
  };
  if (emission->order == 1)
    return g_strdup (_ ("fundamental"));
  if (emission->order >= 2 && emission->order < 2 + G_N_ELEMENTS (harmonics))
    return g_strdup (_ (harmonics[emission->order - 2]));
  if (emission->order)
    return g_strdup_printf (_ ("harmonic of order %u"), emission->order);
  g_autofree char *frequency = sp_words_frequency (emission->frequency_hz, 0, hand);
  return g_strdup_printf (_ ("spur at %s"), frequency);
}

char *
sp_words_fault (const SpFault *fault, const SpChain *chain)
{
  const char *first = chain->stages[fault->stages[0]]->name;
  switch (fault->kind) {
  case SP_FAULT_LEFT_OUT: return g_strdup_printf (_ ("%s left out"), first);
  case SP_FAULT_SWAPPED: return g_strdup_printf (_ ("%s and %s swapped"), first, chain->stages[fault->stages[1]]->name);
  case SP_FAULT_REVERSED: return g_strdup_printf (_ ("%s the wrong way round"), first);
  }
  g_return_val_if_reached (g_strdup (""));
}

static const char *
node_name (const char *node)
{
  return !node || strcmp (node, "analyzer") == 0 ? _ ("the analyzer") : node;
}

static char *
fault_harm (const SpFault *fault, const SpChain *chain, gboolean dotted, SpHand hand)
{
  g_autofree char *plain = sp_words_fault (fault, chain);
  g_autofree char *what = dotted ? g_strdup_printf (_ ("%s (dotted)"), plain) : g_strdup (plain);
  if (fault->headroom_db < 0) {
    g_autofree char *takes = sp_words_power (fault->power_w, hand), *rated = sp_words_power (fault->rating_w, hand);
    return g_strdup_printf (_ ("with %s: %s into %s, rated %s"), what, takes, node_name (fault->worst_node), rated);
  }
  if (fault->reflects) {
    g_autofree char *seen = sp_words_number (fault->return_loss_db, 1, hand);
    return g_strdup_printf (_ ("unsafe with %s: %s throws the carrier back, return loss %s\342\200\257dB"), what,
                            chain->stages[fault->reflector]->name, seen);
  }
  if (isnan (fault->headroom_db))
    return g_strdup_printf (_ ("with %s its rating does not hold"), what);
  g_autofree char *left = sp_words_number (fault->headroom_db, 1, hand);
  return g_strdup_printf (_ ("worst single fault: %s leaves %s\342\200\257dB"), what, left);
}

/* 0: exceeds a rating; 1: reflects the carrier; 2: its rating is unknown; 3: harmless. */
static guint
harm_of (const SpFault *fault)
{
  return fault->headroom_db < 0 ? 0 : fault->reflects ? 1 : isnan (fault->headroom_db) ? 2 : 3;
}

char *
sp_words_faults (const SpHeadroom *headroom, const SpChain *chain, gboolean dotted, SpHand hand)
{
  g_autoptr (GString) line = g_string_new (NULL);
  gboolean told[4] = { FALSE };
  for (guint i = 0; i < headroom->n_faults; i++) {
    guint harm = harm_of (&headroom->faults[i]);
    if (told[harm] || (harm == 3 && i > 0))
      continue;
    told[harm] = TRUE;
    g_autofree char *sentence = fault_harm (&headroom->faults[i], chain, dotted && i == 0, hand);
    g_string_append_printf (line, "%s%s", line->len ? "; " : "", sentence);
  }
  return line->len ? g_strdup (line->str) : NULL;
}

char *
sp_words_unit (SpLevelUnit unit, double scale)
{
  static const struct {
    double scale;
    const char *prefix;
  } prefixes[] = { { 1e6, "M" }, { 1e3, "k" }, { 1e-3, "m" }, { 1e-6, "u" }, { 1e-9, "n" }, { 1e-12, "p" }, { 1e-15, "f" } };
  for (guint i = 0; i < G_N_ELEMENTS (prefixes); i++)
    if (fabs (scale / prefixes[i].scale - 1) < 1e-6)
      return g_strconcat (prefixes[i].prefix, sp_level_unit_name (unit), NULL);
  return g_strdup (sp_level_unit_name (unit));
}

/* The UNSAFE reason with the least headroom of all conditions, and the number of exceeded ratings. */
static const SpReason *
worst_place (const SpFindings *findings, guint *n_places)
{
  g_autoptr (GHashTable) places = g_hash_table_new (g_str_hash, g_str_equal);
  const SpReason *worst = NULL;
  for (guint c = 0; c < findings->n; c++) {
    const SpHeadroom *headroom = findings->conditions[c].headroom;
    for (guint i = 0; headroom && i < headroom->reasons->len; i++) {
      const SpReason *reason = g_ptr_array_index (headroom->reasons, i);
      if (reason->code != SP_REASON_UNSAFE)
        continue;
      g_hash_table_add (places, reason->UNSAFE.place ? (char *) reason->UNSAFE.place : (char *) "");
      if (!worst || reason->UNSAFE.headroom_db < worst->UNSAFE.headroom_db)
        worst = reason;
    }
  }
  *n_places = g_hash_table_size (places);
  return worst;
}

char *
sp_words_safety (const SpFindings *findings, SpHand hand)
{
  guint n = 0;
  if (findings->safe)
    return NULL;
  const SpReason *worst = worst_place (findings, &n);
  if (!worst)
    return g_strdup (_ ("Unsafe: a rating is exceeded."));
  g_autofree char *sentence = sp_words_reason (worst, hand);
  if (n == 1)
    return g_steal_pointer (&sentence);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s And %u more place is over-rated.", "%s And %u more places are over-rated.",
                                       n - 1),
                          sentence, n - 1);
}

static void
add_unrated (GPtrArray *names, const SpHeadroom *headroom)
{
  for (guint k = 0; headroom && k < headroom->n_nodes; k++) {
    const SpNode *node = &headroom->nodes[k];
    const char *name = node->stage >= 0 ? node->name : _ ("analyzer");
    if (!(node->rating_w > 0) && !g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL))
      g_ptr_array_add (names, (gpointer) name);
  }
}

static char *
joined (GPtrArray *names)
{
  if (!names->len)
    return NULL;
  g_ptr_array_add (names, NULL);
  g_autofree char *text = g_strjoinv (", ", (char **) names->pdata);
  return sp_clean (text);
}

char *
sp_words_unrated_in (const SpHeadroom *headroom)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  add_unrated (names, headroom);
  return joined (names);
}

char *
sp_words_unrated (const SpConditionFindings *found)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  add_unrated (names, found->headroom);
  for (guint i = 0; i < found->n_ways; i++)
    add_unrated (names, found->ways[i].headroom);
  return joined (names);
}

char *
sp_words_mask (const SpMask *mask)
{
  const char *title = mask->title ? mask->title : mask->name;
  return mask->clause && *mask->clause ? g_strdup_printf ("%s, %s", title, mask->clause) : g_strdup (title);
}

const char *
sp_words_cautions (void)
{
  return _ (
      "Radio-frequency power burns skin and is felt too late: key only with every connector tight and nobody touching the line. "
      "A pad must be rated for the power that goes into it, and for how long; an over-rated pad fails without a sign, and then the "
      "analyzer's input burns: a few milliwatts too many end it. Transmit only into a load, or with the licence for what is radiated. "
      "Limits are quoted as help: local rules and the practice of licensed and qualified people come first.");
}
