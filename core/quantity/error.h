/* error.h - how a reader says what is wrong with its input
 *
 * Every failing reader reports FILE:LINE:COLUMN, what stands there, what was expected and what to do. The first error wins.
 * A message is one line of valid UTF-8 in which nothing steers a terminal (core/quantity/clean.h): names go into it as they are.
 */
#pragma once

#include <glib.h>

#define SP_ERROR (sp_error_quark ())

typedef enum {
  SP_ERROR_INPUT, /* a file or a value that cannot be understood: the message begins with its place */
  SP_ERROR_USAGE, /* a call that makes no sense as it stands (command line, missing part) */
  SP_ERROR_LIMIT, /* larger than what is accepted (see core/trace/limits.h) */
  SP_ERROR_IO     /* the system refused to read or write */
} SpErrorCode;

GQuark sp_error_quark (void);

/* Sets `error` (may be NULL) to SP_ERROR_INPUT with the message "FILE:LINE:COLUMN: TEXT".
 * line and column count from 1, columns in characters; 0 leaves that part out. Always returns FALSE, so that a reader can
 * `return sp_fail_at (...)`. */
gboolean sp_fail_at (GError **error, const char *file, guint line, guint column, const char *format, ...) G_GNUC_PRINTF (5, 6);

/* The same without a place; `code` as given. Always FALSE. */
gboolean sp_fail (GError **error, SpErrorCode code, const char *format, ...) G_GNUC_PRINTF (3, 4);
