/* workbook-condition.c - a condition's sheet: verdict, emissions, power and rule, then what stands behind them */
#include "ui/report/workbook/workbook-private.h"

#include "core/quantity/text.h"

#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define LEDGER_HEAD 4
#define LAST_COLUMN 15
#define ROOM 15 /* column P, beside the verdict */

Places
workbook_places (const SpConditionFindings *found)
{
  guint n = found->n_emissions;
  Places places = { .ledger = LEDGER_HEAD + 1 };
  places.facts = places.ledger + n + 2; /* a blank row and the section's name before each, a head before each table */
  places.working = places.facts + N_FACTS + 3;
  places.uncertainty = places.working + n + 3;
  lxw_row_t row = places.uncertainty + n + 2; /* no head of its own: each emission's name is one */
  places.terms = g_new (lxw_row_t, n + 1);
  for (guint i = 0; i < n; i++) {
    places.terms[i] = row + 1; /* below the emission's name */
    row += found->emissions[i].budget.n ? 1 + found->emissions[i].budget.n : 0;
  }
  places.after_terms = row;
  return places;
}

/* Probability of conformity: Student's with the margin's degrees of freedom, the normal law where they are infinite; none where an end of the radio's
 * part decided. */
static void
write_conformity (Page *page, const SpEmission *e, guint q)
{
  guint r = page->row + 1;
  const SpBudget *b = &e->budget;
  g_autofree char *over = isfinite (b->dof_margin_low) ? g_strdup_printf ("TDIST(-K%u/K%u,M%u,1)", r, q, q)
                                                       : g_strdup_printf ("NORMSDIST(K%u/K%u)", r, q);
  g_autofree char *under = isfinite (b->dof_margin) ? g_strdup_printf ("1-TDIST(K%u/H%u,J%u,1)", r, q, q)
                                                    : g_strdup_printf ("NORMSDIST(K%u/H%u)", r, q);
  if (isnan (sp_emission_deciding_conformity (e)))
    return;
  if (!(b->u_margin_low_db > 0))
    page_number (page, 12, e->conformity, STYLE_FINE);
  else
    page_formula (page, 12, e->conformity, STYLE_FINE, "=IF(K%u<0,%s,%s)", r, over, under);
}

/* What the verdict goes by, as core/judge/verdict/decision.c has it: limit less level, or less the end of the radio's part that decided. */
static char *
room_formula (const Places *places, const SpEmission *e, guint i)
{
  char excess[G_ASCII_DTOSTR_BUF_SIZE]; /* what a bound may read too much */
  g_ascii_dtostr (excess, sizeof excess, e->excess_db);
  guint r = places->ledger + i + 1, w = places->working + i + 1, f = places->facts + 1, q = places->uncertainty + i + 1;
  g_autofree char *complies = workbook_quoted (sp_words_verdict (SP_VERDICT_COMPLIES)),
                  *open = workbook_quoted (sp_words_verdict (SP_VERDICT_NOT_PROVEN)),
                  *straddles = workbook_quoted (sp_words_verdict (SP_VERDICT_INCONCLUSIVE)),
                  *exceeds = workbook_quoted (sp_words_verdict (SP_VERDICT_EXCEEDS));
  g_autofree char *untested = workbook_quoted (sp_words_origin (SP_ORIGIN_UNTESTED)),
                  *radio = workbook_quoted (sp_words_origin (SP_ORIGIN_RADIO)), *no = workbook_quoted (workbook_yes (FALSE));
  g_autofree char *alone = g_strdup_printf ("IF(D%u=%s,IF(D%u-%s>J%u+K%u*L%u+$B$%u,%s,%s),IF(D%u+O%u<=J%u,%s,IF(D%u-%s-Q%u>J%u,%s,%s)))", w,
                                            no, r, excess, r, q, q, f + FACT_EXTRA, exceeds, open, r, w, r, complies, r, excess, w, r,
                                            exceeds, straddles);
  return g_strdup_printf (
      "=IF(OR(C%u=%s,NOT(ISNUMBER(N%u)),N%u=%s),J%u-D%u,IF(OR(N%u<>%s,AND(OR(O%u<>%s,D%u=%s),%s<>O%u)),J%u-IF(O%u=%s,M%u-%s,N%u),J%u-D%u))",
      r, no, w, r, untested, r, r, r, radio, r, open, w, no, alone, r, r, r, exceeds, w, excess, w, r, r);
}

static void
write_room (Page *page, const SpEmission *e, const Places *places, guint i)
{
  g_autofree char *formula = room_formula (places, e, i);
  g_autofree char *room = sp_words_room (e, SP_HAND_MACHINE);
  if (*room && isnan (sp_emission_room_db (e))) /* a word: blind, or by a loss that nobody measured */
    page_text (page, ROOM, room, STYLE_DB);
  else
    page_formula (page, ROOM, sp_emission_deciding_margin_db (e), STYLE_DB, "%s", formula);
}

/* What was not seen is at most there. */
static Style
level_style (const SpEmission *e)
{
  return e->swept && !e->detected ? STYLE_MOST : STYLE_DB;
}

/* By the condition's P, or where the emission's own sweep tells the radio's power then, by that. */
static void
write_dbc (Page *page, const SpConditionFindings *found, const SpEmission *e, const Places *places, guint r)
{
  char digits[32];
  if (e->power_dbm == found->power_dbm || isnan (e->power_dbm))
    page_formula (page, 5, e->level_dbc, level_style (e), "=D%u-$B$%u", r, places->facts + FACT_POWER + 1);
  else
    page_formula (page, 5, e->level_dbc, level_style (e), "=D%u-(%s)", r, sp_format_exact (e->power_dbm, digits));
}

static void
write_emission (Page *page, const SpConditionFindings *found, const Places *places, guint i)
{
  const SpEmission *e = &found->emissions[i];
  const SpBudget *b = &e->budget;
  guint r = page->row + 1, w = places->working + i + 1, q = places->uncertainty + i + 1;
  gboolean judged = !isnan (e->margin_db);
  g_autofree char *name = sp_words_emission (e, SP_HAND_MACHINE), *verdict = workbook_verdict_formula (places, e, i);
  page_text (page, 0, name, STYLE_TEXT);
  page_number (page, 1, e->frequency_hz, STYLE_HERTZ);
  page_text (page, 2, workbook_yes (e->detected), STYLE_TEXT);
  page_formula (page, 3, e->level_dbm, level_style (e), "=SUM(E%u:J%u)", w, w);
  page_formula (page, 4, e->swept ? b->k_level * b->u_level_db : NAN, STYLE_DB, "=B%u*C%u", q, q);
  write_dbc (page, found, e, places, r);
  page_formula (page, 6, e->swept ? b->k_dbc * b->u_dbc_db : NAN, STYLE_DB, "=E%u*F%u", q, q);
  page_number (page, 7, e->floor_dbm, STYLE_DB);
  page_text (page, 8, e->swept ? sp_words_cause (e->floor_cause) : NULL, STYLE_TEXT);
  if (isnan (e->limit_dbm)) /* a limit that follows a power nobody knows is none that the mask leaves out */
    page_text (page, 9, e->verdict == SP_VERDICT_NO_LIMIT ? _ ("none") : _ ("not known"), STYLE_DB);
  else
    page_number (page, 9, e->limit_dbm, STYLE_DB);
  page_formula (page, 10, e->margin_db, STYLE_DB, "=J%u-D%u", r, r);
  page_formula (page, 11, judged ? b->k_margin * b->u_margin_db : NAN, STYLE_DB, "=H%u*I%u", q, q);
  write_conformity (page, e, q);
  page_text (page, 13, e->origin == SP_ORIGIN_NONE ? NULL : sp_words_origin (e->origin), STYLE_TEXT);
  page_formula_text (page, 14, sp_words_verdict (e->verdict), STYLE_STRONG, "%s", verdict);
  write_room (page, e, places, i);
  page->row++;
}

static void
write_ledger (Page *page, const SpConditionFindings *found, const Places *places)
{
  const char *const heads[] = {
    _ ("Emission"),
    _ ("Frequency, Hz"),
    _ ("Seen"),
    _ ("Level at the socket, dBm"),
    _ ("U, dB"),
    _ ("Level, dBc"),
    _ ("U of dBc, dB"),
    _ ("Floor, dBm"),
    _ ("Floor is"),
    _ ("Limit, dBm"),
    _ ("Margin, dB"),
    _ ("U of margin, dB"),
    _ ("p that it complies"),
    _ ("Origin"),
    _ ("Verdict"),
    _ ("Room, dB"),
  };
  page_heads (page, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < found->n_emissions; i++)
    write_emission (page, found, places, i);
  if (found->n_emissions)
    page_mark_verdicts (page, places->ledger, page->row - 1, 14);
}

/* The least room of the emissions that have this verdict; blindness comes before any. */
static char *
room_of (guint from, guint to, const char *verdict)
{
  g_autofree char *blind = workbook_quoted (_ ("blind"));
  return g_strdup_printf (
      "IF(COUNTIFS(O%u:O%u,%s,P%u:P%u,%s)>0,%s,IF(COUNTIFS(O%u:O%u,%s,P%u:P%u,\"<1E+99\")>0,_xlfn.MINIFS(P%u:P%u,O%u:O%u,%s),\"\"))", from,
      to, verdict, from, to, blind, blind, from, to, verdict, from, to, from, to, from, to, verdict);
}

/* What the verdict of the condition goes by, and of which emission. */
static void
write_deciding (Page *page, const SpConditionFindings *found, guint from, guint to)
{
  const SpEmission *deciding = sp_findings_deciding (found);
  GString *formula = g_string_new ("=");
  page_text (page, 2, _ ("Room, dB"), STYLE_TEXT);
  for (int verdict = SP_VERDICT_EXCEEDS; verdict > SP_VERDICT_NO_LIMIT; verdict--) {
    g_autofree char *word = workbook_quoted (sp_words_verdict ((SpVerdict) verdict)), *room = room_of (from, to, word);
    g_string_append_printf (formula, "IF(COUNTIF(O%u:O%u,%s)>0,%s,", from, to, word, room);
  }
  g_string_append (formula, "\"\"))))");
  if (deciding) {
    g_autofree char *name = sp_words_emission (deciding, SP_HAND_MACHINE);
    g_autofree char *decided = g_strdup_printf (_ ("decided by: %s"), name);
    page_text (page, 4, decided, STYLE_TEXT);
  }
  if (deciding && deciding->decision == SP_DECISION_BLIND)
    page_formula_text (page, 3, _ ("blind"), STYLE_DB, "%s", formula->str);
  else if (deciding && !sp_emission_room_is_known (deciding))
    page_formula_text (page, 3, _ ("unknown"), STYLE_DB, "=P%u", from + (guint) found->worst_emission);
  else
    page_formula (page, 3, sp_findings_room_db (found), STYLE_DB, "%s", formula->str);
  g_string_free (formula, TRUE);
}

/* The condition's own verdict: the worst, and at best not proven where a range was not shown or no fundamental found. */
static void
write_verdict (Page *page, const SpConditionFindings *found, const Places *places)
{
  guint from = places->ledger + 1, to = places->ledger + MAX (found->n_emissions, 1), f = places->facts + 1;
  char *words[5];
  for (int i = 0; i < 5; i++)
    words[i] = workbook_quoted (sp_words_verdict ((SpVerdict) i));
  page_text (page, 0, _ ("Verdict"), STYLE_TEXT);
  page_formula_text (page, 1, sp_words_verdict (found->verdict), STYLE_STRONG,
                     "=IF(COUNTIF(O%u:O%u,%s)>0,%s,IF(COUNTIF(O%u:O%u,%s)>0,%s,IF(OR(COUNTIF(O%u:O%u,%s)>0,B%u>0,NOT(ISNUMBER(B%u))),%s,"
                     "IF(COUNTIF(O%u:O%u,%s)>0,%s,%s))))",
                     from, to, words[SP_VERDICT_EXCEEDS], words[SP_VERDICT_EXCEEDS], from, to, words[SP_VERDICT_INCONCLUSIVE],
                     words[SP_VERDICT_INCONCLUSIVE], from, to, words[SP_VERDICT_NOT_PROVEN], f + FACT_GAPS, f + FACT_FUNDAMENTAL,
                     words[SP_VERDICT_NOT_PROVEN], from, to, words[SP_VERDICT_COMPLIES], words[SP_VERDICT_COMPLIES],
                     words[SP_VERDICT_NO_LIMIT]);
  page_mark_verdicts (page, page->row, page->row, 1);
  write_deciding (page, found, from, to);
  page->row++;
  page_text (page, 0, _ ("Worst margin, dB"), STYLE_TEXT);
  page_formula (page, 1, found->worst_margin_db, STYLE_DB, "=MIN(K%u:K%u)", from, to);
  page->row++;
  g_autofree char *unsettled = sp_words_unsettled (found, SP_HAND_MACHINE);
  if (unsettled)
    page_sentence (page, 0, LAST_COLUMN, unsettled, STYLE_WRAP);
  for (int i = 0; i < 5; i++)
    g_free (words[i]);
}

static void
write_facts (Page *page, const SpConditionFindings *found)
{
  const SpBench *bench = page->work->findings->bench;
  const SpMask *mask = sp_condition_mask (bench, &bench->conditions[found->condition]);
  gboolean has_power = isfinite (found->power_dbm);
  page->row++;
  page_section (page, _ ("Power, rule, mask"));
  guint f = page->row + 1;
  if (isfinite (found->fundamental_hz))
    page_fact_number (page, _ ("Fundamental, Hz"), found->fundamental_hz, STYLE_HERTZ);
  else
    page_fact (page, _ ("Fundamental, Hz"), _ ("not known"));
  page_fact_number (page, _ ("P, level at the socket, dBm"), found->power_dbm, STYLE_DB);
  page_fact_number (page, _ ("u of P, dB"), has_power ? found->power_u_db : NAN, STYLE_FINE);
  page_fact_number (page, _ ("k of P"), has_power ? found->power_k : NAN, STYLE_FINE);
  page_text (page, 0, _ ("U of P, dB"), STYLE_TEXT);
  page_formula (page, 1, found->power_k * found->power_u_db, STYLE_DB, "=B%u*B%u", f + FACT_POWER_U, f + FACT_POWER_K);
  page->row++;
  page_fact (page, _ ("P is from"), !has_power ? _ ("not known") : found->by_meter ? _ ("the meter") : _ ("the trace"));
  page_fact (page, _ ("Chain calibrated at the fundamental"), workbook_yes (found->power_calibrated));
  page_fact (page, _ ("Rule"), bench->decision_rule == SP_DECISION_RULE_GUARDED ? _ ("guarded") : _ ("simple"));
  page_fact_number (page, _ ("Beyond U, outside calibration, dB"), SP_UNCALIBRATED_EXTRA_DB, STYLE_DB);
  page_fact_number (page, _ ("Blind above a sampling loss of, dB"), SP_BLIND_LOSS_DB, STYLE_DB);
  page_fact_number (page, _ ("Ranges not shown"), found->n_gaps, STYLE_WHOLE);
  g_autofree char *clause = g_strjoin (", ", mask->title ? mask->title : mask->name, mask->clause, NULL);
  page_fact (page, _ ("Mask"), clause);
  page_fact (page, _ ("Edition"), mask->edition);
  page_fact_number (page, found->occupied_by_filter ? _ ("Occupied bandwidth, Hz, at most") : _ ("Occupied bandwidth, Hz"),
                    found->occupied_hz, STYLE_HERTZ);
}

static void
write_reasons (Page *page, const SpConditionFindings *found)
{
  page->row++;
  page_section (page, _ ("Why, and what would prove it"));
  for (guint i = 0; i < found->n_emissions; i++) {
    const SpEmission *e = &found->emissions[i];
    g_autofree char *name = sp_words_emission (e, SP_HAND_MACHINE),
                    *why = e->reason ? sp_words_reason (e->reason, SP_HAND_MACHINE) : g_strdup ("");
    g_autofree char *proof = e->would_prove ? sp_words_reason (e->would_prove, SP_HAND_MACHINE) : NULL;
    g_autofree char *relation = e->relation ? sp_words_reason (e->relation, SP_HAND_MACHINE) : NULL;
    g_autofree char *both = g_strconcat (why, proof ? " " : "", proof ? proof : "", relation ? " " : "", relation, NULL);
    page_text (page, 0, name, STYLE_TEXT);
    page_sentence (page, 1, LAST_COLUMN, both, STYLE_WRAP);
  }
}

static void
write_gaps (Page *page, const SpConditionFindings *found)
{
  const char *const heads[] = { _ ("Why"), _ ("From, Hz"), _ ("To, Hz") };
  if (!found->n_gaps)
    return;
  page->row++;
  page_section (page, _ ("Ranges that the mask wants and nothing shows"));
  page_heads (page, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < found->n_gaps; i++) {
    const SpGap *gap = &found->gaps[i];
    g_autofree char *why = sp_words_gap (gap, SP_HAND_SCREEN);
    page_text (page, 0, why, STYLE_TEXT);
    page_number (page, 1, gap->from_hz, STYLE_HERTZ);
    page_number (page, 2, gap->to_hz, STYLE_HERTZ);
    page->row++;
  }
}

/* As text: words that begin with = are no formula. */
static void
write_pinned (Page *page, const SpConditionFindings *found)
{
  const char *const heads[] = { _ ("Note"), _ ("Frequency, Hz"), _ ("Level at the socket, dBm") };
  const GArray *pinned = page->work->findings->bench->conditions[found->condition].pinned;
  if (!pinned)
    return;
  page->row++;
  page_section (page, _ ("Notes pinned to the chart"));
  page_heads (page, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < pinned->len; i++) {
    const SpPinnedNote *note = &g_array_index (pinned, SpPinnedNote, i);
    page_text (page, 0, note->text, STYLE_WRAP);
    page_number (page, 1, note->frequency_hz, STYLE_HERTZ);
    page_number (page, 2, note->level_dbm, STYLE_DB);
    page->row++;
  }
}

gboolean
workbook_condition (const Workbook *work, guint condition)
{
  static const double widths[] = { 34, 15, 10, 11, 10, 10, 10, 10, 12, 10, 10, 10, 10, 10, 14, 12 };
  const SpConditionFindings *found = &work->findings->conditions[condition];
  const Places *places = &work->places[condition];
  Page page;
  if (!workbook_page (work, work->names[condition], &page))
    return FALSE;
  page_widths (&page, widths, G_N_ELEMENTS (widths));
  page_text (&page, 0, found->name, STYLE_TITLE);
  page.row++;
  write_verdict (&page, found, places);
  page.row = LEDGER_HEAD;
  write_ledger (&page, found, places);
  write_facts (&page, found);
  workbook_working (&page, condition);
  workbook_uncertainty (&page, condition);
  workbook_terms (&page, condition);
  workbook_evidence (&page, condition);
  write_reasons (&page, found);
  write_gaps (&page, found);
  write_pinned (&page, found);
  page_finish (&page, 0, LEDGER_HEAD, 1);
  return TRUE;
}
