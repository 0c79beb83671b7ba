/* ledger.h - the emissions of all conditions as a sortable table, linked with list and ladder */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

#define SP_TYPE_LEDGER (sp_ledger_get_type ())
G_DECLARE_FINAL_TYPE (SpLedger, sp_ledger, SP, LEDGER, GtkWidget)

GtkWidget *sp_ledger_new (SpSession *session);
/* Columns up to the verdict within 740. */
void sp_ledger_set_narrow (SpLedger *ledger, gboolean narrow);
