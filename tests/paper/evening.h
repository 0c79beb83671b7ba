/* evening.h - an invented evening of any number of radios and conditions, by the sample's chain and exports */
#pragma once

#include "tests/suite.h"

#include "core/bench/sheet/sheet.h"
#include "core/judge/judge.h"

#include <glib/gstdio.h>

/* More than twenty radios share the shortest export, for time. `length` letters at least of each radio's name; `bare`: neither owner, serial, place nor date. (transfer full) */
static inline SpFindings *
evening (guint radios, guint conditions, guint length, gboolean bare)
{
  static const char *const exports[] = { "tulvannick.csv", "brundlow.dat", "larquedon.txt" };
  static const double carriers[] = { 146.46, 147.03, 145.56 };
  g_autofree char *samples = sp_test_path ("samples"), *folder = g_dir_make_tmp ("spurproof-paper-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "evening.sheet", NULL);
  g_autoptr (GString) sheet = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  g_string_append_printf (
      sheet,
      "[bench]\ntitle=An evening with a title that is long enough to be cut somewhere\nchain=%s/club.chain\nanalyzer=%s/club.analyzer\n"
      "mask=us-amateur\ntemperature_c=21\nnecessary_bandwidth=16kHz\n%s",
      samples, samples, bare ? "" : "date=2026-11-28\nplace=Pendrowick club room\noperator=the course's own\n");
  for (guint i = 0; i < radios; i++) {
    guint export_of = radios > 20 ? 1 : i;
    g_autoptr (GString) name = g_string_new (NULL);
    g_string_append_printf (name, "R%u", i + 1);
    while (name->len < length)
      g_string_append (name, name->len % 9 ? "el" : " w");
    g_string_append_printf (sheet, "[radio %s]\n", name->str);
    if (!bare)
      g_string_append_printf (sheet, "owner=owner %u of table %u\nserial=S-%u-%u\n", i + 1, i + 1, i + 1, i + 1);
    for (guint k = 0; k < conditions; k++)
      g_string_append_printf (sheet, "[condition %s/2 m, setting %u]\nfundamental=%.2fMHz\nrated_w=5\nmode=FM\nkeyed=%s/raw/%s\n",
                              name->str, k + 1, carriers[(export_of + k) % 3], samples, exports[(export_of + k) % 3]);
  }
  ck_assert (g_file_set_contents (path, sheet->str, -1, NULL));
  g_autoptr (SpBench) bench = sp_bench_read (path, &error);
  sp_no_error (error);
  g_unlink (path);
  g_rmdir (folder);
  return sp_judge (bench);
}
