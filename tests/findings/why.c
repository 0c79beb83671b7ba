/* why.c - the walk from a reading to its verdict says what the findings say, and its sums add up */
#include "core/findings/why.h"

#include "core/bench/sheet/sheet.h"
#include "core/judge/judge.h"
#include "tests/suite.h"

#define EXACT_DB 1e-9 /* sums of a few levels in another order */

static SpFindings *
judged (const char *sheet)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path (sheet);
  g_autoptr (SpBench) bench = sp_bench_read (path, &error);
  sp_no_error (error);
  return sp_judge (bench);
}

/* Each emission of both samples' evenings. */
static guint
walk_all (void (*look) (const SpWhy *why))
{
  static const char *const sheets[] = { "samples/club.sheet", "samples/pocket.sheet" };
  guint n = 0;
  for (guint s = 0; s < G_N_ELEMENTS (sheets); s++) {
    g_autoptr (SpFindings) findings = judged (sheets[s]);
    for (guint c = 0; c < findings->n; c++)
      for (guint i = 0; i < findings->conditions[c].n_emissions; i++, n++) {
        g_autoptr (SpWhy) why = sp_why (findings, c, (int) i);
        ck_assert_ptr_eq (why->emission, &findings->conditions[c].emissions[i]);
        look (why);
      }
  }
  return n;
}

static void
level_adds_up (const SpWhy *why)
{
  const SpEmission *e = why->emission;
  if (!e->swept)
    return;
  sp_near ("level", "reading + loss + others", why->emission->level_dbm, e->reading_dbm + e->loss_db + why->others_db, EXACT_DB);
  sp_near ("others", "their parts", why->others_db, e->line_db + e->near_noise_db + e->correction_db + e->shift_db, 1e-6);
  double sum = why->interaction_db;
  for (guint i = 0; i < why->n_stages; i++) {
    sum += why->stages[i].loss_db;
    sp_near ("tread", "reading and the losses up to it", why->stages[i].level_dbm, e->reading_dbm + sum - why->interaction_db, EXACT_DB);
  }
  sp_near ("loss", "stages and interaction", e->loss_db, sum, EXACT_DB);
  sp_near ("power", "level", 10 * log10 (why->level_w * 1000), e->level_dbm, EXACT_DB);
}

START_TEST (the_level_adds_up)
{
  ck_assert_uint_gt (walk_all (level_adds_up), 60);
}
END_TEST

/* Squares of the terms are the square of u, their shares one, the greatest first; and U is the deciding one. */
static void
terms_add_up (const SpWhy *why)
{
  double squares = 0, shares = 0;
  for (guint i = 0; i < why->n_terms; i++) {
    squares += why->terms[i].u_db * why->terms[i].u_db;
    shares += why->terms[i].share;
    ck_assert (i == 0 || why->terms[i].u_db <= why->terms[i - 1].u_db);
  }
  if (why->n_terms == 0 || isnan (why->u_db))
    return;
  sp_near ("u", "squares of the terms", why->u_db, sqrt (squares), 1e-6);
  sp_near ("shares", "one", shares, 1, EXACT_DB);
  sp_near ("U", "k u", why->expanded_db, why->k * why->u_db, 1e-6);
  ck_assert (why->expanded_db == sp_emission_deciding_expanded_db (why->emission));
  ck_assert (why->n_terms < 2 || why->without_first_db < why->expanded_db);
  ck_assert (why->repeat_share >= 0 && why->repeat_share <= 1 + EXACT_DB);
}

START_TEST (the_terms_add_up)
{
  walk_all (terms_add_up);
}
END_TEST

/* The room is the verdict's: complies from the guard on, what lacks is said, and only a U that decides settles. */
static void
word_follows (const SpWhy *why)
{
  const SpEmission *e = why->emission;
  double room = sp_emission_deciding_margin_db (e);
  ck_assert (why->room_db == room || (isnan (room) && isnan (why->room_db)));
  if (isnan (room))
    return;
  sp_near ("limit", "decides + room", e->limit_dbm, why->decides_dbm + why->room_db, EXACT_DB);
  ck_assert_int_eq (e->verdict == SP_VERDICT_EXCEEDS, !isnan (why->over_db));
  if (e->verdict == SP_VERDICT_COMPLIES)
    ck_assert (isnan (why->short_db) && isnan (why->settling_u_db));
  if (!isnan (why->short_db))
    sp_near ("short", "guard - room", why->short_db, why->guard_db - room, EXACT_DB);
  if (!isnan (why->settling_u_db))
    ck_assert (why->settling_u_db < why->expanded_db && e->verdict != SP_VERDICT_COMPLIES && e->verdict != SP_VERDICT_EXCEEDS);
}

START_TEST (the_word_follows)
{
  walk_all (word_follows);
}
END_TEST

/* Larquedon's 2nd harmonic: inconclusive, within U of its limit; a lesser U would settle it, and the greatest term is named. */
START_TEST (one_on_the_line)
{
  g_autoptr (SpFindings) findings = judged ("samples/club.sheet");
  guint c = 0;
  while (findings->conditions[c].verdict != SP_VERDICT_INCONCLUSIVE)
    ck_assert_uint_lt (++c, findings->n);
  g_autoptr (SpWhy) why = sp_why (findings, c, findings->conditions[c].worst_emission);
  ck_assert_int_eq (why->emission->row, SP_ROW_WITHIN_UNCERTAINTY);
  ck_assert (why->settling_u_db == fabs (why->room_db) && why->settling_u_db < why->expanded_db);
  ck_assert (why->over_noise_db > 10 && why->under_carrier_db > 40 && why->per_cent_under > 5 && why->per_cent_under < 95);
  ck_assert (why->short_db > 0 && isnan (why->over_db));
}
END_TEST

START_TEST (none_where_there_is_none)
{
  g_autoptr (SpFindings) findings = judged ("samples/club.sheet");
  ck_assert_ptr_null (sp_why (findings, findings->n, 0));
  ck_assert_ptr_null (sp_why (findings, 0, -1));
  ck_assert_ptr_null (sp_why (findings, 0, (int) findings->conditions[0].n_emissions));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("why");
  TCase *t = tcase_create ("why");
  tcase_set_timeout (t, 60);
  tcase_add_test (t, the_level_adds_up);
  tcase_add_test (t, the_terms_add_up);
  tcase_add_test (t, the_word_follows);
  tcase_add_test (t, one_on_the_line);
  tcase_add_test (t, none_where_there_is_none);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
