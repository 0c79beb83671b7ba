/* chain-room.h - the chain's page opened on the sample, for the suites that work on it */
#pragma once

#include "tests/pages/room.h"

#include "ui/window/chain/chain-page-private.h"
#include "ui/window/chain/chain-page.h"

static SpChainPage *chain_page;

static inline void
open_chain (void)
{
  open_with (sp_chain_page_new);
  chain_page = SP_CHAIN_PAGE (page);
}

static inline SpChain *
chain (void)
{
  return sp_session_bench (session)->chain;
}

static inline void
choose_stage (int index)
{
  gtk_list_box_select_row (GTK_LIST_BOX (chain_page->list), gtk_list_box_get_row_at_index (GTK_LIST_BOX (chain_page->list), index));
  settle ();
  gtk_test_widget_wait_for_draw (page);
}
