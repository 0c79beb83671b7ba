/* paper-says.c - a paper's sentences on one condition: how sure, what was not looked at, what would settle it, what its chart shows */
#include "ui/words/paper.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static const SpCondition *
condition_of (const SpFindings *findings, guint condition)
{
  return &findings->bench->conditions[findings->conditions[condition].condition];
}

/* ---- how sure, not looked at, settle ---- */

static char *
largest_part (const SpFindings *findings, guint condition)
{
  g_autoptr (SpWhy) why = sp_why (findings, condition, findings->conditions[condition].worst_emission);
  if (!why || why->n_terms == 0)
    return g_strdup ("");
  g_autofree char *k = sp_words_number (why->k, 0, SP_HAND_SCREEN);
  return g_strdup_printf (_ (" (k = %s). The largest part here is %s."), k, sp_words_term (why->terms[0].term->kind));
}

char *
sp_words_how_sure (const SpFindings *findings, guint condition)
{
  g_autofree char *largest = largest_part (findings, condition);
  return g_strdup_printf (
      _ ("\302\261 U holds the true level in 95 of 100 such measurements%s %s"), *largest ? largest : ".",
      findings->bench->decision_rule == SP_DECISION_RULE_GUARDED
          ? _ ("The rule is guarded: 'complies' is said only where level and U together lie under the limit, so that it is "
               "wrong less than once in 40 times.")
          : _ ("The rule compares the level alone; near the limit it is wrong up to every second time."));
}

#define NAMED 2 /* conditions that a paragraph speaks of one by one */

/* The first gap by its ends; why it is one stands on the condition's page. */
static void
add_gap (GString *text, const SpConditionFindings *found)
{
  if (found->n_gaps == 0)
    return;
  double fine_hz = fmin (1e5, (found->gaps[0].to_hz - found->gaps[0].from_hz) / 10); /* so that its ends differ */
  g_autofree char *from = sp_words_frequency (found->gaps[0].from_hz, fine_hz, SP_HAND_SCREEN),
                  *to = sp_words_frequency (found->gaps[0].to_hz, fine_hz, SP_HAND_SCREEN);
  g_string_append_printf (text, _ ("Nothing is shown from %s to %s (%s)"), from, to, sp_words_gap_why (found->gaps[0].why));
  if (found->n_gaps > 1)
    g_string_append_printf (text,
                            g_dngettext (GETTEXT_PACKAGE, ", nor in %u other stretch", ", nor in %u other stretches", found->n_gaps - 1),
                            found->n_gaps - 1);
  g_string_append (text, ". ");
}

/* What one condition's sweeps do not show. */
static void
add_not_shown (GString *text, const SpFindings *findings, guint condition)
{
  const SpConditionFindings *found = &findings->conditions[condition];
  const SpMask *mask = sp_condition_mask (findings->bench, condition_of (findings, condition));
  double from_hz, to_hz;
  add_gap (text, found);
  if (sp_digest_swept (found, &from_hz, &to_hz)) {
    g_autofree char *from = sp_words_frequency (from_hz, 1e5, SP_HAND_SCREEN), *to = sp_words_frequency (to_hz, 1e5, SP_HAND_SCREEN);
    g_string_append_printf (text, _ ("What lies over harmonic %u, and outside %s to %s. "), mask->harmonics, from, to);
  }
}

char *
sp_words_not_looked_at (const SpFindings *findings, const guint *conditions, guint n)
{
  g_autoptr (GString) text = g_string_new (NULL);
  gboolean searched = TRUE;
  guint gaps = 0;
  for (guint i = 0; i < n; i++) {
    const SpConditionFindings *found = &findings->conditions[conditions[i]];
    searched = searched && found->searched;
    gaps += found->n_gaps > 0;
    if (n > 1 && n <= NAMED)
      g_string_append_printf (text, _ ("%s: "), condition_of (findings, conditions[i])->name);
    if (n <= NAMED)
      add_not_shown (text, findings, conditions[i]);
  }
  if (n > NAMED)
    g_string_append_printf (text, _ ("In %u of %u conditions some stretch is not shown, in none what lies outside its sweeps. "), gaps, n);
  g_string_append (text, searched ? _ ("Spurs count in the range that the rule asks for. ")
                                  : _ ("Spurs count where they were swept; the rule asks for no range. "));
  g_string_append (text, _ ("The case, the antenna, other bands, other powers, speech and supply were not tried."));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
sp_words_sure_short (const SpFindings *findings, guint condition)
{
  const SpMask *mask = sp_condition_mask (findings->bench, condition_of (findings, condition));
  gboolean guarded = findings->bench->decision_rule == SP_DECISION_RULE_GUARDED;
  g_autoptr (GString) text = g_string_new (guarded ? _ ("\302\261 U: 95 of 100. Guarded rule: 'complies' only with U to spare. ")
                                                   : _ ("\302\261 U: 95 of 100. Simple rule: the level alone is compared. "));
  g_string_append_printf (text, _ ("Not looked at: over harmonic %u, case, antenna, speech, other powers."), mask->harmonics);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
sp_words_not_looked_at_by_any (const SpFindings *findings, const guint *conditions, guint n)
{
  guint gaps = 0;
  for (guint i = 0; i < n; i++)
    gaps += findings->conditions[conditions[i]].n_gaps > 0 ? 1 : 0;
  g_autofree char *open = g_strdup_printf (
      g_dngettext (GETTEXT_PACKAGE, "What no sweep shows under the carrier or the floor, in %u condition, stands on its page. ",
                   "What no sweep shows under the carrier or the floor, in %u conditions, stands on their pages. ", gaps),
      gaps);
  return g_strconcat (gaps ? open : "",
                      _ ("Spurs count where they were swept. Case, antenna, speech, supply, other powers were not tried. All this holds "
                         "for the radios named, as they were that day: no certificate, and no "
                         "advice on law beyond the rule quoted."),
                      NULL);
}

char *
sp_words_settle (const SpFindings *findings, guint condition)
{
  const SpConditionFindings *found = &findings->conditions[condition];
  const SpEmission *deciding = sp_findings_deciding (found);
  if (found->n_corrected == 0)
    return g_strdup (_ ("Sweep it with the key down."));
  if (found->verdict == SP_VERDICT_NO_LIMIT)
    return g_strdup (_ ("The rule sets no number here."));
  if (found->verdict == SP_VERDICT_COMPLIES)
    return g_strdup (_ ("Nothing is open."));
  if (found->verdict == SP_VERDICT_EXCEEDS)
    return g_strdup (_ ("Mend it and sweep again."));
  const SpReason *proof = deciding && deciding->would_prove ? deciding->would_prove : found->n_gaps > 0 ? found->gaps[0].would_close : NULL;
  g_autoptr (SpReason) own = sp_digest_would_prove (findings, condition, proof);
  return own ? sp_words_reason (own, SP_HAND_SCREEN) : g_strdup (_ ("No other sweep is known that would settle it."));
}

/* ---- settings ---- */

char *
sp_words_keyed_settings (const SpFindings *findings, guint condition)
{
  const SpCondition *c = condition_of (findings, condition);
  const SpEmission *deciding = sp_findings_deciding (&findings->conditions[condition]);
  int sweep = deciding ? deciding->sweep : -1;
  for (guint i = 0; i < c->n_sweeps; i++) {
    const SpSettings *set = &c->sweeps[i].trace->settings;
    if (sweep >= 0 ? (int) i != sweep : c->sweeps[i].purpose != SP_PURPOSE_KEYED)
      continue;
    g_autofree char *rbw = isnan (set->rbw_hz) ? g_strdup (_ ("not stated")) : sp_words_frequency (set->rbw_hz, 0, SP_HAND_SCREEN);
    g_autofree char *attenuation = isnan (set->attenuation_db) ? g_strdup (_ ("not stated"))
                                                               : sp_words_number (set->attenuation_db, 0, SP_HAND_SCREEN);
    const char *detector = sp_words_of_detector (set->detector), *unit = isnan (set->attenuation_db) ? "" : "\342\200\257dB";
    return g_strdup_printf (_ ("RBW\302\240%s, attenuation\302\240%s%s%s%s"), rbw, attenuation, unit, detector ? ", " : "",
                            detector ? detector : "");
  }
  return g_strdup (_ ("No sweep was taken"));
}

char *
sp_words_swept (const SpFindings *findings, guint condition)
{
  const SpCondition *c = condition_of (findings, condition);
  g_autoptr (GString) text = g_string_new (NULL);
  for (int purpose = SP_PURPOSE_KEYED; purpose < SP_PURPOSE_SUPERSEDED; purpose++) {
    guint n = purpose == SP_PURPOSE_UNKEYED && sp_condition_unkeyed (findings->bench, c) ? 1 : 0;
    for (guint i = 0; i < c->n_sweeps && !(n && purpose == SP_PURPOSE_UNKEYED); i++)
      n += (int) c->sweeps[i].purpose == purpose ? 1 : 0;
    if (!n)
      continue;
    g_string_append_printf (text, "%s%s", text->len ? "; " : "", sp_words_purpose ((SpPurpose) purpose));
    if (n > 1)
      g_string_append_printf (text, " (%u)", n);
  }
  return text->len ? g_string_free (g_steal_pointer (&text), FALSE) : g_strdup (_ ("No sweep was taken"));
}

char *
sp_words_power_measured (double power_w, const SpConditionFindings *found)
{
  if (isnan (found->power_dbm))
    return g_strdup (_ ("not known"));
  g_autofree char *power = sp_words_power (power_w, SP_HAND_SCREEN), *level = sp_words_number (found->power_dbm, 1, SP_HAND_SCREEN),
                  *u = sp_words_number (found->power_expanded_db, 1, SP_HAND_SCREEN);
  return g_strdup_printf ("%s, %s\302\240\302\261\302\240%s\342\200\257dBm", power, level, u);
}

/* ---- the chart ---- */

static void
say_origins (GString *text, const SpDigestShown *shown)
{
  static const char *const sentences[] = {
    [SP_ORIGIN_RADIO] = N_ ("dots are the radio's own"),
    [SP_ORIGIN_ANALYZER] = N_ ("squares the analyzer's"),
    [SP_ORIGIN_MIXED] = N_ ("half-filled squares may be either's"),
    [SP_ORIGIN_AMBIENT] = N_ ("the antenna sign is there with the key up too"),
    [SP_ORIGIN_UNTESTED] = N_ ("rings nobody has tested"),
  };
  gboolean begun = FALSE;
  for (guint i = SP_ORIGIN_RADIO; i <= SP_ORIGIN_UNTESTED; i++)
    if (shown->origins[i]) {
      g_string_append (text, begun ? "; " : "");
      gsize at = text->len;
      g_string_append (text, _ (sentences[i]));
      if (!begun)
        text->str[at] = g_ascii_toupper (text->str[at]);
      begun = TRUE;
    }
  if (begun)
    g_string_append (text, ". ");
}

char *
sp_words_to_see (const SpConditionFindings *found, gboolean all_sweeps)
{
  SpDigestShown shown = sp_digest_shown (found);
  g_autoptr (GString) text = g_string_new (NULL);
  if (found->n_corrected == 0)
    return g_strdup (_ ("No sweep was taken, so nothing can be seen."));
  if (shown.seen)
    say_origins (text, &shown);
  else
    g_string_append (text, _ ("Nothing stands out of the noise. "));
  if (shown.unseen && shown.floor_over)
    g_string_append_printf (
        text,
        _ ("The floor, under which nothing can be seen, lies over the limit at %u of the %u harmonics not seen; in the grey "
           "band the paper tells nothing. "),
        shown.floor_over, shown.unseen);
  else if (shown.unseen && found->verdict != SP_VERDICT_NO_LIMIT)
    g_string_append (text, _ ("The floor, under which nothing can be seen, lies under the limit at every harmonic not seen. "));
  if (all_sweeps)
    g_string_append (text, _ ("Dashed: sweeps with more attenuation, dotted: with the key up."));
  return g_strdup (g_strchomp (text->str));
}

char *
sp_words_chart (const SpFindings *findings, guint condition)
{
  const SpConditionFindings *found = &findings->conditions[condition];
  g_autofree char *settings = sp_words_keyed_settings (findings, condition), *gap = sp_words_not_shown (found, SP_HAND_SCREEN);
  g_autoptr (GString) text = g_string_new (NULL);
  g_string_append_printf (text, _ ("Spectrum of %s, level at the socket over frequency, %s."), found->name, settings);
  for (guint i = 0; i < found->n_emissions; i++) {
    const SpEmission *e = &found->emissions[i];
    g_autofree char *name = sp_words_emission (e, SP_HAND_SCREEN), *level = sp_words_seen (e, e->level_dbm, SP_HAND_SCREEN);
    g_string_append_printf (text, " %s: %s\342\200\257dBm%s%s, %s.", name, level, e->origin ? ", " : "", sp_words_origin (e->origin),
                            sp_words_verdict (e->verdict));
  }
  if (gap)
    g_string_append_printf (text, " %s", gap);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* ---- rows ---- */

char *
sp_words_row_name (const SpConditionFindings *found, const SpDigestRow *row)
{
  const SpEmission *e = &found->emissions[row->emission];
  if (row->n == 1)
    return e->order ? sp_words_emission (e, SP_HAND_SCREEN) : g_strdup (_ ("spur"));
  return row->unbroken ? g_strdup_printf (_ ("harmonics %u to %u"), row->first_order, row->last_order)
                       : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u other harmonic", "%u other harmonics", row->n), row->n);
}

char *
sp_words_row (const SpConditionFindings *found, const SpDigestRow *row)
{
  const SpEmission *e = &found->emissions[row->emission];
  g_autofree char *name = sp_words_row_name (found, row);
  if (e->detected)
    return e->origin == SP_ORIGIN_AMBIENT ? g_strdup_printf (_ ("%s, also with the key up"), name) : g_steal_pointer (&name);
  return g_strdup_printf (e->swept ? _ ("%s, not seen") : _ ("%s, not swept"), name);
}
