/* write.h - a bench as a sheet's text, for whoever reads it again; and finished, its hash being made of that text */
#pragma once

#include "core/bench/sheet/sheet.h"

/* Collects the warnings and works out the hash: from here on the bench is a value. */
void sp_bench_finish (SpBench *bench);
/* sp_bench_sheet_text(); `apart`: each condition has its own group, even where its radio's could hold its keys. */
char *sp_bench_write (const SpBench *bench, gboolean apart, SpResourceName name, gpointer data);
/* The names of the groups in that text. (transfer full) */
char *sp_radio_heading (const SpRadio *radio);
char *sp_condition_heading (const SpBench *bench, const SpCondition *condition);
