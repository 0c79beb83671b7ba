/* window-card.c - the card over the whole window: shown, and left by whatever turns to a page */
#include "ui/window/shell/window-private.h"

#include <glib/gi18n-lib.h>

#include "ui/window/begin/card-page.h"
#include "ui/window/import/watch-bar.h"

static gboolean
is_on_show (SpWindow *self)
{
  return self->card && sp_window_page_on_show (self) == self->card;
}

/* Title and folder's bar stand on the card itself. What is expected is the card's: nobody sees it elsewhere. */
static void
follow_page (SpWindow *self)
{
  gboolean shown = is_on_show (self);
  gtk_widget_set_visible (gtk_window_get_titlebar (GTK_WINDOW (self)), !shown);
  if (self->watch_bar)
    gtk_widget_set_visible (self->watch_bar, !shown);
  if (!shown)
    sp_session_expect_nothing (self->session);
}

static void
show_came (SpWindow *self)
{
  if (!self->card)
    return;
  const char *came = self->watch_bar ? sp_watch_says (sp_watch_bar_watch (SP_WATCH_BAR (self->watch_bar)))
                                     : _ ("No folder is watched (Ctrl+Shift+W): bring the file in with Ctrl+I.");
  sp_card_page_set_came (SP_CARD_PAGE (self->card), came);
}

void
sp_window_card_follow_watch (SpWindow *self)
{
  if (self->watch_bar) {
    g_signal_connect_object (sp_watch_bar_watch (SP_WATCH_BAR (self->watch_bar)), "changed", G_CALLBACK (show_came), self,
                             G_CONNECT_SWAPPED);
    gtk_widget_set_visible (self->watch_bar, !is_on_show (self));
  }
  show_came (self);
}

static void
make_card (SpWindow *self)
{
  self->card = sp_card_page_new (self->session);
  gtk_stack_add_named (GTK_STACK (self->pages), self->card, "card"); /* without a title: no tab */
  g_signal_connect_object (self->pages, "notify::visible-child", G_CALLBACK (follow_page), self, G_CONNECT_SWAPPED);
  show_came (self);
}

void
sp_window_card (GtkWidget *widget, const char *action, GVariant *nothing)
{
  SpWindow *self = SP_WINDOW (widget);
  (void) action, (void) nothing;
  if (is_on_show (self)) {
    gtk_widget_activate_action (widget, "win.page", "s", self->before_card);
    return;
  }
  if (sp_session_bench (self->session)->n_conditions == 0) {
    sp_session_trouble (self->session, _ ("There is no radio to put on a card."), _ ("Add one (Ctrl+Shift+N)."));
    return;
  }
  if (!self->card)
    make_card (self);
  sp_window_leave_help (self);
  self->before_card = g_intern_string (gtk_stack_get_visible_child_name (GTK_STACK (self->pages)));
  gtk_stack_set_visible_child (GTK_STACK (self->pages), self->card);
  gtk_widget_grab_focus (self->card);
}
