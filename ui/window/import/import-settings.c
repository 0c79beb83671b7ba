/* import-settings.c - what an export says of itself, corrected for one sweep, or asked for once for all files of a shape */
#include "ui/window/import/import-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/window/session/preferences.h"

#include "ui/words/words.h"

static const char *const detectors[] = { "", "peak", "sample", "rms", "average", "negative", "normal", "quasi-peak", NULL };
static const char *const averages[] = { "none", "power", "log", "voltage", NULL };
static const char *const averages_words[] = { N_ ("none"), N_ ("of power"), N_ ("of the logarithm"), N_ ("of voltage"), NULL };
static const char *const units[] = { "", "dBm", "dBmV", "dBuV", "V", "mV", "uV", "nV", "W", "mW", "uW", "nW", "pW", NULL };
static const char *const frequency_units[] = { "", "Hz", "kHz", "MHz", "GHz", NULL };
static const char *const decimals[] = { "", "point", "comma", NULL };
static const char *const delimiters[] = { "", "comma", "semicolon", "tab", "blank", NULL };
static const char *const bads[] = { "", "skip", NULL };
static const char *const formats[] = { "", "real32", "real64", "ascii", NULL };
static const char *const orders[] = { "", "little", NULL };
static const char *const units_words[] = { N_ ("as found"), "dBm", "dBmV", "dB\302\265V", "V", "mV", "\302\265V", "nV", "W", "mW",
                                           "\302\265W",     "nW",  "pW",   NULL };
static const char *const frequency_units_words[] = { N_ ("as found"), "Hz", "kHz", "MHz", "GHz", NULL };
static const char *const decimals_words[] = { N_ ("as found"), N_ ("point"), N_ ("comma"), NULL };
static const char *const delimiters_words[] = { N_ ("as found"), N_ ("comma"), N_ ("semicolon"), N_ ("tab"), N_ ("blank"), NULL };
static const char *const bads_words[] = { N_ ("an error"), N_ ("left out"), NULL };
static const char *const formats_words[] = { N_ ("text"), N_ ("block, 32 bit"), N_ ("block, 64 bit"), N_ ("block, ASCII"), NULL };
static const char *const orders_words[] = { N_ ("big end first"), N_ ("little end first"), NULL };

#define SHAPES_ASKED_MOST 20 /* more questions than that nobody answers: the settings of each sweep are there */

/* by hand: one setting a row, whatever its length */
/* clang-format off */
#define ROW(key, what, unit, tip, spelling, choices) { key, what, tip, choices##_words, NULL, unit, spelling, choices }
#define ENTRY(key, what, unit, tip, spelling) { key, what, tip, NULL, NULL, unit, spelling }
#define AS_IT_IS SP_SPELL_AS_IT_IS
#define FREQUENCY SP_SPELL_FREQUENCY
#define RBW                                                                                                                        \
  ENTRY ("rbw", N_("RBW"), NULL, N_("Resolution bandwidth: without it the noise and what hides in it are judged at their worst."),      \
    FREQUENCY)
#define ATTENUATION                                                                                                                \
  ENTRY ("attenuation", N_("attenuation"), N_("dB"), N_("The analyzer's own input attenuation: it says what reaches the mixer."),       \
    AS_IT_IS)
#define DETECTOR                                                                                                                   \
  { "detector", N_("detector"), N_("How many looks within a point became one reading; it decides how noise reads."),               \
    sp_detector_words, NULL, NULL, AS_IT_IS, detectors, "detector" }

static const SpFormField settings[] = {
  RBW,
  ENTRY ("vbw", N_("VBW"), NULL, N_("Video bandwidth: how far the readings are smoothed."), FREQUENCY),
  ATTENUATION,
  ENTRY ("reference", N_("reference level"), N_("dBm"), N_("The top of the screen; readings at it may be clipped."), AS_IT_IS),
  DETECTOR,
  ROW ("average", N_("average"), NULL, N_("What was averaged from sweep to sweep, or within a point."), AS_IT_IS, averages),
};

/* Where the reader found it otherwise than it is, or not at all. */
static const SpFormField readings[] = {
  ENTRY ("start", N_("start"), NULL, N_("First frequency, for levels that come without one."), FREQUENCY),
  ENTRY ("stop", N_("stop"), NULL, N_("Last frequency, for levels that come without one."), FREQUENCY),
  ROW ("unit", N_("unit of the levels"), NULL, N_("Takes the levels for another unit than was found."), AS_IT_IS, units),
  ROW ("frequency_unit", N_("unit of frequency"), NULL, N_("Takes the frequencies for another unit than was found."), AS_IT_IS,
       frequency_units),
  ROW ("decimal", N_("decimal mark"), NULL, N_("Where one file can be read in two ways, this picks one."), AS_IT_IS, decimals),
  ROW ("delimiter", N_("columns divided by"), NULL, N_("Where one file can be read in two ways, this picks one."), AS_IT_IS, delimiters),
  ROW ("bad", N_("a line that fails"), NULL, N_("A line among the data that is none: an error, or left out and listed."), AS_IT_IS, bads),
  ROW ("format", N_("kind of file"), NULL, N_("Text, or a block of values as an instrument sends it; a block needs start and stop."),
       AS_IT_IS, formats),
  ROW ("order", N_("bytes of a block"), NULL, N_("Which end of a number comes first."), AS_IT_IS, orders),
};

static const SpFormField asked[] = { RBW, ATTENUATION, DETECTOR };
/* clang-format on */

/* A question about all files of a shape. Its form points into these fields, so the window frees it after the form. */
typedef struct {
  SpImportWindow *window;
  char *shape;
  SpFormField fields[G_N_ELEMENTS (asked)];
  guint n;
  char *said; /* options, as text */
} Ask;

static void
ask_free (gpointer data)
{
  Ask *ask = data;
  g_free (ask->shape);
  g_free (ask->said);
  g_free (ask);
}

/* ---- of one sweep ---- */

/* Six digits are enough to check by; a value that is not edited stays as it was read. */
static char *
number_text (double number)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];
  return isnan (number) ? NULL : g_strdup (g_ascii_formatd (buffer, sizeof buffer, "%.6g", number));
}

/* What the file itself said, by the options' spelling; NULL: nothing. (transfer full) */
static char *
as_read (const SpTrace *trace, const char *key)
{
  const SpSettings *read = &trace->settings;
  if (g_str_equal (key, "rbw"))
    return number_text (read->rbw_hz);
  if (g_str_equal (key, "vbw"))
    return number_text (read->vbw_hz);
  if (g_str_equal (key, "attenuation"))
    return number_text (read->attenuation_db);
  if (g_str_equal (key, "reference"))
    return number_text (read->reference_dbm);
  if (g_str_equal (key, "detector"))
    return g_strdup (sp_detector_name (read->detector));
  if (g_str_equal (key, "average"))
    return g_strdup (sp_average_name (read->average));
  return NULL;
}

static char *
get_setting (gpointer owner, const char *key)
{
  const SpArrivalItem *item = sp_import_window_chosen (owner);
  char *said = item ? sp_arrival_item_get (item, key) : NULL;
  return said || !item || !item->trace ? said : as_read (item->trace, key);
}

static gboolean
set_setting (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  SpArrivalItem *item = sp_import_window_chosen (owner);
  return item && sp_arrival_item_set (item, field->key, value, error);
}

void
sp_import_settings_set_up (SpImportWindow *self)
{
  SpFormOwner owner = { get_setting, set_setting, self };
  self->asks = g_ptr_array_new_with_free_func (ask_free);
  self->settings = sp_fields_new (NULL, settings, G_N_ELEMENTS (settings), 2, &owner);
  self->readings = sp_fields_new (NULL, readings, G_N_ELEMENTS (readings), 2, &owner);
  gtk_box_append (GTK_BOX (self->settings_holder), self->settings);
  gtk_box_append (GTK_BOX (self->readings_holder), self->readings);
}

void
sp_import_settings_fill (SpImportWindow *self)
{
  SpArrivalItem *item = sp_import_window_chosen (self);
  gboolean another = item != self->shown;
  gtk_widget_set_visible (self->settings_holder, item->trace != NULL);
  gtk_widget_set_visible (self->expander, item->bytes != NULL);
  if (another)
    gtk_expander_set_expanded (GTK_EXPANDER (self->expander), item->error != NULL);
  sp_fields_refresh (SP_FIELDS (self->settings), another);
  sp_fields_refresh (SP_FIELDS (self->readings), another);
  if (!item->reading && item->wrong) {
    sp_fields_tell (SP_FIELDS (self->settings), item->wrong_key, item->wrong);
    sp_fields_tell (SP_FIELDS (self->readings), item->wrong_key, item->wrong);
  }
}

/* ---- of all files of a shape ---- */

static gboolean
is_of (const SpArrivalItem *item, const char *shape)
{
  return item->trace && item->look && g_str_equal (item->look->shape, shape);
}

/* What is said of a shape is asked no second time: it stands there at the next import, to be looked at. */
static char *
remembered_as (const char *shape)
{
  g_autofree char *sum = g_compute_checksum_for_string (G_CHECKSUM_SHA256, shape, -1);
  return g_strdup_printf ("shape-%.16s", sum);
}

static char *
get_asked (gpointer owner, const char *key)
{
  const Ask *ask = owner;
  return sp_trace_options_get (ask->said, key);
}

static gboolean
say (Ask *ask, const char *key, const char *value, GError **error)
{
  char *said = sp_trace_options_set (ask->said, key, value, error);
  if (!said)
    return FALSE;
  g_free (ask->said);
  ask->said = said;
  for (guint i = 0; i < sp_import_window_count (ask->window); i++)
    if (is_of (sp_import_window_item (ask->window, i), ask->shape))
      sp_arrival_item_set (sp_import_window_item (ask->window, i), key, value, NULL);
  return TRUE;
}

static gboolean
set_asked (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  Ask *ask = owner;
  if (!say (ask, field->key, value, error))
    return FALSE;
  g_autofree char *key = remembered_as (ask->shape);
  sp_preferences_set (key, *ask->said ? ask->said : NULL);
  return TRUE;
}

/* TRUE: something was said of the shape at an earlier import, and stands now as if it were said again. */
static gboolean
say_as_before (Ask *ask)
{
  g_autofree char *key = remembered_as (ask->shape), *before = sp_preferences_get (key);
  gboolean any = FALSE;
  for (guint i = 0; before && i < ask->n; i++) {
    g_autofree char *value = sp_trace_options_get (before, ask->fields[i].key);
    any |= value && say (ask, ask->fields[i].key, value, NULL);
  }
  return any;
}

gboolean
sp_import_settings_as_before (SpArrivalItem *item)
{
  if (!item->trace || !item->look)
    return FALSE;
  g_autofree char *key = remembered_as (item->look->shape), *before = sp_preferences_get (key);
  gboolean any = FALSE;
  for (guint k = 0; before && k < G_N_ELEMENTS (asked); k++) {
    g_autofree char *read = as_read (item->trace, asked[k].key), *value = sp_trace_options_get (before, asked[k].key);
    any |= !read && value && sp_arrival_item_set (item, asked[k].key, value, NULL);
  }
  return any;
}

/* How many files to be taken are of this shape, and which settings none of their sweeps has. */
static guint
count_lacks (SpImportWindow *self, const char *shape, gboolean lacks[G_N_ELEMENTS (asked)])
{
  guint files = 0, last = G_MAXUINT;
  for (guint k = 0; k < G_N_ELEMENTS (asked); k++)
    lacks[k] = TRUE;
  for (guint i = 0; i < sp_import_window_count (self); i++) {
    const SpArrivalItem *item = sp_import_window_item (self, i);
    if (!is_of (item, shape) || !item->take)
      continue;
    files += item->order != last;
    last = item->order;
    for (guint k = 0; k < G_N_ELEMENTS (asked); k++) {
      g_autofree char *read = as_read (item->trace, asked[k].key);
      lacks[k] &= read == NULL;
    }
  }
  return files;
}

static void
show_ask (SpImportWindow *self, Ask *ask, const SpArrivalItem *first, guint files, const char *names)
{
  const char *columns = first->look->columns;
  gboolean as_before = say_as_before (ask);
  g_autofree char *lacks = files == 1 ? g_strdup_printf (_ ("%s does not say: %s"), first->name, names)
                           : *columns
                               ? g_strdup_printf (_ ("Missing in %u files of this shape, with the columns %s: %s"), files, columns, names)
                               : g_strdup_printf (_ ("Missing in %u files of this shape, from %s on: %s"), files, first->name, names);
  g_autofree char *text = as_before ? g_strdup_printf (_ ("%s. Taken as at the last import: look at it"), lacks) : g_strdup (lacks);
  SpFormOwner owner = { get_asked, set_asked, ask };
  GtkWidget *label = gtk_label_new (text), *form = sp_fields_new (NULL, ask->fields, ask->n, ask->n, &owner);
  sp_fields_refresh (SP_FIELDS (form), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, "strong");
  gtk_box_append (GTK_BOX (self->asks_box), label);
  gtk_box_append (GTK_BOX (self->asks_box), form);
}

static void
add_ask (SpImportWindow *self, const SpArrivalItem *first)
{
  gboolean lacks[G_N_ELEMENTS (asked)];
  guint files = count_lacks (self, first->look->shape, lacks);
  g_autoptr (GString) names = g_string_new (NULL);
  Ask *ask = g_new0 (Ask, 1);
  ask->window = self;
  ask->shape = g_strdup (first->look->shape);
  ask->said = g_strdup ("");
  g_ptr_array_add (self->asks, ask);
  for (guint k = 0; k < G_N_ELEMENTS (asked); k++)
    if (lacks[k]) {
      g_string_append_printf (names, "%s%s", names->len ? ", " : "", _ (asked[k].what));
      ask->fields[ask->n++] = asked[k];
    }
  if (ask->n > 0)
    show_ask (self, ask, first, files, names->str);
}

static gboolean
is_asked (SpImportWindow *self, const char *shape)
{
  for (guint i = 0; i < self->asks->len; i++)
    if (g_str_equal (((Ask *) self->asks->pdata[i])->shape, shape))
      return TRUE;
  return FALSE;
}

void
sp_import_settings_ask (SpImportWindow *self)
{
  gboolean any = FALSE;
  for (guint i = 0; i < sp_import_window_count (self); i++) {
    const SpArrivalItem *item = sp_import_window_item (self, i);
    if (item->take && item->trace && item->look && self->asks->len < SHAPES_ASKED_MOST && !is_asked (self, item->look->shape))
      add_ask (self, item);
  }
  for (guint i = 0; i < self->asks->len; i++)
    any |= ((Ask *) self->asks->pdata[i])->n > 0;
  gtk_widget_set_visible (self->asks_scrolled, any);
}
