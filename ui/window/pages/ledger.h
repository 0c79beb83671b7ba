/* ledger.h - the emissions of all conditions as a sortable table, linked with list and ladder */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

#define SP_TYPE_LEDGER (sp_ledger_get_type ())
G_DECLARE_FINAL_TYPE (SpLedger, sp_ledger, SP, LEDGER, GtkWidget)

GtkWidget *sp_ledger_new (SpSession *session);
/* `narrow`: columns up to the verdict within 710; `tight`: what it lists is said in a few characters, for the last title stands beside it. */
void sp_ledger_fit (SpLedger *ledger, gboolean narrow, gboolean tight);
