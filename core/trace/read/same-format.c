/* same-format.c - recognizes numbers written in the same format as the one before */
#include "core/trace/read/same-format.h"

#define PATIENCE 4     /* numbers that look different before a new look is taken: two looks may alternate; bounds time */
#define MOST_DIGITS 15 /* below 2^53; calculated */

/* No text holds NUL: nothing looks like this. */
void
sp_same_format_init (SpSameFormat *alike, const char *from)
{
  *alike = (SpSameFormat){ .from = from + SP_SAME_FORMAT_READ_BEHIND, .differing = PATIENCE - 1 };
}

static guint64
last_characters (guint n)
{
  return n == 0 ? 0 : ~G_GUINT64_CONSTANT (0) << (8 * (8 - n));
}

/* Of a number that sp_decimal_fast has read; one with a plus, an exponent or too many digits leaves no look. */
static void
take_look (SpSameFormat *alike, const char *start, const char *end, char mark, int shift)
{
  const gboolean negative = *start == '-';
  const char *first = start + negative, *mark_at = memchr (first, mark, (gsize) (end - first));
  guint digits = (guint) (end - first) - (mark_at != NULL), tail = mark_at ? (guint) (end - mark_at) - 1 : MIN (digits, 8);
  int exponent = shift - (mark_at ? (int) tail : 0);

  sp_same_format_init (alike, alike->from - SP_SAME_FORMAT_READ_BEHIND);
  alike->differing = 0;
  for (const char *p = first; p < end; p++)
    if (!g_ascii_isdigit (*p) && p != mark_at)
      return;
  if (G_BYTE_ORDER != G_LITTLE_ENDIAN || digits > MOST_DIGITS || tail > 8 || digits - tail > 8 || ABS (exponent) > 22)
    return;
  alike->length = (guint) (end - start);
  alike->after = *end;
  alike->negative = negative;
  alike->mark_at = mark_at ? (guint) (mark_at - start) : alike->length;
  alike->mark = mark_at ? mark : *end;
  alike->head_end = (guint) negative + digits - tail;
  alike->head = last_characters (digits - tail);
  alike->tail = last_characters (tail);
  alike->scale = (guint64) sp_powers_of_ten[tail];
  alike->exponent = exponent;
}

const char *
sp_same_format_read_other (SpSameFormat *alike, const char *text, char mark, int shift, double *value)
{
  const char *end = text;

  if (!sp_decimal_fast (&end, mark, shift, value))
    return NULL;
  if (++alike->differing >= PATIENCE && text >= alike->from)
    take_look (alike, text, end, mark, shift);
  return end;
}
