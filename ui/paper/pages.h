/* pages.h - a paper laid out on sheets: the one layouter of PDF, print and preview
 *
 * All lengths are points of 1/72 inch. A figure gives way first, down to its least height; then a page is broken before a block, never inside a row, nor between a
 * heading and what it heads. Drawing a page draws the same on every surface.
 */
#pragma once

#include <cairo.h>

#include "ui/figure/pen/pen.h"
#include "ui/report/paper/paper.h"

typedef struct SpPages SpPages;

/* Keeps a reference to the findings, none to the paper, which outlives it. (transfer full) */
SpPages *sp_pages_new (const SpPaper *paper, SpPaperSize size);
/* No more than the first page, to be shown while the others are laid: how many there are, and on which one something stands, is left out.
 * A paper of one page is all laid. (transfer full) */
SpPages *sp_pages_first (const SpPaper *paper, SpPaperSize size);
gboolean sp_pages_are_all (const SpPages *pages);
/* Lays the others: then they are as sp_pages_new() makes them. In the same thread; the paper is still there. */
void sp_pages_go_on (SpPages *pages);
void sp_pages_free (SpPages *pages);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpPages, sp_pages_free)

guint sp_pages_count (const SpPages *pages);
void sp_pages_sheet (SpPaperSize size, double *width, double *height);
/* "a4" "letter" "a5" */
const char *sp_paper_size_name (SpPaperSize size);

/* Draws page i, from 0, with its white sheet, at the origin of `cr`. FALSE: something lacks, for there was no memory for it; errno is 0 before. */
gboolean sp_pages_draw (const SpPages *pages, guint i, cairo_t *cr);
/* The same marked up for a PDF: structure, links and their aims. */
gboolean sp_pages_draw_tagged (const SpPages *pages, guint i, cairo_t *cr);
/* A line of the outline for a page: what it is about. (transfer none) */
const char *sp_pages_title (const SpPages *pages, guint i);

/* What each figure shows, in the order in which they are drawn: char*. (transfer full) */
GPtrArray *sp_pages_alts (const SpPages *pages);

/* Everything that stands on a page and may lie over nothing else: a line or paragraph of text, a figure. */
typedef struct {
  guint page;
  SpRect rect;
  const char *text; /* "" for a figure; borrowed */
} SpPageBox;
SpPageBox *sp_pages_boxes (const SpPages *pages, guint *n); /* (transfer full: g_free) */
/* What may be written on: the sheet within its margins. */
SpRect sp_pages_inside (const SpPages *pages);
