/* paper-page.c - slip and report: its pages as they will be printed, and what to do with them */
#include "ui/window/pages/paper-page.h"

#include <errno.h>
#include <glib/gi18n-lib.h>

#include "ui/paper/pages.h"
#include "ui/window/pages/paper-print.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/fields.h"

#define PIXELS 1.9 /* a point, of a screen of scale 1: a page is read at the width of a window */

#define SP_TYPE_PAPER_PAGE (sp_paper_page_get_type ())
G_DECLARE_FINAL_TYPE (SpPaperPage, sp_paper_page, SP, PAPER_PAGE, GtkWidget)

struct _SpPaperPage {
  GtkWidget parent_instance;
  SpSession *session;
  gboolean following;    /* what the session says: no choice of the user's */
  GCancellable *drawing; /* of the page that is being drawn; NULL: none */
  guint page, pages;     /* from 0; 0 pages: none is known yet */
  /* of the template */
  GtkWidget *whole, *what, *radio, *sheet, *number, *to_width, *scrolled, *picture, *says;
};

G_DEFINE_FINAL_TYPE (SpPaperPage, sp_paper_page, GTK_TYPE_WIDGET)

static SpPaperAsked
asked_of (SpPaperPage *self)
{
  return (SpPaperAsked){ gtk_drop_down_get_selected (GTK_DROP_DOWN (self->what)) == 1 ? SP_PAPER_REPORT : SP_PAPER_SLIP,
                         (SpPaperSize) MIN (gtk_drop_down_get_selected (GTK_DROP_DOWN (self->sheet)), SP_N_PAPERS - 1) };
}

/* NULL: nothing is judged, or what was is no longer so. */
static SpFindings *
findings_of (SpPaperPage *self)
{
  SpFindings *findings = self->session ? sp_session_findings (self->session) : NULL; /* the template sets its lists before there is one */
  return findings && sp_session_condition (self->session) < findings->n ? findings : NULL;
}

/* ---- one page, drawn in a thread ---- */

typedef struct {
  GdkTexture *texture;
  guint page, pages; /* 0 pages: not known yet */
  char *title;
} Sheet;

typedef struct {
  SpFindings *findings;
  guint condition, page;
  SpPaperAsked asked;
  double scale;
  Sheet sheet;
} Drawing;

static void
drawing_free (gpointer data)
{
  Drawing *d = data;
  sp_findings_unref (d->findings);
  g_clear_object (&d->sheet.texture);
  g_free (d->sheet.title);
  g_free (d);
}

/* Opaque, for a page begins with its white sheet. */
static GdkTexture *
texture_of (cairo_surface_t *surface)
{
  int width = cairo_image_surface_get_width (surface), height = cairo_image_surface_get_height (surface),
      stride = cairo_image_surface_get_stride (surface);
  g_autoptr (GBytes) bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface), (gsize) stride * height,
                                                         (GDestroyNotify) cairo_surface_destroy, cairo_surface_reference (surface));
  return gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, bytes, (gsize) stride);
}

/* FALSE: there is no memory for it. */
static gboolean
draw_sheet (const Drawing *d, const SpPaper *paper, const SpPages *pages, Sheet *sheet)
{
  double width, height;
  sp_pages_sheet (d->asked.size, &width, &height);
  sheet->title = g_strdup (paper->title);
  sheet->pages = sp_pages_are_all (pages) ? sp_pages_count (pages) : 0;
  sheet->page = MIN (d->page, sp_pages_count (pages) - 1);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, (int) (width * d->scale), (int) (height * d->scale));
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, 1, 1, 1); /* a sheet may end within a pixel */
  cairo_paint (cr);
  cairo_scale (cr, d->scale, d->scale);
  errno = 0; /* want of memory is read from it */
  gboolean done = sp_pages_draw (pages, sheet->page, cr);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  if (done)
    sheet->texture = texture_of (surface);
  cairo_surface_destroy (surface);
  return done;
}

static void
show_sheet (SpPaperPage *self, const Sheet *sheet)
{
  g_autofree char *number = sheet->pages ? g_strdup_printf (_ ("page %u of %u"), sheet->page + 1, sheet->pages)
                                         : g_strdup_printf (_ ("page %u"), sheet->page + 1),
                  *says = g_strdup_printf ("%s: %s", sheet->title, number);
  self->page = sheet->page;
  self->pages = sheet->pages;
  gtk_picture_set_paintable (GTK_PICTURE (self->picture), GDK_PAINTABLE (sheet->texture));
  gtk_picture_set_alternative_text (GTK_PICTURE (self->picture), says);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_LABEL, says, -1);
  gtk_label_set_text (GTK_LABEL (self->number), number);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "paper.before", sheet->page > 0);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "paper.after", sheet->page + 1 < sheet->pages);
}

/* The first page, on its way to the window while the others are laid. */
typedef struct {
  GTask *task;
  Sheet sheet;
} First;

static void
first_free (gpointer data)
{
  First *first = data;
  g_object_unref (first->task);
  g_clear_object (&first->sheet.texture);
  g_free (first->sheet.title);
  g_free (first);
}

static gboolean
on_first (gpointer data)
{
  First *first = data;
  SpPaperPage *self = SP_PAPER_PAGE (g_task_get_source_object (first->task));
  if (self->drawing == g_task_get_cancellable (first->task)) /* no other was asked for, and all is not drawn yet */
    show_sheet (self, &first->sheet);
  return G_SOURCE_REMOVE;
}

static void
show_first (GTask *task, const Drawing *d, const SpPaper *paper, const SpPages *pages)
{
  First *first = g_new0 (First, 1);
  first->task = g_object_ref (task);
  if (draw_sheet (d, paper, pages, &first->sheet))
    g_idle_add_full (G_PRIORITY_DEFAULT, on_first, first, first_free);
  else
    first_free (first);
}

static void
draw (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Drawing *d = data;
  (void) source;
  g_autoptr (SpPaper) paper = sp_paper_asked (d->findings, d->condition, &d->asked);
  g_autoptr (SpPages) pages = d->page == 0 ? sp_pages_first (paper, d->asked.size) : sp_pages_new (paper, d->asked.size);
  if (!sp_pages_are_all (pages))
    show_first (task, d, paper, pages);
  if (!g_cancellable_is_cancelled (cancellable))
    sp_pages_go_on (pages);
  g_task_return_boolean (task, sp_pages_are_all (pages) && draw_sheet (d, paper, pages, &d->sheet));
}

static void
on_drawn (GObject *source, GAsyncResult *result, gpointer data)
{
  SpPaperPage *self = SP_PAPER_PAGE (source);
  (void) data;
  gboolean done = g_task_propagate_boolean (G_TASK (result), NULL);
  if (self->drawing != g_task_get_cancellable (G_TASK (result))) /* another was asked for, or the page is gone */
    return;
  g_clear_object (&self->drawing);
  if (done)
    show_sheet (self, &((const Drawing *) g_task_get_task_data (G_TASK (result)))->sheet);
  gtk_label_set_text (GTK_LABEL (self->says), done ? "" : _ ("The page could not be drawn: there is no memory for it."));
}

static void
show (SpPaperPage *self)
{
  SpFindings *findings = findings_of (self);
  g_cancellable_cancel (self->drawing);
  g_clear_object (&self->drawing);
  if (!findings)
    return;
  Drawing *d = g_new0 (Drawing, 1);
  d->findings = sp_findings_ref (findings);
  d->condition = sp_session_condition (self->session);
  d->asked = asked_of (self);
  d->page = self->page;
  d->scale = PIXELS * gtk_widget_get_scale_factor (GTK_WIDGET (self));
  self->drawing = g_cancellable_new ();
  g_autoptr (GTask) task = g_task_new (self, self->drawing, on_drawn, NULL);
  g_task_set_check_cancellable (task, FALSE); /* on_drawn looks itself */
  g_task_set_task_data (task, d, drawing_free);
  g_task_run_in_thread (task, draw);
}

/* ---- what is done with it ---- */

static void
say_trouble (GtkWidget *page, const char *what)
{
  sp_session_trouble (SP_PAPER_PAGE (page)->session, what, NULL);
}

/* The window writes it: it awaits what is being written before it closes. */
static void
write_to (SpPaperPage *self, GFile *file, SpPaperWhat what)
{
  g_autofree char *uri = g_file_get_uri (file);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.write-paper", SP_PAPER_ASKED_TYPE, uri, (guint) what, (guint) asked_of (self).size);
}

static void
save_to (GtkWidget *page, GFile *file)
{
  write_to (SP_PAPER_PAGE (page), file, asked_of (SP_PAPER_PAGE (page)).what);
}

static void
slips_to (GtkWidget *page, GFile *folder)
{
  write_to (SP_PAPER_PAGE (page), folder, SP_PAPER_SLIPS);
}

static void
save (GtkWidget *widget, const char *action, GVariant *parameter)
{
  SpPaperPage *self = SP_PAPER_PAGE (widget);
  SpFindings *findings = findings_of (self);
  (void) action, (void) parameter;
  if (!findings)
    return;
  g_autofree char *slip = sp_paper_file_name (findings->bench, sp_paper_asked_radio (findings, sp_session_condition (self->session)));
  g_autofree char *name = g_strconcat (asked_of (self).what == SP_PAPER_SLIP ? slip : _ ("report"), ".pdf", NULL);
  sp_ask_save (widget, _ ("Write it as PDF, or as a page: its ending says .pdf or .html"), "*", name, NULL, save_to);
}

static void
save_slips (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_ask_folder (widget, _ ("A folder for the slips of all radios: RADIO-SERIAL.pdf"), slips_to);
}

static void
print (GtkWidget *widget, const char *action, GVariant *parameter)
{
  SpPaperPage *self = SP_PAPER_PAGE (widget);
  SpFindings *findings = findings_of (self);
  SpPaperAsked asked = asked_of (self);
  (void) action, (void) parameter;
  if (findings)
    sp_paper_print (widget, findings, sp_session_condition (self->session), &asked, say_trouble);
}

static void
turn (GtkWidget *widget, const char *action, GVariant *parameter)
{
  SpPaperPage *self = SP_PAPER_PAGE (widget);
  (void) parameter;
  if (g_str_has_suffix (action, "after") && self->page + 1 < self->pages)
    self->page++;
  else if (g_str_has_suffix (action, "before") && self->page > 0)
    self->page--;
  show (self);
}

/* ---- whose, and how large ---- */

static void
show_width (SpPaperPage *self)
{
  gboolean wide = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->to_width));
  GtkWidget *port = gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (self->scrolled));
  /* at its least height a picture is as high as there is room, else as high as it is at that width */
  gtk_scrollable_set_vscroll_policy (GTK_SCROLLABLE (port), wide ? GTK_SCROLL_NATURAL : GTK_SCROLL_MINIMUM);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scrolled), GTK_POLICY_NEVER, wide ? GTK_POLICY_ALWAYS : GTK_POLICY_NEVER);
}

static void
toggle_width (GtkWidget *widget, const char *action, GVariant *parameter)
{
  GtkCheckButton *button = GTK_CHECK_BUTTON (SP_PAPER_PAGE (widget)->to_width);
  (void) action, (void) parameter;
  gtk_check_button_set_active (button, !gtk_check_button_get_active (button));
}

/* The first condition of the radio, if the chosen one is none of its. */
static void
choose_radio (SpPaperPage *self)
{
  SpFindings *findings = findings_of (self);
  guint radio = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->radio));
  if (self->following || !findings || sp_paper_asked_radio (findings, sp_session_condition (self->session)) == radio)
    return;
  for (guint i = 0; i < findings->n; i++)
    if (sp_paper_asked_radio (findings, i) == radio) {
      sp_session_choose (self->session, i, SP_DECIDING_EMISSION);
      return;
    }
}

static gboolean
names_are (GListModel *list, const SpBench *bench)
{
  gboolean alike = g_list_model_get_n_items (list) == bench->n_radios;
  for (guint i = 0; alike && i < bench->n_radios; i++)
    alike = g_strcmp0 (gtk_string_list_get_string (GTK_STRING_LIST (list), i), bench->radios[i].name) == 0;
  return alike;
}

static void
follow (SpPaperPage *self)
{
  SpFindings *findings = findings_of (self);
  GtkDropDown *radio = GTK_DROP_DOWN (self->radio);
  self->following = TRUE;
  if (findings && !names_are (gtk_drop_down_get_model (radio), findings->bench)) {
    g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
    for (guint i = 0; i < findings->bench->n_radios; i++)
      gtk_string_list_append (names, findings->bench->radios[i].name);
    gtk_drop_down_set_model (radio, G_LIST_MODEL (names));
  }
  if (findings)
    gtk_drop_down_set_selected (radio, sp_paper_asked_radio (findings, sp_session_condition (self->session)));
  gtk_widget_set_sensitive (self->radio, asked_of (self).what == SP_PAPER_SLIP);
  self->following = FALSE;
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    show (self);
}

static void
choose_paper (SpPaperPage *self)
{
  self->page = 0;
  follow (self);
}

/* ---- the page ---- */

static void
sp_paper_page_dispose (GObject *object)
{
  SpPaperPage *self = SP_PAPER_PAGE (object);
  g_cancellable_cancel (self->drawing);
  g_clear_object (&self->drawing);
  gtk_widget_dispose_template (GTK_WIDGET (object), SP_TYPE_PAPER_PAGE);
  G_OBJECT_CLASS (sp_paper_page_parent_class)->dispose (object);
}

static void
sp_paper_page_finalize (GObject *object)
{
  g_clear_object (&SP_PAPER_PAGE (object)->session);
  G_OBJECT_CLASS (sp_paper_page_parent_class)->finalize (object);
}

static void
sp_paper_page_class_init (SpPaperPageClass *klass)
{
  static const struct {
    const char *name;
    GtkWidgetActionActivateFunc run;
    guint key;
    GdkModifierType modifiers;
  } actions[] = {
    { "paper.before", turn, GDK_KEY_Page_Up, 0 },
    { "paper.after", turn, GDK_KEY_Page_Down, 0 },
    { "paper.width", toggle_width, GDK_KEY_w, GDK_ALT_MASK },
    { "paper.save", save, GDK_KEY_s, GDK_CONTROL_MASK | GDK_ALT_MASK },
    { "paper.slips", save_slips, GDK_KEY_l, GDK_CONTROL_MASK | GDK_ALT_MASK },
    { "paper.print", print, GDK_KEY_p, GDK_CONTROL_MASK },
  };
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  G_OBJECT_CLASS (klass)->dispose = sp_paper_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = sp_paper_page_finalize;
  gtk_widget_class_set_css_name (widget, "paperpage");
  gtk_widget_class_set_layout_manager_type (widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/paper-page.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpPaperPage, name)
  PART (whole), PART (what), PART (radio), PART (sheet), PART (number), PART (to_width), PART (scrolled), PART (picture), PART (says);
#undef PART
  gtk_widget_class_bind_template_callback (widget, choose_paper);
  gtk_widget_class_bind_template_callback (widget, choose_radio);
  gtk_widget_class_bind_template_callback (widget, show_width);
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++) {
    gtk_widget_class_install_action (widget, actions[i].name, NULL, actions[i].run);
    gtk_widget_class_add_binding_action (widget, actions[i].key, actions[i].modifiers, actions[i].name, NULL);
  }
}

static void
sp_paper_page_init (SpPaperPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  sp_drop_down_speak (self->what, _ ("What is shown"));
  sp_drop_down_speak (self->radio, _ ("Whose slip"));
  sp_drop_down_speak (self->sheet, _ ("Sheet of paper"));
  show_width (self);
  g_signal_connect (self, "map", G_CALLBACK (show), NULL); /* not drawn while another page is on show */
}

GtkWidget *
sp_paper_page_new (SpSession *session)
{
  static const char *const followed[] = { "notify::findings", "notify::condition" };
  SpPaperPage *self = g_object_new (SP_TYPE_PAPER_PAGE, NULL);
  self->session = g_object_ref (session);
  if (g_strcmp0 (gtk_paper_size_get_default (), GTK_PAPER_NAME_LETTER) == 0)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->sheet), SP_PAPER_LETTER);
  for (guint i = 0; i < G_N_ELEMENTS (followed); i++)
    g_signal_connect_object (session, followed[i], G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  follow (self);
  return GTK_WIDGET (self);
}
