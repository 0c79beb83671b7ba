/* items.c - list items for the rows of lists and tables */
#include "ui/window/widgets/items.h"

#include <math.h>

#include "ui/window/widgets/theme.h"

struct _SpFoundItem {
  GObject parent_instance;
  SpFindings *findings;
  guint condition;
  int emission;
};

G_DEFINE_FINAL_TYPE (SpFoundItem, sp_found_item, G_TYPE_OBJECT)

static void
sp_found_item_finalize (GObject *object)
{
  sp_findings_unref (SP_FOUND_ITEM (object)->findings);
  G_OBJECT_CLASS (sp_found_item_parent_class)->finalize (object);
}

static void
sp_found_item_class_init (SpFoundItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_found_item_finalize;
}

static void
sp_found_item_init (SpFoundItem *self)
{
  self->emission = -1;
}

SpFoundItem *
sp_found_item_new (const SpFindings *findings, guint condition, int emission)
{
  SpFoundItem *self = g_object_new (SP_TYPE_FOUND_ITEM, NULL);
  self->findings = sp_findings_ref (findings);
  self->condition = condition;
  self->emission = emission;
  return self;
}

const SpFindings *
sp_found_item_findings (SpFoundItem *self)
{
  return self->findings;
}

guint
sp_found_item_condition (SpFoundItem *self)
{
  return self->condition;
}

int
sp_found_item_emission (SpFoundItem *self)
{
  return self->emission;
}

const SpConditionFindings *
sp_found_item_found (SpFoundItem *self)
{
  return &self->findings->conditions[self->condition];
}

const SpEmission *
sp_found_item_at (SpFoundItem *self)
{
  return self->emission < 0 ? NULL : &sp_found_item_found (self)->emissions[self->emission];
}

void
sp_session_figure_view (SpSession *session, SpView *view)
{
  sp_view_init (view);
  view->from_hz = sp_session_from_hz (session);
  view->to_hz = sp_session_to_hz (session);
  view->bottom_dbm = sp_session_bottom_dbm (session);
  view->top_dbm = sp_session_top_dbm (session);
  view->logarithmic = sp_session_logarithmic (session);
  view->by_harmonic = sp_session_by_harmonic (session);
  view->hidden = sp_session_hidden (session);
  view->row = sp_session_rows (session);
  view->relative = sp_session_relative (session);
  view->all_sweeps = sp_session_all_sweeps (session);
  view->condition = sp_session_condition (session);
  view->pointer_hz = sp_session_pointer_hz (session);
  view->ruler_hz = sp_session_ruler_hz (session);
  view->dark = sp_theme_is_dark ();
}

void
sp_kept_view_init (SpKeptView *kept, SpSession *session)
{
  SpFindings *findings = sp_session_findings (session);
  kept->findings = sp_findings_ref (findings);
  sp_session_figure_view (session, &kept->view);
  kept->view.hidden = kept->hidden = g_memdup2 (kept->view.hidden, findings->n * sizeof *kept->hidden);
  kept->view.row = kept->row = g_memdup2 (kept->view.row, findings->n * sizeof *kept->row);
  kept->view.pointer_hz = NAN;
  kept->view.dark = FALSE;
}

void
sp_kept_view_clear (SpKeptView *kept)
{
  sp_findings_unref (kept->findings);
  g_free (kept->hidden);
  g_free (kept->row);
}
