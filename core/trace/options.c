#include "core/trace/trace.h"

#include <math.h>

void
sp_trace_options_init (SpTraceOptions *options)
{
  *options = (SpTraceOptions){ .start_hz = NAN, .stop_hz = NAN, .unit = -1, .unit_scale = 1 };
  sp_settings_init (&options->settings);
}

void
sp_trace_options_clear (SpTraceOptions *options)
{
  g_free (options->column);
  sp_trace_options_init (options);
}
