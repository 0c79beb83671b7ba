/* session-private.h - what the two files of the session share
 */
#pragma once

#include "ui/window/session.h"

typedef struct {
  double from_hz, to_hz;
} SpSessionView;

struct _SpSession {
  GObject parent_instance;
  SpBook *book;
  SpDrafts *drafts; /* of the book */
  SpFindings *findings;
  GCancellable *judging; /* of the latest request; NULL: the findings are current */
  guint save_source;
  guint condition;
  int emission;
  SpSessionView view;
  GArray *back, *forward; /* of SpSessionView */
  gboolean logarithmic, all_sweeps;
  double pointer_hz;
};
