/* whatif.c - the window of what would move */
#include "ui/window/dialogs/whatif.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/book/book.h"
#include "core/compare/compare.h"
#include "core/judge/judge.h"
#include "ui/report/table.h"
#include "ui/window/widgets/dialog.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/table.h"
#include "ui/words/words.h"

/* ---- a row: an index into moves that it keeps ---- */

typedef struct {
  SpFindings *before, *after;
  SpMoves *moves;
} Held;

static void
held_clear (gpointer data)
{
  Held *held = data;
  sp_moves_free (held->moves);
  g_clear_pointer (&held->before, sp_findings_unref);
  g_clear_pointer (&held->after, sp_findings_unref);
}

static void
held_unref (gpointer held)
{
  g_rc_box_release_full (held, held_clear);
}

#define SP_TYPE_MOVE_ITEM (sp_move_item_get_type ())
G_DECLARE_FINAL_TYPE (SpMoveItem, sp_move_item, SP, MOVE_ITEM, GObject)

struct _SpMoveItem {
  GObject parent_instance;
  Held *held;
  guint index; /* conditions first, then what moved in them, then what moves alike */
};

G_DEFINE_FINAL_TYPE (SpMoveItem, sp_move_item, G_TYPE_OBJECT)

static void
sp_move_item_finalize (GObject *object)
{
  held_unref (SP_MOVE_ITEM (object)->held);
  G_OBJECT_CLASS (sp_move_item_parent_class)->finalize (object);
}

static void
sp_move_item_class_init (SpMoveItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_move_item_finalize;
}

static void
sp_move_item_init (SpMoveItem *self)
{
  (void) self;
}

/* A row shows one of the three; a condition's row is about P and the worst margin. */
typedef struct {
  const SpConditionMove *condition;
  const SpMove *move;
  const SpAlike *alike;
} Row;

static Row
row_of (SpMoveItem *item)
{
  const SpMoves *moves = item->held->moves;
  guint i = item->index;
  if (i < moves->n_conditions)
    return (Row){ .condition = &moves->conditions[i] };
  i -= moves->n_conditions;
  if (i < moves->n_moved)
    return (Row){ .move = &moves->moved[i] };
  return (Row){ .alike = &moves->alike[i - moves->n_moved] };
}

/* ---- the window ---- */

#define SP_TYPE_MOVES_WINDOW (sp_moves_window_get_type ())
G_DECLARE_FINAL_TYPE (SpMovesWindow, sp_moves_window, SP, MOVES_WINDOW, GtkWindow)

struct _SpMovesWindow {
  GtkWindow parent_instance;
  Held *held;
  /* of the template */
  GListStore *rows;
  GtkWidget *head, *chains, *choice, *view; /* choice: in the order of SpMovesShown */
};

G_DEFINE_FINAL_TYPE (SpMovesWindow, sp_moves_window, GTK_TYPE_WINDOW)

/* ---- columns ---- */

typedef enum { NAME, WHAT, LEVEL, LIMIT, MARGIN, U_BEFORE, U_AFTER, BEFORE, AFTER, FLIPS, N_COLUMNS } Column;

static char *
what_of (const SpMove *move)
{
  SpEmission emission = { .order = move->order, .frequency_hz = move->frequency_hz };
  return sp_words_emission (&emission, SP_HAND_SCREEN);
}

static char *
verdict_text (const SpVerdictThen *then)
{
  return g_strdup (then->there ? sp_words_verdict (then->verdict) : _ ("not there"));
}

static char *
moved_by (double change_db)
{
  return isnan (change_db) ? g_strdup ("") : sp_words_signed (change_db, 2, SP_HAND_SCREEN);
}

static char *
u_text (double expanded_db)
{
  return isnan (expanded_db) ? g_strdup ("") : sp_words_number (expanded_db, 2, SP_HAND_SCREEN);
}

static char *
condition_text (const SpConditionMove *c, Column column)
{
  switch (column) {
  case NAME: return g_strdup (c->name);
  case WHAT: return g_strdup (_ ("all of it; its power"));
  case LEVEL: return moved_by (c->power_change_db);
  case MARGIN: return moved_by (c->worst_margin_change_db);
  case BEFORE: return verdict_text (&c->before);
  case AFTER: return verdict_text (&c->after);
  case FLIPS: return g_strdup (c->flips ? _ ("flips") : "");
  default: return g_strdup ("");
  }
}

static char *
emission_text (const SpMove *m, Column column)
{
  switch (column) {
  case NAME: return g_strdup (m->name);
  case WHAT: return what_of (m);
  case LEVEL: return moved_by (m->level_change_db);
  case LIMIT: return moved_by (m->limit_change_db);
  case MARGIN: return moved_by (m->margin_change_db);
  case U_BEFORE: return u_text (m->expanded_before_db);
  case U_AFTER: return u_text (m->expanded_after_db);
  case BEFORE: return verdict_text (&m->before);
  case AFTER: return verdict_text (&m->after);
  case FLIPS: return g_strdup (m->flips ? _ ("flips") : "");
  default: g_return_val_if_reached (NULL);
  }
}

/* Shows the greatest of a narrow range; the tooltip and the copied text have both ends. */
static char *
alike_text (const SpAlike *a, Column column)
{
  switch (column) {
  case NAME: return g_strdup (_ ("alike"));
  case WHAT: return g_strdup_printf (ngettext ("%u emission", "%u emissions", a->n), a->n);
  case LEVEL: return moved_by (a->level.high_db);
  case LIMIT: return moved_by (a->limit.high_db);
  case MARGIN: return moved_by (a->margin.high_db);
  default: return g_strdup ("");
  }
}

static char *
cell_text (SpMoveItem *item, Column column)
{
  Row row = row_of (item);
  return row.condition ? condition_text (row.condition, column)
         : row.move    ? emission_text (row.move, column)
                       : alike_text (row.alike, column);
}

static const struct {
  const char *title, *tip;
  int width;
  gboolean number;
} columns[N_COLUMNS] = {
  [NAME] = { N_ ("radio"), N_ ("The radio, and its condition."), 150, FALSE },
  [WHAT] = { N_ ("what"), N_ ("The condition as a whole, or one emission of it."), -1, FALSE },
  [LEVEL] = { N_ ("level moves, dB"), N_ ("Level with the other, less the level now; of the whole its power."), 120, TRUE },
  [LIMIT] = { N_ ("limit moves, dB"), N_ ("Limit with the other, less the limit now: it moves with the power where it follows the power."),
              116, TRUE },
  [MARGIN] = { N_ ("margin moves, dB"), N_ ("Margin with the other, less the margin now; of the whole its worst."), 130, TRUE },
  [U_BEFORE] = { N_ ("U now, dB"), N_ ("Expanded uncertainty of the margin now."), 84, TRUE },
  [U_AFTER] = { N_ ("U then, dB"), N_ ("Expanded uncertainty of the margin with the other."), 86, TRUE },
  [BEFORE] = { N_ ("verdict now"), N_ ("As it is judged now."), 106, FALSE },
  [AFTER] = { N_ ("verdict then"), N_ ("As it would be judged with the other."), 106, FALSE },
  [FLIPS] = { N_ ("flips"), N_ ("Where the verdict is another."), 52, FALSE },
};

static void
set_up (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  Column column = GPOINTER_TO_UINT (data);
  (void) factory;
  GtkWidget *label = gtk_label_new ("");
  gtk_label_set_xalign (GTK_LABEL (label), columns[column].number ? 1 : 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), columns[column].number ? PANGO_ELLIPSIZE_NONE : PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_list_item_set_child (item, label);
}

static void
bind (GtkSignalListItemFactory *factory, GtkListItem *list_item, gpointer data)
{
  Column column = GPOINTER_TO_UINT (data);
  (void) factory;
  SpMoveItem *item = gtk_list_item_get_item (list_item);
  GtkWidget *label = gtk_list_item_get_child (list_item);
  Row row = row_of (item);
  g_autofree char *text = cell_text (item, column), *by = row.alike ? sp_words_alike (row.alike, SP_HAND_SCREEN) : NULL;
  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_tooltip_text (label, by);
  gtk_widget_remove_css_class (label, "strong");
  if (row.condition || column == FLIPS || (column == AFTER && row.move && row.move->flips))
    gtk_widget_add_css_class (label, "strong");
}

static void
add_columns (GtkColumnView *view)
{
  static const SpTableCells cells = { set_up, bind, NULL };
  for (guint i = 0; i < N_COLUMNS; i++)
    sp_table_add_column (view, _ (columns[i].title), columns[i].width, &cells, i);
  sp_table_align_titles (view, "llrrrrrlll");
  sp_table_name (view, _ ("What would move"));
  for (guint i = 0; i < N_COLUMNS; i++)
    sp_table_explain_title (view, i, _ (columns[i].tip));
}

/* ---- rows ---- */

static void
add_row (SpMovesWindow *self, guint index)
{
  SpMoveItem *item = g_object_new (SP_TYPE_MOVE_ITEM, NULL);
  item->held = g_rc_box_acquire (self->held);
  item->index = index;
  g_list_store_append (self->rows, item);
  g_object_unref (item);
}

/* Lists each condition with the moves of its own below it, and at the end what moves alike. */
static void
fill_rows (SpMovesWindow *self)
{
  if (!self->held)
    return;
  const SpMoves *moves = self->held->moves;
  SpMovesShown shown = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->choice));
  g_list_store_remove_all (self->rows);
  for (guint i = 0; i < moves->n_conditions; i++) {
    if (shown != SP_MOVES_NOTABLE || moves->conditions[i].notable)
      add_row (self, i);
    for (guint j = 0; j < moves->n_moved; j++)
      if (strcmp (moves->moved[j].name, moves->conditions[i].name) == 0 && sp_move_is_shown (&moves->moved[j], shown))
        add_row (self, moves->n_conditions + j);
  }
  for (guint k = 0; shown == SP_MOVES_ALIKE && k < moves->n_alike; k++)
    add_row (self, moves->n_conditions + moves->n_moved + k);
}

/* ---- in words ---- */

static char *
heading (const Held *held, const char *file)
{
  const SpMoves *moves = held->moves;
  if (!moves->n_moved)
    return g_strdup_printf (_ ("Nothing would move with %s."), file);
  g_autofree char *emissions = g_strdup_printf (ngettext ("%u emission", "%u emissions", moves->n_moved), moves->n_moved);
  if (!moves->n_flips && !moves->n_condition_flips)
    return g_strdup_printf (_ ("With %s %s would move, and no verdict would flip."), file, emissions);
  return g_strdup_printf (_ ("With %s %s would move; verdicts flip: %u of emissions, %u of conditions."), file, emissions, moves->n_flips,
                          moves->n_condition_flips);
}

/* Names both chains of the first condition whose calibration differs. */
static char *
chains_of (const SpMoves *moves)
{
  for (guint i = 0; i < moves->n_conditions; i++) {
    const SpConditionMove *c = &moves->conditions[i];
    if (c->chain_before_sha256 && c->chain_after_sha256 && strcmp (c->chain_before_sha256, c->chain_after_sha256) != 0)
      return g_strdup_printf (_ ("Chain now: %s (%.12s). Then: %s (%.12s)."), c->chain_before, c->chain_before_sha256, c->chain_after,
                              c->chain_after_sha256);
  }
  return g_strdup (_ ("The same chain in both."));
}

/* Copies what the table shows. */
static void
copy (GtkWidget *widget, const char *action, GVariant *parameter)
{
  SpMovesWindow *self = SP_MOVES_WINDOW (widget);
  (void) action, (void) parameter;
  g_autoptr (SpComparison) comparison = sp_compare (self->held->before);
  g_autofree char *text = sp_table_compare (comparison, self->held->moves, gtk_drop_down_get_selected (GTK_DROP_DOWN (self->choice)));
  gdk_clipboard_set_text (gtk_widget_get_clipboard (widget), text);
}

static void
sp_moves_window_finalize (GObject *object)
{
  g_clear_pointer (&SP_MOVES_WINDOW (object)->held, held_unref);
  G_OBJECT_CLASS (sp_moves_window_parent_class)->finalize (object);
}

static void
sp_moves_window_class_init (SpMovesWindowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  g_type_ensure (SP_TYPE_MOVE_ITEM);
  G_OBJECT_CLASS (klass)->finalize = sp_moves_window_finalize;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/moves.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpMovesWindow, name)
  PART (rows), PART (head), PART (chains), PART (choice), PART (view);
#undef PART
  gtk_widget_class_bind_template_callback (widget, fill_rows);
  gtk_widget_class_install_action (widget, "moves.copy", NULL, copy);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Escape, 0, "window.close", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_c, GDK_CONTROL_MASK, "moves.copy", NULL);
}

static void
sp_moves_window_init (SpMovesWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_first_child (self->choice)), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Rows shown"), -1);
  add_columns (GTK_COLUMN_VIEW (self->view));
}

static void
present (GtkWindow *parent, Held *held, const char *file)
{
  SpMovesWindow *self = g_object_new (SP_TYPE_MOVES_WINDOW, NULL);
  sp_dialog_set_parent (GTK_WINDOW (self), parent);
  g_autofree char *head = heading (held, file), *chains = chains_of (held->moves);
  self->held = g_rc_box_acquire (held);
  gtk_label_set_text (GTK_LABEL (self->head), head);
  gtk_label_set_text (GTK_LABEL (self->chains), chains);
  fill_rows (self);
  gtk_window_present (GTK_WINDOW (self));
}

/* ---- reading and judging, in a thread of their own ---- */

typedef struct {
  SpSession *session;
  SpFindings *before;
  char *path, *name;
} Asked;

static void
asked_free (gpointer data)
{
  Asked *asked = data;
  g_object_unref (asked->session);
  sp_findings_unref (asked->before);
  g_free (asked->path);
  g_free (asked->name);
  g_free (asked);
}

static void
judge (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Asked *asked = data;
  GError *error = NULL;
  (void) source, (void) cancellable;
  g_autoptr (SpBench) other = sp_bench_beside (asked->before->bench, asked->path, TRUE, &error);
  if (!other) {
    g_task_return_error (task, error);
    return;
  }
  Held *held = g_rc_box_new0 (Held);
  held->before = sp_findings_ref (asked->before);
  held->after = sp_judge (other);
  held->moves = sp_compare_moves (held->before, held->after);
  g_task_return_pointer (task, held, held_unref);
}

static void
on_judged (GObject *source, GAsyncResult *result, gpointer data)
{
  Asked *asked = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  Held *held = g_task_propagate_pointer (G_TASK (result), &error);
  (void) data;
  if (held && !gtk_widget_in_destruction (GTK_WIDGET (source)))
    present (GTK_WINDOW (source), held, asked->name);
  if (!held)
    sp_session_trouble (asked->session, error->message, _ ("Nothing was changed: choose a chain, a bench book or a sheet."));
  g_clear_pointer (&held, held_unref);
}

void
sp_moves_show (GtkWindow *parent, SpSession *session, GFile *file)
{
  g_autofree char *path = g_file_get_path (file);
  if (!sp_session_findings (session) || !path)
    return;
  Asked *asked = g_new0 (Asked, 1);
  asked->session = g_object_ref (session);
  asked->before = sp_findings_ref (sp_session_findings (session));
  asked->path = g_steal_pointer (&path);
  asked->name = g_file_get_basename (file);
  g_autoptr (GTask) task = g_task_new (parent, NULL, on_judged, NULL);
  g_task_set_task_data (task, asked, asked_free);
  g_task_run_in_thread (task, judge);
}
