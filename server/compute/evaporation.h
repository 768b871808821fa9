/* SPDX-License-Identifier: MIT */
/*
 * Evaporation from the face of fresh concrete: a screen for plastic shrinkage cracking, not a
 * measurement. The published forms differ by 7 % on the same example and the estimate itself by
 * 40 % either way, so a figure always says which form it comes from.
 */
#ifndef EMBERWAIT_COMPUTE_EVAPORATION_H
#define EMBERWAIT_COMPUTE_EVAPORATION_H

#include "base/status.h"

#define EVAPORATION_TEMP_MIN_DEGC (-15.0) /**< frozen concrete does not bleed */
#define EVAPORATION_TEMP_MAX_DEGC 80.0    /**< no fresh concrete is hotter */
#define EVAPORATION_WIND_MAX_KMH 200.0    /**< stronger is a fault of the figure */

/** What came of an evaporation rate. */
enum evaporation_status {
    EVAPORATION_OK = 0,
    EVAPORATION_CONDENSING = 1,   /**< computed and negative: water settles on the face */
    EVAPORATION_TEMPERATURE = -1, /**< a temperature not finite or outside -15..80 degC */
    EVAPORATION_HUMIDITY = -2,    /**< relative humidity not finite or outside 0..1 */
    EVAPORATION_WIND = -3,        /**< wind not finite or outside 0..200 km/h */
};

/**
 * Evaporation rate by the single expression, with its rounded metric constants:
 * E = 5 ((Tc+18)^2.5 - r (Ta+18)^2.5)(V+4) 1e-6.
 *
 * @param[in]  concrete_degc  Concrete temperature at the face, degC, -15..80.
 * @param[in]  air_degc       Air temperature, degC, -15..80.
 * @param[in]  rh_frac        Relative humidity of the air, 0..1.
 * @param[in]  wind_kmh       Wind 0.5 m above the slab (not at 10 m), km/h, 0..200.
 * @param[out] out_kgm2h      kg/m2/h, negative when condensing; NAN on any status < 0.
 *
 * Status:  0 computed;  +1 EVAPORATION_CONDENSING;  -1 EVAPORATION_TEMPERATURE;
 *         -2 EVAPORATION_HUMIDITY;  -3 EVAPORATION_WIND. First fault in this order is reported.
 * Notes:   1) 4 % under the exact conversion of the customary form (evaporation_uno_exact).
 * Source:  [uno-1998].
 */
MUST_USE enum evaporation_status evaporation_uno(double concrete_degc, double air_degc,
                                                 double rh_frac, double wind_kmh,
                                                 double *out_kgm2h);

/**
 * Evaporation rate by the customary single expression E = (Tc^2.5 - r Ta^2.5)(1 + 0.4 V) 1e-6
 * (degF, mph, lb/ft2/h) with its units converted exactly instead of rounded.
 *
 * Arguments, status and source as evaporation_uno.
 *
 * @param[in]  concrete_degc  Concrete temperature at the face, degC, -15..80.
 * @param[in]  air_degc       Air temperature, degC, -15..80.
 * @param[in]  rh_frac        Relative humidity of the air, 0..1.
 * @param[in]  wind_kmh       Wind 0.5 m above the slab, km/h, 0..200.
 * @param[out] out_kgm2h      kg/m2/h, negative when condensing; NAN on any status < 0.
 */
MUST_USE enum evaporation_status evaporation_uno_exact(double concrete_degc, double air_degc,
                                                       double rh_frac, double wind_kmh,
                                                       double *out_kgm2h);

/**
 * Evaporation rate by vapour pressures: W = 0.315 (e0 - ea)(0.253 + 0.060 V), e in kPa.
 *
 * @param[in]  concrete_degc  Concrete temperature at the face, degC, -15..80; e0 saturates there.
 * @param[in]  air_degc       Air temperature, degC, -15..80; ea is r times saturation there.
 * @param[in]  rh_frac        Relative humidity of the air, 0..1.
 * @param[in]  wind_kmh       Wind 0.5 m above the slab, km/h, 0..200.
 * @param[out] out_kgm2h      kg/m2/h, negative when condensing; NAN on any status < 0.
 *
 * Status:  0 computed;  +1 EVAPORATION_CONDENSING;  -1 EVAPORATION_TEMPERATURE;
 *         -2 EVAPORATION_HUMIDITY;  -3 EVAPORATION_WIND. First fault in this order is reported.
 * Notes:   1) The published 0.315 is 1.1 % above the exact conversion of the customary 0.44.
 *          2) Saturation over water by psychro_saturation_pressure.
 * Source:  [menzel-1954] in the metric form of [uno-1998].
 */
MUST_USE enum evaporation_status evaporation_menzel(double concrete_degc, double air_degc,
                                                    double rh_frac, double wind_kmh,
                                                    double *out_kgm2h);

#endif
