/* own.c - what a condition has instead of the bench's, and its step and notched sweeps instead of the condition's */
#include "tests/book/shelf.h"

#include <math.h>

#include "core/bench/proposals/propose.h"
#include "core/trace/read/read.h"

static SpBench *bench;
static GError *error;

static void
set_up (void)
{
  make_folder ();
  bench = shelf_bench ();
}

static void
tear_down (void)
{
  g_autoptr (SpBench) again = shelf_bench ();
  ck_assert_str_eq (again->sha256, bench->sha256); /* whatever a test did */
  g_clear_pointer (&bench, sp_bench_unref);
}

static SpBench *
edited (SpBench *result)
{
  sp_no_error (error);
  ck_assert_ptr_nonnull (result);
  return result;
}

static void
refused (gpointer result, const char *words)
{
  ck_assert_ptr_null (result);
  ck_assert_ptr_nonnull (error);
  ck_assert_msg (strstr (error->message, words) != NULL, "“%s” lacks “%s”", error->message, words);
  g_clear_error (&error);
}

static SpChain *
chain_from (const char *name)
{
  g_autofree char *path = shelf_path (name);
  SpChain *chain = sp_chain_read (path, &error);
  sp_no_error (error);
  return chain;
}

/* Of the bench and of a condition, as a key and as a file's mask; taken off again, the bench is what it was. */
START_TEST (a_second_mask)
{
  g_autoptr (SpMask) mask = sp_mask_load ("us-frs", &error);
  ck_assert_ptr_nonnull (mask);
  g_autoptr (SpBench) by_file = edited (sp_bench_set_second_mask (bench, -1, mask));
  g_autoptr (SpBench) by_key = edited (sp_bench_set (bench, "second_mask", "us-frs", &error));
  ck_assert_str_eq (by_file->sha256, by_key->sha256);
  ck_assert_str_ne (by_file->sha256, bench->sha256);
  g_autoptr (SpBench) own = edited (sp_bench_set_second_mask (bench, 0, mask));
  ck_assert (own->conditions[0].second_mask && !own->second_mask);
  g_autoptr (SpBench) without = edited (sp_bench_set_second_mask (own, 0, NULL));
  ck_assert_str_eq (without->sha256, bench->sha256);
}
END_TEST

START_TEST (own_resources_come_and_go)
{
  g_autoptr (SpChain) chain = chain_from ("b.chain");
  g_autofree char *mask_path = shelf_path ("house.mask"), *analyzer_path = shelf_path ("b.analyzer");
  g_autoptr (SpMask) mask = sp_mask_load (mask_path, &error);
  g_autoptr (SpAnalyzer) analyzer = sp_analyzer_read (analyzer_path, &error);
  g_autoptr (SpBench) one = edited (sp_bench_set_own (bench, 0, SP_RESOURCE_CHAIN, chain, &error));
  g_autoptr (SpBench) two = edited (sp_bench_set_own (one, 0, SP_RESOURCE_ANALYZER, analyzer, &error));
  g_autoptr (SpBench) three = edited (sp_bench_set_own (two, 0, SP_RESOURCE_MASK, mask, &error));
  ck_assert_str_eq (sp_condition_chain (three, &three->conditions[0])->name, "Other shelf");
  ck_assert_str_eq (three->conditions[0].analyzer->name, "Two");
  ck_assert_str_eq (three->conditions[0].mask->title, "House");
  ck_assert_str_eq (three->chain->name, "Shelf"); /* the bench's own stands */
  SpBench *now = sp_bench_ref (three);
  for (int kind = SP_RESOURCE_CHAIN; kind <= SP_RESOURCE_MASK; kind++) {
    SpBench *next = edited (sp_bench_set_own (now, 0, (SpResourceKind) kind, NULL, &error));
    sp_bench_unref (now);
    now = next;
  }
  ck_assert_str_eq (now->sha256, bench->sha256);
  sp_bench_unref (now);
}
END_TEST

START_TEST (sweeps_of_a_purpose_share_a_chain)
{
  g_autoptr (SpChain) a = chain_from ("a.chain");
  const SpCondition *torn = &bench->conditions[1];
  guint notched = 0;
  while (torn->sweeps[notched].purpose != SP_PURPOSE_NOTCHED)
    notched++;
  ck_assert_str_eq (torn->sweeps[notched].chain->name, "Other shelf");
  g_autoptr (SpBench) other = edited (sp_bench_set_purpose_through (bench, 1, notched, SP_PURPOSE_NOTCHED, NAN, a, &error));
  ck_assert_str_eq (other->conditions[1].sweeps[notched].chain->name, "Shelf");
  g_autoptr (SpBench) none = edited (sp_bench_set_purpose_through (bench, 1, notched, SP_PURPOSE_NOTCHED, NAN, NULL, &error));
  ck_assert_ptr_null (none->conditions[1].sweeps[notched].chain);
  refused (sp_bench_set_purpose_through (bench, 1, notched, SP_PURPOSE_KEYED, NAN, a, &error), "only step and notched");
  refused (sp_bench_set_purpose_through (bench, 1, notched, SP_PURPOSE_STEP, NAN, a, &error), "a step sweep needs");
}
END_TEST

/* With an outside pad the analyzer's own attenuation stays: without the chain such a step contradicts its file. */
START_TEST (a_step_by_an_outside_pad)
{
  g_autoptr (SpBench) two = edited (sp_bench_remove_sweep (bench, 0, 0, &error));
  g_autofree char *path = shelf_path ("k1.csv"), *loss = shelf_path ("pad.csv");
  put ("pad.csv", "frequency,loss,u\n1 MHz,10,0.05\n1 GHz,10.2,0.05\n");
  g_autoptr (SpTrace) trace = sp_trace_read_file (path, NULL, &error);
  g_autoptr (SpBench) three = edited (sp_bench_add_sweep (two, 0, SP_PURPOSE_KEYED, trace, NAN, &error));
  refused (sp_bench_set_purpose (three, 0, 1, SP_PURPOSE_STEP, 10, &error), "expected 20 dB");
  g_autoptr (SpChain) padded = sp_chain_for_sweep (bench->chain, SP_PURPOSE_STEP, loss, &error);
  sp_no_error (error);
  ck_assert_uint_eq (padded->n, 3);
  ck_assert_int_eq (padded->stages[2]->kind, SP_STAGE_PAD);
  ck_assert_str_eq (padded->stages[2]->name, "pad 2");
  ck_assert_str_eq (padded->name, "Shelf + pad 2");
  g_autoptr (SpBench) step = edited (sp_bench_set_purpose_through (three, 0, 1, SP_PURPOSE_STEP, 10, padded, &error));
  ck_assert_double_eq (step->conditions[0].sweeps[1].step_db, 10);
  ck_assert_uint_eq (step->conditions[0].sweeps[1].chain->n, 3);
}
END_TEST

START_TEST (a_chain_for_a_sweep_from_a_file)
{
  g_autofree char *chain = shelf_path ("b.chain"), *bad = shelf_path ("bad.chain"), *table = shelf_path ("notch.csv"),
                  *empty = shelf_path ("empty.csv");
  put ("bad.chain", "[chain]\nstages=pad\n[stage pad]\nkind=teapot\n");
  put ("notch.csv", "frequency,loss\n9 MHz,1\n10 MHz,40\n11 MHz,1\n1 GHz,0.5\n");
  put ("empty.csv", "");
  g_autoptr (SpChain) whole = sp_chain_for_sweep (bench->chain, SP_PURPOSE_NOTCHED, chain, &error);
  sp_no_error (error);
  ck_assert_str_eq (whole->name, "Other shelf");
  g_autoptr (SpChain) notched = sp_chain_for_sweep (bench->chain, SP_PURPOSE_NOTCHED, table, &error);
  sp_no_error (error);
  ck_assert_int_eq (notched->stages[2]->kind, SP_STAGE_NOTCH);
  ck_assert_double_eq_tol (sp_chain_loss (notched, 10e6, NAN, 0, NULL).loss_db - sp_chain_loss (bench->chain, 10e6, NAN, 0, NULL).loss_db,
                           40, 1e-9);
  refused (sp_chain_for_sweep (bench->chain, SP_PURPOSE_NOTCHED, bad, &error), "bad.chain:4:");
  refused (sp_chain_for_sweep (bench->chain, SP_PURPOSE_NOTCHED, empty, &error), "empty.csv");
  refused (sp_chain_for_sweep (bench->chain, SP_PURPOSE_NOTCHED, "/nowhere/at.all", &error), "/nowhere/at.all");
  refused (sp_chain_for_sweep (NULL, SP_PURPOSE_NOTCHED, table, &error), "notch.csv");
}
END_TEST

START_TEST (arrivals_bring_their_chain)
{
  g_autoptr (SpChain) a = chain_from ("a.chain"), b = chain_from ("b.chain");
  g_autofree char *path = shelf_path ("room.csv");
  g_autoptr (SpTrace) trace = sp_trace_read_file (path, NULL, &error);
  SpArrival one = { trace, { bench->radios[0].name, (char *) "", SP_PURPOSE_NOTCHED, NAN, b } }, pair[] = { one, one };
  g_autoptr (SpBench) with = edited (sp_bench_with_arrivals (bench, &one, 1, NULL, &error));
  ck_assert_str_eq (with->conditions[0].sweeps[2].chain->name, "Other shelf");
  one.to.chain = NULL; /* not said: with the others */
  g_autoptr (SpBench) more = edited (sp_bench_with_arrivals (with, &one, 1, NULL, &error));
  ck_assert_str_eq (more->conditions[0].sweeps[3].chain->name, "Other shelf");
  pair[1].to.chain = a;
  guint failed;
  refused (sp_bench_with_arrivals (bench, pair, 2, &failed, &error), "one chain");
  ck_assert_uint_eq (failed, 1);
  one.to.purpose = SP_PURPOSE_KEYED; /* a keyed one has none */
  one.to.chain = b;
  g_autoptr (SpBench) keyed = edited (sp_bench_with_arrivals (bench, &one, 1, NULL, &error));
  ck_assert_ptr_null (keyed->conditions[0].sweeps[2].chain);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("own");
  TCase *t = tcase_create ("own");
  tcase_add_checked_fixture (t, set_up, tear_down);
  tcase_add_unchecked_fixture (t, NULL, remove_folder);
  tcase_add_test (t, a_second_mask);
  tcase_add_test (t, own_resources_come_and_go);
  tcase_add_test (t, sweeps_of_a_purpose_share_a_chain);
  tcase_add_test (t, a_step_by_an_outside_pad);
  tcase_add_test (t, a_chain_for_a_sweep_from_a_file);
  tcase_add_test (t, arrivals_bring_their_chain);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
