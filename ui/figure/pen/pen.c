/* pen.c - lines and text on a cairo surface */
#include "ui/figure/pen/pen.h"

#include "core/quantity/clean.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <hb.h>
#include <math.h>
#include <pango/pangocairo.h>

#define DEFAULT_FONT "Inter"

static const struct {
  double size;
  PangoWeight weight;
  double height;
} styles[SP_N_TEXTS] = {
  [SP_TEXT_TINY] = { 10.5, PANGO_WEIGHT_NORMAL, 13 }, [SP_TEXT_SMALL] = { 11.5, PANGO_WEIGHT_NORMAL, 15 },
  [SP_TEXT_BODY] = { 12.5, PANGO_WEIGHT_NORMAL, 17 }, [SP_TEXT_BOLD] = { 12.5, PANGO_WEIGHT_SEMIBOLD, 17 },
  [SP_TEXT_HEAD] = { 14, PANGO_WEIGHT_SEMIBOLD, 19 },
};

struct SpPenText {
  char *family;
  PangoLayout *layout; /* NULL until something is written: most pens of a window draw a glyph or a line */
  PangoFontDescription *font[SP_N_TEXTS];
  gboolean failed;
};

/* Where cairo has no memory for a clip, it leaves the shape out and its status stays good (_cairo_clip_set_all_clipped in 1.16). The failed allocation
 * stays in errno until a number is read from text; HarfBuzz does that for each text. So it is looked at before and after everything here. */
static void
note_want_of_memory (struct SpPenText *text)
{
  if (errno == ENOMEM)
    text->failed = TRUE;
}

static void
begin_text (struct SpPenText *text, cairo_t *cr)
{
  text->layout = pango_cairo_create_layout (cr);
  PangoContext *context = pango_layout_get_context (text->layout);
  cairo_font_options_t *options = cairo_font_options_create ();
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF); /* the same places on every surface */
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (context, options);
  pango_context_set_round_glyph_positions (context, FALSE);
  pango_cairo_context_set_resolution (context, 72); /* a size of 13 is 13 points */
  note_want_of_memory (text);
  cairo_font_options_destroy (options);
  g_autoptr (PangoAttrList) attributes = pango_attr_list_new ();
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (text->layout, attributes);
  pango_layout_context_changed (text->layout);
  for (guint i = 0; i < SP_N_TEXTS; i++) {
    text->font[i] = pango_font_description_new ();
    pango_font_description_set_family (text->font[i], text->family ? text->family : DEFAULT_FONT);
    pango_font_description_set_weight (text->font[i], styles[i].weight);
    pango_font_description_set_absolute_size (text->font[i], styles[i].size * PANGO_SCALE);
  }
}

/* The family of a font that can be drawn with; NULL where its file cannot be read, as after a change of its permissions. */
static char *
family_of (PangoFont *font)
{
  hb_font_t *shapes = font ? pango_font_get_hb_font (font) : NULL;
  if (!shapes || hb_face_get_glyph_count (hb_font_get_face (shapes)) == 0)
    return NULL;
  PangoFontDescription *is = pango_font_describe (font);
  char *family = g_strdup (pango_font_description_get_family (is));
  pango_font_description_free (is);
  return family;
}

char *
sp_pen_other_type (const char *font)
{
  const char *asked = font ? font : DEFAULT_FONT;
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  PangoFontDescription *wanted = pango_font_description_new ();
  pango_font_description_set_family (wanted, asked);
  pango_font_description_set_absolute_size (wanted, 12 * PANGO_SCALE);
  PangoFont *got = pango_context_load_font (context, wanted);
  g_autofree char *family = family_of (got);
  pango_font_description_free (wanted);
  g_clear_object (&got);
  g_object_unref (context);
  if (family && g_ascii_strcasecmp (family, asked) == 0)
    return NULL;
  return family ? g_steal_pointer (&family) : g_strdup (_ ("no letters at all"));
}

static const cairo_user_data_key_t for_printer;

cairo_surface_t *
sp_pen_recording (void)
{
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR, NULL);
  cairo_surface_set_user_data (surface, &for_printer, (gpointer) &for_printer, NULL);
  return surface;
}

/* GTK records what it shows too, in pixels of the screen. */
static gboolean
is_vector (cairo_t *cr)
{
  switch (cairo_surface_get_type (cairo_get_target (cr))) {
  case CAIRO_SURFACE_TYPE_SVG:
  case CAIRO_SURFACE_TYPE_PDF:
  case CAIRO_SURFACE_TYPE_PS: return TRUE;
  default: return cairo_surface_get_user_data (cairo_get_target (cr), &for_printer) != NULL;
  }
}

SpPen *
sp_pen_new (cairo_t *cr, gboolean dark, const char *font)
{
  SpPen *pen = g_new0 (SpPen, 1);
  pen->cr = cairo_reference (cr);
  pen->palette = sp_palette (dark);
  pen->vector = is_vector (cr);
  double scale_x = 1, scale_y = 1;
  cairo_surface_get_device_scale (cairo_get_target (cr), &scale_x, &scale_y);
  double dx = 1, dy = 0;
  cairo_user_to_device_distance (cr, &dx, &dy);
  double scale = hypot (dx, dy) * scale_x;
  pen->column = pen->vector || !(scale > 0) ? 0.5 : 1 / scale;
  pen->grain = pen->column;
  pen->text = g_new0 (struct SpPenText, 1);
  pen->text->family = g_strdup (font);
  return pen;
}

void
sp_pen_free (SpPen *pen)
{
  if (!pen)
    return;
  for (guint i = 0; i < SP_N_TEXTS; i++)
    g_clear_pointer (&pen->text->font[i], pango_font_description_free);
  g_clear_object (&pen->text->layout);
  g_free (pen->text->family);
  g_free (pen->text);
  cairo_destroy (pen->cr);
  g_free (pen);
}

void
sp_pen_colour (SpPen *pen, const SpColour *colour, double opacity)
{
  note_want_of_memory (pen->text);
  cairo_set_source_rgba (pen->cr, colour->red, colour->green, colour->blue, opacity);
}

double
sp_pen_snap (const SpPen *pen, double place, double width)
{
  if (pen->vector)
    return place;
  double pixel = pen->column, wide = MAX (1, round (width / pixel));
  double edge = round ((place - width / 2) / pixel) * pixel;
  return edge + wide * pixel / 2;
}

void
sp_pen_line (SpPen *pen, double x1, double y1, double x2, double y2, double width)
{
  if (x1 == x2)
    x1 = x2 = sp_pen_snap (pen, x1, width);
  if (y1 == y2)
    y1 = y2 = sp_pen_snap (pen, y1, width);
  cairo_set_line_width (pen->cr, width);
  cairo_move_to (pen->cr, x1, y1);
  cairo_line_to (pen->cr, x2, y2);
  cairo_stroke (pen->cr);
  note_want_of_memory (pen->text);
}

void
sp_pen_dotted (SpPen *pen, double x1, double y1, double x2, double y2, double width, double gap)
{
  const double dashes[] = { width, gap };
  cairo_save (pen->cr);
  cairo_set_dash (pen->cr, dashes, 2, 0);
  sp_pen_line (pen, x1, y1, x2, y2, width);
  cairo_restore (pen->cr);
}

void
sp_pen_dash (SpPen *pen, const SpDash *dash, double offset)
{
  cairo_set_dash (pen->cr, dash ? dash->points : NULL, dash ? dash->n : 0, offset);
}

void
sp_pen_box (SpPen *pen, const SpRect *rect)
{
  cairo_rectangle (pen->cr, rect->x, rect->y, rect->width, rect->height);
  cairo_fill (pen->cr);
  note_want_of_memory (pen->text);
}

/* Pango writes boxes in place of a font that there was no memory for, and goes on. */
static gboolean
has_its_fonts (PangoLayout *layout)
{
  PangoLayoutIter *iter = pango_layout_get_iter (layout);
  gboolean all = TRUE;
  do {
    PangoLayoutRun *run = pango_layout_iter_get_run_readonly (iter);
    PangoFont *font = run ? run->item->analysis.font : NULL;
    cairo_scaled_font_t *scaled = font ? pango_cairo_font_get_scaled_font (PANGO_CAIRO_FONT (font)) : NULL;
    all = all && (!font || (scaled && cairo_scaled_font_status (scaled) == CAIRO_STATUS_SUCCESS));
  } while (pango_layout_iter_next_run (iter));
  pango_layout_iter_free (iter);
  return all;
}

gboolean
sp_pen_failed (const SpPen *pen)
{
  return pen->text->failed || errno == ENOMEM;
}

static PangoLayout *
set_text (SpPen *pen, SpTextStyle style, const char *text, double width, int lines)
{
  note_want_of_memory (pen->text);
  if (!pen->text->layout)
    begin_text (pen->text, pen->cr);
  PangoLayout *layout = pen->text->layout;
  pango_layout_set_font_description (layout, pen->text->font[style]);
  pango_layout_set_width (layout, width > 0 ? (int) (width * PANGO_SCALE) : -1);
  pango_layout_set_height (layout, lines > 0 ? -lines : 0);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_ellipsize (layout, width > 0 ? PANGO_ELLIPSIZE_END : PANGO_ELLIPSIZE_NONE);
  g_autofree char *clean = sp_clean (text); /* cairo writes no noncharacter, and what turns text about would turn a verdict's sentence */
  pango_layout_set_text (layout, clean, -1);
  pen->text->failed = pen->text->failed || !has_its_fonts (layout);
  return layout;
}

static double
layout_width (PangoLayout *layout)
{
  PangoRectangle extents;
  pango_layout_get_extents (layout, NULL, &extents);
  return extents.width / (double) PANGO_SCALE;
}

double
sp_pen_text_width (SpPen *pen, SpTextStyle style, const char *text)
{
  return layout_width (set_text (pen, style, text, 0, 0));
}

double
sp_pen_line_height (SpTextStyle style)
{
  return styles[style].height;
}

static void
go_to_baseline (SpPen *pen, PangoLayout *layout, double x, double baseline)
{
  cairo_move_to (pen->cr, x, baseline - pango_layout_get_baseline (layout) / (double) PANGO_SCALE);
}

static void
show (SpPen *pen, PangoLayout *layout)
{
  pango_cairo_show_layout (pen->cr, layout);
  note_want_of_memory (pen->text);
}

double
sp_pen_text (SpPen *pen, double x, double baseline, SpTextStyle style, const SpColour *colour, double align, const char *text)
{
  PangoLayout *layout = set_text (pen, style, text, 0, 0);
  double width = layout_width (layout);
  sp_pen_colour (pen, colour, 1);
  go_to_baseline (pen, layout, x - align * width, baseline);
  show (pen, layout);
  return width;
}

double
sp_pen_text_halo (SpPen *pen, double x, double baseline, SpTextStyle style, const SpColour *colour, double align, const char *text,
                  const SpColour *halo)
{
  PangoLayout *layout = set_text (pen, style, text, 0, 0);
  double width = layout_width (layout);
  cairo_save (pen->cr);
  go_to_baseline (pen, layout, x - align * width, baseline);
  pango_cairo_layout_path (pen->cr, layout);
  sp_pen_colour (pen, halo, 0.7);
  cairo_set_line_width (pen->cr, 4);
  cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (pen->cr);
  cairo_restore (pen->cr);
  return sp_pen_text (pen, x, baseline, style, colour, align, text);
}

double
sp_pen_text_fit (SpPen *pen, double x, double baseline, SpTextStyle style, const SpColour *colour, double width, const char *text)
{
  if (width <= 0)
    return 0;
  PangoLayout *layout = set_text (pen, style, text, width, 1);
  sp_pen_colour (pen, colour, 1);
  go_to_baseline (pen, layout, x, baseline);
  show (pen, layout);
  return layout_width (layout);
}

guint
sp_pen_text_wrap (SpPen *pen, double x, double baseline, SpTextStyle style, const SpColour *colour, double width, guint lines,
                  const char *text)
{
  if (width <= 0 || lines == 0)
    return 0;
  PangoLayout *layout = set_text (pen, style, text, width, (int) lines);
  sp_pen_colour (pen, colour, 1);
  go_to_baseline (pen, layout, x, baseline);
  show (pen, layout);
  return (guint) pango_layout_get_line_count (layout);
}

guint
sp_pen_text_lines (SpPen *pen, SpTextStyle style, double width, const char *text)
{
  PangoLayout *layout = set_text (pen, style, text, MAX (width, 1), 0);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_NONE);
  return (guint) pango_layout_get_line_count (layout);
}
