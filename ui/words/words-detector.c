/* words-detector.c - a detector as people read it; files, options and JSON have sp_detector_name() */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>

/* The word for SP_DETECTOR_NORMAL in files means something else to whoever has not met such a display. */
static const char *const detectors[] = { NULL,
                                         NC_ ("detector", "peak"),
                                         NC_ ("detector", "sample"),
                                         NC_ ("detector", "rms"),
                                         NC_ ("detector", "average"),
                                         NC_ ("detector", "negative"),
                                         NC_ ("detector", "greatest and least in turn"),
                                         NC_ ("detector", "quasi-peak") };

const char *
sp_words_of_detector (SpDetector detector)
{
  const char *word = (guint) detector < G_N_ELEMENTS (detectors) ? detectors[detector] : NULL;
  return word ? g_dpgettext2 (GETTEXT_PACKAGE, "detector", word) : NULL;
}
