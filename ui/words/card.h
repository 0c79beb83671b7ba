/* card.h - the words of the card for the table's other side: one radio, what is to be done with it now, what is still wanted
 *
 * Short, for they are read from two metres; all (transfer full) if nothing else is said.
 */
#pragma once

#include "core/findings/card.h"
#include "ui/words/words.h"

/* How far whoever keys has come with what is to be done now. */
typedef enum {
  SP_CARD_READY,
  SP_CARD_CAUTIONS, /* the radio's first keying: the cautions are to be read first */
  SP_CARD_WAITS,    /* keyed and exported: the file has not come yet */
  SP_CARD_RETAKES   /* the same, of a sweep that is taken once more */
} SpCardState;

/* "sweep at 10 dB of attenuation", "one more with 10 dB more", "sweep with the key up", "with the notch, 17 dB deep" */
char *sp_words_wanted (const SpWantedSweep *wanted, SpHand hand);
/* "Put the notch in.", "Then key 8 s."; or one line, the other NULL. */
void sp_words_card_now (const SpFindings *findings, const SpCard *card, SpCardState state, char *lines[2], SpHand hand);
/* "2 m", what tells the condition from the radio's others: its own name, else its waveband. */
char *sp_words_card_band (const SpFindings *findings, guint condition);
/* "25 W would put 1.3 W on thimble, rated 1 W: do not key." */
char *sp_words_card_burns (const SpReason *unsafe, double power_w, SpHand hand);
/* What nobody knows of the way of its power, one sentence; NULL: all is stated. */
char *sp_words_card_unknown (const SpFindings *findings, const SpCard *card);
/* Below what is to be done: "Connectors tight, hands off the line."; NULL: nothing is keyed now. (transfer none) */
const char *sp_words_card_mind (const SpCard *card, SpCardState state);
/* The cautions before a radio's first keying, *n of them, each a sentence or two. (transfer none) */
const char *const *sp_words_keying_cautions (guint *n);
/* "not proven" and its number: "−8.6 dB", "room, U 1.7 dB"; NULL: there is none. `found` without a sweep: "nothing yet". */
void sp_words_card_so_far (const SpConditionFindings *found, const SpCard *card, char **word, char **room, char **about, SpHand hand);
/* All of it, for who hears it. */
char *sp_words_card (const SpFindings *findings, const SpCard *card, SpCardState state);
