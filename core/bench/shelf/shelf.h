/* shelf.h - what is kept for the next bench: a folder of plain .chain files with one stage each, a run or two-port that one names beside it, and of
 * .analyzer files
 *
 * Files are written whole or not at all. One that is replaced or taken away stays as NAME~ beside, until the next of its name. What stands in the
 * folder may be anybody's: at most 1000 files are looked at, what they name must lie in the folder itself.
 */
#pragma once

#include "core/analyzer/analyzer.h"
#include "core/chain/chain.h"

#define SP_SHELF_MOST 1000 /* bounds time */

typedef enum { SP_SHELF_STAGES, SP_SHELF_ANALYZERS } SpShelfKind;

typedef struct {
  char *name; /* the stage's or the analyzer's; the file's where it cannot be read */
  char *path;
  SpChain *chain;       /* of that one stage, with the calibration it was put away with; else NULL */
  SpAnalyzer *analyzer; /* else NULL */
  GError *error;        /* why it is neither */
} SpShelfItem;

/* What of that kind is on the shelf, by name; a folder that is not there is an empty shelf. NULL and an error where it cannot be read. (transfer full),
 * of SpShelfItem* */
GPtrArray *sp_shelf_read (const char *folder, SpShelfKind kind, GError **error);
/* Is there one of that name, readable or not? */
gboolean sp_shelf_has (const char *folder, SpShelfKind kind, const char *name);
/* A stage of a chain put on the shelf under `name`; makes the folder. replace FALSE: an error where there is one of that name. */
gboolean sp_shelf_put (const char *folder, const SpChain *chain, guint stage, const char *name, gboolean replace, GError **error);
/* An analyzer likewise, whose name on the shelf is its own from then on. */
gboolean sp_shelf_put_analyzer (const char *folder, const SpAnalyzer *analyzer, const char *name, gboolean replace, GError **error);
/* Taken off the shelf; sp_shelf_put_back() with its path undoes the last of that name, unless there is another of it by now. */
gboolean sp_shelf_remove (const char *folder, const SpShelfItem *item, GError **error);
gboolean sp_shelf_put_back (const char *path, GError **error);
