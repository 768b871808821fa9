/* SPDX-License-Identifier: MIT */
/* Why: the ids of plan.h's vocabularies, from the lists that make the enums. */
#include "model/plan.h"

#define PLAN_TEXT(name, id) id,
#define PLAN_TABLE(table, what, list)                                                              \
    static const char *const table##_text[] = {list(PLAN_TEXT)};                                   \
    const struct id_table table = {what, table##_text, sizeof table##_text / sizeof *table##_text}

PLAN_TABLE(day_reason_ids, "reason of a day's credit", DAY_REASON_LIST);
PLAN_TABLE(hour_class_ids, "what an hour counted", HOUR_CLASS_LIST);
PLAN_TABLE(hour_why_ids, "why an hour counted so", HOUR_WHY_LIST);
PLAN_TABLE(hour_rest_ids, "what a temperature rests on", HOUR_REST_LIST);
PLAN_TABLE(reason_ids, "reason", REASON_LIST);
PLAN_TABLE(basis_ids, "basis of a figure", BASIS_LIST);
PLAN_TABLE(bag_state_ids, "state of a bag", BAG_STATE_LIST);
PLAN_TABLE(caution_ids, "caution", CAUTION_LIST);
PLAN_TABLE(gate_state_ids, "state of a gate", GATE_STATE_LIST);
PLAN_TABLE(gate_rule_ids, "rule of a gate", GATE_RULE_LIST);
PLAN_TABLE(gate_class_ids, "gate", GATE_CLASS_LIST);
PLAN_TABLE(measure_id_ids, "measure", MEASURE_ID_LIST);
PLAN_TABLE(tonight_ids, "thing due before the night", TONIGHT_LIST);
