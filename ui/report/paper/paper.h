/* paper.h - a document as a list of blocks, composed once from findings, for every writer: pages (PDF, print, preview) and HTML
 *
 * No cairo and no size: blocks say what stands on the paper and in which order, ui/paper where. The order of the blocks is the order of reading. Texts are in
 * the user's language, numbers in its marks. A slip holds nothing of any other radio.
 */
#pragma once

#include "core/findings/findings.h"

/* ---- text ---- */

typedef struct {
  char *text;
  gboolean strong;
} SpTextRun;
typedef GArray SpTextRuns; /* of SpTextRun */

typedef enum {
  SP_ROLE_BODY,    /* of the paper's columns */
  SP_ROLE_SUMMARY, /* what came out, at the report's head */
  SP_ROLE_CAPTION,
  SP_ROLE_NOTE,   /* under a table */
  SP_ROLE_SMALL,  /* cautions */
  SP_ROLE_BESIDE, /* what a verdict's sentence adds */
  SP_ROLE_ALARM
} SpPaperRole;

/* ---- tables ---- */

typedef enum {
  SP_CELL_TEXT,
  SP_CELL_VERDICT, /* a sign before the text */
  SP_CELL_ORIGIN,
  SP_CELL_ROOM, /* no text: a margin on its number line */
  SP_CELL_SHARE /* no text: a bar, value 0 to 1 */
} SpCellKind;

typedef struct {
  SpCellKind kind;
  char *text; /* never NULL; of a picture what it says */
  gboolean strong;
  SpVerdict verdict;
  SpOrigin origin;
  double value, expanded; /* ROOM: dB; SHARE */
  gboolean at_least;      /* ROOM: not seen, so anywhere from there on */
  char *link;             /* the anchor of a page; NULL */
} SpCell;

typedef struct {
  char *head;
  gboolean number; /* right-aligned, tabular figures */
  gboolean gives;  /* gives way where a table is too wide: cut in its middle */
} SpPaperColumn;

typedef struct {
  char *caption;   /* to a screen reader and in HTML; what the table is */
  GArray *columns; /* of SpPaperColumn */
  GArray *cells;   /* of SpCell, row by row */
  GArray *ruled;   /* of guint: rows above which a line stands, where a group begins */
  gboolean open;   /* a hairline and more room at each row: the table of verdicts */
} SpPaperTable;

/* ---- figures ---- */

typedef enum {
  SP_FIGURE_CHART,
  SP_FIGURE_OVERLAY,
  SP_FIGURE_EVIDENCE,
  SP_FIGURE_STAIRCASE,
  SP_FIGURE_LOSS,
  SP_FIGURE_MARGINS, /* of all conditions */
  SP_FIGURE_SMALL    /* a small chart for each of `conditions` */
} SpFigureKind;

typedef struct {
  SpFigureKind kind;
  guint condition;      /* index into the findings; of an overlay the first */
  guint n_conditions;   /* OVERLAY, SMALL */
  guint *conditions;    /* in the order of the list */
  guint *rows;          /* OVERLAY, SMALL: of each condition of the findings, its number in the list */
  int emission;         /* EVIDENCE */
  const SpChain *chain; /* LOSS */
  guint stage;
  gboolean all_sweeps; /* CHART: also, faintly, those that are not judged; and an axis in dBc */
  char *title, *aside; /* above it: its name, its settings; NULL */
  char *alt;           /* what it shows, in words; NULL: its plot says it (ui/figure) */
} SpPaperFigure;

/* ---- blocks ---- */

typedef enum {
  SP_BLOCK_NAME,    /* of what the page is about, with its facts */
  SP_BLOCK_HEADING, /* small, over a paragraph or a table; `aside` behind it */
  SP_BLOCK_PARAGRAPH,
  SP_BLOCK_VERDICT,
  SP_BLOCK_TALLY,
  SP_BLOCK_TABLE,
  SP_BLOCK_PICTURE, /* a photograph, a letterhead */
  SP_BLOCK_FIGURES, /* side by side, on one scale, with one caption */
  SP_BLOCK_COLUMNS, /* lists of blocks side by side */
  SP_BLOCK_RULE,
  SP_BLOCK_TITLE, /* the title block: stands at the foot of its page */
  SP_BLOCK_PAGE   /* a new page begins */
} SpBlockKind;

typedef struct {
  char *label, *value;
  guint row;
  double share; /* TITLE: of its row's width */
} SpFact;

typedef struct {
  SpBlockKind kind;
  char *text;   /* NAME, HEADING; PAGE: the head at the right, the line of the outline; PICTURE: what it shows, to who cannot see it */
  char *aside;  /* NAME, HEADING: smaller, behind it; NULL */
  char *anchor; /* PAGE: what links lead to; NULL */
  SpPaperRole role;
  SpTextRuns *runs;         /* PARAGRAPH, VERDICT; FIGURES, PICTURE: what is said of it */
  const SpPicture *picture; /* PICTURE: the bench's, which the findings have */
  SpVerdict verdict;
  GArray *facts;       /* NAME, TITLE, TALLY: of SpFact */
  SpPaperTable *table; /* TABLE */
  GPtrArray *figures;  /* FIGURES: of SpPaperFigure* */
  guint abreast;       /* FIGURES: so many in a row at most */
  double least, best;  /* FIGURES: height of a row in points, on A4; PICTURE: best, the most */
  GPtrArray *columns;  /* COLUMNS: of GPtrArray* of SpPaperBlock* */
  gboolean keep;       /* with the next block */
} SpPaperBlock;

typedef struct {
  SpFindings *findings;
  char *title, *subject, *language; /* language: "en" */
  char *head, *head_aside;          /* over every page: left, and right where a page says nothing else */
  char *foot;
  GPtrArray *blocks; /* of SpPaperBlock* */
} SpPaper;

typedef enum { SP_PAPER_A4, SP_PAPER_LETTER, SP_PAPER_A5, SP_N_PAPERS } SpPaperSize;

/* One radio's slip, for its owner: every condition of it. `radio`: index into the bench's. On A5 it says less. (transfer full) */
SpPaper *sp_paper_slip (const SpFindings *findings, guint radio, SpPaperSize size);
/* The club's report: all conditions, worst first, or those of one radio (index; -1: all). (transfer full) */
SpPaper *sp_paper_report (const SpFindings *findings, int radio);
/* The report with figures after it that no page of it has room for: all conditions against each other. (transfer full) */
SpPaper *sp_paper_figures (const SpFindings *findings);
void sp_paper_free (SpPaper *paper);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpPaper, sp_paper_free)

/* "RADIO-SERIAL", or "RADIO" without a serial; no character in it that a file system or a shell takes amiss. (transfer full) */
char *sp_paper_file_name (const SpBench *bench, guint radio);
/* Any words likewise. (transfer full) */
char *sp_paper_safe_name (const char *text);
