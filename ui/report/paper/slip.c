/* slip.c - one radio's slip: does it comply, how sure, what next, on one page */
#include "ui/report/paper/compose.h"

#include "core/compare/compare.h"
#include "core/compare/order.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define SENTENCES 2 /* of more conditions the table tells */
#define SEEN_MOST 4 /* rows of one condition */
#define SEEN_ON_A5 2
#define PAGE_CHARTS 6 /* more stand on a page of their own */

typedef struct {
  const SpFindings *findings;
  guint radio;
  SpPaperSize size;
  guint n;
  guint *conditions; /* the radio's: as in the bench where there are two, else the worst first */
  SpComparison *comparison;
  GPtrArray *blocks;
  guint left_out; /* emissions that were seen and have no row */
} Slip;

static const SpConditionFindings *
found_of (const Slip *slip, guint i)
{
  return &slip->findings->conditions[slip->conditions[i]];
}

static const SpCondition *
condition_of (const Slip *slip, guint i)
{
  return &slip->findings->bench->conditions[found_of (slip, i)->condition];
}

static const char *
name_of (const Slip *slip, guint i)
{
  const char *name = condition_of (slip, i)->name;
  return name ? name : "";
}

static void
gather (Slip *slip)
{
  const SpFindings *findings = slip->findings;
  g_autofree guint *order = g_new (guint, findings->n + 1);
  slip->conditions = g_new (guint, findings->n + 1);
  guint n = 0;
  for (guint i = 0; i < findings->n; i++)
    n += paper_is_of (findings, i, (int) slip->radio) ? 1 : 0;
  sp_compare_order (findings, n > SENTENCES ? SP_ORDER_WORST : SP_ORDER_BENCH, FALSE, order);
  for (guint i = 0; i < findings->n; i++)
    if (paper_is_of (findings, order[i], (int) slip->radio))
      slip->conditions[slip->n++] = order[i];
}

/* ---- the head ---- */

static char *
carrier_of (const Slip *slip, guint i)
{
  g_autofree char *f = sp_words_frequency (found_of (slip, i)->fundamental_hz, 1e4, SP_HAND_SCREEN);
  const char *mode = condition_of (slip, i)->mode;
  return mode ? g_strdup_printf ("%s, %s", f, mode) : g_steal_pointer (&f);
}

static char *
power_of (const Slip *slip, guint i)
{
  return sp_words_power_measured (slip->comparison->rows[slip->conditions[i]].power_w, found_of (slip, i));
}

static char *
rated_of (const Slip *slip, guint i)
{
  double rated_w = condition_of (slip, i)->rated_w;
  return isnan (rated_w) ? NULL : sp_words_power (rated_w, SP_HAND_SCREEN);
}

/* One value where all conditions have the same, else each after its condition. */
static char *
of_all (const Slip *slip, char *(*value) (const Slip *, guint))
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *first = value (slip, 0);
  gboolean same = TRUE;
  for (guint i = 1; i < slip->n; i++) {
    g_autofree char *other = value (slip, i);
    same = same && g_strcmp0 (first, other) == 0;
  }
  if (same)
    return g_steal_pointer (&first);
  if (slip->n > SENTENCES)
    return g_strdup (_ ("in the table"));
  for (guint i = 0; i < slip->n; i++) {
    g_autofree char *other = value (slip, i);
    g_string_append_printf (text, "%s%s", i ? "; " : "", other ? other : "\342\200\223");
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

#define NAMES_MOST 24 /* characters of all conditions' names: more are read at their sentences */

static char *
conditions_named (const Slip *slip)
{
  g_autoptr (GString) names = g_string_new (NULL);
  for (guint i = 0; i < slip->n; i++)
    g_string_append_printf (names, "%s%s", names->len && *name_of (slip, i) ? ", " : "", name_of (slip, i));
  return names->len && g_utf8_strlen (names->str, -1) <= NAMES_MOST ? g_strdup_printf ("%u: %s", slip->n, names->str)
                                                                    : g_strdup_printf ("%u", slip->n);
}

/* Values that differ have a row for themselves. */
static void
add_head (Slip *slip)
{
  const SpRadio *radio = &slip->findings->bench->radios[slip->radio];
  SpPaperBlock *name = paper_add (slip->blocks, SP_BLOCK_NAME);
  gboolean small = slip->size == SP_PAPER_A5;
  g_autofree char *carrier = slip->n ? of_all (slip, carrier_of) : NULL, *power = slip->n ? of_all (slip, power_of) : NULL;
  gboolean apart = (carrier && strchr (carrier, ';')) || (power && strchr (power, ';'));
  guint carrier_row = apart ? 2 : 0, power_row = apart ? 3 : 1, owner_row = apart ? 0 : 1, rated_row = apart ? 1 : 2;
  name->text = g_strdup (radio->name);
  paper_fact (name, 0, 0, _ ("serial"), g_strdup (radio->serial));
  if (!apart)
    paper_fact (name, carrier_row, 0, _ ("carrier"), g_strdup (carrier));
  paper_fact (name, owner_row, 0, _ ("owner"), g_strdup (radio->owner));
  if (!apart)
    paper_fact (name, power_row, 0, small ? _ ("power") : _ ("power measured"), g_strdup (power));
  paper_fact (name, rated_row, 0, small ? _ ("for") : slip->n == 1 ? _ ("condition") : _ ("conditions"), conditions_named (slip));
  paper_fact (name, rated_row, 0, small ? _ ("rated") : _ ("power rated"), slip->n ? of_all (slip, rated_of) : NULL);
  if (apart) {
    paper_fact (name, carrier_row, 0, _ ("carrier"), g_strdup (carrier));
    paper_fact (name, power_row, 0, small ? _ ("power") : _ ("power measured"), g_strdup (power));
  }
  paper_fields (slip->blocks, name, radio, slip->n == 1 ? condition_of (slip, 0) : NULL);
  if (slip->n > 1 && slip->n <= SENTENCES)
    for (guint i = 0; i < slip->n; i++)
      paper_fields_of (slip->blocks, condition_of (slip, i));
}

/* ---- verdicts ---- */

static void
add_unsafe (Slip *slip)
{
  gboolean safe = TRUE;
  for (guint i = 0; i < slip->n; i++)
    safe = safe && found_of (slip, i)->safe;
  if (!safe)
    paper_paragraph (slip->blocks, SP_ROLE_ALARM, _ ("This chain is not safe as drawn:"),
                     g_strdup (_ ("more power goes into a part of it than it is rated for. Do not key again before it is changed.")));
}

static void
add_verdicts (Slip *slip)
{
  for (guint i = 0; i < slip->n && i < SENTENCES; i++) { /* of the others the table has verdict and room */
    const SpConditionFindings *found = found_of (slip, i);
    SpPaperBlock *block = paper_add (slip->blocks, SP_BLOCK_VERDICT);
    g_autofree char *lead = sp_words_lead (found->verdict, name_of (slip, i)), *tail = sp_words_statement_tail (found, SP_HAND_SCREEN);
    block->verdict = found->verdict;
    paper_run (block, lead, TRUE);
    paper_run (block, " ", FALSE);
    paper_run (block, tail, FALSE);
    paper_second (slip->blocks, slip->findings, slip->conditions[i]);
  }
  int deeper = slip->n == 2 ? sp_digest_deeper (slip->findings, slip->conditions[0], slip->conditions[1]) : 0;
  if (deeper && found_of (slip, 0)->verdict != found_of (slip, 1)->verdict)
    paper_paragraph (slip->blocks, SP_ROLE_BESIDE, NULL, sp_words_deeper (name_of (slip, deeper > 0 ? 1 : 0)));
}

/* ---- charts ---- */

static void
add_charts (Slip *slip)
{
  SpPaperBlock *block = paper_add (slip->blocks, SP_BLOCK_FIGURES);
  block->abreast = slip->n <= 2 ? slip->n : slip->n <= PAGE_CHARTS ? 3 : 4;
  gboolean few = slip->n <= SENTENCES, small = slip->size == SP_PAPER_A5;
  block->least = !few ? 78 : small ? 76 : 110;
  block->best = !few ? 118 : small ? 150 : 214;
  for (guint i = 0; i < slip->n; i++) {
    SpPaperFigure *figure = paper_figure (block, SP_FIGURE_CHART, slip->findings, slip->conditions[i]);
    figure->title = slip->n == 1 ? NULL : g_strdup (name_of (slip, i));
    figure->aside = slip->n <= SENTENCES && found_of (slip, i)->n_corrected ? sp_words_keyed_settings (slip->findings, slip->conditions[i])
                                                                            : NULL;
  }
  paper_run (block, _ ("What to see."), TRUE);
  for (guint i = 0; i < slip->n && i < SENTENCES; i++) {
    g_autofree char *said = sp_words_to_see (found_of (slip, i), FALSE);
    g_autofree char *whole = slip->n == 1 ? g_strdup_printf (" %s", said) : g_strdup_printf (_ (" %s: %s"), name_of (slip, i), said);
    paper_run (block, whole, FALSE);
  }
  if (slip->n > SENTENCES)
    paper_run (block, _ (" All charts stand on one scale; of the others the table tells."), FALSE);
}

/* ---- the table ---- */

static void
add_row (Slip *slip, SpPaperTable *table, guint i, const SpDigestRow *row, gboolean first)
{
  const SpConditionFindings *found = found_of (slip, i);
  const SpEmission *e = &found->emissions[row->emission];
  gboolean small = slip->size == SP_PAPER_A5;
  if (slip->n > 1)
    paper_word (table, first ? name_of (slip, i) : "", TRUE);
  if (slip->n > SENTENCES)
    paper_cell (table, sp_words_number (slip->comparison->rows[slip->conditions[i]].power_w, 1, SP_HAND_SCREEN));
  paper_cell (table, sp_words_row (found, row));
  if (!small)
    paper_cell (table, row->n > 1 ? NULL : sp_words_number (e->frequency_hz / 1e6, 1, SP_HAND_SCREEN));
  paper_cell (table, sp_words_seen (e, e->level_dbm, SP_HAND_SCREEN));
  if (!small)
    paper_cell (table, e->swept ? sp_words_number (e->budget.expanded_level_db, 1, SP_HAND_SCREEN) : NULL);
  paper_cell (table, sp_words_number (e->limit_dbm, 1, SP_HAND_SCREEN));
  paper_cell (table, sp_words_room_u (e, SP_HAND_SCREEN));
  paper_verdict_cell (table, e->verdict);
}

static void
add_rows (Slip *slip, SpPaperTable *table, guint i)
{
  guint n, left_out;
  g_autofree SpDigestRow *rows = sp_digest_short (found_of (slip, i), slip->size == SP_PAPER_A5 ? SEEN_ON_A5 : SEEN_MOST, &n, &left_out);
  if (slip->n > SENTENCES) { /* the deciding one alone */
    int deciding = found_of (slip, i)->worst_emission;
    SpDigestRow row = { deciding < 0 ? 0 : (guint) deciding, 1, 0, 0, TRUE };
    if (deciding >= 0)
      add_row (slip, table, i, &row, TRUE);
    return;
  }
  if (i)
    paper_rule_above_next (table);
  for (guint k = 0; k < n; k++)
    add_row (slip, table, i, &rows[k], k == 0);
  slip->left_out += left_out;
}

static void
add_table (Slip *slip)
{
  SpPaperTable *table = paper_table (slip->blocks, _ ("Emissions and verdicts"));
  if (slip->n > 1)
    paper_head (table, _ ("condition"), FALSE, TRUE);
  if (slip->n > SENTENCES)
    paper_head (table, _ ("P, W"), TRUE, FALSE);
  paper_head (table, _ ("emission"), FALSE, TRUE);
  if (slip->size != SP_PAPER_A5)
    paper_head (table, _ ("MHz"), TRUE, FALSE);
  paper_head (table, _ ("level, dBm"), TRUE, FALSE);
  if (slip->size != SP_PAPER_A5)
    paper_head (table, _ ("\302\261 U, dB"), TRUE, FALSE);
  paper_head (table, slip->size == SP_PAPER_A5 ? _ ("limit") : _ ("limit, dBm"), TRUE, FALSE);
  paper_head (table, slip->size == SP_PAPER_A5 ? _ ("room \302\261 U") : _ ("room \302\261 U, dB"), TRUE, FALSE);
  paper_head (table, _ ("verdict"), FALSE, FALSE);
  for (guint i = 0; i < slip->n; i++)
    add_rows (slip, table, i);
  SpPaperBlock *note = paper_paragraph (slip->blocks, SP_ROLE_NOTE, NULL,
                                        g_strdup (slip->size == SP_PAPER_A5 ? sp_words_room_note_short () : sp_words_room_note ()));
  if (slip->left_out) {
    g_autofree char *more = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, " %u more was seen, with more room.",
                                                          " %u more were seen, with more room.", slip->left_out),
                                             slip->left_out);
    paper_run (note, more, FALSE);
  }
}

/* ---- what it means ---- */

static char *
settle_all (const Slip *slip)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < slip->n && i < SENTENCES; i++) {
    g_autofree char *said = sp_words_settle (slip->findings, slip->conditions[i]);
    if (slip->n > 1)
      g_string_append_printf (text, _ ("%s%s: %s"), i ? " " : "", name_of (slip, i), said);
    else
      g_string_append (text, said);
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* The condition that the paragraphs speak of: the worst. */
static guint
spokesman (const Slip *slip)
{
  guint worst = 0;
  for (guint i = 1; i < slip->n; i++)
    if (sp_compare_is_worse (found_of (slip, i), found_of (slip, worst)))
      worst = i;
  return slip->conditions[worst];
}

static void
add_paragraph (SpPaperBlock *columns, const char *heading, char *text)
{
  GPtrArray *list = paper_column (columns);
  paper_heading (list, heading, NULL);
  paper_paragraph (list, SP_ROLE_BODY, NULL, text);
}

static void
add_meaning (Slip *slip)
{
  SpPaperBlock *columns = paper_add (slip->blocks, SP_BLOCK_COLUMNS);
  guint of = spokesman (slip);
  if (slip->size == SP_PAPER_A5) {
    add_paragraph (columns, _ ("What would settle it"), settle_all (slip));
    add_paragraph (columns, _ ("How sure, and not looked at"), sp_words_sure_short (slip->findings, of));
    paper_add (slip->blocks, SP_BLOCK_RULE);
    paper_paragraph (slip->blocks, SP_ROLE_SMALL, _ ("No certificate."), g_strdup (sp_words_card_cautions ()));
    return;
  }
  add_paragraph (columns, _ ("How sure"), sp_words_how_sure (slip->findings, of));
  add_paragraph (columns, _ ("Not looked at"), sp_words_not_looked_at (slip->findings, slip->conditions, slip->n));
  add_paragraph (columns, _ ("What would settle it"), settle_all (slip));
  paper_add (slip->blocks, SP_BLOCK_RULE);
  columns = paper_add (slip->blocks, SP_BLOCK_COLUMNS);
  paper_paragraph (paper_column (columns), SP_ROLE_SMALL, _ ("Cautions."), g_strdup (sp_words_key_cautions ()));
  paper_paragraph (paper_column (columns), SP_ROLE_SMALL, _ ("What this paper is not."), g_strdup (sp_words_no_certificate ()));
}

static void
describe (SpPaper *paper, const Slip *slip)
{
  const SpRadio *radio = &slip->findings->bench->radios[slip->radio];
  paper->title = radio->serial && *radio->serial ? g_strdup_printf (_ ("%s, serial %s"), radio->name, radio->serial)
                                                 : g_strdup (radio->name);
  paper->subject = g_strdup (_ ("Emissions at the antenna socket, measured and judged"));
  paper->head = g_strdup (_ ("Slip for one radio's owner"));
  paper->head_aside = g_strdup (paper->subject);
  paper->foot = paper_foot (slip->findings, paper->title);
}

SpPaper *
sp_paper_slip (const SpFindings *findings, guint radio, SpPaperSize size)
{
  SpPaper *paper = paper_new (findings);
  Slip slip = { findings, radio, size, 0, NULL, sp_compare (findings), paper->blocks, 0 };
  gather (&slip);
  describe (paper, &slip);
  paper_letterhead (slip.blocks, findings->bench);
  add_head (&slip);
  add_unsafe (&slip);
  add_verdicts (&slip);
  paper_words (slip.blocks, _ ("Remark."), sp_document_remark (findings->bench->document, findings->bench->radios[radio].name));
  if (slip.n && slip.n <= PAGE_CHARTS)
    add_charts (&slip);
  if (slip.n) {
    add_table (&slip);
    add_meaning (&slip);
  }
  paper_title_block (slip.blocks, findings, (int) radio, size);
  if (slip.n > PAGE_CHARTS) {
    paper_page (slip.blocks, _ ("Charts"), "charts");
    add_charts (&slip);
  }
  paper_pictures_page (slip.blocks, findings, (int) radio);
  g_free (slip.conditions);
  sp_comparison_unref (slip.comparison);
  return paper;
}
