/* clean.h - text of strangers on its way out: into a message, a terminal, a drawing, a spreadsheet, JSON
 *
 * Names come from files and from the file system. Here is the one place that says what of them may be shown: valid UTF-8 in which no
 * character steers a terminal, moves other text about, or is none at all.
 * Names are cleaned where they go out, never where they are read: edits find groups by them. %XX is not told from a name that holds those
 * three letters. Of a file that is none of ours a message quotes eight characters (sp_excerpt_foreign), because a sheet may name any file
 * of the user's.
 */
#pragma once

#include <glib.h>

/* FALSE for control characters (C0, DEL, C1), separators of lines and paragraphs, those that turn the direction of the text around them
 * (U+202A to U+202E, U+2066 to U+2069), and noncharacters such as U+FFFE. */
gboolean sp_character_shows (gunichar character);

/* One line: what does not show is a blank, a noncharacter U+FFFD, and a byte that is no UTF-8 stands as %XX, as it can be given in the name of
 * a file. NULL gives NULL. (transfer full) */
char *sp_clean (const char *text);
/* The same with its line ends. (transfer full) */
char *sp_clean_lines (const char *text);
/* Only what is no UTF-8 is written as %XX; all else stays. NULL gives NULL. (transfer full) */
char *sp_utf8 (const char *text);
