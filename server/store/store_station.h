/* SPDX-License-Identifier: MIT */
/* Stations and their hours, one row an hour; the past years have a version of their own. */
#ifndef EMBERWAIT_STORE_STORE_STATION_H
#define EMBERWAIT_STORE_STORE_STATION_H

#include "model/series.h"
#include "store/store.h"

struct store_station {
    int64_t number;
    const char *id;
    const char *name;        /**< NULL */
    double latitude_deg;     /**< NAN */
    double longitude_deg;    /**< NAN */
    int64_t forecast_made_s; /**< INSTANT_NONE */
    int64_t version;
    int64_t history_version;
};

/** Every station, in the order of making; shape [*out_count], in the arena. */
MUST_USE enum status store_station_list(struct store_txn *txn, const struct store_station **out,
                                        size_t *out_count, struct arena *arena,
                                        struct fault *fault);

/**
 * Observed hours and forecast of a station; hours that are missing in between are NAN, a column
 * without any figure is NULL.
 *
 * Status: OK, LIMIT (more than SERIES_SAMPLES_MAX hours), IO…
 */
MUST_USE enum status store_station_hours(struct store_txn *txn, int64_t number,
                                         struct series *observed, struct series *forecast,
                                         struct arena *arena, struct fault *fault);

/** The past years of a station; shape [*out_count], in the arena. Status as above. */
MUST_USE enum status store_station_history(struct store_txn *txn, int64_t number,
                                           struct series **out, size_t *out_count,
                                           struct arena *arena, struct fault *fault);

/**
 * Put what a station brings; it is made when there is none of that id.
 *
 * Observed figures replace those of the same hour, column by column (a NULL column leaves them). A
 * forecast replaces the stored one from its first hour on. History, when there is any, replaces all
 * past years. A NAN place and a NULL name leave the stored ones.
 *
 * Status: OK, LIMIT (STATIONS_MAX, SERIES_SAMPLES_MAX), IO…
 */
MUST_USE enum status store_station_put(struct store_txn *txn, const struct station *station,
                                       struct fault *fault);

#endif
