/* range-page-private.h - what range-page.c and range-page-values.c share */
#pragma once

#include "core/findings/plan-inputs.h"
#include "ui/figure/range.h"
#include "ui/window/pages/range-page.h"

#define SP_TYPE_RANGE_PAGE (sp_range_page_get_type ())
G_DECLARE_FINAL_TYPE (SpRangePage, sp_range_page, SP, RANGE_PAGE, GtkWidget)

struct _SpRangePage {
  GtkWidget parent_instance;
  SpSession *session;
  SpFindings *findings; /* that the plan is of; NULL: none */
  guint condition;
  SpPlan *plan; /* NULL: neither power nor fundamental is known; then the rest is empty */
  SpSetting today;
  gboolean advised; /* today is what is advised: nothing was keyed */
  SpRange *range;
  SpOutlook *outlook; /* of each curve, at the point */
  SpUnsafe unsafe;    /* at the point */
  guint chosen, at;
  GCancellable *thinking; /* until the advice, and what would prove, are there */
  SpAdvice advice_found;
  GPtrArray *would_prove; /* of SpReason, NULL where nothing is to be proven; one for each curve. NULL: not yet there */
  GtkWidget *whole, *title, *about, *advice, *figure_holder, *figure, *point, *values, *prove;
};

/* The column of words and numbers beside the figure. */
void sp_range_page_head_values (SpRangePage *self); /* once */
void sp_range_page_fill_values (SpRangePage *self); /* at the point; again when it moves */
void sp_range_page_fill_would_prove (SpRangePage *self);

/* The harmonic of `order` among the condition's emissions; -1: none. */
int sp_range_page_emission (SpRangePage *self, guint order);
