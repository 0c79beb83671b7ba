/* fields.h - line -> fields, as RFC 4180 has them, and what the wild adds: other delimiters, runs of blanks, blanks round a field */
#pragma once

#include "core/trace/text/lines.h"

typedef struct {
  const char *start, *end; /* without blanks round it and without its quotes; into the line, or into `copies` of SpTextFields */
  const char *at;          /* where it begins in the line, for messages */
  gboolean quoted;
} SpTextField;

typedef struct {
  GArray *items;        /* of SpTextField */
  GStringChunk *copies; /* quoted fields that hold doubled quotes */
} SpTextFields;

void sp_fields_init (SpTextFields *fields);
void sp_fields_clear (SpTextFields *fields);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SpTextFields, sp_fields_clear)

/* `delimiter`: , ; tab, ' ' for runs of blanks and tabs (those at the line's ends do not count), 0 for one field. At most
 * SP_LIMIT_COLUMNS + 1 fields are taken: more means that the line is no row. Replaces what `fields` held. Returns how many. */
guint sp_fields_split (SpTextFields *fields, const SpTextLine *line, char delimiter);
static inline const SpTextField *
sp_fields_get (const SpTextFields *fields, guint i)
{
  return &g_array_index (fields->items, SpTextField, i);
}
/* (transfer full) */
char *sp_field_text (const SpTextField *field);
