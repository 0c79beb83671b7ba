/* view.h - the displayed part of the findings, and its style */
#pragma once

#include "core/findings/findings.h"
#include "ui/figure/pen/palette.h"

typedef struct {
  double from_hz, to_hz;      /* NaN: the chosen condition's swept range */
  double bottom_dbm, top_dbm; /* NaN: fitted to the shown data */
  gboolean logarithmic;       /* the frequency axis */
  /* Each shown condition over its own carrier, an axis in f/f0, and a step aside from the one above it in the list; from_hz and to_hz
   * are the chosen one's then. Without a carrier of the chosen one: as by frequency */
  gboolean by_harmonic;
  gboolean relative; /* levels read in dBc of the chosen condition's carrier at the left, in dBm at the right; the curves stay */
  guint condition;   /* the chosen one, whose floor, limit, ladder and dBc axis are drawn */
  /* Only conditions of this radio, or the one of this name; NULL: all. Borrowed */
  const char *radio;
  const gboolean *hidden; /* of each condition: TRUE, not shown; NULL: none is hidden. Borrowed */
  const guint *row;       /* of each condition: its number in the list, from 1; NULL: as in the bench. Borrowed */
  /* Also, faintly behind the traces, the chosen condition's sweeps that are not judged: steps, unkeyed, superseded */
  gboolean all_sweeps;
  gboolean bare;      /* no words, numbers or room for them: a small chart */
  gboolean alone;     /* a chart of one condition, which is named beside it: not at its lines' ends */
  gboolean one_scale; /* no second level axis at the right */
  double right;       /* room at the right for names, in points, so that several charts' areas are alike; NaN: as wide as they are */
  gboolean dark;
  double pointer_hz; /* NaN: no pointer */
  double ruler_hz;   /* what the pointer is read against; NaN: no ruler */
  const char *font;  /* family; NULL: Inter. Borrowed */
} SpView;

/* Shows everything: all sweeps, light. */
void sp_view_init (SpView *view);

/* Shows only conditions whose radio or whole name ("Mirrick", "Mirrick/2 m high") is `name`, and chooses the worst of them; NULL: all,
 * and the worst of all. FALSE: none matches (view unchanged). `name` is borrowed for the view's life. */
gboolean sp_view_choose (SpView *view, const SpFindings *findings, const char *name);

gboolean sp_view_shows (const SpView *view, const SpFindings *findings, guint condition);

/* The levels shown, in the unit that stands at the left (so set `relative` and choose first); NaN: fitted. */
void sp_view_set_levels (SpView *view, const SpFindings *findings, double bottom_db, double top_db);
/* What is 0 at the left: the chosen condition's P where levels are relative to it, else 0 dBm. */
double sp_view_level_origin_dbm (const SpView *view, const SpFindings *findings);

/* The k-th faint sweep (0, 1, ...), from the bottom up: superseded, steps, unkeyed; NULL: no more, or not shown. (transfer none) */
const SpCorrected *sp_view_other (const SpView *view, const SpFindings *findings, guint k);
/* The purpose of a condition's sweep. */
SpPurpose sp_view_purpose (const SpFindings *findings, guint condition, const SpCorrected *sweep);

/* "Mirrick" and "2 m high" of a condition; the second is "" without a name. (transfer none) */
const char *sp_view_radio_name (const SpFindings *findings, guint condition);
const char *sp_view_condition_name (const SpFindings *findings, guint condition);

/* Its number in the list; and the conditions by it: order[] has findings->n. */
guint sp_view_row (const SpView *view, guint condition);
void sp_view_order (const SpView *view, const SpFindings *findings, guint *order);

/* Index of its trace ink, and its dash: by the order in the bench, whatever order the list has. */
guint sp_view_ink (guint condition);
const SpDash *sp_view_dash (const SpPalette *palette, guint condition); /* NULL: drawn through */
