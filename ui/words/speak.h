/* speak.h - private to ui/words: the sentences of reasons, with named places, and how the places are filled
 *
 * A place is a field of the reason's row (core/quantity/reasons.inc) or a phrase: "{file} does not cover {at_hz}". A field is written by
 * its kind: level, frequency, power and time with units, all others as plain numbers. A format may follow a colon: "+" with sign, "|"
 * without, a digit for the decimals, as in "{off_db:+1}".
 */
#pragma once

#include "ui/words/words.h"

/* The first sentence of a list whose `when` holds is used; NULL always holds. The last entry has no text. */
typedef struct {
  gboolean (*when) (const SpReason *reason);
  const char *text;
} Sentence;

/* A phrase of a code's sentences: its first sentence that holds, or with `all` a list of each that holds, or the result of `say`. */
typedef struct {
  SpReasonCode code;
  const char *name;
  const Sentence *sentences;
  gboolean all;
  char *(*say) (const SpReason *reason, SpHand hand);
} Phrase;

#define SENTENCES(...) ((const Sentence[]){ __VA_ARGS__, { NULL, NULL } })
/* A condition of a code's sentence; `f` holds the reason's fields. */
#define WHEN(name, CODE, condition)                                                                                                        \
  static gboolean name (const SpReason *reason)                                                                                            \
  {                                                                                                                                        \
    const __typeof__ (reason->CODE) *f = &reason->CODE;                                                                                    \
    return condition;                                                                                                                      \
  }

/* An untranslated sentence, translated and with its places filled. (transfer full) */
char *fill_places (const SpReason *reason, const char *text, SpHand hand);
const Sentence *sentences_of (SpReasonCode code);
const Phrase *phrase_of (SpReasonCode code, const char *name); /* NULL: none */

/* statement.c: the sentences of conditions, and their phrases. NULL: no such code. (transfer none) */
const Sentence *statement_of (SpReasonCode code);
extern const Phrase statement_phrases[];
extern const gsize n_statement_phrases;

/* Iterates over the places of a sentence: name and format. FALSE: no more. */
gboolean next_place (const char **text, char name[32], char how[8]);
