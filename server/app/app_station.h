/* SPDX-License-Identifier: MIT */
/*
 * Stations: hours as rows. Observed hours are kept for ever; a newer forecast replaces the older
 * from its own first hour on. At planning past hours are observed only, future hours forecast only.
 */
#ifndef EMBERWAIT_APP_APP_STATION_H
#define EMBERWAIT_APP_APP_STATION_H

#include <stddef.h>
#include <stdint.h>

#include "app/app.h"
#include "model/series.h"

/**
 * Put hours (and, when given, name and place) of a station; it is made when there is none.
 *
 * `{"latitude":…,"longitude":…,"observed":{…},"forecast":{…},"history":[…]}`, each optional, shapes
 * of the case file. Within an hour a figure that is given replaces the stored one, null included; a
 * column that is not given leaves it. `history`, when given, replaces all past years.
 *
 * @param[in] station_id  NUL-ended.
 * @param[in] json        Shape [length].
 * Status: OK, INVALID, LIMIT, BUSY, IO.
 */
MUST_USE enum status app_station_put_hours(struct app *app, const char *station_id,
                                           const char *json, size_t length, struct faults *faults);

/**
 * The same from a station that is already in memory (an importer's series).
 *
 * @param[in] station  Borrowed. A NAN latitude or longitude and a NULL name leave the stored ones;
 *                     a series with no hours is left alone; history_count 0 leaves the history.
 */
MUST_USE enum status app_station_put(struct app *app, const struct station *station,
                                     struct faults *faults);

#endif
