/* writer.h - our own text files, written back: what keyfile.h reads to the same values
 *
 * Canonical: one key a line in a fixed order, frequencies in bare Hz, all the digits that a number needs, no comments.
 * Unused keys (that nobody asked for when the file was read) are kept under their group.
 */
#pragma once

#include "core/quantity/keyfile.h"

void sp_write_group (GString *text, const char *name);
/* NULL is left out. A value in which a `#` would begin a comment, or with blanks at an end, is put into double quotes. */
void sp_write_text (GString *text, const char *key, const char *value);
/* NaN is left out. */
void sp_write_number (GString *text, const char *key, double number);
void sp_write_yes_no (GString *text, const char *key, gboolean yes);
/* A Julian day as "2026-09-12"; NaN is left out. */
void sp_write_day (GString *text, const char *key, double julian_day);

/* The keys of one group that nobody asked for; the groups that nobody asked for, whole. */
void sp_write_unused_keys (GString *text, const SpGroup *group);
void sp_write_unused_groups (GString *text, SpKeyFile *file);
