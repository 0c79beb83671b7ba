/* radio-move.h - conditions change their places in the list */
#pragma once

#include "ui/window/session/session.h"

/* To the place of another in the book, as one undoable edit; it is chosen, and the list follows the book's order from then on. */
void sp_radio_move (SpSession *session, guint from, guint to);
/* The chosen one, a row up or down: past the neighbour that is seen there. */
void sp_radio_move_chosen (SpSession *session, int by);
/* May one be dropped on the other: in a list by bands a row stays in its band. */
gboolean sp_radio_may_move (SpSession *session, guint from, guint to);
