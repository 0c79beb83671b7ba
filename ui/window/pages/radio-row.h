/* radio-row.h - rows of the list at the left: a condition on two lines, and the head of a band with its tally */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/widgets/items.h"

#define SP_TYPE_RADIO_ROW (sp_radio_row_get_type ())
G_DECLARE_FINAL_TYPE (SpRadioRow, sp_radio_row, SP, RADIO_ROW, GtkGrid)

/* `menu`: of the right button. */
GtkWidget *sp_radio_row_new (SpSession *session, GMenuModel *menu);
/* NULL: none. The row's parent, which has the focus, is named after the condition. */
void sp_radio_row_set (SpRadioRow *row, SpFoundItem *item);

#define SP_TYPE_BAND_ITEM (sp_band_item_get_type ())
G_DECLARE_FINAL_TYPE (SpBandItem, sp_band_item, SP, BAND_ITEM, GObject)

SpBandItem *sp_band_item_new (SpFindings *findings, const SpWaveband *waveband, gboolean folded);
const SpWaveband *sp_band_item_waveband (SpBandItem *item); /* NULL: of those without a carrier */

#define SP_TYPE_BAND_ROW (sp_band_row_get_type ())
G_DECLARE_FINAL_TYPE (SpBandRow, sp_band_row, SP, BAND_ROW, GtkBox)

GtkWidget *sp_band_row_new (SpSession *session);
void sp_band_row_set (SpBandRow *row, SpBandItem *item);
SpBandItem *sp_band_row_item (SpBandRow *row); /* NULL: none (transfer none) */
