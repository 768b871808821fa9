/* SPDX-License-Identifier: MIT */
/*
 * Words for writing the key tables of `calc`, shared by the files that hold its quantities.
 */
#ifndef EMBERWAIT_CLI_CALC_KEYS_H
#define EMBERWAIT_CLI_CALC_KEYS_H

#include "base/status.h"
#include "cli/calc_evaluate.h"

#define NUMBER(name_, unit_, least_, most_, required_, says_)                                      \
    {                                                                                              \
        .name = (name_), .unit = (unit_), .says = (says_), .kind = CALC_KEY_NUMBER,                \
        .least = (least_), .most = (most_), .required = (required_)                                \
    }
#define NUMBER_ABOVE(name_, unit_, least_, most_, required_, says_)                                \
    {                                                                                              \
        .name = (name_), .unit = (unit_), .says = (says_), .kind = CALC_KEY_NUMBER,                \
        .least = (least_), .most = (most_), .required = (required_), .above_least = true           \
    }
#define CHOICE(name_, choices_, required_, says_)                                                  \
    {                                                                                              \
        .name = (name_), .unit = "", .says = (says_), .kind = CALC_KEY_CHOICE,                     \
        .choices = (choices_), .required = (required_)                                             \
    }
#define DATE(name_, required_, says_)                                                              \
    {                                                                                              \
        .name = (name_), .unit = "", .says = (says_), .kind = CALC_KEY_DATE,                       \
        .required = (required_)                                                                    \
    }
#define KEYS(keys_) .keys = (keys_), .key_count = sizeof(keys_) / sizeof((keys_)[0])

/**
 * Hand on a status of the computing layer. Key ranges are those of the functions behind them, so
 * what is refused only here is figures too small or too unlike to be used together.
 */
static inline enum calc_outcome calc_took(const struct calc_call *call, int status)
{
    if (status >= 0) return CALC_OK;
    fault_set(call->fault, call->quantity->name, "values that can be used together", "%s",
              "values that cannot");
    return CALC_BAD_VALUE;
}

extern const struct calc_quantity calc_temperature_time_factor;
extern const struct calc_quantity calc_equivalent_age;
extern const struct calc_quantity calc_annex_b_age;
extern const struct calc_quantity calc_strength_ratio;
extern const struct calc_quantity calc_evaporation;
extern const struct calc_quantity calc_saturation_pressure;
extern const struct calc_quantity calc_vapour_pressure;
extern const struct calc_quantity calc_dew_point;
extern const struct calc_quantity calc_humidity_ratio;
extern const struct calc_quantity calc_wet_bulb;
extern const struct calc_quantity calc_day_length;
extern const struct calc_quantity calc_day_hours;
extern const struct calc_quantity calc_degree_day;
extern const struct calc_quantity calc_hearth_extension;
extern const struct calc_quantity calc_flue_area;

#endif
