/* session.h - what the window's views share: the book, its latest findings, what is chosen and what is in view
 *
 * Views bind to the session and never to each other; closing a view loses nothing. All on the main thread. Judging and reading run in GTasks;
 * findings that no longer belong to the present bench are never shown as current: "judging" is TRUE then and the views dim them.
 *
 * Properties (all notify): findings (SpFindings, boxed; NULL until the first), judging (boolean), title (string: the book's), saved (boolean:
 * it is on disk as it is here), save-trouble (string: why the last save failed; NULL: it did not), undo-label, redo-label (string, NULL: nothing), condition (uint: the chosen one), emission (int: index in it, -1 none), from-hz, to-hz, bottom-dbm, top-dbm (double, NaN: fit),
 * logarithmic (boolean), by-harmonic (boolean: the chart's axis is f/f0), order (uint: SpOrder, of the list), shown (uint: how many conditions are not hidden), relative (boolean: the chart's levels read in dBc), all-sweeps (boolean: the chart shows the chosen condition's unjudged sweeps too), pointer-hz, ruler-hz (double, NaN: none).
 * expects (boolean: somebody said what the next export is for; notifies of each change of that, sp_session_expects()).
 * Signals: "done" (const char *what): it is said for some seconds, with a button that undoes it; "trouble" (const char *what, const char *to_do): a bar says it, nothing was lost.
 *
 * Saving: within half a second of an edit; a book without a file is then kept under no name (kept.h). What fails is in "save-trouble", and tried again at
 * the next edit and every few seconds.
 */
#pragma once

#include <gio/gio.h>
#include <glib-object.h>

#include "core/book/book.h"
#include "core/compare/order.h"
#include "core/findings/findings.h"
#include "ui/window/session/drafts.h"

G_BEGIN_DECLS

#define SP_TYPE_FINDINGS (sp_findings_get_boxed_type ())
GType sp_findings_get_boxed_type (void);

#define SP_TYPE_SESSION (sp_session_get_type ())
G_DECLARE_FINAL_TYPE (SpSession, sp_session, SP, SESSION, GObject)

/* Takes the book over. Judging starts at once; where it was begun before there was a session (startup.h), sp_session_settle() takes it up. */
SpSession *sp_session_new (SpBook *book);
/* Shows the findings of an early judging if they are ready within that time; else they come like any others. Call it once a window is about to be
 * painted. */
void sp_session_settle (SpSession *session, int wait_ms);

SpBook *sp_session_book (SpSession *session);         /* (transfer none) */
SpDrafts *sp_session_drafts (SpSession *session);     /* what was typed and not taken, of this book; (transfer none) */
SpBench *sp_session_bench (SpSession *session);       /* (transfer none) */
SpFindings *sp_session_findings (SpSession *session); /* (transfer none); may be NULL or stale: see sp_session_judging */
gboolean sp_session_judging (SpSession *session);

/* One undoable edit, one judging, one save (within half a second, in one transaction). `bench` (transfer full) may be NULL with `error` set (transfer full):
 * then the error is told through "trouble" and nothing changes; so the functions of core/bench/edit/edit.h can be passed straight through. */
gboolean sp_session_edit (SpSession *session, SpBench *bench, const char *label, GError *error);
void sp_session_undo (SpSession *session);
void sp_session_redo (SpSession *session);

/* Goes on with another book (transfer full); the present one is saved first. FALSE: that failed, and nothing has changed (the book is still the
 * caller's). */
gboolean sp_session_set_book (SpSession *session, SpBook *book, GError **error);
/* TRUE too where there is nothing to save. */
gboolean sp_session_save_now (SpSession *session, GError **error);
/* One that was kept without a name is moved there. */
gboolean sp_session_save_as (SpSession *session, const char *path, GError **error);
/* Saves book and drafts and closes the book, for a program that is told to end: nothing may be asked of the session afterwards. */
void sp_session_end (SpSession *session);
/* What is not saved is not saved any more, when the session goes either. */
void sp_session_drop (SpSession *session);
const char *sp_session_save_trouble (SpSession *session);
gboolean sp_session_is_kept (SpSession *session); /* on disk, without a name (kept.h) */

/* What the next export is for, said before it comes: whoever takes it in goes by that. It is over once the condition has another sweep, or is gone. */
typedef struct {
  gboolean any; /* FALSE: nobody said anything */
  guint condition;
  SpPurpose purpose;
  gboolean retake; /* it takes the place of the earlier sweep for that purpose */
} SpExpects;
SpExpects sp_session_expects (SpSession *session);
void sp_session_expect (SpSession *session, guint condition, SpPurpose purpose, gboolean retake);
void sp_session_expect_nothing (SpSession *session);

guint sp_session_condition (SpSession *session);
const SpConditionFindings *sp_session_found (SpSession *session); /* of the chosen condition; NULL: none (transfer none) */
int sp_session_emission (SpSession *session);
/* Ledger, ladder and list light up together. SP_DECIDING_EMISSION: the one that decides on the condition, also after edits, until another is chosen; so
 * it is at the start. */
#define SP_DECIDING_EMISSION (-2)
void sp_session_choose (SpSession *session, guint condition, int emission);
gboolean sp_session_chose_deciding (SpSession *session); /* the emission is chosen because it decides: nobody picked it */
double sp_session_from_hz (SpSession *session);
double sp_session_to_hz (SpSession *session);
double sp_session_bottom_dbm (SpSession *session);
double sp_session_top_dbm (SpSession *session);
gboolean sp_session_logarithmic (SpSession *session); /* until set: where the sweeps are wide (sp_compare_is_wide) */
gboolean sp_session_relative (SpSession *session);
/* A new view goes onto the back list; equal ones do not. */
void sp_session_set_view (SpSession *session, double from_hz, double to_hz, double bottom_dbm, double top_dbm);
void sp_session_set_relative (SpSession *session, gboolean relative);
void sp_session_set_logarithmic (SpSession *session, gboolean logarithmic);
gboolean sp_session_all_sweeps (SpSession *session); /* TRUE until set */
void sp_session_set_all_sweeps (SpSession *session, gboolean all_sweeps);
gboolean sp_session_back (SpSession *session);
gboolean sp_session_forward (SpSession *session);
gboolean sp_session_by_harmonic (SpSession *session);
void sp_session_set_by_harmonic (SpSession *session, gboolean by_harmonic);

/* What the chart shows, and the order of the list: of this session, no part of the book. A condition that is new is shown. */
gboolean sp_session_shows (SpSession *session, guint condition);
void sp_session_show (SpSession *session, guint condition, gboolean shown);
/* All of its waveband. */
void sp_session_show_waveband (SpSession *session, const SpWaveband *waveband, gboolean shown);
/* Nothing else; where that is so already, all. */
void sp_session_show_only (SpSession *session, guint condition);
void sp_session_show_only_waveband (SpSession *session, const SpWaveband *waveband);
SpOrder sp_session_order (SpSession *session);
void sp_session_set_order (SpSession *session, SpOrder order);
gboolean sp_session_by_band (SpSession *session); /* TRUE until set; a change is told as one of the order */
void sp_session_set_by_band (SpSession *session, gboolean by_band);
/* Of each condition of the findings, until they or what is asked change: whether it is hidden, and its row in the list, from 1. NULL: no
 * findings. (transfer none) */
const gboolean *sp_session_hidden (SpSession *session);
const guint *sp_session_rows (SpSession *session);

double sp_session_pointer_hz (SpSession *session);
void sp_session_set_pointer (SpSession *session, double pointer_hz);
double sp_session_ruler_hz (SpSession *session); /* what the pointer is read against */
void sp_session_set_ruler (SpSession *session, double ruler_hz);

/* Says what was just done by an edit that undo takes back, in the past: "3 sweeps imported". */
void sp_session_done (SpSession *session, const char *what);
/* Says something went wrong, and what to do about it. */
void sp_session_trouble (SpSession *session, const char *what, const char *to_do);

G_END_DECLS
