/* view.h - what of the findings is shown, and how */
#pragma once

#include "core/findings/findings.h"

typedef struct {
  double from_hz, to_hz;      /* NaN: as far as the chosen condition was swept */
  double bottom_dbm, top_dbm; /* NaN: fits what is shown */
  gboolean logarithmic;       /* of the frequency axis */
  guint condition;            /* the chosen one: its floor, limit, ladder and dBc axis are drawn */
  const char *radio;          /* only conditions of this radio, or the one of this name; NULL: all. Borrowed */
  gboolean all_sweeps; /* and, faint behind the traces, what of the chosen condition is not judged itself: steps, unkeyed, superseded */
  gboolean dark;
  double pointer_hz; /* NaN: no pointer */
  const char *font;  /* family; NULL: Inter. Borrowed */
} SpView;

/* The whole of everything, all sweeps, light. */
void sp_view_init (SpView *view);

/* Shows only conditions whose radio or whole name ("Mirrick", "Mirrick/2 m high") is `name`, and chooses the worst of them; NULL: all, and
 * the worst of all. FALSE where there is none (view unchanged). `name` is borrowed for the view's life. */
gboolean sp_view_choose (SpView *view, const SpFindings *findings, const char *name);

gboolean sp_view_shows (const SpView *view, const SpFindings *findings, guint condition);

/* The k-th of those faint ones (0, 1, ...), from the bottom up: superseded, steps, unkeyed; NULL: no more, or not shown. (transfer none) */
const SpCorrected *sp_view_other (const SpView *view, const SpFindings *findings, guint k);
/* What a sweep of a condition was taken for. */
SpPurpose sp_view_purpose (const SpFindings *findings, guint condition, const SpCorrected *sweep);

/* "Mirrick" and "2 m high" of a condition; the second "" where it has no name. (transfer none) */
const char *sp_view_radio_name (const SpFindings *findings, guint condition);
const char *sp_view_condition_name (const SpFindings *findings, guint condition);

/* Its place among the trace inks: the order in the bench. */
guint sp_view_ink (guint condition);
