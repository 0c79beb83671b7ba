/* chain-page-fields.c - the keys of the chain and of a stage, as its file spells them */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "ui/window/chain-page-private.h"

static const char *const kinds[] = { "cable", "pad", "adapter", "coupler", "filter", "notch", "limiter", NULL };
static const char *const kind_words[] = { N_ ("cable"),  N_ ("pad"),   N_ ("adapter"), N_ ("coupler"),
                                          N_ ("filter"), N_ ("notch"), N_ ("limiter") };
static const char *const curves[] = { "", "linear", "smooth", "sqrt", NULL };
static const char *const curve_words[] = { N_ ("as usual"), N_ ("straight lines"), N_ ("smooth"), N_ ("cable law") };
static const char *const yes_no[] = { "", "yes", "no", NULL };
static const char *const yes_no_words[] = { N_ ("as usual"), N_ ("yes"), N_ ("no") };

static const SpFormField chain_keys[] = {
  { "name", N_ ("name"), NULL, N_ ("What this chain is called on reports."), SP_SPELL_AS_IT_IS, NULL, NULL },
  { "calibrated", N_ ("calibrated"), NULL, N_ ("The date of calibration, such as 2026-09-12; a stage may have its own."), SP_SPELL_AS_IT_IS,
    NULL, NULL },
  { "interval_days", N_ ("interval"), N_ ("days"), N_ ("A calibration older than this is warned about."), SP_SPELL_AS_IT_IS, NULL, NULL },
  { "temperature_c", N_ ("temperature"), "\302\260C", N_ ("Of the calibration; losses are corrected to the bench's own."),
    SP_SPELL_AS_IT_IS, NULL, NULL },
};

static const SpFormField stage_keys[] = {
  { "name", N_ ("name"), NULL, N_ ("What this stage is called; names in a chain are unique."), SP_SPELL_AS_IT_IS, NULL, NULL },
  { "kind", N_ ("kind"), NULL, N_ ("What it is: a notch and a filter throw back what they stop, cables and adapters pass DC."),
    SP_SPELL_AS_IT_IS, kinds, kind_words },
  { "label_db", N_ ("label"), "dB", N_ ("The loss printed on it; used only where no measured point exists, and then said."),
    SP_SPELL_AS_IT_IS, NULL, NULL },
  { "label_tolerance_db", N_ ("label's tolerance"), "dB",
    N_ ("Half-width of what the label promises; with a span it makes the label count as calibrated."), SP_SPELL_AS_IT_IS, NULL, NULL },
  { "span", N_ ("label holds"), NULL, N_ ("From and to which frequency the label holds, such as 0 3GHz."), SP_SPELL_FREQUENCIES, NULL,
    NULL },
  { "rating_w", N_ ("rating"), "W", N_ ("The greatest power that may go into it."), SP_SPELL_AS_IT_IS, NULL, NULL },
  { "derating", N_ ("derating"), "\302\260C W", N_ ("Ratings at higher temperatures, such as 25 25; 100 5."), SP_SPELL_AS_IT_IS, NULL,
    NULL },
  { "vswr", N_ ("VSWR"), NULL, N_ ("Standing-wave ratio of both its sides: a number, or pairs such as 50MHz 1.05; 1GHz 1.2."),
    SP_SPELL_ROWS, NULL, NULL },
  { "calibrated", N_ ("calibrated"), NULL, N_ ("The date of its own calibration where it is not the chain's."), SP_SPELL_AS_IT_IS, NULL,
    NULL },
  { "temperature_c", N_ ("temperature"), "\302\260C", N_ ("Of its own calibration where it is not the chain's."), SP_SPELL_AS_IT_IS, NULL,
    NULL },
  { "touchstone", N_ ("two-port file"), NULL, N_ ("A Touchstone file with its S-parameters, instead of points."), SP_SPELL_AS_IT_IS, NULL,
    NULL },
  { "curve", N_ ("between points"), NULL, N_ ("How the loss runs between the points; the cable law is a fit of a sqrt(f) + b f."),
    SP_SPELL_AS_IT_IS, curves, curve_words },
  { "u_db", N_ ("u without its own"), "dB", N_ ("Standard uncertainty of points that carry none."), SP_SPELL_AS_IT_IS, NULL, NULL },
  { "common_u_db", N_ ("common u"), "dB",
    N_ ("The part of it that is common to all stages and frequencies: one power meter behind all curves."), SP_SPELL_AS_IT_IS, NULL, NULL },
  { "connector_u_db", N_ ("connector u"), "dB", N_ ("What plugging it in again changes."), SP_SPELL_AS_IT_IS, NULL, NULL },
  { "temperature_coefficient", N_ ("change per kelvin"), "dB/dB/K", N_ ("How much of its loss a kelvin changes."), SP_SPELL_AS_IT_IS, NULL,
    NULL },
  { "temperature_coefficient_u", N_ ("its u"), "dB/dB/K", N_ ("Standard uncertainty of the change per kelvin."), SP_SPELL_AS_IT_IS, NULL,
    NULL },
  { "power_coefficient", N_ ("change per watt"), "dB/dB/W", N_ ("How much of its loss a watt of heat changes."), SP_SPELL_AS_IT_IS, NULL,
    NULL },
  { "directional", N_ ("one way only"), NULL, N_ ("The power must go in at the marked side."), SP_SPELL_AS_IT_IS, yes_no, yes_no_words },
  { "passes_dc", N_ ("passes DC"), NULL, N_ ("A voltage at the socket reaches what stands behind it."), SP_SPELL_AS_IT_IS, yes_no,
    yes_no_words },
  { "load_rating_w", N_ ("its load's rating"), "W", N_ ("What a coupler's own load takes."), SP_SPELL_AS_IT_IS, NULL, NULL },
};

/* ---- the chain ---- */

static char *
get_chain_key (gpointer owner, const char *key)
{
  SpChainPage *self = owner;
  return self->chain ? sp_chain_get (self->chain, -1, key) : NULL;
}

static gboolean
set_chain_key (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  SpChainPage *self = owner;
  SpChain *edited = self->chain ? sp_chain_set (self->chain, -1, field->key, value, error) : NULL;
  g_autofree char *label = self->chain ? g_strdup_printf (_ ("Change the %s of %s"), _ (field->what), self->chain->name) : NULL;
  g_autofree char *before = self->chain ? g_strdup (self->chain->name) : NULL;
  if (!edited || !sp_chain_page_edit (self, edited, label))
    return FALSE;
  if (strcmp (field->key, "name") == 0)
    sp_drafts_rename (sp_session_drafts (self->session), before, NULL, self->chain->name);
  return TRUE;
}

/* ---- a stage ---- */

static char *
get_stage_key (gpointer owner, const char *key)
{
  SpChainPage *self = owner;
  const SpStage *stage = sp_chain_page_stage (self);
  if (!stage)
    return NULL;
  return strcmp (key, "name") == 0 ? g_strdup (stage->name) : sp_chain_get (self->chain, (int) self->stage, key);
}

/* A copy of that name takes the old one's place. */
static SpChain *
rename_stage (SpChainPage *self, const char *name, GError **error)
{
  g_autoptr (SpChain) doubled = sp_chain_duplicate_stage (self->chain, self->stage, name, error);
  return doubled ? sp_chain_remove_stage (doubled, self->stage, error) : NULL;
}

static gboolean
set_stage_key (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  SpChainPage *self = owner;
  const SpStage *stage = sp_chain_page_stage (self);
  if (!stage)
    return FALSE;
  gboolean naming = strcmp (field->key, "name") == 0;
  SpChain *edited = naming ? rename_stage (self, value, error) : sp_chain_set (self->chain, (int) self->stage, field->key, value, error);
  if (!edited)
    return FALSE;
  g_autofree char *label = naming ? g_strdup_printf (_ ("Rename %s to %s"), stage->name, value)
                                  : g_strdup_printf (_ ("Change the %s of %s"), _ (field->what), stage->name);
  g_autofree char *before = g_strdup (stage->name);
  if (!sp_chain_page_edit (self, edited, label))
    return FALSE;
  if (naming && sp_chain_page_stage (self)) /* the choice went along */
    sp_drafts_rename (sp_session_drafts (self->session), self->chain->name, before, sp_chain_page_stage (self)->name);
  return TRUE;
}

void
sp_chain_page_set_up_fields (SpChainPage *self)
{
  SpFormOwner chain = { get_chain_key, set_chain_key, self }, stage = { get_stage_key, set_stage_key, self };
  self->chain_fields = sp_fields_new (chain_keys, G_N_ELEMENTS (chain_keys), 1, &chain);
  self->stage_fields = sp_fields_new (stage_keys, G_N_ELEMENTS (stage_keys), 1, &stage);
  gtk_widget_set_hexpand (self->chain_fields, TRUE);
  gtk_widget_set_hexpand (self->stage_fields, TRUE);
  gtk_widget_set_margin_top (self->chain_fields, 8);
  gtk_widget_set_margin_end (self->stage_fields, 16); /* beside the scroll bar */
  gtk_box_append (GTK_BOX (self->chain_holder), self->chain_fields);
  gtk_box_append (GTK_BOX (self->stage_holder), self->stage_fields);
}
