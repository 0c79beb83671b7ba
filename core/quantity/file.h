/* file.h - reads the files of strangers, and writes results
 *
 * Every sheet, chain, profile, mask, run and export is read here, whoever named it. What else opens files, with a care of its own (tests/house/files.py
 * holds the list): core/book its database, journal and copies, by SQLite and under a lock; core/book/pack.c files that must not be there yet;
 * ui/report/workbook the spreadsheet library's temporary files; app/output.c pipes and the files that `-o` names; ui/window/session the preferences and
 * drafts in the user's own folder. Figures and PDFs are drawn into memory.
 *
 * A name may have been put into a sheet or a chain by a stranger. Nothing but a regular file is read: a fifo would hang, a device never ends,
 * and what the system shows as files (/proc) has no length. Looking and opening are one: what was looked at is what is read.
 * A path stands in messages as the caller gave it, never as the name of a temporary file.
 * A file that grew or shrank while it was read is refused: its last line may be half of one. /proc is known by its file system, because its
 * files say that they are empty. A new file is made without a name (O_TMPFILE) and linked in, so a kill leaves nothing but between link and
 * rename. A folder whose sync fails is told, because a power cut may bring the old file back; EINVAL, ENOTSUP and EACCES are not.
 */
#pragma once

#include <glib.h>

/* A descriptor to read from, and in *length how many bytes stood there when it was opened. -1 and SP_ERROR_IO where it is no regular file or
 * cannot be opened, SP_ERROR_LIMIT where it holds more than `limit`. `pipe`: the user himself put the name on the command line, so a pipe will
 * do as well; *length is then G_MAXSIZE. */
int sp_file_open (const char *path, gboolean pipe, gsize limit, gsize *length, GError **error);

/* Is nothing there by that name? Any other reason why it cannot be had, such as links in a circle, is told by who opens it. */
gboolean sp_file_is_missing (const char *path);

/* Was the file that stands at `path`, by whatever name, opened by sp_file_open() in this program? Nobody's result belongs there. */
gboolean sp_file_was_read (const char *path);

/* SP_ERROR_IO and FALSE where the file behind `descriptor` is no longer `length` long: what was read is half a file. */
gboolean sp_file_is_still (int descriptor, const char *path, gsize length, GError **error);

/* The bytes of `path`, at most `limit` of them, with a NUL behind that does not count. NULL and an error as of sp_file_open(). (transfer full) */
char *sp_file_read (const char *path, gsize limit, gsize *length, GError **error);

/* Writes `bytes` beside `path`, to the disk, and renames: what stood there is whole until the new is, whatever fails, and nothing is left
 * behind. A link stays, and what it points at is replaced, or made. Permissions stay. FALSE and SP_ERROR_IO with the cause, also where `path`
 * is there and no regular file, or its links go in a circle. */
gboolean sp_file_write (const char *path, gconstpointer bytes, gsize length, GError **error);
