/* whose.h - whose an emission is, beside its number: the mark and the word; nothing where it is the radio's */
#pragma once

#include <gtk/gtk.h>

#include "core/findings/findings.h"

#define SP_TYPE_WHOSE (sp_whose_get_type ())
G_DECLARE_FINAL_TYPE (SpWhose, sp_whose, SP, WHOSE, GtkBox)

GtkWidget *sp_whose_new (void);
void sp_whose_set (SpWhose *whose, SpOrigin origin);
