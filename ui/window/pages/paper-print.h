/* paper-print.h - a paper on the printer, by the desktop's own dialog; private to the page of papers */
#pragma once

#include "ui/window/pages/paper-page.h"

/* Lays it out in a thread, then asks for a printer. `trouble` is told what went wrong. */
void sp_paper_print (GtkWidget *page, const SpFindings *findings, guint condition, const SpPaperAsked *asked,
                     void (*trouble) (GtkWidget *page, const char *what));
/* The paper that is asked for. (transfer full) */
SpPaper *sp_paper_asked (const SpFindings *findings, guint condition, const SpPaperAsked *asked);
