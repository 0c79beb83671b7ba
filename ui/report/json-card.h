/* json-card.h - private to ui/report: what is wanted of a condition, and what is to be done now */
#pragma once

#include "core/findings/findings.h"
#include "ui/report/writer.h"

/* "wanted", "now" and "next" of a condition. */
void json_card (JsonBuilder *builder, const SpFindings *findings, guint condition);
