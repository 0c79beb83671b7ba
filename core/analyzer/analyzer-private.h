/* analyzer-private.h - what the files of this folder share */
#pragma once

#include "core/analyzer/analyzer.h"

/* A U_ASSUMED for each limit of error that the profile does not state (what is taken instead: common practice, no source). */
void sp_analyzer_warn_assumed (const SpAnalyzer *analyzer);
