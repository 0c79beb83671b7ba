/* paper-page.h - what is handed out on paper, looked at before: the chosen radio's slip or the report; saved, printed, all slips at once
 *
 * The pages shown are drawn by the layouter that PDF and printer get. What is saved is written by the window (its action "win.write-paper"), which outlives
 * what is asked here.
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/report/paper/paper.h"
#include "ui/window/session/session.h"

typedef enum { SP_PAPER_SLIP, SP_PAPER_REPORT, SP_PAPER_SLIPS } SpPaperWhat;

typedef struct {
  SpPaperWhat what;
  SpPaperSize size;
} SpPaperAsked;

/* The parameter of "win.write-paper": where to, SpPaperWhat, SpPaperSize. */
#define SP_PAPER_ASKED_TYPE "(suu)"
#define SP_PAPER_ASKED "(&suu)"

/* The radio of a condition. */
guint sp_paper_asked_radio (const SpFindings *findings, guint condition);

/* Follows the choice of the session. */
GtkWidget *sp_paper_page_new (SpSession *session);
