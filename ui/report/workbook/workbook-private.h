/* workbook-private.h - private to ui/report: data and helpers shared by the sheets of a workbook
 *
 * The library writes each sheet strictly downwards and keeps no cell, so the positions that formulas refer to are computed beforehand.
 * Rows and columns count from 0 as in the library; the text of a formula counts rows from 1.
 */
#pragma once

#include "ui/figure/pen/palette.h"
#include "ui/figure/pen/view.h"

#include <xlsxwriter.h>

#define WORKBOOK_FONT "Inter" /* the typeface of the charts and of the window */

/* How a cell is formatted. */
typedef enum {
  STYLE_TITLE,
  STYLE_SECTION,
  STYLE_FIRST_HEAD,
  STYLE_HEAD,
  STYLE_FIRST,
  STYLE_TEXT,
  STYLE_NOTE,
  STYLE_WRAP,
  STYLE_ALARM,
  STYLE_STRONG,
  STYLE_LINK,
  STYLE_DB,    /* 0.00 */
  STYLE_MOST,  /* <0.00: a bound */
  STYLE_FINE,  /* 0.0000 */
  STYLE_HERTZ, /* 146,520,000 */
  STYLE_WHOLE,
  STYLE_PLAIN, /* as many digits as needed */
  N_LOOKS
} Style;

/* Position of the tables of a condition's sheet: the first row of each. */
typedef struct {
  lxw_row_t ledger, facts, working, uncertainty;
  lxw_row_t *terms; /* first term of each emission */
  lxw_row_t after_terms;
} Places;

typedef struct {
  lxw_workbook *book;
  const SpFindings *findings;
  const SpView *view;
  lxw_format *styles[N_LOOKS];
  lxw_format *verdicts[5]; /* applied to cells with this verdict's word */
  char **page_names;       /* the sheet of each condition for people */
  char **names;            /* and the one with its working */
  gboolean traces;         /* with the sweeps */
  char **trace_names;      /* the sheet with its sweeps, if with them */
  Places *places;
  GPtrArray *chains; /* the chains in use, each once */
  char ***losses;    /* [condition][emission]: reference to the cell with the chain's loss */
} Workbook;

/* A sheet being written. */
typedef struct {
  const Workbook *work;
  lxw_worksheet *sheet;
  lxw_row_t row;
} Page;

/* workbook-cells.c */
/* A new sheet at its top; `name` legal and unique already. FALSE: no temporary file. */
gboolean workbook_page (const Workbook *work, const char *name, Page *page);
/* Prints in landscape, one page wide, with `repeated` at the top of each page; frozen below `head` and right of `column`. */
void page_finish (Page *page, lxw_row_t repeated, lxw_row_t head, lxw_col_t column);
void page_widths (Page *page, const double *widths, guint n);
/* Writes a cell of the current row. Text stays text, whatever it begins with; NULL and NaN leave the cell empty, an infinity becomes a
 * word. */
void page_text (Page *page, lxw_col_t column, const char *text, Style style);
void page_number (Page *page, lxw_col_t column, double value, Style style);
/* A link to another sheet; `reference` from workbook_sheet_reference(). */
void page_link (Page *page, lxw_col_t column, const char *text, const char *reference);
/* A formula with its current value; the value alone if it is not finite. */
void page_formula (Page *page, lxw_col_t column, double value, Style style, const char *format, ...) G_GNUC_PRINTF (5, 6);
void page_formula_text (Page *page, lxw_col_t column, const char *value, Style style, const char *format, ...) G_GNUC_PRINTF (5, 6);
/* A sentence over columns [first, last], with the needed height. Ends the row. */
void page_sentence (Page *page, lxw_col_t first, lxw_col_t last, const char *text, Style style);
/* Heads of a table from column 0, with the needed height; ends the row. */
void page_heads (Page *page, const char *const *heads, guint n);
/* The title of a section; ends the row. */
void page_section (Page *page, const char *name);
/* Colours the verdict words in these cells. */
void page_mark_verdicts (Page *page, lxw_row_t from, lxw_row_t to, lxw_col_t column);
/* A fact: its name in column 0, its value in column 1. End the row. */
void page_fact (Page *page, const char *name, const char *text);
void page_fact_number (Page *page, const char *name, double value, Style style);

/* Text for a cell: valid, no control characters, not too long. (transfer full) */
char *workbook_text (const char *text);
/* Quoted for a formula: a sheet name "O'Brien" -> 'O''Brien'; and a text: say "x" -> "say ""x""" with its quotes. (transfer full) */
char *workbook_sheet_reference (const char *name);
char *workbook_quoted (const char *text);
/* A legal sheet name that is not in `taken`, ignoring case; added to it. (transfer full) */
char *workbook_sheet_name (const char *wish, GHashTable *taken);
const char *workbook_yes (gboolean yes);

/* workbook.c */
lxw_color_t workbook_colour (const SpColour *colour);

/* One sheet each (workbook-NAME.c). FALSE: its temporary file cannot be made (see errno); with an error if a figure cannot be drawn. */
gboolean workbook_summary (const Workbook *work, const char *name);
gboolean workbook_figure (const Workbook *work, const char *name, GError **error);
gboolean workbook_condition_page (const Workbook *work, guint condition, GError **error);
gboolean workbook_condition (const Workbook *work, guint condition);
gboolean workbook_chain (const Workbook *work, const char *name);
gboolean workbook_traces (const Workbook *work, guint condition);
gboolean workbook_provenance (const Workbook *work, const char *name);

/* workbook-condition.c: computes the tables' positions; and the rows of the facts, counted from Places.facts. */
enum {
  FACT_FUNDAMENTAL,
  FACT_POWER,
  FACT_POWER_U,
  FACT_POWER_K,
  FACT_POWER_EXPANDED,
  FACT_BASIS,
  FACT_CALIBRATED,
  FACT_RULE,
  FACT_EXTRA,
  FACT_BLIND,
  FACT_GAPS,
  FACT_MASK,
  FACT_EDITION,
  FACT_OCCUPIED,
  N_FACTS
};
Places workbook_places (const SpConditionFindings *found);
/* workbook-verdict.c: the verdict on emission i as a formula of its condition's sheet. (transfer full) */
char *workbook_verdict_formula (const Places *places, const SpEmission *e, guint i);
/* workbook-working.c: the lower tables of a condition's sheet, in this order. */
void workbook_working (Page *page, guint condition);
void workbook_uncertainty (Page *page, guint condition);
void workbook_terms (Page *page, guint condition);
/* workbook-evidence.c: below them; nothing if there is no step, unkeyed sweep or repeat. */
void workbook_evidence (Page *page, guint condition);
/* workbook-temporary.c: TRUE if all of the library's temporary files were written since; else FALSE with the errno of the first failure. */
void workbook_temporary_begin (void);
gboolean workbook_temporary_good (void);
/* What the library says of a call: where it had no memory, something is missing, and the above is FALSE with ENOMEM from now on. */
void workbook_note (lxw_error status);
/* workbook-chain.c: fills work->chains and work->losses for a sheet of this name. */
void workbook_plan_losses (Workbook *work, const char *sheet);
/* workbook-traces.c: frequency and level, floor, limit of a condition's sweeps as series of a chart; NULL: not swept, or without the sweeps. */
lxw_chart *workbook_chart (const Workbook *work, guint condition);
