/* speak.h - private to ui/words: the sentences of reasons, with named places, and how the places are filled
 *
 * A place is a field of the reason's row (core/quantity/reasons.inc) or a part: "{file} does not cover {at_hz}". A field reads by its kind: a
 * level, a frequency, a power, a time with their units, decibels and all else as a plain number. Behind a colon stands how else: "+" with its
 * sign, "|" without it, a digit for so many decimals, as "{off_db:+1}".
 */
#pragma once

#include "ui/words/words.h"

/* Of a list of sentences the first counts whose `when` holds; NULL always does. The last of a list has no text. */
typedef struct {
  gboolean (*when) (const SpReason *reason);
  const char *text;
} Sentence;

/* A part of some code's sentences: the first of its own sentences that counts, or (`all`) each that does, as a list; or what `say` says. */
typedef struct {
  SpReasonCode code;
  const char *name;
  const Sentence *sentences;
  gboolean all;
  char *(*say) (const SpReason *reason, SpHand hand);
} Part;

#define SENTENCES(...) ((const Sentence[]){ __VA_ARGS__, { NULL, NULL } })
/* A condition of a code's sentence: `f` holds the reason's fields. */
#define WHEN(name, CODE, condition)                                                                                                        \
  static gboolean name (const SpReason *reason)                                                                                            \
  {                                                                                                                                        \
    const __typeof__ (reason->CODE) *f = &reason->CODE;                                                                                    \
    return condition;                                                                                                                      \
  }

const Sentence *sentences_of (SpReasonCode code);
const Part *part_of (SpReasonCode code, const char *name); /* NULL: no such */
/* Each place of a sentence in turn: its name, how it is written. FALSE: there is no more. */
gboolean next_place (const char **text, char name[32], char how[8]);
