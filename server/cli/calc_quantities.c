/* SPDX-License-Identifier: MIT */
/* Every quantity of `calc`, in the order of its help. */
#include "cli/calc_evaluate.h"
#include "cli/calc_keys.h"

const struct calc_quantity *const calc_quantities[] = {
    &calc_temperature_time_factor,
    &calc_equivalent_age,
    &calc_annex_b_age,
    &calc_strength_ratio,
    &calc_evaporation,
    &calc_saturation_pressure,
    &calc_vapour_pressure,
    &calc_dew_point,
    &calc_humidity_ratio,
    &calc_wet_bulb,
    &calc_day_length,
    &calc_day_hours,
    &calc_degree_day,
    &calc_hearth_extension,
    &calc_flue_area,
};
const size_t calc_quantity_count = sizeof calc_quantities / sizeof calc_quantities[0];
