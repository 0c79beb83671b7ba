/* compare-pivot.h - each radio's conditions by band and power; below, spurs that do not follow the carrier */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

#define SP_TYPE_COMPARE_PIVOT (sp_compare_pivot_get_type ())
G_DECLARE_FINAL_TYPE (SpComparePivot, sp_compare_pivot, SP, COMPARE_PIVOT, GtkBox)

GtkWidget *sp_compare_pivot_new (SpSession *session);
/* As text, CSV and HTML at once: who pastes takes what he can. NULL: nothing is judged yet. (transfer full) */
GdkContentProvider *sp_compare_pivot_copied (SpComparePivot *pivot);
