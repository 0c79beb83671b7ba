/* json-second.h - what a second mask would have of a condition and of its emissions (private to JSON) */
#pragma once

#include "core/findings/findings.h"
#include "ui/report/writer.h"

/* "second" of a condition: mask, verdict, statement, gaps' number, and emissions that it alone looks for; null: it has none. */
void json_second (JsonBuilder *b, const SpFindings *findings, guint condition);
/* "second" of an emission; null where `second` is NULL, or does not look there. */
void json_second_emission (JsonBuilder *b, const SpConditionFindings *second, const SpEmission *emission);
