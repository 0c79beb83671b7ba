/* words-grid.h - verdicts and origins with their marks, words and meanings */
#pragma once

#include <gtk/gtk.h>

/* Fills a grid with a row for each of the five verdicts; or for each of whose an emission can be. */
void sp_words_grid_verdicts (GtkGrid *grid);
void sp_words_grid_origins (GtkGrid *grid);
