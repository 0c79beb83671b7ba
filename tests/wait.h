/* wait.h - waiting for what happens, in suites with a main loop
 *
 * The loop turns until the condition holds. No verdict hangs on a clock: the limit only ends what hangs, and no machine is so busy that it comes near.
 */
#pragma once

#include "tests/suite.h"

#define SP_PATIENCE_S 600

static inline gboolean
sp_look_again (gpointer data)
{
  (void) data;
  return G_SOURCE_CONTINUE;
}

/* FALSE where it never came. Threads may bring it about without the loop's knowing: it is looked for again every few ms, without keeping them from work. */
static inline gboolean
sp_comes (gboolean (*condition) (gpointer data), gpointer data)
{
  gint64 end = g_get_monotonic_time () + SP_PATIENCE_S * G_TIME_SPAN_SECOND;
  guint source = g_timeout_add_full (G_PRIORITY_LOW, 2, sp_look_again, NULL, NULL);
  gboolean holds;
  while (!(holds = condition (data)) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (source);
  return holds;
}
