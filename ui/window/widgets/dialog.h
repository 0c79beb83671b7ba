/* dialog.h - what the small dialogs that edit the bench share: a window of headed forms that follows the session */
#pragma once

#include <gtk/gtk.h>

#include "core/bench/edit/edit.h"
#include "ui/window/session/session.h"
#include "ui/window/widgets/fields.h"

#define SP_TYPE_DIALOG (sp_dialog_get_type ())
#define SP_DIALOG(object) (G_TYPE_CHECK_INSTANCE_CAST ((object), SP_TYPE_DIALOG, SpDialog))
#define SP_DIALOG_CLASS(klass) (G_TYPE_CHECK_CLASS_CAST ((klass), SP_TYPE_DIALOG, SpDialogClass))
#define SP_IS_DIALOG(object) (G_TYPE_CHECK_INSTANCE_TYPE ((object), SP_TYPE_DIALOG))

/* Declared by hand, so that the dialogs made of it see its members. */
typedef struct {
  GtkWindow parent_instance;
  gboolean keeps_typing; /* what is typed here is kept, or is no value of the bench: closing drops nothing */
  SpSession *session;    /* kept */
  GPtrArray *forms;      /* SpFormFields*, refreshed with the bench */
  int condition;         /* the one it is about; -1: the bench */
  SpBench *seen;         /* the bench that is shown; borrowed, compared only */
  guint follow_source;
  /* of the template */
  GtkWidget *content;   /* a vertical box that scrolls */
  GtkWidget *not_taken; /* below it: what closing would drop */
} SpDialog;

typedef struct {
  GtkWindowClass parent_class;
  void (*follow) (SpDialog *dialog); /* what follows the bench besides the forms; NULL: nothing */
} SpDialogClass;

GType sp_dialog_get_type (void);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpDialog, g_object_unref)

/* A modal window over `parent`, of a type made of SpDialog, whose template has title and size. Escape and Close close it, but not at once over what was
 * typed and not taken; Ctrl+Z and Ctrl+Shift+Z undo and redo. (transfer none) */
gpointer sp_dialog_new (GType type, GtkWindow *parent, SpSession *session);
/* In the init of a type made of SpDialog: builds its template, which fills the internal child `content`. */
void sp_dialog_init_template (SpDialog *dialog);
/* A form of the template, filled as sp_fields_fill() does it, follows the session from now on. */
void sp_dialog_fill (SpDialog *dialog, SpFormFields *form, const SpKeySpec *keys, const SpFormField *fields, guint n, guint columns,
                     const SpFormOwner *owner);
/* Above its parent, its default size in the desktop's text size; once for each window. GTK 4.8 forgets a parent that goes only in windows that are open,
 * and one that was closed may be kept by what is read for it. */
void sp_dialog_set_parent (GtkWindow *window, GtkWindow *parent);
/* The window of that type that is open over `parent`; NULL: none is. (transfer none) */
gpointer sp_dialog_over (GtkWindow *parent, GType type);
/* Text that wraps, in a style of the sheet's. (transfer floating) */
GtkWidget *sp_dialog_label_new (const char *text, const char *style);
/* A row of a list: a title, and below it what is said of it, or what is wrong. (transfer floating) */
GtkWidget *sp_dialog_row_new (const char *title, const char *says, gboolean wrong);
/* Fills the forms and shows the window. */
void sp_dialog_present (SpDialog *dialog);

/* For SpFormOwner.set: the edit made, or its error given back. Takes `bench` and `label`. */
gboolean sp_dialog_edit (SpDialog *dialog, SpBench *bench, char *label);
/* The condition it is about; NULL: it is gone. */
const SpCondition *sp_dialog_condition (SpDialog *dialog);
