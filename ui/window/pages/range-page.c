/* range-page.c - how deep a sweep sees, before and after it was taken */
#include "ui/window/pages/range-page-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/items.h"
#include "ui/window/widgets/theme.h"
#include "ui/words/words.h"

#define FROM_DBM -70.0
#define BEYOND_DB 10.0 /* below today's, where that is lower still */
#define LEVEL_DB 0.5
#define LEVELS 161
#define PAGE_STEP 10 /* levels, for the page keys */

G_DEFINE_FINAL_TYPE (SpRangePage, sp_range_page, GTK_TYPE_WIDGET)

/* ---- the figure ---- */

static gboolean
figure_view (SpRangePage *self, SpRangeView *view)
{
  *view = (SpRangeView){ self->range, self->outlook, self->chosen, self->at };
  return self->range != NULL;
}

static void
draw_figure (SpPen *pen, const SpRect *rect, gpointer owner)
{
  SpRangeView view;
  if (figure_view (owner, &view))
    sp_range_draw (pen, &view, rect);
}

static void
describe (SpRangePage *self)
{
  SpRangeView view;
  g_autofree char *text = figure_view (self, &view) ? sp_range_says (&view) : g_strdup ("");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->figure), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, -1);
  gtk_widget_queue_draw (self->figure);
}

/* ---- the point ---- */

static void
look (SpRangePage *self)
{
  SpSetting there = self->today;
  there.attenuation_db = sp_plan_attenuation_db (self->plan, &self->today, self->range->mixer_dbm[self->at]);
  for (guint i = 0; i < self->range->n_curves; i++)
    self->outlook[i] = sp_plan_harmonic (self->plan, &there, self->range->curves[i].order);
  self->unsafe = sp_plan_unsafe (self->plan, &there);
}

static void
put_point (SpRangePage *self, int at)
{
  if (!self->range)
    return;
  self->at = (guint) CLAMP (at, 0, (int) self->range->n - 1);
  look (self);
  sp_range_page_fill_values (self);
  sp_range_page_fill_would_prove (self);
  describe (self);
}

static void
step (GtkWidget *widget, const char *name, GVariant *by)
{
  SpRangePage *self = SP_RANGE_PAGE (widget);
  (void) name;
  put_point (self, (int) self->at + g_variant_get_int32 (by));
}

static void
to_today (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SpRangePage *self = SP_RANGE_PAGE (widget);
  (void) name, (void) parameter;
  if (self->range)
    put_point (self, (int) sp_range_nearest (self->range, self->range->today_mixer_dbm));
}

static void
to_best (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SpRangePage *self = SP_RANGE_PAGE (widget);
  (void) name, (void) parameter;
  if (self->range)
    put_point (self, (int) sp_range_nearest (self->range, sp_range_best (self->range)));
}

/* ---- the harmonic: the session's emission, where that is one ---- */

int
sp_range_page_emission (SpRangePage *self, guint order)
{
  const SpConditionFindings *found = &self->findings->conditions[self->condition];
  for (guint i = 0; i < found->n_emissions; i++)
    if (found->emissions[i].order == order)
      return (int) i;
  return -1;
}

static void
show_harmonic (SpRangePage *self, guint chosen)
{
  self->chosen = chosen;
  sp_range_page_fill_values (self);
  sp_range_page_fill_would_prove (self);
  describe (self);
}

static void
follow_emission (SpRangePage *self)
{
  int emission = sp_session_emission (self->session);
  if (!self->range || emission < 0 || sp_session_condition (self->session) != self->condition
      || emission >= (int) self->findings->conditions[self->condition].n_emissions)
    return;
  for (guint i = 0; i < self->range->n_curves; i++)
    if (self->range->curves[i].order == self->findings->conditions[self->condition].emissions[emission].order)
      show_harmonic (self, i);
}

static void
choose_harmonic (SpRangePage *self, int i)
{
  if (!self->range || i < 0 || i >= (int) self->range->n_curves)
    return;
  show_harmonic (self, (guint) i);
  sp_session_choose (self->session, self->condition, sp_range_page_emission (self, self->range->curves[i].order));
}

static void
step_harmonic (GtkWidget *widget, const char *name, GVariant *by)
{
  SpRangePage *self = SP_RANGE_PAGE (widget);
  (void) name;
  choose_harmonic (self, (int) self->chosen + g_variant_get_int32 (by));
}

/* ---- advice, and what would prove: searched beside ---- */

typedef struct {
  SpFindings *findings;
  guint condition;
  SpAdvice advice;
  GPtrArray *would_prove;
} Thought;

static void
thought_free (gpointer data)
{
  Thought *t = data;
  sp_findings_unref (t->findings);
  g_clear_pointer (&t->would_prove, g_ptr_array_unref);
  g_free (t);
}

static void
unref_reason (gpointer reason)
{
  if (reason)
    sp_reason_unref (reason);
}

static SpReason *
would_prove_of (SpPlan *plan, const SpSetting *today, guint order)
{
  double frequency_hz = sp_plan_harmonic (plan, today, order).frequency_hz;
  return sp_plan_settled (plan, today, order, frequency_hz) ? NULL : sp_plan_prove (plan, today, order, frequency_hz, NULL);
}

static void
think (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Thought *t = data;
  SpSetting today;
  (void) source;
  g_autoptr (SpPlan) plan = sp_findings_plan (t->findings, t->condition, &today, NULL); /* a plan is one thread's */
  t->advice = sp_plan_advise (plan);
  t->would_prove = g_ptr_array_new_with_free_func (unref_reason);
  for (guint order = 2; order <= sp_plan_harmonics (plan) && !g_cancellable_is_cancelled (cancellable); order++)
    g_ptr_array_add (t->would_prove, would_prove_of (plan, &today, order));
  g_task_return_boolean (task, TRUE);
}

static void
thought (GObject *source, GAsyncResult *result, gpointer data)
{
  SpRangePage *self = SP_RANGE_PAGE (source);
  Thought *t = g_task_get_task_data (G_TASK (result));
  (void) data;
  if (!g_task_propagate_boolean (G_TASK (result), NULL)) /* another condition was chosen meanwhile */
    return;
  g_clear_object (&self->thinking);
  self->advice_found = t->advice;
  self->would_prove = g_steal_pointer (&t->would_prove);
  g_autofree char *text = sp_words_advice (&self->advice_found, "\n", SP_HAND_SCREEN);
  gtk_label_set_text (GTK_LABEL (self->advice), text);
  sp_range_page_fill_would_prove (self);
}

static void
begin_thinking (SpRangePage *self)
{
  Thought *t = g_new0 (Thought, 1);
  t->findings = sp_findings_ref (self->findings);
  t->condition = self->condition;
  self->thinking = g_cancellable_new ();
  g_autoptr (GTask) task = g_task_new (self, self->thinking, thought, NULL);
  g_task_set_task_data (task, t, thought_free);
  g_task_run_in_thread (task, think);
}

/* ---- what the session says ---- */

static void
forget (SpRangePage *self)
{
  if (self->thinking)
    g_cancellable_cancel (self->thinking);
  g_clear_object (&self->thinking);
  g_clear_pointer (&self->would_prove, g_ptr_array_unref);
  g_clear_pointer (&self->range, sp_range_free);
  g_clear_pointer (&self->plan, sp_plan_free);
  g_clear_pointer (&self->outlook, g_free);
  g_clear_pointer (&self->findings, sp_findings_unref);
}

/* What the best level rests on, where nobody states one. NULL: it is stated, or worked out. (transfer full) */
static char *
says_assumed (SpRangePage *self)
{
  gboolean assumed;
  double best_dbm = sp_plan_best_mixer_dbm (self->plan, &self->today, &assumed);
  g_autofree char *best = assumed ? sp_words_best_mixer (best_dbm, TRUE, SP_HAND_SCREEN) : NULL;
  return best ? g_strdup_printf (_ ("best at the mixer: %s"), best) : NULL;
}

static void
write_head (SpRangePage *self)
{
  const SpConditionFindings *found = self->findings ? &self->findings->conditions[self->condition] : NULL;
  gtk_label_set_text (GTK_LABEL (self->title), found ? found->name : "");
  gtk_label_set_text (GTK_LABEL (self->advice), "");
  if (!self->plan) {
    gtk_label_set_text (GTK_LABEL (self->about),
                        found ? _ ("Neither its power nor its frequency is known yet: import a keyed sweep, or state both (F2).") : "");
    return;
  }
  g_autofree char *frequency = sp_words_frequency (found->fundamental_hz, 1e3, SP_HAND_SCREEN),
                  *power = sp_words_level (found->power_dbm, 1, SP_HAND_SCREEN);
  g_autofree char *about = self->advised
                               ? g_strdup (_ ("nothing keyed yet with known settings: today stands for the sweep that is advised"))
                               : g_strdup_printf (_ ("%s, %s; today is its keyed sweep, noise as measured"), frequency, power);
  g_autofree char *assumed = says_assumed (self), *whole = assumed ? g_strdup_printf ("%s; %s", about, assumed) : g_strdup (about);
  gtk_label_set_text (GTK_LABEL (self->about), whole);
}

/* Today's level is one of the grid's, so its own attenuation is met, and every whole decibel beside it. */
static double
grid_start (double today_dbm)
{
  double down = today_dbm < FROM_DBM ? BEYOND_DB : today_dbm - FROM_DBM;
  return isnan (today_dbm) ? FROM_DBM : today_dbm - LEVEL_DB * floor (down / LEVEL_DB);
}

static void
plan_anew (SpRangePage *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  forget (self);
  self->condition = sp_session_condition (self->session);
  if (findings && self->condition < findings->n) {
    self->findings = sp_findings_ref (findings);
    self->plan = sp_findings_plan (findings, self->condition, &self->today, &self->advised);
  }
  write_head (self);
  if (self->plan) {
    double from = grid_start (sp_plan_mixer_dbm (self->plan, &self->today));
    self->range = sp_plan_range (self->plan, &self->today, from, from + (LEVELS - 1) * LEVEL_DB, LEVELS);
    self->outlook = g_new0 (SpOutlook, self->range->n_curves);
    self->chosen = MIN (self->chosen, self->range->n_curves - 1);
    begin_thinking (self);
    put_point (self, (int) sp_range_nearest (self->range, self->range->today_mixer_dbm));
    follow_emission (self);
  } else {
    sp_range_page_fill_values (self);
    describe (self);
  }
  sp_range_page_fill_would_prove (self);
}

static void
follow_judging (SpRangePage *self)
{
  if (sp_session_judging (self->session))
    gtk_widget_add_css_class (self->whole, "judging");
  else
    gtk_widget_remove_css_class (self->whole, "judging");
}

/* ---- mouse ---- */

static void
drag_to (SpRangePage *self, double x, double y)
{
  SpRangeView view;
  SpRect rect = sp_widget_paper (self->figure);
  if (!figure_view (self, &view))
    return;
  double scale = sp_theme_text_scale ();
  int at = sp_range_at (&view, &rect, x / scale, y / scale);
  if (at >= 0 && (guint) at != self->at)
    put_point (self, at);
}

static void
drag_begun (GtkGestureDrag *drag, double x, double y, SpRangePage *self)
{
  SpRangeView view;
  SpRect rect = sp_widget_paper (self->figure);
  gtk_widget_grab_focus (self->figure);
  double scale = sp_theme_text_scale ();
  int column = figure_view (self, &view) ? sp_range_column_at (&view, &rect, x / scale, y / scale) : -1;
  if (column < 0) {
    drag_to (self, x, y);
    return;
  }
  choose_harmonic (self, column);
  gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_DENIED);
}

static void
dragged (GtkGestureDrag *drag, double dx, double dy, SpRangePage *self)
{
  double x, y;
  if (gtk_gesture_drag_get_start_point (drag, &x, &y))
    drag_to (self, x + dx, y + dy);
}

/* ---- the page ---- */

GtkWidget *
sp_range_page_new (SpSession *session)
{
  SpRangePage *self = g_object_new (SP_TYPE_RANGE_PAGE, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (plan_anew), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (plan_anew), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::emission", G_CALLBACK (follow_emission), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::judging", G_CALLBACK (follow_judging), self, G_CONNECT_SWAPPED);
  plan_anew (self);
  follow_judging (self);
  return GTK_WIDGET (self);
}

static void
sp_range_page_dispose (GObject *object)
{
  forget (SP_RANGE_PAGE (object));
  gtk_widget_dispose_template (GTK_WIDGET (object), SP_TYPE_RANGE_PAGE);
  G_OBJECT_CLASS (sp_range_page_parent_class)->dispose (object);
}

static void
sp_range_page_finalize (GObject *object)
{
  g_clear_object (&SP_RANGE_PAGE (object)->session);
  G_OBJECT_CLASS (sp_range_page_parent_class)->finalize (object);
}

static void
add_keys (GtkWidgetClass *widget)
{
  static const struct {
    guint key;
    const char *action;
    int by;
  } keys[] = {
    { GDK_KEY_Left, "range.step", -1 },           { GDK_KEY_Right, "range.step", 1 },  { GDK_KEY_Page_Down, "range.step", -PAGE_STEP },
    { GDK_KEY_Page_Up, "range.step", PAGE_STEP }, { GDK_KEY_Up, "range.harmonic", 1 }, { GDK_KEY_Down, "range.harmonic", -1 },
  };
  gtk_widget_class_install_action (widget, "range.step", "i", step);
  gtk_widget_class_install_action (widget, "range.harmonic", "i", step_harmonic);
  gtk_widget_class_install_action (widget, "range.today", NULL, to_today);
  gtk_widget_class_install_action (widget, "range.best", NULL, to_best);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_widget_class_add_binding_action (widget, keys[i].key, 0, keys[i].action, "i", keys[i].by);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Home, 0, "range.today", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_End, 0, "range.best", NULL);
}

#define BIND(member) gtk_widget_class_bind_template_child (widget, SpRangePage, member)

static void
sp_range_page_class_init (SpRangePageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = sp_range_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = sp_range_page_finalize;
  sp_pages_style ();
  gtk_widget_class_set_css_name (widget, "rangepage");
  gtk_widget_class_set_layout_manager_type (widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/range-page.ui");
  add_keys (widget);
  BIND (whole);
  BIND (title);
  BIND (about);
  BIND (advice);
  BIND (figure_holder);
  BIND (point);
  BIND (values);
  BIND (prove);
}

static void
sp_range_page_init (SpRangePage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->figure = sp_paper_new (draw_figure, self);
  gtk_widget_set_hexpand (self->figure, TRUE);
  gtk_widget_set_vexpand (self->figure, TRUE);
  gtk_widget_set_focusable (self->figure, TRUE);
  gtk_widget_set_cursor_from_name (self->figure, "col-resize");
  gtk_widget_add_css_class (self->figure, "chart");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->figure), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Range against mixer level"), -1);
  gtk_box_append (GTK_BOX (self->figure_holder), self->figure);
  GtkGesture *drag = gtk_gesture_drag_new ();
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begun), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (dragged), self);
  gtk_widget_add_controller (self->figure, GTK_EVENT_CONTROLLER (drag));
  sp_range_page_head_values (self);
}
