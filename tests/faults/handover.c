/* handover.c - preloaded into a program under ThreadSanitizer: tells it where GLib hands a value from one thread to another
 *
 * GLib waits by futex and is not built for the sanitizer, so each of its hand-overs would look like a race. Only what GLib promises is told: locks,
 * tasks, pools, once, references. What our threads share beside that is still seen.
 */
#include <dlfcn.h>
#include <gio/gio.h>
#include <pthread.h>

#define POOLS 64

extern void __tsan_acquire (void *address) __attribute__ ((weak));
extern void __tsan_release (void *address) __attribute__ ((weak));

static int begun; /* not before the sanitizer is */

static void __attribute__ ((constructor)) begin (void)
{
  begun = __tsan_acquire && __tsan_release;
}

static void
acquire (gconstpointer at)
{
  if (begun && at)
    __tsan_acquire ((gpointer) at);
}

static void
release (gconstpointer at)
{
  if (begun && at)
    __tsan_release ((gpointer) at);
}

/* GLib's own function of that name. */
#define REAL(name) ((__typeof__ (&(name))) (guintptr) real (#name))
static gpointer
real (const char *name)
{
  return dlsym (RTLD_NEXT, name);
}

/* `before` and `after` GLib's function does what it does. */
#define CALL(name, arguments, pass, before, after)                                                                                         \
  void (name) arguments                                                                                                                    \
  {                                                                                                                                        \
    static __typeof__ (&(name)) glib;                                                                                                      \
    if (!glib)                                                                                                                             \
      glib = REAL (name);                                                                                                                  \
    before;                                                                                                                                \
    glib pass;                                                                                                                             \
    after;                                                                                                                                 \
  }
#define ASK(type, name, arguments, pass, before, after)                                                                                    \
  type (name) arguments                                                                                                                    \
  {                                                                                                                                        \
    static __typeof__ (&(name)) glib;                                                                                                      \
    if (!glib)                                                                                                                             \
      glib = REAL (name);                                                                                                                  \
    before;                                                                                                                                \
    type answer = glib pass;                                                                                                               \
    after;                                                                                                                                 \
    return answer;                                                                                                                         \
  }

/* ---- locks ---- */

CALL (g_mutex_lock, (GMutex * lock), (lock), , acquire (lock))
CALL (g_mutex_unlock, (GMutex * lock), (lock), release (lock), )
CALL (g_cond_wait, (GCond * cond, GMutex *lock), (cond, lock), release (lock), acquire (lock))
ASK (gboolean, g_cond_wait_until, (GCond * cond, GMutex *lock, gint64 end), (cond, lock, end), release (lock), acquire (lock))
CALL (g_once_init_leave, (volatile void *at, gsize result), (at, result), release ((gconstpointer) at), )
ASK (gboolean, g_once_init_enter, (volatile void *at), (at), , acquire ((gconstpointer) at))

/* ---- references: who lets go of the last one has all that was done with it behind him ---- */

CALL (g_bytes_unref, (GBytes * bytes), (bytes), (release (bytes), acquire (bytes)), )
CALL (g_object_unref, (gpointer object), (object), (release (object), acquire (object)), )
CALL (g_atomic_ref_count_inc, (gatomicrefcount * count), (count), release (count), )
ASK (gboolean, g_atomic_ref_count_dec, (gatomicrefcount * count), (count), release (count), acquire (count))

/* ---- tasks ---- */

static void
run_task (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GTaskThreadFunc run = (GTaskThreadFunc) (guintptr) g_object_get_data (G_OBJECT (task), "handover");
  acquire (task);
  run (task, source, data, cancellable);
}

void
g_task_run_in_thread (GTask *task, GTaskThreadFunc run)
{
  g_object_set_data (G_OBJECT (task), "handover", (gpointer) (guintptr) run);
  release (task);
  REAL (g_task_run_in_thread) (task, run_task);
}

CALL (g_task_return_pointer, (GTask * task, gpointer value, GDestroyNotify free_value), (task, value, free_value), release (task), )
CALL (g_task_return_boolean, (GTask * task, gboolean value), (task, value), release (task), )
CALL (g_task_return_error, (GTask * task, GError *error), (task, error), release (task), )
ASK (gpointer, g_task_propagate_pointer, (GTask * task, GError **error), (task, error), acquire (task), )
ASK (gboolean, g_task_propagate_boolean, (GTask * task, GError **error), (task, error), acquire (task), )

/* ---- pools ---- */

typedef struct {
  GThreadPool *pool;
  GFunc run;
  gpointer data;
  int in, out;
} Pool;

static Pool *pools[POOLS];
static pthread_mutex_t pools_lock = PTHREAD_MUTEX_INITIALIZER;

static void
run_in_pool (gpointer item, gpointer data)
{
  Pool *pool = data;
  acquire (&pool->in);
  pool->run (item, pool->data);
  release (&pool->out);
}

static Pool *
find_pool (GThreadPool *pool)
{
  Pool *found = NULL;
  pthread_mutex_lock (&pools_lock);
  for (int i = 0; i < POOLS && !found; i++)
    if (pools[i] && pools[i]->pool == pool)
      found = pools[i];
  pthread_mutex_unlock (&pools_lock);
  return found;
}

GThreadPool *
g_thread_pool_new (GFunc run, gpointer data, int most, gboolean exclusive, GError **error)
{
  Pool *pool = g_new0 (Pool, 1);
  pool->run = run;
  pool->data = data;
  release (&pool->in);
  pool->pool = REAL (g_thread_pool_new) (run_in_pool, pool, most, exclusive, error);
  pthread_mutex_lock (&pools_lock);
  int i = 0;
  while (i < POOLS - 1 && pools[i])
    i++;
  pools[i] = pool;
  pthread_mutex_unlock (&pools_lock);
  return pool->pool;
}

gboolean
g_thread_pool_push (GThreadPool *of, gpointer item, GError **error)
{
  Pool *pool = find_pool (of);
  release (pool ? &pool->in : NULL);
  return REAL (g_thread_pool_push) (of, item, error);
}

void
g_thread_pool_free (GThreadPool *of, gboolean immediate, gboolean wait)
{
  Pool *pool = find_pool (of);
  REAL (g_thread_pool_free) (of, immediate, wait);
  acquire (pool ? &pool->out : NULL);
  pthread_mutex_lock (&pools_lock);
  for (int i = 0; pool && i < POOLS; i++)
    if (pools[i] == pool)
      pools[i] = NULL;
  pthread_mutex_unlock (&pools_lock); /* what is left of it is a few bytes of a test */
}
