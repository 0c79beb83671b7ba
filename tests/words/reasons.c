/* reasons.c - the table of reasons: rows, fields and sentences belong together, and the list of them in core/docs is the table's */
#include "tests/suite.h"

#include "ui/words/speak.h"

#include <math.h>
#include <string.h>

#define TRIES 3000 /* random reasons of each code: conditions of sentences are met by some of them */

static const double numbers[] = { NAN, NAN, -INFINITY, -7.25, -0.03, 0, 0.004, 0.06, 1, 2, 3, 14.5, 146.2e6 };
static const char *const texts[] = { NULL,       "",         "tone_hz", "comma", "frequency", "level",       "stage", "frequency-once",
                                     "before",   "inserted", "after",   "times", "loss",      "temperature", "noise", "some pad",
                                     "analyzer", "shows" };

/* How many words an enumeration has; from SP_NO_WORD on. */
static int
words_of (SpReasonFieldKind kind)
{
  switch (kind) {
  case SP_REASON_FIELD_YES: return 2;
  case SP_REASON_FIELD_KEY_HOME: return SP_KEY_OF_CONDITION + 1;
  case SP_REASON_FIELD_MODULATION: return SP_MODULATION_KEYING + 1;
  case SP_REASON_FIELD_PURPOSE: return SP_PURPOSE_SUPERSEDED + 1;
  case SP_REASON_FIELD_FAULT: return SP_FAULT_REVERSED + 1;
  case SP_REASON_FIELD_CAUSE: return SP_CAUSE_PRODUCT + 1;
  case SP_REASON_FIELD_DETECTOR: return SP_DETECTOR_QUASI_PEAK + 1;
  case SP_REASON_FIELD_AVERAGE: return SP_AVERAGE_VOLTAGE + 1;
  case SP_REASON_FIELD_TIME_BASIS: return SP_TIME_ASSUMED + 1;
  case SP_REASON_FIELD_OBSTACLE: return SP_OBSTACLE_UNKNOWN + 1;
  case SP_REASON_FIELD_GAP: return SP_N_REASONS;
  case SP_REASON_FIELD_TERM: return SP_N_TERMS;
  default: ck_abort_msg ("a kind without words");
  }
}

static void
draw (GRand *rand, SpReason *reason, const SpReasonField *f)
{
  int first = f->kind == SP_REASON_FIELD_YES ? 0 : SP_NO_WORD;
  switch (sp_reason_field_kept (f->kind)) {
  case SP_KEPT_NUMBER: G_STRUCT_MEMBER (double, reason, f->offset) = numbers[g_rand_int_range (rand, 0, G_N_ELEMENTS (numbers))]; break;
  case SP_KEPT_TEXT: G_STRUCT_MEMBER (const char *, reason, f->offset) = texts[g_rand_int_range (rand, 0, G_N_ELEMENTS (texts))]; break;
  case SP_KEPT_WORD: G_STRUCT_MEMBER (int, reason, f->offset) = g_rand_int_range (rand, first, words_of (f->kind)); break;
  }
}

static void
blank (SpReason *reason, const SpReasonField *f)
{
  switch (sp_reason_field_kept (f->kind)) {
  case SP_KEPT_NUMBER: G_STRUCT_MEMBER (double, reason, f->offset) = NAN; break;
  case SP_KEPT_TEXT: G_STRUCT_MEMBER (const char *, reason, f->offset) = NULL; break;
  case SP_KEPT_WORD: G_STRUCT_MEMBER (int, reason, f->offset) = f->kind == SP_REASON_FIELD_YES ? FALSE : SP_NO_WORD; break;
  }
}

/* Every other one is nearly blank: some sentences are of those alone. */
static void
draw_all (GRand *rand, SpReasonCode code, SpReason *reason)
{
  gboolean sparse = g_rand_boolean (rand);
  *reason = (SpReason){ .code = code };
  for (const SpReasonField *f = sp_reason_fields (code); f->name; f++)
    if (sparse && g_rand_double (rand) < 0.8)
      blank (reason, f);
    else
      draw (rand, reason, f);
}

static const SpReasonField *
field_named (SpReasonCode code, const char *name)
{
  for (const SpReasonField *f = sp_reason_fields (code); f->name; f++)
    if (strcmp (f->name, name) == 0)
      return f;
  return NULL;
}

static void sentences_hold (SpReasonCode code, const Sentence *s, gboolean all);

static void
place_holds (SpReasonCode code, const char *sentence, const char *name, const char *how)
{
  const SpReasonField *field = field_named (code, name);
  const Phrase *phrase = phrase_of (code, name);
  ck_assert_msg ((field != NULL) + (phrase != NULL) == 1, "%s: {%s} of \"%s\" is no field and no phrase, or both", sp_reason_name (code),
                 name, sentence);
  if (*how) {
    ck_assert_msg (field && sp_reason_field_kept (field->kind) == SP_KEPT_NUMBER, "%s: {%s:%s} is no number", sp_reason_name (code), name,
                   how);
    ck_assert_msg (strlen (how) == strspn (how, "+|") + 1 && strspn (how, "+|") <= 1 && g_ascii_isdigit (how[strlen (how) - 1]), "{%s:%s}",
                   name, how);
  }
  if (field)
    ck_assert_msg (field->said && field->kind != SP_REASON_FIELD_YES, "%s: {%s} is not to be said", sp_reason_name (code), name);
  if (phrase && phrase->sentences)
    sentences_hold (code, phrase->sentences, phrase->all);
}

/* Every place is a field or a phrase; the last of a list always counts. */
static void
sentences_hold (SpReasonCode code, const Sentence *s, gboolean all)
{
  for (; s->text; s++) {
    const char *next = s->text;
    char name[32], how[8];
    guint places = 0, braces = 0;
    while (next_place (&next, name, how)) {
      place_holds (code, s->text, name, how);
      places++;
    }
    for (const char *c = s->text; *c; c++)
      braces += *c == '{' || *c == '}';
    ck_assert_msg (braces == 2 * places, "%s: braces of \"%s\"", sp_reason_name (code), s->text);
    ck_assert_msg (all || (s->when == NULL) == (s[1].text == NULL), "%s: \"%s\" is never reached, or nothing is", sp_reason_name (code),
                   s->text);
  }
}

static const Sentence *
sentences_there (SpReasonCode code)
{
  const Sentence *s = sentences_of (code);
  ck_assert_msg (s != NULL, "%s has no sentence in ui/words/sentences.c", sp_reason_name (code));
  return s;
}

START_TEST (test_every_row_has_sentences_whose_places_are_its_own)
{
  sentences_hold ((SpReasonCode) _i, sentences_there ((SpReasonCode) _i), FALSE);
}
END_TEST

/* A field's name ends in the unit of its kind, so that a key of JSON cannot tell another. */
START_TEST (test_every_field_ends_in_its_unit)
{
  static const char *const ends[] = {
#define X(kind, type, end) end,
    SP_REASON_FIELD_KINDS (X)
#undef X
  };
  for (const SpReasonField *f = sp_reason_fields ((SpReasonCode) _i); f->name; f++) {
    ck_assert_msg (g_str_has_suffix (f->name, ends[f->kind]), "%s: %s", sp_reason_name ((SpReasonCode) _i), f->name);
    for (guint k = 0; k < G_N_ELEMENTS (ends); k++)
      ck_assert_msg (*ends[f->kind] || !*ends[k] || !g_str_has_suffix (f->name, ends[k]), "%s has no unit", f->name);
  }
}
END_TEST

static char *
said (const SpReason *reason, SpHand hand)
{
  sentences_there (reason->code);
  g_autofree char *sentence = sp_words_reason (reason, hand);
  ck_assert_msg (g_str_has_suffix (sentence, ".") && strchr (sentence, ' ') && !strchr (sentence, '{') && !strchr (sentence, '}'), "%s: %s",
                 sp_reason_name (reason->code), sentence);
  return g_steal_pointer (&sentence);
}

/* Every F is said or tells which sentence counts, every N does neither. */
START_TEST (test_a_field_is_said_or_a_number_only)
{
  SpReasonCode code = (SpReasonCode) _i;
  GRand *rand = g_rand_new_with_seed (7);
  for (const SpReasonField *f = sp_reason_fields (code); f->name; f++) {
    gboolean matters = FALSE;
    for (guint i = 0; i < TRIES && !(matters && f->said); i++) {
      SpReason one, other;
      draw_all (rand, code, &one);
      other = one;
      draw (rand, &other, f);
      g_autofree char *a = said (&one, SP_HAND_MACHINE), *b = said (&other, SP_HAND_MACHINE);
      matters |= strcmp (a, b) != 0;
    }
    ck_assert_msg (matters == f->said, "%s: %s is %s", sp_reason_name (code), f->name, f->said ? "never said" : "said");
  }
  g_rand_free (rand);
}
END_TEST

/* Each sentence of a code is met by some reason: none is there for nothing. */
START_TEST (test_every_sentence_can_be_met)
{
  SpReasonCode code = (SpReasonCode) _i;
  GRand *rand = g_rand_new_with_seed (11);
  guint met = 0, n = 0;
  for (const Sentence *s = sentences_there (code); s->text; s++)
    n++;
  for (guint i = 0; i < TRIES && met != (1u << n) - 1; i++) {
    SpReason reason;
    guint k = 0;
    draw_all (rand, code, &reason);
    for (const Sentence *s = sentences_there (code); s->when && !s->when (&reason); s++)
      k++;
    met |= 1u << k;
  }
  ck_assert_msg (met == (1u << n) - 1, "%s: sentences met (bits) %x, there are %u", sp_reason_name (code), met, n);
  g_rand_free (rand);
}
END_TEST

/* A reason keeps copies of its texts, and is equal to what has the same fields. */
START_TEST (test_a_reason_is_its_fields)
{
  char file[] = "a.csv";
  g_autoptr (SpReason) one = sp_reason (STEP_SPAN, .file = file, .at_hz = NAN), two = sp_reason (STEP_SPAN, .file = "a.csv", .at_hz = NAN);
  file[0] = 'b';
  ck_assert_str_eq (one->STEP_SPAN.file, "a.csv");
  ck_assert (sp_reason_equal (one, two));
  g_autoptr (SpReason) other = sp_reason (UNKEYED_SPAN, .file = "a.csv", .at_hz = NAN),
                       higher = sp_reason (STEP_SPAN, .file = "a.csv", .at_hz = 1);
  ck_assert (!sp_reason_equal (one, other) && !sp_reason_equal (one, higher));
  g_autoptr (SpReason) bare = sp_reason_bare (NO_POWER);
  ck_assert_str_eq (sp_reason_name (bare->code), "no-power");
}
END_TEST

/* ---- the list in core/docs ---- */

static void
list_one (GString *out, SpReasonCode code)
{
  g_string_append_printf (out, "\n`%s`", sp_reason_name (code));
  for (const SpReasonField *f = sp_reason_fields (code); f->name; f++)
    g_string_append_printf (out, "%s`%s`", f == sp_reason_fields (code) ? ": " : ", ", f->name);
  g_string_append (out, "\n");
  for (const Sentence *s = sentences_there (code); s->text; s++)
    g_string_append_printf (out, "- %s\n", s->text);
}

/* Names the first line in which the page differs, and how it is written again. */
static void
check_lines (const char *page, const char *list)
{
  g_auto (GStrv) there = g_strsplit (page, "\n", -1);
  g_auto (GStrv) wanted = g_strsplit (list, "\n", -1);
  guint i = 0;
  while (there[i] && wanted[i] && strcmp (there[i], wanted[i]) == 0)
    i++;
  ck_assert_msg (!there[i] && !wanted[i],
                 "core/docs/reasons.md, line %u: \"%s\" where the tables say \"%s\"; "
                 "SP_WRITE_LISTS=1 meson test -C build words/reasons writes it again",
                 i + 1, there[i] ? there[i] : "(end)", wanted[i] ? wanted[i] : "(end)");
}

/* SP_WRITE_LISTS=1 in the environment writes it again. */
START_TEST (test_the_list_in_the_docs_is_the_tables)
{
  g_autoptr (GString) list = g_string_new (
      "# Reasons, warnings, advice: the codes\n\n"
      "What each code of the JSON output is called, the fields of its `values` and the sentences that it is said in. A field's end is its "
      "unit;\n"
      "null is what is not known, or stays as it is. Made from `core/quantity/reasons.inc` and `ui/words/sentences.c`, where each row is\n"
      "explained: `SP_WRITE_LISTS=1 meson test -C build words/reasons` writes it again.\n");
  g_autofree char *path = sp_test_path ("core/docs/reasons.md"), *there = NULL;
  for (int code = 0; code < SP_N_REASONS; code++)
    list_one (list, (SpReasonCode) code);
  if (g_strcmp0 (g_getenv ("SP_WRITE_LISTS"), "1") == 0)
    ck_assert (g_file_set_contents (path, list->str, -1, NULL));
  ck_assert_msg (g_file_get_contents (path, &there, NULL, NULL), "%s", path);
  check_lines (there, list->str);
}
END_TEST

static Suite *
suite (void)
{
  Suite *all = suite_create ("reasons");
  TCase *table = tcase_create ("table");
  tcase_set_timeout (table, 60);
  tcase_add_loop_test (table, test_every_row_has_sentences_whose_places_are_its_own, 0, SP_N_REASONS);
  tcase_add_loop_test (table, test_every_field_ends_in_its_unit, 0, SP_N_REASONS);
  tcase_add_loop_test (table, test_a_field_is_said_or_a_number_only, 0, SP_N_REASONS);
  tcase_add_loop_test (table, test_every_sentence_can_be_met, 0, SP_N_REASONS);
  tcase_add_test (table, test_a_reason_is_its_fields);
  tcase_add_test (table, test_the_list_in_the_docs_is_the_tables);
  suite_add_tcase (all, table);
  return all;
}

SP_MAIN (suite)
