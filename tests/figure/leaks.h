/* leaks.h - what the leak sanitizer need not tell of a program that draws words; for its one source */
#pragma once

/* fontconfig keeps its patterns for good; the leak sanitizer need not tell us */
const char *__lsan_default_suppressions (void);
const char *
__lsan_default_suppressions (void)
{
  return "leak:libfontconfig\n";
}
