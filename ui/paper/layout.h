/* layout.h - private to ui/paper: placed items, type, and the laying of one block */
#pragma once

#include "ui/paper/pages.h"

#include <math.h>
#include <pango/pangocairo.h>

typedef enum {
  TYPE_NAME,
  TYPE_SENTENCE,
  TYPE_SUMMARY,
  TYPE_HEADING,
  TYPE_BODY,
  TYPE_CELL,
  TYPE_STRONG_CELL,
  TYPE_CAPTION,
  TYPE_HEAD_CELL,
  TYPE_NOTE,
  TYPE_SMALL,
  TYPE_RUNNING,
  TYPE_STRONG_RUNNING,
  TYPE_LABEL,
  TYPE_VALUE,
  N_TYPES
} Type;

/* What several charts have alike; NaN: each its own. */
typedef struct {
  double bottom_dbm, top_dbm, from_hz, to_hz;
  double right; /* room for names at the right of the area, in the plot's points */
  gboolean logarithmic;
} FigureAxes;
#define FIGURE_LOGARITHMIC 1000 /* from end to end, as a ratio: harmonics read best on a linear axis (common practice) */
#define FREE_AXES ((FigureAxes){ NAN, NAN, NAN, NAN, NAN, FALSE })

typedef enum { ITEM_TEXT, ITEM_LINE, ITEM_VERDICT, ITEM_ORIGIN, ITEM_ROOM, ITEM_SHARE, ITEM_FIGURE, ITEM_PICTURE } ItemKind;

typedef struct {
  ItemKind kind;
  SpRect rect;         /* LINE: from its upper left to its lower right end */
  PangoLayout *layout; /* TEXT */
  double thick;        /* LINE */
  gboolean alarm;      /* TEXT */
  SpVerdict verdict;
  SpOrigin origin;
  double value, expanded; /* ROOM, SHARE */
  gboolean at_least;
  const SpPaperFigure *figure;
  const SpPaperBlock *among; /* FIGURE: of the figures it stands with */
  double row_height;         /* FIGURE: with its title */
  FigureAxes axes;           /* FIGURE: shared with its row */
  const SpPicture *picture;  /* PICTURE: its block has it */
  const char *alt;           /* PICTURE: likewise */
  const char *tag;           /* structure in a PDF; NULL: an artifact */
  guint table, row;          /* cells: of which table and row, from 1; 0: of none */
  char *link;
} Item;

/* Blocks laid out from (0, 0) down. */
typedef struct {
  GArray *items; /* Item */
  double height;
} Piece;

typedef struct {
  PangoContext *context;
  const SpFindings *findings;
  PangoFontDescription *fonts[N_TYPES];
  double width;                   /* of the text */
  double stretch;                 /* of figures: 0 least, 1 best, more if there is room */
  guint tight;                    /* 0; 1: half the gaps; 2: small type too, where a page must hold all */
  guint tables;                   /* told so far: no two have one number */
  GHashTable *places;             /* anchor -> page from 1, by the pass before; NULL at first */
  gboolean unplaced;              /* what is laid first is shown: no page's number is made up */
  gboolean by_stretch, by_places; /* told by what looks at it while it lays: another one would lay it otherwise */
  GHashTable *laid;               /* of laid.c */
} Layouter;

typedef struct {
  GArray *items;   /* Item */
  char *title;     /* of the outline */
  char *anchor;    /* NULL */
  gboolean begins; /* its head is the outline's, not a continuation */
} Page;

struct SpPages {
  SpFindings *findings;
  SpPaperSize size;
  GPtrArray *pages;  /* Page* */
  struct Flow *flow; /* of pages.c; NULL: all are laid */
};

/* type.c */
void type_begin (Layouter *layouter);
void type_end (Layouter *layouter);
double type_leading (Type type);
double type_baseline (PangoLayout *layout);
/* `width` 0: one line as long as it is. (transfer full) */
PangoLayout *type_text (Layouter *layouter, Type type, const char *text, double width);
PangoLayout *type_runs (Layouter *layouter, Type type, const SpTextRuns *runs, double width);
void type_size (PangoLayout *layout, const Layouter *layouter, Type type, double size); /* the same type in another size */
void type_figures (PangoLayout *layout);                                                /* figures all of one width, for a column */
void type_cut (PangoLayout *layout, double width);                                      /* at most so wide: its middle is left out */
double type_width (PangoLayout *layout);
double type_height (PangoLayout *layout);
/* One line of at most `width`: smaller down to `least`, then two lines. */
PangoLayout *type_fitted (Layouter *layouter, Type type, const char *text, double width, double least);

/* items.c */
void piece_init (Piece *piece);
void piece_clear (Piece *piece);
Item *piece_add (Piece *piece, ItemKind kind, double x, double y, double width, double height);
/* Takes the layout; its upper left corner at x, y. */
Item *piece_text (Piece *piece, PangoLayout *layout, double x, double y, const char *tag);
/* The same with the first line's baseline at `baseline`. */
Item *piece_text_on (Piece *piece, PangoLayout *layout, double x, double baseline, const char *tag);
void piece_line (Piece *piece, double x1, double y1, double x2, double y2, double thick);
/* Moves items into another list, `x` and `y` further. */
void piece_move (Piece *piece, GArray *into, double x, double y);
/* The same, and the piece has them still: both show one text. */
void piece_copy (const Piece *piece, GArray *into, double x, double y);
void item_clear (void *item);

/* blocks.c: NULL list: nothing */
void lay_block (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece);
/* laid.c: a block as wide as the text, at the layouter's stretch and tightness; laid once, kept to the end. (transfer none) */
void laid_begin (Layouter *layouter);
void laid_end (Layouter *layouter);
const Piece *laid_block (Layouter *layouter, const SpPaperBlock *block);

double gap_before (const Layouter *layouter, const SpPaperBlock *block, const SpPaperBlock *before);

/* table.c: rows from `first` on as far as `most` reaches, at least one; *next: the first row that is not laid, or the table's end. */
void lay_table (Layouter *layouter, const SpPaperTable *table, double width, guint first, double most, guint *next, Piece *piece);
void lay_title_block (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece);

/* figures.c */
void lay_figures (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece);
gboolean draw_figure (cairo_t *cr, const SpFindings *findings, const Item *item);
/* Of an HTML page's figures too: on its own, from (0, 0). */
gboolean draw_figure_alone (cairo_t *cr, const SpFindings *findings, const SpPaperFigure *figure, const FigureAxes *axes, double width,
                            double height);
/* The same in other colours. */
gboolean draw_figure_as (cairo_t *cr, const SpFindings *findings, const SpPaperFigure *figure, const FigureAxes *axes,
                         const SpPalette *palette, double width, double height);
/* What a figure shows, for who cannot see it. (transfer full) */
char *figure_alt (const SpFindings *findings, const SpPaperFigure *figure);
/* To the figures among a page's items, where they stand, the axes that they share with their row. */
void share_rows (const SpFindings *findings, GArray *items);
/* Levels of all charts among these, and room at their right; two at least, else `axes` stays as it is. */
void share_levels (const SpFindings *findings, const GPtrArray *figures, double width, double height, FigureAxes *axes);
double small_charts_height (guint n, double width); /* of SP_FIGURE_SMALL */

/* pictures.c */
void lay_picture (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece);
void draw_picture (cairo_t *cr, const Item *item);

/* draw.c */
void draw_item (cairo_t *cr, const SpFindings *findings, const Item *item);
