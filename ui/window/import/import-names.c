/* import-names.c - what the files' names say: the pattern of all, and both readings where two are possible */
#include <glib/gi18n-lib.h>

#include "ui/window/import/expected.h"
#include "ui/window/import/import-private.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/entry.h"
#include "ui/words/words.h"

#define DOUBTS_MOST 100 /* rows that tell what else their names may mean; bounds time: of more, only the chosen one does */

static const char *
pattern_of (SpImportWindow *self)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->pattern));
}

static const char *
name_of (const SpArrivalItem *item)
{
  return item->place ? item->place : item->name;
}

/* ---- proposals ---- */

/* Dropped on a row of the radios: for that one, whatever a file's name says. NULL: not so. */
static const SpCondition *
aimed_at (SpImportWindow *self)
{
  const SpBench *bench = sp_session_bench (self->session);
  return self->condition < 0 || (guint) self->condition >= bench->n_conditions ? NULL : &bench->conditions[self->condition];
}

static void
propose (SpImportWindow *self, const SpKnownNames *known, SpArrivalItem *item)
{
  const SpCondition *aimed = aimed_at (self);
  SpProposal said;
  sp_propose (name_of (item), pattern_of (self), &said);
  if (aimed)
    sp_proposal_aim (&said, sp_session_bench (self->session)->radios[aimed->radio].name, aimed->name);
  else
    sp_known_names_aim (known, &said);
  if (item == sp_import_window_item (self, 0)) /* one is expected, not all */
    sp_import_take_expected (self->session, &said);
  if (!item->purpose_said) {
    item->to.purpose = said.purpose;
    item->to.step_db = said.step_db;
    item->to.retake = said.retake;
  }
  if (!item->target_said)
    sp_proposal_aim_as (&item->to, &said);
  sp_proposal_clear (&said);
}

void
sp_import_names_propose (SpImportWindow *self, SpArrivalItem *item)
{
  g_autoptr (SpKnownNames) known = sp_known_names_new (sp_session_bench (self->session));
  propose (self, known, item);
}

static void
doubt (SpImportWindow *self, const SpKnownNames *known, SpArrivalItem *item)
{
  g_clear_pointer (&item->meanings, g_ptr_array_unref);
  if (item->trace && !aimed_at (self) && !item->target_said)
    item->meanings = sp_propose_meanings (known, name_of (item), pattern_of (self), self->ways);
}

/* What one sweep is depends on the others too: more attenuation than another of the same radio makes a step. */
void
sp_import_names_propose_all (SpImportWindow *self)
{
  guint n = sp_import_window_count (self), used = 0;
  g_autoptr (SpKnownNames) known = sp_known_names_new (sp_session_bench (self->session));
  g_autofree SpArrival *arrivals = g_new0 (SpArrival, n + 1);
  g_autofree SpArrivalItem **items = g_new0 (SpArrivalItem *, n + 1);
  g_autofree gboolean *said = g_new0 (gboolean, n + 1);
  for (guint i = 0; i < n; i++) {
    SpArrivalItem *item = sp_import_window_item (self, i);
    propose (self, known, item);
    if (n <= DOUBTS_MOST)
      doubt (self, known, item);
    if (!item->trace)
      continue;
    arrivals[used] = (SpArrival){ item->trace, item->to };
    said[used] = item->purpose_said || item->to.purpose != SP_PURPOSE_KEYED;
    items[used++] = item;
  }
  sp_propose_steps (sp_session_bench (self->session), arrivals, said, used);
  for (guint i = 0; i < used; i++) {
    items[i]->to.purpose = arrivals[i].to.purpose;
    items[i]->to.step_db = arrivals[i].to.step_db;
  }
  self->proposing = TRUE;
  for (guint i = 0; i < n; i++)
    sp_arrival_item_changed (sp_import_window_item (self, i));
  self->proposing = FALSE;
}

/* ---- the right half ---- */

void
sp_import_names_fill (SpImportWindow *self, SpArrivalItem *item)
{
  if (sp_import_window_count (self) > DOUBTS_MOST) {
    g_autoptr (SpKnownNames) known = sp_known_names_new (sp_session_bench (self->session));
    doubt (self, known, item);
  }
  gboolean several = item->meanings && item->meanings->len > 1;
  gtk_widget_set_visible (self->meanings_box, several);
  if (!several)
    return;
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  for (guint i = 0; i < item->meanings->len; i++) {
    g_autofree char *text = sp_import_target_words (item->meanings->pdata[i]);
    gtk_string_list_append (list, text);
  }
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->meanings), G_LIST_MODEL (list));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->meanings), 0);
}

/* What is chosen is said by hand. */
static void
on_meaning (SpImportWindow *self)
{
  SpArrivalItem *item = sp_import_window_chosen (self);
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->meanings));
  if (self->filling || !item || !item->meanings || i >= item->meanings->len || i == 0)
    return;
  const SpProposal *meant = item->meanings->pdata[i];
  sp_proposal_aim_as (&item->to, meant);
  item->target_said = TRUE;
  if (item->to.retake != meant->retake) {
    item->to.retake = meant->retake;
    item->purpose_said = TRUE;
  }
  sp_import_window_settle (self); /* not at once: the drop-down that was used goes */
}

/* ---- the pattern of all ---- */

static void
on_pattern (SpImportWindow *self)
{
  g_autoptr (GError) error = NULL;
  gboolean good = sp_propose_check_pattern (pattern_of (self), &error);
  gtk_label_set_text (GTK_LABEL (self->pattern_trouble), good ? "" : error->message);
  gtk_widget_set_visible (self->pattern_trouble, !good);
  self->pattern_said |= !self->filling;
  if (good) {
    gtk_widget_remove_css_class (self->pattern, "error");
    sp_import_window_settle (self);
  } else
    gtk_widget_add_css_class (self->pattern, "error");
}

/* "mirrick-2.csv is Mirrick 2: {radio}". (transfer full) */
static char *
way_says (const char *pattern, const char *name)
{
  SpProposal said;
  sp_propose (name, pattern, &said);
  g_autofree char *target = sp_import_target_name (&said), *base = g_path_get_basename (name);
  sp_proposal_clear (&said);
  return *pattern ? g_strdup_printf (_ ("%s is %s: %s"), base, target, pattern)
                  : g_strdup_printf (_ ("%s is %s: by the words"), base, target);
}

static void
show_ways (SpImportWindow *self)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  gboolean several = self->ways->len > 1;
  gtk_widget_set_visible (self->ways_box, several);
  for (guint i = 0; i < self->ways->len; i++) {
    const SpNamesReading *way = self->ways->pdata[i], *other = self->ways->pdata[several && i == 0 ? 1 : i];
    g_autofree char *says = way_says (way->pattern, self->names->pdata[other->example]);
    gtk_string_list_append (list, says);
  }
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->ways_list), G_LIST_MODEL (list));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->ways_list), 0);
}

static void
on_way (SpImportWindow *self)
{
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->ways_list));
  if (!self->filling && self->ways && i < self->ways->len)
    sp_entry_fill (self->pattern, ((const SpNamesReading *) self->ways->pdata[i])->pattern);
}

static gpointer
find_ways (const char *path, gpointer asked, GError **error)
{
  const GPtrArray *names = asked;
  (void) path, (void) error;
  return sp_propose_readings ((const char *const *) names->pdata, names->len);
}

static void
ways_found (gpointer owner, gpointer asked, gpointer value, GError *error)
{
  SpImportWindow *self = owner;
  (void) asked, (void) error;
  self->naming = FALSE;
  g_clear_pointer (&self->ways, g_ptr_array_unref);
  self->ways = value;
  self->filling = TRUE;
  show_ways (self);
  if (!self->pattern_said)
    sp_entry_fill (self->pattern, ((const SpNamesReading *) self->ways->pdata[0])->pattern);
  self->filling = FALSE;
  sp_import_window_settle (self);
}

void
sp_import_names_find (SpImportWindow *self)
{
  static const SpFileReading reading = { find_ways, (GDestroyNotify) g_ptr_array_unref, ways_found, (GDestroyNotify) g_ptr_array_unref };
  g_clear_pointer (&self->names, g_ptr_array_unref);
  self->names = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < sp_import_window_count (self); i++) {
    const SpArrivalItem *item = sp_import_window_item (self, i);
    if (item->trace && item->column == 0)
      g_ptr_array_add (self->names, g_strdup (name_of (item)));
  }
  if (self->names->len == 0 || aimed_at (self))
    return;
  self->naming = TRUE;
  sp_reading_begin (self, NULL, &reading, g_ptr_array_ref (self->names));
}

void
sp_import_names_set_up (SpImportWindow *self)
{
  sp_drop_down_speak (self->ways_list, _ ("how the names are read"));
  sp_drop_down_speak (self->meanings, _ ("what the name may mean"));
  g_signal_connect_swapped (self->pattern, "changed", G_CALLBACK (on_pattern), self);
  g_signal_connect_swapped (self->ways_list, "notify::selected", G_CALLBACK (on_way), self);
  g_signal_connect_swapped (self->meanings, "notify::selected", G_CALLBACK (on_meaning), self);
}
