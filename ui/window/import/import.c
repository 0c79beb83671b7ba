/* import.c - the import window: files come in, are taken for something, and go into the bench in one edit */
#include "ui/window/import/import.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/window/import/import-private.h"
#include "ui/window/import/list-dialog.h"
#include "ui/window/widgets/dialog.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/words/words.h"
#include "window-resources.h"

G_DEFINE_FINAL_TYPE (SpImportWindow, sp_import_window, GTK_TYPE_WINDOW)

SpArrivalItem *
sp_import_window_chosen (SpImportWindow *self)
{
  return self->closed ? NULL : gtk_single_selection_get_selected_item (self->selection);
}

guint
sp_import_window_count (SpImportWindow *self)
{
  return g_list_model_get_n_items (G_LIST_MODEL (self->items));
}

SpArrivalItem *
sp_import_window_item (SpImportWindow *self, guint i)
{
  g_autoptr (SpArrivalItem) item = g_list_model_get_item (G_LIST_MODEL (self->items), i);
  return item; /* the store keeps it */
}

/* ---- buttons and counts ---- */

static gboolean
is_taken (const SpArrivalItem *item)
{
  return item->take && item->trace;
}

static gboolean
is_reading (SpImportWindow *self)
{
  for (guint i = 0; i < sp_import_window_count (self); i++)
    if (sp_import_window_item (self, i)->reading)
      return TRUE;
  return FALSE;
}

/* Of a new bench, by the sweeps that are taken; NaN. */
static double
day_taken (SpImportWindow *self, gboolean *stated)
{
  double said = NAN, written = NAN;
  for (guint i = 0; i < sp_import_window_count (self); i++) {
    const SpArrivalItem *item = sp_import_window_item (self, i);
    if (!is_taken (item))
      continue;
    said = fmax (said, item->stated_day); /* fmax passes a NaN over */
    written = fmax (written, item->written_day);
  }
  return sp_bench_first_day (sp_session_bench (self->session), said, written, stated);
}

static guint
not_understood (SpImportWindow *self)
{
  guint n = 0;
  for (guint i = 0; i < sp_import_window_count (self); i++)
    n += sp_import_window_item (self, i)->error != NULL;
  return n;
}

/* "12 of 12 files read, 1 of them not understood", and which day a new bench would take. (transfer full) */
static char *
progress_line (SpImportWindow *self, gboolean reading)
{
  gboolean stated;
  double day = reading ? NAN : day_taken (self, &stated);
  guint bad = reading ? 0 : not_understood (self);
  g_autofree char *files = g_strdup_printf (_ ("%u of %u files read"), self->read, self->of);
  g_autofree char *read = bad ? g_strdup_printf (ngettext ("%s, %u of them not understood", "%s, %u of them not understood", bad), files,
                                                 bad)
                              : g_strdup (files);
  if (isnan (day))
    return g_steal_pointer (&read);
  g_autofree char *says = sp_words_day_taken (day, stated);
  return g_strdup_printf ("%s. %s", read, says);
}

static void
refresh (SpImportWindow *self)
{
  guint taken = 0;
  gboolean reading = self->cancellable || self->naming || self->chains_read > 0 || is_reading (self);
  for (guint i = 0; i < sp_import_window_count (self); i++)
    taken += is_taken (sp_import_window_item (self, i));
  g_autofree char *text = g_strdup_printf (ngettext ("Import %u sweep", "Import %u sweeps", taken), taken);
  g_autofree char *progress = progress_line (self, reading);
  gtk_button_set_label (GTK_BUTTON (self->accept), text);
  gtk_widget_set_sensitive (self->accept, taken > 0 && !reading);
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), self->of ? (double) self->read / self->of : 0);
  gtk_label_set_text (GTK_LABEL (self->progress_text), self->of ? progress : "");
  gtk_widget_set_visible (self->progress, self->cancellable != NULL);
}

static gboolean
refresh_now (gpointer data)
{
  SpImportWindow *self = data;
  self->refresh_source = 0;
  refresh (self);
  return G_SOURCE_REMOVE;
}

/* Once for a hundred files that are read again. */
void
sp_import_window_refresh (SpImportWindow *self)
{
  if (!self->refresh_source)
    self->refresh_source = g_idle_add_full (GDK_PRIORITY_REDRAW - 5, refresh_now, self, NULL);
}

void
sp_import_window_trouble (SpImportWindow *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->trouble), text ? text : "");
  gtk_widget_set_tooltip_text (self->trouble, text);
}

static void
show_left_out (SpImportWindow *self)
{
  g_autofree char *text = NULL;
  if (self->left_out > 0)
    text = g_strdup_printf (_ ("Not listed: %u, beyond %u files and %u sweeps at once; import them afterwards."), self->left_out,
                            SP_ARRIVALS_MOST, SP_IMPORT_SWEEPS_MOST);
  sp_import_window_trouble (self, text);
}

/* ---- proposals ---- */

static gboolean
settle_now (gpointer data)
{
  SpImportWindow *self = data;
  self->settle_source = 0;
  sp_import_names_propose_all (self);
  if (!self->cancellable)
    sp_import_settings_ask (self);
  sp_import_details_fill (self);
  refresh (self);
  return G_SOURCE_REMOVE;
}

void
sp_import_window_settle (SpImportWindow *self)
{
  if (!self->settle_source)
    self->settle_source = g_idle_add_full (GDK_PRIORITY_REDRAW - 5, settle_now, self, NULL);
}

/* ---- arrivals ---- */

/* Where the bench has each of its sweeps, so that the same one is not taken twice by mistake. */
static void
learn_bench (SpImportWindow *self)
{
  const SpBench *bench = sp_session_bench (self->session);
  if (bench->unkeyed)
    g_hash_table_insert (self->known, sp_trace_identity (bench->unkeyed), g_strdup (_ ("On the bench already, for all radios")));
  for (guint i = 0; i < bench->n_conditions; i++) {
    g_autofree char *name = sp_condition_name (bench, &bench->conditions[i]);
    for (guint j = 0; j < bench->conditions[i].n_sweeps; j++)
      g_hash_table_insert (self->known, sp_trace_identity (bench->conditions[i].sweeps[j].trace),
                           g_strdup_printf (_ ("On the bench already, with %s"), name));
  }
}

static void
recognize (SpImportWindow *self, SpArrivalItem *item)
{
  if (!item->trace)
    return;
  g_autofree char *identity = sp_trace_identity (item->trace);
  const char *known = g_hash_table_lookup (self->known, identity);
  if (known) {
    item->known = g_strdup (known);
    item->take = FALSE;
  } else
    g_hash_table_insert (self->known, g_steal_pointer (&identity), g_strdup_printf (_ ("The same bytes as %s"), item->name));
}

static int
by_order (gconstpointer a, gconstpointer b, gpointer data)
{
  const SpArrivalItem *one = a, *other = b;
  (void) data;
  if (one->order != other->order)
    return one->order < other->order ? -1 : 1;
  return one->column < other->column ? -1 : one->column > other->column;
}

static void on_item (SpImportWindow *self, SpArrivalItem *item);

static void
add_items (SpImportWindow *self, GPtrArray *items)
{
  for (guint i = 0; i < items->len; i++) {
    SpArrivalItem *item = items->pdata[i];
    if (sp_import_window_count (self) >= SP_IMPORT_SWEEPS_MOST) {
      self->left_out += items->len - i;
      show_left_out (self);
      return;
    }
    recognize (self, item);
    sp_import_names_propose (self, item);
    g_signal_connect_object (item, "changed", G_CALLBACK (on_item), self, G_CONNECT_SWAPPED);
    g_list_store_insert_sorted (self->items, item, by_order, NULL);
  }
}

static void
on_item (SpImportWindow *self, SpArrivalItem *item)
{
  g_autoptr (GPtrArray) more = g_steal_pointer (&item->more);
  if (self->proposing || self->closed)
    return;
  if (more)
    add_items (self, more);
  if (item == sp_import_window_chosen (self))
    sp_import_details_fill (self);
  if (!item->reading && item->wrong_key) { /* read again: another attenuation may make it a step */
    if (!item->wrong)
      g_clear_pointer (&item->wrong_key, g_free);
    if (!is_reading (self))
      sp_import_window_settle (self);
  }
  sp_import_window_refresh (self);
}

static void
on_file (GPtrArray *items, guint of, gpointer data)
{
  SpImportWindow *self = data;
  self->read++;
  self->of = of;
  add_items (self, items);
  g_ptr_array_unref (items);
  sp_import_window_refresh (self);
}

static void
on_finished (guint left_out, gpointer data)
{
  g_autoptr (SpImportWindow) self = data;
  if (!self->cancellable) /* closed meanwhile */
    return;
  g_clear_object (&self->cancellable);
  self->left_out += left_out;
  show_left_out (self);
  sp_import_names_find (self);
  sp_import_window_settle (self);
}

/* ---- taking them ---- */

/* One undoable edit with all that is ticked, or none of it and a sentence. */
static void
accept (SpImportWindow *self)
{
  guint n = sp_import_window_count (self), used = 0, failed;
  g_autofree SpArrival *arrivals = g_new0 (SpArrival, n + 1);
  g_autofree guint *places = g_new0 (guint, n + 1);
  g_autoptr (GError) error = NULL;
  gtk_window_set_focus (GTK_WINDOW (self), NULL); /* what is still being typed counts */
  refresh (self);
  if (!gtk_widget_get_sensitive (self->accept))
    return;
  for (guint i = 0; i < n; i++) {
    const SpArrivalItem *item = sp_import_window_item (self, i);
    places[used] = i;
    if (is_taken (item))
      arrivals[used++] = (SpArrival){ item->trace, item->to };
  }
  gboolean stated;
  double day = day_taken (self, &stated);
  g_autoptr (SpBench) taken = sp_bench_with_arrivals (sp_session_bench (self->session), arrivals, used, &failed, &error);
  SpBench *bench = taken ? sp_bench_with_day (taken, day, &error) : NULL;
  if (!bench) {
    sp_import_window_trouble (self, error->message);
    if (failed < used)
      gtk_single_selection_set_selected (self->selection, places[failed]);
    return;
  }
  g_autofree char *label = g_strdup_printf (ngettext ("Import %u sweep", "Import %u sweeps", used), used);
  g_autofree char *done = g_strdup_printf (ngettext ("%u sweep imported.", "%u sweeps imported.", used), used);
  if (sp_session_edit (self->session, bench, label, NULL))
    sp_session_done (self->session, done);
  gtk_window_close (GTK_WINDOW (self));
}

static void
on_accept_action (GtkWidget *widget, const char *name, GVariant *argument)
{
  (void) name, (void) argument;
  accept (SP_IMPORT_WINDOW (widget));
}

/* ---- the window ---- */

/* From here on it is as if nothing had happened: what is still being read is dropped as it comes. */
static void
close_down (SpImportWindow *self)
{
  self->closed = TRUE;
  if (self->cancellable)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_handle_id (&self->settle_source, g_source_remove);
  g_clear_handle_id (&self->refresh_source, g_source_remove);
}

static gboolean
sp_import_window_close_request (GtkWindow *window)
{
  close_down (SP_IMPORT_WINDOW (window));
  return GTK_WINDOW_CLASS (sp_import_window_parent_class)->close_request (window);
}

static void
sp_import_window_dispose (GObject *object)
{
  SpImportWindow *self = SP_IMPORT_WINDOW (object);
  close_down (self);
  G_OBJECT_CLASS (sp_import_window_parent_class)->dispose (object);
  g_clear_object (&self->selection); /* not before: entries that lose the focus still ask for it */
  g_clear_object (&self->asked);
  g_clear_object (&self->items);
  g_clear_object (&self->session);
  g_clear_pointer (&self->known, g_hash_table_unref);
  g_clear_pointer (&self->ways, g_ptr_array_unref);
  g_clear_pointer (&self->names, g_ptr_array_unref);
  g_clear_pointer (&self->targets, g_ptr_array_unref);
  g_clear_pointer (&self->asks, g_ptr_array_unref);
}

static void
sp_import_window_class_init (SpImportWindowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  g_resources_register (sp_window_get_resource ());
  G_OBJECT_CLASS (klass)->dispose = sp_import_window_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = sp_import_window_close_request;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/window/import-window.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpImportWindow, name)
  PART (pattern), PART (pattern_trouble), PART (ways_box), PART (ways_list), PART (meanings_box), PART (meanings), PART (progress),
      PART (progress_text), PART (asks_scrolled), PART (asks_box);
  PART (list), PART (details), PART (trouble), PART (accept), PART (title), PART (error), PART (goes_to), PART (target);
  PART (new_name), PART (radio), PART (condition_name), PART (purpose), PART (retake), PART (step_box), PART (step), PART (understood);
  PART (through), PART (through_name), PART (through_ask), PART (through_common);
  PART (settings_holder), PART (readings_holder), PART (expander), PART (said), PART (lines), PART (lines_legend), PART (placeholder),
      PART (preview);
#undef PART
  gtk_widget_class_install_action (widget, "import.accept", NULL, on_accept_action);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Escape, 0, "window.close", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Return, GDK_CONTROL_MASK, "import.accept", NULL);
}

static void
sp_import_window_init (SpImportWindow *self)
{
  sp_pages_style ();
  gtk_widget_init_template (GTK_WIDGET (self));
  self->known = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->items = g_list_store_new (SP_TYPE_ARRIVAL_ITEM);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->items)));
  sp_import_list_set_up (self);
  sp_import_names_set_up (self);
  sp_import_details_set_up (self);
  sp_import_settings_set_up (self);
  gtk_window_set_default_widget (GTK_WINDOW (self), self->accept);
  g_signal_connect_swapped (self->selection, "notify::selected-item", G_CALLBACK (sp_import_details_fill), self);
  g_signal_connect_swapped (self->accept, "clicked", G_CALLBACK (accept), self);
}

/* The files that are no chain, analyzer, mask, words or earlier bench, which are offered to the bench, and no pictures, which are taken. */
static GListModel *
without_resources (GtkWindow *parent, SpSession *session, GListModel *files, int condition)
{
  GListStore *sweeps = g_list_store_new (G_TYPE_FILE);
  int place = condition < 0 ? SP_PLACE_BENCH : (int) sp_session_bench (session)->conditions[condition].radio;
  for (guint i = 0; i < g_list_model_get_n_items (files); i++) {
    g_autoptr (GFile) file = g_list_model_get_item (files, i);
    g_autofree char *name = g_file_get_basename (file);
    if (name && sp_picture_is_named (name))
      sp_import_picture (GTK_WIDGET (parent), session, file, place);
    else if (!sp_import_resource (parent, session, file) && !sp_import_earlier (parent, session, file))
      g_list_store_append (sweeps, file);
  }
  return G_LIST_MODEL (sweeps);
}

void
sp_import_begin (GtkWindow *parent, SpSession *session, GListModel *files, int condition)
{
  static const SpArrivalsHeard heard = { on_file, on_finished };
  g_autoptr (GListModel) sweeps = without_resources (parent, session, files, condition);
  if (g_list_model_get_n_items (sweeps) == 0 && g_list_model_get_n_items (files) > 0)
    return;
  SpImportWindow *self = g_object_new (SP_TYPE_IMPORT_WINDOW, NULL);
  sp_dialog_set_parent (GTK_WINDOW (self), parent);
  self->session = g_object_ref (session);
  self->condition = condition;
  self->cancellable = g_cancellable_new ();
  learn_bench (self);
  refresh (self);
  sp_import_details_fill (self);
  gtk_window_set_focus (GTK_WINDOW (self), self->list);
  gtk_window_present (GTK_WINDOW (self));
  sp_arrivals_read (sweeps, self->cancellable, &heard, g_object_ref (self));
}

void
sp_import_dropped (GtkWidget *on, SpSession *session, const GValue *dropped, int condition)
{
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  for (GSList *l = g_value_get_boxed (dropped); l; l = l->next)
    g_list_store_append (files, l->data);
  sp_import_begin (GTK_WINDOW (gtk_widget_get_root (on)), session, G_LIST_MODEL (files), condition);
}
