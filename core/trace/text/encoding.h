/* encoding.h - bytes -> text: which encoding a file has, and its text as UTF-8 */
#pragma once

#include "core/trace/text/lines.h"

typedef struct {
  GBytes *bytes;     /* what start points into: the raw bytes themselves where they are UTF-8 already */
  const char *start; /* behind a byte order mark; not NUL-terminated */
  gsize length;
  guint64 lines_before; /* in the file in front of start, where this is a part of it */
  const char *encoding; /* "UTF-8", "UTF-16LE", "UTF-16BE", "ISO-8859-1", "Shift_JIS", "EUC-JP" */
} SpText;

/* UTF-8 with or without a byte order mark, UTF-16 with one; else Shift_JIS or EUC-JP, where all bytes are valid in it and Japanese words of
 * a sweep (for frequency, level, bandwidth ...) appear then; else ISO-8859-1 (its 0x80-0x9f as in windows-1252). Control
 * characters other than tab and line ends say that this is no text: an error with line and column. (clear with sp_text_clear) */
gboolean sp_text_decode (GBytes *raw, const char *file, SpText *text, GError **error);
/* A text's lines, by their numbers in the file. */
void sp_text_lines (const SpText *text, SpTextLines *lines);
void sp_text_clear (SpText *text);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SpText, sp_text_clear)
