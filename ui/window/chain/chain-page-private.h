/* chain-page-private.h - what the files of the chain's page share */
#pragma once

#include <gtk/gtk.h>

#include "core/bench/edit/edit.h"
#include "core/findings/findings.h"
#include "ui/window/session/chain-edit.h"
#include "ui/window/session/session.h"
#include "ui/window/widgets/fields.h"
#include "ui/window/widgets/pictures.h"

#define SP_TYPE_CHAIN_PAGE (sp_chain_page_get_type ())
G_DECLARE_FINAL_TYPE (SpChainPage, sp_chain_page, SP, CHAIN_PAGE, GtkWidget)

struct _SpChainPage {
  GtkWidget parent_instance;
  SpSession *session;
  SpChainPlace place;      /* where the chain that is shown is used: follows the chosen condition until another place is chosen */
  SpChain *chain;          /* what is there; NULL: none on this bench */
  GArray *place_list;      /* of SpChainPlace, as the drop-down has them */
  guint stage;             /* the chosen one */
  char *shown;             /* whose values the forms hold: what is typed for one stage never stays in another's */
  gboolean filling;        /* the list is being filled: its selection is not the user's */
  gboolean filling_places; /* likewise the drop-down */
  GListStore *points;      /* of SpPoint: rows of the chosen stage */
  GtkSingleSelection *points_selection;
  guint points_source;
  GActionMap *actions;
  GtkWidget *curve, *chain_fields, *stage_fields;
  /* of the template */
  GtkWidget *whole, *chain_name, *places, *list, *analyzer_line, *add_button, *chain_holder, *stage_name, *curve_holder, *points_view,
      *points_trouble, *points_buttons, *run_buttons, *stage_holder, *totals;
  SpPictures *pictures; /* of the stage */
};

/* chain-page.c */
/* One undoable edit of the chain; FALSE and an error: nothing has changed. `edited` (transfer full) may be NULL with `error` set. */
gboolean sp_chain_page_edit (SpChainPage *self, SpChain *edited, const char *label);
const SpStage *sp_chain_page_stage (SpChainPage *self); /* NULL: none */
gboolean sp_chain_page_has_points (SpChainPage *self);  /* that can be edited */
/* After the bench, the condition or the place has changed. */
void sp_chain_page_follow_chain (SpChainPage *self);
/* Chooses a stage and shows all of it. */
void sp_chain_page_choose (SpChainPage *self, guint stage);

/* chain-page-places.c: which chain */
void sp_chain_page_set_up_places (SpChainPage *self);
void sp_chain_page_fill_places (SpChainPage *self);
/* Is it the chosen condition's, which the findings speak of? */
gboolean sp_chain_page_in_use (SpChainPage *self);

/* chain-page-stages.c: the list with its rows, moved by keys, buttons and drag */
void sp_chain_page_set_up_stages (SpChainPage *self);
void sp_chain_page_fill_stages (SpChainPage *self);

/* chain-page-points.c: the measured points of the chosen stage */
void sp_chain_page_set_up_points (SpChainPage *self);
void sp_chain_page_fill_points (SpChainPage *self);
/* FALSE: it cannot be edited, or what is wrong is said below the table. */
gboolean sp_chain_page_edit_point (SpChainPage *self, guint row, guint column, const char *text);

/* chain-page-cells.c: their table, whose cells are edited in place */
enum { SP_POINT_FREQUENCY, SP_POINT_LOSS, SP_POINT_U, SP_POINT_TEXTS };

#define SP_TYPE_POINT (sp_point_get_type ())
G_DECLARE_FINAL_TYPE (SpPoint, sp_point, SP, POINT, GObject)

/* A row. Its signal "changed": it holds other texts. */
struct _SpPoint {
  GObject parent_instance;
  char *text[SP_POINT_TEXTS]; /* as the file spells them */
  char *off_label;            /* for people */
};

void sp_chain_page_add_point_columns (SpChainPage *self);

/* chain-page-files.c: what a stage takes from files, the run's form and the shelf */
void sp_chain_page_set_up_files (SpChainPage *self);

/* chain-page-lines.c */
/* Lines `frequency loss u` as the value of the key "points", sorted; NULL where a line does not begin with a frequency. (transfer full) */
char *sp_points_from_lines (const char *lines, GError **error);

/* chain-page-fields.c: the keys of chain and stage */
void sp_chain_page_set_up_fields (SpChainPage *self);

/* chain-page-totals.c: what the findings say of the chain at the chosen condition */
const SpConditionFindings *sp_chain_page_found (SpChainPage *self); /* NULL: none yet */
void sp_chain_page_fill_totals (SpChainPage *self);
