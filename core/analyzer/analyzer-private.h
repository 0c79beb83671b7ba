/* analyzer-private.h - what the files of this room share */
#pragma once

#include "core/analyzer/analyzer.h"

/* Fills analyzer->text and analyzer->sha256; unknown keys of `group` and groups of `file` are kept. */
void sp_analyzer_write_text (SpAnalyzer *analyzer, SpKeyFile *file, const SpGroup *group);

/* The stated limits of error with their key's stem ("accuracy") and what is taken where it is left out (common practice, no source). */
typedef struct {
  const char *stem;
  double assumed_db;
  gsize offset; /* of the SpWidth in SpAnalyzer */
} SpWidthKey;

extern const SpWidthKey sp_width_keys[];
extern const guint sp_n_width_keys;
extern const char *const sp_width_kind_words[]; /* NULL-terminated, in the order of SpWidthKind */
extern const char *const sp_filter_words[];     /* NULL-terminated, in the order of SpFilter */
