/* json-card.c - the card of a condition as JSON: every key maps to one field of SpCard */
#include "ui/report/json-card.h"

#include "ui/words/card.h"

static void
write_time (JsonBuilder *b, const SpWantedSweep *w)
{
  json_number (b, "parts", w->parts);
  json_number (b, "key_down_s", w->key_down_s);
  json_number (b, "pause_s", w->pause_s);
}

static void
write_wanted (JsonBuilder *b, const SpWantedSweep *w)
{
  g_autofree char *text = sp_words_wanted (w, SP_HAND_MACHINE);
  json_builder_begin_object (b);
  json_text (b, "kind", sp_wanted_name (w->kind));
  json_text (b, "text", text);
  json_yes (b, "done", w->done);
  json_count (b, "sweeps", w->n);
  json_number (b, "attenuation_db", w->attenuation_db);
  json_number (b, "more_db", w->more_db);
  json_yes (b, "pad", w->pad);
  json_number (b, "notch_db", w->notch_db);
  json_number (b, "from_hz", w->from_hz);
  json_number (b, "to_hz", w->to_hz);
  json_number (b, "at_hz", w->at_hz);
  write_time (b, w);
  json_reason (b, "reason", w->reason);
  json_builder_end_object (b);
}

/* In one line what the card says in two. */
static char *
now_said (const SpFindings *findings, const SpCard *card)
{
  char *lines[2];
  sp_words_card_now (findings, card, SP_CARD_READY, lines, SP_HAND_MACHINE);
  g_autofree char *first = lines[0], *second = lines[1],
                  *burns = sp_card_forbids (card) ? sp_words_card_burns (card->burns, card->power_w, SP_HAND_MACHINE) : NULL;
  return second || burns ? g_strdup_printf ("%s %s", first, second ? second : burns) : g_steal_pointer (&first);
}

void
json_card (JsonBuilder *b, const SpFindings *findings, guint condition)
{
  g_autoptr (SpCard) card = sp_card_new (findings, condition);
  g_autofree char *said = now_said (findings, card);
  json_array (b, "wanted");
  for (guint i = 0; i < card->n; i++)
    write_wanted (b, &card->wanted[i]);
  json_builder_end_array (b);
  json_object (b, "now");
  json_text (b, "kind", sp_card_now_name (card));
  json_text (b, "text", said);
  json_yes (b, "may_be_keyed", sp_card_keys (card));
  json_number (b, "power_w", card->power_w);
  if (card->now >= 0)
    write_time (b, &card->wanted[card->now]);
  json_builder_end_object (b);
  json_text (b, "next", card->next < 0 ? NULL : findings->conditions[card->next].name);
}
