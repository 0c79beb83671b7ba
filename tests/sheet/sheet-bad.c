/* sheet-bad.c - sheets that cannot be read: each message begins with its place and says what was expected */
#include "core/bench/sheet/sheet.h"
#include "tests/sheet/folder.h"

typedef struct {
  const char *text;
  const char *place; /* behind the sheet's path */
  const char *says;
} Bad;

#define PARTS "chain=a.chain\nanalyzer=a.analyzer\nmask=us-amateur\n"
#define RADIO "[bench]\n" PARTS "[radio A]\n" /* the next line is the sixth */

static const Bad bad[] = {
  { "[radio A]\nkeyed=k1.csv\n", ":1:1:", "[bench]" },
  { "[bench]\ntitle=x\n", ":1:1:", "chain=" },
  { "[bench]\nanalyzer=a.analyzer\nmask=us-amateur\n[radio A]\nkeyed=k1.csv\n", ":4:1:", "chain" },
  { "[bench]\nchain=a.chain\nmask=us-amateur\n[radio A]\nkeyed=k1.csv\n", ":4:1:", "analyzer" },
  { "[bench]\nchain=a.chain\nanalyzer=a.analyzer\n[radio A]\n[condition A/x]\nkeyed=k1.csv\n", ":5:1:", "mask" },
  { "[bench]\nchain=gone.chain\n", ":2:7:", "gone.chain" },
  { "[bench]\nchain=\n", ":2:7:", "nothing" },
  { "[bench]\nchain=bad.chain\n", ":2:7:", "bad.chain:" },
  { "[bench]\nanalyzer=gone\n", ":2:10:", "gone" },
  { "[bench]\nmask=us-amature\n", ":2:6:", "us-amateur-strict" },
  { "[bench]\nmask=bad.mask\n", ":2:6:", "bad.mask:2:1:" },
  { "[bench]\nsecond_mask=us-amature\n", ":2:13:", "us-amateur-strict" },
  { "[bench]\nsecond_mask=bad.mask\n", ":2:13:", "bad.mask:2:1:" },
  { "[bench]\nrule=lenient\n", ":2:6:", "guarded" },
  { "[bench]\ndate=2026-02-30\n", ":2:6:", "2026-02-30" },
  { "[bench]\ntemperature_c=warm\n", ":2:15:", "warm" },
  { "[bench]\ntemperature_c=nan\n", ":2:15:", "nan" },
  { "[bench]\nnecessary_bandwidth=0\n", ":2:21:", "greater than 0" },
  { "[bench]\nnecessary_bandwidth=145.6MHz\n",
    ":2:21:", "found “145.6MHz”; expected a frequency greater than 0 and at most 20 MHz, such as 16kHz" },
  { "[bench]\nnecessary_bandwidth=20.000001MHz\n", ":2:21:", "at most 20 MHz" },
  { RADIO "necessary_bandwidth=145.6MHz\nkeyed=k1.csv\n", ":6:21:", "at most 20 MHz" },
  { RADIO "clocks=26MHz; fast\nkeyed=k1.csv\n", ":6:15:", "fast" },
  { RADIO "clocks=0\nkeyed=k1.csv\n", ":6:8:", "greater than 0" },
  { RADIO "field.=2\nkeyed=k1.csv\n", ":6:8:", "expected 1 to 24 letters" },
  { RADIO "field.serial of the case, long=2\nkeyed=k1.csv\n", ":6:32:", "such as field.firmware=2.14" },
  { RADIO "field.firmware=\nkeyed=k1.csv\n", ":6:16:", "nothing stands here; expected a value" },
  { "[bench]\nnecessary_bandwidth=16kHx\n", ":2:21:", "16kHx" },
  { "[bench]\nradio_vswr=abc\n", ":2:12:", "found “abc”; expected a number from 1 to 1000000" },
  { "[bench]\nradio_vswr=\n", ":2:12:", "nothing stands here; expected a number from 1 to 1000000" },
  { RADIO "clocks=30 dB\nkeyed=k1.csv\n", ":6:8:", "found “30 dB”; expected frequencies" },
  { "[bench]\npads_at_hand=10\n", ":2:14:", "found “10”, 1 field; expected" },
  { "[bench]\nradio_vswr=0.9\n", ":2:12:", "from 1 to 1000000" },
  { "[bench]\nradio_vswr=1e99\n", ":2:12:", "from 1 to 1000000" },
  { "[bench]\ntemperature_c=1e400\n", ":2:15:", "from -100 to 200" },
  { "[bench]\nnecessary_bandwidth=1e99\n", ":2:21:", "out of range; expected a frequency from 1e-6 Hz to 1e15 Hz" },
  { RADIO "tone_hz=1e-320\n", ":6:9:", "out of range; expected a frequency from 1e-6 Hz" },
  { RADIO "rated_w=1e-320\n", ":6:9:", "greater than 0 and at most 1000000000" },
  { RADIO "keyed=k1.csv?attenuation=1e99\n", ":6:7:", "from -200 to 200" },
  { RADIO "keyed=k1.csv?rbw=1e99\n", ":6:7:", "out of range; expected a frequency from 1e-6 Hz" },
  { "[bench]\nradio_harmonic_vswr=-inf\n", ":2:21:", "-inf" },
  { "[bench]\npads_at_hand=10\n", ":2:14:", "10 2; 20 5" },
  { "[bench]\npads_at_hand=10 2; 20 5W\n", ":2:20:", "5W" },
  { "[bench]\npads_at_hand=10 2; 0 5\n", ":2:20:", "0" },
  { "[bench]\npads_at_hand=10 -2\n", ":2:14:", "-2" },
  { "[bench]\npads_at_hand=10 2 3\n", ":2:14:", "10 2 3" },
  { "[bench]\npads_at_hand=\n", ":2:14:", "10 2; 20 5" },
  { "[bench]\nunkeyed=\n", ":2:9:", "one unkeyed" },
  { "[bench]\nunkeyed=k1.csv;k2.csv\n", ":2:9:", "one unkeyed" },
  { "[bench]\n" PARTS "[radio A]\n[radio A]\n", ":6:1:", "A" },
  { "[bench]\n" PARTS "[radio A b]\n[radio A%20b]\n", ":6:1:", "already" },
  { "[bench]\n" PARTS "[radio A/b]\n", ":5:1:", "no /" },
  { "[bench]\n" PARTS "[radio A%2Fb]\n", ":5:1:", "no /" },
  { "[bench]\n" PARTS "[radio]\n", ":5:1:", "[radio NAME]" },
  { "[bench]\n" PARTS "[condition A/x]\n", ":5:1:", "[radio A]" },
  { "[bench]\n" PARTS "[radio A]\n[condition A]\n", ":6:1:", "RADIO/NAME" },
  { "[bench]\n" PARTS "[radio A]\n[condition /x]\n", ":6:1:", "RADIO/NAME" },
  { "[bench]\n" PARTS "[radio A]\n[condition A/x]\n[condition A/%78]\n", ":7:1:", "already" },
  { "[bench]\n" PARTS "[radio A]\nkeyed=k1.csv\n[condition A/x]\nkeyed=k1.csv\n", ":6:7:", "[condition" },
  { RADIO "longest_key_down_s=0\n", ":6:20:", "greater than 0" },
  { RADIO "longest_key_down_s=-3\n", ":6:20:", "greater than 0 and at most 86400" }, /* one truth, whatever was typed */
  { RADIO "longest_key_down_s=90000\n", ":6:20:", "greater than 0 and at most 86400" },
  { RADIO "longest_key_down_s=long\n", ":6:20:", "greater than 0 and at most 86400" },
  { RADIO "tone_hz=-1kHz\n", ":6:9:", "greater than 0, such as 1kHz" },
  { RADIO "tone_hz=0\n", ":6:9:", "greater than 0, such as 1kHz" },
  { RADIO "deviation_hz=wide\n", ":6:14:", "greater than 0, such as 5kHz" },
  { RADIO "installed=yesterday\n", ":6:11:", "yesterday" },
  { RADIO "fundamental=0\n", ":6:13:", "greater than 0" },
  { RADIO "fundamental=-7MHz\n", ":6:13:", "-7MHz" },
  { RADIO "rated_w=-5\n", ":6:9:", "-5" },
  { RADIO "rated_w=0\n", ":6:9:", "greater than 0" },
  { RADIO "duty=0\n", ":6:6:", "greater than 0" },
  { RADIO "duty=1.01\n", ":6:6:", "at most 1" },
  { RADIO "duty=0,5\n", ":6:6:", "0,5" },
  { RADIO "meter_u_db=-0.1\n", ":6:12:", "-0.1" },
  { RADIO "meter=maybe\n", ":6:7:", "anchor" },
  { RADIO "meter_dbm=999\n", ":6:11:", "999" },
  { RADIO "keyed=\n", ":6:7:", "at least one file" },
  { RADIO "keyed=gone.csv\n", ":6:7:", "gone.csv" },
  { RADIO "keyed=k1.csv; gone.csv\n", ":6:15:", "gone.csv" },
  { RADIO "keyed=k1.csv; broken.csv\n", ":6:15:", "broken.csv:4:" },
  { RADIO "keyed=k1.csv?rwb=3kHz\n", ":6:7:", "rwb" },
  { RADIO "keyed=k1.csv?start=9MHz&stop=3MHz\n", ":6:7:", "from 9 MHz to 3 MHz" },
  { RADIO "keyed=k1.csv?center=1MHz&span=3MHz\n", ":6:7:", "from -0.5 MHz to 2.5 MHz" },
  { RADIO "keyed=k1.csv?from=1.5MHz&to=300kHz\n", ":6:7:", "from 1.5 MHz to 0.3 MHz" },
  { RADIO "keyed=k1.csv?rbw=wide\n", ":6:7:", "wide" },
  { RADIO "keyed=k1.csv\nstep=s10.csv\n", ":7:6:", "dB of the step" },
  { RADIO "keyed=k1.csv\nstep=s10.csv 10; s20.csv twenty\n", ":7:26:", "twenty" },
  { RADIO "keyed=k1.csv\nstep=s10.csv 0\n", ":7:14:", "other than 0" },
  { RADIO "keyed=k1.csv\nstep=s10.csv 10; s10.csv 20\n", ":7:18:", "expected 30 dB" },
  { RADIO "keyed=k1.csv\nstep=s10.csv 10.06\n", ":7:6:", "20 dB" },
  { RADIO "keyed=k1.csv\nstep=s10.csv?attenuation=25 10\n", ":7:6:", "25 dB" },
  { RADIO "keyed=k1.csv\nstep=s10.csv 10\nstep_chain=b.chain\n", ":7:6:", "expected 10 dB, as in the keyed sweep, because step_chain=" },
  { RADIO "keyed=k1.csv\nstep_chain=gone.chain\n", ":7:12:", "gone.chain" },
};

START_TEST (places)
{
  put ("bad.chain", "[chain]\nstages=gone\n");
  put ("bad.mask", "[mask]\n[rule 1]\n");
  put ("broken.csv", "RBW,10 kHz\nFrequency (Hz),Level (dBm)\n9000000,-80\n10000000,loud\n11000000,-80\n12000000,-80\n");
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SpBench) bench = read_sheet (bad[i].text, &error);
    g_autofree char *place = g_strdup_printf ("%s/night.sheet%s", folder, bad[i].place);
    ck_assert_msg (!bench && error, "accepted: %s", bad[i].text);
    ck_assert_msg (g_str_has_prefix (error->message, place), "%s\n\"%s\" does not begin with %s", bad[i].text, error->message, place);
    ck_assert_msg (strstr (error->message + strlen (place), bad[i].says) != NULL, "%s\n\"%s\" does not say %s", bad[i].text, error->message,
                   bad[i].says);
  }
}
END_TEST

START_TEST (too_many_groups)
{
  g_autoptr (GError) error = NULL;
  GString *text = g_string_new ("[bench]\n" PARTS);
  for (int i = 0; i < 1001; i++)
    g_string_append_printf (text, "[radio R%d]\n", i);
  g_autofree char *all = g_string_free (text, FALSE);
  ck_assert (!read_sheet (all, &error) && strstr (error->message, "1000"));
}
END_TEST

START_TEST (no_such_sheet)
{
  g_autoptr (GError) error = NULL;
  ck_assert (!sp_bench_read ("/nowhere/night.sheet", &error) && strstr (error->message, "/nowhere/night.sheet"));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("bad sheets");
  TCase *t = tcase_create ("all");
  tcase_add_unchecked_fixture (t, make_folder, remove_folder);
  tcase_add_test (t, places);
  tcase_add_test (t, too_many_groups);
  tcase_add_test (t, no_such_sheet);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
