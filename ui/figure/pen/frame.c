/* frame.c - frame, axes and grid */
#include "ui/figure/pen/frame.h"

#include <math.h>

#include "ui/words/words.h"

void
sp_frame_init (SpFrame *frame, const SpRect *area, double x_from, double x_to, double y_from, double y_to)
{
  frame->area = *area;
  frame->x = (SpAxis){ &sp_scale_linear, x_from, x_to, area->x, area->x + area->width };
  frame->y = (SpAxis){ &sp_scale_linear, y_from, y_to, area->y + area->height, area->y };
}

int
sp_frame_decimals (double step)
{
  return step >= 1 ? 0 : step >= 0.1 ? 1 : 2;
}

static void
draw_levels (const SpFrame *frame, SpPen *pen)
{
  SpTick ticks[SP_TICKS_MAX];
  guint most = (guint) MAX (2, frame->area.height / 30), n = frame->y.scale->ticks (frame->y.from, frame->y.to, most, ticks);
  int decimals = sp_frame_decimals (sp_nice_step (frame->y.to - frame->y.from, most));
  for (guint i = 0; i < n; i++) {
    if (!ticks[i].labelled)
      continue;
    double y = sp_axis_at (&frame->y, ticks[i].value);
    g_autofree char *text = sp_words_number (ticks[i].value, decimals, SP_HAND_SCREEN);
    sp_pen_colour (pen, &pen->palette->floor_edge, 0.2);
    sp_pen_line (pen, frame->area.x, y, frame->area.x + frame->area.width, y, 1);
    sp_pen_text (pen, frame->area.x - 8, y + 4, SP_TEXT_SMALL, &pen->palette->soft, 1, text);
  }
}

static void
draw_places (const SpFrame *frame, SpPen *pen)
{
  SpTick ticks[SP_TICKS_MAX];
  double bottom = frame->area.y + frame->area.height;
  guint most = (guint) MAX (2, frame->area.width / 56), n = frame->x.scale->ticks (frame->x.from, frame->x.to, most, ticks);
  int decimals = sp_frame_decimals (sp_nice_step (frame->x.to - frame->x.from, most));
  for (guint i = 0; i < n; i++) {
    double x = sp_axis_at (&frame->x, ticks[i].value);
    sp_pen_colour (pen, &pen->palette->ink, 0.8);
    sp_pen_line (pen, x, bottom, x, bottom - (ticks[i].labelled ? 5 : 3), 1);
    if (!ticks[i].labelled)
      continue;
    g_autofree char *text = sp_words_number (ticks[i].value, decimals, SP_HAND_SCREEN);
    sp_pen_text (pen, x, bottom + 15, SP_TEXT_SMALL, &pen->palette->soft, 0.5, text);
  }
}

static void
draw_edges (const SpRect *area, SpPen *pen)
{
  double bottom = area->y + area->height;
  sp_pen_colour (pen, &pen->palette->ink, 0.8);
  sp_pen_line (pen, area->x, area->y, area->x, bottom, 1);
  sp_pen_line (pen, area->x, bottom, area->x + area->width, bottom, 1);
}

void
sp_frame_draw (const SpFrame *frame, SpPen *pen, const char *y_unit, const char *x_words)
{
  double bottom = frame->area.y + frame->area.height, right = frame->area.x + frame->area.width;
  draw_levels (frame, pen);
  if (x_words)
    draw_places (frame, pen);
  draw_edges (&frame->area, pen);
  sp_pen_text (pen, frame->area.x - 8, frame->area.y - 8, SP_TEXT_SMALL, &pen->palette->soft, 1, y_unit);
  if (x_words)
    sp_pen_text (pen, right, bottom + 30, SP_TEXT_SMALL, &pen->palette->soft, 1, x_words);
}

void
sp_frame_clip (const SpFrame *frame, SpPen *pen)
{
  cairo_new_path (pen->cr);
  cairo_rectangle (pen->cr, frame->area.x, frame->area.y, frame->area.width, frame->area.height);
  cairo_clip (pen->cr);
}

#define APART 64 /* numbers, at least */
#define END 20   /* no number stands across an end */

void
sp_frame_frequencies (SpPen *pen, const SpRect *area, const SpAxis *x)
{
  SpTick ticks[SP_TICKS_MAX];
  double bottom = area->y + area->height, right = area->x + area->width;
  guint n = x->scale->ticks (x->from, x->to, (guint) MAX (2, area->width / APART), ticks);
  for (guint i = 0; i < n; i++) {
    double at = sp_axis_at (x, ticks[i].value);
    sp_pen_colour (pen, &pen->palette->ink, 0.8);
    sp_pen_line (pen, at, bottom, at, bottom - (ticks[i].labelled ? 5 : 3), 1);
    if (!ticks[i].labelled || at > right - END)
      continue;
    g_autofree char *text = sp_words_frequency (ticks[i].value, 0, SP_HAND_SCREEN);
    sp_pen_text (pen, at, bottom + 16, SP_TEXT_SMALL, &pen->palette->soft, at < area->x + END ? 0 : 0.5, text);
  }
  draw_edges (area, pen);
}
