/* session-private.h - what the files of the session share */
#pragma once

#include "ui/window/session/session.h"

typedef struct {
  double from_hz, to_hz, bottom_dbm, top_dbm;
} SpSessionView;

struct _SpSession {
  GObject parent_instance;
  SpBook *book;
  SpDrafts *drafts; /* of the book */
  SpFindings *findings;
  GCancellable *judging; /* of the latest request; NULL: the findings are current */
  guint save_source;     /* of the next save, or the next try */
  char *save_trouble;    /* why the last one failed; NULL: it did not */
  char *place;           /* where a book without a name is to be kept; NULL: none was needed yet */
  gboolean edited;       /* since the book came */
  gboolean dropped;      /* what is not saved is not to be */
  guint condition;
  int emission;
  gboolean deciding; /* it is whichever decides */
  SpSessionView view;
  GArray *back, *forward;   /* of SpSessionView */
  gboolean logarithmic_set; /* by the user; else as wide sweeps want it */
  gboolean logarithmic, relative, all_sweeps, by_harmonic;
  GHashTable *hidden_names; /* char*: conditions by their whole names, which edits of others leave */
  SpOrder order;
  gboolean by_band;
  gboolean *hidden; /* of each condition of the findings */
  guint *rows;
  double pointer_hz, ruler_hz;
  SpExpects expects;
  char *expects_name; /* of its condition, which an edit may move; NULL: nothing is expected */
  guint expects_had;  /* how many sweeps that had */
};

/* There are other findings: what is hidden and the rows are of them from now on. */
void sp_session_take_rows (SpSession *session);
guint sp_session_n_shown (SpSession *session);
/* By harmonic a view goes along with the carrier, when another condition is chosen. */
void sp_session_scale_views (SpSession *session, double ratio);

/* The bench is another: what was expected may have come. */
void sp_session_follow_expected (SpSession *session);

/* The book was edited. */
void sp_session_save_soon (SpSession *session);
