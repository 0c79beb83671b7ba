/* statement.c - the chosen condition in one sentence above the chart */
#include "ui/window/pages/statement.h"

#include <glib/gi18n-lib.h>

#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/popover.h"
#include "ui/words/words.h"

#define CHARS 64 /* of a line of the explanation */

#define SP_TYPE_STATEMENT (sp_statement_get_type ())
G_DECLARE_FINAL_TYPE (SpStatement, sp_statement, SP, STATEMENT, GtkWidget)

struct _SpStatement {
  GtkWidget parent_instance;
  SpSession *session;
  GtkWidget *whole, *line, *second;
  SpGlyph *glyph;
};

G_DEFINE_FINAL_TYPE (SpStatement, sp_statement, GTK_TYPE_WIDGET)

/* The verdict's word is bold: it ends at the first colon. */
static void
show_line (SpStatement *self, const SpConditionFindings *found)
{
  g_autofree char *said = sp_words_statement (found, SP_HAND_SCREEN);
  const char *colon = strchr (said, ':');
  g_autofree char *word = g_markup_escape_text (said, colon ? colon + 1 - said : 0),
                  *rest = g_markup_escape_text (colon ? colon + 1 : said, -1);
  g_autofree char *markup = g_strdup_printf ("<b>%s</b>%s", word, rest);
  gtk_label_set_markup (GTK_LABEL (self->line), markup);
}

static void
follow (SpStatement *self)
{
  const SpConditionFindings *found = sp_session_found (self->session);
  gtk_widget_set_visible (GTK_WIDGET (self), found != NULL);
  if (!found)
    return;
  sp_glyph_set (self->glyph, TRUE, found->verdict);
  show_line (self, found);
  g_autofree char *second = sp_words_second (sp_session_findings (self->session), (guint) sp_session_condition (self->session),
                                             SP_HAND_SCREEN);
  gtk_label_set_text (GTK_LABEL (self->second), second ? second : "");
  gtk_widget_set_visible (self->second, second != NULL);
}

static void
explain (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  SpStatement *self = SP_STATEMENT (widget);
  const SpConditionFindings *found = sp_session_found (self->session);
  g_autofree char *explanation = found ? sp_words_explanation (found, SP_HAND_SCREEN) : NULL;
  if (!explanation || !*explanation || !gtk_widget_get_mapped (widget))
    return;
  GtkWidget *label = gtk_label_new (explanation);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_width_chars (GTK_LABEL (label), CHARS);
  gtk_label_set_max_width_chars (GTK_LABEL (label), CHARS);
  gtk_widget_add_css_class (label, "in-short");
  sp_popover_show (widget, label, _ ("Why, in short"), 0, NULL);
}

static void
sp_statement_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), SP_TYPE_STATEMENT);
  g_clear_object (&SP_STATEMENT (object)->session);
  G_OBJECT_CLASS (sp_statement_parent_class)->dispose (object);
}

static void
sp_statement_class_init (SpStatementClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  g_type_ensure (SP_TYPE_GLYPH);
  G_OBJECT_CLASS (klass)->dispose = sp_statement_dispose;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/statement.ui");
  gtk_widget_class_bind_template_child (widget, SpStatement, whole); /* what is not bound is not disposed of */
  gtk_widget_class_bind_template_child (widget, SpStatement, glyph);
  gtk_widget_class_bind_template_child (widget, SpStatement, line);
  gtk_widget_class_bind_template_child (widget, SpStatement, second);
  gtk_widget_class_install_action (widget, "statement.explain", NULL, explain);
}

static void
sp_statement_init (SpStatement *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
sp_statement_new (SpSession *session)
{
  SpStatement *self = g_object_new (SP_TYPE_STATEMENT, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  follow (self);
  return GTK_WIDGET (self);
}
