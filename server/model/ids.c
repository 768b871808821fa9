/* SPDX-License-Identifier: MIT */
/* Why: see ids.h. The tables are generated from the same lists as the enums. */
#include "model/ids.h"

#include <string.h>

#include "base/status.h"

#define IDS_TEXT(name, id) id,
#define IDS_TABLE(table, what, list)                                                               \
    static const char *const table##_text[] = {list(IDS_TEXT)};                                    \
    const struct id_table table = {what, table##_text, sizeof table##_text / sizeof *table##_text}

IDS_TABLE(task_ids, "task", TASK_LIST);
IDS_TABLE(clock_ids, "clock", CLOCK_LIST);
IDS_TABLE(record_kind_ids, "record kind", RECORD_KIND_LIST);
IDS_TABLE(part_ids, "part", PART_LIST);
IDS_TABLE(reading_how_ids, "how a reading was taken", READING_HOW_LIST);
IDS_TABLE(shelter_ids, "shelter", SHELTER_LIST);
IDS_TABLE(result_ids, "result", RESULT_LIST);
IDS_TABLE(relaid_what_ids, "relaid panel", RELAID_WHAT_LIST);
IDS_TABLE(mortar_ids, "mortar", MORTAR_LIST);
IDS_TABLE(bag_condition_ids, "condition of a bag", BAG_CONDITION_LIST);
IDS_TABLE(stop_why_ids, "reason for stopping", STOP_WHY_LIST);
IDS_TABLE(fire_sign_ids, "stop sign", FIRE_SIGN_LIST);
IDS_TABLE(clock_state_ids, "clock state", CLOCK_STATE_LIST);
IDS_TABLE(task_state_ids, "task state", TASK_STATE_LIST);
IDS_TABLE(unit_ids, "unit", UNIT_LIST);
IDS_TABLE(mark_ids, "mark", MARK_LIST);
IDS_TABLE(base_ids, "base", BASE_LIST);
IDS_TABLE(pad_option_ids, "pad", PAD_OPTION_LIST);
IDS_TABLE(place_ids, "place", PLACE_LIST);
IDS_TABLE(setting_out_ids, "setting out", SETTING_OUT_LIST);
IDS_TABLE(lighter_ids, "lighter", LIGHTER_LIST);
IDS_TABLE(lining_option_ids, "lining", LINING_OPTION_LIST);
IDS_TABLE(facing_option_ids, "facing", FACING_OPTION_LIST);
IDS_TABLE(mix_ids, "mix", MIX_LIST);

int id_find(const struct id_table *table, const char *id)
{
    for (size_t i = 0; i < table->count; i++) {
        if (strcmp(table->ids[i], id) == 0) return (int)i;
    }
    return -1;
}

const char *id_of(const struct id_table *table, int value)
{
    REQUIRE(value >= 0 && (size_t)value < table->count);
    return table->ids[value];
}
