/* SPDX-License-Identifier: MIT */
/*
 * Three published forms behind one check of their inputs. The exponential form of the highway
 * reports is left out: on the handbook's own example it falls outside the reading tolerance.
 */
#include "compute/evaporation.h"

#include <math.h>
#include <stdbool.h>

#include "compute/psychro.h"

#define KMH_PER_MPH 1.609344
#define KGM2_PER_LBFT2 (0.45359237 / (0.3048 * 0.3048))

static bool temperature_in_range(double temp_degc)
{
    return temp_degc >= EVAPORATION_TEMP_MIN_DEGC && temp_degc <= EVAPORATION_TEMP_MAX_DEGC;
}

static enum evaporation_status inputs_check(double concrete_degc, double air_degc, double rh_frac,
                                            double wind_kmh)
{
    if (!temperature_in_range(concrete_degc) || !temperature_in_range(air_degc))
        return EVAPORATION_TEMPERATURE;
    if (!(rh_frac >= 0.0 && rh_frac <= 1.0)) return EVAPORATION_HUMIDITY;
    if (!(wind_kmh >= 0.0 && wind_kmh <= EVAPORATION_WIND_MAX_KMH)) return EVAPORATION_WIND;
    return EVAPORATION_OK;
}

static enum evaporation_status answer(double rate_kgm2h, double *out_kgm2h)
{
    *out_kgm2h = rate_kgm2h;
    return rate_kgm2h < 0.0 ? EVAPORATION_CONDENSING : EVAPORATION_OK;
}

enum evaporation_status evaporation_uno(double concrete_degc, double air_degc, double rh_frac,
                                        double wind_kmh, double *out_kgm2h)
{
    *out_kgm2h = NAN;
    enum evaporation_status status = inputs_check(concrete_degc, air_degc, rh_frac, wind_kmh);
    if (status < 0) return status;
    double drive = pow(concrete_degc + 18.0, 2.5) - rh_frac * pow(air_degc + 18.0, 2.5);
    return answer(5.0 * drive * (wind_kmh + 4.0) * 1e-6, out_kgm2h);
}

enum evaporation_status evaporation_uno_exact(double concrete_degc, double air_degc, double rh_frac,
                                              double wind_kmh, double *out_kgm2h)
{
    *out_kgm2h = NAN;
    enum evaporation_status status = inputs_check(concrete_degc, air_degc, rh_frac, wind_kmh);
    if (status < 0) return status;
    double concrete_degf = concrete_degc * 1.8 + 32.0;
    double air_degf = air_degc * 1.8 + 32.0;
    double drive = pow(concrete_degf, 2.5) - rh_frac * pow(air_degf, 2.5);
    double rate_lbft2h = drive * (1.0 + 0.4 * wind_kmh / KMH_PER_MPH) * 1e-6;
    return answer(rate_lbft2h * KGM2_PER_LBFT2, out_kgm2h);
}

enum evaporation_status evaporation_menzel(double concrete_degc, double air_degc, double rh_frac,
                                           double wind_kmh, double *out_kgm2h)
{
    double face_pa, air_pa;
    *out_kgm2h = NAN;
    enum evaporation_status status = inputs_check(concrete_degc, air_degc, rh_frac, wind_kmh);
    if (status < 0) return status;
    if (psychro_saturation_pressure(concrete_degc, PSYCHRO_WATER, &face_pa) < 0 ||
        psychro_saturation_pressure(air_degc, PSYCHRO_WATER, &air_pa) < 0)
        return EVAPORATION_TEMPERATURE;
    double drive_kpa = (face_pa - rh_frac * air_pa) / 1000.0;
    return answer(0.315 * drive_kpa * (0.253 + 0.060 * wind_kmh), out_kgm2h);
}
