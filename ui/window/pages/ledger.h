/* ledger.h - the emissions of all conditions as a sortable table, linked with list and ladder
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

GtkWidget *sp_ledger_new (SpSession *session);
/* Columns up to the verdict within 740. */
void sp_ledger_set_narrow (GtkWidget *ledger, gboolean narrow);
