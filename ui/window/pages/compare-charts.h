/* compare-charts.h - a small chart for each condition, by band, against a reference; below, the samples of a model */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

GtkWidget *sp_compare_charts_new (SpSession *session);

/* The samples of each model as rows of text; hidden where there are none. */
GtkWidget *sp_compare_samples_new (void);
void sp_compare_samples_set (GtkWidget *samples, SpFindings *findings);
