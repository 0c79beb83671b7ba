#include "ui/window/arrival.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/quantity/file.h"

#define FOLDER_FILES_MOST 1000
#define MENDED_BYTES_MOST (64u << 20) /* a file that is not understood is kept for correction up to this size */

G_DEFINE_FINAL_TYPE (SpArrivalItem, sp_arrival_item, G_TYPE_OBJECT)

static guint changed_signal;

static void
sp_arrival_item_finalize (GObject *object)
{
  SpArrivalItem *self = SP_ARRIVAL_ITEM (object);
  g_free (self->name);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_free (self->options);
  g_clear_pointer (&self->trace, sp_trace_unref);
  g_free (self->error);
  g_free (self->option_error);
  sp_proposal_clear (&self->to);
  G_OBJECT_CLASS (sp_arrival_item_parent_class)->finalize (object);
}

static void
sp_arrival_item_class_init (SpArrivalItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_arrival_item_finalize;
  changed_signal = g_signal_new ("changed", SP_TYPE_ARRIVAL_ITEM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sp_arrival_item_init (SpArrivalItem *self)
{
  self->options = g_strdup ("");
  self->to.step_db = NAN;
}

void
sp_arrival_item_changed (SpArrivalItem *self)
{
  g_signal_emit (self, changed_signal, 0);
}

static SpArrivalItem *
item_new (const char *name, GBytes *bytes, SpTrace *trace, const char *error)
{
  SpArrivalItem *item = g_object_new (SP_TYPE_ARRIVAL_ITEM, NULL);
  item->name = g_strdup (name);
  item->bytes = bytes ? g_bytes_ref (bytes) : NULL;
  item->trace = trace;
  item->error = g_strdup (error);
  item->take = trace != NULL;
  if (trace && trace->options)
    item->options = (g_free (item->options), g_strdup (trace->options));
  sp_propose (name, NULL, &item->to);
  return item;
}

/* ---- reading, in the thread pool ---- */

struct SpArrivalReader {
  GQueue waiting; /* of GFile */
  guint of, running;
  GCancellable *cancellable;
  void (*done) (GPtrArray *items, guint of, gpointer data);
  void (*finished) (gpointer data);
  gpointer data;
};

/* Its bytes are kept: an option may be all that is missing. */
static SpArrivalItem *
not_understood (const char *path, const char *name, const char *why)
{
  gsize length;
  char *raw = sp_file_read (path, MENDED_BYTES_MOST, &length, NULL);
  g_autoptr (GBytes) bytes = raw ? g_bytes_new_take (raw, length) : NULL;
  return item_new (name, bytes, NULL, why);
}

static void
read_file (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  (void) source;
  GPtrArray *items = g_ptr_array_new_with_free_func (g_object_unref);
  g_autofree char *path = g_file_get_path (data), *name = g_file_get_basename (data);
  g_autofree char *shown = g_filename_display_name (name);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) traces = NULL;
  if (!path)
    g_ptr_array_add (items, item_new (shown, NULL, NULL, _("not on this machine: copy it here first")));
  else if (g_cancellable_is_cancelled (cancellable))
    ;
  else if (!(traces = sp_trace_read_all (path, NULL, &error)))
    g_ptr_array_add (items, not_understood (path, shown, error->message));
  for (guint i = 0; traces && i < traces->len; i++) {
    SpTrace *trace = g_ptr_array_index (traces, i);
    sp_trace_sha256 (trace); /* here, not when the bench asks for it on the main thread */
    g_ptr_array_add (items, item_new (shown, trace->raw, sp_trace_ref (trace), NULL));
  }
  g_task_return_pointer (task, items, (GDestroyNotify) g_ptr_array_unref);
}

static void start_next (SpArrivalReader *reader);

static void
file_read (GObject *source, GAsyncResult *result, gpointer data)
{
  (void) source;
  SpArrivalReader *reader = data;
  GPtrArray *items = g_task_propagate_pointer (G_TASK (result), NULL);
  reader->running--;
  if (items && !g_cancellable_is_cancelled (reader->cancellable))
    reader->done (items, reader->of, reader->data);
  else if (items)
    g_ptr_array_unref (items);
  start_next (reader);
}

/* Two at a time: a stick is not faster with more, and memory stays small. */
static void
start_next (SpArrivalReader *reader)
{
  while (reader->running < 2 && !g_queue_is_empty (&reader->waiting) && !g_cancellable_is_cancelled (reader->cancellable)) {
    g_autoptr (GTask) task = g_task_new (NULL, reader->cancellable, file_read, reader);
    g_task_set_check_cancellable (task, FALSE);
    g_task_set_task_data (task, g_queue_pop_head (&reader->waiting), g_object_unref);
    reader->running++;
    g_task_run_in_thread (task, read_file);
  }
  if (reader->running > 0)
    return;
  reader->finished (reader->data);
  g_queue_clear_full (&reader->waiting, g_object_unref);
  g_object_unref (reader->cancellable);
  g_free (reader);
}

/* A folder gives its files, not those of the folders in it. */
static void
add_file (SpArrivalReader *reader, GFile *file)
{
  if (g_file_query_file_type (file, G_FILE_QUERY_INFO_NONE, NULL) != G_FILE_TYPE_DIRECTORY) {
    g_queue_push_tail (&reader->waiting, g_object_ref (file));
    return;
  }
  g_autoptr (GFileEnumerator) children = g_file_enumerate_children (file, "standard::name,standard::type", G_FILE_QUERY_INFO_NONE, NULL, NULL);
  GFileInfo *info;
  GFile *child;
  while (children && g_queue_get_length (&reader->waiting) < FOLDER_FILES_MOST
         && g_file_enumerator_iterate (children, &info, &child, NULL, NULL) && info)
    if (g_file_info_get_file_type (info) == G_FILE_TYPE_REGULAR)
      g_queue_push_tail (&reader->waiting, g_object_ref (child));
}

void
sp_arrivals_read (GListModel *files, GCancellable *cancellable, void (*done) (GPtrArray *items, guint of, gpointer data), void (*finished) (gpointer data),
                  gpointer data)
{
  SpArrivalReader *reader = g_new0 (SpArrivalReader, 1);
  reader->cancellable = g_object_ref (cancellable);
  reader->done = done;
  reader->finished = finished;
  reader->data = data;
  for (guint i = 0; i < g_list_model_get_n_items (files); i++) {
    g_autoptr (GFile) file = g_list_model_get_item (files, i);
    add_file (reader, file);
  }
  reader->of = g_queue_get_length (&reader->waiting);
  start_next (reader);
}

/* ---- reading again ---- */

typedef struct {
  GBytes *bytes;
  char *name, *options;
} Again;

static void
again_free (gpointer data)
{
  Again *again = data;
  g_bytes_unref (again->bytes);
  g_free (again->name);
  g_free (again->options);
  g_free (again);
}

static void
read_again (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  (void) source, (void) cancellable;
  Again *again = data;
  SpTraceOptions options;
  GError *error = NULL;
  g_autofree char *reference = g_strconcat ("x?", again->options, NULL), *path = NULL;
  SpTrace *trace = NULL;
  sp_trace_options_init (&options);
  if (sp_trace_options_parse (*again->options ? reference : "x", &path, &options, &error))
    trace = sp_trace_read_bytes (again->bytes, again->name, &options, &error);
  sp_trace_options_clear (&options);
  if (trace)
    g_task_return_pointer (task, (sp_trace_sha256 (trace), trace), (GDestroyNotify) sp_trace_unref);
  else
    g_task_return_error (task, error);
}

static void
again_read (GObject *source, GAsyncResult *result, gpointer data)
{
  (void) data;
  SpArrivalItem *self = SP_ARRIVAL_ITEM (source);
  g_autoptr (GError) error = NULL;
  SpTrace *trace = g_task_propagate_pointer (G_TASK (result), &error);
  self->reading = FALSE;
  g_free (self->option_error);
  self->option_error = trace ? NULL : g_strdup (error->message);
  if (trace) {
    g_clear_pointer (&self->trace, sp_trace_unref);
    g_clear_pointer (&self->error, g_free);
    self->trace = trace;
    g_free (self->options);
    self->options = g_strdup (((Again *) g_task_get_task_data (G_TASK (result)))->options);
  }
  sp_arrival_item_changed (self);
}

void
sp_arrival_item_reread (SpArrivalItem *self, const char *options)
{
  if (!self->bytes || self->reading)
    return;
  Again *again = g_new (Again, 1);
  *again = (Again) { g_bytes_ref (self->bytes), g_strdup (self->name), g_strdup (options) };
  g_autoptr (GTask) task = g_task_new (self, NULL, again_read, NULL);
  g_task_set_task_data (task, again, again_free);
  self->reading = TRUE;
  g_task_run_in_thread (task, read_again);
}
