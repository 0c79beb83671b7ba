/* check-form-fill.c - fills the form of a check: from a file, from what was typed before, or with what a new one begins with */
#include <math.h>
#include <string.h>

#include "core/quantity/text.h"
#include "core/quantity/typed.h"
#include "ui/window/run/check-form-private.h"
#include "ui/window/widgets/entry.h"
#include "ui/words/words.h"

#define NO_STAGE "" /* a chain's stages have names: of the drafts, this one is the analyzer's */

static const char *const columns[SP_CHECK_CELLS] = { "frequency", "attenuation", "level", "lead", "shows" };

static void
begin_filling (SpCheckForm *form)
{
  form->table.filling = TRUE;
  form->chosen_hz = form->chosen_db = NAN;
  form->restored = form->last = FALSE;
  g_clear_pointer (&form->leftover, g_free);
  sp_form_table_clear (&form->table);
}

static void
end_filling (SpCheckForm *form, gboolean touched)
{
  if (form->table.rows->len < SP_FORM_ROWS)
    sp_form_table_add (&form->table, NULL);
  form->table.filling = FALSE;
  form->touched = touched;
  form->changes++;
  sp_check_form_compute (form);
}

/* As a person writes it. (transfer full) */
static char *
shown (const char *text)
{
  return sp_typed_shown (text, sp_words_decimal_mark ());
}

static char *
shown_number (double value)
{
  char digits[32];
  return isnan (value) ? g_strdup ("") : shown (sp_format_exact (value, digits));
}

static gboolean
has_place (const SpCheck *check, double frequency_hz)
{
  for (guint i = 0; i < check->at->len; i++)
    if (((const SpCheckAt *) check->at->pdata[i])->frequency_hz == frequency_hz)
      return TRUE;
  return FALSE;
}

/* As it was told at that frequency. Between such points only a curve that was measured for itself tells, not one that rows of the form made. */
static gboolean
lead_at (const SpCheck *check, double frequency_hz, SpCurveAt *at)
{
  const SpCurve *lead = check->lead_loss;
  gboolean of_rows = TRUE;
  for (guint i = 0; lead && i < lead->n; i++) {
    of_rows = of_rows && has_place (check, lead->frequency_hz[i]);
    if (lead->frequency_hz[i] != frequency_hz)
      continue;
    at->value = lead->value[i];
    at->u = lead->u[i];
    return TRUE;
  }
  if (!lead || of_rows)
    return FALSE;
  *at = sp_curve_at (lead, frequency_hz, NAN);
  return TRUE;
}

/* "0.05 0.02" at that frequency. (transfer full) */
static char *
lead_text (const SpCheck *check, double frequency_hz)
{
  SpCurveAt at;
  char loss[32], u[32];
  if (!lead_at (check, frequency_hz, &at))
    return g_strdup ("");
  return isnan (at.u) ? g_strdup (sp_format_exact (at.value, loss))
                      : g_strdup_printf ("%s %s", sp_format_exact (at.value, loss), sp_format_exact (at.u, u));
}

static char *
levels_of (const SpCheckAt *at)
{
  GString *text = g_string_new (NULL);
  char digits[32];
  for (guint i = 0; i < at->shows->len; i++)
    g_string_append_printf (text, "%s%s", i ? "; " : "", sp_format_exact (g_array_index (at->shows, double, i), digits));
  return g_string_free (text, FALSE);
}

static void
show_at (SpCheckForm *form, const SpCheck *check, const SpCheckAt *at)
{
  g_autofree char *lead = lead_text (check, at->frequency_hz), *shows = levels_of (at);
  g_autofree char *frequency = sp_spell_frequency (at->frequency_hz), *setting = shown_number (at->attenuation_db);
  g_autofree char *level = shown_number (at->level_dbm), *lead_shown = shown (lead), *shows_shown = shown (shows);
  sp_form_table_add (&form->table, (const char *[]){ frequency, setting, level, lead_shown, shows_shown });
}

void
sp_check_form_show (SpCheckForm *form, const SpCheck *check, gboolean touched)
{
  g_autofree char *text = sp_check_text (check);
  begin_filling (form);
  form->leftover = g_strdup (check->leftover);
  for (guint i = 0; i < SP_CHECK_FORM_KEYS; i++) {
    const char *key = sp_check_form_key (i);
    g_autofree char *value = sp_key_text_get (text, "check", key);
    g_autofree char *spelled = value ? sp_spell_value (value, sp_key_spelling (sp_keys_find (sp_check_keys, key))) : NULL;
    g_autofree char *typed = spelled ? sp_typed_value_shown (sp_keys_find (sp_check_keys, key), spelled, sp_words_decimal_mark ()) : NULL;
    sp_entry_fill (form->key[i], typed ? typed : "");
  }
  for (guint i = 0; i < check->at->len; i++)
    show_at (form, check, check->at->pdata[i]);
  end_filling (form, touched);
}

void
sp_check_form_show_empty (SpCheckForm *form)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *today = g_date_time_format (now, "%Y-%m-%d");
  const SpAnalyzer *analyzer = sp_check_form_analyzer (form);
  const SpCurve *last = analyzer && sp_analyzer_checked (analyzer) ? analyzer->amplitude_correction_db : NULL;
  begin_filling (form);
  for (guint i = 0; i < SP_CHECK_FORM_KEYS; i++)
    sp_entry_fill (form->key[i], i == 0 ? today : "");
  for (guint i = 0; last && i < last->n && i < SP_FORM_ROWS; i++) { /* the same places as the last time */
    g_autofree char *frequency = sp_spell_frequency (last->frequency_hz[i]);
    sp_form_table_add (&form->table, (const char *[]){ frequency, NULL, NULL, NULL, NULL });
  }
  end_filling (form, FALSE);
}

char *
sp_check_form_show_last (SpCheckForm *form)
{
  const SpAnalyzer *analyzer = sp_check_form_analyzer (form);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpCheck) last = analyzer ? sp_check_of_analyzer (analyzer, &error) : NULL;
  if (!last || last->at->len > SP_FORM_ROWS) {
    sp_check_form_show_empty (form);
  } else {
    sp_check_form_show (form, last, FALSE);
    form->last = TRUE;
    sp_check_form_compute (form); /* says so */
  }
  return error ? g_strdup (error->message) : NULL;
}

/* ---- what was typed and not taken over ---- */

static SpFormTexts
texts_of (SpCheckForm *form)
{
  return (SpFormTexts){ &form->table, columns, form->key, sp_check_form_key, SP_CHECK_FORM_KEYS };
}

void
sp_check_form_keep_draft (SpCheckForm *form)
{
  const SpAnalyzer *analyzer = sp_check_form_analyzer (form);
  SpFormTexts texts = texts_of (form);
  SpDrafts *drafts = sp_session_drafts (SP_DIALOG (form)->session);
  if (analyzer && (form->touched || !sp_draft_is_taken (sp_drafts_get (drafts, analyzer->name, NO_STAGE))))
    sp_drafts_set (drafts, analyzer->name, NO_STAGE, form->touched ? sp_form_draft (&texts, form->leftover) : NULL);
}

void
sp_check_form_keep_taken (SpCheckForm *form)
{
  SpFormTexts texts = texts_of (form);
  GHashTable *draft = sp_form_draft (&texts, form->leftover);
  sp_draft_mark_taken (draft);
  sp_drafts_set (sp_session_drafts (SP_DIALOG (form)->session), sp_check_form_analyzer (form)->name, NO_STAGE, draft);
}

gboolean
sp_check_form_restore (SpCheckForm *form)
{
  const SpAnalyzer *analyzer = sp_check_form_analyzer (form);
  GHashTable *draft = analyzer ? sp_drafts_get (sp_session_drafts (SP_DIALOG (form)->session), analyzer->name, NO_STAGE) : NULL;
  SpFormTexts texts = texts_of (form);
  if (!draft || (sp_draft_is_taken (draft) && analyzer->check_text))
    return FALSE;
  begin_filling (form);
  form->restored = TRUE;
  sp_form_restore (&texts, draft, &form->leftover);
  end_filling (form, TRUE);
  return TRUE;
}
