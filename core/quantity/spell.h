/* spell.h - frequencies as a person would write them in our files: what core/quantity/text.h reads back to the same bits */
#pragma once

#include <glib.h>

/* "146.52MHz", "9kHz", "0": the largest unit in which the number is not below 1; finite. (transfer full) */
char *sp_spell_frequency (double frequency_hz);

/* "9 MHz", "0.3 MHz": in the unit that the greatest of both has. (transfer full) */
char *sp_spell_beside (double frequency_hz, double other_hz);

typedef enum {
  SP_SPELL_AS_IT_IS,
  SP_SPELL_FREQUENCY,   /* one frequency */
  SP_SPELL_FREQUENCIES, /* nothing but frequencies, divided by blanks or `;`: "0 3GHz", "1kHz;3kHz" */
  SP_SPELL_ROWS /* rows divided by `;`, the first of several numbers in a row a frequency: "50MHz 1.05; 1GHz 1.2", or one bare number */
} SpSpelling;

/* A key's value with its frequencies written so; what is no frequency stays as it stands. (transfer full) */
char *sp_spell_value (const char *value, SpSpelling spelling);
