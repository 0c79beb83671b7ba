/* import-item.c - files read off the main thread, and read again as they are corrected */
#include "ui/window/import/import-item.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <math.h>

#include "core/quantity/error.h"
#include "core/trace/read/day.h"
#include "core/trace/read/read.h"
#include "core/trace/text/bytes.h"
#include "ui/figure/preview.h"

#define AT_A_TIME 2 /* a stick is not faster with more, and the window keeps a core */

G_DEFINE_FINAL_TYPE (SpArrivalItem, sp_arrival_item, G_TYPE_OBJECT)

static guint changed_signal;

static void
sp_arrival_item_finalize (GObject *object)
{
  SpArrivalItem *self = SP_ARRIVAL_ITEM (object);
  g_free (self->name);
  g_free (self->place);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_free (self->options);
  g_clear_pointer (&self->trace, sp_trace_unref);
  g_clear_pointer (&self->look, sp_trace_understood_free);
  g_free (self->shows);
  g_free (self->error);
  g_free (self->wrong_key);
  g_free (self->wrong);
  g_free (self->known);
  g_clear_pointer (&self->meanings, g_ptr_array_unref);
  g_free (self->wanted);
  g_clear_pointer (&self->more, g_ptr_array_unref);
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
  self->to = (SpProposal){ g_strdup (""), g_strdup (""), SP_PURPOSE_KEYED, NAN, NULL };
}

void
sp_arrival_item_changed (SpArrivalItem *self)
{
  g_signal_emit (self, changed_signal, 0);
}

char *
sp_arrival_item_title (const SpArrivalItem *self)
{
  return self->one_of_many && self->trace ? g_strdup_printf ("%s \302\267 %s", self->name, self->trace->column) : g_strdup (self->name);
}

/* ---- one reading ---- */

/* Of bytes with options: what came of it, and how they look. */
typedef struct {
  GPtrArray *traces; /* NULL: */
  char *error;
  GPtrArray *looks; /* of SpUnderstood, one a trace, or one alone */
  GPtrArray *shows; /* of char *, one a trace: the sweep in words */
} Reading;

static void
reading_free (gpointer data)
{
  Reading *reading = data;
  g_clear_pointer (&reading->traces, g_ptr_array_unref);
  g_ptr_array_unref (reading->looks);
  g_ptr_array_unref (reading->shows);
  g_free (reading->error);
  g_free (reading);
}

/* In a thread: the hash, the look and the words too, for the main thread is to wait for none. */
static Reading *
read_bytes (GBytes *bytes, const char *name, const char *options_text)
{
  Reading *reading = g_new0 (Reading, 1);
  g_autoptr (GError) error = NULL;
  SpTraceOptions options;
  reading->looks = g_ptr_array_new_with_free_func ((GDestroyNotify) sp_trace_understood_free);
  reading->shows = g_ptr_array_new_with_free_func (g_free);
  if (sp_trace_options_from_text (options_text, &options, &error))
    reading->traces = sp_trace_read_all_bytes (bytes, name, &options, &error);
  if (error)
    reading->error = g_strdup (error->message);
  for (guint i = 0; reading->traces && i < reading->traces->len; i++) {
    sp_trace_share_sha256 (reading->traces->pdata[0], reading->traces->pdata[i]);
    sp_trace_sha256 (reading->traces->pdata[i]);
    g_ptr_array_add (reading->looks, sp_trace_understood (bytes, &options, reading->traces->pdata[i]));
    g_ptr_array_add (reading->shows, sp_preview_says (reading->traces->pdata[i]));
  }
  if (!reading->traces)
    g_ptr_array_add (reading->looks, sp_trace_understood (bytes, &options, NULL));
  sp_trace_options_clear (&options);
  return reading;
}

static void
take_reading (SpArrivalItem *item, Reading *reading, guint column)
{
  g_clear_pointer (&item->trace, sp_trace_unref);
  g_clear_pointer (&item->look, sp_trace_understood_free);
  g_clear_pointer (&item->error, g_free);
  g_clear_pointer (&item->shows, g_free);
  item->look = g_steal_pointer (&reading->looks->pdata[column]);
  if (!reading->traces) {
    item->error = g_strdup (reading->error);
    return;
  }
  item->trace = sp_trace_ref (reading->traces->pdata[column]);
  item->shows = g_steal_pointer (&reading->shows->pdata[column]);
  item->one_of_many |= reading->traces->len > 1;
  g_free (item->options);
  item->options = g_strdup (item->trace->options);
}

/* (transfer full) */
static SpArrivalItem *
item_new (const char *name, guint order, guint column, GBytes *bytes)
{
  SpArrivalItem *item = g_object_new (SP_TYPE_ARRIVAL_ITEM, NULL);
  item->name = g_strdup (name);
  item->order = order;
  item->column = column;
  item->bytes = bytes ? g_bytes_ref (bytes) : NULL;
  item->take = TRUE;
  item->stated_day = item->written_day = NAN;
  return item;
}

static GPtrArray *
items_of (const char *name, guint order, GBytes *bytes, Reading *reading)
{
  GPtrArray *items = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i < (reading->traces ? reading->traces->len : 1); i++) {
    SpArrivalItem *item = item_new (name, order, i, bytes);
    take_reading (item, reading, i);
    g_ptr_array_add (items, item);
  }
  return items;
}

/* ---- reading files, in the thread pool ---- */

typedef struct {
  GPtrArray *files; /* of GFile */
  guint next, running, left_out;
  gint64 bytes; /* of the files begun; by all threads */
  GMutex lock;
  GCancellable *cancellable;
  SpArrivalsHeard heard;
  gpointer data;
} Reader;

typedef struct {
  Reader *reader;
  GFile *file;
  guint order;
} Job;

/* What can be told before a byte is read: a pipe would wait for ever. */
static gboolean
admit (Reader *reader, const char *path, const char *name, GError **error)
{
  GStatBuf status;
  if (!path)
    return sp_fail (error, SP_ERROR_IO, _ ("%s: not on this machine; copy it here first"), name);
  if (g_stat (path, &status) != 0)
    return TRUE; /* reading says why */
  if (!S_ISREG (status.st_mode))
    return sp_fail (error, SP_ERROR_IO, _ ("%s: no ordinary file; expected an export"), name);
  g_mutex_lock (&reader->lock);
  gboolean fits = reader->bytes + status.st_size <= SP_ARRIVALS_BYTES_MOST;
  if (fits)
    reader->bytes += status.st_size;
  g_mutex_unlock (&reader->lock);
  return fits || sp_fail (error, SP_ERROR_LIMIT, _ ("%s: with the others more than 2 GiB, the limit; import them in parts"), name);
}

/* The day on which a file was last written, here. */
static double
written_day (const char *path)
{
  GStatBuf status;
  GDate date;
  if (g_stat (path, &status) != 0)
    return NAN;
  g_date_clear (&date, 1);
  g_date_set_time_t (&date, status.st_mtime);
  return g_date_get_julian (&date);
}

static void
read_file (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  (void) source;
  Job *job = data;
  g_autofree char *path = g_file_get_path (job->file), *base = g_file_get_basename (job->file), *name = g_filename_display_name (base);
  g_autoptr (GError) error = NULL;
  if (g_cancellable_is_cancelled (cancellable)) {
    g_task_return_pointer (task, NULL, NULL);
    return;
  }
  g_autoptr (GBytes) bytes = admit (job->reader, path, name, &error) ? sp_bytes_read (path, FALSE, &error) : NULL;
  if (bytes) {
    Reading *reading = read_bytes (bytes, name, "");
    GPtrArray *read = items_of (name, job->order, bytes, reading);
    double written = written_day (path), stated = sp_bytes_day (bytes);
    for (guint i = 0; i < read->len; i++) {
      SP_ARRIVAL_ITEM (read->pdata[i])->place = g_filename_display_name (path);
      SP_ARRIVAL_ITEM (read->pdata[i])->written_day = written;
      SP_ARRIVAL_ITEM (read->pdata[i])->stated_day = stated;
    }
    g_task_return_pointer (task, read, (GDestroyNotify) g_ptr_array_unref);
    reading_free (reading);
    return;
  }
  GPtrArray *items = g_ptr_array_new_with_free_func (g_object_unref);
  SpArrivalItem *item = item_new (name, job->order, 0, NULL);
  item->error = g_strdup (error->message);
  g_ptr_array_add (items, item);
  g_task_return_pointer (task, items, (GDestroyNotify) g_ptr_array_unref);
}

static void go_on (Reader *reader);

static void
file_read (GObject *source, GAsyncResult *result, gpointer data)
{
  (void) source;
  Reader *reader = data;
  GPtrArray *items = g_task_propagate_pointer (G_TASK (result), NULL);
  reader->running--;
  if (items && !g_cancellable_is_cancelled (reader->cancellable))
    reader->heard.done (items, reader->files->len, reader->data);
  else if (items)
    g_ptr_array_unref (items);
  go_on (reader);
}

static void
reader_free (Reader *reader)
{
  g_ptr_array_unref (reader->files);
  g_object_unref (reader->cancellable);
  g_mutex_clear (&reader->lock);
  g_free (reader);
}

static void
job_free (gpointer data)
{
  g_object_unref (((Job *) data)->file);
  g_free (data);
}

static void
go_on (Reader *reader)
{
  while (reader->running < AT_A_TIME && reader->next < reader->files->len && !g_cancellable_is_cancelled (reader->cancellable)) {
    g_autoptr (GTask) task = g_task_new (NULL, reader->cancellable, file_read, reader);
    Job *job = g_new (Job, 1);
    *job = (Job){ reader, g_object_ref (reader->files->pdata[reader->next]), reader->next };
    reader->next++;
    reader->running++;
    g_task_set_check_cancellable (task, FALSE);
    g_task_set_task_data (task, job, job_free);
    g_task_run_in_thread (task, read_file);
  }
  if (reader->running > 0)
    return;
  reader->heard.finished (reader->left_out, reader->data);
  reader_free (reader);
}

/* ---- folders, in a thread too: one on a net may take its time ---- */

static int
by_name (gconstpointer a, gconstpointer b)
{
  g_autofree char *name_a = g_file_get_basename (*(GFile **) a), *name_b = g_file_get_basename (*(GFile **) b);
  g_autofree char *key_a = g_utf8_collate_key_for_filename (name_a, -1), *key_b = g_utf8_collate_key_for_filename (name_b, -1);
  return strcmp (key_a, key_b);
}

static void
add_folder (GPtrArray *files, GFile *folder, GCancellable *cancellable)
{
  g_autoptr (GFileEnumerator) children = g_file_enumerate_children (folder, "standard::name,standard::type,standard::is-hidden",
                                                                    G_FILE_QUERY_INFO_NONE, cancellable, NULL);
  g_autoptr (GPtrArray) found = g_ptr_array_new_with_free_func (g_object_unref);
  GFileInfo *info;
  GFile *child;
  while (children && found->len < 100 * SP_ARRIVALS_MOST && g_file_enumerator_iterate (children, &info, &child, cancellable, NULL) && info)
    if (g_file_info_get_file_type (info) == G_FILE_TYPE_REGULAR && !g_file_info_get_is_hidden (info))
      g_ptr_array_add (found, g_object_ref (child));
  g_ptr_array_sort (found, by_name);
  for (guint i = 0; i < found->len; i++)
    g_ptr_array_add (files, g_object_ref (found->pdata[i]));
}

static void
gather (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  (void) source;
  GPtrArray *given = data, *files = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i < given->len && !g_cancellable_is_cancelled (cancellable); i++)
    if (g_file_query_file_type (given->pdata[i], G_FILE_QUERY_INFO_NONE, cancellable) == G_FILE_TYPE_DIRECTORY)
      add_folder (files, given->pdata[i], cancellable);
    else
      g_ptr_array_add (files, g_object_ref (given->pdata[i]));
  g_task_return_pointer (task, files, (GDestroyNotify) g_ptr_array_unref);
}

static void
gathered (GObject *source, GAsyncResult *result, gpointer data)
{
  (void) source;
  Reader *reader = data;
  reader->files = g_task_propagate_pointer (G_TASK (result), NULL);
  if (reader->files->len > SP_ARRIVALS_MOST) {
    reader->left_out = reader->files->len - SP_ARRIVALS_MOST;
    g_ptr_array_set_size (reader->files, SP_ARRIVALS_MOST);
  }
  go_on (reader);
}

void
sp_arrivals_read (GListModel *files, GCancellable *cancellable, const SpArrivalsHeard *heard, gpointer data)
{
  Reader *reader = g_new0 (Reader, 1);
  GPtrArray *given = g_ptr_array_new_with_free_func (g_object_unref);
  g_mutex_init (&reader->lock);
  reader->cancellable = g_object_ref (cancellable);
  reader->heard = *heard;
  reader->data = data;
  for (guint i = 0; i < g_list_model_get_n_items (files); i++)
    g_ptr_array_add (given, g_list_model_get_item (files, i));
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, gathered, reader);
  g_task_set_check_cancellable (task, FALSE);
  g_task_set_task_data (task, given, (GDestroyNotify) g_ptr_array_unref);
  g_task_run_in_thread (task, gather);
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
  g_task_return_pointer (task, read_bytes (again->bytes, again->name, again->options), reading_free);
}

static void start_again (SpArrivalItem *self);

static void
again_read (GObject *source, GAsyncResult *result, gpointer data)
{
  (void) data;
  SpArrivalItem *self = SP_ARRIVAL_ITEM (source);
  const Again *again = g_task_get_task_data (G_TASK (result));
  Reading *reading = g_task_propagate_pointer (G_TASK (result), NULL);
  self->reading = FALSE;
  if (g_strcmp0 (self->wanted, again->options) != 0) { /* something newer is wanted by now */
    start_again (self);
    reading_free (reading);
    return;
  }
  g_clear_pointer (&self->wanted, g_free);
  g_clear_pointer (&self->wrong, g_free);
  if (reading->traces || !self->trace) {
    g_free (self->options);
    self->options = g_strdup (again->options);
    take_reading (self, reading, 0);
    for (guint i = 1; reading->traces && i < reading->traces->len; i++) {
      SpArrivalItem *item = item_new (self->name, self->order, i, self->bytes);
      item->place = g_strdup (self->place);
      item->written_day = self->written_day;
      item->stated_day = self->stated_day;
      take_reading (item, reading, i);
      if (!self->more)
        self->more = g_ptr_array_new_with_free_func (g_object_unref);
      g_ptr_array_add (self->more, item);
    }
  } else
    self->wrong = g_strdup (reading->error);
  reading_free (reading);
  sp_arrival_item_changed (self);
}

static void
start_again (SpArrivalItem *self)
{
  Again *again = g_new (Again, 1);
  *again = (Again){ g_bytes_ref (self->bytes), g_strdup (self->name), g_strdup (self->wanted) };
  g_autoptr (GTask) task = g_task_new (self, NULL, again_read, NULL);
  g_task_set_task_data (task, again, again_free);
  self->reading = TRUE;
  g_task_run_in_thread (task, read_again);
}

char *
sp_arrival_item_get (const SpArrivalItem *self, const char *key)
{
  return sp_trace_options_get (self->wanted ? self->wanted : self->options, key);
}

gboolean
sp_arrival_item_set (SpArrivalItem *self, const char *key, const char *value, GError **error)
{
  if (!self->bytes)
    return sp_fail (error, SP_ERROR_USAGE, _ ("%s could not be read at all"), self->name);
  char *options = sp_trace_options_set (self->wanted ? self->wanted : self->options, key, value, error);
  if (!options)
    return FALSE;
  g_free (self->wanted);
  self->wanted = options;
  g_free (self->wrong_key);
  self->wrong_key = g_strdup (key);
  if (!self->reading)
    start_again (self);
  sp_arrival_item_changed (self);
  return TRUE;
}
