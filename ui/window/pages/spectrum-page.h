/* spectrum-page.h - the page that the window opens on: radios, chain staircase, chart, ledger, title block */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

GtkWidget *sp_spectrum_page_new (SpSession *session);
/* The chart in it, for the window's actions. */
GtkWidget *sp_spectrum_page_chart (GtkWidget *page);
GtkWidget *sp_spectrum_page_ledger (GtkWidget *page);
GtkWidget *sp_spectrum_page_radios (GtkWidget *page);
