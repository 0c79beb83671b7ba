/* reason.c - writes a reason as a sentence: picks the sentence and fills its places by the fields' kinds */
#include "ui/words/speak.h"

#include "core/quantity/clean.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

const char *
sp_words_field_word (const SpReason *reason, const SpReasonField *field)
{
  static const char *const homes[] = { NULL, "bench", "radio", "condition" };
  int word = sp_reason_word (reason, field);
  if (word == SP_NO_WORD)
    return NULL;
  switch (field->kind) {
  case SP_REASON_FIELD_KEY_HOME: return homes[word];
  case SP_REASON_FIELD_MODULATION: return sp_modulation_name ((SpModulation) word);
  case SP_REASON_FIELD_PURPOSE: return sp_purpose_name ((SpPurpose) word);
  case SP_REASON_FIELD_FAULT: return sp_fault_kind_name ((SpFaultKind) word);
  case SP_REASON_FIELD_CAUSE: return sp_floor_cause_name ((SpFloorCause) word);
  case SP_REASON_FIELD_DETECTOR: return sp_detector_name ((SpDetector) word);
  case SP_REASON_FIELD_AVERAGE: return sp_average_name ((SpAverage) word);
  case SP_REASON_FIELD_TIME_BASIS: return sp_time_basis_name ((SpTimeBasis) word);
  case SP_REASON_FIELD_OBSTACLE: return sp_obstacle_name ((SpObstacle) word);
  case SP_REASON_FIELD_GAP: return sp_reason_name ((SpReasonCode) word);
  case SP_REASON_FIELD_TERM: return sp_term_name ((SpTermKind) word);
  default: g_return_val_if_reached (NULL);
  }
}

/* The word as people read it. JSON keeps the table's. */
static const char *
word_said (const SpReason *reason, const SpReasonField *field)
{
  int word = sp_reason_word (reason, field);
  if (field->kind == SP_REASON_FIELD_TERM)
    return word == SP_NO_WORD ? "-" : sp_words_term ((SpTermKind) word);
  return field->kind == SP_REASON_FIELD_DETECTOR && word != SP_NO_WORD ? sp_words_of_detector ((SpDetector) word)
                                                                       : sp_words_field_word (reason, field);
}

/* A small figure gets one more digit, since "0.0 dB over" says nothing. */
static char *
decibels (double value, SpHand hand)
{
  return sp_words_number (value, fabs (value) < 0.095 && value != 0 ? 2 : 1, hand);
}

static char *
number_by_kind (SpReasonFieldKind kind, double value, SpHand hand)
{
  switch (kind) {
  case SP_REASON_FIELD_HZ: return sp_words_frequency (value, 0, hand);
  case SP_REASON_FIELD_DBM: return sp_words_level (value, 1, hand);
  case SP_REASON_FIELD_WATT: return sp_words_power (value, hand);
  case SP_REASON_FIELD_SECONDS: return sp_words_seconds (value, hand);
  case SP_REASON_FIELD_DB: return decibels (value, hand);
  case SP_REASON_FIELD_SETTING: return value == round (value) ? sp_words_number (value, 0, hand) : decibels (value, hand);
  case SP_REASON_FIELD_COUNT:
  case SP_REASON_FIELD_DAYS: return sp_words_number (value, 0, hand);
  default: return sp_words_number (value, 2, hand);
  }
}

static char *
number (SpReasonFieldKind kind, double value, const char *how, SpHand hand)
{
  gboolean with_sign = *how == '+', without = *how == '|';
  if (!*how)
    return number_by_kind (kind, value, hand);
  int decimals = how[with_sign || without] - '0';
  return with_sign ? sp_words_signed (value, decimals, hand) : sp_words_number (without ? fabs (value) : value, decimals, hand);
}

/* On the screen a file goes by its name: where it lies fills lines, and in a book it is a hash. */
static gboolean
is_file (const SpReasonField *field)
{
  return strcmp (field->name, "file") == 0 || g_str_has_suffix (field->name, "_file");
}

static char *
text_by_kind (SpReasonFieldKind kind, const char *text)
{
  if (kind == SP_REASON_FIELD_RULE)
    return g_strdup (text && *text ? text : _ ("no limit"));
  return g_strdup (text ? text : "");
}

static char *
field_said (const SpReason *reason, const SpReasonField *field, const char *how, SpHand hand)
{
  const char *word;
  switch (sp_reason_field_kept (field->kind)) {
  case SP_KEPT_TEXT:
    if (hand == SP_HAND_SCREEN && is_file (field) && sp_reason_text (reason, field) && *sp_reason_text (reason, field))
      return g_path_get_basename (sp_reason_text (reason, field));
    return text_by_kind (field->kind, sp_reason_text (reason, field));
  case SP_KEPT_NUMBER: return number (field->kind, sp_reason_number (reason, field), how, hand);
  case SP_KEPT_WORD: word = word_said (reason, field); return g_strdup (word ? word : "");
  }
  g_return_val_if_reached (g_strdup (""));
}

gboolean
next_place (const char **text, char name[32], char how[8])
{
  const char *open = strchr (*text, '{'), *end = open ? strchr (open, '}') : NULL;
  if (!end)
    return FALSE;
  const char *colon = memchr (open, ':', (gsize) (end - open));
  g_snprintf (name, 32, "%.*s", (int) ((colon ? colon : end) - open - 1), open + 1);
  g_snprintf (how, 8, "%.*s", colon ? (int) (end - colon - 1) : 0, colon ? colon + 1 : "");
  *text = end + 1;
  return TRUE;
}

static char *
phrase_said (const SpReason *reason, const Phrase *phrase, SpHand hand)
{
  g_autoptr (GString) list = g_string_new (NULL);
  if (phrase->say)
    return phrase->say (reason, hand);
  for (const Sentence *s = phrase->sentences; s->text; s++) {
    if (s->when && !s->when (reason))
      continue;
    g_autofree char *said = fill_places (reason, s->text, hand);
    g_string_append_printf (list, "%s%s", list->len ? ", " : "", said);
    if (!phrase->all)
      break;
  }
  return g_strdup (list->str);
}

static char *
place_said (const SpReason *reason, const char *name, const char *how, SpHand hand)
{
  for (const SpReasonField *f = sp_reason_fields (reason->code); f->name; f++)
    if (strcmp (f->name, name) == 0)
      return field_said (reason, f, how, hand);
  const Phrase *phrase = phrase_of (reason->code, name);
  return phrase ? phrase_said (reason, phrase, hand) : g_strdup_printf ("{%s}", name); /* makes a translator's mistake visible */
}

char *
fill_places (const SpReason *reason, const char *text, SpHand hand)
{
  g_autoptr (GString) out = g_string_new (NULL);
  const char *from = *text ? _ (text) : text, *next = from; /* gettext returns the catalogue's header for "" */
  char name[32], how[8];
  while (next_place (&next, name, how)) {
    g_autofree char *said = place_said (reason, name, how, hand);
    g_string_append_len (out, from, strchr (from, '{') - from);
    g_string_append (out, said);
    from = next;
  }
  g_string_append (out, from);
  return g_strdup (out->str);
}

char *
sp_words_reason (const SpReason *reason, SpHand hand)
{
  g_return_val_if_fail (reason, NULL);
  const Sentence *s = sentences_of (reason->code);
  while (s->when && !s->when (reason))
    s++;
  g_autofree char *said = fill_places (reason, s->text, hand);
  return sp_clean (said);
}
