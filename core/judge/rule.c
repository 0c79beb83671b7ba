/* rule.c - the table of rule.h */
#include "core/judge/rule.h"

#define IS(fact) SP_FACT_##fact

/* clang-format off */
static const SpRuleLine table[] = {
  /* row                           must hold                       must not                       verdict */
  { SP_ROW_NO_LIMIT,               0,                              IS (LIMIT) | IS (NEEDS_POWER), SP_VERDICT_NO_LIMIT },
  { SP_ROW_NOT_SWEPT,              0,                              IS (SWEPT),                    SP_VERDICT_NOT_PROVEN },
  { SP_ROW_NOT_RESOLVED,           0,                              IS (RESOLVED),                 SP_VERDICT_NOT_PROVEN },
  { SP_ROW_NO_POWER,               IS (NEEDS_POWER),               0,                             SP_VERDICT_NOT_PROVEN },
  { SP_ROW_CARRIER_UNCALIBRATED,   0,                              IS (REFERRED),                 SP_VERDICT_NOT_PROVEN },
  { SP_ROW_GROSS_EXCESS,           IS (GROSS),                     IS (CALIBRATED),               SP_VERDICT_EXCEEDS },
  { SP_ROW_UNCALIBRATED,           0,                              IS (CALIBRATED),               SP_VERDICT_NOT_PROVEN },
  { SP_ROW_BLIND,                  IS (BLIND),                     IS (SEEN),                     SP_VERDICT_NOT_PROVEN },
  { SP_ROW_FLOOR_BELOW,            IS (FLOOR_BELOW),               IS (SEEN),                     SP_VERDICT_COMPLIES },
  { SP_ROW_FLOOR_ABOVE,            0,                              IS (SEEN),                     SP_VERDICT_NOT_PROVEN },
  { SP_ROW_COARSE,                 IS (COARSE),                    IS (OVER),                     SP_VERDICT_NOT_PROVEN },
  { SP_ROW_PART_BELOW,             IS (BELOW),                     0,                             SP_VERDICT_COMPLIES },
  { SP_ROW_AMBIENT,                IS (AMBIENT),                   0,                             SP_VERDICT_NOT_PROVEN },
  { SP_ROW_AMBIENT_IN_RADIO,       IS (AMBIENT_OPEN) | IS (RADIO), IS (OVER),                     SP_VERDICT_INCONCLUSIVE },
  { SP_ROW_AMBIENT_PART,           IS (AMBIENT_OPEN),              IS (OVER),                     SP_VERDICT_NOT_PROVEN },
  { SP_ROW_UNTESTED,               IS (UNTESTED),                  0,                             SP_VERDICT_NOT_PROVEN },
  { SP_ROW_PART_ABOVE,             IS (OVER),                      0,                             SP_VERDICT_EXCEEDS },
  { SP_ROW_BOUND_STRADDLES,        IS (BOUND_OPEN),                0,                             SP_VERDICT_NOT_PROVEN },
  { SP_ROW_PART_STRADDLES,         IS (RADIO),                     0,                             SP_VERDICT_INCONCLUSIVE },
  { SP_ROW_ANALYZER_POSSIBLE,      0,                              0,                             SP_VERDICT_NOT_PROVEN },
};
/* clang-format on */

const SpRuleLine *
sp_rule_table (guint *n)
{
  *n = G_N_ELEMENTS (table);
  return table;
}

const SpRuleLine *
sp_rule_decide (guint facts)
{
  const SpRuleLine *rule = table;
  while ((facts & rule->yes) != rule->yes || (facts & rule->no) != 0)
    rule++;
  return rule;
}
