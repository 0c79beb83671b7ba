/* job.h - how far the job has come: its eight steps, each open until nothing is left of it
 *
 * Worked out of the bench and its findings alone, so the same everywhere. In order of the work; a step may be done before another.
 */
#pragma once

#include "core/findings/findings.h"

typedef enum {
  SP_JOB_CHAIN,    /* every stage has a loss, if only that of its label; here and below, those of steps and notched sweeps too */
  SP_JOB_SAFE,     /* every stage and analyzer states what it takes, and no radio exceeds it */
  SP_JOB_LOSSES,   /* every stage is measured */
  SP_JOB_ANALYZER, /* every analyzer states noise, accuracy and flatness, and every radio has a mask */
  SP_JOB_SWEEPS,   /* every condition has a keyed sweep, and there is one */
  SP_JOB_WHOSE,    /* no verdict is open because nobody knows whose an emission is */
  SP_JOB_VERDICTS, /* no verdict is open */
  SP_JOB_PAPER,    /* a report was handed out */
  SP_JOB_STEPS
} SpJobStep;

typedef struct {
  gboolean done[SP_JOB_STEPS];
  /* How many stages, analyzers, conditions or emissions keep it open: 0 where it is done, and where nothing can be told yet */
  guint open[SP_JOB_STEPS];
  guint n_done;
  int next;       /* the first step that is not done; -1: all are */
  gboolean begun; /* a sweep is in the bench */
} SpJob;

/* findings: the bench's; NULL, or those of another bench: not judged yet, so that no step that asks them is done. handed_out: a report of this very bench was
 * written (what the bench cannot know). */
SpJob sp_job (const SpBench *bench, const SpFindings *findings, gboolean handed_out);
/* The first stage of a chain that keeps a step open; -1: none does, or the step is not about stages. */
int sp_job_stage (const SpChain *chain, SpJobStep step);
/* The first condition, and in it the emission, that keeps SP_JOB_WHOSE or SP_JOB_VERDICTS open. FALSE: none does. *emission -1: no emission decides on it. */
gboolean sp_job_place (const SpFindings *findings, SpJobStep step, guint *condition, int *emission);
