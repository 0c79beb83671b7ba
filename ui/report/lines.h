/* lines.h - private to ui/report: cells and lines that several tables share
 */
#pragma once

#include "ui/report/columns.h"
#include "ui/words/words.h"

/* The next cell: a dB figure or level with one decimal, a signed one, a frequency, a power, a word (copied; NULL gives "-"). */
void cell_db (Columns *columns, double value, int decimals);
void cell_signed (Columns *columns, double value);
void cell_margin (Columns *columns, const SpConditionFindings *found); /* the one that decides */
void cell_frequency (Columns *columns, double frequency_hz);
void cell_power (Columns *columns, double power_w);
void cell_word (Columns *columns, const char *word);
/* Part of a line (taken), where names stand in it: a line end in one of them must not begin another line. */
void add_cleaned (GString *out, char *part);
/* Each reason on a line of its own, indented and marked; `reasons` may be NULL. */
void lines_of_reasons (GString *out, GPtrArray *reasons, guint indent);
