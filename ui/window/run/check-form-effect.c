/* check-form-effect.c - what taking a check over would do to the bench, judged aside while nobody types */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/compare/compare.h"
#include "core/judge/judge.h"
#include "ui/window/run/check-form-private.h"
#include "ui/words/words.h"

#define QUIET_MS 400 /* after the last keystroke */

typedef struct {
  SpBench *bench;     /* with the analyzer as it would be */
  SpFindings *before; /* of the bench as it is */
  guint changes;      /* of the form, then */
  char *name;         /* of the condition that is chosen, and its deciding emission */
  guint order;
  double frequency_hz;
} Asked;

static void
asked_free (gpointer data)
{
  Asked *asked = data;
  sp_bench_unref (asked->bench);
  sp_findings_unref (asked->before);
  g_free (asked->name);
  g_free (asked);
}

static void
judge (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  (void) source, (void) cancellable;
  Asked *asked = data;
  g_autoptr (SpFindings) after = sp_judge (asked->bench);
  g_task_return_pointer (task, sp_compare_moves (asked->before, after), (GDestroyNotify) sp_moves_free);
}

static const SpMove *
move_of (const SpMoves *moves, const Asked *asked)
{
  for (guint i = 0; i < moves->n_moved; i++) {
    const SpMove *move = &moves->moved[i];
    gboolean same = asked->order ? move->order == asked->order : move->order == 0 && fabs (move->frequency_hz - asked->frequency_hz) < 1;
    if (same && g_strcmp0 (move->name, asked->name) == 0)
      return move;
  }
  return NULL;
}

static char *
says (const SpMoves *moves, const Asked *asked, const char *emission)
{
  const SpMove *move = move_of (moves, asked);
  g_autofree char *before = sp_words_number (move ? move->expanded_before_db : NAN, 1, SP_HAND_SCREEN);
  g_autofree char *after = sp_words_number (move ? move->expanded_after_db : NAN, 1, SP_HAND_SCREEN);
  g_autofree char *verdicts = moves->n_condition_flips
                                  ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u verdict would change.", "%u verdicts would change.",
                                                                  moves->n_condition_flips),
                                                     moves->n_condition_flips)
                                  : g_strdup (_ ("No verdict would change."));
  return move ? g_strdup_printf (_ ("%s, %s: U %s \xe2\x86\x92 %s dB. %s"), asked->name, emission, before, after, verdicts)
              : g_steal_pointer (&verdicts);
}

static void
on_judged (GObject *source, GAsyncResult *result, gpointer data)
{
  SpCheckForm *form = SP_CHECK_FORM (source);
  const Asked *asked = g_task_get_task_data (G_TASK (result));
  g_autoptr (SpMoves) moves = g_task_propagate_pointer (G_TASK (result), NULL);
  g_autofree char *emission = data;
  form->judging = FALSE;
  if (form->table.filling) /* closed */
    return;
  if (asked->changes != form->changes) {
    sp_check_form_ask_effect (form);
    return;
  }
  g_autofree char *text = says (moves, asked, emission);
  gtk_label_set_text (GTK_LABEL (form->effect), text);
}

/* What there is to judge; NULL: not now. */
static Asked *
asked_of (SpCheckForm *form, const SpEmission **deciding)
{
  SpSession *session = SP_DIALOG (form)->session;
  SpAnalyzer *analyzer = sp_check_form_analyzer (form);
  const SpConditionFindings *found = sp_session_judging (session) ? NULL : sp_session_found (session);
  *deciding = found ? sp_findings_deciding (found) : NULL;
  g_autoptr (SpAnalyzer) edited = *deciding && analyzer && !form->wrong && form->result->n
                                      ? sp_check_take_over (form->check, form->result, analyzer, NULL)
                                      : NULL;
  if (!edited)
    return NULL;
  Asked *asked = g_new0 (Asked, 1);
  asked->bench = sp_bench_replace_analyzer (sp_session_bench (session), analyzer, edited);
  asked->before = sp_findings_ref (sp_session_findings (session));
  asked->changes = form->changes;
  asked->name = g_strdup (found->name);
  asked->order = (*deciding)->order;
  asked->frequency_hz = (*deciding)->frequency_hz;
  return asked;
}

static gboolean
begin (gpointer owner)
{
  SpCheckForm *form = owner;
  const SpEmission *deciding;
  form->effect_source = 0;
  Asked *asked = form->judging ? NULL : asked_of (form, &deciding);
  if (!asked)
    return G_SOURCE_REMOVE;
  form->judging = TRUE;
  g_autoptr (GTask) task = g_task_new (form, NULL, on_judged, sp_words_emission (deciding, SP_HAND_SCREEN));
  g_task_set_task_data (task, asked, asked_free);
  g_task_run_in_thread (task, judge);
  return G_SOURCE_REMOVE;
}

void
sp_check_form_ask_effect (SpCheckForm *form)
{
  gtk_label_set_text (GTK_LABEL (form->effect), "");
  g_clear_handle_id (&form->effect_source, g_source_remove);
  if (form->touched)
    form->effect_source = g_timeout_add (QUIET_MS, begin, form);
}
