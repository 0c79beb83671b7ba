/* mind.h - the warnings of a condition as a person reads them: one of a kind, those that can change a verdict first
 *
 * Warnings that all conditions share belong to the bench and are said once.
 */
#pragma once

#include "core/findings/findings.h"

typedef struct {
  const SpReason *reason; /* the first of its code; owned by the findings */
  guint n;                /* how many of that code there are */
  gboolean weighs;        /* it can change a verdict */
} SpMind;

#define SP_MIND_BENCH G_MAXUINT /* in place of a condition */

/* Array of SpMind of a condition, or of the bench: its own warnings and those shared by all of several conditions. Ordered: those that
 * weigh first, else as they were found. (transfer full) */
GArray *sp_findings_mind (const SpFindings *findings, guint condition);
