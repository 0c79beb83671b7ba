/* cells-layout.h - cells of one width in rows: four abreast where there is room, else two */
#pragma once

#include <gtk/gtk.h>

/* (transfer full) */
GtkLayoutManager *sp_cells_layout_new (void);
