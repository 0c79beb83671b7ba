/* speak.h - private to ui/words: a reason's numbers as texts, ready for a translated sentence
 */
#pragma once

#include "ui/words/words.h"

/* A reason on its way to a sentence; the texts made for it live until the speaker goes. */
typedef struct {
  const SpReason *reason;
  SpHand hand;
  GPtrArray *texts;
} Speaker;

/* value[i] as a plain dB figure without unit, a level with dBm, a frequency, a power, a whole number, a plain ratio. */
const char *say_db (Speaker *speaker, guint i);
const char *say_fine (Speaker *speaker, guint i); /* a dB figure to three decimals */
const char *say_level (Speaker *speaker, guint i);
const char *say_frequency (Speaker *speaker, guint i);
const char *say_power (Speaker *speaker, guint i);
const char *say_seconds (Speaker *speaker, guint i); /* with its unit; below a second "under 1 s", from two minutes on in minutes */
const char *say_whole (Speaker *speaker, guint i);
const char *say_ratio (Speaker *speaker, guint i);
/* text[i], "" where there is none. */
const char *say_text (Speaker *speaker, guint i);
/* Keeps a text of one's own. Takes `text`. */
const char *say_keep (Speaker *speaker, char *text);

/* The sentence, NULL where the code is none of theirs. (transfer full) */
char *words_of_file (Speaker *speaker);
char *words_of_run (Speaker *speaker);
char *words_of_trace (Speaker *speaker);
char *words_of_warning (Speaker *speaker);
char *words_of_verdict (Speaker *speaker);
char *words_of_proof (Speaker *speaker);
char *words_of_assumed (Speaker *speaker);
char *words_of_plan (Speaker *speaker);
char *words_of_sweep (Speaker *speaker);
char *words_of_measure (Speaker *speaker);
char *words_of_band (Speaker *speaker);
