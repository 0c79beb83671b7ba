/* watch.c - takes exports from a folder as they are written */
#include "ui/window/import/watch.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "ui/window/import/expected.h"
#include "ui/window/import/import-private.h"
#include "ui/words/words.h"

#define EVERY_MS 500
#define ENTRIES_MOST 20000 /* of a folder: the rest is not looked at */

typedef struct {
  char *name;
  gint64 size, time_ns;
  gboolean settled; /* read, or there before */
} Entry;

struct _SpWatch {
  GObject parent_instance;
  SpSession *session;
  char *folder, *says, *last, *last_hash; /* last: the file taken last; last_hash: of the bench with it */
  GHashTable *entries;                    /* name -> Entry */
  GQueue waiting;                         /* of char*: paths to be looked at */
  GPtrArray *ready;                       /* of GFile: to be read next; NULL: none */
  GCancellable *cancellable;
  guint source;
  gboolean begun, reading, gone, again;
};

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (SpWatch, sp_watch, G_TYPE_OBJECT)

static void
entry_free (gpointer data)
{
  if (data) /* one that was stolen from its array leaves nothing */
    g_free (((Entry *) data)->name);
  g_free (data);
}

/* Takes `sentence`. */
static void
say (SpWatch *self, char *sentence)
{
  g_free (self->says);
  self->says = sentence;
  g_signal_emit (self, signals[CHANGED], 0);
}

/* ---- taking ---- */

static char *
known_with (const SpBench *bench, const SpTrace *trace)
{
  g_autofree char *identity = sp_trace_identity (trace);
  for (guint i = 0; i < bench->n_conditions; i++)
    for (guint k = 0; k < bench->conditions[i].n_sweeps; k++) {
      g_autofree char *one = sp_trace_identity (bench->conditions[i].sweeps[k].trace);
      if (g_str_equal (one, identity))
        return sp_condition_name (bench, &bench->conditions[i]);
    }
  return NULL;
}

static gboolean
has_radio (const SpBench *bench, const char *name)
{
  for (guint i = 0; i < bench->n_radios; i++)
    if (g_str_equal (bench->radios[i].name, name))
      return TRUE;
  return FALSE;
}

/* By its name where the bench has that radio, else the condition that one is expected for, else the chosen one; an empty bench gets a radio of that
 * name. TRUE: what it is for was said. */
static gboolean
aim (const SpWatch *self, const SpArrivalItem *item, SpProposal *to)
{
  const SpBench *bench = sp_session_bench (self->session);
  SpExpects expects = sp_session_expects (self->session);
  guint chosen = expects.any ? expects.condition : sp_session_condition (self->session);
  sp_propose (item->place ? item->place : item->name, NULL, to);
  sp_propose_known (bench, to);
  if (chosen < bench->n_conditions && !has_radio (bench, to->radio))
    sp_proposal_aim (to, bench->radios[bench->conditions[chosen].radio].name, bench->conditions[chosen].name);
  to->retake = to->retake || self->again;
  return sp_import_take_expected (self->session, to) || to->purpose != SP_PURPOSE_KEYED;
}

static void
wait_for_somebody (SpWatch *self, const SpArrivalItem *item, const char *path, const char *why)
{
  g_queue_push_tail (&self->waiting, g_strdup (path));
  say (self, g_strdup_printf (_ ("%s waits to be looked at: %s"), item->name, why));
}

static void
take (SpWatch *self, const SpArrivalItem *item, const char *path)
{
  SpBench *bench = sp_session_bench (self->session);
  SpProposal to;
  g_autoptr (GError) error = NULL;
  gboolean said = aim (self, item, &to), stated;
  SpArrival arrival = { item->trace, to };
  sp_propose_steps (bench, &arrival, &said, 1);
  g_autofree char *goes_to = sp_import_target_words (&arrival.to);
  g_autoptr (SpBench) with = sp_bench_with_arrivals (bench, &arrival, 1, NULL, &error);
  double day = sp_bench_first_day (bench, item->stated_day, item->written_day, &stated);
  SpBench *taken = with ? sp_bench_with_day (with, day, &error) : NULL;
  sp_proposal_clear (&to);
  if (!taken) {
    wait_for_somebody (self, item, path, error->message);
    return;
  }
  g_autofree char *label = g_strdup_printf (_ ("Take %s from the folder"), item->name);
  if (!sp_session_edit (self->session, taken, label, NULL))
    return;
  self->again = FALSE;
  g_free (self->last);
  g_free (self->last_hash);
  self->last = g_strdup (path);
  self->last_hash = g_strdup (sp_session_bench (self->session)->sha256);
  say (self, g_strdup_printf (*item->options ? _ ("%s was taken: %s. What it does not say itself is as at the last import: look at it")
                                             : _ ("%s was taken: %s"),
                              item->name, goes_to));
}

static void
take_or_ask (SpWatch *self, const SpArrivalItem *item)
{
  const char *path = item->place ? item->place : item->name;
  if (!item->trace) {
    wait_for_somebody (self, item, path, item->error ? item->error : _ ("it cannot be read"));
    return;
  }
  g_autofree char *known = known_with (sp_session_bench (self->session), item->trace);
  if (known)
    say (self, g_strdup_printf (_ ("%s is on the bench already, with %s"), item->name, known));
  else if (isnan (item->trace->settings.rbw_hz) || isnan (item->trace->settings.attenuation_db))
    wait_for_somebody (self, item, path, _ ("it does not say its RBW, or its attenuation"));
  else
    take (self, item, path);
}

/* A file that was read again, with what was said of its shape at an earlier import; whoever reads it keeps it until then. */
static void
on_again (SpWatch *self, SpArrivalItem *item)
{
  if (!item->reading && g_signal_handlers_disconnect_by_data (item, self) && !g_cancellable_is_cancelled (self->cancellable))
    take_or_ask (self, item);
}

static void
on_items (GPtrArray *items, guint of, gpointer data)
{
  SpWatch *self = data;
  (void) of;
  for (guint i = 0; i < items->len && !g_cancellable_is_cancelled (self->cancellable); i++)
    if (sp_import_settings_as_before (items->pdata[i]))
      g_signal_connect_object (items->pdata[i], "changed", G_CALLBACK (on_again), self, G_CONNECT_SWAPPED);
    else
      take_or_ask (self, items->pdata[i]);
  g_ptr_array_unref (items);
}

static void
on_read (guint left_out, gpointer data)
{
  g_autoptr (SpWatch) self = data;
  (void) left_out;
  self->reading = FALSE;
}

static void
read_ready (SpWatch *self)
{
  static const SpArrivalsHeard heard = { on_items, on_read };
  if (self->reading || !self->ready)
    return;
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  for (guint i = 0; i < self->ready->len; i++)
    g_list_store_append (files, self->ready->pdata[i]);
  g_clear_pointer (&self->ready, g_ptr_array_unref);
  self->reading = TRUE;
  sp_arrivals_read (G_LIST_MODEL (files), self->cancellable, &heard, g_object_ref (self));
}

/* ---- listing ---- */

static gboolean
is_export (const char *name, const GStatBuf *status)
{
  return S_ISREG (status->st_mode) && *name != '.' && !g_str_has_suffix (name, "~") && !g_str_has_suffix (name, ".part")
         && !g_str_has_suffix (name, ".tmp");
}

static void
list (GTask *task, gpointer source, gpointer folder, GCancellable *cancellable)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GDir) dir = g_dir_open (folder, 0, &error);
  GPtrArray *found = g_ptr_array_new_with_free_func (entry_free);
  (void) source;
  for (const char *name; dir && found->len < ENTRIES_MOST && !g_cancellable_is_cancelled (cancellable) && (name = g_dir_read_name (dir));) {
    g_autofree char *path = g_build_filename (folder, name, NULL);
    GStatBuf status;
    if (g_stat (path, &status) != 0 || !is_export (name, &status))
      continue;
    Entry *entry = g_new0 (Entry, 1);
    *entry = (Entry){ g_strdup (name), status.st_size, status.st_mtim.tv_sec * G_GINT64_CONSTANT (1000000000) + status.st_mtim.tv_nsec,
                      FALSE };
    g_ptr_array_add (found, entry);
  }
  if (dir)
    g_task_return_pointer (task, found, (GDestroyNotify) g_ptr_array_unref);
  else {
    g_ptr_array_unref (found);
    g_task_return_error (task, g_steal_pointer (&error));
  }
}

/* New, or another than the last time: looked at again; twice alike: to be read. */
static void
look_at (SpWatch *self, Entry *entry)
{
  Entry *before = g_hash_table_lookup (self->entries, entry->name);
  gboolean alike = before && before->size == entry->size && before->time_ns == entry->time_ns;
  entry->settled = !self->begun || (alike && before->settled);
  if (alike && !before->settled && entry->size > 0) {
    g_autofree char *path = g_build_filename (self->folder, entry->name, NULL);
    entry->settled = TRUE;
    if (!self->ready)
      self->ready = g_ptr_array_new_with_free_func (g_object_unref);
    g_ptr_array_add (self->ready, g_file_new_for_path (path));
  }
  g_hash_table_replace (self->entries, entry->name, entry);
}

static gboolean list_again (gpointer data);

static void
listed (GObject *source, GAsyncResult *result, gpointer data)
{
  SpWatch *self = SP_WATCH (source);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) found = g_task_propagate_pointer (G_TASK (result), &error);
  (void) data;
  if (g_cancellable_is_cancelled (self->cancellable))
    return;
  for (guint i = 0; found && i < found->len; i++)
    look_at (self, g_steal_pointer (&found->pdata[i]));
  gboolean was_gone = self->gone, first = found && !self->begun;
  self->gone = !found;
  self->begun = self->begun || found;
  if (self->gone && !was_gone)
    say (self, g_strdup_printf (_ ("The folder cannot be read, and is waited for: %s"), error->message));
  else if (first)
    say (self, g_strdup (_ ("What is written into it from now on is taken.")));
  else if (was_gone && !self->gone)
    say (self, g_strdup (_ ("The folder is there again.")));
  read_ready (self);
  self->source = g_timeout_add (EVERY_MS, list_again, self);
}

static gboolean
list_again (gpointer data)
{
  SpWatch *self = data;
  self->source = 0;
  g_autoptr (GTask) task = g_task_new (self, self->cancellable, listed, NULL);
  g_task_set_task_data (task, g_strdup (self->folder), g_free);
  g_task_run_in_thread (task, list);
  return G_SOURCE_REMOVE;
}

/* ---- from outside ---- */

void
sp_watch_stop (SpWatch *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_handle_id (&self->source, g_source_remove);
}

static void
sp_watch_finalize (GObject *object)
{
  SpWatch *self = SP_WATCH (object);
  sp_watch_stop (self);
  g_object_unref (self->session);
  g_object_unref (self->cancellable);
  g_hash_table_unref (self->entries);
  g_clear_pointer (&self->ready, g_ptr_array_unref);
  g_queue_clear_full (&self->waiting, g_free);
  g_free (self->folder);
  g_free (self->says);
  g_free (self->last);
  g_free (self->last_hash);
  G_OBJECT_CLASS (sp_watch_parent_class)->finalize (object);
}

static void
sp_watch_class_init (SpWatchClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_watch_finalize;
  signals[CHANGED] = g_signal_new ("changed", SP_TYPE_WATCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sp_watch_init (SpWatch *self)
{
  self->cancellable = g_cancellable_new ();
  self->entries = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, entry_free);
  g_queue_init (&self->waiting);
}

SpWatch *
sp_watch_new (SpSession *session, const char *folder)
{
  SpWatch *self = g_object_new (SP_TYPE_WATCH, NULL);
  self->session = g_object_ref (session);
  self->folder = g_strdup (folder);
  self->says = g_strdup (_ ("What is in it is being listed."));
  list_again (self);
  return self;
}

const char *
sp_watch_folder (const SpWatch *self)
{
  return self->folder;
}

const char *
sp_watch_says (const SpWatch *self)
{
  return self->says;
}

const char *
sp_watch_waiting (const SpWatch *self)
{
  return g_queue_peek_head ((GQueue *) &self->waiting);
}

char *
sp_watch_take_waiting (SpWatch *self)
{
  return g_queue_pop_head (&self->waiting);
}

const char *
sp_watch_last (const SpWatch *self)
{
  return self->last && g_str_equal (self->last_hash, sp_session_bench (self->session)->sha256) ? self->last : NULL;
}

void
sp_watch_set_again (SpWatch *self, gboolean again)
{
  self->again = again;
  g_signal_emit (self, signals[CHANGED], 0);
}

gboolean
sp_watch_again (const SpWatch *self)
{
  return self->again;
}
