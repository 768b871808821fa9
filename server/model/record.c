/* SPDX-License-Identifier: MIT */
/* Why: what "absent" is for each member, said once; see record.h. */
#include "model/record.h"

#include <math.h>

struct record record_blank(enum record_kind kind, int64_t at_s)
{
    return (struct record){
        .kind = kind,
        .at_s = at_s,
        .received_s = INSTANT_NONE,
        .task = TASK_NONE,
        .part = PART_NONE,
        .shelter = SHELTER_NONE,
        .how = HOW_NONE,
        .temp_degc = NAN,
        .day = DAY_NONE,
        .mean_degc = NAN,
        .min_degc = NAN,
        .result = RESULT_NONE,
        .what = RELAID_NONE,
        .percent = NAN,
        .clock = CLOCK_NONE,
        .check = CHECK_NONE,
        .excuses = TASK_NONE,
        .floor_h = NAN,
        .need = NAN,
        .mortar = MORTAR_NONE,
        .bag_min_degc = NAN,
        .bag_max_degc = NAN,
        .bag_min_for_h = NAN,
        .pot_life_min = NAN,
        .made_on = DAY_NONE,
        .months = NAN,
        .why = STOP_NONE,
        .sign = SIGN_NONE,
        .until_s = INSTANT_NONE,
    };
}
