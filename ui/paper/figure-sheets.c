/* figure-sheets.c - takes the figures out of a paper: names, words, and axes that charts share */
#include "ui/paper/figure-sheets.h"

#include "core/compare/compare.h"
#include "core/findings/digest.h"
#include "ui/paper/private.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define PAPER_WIDTH 480.0 /* of the text, that a block's best height is meant for */
#define PAPER_GAP 12.0
#define NO_FUNDAMENTAL 1000 /* decades of a logarithmic axis of sweeps from 0 Hz without a carrier, as a ratio */

typedef struct {
  const SpPaper *paper;
  double width;
  GArray *sheets;
  GHashTable *taken;           /* names */
  const SpPaperBlock *subject; /* the last name */
  const SpPaperBlock *heading; /* that stands over the figures; NULL */
} Taking;

/* ---- names and words ---- */

static const SpConditionFindings *
found_of (const Taking *taking, const SpPaperFigure *figure)
{
  return &taking->paper->findings->conditions[figure->condition];
}

/* What it is, before it is made safe: "chart-Mirrick/2 m". (transfer full) */
static char *
name_of (const Taking *taking, const SpPaperFigure *figure, gboolean logarithmic)
{
  g_autofree char *band = NULL;
  switch (figure->kind) {
  case SP_FIGURE_CHART: return g_strconcat (logarithmic ? "chart-log-" : "chart-", found_of (taking, figure)->name, NULL);
  case SP_FIGURE_OVERLAY:
    band = sp_words_waveband (sp_compare_waveband (taking->paper->findings, figure->condition));
    return g_strconcat ("overlay-", band ? band : "", NULL);
  case SP_FIGURE_EVIDENCE: return g_strconcat ("evidence-", found_of (taking, figure)->name, "-", figure->title, NULL);
  case SP_FIGURE_STAIRCASE: return g_strconcat ("staircase-", taking->subject ? taking->subject->text : "", NULL);
  case SP_FIGURE_LOSS: return g_strconcat ("loss-", figure->chain->name, "-", figure->title, NULL);
  case SP_FIGURE_MARGINS: return g_strdup ("room");
  case SP_FIGURE_SMALL: return g_strdup ("small-charts");
  }
  g_return_val_if_reached (NULL);
}

static void
add_sentence (GString *text, const char *said)
{
  if (said && *said)
    g_string_append_printf (text, "%s%s%s", text->len ? " " : "", said, strchr (".?!", said[strlen (said) - 1]) ? "" : ".");
}

/* "Loss against frequency, dB; dots as measured"; NULL: none. (transfer full) */
static char *
heading_of (const Taking *taking)
{
  const SpPaperBlock *heading = taking->heading;
  return !heading ? NULL : heading->aside ? g_strdup_printf ("%s, %s", heading->text, heading->aside) : g_strdup (heading->text);
}

/* (transfer full) */
static char *
title_of (const Taking *taking, const SpPaperFigure *figure)
{
  g_autofree char *heading = heading_of (taking);
  const char *of = figure->kind == SP_FIGURE_CHART || figure->kind == SP_FIGURE_EVIDENCE ? found_of (taking, figure)->name
                   : figure->kind == SP_FIGURE_LOSS                                      ? figure->chain->name
                   : figure->kind == SP_FIGURE_STAIRCASE && taking->subject              ? taking->subject->text
                                                                                         : NULL;
  const char *what = figure->title ? figure->title : heading;
  return of && what ? g_strdup_printf ("%s: %s", of, what) : g_strdup (of ? of : what ? what : taking->paper->title);
}

/* What stands over it, if that is not its title, and under it. (transfer full) */
static char *
caption_of (const Taking *taking, const SpPaperBlock *block, const SpPaperFigure *figure)
{
  g_autoptr (GString) text = g_string_new (NULL), runs = g_string_new (NULL);
  g_autofree char *heading = figure->title ? heading_of (taking) : NULL;
  add_sentence (text, heading);
  for (guint i = 0; i < block->runs->len; i++)
    g_string_append (runs, g_array_index (block->runs, SpTextRun, i).text);
  add_sentence (text, runs->str);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* ---- sheets ---- */

static double
height_of (const Taking *taking, const SpPaperBlock *block, const SpPaperFigure *figure)
{
  guint abreast = CLAMP (block->abreast, 1, MAX (block->figures->len, 1));
  double part = (PAPER_WIDTH - (abreast - 1) * PAPER_GAP) / abreast;
  return figure->kind == SP_FIGURE_SMALL ? small_charts_height (figure->n_conditions, taking->width) : block->best * taking->width / part;
}

static void
add_sheet (Taking *taking, const SpPaperFigure *figure, gboolean logarithmic, FigureSheet sheet)
{
  g_autofree char *name = name_of (taking, figure, logarithmic), *safe = sp_paper_safe_name (name);
  sheet.figure = figure;
  sheet.name = name_free (taking->taken, safe);
  sheet.width = taking->width;
  sheet.axes = FREE_AXES;
  g_array_append_val (taking->sheets, sheet);
}

static void
take_block (Taking *taking, const SpPaperBlock *block)
{
  for (guint i = 0; block->kind == SP_BLOCK_FIGURES && i < block->figures->len; i++) {
    const SpPaperFigure *figure = g_ptr_array_index (block->figures, i);
    FigureSheet sheet = { .title = title_of (taking, figure),
                          .caption = caption_of (taking, block, figure),
                          .alt = figure_alt (taking->paper->findings, figure),
                          .height = height_of (taking, block, figure) };
    add_sheet (taking, figure, FALSE, sheet);
  }
  taking->heading = block->kind == SP_BLOCK_HEADING ? block : NULL;
  if (block->kind == SP_BLOCK_NAME)
    taking->subject = block;
}

/* ---- axes ---- */

static FigureSheet *
sheet_at (const Taking *taking, guint i)
{
  return &g_array_index (taking->sheets, FigureSheet, i);
}

/* The same frequencies, levels and room for names for all of `members` (of guint: sheets). */
static void
share_axes (Taking *taking, const GArray *members, gboolean logarithmic)
{
  g_autoptr (GPtrArray) figures = g_ptr_array_new ();
  FigureAxes axes = FREE_AXES;
  double from, to, least = INFINITY, height = 0;
  for (guint k = 0; k < members->len; k++) {
    const FigureSheet *sheet = sheet_at (taking, g_array_index (members, guint, k));
    const SpConditionFindings *found = found_of (taking, sheet->figure);
    height = sheet->height;
    g_ptr_array_add (figures, (gpointer) sheet->figure);
    least = found->fundamental_hz > 0 ? fmin (least, found->fundamental_hz / 4) : least;
    if (sp_digest_swept (found, &from, &to)) {
      axes.from_hz = fmin (axes.from_hz, from);
      axes.to_hz = fmax (axes.to_hz, to);
    }
  }
  if (!(axes.from_hz < axes.to_hz))
    return;
  axes.logarithmic = logarithmic || axes.to_hz >= FIGURE_LOGARITHMIC * axes.from_hz;
  if (axes.logarithmic && !(axes.from_hz > 0))
    axes.from_hz = fmin (least, axes.to_hz / NO_FUNDAMENTAL);
  share_levels (taking->paper->findings, figures, taking->width, height, &axes);
  for (guint k = 0; k < members->len; k++)
    sheet_at (taking, g_array_index (members, guint, k))->axes = axes;
}

static gboolean
of_one_band (const SpFindings *findings, guint a, guint b)
{
  return sp_compare_waveband (findings, a) == sp_compare_waveband (findings, b);
}

static gboolean
of_one_radio (const SpFindings *findings, guint a, guint b)
{
  return findings->bench->conditions[findings->conditions[a].condition].radio
         == findings->bench->conditions[findings->conditions[b].condition].radio;
}

/* The charts before sheet `end` that are of one kind with the i-th, if it is their first; else none. (transfer full) */
static GArray *
members_of (const Taking *taking, guint end, guint i, gboolean (*alike) (const SpFindings *findings, guint a, guint b))
{
  GArray *members = g_array_new (FALSE, FALSE, sizeof (guint));
  const SpPaperFigure *one = sheet_at (taking, i)->figure;
  for (guint k = 0; k < end && one->kind == SP_FIGURE_CHART; k++) {
    const SpPaperFigure *other = sheet_at (taking, k)->figure;
    if (other->kind == SP_FIGURE_CHART && alike (taking->paper->findings, one->condition, other->condition))
      g_array_append_val (members, k);
  }
  if (members->len && g_array_index (members, guint, 0) != i)
    g_array_set_size (members, 0);
  return members;
}

/* A radio's charts of several conditions once more. */
static void
add_in_log (Taking *taking, const GArray *members)
{
  g_autoptr (GArray) added = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint k = 0; k < members->len; k++) {
    const FigureSheet *of = sheet_at (taking, g_array_index (members, guint, k));
    guint at = taking->sheets->len;
    FigureSheet sheet = { .title = g_strdup (of->title),
                          .caption = g_strdup_printf (_ ("In log f, on the axes of all its charts. %s"), of->caption),
                          .alt = g_strdup (of->alt),
                          .height = of->height };
    g_array_append_val (added, at);
    add_sheet (taking, of->figure, TRUE, sheet);
  }
  share_axes (taking, added, TRUE);
}

static void
clear_sheet (void *data)
{
  FigureSheet *sheet = data;
  g_free (sheet->name);
  g_free (sheet->title);
  g_free (sheet->caption);
  g_free (sheet->alt);
}

GArray *
figure_sheets (const SpPaper *paper, double width)
{
  Taking taking = { .paper = paper, .width = width, .sheets = g_array_new (FALSE, TRUE, sizeof (FigureSheet)) };
  taking.taken = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_array_set_clear_func (taking.sheets, clear_sheet);
  for (guint i = 0; i < paper->blocks->len; i++)
    take_block (&taking, g_ptr_array_index (paper->blocks, i));
  guint n = taking.sheets->len;
  for (guint i = 0; i < n; i++) {
    g_autoptr (GArray) band = members_of (&taking, n, i, of_one_band);
    g_autoptr (GArray) radio = members_of (&taking, n, i, of_one_radio);
    share_axes (&taking, band, FALSE);
    if (radio->len > 1)
      add_in_log (&taking, radio);
  }
  g_hash_table_unref (taking.taken);
  return taking.sheets;
}
