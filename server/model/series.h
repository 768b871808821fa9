/* SPDX-License-Identifier: MIT */
/* Hourly weather as plain arrays. One row an hour from a whole UTC hour on; NAN is a missing
 * figure. */
#ifndef EMBERWAIT_MODEL_SERIES_H
#define EMBERWAIT_MODEL_SERIES_H

#include <stddef.h>
#include <stdint.h>

/** Hours [start_s + 3600 i, start_s + 3600 (i + 1)), i < count. Each array is NULL or [count]. */
struct series {
    int64_t start_s; /**< whole UTC hour */
    size_t count;
    double *temp_degc;
    double *rain_mm; /**< water equivalent in the hour */
    double *rh_pct;
    double *wind_mps;
    double *gust_mps;
};

/** A station: what was observed, what is forecast, what past years were like. */
struct station {
    const char *id;
    const char *name;     /**< NULL when absent */
    double latitude_deg;  /**< NAN when absent */
    double longitude_deg; /**< NAN when absent */
    struct series observed;
    struct series forecast;
    int64_t forecast_made_s; /**< when the forecast was made; INSTANT_NONE when not said */
    struct series *history;
    size_t history_count;
};

#endif
