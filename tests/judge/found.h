/* found.h - what was found of a small bench: its emissions, verdicts and warnings */
#pragma once

#include "core/judge/judge.h"
#include "tests/judge/workshop.h"
#include "tests/suite.h"

static inline SpFindings *
shop_judge (const char *shop, const char *analyzer_extra, const char *sheet)
{
  g_autoptr (SpBench) bench = shop_bench (shop, analyzer_extra, sheet);
  return sp_judge (bench);
}

static inline const SpEmission *
harmonic (const SpFindings *f, guint order)
{
  ck_assert_uint_ge (f->conditions[0].n_emissions, order - 1);
  ck_assert_uint_eq (f->conditions[0].emissions[order - 2].order, order);
  return &f->conditions[0].emissions[order - 2];
}

/* NULL: it does not stand there. */
static inline const SpReason *
warning (const SpFindings *f, SpReasonCode code)
{
  GPtrArray *warnings = f->conditions[0].warnings;
  for (guint i = 0; i < warnings->len; i++)
    if (((SpReason *) g_ptr_array_index (warnings, i))->code == code)
      return g_ptr_array_index (warnings, i);
  return NULL;
}

static inline void
expect (const SpEmission *e, SpVerdict verdict, SpReasonCode why)
{
  ck_assert_str_eq (sp_verdict_name (e->verdict), sp_verdict_name (verdict));
  ck_assert_str_eq (sp_reason_name (e->reason->code), sp_reason_name (why));
}

static inline void
expect_origin (const SpEmission *e, SpOrigin origin, SpOriginBasis basis, SpVerdict verdict)
{
  ck_assert_str_eq (sp_origin_name (e->origin), sp_origin_name (origin));
  ck_assert_str_eq (sp_origin_basis_name (e->origin_basis), sp_origin_basis_name (basis));
  ck_assert_str_eq (sp_verdict_name (e->verdict), sp_verdict_name (verdict));
}
