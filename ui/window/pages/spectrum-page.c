/* spectrum-page.c - the page of chart, radios and emissions */
#include "ui/window/pages/spectrum-page.h"

#include <glib/gi18n-lib.h>

#include "ui/figure/panels.h"
#include "ui/window/chart/chart.h"
#include "ui/window/chart/staircase.h"
#include "ui/window/import/import.h"
#include "ui/window/pages/ledger.h"
#include "ui/window/pages/mind.h"
#include "ui/window/pages/radios.h"
#include "ui/window/pages/statement.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/items.h"
#include "ui/window/widgets/theme.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/words.h"
#include "window-resources.h"

#define STAIRCASE_HEIGHT 148
#define STAIRCASE_LOW 120 /* on a low window */
#define LEDGER_HEIGHT 196
#define LEDGER_LOW 138
#define HIGH_FROM 700
#define MIND_FROM 800 /* on a lower page the radios need the room: what is to be minded stands behind its head */
#define MANY 10       /* radios */
#define TITLE_WIDTH 320
#define SENTENCES_FROM_WIDTH 1420 /* a narrower window has its columns as narrow as they can be: the sentences need the room */
#define TITLE_FROM_WIDTH 1250     /* a narrower window has no room for the title block: it is in every exported figure */

#define SP_TYPE_SPECTRUM_PAGE (sp_spectrum_page_get_type ())
G_DECLARE_FINAL_TYPE (SpSpectrumPage, sp_spectrum_page, SP, SPECTRUM_PAGE, GtkWidget)

struct _SpSpectrumPage {
  GtkWidget parent_instance;
  SpSession *session;
  GtkWidget *left, *whole, *right, *upper, *lower;
  GtkWidget *staircase, *chart, *axis, *title, *safety, *radios, *mind, *cautions, *ledger;
  int width, height; /* that the parts were fitted to */
};

G_DEFINE_FINAL_TYPE (SpSpectrumPage, sp_spectrum_page, GTK_TYPE_WIDGET)

static gboolean
has_findings (SpSpectrumPage *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  return findings && findings->n > 0;
}

/* So many that the list needs what height there is. */
static gboolean
has_many (SpSpectrumPage *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  return findings && findings->n >= MANY;
}

static void
draw_title (SpPen *pen, const SpRect *rect, gpointer page)
{
  SpSpectrumPage *self = page;
  SpView view;
  if (!has_findings (self))
    return;
  sp_session_figure_view (self->session, &view);
  SpRect inner = { 1, 1, rect->width - 2, MIN (rect->height - 2, 160) };
  sp_title_block_draw (pen, sp_session_findings (self->session), &view, &inner);
}

static void
follow (SpSpectrumPage *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  g_autofree char *unsafe = findings ? sp_words_safety (findings, SP_HAND_SCREEN) : NULL;
  gtk_label_set_text (GTK_LABEL (self->safety), unsafe ? unsafe : "");
  gtk_widget_set_visible (self->safety, unsafe != NULL);
  gtk_widget_queue_draw (self->title);
  sp_mind_set_low (self->mind, gtk_widget_get_height (GTK_WIDGET (self)) < sp_theme_text_px (MIND_FROM) || has_many (self));
}

/* While the bench is being judged again, what is shown belongs to the one before. */
static void
follow_judging (SpSpectrumPage *self)
{
  GtkWidget *parts[] = { self->left, self->lower, self->staircase };
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    if (sp_session_judging (self->session) && sp_session_findings (self->session))
      gtk_widget_add_css_class (parts[i], "judging");
    else
      gtk_widget_remove_css_class (parts[i], "judging");
}

static void
follow_theme (gpointer page)
{
  SpSpectrumPage *self = SP_SPECTRUM_PAGE (page);
  sp_chart_set_dark (SP_CHART (self->chart), sp_theme_is_dark ());
  gtk_widget_queue_draw (self->staircase);
  gtk_widget_queue_draw (self->title);
}

static gboolean
divide (gpointer page)
{
  SpSpectrumPage *self = SP_SPECTRUM_PAGE (page);
  int height = gtk_widget_get_height (page);
  gboolean high = height >= sp_theme_text_px (HIGH_FROM);
  gtk_paned_set_position (GTK_PANED (high ? self->whole : self->right), height - sp_theme_text_px (high ? LEDGER_HEIGHT : LEDGER_LOW));
  return G_SOURCE_REMOVE;
}

/* High windows have the ledger below everything; on low ones the radios need the height, so it stands beside them. */
static void
place_ledger (SpSpectrumPage *self, gboolean high)
{
  GtkPaned *from = GTK_PANED (high ? self->right : self->whole), *to = GTK_PANED (high ? self->whole : self->right);
  if (gtk_paned_get_end_child (to) != self->lower) {
    gtk_paned_set_end_child (from, NULL);
    gtk_paned_set_end_child (to, self->lower);
    gtk_paned_set_resize_end_child (to, FALSE);
    g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, divide, g_object_ref (self),
                     g_object_unref); /* a paned learns its new bounds in the next frame */
  }
  divide (self);
}

static gboolean
fit_parts (gpointer page)
{
  SpSpectrumPage *self = SP_SPECTRUM_PAGE (page);
  int width = gtk_widget_get_width (page), height = gtk_widget_get_height (page);
  gboolean high = height >= sp_theme_text_px (HIGH_FROM);
  gtk_widget_set_visible (self->title, high && width >= sp_theme_text_px (TITLE_FROM_WIDTH));
  gtk_widget_set_visible (self->axis, high);
  gtk_widget_set_size_request (self->staircase, -1, sp_theme_text_px (high ? STAIRCASE_HEIGHT : STAIRCASE_LOW));
  sp_radios_set_low (SP_RADIOS (self->radios), !high);
  sp_mind_set_low (self->mind, height < sp_theme_text_px (MIND_FROM) || has_many (self));
  sp_ledger_fit (SP_LEDGER (self->ledger), width < sp_theme_text_px (SENTENCES_FROM_WIDTH),
                 width < sp_theme_text_px (TITLE_FROM_WIDTH) && !high);
  gtk_widget_set_margin_start (self->lower, high ? 16 : 8);
  gtk_widget_set_margin_end (self->lower, high ? 16 : 8);
  gtk_label_set_text (GTK_LABEL (self->cautions),
                      high ? _ ("Key only into a load, every connector tight, nobody touching the line. Ratings first: page Chain.")
                           : _ ("Load on, connectors tight, hands off."));
  place_ledger (self, high);
  return G_SOURCE_REMOVE;
}

/* Parts come and go with the size: asked for after the allocation, not within it. The template's layout is the bin's. */
static void
sp_spectrum_page_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SpSpectrumPage *self = SP_SPECTRUM_PAGE (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  if (width != self->width || height != self->height) {
    self->width = width;
    self->height = height;
    g_idle_add_full (G_PRIORITY_HIGH_IDLE, fit_parts, g_object_ref (self), g_object_unref);
  }
  GTK_WIDGET_CLASS (sp_spectrum_page_parent_class)->snapshot (widget, snapshot);
}

static void
sp_spectrum_page_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), SP_TYPE_SPECTRUM_PAGE);
  g_clear_object (&SP_SPECTRUM_PAGE (object)->lower);
  g_clear_object (&SP_SPECTRUM_PAGE (object)->session);
  G_OBJECT_CLASS (sp_spectrum_page_parent_class)->dispose (object);
}

/* H, S, B, O and G wherever no text is being typed. */
static gboolean
on_letter (GtkWidget *widget, GVariant *letter, gpointer data)
{
  SpSpectrumPage *self = SP_SPECTRUM_PAGE (widget);
  GtkRoot *root = gtk_widget_get_root (widget);
  GtkWidget *focus = root ? gtk_root_get_focus (root) : NULL;
  SpFindings *findings = sp_session_findings (self->session);
  guint condition = sp_session_condition (self->session);
  (void) data;
  if (focus && GTK_IS_EDITABLE (focus))
    return FALSE;
  if (g_variant_get_byte (letter) == 'h')
    sp_session_set_by_harmonic (self->session, !sp_session_by_harmonic (self->session));
  else if (g_variant_get_byte (letter) == 'o')
    sp_session_set_order (self->session, (sp_session_order (self->session) + 1) % (SP_ORDER_NAME + 1));
  else if (g_variant_get_byte (letter) == 'g')
    gtk_widget_activate_action (self->radios, "radios.bands", NULL);
  else if (!findings || condition >= findings->n)
    return FALSE;
  else if (g_variant_get_byte (letter) == 's')
    sp_session_show_only (self->session, condition);
  else
    sp_session_show_only_waveband (self->session, sp_compare_waveband (findings, condition));
  return TRUE;
}

static void
sp_spectrum_page_class_init (SpSpectrumPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  g_resources_register (sp_window_get_resource ());
  G_OBJECT_CLASS (klass)->dispose = sp_spectrum_page_dispose;
  widget->snapshot = sp_spectrum_page_snapshot;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/window/spectrum-page.ui");
  for (const char *letter = "hsbog"; *letter; letter++)
    gtk_widget_class_add_binding (widget, GDK_KEY_a + (guint) (*letter - 'a'), 0, on_letter, "y", *letter);
  gtk_widget_class_bind_template_child (widget, SpSpectrumPage, left);
  gtk_widget_class_bind_template_child (widget, SpSpectrumPage, whole);
  gtk_widget_class_bind_template_child (widget, SpSpectrumPage, right);
  gtk_widget_class_bind_template_child (widget, SpSpectrumPage, upper);
}

static void
sp_spectrum_page_init (SpSpectrumPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static gboolean
dropped (GtkDropTarget *target, const GValue *value, double x, double y, gpointer page)
{
  (void) target, (void) x, (void) y;
  SpSpectrumPage *self = SP_SPECTRUM_PAGE (page);
  sp_import_dropped (GTK_WIDGET (self), self->session, value, -1);
  return TRUE;
}

/* "by frequency", "by harmonic": one of the two is pressed. */
static GtkWidget *
axis_choice (SpSession *session)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0), *first = gtk_toggle_button_new_with_label (_ ("by frequency")),
            *second = gtk_toggle_button_new_with_label (_ ("by harmonic"));
  gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (second), GTK_TOGGLE_BUTTON (first));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (first), TRUE);
  g_object_bind_property (session, "by-harmonic", second, "active", G_BINDING_BIDIRECTIONAL | G_BINDING_SYNC_CREATE);
  g_object_bind_property (session, "by-harmonic", first, "active",
                          G_BINDING_BIDIRECTIONAL | G_BINDING_SYNC_CREATE | G_BINDING_INVERT_BOOLEAN);
  sp_tip_set (second, _ ("Each shown radio over its own carrier, on an axis in f/f0 (H)"));
  gtk_box_append (GTK_BOX (box), first);
  gtk_box_append (GTK_BOX (box), second);
  gtk_widget_set_margin_start (box, 46);
  gtk_widget_add_css_class (box, "axis-choice");
  return box;
}

static GtkWidget *
cautions (void)
{
  GtkWidget *label = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 32);
  gtk_widget_add_css_class (label, "cautions");
  gtk_widget_set_margin_start (label, 8);
  gtk_widget_set_margin_end (label, 8);
  gtk_widget_set_margin_bottom (label, 8);
  sp_tip_set (label, sp_words_cautions ());
  return label;
}

static void
build (SpSpectrumPage *self)
{
  self->ledger = sp_ledger_new (self->session);
  self->radios = sp_radios_new (self->session);
  self->mind = sp_mind_new (self->session);
  self->cautions = cautions ();
  self->staircase = sp_staircase_new (self->session);
  self->title = sp_paper_new (draw_title, self);
  self->chart = sp_chart_new (self->session);
  self->axis = axis_choice (self->session);
  self->safety = gtk_label_new ("");
  gtk_widget_add_css_class (self->safety, "unsafe");
  gtk_label_set_wrap (GTK_LABEL (self->safety), TRUE);
  gtk_widget_set_size_request (self->staircase, -1, sp_theme_text_px (STAIRCASE_HEIGHT));
  gtk_widget_set_size_request (self->title, TITLE_WIDTH, -1);
  gtk_widget_set_vexpand (self->radios, TRUE);
  gtk_widget_set_vexpand (self->chart, TRUE);
  gtk_widget_set_hexpand (self->ledger, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->title), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Title block"), -1);
  gtk_box_append (GTK_BOX (self->left), self->radios);
  gtk_box_append (GTK_BOX (self->left), self->mind);
  gtk_box_append (GTK_BOX (self->left), self->cautions);
  gtk_box_append (GTK_BOX (self->upper), self->safety);
  gtk_box_append (GTK_BOX (self->upper), self->staircase);
  gtk_box_append (GTK_BOX (self->upper), sp_statement_new (self->session));
  gtk_box_append (GTK_BOX (self->upper), self->chart);
  gtk_box_append (GTK_BOX (self->upper), self->axis);
  self->lower = g_object_ref_sink (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 16));
  gtk_widget_set_margin_start (self->lower, 16);
  gtk_widget_set_margin_end (self->lower, 16);
  gtk_widget_set_margin_top (self->lower, 8);
  gtk_widget_set_margin_bottom (self->lower, 8);
  gtk_paned_set_end_child (GTK_PANED (self->whole), self->lower);
  gtk_box_append (GTK_BOX (self->lower), self->ledger);
  gtk_box_append (GTK_BOX (self->lower), self->title);
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_signal_connect (target, "drop", G_CALLBACK (dropped), self);
  gtk_widget_add_controller (self->upper, GTK_EVENT_CONTROLLER (target));
}

GtkWidget *
sp_spectrum_page_new (SpSession *session)
{
  SpSpectrumPage *self = g_object_new (SP_TYPE_SPECTRUM_PAGE, NULL);
  self->session = g_object_ref (session);
  build (self);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::judging", G_CALLBACK (follow_judging), self, G_CONNECT_SWAPPED);
  sp_theme_watch (G_OBJECT (self), follow_theme);
  follow_theme (self);
  follow (self);
  return GTK_WIDGET (self);
}

GtkWidget *
sp_spectrum_page_chart (GtkWidget *page)
{
  return SP_SPECTRUM_PAGE (page)->chart;
}

GtkWidget *
sp_spectrum_page_radios (GtkWidget *page)
{
  return SP_SPECTRUM_PAGE (page)->radios;
}

GtkWidget *
sp_spectrum_page_ledger (GtkWidget *page)
{
  return SP_SPECTRUM_PAGE (page)->ledger;
}
