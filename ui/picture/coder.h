/* coder.h - pictures decoded, made small and drawn: core walks their parts, this room their pixels */
#pragma once

#include <cairo.h>

#include "core/picture/picture.h"

/* From here on the process reads pictures. Called once, before the first thread. */
void sp_picture_start (void);

/* The pixels, and of a JPEG its file too, which a PDF takes as it is. (transfer full) */
cairo_surface_t *sp_picture_surface (const SpPicture *picture);
