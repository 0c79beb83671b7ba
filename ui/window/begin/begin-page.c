/* begin-page.c - what an empty book shows: what to do first, and the buttons to do it */
#include "ui/window/begin/begin-page.h"

#include <glib/gi18n-lib.h>

#include "ui/figure/blank.h"
#include "ui/figure/panels.h"
#include "ui/window/begin/steps.h"
#include "ui/window/begin/words-grid.h"
#include "ui/window/begin/wrap-layout.h"
#include "ui/window/chart/staircase.h"
#include "ui/window/import/import.h"
#include "ui/window/pages/radios.h"
#include "ui/window/session/recent.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/items.h"
#include "ui/window/widgets/theme.h"
#include "ui/words/words.h"

#define STAIRCASE_HEIGHT 136
#define RADIOS_HEIGHT 240
#define TITLE_LEAST 220 /* a narrow window has no room for the title block */

#define SP_TYPE_BEGIN_PAGE (sp_begin_page_get_type ())
G_DECLARE_FINAL_TYPE (SpBeginPage, sp_begin_page, SP, BEGIN_PAGE, GtkWidget)

struct _SpBeginPage {
  GtkWidget parent_instance;
  SpSession *session;
  GtkWidget *staircase, *radios;
  /* of the template */
  GtkWidget *whole, *left, *right, *recent, *recent_list, *chain, *analyzer, *sweep, *fog, *title;
  GtkWidget *buttons1, *buttons2, *buttons3;
  GtkGrid *verdicts;
};

G_DEFINE_FINAL_TYPE (SpBeginPage, sp_begin_page, GTK_TYPE_WIDGET)

static void
draw_fog (SpPen *pen, const SpRect *rect, gpointer page)
{
  (void) page;
  sp_blank_draw (pen, rect);
}

static void
draw_title (SpPen *pen, const SpRect *rect, gpointer page)
{
  SpBeginPage *self = page;
  SpFindings *findings = sp_session_findings (self->session);
  SpView view;
  if (!findings || rect->width < TITLE_LEAST)
    return;
  sp_session_figure_view (self->session, &view);
  sp_title_block_draw (pen, findings, &view, &(SpRect){ 1, 1, rect->width - 2, rect->height - 2 });
}

/* ---- recent books ---- */

static GtkWidget *
new_line (const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWidget *
new_recent (const SpRecent *recent)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10),
            *text = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *glyph = sp_glyph_new ();
  g_autoptr (GDateTime) moment = g_date_time_new_from_unix_local (recent->changed_us / G_USEC_PER_SEC);
  g_autofree char *day = moment ? g_date_time_format (moment, "%Y-%m-%d") : g_strdup (""), *base = g_path_get_basename (recent->path),
                  *file = g_filename_display_name (base);
  g_autofree char *about = g_strdup_printf (ngettext ("%s, %u condition", "%s, %u conditions", recent->n_conditions), day,
                                            recent->n_conditions);
  const char *title = *recent->title ? recent->title : file;
  g_autofree char *spoken = recent->verdict_known
                                ? g_strdup_printf (_ ("%s, %s: at worst %s"), title, about, sp_words_verdict (recent->verdict))
                                : g_strdup_printf ("%s, %s", title, about);
  sp_glyph_set (SP_GLYPH (glyph), recent->verdict_known, recent->verdict);
  gtk_widget_set_valign (glyph, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (text), new_line (title, "strong"));
  gtk_box_append (GTK_BOX (text), new_line (about, "soft"));
  gtk_box_append (GTK_BOX (box), glyph);
  gtk_box_append (GTK_BOX (box), text);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  gtk_widget_set_tooltip_text (row, recent->path);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (row), "s", recent->path);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (row), "win.open-path");
  return row;
}

static void
list_recent (SpBeginPage *self)
{
  g_autoptr (GPtrArray) recents = sp_recent_read ();
  GtkWidget *row;
  while ((row = gtk_widget_get_first_child (self->recent_list)))
    gtk_list_box_remove (GTK_LIST_BOX (self->recent_list), row);
  for (guint i = 0; i < recents->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->recent_list), new_recent (recents->pdata[i]));
  gtk_widget_set_visible (self->recent_list, recents->len > 0);
}

/* ---- what the bench has ---- */

/* The button of the next thing to do is filled. Losses may wait: a label does for now. */
static void
fill_next (SpBeginPage *self)
{
  SpJob job = sp_steps_job (self->session);
  GtkWidget *buttons[] = { self->chain, self->analyzer, self->sweep };
  SpJobStep first = job.done[SP_JOB_CHAIN] ? SP_JOB_SAFE : SP_JOB_CHAIN;
  guint next = !job.done[first] && job.open[first] > 0 ? 0 : !job.done[SP_JOB_ANALYZER] ? 1 : 2;
  gtk_actionable_set_action_target (GTK_ACTIONABLE (self->chain), "i", (int) first);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->chain), "win.step");
  for (guint i = 0; i < G_N_ELEMENTS (buttons); i++)
    if (i == next)
      gtk_widget_add_css_class (buttons[i], "filled");
    else
      gtk_widget_remove_css_class (buttons[i], "filled");
}

static void
follow (SpBeginPage *self)
{
  gboolean some = sp_session_bench (self->session)->n_conditions > 0;
  gtk_widget_set_visible (self->staircase, some || sp_session_bench (self->session)->chain);
  gtk_widget_set_visible (self->radios, some);
  gtk_widget_set_visible (self->recent, !some);
  fill_next (self);
  gtk_widget_queue_draw (self->title);
}

static void
follow_theme (gpointer page)
{
  SpBeginPage *self = page;
  gtk_widget_queue_draw (self->fog);
  gtk_widget_queue_draw (self->title);
}

static gboolean
dropped (GtkDropTarget *target, const GValue *value, double x, double y, gpointer page)
{
  (void) target, (void) x, (void) y;
  SpBeginPage *self = page;
  sp_import_dropped (GTK_WIDGET (self), self->session, value, -1);
  return TRUE;
}

static void
sp_begin_page_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), SP_TYPE_BEGIN_PAGE);
  g_clear_object (&SP_BEGIN_PAGE (object)->session);
  G_OBJECT_CLASS (sp_begin_page_parent_class)->dispose (object);
}

static void
sp_begin_page_class_init (SpBeginPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  G_OBJECT_CLASS (klass)->dispose = sp_begin_page_dispose;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/begin-page.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpBeginPage, name)
  PART (whole), PART (left), PART (right), PART (recent), PART (recent_list), PART (chain), PART (analyzer), PART (sweep);
  PART (fog), PART (title), PART (verdicts), PART (buttons1), PART (buttons2), PART (buttons3);
#undef PART
}

static void
sp_begin_page_init (SpBeginPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  sp_paper_set (self->fog, draw_fog, self);
  sp_paper_set (self->title, draw_title, self);
  sp_words_grid_verdicts (self->verdicts);
  GtkWidget *rows[] = { self->buttons1, self->buttons2, self->buttons3 };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    gtk_widget_set_layout_manager (rows[i], sp_wrap_layout_new ());
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_signal_connect (target, "drop", G_CALLBACK (dropped), self);
  gtk_widget_add_controller (self->right, GTK_EVENT_CONTROLLER (target));
}

GtkWidget *
sp_begin_page_new (SpSession *session)
{
  SpBeginPage *self = g_object_new (SP_TYPE_BEGIN_PAGE, NULL);
  self->session = g_object_ref (session);
  self->staircase = sp_staircase_new (session);
  self->radios = GTK_WIDGET (sp_radios_new (session));
  gtk_widget_set_size_request (self->staircase, -1, sp_theme_text_px (STAIRCASE_HEIGHT));
  gtk_widget_set_size_request (self->radios, -1, sp_theme_text_px (RADIOS_HEIGHT));
  gtk_box_prepend (GTK_BOX (self->right), self->staircase);
  gtk_box_prepend (GTK_BOX (self->left), sp_steps_new (session));
  gtk_box_append (GTK_BOX (self->left), self->radios);
  g_signal_connect_object (session, "notify::title", G_CALLBACK (follow), self, G_CONNECT_SWAPPED); /* of any edit */
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  g_signal_connect_swapped (self, "map", G_CALLBACK (list_recent), self);
  sp_theme_watch (G_OBJECT (self), follow_theme);
  follow (self);
  return GTK_WIDGET (self);
}
