/* list.h - the evening's list: radios, their owners and planned conditions, as a table that is there before anything is swept
 *
 * A line each radio or condition, its fields divided by tab, semicolon or comma (the first of these that the first line has), quoted as RFC 4180 has it;
 * a decimal comma where commas do not divide. A first line of known words is the heading, and may name units, "rated power (mW)": radio, serial, owner,
 * note, conditions (several, divided by comma or semicolon), rated power, frequency, mode, bandwidth, mask, or a key of a radio or a condition by its own name.
 * Without one: radio, serial, owner, rated power, conditions. Lines with # and blank ones are passed over. What a condition is called tells its power,
 * frequency and mode where the line does not. At most 1000 lines.
 */
#pragma once

#include "core/bench/bench.h"

/* A line that was understood, or what is wrong with it. */
typedef struct {
  guint64 line;
  char *wrong; /* "LIST:LINE:COLUMN: what", the rest is empty then; NULL */
  char *radio;
  GPtrArray *conditions; /* of char *; none: the radio alone */
  GPtrArray *values;     /* of SpListValue, as the sheet spells them */
} SpListRow;

typedef struct {
  const char *key;
  char *value;
  gboolean of_radio;
} SpListValue;

typedef struct {
  GPtrArray *rows; /* of SpListRow */
  guint n_radios, n_wrong;
} SpList;

/* `name` is the file's name in messages. `planned`: conditions, divided by comma or semicolon, of every radio whose lines name none; NULL, "": none. What
 * is no table at all is one wrong row. (transfer full) */
SpList *sp_list_parse (GBytes *bytes, const char *name, const char *planned);
/* The table of a file as text, for people to look over. NULL and an error: none, or more than 1 MiB. (transfer full) */
char *sp_list_text (GBytes *bytes, const char *name, GError **error);
void sp_list_free (SpList *list);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpList, sp_list_free)

/* The bench with all of them, by one edit: radios and conditions are found by name, whatever its case, blanks and signs, and made where they are missing; a
 * radio's only condition without name and sweeps takes the first name. What a line says is set, what it leaves empty stays. Wrong rows: the first one's
 * message, and nothing is taken. (transfer full) */
SpBench *sp_bench_with_list (const SpBench *bench, const SpList *list, GError **error);

/* The bench with the radios of an earlier one, where it has none of that name: their conditions and all that is said of both, without sweeps, and without
 * what belongs to these: readings of a power meter, pinned words, chain and analyzer. (transfer full) */
SpBench *sp_bench_with_radios_of (const SpBench *bench, const SpBench *earlier, GError **error);
