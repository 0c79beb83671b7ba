/* startup.c - what a start does while the display is opened */
#include "ui/window/session/startup.h"
#include "core/bench/sheet/sheet.h"
#include "core/judge/judge.h"

#include <gio/gio.h>
#include <pango/pangocairo.h>
#include <string.h>

/* The window asks for GTK's cairo renderer and no GL context: cairo draws all of the sheet, and opening GL takes half of a bare window's
 * first frame. GSK_RENDERER in the environment still decides. Two threads read and judge the book and load the type meanwhile; the first
 * frame waits 60 ms at most for findings. */

static struct {
  GMutex lock;
  GCond done;
  char *path; /* NULL: not begun, or the book was taken */
  gboolean read, judged;
  SpBook *book;
  char *held; /* the book is a copy: who has it open */
  GError *error;
  const SpBench *bench; /* until its findings are taken */
  SpFindings *findings;
  GThread *type; /* gives a PangoFontMap */
  char *family;  /* set by it */
} early;

SpBook *
sp_early_read (const char *path, char **held, GError **error)
{
  g_autoptr (GError) why = NULL;
  *held = NULL;
  if (g_str_has_suffix (path, ".sheet")) {
    g_autoptr (SpBench) bench = sp_bench_read (path, error);
    return bench ? sp_book_new (bench) : NULL;
  }
  SpBook *book = sp_book_open (path, &why);
  if (!book && g_error_matches (why, SP_BOOK_ERROR, SP_BOOK_ERROR_LOCKED) && (book = sp_book_look (path, NULL)))
    *held = g_strdup (why->message);
  else if (!book)
    g_propagate_error (error, g_steal_pointer (&why));
  return book;
}

static gpointer
read_and_judge (gpointer path)
{
  GError *error = NULL;
  char *held;
  SpBook *book = sp_early_read (path, &held, &error);
  g_autoptr (SpBench) bench = book ? sp_bench_ref (sp_book_bench (book)) : NULL;
  g_mutex_lock (&early.lock);
  early.book = book;
  early.held = held;
  early.error = error;
  early.bench = bench;
  early.read = TRUE;
  g_cond_broadcast (&early.done);
  g_mutex_unlock (&early.lock);
  SpFindings *findings = bench ? sp_judge (bench) : NULL;
  g_mutex_lock (&early.lock);
  early.findings = findings;
  early.judged = TRUE;
  g_cond_broadcast (&early.done);
  g_mutex_unlock (&early.lock);
  g_free (path);
  return NULL;
}

/* The family that the user has chosen for the desktop's interface, where the desktop tells a choice from its own default; else NULL. */
static char *
chosen_family (void)
{
  GSettingsSchemaSource *source = g_settings_schema_source_get_default ();
  g_autoptr (GSettingsSchema) schema = source ? g_settings_schema_source_lookup (source, "org.gnome.desktop.interface", TRUE) : NULL;
  if (!schema || !g_settings_schema_has_key (schema, "font-name"))
    return NULL;
  g_autoptr (GSettings) settings = g_settings_new_full (schema, NULL, NULL);
  g_autoptr (GVariant) chosen = g_settings_get_user_value (settings, "font-name");
  if (!chosen)
    return NULL;
  PangoFontDescription *font = pango_font_description_from_string (g_variant_get_string (chosen, NULL));
  char *family = g_strdup (pango_font_description_get_family (font));
  pango_font_description_free (font);
  if (family && strpbrk (family, "\"\\\n"))
    g_clear_pointer (&family, g_free);
  return family;
}

/* The fonts that the sheet is written in are found among all that are installed, opened and prepared for shaping; a font map keeps all that, and may be
 * used by one thread after the other. */
static gpointer
load_type (gpointer data)
{
  static const char *const styles[] = { "10", "Semi-Bold 10" };
  (void) data;
  early.family = chosen_family ();
  PangoFontMap *map = pango_cairo_font_map_new ();
  PangoContext *context = pango_font_map_create_context (map);
  g_autoptr (PangoLayout) layout = pango_layout_new (context);
  g_autoptr (PangoAttrList) attributes = pango_attr_list_new ();
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attributes);
  pango_layout_set_text (layout, "Spectrum, \xc2\xb1 0.123456789 dBm \xc2\xb7 \xe2\x88\x92\xe2\x80\xa6", -1);
  for (guint i = 0; i < G_N_ELEMENTS (styles); i++) {
    g_autofree char *name = g_strdup_printf ("%s, sans-serif %s", early.family ? early.family : "Inter", styles[i]);
    PangoFontDescription *font = pango_font_description_from_string (name);
    int width;
    pango_layout_set_font_description (layout, font);
    pango_layout_get_size (layout, &width, NULL);
    pango_font_description_free (font);
  }
  g_object_unref (context);
  return map;
}

/* The sheet is drawn by cairo, so a GL context would only copy finished pictures, and opening one takes half of a bare window's start. Who sets
 * GSK_RENDERER gets what it says. */
static void
choose_renderer (void)
{
  g_setenv ("GSK_RENDERER", "cairo", FALSE);
  if (g_strcmp0 (g_getenv ("GSK_RENDERER"), "cairo") == 0)
    g_setenv ("GDK_DEBUG", "gl-disable", FALSE);
}

void
sp_early_begin (const char *path)
{
  choose_renderer (); /* before there is a second thread */
  early.path = g_strdup (path);
  early.type = g_thread_new ("type", load_type, NULL);
  g_thread_unref (g_thread_new ("book", read_and_judge, g_strdup (path)));
}

const char *
sp_early_type (void)
{
  if (!early.type)
    return early.family;
  g_autoptr (PangoFontMap) map = g_thread_join (g_steal_pointer (&early.type));
  pango_cairo_font_map_set_default (PANGO_CAIRO_FONT_MAP (map));
  return early.family;
}

SpBook *
sp_early_book (const char *path, char **held, GError **error)
{
  if (g_strcmp0 (path, early.path) != 0)
    return sp_early_read (path, held, error);
  g_clear_pointer (&early.path, g_free);
  g_mutex_lock (&early.lock);
  while (!early.read)
    g_cond_wait (&early.done, &early.lock);
  g_mutex_unlock (&early.lock);
  if (early.error)
    g_propagate_error (error, g_steal_pointer (&early.error));
  *held = g_steal_pointer (&early.held);
  return g_steal_pointer (&early.book);
}

gboolean
sp_early_has (const SpBench *bench)
{
  g_mutex_lock (&early.lock);
  gboolean has = early.bench && early.bench == bench;
  g_mutex_unlock (&early.lock);
  return has;
}

SpFindings *
sp_early_findings (const SpBench *bench, int wait_ms)
{
  SpFindings *findings = NULL;
  gint64 end = wait_ms < 0 ? G_MAXINT64 : g_get_monotonic_time () + wait_ms * G_TIME_SPAN_MILLISECOND;
  g_mutex_lock (&early.lock);
  if (early.bench && early.bench == bench) {
    while (!early.judged && g_cond_wait_until (&early.done, &early.lock, end))
      ;
    findings = g_steal_pointer (&early.findings);
    if (findings)
      early.bench = NULL;
  }
  g_mutex_unlock (&early.lock);
  return findings;
}
