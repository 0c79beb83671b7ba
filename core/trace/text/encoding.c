/* encoding.c - recognizes a file's encoding and decodes it */
#include "core/trace/text/encoding.h"

#include "core/quantity/error.h"
#include "core/quantity/large.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <string.h>

#define SPACE_LEAST ((gsize) 4096) /* space for a short text */

/* Eight bytes at a time: is there one above 0x7f, or one below 0x09 (which no text has)? */
static void
look (const guchar *data, gsize length, gboolean *high, gboolean *control)
{
  const guint64 tops = G_GUINT64_CONSTANT (0x8080808080808080), nines = G_GUINT64_CONSTANT (0x0909090909090909);
  guint64 above = 0, below = 0, word;
  gsize i = 0;

  for (; i + 8 <= length; i += 8) {
    memcpy (&word, data + i, 8);
    above |= word;
    below |= (word - nines) & ~word;
  }
  for (; i < length; i++) {
    above |= data[i];
    if (data[i] < 9)
      below |= tops;
  }
  *high = (above & 0x80) != 0 || (above & tops) != 0;
  *control = (below & tops) != 0;
}

/* The byte that makes this no text, NULL if there is none. */
static const char *
find_control (const char *text, gsize length)
{
  for (gsize i = 0; i < length; i++) {
    guchar c = (guchar) text[i];
    if (c < 9 || (c > 13 && c < 32))
      return text + i;
  }
  return NULL;
}

static gboolean
refuse_binary (const char *start, const char *at, const char *file, GError **error)
{
  guint line = 1;
  const char *line_start = start;

  for (const char *p = start; p < at; p++)
    if (*p == '\n' || (*p == '\r' && p[1] != '\n')) {
      line++;
      line_start = p + 1;
    }
  return sp_fail_at (error, file, line, (guint) MIN (at - line_start + 1, G_MAXINT),
                     _ ("byte 0x%02x is not text; expected an export as text. Block data is read with ?format=real32 or real64"),
                     (guchar) *at);
}

/* ---- conversion ---- */

typedef struct {
  char *start;
  gsize length, capacity;
} Converted;

/* Room for as much as is to come, if it grows as what came so far did. FALSE where there is no memory. */
static gboolean
make_space (Converted *text, gsize done, gsize left)
{
  gsize capacity = text->length + SPACE_LEAST + (done ? (gsize) ((double) left * (double) text->length / (double) done * 1.02) : left / 2);
  char *larger = sp_large_resize (text->start, text->length, capacity);

  if (!larger)
    return FALSE;
  text->start = larger;
  text->capacity = capacity;
  return TRUE;
}

/* All of it; *done says how far it came. 0, or errno's: EILSEQ, EINVAL within a character at the end, ENOMEM. Not by g_convert, which ends the program
 * where there is no memory, and takes three times as much on its way. */
static int
convert_all (GIConv converter, const char *start, gsize length, Converted *text, gsize *done)
{
  char *from = (char *) start;
  gsize left = length;

  for (;;) {
    if (!make_space (text, length - left, left))
      return ENOMEM;
    char *to = text->start + text->length;
    gsize space = text->capacity - text->length;
    gsize result = g_iconv (converter, &from, &left, &to, &space);
    int cause = errno;
    text->length = (gsize) (to - text->start);
    *done = length - left;
    if (result != (gsize) -1)
      return 0;
    if (cause != E2BIG)
      return cause;
  }
}

static gboolean
fail_convert (int cause, gsize done, const char *encoding, const char *file, GError **error)
{
  if (cause == ENOMEM)
    return sp_fail (error, SP_ERROR_LIMIT, _ ("%s: cannot be read: %s"), file, g_strerror (cause));
  if (cause == EINVAL)
    return sp_fail (error, SP_ERROR_INPUT, _ ("%s: not valid %s (it ends within a character); save the export as UTF-8"), file, encoding);
  return sp_fail (error, SP_ERROR_INPUT,
                  _ ("%s: not valid %s (byte %" G_GSIZE_FORMAT " of its text begins no character); save the export as UTF-8"), file,
                  encoding, done + 1);
}

static gboolean
convert (const char *start, gsize length, const char *encoding, const char *from, const char *file, SpText *text, GError **error)
{
  Converted converted = { NULL, 0, 0 };
  GIConv converter = g_iconv_open ("UTF-8", from);
  gsize done = 0;
  int cause = converter == (GIConv) -1 ? ENOMEM : convert_all (converter, start, length, &converted, &done);

  if (converter != (GIConv) -1)
    g_iconv_close (converter);
  if (cause) {
    g_free (converted.start);
    return fail_convert (cause, done, encoding, file, error);
  }
  char *utf8 = sp_large_resize (converted.start, converted.length, MAX (converted.length, 1)); /* gives back what was too much */
  converted.start = utf8 ? utf8 : converted.start;
  text->bytes = g_bytes_new_take (converted.start, converted.length);
  text->start = converted.start;
  text->length = converted.length;
  text->encoding = encoding;
  return TRUE;
}

/* ---- Japanese exports ---- */

#define HEAD_BYTES ((gsize) 64 << 10) /* settings and column names stand in it; bounds time */

/* Words that an export in Japanese can hardly do without. */
static gboolean
is_japanese_export (const char *text, gsize length)
{
  static const char *const words[] = { "周波数", "レベル", "帯域", "検波", "掃引", "減衰", "スパン", "振幅", "電力", "測定", "トレース" };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_strstr_len (text, (gssize) length, words[i]))
      return TRUE;
  return FALSE;
}

/* Bytes that are neither UTF-8 nor, most likely, Latin-1: valid in one of the two old encodings of Japanese, and what they say then is about
 * a sweep. NULL where that is not so. */
static const char *
japanese_encoding (const char *data, gsize length)
{
  static const char *const encodings[] = { "CP932", "EUC-JP" };
  gsize head = MIN (length, HEAD_BYTES);

  while (head < length && head > 0 && data[head - 1] != '\n' && data[head - 1] != '\r')
    head--;
  for (guint i = 0; i < G_N_ELEMENTS (encodings); i++) {
    gsize read = 0, written = 0;
    g_autofree char *text = g_convert (data, (gssize) head, "UTF-8", encodings[i], &read, &written, NULL);
    if (text && read == head && is_japanese_export (text, written))
      return encodings[i];
  }
  return NULL;
}

/* Not UTF-8, and without control characters. */
static gboolean
decode_old (const char *data, gsize length, const char *file, SpText *text, GError **error)
{
  const char *japanese = japanese_encoding (data, length);

  if (japanese)
    return convert (data, length, strcmp (japanese, "CP932") == 0 ? "Shift_JIS" : japanese, japanese, file, text, error);
  /* windows-1252 has five holes; ISO-8859-1 has none */
  return convert (data, length, "ISO-8859-1", "WINDOWS-1252", file, text, NULL)
         || convert (data, length, "ISO-8859-1", "ISO-8859-1", file, text, error);
}

gboolean
sp_text_decode (GBytes *raw, const char *file, SpText *text, GError **error)
{
  gsize length;
  const char *data = g_bytes_get_data (raw, &length);
  gboolean high = FALSE, control = FALSE;

  if (length == 0) /* no bytes have no address */
    data = "";
  *text = (SpText){ .encoding = "UTF-8" };
  if (length >= 2 && (memcmp (data, "\xff\xfe", 2) == 0 || memcmp (data, "\xfe\xff", 2) == 0)) {
    const char *encoding = data[0] == '\xff' ? "UTF-16LE" : "UTF-16BE";
    if (!convert (data + 2, length - 2, encoding, encoding, file, text, error))
      return FALSE;
    control = TRUE;
  } else {
    gsize mark = length >= 3 && memcmp (data, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
    if (length > 0)
      look ((const guchar *) data, length, &high, &control);
    if (high && !control && !g_utf8_validate_len (data + mark, length - mark, NULL)) {
      if (!decode_old (data, length, file, text, error))
        return FALSE;
    } else {
      text->bytes = g_bytes_ref (raw);
      text->start = data + mark;
      text->length = length - mark;
    }
  }
  if (text->length > 0 && text->start[text->length - 1] == 26) /* Ctrl-Z, an old end of file */
    text->length--;
  const char *bad = control ? find_control (text->start, text->length) : NULL;
  if (!bad)
    return TRUE;
  refuse_binary (text->start, bad, file, error);
  sp_text_clear (text);
  return FALSE;
}

void
sp_text_lines (const SpText *text, SpTextLines *lines)
{
  sp_lines_init (lines, text->start, text->length);
  lines->number += text->lines_before;
}

void
sp_text_clear (SpText *text)
{
  g_clear_pointer (&text->bytes, g_bytes_unref);
  text->start = NULL;
  text->length = 0;
}
