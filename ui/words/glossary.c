/* glossary.c - what the words mean to people, and the job's steps */
#include "ui/words/help.h"

#include <glib/gi18n-lib.h>

/* by hand: one word a row */
/* clang-format off */
static const struct {
  const char *word, *means;
} words[SP_N_WORDS] = {
  [SP_WORD_ANALYZER] = { NC_ ("glossary", "analyzer"), N_ ("The spectrum analyzer. It adds noise, makes harmonics of its own when it gets too much, and reads a few tenths of a dB wrong: its profile says how much.") },
  [SP_WORD_BENCH] = { NC_ ("glossary", "bench"), N_ ("All that is judged together: the chain, the analyzer, the mask, the radios and their sweeps. A bench book keeps it in one file.") },
  [SP_WORD_BLIND] = { NC_ ("glossary", "blind"), N_ ("The floor lies above the limit, or the sweep's points too far apart: that nothing was seen there means nothing. The chart has fog there.") },
  [SP_WORD_CARRIER] = { NC_ ("glossary", "carrier"), N_ ("What the radio is meant to send, at its own frequency. Harmonics stand at twice, three times ... that frequency.") },
  [SP_WORD_CHAIN] = { NC_ ("glossary", "chain"), N_ ("Everything between the radio's antenna socket and the analyzer, in order: pads, cables, adapters, filters.") },
  [SP_WORD_CONDITION] = { NC_ ("glossary", "condition"), N_ ("A radio at one frequency, power and mode, such as 2 m, high. Each condition gets a verdict.") },
  [SP_WORD_DBC] = { NC_ ("glossary", "dBc"), N_ ("A level counted from the carrier: −50 dBc is a hundred thousandth of the carrier's power.") },
  [SP_WORD_DBM] = { NC_ ("glossary", "dBm"), N_ ("A power counted from one milliwatt: 0 dBm is 1 mW, +30 dBm is 1 W, −16 dBm is 25 microwatt. 3 dB is twice the power, 10 dB ten times.") },
  [SP_WORD_FLOOR] = { NC_ ("glossary", "floor"), N_ ("The least that would have shown. Noise, the carrier's skirt and what the analyzer makes itself raise it.") },
  [SP_WORD_HARMONIC] = { NC_ ("glossary", "harmonic"), N_ ("What a transmitter sends at a multiple of its own frequency: the 2nd at twice, the 3rd at three times.") },
  [SP_WORD_HEADROOM] = { NC_ ("glossary", "headroom"), N_ ("How far the power into a part stays below what that part takes. Negative: it burns.") },
  [SP_WORD_LEVEL] = { NC_ ("glossary", "level"), N_ ("The power at the radio's socket: what the analyzer read, and what the chain took.") },
  [SP_WORD_LIMIT] = { NC_ ("glossary", "limit"), N_ ("The most that the rule allows there, for this power and band.") },
  [SP_WORD_MASK] = { NC_ ("glossary", "mask"), N_ ("The limits of one rule, as a line over frequency.") },
  [SP_WORD_MIXER] = { NC_ ("glossary", "mixer"), N_ ("The part of the analyzer that too strong a carrier overloads: it then makes harmonics that the radio does not send. More attenuation helps.") },
  [SP_WORD_NOTCHED] = { NC_ ("glossary", "notched"), N_ ("A sweep through a filter that takes the carrier away, so that the analyzer can be set to see deeper.") },
  [SP_WORD_ROOM] = { NC_ ("glossary", "room"), N_ ("The limit less what the verdict goes by: the level, or what of it can be the radio's own, or the floor where nothing was seen. Positive is good.") },
  [SP_WORD_RULE] = { NC_ ("glossary", "decision rule"), N_ ("Guarded: U counts against the radio, so a verdict is hardly ever wrong. Simple: the level counts as it stands.") },
  [SP_WORD_SPUR] = { NC_ ("glossary", "spur"), N_ ("Anything else that is sent and not meant to be, at no multiple of the carrier.") },
  [SP_WORD_STAGE] = { NC_ ("glossary", "stage"), N_ ("One part of the chain. Its label says what it should take; only a measurement says what it does.") },
  [SP_WORD_STEP] = { NC_ ("glossary", "step"), N_ ("The same sweep with more attenuation, 10 dB as a rule. What is the radio's stays; what the analyzer makes falls.") },
  [SP_WORD_SUBSTITUTION] = { NC_ ("glossary", "substitution"), N_ ("How a stage's loss is measured: a meter is read without it, with it, and without it again. The difference is the loss.") },
  [SP_WORD_SWEEP] = { NC_ ("glossary", "sweep"), N_ ("One trace of the analyzer, exported as a table of frequencies and levels, and what it was taken for.") },
  [SP_WORD_U] = { NC_ ("glossary", "U"), N_ ("How far the true value may lie from the one shown: within U of it in 95 of 100 such measurements.") },
  [SP_WORD_UNKEYED] = { NC_ ("glossary", "unkeyed"), N_ ("A sweep with the key up. What still stands there comes from the air, not from the radio.") },
};

static const struct {
  const char *step, *about;
} steps[SP_JOB_STEPS] = {
  [SP_JOB_CHAIN] = { N_ ("Draw the chain"), N_ ("each part, in order") },
  [SP_JOB_SAFE] = { N_ ("Nothing burns"), N_ ("a rating for each part") },
  [SP_JOB_LOSSES] = { N_ ("Measure the losses"), N_ ("calibrate; labels for now") },
  [SP_JOB_ANALYZER] = { N_ ("Name analyzer and limit"), N_ ("and check the analyzer") },
  [SP_JOB_SWEEPS] = { N_ ("Bring the sweeps"), N_ ("keyed, key up, 10 dB more") },
  [SP_JOB_WHOSE] = { N_ ("Whose is it?"), N_ ("the radio's or the analyzer's") },
  [SP_JOB_VERDICTS] = { N_ ("Read the verdicts"), N_ ("and what would settle them") },
  [SP_JOB_PAPER] = { N_ ("Hand it out"), N_ ("the report") },
};
/* clang-format on */

const char *
sp_words_word (SpGlossaryWord word)
{
  return g_dpgettext2 (GETTEXT_PACKAGE, "glossary", words[word].word);
}

const char *
sp_words_meaning (SpGlossaryWord word)
{
  return _ (words[word].means);
}

const char *
sp_words_verdict_means (SpVerdict verdict)
{
  switch (verdict) {
  case SP_VERDICT_COMPLIES: return _ ("under the limit by U or more");
  case SP_VERDICT_EXCEEDS: return _ ("over the limit by more than U");
  case SP_VERDICT_INCONCLUSIVE: return _ ("U reaches across the limit");
  case SP_VERDICT_NOT_PROVEN: return _ ("it could not be seen, or not be told whose it is");
  case SP_VERDICT_NO_LIMIT: return _ ("the mask has no number there");
  }
  g_return_val_if_reached ("");
}

const char *
sp_words_origin_means (SpOrigin origin)
{
  switch (origin) {
  case SP_ORIGIN_NONE: return "";
  case SP_ORIGIN_RADIO: return _ ("the radio's own");
  case SP_ORIGIN_ANALYZER: return _ ("made in the analyzer");
  case SP_ORIGIN_MIXED: return _ ("partly the radio's, partly made in the analyzer");
  case SP_ORIGIN_AMBIENT: return _ ("there without the radio too");
  case SP_ORIGIN_UNTESTED: return _ ("nobody tested whose it is");
  }
  g_return_val_if_reached ("");
}

const char *
sp_words_job_step (SpJobStep step)
{
  return _ (steps[step].step);
}

const char *
sp_words_job_about (SpJobStep step)
{
  return _ (steps[step].about);
}

char *
sp_words_job_state (const SpJob *job, SpJobStep step)
{
  if (job->done[step])
    return g_strdup (_ ("done"));
  return job->open[step] > 1 ? g_strdup_printf (_ ("%u open"), job->open[step]) : g_strdup (_ ("open"));
}
