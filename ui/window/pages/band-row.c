/* band-row.c - the head of a band in the list: folded or not, on the chart or not, and the tally of its verdicts */
#include "ui/window/pages/radio-row.h"

#include <glib/gi18n-lib.h>

#include "ui/window/widgets/drawing-area.h"
#include "ui/words/words.h"

#define N_VERDICTS (SP_VERDICT_EXCEEDS + 1)

struct _SpBandItem {
  GObject parent_instance;
  SpFindings *findings;
  const SpWaveband *waveband;
  gboolean folded;
};

G_DEFINE_FINAL_TYPE (SpBandItem, sp_band_item, G_TYPE_OBJECT)

static void
sp_band_item_finalize (GObject *object)
{
  sp_findings_unref (SP_BAND_ITEM (object)->findings);
  G_OBJECT_CLASS (sp_band_item_parent_class)->finalize (object);
}

static void
sp_band_item_class_init (SpBandItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_band_item_finalize;
}

static void
sp_band_item_init (SpBandItem *self)
{
  (void) self;
}

SpBandItem *
sp_band_item_new (SpFindings *findings, const SpWaveband *waveband, gboolean folded)
{
  SpBandItem *self = g_object_new (SP_TYPE_BAND_ITEM, NULL);
  self->findings = sp_findings_ref (findings);
  self->waveband = waveband;
  self->folded = folded;
  return self;
}

const SpWaveband *
sp_band_item_waveband (SpBandItem *self)
{
  return self->waveband;
}

/* ---- its row ---- */

struct _SpBandRow {
  GtkBox parent_instance;
  SpSession *session;
  SpBandItem *item; /* bound now; NULL */
  gboolean following;
  GtkWidget *fold, *tick, *name, *count, *tally;
};

G_DEFINE_FINAL_TYPE (SpBandRow, sp_band_row, GTK_TYPE_BOX)

static gboolean
is_in (const SpBandRow *row, guint condition)
{
  return sp_compare_waveband (row->item->findings, condition) == row->item->waveband;
}

static void
follow_shown (SpBandRow *row)
{
  guint shown = 0, all = 0;
  for (guint i = 0; row->item && i < row->item->findings->n; i++)
    if (is_in (row, i)) {
      all++;
      shown += sp_session_shows (row->session, i) ? 1 : 0;
    }
  row->following = TRUE;
  gtk_check_button_set_active (GTK_CHECK_BUTTON (row->tick), shown > 0);
  gtk_check_button_set_inconsistent (GTK_CHECK_BUTTON (row->tick), shown > 0 && shown < all);
  row->following = FALSE;
}

static void
ticked (SpBandRow *row)
{
  if (!row->following && row->item)
    sp_session_show_waveband (row->session, row->item->waveband, gtk_check_button_get_active (GTK_CHECK_BUTTON (row->tick)));
}

static void
sp_band_row_dispose (GObject *object)
{
  SpBandRow *row = SP_BAND_ROW (object);
  row->item = NULL;
  g_clear_object (&row->session);
  G_OBJECT_CLASS (sp_band_row_parent_class)->dispose (object);
}

static void
sp_band_row_class_init (SpBandRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sp_band_row_dispose;
}

static GtkWidget *
put (SpBandRow *row, GtkWidget *widget, const char *css_class)
{
  gtk_widget_add_css_class (widget, css_class);
  gtk_box_append (GTK_BOX (row), widget);
  return widget;
}

static void
sp_band_row_init (SpBandRow *row)
{
  gtk_box_set_spacing (GTK_BOX (row), 6);
  gtk_widget_set_margin_start (GTK_WIDGET (row), 8);
  gtk_widget_set_margin_end (GTK_WIDGET (row), 8);
  gtk_widget_add_css_class (GTK_WIDGET (row), "band");
  row->fold = put (row, gtk_label_new (""), "soft");
  row->tick = put (row, gtk_check_button_new (), "tick");
  row->name = put (row, gtk_label_new (""), "strong");
  row->count = put (row, gtk_label_new (""), "soft");
  row->tally = put (row, gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 3), "tally");
  gtk_widget_set_can_focus (row->tick, FALSE);
  gtk_widget_set_hexpand (row->tally, TRUE);
  gtk_widget_set_halign (row->tally, GTK_ALIGN_END);
  g_signal_connect_swapped (row->tick, "toggled", G_CALLBACK (ticked), row);
}

GtkWidget *
sp_band_row_new (SpSession *session)
{
  SpBandRow *row = g_object_new (SP_TYPE_BAND_ROW, NULL);
  row->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::shown", G_CALLBACK (follow_shown), row, G_CONNECT_SWAPPED);
  return GTK_WIDGET (row);
}

SpBandItem *
sp_band_row_item (SpBandRow *row)
{
  return row->item;
}

/* A glyph with its number, the worst first. */
static void
show_tally (SpBandRow *row, const guint *counts)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (row->tally)))
    gtk_box_remove (GTK_BOX (row->tally), child);
  for (int verdict = N_VERDICTS - 1; verdict >= 0; verdict--) {
    if (!counts[verdict])
      continue;
    g_autofree char *number = g_strdup_printf ("%u", counts[verdict]);
    GtkWidget *glyph = sp_glyph_new ();
    sp_glyph_set (SP_GLYPH (glyph), TRUE, (SpVerdict) verdict);
    gtk_box_append (GTK_BOX (row->tally), glyph);
    gtk_box_append (GTK_BOX (row->tally), gtk_label_new (number));
  }
}

void
sp_band_row_set (SpBandRow *row, SpBandItem *item)
{
  row->item = item;
  if (!item)
    return;
  guint counts[N_VERDICTS] = { 0 }, all = 0;
  for (guint i = 0; i < item->findings->n; i++)
    if (is_in (row, i)) {
      counts[item->findings->conditions[i].verdict]++;
      all++;
    }
  g_autofree char *name = sp_words_waveband (item->waveband), *count = g_strdup_printf ("%u", all);
  g_autoptr (GString) said = g_string_new (NULL);
  g_string_printf (said, _ ("Band %s: %u"), name, all);
  for (int verdict = N_VERDICTS - 1; verdict >= 0; verdict--)
    if (counts[verdict])
      g_string_append_printf (said, ", %u %s", counts[verdict], sp_words_verdict ((SpVerdict) verdict));
  gtk_label_set_text (GTK_LABEL (row->fold), item->folded ? "\xe2\x96\xb8" : "\xe2\x96\xbe");
  gtk_label_set_text (GTK_LABEL (row->name), name);
  gtk_label_set_text (GTK_LABEL (row->count), count);
  show_tally (row, counts);
  GtkWidget *item_of_list = gtk_widget_get_parent (GTK_WIDGET (row)),
            *named[] = { item_of_list, GTK_WIDGET (row) }; /* the second has the focus */
  for (guint i = 0; i < G_N_ELEMENTS (named); i++)
    gtk_accessible_update_property (GTK_ACCESSIBLE (named[i]), GTK_ACCESSIBLE_PROPERTY_LABEL, said->str, -1);
  gtk_accessible_update_state (GTK_ACCESSIBLE (item_of_list), GTK_ACCESSIBLE_STATE_EXPANDED, !item->folded, -1);
  g_autofree char *tick = g_strdup_printf (_ ("All of %s on the chart"), name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->tick), GTK_ACCESSIBLE_PROPERTY_LABEL, tick, -1);
  follow_shown (row);
}
