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
  GArray *back, *forward; /* of SpSessionView */
  gboolean logarithmic, relative, all_sweeps;
  double pointer_hz;
};

/* The book was edited. */
void sp_session_save_soon (SpSession *session);
