/* What a .chain file's keys become, its warnings, its canonical text and hash. */
#include "tests/chain/bench.h"

/* The design's example. */
static const char *const example = "# bench.chain\n"
                                   "[chain]\n"
                                   "name=Shelf two\n"
                                   "stages=patch;power-pad;small-pad     # in order from the radio\n"
                                   "calibrated=2026-09-12                # date; stages may have their own\n"
                                   "interval_days=730\n"
                                   "temperature_c=22.5\n"
                                   "\n"
                                   "[stage patch]\n"
                                   "kind=cable                           # cable | pad | adapter | coupler | filter | notch | limiter\n"
                                   "label_db=0.4\n"
                                   "rating_w=100\n"
                                   "vswr=1.10\n"
                                   "curve=sqrt\n"
                                   "points=50MHz 0.21 0.03; 150MHz 0.37 0.03; 450MHz 0.66 0.03; 1500MHz 1.28 0.05\n"
                                   "connector_u_db=0.02\n"
                                   "\n"
                                   "[stage power-pad]\n"
                                   "kind=pad\n"
                                   "label_db=30\n"
                                   "rating_w=25\n"
                                   "derating=25 25; 100 5\n"
                                   "directional=yes\n"
                                   "touchstone=power-pad.s2p\n"
                                   "u_db=0.1\n"
                                   "common_u_db=0.05\n"
                                   "temperature_coefficient=0.0004\n"
                                   "power_coefficient=0.001\n"
                                   "\n"
                                   "[stage small-pad]\n"
                                   "kind=pad\n"
                                   "label_db=10\n"
                                   "label_tolerance_db=0.5\n"
                                   "span=0 3GHz\n"
                                   "rating_w=2\n";

static const char *const two_port = "# MHz S MA R 50\n1 0.01 0 0.0316 0 0.0316 0 0.02 0\n1000 0.05 10 0.0320 -90 0.0320 -90 0.06 40\n";

static SpChain *
read_in (const char *folder, const char *text, const char *touchstone)
{
  g_autofree char *s2p = put_file (folder, "power-pad.s2p", touchstone), *path = put_file (folder, "bench.chain", text);
  g_autoptr (GError) error = NULL;
  SpChain *chain = sp_chain_read (path, &error);
  sp_no_error (error);
  return chain;
}

START_TEST (every_key)
{
  char *folder = new_folder ();
  g_autoptr (SpChain) chain = read_in (folder, example, two_port);
  ck_assert_str_eq (chain->name, "Shelf two");
  ck_assert_uint_eq (chain->n, 3);
  near (chain->interval_days, 730, 0);
  near (chain->temperature_c, 22.5, 0);
  GDate date;
  g_date_clear (&date, 1);
  g_date_set_dmy (&date, 12, 9, 2026);
  near (chain->calibrated_day, g_date_get_julian (&date), 0);
  const SpStage *patch = chain->stages[0], *pad = chain->stages[1], *small = chain->stages[2];
  ck_assert_int_eq (patch->kind, SP_STAGE_CABLE);
  ck_assert_int_eq (patch->loss->kind, SP_CURVE_SQRT);
  ck_assert (patch->passes_dc && !pad->passes_dc && pad->directional && !patch->directional);
  near (patch->loss->frequency_hz[3], 1500e6, 0);
  near (patch->loss->u[3], 0.05, 0);
  near (pad->u_db, 0.1, 0);
  near (pad->common_u_db, 0.05, 0);
  near (pad->temperature_coefficient, 0.0004, 0);
  near (pad->power_coefficient, 0.001, 0);
  ck_assert_uint_eq (pad->derating->len, 2);
  ck_assert_str_eq (pad->touchstone, "power-pad.s2p");
  near (pad->loss->value[0], -20 * log10 (0.0316), 1e-12);
  near (sp_stage_loss (chain, 1, 1e6, NAN, 0).u_db, 0.1, 1e-12);
  near (sp_stage_reflection (pad, 1e6, FALSE), 0.01, 1e-12);
  near (sp_stage_reflection (pad, 1e6, TRUE), 0.02, 1e-12);
  near (small->span_low_hz, 0, 0);
  near (small->span_high_hz, 3e9, 0);
  near (small->label_tolerance_db, 0.5, 0);
  drop_folder (folder);
}
END_TEST

START_TEST (warnings_of_the_example)
{
  char *folder = new_folder ();
  g_autoptr (SpChain) chain = read_in (folder, example, two_port);
  const SpReason *label = find_reason (chain->warnings, SP_REASON_LABEL_USED, "small-pad", NULL);
  ck_assert_ptr_nonnull (label);
  near (label->LABEL_USED.label_db, 10, 0);
  near (label->LABEL_USED.tolerance_db, 0.5, 0);
  ck_assert_ptr_nonnull (find_reason (chain->warnings, SP_REASON_VSWR_ASSUMED, "small-pad", NULL));
  ck_assert_uint_eq (chain->warnings->len, 2);
  drop_folder (folder);
}
END_TEST

START_TEST (warnings_of_gaps)
{
  g_autoptr (SpChain) chain = chain_from ("[chain]\nstages=a;b;c;d\nodd=1\n[stage a]\nkind=pad\npoints=1MHz 10; 1GHz 10 0.1\n"
                                          "[stage b]\nkind=pad\nlabel_db=6\nvswr=1.2\nrating_w=1\n"
                                          "[stage c]\nkind=adapter\nvswr=1.1\nrating_w=5\n"
                                          "[stage d]\nkind=pad\npoints=1MHz 10; 1GHz 10\nu_db=0.2\nvswr=1.1\nderating=20 5\n"
                                          "[stage spare]\nkind=pad\n");
  GPtrArray *w = chain->warnings;
  ck_assert_ptr_nonnull (find_reason (w, SP_REASON_U_ASSUMED, "loss", "a"));
  ck_assert_ptr_nonnull (find_reason (w, SP_REASON_VSWR_ASSUMED, "a", NULL));
  ck_assert_ptr_nonnull (find_reason (w, SP_REASON_RATING_MISSING, "a", NULL));
  ck_assert_ptr_nonnull (find_reason (w, SP_REASON_LABEL_USED, "b", NULL));
  ck_assert_ptr_nonnull (find_reason (w, SP_REASON_NOT_CALIBRATED, "b", NULL));
  ck_assert_ptr_nonnull (find_reason (w, SP_REASON_NOT_CALIBRATED, "c", NULL));
  ck_assert_ptr_null (find_reason (w, SP_REASON_LABEL_USED, "c", NULL));
  ck_assert_ptr_null (find_reason (w, SP_REASON_U_ASSUMED, "loss", "d"));
  ck_assert_ptr_null (find_reason (w, SP_REASON_RATING_MISSING, "d", NULL));
  const SpReason *odd = find_reason (w, SP_REASON_UNKNOWN_KEY, "t.chain", "chain");
  ck_assert_ptr_nonnull (odd);
  ck_assert_str_eq (odd->UNKNOWN_KEY.key, "odd");
  ck_assert_ptr_nonnull (find_reason (w, SP_REASON_UNKNOWN_KEY, "t.chain", "stage spare"));
}
END_TEST

/* The text reads back to itself, and to the same losses, bit for bit. */
START_TEST (text_is_a_fixed_point)
{
  char *folder = new_folder ();
  g_autofree char *odd = g_strconcat (example, "colour=\"red # not a comment\"\n[shelf]\nplace=left\n", NULL);
  g_autoptr (SpChain) chain = read_in (folder, odd, two_port);
  g_autoptr (SpChain) again = read_in (folder, chain->text, two_port);
  ck_assert_str_eq (again->text, chain->text);
  ck_assert_str_eq (again->sha256, chain->sha256);
  ck_assert_uint_eq (strlen (chain->sha256), 64);
  ck_assert_ptr_nonnull (strstr (chain->text, "colour=\"red # not a comment\"\n"));
  ck_assert_ptr_nonnull (strstr (chain->text, "[shelf]\nplace=left\n"));
  for (double f = 1e6; f < 5e9; f *= 1.3) {
    SpChainLoss a = sp_chain_loss (chain, f, 30, 5, NULL), b = sp_chain_loss (again, f, 30, 5, NULL);
    ck_assert (a.loss_db == b.loss_db && a.u_db == b.u_db && a.calibrated == b.calibrated);
  }
  drop_folder (folder);
}
END_TEST

static char *
replaced (const char *text, const char *from, const char *to)
{
  g_autoptr (GString) out = g_string_new (text);
  ck_assert_uint_ge (g_string_replace (out, from, to, 0), 1);
  return g_strdup (out->str);
}

START_TEST (hash_of_what_counts)
{
  char *folder = new_folder ();
  g_autoptr (SpChain) chain = read_in (folder, example, two_port);
  g_autofree char *comments = replaced (example, "# date; stages may have their own", "# other words"),
                  *units = replaced (example, "150MHz", "0.15GHz"), *path = replaced (example, "touchstone=power", "touchstone=./power"),
                  *loss = replaced (example, "0.37 0.03", "0.37000001 0.03");
  g_autoptr (SpChain) a = read_in (folder, comments, two_port), b = read_in (folder, units, two_port), c = read_in (folder, path, two_port),
                      d = read_in (folder, loss, two_port);
  ck_assert_str_eq (a->sha256, chain->sha256);
  ck_assert_str_eq (b->sha256, chain->sha256);
  ck_assert_str_eq (c->sha256, chain->sha256);
  ck_assert_str_ne (d->sha256, chain->sha256);
  g_autofree char *other = replaced (two_port, "0.0320", "0.0321");
  g_autoptr (SpChain) e = read_in (folder, example, other);
  ck_assert_str_ne (e->sha256, chain->sha256);
  drop_folder (folder);
}
END_TEST

START_TEST (all_digits_survive)
{
  g_autoptr (SpChain) chain = chain_from ("[chain]\nstages=a\n[stage a]\nkind=pad\n"
                                          "points=1234567.125 0.1234567890123456 0.0123456789012345678; "
                                          "1e9 10.000000000000002 0.3\n");
  g_autoptr (SpChain) again = chain_from (chain->text);
  for (guint i = 0; i < 2; i++) {
    ck_assert (chain->stages[0]->loss->frequency_hz[i] == again->stages[0]->loss->frequency_hz[i]);
    ck_assert (chain->stages[0]->loss->value[i] == again->stages[0]->loss->value[i]);
    ck_assert (chain->stages[0]->loss->u[i] == again->stages[0]->loss->u[i]);
  }
}
END_TEST

START_TEST (names_with_odd_characters)
{
  g_autoptr (SpChain) chain = chain_from ("[chain]\nname=\"Lab # two\"\nstages=big pad;left%3Bright\n[stage big pad]\nkind=pad\n"
                                          "label_db=3\n"
                                          "[stage left%3Bright]\nkind=pad\nlabel_db=6\n");
  ck_assert_str_eq (chain->stages[0]->name, "big pad");
  ck_assert_str_eq (chain->stages[1]->name, "left;right");
  g_autoptr (SpChain) again = chain_from (chain->text);
  ck_assert_str_eq (again->name, "Lab # two");
  ck_assert_str_eq (again->stages[1]->name, "left;right");
  ck_assert_str_eq (again->text, chain->text);
  near (again->stages[1]->label_db, 6, 0);
}
END_TEST

START_TEST (stage_keys_of_ours)
{
  g_autoptr (SpChain) chain = chain_from ("[chain]\nstages=a\n[stage a]\nkind=coupler\nlabel_db=30\npasses_dc=yes\nload_rating_w=50\n"
                                          "calibrated=2026-01-02\ntemperature_c=-5\ntemperature_coefficient_u=0.0002\n");
  ck_assert (chain->stages[0]->passes_dc);
  near (chain->stages[0]->load_rating_w, 50, 0);
  near (chain->stages[0]->temperature_c, -5, 0);
  near (chain->stages[0]->temperature_coefficient_u, 0.0002, 0);
  ck_assert (!isnan (chain->stages[0]->calibrated_day) && isnan (chain->calibrated_day));
  g_autoptr (SpChain) again = chain_from (chain->text);
  ck_assert_str_eq (again->text, chain->text);
}
END_TEST

START_TEST (references)
{
  SpChain *chain = chain_from ("[chain]\nstages=a\n[stage a]\nkind=pad\nlabel_db=3\n");
  SpChain *more = sp_chain_ref (chain);
  ck_assert_ptr_eq (chain, more);
  sp_chain_unref (chain);
  ck_assert_str_eq (more->stages[0]->name, "a");
  sp_chain_unref (more);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("chain/chain-file");
  TCase *t = tcase_create ("file");
  tcase_add_test (t, every_key);
  tcase_add_test (t, warnings_of_the_example);
  tcase_add_test (t, warnings_of_gaps);
  tcase_add_test (t, text_is_a_fixed_point);
  tcase_add_test (t, hash_of_what_counts);
  tcase_add_test (t, all_digits_survive);
  tcase_add_test (t, names_with_odd_characters);
  tcase_add_test (t, stage_keys_of_ours);
  tcase_add_test (t, references);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
