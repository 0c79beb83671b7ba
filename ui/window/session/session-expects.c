/* session-expects.c - what the next export is for, said before it comes */
#include "ui/window/session/session-private.h"

static char *
name_at (SpSession *self, guint condition)
{
  const SpBench *bench = sp_book_bench (self->book);
  return condition < bench->n_conditions ? sp_condition_name (bench, &bench->conditions[condition]) : NULL;
}

/* Of it, the bench's own unkeyed sweep counted in. */
static guint
sweeps_of (SpSession *self, guint condition)
{
  const SpBench *bench = sp_book_bench (self->book);
  return bench->conditions[condition].n_sweeps + (bench->unkeyed ? 1 : 0);
}

static void
set (SpSession *self, SpExpects expects)
{
  g_free (self->expects_name);
  self->expects_name = expects.any ? name_at (self, expects.condition) : NULL;
  self->expects_had = expects.any ? sweeps_of (self, expects.condition) : 0;
  self->expects = expects;
  g_object_notify (G_OBJECT (self), "expects");
}

SpExpects
sp_session_expects (SpSession *self)
{
  return self->expects;
}

void
sp_session_expect (SpSession *self, guint condition, SpPurpose purpose, gboolean retake)
{
  if (condition < sp_book_bench (self->book)->n_conditions)
    set (self, (SpExpects){ TRUE, condition, purpose, retake });
}

void
sp_session_expect_nothing (SpSession *self)
{
  if (self->expects.any)
    set (self, (SpExpects){ .any = FALSE });
}

void
sp_session_follow_expected (SpSession *self)
{
  const SpBench *bench = sp_book_bench (self->book);
  if (!self->expects.any)
    return;
  for (guint i = 0; i < bench->n_conditions; i++) {
    g_autofree char *name = name_at (self, i);
    if (g_strcmp0 (name, self->expects_name) != 0)
      continue;
    if (sweeps_of (self, i) != self->expects_had)
      break;
    self->expects.condition = i;
    return;
  }
  sp_session_expect_nothing (self);
}
