/* workbook-summary.c - the first sheet: what is unsafe, what was found, how far it holds */
#include "ui/report/workbook/workbook-private.h"

#include "core/quantity/units.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define LAST_COLUMN 11

static void
write_bench (Page *page)
{
  const SpBench *bench = page->work->findings->bench;
  const SpMask *mask = bench->mask;
  page_fact (page, _ ("Date"), bench->date);
  page_fact (page, _ ("Operator"), bench->operator_name);
  page_fact (page, _ ("Place"), bench->place);
  if (mask) {
    g_autofree char *clause = g_strjoin (", ", mask->title ? mask->title : mask->name, mask->clause ? mask->clause : _ ("no clause"),
                                         mask->edition ? mask->edition : _ ("no edition"), NULL);
    page_fact (page, _ ("Mask"), clause);
  }
  page_fact (page, _ ("Rule"),
             bench->decision_rule == SP_DECISION_RULE_GUARDED
                 ? _ ("guarded: complies if the level lies below the limit by U, exceeds if above it by U")
                 : _ ("simple: complies if the level is not above the limit; U is shown"));
}

static void
write_condition (Page *page, guint index)
{
  const Workbook *work = page->work;
  const SpConditionFindings *found = &work->findings->conditions[index];
  const SpBench *bench = work->findings->bench;
  const SpCondition *condition = &bench->conditions[found->condition];
  const SpRadio *radio = &bench->radios[condition->radio];
  g_autofree char *sheet = workbook_sheet_reference (work->names[index]), *own = workbook_sheet_reference (work->page_names[index]);
  guint facts = work->places[index].facts + 1, r = page->row + 1;
  gboolean has_power = isfinite (found->power_dbm);
  page_link (page, 0, found->name, own);
  page_formula_text (page, 1, sp_words_verdict (found->verdict), STYLE_STRONG, "=%s!$B$2", sheet);
  const SpEmission *deciding = sp_findings_deciding (found);
  g_autofree char *room = deciding ? sp_words_room (deciding, SP_HAND_MACHINE) : g_strdup ("");
  if (*room && isnan (sp_emission_room_db (deciding))) /* a word */
    page_formula_text (page, 2, room, STYLE_DB, "=%s!$D$2", sheet);
  else
    page_formula (page, 2, sp_findings_room_db (found), STYLE_DB, "=%s!$D$2", sheet);
  if (deciding) {
    g_autofree char *emission = sp_words_emission (deciding, SP_HAND_MACHINE);
    page_text (page, 3, emission, STYLE_TEXT);
  }
  page_formula (page, 4, found->fundamental_hz / 1e6, STYLE_FINE, "=%s!$B$%u/10^6", sheet, facts + FACT_FUNDAMENTAL);
  page_formula (page, 5, found->power_dbm, STYLE_DB, "=%s!$B$%u", sheet, facts + FACT_POWER);
  page_formula (page, 6, found->power_k * found->power_u_db, STYLE_DB, "=%s!$B$%u", sheet, facts + FACT_POWER_EXPANDED);
  page_formula (page, 7, has_power ? sp_watt_from_dbm (found->power_dbm) : NAN, STYLE_FINE, "=10^((F%u-30)/10)", r);
  page_text (page, 8, radio->owner, STYLE_TEXT);
  page_text (page, 9, radio->serial, STYLE_TEXT);
  page_text (page, 10, sp_condition_mask (bench, condition)->name, STYLE_TEXT);
  page_number (page, LAST_COLUMN, found->n_gaps, STYLE_WHOLE);
  page->row++;
}

static void
write_table (Page *page)
{
  const char *const heads[] = { _ ("Radio and condition"),
                                _ ("Verdict"),
                                _ ("Room, dB"),
                                _ ("Decided by"),
                                _ ("Fundamental, MHz"),
                                _ ("Level at the socket, dBm"),
                                _ ("U, dB"),
                                _ ("Power, W"),
                                _ ("Owner"),
                                _ ("Serial"),
                                _ ("Mask"),
                                _ ("Ranges not shown") };
  page_heads (page, heads, G_N_ELEMENTS (heads));
  lxw_row_t from = page->row;
  for (guint i = 0; i < page->work->findings->n; i++)
    write_condition (page, i);
  if (page->row > from)
    page_mark_verdicts (page, from, page->row - 1, 1);
  page->row++;
}

static void
write_about (Page *page, const SpConditionFindings *found, char *sentence)
{
  g_autofree char *said = sentence, *named = said ? g_strdup_printf ("%s. %s", found->name, said) : NULL;
  if (named)
    page_sentence (page, 0, LAST_COLUMN, named, STYLE_WRAP);
}

/* The sentence on each condition, and what stands above its limit unsettled where another emission made its verdict. */
static void
write_statements (Page *page)
{
  const SpFindings *findings = page->work->findings;
  for (guint i = 0; i < findings->n; i++) {
    write_about (page, &findings->conditions[i], sp_words_statement (&findings->conditions[i], SP_HAND_MACHINE));
    write_about (page, &findings->conditions[i], sp_words_unsettled (&findings->conditions[i], SP_HAND_MACHINE));
    write_about (page, &findings->conditions[i], sp_words_second (findings, i, SP_HAND_MACHINE));
  }
}

/* What the numbers do not say. */
static void
write_validity (Page *page)
{
  const char *const sentences[] = {
    _ ("Levels are what the radio delivers into 50 ohm at its antenna socket. What its case or its leads radiate was not measured."),
    _ ("A verdict holds for the sweeps and settings under Provenance, for the mask and its edition, and where the floor lies below the "
       "limit: nothing seen proves nothing where the floor lies above it."),
    _ ("Room is what a verdict goes by: limit less level, or less the end of the radio's own part that decided; margin is limit less "
       "level."),
    _ ("U is the expanded uncertainty at 95.45 %. It holds the terms that each condition's sheet lists, and no others."),
    _ ("Changed losses on the Chain sheet, a changed k or rule move levels, margins and verdicts here at once; limits, floors, the radio's "
       "part and P stay as they were judged, so have the bench judged again before it is quoted."),
  };
  page_section (page, _ ("How far it holds"));
  for (guint i = 0; i < G_N_ELEMENTS (sentences); i++)
    page_sentence (page, 0, LAST_COLUMN, sentences[i], STYLE_WRAP);
  page->row++;
  page_section (page, _ ("Cautions"));
  page_sentence (page, 0, LAST_COLUMN, sp_words_cautions (), STYLE_WRAP);
  page->row++;
}

gboolean
workbook_summary (const Workbook *work, const char *name)
{
  static const double widths[] = { 26, 13, 10, 20, 13, 12, 8, 10, 18, 14, 16, 8 };
  const SpBench *bench = work->findings->bench;
  Page page;
  if (!workbook_page (work, name, &page))
    return FALSE;
  page_widths (&page, widths, G_N_ELEMENTS (widths));
  g_autofree char *unsafe = sp_words_safety (work->findings, SP_HAND_MACHINE);
  if (unsafe)
    page_sentence (&page, 0, LAST_COLUMN, unsafe, STYLE_ALARM);
  page_text (&page, 0, bench->title ? bench->title : _ ("Bench without a title"), STYLE_TITLE);
  page.row++;
  write_bench (&page);
  page.row++;
  lxw_row_t head = page.row;
  write_table (&page);
  write_statements (&page);
  if (bench->note)
    page_sentence (&page, 0, LAST_COLUMN, bench->note, STYLE_NOTE);
  if (!unsafe)
    page_sentence (&page, 0, LAST_COLUMN, _ ("No stated power rating is exceeded."), STYLE_WRAP);
  write_validity (&page);
  page_finish (&page, head, head, 1);
  worksheet_fit_to_pages (page.sheet, 1, 1);
  return TRUE;
}
