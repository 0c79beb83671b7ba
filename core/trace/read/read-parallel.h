/* read-parallel.h - many exports at once, on as many threads as there are processors; what comes out does not depend on how many those are */
#pragma once

#include "core/trace/trace.h"

/* What became of one reference, "FILE?options": traces, or an error, or neither, where reading was given up before it. */
typedef struct {
  GPtrArray *traces; /* of SpTrace*; NULL: none */
  GError *error;
} SpTraceReading;

typedef enum {
  SP_MANY_ALL = 1 << 0,        /* where a reference names no column, all of them */
  SP_MANY_KEEP_GOING = 1 << 1, /* behind an error too */
  SP_MANY_OPERANDS = 1 << 2    /* the references are words of the command line: sp_trace_operand_parse() */
} SpMany;

/* Reads each reference as sp_trace_read_joined does, or with SP_MANY_ALL, where it names no column, as sp_trace_read_all. The readings stand in
 * the order of `references` (NULL-terminated). Unless SP_MANY_KEEP_GOING, the first error in that order ends the reading: all in front of it have
 * been read, those behind it may have been. (transfer full), of SpTraceReading* */
GPtrArray *sp_trace_read_many (const char *const *references, SpMany how);
