/* why.c - one verdict explained: what each step of the walk says */
#include "ui/words/help.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static const char *const titles[SP_WHY_STEPS] = {
  [SP_WHY_READ] = N_ ("What the analyzer read"),
  [SP_WHY_CHAIN] = N_ ("What the chain took"),
  [SP_WHY_LEVEL] = N_ ("Level at the socket"),
  [SP_WHY_WHOSE] = N_ ("Whose is it?"),
  [SP_WHY_LIMIT] = N_ ("The limit"),
  [SP_WHY_SURE] = N_ ("How sure is that?"),
  [SP_WHY_WORD] = N_ ("The word"),
  [SP_WHY_SETTLE] = N_ ("What would settle it"),
};

const char *
sp_words_why_title (SpWhyStep step)
{
  return _ (titles[step]);
}

/* ---- the figures ---- */

static char *
figure_of_settling (const SpWhy *why, SpHand hand)
{
  if (!isnan (why->settling_u_db)) {
    g_autofree char *u = sp_words_number (why->settling_u_db, 1, hand);
    return g_strdup_printf (_ ("U under %s dB"), u);
  }
  if (!isnan (why->over_db) && !isnan (why->short_db)) {
    g_autofree char *less = sp_words_number (why->short_db, 1, hand);
    return g_strdup_printf (_ ("%s dB less"), less);
  }
  return g_strdup (why->emission->would_prove ? _ ("one thing more") : _ ("nothing is open"));
}

static char *
figure_with_unit (const char *format, double value, gboolean sign, SpHand hand)
{
  g_autofree char *number = sign ? sp_words_signed (value, 1, hand) : sp_words_number (value, 1, hand);
  return g_strdup_printf (format, number);
}

char *
sp_words_why_figure (const SpWhy *why, SpWhyStep step, SpHand hand)
{
  const SpEmission *e = why->emission;
  switch (step) {
  case SP_WHY_READ: return e->swept ? sp_words_level (e->reading_dbm, 1, hand) : g_strdup (_ ("not swept"));
  case SP_WHY_CHAIN: return figure_with_unit (_ ("%s dB"), e->loss_db, TRUE, hand);
  case SP_WHY_LEVEL: return sp_words_level (e->level_dbm, 1, hand);
  case SP_WHY_WHOSE: return g_strdup (e->origin ? sp_words_origin (e->origin) : e->swept ? _ ("nothing seen") : _ ("not swept"));
  case SP_WHY_LIMIT: return isnan (e->limit_dbm) ? g_strdup (_ ("none")) : sp_words_level (e->limit_dbm, 1, hand);
  case SP_WHY_SURE:
    return isnan (why->expanded_db) ? g_strdup (_ ("no U")) : figure_with_unit (_ ("U %s dB"), why->expanded_db, FALSE, hand);
  case SP_WHY_WORD: return g_strdup (sp_words_verdict (e->verdict));
  case SP_WHY_SETTLE: return figure_of_settling (why, hand);
  case SP_WHY_STEPS: break;
  }
  g_return_val_if_reached (NULL);
}

/* ---- the sentences ---- */

static char *
says_read (const SpWhy *why, SpHand hand)
{
  const SpEmission *e = why->emission;
  g_autofree char *place = sp_words_frequency (e->frequency_hz, 1e4, hand), *reading = sp_words_level (e->reading_dbm, 1, hand),
                  *over = sp_words_number (why->over_noise_db, 0, hand);
  if (!e->swept)
    return g_strdup_printf (_ ("No sweep covers %s, so nothing was read there."), place);
  const SpTrace *trace = why->findings->bench->conditions[why->found->condition].sweeps[e->sweep].trace;
  g_autofree char *base = g_path_get_basename (trace->file), *file = g_filename_display_name (base);
  if (sp_emission_is_blind (e))
    return g_strdup_printf (_ ("The sweep %s covers %s, but its points lie so far apart that a line could fall between them."), file,
                            place);
  if (!e->detected)
    return g_strdup_printf (_ ("The sweep %s shows nothing at %s. Whatever reads over %s there would have shown: that is its floor."), file,
                            place, reading);
  if (isnan (why->over_noise_db))
    return g_strdup_printf (_ ("The sweep %s shows %s at %s: it was seen."), file, reading, place);
  return g_strdup_printf (_ ("The sweep %s shows %s at %s. It stands %s dB out of the analyzer's noise: it was seen."), file, reading,
                          place, over);
}

static guint
count_not_measured (const SpWhy *why)
{
  guint n = 0;
  for (guint i = 0; i < why->n_stages; i++)
    n += why->stages[i].from == SP_BUDGET_FROM_LABEL || why->stages[i].from == SP_BUDGET_FROM_NOTHING;
  return n;
}

static char *
says_chain (const SpWhy *why, SpHand hand)
{
  g_autoptr (GString) parts = g_string_new (NULL);
  for (guint i = 0; i < why->n_stages; i++) {
    g_autofree char *loss = sp_words_number (why->stages[i].loss_db, 2, hand);
    g_string_append_printf (parts, "%s%s %s", i ? ", " : "", why->stages[i].stage->name, loss);
  }
  if (fabs (why->interaction_db) >= 0.005) { /* what would be shown as 0.00 is left out */
    g_autofree char *between = sp_words_signed (why->interaction_db, 2, hand);
    g_string_append_printf (parts, _ (", between them %s"), between);
  }
  g_autofree char *sum = sp_words_signed (why->emission->loss_db, 2, hand);
  guint not_measured = count_not_measured (why);
  g_autofree char *measured = not_measured ? g_strdup_printf (_ ("Not measured: %u of %u parts."), not_measured, why->n_stages)
                                           : g_strdup (_ ("Each of them was measured."));
  return g_strdup_printf (_ ("Back up the stairs, from the analyzer to the radio: %s. Together %s dB. %s"), parts->str, sum, measured);
}

static char *
says_level (const SpWhy *why, SpHand hand)
{
  const SpEmission *e = why->emission;
  if (!e->swept)
    return g_strdup (_ ("Without a reading there is no level."));
  g_autofree char *reading = sp_words_number (e->reading_dbm, 2, hand), *loss = sp_words_signed (e->loss_db, 2, hand),
                  *others = sp_words_signed (why->others_db, 2, hand), *level = sp_words_level (e->level_dbm, 2, hand),
                  *power = sp_words_power (why->level_w, hand), *under = sp_words_number (why->under_carrier_db, 1, hand),
                  *carrier = sp_words_level (why->found->power_dbm, 1, hand);
  gboolean more = fabs (why->others_db) >= 0.005; /* what would be shown as 0.00 is left out */
  g_autofree char *sum = g_strdup_printf ("%s %s%s%s = %s", reading, loss, more ? " " : "", more ? others : "", level);
  const char *because = more ? _ (" The last figure: the analyzer's correction, its noise taken out, the line between points.") : "";
  g_autofree char *below = isnan (why->under_carrier_db) ? g_strdup ("")
                                                         : g_strdup_printf (_ (" The carrier is %s: %s dB over it."), carrier, under);
  if (!e->detected)
    return g_strdup_printf (_ ("%s, %s: the floor, for nothing was seen.%s%s"), sum, power, because, below);
  return g_strdup_printf (_ ("%s, %s out of the antenna socket.%s%s"), sum, power, because, below);
}

/* What shows that it is the radio's. */
static char *
says_radios (const SpWhy *why, SpHand hand)
{
  const SpEmission *e = why->emission;
  g_autofree char *name = sp_words_emission (e, hand), *own = sp_words_level (e->product_high_dbm, 1, hand),
                  *under = sp_words_number (why->under_product_db, 0, hand), *more = sp_words_number (why->fall.more_db, 0, hand);
  if (e->origin_basis == SP_BASIS_STEP && why->fall.known && !why->fall.gone)
    return g_strdup_printf (_ ("With %s dB more attenuation it stayed where it was. What the analyzer makes would have fallen: it is the "
                               "radio's."),
                            more);
  if (e->origin_basis == SP_BASIS_UNKEYED)
    return g_strdup (_ ("With the key up nothing stands there: it is the radio's."));
  if (!isnan (e->product_high_dbm) && why->under_product_db > 0)
    return g_strdup_printf (
        _ ("By its profile the analyzer's own %s would be %s at most, %s dB less than this: too little to matter. It is "
           "the radio's. A sweep with 10 dB more would tell for certain."),
        name, own, under);
  return g_strdup (_ ("Nothing speaks for the analyzer or the air: it is the radio's."));
}

/* A name at the beginning of a sentence. */
static char *
begun_large (const char *text)
{
  char first[7] = { 0 };
  g_unichar_to_utf8 (g_unichar_toupper (g_utf8_get_char (text)), first);
  return g_strconcat (first, g_utf8_next_char (text), NULL);
}

static char *
says_whose (const SpWhy *why, SpHand hand)
{
  const SpEmission *e = why->emission;
  if (e->origin == SP_ORIGIN_NONE)
    return g_strdup (e->swept ? _ ("Nothing was seen, so nothing has to be told apart.")
                              : _ ("Without a sweep there is nothing to be told apart."));
  if (e->origin == SP_ORIGIN_RADIO)
    return says_radios (why, hand);
  g_autofree char *name = sp_words_emission (e, hand), *of_name = sp_words_whose (e, name, hand), *whose = begun_large (of_name);
  if (e->origin != SP_ORIGIN_ANALYZER || isnan (e->radio_high_dbm))
    return g_strdup_printf ("%s.", whose);
  g_autofree char *most = sp_words_level (e->radio_high_dbm, 1, hand);
  return g_strdup_printf (_ ("%s. At most %s is the radio's, and the verdict goes by that."), whose, most);
}

static const char *
goes_by (SpDecision decision)
{
  switch (decision) {
  case SP_DECISION_LEVEL: return _ ("the level");
  case SP_DECISION_FLOOR: return _ ("the floor");
  case SP_DECISION_PART_HIGH: return _ ("the most that can be the radio's");
  case SP_DECISION_PART_LOW: return _ ("the least that must be the radio's");
  case SP_DECISION_NONE:
  case SP_DECISION_BLIND: return NULL;
  }
  g_return_val_if_reached (NULL);
}

static char *
says_limit (const SpWhy *why, SpHand hand)
{
  const SpEmission *e = why->emission;
  const SpBench *bench = why->findings->bench;
  const SpMask *mask = sp_condition_mask (bench, &bench->conditions[why->found->condition]);
  if (isnan (e->limit_dbm))
    return g_strdup_printf (_ ("%s sets no number here, so nothing can be held against it."),
                            mask ? mask->title : _ ("No mask is chosen: it"));
  g_autofree char *limit = sp_words_level (e->limit_dbm, 2, hand), *decides = sp_words_number (why->decides_dbm, 2, hand),
                  *number = sp_words_number (e->limit_dbm, 2, hand), *room = sp_words_signed (why->room_db, 2, hand);
  g_autofree char *rule = sp_words_mask (mask);
  if (!goes_by (e->decision) || isnan (why->room_db))
    return g_strdup_printf (_ ("%s: no more than %s here."), rule, limit);
  g_autofree char *taken = why->decides_dbm < 0 ? g_strdup_printf ("(%s)", decides) : g_strdup (decides);
  return g_strdup_printf (_ ("%s: no more than %s here. The verdict goes by %s. Room: %s − %s = %s dB."), rule, limit,
                          goes_by (e->decision), number, taken, room);
}

static char *
says_sure (const SpWhy *why, SpHand hand)
{
  if (why->n_terms == 0)
    return g_strdup (_ ("Without a level and a limit there is no U."));
  g_autofree char *u = sp_words_number (why->u_db, 2, hand), *k = sp_words_number (why->k, 2, hand),
                  *expanded = sp_words_number (why->expanded_db, 2, hand);
  return g_strdup_printf (
      ngettext ("%u cause may push the level a little. It makes u %s dB; %s times that is U of the room, %s dB: it holds the true distance "
                "to the "
                "limit in 95 of 100 such measurements.",
                "Each of %u causes may push the level a little. As squares they add up to u %s dB; %s times that is U of the "
                "room, %s dB: it holds the true distance to the limit in 95 of 100 such measurements.",
                why->n_terms),
      why->n_terms, u, k, expanded);
}

/* Never all, and never none: a probability has no end. */
static char *
share_of_cases (const SpWhy *why, SpHand hand)
{
  if (isnan (why->per_cent_under))
    return NULL;
  return why->per_cent_under > 99  ? g_strdup (_ ("more than 99"))
         : why->per_cent_under < 1 ? g_strdup (_ ("less than 1"))
                                   : sp_words_number (why->per_cent_under, 0, hand);
}

static char *
says_word (const SpWhy *why, SpHand hand)
{
  const SpEmission *e = why->emission;
  g_autofree char *reason = e->reason ? sp_words_reason (e->reason, hand) : g_strdup (""), *under = share_of_cases (why, hand);
  if (isnan (why->room_db))
    return g_steal_pointer (&reason);
  const char *rule = why->guard_db > 0 ? _ ("Guarded rule: complies from a room of U on, exceeds from U over the limit on.")
                                       : _ ("Simple rule: complies where there is room at all.");
  g_autofree char *chance = under ? g_strdup_printf (_ (" The true level lies under the limit in %s of 100 such cases."), under)
                                  : g_strdup ("");
  return g_strdup_printf ("%s %s%s", rule, reason, chance);
}

static void
add (GString *text, char *sentence)
{
  g_string_append_printf (text, "%s%s", text->len ? "\n" : "", sentence);
  g_free (sentence);
}

static char *
says_settle (const SpWhy *why, SpHand hand)
{
  const SpEmission *e = why->emission;
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *rest = sp_words_number (why->without_first_db, 2, hand), *less = sp_words_number (why->short_db, 2, hand),
                  *share = sp_words_number (100 * why->repeat_share, 0, hand);
  if (e->would_prove)
    add (text, sp_words_reason (e->would_prove, hand));
  if (!isnan (why->settling_u_db) && !isnan (why->without_first_db))
    add (text, g_strdup_printf (why->without_first_db < why->settling_u_db
                                    ? _ ("Without its greatest part (%s) U would be %s dB: that would do.")
                                    : _ ("Without its greatest part (%s) U would be %s dB: still too much."),
                                sp_words_term (why->terms[0].term->kind), rest));
  if (!isnan (why->over_db) && !isnan (why->short_db))
    add (text, g_strdup_printf (_ ("Mend the radio and sweep again: a filter that takes %s dB off makes it comply."), less));
  else if (!isnan (why->settling_u_db) && !isnan (why->short_db))
    add (text, g_strdup_printf (_ ("Or a cleaner radio: a filter that takes %s dB off makes it comply."), less));
  if (!isnan (why->settling_u_db) && why->repeat_share < 0.5)
    add (text, g_strdup_printf (_ ("Measured again alike it stays so: what changes from sweep to sweep is %s %% of the square."), share));
  if (text->len == 0)
    add (text, g_strdup (_ ("Nothing is open.")));
  return g_strdup (text->str);
}

char *
sp_words_why_says (const SpWhy *why, SpWhyStep step, SpHand hand)
{
  static char *(*const says[SP_WHY_STEPS]) (const SpWhy *why, SpHand hand) = { says_read,  says_chain, says_level, says_whose,
                                                                               says_limit, says_sure,  says_word,  says_settle };
  return says[step](why, hand);
}
