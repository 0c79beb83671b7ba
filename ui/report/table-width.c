/* table-width.c - how wide a signal is, as text tables */
#include "ui/report/lines.h"
#include "ui/report/table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* To a tenth of the points' distance: that is what is interpolated. */
static void
cell_place (Columns *columns, const SpWidths *w, double frequency_hz)
{
  columns_add (columns, sp_words_frequency (frequency_hz, w->spacing_hz / 10, SP_HAND_MACHINE));
}

static void
table_of_drops (GString *out, const SpWidths *w)
{
  Columns *columns = columns_new ("lrrrr", _ ("width"), _ ("Hz"), _ ("from"), _ ("to"), _ ("of a line Hz"), NULL);
  cell_word (columns, _ ("99 % of the power"));
  cell_db (columns, w->occupied_hz, 0);
  cell_place (columns, w, w->occupied_low_hz);
  cell_place (columns, w, w->occupied_high_hz);
  cell_db (columns, w->occupied_by_line_hz, 0);
  for (guint i = 0; i < SP_WIDTH_DROPS; i++) {
    const SpDropWidth *drop = &w->drop[i];
    columns_add (columns, g_strdup_printf (_ ("%g dB down"), drop->drop_db));
    cell_db (columns, drop->width_hz, 0);
    cell_place (columns, w, drop->hidden ? NAN : drop->low_hz);
    cell_place (columns, w, drop->hidden ? NAN : drop->high_hz);
    cell_db (columns, drop->of_line_hz, 0);
  }
  columns_finish (columns, 0, out);
}

static void
table_of_channels (GString *out, const SpWidths *w)
{
  Columns *columns = columns_new ("lrrrl", _ ("channel"), _ ("center"), "dBm", "dB", "", NULL);
  for (guint i = 0; i <= SP_WIDTH_BESIDE; i++) {
    if (i == SP_WIDTH_BESIDE / 2) {
      cell_word (columns, _ ("its own"));
      cell_place (columns, w, w->center_hz);
      cell_db (columns, w->channel_dbm, 1);
      cell_db (columns, 0, 1);
      cell_word (columns, "");
    }
    if (i == SP_WIDTH_BESIDE)
      break;
    const SpBeside *beside = &w->beside[i];
    columns_add (columns, g_strdup_printf ("%+d", beside->step));
    cell_place (columns, w, beside->center_hz);
    cell_db (columns, beside->power_dbm, 1);
    cell_db (columns, beside->relative_db, 1);
    cell_word (columns, !beside->swept ? _ ("not swept") : beside->in_noise ? _ ("noise: at most") : "");
  }
  columns_finish (columns, 0, out);
}

char *
sp_table_widths (const SpWidths *w)
{
  GString *out = g_string_new (NULL);
  g_autofree char *peak = sp_words_frequency (w->peak_hz, 0, SP_HAND_MACHINE), *level = sp_words_level (w->peak_dbm, 1, SP_HAND_MACHINE);
  g_autofree char *noise = sp_words_level (w->noise_dbm, 1, SP_HAND_MACHINE), *rbw = sp_words_frequency (w->rbw_hz, 0, SP_HAND_MACHINE);
  g_autofree char *channel = sp_words_frequency (w->channel_hz, 0, SP_HAND_MACHINE);
  g_autofree char *spacing = sp_words_frequency (w->channel_spacing_hz, 0, SP_HAND_MACHINE);
  add_cleaned (out, g_strdup_printf (_ ("%s: greatest reading %s at %s, noise %s, RBW %s"), w->file, level, peak, noise, rbw));
  g_string_append (out, "\n\n");
  table_of_drops (out, w);
  g_string_append_printf (out,
                          w->channel_chosen ? _ ("\nChannels of %s every %s, as the signal's width suggests\n\n")
                                            : _ ("\nChannels of %s every %s\n\n"),
                          channel, spacing);
  table_of_channels (out, w);
  if (w->warnings->len)
    g_string_append_c (out, '\n');
  lines_of_reasons (out, w->warnings, 0);
  return g_string_free (out, FALSE);
}
