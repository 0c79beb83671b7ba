/* mask-file.c - .mask files read, refused and rewritten */
#include "tests/suite.h"

#include <string.h>

#include "core/mask/mask.h"

static SpMask *
try (const char *text, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "bad.mask", error);
  return file ? sp_mask_parse (file, error) : NULL;
}

START_TEST (design_example)
{
  GError *error = NULL;
  g_autoptr (SpMask) mask
      = try ("[mask]\nname=House limit\nauthority=none\nclause=our own\nedition=2026\nnote=for the club's own use\nharmonics=7   # as far\n"
             "search=30MHz 2GHz\nreference_bandwidth=100kHz\npower=pep\nexclude=0.5\n\n[rule 1]\nfundamental=30MHz 225MHz\n"
             "power_w=0 25\nemission=30MHz 3GHz\nattenuation_db=40\nceiling_dbm=-16.0206\nrelief_dbm=-20\n"
             "[rule 2]\npower_w=>=5 inf\noffset_bandwidths=>0.5 <2.5\nattenuation_db=43 + 10 log P\nreference_bandwidth=1kHz\n"
             "power=mean\nexclude=0\n",
             &error);
  sp_no_error (error);
  ck_assert_str_eq (mask->name, "House limit");
  ck_assert_str_eq (mask->clause, "our own");
  ck_assert_uint_eq (mask->harmonics, 7);
  ck_assert (mask->search_low_hz == 30e6 && mask->search_high_hz == 2e9 && mask->n == 2);
  const SpMaskRule *a = &mask->rules[0], *b = &mask->rules[1];
  ck_assert_str_eq (a->name, "rule 1");
  ck_assert (a->f0.low.value == 30e6 && a->f0.low.closed && a->f0.high.value == 225e6 && a->f0.high.closed);
  ck_assert (a->p.low.value == 0 && !a->p.low.closed && a->p.high.value == 25 && a->p.high.closed);
  ck_assert (a->range == SP_RANGE_ABSOLUTE && a->a_db == 40 && a->b_db == 0 && isnan (a->a_end_db) && a->relief_dbm == -20);
  ck_assert (a->reference_bandwidth_hz == 100e3 && a->power == SP_POWER_PEP && a->exclude_bandwidths == 0.5);
  ck_assert (b->p.low.value == 5 && b->p.low.closed && isinf (b->p.high.value));
  ck_assert (b->range == SP_RANGE_BANDWIDTHS && !b->low.closed && !b->high.closed && b->low.value == 0.5 && b->high.value == 2.5);
  ck_assert (b->a_db == 43 && b->b_db == 10 && b->reference_bandwidth_hz == 1e3 && b->power == SP_POWER_MEAN && b->exclude_bandwidths == 0);
  ck_assert_uint_eq (mask->warnings->len, 0);
}
END_TEST

START_TEST (spellings)
{
  static const struct {
    const char *line;
    double a, b, end;
  } good[] = {
    { "attenuation_db=43+10logP", 43, 10, NAN },
    { "attenuation_db=43 + 10 lg(P)", 43, 10, NAN },
    { "attenuation_db=50 + 10 LOG10 ( p )", 50, 10, NAN },
    { "attenuation_db=43 + 10*log P", 43, 10, NAN },
    { "attenuation_db=60.5", 60.5, 0, NAN },
    { "emission=1MHz 2MHz\nattenuation_db=40 60", 40, 0, 60 },
    { "attenuation_db=40 - 5 log P", 40, -5, NAN },
    { "emission=30 MHz 225 MHz\nattenuation_db=1", 1, 0, NAN },
    { "power_w=0 <5\nattenuation_db=1", 1, 0, NAN },
    { "power_w=> 1 <= 5\nattenuation_db=1", 1, 0, NAN },
  };
  for (guint i = 0; i < G_N_ELEMENTS (good); i++) {
    GError *error = NULL;
    g_autofree char *text = g_strdup_printf ("[mask]\n[rule x]\n%s\n", good[i].line);
    g_autoptr (SpMask) mask = try (text, &error);
    ck_assert_msg (mask != NULL, "%s: %s", good[i].line, error ? error->message : "");
    ck_assert (mask->rules[0].a_db == good[i].a && mask->rules[0].b_db == good[i].b);
    ck_assert (isnan (good[i].end) ? isnan (mask->rules[0].a_end_db) : mask->rules[0].a_end_db == good[i].end);
  }
}
END_TEST

static const struct {
  const char *text, *place, *says;
} bad[] = {
  { "[rule 1]\nattenuation_db=40\n", "bad.mask:1:1:", "[mask]" },
  { "[mask]\nname=x\n", "bad.mask:", "no rule" },
  { "[mask]\n\n[rule 1]\nfundamental=1MHz 2MHz\n", "bad.mask:3:1:", "sets no number" },
  { "[mask]\n[rule 1]\nrelief_dbm=-20\n", "bad.mask:2:1:", "sets no number" },
  { "[mask]\n[rule 1]\nfundamental=1MHz 2MHz\nlimit_dbc=-60\n", "bad.mask:4:1:", "sets no number, and a rule has no key limit_dbc=;" },
  { "[mask]\n[rule 1]\nemission=3GHz 30MHz\nattenuation_db=40\n", "bad.mask:3:10:", "reversed" },
  { "[mask]\n[rule 1]\nemission=30MHz 30MHz\nattenuation_db=40\n", "bad.mask:3:10:", "empty" },
  { "[mask]\n[rule 1]\npower_w=25 5\nattenuation_db=40\n", "bad.mask:3:9:", "reversed" },
  { "[mask]\n[rule 1]\npower_w=inf inf\nattenuation_db=40\n", "bad.mask:3:9:", "empty" },
  { "[mask]\n[rule 1]\npower_w=-5 5\nattenuation_db=40\n", "bad.mask:3:9:", "at least 0" },
  { "[mask]\n[rule 1]\npower_w=0 nan\nattenuation_db=40\n", "bad.mask:3:11:", "nan" },
  { "[mask]\n[rule 1]\nemission=30MHz\nattenuation_db=40\n", "bad.mask:3:10:", "two edges" },
  { "[mask]\n[rule 1]\nemission=30MHz 3GHz 4GHz\nattenuation_db=40\n", "bad.mask:3:10:", "two edges" },
  { "[mask]\n[rule 1]\nemission=30MHz 3Gxz\nattenuation_db=40\n", "bad.mask:3:16:", "3Gxz" },
  { "[mask]\n[rule 1]\nemission=30,5MHz 3GHz\nattenuation_db=40\n", "bad.mask:3:10:", "30,5MHz" },
  { "[mask]\n[rule 1]\nemission=1MHz 2MHz\noffset=1kHz 2kHz\nattenuation_db=40\n", "bad.mask:4:8:", "emission" },
  { "[mask]\n[rule 1]\nattenuation_db=forty\n", "bad.mask:3:16:", "forty" },
  { "[mask]\n[rule 1]\nattenuation_db=40 50 60\n", "bad.mask:3:16:", "two numbers" },
  { "[mask]\n[rule 1]\nattenuation_db=40 60\n", "bad.mask:3:16:", "emission=" },
  { "[mask]\n[rule 1]\noffset=1kHz 2kHz\nattenuation_db=40 60\n", "bad.mask:4:16:", "emission=" },
  { "[mask]\n[rule 1]\nemission=0 1GHz\nattenuation_db=40 60\n", "bad.mask:4:16:", "above 0 Hz" },
  { "[mask]\n[rule 1]\nemission=1MHz inf\nattenuation_db=40 60\n", "bad.mask:4:16:", "both its edges" },
  { "[mask]\n[rule 1]\nattenuation_db=-3\n", "bad.mask:3:16:", "above the carrier" },
  { "[mask]\n[rule 1]\nattenuation_db=4000\n", "bad.mask:3:16:", "300" },
  { "[mask]\n[rule 1]\nceiling_dbm=1e9\n", "bad.mask:3:13:", "300" },
  { "[mask]\nharmonics=2.5\n[rule 1]\nattenuation_db=40\n", "bad.mask:2:11:", "whole" },
  { "[mask]\nharmonics=0\n[rule 1]\nattenuation_db=40\n", "bad.mask:2:11:", "1 to 100" },
  { "[mask]\nsearch=30MHz inf\n[rule 1]\nattenuation_db=40\n", "bad.mask:2:8:", "two frequencies" },
  { "[mask]\npower=peak\n[rule 1]\nattenuation_db=40\n", "bad.mask:2:7:", "mean" },
  { "[mask]\nexclude=-1\n[rule 1]\nattenuation_db=40\n", "bad.mask:2:9:", "" },
  { "[mask]\nreference_bandwidth=0\n[rule 1]\nattenuation_db=40\n", "bad.mask:2:21:", "0 Hz" },
  { "[mask]\ndetector=loud\n[rule 1]\nattenuation_db=40\n", "bad.mask:2:10:", "quasi-peak" },
  { "[mask]\n[rule 1]\nattenuation_db=40\n[rule 1]\nattenuation_db=50\n", "bad.mask:4:1:", "[rule 1]" },
  { "[mask]\n[rule 1]\nattenuation_db=40\nattenuation_db=50\n", "bad.mask:4:1:", "attenuation_db" },
};

START_TEST (bad_input)
{
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SpMask) mask = try (bad[i].text, &error);
    ck_assert_msg (!mask && error, "accepted: %s", bad[i].text);
    ck_assert_msg (g_str_has_prefix (error->message, bad[i].place), "%s: \"%s\" does not begin with %s", bad[i].text, error->message,
                   bad[i].place);
    ck_assert_msg (strstr (error->message, bad[i].says) != NULL, "%s: \"%s\" does not say %s", bad[i].text, error->message, bad[i].says);
  }
}
END_TEST

START_TEST (too_many_rules)
{
  g_autoptr (GError) error = NULL;
  GString *text = g_string_new ("[mask]\n");
  for (int i = 0; i < 101; i++)
    g_string_append_printf (text, "[rule %d]\nattenuation_db=40\n", i);
  g_autofree char *all = g_string_free (text, FALSE);
  ck_assert (!try (all, &error) && strstr (error->message, "more than 100"));
}
END_TEST

START_TEST (unknown_name_lists_the_names)
{
  g_autoptr (GError) error = NULL;
  ck_assert (!sp_mask_load ("us-amature", &error));
  ck_assert (strstr (error->message, "us-amature") && strstr (error->message, "us-amateur-before-2003")
             && strstr (error->message, "at-amateur"));
}
END_TEST

START_TEST (built_in_masks)
{
  static const char *const want[] = { "at-amateur",
                                      "us-amateur",
                                      "us-amateur-before-2003",
                                      "us-amateur-strict",
                                      "us-amateur-uhf-advisory",
                                      "us-frs",
                                      "us-marine-ssb",
                                      "us-rc-27",
                                      "us-rc-72",
                                      NULL };
  const char *const *names = sp_mask_names ();
  ck_assert (g_strv_equal (names, want));
  for (guint i = 0; names[i]; i++) {
    GError *error = NULL;
    g_autoptr (SpMask) mask = sp_mask_load (names[i], &error);
    sp_no_error (error);
    ck_assert_str_eq (mask->name, names[i]);
    ck_assert_ptr_null (mask->file);
    ck_assert (mask->title && mask->authority && mask->clause && mask->edition && mask->note);
    ck_assert_uint_eq (mask->warnings->len, 0);
    ck_assert_int_eq (mask->advisory, strcmp (names[i], "us-amateur-uhf-advisory") == 0);
  }
}
END_TEST

START_TEST (rewritten_text_reads_back)
{
  const char *const *names = sp_mask_names ();
  for (guint i = 0; names[i]; i++) {
    GError *error = NULL;
    g_autoptr (SpMask) mask = sp_mask_load (names[i], &error);
    g_autoptr (SpMask) again = try (mask->text, &error);
    sp_no_error (error);
    ck_assert_str_eq (mask->text, again->text);
    ck_assert_str_eq (mask->sha256, again->sha256);
    for (int k = 0; k < 200; k++) {
      double p = 0.01 * pow (1.06, k), f0 = mask->rules[0].f0.low.value + 7e6 * (k % 5), f = 1e5 * pow (1.1, k);
      double a = sp_mask_limit (mask, f0, p, 3e3, 100, f).limit_dbm, b = sp_mask_limit (again, f0, p, 3e3, 100, f).limit_dbm;
      ck_assert (a == b || (isnan (a) && isnan (b)));
    }
  }
}
END_TEST

START_TEST (order_and_comments_do_not_count)
{
  GError *error = NULL;
  g_autoptr (SpMask) a = try ("[mask]\nname=a\nclause=c # see there\n[rule 1]\nattenuation_db=40\nfundamental=1MHz 2MHz\n", &error);
  g_autoptr (SpMask) b = try ("# mine\n[rule 1]\nfundamental=1e6 2000kHz\nattenuation_db=40.0\n\n[mask]\nclause=c\nname=a\n", &error);
  g_autoptr (SpMask) c = try ("[mask]\nname=a\nclause=c\n[rule 1]\nattenuation_db=40.1\nfundamental=1MHz 2MHz\n", &error);
  sp_no_error (error);
  ck_assert_str_eq (a->sha256, b->sha256);
  ck_assert_str_ne (a->sha256, c->sha256);
}
END_TEST

START_TEST (unknown_keys_are_kept)
{
  GError *error = NULL;
  g_autoptr (SpMask) mask
      = try ("[mask]\nname=a\ncolour=blue # not ours\n[rule 1]\nattenuation_db=40\nsince=\"1992 # or so\"\n[shelf]\nrow=3\n", &error);
  sp_no_error (error);
  ck_assert_uint_eq (mask->warnings->len, 3);
  for (guint i = 0; i < 3; i++)
    ck_assert_int_eq (((SpReason *) mask->warnings->pdata[i])->code, SP_REASON_UNKNOWN_KEY);
  g_autoptr (SpMask) again = try (mask->text, &error);
  sp_no_error (error);
  ck_assert_str_eq (mask->text, again->text);
  ck_assert_ptr_nonnull (strstr (mask->text, "colour=blue\n"));
  ck_assert_ptr_nonnull (strstr (mask->text, "since=\"1992 # or so\"\n"));
  ck_assert_ptr_nonnull (strstr (mask->text, "[shelf]\nrow=3\n"));
  ck_assert_uint_eq (again->warnings->len, 3);
}
END_TEST

START_TEST (detector_is_kept_and_said)
{
  GError *error = NULL;
  g_autoptr (SpMask) mask = try ("[mask]\ndetector=rms\n[rule 1]\nattenuation_db=40\n[rule 2]\nattenuation_db=50\ndetector=peak\n", &error);
  sp_no_error (error);
  ck_assert_str_eq (mask->rules[0].detector, "rms");
  ck_assert_str_eq (mask->rules[1].detector, "peak");
  ck_assert (sp_reasons_have (mask->warnings, SP_REASON_NOT_YET_USED));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("mask files");
  TCase *t = tcase_create ("all");
  tcase_add_test (t, design_example);
  tcase_add_test (t, spellings);
  tcase_add_test (t, bad_input);
  tcase_add_test (t, too_many_rules);
  tcase_add_test (t, unknown_name_lists_the_names);
  tcase_add_test (t, built_in_masks);
  tcase_add_test (t, rewritten_text_reads_back);
  tcase_add_test (t, order_and_comments_do_not_count);
  tcase_add_test (t, unknown_keys_are_kept);
  tcase_add_test (t, detector_is_kept_and_said);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
