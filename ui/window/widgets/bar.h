/* bar.h - a bar below the title: a sentence that wraps, a button at its right
 *
 * A box would look for the narrowest width at which the sentence has a given height, by trying: hundreds of layouts before the first frame. A bar
 * takes the width it is given.
 */
#pragma once

#include <gtk/gtk.h>

/* The layout of a widget with two children: a sentence and a button. (transfer full) */
GtkLayoutManager *sp_bar_layout_new (void);
