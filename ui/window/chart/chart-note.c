/* chart-note.c - the ruler, notes that are pinned to the chart, its picture on the clipboard, its context menu */
#include "ui/window/chart/chart-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/bench/edit/edit.h"
#include "core/judge/judge.h"
#include "ui/figure/figure.h"
#include "ui/window/widgets/entry.h"
#include "ui/window/widgets/items.h"
#include "ui/window/widgets/popover.h"
#include "ui/window/widgets/theme.h"
#include "ui/words/words.h"

#define PICTURE_WIDTH 1600
#define PICTURE_HEIGHT 1000

/* Where the pointer is, else the chosen emission; NaN: neither. */
static double
place_in_work (SpChart *self)
{
  double pointer = sp_session_pointer_hz (self->session);
  const SpEmission *chosen = sp_chart_chosen (self);
  return !isnan (pointer) ? pointer : chosen ? chosen->frequency_hz : NAN;
}

void
sp_chart_rule (SpChart *self)
{
  gboolean there = !isnan (sp_session_ruler_hz (self->session));
  double place = place_in_work (self);
  if (!there && isnan (place))
    gtk_widget_error_bell (GTK_WIDGET (self));
  sp_session_set_ruler (self->session, there ? NAN : place);
}

/* ---- notes ---- */

typedef struct {
  SpSession *session;
  guint condition;
  int note; /* -1: a new one */
  double frequency_hz, level_dbm;
  GtkWidget *entry;
} Writing;

static void
writing_free (gpointer writing, GClosure *closure)
{
  (void) closure;
  g_object_unref (((Writing *) writing)->session);
  g_free (writing);
}

/* A note that is there is taken off first: so its words change in one step. */
static SpBench *
edited (const Writing *w, const char *text, GError **error)
{
  const SpBench *bench = sp_session_bench (w->session);
  if (w->condition >= bench->n_conditions)
    return NULL;
  const GArray *pinned = bench->conditions[w->condition].pinned;
  gboolean there = w->note >= 0 && pinned && (guint) w->note < pinned->len;
  g_autoptr (SpBench) without = there ? sp_bench_unpin_note (bench, w->condition, (guint) w->note, error) : sp_bench_ref (bench);
  if (!without || !*text)
    return g_steal_pointer (&without);
  return sp_bench_pin_note (without, w->condition, w->frequency_hz, w->level_dbm, text, error);
}

static void
written (GtkWidget *entry, Writing *w)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
  GtkWidget *popover = gtk_widget_get_ancestor (entry, GTK_TYPE_POPOVER);
  if (w->note < 0 && !*text) {
    gtk_popover_popdown (GTK_POPOVER (popover));
    return;
  }
  SpBench *bench = edited (w, text, &error);
  sp_session_edit (w->session, bench, *text ? _ ("Pin a note") : _ ("Take a note off"), g_steal_pointer (&error));
  gtk_popover_popdown (GTK_POPOVER (popover));
}

static GtkWidget *
note_form (Writing *w)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4), *entry = gtk_entry_new ();
  g_autofree char *frequency = sp_words_frequency (w->frequency_hz, w->frequency_hz * 1e-4, SP_HAND_SCREEN);
  g_autofree char *says = g_strdup_printf (w->note < 0 ? _ ("Note at %s (Enter pins it)") : _ ("Note at %s (empty takes it off)"),
                                           frequency);
  GtkWidget *label = gtk_label_new (says);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), entry);
  gtk_entry_set_max_length (GTK_ENTRY (entry), SP_PINNED_CHARACTERS);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 36);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, says, -1);
  g_signal_connect_data (entry, "activate", G_CALLBACK (written), w, writing_free, 0);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), entry);
  w->entry = entry;
  return box;
}

void
sp_chart_write_note (SpChart *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  guint condition = sp_session_condition (self->session);
  const SpAxis *axis = sp_chart_axis (self);
  double place = place_in_work (self);
  if (!axis || isnan (place) || sp_session_judging (self->session)) {
    gtk_widget_error_bell (GTK_WIDGET (self));
    return;
  }
  SpAt at = sp_findings_at (findings, condition, place);
  int note = sp_plot_note_at (self->plot, sp_axis_at (axis, place), NAN);
  const GArray *pinned = sp_session_bench (self->session)->conditions[condition].pinned;
  const SpPinnedNote *there = note >= 0 ? &g_array_index (pinned, SpPinnedNote, note) : NULL;
  const SpAxis *levels = sp_chart_levels (self);
  Writing *w = g_new (Writing, 1);
  *w = (Writing){ g_object_ref (self->session),
                  condition,
                  note,
                  there ? there->frequency_hz : place,
                  there      ? there->level_dbm
                  : at.swept ? at.level_dbm
                             : (levels->from + levels->to) / 2,
                  NULL };
  GtkWidget *form = note_form (w), *entry = w->entry;
  if (there)
    sp_entry_fill (entry, there->text);
  sp_popover_show (GTK_WIDGET (self), form, _ ("A note"), self->height / 2, NULL);
  gtk_widget_grab_focus (entry);
}

/* ---- the clipboard ---- */

static void
kept_free (gpointer kept)
{
  sp_kept_view_clear (kept);
  g_free (kept);
}

static void
draw_picture (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const SpKeptView *kept = data;
  GError *error = NULL;
  (void) source, (void) cancellable;
  GBytes *bytes = sp_figure_export (SP_FIGURE_PNG, PICTURE_WIDTH, PICTURE_HEIGHT, kept->findings, &kept->view, &error);
  g_autoptr (GdkTexture) texture = bytes ? gdk_texture_new_from_bytes (bytes, &error) : NULL;
  g_clear_pointer (&bytes, g_bytes_unref);
  if (texture)
    g_task_return_pointer (task, g_steal_pointer (&texture), g_object_unref);
  else
    g_task_return_error (task, error);
}

static void
picture_drawn (GObject *source, GAsyncResult *result, gpointer data)
{
  SpChart *self = SP_CHART (source);
  g_autoptr (GError) error = NULL;
  g_autoptr (GdkTexture) texture = g_task_propagate_pointer (G_TASK (result), &error);
  (void) data;
  if (texture)
    gdk_clipboard_set_texture (gtk_widget_get_clipboard (GTK_WIDGET (self)), texture);
  else if (self->session)
    sp_session_trouble (self->session, error->message, NULL);
}

void
sp_chart_copy (SpChart *self)
{
  if (!sp_session_findings (self->session) || !sp_chart_axis (self))
    return;
  SpKeptView *kept = g_new (SpKeptView, 1);
  sp_kept_view_init (kept, self->session);
  g_autoptr (GTask) task = g_task_new (self, NULL, picture_drawn, NULL);
  g_task_set_task_data (task, kept, kept_free);
  g_task_run_in_thread (task, draw_picture);
}

/* ---- the context menu ---- */

static GMenuModel *
menu_model (void)
{
  static const struct {
    const char *label, *action;
  } items[] = {
    { N_ ("Fit"), "chart.fit" },
    { N_ ("Back"), "chart.back" },
    { N_ ("Ruler, or none"), "chart.ruler" },
    { N_ ("Note\342\200\246"), "chart.note" },
    { N_ ("Copy the picture"), "chart.copy" },
    { N_ ("Logarithmic frequency"), "chart.logarithmic" },
    { N_ ("By harmonic"), "chart.by-harmonic" },
    { N_ ("Levels relative to the carrier"), "chart.relative" },
    { N_ ("All sweeps of the chosen radio, faint"), "chart.all-sweeps" },
    { N_ ("What the chart's marks mean"), "win.marks" },
  };
  GMenu *menu = g_menu_new ();
  for (guint i = 0; i < G_N_ELEMENTS (items); i++)
    g_menu_append (menu, _ (items[i].label), items[i].action);
  return G_MENU_MODEL (menu);
}

void
sp_chart_open_menu (SpChart *self, double x, double y)
{
  if (!self->menu) { /* kept: an action is called when it has closed */
    g_autoptr (GMenuModel) model = menu_model ();
    self->menu = gtk_popover_menu_new_from_model (model);
    gtk_popover_set_has_arrow (GTK_POPOVER (self->menu), FALSE);
    gtk_widget_set_halign (self->menu, GTK_ALIGN_START);
    gtk_widget_set_parent (self->menu, GTK_WIDGET (self));
  }
  gtk_popover_set_pointing_to (GTK_POPOVER (self->menu),
                               &(GdkRectangle){ (int) (x * sp_theme_text_scale ()), (int) (y * sp_theme_text_scale ()), 1, 1 });
  gtk_popover_popup (GTK_POPOVER (self->menu));
}
