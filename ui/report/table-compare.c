/* table-compare.c - conditions side by side, and what moved, as text tables */
#include "ui/report/lines.h"
#include "ui/report/table.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define COLUMNS_FROM 2
#define COLUMNS_TO 10 /* of the harmonics: wider does not fit a terminal */

char
verdict_mark (SpVerdict verdict)
{
  switch (verdict) {
  case SP_VERDICT_EXCEEDS: return '!';
  case SP_VERDICT_INCONCLUSIVE: return '~';
  case SP_VERDICT_NOT_PROVEN: return '?';
  case SP_VERDICT_NO_LIMIT: return '.';
  case SP_VERDICT_COMPLIES: return ' ';
  }
  g_return_val_if_reached (' ');
}

/* What is read may not be the radio's. */
static const char *
origin_mark (const SpEmission *emission)
{
  switch (emission->detected ? emission->origin : SP_ORIGIN_NONE) {
  case SP_ORIGIN_ANALYZER: return "a";
  case SP_ORIGIN_MIXED: return "m";
  case SP_ORIGIN_AMBIENT: return "k";
  default: return "";
  }
}

static void
cell_harmonic (Columns *columns, const SpEmission *emission)
{
  if (!emission) {
    cell_word (columns, NULL);
    return;
  }
  g_autofree char *level = sp_words_seen (emission, emission->level_dbm, SP_HAND_MACHINE);
  columns_add (columns, g_strdup_printf ("%s%s%c", level, origin_mark (emission), verdict_mark (emission->verdict)));
}

static void
table_of_rows (GString *out, const SpComparison *comparison)
{
  Columns *columns = columns_new ("lrrlrrrrrrrrrr", _ ("radio"), _ ("fundamental"), _ ("power"), _ ("verdict"), _ ("room dB"), "2", "3",
                                  "4", "5", "6", "7", "8", "9", "10", NULL);
  for (guint i = 0; i < comparison->n; i++) {
    const SpCompareRow *row = &comparison->rows[i];
    cell_word (columns, row->found->name);
    cell_frequency (columns, row->found->fundamental_hz);
    cell_power (columns, row->power_w);
    cell_word (columns, sp_words_verdict (row->found->verdict));
    cell_margin (columns, row->found);
    for (guint order = COLUMNS_FROM; order <= COLUMNS_TO; order++)
      cell_harmonic (columns, sp_compare_harmonic (row, order));
  }
  columns_finish (columns, 0, out);
  g_string_append (out, _ ("Harmonics in dBm at the socket.  < not seen, the floor stands there   ! exceeds   ~ inconclusive   ? not proven"
                           "   . no limit\n"));
  g_string_append (out, _ ("Whose: a the analyzer's own   m partly the analyzer's   k stands there with the key up too\n"));
}

static void
cell_verdict (Columns *columns, const SpVerdictThen *then)
{
  cell_word (columns, then->there ? sp_words_verdict (then->verdict) : NULL);
}

static void
table_of_conditions (GString *out, const SpMoves *moves, SpMovesShown shown)
{
  guint rows = 0;
  for (guint i = 0; i < moves->n_conditions; i++)
    rows += shown != SP_MOVES_NOTABLE || moves->conditions[i].notable ? 1 : 0;
  if (!rows)
    return;
  Columns *columns = columns_new ("lllrr", _ ("radio"), _ ("verdict before"), _ ("after"), _ ("power moved dB"),
                                  _ ("worst margin moved dB"), NULL);
  for (guint i = 0; i < moves->n_conditions; i++) {
    const SpConditionMove *move = &moves->conditions[i];
    if (shown == SP_MOVES_NOTABLE && !move->notable)
      continue;
    cell_word (columns, move->name);
    cell_verdict (columns, &move->before);
    cell_verdict (columns, &move->after);
    cell_db (columns, move->power_change_db, 2);
    cell_db (columns, move->worst_margin_change_db, 2);
  }
  columns_finish (columns, 0, out);
}

static void
table_of_moved (GString *out, const SpMoves *moves, SpMovesShown shown)
{
  Columns *columns = columns_new ("lrrrrrrrlll", _ ("radio"), _ ("harmonic"), _ ("at"), _ ("level moved dB"), _ ("limit moved dB"),
                                  _ ("margin moved dB"), _ ("U before dB"), _ ("after"), _ ("verdict before"), _ ("after"), "", NULL);
  for (guint i = 0; i < moves->n_moved; i++) {
    const SpMove *move = &moves->moved[i];
    if (!sp_move_is_shown (move, shown))
      continue;
    cell_word (columns, move->name);
    columns_add (columns, move->order ? g_strdup_printf ("%u", move->order) : g_strdup ("-"));
    cell_frequency (columns, move->frequency_hz);
    cell_db (columns, move->level_change_db, 2);
    cell_db (columns, move->limit_change_db, 2);
    cell_db (columns, move->margin_change_db, 2);
    cell_db (columns, move->expanded_before_db, 2);
    cell_db (columns, move->expanded_after_db, 2);
    cell_verdict (columns, &move->before);
    cell_verdict (columns, &move->after);
    cell_word (columns, move->flips ? _ ("flips") : "");
  }
  columns_finish (columns, 0, out);
}

/* Each calibration that took another's place, once. */
static void
lines_of_chains (GString *out, const SpMoves *moves)
{
  for (guint i = 0; i < moves->n_conditions; i++) {
    const SpConditionMove *move = &moves->conditions[i];
    gboolean said = !move->chain_before_sha256 || !move->chain_after_sha256
                    || strcmp (move->chain_before_sha256, move->chain_after_sha256) == 0;
    for (guint j = 0; j < i && !said; j++)
      said = g_strcmp0 (moves->conditions[j].chain_before_sha256, move->chain_before_sha256) == 0
             && g_strcmp0 (moves->conditions[j].chain_after_sha256, move->chain_after_sha256) == 0;
    if (said)
      continue;
    add_cleaned (out, g_strdup_printf (_ ("chain %s (%.12s), then %s (%.12s)"), move->chain_before, move->chain_before_sha256,
                                       move->chain_after, move->chain_after_sha256));
    g_string_append_c (out, '\n');
  }
}

static void
lines_of_alike (GString *out, const SpMoves *moves)
{
  for (guint i = 0; i < moves->n_alike; i++) {
    add_cleaned (out, sp_words_alike (&moves->alike[i], SP_HAND_MACHINE));
    g_string_append_c (out, '\n');
  }
}

/* What moved, emission by emission, as far as it is shown. */
static void
parts_of_moves (GString *out, const SpMoves *moves, SpMovesShown shown)
{
  guint rows = 0;
  for (guint i = 0; i < moves->n_moved; i++)
    rows += sp_move_is_shown (&moves->moved[i], shown) ? 1 : 0;
  g_string_append_c (out, '\n');
  if (rows)
    table_of_moved (out, moves, shown);
  if (shown == SP_MOVES_ALIKE)
    lines_of_alike (out, moves);
  if (!moves->n_moved)
    g_string_append (out, _ ("No emission moved.\n"));
  else if (!rows && shown == SP_MOVES_NOTABLE)
    g_string_append (out, _ ("No emission flips or moves beyond its U.\n"));
}

char *
sp_table_compare (const SpComparison *comparison, const SpMoves *moves, SpMovesShown shown)
{
  GString *out = g_string_new (NULL);
  g_autofree char *safety = sp_words_safety (comparison->findings, SP_HAND_MACHINE);
  if (safety)
    g_string_append_printf (out, "%s\n\n", safety);
  table_of_rows (out, comparison);
  if (moves) {
    g_string_append_c (out, '\n');
    lines_of_chains (out, moves);
    table_of_conditions (out, moves, shown);
    parts_of_moves (out, moves, shown);
    g_string_append_printf (out, _ ("Verdicts that flip: %u of emissions, %u of conditions.\n"), moves->n_flips, moves->n_condition_flips);
  }
  return g_string_free (out, FALSE);
}
