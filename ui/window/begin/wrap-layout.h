/* wrap-layout.h - children in a row that goes on below where there is no room */
#pragma once

#include <gtk/gtk.h>

/* (transfer full) */
GtkLayoutManager *sp_wrap_layout_new (void);
