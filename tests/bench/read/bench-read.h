/* bench-read.h - the two sides that are timed in one process */
#pragma once

/* Returns something that depends on all it read, so that nothing can be left out. */
double bench_probe (const char *path);
/* Frees it, outside the time taken. */
void bench_probe_free (void);
