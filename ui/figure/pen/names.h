/* names.h - short names as a figure needs them */
#pragma once

#include "ui/figure/pen/view.h"

/* "2nd" of a harmonic, else as sp_words_emission. (transfer full) */
char *sp_name_emission (const SpEmission *emission);
/* "the analyzer" for the last node of a headroom, else the stage's own name. (transfer none) */
/* "+10 dB" of a step, "unkeyed", "superseded"; NULL: a sweep that is judged. (transfer full) */
char *sp_name_other (const SpFindings *findings, guint condition, const SpCorrected *sweep);
/* What tells a condition from the others, first: its radio's name, or where the radio has several conditions the condition's own. And the
 * rest, for a softer type: the condition's name, the radio's; "" where all conditions are of one radio, whose name is said once. (transfer none) */
const char *sp_name_lead (const SpFindings *findings, guint condition);
const char *sp_name_rest (const SpFindings *findings, guint condition);
/* As short as tells it apart: "Mirrick", "70 cm Mirrick", or of the only radio "15 m 100 W". (transfer full) */
char *sp_name_short (const SpFindings *findings, guint condition);
/* The radio that all conditions are of, where there are several; NULL: there are more radios. (transfer none) */
const char *sp_name_only_radio (const SpFindings *findings);
