/* figure-sheets.h - private to ui/paper: each figure of a paper as a sheet of its own, with its name, its words, its axes */
#pragma once

#include "ui/paper/layout.h"

typedef struct {
  const SpPaperFigure *figure; /* the paper's */
  char *name;                  /* of its file, without an ending; no two alike */
  char *title;                 /* what it is */
  char *caption, *alt;         /* the paper's own */
  double width, height;        /* points */
  FigureAxes axes;
} FigureSheet;

/* As they stand in the paper, `width` points wide; then a radio's charts of several conditions once more, in log f. (transfer full) */
GArray *figure_sheets (const SpPaper *paper, double width);
