/* type.c - the paper's type: sizes, leading, and text set in them */
#include "ui/paper/layout.h"

/* by hand: one use a row */
/* clang-format off */
static const struct {
  double size, leading;
  PangoWeight weight;
} types[N_TYPES] = {
  [TYPE_NAME] = { 22, 26, PANGO_WEIGHT_SEMIBOLD },     [TYPE_SENTENCE] = { 14, 18, PANGO_WEIGHT_NORMAL },
  [TYPE_SUMMARY] = { 9.5, 14, PANGO_WEIGHT_NORMAL },   [TYPE_HEADING] = { 9.5, 12, PANGO_WEIGHT_SEMIBOLD },
  [TYPE_BODY] = { 8.5, 11.5, PANGO_WEIGHT_NORMAL },    [TYPE_CELL] = { 8.5, 12, PANGO_WEIGHT_NORMAL },
  [TYPE_STRONG_CELL] = { 8.5, 12, PANGO_WEIGHT_SEMIBOLD }, [TYPE_CAPTION] = { 8, 11.5, PANGO_WEIGHT_NORMAL },
  [TYPE_HEAD_CELL] = { 7.5, 10, PANGO_WEIGHT_NORMAL }, [TYPE_NOTE] = { 7.5, 10, PANGO_WEIGHT_NORMAL },
  [TYPE_SMALL] = { 7.5, 9.5, PANGO_WEIGHT_NORMAL },    [TYPE_RUNNING] = { 8, 12, PANGO_WEIGHT_NORMAL }, [TYPE_STRONG_RUNNING] = { 8, 12, PANGO_WEIGHT_SEMIBOLD },
  [TYPE_LABEL] = { 6.5, 8, PANGO_WEIGHT_NORMAL },      [TYPE_VALUE] = { 8.5, 11, PANGO_WEIGHT_MEDIUM },
};
/* clang-format on */

#define DISPLAY_FROM 13 /* points: from here on the face for large sizes, where it is there */

void
type_begin (Layouter *layouter)
{
  layouter->context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  cairo_font_options_t *options = cairo_font_options_create ();
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (layouter->context, options);
  pango_cairo_context_set_resolution (layouter->context, 72);
  pango_context_set_round_glyph_positions (layouter->context, FALSE);
  cairo_font_options_destroy (options);
  for (guint i = 0; i < N_TYPES; i++) {
    PangoFontDescription *font = layouter->fonts[i] = pango_font_description_new ();
    pango_font_description_set_family (font, types[i].size >= DISPLAY_FROM ? "Inter Display, Inter" : "Inter");
    pango_font_description_set_weight (font, types[i].weight);
    pango_font_description_set_absolute_size (font, types[i].size * PANGO_SCALE);
  }
}

void
type_end (Layouter *layouter)
{
  for (guint i = 0; i < N_TYPES; i++)
    g_clear_pointer (&layouter->fonts[i], pango_font_description_free);
  g_clear_object (&layouter->context);
}

double
type_leading (Type type)
{
  return types[type].leading;
}

double
type_width (PangoLayout *layout)
{
  PangoRectangle extents;
  pango_layout_get_extents (layout, NULL, &extents);
  return extents.width / (double) PANGO_SCALE;
}

double
type_height (PangoLayout *layout)
{
  PangoRectangle extents;
  pango_layout_get_extents (layout, NULL, &extents);
  return extents.height / (double) PANGO_SCALE;
}

double
type_baseline (PangoLayout *layout)
{
  return pango_layout_get_baseline (layout) / (double) PANGO_SCALE;
}

static void
add (PangoLayout *layout, PangoAttribute *attribute, guint from, guint to)
{
  PangoAttrList *attributes = pango_layout_get_attributes (layout);
  attribute->start_index = from;
  attribute->end_index = to;
  attributes = attributes ? pango_attr_list_copy (attributes) : pango_attr_list_new ();
  pango_attr_list_change (attributes, attribute);
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
}

static PangoLayout *
begin (Layouter *layouter, Type type, double width)
{
  PangoLayout *layout = pango_layout_new (layouter->context);
  pango_layout_set_font_description (layout, layouter->fonts[type]);
  pango_layout_set_width (layout, width > 0 ? (int) (width * PANGO_SCALE) : -1);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  return layout;
}

static void
lead (PangoLayout *layout, double leading)
{
  add (layout, pango_attr_line_height_new_absolute ((int) (leading * PANGO_SCALE)), 0, G_MAXUINT);
}

PangoLayout *
type_text (Layouter *layouter, Type type, const char *text, double width)
{
  PangoLayout *layout = begin (layouter, type, width);
  pango_layout_set_text (layout, text, -1);
  lead (layout, types[type].leading);
  return layout;
}

PangoLayout *
type_runs (Layouter *layouter, Type type, const SpTextRuns *runs, double width)
{
  g_autoptr (GString) text = g_string_new (NULL);
  PangoLayout *layout = begin (layouter, type, width);
  for (guint i = 0; i < runs->len; i++) {
    const SpTextRun *run = &g_array_index (runs, SpTextRun, i);
    guint from = (guint) text->len;
    g_string_append (text, run->text);
    if (run->strong)
      add (layout, pango_attr_weight_new (PANGO_WEIGHT_SEMIBOLD), from, (guint) text->len);
  }
  pango_layout_set_text (layout, text->str, -1);
  lead (layout, types[type].leading);
  return layout;
}

void
type_size (PangoLayout *layout, const Layouter *layouter, Type type, double size)
{
  PangoFontDescription *font = pango_font_description_copy (layouter->fonts[type]);
  pango_font_description_set_absolute_size (font, size * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  lead (layout, types[type].leading * size / types[type].size);
}

void
type_figures (PangoLayout *layout)
{
  add (layout, pango_attr_font_features_new ("tnum=1"), 0, G_MAXUINT);
}

void
type_cut (PangoLayout *layout, double width)
{
  if (type_width (layout) <= width)
    return;
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_MIDDLE);
  pango_layout_set_width (layout, (int) (MAX (width, 1) * PANGO_SCALE));
}

#define SMALLER 0.5 /* points a step */

PangoLayout *
type_fitted (Layouter *layouter, Type type, const char *text, double width, double least)
{
  PangoLayout *layout = type_text (layouter, type, text, 0);
  double size = types[type].size;
  while (type_width (layout) > width && size > least) {
    size = MAX (size - SMALLER, least);
    type_size (layout, layouter, type, size);
  }
  if (type_width (layout) <= width)
    return layout;
  pango_layout_set_width (layout, (int) (width * PANGO_SCALE));
  pango_layout_set_height (layout, -2);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_MIDDLE);
  return layout;
}
