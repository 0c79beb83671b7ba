/* items.h - rows of the lists: a condition, or an emission of one, of findings that the item keeps */
#pragma once

#include <gtk/gtk.h>

#include "ui/figure/pen/view.h"
#include "ui/window/session/session.h"

#define SP_TYPE_FOUND_ITEM (sp_found_item_get_type ())
G_DECLARE_FINAL_TYPE (SpFoundItem, sp_found_item, SP, FOUND_ITEM, GObject)

/* emission -1: the condition itself. */
SpFoundItem *sp_found_item_new (const SpFindings *findings, guint condition, int emission);
const SpFindings *sp_found_item_findings (SpFoundItem *item);
guint sp_found_item_condition (SpFoundItem *item);
int sp_found_item_emission (SpFoundItem *item);
const SpConditionFindings *sp_found_item_found (SpFoundItem *item);
const SpEmission *sp_found_item_at (SpFoundItem *item); /* NULL: the condition itself */

/* The session's state as the figure's view. Borrows what is hidden and the rows, until either changes. */
void sp_session_figure_view (SpSession *session, SpView *view);

/* Findings and the view of them as they are now, for a thread that draws them on paper: without the pointer, light. */
typedef struct {
  SpFindings *findings;
  SpView view;
  gboolean *hidden; /* the view's, which it only borrows */
  guint *row;
} SpKeptView;
/* Of the session's findings, which are there. */
void sp_kept_view_init (SpKeptView *kept, SpSession *session);
void sp_kept_view_clear (SpKeptView *kept);
