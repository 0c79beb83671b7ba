/* expected.c - an export takes the purpose that was said before it came */
#include "ui/window/import/expected.h"

gboolean
sp_import_take_expected (SpSession *session, SpProposal *to)
{
  SpExpects expects = sp_session_expects (session);
  const SpBench *bench = sp_session_bench (session);
  if (!expects.any)
    return FALSE;
  const SpCondition *condition = &bench->conditions[expects.condition];
  if (!g_str_equal (to->radio, bench->radios[condition->radio].name) || (*to->condition && !g_str_equal (to->condition, condition->name)))
    return FALSE;
  sp_proposal_aim (to, to->radio, condition->name);
  if (to->purpose == SP_PURPOSE_KEYED)
    to->purpose = expects.purpose;
  to->retake = to->retake || expects.retake;
  return TRUE;
}
