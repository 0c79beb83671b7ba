/* beside.c - a bench to hold against another */
#include "core/bench/edit/edit.h"
#include "core/bench/sheet/sheet.h"
#include "core/book/book.h"

SpBench *
sp_bench_at (const char *path, GError **error)
{
  if (!g_str_has_suffix (path, ".benchbook") && !sp_book_is_one (path))
    return sp_bench_read (path, error);
  g_autoptr (SpBook) book = sp_book_look (path, error);
  return book ? sp_bench_ref (sp_book_bench (book)) : NULL;
}

SpBench *
sp_bench_beside (const SpBench *bench, const char *path, gboolean same_rule, GError **error)
{
  if (g_str_has_suffix (path, ".chain")) {
    g_autoptr (SpChain) chain = sp_chain_read (path, error);
    return chain ? sp_bench_with (bench, chain, NULL, NULL, -1) : NULL;
  }
  g_autoptr (SpBench) other = sp_bench_at (path, error);
  return other && same_rule ? sp_bench_with (other, NULL, NULL, NULL, (int) bench->decision_rule) : g_steal_pointer (&other);
}
