/* paper-words.c - what the paper says besides the findings, as a form */
#include "ui/window/dialogs/paper-words.h"

#include <glib/gi18n-lib.h>

#include "ui/window/import/import.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/dialog.h"
#include "ui/window/widgets/pictures.h"

static const char *const paper_words[] = { NULL, N_ ("A4"), N_ ("Letter"), N_ ("A5"), NULL };

static const SpFormField report_keys[] = {
  { "title", N_ ("title"), N_ ("What the report is headed with; left out: the bench's title.") },
  { "introduction", N_ ("introduction"), N_ ("What is said before the verdicts; each line is a paragraph."), .lines = TRUE },
  { "conclusions", N_ ("conclusions"), N_ ("What is said behind the verdicts; each line is a paragraph."), .lines = TRUE },
  { "parts", N_ ("parts"),
    N_ ("Some of front; overlays; conditions; whose; comparison; chain; method; budget; files; pictures, in the order wanted; left out: "
        "all, as they come.") },
  { "paper", N_ ("paper"), N_ ("The sheet that is printed where nothing else is asked for."), paper_words, N_ ("not stated: A4") },
  { "language", N_ ("language"), N_ ("The code of a language that there are sentences in, such as en; left out: yours.") },
};
static const SpFormField remark_keys[] = {
  { "text", N_ ("remark"), N_ ("Said on this radio's slip and pages, and on no other radio's; each line is a paragraph."), .lines = TRUE },
};

#define SP_TYPE_PAPER_WORDS (sp_paper_words_get_type ())
G_DECLARE_FINAL_TYPE (SpPaperWords, sp_paper_words, SP, PAPER_WORDS, SpDialog)

struct _SpPaperWords {
  SpDialog parent_instance;
  /* of the template */
  SpFormFields *report, *remark;
  GtkWidget *of_radio, *head, *letterhead_name, *letterhead_remove;
};

G_DEFINE_FINAL_TYPE (SpPaperWords, sp_paper_words, SP_TYPE_DIALOG)

/* The chosen condition's radio; NULL: there is none. */
static const char *
radio_of (SpDialog *dialog)
{
  const SpCondition *condition = sp_dialog_condition (dialog);
  return condition ? sp_session_bench (dialog->session)->radios[condition->radio].name : NULL;
}

static SpDocument *
document_of (SpDialog *dialog)
{
  SpDocument *document = sp_session_bench (dialog->session)->document;
  return document ? sp_document_ref (document) : sp_document_new ();
}

static gboolean
edit (SpDialog *dialog, SpDocument *edited, const char *label)
{
  g_autoptr (SpDocument) owned = edited;
  return owned && sp_dialog_edit (dialog, sp_bench_set_document (sp_session_bench (dialog->session), owned), g_strdup (label));
}

static char *
get_key (gpointer owner, const char *key)
{
  g_autoptr (SpDocument) document = document_of (owner);
  return sp_document_get (document, key);
}

static gboolean
set_key (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  g_autoptr (SpDocument) document = document_of (owner);
  g_autofree char *label = g_strdup_printf (_ ("Change the report's %s"), _ (field->what));
  return edit (owner, sp_document_set (document, field->key, value, error), label);
}

static char *
get_remark (gpointer owner, const char *key)
{
  g_autoptr (SpDocument) document = document_of (owner);
  const char *radio = radio_of (owner);
  (void) key;
  return radio ? sp_document_get_remark (document, radio) : NULL;
}

static gboolean
set_remark (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  g_autoptr (SpDocument) document = document_of (owner);
  const char *radio = radio_of (owner);
  (void) field;
  if (!radio)
    return FALSE;
  g_autofree char *label = g_strdup_printf (_ ("Change the remark on %s"), radio);
  return edit (owner, sp_document_set_remark (document, radio, value, error), label);
}

/* ---- the letterhead ---- */

static void
on_letterhead_file (GtkWidget *self, GFile *file)
{
  sp_import_picture (self, SP_DIALOG (self)->session, file, SP_PLACE_LETTERHEAD);
}

static void
on_ask_letterhead (GtkWidget *self)
{
  sp_ask_file (self, _ ("A letterhead"), SP_PICTURE_PATTERN, on_letterhead_file);
}

static void
on_remove_letterhead (SpDialog *dialog)
{
  SpBench *bench = sp_bench_set_letterhead (sp_session_bench (dialog->session), NULL);
  sp_session_edit (dialog->session, bench, _ ("Take off the letterhead"), NULL);
}

static gboolean
dropped (G_GNUC_UNUSED GtkDropTarget *target, const GValue *value, G_GNUC_UNUSED double x, G_GNUC_UNUSED double y, GtkWidget *self)
{
  const GSList *files = g_value_get_boxed (value);
  if (files)
    on_letterhead_file (self, files->data);
  return files != NULL;
}

static void
follow_letterhead (SpPaperWords *self)
{
  const SpPicture *letterhead = sp_bench_letterhead (sp_session_bench (SP_DIALOG (self)->session));
  g_autofree char *base = letterhead ? g_path_get_basename (letterhead->file ? letterhead->file : "-") : NULL;
  g_autofree char *name = base ? g_filename_display_name (base) : NULL;
  gtk_label_set_text (GTK_LABEL (self->letterhead_name), name ? name : _ ("none"));
  gtk_widget_set_sensitive (self->letterhead_remove, letterhead != NULL);
}

static void
follow (SpDialog *dialog)
{
  follow_letterhead (SP_PAPER_WORDS (dialog));
  const char *radio = radio_of (dialog);
  gtk_label_set_text (GTK_LABEL (SP_PAPER_WORDS (dialog)->of_radio), radio ? radio : "");
}

static void
sp_paper_words_class_init (SpPaperWordsClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  SP_DIALOG_CLASS (klass)->follow = follow;
  g_type_ensure (SP_TYPE_FIELDS);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/paper-words.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpPaperWords, name)
  PART (report), PART (remark), PART (of_radio), PART (head), PART (letterhead_name), PART (letterhead_remove);
#undef PART
  gtk_widget_class_bind_template_callback (widget, on_ask_letterhead);
  gtk_widget_class_bind_template_callback (widget, on_remove_letterhead);
}

static void
sp_paper_words_init (SpPaperWords *self)
{
  sp_dialog_init_template (SP_DIALOG (self));
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_signal_connect (target, "drop", G_CALLBACK (dropped), self);
  gtk_widget_add_controller (self->head, GTK_EVENT_CONTROLLER (target));
}

void
sp_paper_words_present (GtkWindow *parent, SpSession *session)
{
  SpPaperWords *self = sp_dialog_new (SP_TYPE_PAPER_WORDS, parent, session);
  SpDialog *dialog = SP_DIALOG (self);
  SpFormOwner report = { get_key, set_key, dialog }, remark = { get_remark, set_remark, dialog };
  dialog->condition = sp_session_bench (session)->n_conditions ? (int) sp_session_condition (session) : -1;
  sp_dialog_fill (dialog, self->report, sp_document_keys, report_keys, G_N_ELEMENTS (report_keys), 1, &report);
  sp_dialog_fill (dialog, self->remark, sp_remark_keys, remark_keys, G_N_ELEMENTS (remark_keys), 1, &remark);
  gtk_widget_set_visible (GTK_WIDGET (self->remark), dialog->condition >= 0);
  sp_dialog_present (dialog);
}
