/* ledger-cells.c - the cells of the table of emissions */
#include "ui/window/pages/ledger-cells.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/figure/panels.h"
#include "ui/figure/pen/names.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/items.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/words.h"

#define BECAUSE_LINES 2

const SpLedgerColumn sp_ledger_columns[N_COLUMNS] = {
  [NAME] = { N_ ("emission"), N_ ("One component that was found, or looked for."), 176, 136, FALSE, NULL },
  [LEVEL] = { N_ ("dBm"), N_ ("Level at the radio's socket; after <, the floor: nothing below it could have been seen."), 78, 74, TRUE,
              NULL },
  [U] = { N_ ("± U"), N_ ("Expanded uncertainty of the level, 95 % coverage."), 46, 40, TRUE, NULL },
  [LIMIT] = { N_ ("limit"), N_ ("The mask's limit there, in dBm."), 58, 54, TRUE, NULL },
  [ROOM]
  = { N_ ("room, dB"),
      N_ ("What the verdict goes by: limit minus level, or minus the end of the radio's own part that decided, with its own expanded "
          "uncertainty. Positive is good."),
      168, 124, TRUE, NULL },
  [ORIGIN] = { N_ ("whose"), N_ ("Whose emission it is: the radio's, the analyzer's own, both, or not tested."), 88, 76, FALSE, NULL },
  [VERDICT] = { N_ ("verdict"), N_ ("What can be said of it under the rule that was chosen."), 96, 92, FALSE, NULL },
  [BECAUSE] = { N_ ("because"), N_ ("Why the verdict is what it is, and the least that would settle it."), -1, -1, FALSE, NULL },
  [PLACE] = { N_ ("MHz"), N_ ("Where it was found, or where it would be."), 74, 64, TRUE, "frequency" },
  [DBC] = { N_ ("dBc"), N_ ("Level relative to the fundamental."), 72, 66, TRUE, "relative" },
  [FLOOR] = { N_ ("floor"), N_ ("Detection floor there, in dBm: what 'not seen' is worth."), 64, 60, TRUE, "floor" },
  [P]
  = { N_ ("p"),
      N_ ("Probability that the level lies below the limit, from the reading and its uncertainty; none where the radio's part decided."),
      48, 48, TRUE, "probability" },
};

static char *
because (const SpEmission *e)
{
  g_autofree char *why = e->reason ? sp_words_reason (e->reason, SP_HAND_SCREEN) : g_strdup ("");
  g_autofree char *prove = e->would_prove ? sp_words_reason (e->would_prove, SP_HAND_SCREEN) : g_strdup ("");
  g_autofree char *relation = e->relation ? sp_words_reason (e->relation, SP_HAND_SCREEN) : NULL;
  gboolean settles = e->would_prove && e->verdict != SP_VERDICT_COMPLIES;
  return g_strconcat (why, settles ? " " : "", settles ? prove : "", relation ? " " : "", relation, NULL);
}

/* The condition's name stands before it where others have rows too. */
static char *
name_of (SpFoundItem *item, gboolean alone)
{
  const SpEmission *e = sp_found_item_at (item);
  g_autofree char *emission = sp_words_emission (e, SP_HAND_SCREEN);
  if (alone)
    return g_steal_pointer (&emission);
  g_autofree char *name = sp_name_short (sp_found_item_findings (item), sp_found_item_condition (item));
  return g_strdup_printf ("%s %s", name, emission);
}

static char *
cell_text (SpFoundItem *item, Column column, gboolean alone)
{
  const SpEmission *e = sp_found_item_at (item);
  double conformity = sp_emission_deciding_conformity (e);
  switch (column) {
  case NAME: return name_of (item, alone);
  case PLACE: return sp_words_number (e->frequency_hz / 1e6, 2, SP_HAND_SCREEN);
  case LEVEL: return e->swept ? sp_words_seen (e, e->level_dbm, SP_HAND_SCREEN) : g_strdup ("");
  case U: return e->swept ? sp_words_number (e->budget.expanded_level_db, 1, SP_HAND_SCREEN) : g_strdup ("");
  case DBC: return isnan (e->level_dbc) ? g_strdup ("") : sp_words_seen (e, e->level_dbc, SP_HAND_SCREEN);
  case ROOM: return sp_words_room_u (e, SP_HAND_SCREEN);
  case LIMIT: return isnan (e->limit_dbm) ? g_strdup ("") : sp_words_number (e->limit_dbm, 1, SP_HAND_SCREEN);
  case FLOOR: return e->swept ? sp_words_number (e->floor_dbm, 1, SP_HAND_SCREEN) : g_strdup ("");
  case P: return isnan (conformity) ? g_strdup ("") : sp_words_number (conformity, 3, SP_HAND_SCREEN);
  case ORIGIN: return g_strdup (e->origin == SP_ORIGIN_NONE ? "" : sp_words_origin (e->origin));
  case VERDICT: return g_strdup (sp_words_verdict (e->verdict));
  default: return because (e);
  }
}

/* ---- cells ---- */

static void
draw_margin (SpPen *pen, const SpRect *rect, gpointer list_item)
{
  SpFoundItem *item = gtk_list_item_get_item (list_item);
  const SpEmission *e = item ? sp_found_item_at (item) : NULL;
  if (e && !isnan (e->limit_dbm) && e->swept && !sp_emission_is_blind (e))
    sp_margin_line_draw (pen, 2, rect->height / 2, rect->width - 4, sp_emission_room_db (e), sp_emission_deciding_expanded_db (e));
}

static void
set_up (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  Column column = GPOINTER_TO_UINT (data);
  (void) factory;
  GtkWidget *label = gtk_label_new (""), *box = label; /* a label alone where nothing stands beside it: rows are made by the dozen */
  if (column == NAME || column == ROOM)
    box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  if (column == NAME)
    gtk_box_append (GTK_BOX (box), sp_glyph_new ());
  if (column == ROOM) {
    GtkWidget *line = sp_paper_new (draw_margin, item);
    gtk_widget_set_size_request (line, 24, 16); /* what the number leaves */
    gtk_widget_set_hexpand (line, TRUE);
    gtk_label_set_width_chars (GTK_LABEL (label), 11);
    gtk_box_append (GTK_BOX (box), line);
  }
  gtk_label_set_xalign (GTK_LABEL (label), sp_ledger_columns[column].number ? 1 : 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (label, column != ROOM);
  if (column == NAME || column == VERDICT)
    gtk_widget_add_css_class (label, "strong");
  if (column == BECAUSE) {
    gtk_widget_add_css_class (label, "small");
    gtk_label_set_wrap (GTK_LABEL (label), TRUE);
    gtk_label_set_lines (GTK_LABEL (label), BECAUSE_LINES);
  }
  if (box != label)
    gtk_box_append (GTK_BOX (box), label);
  gtk_list_item_set_child (item, box);
}

/* Returns the reading's margin as a sentence where something else decided; NULL: the reading did. */
static char *
reading_beside (const SpEmission *e)
{
  if (e->decision != SP_DECISION_PART_HIGH && e->decision != SP_DECISION_PART_LOW)
    return NULL;
  g_autofree char *margin = sp_words_signed (e->margin_db, 1, SP_HAND_SCREEN), *limit = sp_words_level (e->limit_dbm, 1, SP_HAND_SCREEN),
                  *level = sp_words_level (e->level_dbm, 1, SP_HAND_SCREEN), *part = sp_words_radio_part (e, SP_HAND_SCREEN);
  return g_strdup_printf (_ ("The radio's own part decided: %s dBm. The reading's margin is %s dB: limit %s less %s."), part, margin, limit,
                          level);
}

static void
bind (GtkSignalListItemFactory *factory, GtkListItem *list_item, gpointer data)
{
  Column column = GPOINTER_TO_UINT (data);
  (void) factory;
  SpFoundItem *item = gtk_list_item_get_item (list_item);
  GtkWidget *box = gtk_list_item_get_child (list_item), *label = GTK_IS_LABEL (box) ? box : gtk_widget_get_last_child (box);
  GtkWidget *ledger = gtk_widget_get_ancestor (box, SP_TYPE_LEDGER);
  g_autofree char *text = cell_text (item, column, ledger && sp_ledger_is_of_one (SP_LEDGER (ledger)));
  gtk_label_set_text (GTK_LABEL (label), text);
  g_autofree char *reading = column == ROOM ? reading_beside (sp_found_item_at (item)) : NULL;
  sp_tip_set (box, column == BECAUSE || column == NAME ? text : reading);
  if (column == NAME)
    sp_glyph_set (SP_GLYPH (gtk_widget_get_first_child (box)), TRUE, sp_found_item_at (item)->verdict);
  if (column == ROOM)
    gtk_widget_queue_draw (gtk_widget_get_first_child (box));
}

const SpTableCells sp_ledger_cells = { set_up, bind, NULL };

/* ---- order ---- */

int
sp_ledger_compare_numbers (double a, double b)
{
  if (isnan (a) || isnan (b))
    return isnan (a) - isnan (b); /* what has no number stands last */
  return (a > b) - (a < b);
}

static double
sort_number (const SpEmission *e, Column column)
{
  switch (column) {
  case PLACE: return e->frequency_hz;
  case LEVEL: return e->level_dbm;
  case U: return e->budget.expanded_level_db;
  case LIMIT: return e->limit_dbm;
  case FLOOR: return e->swept ? e->floor_dbm : NAN;
  case DBC: return e->level_dbc;
  case P: return sp_emission_deciding_conformity (e);
  case VERDICT: return -(double) e->verdict;
  case ORIGIN: return e->origin;
  default: return sp_emission_room_db (e);
  }
}

int
sp_ledger_compare (const void *a, const void *b, gpointer data)
{
  Column column = (Column) GPOINTER_TO_UINT (data);
  SpFoundItem *x = (SpFoundItem *) a, *y = (SpFoundItem *) b;
  if (column == NAME || column == BECAUSE) {
    g_autofree char *s = cell_text (x, column, FALSE), *t = cell_text (y, column, FALSE);
    return g_utf8_collate (s, t);
  }
  return sp_ledger_compare_numbers (sort_number (sp_found_item_at (x), column), sort_number (sp_found_item_at (y), column));
}
