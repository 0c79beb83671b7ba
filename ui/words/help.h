/* help.h - what a person may want to have explained: the words, the job's steps, the topics of the help
 *
 * The one source of what a word means to people: help, tooltips, the key to the marks and the empty book's page take it from here. (What words mean in code
 * stands in DEVELOPERS.md.)
 */
#pragma once

#include "core/findings/job.h"
#include "core/findings/why.h"
#include "ui/words/words.h"

typedef enum {
  SP_WORD_ANALYZER,
  SP_WORD_BENCH,
  SP_WORD_BLIND,
  SP_WORD_CARRIER,
  SP_WORD_CHAIN,
  SP_WORD_CONDITION,
  SP_WORD_DBC,
  SP_WORD_DBM,
  SP_WORD_FLOOR,
  SP_WORD_HARMONIC,
  SP_WORD_HEADROOM,
  SP_WORD_LEVEL,
  SP_WORD_LIMIT,
  SP_WORD_MASK,
  SP_WORD_MIXER,
  SP_WORD_NOTCHED,
  SP_WORD_ROOM,
  SP_WORD_RULE,
  SP_WORD_SPUR,
  SP_WORD_STAGE,
  SP_WORD_STEP,
  SP_WORD_SUBSTITUTION,
  SP_WORD_SWEEP,
  SP_WORD_U,
  SP_WORD_UNKEYED,
  SP_N_WORDS
} SpGlossaryWord; /* in the order of the English words */

/* "room", and what it means in a sentence or two. (transfer none) */
const char *sp_words_word (SpGlossaryWord word);
const char *sp_words_meaning (SpGlossaryWord word);
/* "under the limit by U or more"; "the radio's own". (transfer none) */
const char *sp_words_verdict_means (SpVerdict verdict);
const char *sp_words_origin_means (SpOrigin origin);

/* A step of the job: what to do, what of, and where that is done. (transfer none) */
const char *sp_words_job_step (SpJobStep step);  /* "Nothing burns" */
const char *sp_words_job_about (SpJobStep step); /* "a rating for each part" */
/* How it stands: "done", "2 open", "open". (transfer full) */
char *sp_words_job_state (const SpJob *job, SpJobStep step);

/* A topic of the help: paragraphs, ended by NULL, all untranslated. The topics of id "steps", "verdicts", "whose" and "words" are followed by what else stands
 * in this header. */
typedef struct {
  const char *id, *title;
  const char *const *paragraphs;
} SpHelpTopic;
const SpHelpTopic *sp_help_topics (guint *n);

/* One verdict explained (core/findings/why.h). Of each step: its title; its figure, as "-57.2 dBm"; and what it says with this emission's numbers.
 * (title transfer none, the others transfer full) */
const char *sp_words_why_title (SpWhyStep step);
char *sp_words_why_figure (const SpWhy *why, SpWhyStep step, SpHand hand);
char *sp_words_why_says (const SpWhy *why, SpWhyStep step, SpHand hand);
