/* list-dialog.c - the evening's list, typed or pasted, and what was understood of it */
#include "ui/window/import/list-dialog.h"

#include <glib/gi18n-lib.h>

#include "core/bench/proposals/list.h"
#include "core/trace/text/bytes.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/dialog.h"
#include "ui/window/widgets/entry.h"

#define LINES_SHOWN 200 /* of those that were understood; what is wrong is shown first */

#define SP_TYPE_LIST_DIALOG (sp_list_dialog_get_type ())
G_DECLARE_FINAL_TYPE (SpListDialog, sp_list_dialog, SP, LIST_DIALOG, SpDialog)

struct _SpListDialog {
  SpDialog parent_instance;
  guint read_source;
  gboolean taking;
  /* of the template */
  GtkWidget *text, *scrolled, *planned, *from_file, *from_earlier, *summary, *wrong, *understood, *take;
};

G_DEFINE_FINAL_TYPE (SpListDialog, sp_list_dialog, SP_TYPE_DIALOG)

static SpList *
parse (SpListDialog *self)
{
  char *text = sp_entry_text (self->text);
  g_autoptr (GBytes) bytes = g_bytes_new_take (text, strlen (text));
  return sp_list_parse (bytes, _ ("list"), gtk_editable_get_text (GTK_EDITABLE (self->planned)));
}

/* ---- what was understood ---- */

static void
add_texts (GString *text, const char *before, const GPtrArray *words)
{
  for (guint i = 0; i < words->len; i++)
    g_string_append_printf (text, "%s%s", i ? ", " : before, (const char *) words->pdata[i]);
}

/* What people call a key; another key stands as the sheet spells it. */
static const char *
key_word (const char *key)
{
  static const struct {
    const char *key, *word;
  } words[] = { { "serial", N_ ("serial") },
                { "owner", N_ ("owner") },
                { "note", N_ ("note") },
                { "rated_w", N_ ("rated power, W:") },
                { "fundamental", N_ ("frequency, Hz:") },
                { "mode", N_ ("mode") },
                { "necessary_bandwidth", N_ ("bandwidth, Hz:") },
                { "mask", N_ ("mask") } };
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_str_equal (words[i].key, key))
      return _ (words[i].word);
  return key;
}

/* "Mirrick: 2 m high, 70 cm high; owner Ola, rated_w 5". */
static void
add_row (GString *text, const SpListRow *row)
{
  g_string_append_printf (text, "%s%s", text->len ? "\n" : "", row->radio);
  add_texts (text, ": ", row->conditions);
  for (guint i = 0; i < row->values->len; i++) {
    const SpListValue *value = row->values->pdata[i];
    g_string_append_printf (text, "%s%s %s", i ? ", " : " \302\267 ", key_word (value->key), value->value);
  }
}

static void
show_label (GtkWidget *label, const char *text)
{
  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_visible (label, *text != '\0');
}

static gboolean
read_now (gpointer data)
{
  SpListDialog *self = data;
  g_autoptr (SpList) list = parse (self);
  g_autoptr (GString) wrong = g_string_new (NULL), understood = g_string_new (NULL);
  guint shown = 0;
  self->read_source = 0;
  for (guint i = 0; i < list->rows->len; i++) {
    const SpListRow *row = list->rows->pdata[i];
    if (row->wrong)
      g_string_append_printf (wrong, "%s%s", wrong->len ? "\n" : "", row->wrong);
    else if (shown++ < LINES_SHOWN)
      add_row (understood, row);
  }
  g_autofree char *says = g_strdup_printf (ngettext ("%u radio understood", "%u radios understood", list->n_radios), list->n_radios);
  show_label (self->summary, list->rows->len ? says : "");
  show_label (self->wrong, wrong->str);
  show_label (self->understood, understood->str);
  gtk_widget_set_sensitive (self->take, list->n_radios > 0 && list->n_wrong == 0);
  return G_SOURCE_REMOVE;
}

/* Soon and once: a long list is pasted in pieces. */
static void
on_changed (SpListDialog *self)
{
  gtk_widget_set_visible (SP_DIALOG (self)->not_taken, FALSE);
  if (!self->read_source)
    self->read_source = g_idle_add (read_now, self);
}

/* ---- taking it ---- */

/* What is worked out off the main thread. */
typedef struct {
  SpBench *bench; /* that it begins from */
  SpList *list;
} Taking;

static void
taking_free (gpointer data)
{
  Taking *taking = data;
  sp_bench_unref (taking->bench);
  sp_list_free (taking->list);
  g_free (taking);
}

static gpointer
make_bench (const char *path, gpointer asked, GError **error)
{
  const Taking *taking = asked;
  (void) path;
  return sp_bench_with_list (taking->bench, taking->list, error);
}

static void
end_with (SpListDialog *self, const SpList *list)
{
  g_autofree char *done = g_strdup_printf (ngettext ("%u radio listed.", "%u radios listed.", list->n_radios), list->n_radios);
  sp_session_done (SP_DIALOG (self)->session, done);
  sp_entry_fill (self->text, "");
  sp_entry_fill (self->planned, "");
  gtk_window_close (GTK_WINDOW (self));
}

static void take (SpListDialog *self);

static void
on_made (gpointer owner, gpointer asked, gpointer value, GError *why)
{
  SpListDialog *self = SP_LIST_DIALOG (owner);
  SpSession *session = SP_DIALOG (self)->session;
  const Taking *taking = asked;
  g_autoptr (GError) error = why;
  self->taking = FALSE;
  gtk_widget_set_sensitive (self->text, TRUE);
  if (error)
    show_label (self->wrong, error->message);
  else if (taking->bench != sp_session_bench (session)) { /* edited meanwhile */
    sp_bench_unref (value);
    take (self);
  } else if (sp_session_edit (session, value, _ ("Take the evening's list"), NULL))
    end_with (self, taking->list);
}

static void
take (SpListDialog *self)
{
  static const SpFileReading reading = { make_bench, (GDestroyNotify) sp_bench_unref, on_made, taking_free };
  g_autoptr (SpList) list = parse (self);
  if (list->n_radios == 0 || self->taking)
    return;
  Taking *taking = g_new (Taking, 1);
  *taking = (Taking){ sp_bench_ref (sp_session_bench (SP_DIALOG (self)->session)), g_steal_pointer (&list) };
  self->taking = TRUE;
  gtk_widget_set_sensitive (self->text, FALSE);
  sp_reading_begin (self, NULL, &reading, taking);
}

static void
on_take (GtkWidget *widget, const char *name, GVariant *argument)
{
  (void) name, (void) argument;
  take (SP_LIST_DIALOG (widget));
}

/* ---- from a file ---- */

static gpointer
read_text (const char *path, gpointer asked, GError **error)
{
  (void) asked;
  g_autoptr (GBytes) bytes = sp_bytes_read (path, FALSE, error);
  return bytes ? sp_list_text (bytes, path, error) : NULL;
}

static void
on_text (gpointer owner, gpointer asked, gpointer value, GError *why)
{
  SpListDialog *self = SP_LIST_DIALOG (owner);
  g_autoptr (GError) error = why;
  g_autofree char *text = value;
  (void) asked;
  if (text)
    sp_entry_fill (self->text, text);
  else
    show_label (self->wrong, error->message);
}

static void
file_chosen (GtkWidget *owner, GFile *file)
{
  static const SpFileReading reading = { read_text, g_free, on_text, NULL };
  sp_reading_begin (owner, file, &reading, NULL);
}

static void
on_from_file (SpListDialog *self)
{
  sp_ask_file (GTK_WIDGET (self), _ ("A table of radios"), "*", file_chosen);
}

static void
earlier_chosen (GtkWidget *owner, GFile *file)
{
  SpDialog *dialog = SP_DIALOG (owner);
  if (!sp_import_earlier (GTK_WINDOW (owner), dialog->session, file))
    show_label (SP_LIST_DIALOG (owner)->wrong, _ ("neither a .benchbook nor a .sheet; expected one of these"));
}

static void
on_from_earlier (SpListDialog *self)
{
  sp_ask_file (GTK_WIDGET (self), _ ("An earlier bench, for its radios"), "*.benchbook *.sheet", earlier_chosen);
}

/* ---- the window ---- */

static void
sp_list_dialog_dispose (GObject *object)
{
  g_clear_handle_id (&SP_LIST_DIALOG (object)->read_source, g_source_remove);
  G_OBJECT_CLASS (sp_list_dialog_parent_class)->dispose (object);
}

static void
sp_list_dialog_class_init (SpListDialogClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = sp_list_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/list-dialog.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpListDialog, name)
  PART (scrolled), PART (planned), PART (from_file), PART (from_earlier), PART (summary), PART (wrong), PART (understood), PART (take);
#undef PART
  gtk_widget_class_install_action (widget, "list.take", NULL, on_take);
}

/* Before the text, which takes any Enter as a new line. */
static void
take_by_key (SpListDialog *self)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Return, GDK_CONTROL_MASK),
                                                          gtk_named_action_new ("list.take")));
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

static void
sp_list_dialog_init (SpListDialog *self)
{
  sp_dialog_init_template (SP_DIALOG (self));
  self->text = sp_entry_lines_new (_ ("the evening\342\200\231s list"));
  gtk_text_view_set_monospace (GTK_TEXT_VIEW (self->text), TRUE);
  gtk_widget_set_tooltip_text (
      self->text,
      _ ("Typed, or pasted from a table; Ctrl+Enter takes it. Tab goes on to the next field: a tab between columns is pasted."));
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scrolled), self->text);
  g_signal_connect_swapped (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->text)), "changed", G_CALLBACK (on_changed), self);
  g_signal_connect_swapped (self->planned, "changed", G_CALLBACK (on_changed), self);
  g_signal_connect_swapped (self->from_file, "clicked", G_CALLBACK (on_from_file), self);
  g_signal_connect_swapped (self->from_earlier, "clicked", G_CALLBACK (on_from_earlier), self);
  g_signal_connect_swapped (self->take, "clicked", G_CALLBACK (take), self);
  take_by_key (self);
}

void
sp_list_dialog_present (GtkWindow *parent, SpSession *session)
{
  SpListDialog *self = sp_dialog_new (SP_TYPE_LIST_DIALOG, parent, session);
  read_now (self);
  sp_dialog_present (SP_DIALOG (self));
  gtk_widget_grab_focus (self->text);
}
