/* marks.h - the key to the chart's marks, in a popover */
#pragma once

#include <gtk/gtk.h>

void sp_marks_popup (GtkWidget *relative);
