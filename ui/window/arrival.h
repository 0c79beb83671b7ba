/* arrival.h - one level column of one file on its way into the bench: its bytes, what was understood, what is said against it, where it goes
 */
#pragma once

#include <gtk/gtk.h>

#include "core/bench/propose.h"

#define SP_TYPE_ARRIVAL_ITEM (sp_arrival_item_get_type ())
G_DECLARE_FINAL_TYPE (SpArrivalItem, sp_arrival_item, SP, ARRIVAL_ITEM, GObject)

struct _SpArrivalItem {
  GObject parent_instance;
  char *name;       /* the file's own, for people */
  GBytes *bytes;    /* NULL: the file could not be read at all */
  char *options;    /* "rbw=10kHz&column=2", "" for none */
  SpTrace *trace;   /* NULL: not understood */
  char *error;      /* why; NULL */
  char *option_error; /* what is wrong with the last correction; NULL */
  SpProposal to;
  gboolean take, known; /* known: the bench has these bytes already */
  gboolean reading;
};

/* Signal "changed": any of the fields. */
void sp_arrival_item_changed (SpArrivalItem *item);

/* Reads files off the main thread, each into one item a level column (or one with its error); folders give their files. `done` is called on the main thread
 * once for each file as it comes, with a GPtrArray of SpArrivalItem (transfer full); `finished` once, also when cancelled. */
typedef struct SpArrivalReader SpArrivalReader;
void sp_arrivals_read (GListModel *files, GCancellable *cancellable, void (*done) (GPtrArray *items, guint of, gpointer data), void (*finished) (gpointer data),
                       gpointer data);

/* Reads an item's bytes again with other options, off the main thread; on error the old reading stands and option_error says why. */
void sp_arrival_item_reread (SpArrivalItem *item, const char *options);
