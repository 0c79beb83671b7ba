/* card-page.c - the card over the whole window, and its keys */
#include "ui/window/begin/card-page.h"

#include <glib/gi18n-lib.h>

#include "ui/window/widgets/drawing-area.h"

struct _SpCardPage {
  GtkWidget parent_instance;
  SpSession *session;
  GtkWidget *area;
  SpFindings *findings; /* that the card is of; NULL: there is none */
  SpCard *card;
  SpCardState state;
  GHashTable *cautioned; /* char*: radios whose cautions were read */
  gboolean careful;      /* they are asked for */
  char *came, *says;
};

G_DEFINE_FINAL_TYPE (SpCardPage, sp_card_page, GTK_TYPE_WIDGET)

static void
draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const SpCardPage *self = data;
  (void) width, (void) height;
  g_autoptr (SpPen) pen = sp_widget_pen (cr, TRUE); /* the room is dim, whatever the desktop is */
  SpRect rect = sp_widget_paper (GTK_WIDGET (area));
  SpCardView view = { self->findings, self->card, self->state, sp_session_judging (self->session), self->came };
  if (self->card) {
    sp_card_draw (pen, &view, &rect);
    return;
  }
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  sp_pen_box (pen, &rect);
}

/* ---- what is shown ---- */

static const char *
radio (const SpCardPage *self)
{
  const SpBench *bench = self->findings->bench;
  return bench->radios[bench->conditions[self->card->condition].radio].name;
}

static gboolean
is_cautioned (const SpCardPage *self)
{
  return g_hash_table_contains (self->cautioned, radio (self));
}

static SpCardState
state_of (const SpCardPage *self)
{
  SpExpects expects = sp_session_expects (self->session);
  if (!self->card)
    return SP_CARD_READY;
  if (expects.any && expects.condition == self->card->condition)
    return expects.retake ? SP_CARD_RETAKES : SP_CARD_WAITS;
  return !is_cautioned (self) && (self->careful || sp_card_keys (self->card)) ? SP_CARD_CAUTIONS : SP_CARD_READY;
}

static void
follow_state (SpCardPage *self)
{
  g_autofree char *card = NULL;
  self->state = state_of (self);
  if (self->card)
    card = sp_words_card (self->findings, self->card, self->state);
  g_free (self->says);
  self->says = g_strdup_printf ("%s %s", card ? card : _ ("The card is empty until a radio is judged."), self->came ? self->came : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, self->says, -1);
  gtk_widget_queue_draw (self->area);
}

/* While another bench is judged the last card stands, dimmed. */
static void
follow (SpCardPage *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  guint condition = sp_session_condition (self->session);
  gboolean known = findings && condition < findings->n;
  g_clear_pointer (&self->card, sp_card_free);
  g_clear_pointer (&self->findings, sp_findings_unref);
  if (known) {
    self->findings = sp_findings_ref (findings);
    self->card = sp_card_new (findings, condition);
  }
  follow_state (self);
}

/* ---- keys ---- */

static void
choose (SpCardPage *self, guint condition)
{
  self->careful = FALSE;
  sp_session_expect_nothing (self->session);
  sp_session_choose (self->session, condition, SP_DECIDING_EMISSION);
}

static void
do_now (SpCardPage *self)
{
  if (self->card->now < 0 && self->card->next >= 0)
    choose (self, (guint) self->card->next);
  else if (self->card->now < 0 || sp_card_forbids (self->card))
    gtk_widget_error_bell (GTK_WIDGET (self));
  else
    sp_session_expect (self->session, self->card->condition, sp_wanted_purpose (self->card->wanted[self->card->now].kind), FALSE);
}

/* What is not current yet asks for nothing. */
static gboolean
is_current (SpCardPage *self)
{
  return self->card && !sp_session_judging (self->session) && self->findings->bench == sp_session_bench (self->session);
}

static void
keyed (GtkWidget *widget, const char *action, GVariant *nothing)
{
  SpCardPage *self = SP_CARD_PAGE (widget);
  (void) action, (void) nothing;
  if (!is_current (self))
    return;
  switch (self->state) {
  case SP_CARD_CAUTIONS:
    g_hash_table_add (self->cautioned, g_strdup (radio (self)));
    self->careful = FALSE;
    follow_state (self);
    break;
  case SP_CARD_WAITS:
  case SP_CARD_RETAKES: sp_session_expect_nothing (self->session); break;
  case SP_CARD_READY: do_now (self); break;
  }
}

static void
again (GtkWidget *widget, const char *action, GVariant *nothing)
{
  SpCardPage *self = SP_CARD_PAGE (widget);
  (void) action, (void) nothing;
  if (!is_current (self) || self->state != SP_CARD_READY)
    return;
  gboolean keys = self->card->last != SP_PURPOSE_UNKEYED;
  if (!self->card->again) {
    gtk_widget_error_bell (widget);
  } else if (keys && !is_cautioned (self)) {
    self->careful = TRUE;
    follow_state (self);
  } else {
    sp_session_expect (self->session, self->card->condition, self->card->last, TRUE);
  }
}

static void
turn (GtkWidget *widget, const char *action, GVariant *nothing)
{
  SpCardPage *self = SP_CARD_PAGE (widget);
  (void) nothing;
  if (!self->card)
    return;
  guint n = self->findings->n, step = g_str_has_suffix (action, "next") ? 1 : n - 1;
  choose (self, (self->card->condition + step) % n);
}

/* ---- the widget ---- */

static void
sp_card_page_dispose (GObject *object)
{
  SpCardPage *self = SP_CARD_PAGE (object);
  g_clear_pointer (&self->area, gtk_widget_unparent);
  g_clear_pointer (&self->card, sp_card_free);
  g_clear_pointer (&self->findings, sp_findings_unref);
  g_clear_pointer (&self->cautioned, g_hash_table_unref);
  g_clear_pointer (&self->came, g_free);
  g_clear_pointer (&self->says, g_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (sp_card_page_parent_class)->dispose (object);
}

static void
sp_card_page_class_init (SpCardPageClass *klass)
{
  static const struct {
    const char *action;
    GtkWidgetActionActivateFunc run;
    guint keys[2];
  } actions[] = { { "card.keyed", keyed, { GDK_KEY_space, GDK_KEY_KP_Space } },
                  { "card.again", again, { GDK_KEY_r, GDK_KEY_R } },
                  { "card.next", turn, { GDK_KEY_Right, GDK_KEY_KP_Right } },
                  { "card.previous", turn, { GDK_KEY_Left, GDK_KEY_KP_Left } } };
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = sp_card_page_dispose;
  gtk_widget_class_set_layout_manager_type (widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget, GTK_ACCESSIBLE_ROLE_STATUS);
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++) {
    gtk_widget_class_install_action (widget, actions[i].action, NULL, actions[i].run);
    for (guint k = 0; k < G_N_ELEMENTS (actions[i].keys); k++)
      gtk_widget_class_add_binding_action (widget, actions[i].keys[k], 0, actions[i].action, NULL);
  }
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Escape, 0, "win.card", NULL);
}

static void
sp_card_page_init (SpCardPage *self)
{
  self->cautioned = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->area = gtk_drawing_area_new ();
  gtk_widget_set_parent (self->area, GTK_WIDGET (self));
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->area), draw, self, NULL);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
}

GtkWidget *
sp_card_page_new (SpSession *session)
{
  SpCardPage *self = g_object_new (SP_TYPE_CARD_PAGE, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::judging", G_CALLBACK (follow_state), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::expects", G_CALLBACK (follow_state), self, G_CONNECT_SWAPPED);
  follow (self);
  return GTK_WIDGET (self);
}

void
sp_card_page_set_came (SpCardPage *self, const char *came)
{
  g_free (self->came);
  self->came = g_strdup (came);
  follow_state (self);
}

SpCardState
sp_card_page_state (const SpCardPage *self)
{
  return self->state;
}

const char *
sp_card_page_says (const SpCardPage *self)
{
  return self->says;
}
