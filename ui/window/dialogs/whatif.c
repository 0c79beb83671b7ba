/* whatif.c - the window of what would move */
#include "ui/window/dialogs/whatif.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/book/book.h"
#include "core/compare/compare.h"
#include "core/judge/judge.h"
#include "ui/report/table.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/table.h"
#include "ui/words/words.h"

#define WIDTH 1090
#define HEIGHT 600

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

/* What a row shows: one of the three. A condition's says what its emissions' rows say, of P and of the worst margin. */
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

/* The greatest of what is all but one number; the tooltip and the copied text have both ends. */
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
add_row (GListStore *rows, Held *held, guint index)
{
  SpMoveItem *item = g_object_new (SP_TYPE_MOVE_ITEM, NULL);
  item->held = g_rc_box_acquire (held);
  item->index = index;
  g_list_store_append (rows, item);
  g_object_unref (item);
}

/* Each condition, below it what moved in it and stands for itself, and at the end what moves alike. */
static void
fill_rows (GListStore *rows, Held *held, SpMovesShown shown)
{
  const SpMoves *moves = held->moves;
  g_list_store_remove_all (rows);
  for (guint i = 0; i < moves->n_conditions; i++) {
    if (shown != SP_MOVES_NOTABLE || moves->conditions[i].notable)
      add_row (rows, held, i);
    for (guint j = 0; j < moves->n_moved; j++)
      if (strcmp (moves->moved[j].name, moves->conditions[i].name) == 0 && sp_move_is_shown (&moves->moved[j], shown))
        add_row (rows, held, moves->n_conditions + j);
  }
  for (guint k = 0; shown == SP_MOVES_ALIKE && k < moves->n_alike; k++)
    add_row (rows, held, moves->n_conditions + moves->n_moved + k);
}

static GtkWidget *
table_of (Held *held, GListStore *rows)
{
  static const SpTableCells cells = { set_up, bind, NULL };
  GtkWidget *view = gtk_column_view_new (NULL);
  fill_rows (rows, held, SP_MOVES_ALIKE);
  for (guint i = 0; i < N_COLUMNS; i++)
    sp_table_add_column (GTK_COLUMN_VIEW (view), _ (columns[i].title), columns[i].width, &cells, i);
  g_autoptr (GtkSingleSelection) selection = gtk_single_selection_new (g_object_ref (G_LIST_MODEL (rows)));
  gtk_column_view_set_model (GTK_COLUMN_VIEW (view), GTK_SELECTION_MODEL (selection));
  gtk_widget_add_css_class (view, "data-table");
  sp_table_align_titles (GTK_COLUMN_VIEW (view), "llrrrrrlll");
  sp_table_name (GTK_COLUMN_VIEW (view), _ ("What would move"));
  for (guint i = 0; i < N_COLUMNS; i++)
    sp_table_explain_title (GTK_COLUMN_VIEW (view), i, _ (columns[i].tip));
  return view;
}

/* ---- the window ---- */

static GtkWidget *
sentence (const char *text, const char *class)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, class);
  return label;
}

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

/* The first condition whose calibration is another says which it was and would be. */
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

static gboolean
close_window (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  (void) arguments, (void) data;
  gtk_window_close (GTK_WINDOW (widget));
  return TRUE;
}

/* What the table shows is also what is copied. */
typedef struct {
  Held *held;
  GListStore *rows;
  GtkDropDown *choice;
} Shown;

static void
shown_free (gpointer data)
{
  Shown *shown = data;
  held_unref (shown->held);
  g_object_unref (shown->rows);
  g_free (shown);
}

static gboolean
copy (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  Shown *shown = data;
  (void) arguments;
  g_autoptr (SpComparison) comparison = sp_compare (shown->held->before);
  g_autofree char *text = sp_table_compare (comparison, shown->held->moves, gtk_drop_down_get_selected (shown->choice));
  gdk_clipboard_set_text (gtk_widget_get_clipboard (widget), text);
  return TRUE;
}

static void
on_copy (GtkWidget *button, gpointer shown)
{
  copy (button, NULL, shown);
}

static void
on_chosen (GtkDropDown *choice, GParamSpec *spec, gpointer data)
{
  Shown *shown = data;
  (void) spec;
  fill_rows (shown->rows, shown->held, gtk_drop_down_get_selected (choice));
}

/* In the order of SpMovesShown. */
static GtkWidget *
choice_new (Shown *shown)
{
  const char *names[] = { _ ("What moves alike in one row"), _ ("Every emission"), _ ("Only what flips or moves beyond U"), NULL };
  GtkWidget *choice = gtk_drop_down_new_from_strings (names);
  gtk_widget_set_halign (choice, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (choice, _ ("Which rows the table shows, and the copied text with it."));
  gtk_accessible_update_property (GTK_ACCESSIBLE (choice), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Rows shown"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_first_child (choice)), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Rows shown"),
                                  -1);
  g_signal_connect (choice, "notify::selected", G_CALLBACK (on_chosen), shown);
  shown->choice = GTK_DROP_DOWN (choice);
  return choice;
}

static void
present (GtkWindow *parent, Held *held, const char *file)
{
  GtkWidget *window = gtk_window_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8), *scroller = gtk_scrolled_window_new ();
  GtkWidget *button = gtk_button_new_with_label (_ ("Copy as text"));
  Shown *shown = g_new0 (Shown, 1);
  GtkEventController *keys = gtk_shortcut_controller_new ();
  g_autofree char *head = heading (held, file), *chains = chains_of (held->moves);
  *shown = (Shown){ g_rc_box_acquire (held), g_list_store_new (SP_TYPE_MOVE_ITEM), NULL };
  g_object_set_data_full (G_OBJECT (window), "shown", shown, shown_free);
  sp_pages_style ();
  gtk_window_set_title (GTK_WINDOW (window), _ ("What would move"));
  gtk_window_set_transient_for (GTK_WINDOW (window), parent);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (window), TRUE);
  gtk_window_set_default_size (GTK_WINDOW (window), WIDTH, HEIGHT);
  gtk_widget_add_css_class (window, "sheet");
  gtk_widget_add_css_class (window, "forms");
  gtk_widget_set_margin_start (box, 20);
  gtk_widget_set_margin_end (box, 20);
  gtk_widget_set_margin_top (box, 14);
  gtk_widget_set_margin_bottom (box, 14);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), table_of (held, shown->rows));
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_halign (button, GTK_ALIGN_END);
  gtk_widget_set_tooltip_text (button, _ ("Puts the table on the clipboard as lines of text (Ctrl+C)."));
  g_signal_connect (button, "clicked", G_CALLBACK (on_copy), shown);
  gtk_box_append (GTK_BOX (box), sentence (head, "heading"));
  gtk_box_append (GTK_BOX (box), sentence (chains, "soft"));
  gtk_box_append (GTK_BOX (box), choice_new (shown));
  gtk_box_append (GTK_BOX (box), scroller);
  gtk_box_append (GTK_BOX (box), button);
  gtk_window_set_child (GTK_WINDOW (window), box);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0),
                                                          gtk_callback_action_new (close_window, NULL, NULL)));
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_c, GDK_CONTROL_MASK),
                                                          gtk_callback_action_new (copy, shown, NULL)));
  gtk_widget_add_controller (window, keys);
  gtk_window_present (GTK_WINDOW (window));
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
