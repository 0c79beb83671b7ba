/* compose.h - private to ui/report/paper: makes blocks. Texts of `char *` are taken, of `const char *` copied; every text of a stranger is cleaned here. */
#pragma once

#include "core/findings/digest.h"
#include "ui/report/paper/paper.h"
#include "ui/words/paper.h"

SpPaper *paper_new (const SpFindings *findings);

SpPaperBlock *paper_add (GPtrArray *blocks, SpBlockKind kind); /* (transfer none): the list has it */
SpPaperBlock *paper_heading (GPtrArray *blocks, const char *text, const char *aside);
/* `strong` NULL: none; both are one paragraph. */
SpPaperBlock *paper_paragraph (GPtrArray *blocks, SpPaperRole role, const char *strong, char *text);
void paper_run (SpPaperBlock *block, const char *text, gboolean strong);
void paper_fact (SpPaperBlock *block, guint row, double share, const char *label, char *value);
/* What somebody wrote for the paper: a paragraph a line; `strong` before the first; `text` NULL: none. */
void paper_words (GPtrArray *blocks, const char *strong, const char *text);
/* pictures.c: the letterhead, if there is one; pictures of `what`, two abreast; a page of a radio's (-1: of the bench's and of all radios'). */
void paper_letterhead (GPtrArray *blocks, const SpBench *bench);
void paper_pictures (GPtrArray *blocks, const GArray *pictures, const char *what);
void paper_pictures_page (GPtrArray *blocks, const SpFindings *findings, int radio);
/* What somebody wrote beside a radio and beside one of its conditions (NULL: none), behind the facts; what is long stands in a paragraph below. */
void paper_fields (GPtrArray *blocks, SpPaperBlock *name, const SpRadio *radio, const SpCondition *condition);
/* Those of one condition of several, in a paragraph that begins with its name. */
void paper_fields_of (GPtrArray *blocks, const SpCondition *condition);
GPtrArray *paper_column (SpPaperBlock *columns);
SpPaperBlock *paper_page (GPtrArray *blocks, const char *head, const char *anchor);

SpPaperTable *paper_table (GPtrArray *blocks, const char *caption);
void paper_head (SpPaperTable *table, const char *head, gboolean number, gboolean gives);
/* Next cell; the last one added may be changed. */
SpCell *paper_cell (SpPaperTable *table, char *text);
SpCell *paper_word (SpPaperTable *table, const char *text, gboolean strong);
void paper_verdict_cell (SpPaperTable *table, SpVerdict verdict);
void paper_rule_above_next (SpPaperTable *table);

/* One condition's chart. */
SpPaperFigure *paper_figure (SpPaperBlock *block, SpFigureKind kind, const SpFindings *findings, guint condition);

/* The title block. `radio` -1: of all; else only what counts for that radio. */
void paper_title_block (GPtrArray *blocks, const SpFindings *findings, int radio, SpPaperSize size);
char *paper_foot (const SpFindings *findings, const char *what); /* "what, 2026-11-28, bench 8 hex" */
/* What a second mask would have of a condition, in smaller print under its verdict, which it does not touch; nothing where there is none. */
void paper_second (GPtrArray *blocks, const SpFindings *findings, guint condition);
gboolean paper_is_of (const SpFindings *findings, guint condition, int radio);

/* report-*.c */
/* `alone`: no other radio is named; `whose`: with what each emission was compared with. */
void paper_condition_page (GPtrArray *blocks, const SpFindings *findings, guint condition, gboolean alone, gboolean whose);
void paper_chain_page (GPtrArray *blocks, const SpFindings *findings, const SpChain *chain, int radio);
void paper_budget (GPtrArray *blocks, const SpFindings *findings, guint condition);
void paper_files_page (GPtrArray *blocks, const SpFindings *findings, int radio);
