/* SPDX-License-Identifier: MIT */
/*
 * Hyland and Wexler's two saturation equations and what follows from them. Inverses are found by
 * halving: both equations rise throughout, sixty halvings of 300 degC end below 1e-15, and unlike
 * Newton's step nothing can run away at the edges or at the join of ice and water.
 */
#include "compute/psychro.h"

#include <math.h>
#include <stdbool.h>

#define KELVIN_OFFSET 273.15
#define RATIO_OF_MASSES 0.621945 /* water to dry air */
#define HALVINGS 60
#define WATER_FIT_MIN_DEGC (-50.0)
#define MAGNUS_MIN_DEGC (-40.0)
#define MAGNUS_MAX_DEGC 60.0

static double saturation_over_ice(double air_degc)
{
    double t = air_degc + KELVIN_OFFSET;
    double tail = -9.677843e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 + t * -9.484024e-13));
    return exp(-5.6745359e3 / t + 6.3925247 + t * tail + 4.1635019 * log(t));
}

static double saturation_over_water(double air_degc)
{
    double t = air_degc + KELVIN_OFFSET;
    double tail = -4.8640239e-2 + t * (4.1764768e-5 + t * -1.4452093e-8);
    return exp(-5.8002206e3 / t + 1.3914993 + t * tail + 6.5459673 * log(t));
}

static double saturation(double air_degc, enum psychro_surface surface)
{
    bool ice = surface == PSYCHRO_HANDBOOK && air_degc <= PSYCHRO_TRIPLE_POINT_DEGC;
    return ice ? saturation_over_ice(air_degc) : saturation_over_water(air_degc);
}

static bool temperature_in_range(double air_degc)
{
    return air_degc >= PSYCHRO_TEMP_MIN_DEGC && air_degc <= PSYCHRO_TEMP_MAX_DEGC;
}

static bool pressure_in_range(double pressure_pa)
{
    return pressure_pa >= PSYCHRO_PRESSURE_MIN_PA && pressure_pa <= PSYCHRO_PRESSURE_MAX_PA;
}

enum psychro_status psychro_saturation_pressure(double air_degc, enum psychro_surface surface,
                                                double *out_pa)
{
    *out_pa = NAN;
    if (!temperature_in_range(air_degc)) return PSYCHRO_TEMPERATURE;
    *out_pa = saturation(air_degc, surface);
    bool stretched = surface == PSYCHRO_WATER && air_degc < WATER_FIT_MIN_DEGC;
    return stretched ? PSYCHRO_OUT_OF_CALIBRATION : PSYCHRO_OK;
}

enum psychro_status psychro_vapour_pressure(double air_degc, double rh_frac, double *out_pa)
{
    *out_pa = NAN;
    if (!temperature_in_range(air_degc)) return PSYCHRO_TEMPERATURE;
    if (!(rh_frac >= 0.0 && rh_frac <= 1.0)) return PSYCHRO_HUMIDITY;
    *out_pa = rh_frac * saturation(air_degc, PSYCHRO_HANDBOOK);
    return PSYCHRO_OK;
}

enum psychro_status psychro_dew_point(double air_degc, double rh_frac, enum psychro_surface surface,
                                      double *out_degc)
{
    double vapour_pa;
    *out_degc = NAN;
    enum psychro_status status = psychro_vapour_pressure(air_degc, rh_frac, &vapour_pa);
    if (status < 0) return status;
    if (!(rh_frac > 0.0)) return PSYCHRO_HUMIDITY;
    double low = PSYCHRO_TEMP_MIN_DEGC;
    double high = air_degc;
    if (vapour_pa < saturation(low, surface)) return PSYCHRO_BELOW_RANGE;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = 0.5 * (low + high);
        if (saturation(middle, surface) < vapour_pa)
            low = middle;
        else
            high = middle;
    }
    *out_degc = high;
    bool stretched = surface == PSYCHRO_WATER && *out_degc < WATER_FIT_MIN_DEGC;
    return stretched ? PSYCHRO_OUT_OF_CALIBRATION : PSYCHRO_OK;
}

enum psychro_status psychro_dew_point_magnus(double air_degc, double rh_frac, double a,
                                             double b_degc, double *out_degc)
{
    *out_degc = NAN;
    if (!temperature_in_range(air_degc)) return PSYCHRO_TEMPERATURE;
    if (!(a >= 10.0 && a <= 30.0 && b_degc >= 200.0 && b_degc <= 300.0)) return PSYCHRO_TEMPERATURE;
    if (!(rh_frac > 0.0 && rh_frac <= 1.0)) return PSYCHRO_HUMIDITY;
    double gamma = a * air_degc / (b_degc + air_degc) + log(rh_frac);
    *out_degc = b_degc * gamma / (a - gamma);
    bool fitted = air_degc <= MAGNUS_MAX_DEGC && *out_degc >= MAGNUS_MIN_DEGC;
    return fitted ? PSYCHRO_OK : PSYCHRO_OUT_OF_CALIBRATION;
}

/* Humidity ratio of a vapour pressure below the whole pressure. */
static double ratio_of(double vapour_pa, double pressure_pa)
{
    return RATIO_OF_MASSES * vapour_pa / (pressure_pa - vapour_pa);
}

enum psychro_status psychro_humidity_ratio(double air_degc, double rh_frac, double pressure_pa,
                                           double *out_frac)
{
    double vapour_pa;
    *out_frac = NAN;
    enum psychro_status status = psychro_vapour_pressure(air_degc, rh_frac, &vapour_pa);
    if (status < 0) return status;
    if (!pressure_in_range(pressure_pa)) return PSYCHRO_PRESSURE;
    if (vapour_pa >= pressure_pa) return PSYCHRO_NO_AIR;
    *out_frac = ratio_of(vapour_pa, pressure_pa);
    return PSYCHRO_OK;
}

/* The handbook's energy balance; may be negative where no humidity fits, or infinite in steam. */
static double wet_bulb_balance(double air_degc, double wet_bulb_degc, double pressure_pa)
{
    double saturated_pa = saturation(wet_bulb_degc, PSYCHRO_HANDBOOK);
    if (saturated_pa >= pressure_pa) return INFINITY;
    double saturated = ratio_of(saturated_pa, pressure_pa);
    double depression = 1.006 * (air_degc - wet_bulb_degc);
    if (wet_bulb_degc >= 0.0)
        return ((2501.0 - 2.326 * wet_bulb_degc) * saturated - depression) /
               (2501.0 + 1.86 * air_degc - 4.186 * wet_bulb_degc);
    return ((2830.0 - 0.24 * wet_bulb_degc) * saturated - depression) /
           (2830.0 + 1.86 * air_degc - 2.1 * wet_bulb_degc);
}

enum psychro_status psychro_humidity_ratio_wet_bulb(double air_degc, double wet_bulb_degc,
                                                    double pressure_pa, double *out_frac)
{
    *out_frac = NAN;
    if (!temperature_in_range(air_degc) || !temperature_in_range(wet_bulb_degc))
        return PSYCHRO_TEMPERATURE;
    if (!pressure_in_range(pressure_pa)) return PSYCHRO_PRESSURE;
    if (saturation(wet_bulb_degc, PSYCHRO_HANDBOOK) >= pressure_pa) return PSYCHRO_NO_AIR;
    if (wet_bulb_degc > air_degc) return PSYCHRO_WET_BULB;
    double ratio = wet_bulb_balance(air_degc, wet_bulb_degc, pressure_pa);
    if (!(ratio >= 0.0)) return PSYCHRO_WET_BULB;
    *out_frac = ratio;
    return PSYCHRO_OK;
}

enum psychro_status psychro_wet_bulb(double air_degc, double rh_frac, double pressure_pa,
                                     double *out_degc)
{
    double ratio;
    *out_degc = NAN;
    enum psychro_status status = psychro_humidity_ratio(air_degc, rh_frac, pressure_pa, &ratio);
    if (status < 0) return status;
    if (!(rh_frac > 0.0)) return PSYCHRO_HUMIDITY;
    double low = PSYCHRO_TEMP_MIN_DEGC;
    double high = air_degc;
    if (wet_bulb_balance(air_degc, low, pressure_pa) > ratio) return PSYCHRO_BELOW_RANGE;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = 0.5 * (low + high);
        if (wet_bulb_balance(air_degc, middle, pressure_pa) < ratio)
            low = middle;
        else
            high = middle;
    }
    *out_degc = high;
    return PSYCHRO_OK;
}
