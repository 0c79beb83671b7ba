/* words-card.c - the words of the card: what is wanted, what to do now, what would burn */
#include "ui/words/card.h"
#include "ui/words/speak.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* ---- what is wanted ---- */

/* Of a sweep that is not taken yet, by what asks for it. With more pad where the code's pad is known, or where it is one. */
static const struct {
  SpReasonCode code;
  const char *text, *with_pad;
} asked[] = {
  { SP_REASON_PROVE_SETTING, N_ ("again with {settings}"), N_ ("again with {pad_db} dB more pad{other_settings}") },
  { SP_REASON_PROVE_SWEEP, N_ ("again, up to {to_hz}"), NULL },
  { SP_REASON_PROVE_SAMPLING, N_ ("again with {points} points"), NULL },
  { SP_REASON_PROVE_RESOLVE, N_ ("again with points {spacing_hz} apart"), NULL },
  { SP_REASON_PROVE_NARROWER, N_ ("again with an RBW of {rbw_hz}, rms detection"), NULL },
  { SP_REASON_PROVE_REFERENCE, N_ ("again with the reference level above {reading_dbm}"), NULL },
  { SP_REASON_PROVE_RBW, N_ ("again with an RBW under {rbw_hz}"), NULL },
  { SP_REASON_PROVE_STEP_NOISE, N_ ("again with {noise_db} dB less noise"), NULL },
  { SP_REASON_PROVE_STEP, N_ ("one more with {step_db} dB more"), N_ ("one more with {step_db} dB more pad") },
  { SP_REASON_PROVE_STEP_PAD, N_ ("one more with {pad_db} dB more pad"), NULL },
  { SP_REASON_PROVE_BESIDE, N_ ("one more with {settings}"), N_ ("one more with {pad_db} dB more pad{other_settings}") },
  { SP_REASON_PROVE_NOTCH, N_ ("with the notch, {notch_db} dB deep{other_settings}"), NULL },
  { SP_REASON_PROVE_SPAN, N_ ("{from_hz} to {to_hz} alone, RBW {rbw_hz}"), NULL },
  { SP_REASON_PROVE_AMBIENT, N_ ("both again where {at_hz} is silent"), NULL },
  { SP_REASON_PROVE_CALIBRATION, N_ ("at the desk: the chain’s loss at {at_hz}"), NULL },
  { SP_REASON_PROVE_UNCERTAINTY, N_ ("at the desk: a U below {below_db} dB"), NULL },
  { SP_REASON_PROVE_RESIDUAL, N_ ("at the desk: {at_hz} is the analyzer’s own"), NULL },
  { SP_REASON_PROVE_FLOOR, N_ ("at the desk: a floor {missing_db} dB lower"), NULL },
  { SP_REASON_PROVE_SPAN_NOT, N_ ("at the desk: {from_hz} to {to_hz} stays hidden"), NULL },
};

static gboolean
is_by_pad (const SpReason *reason)
{
  switch (reason->code) {
  case SP_REASON_PROVE_SETTING: return !isnan (reason->PROVE_SETTING.pad_db);
  case SP_REASON_PROVE_BESIDE: return !isnan (reason->PROVE_BESIDE.pad_db);
  case SP_REASON_PROVE_STEP: return reason->PROVE_STEP.pad;
  default: return FALSE;
  }
}

static char *
asked_for (const SpReason *reason, SpHand hand)
{
  for (guint i = 0; i < G_N_ELEMENTS (asked); i++)
    if (asked[i].code == reason->code)
      return fill_places (reason, asked[i].with_pad && is_by_pad (reason) ? asked[i].with_pad : asked[i].text, hand);
  return sp_words_reason (reason, hand); /* a new code that has no short words yet */
}

static char *
setting (double value_db, SpHand hand)
{
  return sp_words_number (value_db, value_db == round (value_db) ? 0 : 1, hand);
}

/* `with` takes the number; it is `without` where that is not known. */
static char *
with_number (double value_db, const char *with, const char *without, SpHand hand)
{
  g_autofree char *number = setting (value_db, hand);
  g_autoptr (GString) text = g_string_new (isnan (value_db) ? without : with);
  g_string_replace (text, "{n}", number, 1);
  return g_strdup (text->str);
}

static char *
stretch (const SpWantedSweep *w, SpHand hand)
{
  g_autofree char *from = sp_words_frequency (w->from_hz, 1e4, hand), *to = sp_words_frequency (w->to_hz, 1e4, hand);
  return g_strdup_printf (_ ("%s to %s alone"), from, to);
}

/* Of its kind: nothing else asks for it, or it is taken. */
static char *
by_kind (const SpWantedSweep *w, SpHand hand)
{
  switch (w->kind) {
  case SP_WANTED_STEP: return with_number (w->more_db, _ ("one more with {n} dB more"), _ ("one more with more attenuation"), hand);
  case SP_WANTED_UNKEYED: return g_strdup (_ ("sweep with the key up"));
  case SP_WANTED_NOTCHED: return with_number (w->notch_db, _ ("with the notch, {n} dB deep"), _ ("with the notch"), hand);
  case SP_WANTED_STRETCH: return stretch (w, hand);
  default: return with_number (w->attenuation_db, _ ("sweep at {n} dB of attenuation"), _ ("sweep with the key down"), hand);
  }
}

char *
sp_words_wanted (const SpWantedSweep *w, SpHand hand)
{
  gboolean plain = !w->reason || w->kind == SP_WANTED_KEYED;
  g_autofree char *text = plain ? by_kind (w, hand) : asked_for (w->reason, hand);
  if (w->n < 2)
    return g_steal_pointer (&text);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s, %u time", "%s, %u times", w->n), text, w->n);
}

/* ---- what to do now ---- */

/* "Key now: 8 s."; in parts: "Key 60 s, 17 times." `first`: no other line comes before it. */
static char *
key (const SpWantedSweep *w, gboolean first, SpHand hand)
{
  if (isnan (w->key_down_s))
    return g_strdup (first ? _ ("Key now.") : _ ("Then key."));
  g_autofree char *time = sp_words_seconds (w->key_down_s, hand), *parts = sp_words_number (w->parts, 0, hand),
                  *pause = sp_words_seconds (w->pause_s, hand);
  if (w->parts > 1)
    return w->pause_s > 0 ? g_strdup_printf (_ ("Key %s, %s times, %s between."), time, parts, pause)
                          : g_strdup_printf (_ ("Key %s, %s times."), time, parts);
  return g_strdup_printf (first ? _ ("Key now: %s.") : _ ("Then key %s."), time);
}

/* What comes before the keying; NULL: nothing. */
static char *
prepare (const SpWantedSweep *w, SpHand hand)
{
  g_autofree char *at = sp_words_frequency (w->at_hz, 1e5, hand), *words = NULL;
  switch (w->kind) {
  case SP_WANTED_STEP:
    if (w->pad)
      return with_number (w->more_db, _ ("Put a pad of {n} dB before the analyzer."), "", hand);
    return with_number (w->more_db, _ ("Once more, with {n} dB more."), _ ("Once more, with other settings."), hand);
  case SP_WANTED_NOTCHED: return g_strdup (_ ("Put the notch in."));
  case SP_WANTED_AGAIN: return g_strdup (_ ("Again, with other settings."));
  case SP_WANTED_STRETCH: return words = stretch (w, hand), g_strdup_printf (_ ("Now %s."), words);
  case SP_WANTED_SILENCE: return g_strdup_printf (_ ("Again, once %s is silent."), at);
  default: return NULL;
  }
}

static void
nothing_wanted (const SpFindings *findings, const SpCard *card, char *lines[2])
{
  gboolean done = g_str_equal (sp_card_now_name (card), "done");
  lines[0] = g_strdup (done ? _ ("Done.") : _ ("Nothing more to key."));
  if (card->next < 0)
    return;
  guint radio = findings->bench->conditions[findings->conditions[card->next].condition].radio;
  lines[1] = g_strdup_printf (_ ("Next: %s."), findings->bench->radios[radio].name);
}

void
sp_words_card_now (const SpFindings *findings, const SpCard *card, SpCardState state, char *lines[2], SpHand hand)
{
  const SpWantedSweep *now = card->now < 0 ? NULL : &card->wanted[card->now];
  lines[0] = lines[1] = NULL;
  if (state == SP_CARD_WAITS || state == SP_CARD_RETAKES) {
    lines[0] = g_strdup (state == SP_CARD_RETAKES ? _ ("The last sweep once more:") : _ ("Keyed, exported:"));
    lines[1] = g_strdup (_ ("waiting for the file."));
  } else if (!now) {
    nothing_wanted (findings, card, lines);
  } else if (now->kind == SP_WANTED_UNKEYED) {
    lines[0] = g_strdup (_ ("Now with the key up."));
  } else if (sp_card_forbids (card)) {
    lines[0] = g_strdup (_ ("Do not key."));
  } else if ((lines[0] = prepare (now, hand))) {
    lines[1] = key (now, FALSE, hand);
  } else {
    lines[0] = key (now, TRUE, hand);
  }
}

const char *
sp_words_card_mind (const SpCard *card, SpCardState state)
{
  return sp_card_keys (card) && state == SP_CARD_READY ? _ ("Connectors tight, hands off the line.") : NULL;
}

/* ---- whether at all ---- */

char *
sp_words_card_burns (const SpReason *unsafe, double power_w, SpHand hand)
{
  g_autofree char *power = sp_words_power (power_w, hand), *gets = sp_words_power (unsafe->UNSAFE.power_w, hand),
                  *rating = sp_words_power (unsafe->UNSAFE.rating_w, hand);
  const char *place = unsafe->UNSAFE.place && *unsafe->UNSAFE.place ? unsafe->UNSAFE.place : _ ("the analyzer");
  if (unsafe->UNSAFE.throws_back)
    return g_strdup_printf (_ ("%s throws %s back at the radio: do not key."), place, power);
  if (isnan (unsafe->UNSAFE.rating_w))
    return g_strdup_printf (_ ("%s would put %s on %s: do not key."), power, gets, place);
  return g_strdup_printf (_ ("%s would put %s on %s, rated %s: do not key."), power, gets, place, rating);
}

char *
sp_words_card_unknown (const SpFindings *findings, const SpCard *card)
{
  const SpConditionFindings *found = &findings->conditions[card->condition];
  g_autofree char *unrated = found->headroom ? sp_words_unrated (found) : NULL;
  if (!found->headroom)
    return g_strdup (_ ("Nobody stated its power and frequency: nothing here can tell whether the chain takes it."));
  return unrated ? g_strdup_printf (_ ("Nobody stated what this takes: %s."), unrated) : NULL;
}

const char *const *
sp_words_keying_cautions (guint *n)
{
  static const char *const cautions[] = {
    N_ ("Radio-frequency power burns skin and is felt too late: every connector tight, nobody touches the line."),
    N_ ("The pad that takes the power comes first, and is rated for it: one wrong place, and the analyzer’s input burns."),
    N_ ("Key only into the chain, with the licence that your rules ask for."),
  };
  *n = G_N_ELEMENTS (cautions);
  return cautions;
}

/* ---- how it stands ---- */

char *
sp_words_card_band (const SpFindings *findings, guint condition)
{
  const SpCondition *c = &findings->bench->conditions[findings->conditions[condition].condition];
  double f0 = findings->conditions[condition].fundamental_hz;
  if (*c->name)
    return g_strdup (c->name);
  return sp_words_waveband (sp_waveband_of (isnan (f0) ? c->fundamental_hz : f0));
}

void
sp_words_card_so_far (const SpConditionFindings *found, const SpCard *card, char **word, char **room, char **about, SpHand hand)
{
  double room_db = sp_findings_room_db (found);
  const SpEmission *deciding = sp_findings_deciding (found);
  gboolean swept = card->n > 0 && card->wanted[0].done;
  *word = g_strdup (swept ? sp_words_verdict (found->verdict) : _ ("nothing yet"));
  *room = *about = NULL;
  if (!swept || isnan (room_db) || !deciding)
    return;
  g_autofree char *number = sp_words_signed (room_db, 1, hand), *u = sp_words_number (sp_emission_deciding_expanded_db (deciding), 1, hand);
  *room = g_strdup_printf (_ ("%s dB"), number);
  *about = g_strdup_printf (_ ("room, U %s dB"), u);
}

static void
say (GString *text, const char *sentence)
{
  if (sentence && *sentence)
    g_string_append_printf (text, "%s%s", text->len ? " " : "", sentence);
}

static void
say_wanted (GString *text, const SpCard *card)
{
  for (guint i = 0; i < card->n; i++) {
    g_autofree char *words = sp_words_wanted (&card->wanted[i], SP_HAND_SCREEN),
                    *said = g_strdup_printf (card->wanted[i].done ? _ ("Done: %s.") : _ ("Wanted: %s."), words);
    say (text, said);
  }
}

static void
say_cautions (GString *text)
{
  guint n;
  const char *const *cautions = sp_words_keying_cautions (&n);
  for (guint i = 0; i < n; i++)
    say (text, _ (cautions[i]));
}

char *
sp_words_card (const SpFindings *findings, const SpCard *card, SpCardState state)
{
  const SpConditionFindings *found = &findings->conditions[card->condition];
  const SpCondition *condition = &findings->bench->conditions[found->condition];
  g_autofree char *band = sp_words_card_band (findings, card->condition), *power = sp_words_power (condition->rated_w, SP_HAND_SCREEN),
                  *head = g_strdup_printf ("%s, %s, %s.", findings->bench->radios[condition->radio].name, band, power),
                  *unknown = sp_words_card_unknown (findings, card), *word = NULL, *room = NULL, *about = NULL;
  g_autofree char *burns = sp_card_forbids (card) ? sp_words_card_burns (card->burns, card->power_w, SP_HAND_SCREEN) : NULL;
  char *lines[2];
  GString *text = g_string_new (head);
  sp_words_card_now (findings, card, state, lines, SP_HAND_SCREEN);
  sp_words_card_so_far (found, card, &word, &room, &about, SP_HAND_SCREEN);
  if (state == SP_CARD_CAUTIONS)
    say_cautions (text);
  say (text, burns);
  say (text, unknown);
  say (text, lines[0]);
  say (text, lines[1]);
  say (text, sp_words_card_mind (card, state));
  g_autofree char *so_far = room ? g_strdup_printf (_ ("So far: %s, %s %s."), word, room, about)
                                 : g_strdup_printf (_ ("So far: %s."), word);
  say (text, so_far);
  say_wanted (text, card);
  for (guint i = 0; i < 2; i++)
    g_free (lines[i]);
  return g_string_free (text, FALSE);
}
