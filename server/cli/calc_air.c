/* SPDX-License-Identifier: MIT */
/*
 * Quantities of the air: moisture, the hours of a day, degree-days. Values with one customary
 * figure (standard pressure, the constants of the 1981 paper) have it as default, and the help says
 * it.
 */
#include <math.h>
#include <stdbool.h>

#include "cli/calc_evaluate.h"
#include "cli/calc_keys.h"
#include "compute/degree_day.h"
#include "compute/diurnal.h"
#include "compute/psychro.h"

#include "base/banned.h"

/* --- moist air ----------------------------------------------------------------------------- */

#define AIR NUMBER("air_degc", "degC", PSYCHRO_TEMP_MIN_DEGC, PSYCHRO_TEMP_MAX_DEGC, true, "air")
#define PRESSURE(says_)                                                                            \
    NUMBER("pressure_pa", "Pa", PSYCHRO_PRESSURE_MIN_PA, PSYCHRO_PRESSURE_MAX_PA, false, says_)
#define OVER                                                                                       \
    CHOICE("over", "handbook|water", false,                                                        \
           "handbook (default): ice up to 0.01 degC; water: liquid water throughout")
#define UNUSED_HERE "accepted and checked; the figure does not depend on it"

static const char over_ice[] = "over ice, as the handbook has it up to 0.01 degC";
static const char over_water[] = "over liquid water";

static enum psychro_surface surface_of(const struct calc_call *call)
{
    return calc_value(call, "over", 0.0) > 0.0 ? PSYCHRO_WATER : PSYCHRO_HANDBOOK;
}

static const struct calc_key saturation_keys[] = {
    AIR,
    NUMBER("rh_pct", "%", 0.0, 100.0, false, UNUSED_HERE),
    PRESSURE(UNUSED_HERE),
    OVER,
};

static enum calc_outcome saturation_pressure(const struct calc_call *call, struct calc_result *out)
{
    double air_degc = calc_value(call, "air_degc", NAN);
    enum psychro_surface surface = surface_of(call);
    int status = psychro_saturation_pressure(air_degc, surface, out->figures);
    bool ice = surface == PSYCHRO_HANDBOOK && air_degc <= PSYCHRO_TRIPLE_POINT_DEGC;
    out->source = "hyland-wexler-1983";
    out->basis = ice ? over_ice : over_water;
    if (status > 0) out->caution = "liquid water below -50 degC is an extrapolation";
    return calc_took(call, status);
}

const struct calc_quantity calc_saturation_pressure = {.name = "saturation-pressure",
                                                       .unit = "Pa",
                                                       KEYS(saturation_keys),
                                                       .says = "saturation vapour pressure",
                                                       .evaluate = saturation_pressure};

static const struct calc_key vapour_keys[] = {
    AIR,
    NUMBER("rh_pct", "%", 0.0, 100.0, true, "relative humidity"),
    PRESSURE(UNUSED_HERE),
};

static enum calc_outcome vapour_pressure(const struct calc_call *call, struct calc_result *out)
{
    double air_degc = calc_value(call, "air_degc", NAN);
    int status =
        psychro_vapour_pressure(air_degc, calc_value(call, "rh_pct", NAN) / 100.0, out->figures);
    out->source = "ashrae-fundamentals-2017";
    out->clause = "eq. 12";
    out->basis = air_degc <= PSYCHRO_TRIPLE_POINT_DEGC ? over_ice : over_water;
    return calc_took(call, status);
}

const struct calc_quantity calc_vapour_pressure = {.name = "vapour-pressure",
                                                   .unit = "Pa",
                                                   KEYS(vapour_keys),
                                                   .says =
                                                       "partial pressure of the vapour in the air",
                                                   .evaluate = vapour_pressure};

static const struct calc_key dew_point_keys[] = {
    AIR,
    NUMBER_ABOVE("rh_pct", "%", 0.0, 100.0, true, "relative humidity"),
    PRESSURE(UNUSED_HERE),
    OVER,
    CHOICE("form", "hyland-wexler|magnus", false,
           "hyland-wexler (default), or the short form, always over water"),
    NUMBER("a", "", 10.0, 30.0, false, "magnus: 17.625 unless given"),
    NUMBER("b", "degC", 200.0, 300.0, false, "magnus: 243.04 unless given"),
};

static enum calc_outcome dew_point_magnus(const struct calc_call *call, struct calc_result *out)
{
    if (calc_given(call, "a") != calc_given(call, "b"))
        return calc_refuse_key(call, calc_given(call, "a") ? "b" : "a", "a= and b= together");
    int status = psychro_dew_point_magnus(
        calc_value(call, "air_degc", NAN), calc_value(call, "rh_pct", NAN) / 100.0,
        calc_value(call, "a", 17.625), calc_value(call, "b", 243.04), out->figures);
    out->source = "alduchov-eskridge-1996";
    out->basis = "dew point over liquid water";
    if (status > 0) out->caution = "outside -40..60 degC, where the short form was fitted";
    return calc_took(call, status);
}

static enum calc_outcome dew_point(const struct calc_call *call, struct calc_result *out)
{
    if (calc_value(call, "form", 0.0) > 0.0) return dew_point_magnus(call, out);
    if (calc_given(call, "a") || calc_given(call, "b"))
        return calc_refuse_key(call, calc_given(call, "a") ? "a" : "b",
                               "a= and b= only with form=magnus");
    enum psychro_surface surface = surface_of(call);
    int status = psychro_dew_point(calc_value(call, "air_degc", NAN),
                                   calc_value(call, "rh_pct", NAN) / 100.0, surface, out->figures);
    if (status == PSYCHRO_BELOW_RANGE)
        return calc_refuse_value(call, "rh_pct", "humid enough for a dew point above -100 degC");
    bool frost = surface == PSYCHRO_HANDBOOK && out->figures[0] <= PSYCHRO_TRIPLE_POINT_DEGC;
    out->source = "hyland-wexler-1983";
    out->basis = frost ? "frost point, over ice; over=water gives the dew point over liquid water"
                       : "dew point over liquid water";
    if (status > 0) out->caution = "liquid water below -50 degC is an extrapolation";
    return calc_took(call, status);
}

const struct calc_quantity calc_dew_point = {
    .name = "dew-point",
    .unit = "degC",
    KEYS(dew_point_keys),
    .says = "dew point; below 0.01 degC the frost point unless over=water",
    .evaluate = dew_point};

static const struct calc_key humidity_ratio_keys[] = {
    AIR,
    NUMBER("rh_pct", "%", 0.0, 100.0, false, "relative humidity; this or wet_bulb_degc"),
    NUMBER("wet_bulb_degc", "degC", PSYCHRO_TEMP_MIN_DEGC, PSYCHRO_TEMP_MAX_DEGC, false,
           "wet bulb; this or rh_pct"),
    PRESSURE("air pressure, 101325 unless given"),
};

static enum calc_outcome humidity_ratio(const struct calc_call *call, struct calc_result *out)
{
    bool wet = calc_given(call, "wet_bulb_degc");
    if (wet == calc_given(call, "rh_pct"))
        return calc_refuse_key(call, "rh_pct", "one of rh_pct= and wet_bulb_degc=");
    double air_degc = calc_value(call, "air_degc", NAN);
    double pressure_pa = calc_value(call, "pressure_pa", PSYCHRO_STANDARD_PA);
    int status =
        wet ? psychro_humidity_ratio_wet_bulb(air_degc, calc_value(call, "wet_bulb_degc", NAN),
                                              pressure_pa, out->figures)
            : psychro_humidity_ratio(air_degc, calc_value(call, "rh_pct", NAN) / 100.0, pressure_pa,
                                     out->figures);
    if (status == PSYCHRO_NO_AIR)
        return calc_refuse_value(call, "air_degc", "air cool enough not to be steam throughout");
    if (status == PSYCHRO_WET_BULB)
        return calc_refuse_value(call, "wet_bulb_degc", "a wet bulb some humidity can have there");
    out->source = "ashrae-fundamentals-2017";
    out->clause = wet ? "eq. 33 and 35" : "eq. 20";
    return calc_took(call, status);
}

const struct calc_quantity calc_humidity_ratio = {.name = "humidity-ratio",
                                                  .unit = "kg/kg",
                                                  KEYS(humidity_ratio_keys),
                                                  .says = "vapour per dry air",
                                                  .evaluate = humidity_ratio};

static const struct calc_key wet_bulb_keys[] = {
    AIR,
    NUMBER_ABOVE("rh_pct", "%", 0.0, 100.0, true, "relative humidity"),
    PRESSURE("air pressure, 101325 unless given"),
};

static enum calc_outcome wet_bulb(const struct calc_call *call, struct calc_result *out)
{
    int status =
        psychro_wet_bulb(calc_value(call, "air_degc", NAN), calc_value(call, "rh_pct", NAN) / 100.0,
                         calc_value(call, "pressure_pa", PSYCHRO_STANDARD_PA), out->figures);
    if (status == PSYCHRO_NO_AIR)
        return calc_refuse_value(call, "air_degc", "air cool enough not to be steam throughout");
    if (status == PSYCHRO_BELOW_RANGE)
        return calc_refuse_value(call, "air_degc", "air with a wet bulb above -100 degC");
    out->source = "ashrae-fundamentals-2017";
    out->clause = "eq. 33 and 35";
    return calc_took(call, status);
}

const struct calc_quantity calc_wet_bulb = {.name = "wet-bulb",
                                            .unit = "degC",
                                            KEYS(wet_bulb_keys),
                                            .says = "wet-bulb temperature",
                                            .evaluate = wet_bulb};

/* --- hours of a day ------------------------------------------------------------------------ */

#define LATITUDE(required_)                                                                        \
    NUMBER("latitude", "degrees north", -90.0, 90.0, required_, "latitude of the station")
#define DAY_TEMP(name_, required_, says_)                                                          \
    NUMBER(name_, "degC", DIURNAL_TEMP_MIN_DEGC, DIURNAL_TEMP_MAX_DEGC, required_, says_)

static const struct calc_key day_length_keys[] = {LATITUDE(true), DATE("date", true, "the day")};

static enum calc_outcome day_length(const struct calc_call *call, struct calc_result *out)
{
    int status = diurnal_day_length(calc_value(call, "latitude", NAN),
                                    (int)calc_value(call, "date", NAN), out->figures);
    if (status == DIURNAL_POLAR)
        return calc_refuse_value(call, "latitude", "a place where the sun rises and sets that day");
    out->source = "forsythe-1995";
    out->clause = "CBM model";
    return calc_took(call, status);
}

const struct calc_quantity calc_day_length = {
    .name = "day-length",
    .unit = "h",
    KEYS(day_length_keys),
    .says = "sunrise to sunset, upper edge of the sun, refraction included",
    .evaluate = day_length};

static const struct calc_key day_hours_keys[] = {
    DAY_TEMP("min_degc", true, "minimum of the day"),
    DAY_TEMP("max_degc", true, "maximum of the day"),
    DAY_TEMP("next_min_degc", true, "minimum of the next day"),
    LATITUDE(false),
    DATE("date", false, "the day, with latitude"),
    NUMBER_ABOVE("day_length_h", "h", 0.0, 23.999, false, "instead of latitude and date"),
    DAY_TEMP("sunset_before_degc", false, "at the sunset before; unless given as this day's own"),
    NUMBER("lag_max_h", "h", -6.0, 6.0, false, "lag of the maximum, 1.86 unless given"),
    NUMBER_ABOVE("night_coefficient", "", 0.0, 20.0, false, "2.20 unless given"),
    NUMBER("lag_min_h", "h", -6.0, 6.0, false, "lag of the minimum, -0.17 unless given"),
    CHOICE("form", "paper|lagged", false,
           "paper (default): 1981; lagged: 1985, maximum at noon + lag_max_h"),
};

/* Day length from its own key, or from latitude and date. */
static enum calc_outcome day_hours_length(const struct calc_call *call, double *out_h)
{
    bool place = calc_given(call, "latitude") || calc_given(call, "date");
    if (calc_given(call, "day_length_h")) {
        if (place)
            return calc_refuse_key(call, "day_length_h", "latitude= and date=, or day_length_h=");
        *out_h = calc_value(call, "day_length_h", NAN);
        return CALC_OK;
    }
    if (!calc_given(call, "latitude")) return calc_refuse_key(call, "latitude", "latitude=");
    if (!calc_given(call, "date")) return calc_refuse_key(call, "date", "date=");
    int status = diurnal_day_length(calc_value(call, "latitude", NAN),
                                    (int)calc_value(call, "date", NAN), out_h);
    if (status == DIURNAL_POLAR)
        return calc_refuse_value(call, "latitude", "a place where the sun rises and sets that day");
    return calc_took(call, status);
}

static enum calc_outcome day_hours(const struct calc_call *call, struct calc_result *out)
{
    struct diurnal_constants constants = DIURNAL_CONSTANTS_AIR_150_CM;
    constants.lag_max_h = calc_value(call, "lag_max_h", constants.lag_max_h);
    constants.lag_min_h = calc_value(call, "lag_min_h", constants.lag_min_h);
    constants.night_coefficient =
        calc_value(call, "night_coefficient", constants.night_coefficient);
    bool lagged = calc_value(call, "form", 0.0) > 0.0;
    constants.form = lagged ? DIURNAL_LAGGED : DIURNAL_PAPER;
    struct diurnal_day day = {.min_degc = calc_value(call, "min_degc", NAN),
                              .max_degc = calc_value(call, "max_degc", NAN),
                              .next_min_degc = calc_value(call, "next_min_degc", NAN),
                              .sunset_before_degc = calc_value(call, "sunset_before_degc", NAN)};
    enum calc_outcome outcome = day_hours_length(call, &day.day_length_h);
    if (outcome != CALC_OK) return outcome;
    int status = diurnal_hours(&day, &constants, out->figures);
    if (status == DIURNAL_ORDER) return calc_refuse_value(call, "max_degc", "at least min_degc");
    if (status == DIURNAL_CONSTANT)
        return calc_refuse_value(call, "lag_min_h", "lags that fit a day of that length");
    out->form = CALC_ARRAY;
    out->count = DIURNAL_HOURS;
    out->source = lagged ? "wann-1985" : "parton-logan-1981";
    out->clause = "eq. 1 and 2";
    out->basis = "at the solar hours 0 to 23";
    if (status > 0) out->caution = "the next minimum is above the temperature at sunset";
    return calc_took(call, status);
}

const struct calc_quantity calc_day_hours = {
    .name = "day-hours",
    .unit = "degC",
    KEYS(day_hours_keys),
    .says = "24 hourly temperatures, solar hours 0 to 23, from a day's extremes",
    .evaluate = day_hours};

/* --- degree-days --------------------------------------------------------------------------- */

static const struct calc_key degree_day_keys[] = {
    NUMBER("min", "", -DEGREE_DAY_LIMIT, DEGREE_DAY_LIMIT, true, "minimum, degC or degF"),
    NUMBER("max", "", -DEGREE_DAY_LIMIT, DEGREE_DAY_LIMIT, true, "maximum, same scale"),
    NUMBER("lower", "", -DEGREE_DAY_LIMIT, DEGREE_DAY_LIMIT, true, "lower threshold, same scale"),
    NUMBER("upper", "", -DEGREE_DAY_LIMIT, DEGREE_DAY_LIMIT, false, "upper threshold, same scale"),
    CHOICE("method", "single-sine|single-triangle|double-sine|double-triangle", true,
           "shape of the day"),
    CHOICE("cutoff", "horizontal|none", false,
           "horizontal unless upper is absent; none leaves upper unused"),
    NUMBER("next_min", "", -DEGREE_DAY_LIMIT, DEGREE_DAY_LIMIT, false,
           "double methods: minimum of the next day"),
};

static enum calc_outcome degree_day(const struct calc_call *call, struct calc_result *out)
{
    enum { SINGLE_SINE, SINGLE_TRIANGLE, DOUBLE_SINE, DOUBLE_TRIANGLE };
    int shape = (int)calc_value(call, "method", NAN);
    bool triangle = shape == SINGLE_TRIANGLE || shape == DOUBLE_TRIANGLE;
    bool twice = shape == DOUBLE_SINE || shape == DOUBLE_TRIANGLE;
    bool none = calc_given(call, "cutoff") ? calc_value(call, "cutoff", NAN) > 0.0
                                           : !calc_given(call, "upper");
    if (!none && !calc_given(call, "upper"))
        return calc_refuse_key(call, "upper", "upper= with cutoff=horizontal");
    if (twice && !calc_given(call, "next_min"))
        return calc_refuse_key(call, "next_min", "next_min= with a double method");
    enum degree_day_method method = triangle ? DEGREE_DAY_TRIANGLE : DEGREE_DAY_SINE;
    enum degree_day_cutoff cutoff = none ? DEGREE_DAY_NONE : DEGREE_DAY_HORIZONTAL;
    double min = calc_value(call, "min", NAN);
    double max = calc_value(call, "max", NAN);
    double lower = calc_value(call, "lower", NAN);
    double upper = calc_value(call, "upper", NAN);
    int status = twice ? degree_day_double(min, max, calc_value(call, "next_min", NAN), lower,
                                           upper, method, cutoff, out->figures)
                       : degree_day_single(min, max, lower, upper, method, cutoff, out->figures);
    if (status == DEGREE_DAY_ORDER) return calc_refuse_value(call, "max", "at least the minimum");
    if (status == DEGREE_DAY_THRESHOLD)
        return calc_refuse_value(call, "upper", "above the lower threshold");
    out->source = twice      ? "uc-ipm-degree-days"
                  : triangle ? "sevacherian-1977"
                             : "baskerville-emin-1969";
    return calc_took(call, status);
}

const struct calc_quantity calc_degree_day = {.name = "degree-day",
                                              .unit = "degree-day",
                                              KEYS(degree_day_keys),
                                              .says =
                                                  "degree-days of a day, in the unit of the inputs",
                                              .evaluate = degree_day};
