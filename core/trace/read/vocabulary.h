/* vocabulary.h - the names that exports give to settings and columns, in a few languages, as tables; no maker's among them */
#pragma once

#include "core/trace/trace.h"

typedef enum {
  SP_WORD_NONE,
  /* settings of a preamble */
  SP_WORD_START,
  SP_WORD_STOP,
  SP_WORD_CENTER,
  SP_WORD_SPAN,
  SP_WORD_RBW,
  SP_WORD_VBW,
  SP_WORD_REFERENCE,
  SP_WORD_OFFSET,
  SP_WORD_ATTENUATION,
  SP_WORD_DETECTOR,
  SP_WORD_AVERAGE_KIND,
  SP_WORD_AVERAGES,
  SP_WORD_TRACE_MODE,
  SP_WORD_SWEEP_TIME,
  SP_WORD_POINTS,
  SP_WORD_FREQUENCY_UNIT,
  SP_WORD_LEVEL_UNIT,
  /* columns */
  SP_WORD_FREQUENCY,
  SP_WORD_LEVEL,
  SP_WORD_INDEX,
  SP_WORD_TIME
} SpWord;

/* Lower case, Latin accents dropped, wide and narrow forms alike, all but letters and digits folded to single blanks: "Fréquence centrale
 * :" -> "frequence centrale". (transfer full) */
char *sp_words_fold (const char *text, gssize length);

/* The word whose whole folded spelling this is; `folded` from sp_words_fold. Of several words, small ones (of, de, della ...) do not count, and
 * "freq" stands for frequency in any language. SP_WORD_NONE if there is none. From any thread. */
SpWord sp_words_setting (const char *folded);
SpWord sp_words_column (const char *folded);

/* Values. FALSE where the word is not known; *out is left alone then. */
gboolean sp_words_detector (const char *folded, SpDetector *out);
/* A detector that says what it averages, in one text: "average (log)", "voltage average", "rms average". FALSE: no such text. */
gboolean sp_words_detector_average (const char *folded, SpDetector *detector, SpAverage *kind);
gboolean sp_words_average (const char *folded, SpAverage *out);
/* "max hold", "average", "clear write" ...; *averaging: the trace is an average, of what it does not say. */
gboolean sp_words_trace_mode (const char *folded, SpHold *out, gboolean *averaging);
