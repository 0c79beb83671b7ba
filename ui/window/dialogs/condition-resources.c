/* condition-resources.c - the chain, analyzer and mask of a condition's own */
#include "ui/window/dialogs/condition-resources.h"

#include <glib/gi18n-lib.h>

#include "ui/window/dialogs/mask-form.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"

typedef struct {
  SpConditionResources *resources;
  SpResourceKind kind;
  GtkWidget *name, *file, *bench, *trouble; /* name: the mask's is its form */
} Line;

struct _SpConditionResources {
  GtkGrid parent_instance;
  SpDialog *dialog;
  Line lines[SP_RESOURCE_TRACE];
  const Line *asked; /* the one whose file is asked for */
};

G_DEFINE_FINAL_TYPE (SpConditionResources, sp_condition_resources, GTK_TYPE_GRID)

static const struct {
  const char *key, *what, *pattern, *ask, *file_tip, *bench_tip, *taken, *back;
} kinds[SP_RESOURCE_TRACE] = {
  [SP_RESOURCE_CHAIN] = { "chain", N_ ("chain"), "*.chain", N_ ("A chain's file"),
                          N_ ("Takes a chain from a .chain file for this condition alone."), N_ ("Goes back to the bench's chain."),
                          N_ ("Give %s a chain of its own"), N_ ("Give %s the bench's chain") },
  [SP_RESOURCE_ANALYZER] = { "analyzer", N_ ("analyzer"), "*.analyzer", N_ ("An analyzer's file"),
                             N_ ("Takes an analyzer from an .analyzer file for this condition alone."),
                             N_ ("Goes back to the bench's analyzer."), N_ ("Give %s an analyzer of its own"),
                             N_ ("Give %s the bench's analyzer") },
  [SP_RESOURCE_MASK] = { "mask", N_ ("mask"), "*.mask", N_ ("A mask's file"),
                         N_ ("Takes a mask from a .mask file for this condition alone."), N_ ("Goes back to the bench's mask."),
                         N_ ("Give %s a mask of its own"), N_ ("Give %s the bench's mask") },
};

/* ---- edits ---- */

/* Sets `resource` (transfer full), or the bench's if that is NULL. An error (transfer full) is shown below the line instead. */
static void
set_resource (const Line *line, gpointer resource, GError *error)
{
  SpDialog *dialog = line->resources->dialog;
  SpResourceKind kind = line->kind;
  const SpCondition *condition = sp_dialog_condition (dialog);
  SpBench *bench = sp_session_bench (dialog->session), *edited = NULL;
  g_autofree char *name = condition ? sp_condition_name (bench, condition) : g_strdup (""); /* undone meanwhile: there is nothing to edit */
  if (condition && !error)
    edited = sp_bench_set_own (bench, (guint) dialog->condition, kind, resource, &error);
  gtk_label_set_text (GTK_LABEL (line->trouble), error ? error->message : "");
  gtk_widget_set_visible (line->trouble, error != NULL);
  sp_dialog_edit (dialog, edited, g_strdup_printf (resource ? _ (kinds[kind].taken) : _ (kinds[kind].back), name));
  g_clear_error (&error);
  if (resource)
    sp_resource_unref (kind, resource);
}

/* ---- from a file ---- */

static gpointer
read_chain (const char *path, gpointer asked, GError **error)
{
  (void) asked;
  return sp_chain_read (path, error);
}

static gpointer
read_analyzer (const char *path, gpointer asked, GError **error)
{
  (void) asked;
  return sp_analyzer_read (path, error);
}

static gpointer
read_mask (const char *path, gpointer asked, GError **error)
{
  (void) asked;
  return sp_mask_load (path, error);
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
  static const SpFileReading readings[SP_RESOURCE_TRACE] = {
    [SP_RESOURCE_CHAIN] = { read_chain, (GDestroyNotify) sp_chain_unref, on_read, NULL },
    [SP_RESOURCE_ANALYZER] = { read_analyzer, (GDestroyNotify) sp_analyzer_unref, on_read, NULL },
    [SP_RESOURCE_MASK] = { read_mask, (GDestroyNotify) sp_mask_unref, on_read, NULL },
  };
  const Line *line = SP_CONDITION_RESOURCES (resources)->asked;
  gtk_widget_set_sensitive (line->file, FALSE);
  sp_reading_begin (resources, file, &readings[line->kind], GINT_TO_POINTER (line->kind));
}

static void
on_ask (Line *line)
{
  line->resources->asked = line;
  sp_ask_file (GTK_WIDGET (line->resources), _ (kinds[line->kind].ask), kinds[line->kind].pattern, take);
}

static void
on_bench (Line *line)
{
  set_resource (line, NULL, NULL);
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
  return sp_dialog_edit (dialog, sp_bench_set_condition (bench, (guint) dialog->condition, field->key, value, error),
                         g_strdup_printf (*value ? _ (kinds[SP_RESOURCE_MASK].taken) : _ (kinds[SP_RESOURCE_MASK].back), name));
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
  sp_mask_form_follow (SP_MASK_FORM (self->lines[SP_RESOURCE_MASK].name));
  const gboolean own[] = { condition->chain != NULL, condition->analyzer != NULL, condition->mask != NULL };
  for (guint i = 0; i < G_N_ELEMENTS (own); i++) {
    gtk_widget_set_sensitive (self->lines[i].bench, own[i]);
    gtk_widget_set_visible (self->lines[i].trouble, FALSE);
  }
}

static GtkWidget *
new_button (Line *line, const char *text, const char *tip, GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_label (text);
  g_autofree char *spoken = g_strdup_printf ("%s: %s", _ (kinds[line->kind].what), text);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_tooltip_text (button, tip);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_signal_connect_swapped (button, "clicked", clicked, line);
  return button;
}

static void
add_line (SpConditionResources *self, SpResourceKind kind)
{
  GtkGrid *grid = GTK_GRID (self);
  Line *line = &self->lines[kind];
  line->resources = self;
  line->kind = kind;
  line->name = kind == SP_RESOURCE_MASK ? sp_mask_form_new (&(SpFormOwner){ get_mask, set_mask, self->dialog }, _ ("the bench's"))
                                        : gtk_label_new (NULL);
  line->bench = new_button (line, _ ("The bench's"), _ (kinds[kind].bench_tip), G_CALLBACK (on_bench));
  line->trouble = gtk_label_new (NULL);
  if (kind != SP_RESOURCE_MASK) { /* the mask's form says it itself */
    GtkWidget *what = gtk_label_new (_ (kinds[kind].what));
    gtk_label_set_xalign (GTK_LABEL (what), 0);
    gtk_widget_add_css_class (what, "soft");
    gtk_grid_attach (grid, what, 0, (int) kind * 2, 1, 1);
    gtk_label_set_xalign (GTK_LABEL (line->name), 0);
    gtk_label_set_ellipsize (GTK_LABEL (line->name), PANGO_ELLIPSIZE_END);
  }
  gtk_widget_set_hexpand (line->name, TRUE);
  gtk_label_set_xalign (GTK_LABEL (line->trouble), 0);
  gtk_label_set_wrap (GTK_LABEL (line->trouble), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (line->trouble), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (GTK_LABEL (line->trouble), TRUE);
  gtk_widget_add_css_class (line->trouble, "wrong");
  gtk_widget_set_visible (line->trouble, FALSE);
  gtk_grid_attach (grid, line->name, kind != SP_RESOURCE_MASK, (int) kind * 2, kind == SP_RESOURCE_MASK ? 2 : 1, 1);
  line->file = new_button (line, _ ("From a file\xe2\x80\xa6"), _ (kinds[kind].file_tip), G_CALLBACK (on_ask));
  gtk_grid_attach (grid, line->file, 2, (int) kind * 2, 1, 1);
  gtk_grid_attach (grid, line->bench, 3, (int) kind * 2, 1, 1);
  gtk_grid_attach (grid, line->trouble, 0, (int) kind * 2 + 1, 4, 1);
}

GtkWidget *
sp_condition_resources_new (SpDialog *dialog)
{
  SpConditionResources *self = g_object_new (SP_TYPE_CONDITION_RESOURCES, "column-spacing", 8, NULL);
  self->dialog = dialog;
  gtk_widget_add_css_class (GTK_WIDGET (self), "tight");
  for (int kind = SP_RESOURCE_CHAIN; kind <= SP_RESOURCE_MASK; kind++)
    add_line (self, (SpResourceKind) kind);
  return GTK_WIDGET (self);
}

static void
sp_condition_resources_class_init (SpConditionResourcesClass *klass)
{
  (void) klass;
}

static void
sp_condition_resources_init (SpConditionResources *self)
{
  (void) self;
}
