/* judged.c - any bytes as the export of a keyed sweep, which is judged: whatever a stranger's file says of its settings, there is a verdict, twice the same */
#include "core/bench/bench.h"
#include "core/bench/sheet/sheet.h"
#include "core/findings/findings.h"
#include "core/judge/judge.h"
#include "core/trace/read/read.h"
#include "tests/fuzz/resource.h"

#define MOST_POINTS 400 /* of what is judged; judging takes a hundred times what reading does */

static const char chain[] = "[chain]\nname=One pad\nstages=pad\n[stage pad]\nkind=pad\nlabel_db=10\nlabel_tolerance_db=0.5\nrating_w=5\n";
static const char analyzer[]
    = "[analyzer]\nname=Small\ndamage_dbm=20\naccuracy_db=1\ndanl_dbm_hz=1MHz -150; 3GHz -140\nsecond_harmonic_intercept_dbm=40\n";
static const char mask[]
    = "[mask]\nname=Any\nharmonics=3\nsearch=1MHz 1GHz\n[rule 1]\nfundamental=1MHz 1GHz\nemission=1MHz 4GHz\nattenuation_db=40\n";
static const char sheet[]
    = "[bench]\nchain=0\nanalyzer=0\nmask=0\nrule=guarded\n[radio Any]\n[condition Any/1]\nfundamental=146MHz\nkeyed=0\n";

static SpTrace *keyed; /* the input */

/* Of a text that is right. */
static gpointer
resource_of (SpResourceKind kind, const char *text)
{
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "file", NULL);
  return fuzz_resource (kind, file, NULL);
}

static gpointer
find_resource (gpointer data, SpResourceKind kind, const char *name, const SpTraceOptions *options, GError **error)
{
  (void) data, (void) name, (void) options, (void) error;
  return kind == SP_RESOURCE_CHAIN      ? resource_of (kind, chain)
         : kind == SP_RESOURCE_ANALYZER ? resource_of (kind, analyzer)
         : kind == SP_RESOURCE_MASK     ? resource_of (kind, mask)
         : kind == SP_RESOURCE_DOCUMENT ? (gpointer) sp_document_new ()
         : kind == SP_RESOURCE_PICTURE  ? fuzz_picture ()
                                        : sp_resource_ref (SP_RESOURCE_TRACE, keyed);
}

static const SpResources resources = { find_resource, NULL };

static gpointer
read_sheet (SpKeyFile *file, GError **error)
{
  return sp_bench_parse (file, &resources, error);
}

static void
judge (void)
{
  g_autoptr (SpBench) bench = fuzz_key_file (read_sheet, sheet, strlen (sheet));
  FUZZ_MUST (bench);
  g_autoptr (SpFindings) first = sp_judge (bench), second = sp_judge (bench);

  FUZZ_MUST (first->n == 1 && second->n == 1);
  const SpConditionFindings *one = &first->conditions[0], *two = &second->conditions[0];
  FUZZ_MUST (one->verdict == two->verdict && one->n_emissions == two->n_emissions);
  for (guint i = 0; i < one->n_emissions; i++)
    FUZZ_MUST (one->emissions[i].verdict == two->emissions[i].verdict && one->emissions[i].frequency_hz > 0);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  SpTraceOptions options;

  sp_trace_options_init (&options);
  g_autoptr (GPtrArray) traces = sp_trace_read_all_bytes (bytes, "file", &options, &error);
  for (guint i = 0; traces && i < MIN (traces->len, 2); i++) {
    keyed = traces->pdata[i];
    if (keyed->n <= MOST_POINTS)
      judge ();
  }
  sp_trace_options_clear (&options);
  return 0;
}
