/* stage-file.c - reads a stage's loss from points, a two-port file or a run, and collects its warnings */
#include "core/chain/chain-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/curve/points.h"
#include "core/quantity/file.h"
#include "core/quantity/text.h"

/* -20 lg|S21| on the file's grid, without a point at 0 Hz, which a curve over log f cannot hold; the S-parameters keep it. */
static SpCurve *
loss_from_two_port (SpCurveKind kind, const SpTwoPort *two_port, GError **error)
{
  guint skip = two_port->n > 1 && two_port->frequency_hz[0] == 0 ? 1 : 0;
  g_autofree double *loss = g_new (double, two_port->n);
  for (guint i = skip; i < two_port->n; i++)
    loss[i] = -20 * log10 (cabs (two_port->s21[i]));
  return sp_curve_new (kind, two_port->n - skip, two_port->frequency_hz + skip, loss + skip, NULL, NULL, error);
}

static SpTwoPort *
read_two_port (SpKeyFile *file, SpGroup *group, const SpKey *key, GError **error)
{
  g_autofree char *path = sp_key_file_resolve (file, key->value);
  if (sp_file_is_missing (path)) {
    g_autofree char *excerpt = sp_excerpt_path (path);
    sp_key_fail (file, group, key, 0, error,
                 _ ("there is no file “%s”; expected a two-port Touchstone file, named from this "
                    "file's folder"),
                 excerpt);
    return NULL;
  }
  return sp_two_port_read (path, error);
}

static gboolean
parse_touchstone (SpStage *stage, SpCurveKind kind, SpKeyFile *file, SpGroup *group, const SpKey *key, const SpTwoPorts *two_ports,
                  GError **error)
{
  stage->touchstone = g_strdup (key->value);
  stage->two_port = two_ports ? two_ports->find (two_ports->data, key->value, error) : read_two_port (file, group, key, error);
  if (!stage->two_port)
    return FALSE;
  g_autoptr (GError) why = NULL;
  stage->loss = loss_from_two_port (kind, stage->two_port, &why);
  return stage->loss || sp_key_fail (file, group, key, 0, error, _ ("no loss can be taken from it: %s"), why->message);
}

static SpRun *
read_run (SpKeyFile *file, SpGroup *group, const SpKey *key, GError **error)
{
  g_autofree char *path = sp_key_file_resolve (file, key->value);
  if (sp_file_is_missing (path)) {
    g_autofree char *excerpt = sp_excerpt_path (path);
    sp_key_fail (file, group, key, 0, error, _ ("there is no file “%s”; expected a substitution run, named from this file's folder"),
                 excerpt);
    return NULL;
  }
  return sp_run_read (path, error);
}

/* Takes the run's result as the stage's curve, and its other values if the stage does not state them. */
static gboolean
parse_run (SpStage *stage, SpCurveKind kind, SpKeyFile *file, SpGroup *group, const SpKey *key, const SpTwoPorts *two_ports, GError **error)
{
  g_autoptr (GError) why = NULL;
  stage->run_name = g_strdup (key->value);
  if (two_ports && !two_ports->find_run)
    return sp_key_fail (file, group, key, 0, error, _ ("a run cannot be named here; expected points"));
  stage->run = two_ports ? two_ports->find_run (two_ports->data, key->value, error) : read_run (file, group, key, error);
  if (!stage->run)
    return FALSE;
  g_autoptr (SpRunResult) result = sp_run_result (stage->run, NAN);
  if (result->missing->len > 0)
    return sp_key_fail (file, group, key, 0, error,
                        _ ("at %.15g Hz the run gives no loss from %g to %g dB: are reference and inserted exchanged?"),
                        ((SpReason *) result->missing->pdata[0])->RUN_WANTS.at_hz, SP_STAGE_LOSS_LOW_DB, SP_STAGE_LOSS_HIGH_DB);
  stage->loss = sp_run_curve (result, kind, &why);
  if (!stage->loss)
    return sp_key_fail (file, group, key, 0, error, _ ("no loss can be taken from it: %s"), why->message);
  stage->loss_dof = g_new (double, result->n);
  for (guint i = 0; i < result->n; i++)
    stage->loss_dof[i] = result->points[i].sum.dof;
  stage->common_u_db = result->points[0].common_u_db;
  stage->calibrated_day = stage->run->day;
  stage->temperature_c = stage->run->temperature_c;
  stage->vswr = stage->run->stage_vswr ? sp_curve_ref (stage->run->stage_vswr) : NULL;
  return TRUE;
}

gboolean
sp_stage_read_loss (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error)
{
  SpStage *stage = object;
  const SpTwoPorts *two_ports = context;
  int kind = SP_CURVE_LINEAR;
  if (!sp_group_choice (file, group, spec->key, spec->words, &kind, error))
    return FALSE;
  const SpKey *touchstone = sp_group_find (group, "touchstone"), *run = sp_group_find (group, "run");
  SpCurveFormat format = { kind, _ ("a loss in dB"), SP_STAGE_LOSS_LOW_DB, SP_STAGE_LOSS_HIGH_DB, TRUE, FALSE };
  if (!sp_group_curve (file, group, "points", &format, &stage->loss, error))
    return FALSE;
  if (stage->loss && (touchstone || run))
    return sp_key_fail (file, group, touchstone ? touchstone : run, 0, error, _ ("this stage has points too; keep one of the two"));
  if (touchstone && run)
    return sp_key_fail (file, group, run, 0, error, _ ("this stage has a touchstone file too; keep one of the two"));
  if (run)
    return parse_run (stage, kind, file, group, run, two_ports, error);
  return !touchstone || parse_touchstone (stage, kind, file, group, touchstone, two_ports, error);
}

static gboolean
lacks_u (const SpStage *stage)
{
  if (!isnan (stage->u_db))
    return FALSE;
  if (!stage->loss)
    return isnan (stage->label_tolerance_db);
  for (guint i = 0; i < stage->loss->n; i++)
    if (isnan (stage->loss->u[i]))
      return TRUE;
  return FALSE;
}

void
sp_stage_warn (const SpStage *stage, GPtrArray *warnings)
{
  const char *name = stage->name;
  g_autoptr (SpRunResult) result = stage->run ? sp_run_result (stage->run, NAN) : NULL;
  if (result)
    sp_reasons_extend (warnings, result->warnings);
  if (!stage->loss && !isnan (stage->label_db))
    sp_reasons_add (warnings,
                    sp_reason (LABEL_USED, .stage = name, .label_db = stage->label_db, .tolerance_db = stage->label_tolerance_db));
  if (!stage->loss && (isnan (stage->label_db) || isnan (stage->label_tolerance_db) || isnan (stage->span_low_hz)))
    sp_reasons_add (warnings, sp_reason (NOT_CALIBRATED, .stage = name, .label_db = stage->label_db));
  if (lacks_u (stage))
    sp_reasons_add (warnings, sp_reason (U_ASSUMED, .what = "loss", .of = name, .assumed_db = SP_POINT_U_ASSUMED_DB));
  if (!stage->vswr && !stage->two_port)
    sp_reasons_add (warnings, sp_reason (VSWR_ASSUMED, .of = name, .vswr = SP_VSWR_ASSUMED));
  if (isnan (stage->rating_w) && stage->derating->len == 0)
    sp_reasons_add (warnings, sp_reason (RATING_MISSING, .place = name));
}
