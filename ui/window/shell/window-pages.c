/* window-pages.c - the pages of the window, what stands in a page's stead, and the job's steps that lead to them */
#include "ui/window/shell/window-private.h"

#include <glib/gi18n-lib.h>

#include "ui/window/begin/begin-page.h"
#include "ui/window/begin/help-page.h"
#include "ui/window/begin/step-mark.h"
#include "ui/window/begin/steps.h"
#include "ui/window/begin/why-view.h"
#include "ui/window/chain/chain-page.h"
#include "ui/window/pages/compare-page.h"
#include "ui/window/pages/paper-page.h"
#include "ui/window/pages/range-page.h"
#include "ui/window/pages/spectrum-page.h"
#include "ui/window/widgets/ask-user.h"

static void
add_page (SpWindow *self, GtkWidget *page, const char *name, const char *title)
{
  gtk_stack_add_titled (GTK_STACK (self->pages), page, name, title);
}

/* In the stead of a page that has nothing to show before there is a radio: what it is for, and what to do. */
static const struct {
  const char *page, *text, *button, *action;
} notes[SP_WINDOW_NOTES] = {
  { "range",
    N_ ("How deep the analyzer sees depends on the radio. Add one, with its frequency and its power: then this page says how to sweep, and "
        "what such a sweep would be worth."),
    N_ ("Add a radio…"), "win.add-radio" },
  { "compare",
    N_ ("There is nothing to be compared yet. Bring in the sweeps of several radios, or of one in several bands: then they stand here side "
        "by side."),
    N_ ("Import sweeps…"), "win.import" },
  { "report",
    N_ ("There is nothing to be handed over yet. Bring in a radio's sweep: then its slip and the report stand here as they will be "
        "printed."),
    N_ ("Import sweeps…"), "win.import" },
};

static GtkWidget *
new_note (const char *text, const char *button_text, const char *action)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *label = gtk_label_new (text),
            *button = gtk_button_new_with_label (button_text);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 60);
  gtk_widget_add_css_class (label, "note");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_widget_add_css_class (button, "boxed");
  gtk_widget_add_css_class (button, "filled");
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), button);
  gtk_widget_set_halign (box, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (box, TRUE);
  return box;
}

/* The page itself once there is a radio, else its note. */
static void
follow_notes (SpWindow *self)
{
  gboolean some = sp_session_bench (self->session)->n_conditions > 0;
  for (guint i = 0; i < G_N_ELEMENTS (notes); i++) {
    GtkWidget *place = gtk_stack_get_child_by_name (GTK_STACK (self->pages), notes[i].page), *page = gtk_widget_get_first_child (place);
    if (!page)
      continue;
    if (!some && !self->notes[i])
      gtk_box_append (GTK_BOX (place), self->notes[i] = new_note (_ (notes[i].text), _ (notes[i].button), notes[i].action));
    gtk_widget_set_visible (page, some);
    if (self->notes[i])
      gtk_widget_set_visible (self->notes[i], !some);
  }
}

/* A page that is first turned to is made then: the window's first frame does not wait for it. */
static void
fill_page (SpWindow *self)
{
  GtkWidget *place = gtk_stack_get_visible_child (GTK_STACK (self->pages));
  if (place == self->help || gtk_widget_get_first_child (place))
    return;
  GtkWidget *page = place == self->chain    ? sp_chain_page_new (self->session)
                    : place == self->range  ? sp_range_page_new (self->session)
                    : place == self->report ? sp_paper_page_new (self->session)
                                            : sp_compare_page_new (self->session);
  gtk_widget_set_hexpand (page, TRUE);
  gtk_box_append (GTK_BOX (place), page);
  follow_notes (self);
}

/* One of what may stand in the spectrum's place. (Popovers are its children too.) */
static void
show_in_place (SpWindow *self, GtkWidget *one)
{
  GtkWidget *all[] = { self->spectrum, self->begin, self->why };
  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    if (all[i])
      gtk_widget_set_visible (all[i], all[i] == one);
}

static GtkWidget *
put_in_place (SpWindow *self, GtkWidget *one)
{
  gtk_widget_set_hexpand (one, TRUE);
  gtk_widget_set_visible (one, FALSE);
  gtk_box_append (GTK_BOX (self->place), one);
  return one;
}

/* Until the first sweep is in, the spectrum's place says what to do. */
static void
follow_begun (SpWindow *self)
{
  if (!sp_steps_job (self->session).begun) {
    if (!self->begin)
      self->begin = put_in_place (self, sp_begin_page_new (self->session));
    show_in_place (self, self->begin);
  } else if (self->begin) {
    gtk_box_remove (GTK_BOX (self->place), g_steal_pointer (&self->begin));
    show_in_place (self, self->spectrum);
  }
}

void
sp_window_add_pages (SpWindow *self)
{
  gtk_box_append (GTK_BOX (gtk_widget_get_parent (self->book_state)), sp_step_mark_new (self->session));
  self->place = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  self->spectrum = put_in_place (self, sp_spectrum_page_new (self->session));
  self->chain = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  self->range = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  self->compare = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  self->report = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  show_in_place (self, self->spectrum);
  add_page (self, self->place, "spectrum", _ ("Spectrum"));
  add_page (self, self->chain, "chain", _ ("Chain"));
  add_page (self, self->range, "range", _ ("Range"));
  add_page (self, self->compare, "compare", _ ("Compare"));
  add_page (self, self->report, "report", _ ("Report"));
  follow_begun (self);
  g_signal_connect_object (self->pages, "notify::visible-child", G_CALLBACK (fill_page), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "notify::title", G_CALLBACK (follow_begun), self, G_CONNECT_SWAPPED); /* of any edit */
  g_signal_connect_object (self->session, "notify::title", G_CALLBACK (follow_notes), self, G_CONNECT_SWAPPED);
}

GtkWidget *
sp_window_page_on_show (SpWindow *self)
{
  return gtk_stack_get_visible_child (GTK_STACK (self->pages));
}

/* Turns to a page, and gives it the focus. */
static void
turn_to (SpWindow *self, const char *name)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->pages), name);
  GtkWidget *page = sp_window_page_on_show (self), *focus = gtk_window_get_focus (GTK_WINDOW (self));
  if (!focus || !gtk_widget_is_ancestor (focus, page) || !gtk_widget_get_mapped (focus))
    gtk_widget_child_focus (page, GTK_DIR_TAB_FORWARD);
}

void
sp_window_go_to_page (GtkWidget *widget, const char *action, GVariant *page)
{
  SpWindow *self = SP_WINDOW (widget);
  (void) action;
  if (self->why && gtk_widget_get_visible (self->why)) {
    gtk_window_set_focus (GTK_WINDOW (self), NULL); /* else GTK moves it on its own, later */
    show_in_place (self, self->begin ? self->begin : self->spectrum);
  }
  turn_to (self, g_variant_get_string (page, NULL));
}

gboolean
sp_window_turn_compare (GtkWidget *widget, GVariant *action, gpointer data)
{
  SpWindow *self = SP_WINDOW (widget);
  GtkWidget *page = gtk_widget_get_first_child (self->compare), *focus = gtk_window_get_focus (GTK_WINDOW (self));
  (void) data;
  if (sp_window_page_on_show (self) != self->compare || !page || !gtk_widget_get_visible (page) || (focus && GTK_IS_EDITABLE (focus)))
    return FALSE;
  return gtk_widget_activate_action (page, g_variant_get_string (action, NULL), NULL);
}

/* The width comes first: GTK asks for the least width that goes with the least height, and there a long sentence would stand on one line, wider than the
 * screen. */
void
sp_window_measure (GtkWidget *widget, GtkOrientation to, int across, int *least, int *best, int *least_baseline, int *best_baseline)
{
  GtkWidgetClass *parent = g_type_class_peek (GTK_TYPE_APPLICATION_WINDOW);
  parent->measure (widget, to, to == GTK_ORIENTATION_HORIZONTAL ? -1 : across, least, best, least_baseline, best_baseline);
}

/* A stage on the chain's page, which is made by turning to it. */
static void
show_stage (SpWindow *self, int stage)
{
  gtk_stack_set_visible_child (GTK_STACK (self->pages), self->chain);
  if (stage >= 0)
    sp_chain_page_show_stage (gtk_widget_get_first_child (self->chain), (guint) stage);
  else
    turn_to (self, "chain");
}

void
sp_window_edit_stage (GtkWidget *widget, const char *action, GVariant *stage)
{
  (void) action;
  show_stage (SP_WINDOW (widget), g_variant_get_int32 (stage));
}

void
sp_window_why (GtkWidget *widget, const char *action, GVariant *nothing)
{
  SpWindow *self = SP_WINDOW (widget);
  (void) action, (void) nothing;
  if (!sp_session_found (self->session) || sp_session_emission (self->session) < 0) {
    sp_session_trouble (self->session, _ ("No emission is chosen."), _ ("Choose one in the ledger or on the chart."));
    return;
  }
  if (!self->why)
    self->why = put_in_place (self, sp_why_view_new (self->session));
  show_in_place (self, self->why);
  gtk_stack_set_visible_child (GTK_STACK (self->pages), self->place);
  gtk_widget_grab_focus (self->why);
}

/* ---- help ---- */

static void
show_help (SpWindow *self, const char *topic)
{
  const char *page = gtk_stack_get_visible_child_name (GTK_STACK (self->pages));
  if (!self->help) {
    self->help = sp_help_page_new (self->session);
    gtk_stack_add_named (GTK_STACK (self->pages), self->help, "help"); /* without a title: no tab */
  }
  if (g_strcmp0 (page, "help") != 0) {
    g_free (self->before_help);
    self->before_help = g_strdup (page);
  }
  gtk_stack_set_visible_child (GTK_STACK (self->pages), self->help);
  if (topic)
    sp_help_page_show (self->help, topic);
  sp_help_page_show (self->help, NULL);
}

gboolean
sp_window_leave_help (SpWindow *self)
{
  if (!self->help || sp_window_page_on_show (self) != self->help)
    return FALSE;
  turn_to (self, self->before_help);
  return TRUE;
}

void
sp_window_help (GtkWidget *widget, const char *action, GVariant *nothing)
{
  (void) action, (void) nothing;
  if (!sp_window_leave_help (SP_WINDOW (widget)))
    show_help (SP_WINDOW (widget), NULL);
}

void
sp_window_cautions (GtkWidget *widget, const char *action, GVariant *nothing)
{
  (void) action, (void) nothing;
  show_help (SP_WINDOW (widget), "cautions");
}

void
sp_window_about (GtkWidget *widget, const char *action, GVariant *nothing)
{
  (void) action, (void) nothing;
  g_autofree char *text = g_strdup_printf (
      _ ("Version %s. Says whether a transmitter is clean, and how sure that is, from what a spectrum analyzer exported.\n\n"
         "Free software under the GNU General Public License, version 3 or later. It comes without any warranty, as far as the law "
         "permits."),
      SP_VERSION);
  sp_tell_user (GTK_WINDOW (widget), _ ("About Spurproof"), text);
}

/* ---- the job's steps ---- */

/* Where a verdict is open: its evidence, or why. */
static void
show_open (SpWindow *self, SpJobStep step)
{
  SpFindings *findings = sp_session_findings (self->session);
  guint condition;
  int emission;
  gboolean open = findings && sp_job_place (findings, step, &condition, &emission);
  if (open)
    sp_session_choose (self->session, condition, emission);
  turn_to (self, "spectrum");
  if (open && emission >= 0)
    gtk_widget_activate_action (GTK_WIDGET (self), step == SP_JOB_WHOSE ? "win.evidence" : "win.why", NULL);
}

static void
show_step (SpWindow *self, SpJobStep step)
{
  const SpBench *bench = sp_session_bench (self->session);
  guint condition = sp_session_condition (self->session);
  const SpChain *chain = condition < bench->n_conditions ? sp_condition_chain (bench, &bench->conditions[condition]) : bench->chain;
  switch (step) {
  case SP_JOB_CHAIN:
  case SP_JOB_SAFE:
  case SP_JOB_LOSSES: show_stage (self, chain ? sp_job_stage (chain, step) : -1); break;
  case SP_JOB_ANALYZER: gtk_widget_activate_action (GTK_WIDGET (self), "win.edit-analyzer", NULL); break;
  case SP_JOB_SWEEPS: gtk_widget_activate_action (GTK_WIDGET (self), "win.import", NULL); break;
  case SP_JOB_WHOSE:
  case SP_JOB_VERDICTS: show_open (self, step); break;
  case SP_JOB_PAPER: gtk_menu_button_popup (GTK_MENU_BUTTON (self->report_button)); break;
  case SP_JOB_STEPS: break;
  }
}

void
sp_window_step (GtkWidget *widget, const char *action, GVariant *step)
{
  (void) action;
  show_step (SP_WINDOW (widget), (SpJobStep) g_variant_get_int32 (step));
}

void
sp_window_next_step (GtkWidget *widget, const char *action, GVariant *nothing)
{
  SpWindow *self = SP_WINDOW (widget);
  int next = sp_steps_job (self->session).next;
  (void) action, (void) nothing;
  if (next < 0)
    show_help (self, "steps");
  else
    show_step (self, (SpJobStep) next);
}
