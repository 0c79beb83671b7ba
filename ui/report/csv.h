/* csv.h - writes the points of traces as comma-separated text
 *
 * `frequency_hz,level_dbm`, ascending, with the fewest digits that read back equal. Traces follow each other, each with its header,
 * separated by a blank line. (transfer full)
 */
#pragma once

#include "core/trace/trace.h"

char *sp_csv_traces (GPtrArray *traces);
