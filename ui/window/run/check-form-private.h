/* check-form-private.h - what the files of the analyzer's check share */
#pragma once

#include "core/check/check.h"
#include "ui/window/run/form-parts.h"
#include "ui/window/widgets/dialog.h"

#define SP_CHECK_FORM_KEYS 8
#define SP_CHECK_FORM_LEFT 6

enum { SP_CHECK_FREQUENCY, SP_CHECK_ATTENUATION, SP_CHECK_LEVEL, SP_CHECK_LEAD, SP_CHECK_SHOWS, SP_CHECK_CELLS };

#define SP_TYPE_CHECK_FORM (sp_check_form_get_type ())
G_DECLARE_FINAL_TYPE (SpCheckForm, sp_check_form, SP, CHECK_FORM, SpDialog)

/* A row of what is left, for its bar. */
typedef struct {
  SpCheckForm *form;
  guint left;
} SpCheckBar;

struct _SpCheckForm {
  SpDialog parent_instance;
  GtkWidget *key[SP_CHECK_FORM_KEYS];
  SpFormTable table;
  double chosen_hz, chosen_db; /* whose budget is shown; NaN: the first */
  char *leftover;              /* keys of a file that nobody knows, kept */
  SpCheck *check;
  SpAnalyzer *analyzer; /* the profile that it was worked out with */
  SpCheckResult *result;
  gboolean touched, restored;
  gboolean last; /* what was taken over stands there */
  guint changes; /* counted: what is read from a file does not take the place of what was typed meanwhile */
  guint effect_source;
  gboolean judging; /* aside, what it would do */
  gboolean wrong;   /* something cannot be read */
  GtkWidget *curve, *left_words[SP_CHECK_FORM_LEFT], *left_stated[SP_CHECK_FORM_LEFT], *left_u[SP_CHECK_FORM_LEFT],
      *left_bar[SP_CHECK_FORM_LEFT];
  SpCheckBar bar[SP_CHECK_FORM_LEFT];
  /* of the template */
  GtkWidget *heading, *keys, *cautions, *readings, *note, *sum, *budget, *reasons, *trouble, *curve_holder, *left, *effect, *sides,
      *curve_side, *result_box;
};

/* check-form.c */
void sp_check_form_compute (SpCheckForm *form);
void sp_check_form_typed (gpointer form);
/* The profile that the form is about; NULL: it is gone. */
SpAnalyzer *sp_check_form_analyzer (SpCheckForm *form);

/* check-form-rows.c */
void sp_check_form_set_up (SpCheckForm *form);
void sp_check_form_read (SpCheckForm *form, SpCheck *check);
void sp_check_form_show_rows (SpCheckForm *form);
const char *sp_check_form_key (guint i);

/* check-form-fill.c */
void sp_check_form_show (SpCheckForm *form, const SpCheck *check, gboolean touched);
/* Today, and what the profile's last check said; no readings. */
void sp_check_form_show_empty (SpCheckForm *form);
/* The check that was taken over last, as its readings stand in the profile; else as above. Returns why they cannot be shown; NULL. (transfer full) */
char *sp_check_form_show_last (SpCheckForm *form);
/* What was typed before. FALSE: nothing was. */
gboolean sp_check_form_restore (SpCheckForm *form);
void sp_check_form_keep_draft (SpCheckForm *form);
/* As it was taken over: shown again once that is undone. */
void sp_check_form_keep_taken (SpCheckForm *form);

/* check-form-result.c */
void sp_check_form_set_up_result (SpCheckForm *form);
void sp_check_form_show_result (SpCheckForm *form);

/* check-form-effect.c */
/* What taking it over would do, said once nobody types. */
void sp_check_form_ask_effect (SpCheckForm *form);
