/* json-width.c - how wide a signal is, as JSON */
#include "ui/report/json.h"
#include "ui/report/writer.h"

#include <math.h>

static void
write_drop (JsonBuilder *b, const SpDropWidth *drop)
{
  json_builder_begin_object (b);
  json_number (b, "drop_db", drop->drop_db);
  json_number (b, "width_hz", drop->width_hz);
  json_number (b, "low_hz", drop->hidden ? NAN : drop->low_hz);
  json_number (b, "high_hz", drop->hidden ? NAN : drop->high_hz);
  json_number (b, "of_a_line_hz", drop->of_line_hz);
  json_builder_end_object (b);
}

static void
write_beside (JsonBuilder *b, const SpBeside *beside)
{
  json_builder_begin_object (b);
  json_count (b, "step", beside->step);
  json_number (b, "center_hz", beside->center_hz);
  json_yes (b, "swept", beside->swept);
  json_number (b, "level_dbm", beside->power_dbm);
  json_number (b, "relative_db", beside->relative_db);
  json_yes (b, "in_noise", beside->in_noise);
  json_builder_end_object (b);
}

char *
sp_json_widths (const SpWidths *w)
{
  JsonBuilder *b = json_begin ();
  json_text (b, "file", w->file);
  json_number (b, "from_hz", w->from_hz);
  json_number (b, "to_hz", w->to_hz);
  json_count (b, "points", (gint64) w->n);
  json_number (b, "spacing_hz", w->spacing_hz);
  json_number (b, "rbw_hz", w->rbw_hz);
  json_number (b, "peak_hz", w->peak_hz);
  json_number (b, "peak_dbm", w->peak_dbm);
  json_number (b, "noise_dbm", w->noise_dbm);
  json_object (b, "occupied");
  json_number (b, "share", SP_WIDTH_SHARE);
  json_number (b, "width_hz", w->occupied_hz);
  json_number (b, "low_hz", w->occupied_low_hz);
  json_number (b, "high_hz", w->occupied_high_hz);
  json_number (b, "of_a_line_hz", w->occupied_by_line_hz);
  json_builder_end_object (b);
  json_array (b, "drops");
  for (guint i = 0; i < SP_WIDTH_DROPS; i++)
    write_drop (b, &w->drop[i]);
  json_builder_end_array (b);
  json_object (b, "channel");
  json_number (b, "width_hz", w->channel_hz);
  json_number (b, "spacing_hz", w->channel_spacing_hz);
  json_number (b, "center_hz", w->center_hz);
  json_yes (b, "chosen", w->channel_chosen);
  json_number (b, "level_dbm", w->channel_dbm);
  json_array (b, "beside");
  for (guint i = 0; i < SP_WIDTH_BESIDE; i++)
    write_beside (b, &w->beside[i]);
  json_builder_end_array (b);
  json_builder_end_object (b);
  json_warnings (b, "warnings", w->warnings);
  return json_end (b);
}
