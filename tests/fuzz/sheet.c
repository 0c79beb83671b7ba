/* sheet.c - any bytes as a sheet. What it names is in memory: by the name's first character one of three exports, chains, analyzers and masks, so that
 * sweeps may differ. Written and read again it is an equal bench; one of four small ones is judged, twice the same. */
#include "core/bench/sheet/sheet.h"
#include "core/bench/bench.h"
#include "core/findings/findings.h"
#include "core/judge/judge.h"
#include "core/trace/read/read.h"
#include "tests/fuzz/resource.h"

#define KINDS 3 /* of each resource */

static const char *const chains[KINDS] = {
  "[chain]\nname=One pad\nstages=pad\n[stage pad]\nkind=pad\nlabel_db=10\nlabel_tolerance_db=0.5\nrating_w=5\n",
  "[chain]\nname=Two\nstages=pad;cable\n[stage pad]\nkind=pad\ntouchstone=pad.s2p\n[stage cable]\nkind=cable\nrun=cable.run\n",
  "[chain]\nname=Notch\nstages=notch\n[stage notch]\nkind=notch\npoints=100MHz 30 0.1; 146MHz 60 0.5; 1GHz 30 0.1\n",
};
static const char *const analyzers[KINDS] = {
  "[analyzer]\nname=Any\ndamage_dbm=20\naccuracy_db=1\n",
  "[analyzer]\nname=Small\ndamage_dbm=20\ndanl_dbm_hz=10MHz -150; 3GHz -140\nsecond_harmonic_intercept_dbm=40\n",
  "[analyzer]\nname=None\n",
};
static const char *const masks[KINDS] = {
  "[mask]\nname=Any\nharmonics=3\n[rule 1]\nfundamental=1MHz 1GHz\nemission=1MHz 4GHz\nattenuation_db=40\n",
  "[mask]\nname=Search\nsearch=1MHz 1GHz\n[rule 1]\nfundamental=1MHz 1GHz\nemission=1MHz 4GHz\nceiling_dbm=-36\n",
  "[mask]\nname=Nothing\n[rule 1]\nfundamental=1Hz 2Hz\nemission=1Hz 2Hz\nattenuation_db=1\n",
};
static const char *const exports[KINDS] = {
  "RBW,10 kHz\nAttenuation,20 dB\nFrequency (Hz),Level (dBm)\n145990000,-80\n146000000,0\n146010000,-80\n292000000,-70\n438000000,-81\n",
  "RBW,10 kHz\nAttenuation,30 dB\nFrequency (Hz),Level (dBm)\n145990000,-79\n146000000,0.1\n146010000,-79\n292000000,-69\n438000000,-80\n",
  "Frequency (Hz),Level (dBm)\n100000000,-80\n200000000,-81\n300000000,-82\n",
};
static gpointer made[SP_RESOURCE_TRACE][KINDS];
static GBytes *raw[KINDS];

static void
make_resources (void)
{
  const char *const *texts[] = { chains, analyzers, masks };

  for (guint i = 0; i < KINDS; i++) {
    for (SpResourceKind kind = SP_RESOURCE_CHAIN; kind < SP_RESOURCE_TRACE; kind++) {
      g_autoptr (GError) error = NULL;
      g_autofree char *name = g_strdup_printf ("%u", i);
      g_autoptr (SpKeyFile) file = sp_key_file_parse (texts[kind][i], strlen (texts[kind][i]), name, &error);
      made[kind][i] = file ? fuzz_resource (kind, file, &error) : NULL;
      if (!made[kind][i])
        g_error ("%s", error->message);
    }
    raw[i] = g_bytes_new_static (exports[i], strlen (exports[i]));
  }
}

static gpointer
find_resource (gpointer data, SpResourceKind kind, const char *name, const SpTraceOptions *options, GError **error)
{
  guint which = (guint) (guchar) name[0] % KINDS; /* '0', '1', '2' are 0, 1, 2 */

  (void) data;
  g_autofree char *beside = fuzz_beside (name, error);
  if (!beside)
    return NULL;
  if (kind == SP_RESOURCE_DOCUMENT)
    return sp_document_new ();
  if (kind == SP_RESOURCE_PICTURE)
    return fuzz_picture ();
  return kind == SP_RESOURCE_TRACE ? (gpointer) sp_trace_read_bytes (raw[which], beside, options, error)
                                   : sp_resource_ref (kind, made[kind][which]);
}

static const SpResources resources = { find_resource, NULL };

static gpointer
read_sheet (SpKeyFile *file, GError **error)
{
  return sp_bench_parse (file, &resources, error);
}

static char *
name_of (gpointer data, SpResourceKind kind, gconstpointer resource)
{
  (void) data;
  if (kind == SP_RESOURCE_DOCUMENT || kind == SP_RESOURCE_PICTURE)
    return g_strdup ("0");
  for (guint i = 0; i < KINDS; i++)
    if (kind == SP_RESOURCE_TRACE ? ((const SpTrace *) resource)->raw == raw[i] : resource == made[kind][i])
      return g_strdup_printf ("%u", i);
  if (kind == SP_RESOURCE_MASK)
    return g_strdup (((const SpMask *) resource)->name); /* a built-in one */
  g_assert_not_reached ();
}

static void
judge (SpBench *bench)
{
  g_autoptr (SpFindings) first = sp_judge (bench), second = sp_judge (bench);

  FUZZ_MUST (first && second && first->n == second->n);
  for (guint i = 0; i < first->n; i++)
    FUZZ_MUST (first->conditions[i].verdict == second->conditions[i].verdict);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  if (!raw[0])
    make_resources ();
  g_autoptr (SpBench) bench = fuzz_key_file (read_sheet, (const char *) data, size);

  if (!bench)
    return 0;
  g_autofree char *text = sp_bench_sheet_text (bench, name_of, NULL);
  g_autoptr (SpBench) again = fuzz_key_file (read_sheet, text, strlen (text));
  FUZZ_MUST (again && strcmp (again->sha256, bench->sha256) == 0);
  g_autofree char *twice = sp_bench_sheet_text (again, name_of, NULL);
  FUZZ_MUST (strcmp (twice, text) == 0);
  if (bench->n_conditions <= 2 && bench->sha256[0] < '4') /* it takes a hundred times what reading does */
    judge (bench);
  return 0;
}
