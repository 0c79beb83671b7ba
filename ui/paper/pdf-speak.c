/* pdf-speak.c - what cairo (1.16) does not write into a tagged PDF: the language, and in words what each figure shows */
#include "ui/paper/private.h"

#include <string.h>

/* An incremental update (ISO 32000-1, 7.5.6): the objects that say more stand once more behind the file, with a table of their own. Figures stand in the
 * order in which they were drawn. */

#define FIGURE "<< /Type /StructElem\n   /S /Figure\n"
#define CATALOG "<< /Type /Catalog\n"

typedef struct {
  guint number; /* of the object */
  char *text;
  gsize at;
} Amended;

static void
clear_amended (void *amended)
{
  g_free (((Amended *) amended)->text);
}

static const char *
find (const char *from, const char *end, const char *what)
{
  gsize length = strlen (what);
  for (const char *at = from; at && (gsize) (end - at) >= length; at++) {
    at = memchr (at, *what, (gsize) (end - at) - length + 1);
    if (!at)
      return NULL;
    if (memcmp (at, what, length) == 0)
      return at;
  }
  return NULL;
}

/* The number that follows a word; 0: there is none. */
static guint64
number_behind (const char *from, const char *end, const char *word)
{
  const char *at = find (from, end, word);
  return at ? g_ascii_strtoull (at + strlen (word), NULL, 10) : 0;
}

/* UTF-16 with its mark, in hexadecimal digits (7.9.2.2). */
static char *
text_string (const char *text)
{
  long n = 0;
  g_autofree gunichar2 *units = g_utf8_to_utf16 (text, -1, NULL, &n, NULL);
  GString *out = g_string_new ("<FEFF");
  for (long i = 0; i < n; i++)
    g_string_append_printf (out, "%04X", units[i]);
  g_string_append_c (out, '>');
  return g_string_free (out, FALSE);
}

/* The object whose dictionary begins at `at`, with `more` behind its first lines; FALSE: it is not as cairo writes it. */
static gboolean
amend (GArray *all, const char *begin, const char *at, const char *end, gsize first_lines, const char *more)
{
  const char *close = find (at, end, "endobj"), *head = at;
  while (head > begin && head[-1] == '\n')
    head--;
  while (head > begin && head[-1] != '\n')
    head--;
  guint64 number = g_ascii_strtoull (head, NULL, 10);
  if (!close || number == 0 || number > G_MAXUINT)
    return FALSE;
  Amended amended = { (guint) number,
                      g_strdup_printf ("%u 0 obj\n%.*s%s%.*sendobj\n", (guint) number, (int) first_lines, at, more,
                                       (int) (close - at - (gssize) first_lines), at + first_lines),
                      0 };
  g_array_append_val (all, amended);
  return TRUE;
}

static gboolean
amend_figures (GArray *all, const char *begin, const char *end, const GPtrArray *alts)
{
  const char *at = begin;
  for (guint i = 0; i < alts->len; i++, at++) {
    if (!(at = find (at, end, FIGURE)))
      return FALSE;
    g_autofree char *said = text_string (g_ptr_array_index (alts, i)), *more = g_strdup_printf ("   /Alt %s\n", said);
    if (!amend (all, begin, at, end, strlen (FIGURE), more))
      return FALSE;
  }
  return TRUE;
}

static void
append_update (GByteArray *bytes, GArray *all, guint64 size, guint64 root, guint64 info, guint64 table)
{
  g_autoptr (GString) out = g_string_new (NULL);
  for (guint i = 0; i < all->len; i++) {
    Amended *one = &g_array_index (all, Amended, i);
    one->at = bytes->len + out->len;
    g_string_append (out, one->text);
  }
  gsize place = bytes->len + out->len;
  g_string_append (out, "xref\n");
  for (guint i = 0; i < all->len; i++)
    g_string_append_printf (out, "%u 1\n%010" G_GSIZE_FORMAT " 00000 n \n", g_array_index (all, Amended, i).number,
                            g_array_index (all, Amended, i).at);
  g_string_append_printf (out,
                          "trailer\n<< /Size %" G_GUINT64_FORMAT "\n   /Root %" G_GUINT64_FORMAT " 0 R\n   /Info %" G_GUINT64_FORMAT
                          " 0 R\n   /Prev %" G_GUINT64_FORMAT "\n>>\nstartxref\n%" G_GSIZE_FORMAT "\n%%%%EOF\n",
                          size, root, info, table, place);
  g_byte_array_append (bytes, (const guint8 *) out->str, (guint) out->len);
}

gboolean
pdf_speak (GByteArray *bytes, const char *language, const GPtrArray *alts)
{
  const char *begin = (const char *) bytes->data, *end = begin + bytes->len, *trailer = NULL, *catalog = find (begin, end, CATALOG);
  for (const char *at = begin; (at = find (at, end, "\ntrailer\n")); at++)
    trailer = at;
  if (!trailer || !catalog)
    return FALSE;
  guint64 size = number_behind (trailer, end, "/Size "), root = number_behind (trailer, end, "/Root "),
          info = number_behind (trailer, end, "/Info "), table = number_behind (trailer, end, "startxref\n");
  g_autofree char *more = g_strdup_printf ("   /Lang (%s)\n   /ViewerPreferences << /DisplayDocTitle true >>\n", language);
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (Amended));
  g_array_set_clear_func (all, clear_amended);
  if (!size || !root || !info || !table || !amend_figures (all, begin, end, alts)
      || !amend (all, begin, catalog, end, strlen (CATALOG), more))
    return FALSE;
  append_update (bytes, all, size, root, info, table);
  return TRUE;
}
