/* writer.c - members of a JSON object under construction */
#include "ui/report/writer.h"

#include "core/quantity/clean.h"
#include "ui/words/words.h"

#include <math.h>

JsonBuilder *
json_begin (void)
{
  JsonBuilder *builder = json_builder_new_immutable ();
  json_builder_begin_object (builder);
  json_count (builder, "schema", 1);
  return builder;
}

/* What steers a terminal as \uXXXX; it stands in texts only. Twice that beyond the first plane, where all of it are noncharacters. */
static char *
escaped (const char *json)
{
  GString *out = g_string_new (NULL);
  for (const char *c = json, *next; *c; c = next) {
    gunichar character = g_utf8_get_char (c);
    next = g_utf8_next_char (c);
    if (character == '\n' || sp_character_shows (character))
      g_string_append_len (out, c, next - c);
    else if (character < 0x10000)
      g_string_append_printf (out, "\\u%04x", character);
    else
      g_string_append_printf (out, "\\u%04x\\u%04x", 0xd7c0 + (character >> 10), 0xdc00 + (character & 0x3ff));
  }
  g_string_append_c (out, '\n');
  return g_string_free (out, FALSE);
}

char *
json_end (JsonBuilder *builder)
{
  json_builder_end_object (builder);
  g_autoptr (JsonNode) node = json_builder_get_root (builder);
  g_object_unref (builder);
  g_autofree char *text = json_to_string (node, TRUE);
  return escaped (text);
}

void
json_number (JsonBuilder *builder, const char *key, double value)
{
  json_builder_set_member_name (builder, key);
  if (isfinite (value))
    json_builder_add_double_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

void
json_count (JsonBuilder *builder, const char *key, gint64 value)
{
  json_builder_set_member_name (builder, key);
  json_builder_add_int_value (builder, value);
}

void
json_order (JsonBuilder *builder, guint order)
{
  json_builder_set_member_name (builder, "order");
  if (order)
    json_builder_add_int_value (builder, order);
  else
    json_builder_add_null_value (builder);
}

void
json_text (JsonBuilder *builder, const char *key, const char *value)
{
  json_builder_set_member_name (builder, key);
  if (value)
    json_word (builder, value);
  else
    json_builder_add_null_value (builder);
}

void
json_word (JsonBuilder *builder, const char *value)
{
  g_autofree char *valid = sp_utf8 (value);
  json_builder_add_string_value (builder, valid);
}

void
json_yes (JsonBuilder *builder, const char *key, gboolean value)
{
  json_builder_set_member_name (builder, key);
  json_builder_add_boolean_value (builder, value);
}

void
json_array (JsonBuilder *builder, const char *key)
{
  json_builder_set_member_name (builder, key);
  json_builder_begin_array (builder);
}

void
json_object (JsonBuilder *builder, const char *key)
{
  json_builder_set_member_name (builder, key);
  json_builder_begin_object (builder);
}

void
json_warnings (JsonBuilder *builder, const char *key, GPtrArray *reasons)
{
  json_array (builder, key);
  for (guint i = 0; reasons && i < reasons->len; i++) {
    const SpReason *reason = g_ptr_array_index (reasons, i);
    g_autofree char *text = sp_words_reason (reason, SP_HAND_MACHINE);
    json_builder_begin_object (builder);
    json_text (builder, "code", sp_reason_name (reason->code));
    json_text (builder, "text", text);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
}
