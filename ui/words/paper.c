/* paper.c - a paper's fixed sentences, and those on the bench */
#include "ui/words/paper.h"

#include "core/compare/waveband.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define NARROW "\342\200\257" /* U+202F */

const char *
sp_words_key_cautions (void)
{
  return _ (
      "Key only into the chain or a load, every connector tight, nobody touching the line: radio-frequency power burns the skin and is "
      "felt too late. A pad must be rated for the power that goes into it, and for how long. A licensed person keys.");
}

const char *
sp_words_no_certificate (void)
{
  return _ (
      "It is no certificate and no approval. It tells what this one radio gave at its antenna socket, through a cable, into 50\342\200\257"
      "ohm, on that day and with the settings named. It says nothing of what an antenna radiates, of other radios of its kind, or of "
      "the law beyond the rule quoted.");
}

const char *
sp_words_card_cautions (void)
{
  return _ ("What this one radio gave at its socket, into 50\342\200\257ohm, on that day. Key only into a load; radio-frequency power "
            "burns. A licensed "
            "person keys.");
}

const char *
sp_words_room_note (void)
{
  return _ ("Room: limit less level, or less the radio's part. Of several not seen, that with least room. < : under this it would not have "
            "shown.");
}

const char *
sp_words_room_note_short (void)
{
  return _ ("Room: limit less level. < : under this it would not have shown.");
}

char *
sp_words_rule (const SpBench *bench)
{
  return g_strdup (bench->decision_rule == SP_DECISION_RULE_GUARDED ? _ ("guarded, U 95\342\200\257%")
                                                                    : _ ("simple, U 95\342\200\257% shown"));
}

char *
sp_words_rule_named (const SpBench *bench)
{
  if (bench->decision_rule == SP_DECISION_RULE_GUARDED)
    return g_strdup (_ (
        "Guarded (JCGM 106, 8.3; ILAC-G8, 4.2: guard band U). Complies if level + U lies under the limit, exceeds if level \342\210\222 U "
        "lies "
        "over it. Between: inconclusive. Not seen counts only where it would have been seen; of what is read, only the radio's own part."));
  return g_strdup (
      _ ("Simple acceptance (JCGM 106, 8.2; ILAC-G8, 4.2: no guard). The level alone is compared with the limit, U is shown beside it: "
         "near the limit the verdict is wrong up to every second time. Not seen counts only where it would have been seen."));
}

char *
sp_words_method (const SpBench *bench)
{
  g_autofree char *temperature = isnan (bench->temperature_c) ? NULL : sp_words_number (bench->temperature_c, 0, SP_HAND_SCREEN);
  g_autofree char *warm = temperature ? g_strdup_printf (_ (" Temperature %s\342\200\257\302\260C."), temperature) : g_strdup ("");
  return g_strconcat (
      _ ("Key down, through the chain, into the analyzer; each reading corrected by the chain's loss at its own frequency to "
         "the level at the radio's socket. Whose an emission is, more attenuation, a sweep with the key up or the analyzer's profile "
         "tells."),
      warm, NULL);
}

/* ---- the lead ---- */

/* "2 m high", "70 cm" */
static gboolean
begins_as_band (const char *name)
{
  char *end;
  g_ascii_strtod (name, &end);
  if (end == name || *end != ' ')
    return FALSE;
  gsize length = strcspn (end + 1, " ,");
  return (length == 1 && end[1] == 'm') || (length == 2 && (strncmp (end + 1, "cm", 2) == 0 || strncmp (end + 1, "mm", 2) == 0));
}

char *
sp_words_lead (SpVerdict verdict, const char *condition)
{
  const char *word = sp_words_verdict_first (verdict);
  if (!condition || !*condition)
    return g_strdup_printf ("%s:", word);
  return begins_as_band (condition) ? g_strdup_printf (_ ("%s on %s:"), word, condition) : g_strdup_printf (_ ("%s, %s:"), word, condition);
}

char *
sp_words_deeper (const char *condition)
{
  return g_strdup_printf (_ ("Same radio, band, power and evening. The sweep %s sees deeper: it is the one that answers."), condition);
}

/* ---- ages ---- */

char *
sp_words_age (const SpAge *age)
{
  if (isnan (age->day))
    return g_strdup (_ ("no date of measurement given"));
  g_autofree char *day = sp_words_day (age->day), *days = sp_words_number (age->age_days, 0, SP_HAND_SCREEN),
                  *interval = sp_words_number (age->interval_days, 0, SP_HAND_SCREEN);
  if (isnan (age->age_days))
    return g_strdup_printf (_ ("measured %s"), day);
  if (age->age_days < 0) {
    g_autofree char *later = sp_words_number (-age->age_days, 0, SP_HAND_SCREEN);
    return g_strdup_printf (_ ("measured %s, %s days after this bench: it says nothing of that day"), day, later);
  }
  if (age->overdue)
    return g_strdup_printf (_ ("measured %s (%s days before: overdue, good for %s)"), day, days, interval);
  if (isnan (age->interval_days))
    return g_strdup_printf (_ ("measured %s (%s days before)"), day, days);
  return g_strdup_printf (_ ("measured %s (%s days before; good for %s)"), day, days, interval);
}

char *
sp_words_chain_age (const SpBench *bench, const SpChain *chain)
{
  SpAge age = sp_digest_chain_age (bench, chain);
  g_autofree char *words = sp_words_age (&age);
  return g_strdup_printf ("%s, %.6s, %s", chain->name, chain->sha256, words);
}

/* ---- the summary ---- */

static const char *
verdicts_plural (SpVerdict verdict, gboolean one)
{
  switch (verdict) {
  case SP_VERDICT_COMPLIES: return one ? _ ("complies") : _ ("comply");
  case SP_VERDICT_EXCEEDS: return one ? _ ("exceeds") : _ ("exceed");
  default: return NULL;
  }
}

#define NAMED_MOST 5 /* conditions of a verdict, by name */

static void
add_names (const SpFindings *findings, const guint *order, guint n, SpVerdict verdict, SpWordsRun run, gpointer data)
{
  guint told = 0, all = 0;
  for (guint k = 0; k < n; k++)
    all += findings->conditions[order[k]].verdict == verdict ? 1 : 0;
  for (guint k = 0; k < n && told < NAMED_MOST; k++) {
    const SpConditionFindings *found = &findings->conditions[order[k]];
    if (found->verdict != verdict)
      continue;
    const SpCondition *condition = &findings->bench->conditions[found->condition];
    const char *radio = findings->bench->radios[condition->radio].name, *name = condition->name ? condition->name : "";
    g_autofree char *said = !*name                  ? g_strdup (radio)
                            : begins_as_band (name) ? g_strdup_printf (_ ("%s on %s"), radio, name)
                                                    : g_strdup_printf ("%s (%s)", radio, name);
    run (data, told++ ? ", " : "", FALSE);
    run (data, said, FALSE);
  }
  if (all > told) {
    g_autofree char *more = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, " and %u more", " and %u more", all - told), all - told);
    run (data, more, FALSE);
  }
  run (data, ". ", FALSE);
}

/* Of the worst condition that does not comply, its own sentence. */
static void
add_worst (const SpFindings *findings, const guint *order, guint n, SpWordsRun run, gpointer data)
{
  const SpConditionFindings *worst = n ? &findings->conditions[order[0]] : NULL;
  if (!worst || worst->verdict <= SP_VERDICT_COMPLIES)
    return;
  const SpCondition *condition = &findings->bench->conditions[worst->condition];
  g_autofree char *tail = sp_words_statement_tail (worst, SP_HAND_SCREEN);
  g_autofree char *said = g_strdup_printf (_ ("Of %s: %s"), findings->bench->radios[condition->radio].name, tail);
  run (data, said, FALSE);
}

void
sp_words_summary (const SpFindings *findings, const guint *order, guint n, SpWordsRun run, gpointer data)
{
  guint tally[SP_VERDICT_EXCEEDS + 1];
  sp_digest_tally (findings, order, n, tally);
  g_autofree char *all = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u condition was keyed into the chain. ",
                                                       "%u conditions were keyed, one after another, into the chain. ", n),
                                          n);
  run (data, all, FALSE);
  for (int verdict = SP_VERDICT_EXCEEDS; verdict >= 0; verdict--) {
    if (!tally[verdict])
      continue;
    const char *verb = verdicts_plural ((SpVerdict) verdict, tally[verdict] == 1);
    g_autofree char *count = g_strdup_printf (verb ? "%u " : g_dngettext (GETTEXT_PACKAGE, "%u is ", "%u are ", tally[verdict]),
                                              tally[verdict]);
    g_autofree char *no_limit = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u has ", "%u have ", tally[verdict]), tally[verdict]);
    run (data, verdict == SP_VERDICT_NO_LIMIT ? no_limit : count, FALSE);
    run (data, verb ? verb : sp_words_verdict ((SpVerdict) verdict), TRUE);
    run (data, ": ", FALSE);
    add_names (findings, order, n, (SpVerdict) verdict, run, data);
  }
  add_worst (findings, order, n, run, data);
}
