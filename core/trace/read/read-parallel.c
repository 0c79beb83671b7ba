/* read-parallel.c - reads many exports at once, on all processors */
#include "core/trace/read/read-parallel.h"
#include "core/trace/read/read.h"

#define MOST_THREADS 16 /* beyond that the memory's bandwidth is what is short; bounds time */

typedef struct {
  const char *const *references;
  SpMany how;
  GPtrArray *readings;
  gint next;   /* atomic: the next to be read */
  gint failed; /* atomic: the first of those that failed so far; G_MAXINT: none */
} Job;

static void
reading_free (gpointer data)
{
  SpTraceReading *reading = data;

  g_clear_pointer (&reading->traces, g_ptr_array_unref);
  g_clear_error (&reading->error);
  g_free (reading);
}

static void
read_one (const char *reference, SpMany how, SpTraceReading *reading)
{
  g_autofree char *path = NULL;
  SpTraceOptions options;

  gboolean all = (how & SP_MANY_ALL) != 0;

  sp_trace_options_init (&options);
  if ((how & SP_MANY_OPERANDS ? sp_trace_operand_parse : sp_trace_options_parse) (reference, &path, &options, &reading->error)) {
    if (all && !options.column)
      reading->traces = sp_trace_read_all (path, &options, &reading->error);
    else {
      SpTrace *trace = all ? sp_trace_read_file (path, &options, &reading->error) : sp_trace_read_joined (path, &options, &reading->error);
      reading->traces = trace ? g_ptr_array_new_with_free_func ((GDestroyNotify) sp_trace_unref) : NULL;
      if (trace)
        g_ptr_array_add (reading->traces, trace);
    }
  }
  sp_trace_options_clear (&options);
}

static void
note_failure (Job *job, gint i)
{
  gint first;

  do
    first = g_atomic_int_get (&job->failed);
  while (i < first && !g_atomic_int_compare_and_exchange (&job->failed, first, i));
}

/* One thread's work: the next one, until there is none. Only what stands behind a failure is given up: so the first in order is found,
 * whichever comes first in time. */
static gpointer
work (gpointer data)
{
  Job *job = data;
  gint i;

  while ((i = g_atomic_int_add (&job->next, 1)) < (gint) job->readings->len) {
    SpTraceReading *reading = job->readings->pdata[i];
    if (!(job->how & SP_MANY_KEEP_GOING) && g_atomic_int_get (&job->failed) < i)
      return NULL;
    read_one (job->references[i], job->how, reading);
    if (reading->error)
      note_failure (job, i);
  }
  return NULL;
}

GPtrArray *
sp_trace_read_many (const char *const *references, SpMany how)
{
  Job job = { references, how, g_ptr_array_new_with_free_func (reading_free), 0, G_MAXINT };

  for (const char *const *reference = references; *reference; reference++)
    g_ptr_array_add (job.readings, g_new0 (SpTraceReading, 1));
  guint threads = MIN (MIN (g_get_num_processors (), MOST_THREADS), job.readings->len);
  GThread *others[MOST_THREADS] = { NULL };
  for (guint i = 1; i < threads; i++)
    others[i] = g_thread_try_new ("read", work, &job, NULL); /* one that does not start leaves its work to the others */
  work (&job);
  for (guint i = 1; i < threads; i++)
    if (others[i])
      g_thread_join (others[i]);
  return job.readings;
}
