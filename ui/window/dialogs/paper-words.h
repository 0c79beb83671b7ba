/* paper-words.h - what the paper says besides the findings: title, introduction, conclusions, the chosen radio's remark, and which parts it has */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Each entry is an undoable edit of the bench's document, kept in the book. */
void sp_paper_words_present (GtkWindow *parent, SpSession *session);
