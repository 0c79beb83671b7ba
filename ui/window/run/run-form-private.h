/* run-form-private.h - what the files of the run's form share */
#pragma once

#include "core/run/run.h"
#include "ui/window/run/form-parts.h"
#include "ui/window/session/chain-edit.h"
#include "ui/window/widgets/dialog.h"

#define SP_RUN_FORM_KEYS 19

enum { SP_RUN_FREQUENCY, SP_RUN_BEFORE, SP_RUN_INSERTED, SP_RUN_AFTER, SP_RUN_CELLS };

#define SP_TYPE_RUN_FORM (sp_run_form_get_type ())
G_DECLARE_FINAL_TYPE (SpRunForm, sp_run_form, SP, RUN_FORM, SpDialog)

struct _SpRunForm {
  SpDialog parent_instance;
  SpChainPlace place;
  char *chain, *stage; /* whose run, by name; they may be gone by now */
  char *leftover;      /* keys of a file that nobody knows, kept */
  GtkWidget *key[SP_RUN_FORM_KEYS];
  SpFormTable table;
  double chosen_hz; /* whose budget is shown; NaN: the first */
  SpRun *run;
  SpRunResult *result;
  gboolean touched;      /* something was typed that is not in the stage */
  guint changes;         /* counted: what is read from a file does not take the place of what was typed meanwhile */
  gboolean restored;     /* what was typed before is shown */
  guint run_n, points_n; /* the stage's run, its points, where it has more of them than can be shown; else 0 */
  gboolean wrong;        /* something cannot be read */
  /* of the template */
  GtkWidget *heading, *keys, *cautions, *readings, *note, *sum, *budget, *reasons, *trouble;
};

/* run-form.c */
void sp_run_form_compute (SpRunForm *form);
/* Something was typed. */
void sp_run_form_typed (SpRunForm *form);

/* run-form-draft.c */
/* For the time when it is neither taken nor dropped; forgets it where nothing was typed. */
void sp_run_form_keep_draft (SpRunForm *form);
/* As it was taken over: shown again once that is undone. */
void sp_run_form_keep_taken (SpRunForm *form);
/* Fills the form, whose rows are cleared. FALSE: there is none, or the stage has what was taken of it. */
gboolean sp_run_form_show_draft (SpRunForm *form);

/* run-form-fill.c */
void sp_run_form_show_run (SpRunForm *form, const SpRun *run, gboolean touched);
/* The stage's run, or what a new one begins with. */
void sp_run_form_show_stage (SpRunForm *form);
/* What was typed before. FALSE: nothing was. */
gboolean sp_run_form_restore (SpRunForm *form);

/* run-form-keys.c */
void sp_run_form_add_keys (SpRunForm *form);
const char *sp_run_form_key (guint i);
void sp_run_form_read_keys (SpRunForm *form, SpRun *run);

/* run-form-readings.c */
void sp_run_form_set_up_table (SpRunForm *form);
void sp_run_form_read_rows (SpRunForm *form, SpRun *run);
/* Loss and U beside the readings. */
void sp_run_form_show_rows (SpRunForm *form);

/* run-form-result.c */
void sp_run_form_show_result (SpRunForm *form);
