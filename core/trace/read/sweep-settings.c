/* sweep-settings.c - what a later table takes over from the first preamble, and the sweep that start, stop, center and span give */
#include "core/trace/read/preamble.h"

#include <math.h>

static void
inherit (double *value, double first)
{
  if (isnan (*value))
    *value = first;
}

void
sp_preamble_inherit (SpPreamble *preamble, const SpPreamble *first)
{
  SpSettings *settings = &preamble->settings;

  if (isnan (settings->reference_dbm))
    preamble->reference_bare = first->reference_bare;
  if (isnan (preamble->start_hz) && isnan (preamble->stop_hz) && isnan (preamble->center_hz) && isnan (preamble->span_hz)) {
    preamble->start_hz = first->start_hz;
    preamble->stop_hz = first->stop_hz;
    preamble->center_hz = first->center_hz;
    preamble->span_hz = first->span_hz;
    preamble->sweep_unit_said = first->sweep_unit_said;
  }
  inherit (&settings->rbw_hz, first->settings.rbw_hz);
  inherit (&settings->vbw_hz, first->settings.vbw_hz);
  inherit (&settings->attenuation_db, first->settings.attenuation_db);
  inherit (&settings->reference_dbm, first->settings.reference_dbm);
  inherit (&settings->sweep_time_s, first->settings.sweep_time_s);
  inherit (&settings->averages, first->settings.averages);
  if (settings->detector == SP_DETECTOR_UNKNOWN)
    settings->detector = first->settings.detector;
  if (settings->average == SP_AVERAGE_NONE)
    settings->average = first->settings.average;
  if (preamble->frequency_unit.kind == SP_UNIT_KIND_NONE)
    preamble->frequency_unit = first->frequency_unit;
  if (preamble->level_unit.kind == SP_UNIT_KIND_NONE && !preamble->level_unit_text)
    preamble->level_unit = first->level_unit;
}

void
sp_preamble_clear (SpPreamble *preamble)
{
  g_clear_pointer (&preamble->level_unit_text, g_free);
}

gboolean
sp_preamble_sweep (const SpPreamble *preamble, double *start_hz, double *stop_hz)
{
  *start_hz = preamble->start_hz;
  *stop_hz = preamble->stop_hz;
  if (!isnan (*start_hz) && !isnan (*stop_hz))
    return *stop_hz > *start_hz;
  *start_hz = preamble->center_hz - preamble->span_hz / 2;
  *stop_hz = preamble->center_hz + preamble->span_hz / 2;
  return *start_hz >= 0 && *stop_hz > *start_hz;
}
