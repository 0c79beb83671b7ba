/* headroom.c - the power into each part, single faults, and what a notch throws back */
#include "core/headroom/headroom.h"
#include "tests/analyzer/text.h"
#include "tests/chain/bench.h"

static const char *const drawn = "[chain]\nstages=patch;brick;thimble\n"
                                 "[stage patch]\nkind=cable\nrating_w=100\nlabel_db=0.5\n"
                                 "[stage brick]\nkind=pad\nrating_w=25\nderating=25 25; 100 5\nlabel_db=30\ndirectional=yes\n"
                                 "[stage thimble]\nkind=pad\nrating_w=2\nlabel_db=10\n";

static SpHeadroom *
headroom_of (const char *chain_text, double power_w, double temperature_c, double duty)
{
  g_autoptr (SpChain) chain = chain_from (chain_text);
  g_autoptr (SpAnalyzer) analyzer = analyzer_from ("[analyzer]\ndamage_dbm=20\n");
  return sp_headroom (chain, analyzer, power_w, 145e6, temperature_c, duty, 10);
}

static const SpFault *
find_fault (const SpHeadroom *h, SpFaultKind kind, int first)
{
  for (guint i = 0; i < h->n_faults; i++)
    if (h->faults[i].kind == kind && h->faults[i].stages[0] == first)
      return &h->faults[i];
  return NULL;
}

START_TEST (as_drawn)
{
  g_autoptr (SpHeadroom) h = headroom_of (drawn, 10, NAN, 1);
  ck_assert (h->safe);
  ck_assert_uint_eq (h->n_nodes, 4);
  near (h->nodes[0].level_dbm, 40, 1e-9);
  near (h->nodes[1].level_dbm, 39.5, 1e-9);
  near (h->nodes[2].level_dbm, 9.5, 1e-9);
  near (h->nodes[3].level_dbm, -0.5, 1e-9);
  near (h->nodes[1].headroom_db, 10 * log10 (25) + 30 - 39.5, 1e-9);
  near (h->nodes[3].headroom_db, 20.5, 1e-9);
  near (h->nodes[3].rating_w, 0.1, 1e-12);
  ck_assert_str_eq (h->nodes[3].name, "analyzer");
  ck_assert_int_eq (h->nodes[3].stage, -1);
  near (h->mixer_dbm, -10.5, 1e-9);
  ck_assert (isnan (h->notch_return_loss_db) && isnan (h->nodes[3].loss_db));
  near (h->nodes[1].loss_db, 30, 0);
}
END_TEST

START_TEST (average_heats_and_peak_breaks)
{
  g_autoptr (SpHeadroom) h = headroom_of (drawn, 40, NAN, 0.25);
  near (h->nodes[1].level_dbm, 39.5, 1e-9);          /* the mean */
  near (h->nodes[3].level_dbm, -0.5 + 6.0206, 1e-4); /* the peak */
  ck_assert (h->safe);
}
END_TEST

START_TEST (derated)
{
  g_autoptr (SpHeadroom) h = headroom_of (drawn, 10, 90, 1); /* 25 W at 25 deg C, 7.67 W at 90 */
  ck_assert (!h->safe);
  near (h->nodes[1].rating_w, 25 - 20.0 * 65 / 75, 1e-12);
  const SpReason *reason = find_reason (h->reasons, SP_REASON_UNSAFE, "brick", NULL);
  ck_assert_ptr_nonnull (reason);
  near (reason->UNSAFE.power_w, h->nodes[1].power_w, 0);
  near (reason->UNSAFE.headroom_db, h->nodes[1].headroom_db, 0);
  ck_assert_double_lt (reason->UNSAFE.headroom_db, 0);
}
END_TEST

START_TEST (at_the_rating_is_safe)
{
  g_autoptr (SpHeadroom) at = headroom_of ("[chain]\nstages=a\n[stage a]\nkind=pad\nlabel_db=60\nrating_w=7\n", 7, NAN, 1),
                         over = headroom_of ("[chain]\nstages=a\n[stage a]\nkind=pad\nlabel_db=60\nrating_w=7\n", 7.001, NAN, 1);
  ck_assert (at->safe && !over->safe);
}
END_TEST

START_TEST (faults_worst_first)
{
  g_autoptr (SpHeadroom) h = headroom_of (drawn, 10, NAN, 1);
  ck_assert_uint_eq (h->n_faults, 3 + 2 + 1);
  /* Without the 30 dB the 10 dB pad gets 8.9 W of its 2 W (-6.5 dB), and the analyzer 29.5 dBm of its 20 (-9.5 dB). */
  const SpFault *out = find_fault (h, SP_FAULT_LEFT_OUT, 1), *swap = find_fault (h, SP_FAULT_SWAPPED, 1);
  const SpFault *turn = find_fault (h, SP_FAULT_REVERSED, 1);
  ck_assert_str_eq (out->worst_node, "analyzer");
  near (out->headroom_db, -9.5, 1e-9);
  ck_assert_uint_eq (out->n_nodes, 3);
  ck_assert_str_eq (swap->worst_node, "thimble");
  near (swap->headroom_db, 10 * log10 (2) + 30 - 39.5, 1e-9);
  ck_assert_int_eq (swap->stages[1], 2);
  ck_assert (isnan (turn->headroom_db) && isnan (turn->rating_w));
  ck_assert_str_eq (turn->worst_node, "brick");
  ck_assert_ptr_eq (&h->faults[0], out);
  ck_assert_ptr_eq (&h->faults[1], swap);
  ck_assert_ptr_eq (&h->faults[2], turn);
  for (guint i = 4; i < h->n_faults; i++)
    ck_assert_double_ge (h->faults[i].headroom_db, h->faults[i - 1].headroom_db);
  const SpReason *reason = find_reason (h->reasons, SP_REASON_FAULT, "brick", NULL);
  ck_assert (reason && reason->FAULT.kind == SP_FAULT_LEFT_OUT);
  near (reason->FAULT.headroom_db, -9.5, 1e-9);
  near (reason->FAULT.power_w, 10 * pow (10, -1.05), 1e-9);
  ck_assert (h->safe); /* safe speaks of the chain as drawn */
}
END_TEST

START_TEST (no_fault_burns)
{
  g_autoptr (SpHeadroom) h = headroom_of (drawn, 0.05, NAN, 1);
  ck_assert_ptr_null (find_reason (h->reasons, SP_REASON_FAULT, NULL, NULL));
}
END_TEST

START_TEST (one_stage_left_out_is_the_bare_analyzer)
{
  g_autoptr (SpHeadroom) h = headroom_of ("[chain]\nstages=a\n[stage a]\nkind=pad\nlabel_db=40\nrating_w=50\n", 10, NAN, 1);
  ck_assert_uint_eq (h->n_faults, 1);
  ck_assert_uint_eq (h->faults[0].n_nodes, 1);
  near (h->faults[0].headroom_db, -20, 1e-9);
}
END_TEST

START_TEST (what_is_not_stated_is_said)
{
  g_autoptr (SpChain) chain = chain_from ("[chain]\nstages=a\n[stage a]\nkind=pad\nlabel_db=40\n");
  g_autoptr (SpAnalyzer) analyzer = analyzer_from ("[analyzer]\nname=x\n");
  g_autoptr (SpHeadroom) h = sp_headroom (chain, analyzer, 10, 1e8, NAN, 1, NAN);
  ck_assert (h->safe);
  ck_assert_ptr_nonnull (find_reason (h->reasons, SP_REASON_RATING_MISSING, "a", NULL));
  ck_assert_ptr_nonnull (find_reason (h->reasons, SP_REASON_RATING_MISSING, "analyzer", NULL));
  ck_assert (isnan (h->nodes[0].headroom_db) && isnan (h->mixer_dbm));
  ck_assert_str_eq (h->faults[0].worst_node, "analyzer");
}
END_TEST

START_TEST (coupler_load)
{
  /* Through the 30 dB port: all but a thousandth goes into the load. Through the main line (0.1 dB): 2.3 % at most. */
  g_autoptr (SpHeadroom) tap = headroom_of ("[chain]\nstages=c\n[stage c]\nkind=coupler\nlabel_db=30\nrating_w=100\nload_rating_w=5\n", 10,
                                            NAN, 1),
                         line = headroom_of ("[chain]\nstages=c;p\n[stage c]\nkind=coupler\nlabel_db=0.1\nrating_w=100\nload_rating_w=5\n"
                                             "[stage p]\nkind=pad\nlabel_db=40\nrating_w=50\n",
                                             10, NAN, 1);
  ck_assert (!tap->safe && line->safe);
  near (tap->nodes[0].rating_w, 5 / (1 - 1e-3), 1e-9);
  near (line->nodes[0].rating_w, 100, 1e-9);
}
END_TEST

START_TEST (notch_behind_pads)
{
  static const char *const text = "[chain]\nstages=p;n;q\n[stage p]\nkind=pad\nlabel_db=%s\nrating_w=11\n[stage n]\nkind=notch\n"
                                  "label_db=40\nrating_w=20\n"
                                  "[stage q]\nkind=pad\nlabel_db=10\nrating_w=1\n";
  g_autofree char *three = g_strdup_printf (text, "3"), *ten = g_strdup_printf (text, "10");
  g_autoptr (SpHeadroom) a = headroom_of (three, 10, NAN, 1), b = headroom_of (ten, 10, NAN, 1);
  near (a->notch_return_loss_db, 6, 1e-9);
  near (b->notch_return_loss_db, 20, 1e-9);
  ck_assert (!a->safe && b->safe);
  const SpReason *reason = find_reason (a->reasons, SP_REASON_UNSAFE, "n", NULL);
  ck_assert (reason && reason->UNSAFE.throws_back);
  near (reason->UNSAFE.headroom_db, 6 - 14, 1e-9);
  near (reason->UNSAFE.return_loss_db, 6, 1e-9);
  /* The pad before it takes the carrier twice: 10 W, and 10 W less 3 dB that comes back. */
  near (a->nodes[0].power_w, 10 + 10 * pow (10, -0.3), 1e-9);
  ck_assert_double_lt (a->nodes[0].headroom_db, 0);
  near (b->nodes[0].power_w, 11, 1e-9);
  near (b->nodes[1].power_w, 1, 1e-9);
}
END_TEST

START_TEST (what_comes_back_fades)
{
  g_autoptr (SpHeadroom) h = headroom_of ("[chain]\nstages=p;q;n\n[stage p]\nkind=pad\nlabel_db=4\nrating_w=99\n"
                                          "[stage q]\nkind=pad\nlabel_db=6\nrating_w=99\n[stage n]\nkind=notch\nlabel_db=40\nrating_w=99\n",
                                          10, NAN, 1);
  near (h->nodes[2].power_w, 1, 1e-9);
  near (h->nodes[1].power_w, 10 * pow (10, -0.4) + 1, 1e-9);
  near (h->nodes[0].power_w, 10 + pow (10, -0.6), 1e-9);
}
END_TEST

START_TEST (notch_first)
{
  g_autoptr (SpHeadroom) h = headroom_of ("[chain]\nstages=n;q\n[stage n]\nkind=notch\nlabel_db=40\nrating_w=20\n[stage q]\nkind=pad\n"
                                          "label_db=30\nrating_w=1\n",
                                          1, NAN, 1);
  ck_assert (!h->safe);
  near (h->notch_return_loss_db, 0, 0);
}
END_TEST

/* 10 dB, a notch, 30 dB: safe as drawn (20 dB return loss). Without the 10 dB, or behind the notch, the radio sees a short. */
START_TEST (fault_that_puts_a_notch_first)
{
  g_autoptr (SpHeadroom) h
      = headroom_of ("[chain]\nstages=a;notch;b\n[stage a]\nkind=pad\nlabel_db=10\nrating_w=50\n"
                     "[stage notch]\nkind=notch\nlabel_db=40\nrating_w=50\n[stage b]\nkind=pad\nlabel_db=30\nrating_w=50\n",
                     5, NAN, 1);
  const SpFault *out = find_fault (h, SP_FAULT_LEFT_OUT, 0), *swap = find_fault (h, SP_FAULT_SWAPPED, 0);
  const SpFault *other = find_fault (h, SP_FAULT_LEFT_OUT, 2);
  ck_assert (h->safe);
  near (h->notch_return_loss_db, 20, 1e-9);
  near (out->return_loss_db, 0, 1e-9);
  near (swap->return_loss_db, 0, 1e-9);
  near (other->return_loss_db, 20, 1e-9);
  ck_assert (out->reflects && swap->reflects && !other->reflects);
  ck_assert_int_eq (out->reflector, 1);
  ck_assert (h->faults[0].reflects && h->faults[1].reflects); /* before those that only leave less room */
  const SpReason *reason = find_reason (h->reasons, SP_REASON_FAULT_REFLECTS, NULL, NULL);
  ck_assert_ptr_nonnull (reason);
  ck_assert_str_eq (reason->FAULT_REFLECTS.reflector, "notch");
  near (reason->FAULT_REFLECTS.return_loss_db, 0, 1e-9);
  ck_assert_ptr_null (find_reason (h->reasons, SP_REASON_FAULT, NULL, NULL)); /* no rating is exceeded: this caution stands alone */
}
END_TEST

/* Two pads before a notch: without one of them the return loss falls from 20 to 12 or 8 dB; the worst is told. */
START_TEST (the_least_return_loss_of_all_faults)
{
  g_autoptr (SpHeadroom) h
      = headroom_of ("[chain]\nstages=p;q;n;r\n[stage p]\nkind=pad\nlabel_db=4\nrating_w=99\n[stage q]\nkind=pad\nlabel_db=6\n"
                     "rating_w=99\n[stage n]\nkind=notch\nlabel_db=40\nrating_w=99\n[stage r]\nkind=pad\nlabel_db=30\nrating_w=99\n",
                     10, NAN, 1);
  near (find_fault (h, SP_FAULT_LEFT_OUT, 0)->return_loss_db, 12, 1e-9);
  near (find_fault (h, SP_FAULT_LEFT_OUT, 1)->return_loss_db, 8, 1e-9);
  near (find_fault (h, SP_FAULT_SWAPPED, 1)->return_loss_db, 8, 1e-9);
  ck_assert (!find_fault (h, SP_FAULT_SWAPPED, 0)->reflects);
  near (find_reason (h->reasons, SP_REASON_FAULT_REFLECTS, NULL, NULL)->FAULT_REFLECTS.return_loss_db, 8, 1e-9);
  /* unsafe as drawn: said of the chain, and of a fault only where that is worse still */
  g_autoptr (SpHeadroom) bad
      = headroom_of ("[chain]\nstages=p;n;r\n[stage p]\nkind=pad\nlabel_db=3\nrating_w=99\n[stage n]\nkind=notch\nlabel_db=40\n"
                     "rating_w=99\n[stage r]\nkind=pad\nlabel_db=30\nrating_w=99\n",
                     10, NAN, 1);
  ck_assert (!bad->safe && find_fault (bad, SP_FAULT_LEFT_OUT, 0)->reflects && !find_fault (bad, SP_FAULT_LEFT_OUT, 2)->reflects);
}
END_TEST

START_TEST (directional_stage_reversed)
{
  g_autoptr (SpHeadroom) h = headroom_of ("[chain]\nstages=a;b\n[stage a]\nkind=pad\nlabel_db=30\nrating_w=50\ndirectional=yes\n"
                                          "[stage b]\nkind=pad\nlabel_db=30\nrating_w=50\ndirectional=yes\n",
                                          5, NAN, 1);
  const SpReason *reason = find_reason (h->reasons, SP_REASON_FAULT_REVERSED, "a", NULL); /* the one that gets most */
  ck_assert (h->safe);
  ck_assert_ptr_nonnull (reason);
  near (reason->FAULT_REVERSED.power_w, 5, 1e-9);
  near (reason->FAULT_REVERSED.rating_w, 50, 1e-9);
  ck_assert_ptr_null (find_reason (h->reasons, SP_REASON_FAULT_REVERSED, "b", NULL));
  g_autoptr (SpHeadroom) plain = headroom_of ("[chain]\nstages=a\n[stage a]\nkind=pad\nlabel_db=60\nrating_w=50\n", 5, NAN, 1);
  ck_assert_ptr_null (find_reason (plain->reasons, SP_REASON_FAULT_REVERSED, NULL, NULL));
}
END_TEST

/* A directional filter with other reflections at its far end: turned round, that end throws the carrier back. */
START_TEST (reversed_stage_throws_back_by_its_far_end)
{
  char *folder = new_folder ();
  g_autofree char *s2p = put_file (folder, "n.s2p", "# MHz S MA R 50\n1 0.1 0 0.01 0 0.01 0 0.9 0\n1000 0.1 0 0.01 0 0.01 0 0.9 0\n"),
                  *path = put_file (folder, "t.chain",
                                    "[chain]\nstages=p;n\n[stage p]\nkind=pad\nlabel_db=3\nrating_w=100\n"
                                    "[stage n]\nkind=notch\ntouchstone=n.s2p\nrating_w=50\ndirectional=yes\n");
  g_autoptr (GError) error = NULL;
  g_autoptr (SpChain) chain = sp_chain_read (path, &error);
  sp_no_error (error);
  g_autoptr (SpAnalyzer) analyzer = analyzer_from ("[analyzer]\ndamage_dbm=20\n");
  g_autoptr (SpHeadroom) h = sp_headroom (chain, analyzer, 1, 145e6, NAN, 1, 0);
  const SpFault *turn = find_fault (h, SP_FAULT_REVERSED, 1);
  ck_assert (h->safe);
  near (h->notch_return_loss_db, 26, 1e-9); /* 20 dB of its own and the pad twice */
  near (turn->return_loss_db, 6 - 20 * log10 (0.9), 1e-9);
  ck_assert (turn->reflects);
  drop_folder (folder);
}
END_TEST

START_TEST (notch_with_s_parameters)
{
  char *folder = new_folder ();
  g_autofree char *s2p = put_file (folder, "n.s2p", "# MHz S MA R 50\n1 0.1 0 0.01 0 0.01 0 0.1 0\n1000 0.1 0 0.01 0 0.01 0 0.1 0\n"),
                  *path = put_file (folder, "t.chain",
                                    "[chain]\nstages=p;n\n[stage p]\nkind=pad\nlabel_db=1\nrating_w=100\n"
                                    "[stage n]\nkind=notch\ntouchstone=n.s2p\nrating_w=50\n");
  g_autoptr (GError) error = NULL;
  g_autoptr (SpChain) chain = sp_chain_read (path, &error);
  sp_no_error (error);
  g_autoptr (SpAnalyzer) analyzer = analyzer_from ("[analyzer]\ndamage_dbm=20\n");
  g_autoptr (SpHeadroom) h = sp_headroom (chain, analyzer, 1, 145e6, NAN, 1, 0);
  near (h->notch_return_loss_db, 22, 1e-9); /* 20 dB of its own and the pad twice */
  ck_assert (h->safe);
  drop_folder (folder);
}
END_TEST

START_TEST (filter_that_stops_the_carrier)
{
  g_autoptr (SpHeadroom) stops = headroom_of ("[chain]\nstages=f\n[stage f]\nkind=filter\nlabel_db=50\nrating_w=20\n", 1, NAN, 1),
                         passes = headroom_of ("[chain]\nstages=f;p\n[stage f]\nkind=filter\nlabel_db=0.5\nrating_w=20\n"
                                               "[stage p]\nkind=pad\nlabel_db=40\nrating_w=20\n",
                                               1, NAN, 1);
  ck_assert (!stops->safe && passes->safe);
  ck_assert (isnan (passes->notch_return_loss_db));
}
END_TEST

START_TEST (dc)
{
  g_autoptr (SpChain) open = chain_from ("[chain]\nstages=a;b\n[stage a]\nkind=cable\nlabel_db=1\n[stage b]\nkind=pad\nlabel_db=30\n"
                                         "passes_dc=yes\n"),
                      shut = chain_from ("[chain]\nstages=a;b\n[stage a]\nkind=cable\nlabel_db=1\n[stage b]\nkind=pad\nlabel_db=30\n");
  g_autoptr (SpAnalyzer) stated = analyzer_from ("[analyzer]\nname=Box\ndamage_dbm=20\nmax_dc_v=25\n"
                                                 ""),
                         not_stated = analyzer_from ("[analyzer]\ndamage_dbm=20\n");
  g_autoptr (SpHeadroom) a = sp_headroom (open, stated, 1, 1e8, NAN, 1, 0), b = sp_headroom (shut, stated, 1, 1e8, NAN, 1, 0),
                         c = sp_headroom (open, not_stated, 1, 1e8, NAN, 1, 0);
  const SpReason *reason = find_reason (a->reasons, SP_REASON_DC_PATH, "Box", NULL);
  ck_assert_ptr_nonnull (reason);
  near (reason->DC_PATH.most_v, 25, 0);
  ck_assert_ptr_null (find_reason (b->reasons, SP_REASON_DC_PATH, NULL, NULL));
  ck_assert_ptr_null (find_reason (c->reasons, SP_REASON_DC_PATH, NULL, NULL));
}
END_TEST

/* Another order of the stages: other levels at the nodes, the same at the analyzer. */
START_TEST (order_changes_nodes_only)
{
  g_autoptr (SpHeadroom) a = headroom_of (drawn, 10, NAN, 1);
  g_autofree char *other = g_strdup (drawn);
  memcpy (strstr (other, "patch;brick;thimble"), "thimble;patch;brick", strlen ("thimble;patch;brick"));
  g_autoptr (SpHeadroom) b = headroom_of (other, 10, NAN, 1);
  near (a->nodes[3].level_dbm, b->nodes[3].level_dbm, 1e-9);
  ck_assert_double_gt (fabs (a->nodes[1].level_dbm - b->nodes[1].level_dbm), 1);
  ck_assert (a->safe && !b->safe);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("headroom/headroom");
  TCase *t = tcase_create ("headroom");
  tcase_add_test (t, as_drawn);
  tcase_add_test (t, average_heats_and_peak_breaks);
  tcase_add_test (t, derated);
  tcase_add_test (t, at_the_rating_is_safe);
  tcase_add_test (t, faults_worst_first);
  tcase_add_test (t, no_fault_burns);
  tcase_add_test (t, one_stage_left_out_is_the_bare_analyzer);
  tcase_add_test (t, what_is_not_stated_is_said);
  tcase_add_test (t, coupler_load);
  tcase_add_test (t, notch_behind_pads);
  tcase_add_test (t, what_comes_back_fades);
  tcase_add_test (t, notch_first);
  tcase_add_test (t, fault_that_puts_a_notch_first);
  tcase_add_test (t, the_least_return_loss_of_all_faults);
  tcase_add_test (t, directional_stage_reversed);
  tcase_add_test (t, reversed_stage_throws_back_by_its_far_end);
  tcase_add_test (t, notch_with_s_parameters);
  tcase_add_test (t, filter_that_stops_the_carrier);
  tcase_add_test (t, dc);
  tcase_add_test (t, order_changes_nodes_only);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
