/* paper.h - the sentences that only a paper has: a slip's and a report's, each said once for all writers */
#pragma once

#include "core/findings/digest.h"
#include "core/findings/why.h"
#include "ui/words/words.h"

/* "Complies", as a sentence begins (transfer none); what follows the colon (transfer full): statement.c */
const char *sp_words_verdict_first (SpVerdict verdict);
char *sp_words_statement_tail (const SpConditionFindings *found, SpHand hand);
/* "Complies on 2 m:" where the condition's name begins as a band, "Complies, with the stub:", "Complies:" without one. (transfer full) */
char *sp_words_lead (SpVerdict verdict, const char *condition);

/* What is fixed, or follows from the bench's rule. */
const char *sp_words_key_cautions (void); /* for who keys next (transfer none) */
const char *sp_words_no_certificate (void);
const char *sp_words_card_cautions (void); /* both, as short as a card has room for */
const char *sp_words_room_note (void);
const char *sp_words_room_note_short (void);
char *sp_words_rule (const SpBench *bench);       /* "guarded, U 95 %" (transfer full); so all below */
char *sp_words_rule_named (const SpBench *bench); /* how a verdict is given, by JCGM 106 and ILAC-G8 */
char *sp_words_method (const SpBench *bench);     /* how it was measured, with this bench's numbers */

/* Of one condition. */
char *sp_words_how_sure (const SpFindings *findings, guint condition);
char *sp_words_not_looked_at (const SpFindings *findings, const guint *conditions, guint n); /* of one radio */
char *sp_words_sure_short (const SpFindings *findings, guint condition);                     /* both in a few words */
/* Of all of a report's conditions. */
char *sp_words_not_looked_at_by_any (const SpFindings *findings, const guint *conditions, guint n);
/* What would settle it: core's proposal, no other radio named, or that nothing is open; the first gap's too. */
char *sp_words_settle (const SpFindings *findings, guint condition);
char *sp_words_deeper (const char *condition); /* of two conditions alike: which one answers */
char *
sp_words_keyed_settings (const SpFindings *findings,
                         guint condition); /* "RBW 10 kHz, attenuation 20 dB, peak" of the sweep that decides, else the first keyed one */
char *sp_words_swept (const SpFindings *findings, guint condition); /* "keyed; with 10 and 20 dB more attenuation; not keyed" */
char *sp_words_power_measured (double power_w, const SpConditionFindings *found); /* "4.6 W, 36.6 ± 0.7 dBm" */
char *sp_words_to_see (const SpConditionFindings *found, gboolean all_sweeps);    /* a chart's caption */
char *sp_words_chart (const SpFindings *findings,
                      guint condition); /* the same chart for who cannot see it: each emission with level and verdict */
char *sp_words_row (const SpConditionFindings *found, const SpDigestRow *row);      /* "2nd harmonic", "4th to 10th, not seen" */
char *sp_words_row_name (const SpConditionFindings *found, const SpDigestRow *row); /* the same without "not seen" */

/* Of a chain. */
char *sp_words_age (const SpAge *age); /* "measured 2026-10-17 (42 days before; good for 365)" */
char *sp_words_chain_age (const SpBench *bench, const SpChain *chain);

/* The report's summary: how many of n conditions, the worst first, came out how, the five worst by name. Each part has a strong word or none. */
typedef void (*SpWordsRun) (gpointer data, const char *text, gboolean strong);
void sp_words_summary (const SpFindings *findings, const guint *order, guint n, SpWordsRun run, gpointer data);
