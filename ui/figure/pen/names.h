/* names.h - short names as a figure needs them */
#pragma once

#include "ui/figure/pen/view.h"

/* "2nd" of a harmonic, else as sp_words_emission. (transfer full) */
char *sp_name_emission (const SpEmission *emission);
/* "the analyzer" for the last node of a headroom, else the stage's own name. (transfer none) */
/* "+10 dB" of a step, "unkeyed", "superseded"; NULL: a sweep that is judged. (transfer full) */
char *sp_name_other (const SpFindings *findings, guint condition, const SpCorrected *sweep);
/* TRUE where this radio has more than one condition on show: then its name alone does not tell which. */
gboolean sp_name_is_shared (const SpView *view, const SpFindings *findings, guint condition);
