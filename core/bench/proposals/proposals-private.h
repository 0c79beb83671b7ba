/* proposals-private.h - what the files of this folder share */
#pragma once

#include "core/bench/proposals/propose.h"

#define SP_STEP_ALIKE_DB 0.05 /* closer attenuations are equal (common practice, no source) */

/* Takes a word that names a purpose, or a re-take; FALSE: it names none. */
gboolean sp_proposal_take_purpose (const char *word, SpProposal *out);
/* The file's name without folder and ending. (transfer full) */
char *sp_proposal_stem (const char *file_name);
/* The words of a name, parted by - _ . and blanks; a point between two digits is a decimal one, "re-take" one word. (transfer full) */
char **sp_proposal_words (const char *stem);
/* "abc" -> "Abc". (transfer full) */
char *sp_proposal_capital (const char *word);
/* What the words of a name tell of frequency, power and mode, and their own places: facts[i] TRUE, words[i] is one. */
void sp_proposal_take_facts (char **words, gboolean *facts, SpProposal *out);
/* What a condition's own name tells of them, "2 m CW 100 W": here a number may stand apart from its unit. */
void sp_proposal_tell (const char *condition, SpProposal *out);
/* Letters and digits, without case: names that are alike have the same. (transfer full) */
char *sp_proposal_fold (const char *text);
/* FALSE: the pattern is none, or does not fit, and `out` is as it was. */
gboolean sp_pattern_take (const char *stem, const char *pattern, SpProposal *out);
