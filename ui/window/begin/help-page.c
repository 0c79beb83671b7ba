/* help-page.c - the help inside the window */
#include "ui/window/begin/help-page.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "ui/window/begin/steps.h"
#include "ui/window/begin/words-grid.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/entry.h"
#include "ui/words/help.h"

#define LINE 78 /* characters that read well */

#define SP_TYPE_HELP_PAGE (sp_help_page_get_type ())
G_DECLARE_FINAL_TYPE (SpHelpPage, sp_help_page, SP, HELP_PAGE, GtkWidget)

struct _SpHelpPage {
  GtkWidget parent_instance;
  SpSession *session;
  const SpHelpTopic *topics_of_help;
  guint n;
  GtkWidget *whole, *search, *topics, *nothing, *scroller, *text; /* of the template */
};

G_DEFINE_FINAL_TYPE (SpHelpPage, sp_help_page, GTK_TYPE_WIDGET)

static GtkWidget *
paragraph (const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_width_chars (GTK_LABEL (label), 40);
  gtk_label_set_max_width_chars (GTK_LABEL (label), LINE);
  gtk_widget_add_css_class (label, style);
  return label;
}

/* ---- what belongs to a topic besides its paragraphs ---- */

static const char *
sought (SpHelpPage *self)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->search));
}

/* Without regard to case. */
static gboolean
holds (const char *text, const char *word)
{
  g_autofree char *a = g_utf8_casefold (text, -1), *b = g_utf8_casefold (word, -1);
  return strstr (a, b) != NULL;
}

static gboolean
word_is_sought (SpHelpPage *self, SpGlossaryWord word)
{
  return holds (sp_words_word (word), sought (self)) || holds (sp_words_meaning (word), sought (self));
}

/* All words, or only those that are looked for. */
static GtkWidget *
glossary (SpHelpPage *self)
{
  GtkWidget *grid = gtk_grid_new ();
  gboolean any = FALSE;
  gtk_grid_set_column_spacing (GTK_GRID (grid), 16);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 8);
  for (int word = 0; word < SP_N_WORDS; word++)
    any = any || word_is_sought (self, (SpGlossaryWord) word);
  for (int word = 0; word < SP_N_WORDS; word++) {
    if (any && !word_is_sought (self, (SpGlossaryWord) word))
      continue;
    GtkWidget *name = gtk_label_new (sp_words_word ((SpGlossaryWord) word));
    gtk_label_set_xalign (GTK_LABEL (name), 0);
    gtk_label_set_yalign (GTK_LABEL (name), 0);
    gtk_widget_add_css_class (name, "strong");
    gtk_grid_attach (GTK_GRID (grid), name, 0, word, 1, 1);
    gtk_grid_attach (GTK_GRID (grid), paragraph (sp_words_meaning ((SpGlossaryWord) word), "help"), 1, word, 1, 1);
  }
  return grid;
}

static GtkWidget *
grid_of (void (*fill) (GtkGrid *grid))
{
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  fill (GTK_GRID (grid));
  return grid;
}

/* NULL: nothing more. */
static GtkWidget *
more_of (SpHelpPage *self, const char *id)
{
  if (strcmp (id, "steps") == 0)
    return sp_steps_new (self->session);
  if (strcmp (id, "verdicts") == 0)
    return grid_of (sp_words_grid_verdicts);
  if (strcmp (id, "whose") == 0)
    return grid_of (sp_words_grid_origins);
  return strcmp (id, "words") == 0 ? glossary (self) : NULL;
}

static void
show (SpHelpPage *self, const SpHelpTopic *topic)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (self->text)))
    gtk_box_remove (GTK_BOX (self->text), child);
  gtk_box_append (GTK_BOX (self->text), paragraph (_ (topic->title), "help-title"));
  for (guint i = 0; topic->paragraphs[i]; i++)
    gtk_box_append (GTK_BOX (self->text), paragraph (_ (topic->paragraphs[i]), "help"));
  GtkWidget *more = more_of (self, topic->id);
  if (more)
    gtk_box_append (GTK_BOX (self->text), more);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller)), 0);
}

/* ---- topics ---- */

static void
on_topic (SpHelpPage *self, GtkListBoxRow *row)
{
  if (row)
    show (self, &self->topics_of_help[gtk_list_box_row_get_index (row)]);
}

static gboolean
is_sought (SpHelpPage *self, const SpHelpTopic *topic)
{
  if (*sought (self) == '\0' || holds (_ (topic->title), sought (self)))
    return TRUE;
  for (guint i = 0; topic->paragraphs[i]; i++)
    if (holds (_ (topic->paragraphs[i]), sought (self)))
      return TRUE;
  for (int word = 0; strcmp (topic->id, "words") == 0 && word < SP_N_WORDS; word++)
    if (word_is_sought (self, (SpGlossaryWord) word))
      return TRUE;
  return FALSE;
}

/* Topics without the word go; of the others the chosen one stays, else the first is shown. */
static void
on_search (SpHelpPage *self)
{
  GtkListBox *list = GTK_LIST_BOX (self->topics);
  GtkListBoxRow *chosen = gtk_list_box_get_selected_row (list), *first = NULL;
  for (guint i = 0; i < self->n; i++) {
    GtkListBoxRow *row = gtk_list_box_get_row_at_index (list, (int) i);
    gboolean shown = is_sought (self, &self->topics_of_help[i]);
    gtk_widget_set_visible (GTK_WIDGET (row), shown);
    if (shown && (!first || row == chosen))
      first = row;
  }
  gtk_widget_set_visible (self->nothing, !first);
  if (first && first == chosen)
    on_topic (self, first);
  else if (first)
    gtk_list_box_select_row (list, first);
}

/* Escape: what was looked for goes first, then the help. */
static void
stop (GtkWidget *page, const char *action, GVariant *nothing)
{
  SpHelpPage *self = SP_HELP_PAGE (page);
  (void) action, (void) nothing;
  if (*sought (self))
    sp_entry_fill (self->search, "");
  else
    gtk_widget_activate_action (GTK_WIDGET (self), "win.help", NULL);
}

/* Up and Down choose a topic while a word is typed. */
static void
step_topic (GtkWidget *page, const char *action, GVariant *nothing)
{
  SpHelpPage *self = SP_HELP_PAGE (page);
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->topics));
  (void) nothing;
  int step = g_str_has_suffix (action, "next") ? 1 : -1, at = row ? gtk_list_box_row_get_index (row) : -1;
  do
    row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->topics), at += step);
  while (row && !gtk_widget_get_visible (GTK_WIDGET (row)));
  if (row)
    gtk_list_box_select_row (GTK_LIST_BOX (self->topics), row);
}

static void
sp_help_page_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), SP_TYPE_HELP_PAGE);
  g_clear_object (&SP_HELP_PAGE (object)->session);
  G_OBJECT_CLASS (sp_help_page_parent_class)->dispose (object);
}

static void
sp_help_page_class_init (SpHelpPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  G_OBJECT_CLASS (klass)->dispose = sp_help_page_dispose;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/help-page.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpHelpPage, name)
  PART (whole), PART (search), PART (topics), PART (nothing), PART (scroller), PART (text);
#undef PART
  gtk_widget_class_bind_template_callback (widget, on_topic);
  gtk_widget_class_bind_template_callback (widget, on_search);
  gtk_widget_class_install_action (widget, "help.stop", NULL, stop);
  gtk_widget_class_install_action (widget, "help.next", NULL, step_topic);
  gtk_widget_class_install_action (widget, "help.previous", NULL, step_topic);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Escape, 0, "help.stop", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Down, 0, "help.next", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Up, 0, "help.previous", NULL);
}

static void
sp_help_page_init (SpHelpPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
sp_help_page_new (SpSession *session)
{
  SpHelpPage *self = g_object_new (SP_TYPE_HELP_PAGE, NULL);
  self->session = g_object_ref (session);
  self->topics_of_help = sp_help_topics (&self->n);
  for (guint i = 0; i < self->n; i++) {
    GtkWidget *label = gtk_label_new (_ (self->topics_of_help[i].title));
    gtk_label_set_xalign (GTK_LABEL (label), 0);
    gtk_label_set_wrap (GTK_LABEL (label), TRUE);
    gtk_list_box_append (GTK_LIST_BOX (self->topics), label);
    gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_parent (label)), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                    _ (self->topics_of_help[i].title), -1);
  }
  sp_help_page_show (GTK_WIDGET (self), "first");
  return GTK_WIDGET (self);
}

void
sp_help_page_show (GtkWidget *page, const char *topic)
{
  SpHelpPage *self = SP_HELP_PAGE (page);
  if (!topic)
    gtk_widget_grab_focus (self->search);
  for (guint i = 0; topic && i < self->n; i++)
    if (strcmp (self->topics_of_help[i].id, topic) == 0)
      gtk_list_box_select_row (GTK_LIST_BOX (self->topics), gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->topics), (int) i));
}
