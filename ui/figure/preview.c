/* preview.c - one export's readings as they were read, small */
#include "ui/figure/preview.h"

#include "ui/figure/pen/frame.h"
#include "ui/figure/plot/reduce.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define RIGHT 8
#define FOOT 20 /* the first and the last frequency */
#define LEAST_SPAN_DB 10.0

static void
draw_columns (SpPen *pen, const SpFrame *frame, const SpTrace *trace)
{
  guint n = (guint) MAX (1, frame->area.width / pen->column);
  g_autofree SpColumn *columns = g_new (SpColumn, n);
  sp_reduce (&frame->x, trace->n, trace->frequency_hz, trace->reading_dbm, NULL, n, columns);
  cairo_new_path (pen->cr);
  for (guint i = 0; i < n; i++) { /* each column from its least to its greatest, joined: a line where points are few */
    double x = frame->area.x + (i + 0.5) * frame->area.width / n;
    if (isnan (columns[i].least))
      continue;
    cairo_line_to (pen->cr, x, sp_axis_at (&frame->y, columns[i].least));
    cairo_line_to (pen->cr, x, sp_axis_at (&frame->y, columns[i].greatest));
  }
  sp_pen_colour (pen, &pen->palette->trace[0], 1);
  cairo_set_line_width (pen->cr, 1);
  cairo_stroke (pen->cr);
}

void
sp_preview_draw (SpPen *pen, const SpTrace *trace, const SpRect *rect)
{
  SpRect area = { rect->x + SP_FRAME_LEFT, rect->y + SP_FRAME_HEAD, rect->width - SP_FRAME_LEFT - RIGHT,
                  rect->height - SP_FRAME_HEAD - FOOT };
  SpBlock all;
  if (area.width < 40 || area.height < 24)
    return;
  sp_scan (trace->reading_dbm, trace->n, &all);
  double space = MAX ((all.greatest - all.least) * 0.06, LEAST_SPAN_DB / 2);
  SpFrame frame;
  sp_frame_init (&frame, &area, trace->frequency_hz[0], trace->frequency_hz[trace->n - 1], all.least - space, all.greatest + space);
  cairo_save (pen->cr);
  sp_frame_draw (&frame, pen, _ ("dBm"), NULL);
  sp_frame_clip (&frame, pen);
  draw_columns (pen, &frame, trace);
  cairo_restore (pen->cr);
  double baseline = area.y + area.height + 15;
  g_autofree char *first = sp_words_frequency (frame.x.from, 0, SP_HAND_SCREEN), *last = sp_words_frequency (frame.x.to, 0, SP_HAND_SCREEN);
  sp_pen_text (pen, area.x, baseline, SP_TEXT_SMALL, &pen->palette->soft, 0, first);
  sp_pen_text (pen, area.x + area.width, baseline, SP_TEXT_SMALL, &pen->palette->soft, 1, last);
}

char *
sp_preview_says (const SpTrace *trace)
{
  guint64 highest = 0;
  double least = trace->reading_dbm[0];
  for (guint64 i = 0; i < trace->n; i++) {
    highest = trace->reading_dbm[i] > trace->reading_dbm[highest] ? i : highest;
    least = MIN (least, trace->reading_dbm[i]);
  }
  g_autofree char *from = sp_words_level (least, 1, SP_HAND_SCREEN), *to = sp_words_level (trace->reading_dbm[highest], 1, SP_HAND_SCREEN),
                  *at = sp_words_frequency (trace->frequency_hz[highest], 0, SP_HAND_SCREEN);
  return g_strdup_printf (_ ("read from %s to %s, the highest at %s"), from, to, at);
}
