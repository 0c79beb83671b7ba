/* lines.h - private to ui/report: cells and lines shared by several tables */
#pragma once

#include "ui/report/columns.h"
#include "ui/words/words.h"

/* The next cell: a dB figure or level with one decimal, a signed one, a frequency, a power, a word (copied; NULL gives "-"). */
void cell_db (Columns *columns, double value, int decimals);
void cell_signed (Columns *columns, double value);
void cell_margin (Columns *columns, const SpConditionFindings *found); /* of the deciding emission */
void cell_frequency (Columns *columns, double frequency_hz);
void cell_power (Columns *columns, double power_w);
void cell_word (Columns *columns, const char *word);
/* '!' exceeds, '~' inconclusive, '?' not proven, '.' no limit, ' ' complies. */
char verdict_mark (SpVerdict verdict);
/* Appends a part of a line (taken) that contains names: a line break in a name must not start another line. */
void add_cleaned (GString *out, char *part);
/* Each reason on a line of its own, indented and marked; `reasons` may be NULL. */
void lines_of_reasons (GString *out, GPtrArray *reasons, guint indent);
