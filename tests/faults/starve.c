/* starve.c - preloaded into a program: the n-th allocation that chosen libraries, or the program itself, ask of the C library fails.
 *
 * SP_STARVE is `N OBJECTS` (N fails), `N+ OBJECTS` (N and all after it) or `-1 OBJECTS` (none fails), OBJECTS the beginnings of file names, parted by
 * commas, `program` for the program itself. SP_STARVE_LOG gets the number of such allocations when the program ends, or the object that
 * it broke off in (SIGSEGV, SIGABRT). SP_STARVE_STACKS gets a line
 * `N STACK` for the allocation that fails; where none does, for the first from each call stack. STACK is the same in every run of the same program. Who
 * asks is told by the return address; what the C library asks for counts for who called it. GLib ends the program where it gets none, by design: its
 * own are never among them. With SP_STARVE_THREADS no thread begins.
 */
#include <dlfcn.h>
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <link.h>
#include <pthread.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define OBJECTS_MOST 256
#define FRAMES 12
#define DEPTH 40           /* of a call stack that is told from others */
#define STACKS_MOST 65536u /* a power of two */

extern void *__libc_malloc (size_t size);
extern void *__libc_calloc (size_t n, size_t size);
extern void *__libc_realloc (void *old, size_t size);
extern void *__libc_memalign (size_t alignment, size_t size);

typedef enum { OTHER, STARVED, C_LIBRARY, SELF } Kind;

static struct {
  long at; /* 0: not set up */
  int all_after;
  char names[256];
  atomic_long asked;
  int stacks; /* a file, or -1 */
} starve;

static struct {
  uintptr_t from, to;
  char name[32];
  Kind kind;
} objects[OBJECTS_MOST];
static atomic_int n_objects;
static _Thread_local int inside;     /* of this very code */
static _Thread_local int allocating; /* in the C library: a crash there tells of a heap that somebody has broken before */
static const char *starved = "";     /* the object that got none */

static int
is_named (const char *name)
{
  char names[sizeof starve.names], *rest = names;
  strcpy (names, starve.names);
  for (char *one; (one = strsep (&rest, ","));)
    if (*one && strncmp (name, one, strlen (one)) == 0)
      return 1;
  return 0;
}

static int
add_object (struct dl_phdr_info *info, size_t size, void *n)
{
  const char *slash = strrchr (info->dlpi_name, '/'), *name = !*info->dlpi_name ? "program" : slash ? slash + 1 : info->dlpi_name;
  int *count = n;
  (void) size;
  for (int i = 0; i < info->dlpi_phnum && *count < OBJECTS_MOST; i++)
    if (info->dlpi_phdr[i].p_type == PT_LOAD && info->dlpi_phdr[i].p_flags & PF_X) {
      objects[*count].from = info->dlpi_addr + info->dlpi_phdr[i].p_vaddr;
      objects[*count].to = objects[*count].from + info->dlpi_phdr[i].p_memsz;
      snprintf (objects[*count].name, sizeof objects[*count].name, "%s", name);
      objects[*count].kind = is_named (name)                     ? STARVED
                             : strncmp (name, "libc.so", 7) == 0 ? C_LIBRARY
                             : strstr (name, "starve")           ? SELF
                                                                 : OTHER;
      ++*count;
    }
  return 0;
}

static Kind
kind_of (const void *address)
{
  int n = n_objects;
  for (int i = 0; i < n; i++)
    if ((uintptr_t) address >= objects[i].from && (uintptr_t) address < objects[i].to)
      return objects[i].kind;
  return OTHER; /* loaded later: none of ours is */
}

/* The first that is neither this code nor the C library. */
static Kind
caller_of_library (void)
{
  void *frames[FRAMES];
  int n = backtrace (frames, FRAMES);
  for (int i = 0; i < n; i++) {
    Kind kind = kind_of (frames[i]);
    if (kind != SELF && kind != C_LIBRARY)
      return kind;
  }
  return OTHER;
}

/* The call stack, by places in the objects; what was loaded later is one place. */
static uint64_t
call_stack (void)
{
  void *frames[DEPTH];
  int n = backtrace (frames, DEPTH);
  uint64_t hash = 14695981039346656037u; /* FNV-1a, a frame at a time */
  for (int i = 0; i < n; i++) {
    uint64_t place = 0;
    for (int k = 0; k < n_objects; k++)
      if ((uintptr_t) frames[i] >= objects[k].from && (uintptr_t) frames[i] < objects[k].to)
        place = ((uint64_t) k + 1) << 40 | ((uintptr_t) frames[i] - objects[k].from);
    hash = (hash ^ place) * 1099511628211u;
  }
  return hash | 1;
}

/* Whether it is seen for the first time. */
static int
is_new (uint64_t stack)
{
  static _Atomic uint64_t seen[STACKS_MOST];
  for (unsigned i = 0, at = (unsigned) (stack >> 20) % STACKS_MOST; i < STACKS_MOST; i++, at = (at + 1) % STACKS_MOST) {
    uint64_t there = 0;
    if (atomic_compare_exchange_strong (&seen[at], &there, stack))
      return 1;
    if (there == stack)
      return 0;
  }
  return 0;
}

static void
tell_stack (long n)
{
  char line[64];
  uint64_t stack = call_stack ();
  if (!is_new (stack))
    return;
  int length = snprintf (line, sizeof line, "%ld %016llx\n", n, (unsigned long long) stack);
  if (write (starve.stacks, line, (size_t) length) < 0)
    _exit (3);
}

static int
fails (const void *caller)
{
  if (starve.at == 0 || inside)
    return 0;
  inside = 1;
  Kind kind = kind_of (caller);
  if (kind == C_LIBRARY)
    kind = caller_of_library ();
  long n = kind == STARVED ? ++starve.asked : 0;
  if (n && starve.stacks >= 0 && (n == starve.at || starve.at < 0))
    tell_stack (n);
  inside = 0;
  if (!n || (n != starve.at && !(starve.all_after && n > starve.at)))
    return 0;
  for (int i = 0; i < n_objects; i++)
    if ((uintptr_t) caller >= objects[i].from && (uintptr_t) caller < objects[i].to)
      starved = objects[i].name;
  errno = ENOMEM;
  return 1;
}

static void *
done (void *memory)
{
  allocating = 0;
  return memory;
}

void *
malloc (size_t size)
{
  return fails (__builtin_return_address (0)) ? NULL : (allocating = 1, done (__libc_malloc (size)));
}

void *
calloc (size_t n, size_t size)
{
  return fails (__builtin_return_address (0)) ? NULL : (allocating = 1, done (__libc_calloc (n, size)));
}

void *
realloc (void *old, size_t size)
{
  return fails (__builtin_return_address (0)) ? NULL : (allocating = 1, done (__libc_realloc (old, size)));
}

/* GLib's slices; never fails. */
int
posix_memalign (void **memory, size_t alignment, size_t size)
{
  allocating = 1;
  *memory = done (__libc_memalign (alignment, size));
  return *memory ? 0 : ENOMEM;
}

int
pthread_create (pthread_t *thread, const pthread_attr_t *attributes, void *(*run) (void *), void *data)
{
  static int (*next) (pthread_t *, const pthread_attr_t *, void *(*) (void *), void *);
  if (getenv ("SP_STARVE_THREADS"))
    return EAGAIN;
  if (!next)
    *(void **) &next = dlsym (RTLD_NEXT, "pthread_create");
  return next (thread, attributes, run, data);
}

static void
log_line (const char *line)
{
  const char *log = getenv ("SP_STARVE_LOG");
  int fd = log ? open (log, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600) : -1;
  if (fd < 0)
    return;
  if (write (fd, line, strlen (line)) < 0)
    _exit (3);
  close (fd);
}

/* The innermost object that is neither this one nor the C library; where a jump went to no stack at all, none is told. */
static void
broke (int number)
{
  void *frames[FRAMES];
  inside = 1;
  if (allocating) {
    char line[64];
    snprintf (line, sizeof line, "heap after %s", starved);
    log_line (line);
    raise (number);
    return;
  }
  int n = backtrace (frames, FRAMES);
  for (int i = 0; i < n; i++)
    for (int k = 0; k < n_objects; k++)
      if ((uintptr_t) frames[i] >= objects[k].from && (uintptr_t) frames[i] < objects[k].to && objects[k].kind != SELF
          && objects[k].kind != C_LIBRARY) {
        log_line (objects[k].name);
        raise (number); /* whose handler is the default one again */
        return;
      }
  raise (number);
}

static void __attribute__ ((constructor)) begin (void)
{
  const char *told = getenv ("SP_STARVE"), *stacks = getenv ("SP_STARVE_STACKS"), *names = told ? strchr (told, ' ') : NULL;
  void *frames[FRAMES];
  int n = 0;
  if (!names || strlen (names) >= sizeof starve.names)
    return;
  strcpy (starve.names, names + 1);
  backtrace (frames, FRAMES); /* loads what it needs now */
  dl_iterate_phdr (add_object, &n);
  n_objects = n;
  struct sigaction action = { .sa_handler = broke, .sa_flags = (int) SA_RESETHAND | SA_ONSTACK };
  static char room[65536];
  sigaltstack (&(stack_t){ .ss_sp = room, .ss_size = sizeof room }, NULL);
  sigaction (SIGSEGV, &action, NULL);
  sigaction (SIGABRT, &action, NULL);
  starve.stacks = stacks ? open (stacks, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600) : -1;
  starve.all_after = names > told && names[-1] == '+';
  starve.at = atol (told);
}

static void __attribute__ ((destructor)) end (void)
{
  char line[32];
  snprintf (line, sizeof line, "%ld\n", (long) starve.asked);
  log_line (line);
}
