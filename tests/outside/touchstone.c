/* touchstone.c - files of random S-parameters taken to 50 ohm, and a ladder of pad, lossy line and pad at every point of its grid as a circuit
 * simulator sees it. The numbers are in touchstone.txt, which touchstone.py made; nothing else is needed here. */
#include "core/network/one-port.h"
#include "tests/chain/bench.h"

typedef struct {
  char *source;
  guint ports;
  GString *text;   /* the file */
  GPtrArray *rows; /* char**: "row", f, re, im ... */
} Case;

static Case *
case_new (const char *source, guint ports)
{
  Case *c = g_new0 (Case, 1);
  c->source = g_strdup (source);
  c->ports = ports;
  c->text = g_string_new (NULL);
  c->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  return c;
}

static void
case_free (gpointer data)
{
  Case *c = data;
  g_free (c->source);
  g_string_free (c->text, TRUE);
  g_ptr_array_unref (c->rows);
  g_free (c);
}

/* All the cases; the ladder's parts and its whole are those named a, b, c, whole. */
static GPtrArray *
read_cases (void)
{
  g_autofree char *path = sp_test_path ("tests/outside/touchstone.txt"), *all = NULL;
  GPtrArray *cases = g_ptr_array_new_with_free_func (case_free);
  ck_assert (g_file_get_contents (path, &all, NULL, NULL));
  g_auto (GStrv) lines = g_strsplit (all, "\n", -1);
  for (char **line = lines; *line; line++) {
    g_auto (GStrv) words = g_strsplit (*line, " ", -1);
    Case *last = cases->len ? cases->pdata[cases->len - 1] : NULL;
    if (g_strcmp0 (words[0], "case") == 0)
      g_ptr_array_add (cases, case_new (words[1], (guint) atoi (words[2])));
    else if ((*line)[0] == '|')
      g_string_append_printf (last->text, "%s\n", *line + 1);
    else if (g_strcmp0 (words[0], "row") == 0)
      g_ptr_array_add (last->rows, g_steal_pointer (&words));
    else if (words[0] && *words[0] && g_strcmp0 (words[0], "ladder") != 0)
      g_ptr_array_add (cases, case_new (words[0], 2));
  }
  return cases;
}

static Case *
find_case (GPtrArray *cases, const char *source)
{
  for (guint i = 0; i < cases->len; i++)
    if (strcmp (((Case *) cases->pdata[i])->source, source) == 0)
      return cases->pdata[i];
  ck_abort_msg ("no %s", source);
}

static double
number (const Case *c, guint row, guint word)
{
  char **words = c->rows->pdata[row];
  ck_assert_uint_gt (g_strv_length (words), word + 1);
  return g_ascii_strtod (words[word + 1], NULL);
}

/* Greatest distance of any parameter at any point, and of any frequency, relative. */
static void
compare (const Case *c, guint n, const double *frequency_hz, const complex double *const *s, guint parameters)
{
  double off = 0, off_hz = 0;
  ck_assert_msg (n == c->rows->len, "%s: %u points, not %u", c->source, n, c->rows->len);
  for (guint i = 0; i < n; i++) {
    off_hz = fmax (off_hz, fabs (frequency_hz[i] - number (c, i, 0)) / fmax (number (c, i, 0), 1));
    for (guint k = 0; k < parameters; k++)
      off = fmax (off, hypot (creal (s[k][i]) - number (c, i, 1 + 2 * k), cimag (s[k][i]) - number (c, i, 2 + 2 * k)));
  }
  sp_outside ("S-parameters of a file, greatest deviation", "calculated: to 50 ohm by power waves (touchstone.py)", off, 0, 1e-12);
  sp_outside ("its frequencies, relative", "as written", off_hz, 0, 1e-15);
}

START_TEST (files)
{
  g_autoptr (GPtrArray) cases = read_cases ();
  guint one = 0, two = 0;
  for (guint i = 0; i < cases->len; i++) {
    const Case *c = cases->pdata[i];
    g_autoptr (GError) error = NULL;
    if (c->text->len == 0)
      continue;
    if (c->ports == 1) {
      g_autoptr (SpOnePort) t = sp_one_port_parse (c->text->str, c->text->len, "t.s1p", &error);
      sp_no_error (error);
      compare (c, t->n, t->frequency_hz, (const complex double *const[]){ t->s11 }, 1);
      one++;
    } else {
      g_autoptr (SpTwoPort) t = sp_two_port_parse (c->text->str, c->text->len, "t.s2p", &error);
      sp_no_error (error);
      compare (c, t->n, t->frequency_hz, (const complex double *const[]){ t->s11, t->s21, t->s12, t->s22 }, 4);
      two++;
    }
  }
  ck_assert_msg (one == 12 && two == 12, "%u one-ports, %u two-ports", one, two);
}
END_TEST

/* A part's rows as a Touchstone file. */
static void
put_part (const char *folder, const Case *c)
{
  g_autoptr (GString) text = g_string_new ("# Hz S RI R 50\n");
  g_autofree char *name = g_strconcat (c->source, ".s2p", NULL);
  for (guint i = 0; i < c->rows->len; i++) {
    g_autofree char *line = g_strjoinv (" ", (char **) c->rows->pdata[i] + 1);
    g_string_append_printf (text, "%s\n", line);
  }
  g_free (put_file (folder, name, text->str));
}

START_TEST (ladder)
{
  static const char *const source = "a circuit simulation of pad, lossy line and mismatched pad";
  g_autoptr (GPtrArray) cases = read_cases ();
  const Case *parts[] = { find_case (cases, "a"), find_case (cases, "b"), find_case (cases, "c") }, *whole = find_case (cases, "whole");
  char *folder = new_folder ();
  for (guint i = 0; i < 3; i++)
    put_part (folder, parts[i]);
  g_autofree char *path = put_file (folder, "l.chain",
                                    "[chain]\nstages=a;b;c\n[stage a]\nkind=pad\ntouchstone=a.s2p\nu_db=0.01\n"
                                    "[stage b]\nkind=cable\ntouchstone=b.s2p\nu_db=0.01\n[stage c]\nkind=pad\n"
                                    "touchstone=c.s2p\nu_db=0.01\n");
  g_autoptr (GError) error = NULL;
  g_autoptr (SpChain) chain = sp_chain_read (path, &error);
  sp_no_error (error);
  ck_assert_uint_eq (whole->rows->len, 34);
  double away = 0;
  for (guint i = 0; i < whole->rows->len; i++) {
    double f = number (whole, i, 0), level = 0;
    complex double s[3][4], run[4];
    for (guint k = 0; k < 3; k++)
      sp_two_port_at (chain->stages[k]->two_port, f, s[k], NULL);
    sp_two_port_cascade (s[0], s[1], run);
    sp_two_port_cascade (run, s[2], run);
    double off = 0;
    static const guint place[4] = { SP_S11, SP_S21, SP_S12, SP_S22 };
    for (guint k = 0; k < 4; k++)
      off = fmax (off, hypot (creal (run[place[k]]) - number (whole, i, 1 + 2 * k), cimag (run[place[k]]) - number (whole, i, 2 + 2 * k)));
    sp_outside ("cascade of pad, line and pad, all four parameters", source, off, 0, 1e-12);
    double want = -20 * log10 (hypot (number (whole, i, 3), number (whole, i, 4)));
    SpChainLoss loss = sp_chain_loss (chain, f, NAN, 0, NULL);
    sp_outside ("loss of a chain of three measured stages, dB", source, loss.loss_db, want, 1e-10);
    sp_chain_correct (chain, NAN, 1, &f, &level);
    sp_outside ("what a trace is corrected by, dB", source, level, want, 1e-10);
    away = fmax (away, fabs (loss.interaction_db));
    near (loss.u_mismatch_db, 0, 0);
  }
  ck_assert_double_gt (away, 0.005); /* a sum of the three would not do */
  drop_folder (folder);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/touchstone");
  TCase *t = tcase_create ("touchstone");
  tcase_add_test (t, files);
  tcase_add_test (t, ladder);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
