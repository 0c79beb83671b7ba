/* session.c - the book, its latest findings, what is chosen */
#include "core/judge/judge.h"
#include "ui/window/session/session-private.h"

#include <math.h>

#include "ui/window/session/drafts.h"
#include "ui/window/session/startup.h"

G_DEFINE_FINAL_TYPE (SpSession, sp_session, G_TYPE_OBJECT)

enum {
  PROP_FINDINGS = 1,
  PROP_JUDGING,
  PROP_TITLE,
  PROP_SAVED,
  PROP_SAVE_TROUBLE,
  PROP_UNDO_LABEL,
  PROP_REDO_LABEL,
  PROP_CONDITION,
  PROP_EMISSION,
  PROP_FROM_HZ,
  PROP_TO_HZ,
  PROP_BOTTOM_DBM,
  PROP_TOP_DBM,
  PROP_LOGARITHMIC,
  PROP_RELATIVE,
  PROP_ALL_SWEEPS,
  PROP_BY_HARMONIC,
  PROP_ORDER,
  PROP_SHOWN,
  PROP_POINTER_HZ,
  PROP_RULER_HZ,
  PROP_EXPECTS,
  N_PROPS
};

static GParamSpec *props[N_PROPS];
static guint trouble_signal, done_signal;

GType
sp_findings_get_boxed_type (void)
{
  static gsize type;
  if (g_once_init_enter (&type))
    g_once_init_leave (&type,
                       g_boxed_type_register_static ("SpFindings", (GBoxedCopyFunc) sp_findings_ref, (GBoxedFreeFunc) sp_findings_unref));
  return type;
}

static void
notify (SpSession *self, guint prop)
{
  g_object_notify_by_pspec (G_OBJECT (self), props[prop]);
}

static void
take_choice (SpSession *self, guint condition, int emission)
{
  if (condition == self->condition && emission == self->emission)
    return;
  if (self->by_harmonic && self->findings && condition < self->findings->n && self->condition < self->findings->n)
    sp_session_scale_views (self, self->findings->conditions[condition].fundamental_hz
                                      / self->findings->conditions[self->condition].fundamental_hz);
  self->condition = condition;
  self->emission = emission;
  notify (self, PROP_CONDITION);
  notify (self, PROP_EMISSION);
}

/* The chosen condition and emission may be gone after an edit, and another may decide. */
static void
keep_choice_valid (SpSession *self)
{
  guint n = self->findings ? self->findings->n : 0;
  guint condition = n == 0 ? 0 : MIN (self->condition, n - 1);
  int emission = condition == self->condition ? self->emission : -1;
  if (n > 0 && self->deciding)
    emission = self->findings->conditions[condition].worst_emission;
  else if (n > 0 && emission >= (int) self->findings->conditions[condition].n_emissions)
    emission = -1;
  take_choice (self, condition, emission);
}

static void
show_findings (SpSession *self, SpFindings *findings)
{
  gboolean logarithmic = sp_session_logarithmic (self);
  g_clear_pointer (&self->findings, sp_findings_unref);
  self->findings = findings;
  sp_session_take_rows (self);
  g_clear_object (&self->judging);
  keep_choice_valid (self);
  if (sp_session_logarithmic (self) != logarithmic)
    notify (self, PROP_LOGARITHMIC);
  notify (self, PROP_FINDINGS);
  notify (self, PROP_JUDGING);
}

static void
judge_in_thread (GTask *task, void *source, void *bench, GCancellable *cancellable)
{
  (void) source;
  SpFindings *findings = NULL;
  if (!g_cancellable_is_cancelled (cancellable))
    findings = sp_early_findings (bench, -1);
  if (!findings && !g_cancellable_is_cancelled (cancellable))
    findings = sp_judge (bench);
  g_task_return_pointer (task, findings, (GDestroyNotify) sp_findings_unref);
}

static void
judged (GObject *source, GAsyncResult *result, void *data)
{
  SpSession *self = SP_SESSION (source);
  (void) data;
  SpFindings *findings = g_task_propagate_pointer (G_TASK (result), NULL);
  if (!findings)
    return;
  if (findings->bench == sp_book_bench (self->book))
    show_findings (self, findings);
  else /* an edit overtook it: never shown as current */
    sp_findings_unref (findings);
}

static void
judge (SpSession *self)
{
  if (self->judging)
    g_cancellable_cancel (self->judging);
  g_clear_object (&self->judging);
  self->judging = g_cancellable_new ();
  g_autoptr (GTask) task = g_task_new (self, self->judging, judged, NULL);
  g_task_set_check_cancellable (task, FALSE);
  g_task_set_task_data (task, sp_bench_ref (sp_book_bench (self->book)), (GDestroyNotify) sp_bench_unref);
  g_task_run_in_thread (task, judge_in_thread);
  notify (self, PROP_JUDGING);
}

/* What follows every change of the present bench: one judging, one round of notices. */
static void
bench_changed (SpSession *self)
{
  sp_session_follow_expected (self);
  notify (self, PROP_TITLE);
  notify (self, PROP_SAVED);
  notify (self, PROP_UNDO_LABEL);
  notify (self, PROP_REDO_LABEL);
  judge (self);
}

static void
after_edit (SpSession *self)
{
  sp_session_save_soon (self);
  bench_changed (self);
}

gboolean
sp_session_edit (SpSession *self, SpBench *bench, const char *label, GError *error)
{
  if (!bench) {
    sp_session_trouble (self, error ? error->message : "", NULL);
    g_clear_error (&error);
    return FALSE;
  }
  sp_book_edit (self->book, bench, label);
  sp_bench_unref (bench);
  after_edit (self);
  return TRUE;
}

/* The chosen condition stays chosen, wherever it stands then. */
static void
go_through_history (SpSession *self, gboolean (*step) (SpBook *))
{
  const SpBench *before = sp_book_bench (self->book);
  g_autofree char *chosen = self->condition < before->n_conditions ? sp_condition_name (before, &before->conditions[self->condition])
                                                                   : NULL;
  if (!step (self->book))
    return;
  after_edit (self);
  const SpBench *bench = sp_book_bench (self->book);
  for (guint i = 0; chosen && i < bench->n_conditions; i++) {
    g_autofree char *name = sp_condition_name (bench, &bench->conditions[i]);
    if (i != self->condition && g_str_equal (name, chosen)) {
      sp_session_choose (self, i, SP_DECIDING_EMISSION);
      return;
    }
  }
}

void
sp_session_undo (SpSession *self)
{
  go_through_history (self, sp_book_undo);
}

void
sp_session_redo (SpSession *self)
{
  go_through_history (self, sp_book_redo);
}

static void
take_book (SpSession *self, SpBook *book)
{
  self->book = book;
  self->edited = FALSE;
  g_clear_pointer (&self->drafts, sp_drafts_close);
  self->drafts = sp_drafts_open (self, sp_book_path (book), sp_book_bench (book)->sha256);
}

gboolean
sp_session_set_book (SpSession *self, SpBook *book, GError **error)
{
  if (!sp_session_save_now (self, error))
    return FALSE;
  sp_session_expect_nothing (self);
  g_clear_pointer (&self->book, sp_book_close);
  take_book (self, book);
  g_clear_pointer (&self->findings, sp_findings_unref);
  g_hash_table_remove_all (self->hidden_names);
  sp_session_take_rows (self);
  g_array_set_size (self->back, 0);
  g_array_set_size (self->forward, 0);
  self->view = (SpSessionView){ NAN, NAN, NAN, NAN };
  self->condition = 0;
  self->emission = -1;
  self->deciding = TRUE;
  notify (self, PROP_FINDINGS);
  bench_changed (self);
  return TRUE;
}

SpBook *
sp_session_book (SpSession *self)
{
  return self->book;
}

SpDrafts *
sp_session_drafts (SpSession *self)
{
  return self->drafts;
}

SpBench *
sp_session_bench (SpSession *self)
{
  return sp_book_bench (self->book);
}

SpFindings *
sp_session_findings (SpSession *self)
{
  return self->findings;
}

gboolean
sp_session_judging (SpSession *self)
{
  return self->judging != NULL;
}

guint
sp_session_condition (SpSession *self)
{
  return self->condition;
}

const SpConditionFindings *
sp_session_found (SpSession *self)
{
  return self->findings && self->condition < self->findings->n ? &self->findings->conditions[self->condition] : NULL;
}

int
sp_session_emission (SpSession *self)
{
  return self->emission;
}

void
sp_session_choose (SpSession *self, guint condition, int emission)
{
  gboolean known = self->findings && !self->judging && condition < self->findings->n;
  self->deciding = emission == SP_DECIDING_EMISSION;
  if (self->deciding)
    emission = known ? self->findings->conditions[condition].worst_emission : -1;
  take_choice (self, condition, emission);
}

gboolean
sp_session_chose_deciding (SpSession *self)
{
  return self->deciding;
}

void
sp_session_settle (SpSession *self, int wait_ms)
{
  SpBench *bench = sp_book_bench (self->book);
  if (!sp_early_has (bench))
    return;
  SpFindings *findings = sp_early_findings (bench, wait_ms);
  if (findings)
    show_findings (self, findings);
  else
    judge (self);
}

void
sp_session_done (SpSession *self, const char *what)
{
  g_signal_emit (self, done_signal, 0, what);
}

void
sp_session_trouble (SpSession *self, const char *what, const char *to_do)
{
  g_signal_emit (self, trouble_signal, 0, what, to_do);
}

SpSession *
sp_session_new (SpBook *book)
{
  SpSession *self = g_object_new (SP_TYPE_SESSION, NULL);
  take_book (self, book);
  if (sp_early_has (sp_book_bench (book)))
    self->judging = g_cancellable_new (); /* it is under way: sp_session_settle() takes it up */
  else
    judge (self);
  return self;
}

static void
sp_session_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SpSession *self = SP_SESSION (object);
  switch (id) {
  case PROP_FINDINGS: g_value_set_boxed (value, self->findings); break;
  case PROP_JUDGING: g_value_set_boolean (value, self->judging != NULL); break;
  case PROP_TITLE: g_value_set_string (value, sp_book_bench (self->book)->title); break;
  case PROP_SAVED: g_value_set_boolean (value, sp_book_path (self->book) && !sp_book_unsaved (self->book) && !self->save_trouble); break;
  case PROP_SAVE_TROUBLE: g_value_set_string (value, self->save_trouble); break;
  case PROP_UNDO_LABEL: g_value_set_string (value, sp_book_undo_label (self->book)); break;
  case PROP_REDO_LABEL: g_value_set_string (value, sp_book_redo_label (self->book)); break;
  case PROP_CONDITION: g_value_set_uint (value, self->condition); break;
  case PROP_EMISSION: g_value_set_int (value, self->emission); break;
  case PROP_FROM_HZ: g_value_set_double (value, self->view.from_hz); break;
  case PROP_TO_HZ: g_value_set_double (value, self->view.to_hz); break;
  case PROP_BOTTOM_DBM: g_value_set_double (value, self->view.bottom_dbm); break;
  case PROP_TOP_DBM: g_value_set_double (value, self->view.top_dbm); break;
  case PROP_RELATIVE: g_value_set_boolean (value, self->relative); break;
  case PROP_LOGARITHMIC: g_value_set_boolean (value, sp_session_logarithmic (self)); break;
  case PROP_ALL_SWEEPS: g_value_set_boolean (value, self->all_sweeps); break;
  case PROP_BY_HARMONIC: g_value_set_boolean (value, self->by_harmonic); break;
  case PROP_ORDER: g_value_set_uint (value, self->order); break;
  case PROP_SHOWN: g_value_set_uint (value, sp_session_n_shown (self)); break;
  case PROP_POINTER_HZ: g_value_set_double (value, self->pointer_hz); break;
  case PROP_RULER_HZ: g_value_set_double (value, self->ruler_hz); break;
  case PROP_EXPECTS: g_value_set_boolean (value, self->expects.any); break;
  default: G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
  }
}

static void
sp_session_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SpSession *self = SP_SESSION (object);
  if (id == PROP_LOGARITHMIC)
    sp_session_set_logarithmic (self, g_value_get_boolean (value));
  else if (id == PROP_RELATIVE)
    sp_session_set_relative (self, g_value_get_boolean (value));
  else if (id == PROP_ALL_SWEEPS)
    sp_session_set_all_sweeps (self, g_value_get_boolean (value));
  else if (id == PROP_BY_HARMONIC)
    sp_session_set_by_harmonic (self, g_value_get_boolean (value));
  else if (id == PROP_ORDER)
    sp_session_set_order (self, (SpOrder) g_value_get_uint (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
sp_session_dispose (GObject *object)
{
  SpSession *self = SP_SESSION (object);
  if (self->judging)
    g_cancellable_cancel (self->judging);
  g_clear_object (&self->judging);
  if (self->book && !self->dropped)
    sp_session_save_now (self, NULL);
  g_clear_handle_id (&self->save_source, g_source_remove);
  g_clear_pointer (&self->drafts, sp_drafts_close);
  G_OBJECT_CLASS (sp_session_parent_class)->dispose (object);
}

static void
sp_session_finalize (GObject *object)
{
  SpSession *self = SP_SESSION (object);
  g_clear_pointer (&self->findings, sp_findings_unref);
  g_clear_pointer (&self->book, sp_book_close);
  g_hash_table_unref (self->hidden_names);
  g_free (self->hidden);
  g_free (self->rows);
  g_free (self->save_trouble);
  g_free (self->place);
  g_free (self->expects_name);
  g_array_unref (self->back);
  g_array_unref (self->forward);
  G_OBJECT_CLASS (sp_session_parent_class)->finalize (object);
}

static void
sp_session_class_init (SpSessionClass *klass)
{
  GObjectClass *object = G_OBJECT_CLASS (klass);
  const GParamFlags read = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY;
  object->get_property = sp_session_get_property;
  object->set_property = sp_session_set_property;
  object->dispose = sp_session_dispose;
  object->finalize = sp_session_finalize;
  props[PROP_FINDINGS] = g_param_spec_boxed ("findings", NULL, NULL, SP_TYPE_FINDINGS, read);
  props[PROP_JUDGING] = g_param_spec_boolean ("judging", NULL, NULL, FALSE, read);
  props[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, NULL, read);
  props[PROP_SAVED] = g_param_spec_boolean ("saved", NULL, NULL, FALSE, read);
  props[PROP_SAVE_TROUBLE] = g_param_spec_string ("save-trouble", NULL, NULL, NULL, read);
  props[PROP_UNDO_LABEL] = g_param_spec_string ("undo-label", NULL, NULL, NULL, read);
  props[PROP_REDO_LABEL] = g_param_spec_string ("redo-label", NULL, NULL, NULL, read);
  props[PROP_CONDITION] = g_param_spec_uint ("condition", NULL, NULL, 0, G_MAXUINT, 0, read);
  props[PROP_EMISSION] = g_param_spec_int ("emission", NULL, NULL, -1, G_MAXINT, -1, read);
  props[PROP_FROM_HZ] = g_param_spec_double ("from-hz", NULL, NULL, -G_MAXDOUBLE, G_MAXDOUBLE, 0, read);
  props[PROP_TO_HZ] = g_param_spec_double ("to-hz", NULL, NULL, -G_MAXDOUBLE, G_MAXDOUBLE, 0, read);
  props[PROP_BOTTOM_DBM] = g_param_spec_double ("bottom-dbm", NULL, NULL, -G_MAXDOUBLE, G_MAXDOUBLE, 0, read);
  props[PROP_TOP_DBM] = g_param_spec_double ("top-dbm", NULL, NULL, -G_MAXDOUBLE, G_MAXDOUBLE, 0, read);
  props[PROP_RELATIVE] = g_param_spec_boolean ("relative", NULL, NULL, FALSE, read | G_PARAM_WRITABLE);
  props[PROP_LOGARITHMIC] = g_param_spec_boolean ("logarithmic", NULL, NULL, FALSE, read | G_PARAM_WRITABLE);
  props[PROP_ALL_SWEEPS] = g_param_spec_boolean ("all-sweeps", NULL, NULL, TRUE, read | G_PARAM_WRITABLE);
  props[PROP_BY_HARMONIC] = g_param_spec_boolean ("by-harmonic", NULL, NULL, FALSE, read | G_PARAM_WRITABLE);
  props[PROP_ORDER] = g_param_spec_uint ("order", NULL, NULL, SP_ORDER_BENCH, SP_ORDER_NAME, SP_ORDER_BENCH, read | G_PARAM_WRITABLE);
  props[PROP_SHOWN] = g_param_spec_uint ("shown", NULL, NULL, 0, G_MAXUINT, 0, read);
  props[PROP_POINTER_HZ] = g_param_spec_double ("pointer-hz", NULL, NULL, -G_MAXDOUBLE, G_MAXDOUBLE, 0, read);
  props[PROP_RULER_HZ] = g_param_spec_double ("ruler-hz", NULL, NULL, -G_MAXDOUBLE, G_MAXDOUBLE, 0, read);
  props[PROP_EXPECTS] = g_param_spec_boolean ("expects", NULL, NULL, FALSE, read);
  g_object_class_install_properties (object, N_PROPS, props);
  done_signal = g_signal_new ("done", SP_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  trouble_signal = g_signal_new ("trouble", SP_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING,
                                 G_TYPE_STRING);
}

static void
sp_session_init (SpSession *self)
{
  self->emission = -1;
  self->deciding = TRUE;
  self->all_sweeps = self->by_band = TRUE;
  self->hidden_names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->view = (SpSessionView){ NAN, NAN, NAN, NAN };
  self->pointer_hz = self->ruler_hz = NAN;
  self->back = g_array_new (FALSE, FALSE, sizeof (SpSessionView));
  self->forward = g_array_new (FALSE, FALSE, sizeof (SpSessionView));
}
