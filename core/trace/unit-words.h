/* unit-words.h - units as they stand in a header, a key, behind a value or alone */
#pragma once

#include "core/quantity/units.h"

typedef enum { SP_UNIT_KIND_NONE, SP_UNIT_KIND_FREQUENCY, SP_UNIT_KIND_LEVEL, SP_UNIT_KIND_TIME, SP_UNIT_KIND_RATIO } SpUnitKind;

typedef struct {
  SpUnitKind kind;
  int exponent;      /* of ten: the prefix of Hz, s, V, W */
  SpLevelUnit level; /* with SP_UNIT_KIND_LEVEL */
  const char *name;  /* ASCII: "MHz", "dBuV", "mW", "ms", "dB" */
} SpUnitWord;

/* Hz kHz MHz GHz THz; dBm dBmV dBuV, V (Vrms, Veff) and W with their prefixes; s ms us ns; dB. Any case where it leaves no doubt (mhz is MHz,
 * mw is mW, but MW is not mW); u, U+00B5 and U+03BC alike; "Volt", "Watt". FALSE for all else, dBc and dBuV/m too. */
gboolean sp_unit_word (const char *text, gsize length, SpUnitWord *unit);

/* The full-width forms of ASCII (U+FF01 to U+FF5E) and the wide blank U+3000 as ASCII: "（ＭＨｚ）" -> "(MHz)". (transfer full) */
char *sp_narrow (const char *text, gsize length);

/* Splits "Level [dBm]", "Frequenz / MHz", "RBW in kHz", "freq_mhz", "Amplitude dBuV", "周波数（MHz）", "dBm" into a name and a unit. The unit
 * is what stands in the last brackets (then *unit_text is it even if it is no unit we know, and unit->kind NONE), else a last word that is
 * a unit. *name and *unit_text (transfer full) are "" where there is none. */
void sp_unit_split (const char *text, gsize length, char **name, char **unit_text, SpUnitWord *unit);
