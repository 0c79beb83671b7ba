/* workbook-verdict.c - the rule as a formula over the sheet's own cells, printed from the table of core/findings/verdict-table.h */
#include "core/findings/verdict-table.h"
#include "ui/report/workbook/workbook-private.h"

#include "ui/words/words.h"

#include <glib/gi18n-lib.h>

/* An emission's rows (from 1) in the ledger, the working and the uncertainties, and the first of the condition's facts. */
typedef struct {
  const SpEmission *e;
  guint r, w, q, f;
  char *low, *high; /* ends of the radio's part */
  guint told;       /* facts_told() */
} Cells;

static char *
is_word (const char *column, guint row, const char *word)
{
  g_autofree char *quoted = workbook_quoted (word);
  return g_strdup_printf ("%s%u=%s", column, row, quoted);
}

static char *
referred (const Cells *c)
{
  g_autofree char *calibrated = workbook_quoted (workbook_yes (TRUE)), *trace = workbook_quoted (_ ("the trace"));
  return g_strdup_printf ("OR($B$%u=%s,L%u=0,$B$%u<>%s)", c->f + FACT_CALIBRATED, calibrated, c->w, c->f + FACT_BASIS, trace);
}

static char *
gross (const Cells *c)
{
  g_autofree char *seen = is_word ("C", c->r, workbook_yes (TRUE)), *untested = workbook_quoted (sp_words_origin (SP_ORIGIN_UNTESTED));
  return g_strdup_printf ("IF(%s,IF(N%u<>%s,%s-R%u>J%u+K%u*L%u+$B$%u))", seen, c->r, untested, c->low, c->w, c->r, c->q, c->q,
                          c->f + FACT_EXTRA);
}

/* Where points lie no further apart than the RBW, what may be lost between them is no reason by itself. */
static char *
coarse (const Cells *c)
{
  if (!(c->e->facts & SP_FACT_COARSE))
    return g_strdup_printf ("K%u>$B$%u", c->w, c->f + FACT_BLIND);
  return g_strdup_printf ("OR(K%u>$B$%u,AND(%s+O%u>J%u,%s+Q%u<=J%u))", c->w, c->f + FACT_BLIND, c->high, c->w, c->r, c->high, c->w, c->r);
}

static char *
bound_open (const Cells *c)
{
  return g_strdup_printf ("OR(AND(R%u>0,%s-Q%u>J%u),AND(K%u>0,%s+Q%u<=J%u))", c->w, c->low, c->w, c->r, c->w, c->high, c->w, c->r);
}

/* The fact by the sheet's cells; NULL: no cell tells it, and it stays as it was judged. */
static char *
by_cells (const Cells *c, SpVerdictFact fact)
{
  switch (fact) {
  case SP_FACT_LIMIT: return g_strdup_printf ("ISNUMBER(J%u)", c->r);
  case SP_FACT_NEEDS_POWER: return is_word ("J", c->r, _ ("not known"));
  case SP_FACT_SWEPT: return is_word ("C", c->w, workbook_yes (TRUE));
  case SP_FACT_REFERRED: return referred (c);
  case SP_FACT_CALIBRATED: return is_word ("D", c->w, workbook_yes (TRUE));
  case SP_FACT_GROSS: return gross (c);
  case SP_FACT_SEEN: return is_word ("C", c->r, workbook_yes (TRUE));
  case SP_FACT_BLIND: return g_strdup_printf ("K%u>$B$%u", c->w, c->f + FACT_BLIND);
  case SP_FACT_FLOOR_BELOW: return g_strdup_printf ("IF(ISNUMBER(D%u),D%u+O%u<=J%u)", c->r, c->r, c->w, c->r);
  case SP_FACT_OVER: return g_strdup_printf ("%s-R%u-Q%u>J%u", c->low, c->w, c->w, c->r);
  case SP_FACT_COARSE: return coarse (c);
  case SP_FACT_BELOW: return g_strdup_printf ("%s+O%u<=J%u", c->high, c->w, c->r);
  case SP_FACT_AMBIENT: return is_word ("N", c->r, sp_words_origin (SP_ORIGIN_AMBIENT));
  case SP_FACT_UNTESTED: return is_word ("N", c->r, sp_words_origin (SP_ORIGIN_UNTESTED));
  case SP_FACT_RADIO: return is_word ("N", c->r, sp_words_origin (SP_ORIGIN_RADIO));
  case SP_FACT_BOUND_OPEN: return bound_open (c);
  default: return NULL;
  }
}

/* The facts that cells tell: for every row of the table the same. */
static guint
facts_told (const Cells *c)
{
  guint told = 0;
  for (guint bit = 1; bit < SP_VERDICT_FACTS_END; bit <<= 1) {
    g_autofree char *by = by_cells (c, (SpVerdictFact) bit);
    told |= by ? bit : 0;
  }
  return told;
}

/* Does a fact that no cell tells keep the row from holding? */
static gboolean
is_out_of_reach (const Cells *c, const SpVerdictEntry *line)
{
  return (line->yes & ~c->told & ~c->e->facts) || (line->no & ~c->told & c->e->facts);
}

/* What the row asks, each question within the one before: it is worked only where that holds. NULL: nothing. */
static char *
condition_of (const Cells *c, const SpVerdictEntry *line)
{
  char *all = NULL;
  for (guint bit = SP_VERDICT_FACTS_END >> 1; bit; bit >>= 1) {
    g_autofree char *told = (line->yes | line->no) & bit ? by_cells (c, (SpVerdictFact) bit) : NULL, *inner = all;
    if (!told) {
      all = g_steal_pointer (&inner);
      continue;
    }
    g_autofree char *asked = line->yes & bit ? g_strdup (told) : g_strdup_printf ("NOT(%s)", told);
    all = inner ? g_strdup_printf ("IF(%s,%s)", asked, inner) : g_steal_pointer (&asked);
  }
  return all;
}

/* A row whose next asks less and gives the same verdict adds nothing to a formula that only names the verdict. */
static gboolean
adds_nothing (const SpVerdictEntry *line)
{
  const SpVerdictEntry *next = line + 1;
  return next->verdict == line->verdict && (next->yes & ~line->yes) == 0 && (next->no & ~line->no) == 0;
}

char *
workbook_verdict_formula (const Places *places, const SpEmission *e, guint i)
{
  guint n, open = 0;
  const SpVerdictEntry *lines = sp_verdict_table (&n);
  Cells c = { e, places->ledger + i + 1, places->working + i + 1, places->uncertainty + i + 1, places->facts + 1, NULL, NULL, 0 };
  g_autofree char *withheld = workbook_quoted (sp_words_verdict (SP_VERDICT_NOT_PROVEN));
  if (sp_verdict_withholds (e->row)) /* no other loss or k would prove it */
    return g_strconcat ("=", withheld, NULL);
  g_autofree char *low = c.low = g_strdup_printf ("IF(ISNUMBER(N%u),IF(ISNUMBER(M%u),M%u,-1E+99),D%u)", c.w, c.w, c.w, c.r);
  g_autofree char *high = c.high = g_strdup_printf ("IF(ISNUMBER(N%u),N%u,D%u)", c.w, c.w, c.r);
  c.told = facts_told (&c);
  GString *formula = g_string_new ("=");
  for (const SpVerdictEntry *line = lines; line < lines + n; line++) {
    gboolean last = line == lines + n - 1;
    if (is_out_of_reach (&c, line) || (!last && adds_nothing (line)))
      continue;
    g_autofree char *when = condition_of (&c, line), *verdict = workbook_quoted (sp_words_verdict (line->verdict));
    if (!when) { /* nothing asked: no further row is in reach */
      g_string_append (formula, verdict);
      break;
    }
    g_string_append_printf (formula, "IF(%s,%s,", when, verdict);
    open++;
  }
  while (open--)
    g_string_append_c (formula, ')');
  return g_string_free (formula, FALSE);
}
