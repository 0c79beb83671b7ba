/* Chains that cannot be: the message begins with the place and says what was expected. */
#include "tests/chain/bench.h"

#include "core/quantity/error.h"

#define PAD "[stage a]\nkind=pad\n"
#define HEAD "[chain]\nname=x\nstages=a\n"

static const struct {
  const char *text, *place, *says;
} bad[] = {
  { "", "t.chain:1:1: ", "[chain]" },
  { "[stage a]\nkind=pad\n", "t.chain:1:1: ", "[chain]" },
  { "[chain]\nname=x\n", "t.chain:1:1: ", "stages" },
  { "[chain]\nstages=\n", "t.chain:2:8: ", "stages" },
  { "[chain]\nstages=a;bee\n" PAD, "t.chain:2:10: ", "[stage bee]" },
  { "[chain]\nstages=a;a\n" PAD, "t.chain:2:10: ", "twice" },
  { HEAD "[stage a]\nlabel_db=3\n", "t.chain:4:1: ", "kind" },
  { HEAD "[stage a]\nkind=amplifier\n", "t.chain:5:6: ", "limiter" },
  { HEAD PAD "points=1MHz 1 -0.1; 2MHz 1 0.1\n", "t.chain:6:8: ", "negative" },
  { HEAD PAD "points=1MHz 1 0.1; 2MHz 1 -0.1\n", "t.chain:6:20: ", "negative" },
  { HEAD PAD "points=2MHz 1 0.1; 1MHz 1 0.1\n", "t.chain:6:20: ", "ascending" },
  { HEAD PAD "points=2MHz 1 0.1; 2MHz 1 0.1\n", "t.chain:6:20: ", "ascending" },
  { HEAD PAD "points=1MHz 1 0.1; 2MHz one 0.1\n", "t.chain:6:20: ", "one" },
  { HEAD PAD "points=1MHz 1 0.1; 2MHz 1 0.1 7\n", "t.chain:6:20: ", "4 fields" },
  { HEAD PAD "points=1MHz\n", "t.chain:6:8: ", "uncertainty" },
  { HEAD PAD "points=\n", "t.chain:6:8: ", "nothing" },
  { HEAD PAD "points=1MHz nan; 2MHz 1\n", "t.chain:6:8: ", "nan" },
  { HEAD PAD "points=1MHz 1,5 0.1\n", "t.chain:6:8: ", "1,5" },
  { HEAD PAD "points=1MHz -30 0.1\n", "t.chain:6:8: ", "-0.5" },
  { HEAD PAD "points=-1MHz 3 0.1\n", "t.chain:6:8: ", "-1MHz" },
  { HEAD PAD "u_db=-0.1\n", "t.chain:6:6: ", "0" },
  { HEAD PAD "common_u_db=-0.1\n", "t.chain:6:13: ", "0" },
  { HEAD PAD "connector_u_db=many\n", "t.chain:6:16: ", "many" },
  { HEAD PAD "label_tolerance_db=-1\n", "t.chain:6:20: ", "0" },
  { HEAD PAD "vswr=0.9\n", "t.chain:6:6: ", "1" },
  { HEAD PAD "vswr=1MHz 1.1; 2MHz 0.5\n", "t.chain:6:16: ", "1" },
  { HEAD PAD "rating_w=0\n", "t.chain:6:10: ", "rating_w" },
  { HEAD PAD "rating_w=-5\n", "t.chain:6:10: ", "rating_w" },
  { HEAD PAD "derating=100 5; 25 25\n", "t.chain:6:17: ", "ascending" },
  { HEAD PAD "derating=25 -5\n", "t.chain:6:10: ", "W" },
  { HEAD PAD "span=3GHz 0\n", "t.chain:6:6: ", "span" },
  { HEAD PAD "span=3GHz\n", "t.chain:6:6: ", "two frequencies" },
  { HEAD PAD "directional=maybe\n", "t.chain:6:13: ", "yes" },
  { HEAD PAD "curve=spline\n", "t.chain:6:7: ", "smooth" },
  { HEAD PAD "calibrated=2026-02-30\n", "t.chain:6:12: ", "calibrated" },
  { HEAD PAD "touchstone=nowhere.s2p\n", "t.chain:6:12: ", "nowhere.s2p" },
  { HEAD PAD "points=1MHz 1 0.1\ntouchstone=nowhere.s2p\n", "t.chain:7:12: ", "points" },
  { HEAD PAD "temperature_coefficient=0.5\n", "t.chain:6:25: ", "0.1" },
  { HEAD PAD "temperature_c=4000\n", "t.chain:6:15: ", "-100 to 200" },
  { HEAD PAD "temperature_c=warm\n", "t.chain:6:15: ", "warm" },
  { HEAD PAD "vswr=none.s1p\n", "t.chain:6:6: ", "none.s1p" },
  { HEAD PAD "points=1MHz 1 0.1\nrun=nowhere.run\n", "t.chain:7:5: ", "points" },
  { HEAD PAD "run=nowhere.run\n", "t.chain:6:5: ", "nowhere.run" },
  { "[chain]\nstages=a\ntemperature_c=-300\n" PAD, "t.chain:3:15: ", "-100 to 200" },
  { "[chain]\nstages=a\ninterval_days=0\n" PAD, "t.chain:3:15: ", "1" },
  { "[chain]\nstages=a\nstages=b\n" PAD, "t.chain:3:", "stages" },
  { HEAD PAD PAD, "t.chain:6:", "stage a" },
};

START_TEST (place_and_sense)
{
  g_autoptr (GError) error = NULL;
  SpChain *chain = chain_try (bad[_i].text, &error);
  ck_assert_msg (chain == NULL && error != NULL, "was read: %s", bad[_i].text);
  ck_assert_int_eq (error->domain, SP_ERROR);
  ck_assert_msg (g_str_has_prefix (error->message, bad[_i].place), "%s: not at %s", error->message, bad[_i].place);
  ck_assert_msg (strstr (error->message, bad[_i].says) != NULL, "%s: says nothing of %s", error->message, bad[_i].says);
}
END_TEST

START_TEST (too_many_stages)
{
  g_autoptr (GString) text = g_string_new ("[chain]\nstages=");
  for (int i = 0; i <= SP_CHAIN_MAX_STAGES; i++)
    g_string_append_printf (text, "s%d;", i);
  for (int i = 0; i <= SP_CHAIN_MAX_STAGES; i++)
    g_string_append_printf (text, "\n[stage s%d]\nkind=pad\nlabel_db=1\n", i);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (chain_try (text->str, &error));
  ck_assert (g_str_has_prefix (error->message, "t.chain:2:8: "));
}
END_TEST

START_TEST (touchstone_that_is_not_one)
{
  char *folder = new_folder ();
  g_autofree char *s2p = put_file (folder, "p.s2p", "# MHz S MA R 50\n1 0.01 0 text 0 0.0316 0 0.02 0\n"),
                  *path = put_file (folder, "b.chain", HEAD PAD "touchstone=p.s2p\n");
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (sp_chain_read (path, &error));
  ck_assert_ptr_nonnull (strstr (error->message, "p.s2p:2:"));
  g_clear_error (&error);
  ck_assert_ptr_null (sp_chain_read (folder, &error));
  ck_assert_ptr_nonnull (error);
  drop_folder (folder);
}
END_TEST

/* Whatever is cut out of or put into a good file, the reader answers with a chain or an error. */
START_TEST (mangled)
{
  static const char good[] = HEAD PAD "label_db=3\nspan=0 3GHz\npoints=1MHz 1 0.1; 2MHz 1 0.1\nvswr=1MHz 1.1; 2MHz 1.5\n"
                                      "derating=25 25; 100 5\n";
  GRand *rand = g_rand_new_with_seed (5);
  for (int i = 0; i < 20000; i++) {
    g_autoptr (GString) text = g_string_new (good);
    for (int k = g_rand_int_range (rand, 1, 4); k > 0; k--) {
      gssize at = g_rand_int_range (rand, 0, (gint32) text->len);
      gssize cut = g_rand_int_range (rand, 1, 6);
      if (g_rand_boolean (rand))
        g_string_erase (text, at, MIN ((gssize) text->len - at, cut));
      else
        g_string_insert_c (text, at, " ;=[]#\"\n-.9eMx\xc3"[g_rand_int_range (rand, 0, 15)]);
    }
    g_autoptr (GError) error = NULL;
    g_autoptr (SpChain) chain = chain_try (text->str, &error);
    ck_assert ((chain != NULL) != (error != NULL));
    if (chain) {
      SpChainLoss loss = sp_chain_loss (chain, 1.5e6, 30, 5, NULL);
      ck_assert (isfinite (loss.loss_db) && isfinite (loss.u_db));
      g_autoptr (SpChain) again = chain_from (chain->text);
      ck_assert_str_eq (again->text, chain->text);
    }
  }
  g_rand_free (rand);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("chain/chain-bad");
  TCase *t = tcase_create ("bad");
  tcase_set_timeout (t, 60);
  tcase_add_loop_test (t, place_and_sense, 0, G_N_ELEMENTS (bad));
  tcase_add_test (t, too_many_stages);
  tcase_add_test (t, touchstone_that_is_not_one);
  tcase_add_test (t, mangled);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
