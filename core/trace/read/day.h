/* day.h - the day on which an export says that it was taken */
#pragma once

#include <glib.h>

/* Julian day (GDate) that a line before or among the first readings states behind a word for a date ("Date", "Datum", "Timestamp"); NaN where there is
 * none, or it can be read in two ways: 3/4/2026. Read: 2026-11-28, 2026/11/28, 20261128, 28.11.2026, 28 Nov 2026, Nov 28 2026, and with
 * strokes where one number is no month. Dates of a calibration, a version or a serial number are none. Of several lines the last
 * day counts: the sweep ended then. */
double sp_bytes_day (GBytes *bytes);
