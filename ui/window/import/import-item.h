/* import-item.h - one level column of one file on its way into the bench: its bytes, what was understood, what is said against it,
 * where it goes
 */
#pragma once

#include <gio/gio.h>

#include "core/bench/proposals/propose.h"
#include "core/trace/read/understood.h"

#define SP_ARRIVALS_MOST 1000                     /* files at once, those of folders counted in */
#define SP_ARRIVALS_BYTES_MOST ((gint64) 2 << 30) /* all their bytes stay in memory: two files of the greatest size */

#define SP_TYPE_ARRIVAL_ITEM (sp_arrival_item_get_type ())
G_DECLARE_FINAL_TYPE (SpArrivalItem, sp_arrival_item, SP, ARRIVAL_ITEM, GObject)

struct _SpArrivalItem {
  GObject parent_instance;
  guint order;                    /* of its file among all, and */
  guint column;                   /* of itself in the file */
  gboolean one_of_many;           /* the file has several level columns */
  char *name;                     /* the file's own, for people */
  char *place;                    /* with its folders, which may tell whose it is; NULL: not read */
  GBytes *bytes;                  /* NULL: the file could not be read at all */
  double stated_day, written_day; /* Julian days: that the export states, on which its file was last written (local time); NaN */
  char *options;                  /* "rbw=10000&column=2", canonical; "" for none */
  SpTrace *trace;                 /* NULL: not understood */
  char *shows;                    /* the sweep in words (preview.h); NULL: not understood */
  SpUnderstood *look;             /* NULL: no bytes */
  char *error;                    /* why it is not understood; NULL */
  char *wrong_key, *wrong;        /* the last correction, where it was refused; NULL */
  SpProposal to;
  gboolean take, purpose_said, target_said; /* said: by hand, so that a pattern changes it no more */
  GPtrArray *meanings;                      /* of SpProposal: what its name may mean, as it is taken first; NULL: not asked */
  char *known;                              /* where these bytes are already; NULL */
  gboolean reading;
  char *wanted;    /* options to be read with, the newest; NULL */
  GPtrArray *more; /* of SpArrivalItem: further columns that came of a correction, for who hears "changed" to take; NULL */
};

/* Signal "changed": any of the fields. */
void sp_arrival_item_changed (SpArrivalItem *item);
/* "vaskerry.csv", or with its column behind it. (transfer full) */
char *sp_arrival_item_title (const SpArrivalItem *item);

/* Reads files off the main thread, two at a time, each into one item a level column, or one with its error; folders give their files,
 * not those of folders in them. `done` is called on the main thread for each file as it comes, with its items (transfer full);
 * `finished` once, also when cancelled, with how many files there were beyond SP_ARRIVALS_MOST. Nothing else calls `done` after
 * `cancellable` was cancelled. */
typedef struct {
  void (*done) (GPtrArray *items, guint of, gpointer data);
  void (*finished) (guint left_out, gpointer data);
} SpArrivalsHeard;
void sp_arrivals_read (GListModel *files, GCancellable *cancellable, const SpArrivalsHeard *heard, gpointer data);

/* What an option says now, also one that is being read with. (transfer full); NULL: nothing */
char *sp_arrival_item_get (const SpArrivalItem *item, const char *key);
/* Reads an item's bytes again, off the main thread, with one option said otherwise ("" takes it out). FALSE and an error: no value for
 * it, nothing is read. A reading that fails leaves the old one, and wrong says why; where there is none, the option stays, for another
 * may be missing too. */
gboolean sp_arrival_item_set (SpArrivalItem *item, const char *key, const char *value, GError **error);
