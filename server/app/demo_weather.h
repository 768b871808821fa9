/* SPDX-License-Identifier: MIT */
/*
 * The weather of a valley that is not there, for the demonstration. Every figure is a function of
 * the absolute hour alone: the same hour reads the same whenever it is asked for, so that two cases
 * of one day agree, and a case of tomorrow has today's hours.
 */
#ifndef EMBERWAIT_APP_DEMO_WEATHER_H
#define EMBERWAIT_APP_DEMO_WEATHER_H

#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/json.h"
#include "base/zone.h"

/** One hour. */
struct demo_hour {
    double temp_degc;
    double rain_mm;  /**< in the hour, snow as water */
    double rh_pct;   /**< 12..100 */
    double wind_mps; /**< mean of the hour */
    double gust_mps; /**< never below the mean */
};

/**
 * One hour of the valley.
 *
 * @param[in] hour      Hours since 1970-01-01T00Z.
 * @param[in] offset_h  Hours of the valley's clock from UTC, -12..14; it places noon.
 */
struct demo_hour demo_weather_hour(int64_t hour, int offset_h);

/**
 * The station as a member of `stations`: about 120 days observed up to `now_s`, 7 days forecast,
 * and the next 120 days of each of the last 6 years.
 *
 * @param[in,out] json   Inside the object `stations`.
 * @param[in]     now_s  Now.
 * @param[in]     zone   Of the valley; borrowed.
 * @param[in]     arena  For the hours while they are written.
 */
void demo_weather_station(struct json *json, int64_t now_s, const struct zone *zone,
                          struct arena *arena);

#endif
