/* expected.h - an export that somebody said something of before it came (SpExpects) */
#pragma once

#include "core/bench/proposals/propose.h"
#include "ui/window/session/session.h"

/* Takes what is expected into the proposal, where that goes to the condition it is expected for: the re-take, and the purpose unless
 * its name says one. FALSE: nothing is expected there. */
gboolean sp_import_take_expected (SpSession *session, SpProposal *to);
