/* setting.c - settings as plain values */
#include "core/plan/plan.h"

#include <math.h>

double
sp_setting_spacing_hz (const SpSetting *setting)
{
  return (setting->stop_hz - setting->start_hz) / setting->parts / (setting->points - 1);
}

SpSetting
sp_setting_of_trace (const SpTrace *trace)
{
  const SpSettings *s = &trace->settings;
  return (SpSetting){ .rbw_hz = s->rbw_hz,
                      .attenuation_db = s->attenuation_db,
                      .start_hz = trace->frequency_hz[0],
                      .stop_hz = trace->frequency_hz[trace->n - 1],
                      .points = (double) trace->n,
                      .parts = 1,
                      .detector = s->detector,
                      .average = s->average,
                      .averages = isnan (s->averages) ? 1 : s->averages,
                      .hold = s->hold };
}
