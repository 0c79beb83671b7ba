/* form-pictures.c - the pictures that a form shows */
#include "ui/window/dialogs/form-pictures.h"

#include "ui/window/import/import.h"

/* The radio; -1: the bench, or it is gone. */
static int
place_of (SpDialog *dialog)
{
  const SpCondition *condition = sp_dialog_condition (dialog);
  return condition ? (int) condition->radio : SP_PLACE_BENCH;
}

static const GArray *
get (gpointer dialog)
{
  const SpBench *bench = sp_session_bench (SP_DIALOG (dialog)->session);
  int radio = place_of (dialog);
  if (SP_DIALOG (dialog)->condition >= 0 && radio < 0)
    return NULL;
  return radio < 0 ? bench->pictures : bench->radios[radio].pictures;
}

static gboolean
set (gpointer dialog, const GArray *pictures, const char *label, GError **error)
{
  SpBench *bench = sp_bench_set_pictures (sp_session_bench (SP_DIALOG (dialog)->session), place_of (dialog), pictures, error);
  return bench && sp_dialog_edit (dialog, bench, g_strdup (label));
}

static void
take (gpointer dialog, GFile *file)
{
  sp_import_picture (dialog, SP_DIALOG (dialog)->session, file, place_of (dialog));
}

static void
tell (gpointer dialog, GError *error)
{
  sp_session_edit (SP_DIALOG (dialog)->session, NULL, "", error);
}

void
sp_form_pictures_begin (SpPictures *pictures, SpDialog *dialog)
{
  const SpPicturesOwner owner = { get, set, take, tell, dialog };
  sp_pictures_begin (pictures, &owner);
}
