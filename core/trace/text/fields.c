/* fields.c - divides a line into fields */
#include "core/trace/text/fields.h"

#include "core/trace/limits.h"

#include <string.h>

void
sp_fields_init (SpTextFields *fields)
{
  fields->items = g_array_new (FALSE, FALSE, sizeof (SpTextField));
  fields->copies = g_string_chunk_new (256);
}

void
sp_fields_clear (SpTextFields *fields)
{
  g_clear_pointer (&fields->items, g_array_unref);
  g_clear_pointer (&fields->copies, g_string_chunk_free);
}

/* A blank between fields is never a delimiter itself. */
static gboolean
is_blank (char c, char delimiter)
{
  return c == ' ' || (c == '\t' && delimiter != '\t') || c == '\v' || c == '\f';
}

/* The quote that closes a field opened before `p`, behind which only blanks, a delimiter or the end may stand; NULL if none does. */
static const char *
closing_quote (const char *p, const char *end, char delimiter, gboolean *doubled)
{
  *doubled = FALSE;
  for (; (p = p < end ? memchr (p, '"', (gsize) (end - p)) : NULL); p++) {
    if (p + 1 < end && p[1] == '"') {
      *doubled = TRUE;
      p++;
      continue;
    }
    const char *behind = p + 1;
    while (behind < end && is_blank (*behind, delimiter))
      behind++;
    return behind == end || *behind == delimiter || (delimiter == ' ' && behind > p + 1) ? p : NULL;
  }
  return NULL;
}

static void
undouble (SpTextFields *fields, SpTextField *field)
{
  g_autoptr (GString) text = g_string_new_len (field->start, field->end - field->start);
  g_string_replace (text, "\"\"", "\"", 0);
  field->start = g_string_chunk_insert_len (fields->copies, text->str, (gssize) text->len);
  field->end = field->start + text->len;
}

/* One field from p; returns what stands behind it: its delimiter or the end. */
static const char *
take (SpTextFields *fields, const char *p, const char *end, char delimiter)
{
  SpTextField field = { .start = p, .at = p };
  gboolean doubled;
  const char *close = p < end && *p == '"' ? closing_quote (p + 1, end, delimiter, &doubled) : NULL;

  if (close) {
    field = (SpTextField){ .start = p + 1, .end = close, .at = p, .quoted = TRUE };
    if (doubled)
      undouble (fields, &field);
    for (p = close + 1; p < end && is_blank (*p, delimiter); p++)
      ;
  } else {
    while (p < end && !(delimiter == ' ' ? is_blank (*p, ' ') : delimiter && *p == delimiter))
      p++;
    for (field.end = p; field.end > field.start && is_blank (field.end[-1], delimiter);)
      field.end--;
  }
  g_array_append_val (fields->items, field);
  return p;
}

guint
sp_fields_split (SpTextFields *fields, const SpTextLine *line, char delimiter)
{
  const char *p = line->start, *end = line->end;

  g_array_set_size (fields->items, 0);
  while (TRUE) {
    while (p < end && is_blank (*p, delimiter))
      p++;
    if (delimiter == ' ' && p == end)
      break;
    p = take (fields, p, end, delimiter);
    if (p >= end || fields->items->len > SP_LIMIT_COLUMNS)
      break;
    if (delimiter != ' ')
      p++;
  }
  return fields->items->len;
}

char *
sp_field_text (const SpTextField *field)
{
  return g_strndup (field->start, (gsize) (field->end - field->start));
}
