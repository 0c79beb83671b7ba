/* check-form-rows.c - the facts of a check and its readings, as they are typed */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/quantity/typed.h"
#include "ui/window/run/check-form-private.h"
#include "ui/words/words.h"

static const SpFormField keys[SP_CHECK_FORM_KEYS] = {
  { "date", N_ ("date"), N_ ("The day of the readings, such as 2026-10-17.") },
  { "interval_days", N_ ("good for"), N_ ("A check older than this is warned about.") },
  { "temperature_c", N_ ("temperature"), N_ ("Of the room at the readings.") },
  { "level_u_db", N_ ("u of the meter"),
    N_ ("Standard uncertainty of the known level: half of a U with k = 2, as its certificate states it.") },
  { "source_vswr", N_ ("VSWR of the source"),
    N_ ("Looking back into what feeds the analyzer: a number, or pairs such as 50MHz 1.05; 1GHz 1.2.") },
  { "meter_vswr", N_ ("VSWR of the meter"), N_ ("Looking into the power meter's sensor; left out where its u has it in it.") },
  { "resolution_db", N_ ("half the last digit"),
    N_ ("Half of the last digit that the analyzer shows; left out: as its readings are written.") },
  { "note", N_ ("note"), N_ ("Anything a reader should know: meter, RBW, detector.") },
};

static const SpFormColumn columns[] = {
  { N_ ("frequency"), N_ ("Of the readings in this row, such as 145.6 MHz."), 10, FALSE },
  { N_ ("att., dB"), N_ ("The setting of the analyzer's attenuator. One frequency with several settings tells what switching adds."), 5,
    FALSE },
  { N_ ("meter says, dBm"), N_ ("The level that is known, by the power meter, such as -10.02."), 8, FALSE },
  { N_ ("lead, dB and u"),
    N_ ("What a lead takes between where the level is known and the analyzer, and its u: 0.05 0.02. Without the second number its u is "
        "assumed, as is said below. Empty: meter and analyzer take turns at one end."),
    8, FALSE },
  { N_ ("shows, dBm"), N_ ("What the analyzer shows of it; repeat it, opening and closing the plugs: -10.4; -10.5."), 13, TRUE },
  { N_ ("correction, dB"), N_ ("Known level less lead less the mean of what is shown: to be added to its readings."), 0, FALSE },
  { N_ ("u, dB"), N_ ("Standard uncertainty of the correction."), 0, FALSE },
};

const char *
sp_check_form_key (guint i)
{
  return keys[i].key;
}

/* The budget below is that of the row that is being typed. */
static void
on_entered (gpointer owner, SpFormRow *row)
{
  SpCheckForm *form = owner;
  double setting;
  form->chosen_hz = row->frequency_hz;
  form->chosen_db = sp_typed_read (sp_form_row_text (row, SP_CHECK_ATTENUATION), "dB", sp_words_decimal_mark (), &setting, NULL) ? setting
                                                                                                                                 : NAN;
  sp_check_form_show_result (form);
}

void
sp_check_form_set_up (SpCheckForm *form)
{
  form->table.owner = form;
  form->table.typed = sp_check_form_typed;
  form->table.entered = on_entered;
  sp_form_add_fields (form->keys, sp_check_keys, keys, SP_CHECK_FORM_KEYS, form->key, sp_check_form_typed, form);
  sp_form_table_init (&form->table, form->readings, columns, SP_CHECK_CELLS, 2);
}

/* ---- reading ---- */

static gboolean
set_key (gpointer check, const char *key, const char *value, GError **error)
{
  return sp_check_set (check, key, value, error);
}

static void
mark (SpCheckForm *form, const SpFormRow *row, guint cell, const GError *error)
{
  sp_form_mark (&form->wrong, row->said, row->cell[cell], _ (columns[cell].what), error ? error->message : NULL);
}

static void
read_place (SpCheckForm *form, SpFormRow *row, double *attenuation_db)
{
  g_autoptr (GError) error = NULL, setting = NULL;
  char decimal = sp_words_decimal_mark ();
  g_autofree char *frequency = sp_typed_frequency (sp_form_row_text (row, SP_CHECK_FREQUENCY), decimal, &error);
  g_autofree char *typed = sp_typed_number (sp_form_row_text (row, SP_CHECK_ATTENUATION), "dB", decimal, &setting);
  row->frequency_hz = *attenuation_db = NAN;
  if (frequency && *frequency && !sp_parse_frequency (frequency, &row->frequency_hz, &error))
    row->frequency_hz = NAN;
  if (typed && *typed && sp_parse_number (typed, attenuation_db, &setting) && !sp_check_is_setting (*attenuation_db))
    setting = g_error_new (SP_ERROR, SP_ERROR_LIMIT, _ ("found “%s”; expected a setting from 0 to %g dB"), typed, SP_CHECK_ATTENUATION_DB);
  if (setting)
    *attenuation_db = NAN;
  if (frequency && !*frequency && !sp_form_row_is_empty (&form->table, row, SP_CHECK_LEVEL))
    error = sp_form_wants_frequency ();
  mark (form, row, SP_CHECK_FREQUENCY, error);
  mark (form, row, SP_CHECK_ATTENUATION, setting);
}

static void
read_level (SpCheckForm *form, SpFormRow *row, SpCheckAt *at)
{
  g_autoptr (GError) error = NULL, shows = NULL;
  char decimal = sp_words_decimal_mark ();
  g_autofree char *level = sp_typed_number (sp_form_row_text (row, SP_CHECK_LEVEL), "dBm", decimal, &error);
  g_autofree char *shown = sp_typed_rows (sp_form_row_text (row, SP_CHECK_SHOWS), "dBm", SP_TYPED_NO_FREQUENCY, decimal, &shows);
  if (level && *level)
    sp_check_at_set (at, "level", level, &error);
  if (shown && *shown)
    sp_check_at_set (at, "shows", shown, &shows);
  mark (form, row, SP_CHECK_LEVEL, error);
  mark (form, row, SP_CHECK_SHOWS, shows);
}

/* A point of the lead: its frequency and what was typed. */
typedef struct {
  const SpFormRow *row;
  char *loss; /* as the file has it */
} Lead;

static void
clear_lead (gpointer lead)
{
  g_free (((Lead *) lead)->loss);
}

static int
by_frequency (gconstpointer a, gconstpointer b)
{
  double x = ((const Lead *) a)->row->frequency_hz, y = ((const Lead *) b)->row->frequency_hz;
  return (x > y) - (x < y);
}

/* Alone, so that an error stands at its own row and spoils no other's. */
static gboolean
is_lead (const char *loss)
{
  g_autoptr (SpCheck) one = sp_check_new ();
  g_autofree char *point = g_strconcat ("1MHz ", loss, NULL);
  return sp_check_set (one, "lead_loss", point, NULL);
}

static void
add_lead (SpCheckForm *form, SpFormRow *row, GArray *leads)
{
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) parts = g_strsplit (sp_form_row_text (row, SP_CHECK_LEAD), "\302\261", -1);
  g_autofree char *text = g_strdelimit (g_strjoinv (" ", parts), "()", ' '), /* 0.05 (0.02), 0.05±0.02 */
      *typed = sp_typed_rows (text, "dB", SP_TYPED_NO_FREQUENCY, sp_words_decimal_mark (), &error);
  Lead lead = { row, g_strstrip (g_strdup (typed ? typed : "")) };
  if (*lead.loss && !is_lead (lead.loss)) {
    error = g_error_new (SP_ERROR, SP_ERROR_USAGE, _ ("found “%s”; write its loss and, behind a blank, its u: 0.05 0.02"), lead.loss);
    *lead.loss = '\0';
  }
  mark (form, row, SP_CHECK_LEAD, error);
  if (*lead.loss && !isnan (row->frequency_hz))
    g_array_append_val (leads, lead);
  else
    clear_lead (&lead);
}

/* Told from the cells; rows of one frequency need it once. */
static void
set_lead (SpCheckForm *form, SpCheck *check, GArray *leads)
{
  g_autoptr (GString) points = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  char digits[32];
  g_array_sort (leads, by_frequency);
  for (guint i = 0; i < leads->len; i++) {
    const Lead *lead = &g_array_index (leads, Lead, i), *before = i ? lead - 1 : NULL;
    if (before && before->row->frequency_hz == lead->row->frequency_hz && strcmp (before->loss, lead->loss) == 0)
      continue;
    g_string_append_printf (points, "%s%s %s", points->len ? "; " : "", sp_format_exact (lead->row->frequency_hz, digits), lead->loss);
  }
  if (points->len && !sp_check_set (check, "lead_loss", points->str, &error))
    mark (form, g_array_index (leads, Lead, 0).row, SP_CHECK_LEAD, error);
}

void
sp_check_form_read (SpCheckForm *form, SpCheck *check)
{
  g_autoptr (GArray) leads = g_array_new (FALSE, FALSE, sizeof (Lead));
  g_array_set_clear_func (leads, clear_lead);
  sp_form_read_fields (sp_check_keys, keys, SP_CHECK_FORM_KEYS, form->key, set_key, check, &form->wrong);
  for (guint i = 0; i < form->table.rows->len; i++) {
    SpFormRow *row = form->table.rows->pdata[i];
    double attenuation_db;
    read_place (form, row, &attenuation_db);
    add_lead (form, row, leads);
    /* A row of which only the place is known is one that is yet to be read. */
    if (*sp_form_row_text (row, SP_CHECK_LEVEL) || *sp_form_row_text (row, SP_CHECK_SHOWS))
      read_level (form, row, sp_check_add_at (check, row->frequency_hz, attenuation_db));
    else
      mark (form, row, SP_CHECK_LEVEL, NULL), mark (form, row, SP_CHECK_SHOWS, NULL);
  }
  set_lead (form, check, leads);
}

/* ---- showing ---- */

static const SpCheckPoint *
point_of (SpCheckForm *form, const SpFormRow *row)
{
  double setting;
  gboolean said = sp_typed_read (sp_form_row_text (row, SP_CHECK_ATTENUATION), "dB", sp_words_decimal_mark (), &setting, NULL);
  for (guint i = 0; i < form->result->n; i++) {
    const SpCheckPoint *point = &form->result->points[i];
    if (point->frequency_hz == row->frequency_hz && (said ? point->attenuation_db == setting : isnan (point->attenuation_db)))
      return point;
  }
  return NULL;
}

void
sp_check_form_show_rows (SpCheckForm *form)
{
  for (guint i = 0; i < form->table.rows->len; i++) {
    SpFormRow *row = form->table.rows->pdata[i];
    const SpCheckPoint *point = point_of (form, row);
    g_autofree char *value = point ? sp_words_signed (point->correction_db, 2, SP_HAND_SCREEN) : g_strdup ("");
    g_autofree char *u = point ? sp_words_number (point->sum.u_db, 2, SP_HAND_SCREEN) : g_strdup ("");
    gtk_label_set_text (GTK_LABEL (row->result[0]), value);
    gtk_label_set_text (GTK_LABEL (row->result[1]), u);
    if (point && point->beyond)
      gtk_widget_add_css_class (row->result[0], "wrong");
    else
      gtk_widget_remove_css_class (row->result[0], "wrong");
  }
}
