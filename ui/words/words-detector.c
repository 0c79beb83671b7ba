/* words-detector.c - a detector as people read it; files, options and JSON have sp_detector_name() */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>

/* The word for SP_DETECTOR_NORMAL in files means something else to whoever has not met such a display. */
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
