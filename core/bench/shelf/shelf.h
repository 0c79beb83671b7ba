/* shelf.h - stages kept for the next bench: a folder of plain .chain files with one stage each; a run or two-port that one names lies beside it
 *
 * Files are written whole or not at all. One that is replaced or taken away stays as NAME.chain~ beside, until the next of its name. What stands in the
 * folder may be anybody's: at most 1000 files are looked at, what they name must lie in the folder itself.
 */
#pragma once

#include "core/chain/chain.h"

#define SP_SHELF_MOST 1000 /* bounds time */

typedef struct {
  char *name; /* the stage's; the file's where it cannot be read */
  char *path;
  SpChain *chain; /* of that one stage, with the calibration it was put away with; NULL: see error */
  GError *error;
} SpShelfItem;

/* What is on the shelf, by name; a folder that is not there is an empty shelf. NULL and an error where it cannot be read. (transfer full), of SpShelfItem* */
GPtrArray *sp_shelf_read (const char *folder, GError **error);
/* Is there one of that name, readable or not? */
gboolean sp_shelf_has (const char *folder, const char *name);
/* A stage of a chain put on the shelf under `name`; makes the folder. replace FALSE: an error where there is one of that name. */
gboolean sp_shelf_put (const char *folder, const SpChain *chain, guint stage, const char *name, gboolean replace, GError **error);
/* Taken off the shelf; sp_shelf_put_back() with its path undoes the last of that name, unless there is another of it by now. */
gboolean sp_shelf_remove (const char *folder, const SpShelfItem *item, GError **error);
gboolean sp_shelf_put_back (const char *path, GError **error);
