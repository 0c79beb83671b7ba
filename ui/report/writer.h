/* writer.h - private to ui/report: writes members of a JSON object */
#pragma once

#include "core/quantity/reason.h"

#include <json-glib/json-glib.h>

/* A builder inside its first object, with "schema" written. (transfer full) */
JsonBuilder *json_begin (void);
/* Ends the object; returns the text with a final newline. Takes `builder`. (transfer full) */
char *json_end (JsonBuilder *builder);

/* NaN, an infinity and a NULL text become null. */
void json_number (JsonBuilder *builder, const char *key, double value);
void json_count (JsonBuilder *builder, const char *key, gint64 value);
/* "order": null for 0, no harmonic. */
void json_order (JsonBuilder *builder, guint order);
/* Writes invalid UTF-8 bytes as %XX (core/quantity/clean.h); in an array too. */
void json_text (JsonBuilder *builder, const char *key, const char *value);
void json_word (JsonBuilder *builder, const char *value);
void json_yes (JsonBuilder *builder, const char *key, gboolean value);
void json_array (JsonBuilder *builder, const char *key);
void json_object (JsonBuilder *builder, const char *key);
/* "KEY_code", its sentence as "KEY", and its fields by name as "KEY_values"; null without a reason. `said`: in another sentence than its own. */
void json_reason_said (JsonBuilder *builder, const char *key, const SpReason *reason, const char *sentence);
void json_reason (JsonBuilder *builder, const char *key, const SpReason *reason);
/* An array of {"code","text","values"}; `reasons` may be NULL. */
void json_warnings (JsonBuilder *builder, const char *key, GPtrArray *reasons);
