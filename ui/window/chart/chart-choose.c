/* chart-choose.c - from a place to an emission, from emission to emission, and what is said of it */
#include "core/judge/judge.h"
#include "ui/window/chart/chart-private.h"

#include "ui/figure/pen/names.h"
#include "ui/window/widgets/items.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define NEAR 9          /* pixels to an emission's mark */
#define NEAR_RUNG 5     /* and to a rung */
#define DESCRIBE_MS 100 /* a screen reader is not told of every pixel */

static const SpConditionFindings *
condition_of (SpChart *self)
{
  const SpFindings *findings = sp_session_findings (self->session);
  guint condition = sp_session_condition (self->session);
  return findings && condition < findings->n ? &findings->conditions[condition] : NULL;
}

const SpEmission *
sp_chart_chosen (SpChart *self)
{
  const SpConditionFindings *c = condition_of (self);
  int emission = sp_session_emission (self->session);
  return c && emission >= 0 && emission < (int) c->n_emissions ? &c->emissions[emission] : NULL;
}

gboolean
sp_chart_place (SpChart *self, guint condition, const SpEmission *emission, double *x, double *y)
{
  if (!sp_chart_axis (self))
    return FALSE;
  SpAxis axis = sp_plot_axis_of (self->plot, condition);
  const SpRect *area = sp_plot_area (self->plot);
  if (!(emission->frequency_hz >= axis.from && emission->frequency_hz <= axis.to))
    return FALSE;
  *x = sp_axis_at (&axis, emission->frequency_hz);
  *y = isnan (emission->level_dbm)
           ? NAN
           : CLAMP (sp_axis_at (sp_plot_level_axis (self->plot), emission->level_dbm), area->y, area->y + area->height);
  return TRUE;
}

/* How near an emission's mark, or for the chosen condition its rung, is; INFINITY: not near. Marks come before rungs. */
static double
distance_to (SpChart *self, guint condition, const SpEmission *emission, double x, double y)
{
  double at_x, at_y;
  gboolean own = condition == sp_session_condition (self->session);
  if (!sp_chart_place (self, condition, emission, &at_x, &at_y))
    return INFINITY;
  double mark = emission->detected && !isnan (at_y) ? hypot (x - at_x, y - at_y) : INFINITY;
  double rung = own && emission->order ? fabs (x - at_x) : INFINITY;
  return mark <= NEAR ? mark : rung <= NEAR_RUNG ? NEAR + rung : INFINITY;
}

gboolean
sp_chart_pick (SpChart *self, double x, double y)
{
  const SpFindings *findings = sp_session_findings (self->session);
  if (!sp_chart_axis (self))
    return FALSE;
  double nearest = INFINITY;
  guint condition = 0, emission = 0, chosen = sp_session_condition (self->session);
  for (guint i = 0; i < findings->n; i++)
    for (guint k = 0; sp_plot_draws (self->plot, i) && k < findings->conditions[i].n_emissions; k++) {
      double distance = distance_to (self, i, &findings->conditions[i].emissions[k], x, y);
      if (distance < nearest || (distance == nearest && isfinite (distance) && i == chosen)) {
        nearest = distance;
        condition = i, emission = k;
      }
    }
  if (!isfinite (nearest))
    return FALSE;
  sp_session_choose (self->session, condition, (int) emission);
  return TRUE;
}

/* The emission nearest above (or below) `from` in frequency; -1: none. Equal frequencies go by their index. */
static int
neighbour (SpChart *self, const SpConditionFindings *c, double from, int from_index, int step)
{
  int best = -1;
  for (int i = 0; i < (int) c->n_emissions; i++) {
    double f = c->emissions[i].frequency_hz, beyond = (f - from) * step;
    if (!(f >= self->fit.from && f <= self->fit.to) || !(beyond > 0 || (beyond == 0 && (i - from_index) * step > 0)) || i == from_index)
      continue;
    double ahead = best < 0 ? INFINITY : (c->emissions[best].frequency_hz - from) * step;
    if (beyond < ahead || (beyond == ahead && step < 0))
      best = i;
  }
  return best;
}

void
sp_chart_walk (SpChart *self, int step)
{
  const SpConditionFindings *c = condition_of (self);
  if (!c || !sp_chart_axis (self))
    return;
  const SpEmission *chosen = sp_chart_chosen (self);
  double pointer = sp_session_pointer_hz (self->session);
  double from = chosen ? chosen->frequency_hz : !isnan (pointer) ? pointer : step > 0 ? self->fit.from : self->fit.to;
  int next = neighbour (self, c, from, chosen ? sp_session_emission (self->session) : step > 0 ? -1 : (int) c->n_emissions, step);
  if (next < 0) {
    gtk_widget_error_bell (GTK_WIDGET (self));
    return;
  }
  sp_session_choose (self->session, sp_session_condition (self->session), next);
  sp_chart_reveal (self, c->emissions[next].frequency_hz, c->emissions[next].level_dbm);
  sp_session_set_pointer (self->session, c->emissions[next].frequency_hz);
}

/* "−6.6 dBm ± 1.1 dB" */
static char *
level_text (double level_dbm, double expanded_db)
{
  g_autofree char *level = sp_words_level (level_dbm, 1, SP_HAND_SCREEN), *u = sp_words_number (expanded_db, 1, SP_HAND_SCREEN);
  return isnan (expanded_db) ? g_steal_pointer (&level) : g_strdup_printf (_ ("%s \xc2\xb1 %s\342\200\257dB"), level, u);
}

/* What was read there, or what 'nothing seen' is worth. */
static char *
reading_text (const SpEmission *emission)
{
  if (!emission->swept)
    return g_strdup (_ ("not swept"));
  if (emission->detected)
    return level_text (emission->level_dbm, emission->budget.expanded_level_db);
  if (sp_emission_is_blind (emission))
    return g_strdup (_ ("blind: points too far apart"));
  g_autofree char *floor = sp_words_level (emission->floor_dbm, 1, SP_HAND_SCREEN);
  return g_strdup_printf (_ ("nothing seen above %s"), floor);
}

/* "room +6.8 dB", "blind", "unknown"; "" where there is none. */
static char *
room_text (const SpEmission *emission)
{
  g_autofree char *room = sp_words_room (emission, SP_HAND_SCREEN);
  return isnan (sp_emission_room_db (emission)) ? g_steal_pointer (&room) : g_strdup_printf (_ ("room %s\342\200\257dB"), room);
}

static void
describe_emission (GString *text, const SpConditionFindings *c, const SpEmission *emission)
{
  g_autofree char *what = sp_words_emission (emission, SP_HAND_SCREEN);
  g_autofree char *why = emission->reason ? sp_words_reason (emission->reason, SP_HAND_SCREEN) : NULL;
  g_autofree char *frequency = sp_words_frequency (emission->frequency_hz, emission->frequency_hz * 1e-4, SP_HAND_SCREEN);
  g_autofree char *read = reading_text (emission);
  g_string_append_printf (text, _ ("%s, %s, %s: %s, %s."), c->name, what, frequency, read, sp_words_verdict (emission->verdict));
  if (why)
    g_string_append_printf (text, " %s", why);
}

static void
describe_pointer (GString *text, const SpFindings *findings, guint condition, double pointer_hz)
{
  SpAt at = sp_findings_at (findings, condition, pointer_hz);
  g_autofree char *frequency = sp_words_frequency (pointer_hz, pointer_hz * 1e-4, SP_HAND_SCREEN);
  g_autofree char *level = level_text (at.level_dbm, at.expanded_db), *floor = sp_words_level (at.floor_dbm, 1, SP_HAND_SCREEN);
  g_autofree char *limit = sp_words_level (at.limit_dbm, 1, SP_HAND_SCREEN), *margin = sp_words_signed (at.margin_db, 1, SP_HAND_SCREEN);
  if (text->len)
    g_string_append_c (text, ' ');
  g_string_append_printf (text, _ ("At %s: %s"), frequency, at.swept && !isnan (at.level_dbm) ? level : _ ("not swept"));
  if (at.blind)
    g_string_append_printf (text, ", %s", _ ("blind: points too far apart"));
  else if (!isnan (at.floor_dbm))
    g_string_append_printf (text, _ (", floor %s, %s"), floor, sp_words_cause (at.floor_cause));
  if (!isnan (at.limit_dbm))
    g_string_append_printf (text, _ (", limit %s"), limit);
  const SpEmission *stands = at.emission < 0 ? NULL : &findings->conditions[condition].emissions[at.emission];
  if (stands && stands->decision != SP_DECISION_NONE) {
    g_autofree char *room = room_text (stands);
    g_string_append_printf (text, ", %s, %s", room, sp_words_verdict (stands->verdict));
  } else if (!isnan (at.margin_db))
    g_string_append_printf (text, _ (", margin %s\342\200\257dB"), margin);
  g_string_append_c (text, '.');
}

/* "Faint beside it: +10 dB, unkeyed." of what the eye finds by its dashes and names. */
static void
describe_others (GString *text, SpChart *self, const SpFindings *findings)
{
  SpView view;
  const SpCorrected *other;
  g_autoptr (GString) names = g_string_new (NULL);
  sp_session_figure_view (self->session, &view);
  for (guint k = 0; (other = sp_view_other (&view, findings, k)); k++) {
    g_autofree char *name = sp_name_other (findings, view.condition, other);
    g_string_append_printf (names, "%s%s", names->len ? ", " : "", name);
  }
  if (names->len) {
    g_string_append_c (text, ' ');
    g_string_append_printf (text, _ ("Faint beside it: %s."), names->str);
  }
}

char *
sp_chart_description (SpChart *self)
{
  const SpFindings *findings = sp_session_findings (self->session);
  const SpConditionFindings *c = condition_of (self);
  GString *text = g_string_new (NULL);
  if (!c)
    g_string_append (text, sp_session_judging (self->session) ? _ ("Being judged.") : _ ("Nothing measured yet."));
  else {
    const SpEmission *chosen = sp_chart_chosen (self);
    double pointer = sp_session_pointer_hz (self->session);
    if (chosen)
      describe_emission (text, c, chosen);
    double ruler = sp_session_ruler_hz (self->session);
    if (!isnan (pointer) && !(chosen && pointer == chosen->frequency_hz))
      describe_pointer (text, findings, sp_session_condition (self->session), pointer);
    if (!isnan (pointer) && !isnan (ruler)) {
      g_autofree char *between = sp_plot_says_between (findings, sp_session_condition (self->session), ruler, pointer);
      g_string_append_printf (text, _ (" From the ruler %s."), between);
    }
    if (text->len == 0)
      g_string_append_printf (text, _ ("%s: %s."), c->name, sp_words_verdict (c->verdict));
    if (!sp_session_shows (self->session, sp_session_condition (self->session)))
      g_string_append_printf (text, " %s", _ ("Hidden."));
    describe_others (text, self, findings);
  }
  return g_string_free (text, FALSE);
}

static gboolean
describe (void *data)
{
  SpChart *self = data;
  self->describe_source = 0;
  g_autofree char *text = sp_chart_description (self);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT,
                                  text, -1);
  return G_SOURCE_REMOVE;
}

void
sp_chart_describe_soon (SpChart *self)
{
  if (!self->describe_source)
    self->describe_source = g_timeout_add (DESCRIBE_MS, describe, self);
}
