/* pdf.c - whether a PDF of cairo's is whole */
#include "ui/figure/pdf.h"

#include <string.h>

#define END "endobj\n"
#define TAIL 64u /* the table's place stands in it: `startxref`, at most 20 digits, `%%EOF` */

typedef struct {
  const char *data;
  gsize size, at;
} Place;

static gboolean
skip (Place *place, const char *text)
{
  gsize length = strlen (text);
  if (place->at > place->size || place->size - place->at < length || memcmp (place->data + place->at, text, length) != 0)
    return FALSE;
  place->at += length;
  return TRUE;
}

static gboolean
number (Place *place, gsize *value)
{
  gsize begin = place->at;
  for (*value = 0; place->at < place->size && place->at - begin < 10 && g_ascii_isdigit (place->data[place->at]); place->at++)
    *value = *value * 10 + (gsize) (place->data[place->at] - '0');
  return place->at > begin;
}

static gboolean
is_after_end (const char *data, gsize size, gsize at)
{
  return at >= strlen (END) && skip (&(Place){ data, size, at - strlen (END) }, END);
}

/* The first object follows the header, which is a line of text and a comment. */
static gboolean
is_object (const char *data, gsize size, gsize wanted, gsize at)
{
  Place place = { data, size, at };
  gsize found;
  if (!number (&place, &found) || found != wanted || !skip (&place, " 0 obj\n"))
    return FALSE;
  return is_after_end (data, size, at) || !memmem (data, at, "obj", 3);
}

static gboolean
is_table_whole (Place place)
{
  gsize n, at;
  if (!number (&place, &n) || !skip (&place, "\n0000000000 65535 f \n"))
    return FALSE;
  for (gsize i = 1; i < n; i++)
    if (!number (&place, &at) || !skip (&place, " 00000 n \n") || !is_object (place.data, place.size, i, at))
      return FALSE;
  /* cairo writes a reference to 0 for an object that it could not make */
  return skip (&place, "trailer\n") && !memmem (place.data + place.at, place.size - place.at, " 0 0 R", 6);
}

gboolean
sp_pdf_is_whole (const char *data, gsize size)
{
  Place place = { data, size, size > TAIL ? size - TAIL : 0 };
  gsize table, id;
  while (place.at < size && !skip (&place, "startxref\n"))
    place.at++;
  if (!number (&place, &table) || !skip (&place, "\n%%EOF\n") || place.at != size || !is_after_end (data, size, table))
    return FALSE;
  place.at = table;
  if (skip (&place, "xref\n0 "))
    return is_table_whole (place);
  return number (&place, &id) && skip (&place, " 0 obj\n");
}
