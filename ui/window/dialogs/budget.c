/* budget.c - the window of an uncertainty budget */
#include "ui/window/dialogs/budget.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/report/table.h"
#include "ui/window/dialogs/budget-rows.h"
#include "ui/window/widgets/dialog.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/entry.h"
#include "ui/window/widgets/fields.h"
#include "ui/window/widgets/table.h"
#include "ui/words/words.h"

#define TERM_CHARS 24 /* at least, however large the text */
#define DRAWS_LEAST 1000
#define DRAWS_MOST 10000000
#define DRAWS_FIRST 200000

#define SP_TYPE_BUDGET_WINDOW (sp_budget_window_get_type ())
G_DECLARE_FINAL_TYPE (SpBudgetWindow, sp_budget_window, SP, BUDGET_WINDOW, GtkWindow)

struct _SpBudgetWindow {
  GtkWindow parent_instance;
  SpSession *session;
  GCancellable *drawing; /* NULL: nothing is being drawn */
  gboolean following;    /* the list of levels follows the session */
  GtkWidget *draws, *seed;
  /* of the template */
  GtkWidget *head, *choice, *view, *bottom, *says, *spinner, *draws_label, *seed_label, *button;
};

G_DEFINE_FINAL_TYPE (SpBudgetWindow, sp_budget_window, GTK_TYPE_WINDOW)

/* ---- what is shown ---- */

/* FALSE: nothing was judged yet. */
static gboolean
source_of (SpBudgetWindow *self, SpUncertaintySource *source)
{
  SpFindings *findings = sp_session_findings (self->session);
  guint condition = sp_session_condition (self->session);
  int emission = sp_session_emission (self->session);
  if (!findings || condition >= findings->n)
    return FALSE;
  gboolean there = emission >= 0 && emission < (int) findings->conditions[condition].n_emissions;
  *source = sp_uncertainty_source (findings, condition, there ? emission : SP_SOURCE_POWER);
  return TRUE;
}

static GListModel *
children_of (gpointer row, gpointer data)
{
  (void) data;
  GListModel *children = sp_budget_row_children (row);
  return children ? g_object_ref (children) : NULL;
}

static void
show_rows (SpBudgetWindow *self, const SpUncertaintySource *source, const SpBudgetDrawn *drawn)
{
  GListModel *rows = sp_budget_rows_new (sp_session_findings (self->session), source, drawn);
  GtkTreeListModel *tree = gtk_tree_list_model_new (rows, FALSE, FALSE, children_of, NULL, NULL);
  g_autoptr (GtkSingleSelection) selection = gtk_single_selection_new (G_LIST_MODEL (tree));
  gtk_column_view_set_model (GTK_COLUMN_VIEW (self->view), GTK_SELECTION_MODEL (selection));
}

static char *
heading (const SpUncertaintySource *source)
{
  g_autofree char *name = source->emission ? sp_words_emission (source->emission, SP_HAND_SCREEN) : g_strdup (_ ("fundamental"));
  if (source->budget->n == 0)
    return g_strdup_printf (_ ("%s, %s: not swept, so there is no level to be unsure of"), source->found->name, name);
  g_autofree char *level = sp_words_level (source->level_dbm, 2, SP_HAND_SCREEN);
  g_autofree char *u = sp_words_number (source->budget->expanded_level_db, 2, SP_HAND_SCREEN);
  return g_strdup_printf (_ ("%s, %s: %s \xc2\xb1 %s\342\200\257dB"), source->found->name, name, level, u);
}

static void
show_levels (SpBudgetWindow *self, const SpUncertaintySource *source)
{
  GtkStringList *names = gtk_string_list_new (NULL);
  gtk_string_list_append (names, _ ("fundamental"));
  for (guint i = 0; i < source->found->n_emissions; i++)
    gtk_string_list_take (names, sp_words_emission (&source->found->emissions[i], SP_HAND_SCREEN));
  self->following = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->choice), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->choice),
                              source->emission ? (guint) (source->emission - source->found->emissions) + 1 : 0);
  self->following = FALSE;
  g_object_unref (names);
}

static void
follow (SpBudgetWindow *self)
{
  SpUncertaintySource source;
  g_cancellable_cancel (self->drawing);
  gtk_label_set_text (GTK_LABEL (self->says), "");
  if (!source_of (self, &source))
    return;
  g_autofree char *head = heading (&source);
  gtk_label_set_text (GTK_LABEL (self->head), head);
  show_levels (self, &source);
  show_rows (self, &source, NULL);
  gtk_widget_set_sensitive (self->button, source.budget->n > 0);
}

static void
on_level (SpBudgetWindow *self)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->choice));
  if (!self->following && chosen != GTK_INVALID_LIST_POSITION)
    sp_session_choose (self->session, sp_session_condition (self->session), (int) chosen - 1);
}

/* ---- draws: in a thread of their own, of findings that the task keeps ---- */

typedef struct {
  SpFindings *findings;
  SpUncertaintySource source;
  guint64 n, seed;
  SpBudgetDrawn drawn;
} Drawing;

static void
drawing_free (gpointer data)
{
  Drawing *drawing = data;
  sp_findings_unref (drawing->findings);
  g_free (drawing);
}

static void
draw (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Drawing *d = data;
  (void) source;
  g_task_return_boolean (task,
                         sp_budget_draw (d->source.budget, d->source.slope, d->source.margin_db, d->n, d->seed, cancellable, &d->drawn));
}

static void
set_drawing (SpBudgetWindow *self, GCancellable *drawing)
{
  g_clear_object (&self->drawing);
  self->drawing = drawing;
  gtk_button_set_label (GTK_BUTTON (self->button), drawing ? _ ("Stop drawing") : _ ("Draw by Monte Carlo"));
  gtk_spinner_set_spinning (GTK_SPINNER (self->spinner), drawing != NULL);
}

static void
on_drawn (GObject *source, GAsyncResult *result, gpointer data)
{
  SpBudgetWindow *self = SP_BUDGET_WINDOW (source);
  Drawing *d = g_task_get_task_data (G_TASK (result));
  (void) data;
  gboolean done = g_task_propagate_boolean (G_TASK (result), NULL);
  if (self->drawing != g_task_get_cancellable (G_TASK (result))) /* closed meanwhile */
    return;
  set_drawing (self, NULL);
  if (!done || d->findings != sp_session_findings (self->session))
    return;
  show_rows (self, &d->source, &d->drawn);
  g_autofree char *conform = d->source.emission && !isnan (d->source.emission->conformity)
                                 ? sp_words_number (100 * d->drawn.column[SP_BUDGET_MARGIN].above_zero, 2, SP_HAND_SCREEN)
                                 : NULL;
  g_autofree char *n = sp_words_number ((double) d->n, 0, SP_HAND_SCREEN);
  g_autofree char *says
      = conform ? g_strdup_printf (_ ("%s draws: within the limit in %s %% of them. Deviations from the estimates, and the margin itself."),
                                   n, conform)
                : g_strdup_printf (_ ("%s draws: deviations from the estimates."), n);
  gtk_label_set_text (GTK_LABEL (self->says), says);
}

static void
on_draw (SpBudgetWindow *self)
{
  SpUncertaintySource source;
  if (self->drawing) {
    g_cancellable_cancel (self->drawing);
    return;
  }
  if (!source_of (self, &source) || !source.budget->n)
    return;
  Drawing *d = g_new0 (Drawing, 1);
  d->findings = sp_findings_ref (sp_session_findings (self->session));
  d->source = source;
  d->n = (guint64) gtk_spin_button_get_value (GTK_SPIN_BUTTON (self->draws));
  d->seed = (guint64) gtk_spin_button_get_value (GTK_SPIN_BUTTON (self->seed));
  set_drawing (self, g_cancellable_new ());
  GTask *task = g_task_new (self, self->drawing, on_drawn, NULL);
  g_task_set_return_on_cancel (task, FALSE);
  g_task_set_check_cancellable (task, FALSE); /* on_drawn looks itself */
  g_task_set_task_data (task, d, drawing_free);
  g_task_run_in_thread (task, draw);
  g_object_unref (task);
}

/* ---- the tree ---- */

static void
set_up (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  SpBudgetCell cell = GPOINTER_TO_UINT (data);
  (void) factory;
  GtkWidget *label = gtk_label_new ("");
  gboolean words = cell == BUDGET_TERM || cell == BUDGET_DISTRIBUTION || cell == BUDGET_SOURCE;
  gtk_label_set_xalign (GTK_LABEL (label), words ? 0 : 1);
  gtk_widget_set_hexpand (label, TRUE);
  if (words)
    gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  if (cell == BUDGET_SOURCE) {
    gtk_label_set_wrap (GTK_LABEL (label), TRUE);
    gtk_label_set_lines (GTK_LABEL (label), 2);
  }
  if (cell == BUDGET_TERM) {
    GtkWidget *expander = gtk_tree_expander_new ();
    gtk_label_set_width_chars (GTK_LABEL (label), TERM_CHARS);
    gtk_tree_expander_set_child (GTK_TREE_EXPANDER (expander), label);
    gtk_list_item_set_child (item, expander);
  } else {
    gtk_list_item_set_child (item, label);
  }
}

static void
bind (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  SpBudgetCell cell = GPOINTER_TO_UINT (data);
  (void) factory;
  GtkTreeListRow *at = gtk_list_item_get_item (item);
  g_autoptr (SpBudgetRow) row = gtk_tree_list_row_get_item (at);
  GtkWidget *label = gtk_list_item_get_child (item);
  if (cell == BUDGET_TERM) {
    gtk_tree_expander_set_list_row (GTK_TREE_EXPANDER (label), at);
    label = gtk_tree_expander_get_child (GTK_TREE_EXPANDER (label));
  }
  const char *text = sp_budget_row_text (row, cell);
  gtk_label_set_text (GTK_LABEL (label), text);
  g_autofree char *said = cell == BUDGET_TERM && sp_budget_row_is_assumed (row)
                              ? g_strdup_printf (_ ("%s, assumed: nobody stated it"), text)
                              : NULL;
  gtk_accessible_update_property (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_PROPERTY_LABEL, said ? said : text, -1);
  gtk_widget_remove_css_class (label, "strong");
  gtk_widget_remove_css_class (label, "soft");
  if (sp_budget_row_is_sum (row))
    gtk_widget_add_css_class (label, "strong");
  else if (gtk_tree_list_row_get_depth (at) > 0)
    gtk_widget_add_css_class (label, "soft");
}

static void
unbind (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  GtkWidget *child = gtk_list_item_get_child (item);
  (void) factory, (void) data;
  if (GTK_IS_TREE_EXPANDER (child))
    gtk_tree_expander_set_list_row (GTK_TREE_EXPANDER (child), NULL);
}

/* Enter or a double click opens and closes a row. */
static void
activated (GtkColumnView *view, guint position)
{
  g_autoptr (GtkTreeListRow) row = g_list_model_get_item (G_LIST_MODEL (gtk_column_view_get_model (view)), position);
  if (row && gtk_tree_list_row_is_expandable (row))
    gtk_tree_list_row_set_expanded (row, !gtk_tree_list_row_get_expanded (row));
}

static const struct {
  const char *title, *tip;
  int width;
} columns[BUDGET_CELLS] = {
  [BUDGET_TERM] = { N_ ("term"),
                    N_ ("One source of uncertainty; the chain opens into its stages, a stage into its run. * nobody stated it: common "
                        "practice."),
                    -1 },
  [BUDGET_ESTIMATE] = { N_ ("estimate, dB"), N_ ("The best value of the quantity itself; 0 where it is not corrected for."), 84 },
  [BUDGET_WIDTH] = { N_ ("width, dB"), N_ ("As stated, before the divisor."), 66 },
  [BUDGET_DISTRIBUTION] = { N_ ("distribution"), N_ ("What is taken to be likely within the width."), 92 },
  [BUDGET_DIVISOR] = { N_ ("divisor"), N_ ("Width over divisor is the standard uncertainty; every sensitivity is 1, because decibels add."),
                       52 },
  [BUDGET_LEVEL] = { N_ ("u dBm"), N_ ("What it does to the level at the socket."), 60 },
  [BUDGET_POWER] = { N_ ("u of P"), N_ ("What it does to the radio's power."), 60 },
  [BUDGET_DBC] = { N_ ("u dBc"), N_ ("What it does to the level against the fundamental: what both share cancels."), 60 },
  [BUDGET_MARGIN] = { N_ ("u margin"), N_ ("What it does to the margin, whose limit may follow the power."), 68 },
  [BUDGET_DOF] = { N_ ("dof"), N_ ("Degrees of freedom of the level's share; infinite where nothing was repeated."), 40 },
  [BUDGET_SOURCE] = { N_ ("source"), N_ ("Who states it."), 160 },
};

static void
add_columns (SpBudgetWindow *self)
{
  static const SpTableCells cells = { set_up, bind, unbind };
  for (guint i = 0; i < BUDGET_CELLS; i++)
    sp_table_add_column (GTK_COLUMN_VIEW (self->view), _ (columns[i].title), columns[i].width, &cells, i);
  sp_table_align_titles (GTK_COLUMN_VIEW (self->view), "lrrlrrrrrrl");
  sp_table_name (GTK_COLUMN_VIEW (self->view), _ ("Terms of the uncertainty budget"));
  for (guint i = 0; i < BUDGET_CELLS; i++)
    sp_table_explain_title (GTK_COLUMN_VIEW (self->view), i, _ (columns[i].tip));
}

/* ---- the window ---- */

static void
copy (GtkWidget *widget, const char *action, GVariant *parameter)
{
  SpBudgetWindow *self = SP_BUDGET_WINDOW (widget);
  SpUncertaintySource source;
  (void) action, (void) parameter;
  if (!source_of (self, &source))
    return;
  g_autofree char *text = sp_table_budget (&source, sp_uncertainty_source_chain (sp_session_findings (self->session), &source), NULL, 0, 0);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (widget), text);
}

static void
draw_by_key (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  on_draw (SP_BUDGET_WINDOW (widget));
}

/* A draw under way keeps the window until it is done; its result is dropped. */
static void
sp_budget_window_dispose (GObject *object)
{
  SpBudgetWindow *self = SP_BUDGET_WINDOW (object);
  g_cancellable_cancel (self->drawing);
  g_clear_object (&self->drawing);
  G_OBJECT_CLASS (sp_budget_window_parent_class)->dispose (object);
}

static void
sp_budget_window_finalize (GObject *object)
{
  g_clear_object (&SP_BUDGET_WINDOW (object)->session);
  G_OBJECT_CLASS (sp_budget_window_parent_class)->finalize (object);
}

static void
sp_budget_window_class_init (SpBudgetWindowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  G_OBJECT_CLASS (klass)->dispose = sp_budget_window_dispose;
  G_OBJECT_CLASS (klass)->finalize = sp_budget_window_finalize;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/budget.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpBudgetWindow, name)
  PART (head), PART (choice), PART (view), PART (bottom), PART (says), PART (spinner), PART (draws_label), PART (seed_label), PART (button);
#undef PART
  gtk_widget_class_bind_template_callback (widget, on_level);
  gtk_widget_class_bind_template_callback (widget, activated);
  gtk_widget_class_bind_template_callback (widget, on_draw);
  gtk_widget_class_install_action (widget, "budget.copy", NULL, copy);
  gtk_widget_class_install_action (widget, "budget.draw", NULL, draw_by_key);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Escape, 0, "window.close", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_c, GDK_CONTROL_MASK, "budget.copy", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Return, GDK_CONTROL_MASK, "budget.draw", NULL);
}

static void
sp_budget_window_init (SpBudgetWindow *self)
{
  self->following = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->following = FALSE;
  sp_drop_down_speak (self->choice, _ ("Level whose budget is shown"));
  self->draws = sp_entry_spin_new (_ ("Number of draws"), DRAWS_LEAST, DRAWS_MOST, 100000, DRAWS_FIRST);
  self->seed = sp_entry_spin_new (_ ("Seed of the draws"), 0, 1e9, 1, 1);
  gtk_box_insert_child_after (GTK_BOX (self->bottom), self->draws, self->draws_label);
  gtk_box_insert_child_after (GTK_BOX (self->bottom), self->seed, self->seed_label);
  add_columns (self);
}

static SpBudgetWindow *
budget_new (GtkWindow *parent, SpSession *session)
{
  static const char *const followed[] = { "notify::findings", "notify::emission", "notify::condition" };
  SpBudgetWindow *self = g_object_new (SP_TYPE_BUDGET_WINDOW, NULL);
  sp_dialog_set_parent (GTK_WINDOW (self), parent);
  self->session = g_object_ref (session);
  sp_entry_add_undo_keys (GTK_WIDGET (self), session);
  for (guint i = 0; i < G_N_ELEMENTS (followed); i++)
    g_signal_connect_object (session, followed[i], G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  return self;
}

void
sp_budget_present (GtkWindow *parent, SpSession *session)
{
  if (!sp_session_findings (session))
    return;
  SpBudgetWindow *there = sp_dialog_over (parent, SP_TYPE_BUDGET_WINDOW), *self = there ? there : budget_new (parent, session);
  follow (self);
  gtk_window_present (GTK_WINDOW (self));
}
