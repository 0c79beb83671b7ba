/* words-detector.c - the displayed name of a detector; files, options and JSON use sp_detector_name() */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>

/* The file's word for SP_DETECTOR_NORMAL is misleading for users who do not know such displays. */
const char *const sp_detector_words[] = { NC_ ("detector", "not said"),
                                          NC_ ("detector", "peak"),
                                          NC_ ("detector", "sample"),
                                          NC_ ("detector", "rms"),
                                          NC_ ("detector", "average"),
                                          NC_ ("detector", "negative"),
                                          NC_ ("detector", "greatest and least in turn"),
                                          NC_ ("detector", "quasi-peak"),
                                          NULL };

const char *
sp_words_of_detector (SpDetector detector)
{
  return detector == SP_DETECTOR_UNKNOWN ? NULL : g_dpgettext2 (GETTEXT_PACKAGE, "detector", sp_detector_words[detector]);
}
