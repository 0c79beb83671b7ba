/* workbook-page.c - a condition for its radio's owner, on one sheet of paper: what came out, its chart, its emissions in MHz, dBm and W */
#include "ui/report/workbook/workbook-private.h"

#include "core/quantity/units.h"
#include "ui/figure/figure.h"
#include "ui/words/paper.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define LAST_COLUMN 7
#define MIDDLE_COLUMN 4 /* where the right half of the facts begins */
#define SEEN_MOST 14    /* rows of emissions that were seen; the working's sheet has all */
#define CHART_WIDTH 760
#define CHART_HEIGHT 400
#define CHART_SCALE 0.5
#define CHART_ROWS 21 /* rows that it covers then */

enum { NAME, PLACE, LEVEL, U, LIMIT, ROOM, WHOSE, VERDICT };

static void
write_pair (Page *page, lxw_col_t column, const char *name, const char *text)
{
  page_text (page, column, name, STYLE_TEXT);
  page_text (page, column + 1, text && *text ? text : "\342\200\223", STYLE_TEXT);
}

static void
write_named (Page *page, const GArray *fields)
{
  for (guint i = 0; fields && i < fields->len; i++) {
    const SpNamedField *field = &g_array_index (fields, SpNamedField, i);
    write_pair (page, 0, field->name, field->value);
    page->row++;
  }
}

/* Numbers stay numbers, and follow the working. */
static void
write_numbers (Page *page, const SpConditionFindings *found, const SpCondition *condition, const char *working, guint facts)
{
  page_text (page, 0, _ ("Carrier, MHz"), STYLE_TEXT);
  page_formula (page, 1, found->fundamental_hz / 1e6, STYLE_FINE, "=%s!$B$%u/10^6", working, facts + FACT_FUNDAMENTAL);
  page_text (page, MIDDLE_COLUMN, _ ("Power, dBm"), STYLE_TEXT);
  page_formula (page, MIDDLE_COLUMN + 1, found->power_dbm, STYLE_DB, "=%s!$B$%u", working, facts + FACT_POWER);
  page->row++;
  page_text (page, 0, _ ("Power, W"), STYLE_TEXT);
  page_formula (page, 1, isfinite (found->power_dbm) ? sp_watt_from_dbm (found->power_dbm) : NAN, STYLE_DB, "=10^((%s!$B$%u-30)/10)",
                working, facts + FACT_POWER);
  page_text (page, MIDDLE_COLUMN, _ ("U of it, dB"), STYLE_TEXT);
  page_formula (page, MIDDLE_COLUMN + 1, found->power_k * found->power_u_db, STYLE_DB, "=%s!$B$%u", working, facts + FACT_POWER_EXPANDED);
  page->row++;
  page_text (page, 0, _ ("Rated, W"), STYLE_TEXT);
  page_number (page, 1, condition->rated_w, STYLE_DB);
  page->row++;
}

static void
write_facts (Page *page, const SpConditionFindings *found, const char *working, guint facts)
{
  const SpBench *bench = page->work->findings->bench;
  const SpCondition *condition = &bench->conditions[found->condition];
  const SpRadio *radio = &bench->radios[condition->radio];
  const SpMask *mask = sp_condition_mask (bench, condition);
  write_pair (page, 0, _ ("Owner"), radio->owner);
  write_pair (page, MIDDLE_COLUMN, _ ("Serial"), radio->serial);
  page->row++;
  write_pair (page, 0, _ ("Condition"), condition->name);
  write_pair (page, MIDDLE_COLUMN, _ ("Mode"), condition->mode);
  page->row++;
  write_named (page, radio->fields);
  write_named (page, condition->fields);
  write_numbers (page, found, condition, working, facts);
  write_pair (page, 0, _ ("Measured"), bench->date);
  write_pair (page, MIDDLE_COLUMN, _ ("By"), bench->operator_name);
  page->row++;
  g_autofree char *clause = g_strjoin (", ", mask->title ? mask->title : mask->name, mask->clause ? mask->clause : mask->edition,
                                       mask->clause ? mask->edition : NULL, NULL);
  write_pair (page, 0, _ ("Limit"), clause);
  page->row += 2;
}

static void
write_row (Page *page, const SpConditionFindings *found, const SpDigestRow *row, const char *working, guint ledger)
{
  const SpEmission *e = &found->emissions[row->emission];
  guint r = ledger + row->emission + 1;
  g_autofree char *name = sp_words_row (found, row), *room = sp_words_room (e, SP_HAND_MACHINE);
  Style level = e->swept && !e->detected ? STYLE_MOST : STYLE_DB;
  page_text (page, NAME, name, STYLE_TEXT);
  if (row->n == 1)
    page_formula (page, PLACE, e->frequency_hz / 1e6, STYLE_DB, "=%s!B%u/10^6", working, r);
  page_formula (page, LEVEL, e->level_dbm, level, "=%s!D%u", working, r);
  page_formula (page, U, e->swept ? e->budget.k_level * e->budget.u_level_db : NAN, STYLE_DB, "=%s!E%u", working, r);
  page_formula (page, LIMIT, e->limit_dbm, STYLE_DB, "=%s!J%u", working, r);
  if (*room && isnan (sp_emission_room_db (e))) /* a word */
    page_formula_text (page, ROOM, room, STYLE_DB, "=%s!P%u", working, r);
  else
    page_formula (page, ROOM, sp_emission_deciding_margin_db (e), STYLE_DB, "=%s!P%u", working, r);
  page_text (page, WHOSE, e->origin == SP_ORIGIN_NONE ? NULL : sp_words_origin (e->origin), STYLE_TEXT);
  page_formula_text (page, VERDICT, sp_words_verdict (e->verdict), STYLE_STRONG, "=%s!O%u", working, r);
  page->row++;
}

static void
write_emissions (Page *page, const SpConditionFindings *found, const char *working, guint ledger)
{
  const char *const heads[] = { _ ("Emission"),   _ ("MHz"),      _ ("Level, dBm"), _ ("\302\261 U, dB"),
                                _ ("Limit, dBm"), _ ("Room, dB"), _ ("Whose"),      _ ("Verdict") };
  guint n, left_out;
  g_autofree SpDigestRow *rows = sp_digest_short (found, SEEN_MOST, &n, &left_out);
  page_heads (page, heads, G_N_ELEMENTS (heads));
  lxw_row_t from = page->row;
  for (guint i = 0; i < n; i++)
    write_row (page, found, &rows[i], working, ledger);
  if (page->row > from)
    page_mark_verdicts (page, from, page->row - 1, VERDICT);
  if (left_out) {
    g_autofree char *more = g_strdup_printf (_ ("%u more that were seen stand in the working."), left_out);
    page_sentence (page, 0, LAST_COLUMN, more, STYLE_NOTE);
  }
  page_link (page, 0, _ ("How it was worked out"), working);
  page->row += 2;
}

static gboolean
insert_chart (Page *page, guint condition, GError **error)
{
  SpView view;
  sp_view_init (&view);
  g_autofree gboolean *hidden = g_new0 (gboolean, page->work->findings->n);
  for (guint i = 0; i < page->work->findings->n; i++)
    hidden[i] = i != condition;
  view.condition = condition;
  view.hidden = hidden;
  view.alone = TRUE;
  if (!workbook_temporary_good ()) /* the figure begins with an errno of its own */
    return FALSE;
  g_autoptr (GBytes) picture = sp_figure_export_plot (CHART_WIDTH, CHART_HEIGHT, page->work->findings, &view, error);
  if (!picture)
    return FALSE;
  gsize length;
  const unsigned char *bytes = g_bytes_get_data (picture, &length);
  g_autofree char *seen = sp_words_chart (page->work->findings, condition), *alt = workbook_text (seen);
  lxw_image_options options = { .x_scale = CHART_SCALE, .y_scale = CHART_SCALE, .description = alt };
  workbook_note (worksheet_insert_image_buffer_opt (page->sheet, page->row, 0, bytes, length, &options));
  page->row += CHART_ROWS;
  return TRUE;
}

static void
write_paragraph (Page *page, const char *title, char *text)
{
  g_autofree char *owned = text;
  page_section (page, title);
  page_sentence (page, 0, LAST_COLUMN, owned, STYLE_WRAP);
}

gboolean
workbook_condition_page (const Workbook *work, guint condition, GError **error)
{
  static const double widths[] = { 27, 13, 11, 9, 11, 10, 12, 14 };
  const SpFindings *findings = work->findings;
  const SpConditionFindings *found = &findings->conditions[condition];
  const Places *places = &work->places[condition];
  g_autofree char *working = workbook_sheet_reference (work->names[condition]), *said = sp_words_statement (found, SP_HAND_MACHINE);
  Page page;
  if (!workbook_page (work, work->page_names[condition], &page))
    return FALSE;
  page_widths (&page, widths, G_N_ELEMENTS (widths));
  page_text (&page, 0, found->name, STYLE_TITLE);
  page.row++;
  page_sentence (&page, 0, LAST_COLUMN, said, STYLE_WRAP);
  page.row++;
  write_facts (&page, found, working, places->facts + 1);
  if (found->n_corrected && !insert_chart (&page, condition, error))
    return FALSE;
  write_emissions (&page, found, working, places->ledger);
  write_paragraph (&page, _ ("How sure"), sp_words_how_sure (findings, condition));
  write_paragraph (&page, _ ("Not looked at"), sp_words_not_looked_at (findings, &condition, 1));
  write_paragraph (&page, _ ("What would settle it"), sp_words_settle (findings, condition));
  page_sentence (&page, 0, LAST_COLUMN, sp_words_card_cautions (), STYLE_NOTE);
  page_finish (&page, 0, 0, 0);
  worksheet_set_portrait (page.sheet);
  worksheet_fit_to_pages (page.sheet, 1, 1);
  return TRUE;
}
