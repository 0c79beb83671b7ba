/* private.h - private to ui/paper: the writers */
#pragma once

#include "ui/paper/export.h"

GBytes *paper_to_pdf (const SpPaper *paper, SpPaperSize size, GError **error);
GBytes *paper_to_html (const SpPaper *paper, SpPaperSize size, GError **error);
