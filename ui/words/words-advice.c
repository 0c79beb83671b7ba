/* words-advice.c - the advised sweep, before anything was keyed, as a sentence */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static char *
detection (const SpSetting *s)
{
  if (s->detector == SP_DETECTOR_PEAK)
    return g_strdup (_ ("positive peak detection"));
  return s->detector == SP_DETECTOR_SAMPLE ? g_strdup (_ ("sample detection"))
                                           : g_strdup_printf (_ ("detector %s"), sp_words_of_detector (s->detector));
}

static char *
settings (const SpSetting *s, SpHand hand)
{
  g_autofree char *attenuation = sp_words_number (s->attenuation_db, s->attenuation_db == round (s->attenuation_db) ? 0 : 1, hand);
  g_autofree char *rbw = sp_words_frequency (s->rbw_hz, 0, hand), *detected = detection (s), *points = sp_words_number (s->points, 0, hand);
  g_autofree char *from = sp_words_frequency (s->start_hz, 1e5, hand), *to = sp_words_frequency (s->stop_hz, 1e5, hand);
  g_autoptr (GString) text = g_string_new (NULL);
  g_string_append_printf (text, _ ("%s dB of attenuation, an RBW of %s, %s, %s points from %s to %s"), attenuation, rbw, detected, points,
                          from, to);
  if (s->averages > 1) {
    g_autofree char *averages = sp_words_number (s->averages, 0, hand);
    g_string_append_printf (text, _ (", a power average of %s sweeps"), averages);
  }
  if (s->parts > 1) {
    g_autofree char *parts = sp_words_number (s->parts, 0, hand);
    g_string_append_printf (text, _ (", in %s parts side by side"), parts);
  }
  return g_strdup (text->str);
}

static char *
name_of (guint order, SpHand hand)
{
  SpEmission emission = { .order = order };
  return sp_words_emission (&emission, hand);
}

/* "7th harmonic, 9th harmonic": those where the chain is not calibrated; "" if none. (transfer full) */
static char *
uncalibrated (const SpAdvice *advice, SpHand hand)
{
  g_autoptr (GString) list = g_string_new (NULL);
  for (guint i = 0; i < advice->n_unprovable; i++) {
    g_autofree char *name = name_of (advice->unprovable[i].order, hand);
    if (advice->unprovable[i].obstacle == SP_OBSTACLE_CALIBRATION)
      g_string_append_printf (list, "%s%s", list->len ? ", " : "", name);
  }
  return g_strdup (list->str);
}

static const char *
obstacle_named (SpObstacle obstacle)
{
  switch (obstacle) {
  case SP_OBSTACLE_ZERO_HERTZ: return _ ("too near zero hertz");
  case SP_OBSTACLE_TIME: return _ ("it would take too long");
  case SP_OBSTACLE_UNSAFE: return _ ("none is safe");
  case SP_OBSTACLE_CALIBRATION: return _ ("the chain is not calibrated there");
  default: break;
  }
  for (guint cause = SP_CAUSE_NOISE; cause <= SP_CAUSE_PRODUCT; cause++)
    if (sp_obstacle_of_cause (cause) == obstacle)
      return sp_words_cause (cause);
  return sp_obstacle_name (obstacle);
}

static void
say (GString *paragraph, char *sentence)
{
  g_autofree char *owned = sentence;
  if (*owned)
    g_string_append_printf (paragraph, "%s%s", paragraph->len ? " " : "", owned);
}

/* One sentence for all that the best sweep's floor misses by one cause. */
static void
say_missed (GString *text, const SpAdvice *advice, SpFloorCause cause, SpHand hand)
{
  g_autoptr (GString) names = g_string_new (NULL);
  double most = -INFINITY;
  for (guint i = 0; i < advice->n_unprovable; i++) {
    const SpUnprovable *u = &advice->unprovable[i];
    if (u->obstacle != sp_obstacle_of_cause (cause) || !(u->missing_db > -SP_PROVE_RESERVE_DB))
      continue;
    g_autofree char *name = name_of (u->order, hand);
    g_string_append_printf (names, "%s%s", names->len ? ", " : "", name);
    most = fmax (most, u->missing_db);
  }
  if (!names->len)
    return;
  g_autofree char *missing = sp_words_number (most + SP_PROVE_RESERVE_DB, 1, hand),
                  *reserve = sp_words_number (SP_PROVE_RESERVE_DB, 1, hand);
  say (text,
       g_strdup_printf (_ ("No single sweep over all of it shows whatever may stand at: %s. The best would miss it by up to %s dB, %s dB "
                           "of them reserve (%s)."),
                        names->str, missing, reserve, sp_words_cause (cause)));
}

/* The harmonics that no sweep proves. */
static void
say_apart (GString *text, const SpAdvice *advice, SpHand hand)
{
  g_autofree char *list = uncalibrated (advice, hand);
  if (*list)
    say (text, g_strdup_printf (_ ("No sweep proves what the chain is not calibrated for: %s. Measure its loss there."), list));
  for (guint i = 0; i < advice->n_unprovable; i++) {
    const SpUnprovable *u = &advice->unprovable[i];
    g_autofree char *name = name_of (u->order, hand);
    if (u->obstacle == SP_OBSTACLE_NOT_RESOLVED)
      say (text, g_strdup_printf (_ ("No sweep tells the %s from what stands beside it."), name));
    else if (u->missing_db <= -SP_PROVE_RESERVE_DB)
      say (text, g_strdup_printf (_ ("No such sweep proves the %s: what the analyzer makes may show there."), name));
  }
  for (guint cause = SP_CAUSE_NOISE; cause <= SP_CAUSE_PRODUCT; cause++)
    say_missed (text, advice, cause, hand);
}

static void
say_close_by (GString *text, const SpAdvice *advice, SpHand hand)
{
  if (advice->close_by) {
    const SpKeying *k = &advice->close_keying;
    g_autofree char *how = settings (&advice->close, hand), *key = sp_words_key_down (k->parts, k->key_down_s, k->pause_s, k->basis, hand);
    say (text, g_strdup_printf (_ ("Beside the carrier it sees too little: sweep there once more with %s, %s."), how, key));
  } else if (advice->close_obstacle) {
    say (text,
         g_strdup_printf (_ ("What stands right beside the carrier no such sweep shows (%s)."), obstacle_named (advice->close_obstacle)));
  }
}

static char *
outcome (const SpAdvice *advice, SpHand hand)
{
  if (advice->worst_order == 0)
    return g_strdup (_ ("No harmonic has a limit here."));
  SpEmission worst = { .order = advice->worst_order };
  g_autofree char *name = sp_words_emission (&worst, hand), *missing = sp_words_number (fabs (advice->worst_missing_db), 1, hand);
  if (advice->proves && advice->n_unprovable)
    return g_strdup_printf (_ ("It would prove every other harmonic that shows nothing; least to spare has the %s, %s dB."), name, missing);
  if (advice->proves)
    return g_strdup_printf (_ ("It would prove every harmonic that shows nothing; least to spare has the %s, %s dB."), name, missing);
  if (advice->worst_missing_db > 0)
    return g_strdup_printf (_ ("It would not prove everything: the %s misses it by %s dB."), name, missing);
  return g_strdup_printf (_ ("It would not prove everything with a reserve: the %s has %s dB to spare."), name, missing);
}

/* An emission at an order without an intercept stays untested: only a step can tell its origin. */
static void
say_unknown (GString *text, const SpAdvice *advice)
{
  if (advice->unpredicted)
    say (text,
         g_strdup_printf (_ ("At %u of the harmonics what the analyzer's own mixer makes is not known, as its profile has no intercept: "
                             "what shows there needs a step of attenuation."),
                          advice->unpredicted));
}

/* The key-down time, and the time assumed for a radio that states none. (transfer full) */
static char *
key_down (const SpAdvice *advice, SpHand hand)
{
  const SpKeying *k = &advice->keying;
  g_autofree char *key = sp_words_key_down (k->parts, k->key_down_s, k->pause_s, k->basis, hand);
  g_autofree char *longest = sp_words_seconds (k->longest_s, hand);
  if (!k->longest_assumed || k->keyed_s < k->longest_s / 2)
    return g_steal_pointer (&key);
  return g_strdup_printf (_ ("%s (a longest key-down of %s is assumed, as the radio states none)"), key, longest);
}

static void
say_sweep (GString *text, const SpAdvice *advice, SpHand hand)
{
  if (!advice->any) {
    say (text, g_strdup (_ ("No sweep is safe with this chain and analyzer: more attenuation has to come before it.")));
    return;
  }
  if (!advice->noise_known) {
    say (text, g_strdup (_ ("How to sweep cannot be foreseen: the analyzer's profile states no noise (danl_dbm_hz).")));
    return;
  }
  g_autofree char *how = settings (&advice->setting, hand), *mixer = sp_words_level (advice->mixer_dbm, 1, hand),
                  *key = key_down (advice, hand);
  say (text, g_strdup_printf (_ ("Sweep with %s, %s: %s at the mixer."), how, key, mixer));
  say (text, outcome (advice, hand));
  say_apart (text, advice, hand);
}

char *
sp_words_advice (const SpAdvice *advice, const char *between, SpHand hand)
{
  g_autoptr (GString) sweep = g_string_new (NULL), close_by = g_string_new (NULL), unknown = g_string_new (NULL);
  say_sweep (sweep, advice, hand);
  if (advice->any && advice->noise_known) {
    say_close_by (close_by, advice, hand);
    say_unknown (unknown, advice);
  }
  const GString *paragraphs[] = { sweep, close_by, unknown };
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < G_N_ELEMENTS (paragraphs); i++)
    if (paragraphs[i]->len)
      g_string_append_printf (text, "%s%s", text->len ? between : "", paragraphs[i]->str);
  return g_string_free (text, FALSE);
}

char *
sp_words_key_down (double parts, double key_down_s, double pause_s, SpTimeBasis basis, SpHand hand)
{
  g_autofree char *down = sp_words_seconds (key_down_s, hand), *pause = sp_words_seconds (pause_s, hand),
                  *n = sp_words_number (parts, 0, hand);
  g_autoptr (GString) text = g_string_new (NULL);
  if (!(parts > 1))
    g_string_append_printf (text, _ ("key down %s"), down);
  else if (pause_s > 0)
    g_string_append_printf (text, _ ("key down %s in each of %s parts, %s of pause between them"), down, n, pause);
  else
    g_string_append_printf (text, _ ("key down %s in each of %s parts"), down, n);
  if (key_down_s >= 1 && basis == SP_TIME_ASSUMED)
    g_string_append (text, _ (" (sweep time by common practice)"));
  return g_strdup (text->str);
}
