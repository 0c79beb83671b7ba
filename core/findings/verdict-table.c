/* verdict-table.c - the verdict table: the decision rule as data */
#include "core/findings/verdict-table.h"

#define IS(fact) SP_FACT_##fact
#define ROW(row, yes, no, verdict, reason)                                                                                                 \
  {                                                                                                                                        \
    SP_ROW_##row, yes, no, SP_VERDICT_##verdict, SP_REASON_##reason                                                                        \
  }

/* by hand: a table that reads by its columns */
/* clang-format off */
static const SpVerdictEntry table[] = {
  /*   row                  must hold                       must not                       verdict       reason */
  ROW (NO_LIMIT,            0,                              IS (LIMIT) | IS (NEEDS_POWER), NO_LIMIT,     NO_NUMBER),
  ROW (NOT_SWEPT,           0,                              IS (SWEPT),                    NOT_PROVEN,   NOT_SWEPT),
  ROW (NOT_RESOLVED,        0,                              IS (RESOLVED),                 NOT_PROVEN,   NOT_RESOLVED),
  ROW (NO_POWER,            IS (NEEDS_POWER),               0,                             NOT_PROVEN,   NO_POWER),
  ROW (POWER_UNCALIBRATED,  0,                              IS (REFERRED),                 NOT_PROVEN,   OUTSIDE_CALIBRATION),
  ROW (GROSS_EXCESS,        IS (GROSS),                     IS (CALIBRATED),               EXCEEDS,      ABOVE_LIMIT),
  ROW (UNCALIBRATED,        0,                              IS (CALIBRATED),               NOT_PROVEN,   OUTSIDE_CALIBRATION),
  ROW (BLIND,               IS (BLIND),                     IS (SEEN),                     NOT_PROVEN,   UNDERSAMPLED),
  ROW (FLOOR_BELOW,         IS (FLOOR_BELOW),               IS (SEEN),                     COMPLIES,     FLOOR_BELOW_LIMIT),
  ROW (FLOOR_ABOVE,         0,                              IS (SEEN),                     NOT_PROVEN,   FLOOR_ABOVE_LIMIT),
  ROW (COARSE,              IS (COARSE),                    IS (OVER),                     NOT_PROVEN,   UNDERSAMPLED),
  ROW (LEVEL_BELOW,         IS (BELOW) | IS (LEVEL_BELOW),  0,                             COMPLIES,     BELOW_LIMIT),
  ROW (PART_BELOW,          IS (BELOW),                     0,                             COMPLIES,     RADIO_PART_BELOW),
  ROW (AMBIENT,             IS (AMBIENT),                   0,                             NOT_PROVEN,   AMBIENT_POSSIBLE),
  ROW (AMBIENT_IN_RADIO,    IS (AMBIENT_OPEN) | IS (RADIO), IS (OVER),                     INCONCLUSIVE, AMBIENT_PART),
  ROW (AMBIENT_PART,        IS (AMBIENT_OPEN),              IS (OVER),                     NOT_PROVEN,   AMBIENT_PART),
  ROW (UNTESTED,            IS (UNTESTED),                  0,                             NOT_PROVEN,   UNTESTED),
  ROW (PART_ABOVE,          IS (OVER),                      0,                             EXCEEDS,      ABOVE_LIMIT),
  ROW (BOUND_STRADDLES,     IS (BOUND_OPEN),                0,                             NOT_PROVEN,   BOUND_STRADDLES),
  ROW (WITHIN_UNCERTAINTY,  IS (RADIO) | IS (WITHIN_U),     0,                             INCONCLUSIVE, WITHIN_UNCERTAINTY),
  ROW (PART_STRADDLES,      IS (RADIO),                     0,                             INCONCLUSIVE, RADIO_PART_STRADDLES),
  ROW (ANALYZER_POSSIBLE,   0,                              0,                             NOT_PROVEN,   ANALYZER_POSSIBLE),
};
/* clang-format on */

const SpVerdictEntry *
sp_verdict_table (guint *n)
{
  *n = G_N_ELEMENTS (table);
  return table;
}

const SpVerdictEntry *
sp_verdict_of_facts (guint facts)
{
  const SpVerdictEntry *entry = table;
  while ((facts & entry->yes) != entry->yes || (facts & entry->no) != 0)
    entry++;
  return entry;
}

gboolean
sp_verdict_withholds (SpVerdictRow row)
{
  return row == SP_ROW_NOT_RESOLVED || row == SP_ROW_MORE_POWER || row == SP_ROW_NO_CARRIER;
}
