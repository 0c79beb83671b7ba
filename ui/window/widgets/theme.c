/* theme.c - light and dark, and high contrast */
#include "ui/window/widgets/theme.h"

#include "ui/figure/pen/palette.h"

/* One display, one style: the state is the process's. */
static struct {
  SpTheme wanted;
  const char *family;
  gboolean desktop_dark, dark;
  GtkCssProvider *provider, *strong;
  GDBusProxy *portal;
  GPtrArray *watchers; /* of Watcher */
} theme;

typedef struct {
  GWeakRef owner;
  void (*changed) (gpointer owner);
} Watcher;

/* @name@ is a colour; the rest is the sheet of drawing paper: hairlines, square corners, 8 px. Text and what holds it are in points, which grow with the
 * desktop's text. */
static const char style[]
    = "* { border-radius: 0; }\n"
      "window, .sheet, list, listview, columnview, scrolledwindow, textview, text, popover > contents { background: @sheet@; color: @ink@; "
      "}\n"
      "window, popover, tooltip { font-family: @font@; font-size: 9.75pt; font-feature-settings: 'tnum'; }\n"
      "headerbar { background: @sheet@; color: @ink@; border-bottom: 2px solid @ink@; box-shadow: none; min-height: 31.5pt; padding: 0 "
      "8px; "
      "}\n"
      "headerbar button.mark { font-size: 8.625pt; font-weight: 400; padding: 0 2px; min-height: 0; margin: 0; color: @soft@; }\n"
      "headerbar .title-line { font-size: 11.25pt; font-weight: 600; }\n"
      ".strong { font-weight: 600; }\n"
      ".soft, .soft label { color: @soft@; }\n"
      ".small { font-size: 8.625pt; }\n"
      ".head { font-weight: 600; padding: 8px 0; border-bottom: 1px solid @ink@; }\n"
      ".unsafe { color: @limit@; font-weight: 600; }\n"
      "button, menubutton > button { background: none; border: none; box-shadow: none; color: @ink@; padding: 4px 8px; min-height: 18pt; "
      "font-weight: 400; }\n"
      "button:hover, menubutton > button:hover { background: alpha(@ink@, 0.07); }\n"
      "button:disabled { color: alpha(@soft@, 0.6); }\n"
      "button:focus-visible, row:focus-visible, entry:focus-within, .chart:focus-visible { outline: 2px solid @focus@; outline-offset: "
      "-2px; }\n"
      "button.suggested-action { border: 1px solid @ink@; font-weight: 600; }\n"
      "button.filled { background: @ink@; color: @sheet@; font-weight: 600; } button.filled:hover { background: alpha(@ink@, 0.85); }\n"
      "button.paper { background: @sheet@; padding: 8px 48px; }\n"
      "stackswitcher > button > label { margin: 0; padding: 0; }\n"
      "headerbar stackswitcher > button { min-width: 0; padding: 10px 4px 8px; margin: 0 14px; color: @soft@; border-bottom: 4px solid "
      "transparent; }\n"
      "headerbar stackswitcher > button:checked { background: none; color: @ink@; font-weight: 600; border-bottom-color: @ink@; }\n"
      ".radios listview > row > grid { min-height: 30.75pt; } .radios.low listview > row > grid { min-height: 29.25pt; }\n"
      ".radios.low .head { padding: 4px 0; } .radios.low .drop-place { padding: 2px 8px; margin-bottom: 2px; }\n"
      "listview > row, list > row { padding: 0; border-bottom: 1px solid @hair@; background: none; color: @ink@; }\n"
      "listview > row:selected, columnview listview > row:selected, list > row:selected { background: @chosen@; color: @ink@; }\n"
      "listview > row:hover:not(:selected), columnview listview > row:hover:not(:selected) { background: alpha(@ink@, 0.04); }\n"
      "row.drop-here, .drop-here { outline: 2px dashed @ink@; outline-offset: -3px; }\n"
      "columnview > header > button { background: @sheet@; color: @soft@; font-weight: 400; border-bottom: 1px solid @ink@; padding: 4px "
      "6px; }\n"
      "columnview > listview > row > cell { padding: 0 6px; min-height: 18.75pt; border: none; }\n"
      "entry, spinbutton, dropdown > button { background: none; color: @ink@; border: none; border-bottom: 1px solid @soft@; box-shadow: "
      "none; }\n"
      "entry:disabled, spinbutton:disabled { color: @soft@; }\n"
      ".wrong { color: @limit@; }\n"
      "entry.wrong, entry.error { border-bottom: 2px solid @limit@; }\n"
      ".trouble { background: @fog@; color: @ink@; padding: 6px 12px; border-bottom: 1px solid @ink@; }\n"
      ".drop-place { border: 1px dashed @soft@; padding: 8px; margin-bottom: 8px; color: @soft@; }\n"
      ".cautions { color: @soft@; font-size: 8.625pt; }\n"
      "separator { background-color: @hair@; }\n"
      "paned > separator { background: none; box-shadow: inset 0 1px @hair@; }\n"
      "menubutton > button arrow { -gtk-icon-size: 0; min-width: 0; min-height: 0; opacity: 0; }\n"
      "popover > contents { border: 1px solid @ink@; box-shadow: none; padding: 4px; }\n"
      "popover modelbutton:hover { background: alpha(@ink@, 0.07); }\n"
      "tooltip { background: @ink@; color: @sheet@; } tooltip * { background: none; color: @sheet@; }\n"
      "progressbar > trough { background: @hair@; min-height: 3px; } progressbar > trough > progress { background: @ink@; min-height: 3px; "
      "}\n"
      "check { background: none; border: 1px solid @ink@; box-shadow: none; color: @ink@; } check:checked { background: @ink@; color: "
      "@sheet@; }\n"
      "check:disabled { border-color: @hair@; }\n"
      "window.dialog.message .dialog-vbox { padding-top: 16px; } window.dialog.message button { border: 1px solid @soft@; margin: 0 8px "
      "8px; }\n"
      ".mind { border: 1px solid @ink@; padding: 0 3px; font-size: 7.875pt; } .mind.weighs { background: @ink@; color: @sheet@; "
      "font-weight: "
      "600; }\n"
      ".judging { opacity: 0.55; }\n";

/* Over all other styles where the desktop's theme is one of high contrast: nothing is soft, no line is faint. */
static const char strong_style[]
    = ".underlined, .overlined, fields entry, entry.plain, fields dropdown > button, .tight dropdown > button, list.rows > row { "
      "border-color: currentColor; }\n"
      "button:focus-visible, row:focus-visible, entry:focus-within, .chart:focus-visible { outline-width: 3px; }\n";

static char *
hex (const SpColour *colour)
{
  return g_strdup_printf ("#%02X%02X%02X", (int) (colour->red * 255 + 0.5), (int) (colour->green * 255 + 0.5),
                          (int) (colour->blue * 255 + 0.5));
}

static SpColour
mix (const SpColour *a, const SpColour *b, double share)
{
  return (SpColour){ a->red + (b->red - a->red) * share, a->green + (b->green - a->green) * share, a->blue + (b->blue - a->blue) * share };
}

static void
put (GString *css, const char *name, const char *value)
{
  g_string_replace (css, name, value, 0);
}

static void
put_colour (GString *css, const char *name, SpColour colour)
{
  g_autofree char *text = hex (&colour);
  put (css, name, text);
}

/* GTK's own themes of high contrast, by the names that desktops set. */
gboolean
sp_theme_is_strong (void)
{
  g_autofree char *name = NULL;
  g_object_get (gtk_settings_get_default (), "gtk-theme-name", &name, NULL);
  return name && (g_str_has_prefix (name, "HighContrast") || g_str_has_prefix (name, "Default-hc"));
}

static void
load_style (void)
{
  const SpPalette *p = sp_palette (theme.dark);
  gboolean strong = sp_theme_is_strong ();
  g_autoptr (GString) css = g_string_new (style);
  put_colour (css, "@sheet@", p->sheet);
  put_colour (css, "@ink@", p->ink);
  put_colour (css, "@soft@", strong ? p->ink : p->soft);
  put_colour (css, "@limit@", p->limit);
  put_colour (css, "@fog@", p->fog);
  put_colour (css, "@focus@", p->trace[0]);
  put_colour (css, "@hair@", mix (&p->sheet, &p->ink, strong ? 0.7 : 0.14));
  put_colour (css, "@chosen@", mix (&p->sheet, &p->ink, strong ? 0.2 : 0.09));
  g_autofree char *families = theme.family ? g_strdup_printf ("\"%s\", Inter, sans-serif", theme.family) : g_strdup ("Inter, sans-serif");
  put (css, "@font@", families);
  gtk_css_provider_load_from_data (theme.provider, css->str, (gssize) css->len);
  gtk_css_provider_load_from_data (theme.strong, strong ? strong_style : "", -1);
}

static void
refresh (void)
{
  gboolean dark = theme.wanted == SP_THEME_DARK || (theme.wanted == SP_THEME_FOLLOW && theme.desktop_dark);
  gboolean was;
  g_object_get (gtk_settings_get_default (), "gtk-application-prefer-dark-theme", &was, NULL);
  if (was != dark) /* setting it has GTK read its whole theme again */
    g_object_set (gtk_settings_get_default (), "gtk-application-prefer-dark-theme", dark, NULL);
  theme.dark = dark;
  load_style ();
  for (guint i = 0; i < theme.watchers->len; i++) {
    Watcher *w = g_ptr_array_index (theme.watchers, i);
    g_autoptr (GObject) owner = g_weak_ref_get (&w->owner);
    if (owner)
      w->changed (owner);
  }
}

/* 1: dark is preferred (org.freedesktop.appearance, color-scheme). The value comes wrapped once or twice, by the portal's version. */
static void
take_scheme (GVariant *value)
{
  g_autoptr (GVariant) inner = g_variant_ref (value);
  while (g_variant_is_of_type (inner, G_VARIANT_TYPE_VARIANT)) {
    GVariant *next = g_variant_get_variant (inner);
    g_variant_unref (inner);
    inner = next;
  }
  if (!g_variant_is_of_type (inner, G_VARIANT_TYPE_UINT32))
    return;
  gboolean dark = g_variant_get_uint32 (inner) == 1;
  if (dark == theme.desktop_dark)
    return;
  theme.desktop_dark = dark;
  refresh ();
}

static void
scheme_read (GObject *proxy, GAsyncResult *result, void *data)
{
  (void) data;
  g_autoptr (GVariant) answer = g_dbus_proxy_call_finish (G_DBUS_PROXY (proxy), result,
                                                          NULL); /* a desktop without the setting stays light */
  if (!answer)
    return;
  g_autoptr (GVariant) value = g_variant_get_child_value (answer, 0);
  take_scheme (value);
}

static void
portal_signal (GDBusProxy *proxy, const char *sender, const char *name, GVariant *parameters, void *data)
{
  (void) proxy, (void) sender, (void) data;
  const char *space, *key;
  g_autoptr (GVariant) value = NULL;
  if (!g_str_equal (name, "SettingChanged") || !g_variant_is_of_type (parameters, G_VARIANT_TYPE ("(ssv)")))
    return;
  g_variant_get (parameters, "(&s&sv)", &space, &key, &value);
  if (g_str_equal (space, "org.freedesktop.appearance") && g_str_equal (key, "color-scheme"))
    take_scheme (value);
}

static void
portal_ready (GObject *source, GAsyncResult *result, void *data)
{
  (void) source, (void) data;
  theme.portal = g_dbus_proxy_new_for_bus_finish (result, NULL);
  if (!theme.portal)
    return;
  g_signal_connect (theme.portal, "g-signal", G_CALLBACK (portal_signal), NULL);
  g_dbus_proxy_call (theme.portal, "Read", g_variant_new ("(ss)", "org.freedesktop.appearance", "color-scheme"), G_DBUS_CALL_FLAGS_NONE,
                     2000, NULL, scheme_read, NULL);
}

void
sp_theme_start (SpTheme wanted, const char *family)
{
  theme.wanted = wanted;
  theme.family = family;
  theme.watchers = g_ptr_array_new ();
  theme.provider = gtk_css_provider_new ();
  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (theme.provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  theme.strong = gtk_css_provider_new ();
  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (theme.strong),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 2); /* over sp_pages_style() */
  refresh ();
  g_signal_connect (gtk_settings_get_default (), "notify::gtk-theme-name", G_CALLBACK (load_style), NULL);
  g_dbus_proxy_new_for_bus (G_BUS_TYPE_SESSION,
                            G_DBUS_PROXY_FLAGS_DO_NOT_AUTO_START_AT_CONSTRUCTION | G_DBUS_PROXY_FLAGS_DO_NOT_LOAD_PROPERTIES, NULL,
                            "org.freedesktop.portal.Desktop", "/org/freedesktop/portal/desktop", "org.freedesktop.portal.Settings", NULL,
                            portal_ready, NULL);
}

void
sp_theme_set (SpTheme wanted)
{
  theme.wanted = wanted;
  refresh ();
}

SpTheme
sp_theme_get (void)
{
  return theme.wanted;
}

double
sp_theme_text_scale (void)
{
  int dpi;
  g_object_get (gtk_settings_get_default (), "gtk-xft-dpi", &dpi, NULL);
  return dpi > 0 ? dpi / (96.0 * 1024) : 1;
}

int
sp_theme_text_px (int px)
{
  return px > 0 ? (int) (px * sp_theme_text_scale () + 0.5) : px;
}

gboolean
sp_theme_is_dark (void)
{
  return theme.dark;
}

static void
owner_gone (gpointer data, GObject *owner)
{
  (void) owner;
  Watcher *watcher = data;
  g_ptr_array_remove (theme.watchers, watcher);
  g_weak_ref_clear (&watcher->owner);
  g_free (watcher);
}

void
sp_theme_watch (GObject *owner, void (*changed) (gpointer owner))
{
  Watcher *watcher = g_new0 (Watcher, 1);
  g_weak_ref_init (&watcher->owner, owner);
  watcher->changed = changed;
  g_ptr_array_add (theme.watchers, watcher);
  g_object_weak_ref (owner, owner_gone, watcher);
}

const char *
sp_theme_name (SpTheme wanted)
{
  return wanted == SP_THEME_DARK ? "dark" : wanted == SP_THEME_LIGHT ? "light" : "follow";
}

SpTheme
sp_theme_named (const char *name)
{
  return g_strcmp0 (name, "dark") == 0 ? SP_THEME_DARK : g_strcmp0 (name, "light") == 0 ? SP_THEME_LIGHT : SP_THEME_FOLLOW;
}
