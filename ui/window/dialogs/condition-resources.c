/* condition-resources.c - the chain, analyzer and masks of a condition's own */
#include "ui/window/dialogs/condition-resources.h"

#include <glib/gi18n-lib.h>

#include "ui/window/dialogs/mask-form.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"

#define SECOND SP_RESOURCE_TRACE /* the line of the second mask, behind those of the kinds */
#define LINES (SECOND + 1)

typedef struct {
  SpConditionResources *resources;
  int kind;
  GtkWidget *name, *file, *bench, *trouble; /* name: the mask's is its form */
} Line;

struct _SpConditionResources {
  GtkGrid parent_instance;
  SpDialog *dialog;
  Line lines[LINES];
  const Line *asked; /* the one whose file is asked for */
};

G_DEFINE_FINAL_TYPE (SpConditionResources, sp_condition_resources, GTK_TYPE_GRID)

static const struct {
  const char *id, *what, *pattern, *ask, *taken, *back;
} kinds[LINES] = {
  [SP_RESOURCE_CHAIN] = { "chain", N_ ("chain"), "*.chain", N_ ("A chain's file"), N_ ("Give %s a chain of its own"),
                          N_ ("Give %s the bench's chain") },
  [SP_RESOURCE_ANALYZER] = { "analyzer", N_ ("analyzer"), "*.analyzer", N_ ("An analyzer's file"), N_ ("Give %s an analyzer of its own"),
                             N_ ("Give %s the bench's analyzer") },
  [SP_RESOURCE_MASK] = { "mask", N_ ("mask"), "*.mask", N_ ("A mask's file"), N_ ("Give %s a mask of its own"),
                         N_ ("Give %s the bench's mask") },
  [SECOND] = { "second_mask", N_ ("second mask"), "*.mask", N_ ("A second mask's file"), N_ ("Give %s a second mask of its own"),
               N_ ("Give %s the bench's second mask") },
};

/* ---- edits ---- */

/* What stands in a line. */
static SpResourceKind
kind_of (int line)
{
  return line == SECOND ? SP_RESOURCE_MASK : (SpResourceKind) line;
}

/* Sets `part` (transfer full), or the bench's if that is NULL. An error (transfer full) is shown below the line instead. */
static void
set_resource (const Line *line, gpointer part, GError *error)
{
  SpDialog *dialog = line->resources->dialog;
  SpResourceKind kind = kind_of (line->kind);
  const SpCondition *condition = sp_dialog_condition (dialog);
  SpBench *bench = sp_session_bench (dialog->session), *edited = NULL;
  g_autofree char *name = condition ? sp_condition_name (bench, condition) : g_strdup (""); /* undone meanwhile: there is nothing to edit */
  if (condition && !error)
    edited = line->kind == SECOND ? sp_bench_set_second_mask (bench, dialog->condition, part)
                                  : sp_bench_set_own (bench, (guint) dialog->condition, kind, part, &error);
  gtk_label_set_text (GTK_LABEL (line->trouble), error ? error->message : "");
  gtk_widget_set_visible (line->trouble, error != NULL);
  sp_dialog_edit (dialog, edited, g_strdup_printf (part ? _ (kinds[line->kind].taken) : _ (kinds[line->kind].back), name));
  g_clear_error (&error);
  if (part)
    sp_resource_unref (kind, part);
}

/* ---- from a file ---- */

static gpointer
read_resource (const char *path, gpointer asked, GError **error)
{
  return sp_resource_read (kind_of (GPOINTER_TO_INT (asked)), path, error);
}

static void
on_read (gpointer resources, gpointer asked, gpointer resource, GError *error)
{
  const Line *line = &SP_CONDITION_RESOURCES (resources)->lines[GPOINTER_TO_INT (asked)];
  gtk_widget_set_sensitive (line->file, TRUE);
  set_resource (line, resource, error);
}

static void
take (GtkWidget *resources, GFile *file)
{
  static const SpFileReading readings[LINES] = {
    [SP_RESOURCE_CHAIN] = { read_resource, (GDestroyNotify) sp_chain_unref, on_read, NULL },
    [SP_RESOURCE_ANALYZER] = { read_resource, (GDestroyNotify) sp_analyzer_unref, on_read, NULL },
    [SP_RESOURCE_MASK] = { read_resource, (GDestroyNotify) sp_mask_unref, on_read, NULL },
    [SECOND] = { read_resource, (GDestroyNotify) sp_mask_unref, on_read, NULL },
  };
  const Line *line = SP_CONDITION_RESOURCES (resources)->asked;
  gtk_widget_set_sensitive (line->file, FALSE);
  sp_reading_begin (resources, file, &readings[line->kind], GINT_TO_POINTER (line->kind));
}

static Line *
line_of (SpConditionResources *self, GtkWidget *button)
{
  for (guint i = 0; i < G_N_ELEMENTS (self->lines); i++)
    if (self->lines[i].file == button || self->lines[i].bench == button)
      return &self->lines[i];
  g_return_val_if_reached (NULL);
}

static void
on_ask (GtkWidget *button, SpConditionResources *self)
{
  self->asked = line_of (self, button);
  sp_ask_file (GTK_WIDGET (self), _ (kinds[self->asked->kind].ask), kinds[self->asked->kind].pattern, take);
}

static void
on_bench (GtkWidget *button, SpConditionResources *self)
{
  set_resource (line_of (self, button), NULL, NULL);
}

/* ---- the mask's choice ---- */

static char *
get_mask (gpointer owner, const char *key)
{
  SpDialog *dialog = owner;
  return sp_dialog_condition (dialog) ? sp_bench_get_condition (sp_session_bench (dialog->session), (guint) dialog->condition, key) : NULL;
}

static gboolean
set_mask (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  SpDialog *dialog = owner;
  const SpCondition *condition = sp_dialog_condition (dialog);
  SpBench *bench = sp_session_bench (dialog->session);
  if (!condition)
    return FALSE;
  g_autofree char *name = sp_condition_name (bench, condition);
  int line = g_str_equal (field->key, kinds[SECOND].id) ? SECOND : SP_RESOURCE_MASK;
  return sp_dialog_edit (dialog, sp_bench_set_condition (bench, (guint) dialog->condition, field->key, value, error),
                         g_strdup_printf (*value ? _ (kinds[line].taken) : _ (kinds[line].back), name));
}

/* ---- lines ---- */

static void
show_name (GtkWidget *label, const char *own, const char *bench)
{
  g_autofree char *text = own ? g_strdup (own) : bench ? g_strdup_printf (_ ("the bench's: %s"), bench) : g_strdup (_ ("none"));
  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_tooltip_text (label, text);
}

void
sp_condition_resources_follow (SpConditionResources *self)
{
  const SpBench *bench = sp_session_bench (self->dialog->session);
  const SpCondition *condition = sp_dialog_condition (self->dialog);
  if (!condition)
    return;
  show_name (self->lines[SP_RESOURCE_CHAIN].name, condition->chain ? condition->chain->name : NULL,
             bench->chain ? bench->chain->name : NULL);
  show_name (self->lines[SP_RESOURCE_ANALYZER].name, condition->analyzer ? condition->analyzer->name : NULL,
             bench->analyzer ? bench->analyzer->name : NULL);
  sp_mask_form_follow (SP_MASK_FORM (self->lines[SP_RESOURCE_MASK].name), condition->mask);
  sp_mask_form_follow (SP_MASK_FORM (self->lines[SECOND].name), condition->second_mask);
  const gboolean own[] = { condition->chain != NULL, condition->analyzer != NULL, condition->mask != NULL, condition->second_mask != NULL };
  for (guint i = 0; i < G_N_ELEMENTS (own); i++) {
    gtk_widget_set_sensitive (self->lines[i].bench, own[i]);
    gtk_widget_set_visible (self->lines[i].trouble, FALSE);
  }
}

/* "chain: From a file…": there is one of the kind in each line. */
static void
speak (const Line *line, GtkWidget *button)
{
  g_autofree char *spoken = g_strdup_printf ("%s: %s", _ (kinds[line->kind].what), gtk_button_get_label (GTK_BUTTON (button)));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
}

void
sp_condition_resources_begin (SpConditionResources *self, SpDialog *dialog)
{
  self->dialog = dialog;
  const SpFormOwner owner = { get_mask, set_mask, dialog };
  sp_mask_form_begin (SP_MASK_FORM (self->lines[SP_RESOURCE_MASK].name), &owner, "mask", _ ("the bench's"));
  sp_mask_form_begin (SP_MASK_FORM (self->lines[SECOND].name), &owner, "second_mask", _ ("the bench's"));
}

static void
bind (GtkWidgetClass *klass, int kind, const char *part, gssize offset)
{
  g_autofree char *id = g_strdup_printf ("%s_%s", kinds[kind].id, part);
  gtk_widget_class_bind_template_child_full (klass, id, FALSE, offset + (gssize) kind * (gssize) sizeof (Line));
}

static void
sp_condition_resources_class_init (SpConditionResourcesClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  g_type_ensure (SP_TYPE_MASK_FORM);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/condition-resources.ui");
  for (int kind = SP_RESOURCE_CHAIN; kind < LINES; kind++) {
    bind (widget, kind, "name", G_STRUCT_OFFSET (SpConditionResources, lines[0].name));
    bind (widget, kind, "file", G_STRUCT_OFFSET (SpConditionResources, lines[0].file));
    bind (widget, kind, "bench", G_STRUCT_OFFSET (SpConditionResources, lines[0].bench));
    bind (widget, kind, "trouble", G_STRUCT_OFFSET (SpConditionResources, lines[0].trouble));
  }
  gtk_widget_class_bind_template_callback (widget, on_ask);
  gtk_widget_class_bind_template_callback (widget, on_bench);
}

static void
sp_condition_resources_init (SpConditionResources *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  for (int kind = SP_RESOURCE_CHAIN; kind < LINES; kind++) {
    Line *line = &self->lines[kind];
    line->resources = self;
    line->kind = kind;
    speak (line, line->file);
    speak (line, line->bench);
  }
}
