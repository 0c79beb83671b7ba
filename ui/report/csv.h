/* csv.h - the points of traces as comma-separated text
 *
 * `frequency_hz,level_dbm`, ascending, shortest digits that read back equal; traces one after another, each under its header, a blank
 * line between. (transfer full)
 */
#pragma once

#include "core/trace/trace.h"

char *sp_csv_traces (GPtrArray *traces);
