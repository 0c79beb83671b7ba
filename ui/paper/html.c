/* html.c - a paper as one HTML page: the same blocks, figures as SVG in it, nothing fetched, no script */
#include "ui/paper/private.h"

#include "core/quantity/clean.h"
#include "core/quantity/error.h"
#include "ui/figure/pen/glyph.h"
#include "ui/paper/layout.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define WIDTH 480.0 /* of the text, in points, as on A4 */
#define GAP 12.0

typedef struct {
  const SpPaper *paper;
  GString *out;
  guint figures; /* told so far: each SVG's names are its own */
  gboolean failed, in_section;
} Html;

static const char style[]
    = "body{font:11pt/1.4 Inter,system-ui,sans-serif;color:#000;background:#fff;max-width:52em;margin:2em auto;padding:0 1em}"
      "h1{font-size:2em;margin:.2em 0}h1 small{font-size:.5em;font-weight:normal}h2{font-size:1.05em;margin:1.2em 0 .2em}"
      "header,footer{border-bottom:2px solid #000;display:flex;justify-content:space-between;gap:1em;font-size:.85em}"
      "footer{border:0;margin-top:2em}"
      "dl{display:grid;grid-template-columns:repeat(2,max-content 1fr);gap:.1em .8em;margin:.5em 0}"
      "dt{font-size:.85em}dd{margin:0;font-weight:500}"
      ".verdict{font-size:1.25em;display:flex;gap:.6em;margin:.6em 0}.verdict svg{flex:none;margin-top:.2em}"
      ".small,figcaption,.note{font-size:.85em}.alarm{font-weight:bold;border:2px solid #000;padding:.4em}"
      "table{border-collapse:collapse;width:100%;font-size:.85em;font-variant-numeric:tabular-nums}caption{text-align:left;font-weight:600}"
      "thead th{border-bottom:1px solid #000;font-weight:normal}tbody th{font-weight:600}th,td{text-align:left;padding:.15em "
      ".4em;vertical-align:top}"
      "tbody tr{border-bottom:1px solid #ccc}.n{text-align:right;white-space:nowrap}"
      ".columns,.figures{display:flex;gap:1.2em;flex-wrap:wrap}.columns>div{flex:1 1 14em}.figures>div{flex:1 1 20em;max-width:100%}"
      "figure{margin:1em 0}figure svg,figure img{max-width:100%;height:auto}hr{border:0;border-top:1px solid #000}"
      ".title{border:2px solid #000;display:grid;grid-template-columns:repeat(auto-fit,minmax(13em,1fr));margin-top:1.5em}"
      ".title dl{display:block;margin:0;border:1px solid #000;padding:.2em .4em}"
      "@page{size:A4;margin:15mm 20mm}@media print{body{margin:0;max-width:none;padding:0;font-size:9pt}section{break-before:page}"
      "figure,tr,dl{break-inside:avoid}h2{break-after:avoid}}";

/* ---- text ---- */

static void
add_text (Html *html, const char *text)
{
  g_autofree char *clean = sp_clean (text ? text : ""), *escaped = g_markup_escape_text (clean, -1);
  g_string_append (html->out, escaped);
}

static void
element (Html *html, const char *begin, const char *text, const char *end)
{
  g_string_append (html->out, begin);
  add_text (html, text);
  g_string_append (html->out, end);
}

static void
add_runs (Html *html, const SpTextRuns *runs)
{
  for (guint i = 0; i < runs->len; i++) {
    const SpTextRun *run = &g_array_index (runs, SpTextRun, i);
    element (html, run->strong ? "<strong>" : "", run->text, run->strong ? "</strong>" : "");
  }
}

/* ---- drawings ---- */

/* `title` says what it is, `alt` in full what it shows; NULL: it adds nothing to the words beside it. */
static void
add_svg (Html *html, double width, double height, const char *title, const char *alt, SvgDraw draw, gpointer data)
{
  g_autofree char *size = g_strdup_printf ("width=\"%.0f\" height=\"%.0f\"", width * 4 / 3, height * 4 / 3);
  html->failed = !svg_add (html->out, ++html->figures, size, width, height, title, alt, draw, data) || html->failed;
}

typedef struct {
  Html *html;
  const SpPaperFigure *figure;
  FigureAxes axes;
  double width, height;
} Drawn;

static gboolean
draw_a_figure (cairo_t *cr, gpointer data)
{
  Drawn *d = data;
  return draw_figure_alone (cr, d->html->paper->findings, d->figure, &d->axes, d->width, d->height);
}

static gboolean
draw_an_item (cairo_t *cr, gpointer item)
{
  draw_item (cr, NULL, item);
  return TRUE;
}

static void
add_sign (Html *html, const SpCell *cell, double size)
{
  Item item = { .kind = cell->kind == SP_CELL_ORIGIN    ? ITEM_ORIGIN
                        : cell->kind == SP_CELL_VERDICT ? ITEM_VERDICT
                        : cell->kind == SP_CELL_ROOM    ? ITEM_ROOM
                                                        : ITEM_SHARE,
                .rect = { 0, 0, cell->kind == SP_CELL_ROOM || cell->kind == SP_CELL_SHARE ? 46 : size, size },
                .verdict = cell->verdict,
                .origin = cell->origin,
                .value = cell->value,
                .expanded = cell->expanded,
                .at_least = cell->at_least };
  add_svg (html, item.rect.width, size, NULL, NULL, draw_an_item, &item);
}

static void
add_figures (Html *html, const SpPaperBlock *block)
{
  guint n = block->figures->len, abreast = CLAMP (block->abreast, 1, MAX (n, 1));
  Drawn d = { .html = html, .axes = FREE_AXES, .width = (WIDTH - (abreast - 1) * GAP) / abreast, .height = block->best };
  share_levels (html->paper->findings, block->figures, d.width, d.height, &d.axes);
  g_string_append (html->out, "<figure><div class=\"figures\">\n");
  for (guint i = 0; i < n; i++) {
    d.figure = g_ptr_array_index (block->figures, i);
    g_string_append (html->out, "<div>");
    if (d.figure->title)
      element (html, "<strong>", d.figure->title, "</strong> ");
    if (d.figure->aside)
      element (html, "<span class=\"small\">", d.figure->aside, "</span>");
    g_autofree char *alt = figure_alt (html->paper->findings, d.figure);
    add_svg (html, d.width, d.height, d.figure->title ? d.figure->title : html->paper->title, alt, draw_a_figure, &d);
    g_string_append (html->out, "</div>\n");
  }
  g_string_append (html->out, "</div>");
  if (block->runs->len) {
    g_string_append (html->out, "<figcaption>");
    add_runs (html, block->runs);
    g_string_append (html->out, "</figcaption>");
  }
  g_string_append (html->out, "</figure>\n");
}

/* The file itself stands in the page: nothing is fetched. */
static void
add_picture (Html *html, const SpPaperBlock *block)
{
  gsize length = 0;
  const guint8 *bytes = g_bytes_get_data (block->picture->bytes, &length);
  g_autofree char *coded = g_base64_encode (bytes, length);
  g_string_append (html->out, "<figure>");
  element (html, "<img alt=\"", block->text, "\"");
  g_string_append_printf (html->out, " width=\"%d\" height=\"%d\" style=\"max-height:%.0fpt;width:auto\" src=\"data:%s;base64,%s\">",
                          block->picture->width, block->picture->height, block->best, block->picture->mime, coded);
  if (block->runs->len) {
    g_string_append (html->out, "<figcaption>");
    add_runs (html, block->runs);
    g_string_append (html->out, "</figcaption>");
  }
  g_string_append (html->out, "</figure>\n");
}

/* ---- tables ---- */

static void
add_cell (Html *html, const SpPaperColumn *column, const SpCell *cell, gboolean first)
{
  g_string_append_printf (html->out, "<%s%s>", first ? "th scope=\"row\"" : "td", column->number ? " class=\"n\"" : "");
  if (cell->kind != SP_CELL_TEXT && !(cell->kind == SP_CELL_ORIGIN && cell->origin == SP_ORIGIN_NONE)) {
    add_sign (html, cell, 11);
    g_string_append_c (html->out, ' ');
  }
  if (cell->link)
    g_string_append_printf (html->out, "<a href=\"#%s\">", cell->link);
  element (html, cell->strong ? "<strong>" : "", cell->link && !*cell->text ? _ ("its page") : cell->text, cell->strong ? "</strong>" : "");
  g_string_append (html->out, cell->link ? "</a>" : "");
  g_string_append (html->out, first ? "</th>" : "</td>");
}

static void
add_table (Html *html, const SpPaperTable *table)
{
  guint n = table->columns->len;
  g_string_append (html->out, "<table>");
  element (html, "<caption>", table->caption, "</caption>\n<thead><tr>");
  for (guint i = 0; i < n; i++) {
    const SpPaperColumn *column = &g_array_index (table->columns, SpPaperColumn, i);
    element (html, column->number ? "<th scope=\"col\" class=\"n\">" : "<th scope=\"col\">", column->head, "</th>");
  }
  g_string_append (html->out, "</tr></thead>\n<tbody>\n");
  for (guint k = 0; k < table->cells->len; k++) {
    g_string_append (html->out, k % n ? "" : "<tr>");
    add_cell (html, &g_array_index (table->columns, SpPaperColumn, k % n), &g_array_index (table->cells, SpCell, k), k % n == 0);
    g_string_append (html->out, k % n + 1 == n ? "</tr>\n" : "");
  }
  g_string_append (html->out, "</tbody></table>\n");
}

/* ---- blocks ---- */

static void add_blocks (Html *html, const GPtrArray *blocks);

static void
add_facts (Html *html, const SpPaperBlock *block)
{
  gboolean title = block->kind == SP_BLOCK_TITLE;
  if (block->facts->len == 0)
    return;
  g_string_append (html->out, title ? "<div class=\"title\">\n" : "<dl>\n");
  for (guint i = 0; i < block->facts->len; i++) {
    const SpFact *fact = &g_array_index (block->facts, SpFact, i);
    element (html, title ? "<dl><dt>" : "<dt>", fact->label, "</dt>");
    element (html, "<dd>", fact->value, title ? "</dd></dl>\n" : "</dd>\n");
  }
  g_string_append (html->out, title ? "</div>\n" : "</dl>\n");
}

static void
add_verdict (Html *html, const SpPaperBlock *block)
{
  SpCell cell = { .kind = SP_CELL_VERDICT, .verdict = block->verdict };
  g_string_append (html->out, "<div class=\"verdict\">");
  add_sign (html, &cell, 18);
  g_string_append (html->out, "<div>");
  add_runs (html, block->runs);
  g_string_append (html->out, "</div></div>\n");
}

static void
add_tally (Html *html, const SpPaperBlock *block)
{
  g_string_append (html->out, "<ul>\n");
  for (guint i = 0; i < block->facts->len; i++) {
    const SpFact *fact = &g_array_index (block->facts, SpFact, i);
    g_autofree char *said = g_strdelimit (g_strdup (fact->label), "\n", ' ');
    element (html, "<li>", said, ": ");
    element (html, "<strong>", fact->value, "</strong></li>\n");
  }
  g_string_append (html->out, "</ul>\n");
}

static void
add_paragraph (Html *html, const SpPaperBlock *block)
{
  g_string_append_printf (html->out, "<p%s>",
                          block->role == SP_ROLE_ALARM                                    ? " class=\"alarm\""
                          : block->role == SP_ROLE_NOTE || block->role == SP_ROLE_CAPTION ? " class=\"note\""
                          : block->role == SP_ROLE_SMALL                                  ? " class=\"small\""
                                                                                          : "");
  add_runs (html, block->runs);
  g_string_append (html->out, "</p>\n");
}

static void
add_page (Html *html, const SpPaperBlock *block)
{
  g_string_append (html->out, html->in_section ? "</section>\n" : "");
  g_string_append_printf (html->out, "<section%s%s\">\n", block->anchor ? " id=\"" : " class=\"", block->anchor ? block->anchor : "page");
  html->in_section = TRUE;
}

static void
add_columns (Html *html, const SpPaperBlock *block)
{
  g_string_append (html->out, "<div class=\"columns\">\n");
  for (guint i = 0; i < block->columns->len; i++) {
    g_string_append (html->out, "<div>\n");
    add_blocks (html, g_ptr_array_index (block->columns, i));
    g_string_append (html->out, "</div>\n");
  }
  g_string_append (html->out, "</div>\n");
}

static void
add_block (Html *html, const SpPaperBlock *block)
{
  switch (block->kind) {
  case SP_BLOCK_NAME:
    element (html, "<h1>", block->text, "");
    if (block->aside)
      element (html, " <small>", block->aside, "</small>");
    g_string_append (html->out, "</h1>\n");
    add_facts (html, block);
    break;
  case SP_BLOCK_HEADING:
    element (html, "<h2>", block->text, "</h2>\n");
    if (block->aside)
      element (html, "<p class=\"note\">", block->aside, "</p>\n");
    break;
  case SP_BLOCK_PARAGRAPH: add_paragraph (html, block); break;
  case SP_BLOCK_VERDICT: add_verdict (html, block); break;
  case SP_BLOCK_TALLY: add_tally (html, block); break;
  case SP_BLOCK_TABLE: add_table (html, block->table); break;
  case SP_BLOCK_PICTURE: add_picture (html, block); break;
  case SP_BLOCK_FIGURES: add_figures (html, block); break;
  case SP_BLOCK_COLUMNS: add_columns (html, block); break;
  case SP_BLOCK_RULE: g_string_append (html->out, "<hr>\n"); break;
  case SP_BLOCK_TITLE: add_facts (html, block); break;
  case SP_BLOCK_PAGE: add_page (html, block); break;
  }
}

static void
add_blocks (Html *html, const GPtrArray *blocks)
{
  for (guint i = 0; i < blocks->len; i++)
    add_block (html, g_ptr_array_index (blocks, i));
}

GBytes *
paper_to_html (const SpPaper *paper, SpPaperSize size, GError **error)
{
  Html html = { .paper = paper, .out = g_string_new ("<!DOCTYPE html>\n") };
  (void) size; /* whoever prints it chooses the sheet */
  errno = 0;
  g_string_append_printf (html.out,
                          "<html lang=\"%s\">\n<head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">"
                          "<meta name=\"generator\" content=\"Spurproof %s\">\n",
                          paper->language, SP_VERSION);
  element (&html, "<title>", paper->title, "</title>\n<style>");
  g_string_append (html.out, style);
  element (&html, "</style></head>\n<body>\n<header><strong>", paper->head, "</strong>");
  element (&html, " <span>", paper->head_aside, "</span></header>\n<main>\n");
  add_blocks (&html, paper->blocks);
  g_string_append (html.out, html.in_section ? "</section>\n" : "");
  element (&html, "</main>\n<footer>", paper->foot, "</footer>\n</body></html>\n");
  if (html.failed || errno == ENOMEM) {
    g_string_free (html.out, TRUE);
    sp_fail (error, SP_ERROR_IO, _ ("the paper could not be drawn: %s"), cairo_status_to_string (CAIRO_STATUS_NO_MEMORY));
    return NULL;
  }
  return g_string_free_to_bytes (html.out);
}
