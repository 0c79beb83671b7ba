/* view.c - what of the findings is shown, and how */
#include "ui/figure/pen/view.h"

#include "core/compare/order.h"
#include "ui/figure/pen/palette.h"

#include <math.h>
#include <string.h>

void
sp_view_init (SpView *view)
{
  *view = (SpView){
    .all_sweeps = TRUE, .from_hz = NAN, .to_hz = NAN, .bottom_dbm = NAN, .top_dbm = NAN, .pointer_hz = NAN, .ruler_hz = NAN, .right = NAN
  };
}

static gboolean
is_named (const SpFindings *findings, guint condition, const char *name)
{
  return !name || strcmp (findings->conditions[condition].name, name) == 0 || strcmp (sp_view_radio_name (findings, condition), name) == 0;
}

double
sp_view_level_origin_dbm (const SpView *view, const SpFindings *findings)
{
  const SpConditionFindings *chosen = view->condition < findings->n ? &findings->conditions[view->condition] : NULL;
  return view->relative && chosen && !isnan (chosen->power_dbm) ? chosen->power_dbm : 0;
}

void
sp_view_set_levels (SpView *view, const SpFindings *findings, double bottom_db, double top_db)
{
  double origin = sp_view_level_origin_dbm (view, findings);
  view->bottom_dbm = bottom_db + origin;
  view->top_dbm = top_db + origin;
}

gboolean
sp_view_shows (const SpView *view, const SpFindings *findings, guint condition)
{
  return !(view->hidden && view->hidden[condition]) && is_named (findings, condition, view->radio);
}

gboolean
sp_view_choose (SpView *view, const SpFindings *findings, const char *name)
{
  int worst = -1;
  for (guint i = 0; i < findings->n; i++)
    if (is_named (findings, i, name) && (worst < 0 || sp_compare_is_worse (&findings->conditions[i], &findings->conditions[worst])))
      worst = (int) i;
  if (worst < 0)
    return FALSE;
  view->condition = (guint) worst;
  view->radio = name;
  return TRUE;
}

const SpCorrected *
sp_view_other (const SpView *view, const SpFindings *findings, guint k)
{
  if (!view->all_sweeps || view->condition >= findings->n || !sp_view_shows (view, findings, view->condition))
    return NULL;
  const SpConditionFindings *c = &findings->conditions[view->condition];
  if (k < c->n_superseded)
    return &c->superseded[k];
  return k - c->n_superseded < c->n_compared ? &c->compared[k - c->n_superseded] : NULL;
}

SpPurpose
sp_view_purpose (const SpFindings *findings, guint condition, const SpCorrected *sweep)
{
  const SpCondition *c = &findings->bench->conditions[findings->conditions[condition].condition];
  return sweep->sweep < c->n_sweeps ? c->sweeps[sweep->sweep].purpose : SP_PURPOSE_UNKEYED; /* the bench's */
}

const char *
sp_view_radio_name (const SpFindings *findings, guint condition)
{
  const SpCondition *c = &findings->bench->conditions[findings->conditions[condition].condition];
  return findings->bench->radios[c->radio].name;
}

const char *
sp_view_condition_name (const SpFindings *findings, guint condition)
{
  const SpCondition *c = &findings->bench->conditions[findings->conditions[condition].condition];
  return c->name ? c->name : "";
}

guint
sp_view_row (const SpView *view, guint condition)
{
  return view->row ? view->row[condition] : condition + 1;
}

void
sp_view_order (const SpView *view, const SpFindings *findings, guint *order)
{
  for (guint i = 0; i < findings->n; i++)
    order[sp_view_row (view, i) - 1] = i;
}

guint
sp_view_ink (guint condition)
{
  return condition % SP_TRACE_INKS;
}

const SpDash *
sp_view_dash (const SpPalette *palette, guint condition)
{
  const SpDash *dash = &sp_trace_dashes[condition / palette->dash_each % SP_TRACE_DASHES];
  return dash->n ? dash : NULL;
}
