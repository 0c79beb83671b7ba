/* sheet-private.h - what the reader and the writer of sheets share */
#pragma once

#include "core/bench/build.h"
#include "core/bench/sheet/sheet.h"
#include "core/bench/sheet/write.h"

#define SP_SHEET_GROUPS_MAX 3000 /* radios, conditions, and what is not ours; bounds time */

/* A sheet being read. Every resource is read once, however often it is named. */
typedef struct {
  SpKeyFile *file;
  SpBench *bench;
  const SpResources *resources;         /* NULL: files */
  GHashTable *known[SP_RESOURCE_KINDS]; /* name (and options) -> resource */
} SpSheet;

/* The resource that a key names; NULL with *good TRUE where the key is absent. (transfer full) */
gpointer sp_sheet_resource (SpSheet *sheet, SpGroup *group, const char *name, SpResourceKind kind, gboolean *good, GError **error);
/* By its decoded name; never a trace. (transfer full); NULL and an error without a place. */
gpointer sp_sheet_named (SpSheet *sheet, SpResourceKind kind, const char *name, GError **error);
/* A trace by `FILE?options`, `offset` characters into the key's value. (transfer full) */
SpTrace *sp_sheet_trace (SpSheet *sheet, SpGroup *group, const SpKey *key, guint offset, const char *reference, GError **error);
/* What a trace is known by in `known`: its decoded name, and its options as `reference` writes them. (transfer full) */
char *sp_sheet_trace_id (const char *name, const char *reference);
/* Fills `known` with the sweeps that can be read, on all processors. */
void sp_sheet_read_ahead (SpSheet *sheet);

/* Readers of keys (sp_keys_read) that name files; their context is the SpSheet, their format an SpResourceKind. */
gboolean sp_sheet_read_resource (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);
gboolean sp_sheet_read_unkeyed (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);
gboolean sp_sheet_read_sweeps (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);

/* A sheet, or what its hash is made of, being written. Resources stand by their name, or by their own hash. */
typedef struct {
  GString *text;
  const SpBench *bench;
  gboolean hashed;
  gboolean apart; /* each condition has its own group, even where its radio's could hold its keys */
  SpResourceName name;
  gpointer data;
} SpSheetWriter;

/* Writers of such keys; the context is the SpSheetWriter. */
void sp_sheet_write_resource (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context);
void sp_sheet_write_unkeyed (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context);
void sp_sheet_write_sweeps (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context);

/* fields.c: likewise "field.NAME" of a radio or a condition. In a radio's own group they are the radio's. */
gboolean sp_sheet_read_fields (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);
void sp_sheet_write_fields (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context);

/* pictures.c: likewise the pictures of the bench or of a radio. */
gboolean sp_sheet_read_pictures (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);
void sp_sheet_write_pictures (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context);

/* sheet-warn.c: keys that nobody asked for, and what its keys say against each other, into the sheet's own warnings. */
void sp_sheet_warn (SpSheet *sheet);
