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

/* The fields of a row: null where one is not known, or as it is. */
static void
write_values (JsonBuilder *builder, const SpReason *reason)
{
  for (const SpReasonField *f = sp_reason_fields (reason->code); f->name; f++) {
    double number = sp_reason_field_kept (f->kind) == SP_KEPT_NUMBER ? sp_reason_number (reason, f) : NAN;
    if (f->kind == SP_REASON_FIELD_YES)
      json_yes (builder, f->name, sp_reason_word (reason, f));
    else if (f->kind == SP_REASON_FIELD_COUNT && isfinite (number))
      json_count (builder, f->name, (gint64) number);
    else if (sp_reason_field_kept (f->kind) == SP_KEPT_NUMBER)
      json_number (builder, f->name, number);
    else
      json_text (builder, f->name,
                 sp_reason_field_kept (f->kind) == SP_KEPT_TEXT ? sp_reason_text (reason, f) : sp_words_field_word (reason, f));
  }
}

void
json_reason_said (JsonBuilder *builder, const char *key, const SpReason *reason, const char *sentence)
{
  g_autofree char *code = g_strconcat (key, "_code", NULL), *values = g_strconcat (key, "_values", NULL);
  json_text (builder, code, reason ? sp_reason_name (reason->code) : NULL);
  json_text (builder, key, sentence);
  if (!reason) {
    json_text (builder, values, NULL);
    return;
  }
  json_object (builder, values);
  write_values (builder, reason);
  json_builder_end_object (builder);
}

void
json_reason (JsonBuilder *builder, const char *key, const SpReason *reason)
{
  g_autofree char *sentence = reason ? sp_words_reason (reason, SP_HAND_MACHINE) : NULL;
  json_reason_said (builder, key, reason, sentence);
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
    json_object (builder, "values");
    write_values (builder, reason);
    json_builder_end_object (builder);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
}
