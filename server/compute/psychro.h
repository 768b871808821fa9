/* SPDX-License-Identifier: MIT */
/*
 * Moist air: how much water it holds and at what temperature that water settles on a cold unit.
 *
 * The handbook's conventions are kept whole: up to the triple point (0.01 degC) saturation is over
 * ice, above it over water. A dew point below 0 degC is therefore the frost point; the dew point
 * over supercooled water lies up to 2 degC lower and is offered under its own name, because a
 * figure that does not say which of the two it is cannot be compared with anything.
 */
#ifndef EMBERWAIT_COMPUTE_PSYCHRO_H
#define EMBERWAIT_COMPUTE_PSYCHRO_H

#include "base/status.h"

#define PSYCHRO_TEMP_MIN_DEGC (-100.0)    /**< lower end of the fitted range */
#define PSYCHRO_TEMP_MAX_DEGC 200.0       /**< upper end of the fitted range */
#define PSYCHRO_TRIPLE_POINT_DEGC 0.01    /**< up to here over ice */
#define PSYCHRO_STANDARD_PA 101325.0      /**< standard atmosphere at sea level */
#define PSYCHRO_PRESSURE_MIN_PA 1000.0    /**< no air pressure on Earth's ground is lower */
#define PSYCHRO_PRESSURE_MAX_PA 1000000.0 /**< ten atmospheres; ideal-gas mixing fails beyond */

/** What came of a figure of moist air. */
enum psychro_status {
    PSYCHRO_OK = 0,
    PSYCHRO_OUT_OF_CALIBRATION = 1, /**< computed, but outside where the short form was fitted */
    PSYCHRO_TEMPERATURE = -1,       /**< temperature not finite or outside the range */
    PSYCHRO_HUMIDITY = -2,          /**< relative humidity not finite or outside its range */
    PSYCHRO_PRESSURE = -3,          /**< pressure not finite or outside the range */
    PSYCHRO_NO_AIR = -4,            /**< vapour pressure reaches the whole pressure */
    PSYCHRO_BELOW_RANGE = -5,       /**< the dew point lies below the fitted range */
    PSYCHRO_WET_BULB = -6,          /**< wet bulb above dry bulb, or too low for any humidity */
};

/** What the water condenses on. */
enum psychro_surface {
    PSYCHRO_HANDBOOK, /**< ice up to the triple point, water above it */
    PSYCHRO_WATER,    /**< liquid water throughout, supercooled below 0 degC */
};

/**
 * Saturation vapour pressure.
 *
 * @param[in]  air_degc  Temperature, degC, -100..200.
 * @param[in]  surface   PSYCHRO_HANDBOOK, or PSYCHRO_WATER.
 * @param[out] out_pa    Pa; NAN on any status < 0.
 *
 * Status:  0 computed;  +1 PSYCHRO_OUT_OF_CALIBRATION over water below -50 degC (Note 1);
 *         -1 PSYCHRO_TEMPERATURE.
 * Notes:   1) The liquid equation was fitted for 0..200 degC; below that it is an extrapolation.
 * Source:  [hyland-wexler-1983] as in [ashrae-fundamentals-2017] eq. 5 and 6.
 */
MUST_USE enum psychro_status
psychro_saturation_pressure(double air_degc, enum psychro_surface surface, double *out_pa);

/**
 * Partial pressure of the water vapour in the air.
 *
 * @param[in]  air_degc  Air temperature, degC, -100..200.
 * @param[in]  rh_frac   Relative humidity, 0..1, over the handbook's surface.
 * @param[out] out_pa    Pa; NAN on any status < 0.
 *
 * Status:  0 computed;  -1 PSYCHRO_TEMPERATURE;  -2 PSYCHRO_HUMIDITY. First fault in this order.
 * Source:  [ashrae-fundamentals-2017] eq. 12.
 */
MUST_USE enum psychro_status psychro_vapour_pressure(double air_degc, double rh_frac,
                                                     double *out_pa);

/**
 * Dew point, or frost point, of air.
 *
 * @param[in]  air_degc  Air temperature, degC, -100..200.
 * @param[in]  rh_frac   Relative humidity, (0, 1]; dry air has no dew point.
 * @param[in]  surface   PSYCHRO_HANDBOOK: at or below 0.01 degC the frost point; PSYCHRO_WATER: the
 *                       dew point over liquid water throughout, of the same vapour.
 * @param[out] out_degc  degC, within 1e-9 of the inverse; NAN on any status < 0.
 *
 * Status:  0 computed;  +1 PSYCHRO_OUT_OF_CALIBRATION over water below -50 degC;
 *         -1 PSYCHRO_TEMPERATURE;  -2 PSYCHRO_HUMIDITY;  -5 PSYCHRO_BELOW_RANGE (below -100 degC).
 *         First fault in this order is reported.
 * Source:  inverse of [hyland-wexler-1983].
 */
MUST_USE enum psychro_status psychro_dew_point(double air_degc, double rh_frac,
                                               enum psychro_surface surface, double *out_degc);

/**
 * Dew point over water by the short form Td = b g/(a - g), g = a T/(b + T) + ln RH.
 *
 * @param[in]  air_degc  Air temperature, degC, -100..200, above -b.
 * @param[in]  rh_frac   Relative humidity, (0, 1].
 * @param[in]  a         Constant a, 1; 17.625 in the usual set; 10..30.
 * @param[in]  b_degc    Constant b, degC; 243.04 in the usual set; 200..300.
 * @param[out] out_degc  degC, always over water; NAN on any status < 0.
 *
 * Status:  0 computed;  +1 PSYCHRO_OUT_OF_CALIBRATION air or dew point outside -40..60 degC;
 *         -1 PSYCHRO_TEMPERATURE (or a constant out of its bounds);  -2 PSYCHRO_HUMIDITY.
 * Source:  [alduchov-eskridge-1996].
 */
MUST_USE enum psychro_status psychro_dew_point_magnus(double air_degc, double rh_frac, double a,
                                                      double b_degc, double *out_degc);

/**
 * Humidity ratio: mass of vapour per mass of dry air.
 *
 * @param[in]  air_degc     Air temperature, degC, -100..200.
 * @param[in]  rh_frac      Relative humidity, 0..1.
 * @param[in]  pressure_pa  Air pressure, Pa, 1000..1000000.
 * @param[out] out_frac     kg/kg; NAN on any status < 0.
 *
 * Status:  0 computed;  -1 PSYCHRO_TEMPERATURE;  -2 PSYCHRO_HUMIDITY;  -3 PSYCHRO_PRESSURE;
 *         -4 PSYCHRO_NO_AIR. First fault in this order is reported.
 * Notes:   1) Ideal-gas mixing: about 0.5 % under the real-gas table at 0..50 degC.
 * Source:  [ashrae-fundamentals-2017] eq. 20.
 */
MUST_USE enum psychro_status psychro_humidity_ratio(double air_degc, double rh_frac,
                                                    double pressure_pa, double *out_frac);

/**
 * Humidity ratio from dry-bulb and wet-bulb temperature.
 *
 * @param[in]  air_degc       Dry bulb, degC, -100..200.
 * @param[in]  wet_bulb_degc  Wet bulb, degC, -100 up to the dry bulb.
 * @param[in]  pressure_pa    Air pressure, Pa, 1000..1000000.
 * @param[out] out_frac       kg/kg; NAN on any status < 0.
 *
 * Status:  0 computed;  -1 PSYCHRO_TEMPERATURE;  -3 PSYCHRO_PRESSURE;  -4 PSYCHRO_NO_AIR;
 *         -6 PSYCHRO_WET_BULB. First fault in this order is reported.
 * Source:  [ashrae-fundamentals-2017] eq. 33 (from 0 degC up) and 35 (below).
 */
MUST_USE enum psychro_status psychro_humidity_ratio_wet_bulb(double air_degc, double wet_bulb_degc,
                                                             double pressure_pa, double *out_frac);

/**
 * Wet-bulb temperature: the inverse of psychro_humidity_ratio_wet_bulb.
 *
 * @param[in]  air_degc     Dry bulb, degC, -100..200.
 * @param[in]  rh_frac      Relative humidity, (0, 1].
 * @param[in]  pressure_pa  Air pressure, Pa, 1000..1000000.
 * @param[out] out_degc     degC; NAN on any status < 0.
 *
 * Status:  0 computed;  -1 PSYCHRO_TEMPERATURE;  -2 PSYCHRO_HUMIDITY;  -3 PSYCHRO_PRESSURE;
 *         -4 PSYCHRO_NO_AIR;  -5 PSYCHRO_BELOW_RANGE. First fault in this order is reported.
 * Notes:   1) At 0 degC the equation steps from ice to water; a humidity inside the step gives 0.
 * Source:  [ashrae-fundamentals-2017] eq. 33 and 35.
 */
MUST_USE enum psychro_status psychro_wet_bulb(double air_degc, double rh_frac, double pressure_pa,
                                              double *out_degc);

#endif
