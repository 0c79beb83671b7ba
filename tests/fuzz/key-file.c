/* key-file.c - any bytes as each of our own files: chain, analyzer, mask, sheet, run. What they name is not there, but for the sheet: parts that are
 * always the same. What was read is written and read again. */
#include "core/bench/bench.h"
#include "tests/fuzz/fuzz.h"

#include <string.h>

static const char chain_text[] = "[chain]\nname=One pad\nstages=pad\n[stage pad]\nkind=pad\nlabel_db=10\nlabel_tolerance_db=0.5\nrating_w=5\n";
static const char analyzer_text[] = "[analyzer]\nname=Any\ndamage_dbm=20\naccuracy_db=1\n";
static const char mask_text[] = "[mask]\nname=Any\nharmonics=3\n[rule 1]\nfundamental=1MHz 1GHz\nemission=1MHz 4GHz\nattenuation_db=40\n";

static SpKeyFile *
parsed (const char *text)
{
  SpKeyFile *file = sp_key_file_parse (text, strlen (text), "part", NULL);
  FUZZ_MUST (file != NULL);
  return file;
}

static SpTwoPort *
no_two_port (gpointer data, const char *name, GError **error)
{
  (void) data;
  g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT, "%s: not there", name);
  return NULL;
}

/* A run that is always the same, for a stage that names one. */
static SpRun *
any_run (gpointer data, const char *name, GError **error)
{
  static const char text[] = "[run]\nstage=pad\n[at 10MHz]\nbefore=0@0\ninserted=-10@1;-10.1@2\nafter=0@3\n";
  (void) data;
  return sp_run_parse_bytes (text, strlen (text), name, FALSE, error);
}

static const SpTwoPorts two_ports = { no_two_port, NULL, any_run, FALSE };

static gpointer
make_part (gpointer data, SpPartKind kind, const char *name, const SpTraceOptions *options, GError **error)
{
  static const double f[] = { 100e6, 200e6, 300e6 }, level[] = { -20, -70, -80 };
  g_autoptr (SpKeyFile) file = kind == SP_PART_TRACE ? NULL : parsed (kind == SP_PART_CHAIN ? chain_text
                                                                      : kind == SP_PART_ANALYZER ? analyzer_text : mask_text);
  (void) data;
  (void) options;
  switch (kind) {
    case SP_PART_CHAIN: return sp_chain_parse (file, error);
    case SP_PART_ANALYZER: return sp_analyzer_parse (file, error);
    case SP_PART_MASK: return sp_mask_parse (file, error);
    default: return sp_trace_new (name, 3, f, level, NULL, error);
  }
}

static const SpParts parts = { make_part, NULL };

static gpointer
read_chain (SpKeyFile *file, GError **error)
{
  return sp_chain_parse_with (file, &two_ports, error);
}

static gpointer
read_analyzer (SpKeyFile *file, GError **error)
{
  return sp_analyzer_parse (file, error);
}

static gpointer
read_mask (SpKeyFile *file, GError **error)
{
  return sp_mask_parse (file, error);
}

static gpointer
read_sheet (SpKeyFile *file, GError **error)
{
  return sp_bench_parse (file, &parts, error);
}

static gpointer
read_run (SpKeyFile *file, GError **error)
{
  return sp_run_parse (file, FALSE, error);
}

typedef gpointer (*Read) (SpKeyFile *file, GError **error);

static gpointer
read_as (Read read, const char *bytes, gsize length)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (bytes, length, "file", &error);

  FUZZ_MUST_ANSWER (file, error);
  gpointer got = file ? read (file, &error) : NULL;
  FUZZ_MUST_ANSWER (got, error);
  return got;
}

/* The canonical text reads back to the same text. */
static void
write_again (Read read, const char *text, const char *(*text_of) (gpointer), void (*unref) (gpointer))
{
  gpointer again = read_as (read, text, strlen (text));

  FUZZ_MUST (again != NULL);
  FUZZ_MUST (strcmp (text_of (again), text) == 0);
  unref (again);
}

static const char *
chain_text_of (gpointer chain)
{
  return ((SpChain *) chain)->text;
}

static const char *
analyzer_text_of (gpointer analyzer)
{
  return ((SpAnalyzer *) analyzer)->text;
}

static const char *
mask_text_of (gpointer mask)
{
  return ((SpMask *) mask)->text;
}

static const char *
run_text_of (gpointer run)
{
  return ((SpRun *) run)->text;
}

static void
unref_run (gpointer run)
{
  sp_run_unref (run);
}

/* Whatever the readings, the result is finite, or it is said what is wanting. */
static void
work (const SpRun *run)
{
  g_autoptr (SpRunResult) result = sp_run_result (run, 740000);
  FUZZ_MUST (result->n > 0 || result->missing->len > 0);
  for (guint i = 0; i < result->n; i++)
    FUZZ_MUST (result->points[i].u_db >= 0 && result->points[i].expanded_db >= 0 && result->points[i].expanded_db < 1e9);
}

static void
unref_chain (gpointer chain)
{
  sp_chain_unref (chain);
}

static void
unref_analyzer (gpointer analyzer)
{
  sp_analyzer_unref (analyzer);
}

static void
unref_mask (gpointer mask)
{
  sp_mask_unref (mask);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  const char *bytes = (const char *) data;
  g_autoptr (SpChain) chain = read_as (read_chain, bytes, size);
  g_autoptr (SpAnalyzer) analyzer = read_as (read_analyzer, bytes, size);
  g_autoptr (SpMask) mask = read_as (read_mask, bytes, size);
  g_autoptr (SpBench) bench = read_as (read_sheet, bytes, size);

  g_autoptr (SpRun) run = read_as (read_run, bytes, size);

  if (run) {
    write_again (read_run, run->text, run_text_of, unref_run);
    work (run);
  }
  if (chain)
    write_again (read_chain, chain->text, chain_text_of, unref_chain);
  if (analyzer)
    write_again (read_analyzer, analyzer->text, analyzer_text_of, unref_analyzer);
  if (mask)
    write_again (read_mask, mask->text, mask_text_of, unref_mask);
  return 0;
}
