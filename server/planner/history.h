/* SPDX-License-Identifier: MIT */
/*
 * How warm a part was, is and will be, from readings, shelters and the station.
 *
 * A history is a list of spans over all time. Inside a span one simple law holds (a fixed figure,
 * the station, the lower of the two, nothing), so a span under the station costs nothing until it
 * is walked. history_walk gives the constant pieces: between two neighbouring break points the
 * temperature does not change, so every sum over it is exact.
 *
 * What it leaves out: any guess. A place that nobody read has no temperature; a cap lowers what is
 * there and never makes a figure of its own.
 */
#ifndef EMBERWAIT_PLANNER_HISTORY_H
#define EMBERWAIT_PLANNER_HISTORY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/plan.h"
#include "planner/facts.h"
#include "planner/past.h"

/**
 * The station as seen at `now`: past hours observed only, future hours forecast only, the hour that
 * holds now observed if there is a figure, else forecast; the site offset is included.
 */
struct weather_view {
    bool station;            /**< the job has a station */
    int64_t start_s;         /**< whole UTC hour */
    size_t count;            /**< hours */
    const double *temp_degc; /**< [count], NAN missing */
    const double *rain_mm;   /**< [count], NAN missing */
    int64_t
        forecast_end_s; /**< end of the last forecast hour with a temperature; INT64_MIN: none */
    int64_t ahead_s;    /**< from here on a past year may supply the hours; a whole UTC hour */
    const struct past_tail *tail; /**< the past year that does; NULL: none */
};

/** What the station does inside a span. */
enum station_use {
    STATION_UNUSED, /**< the base figure alone, or nothing */
    STATION_ALONE,  /**< the station; past the last forecast hour: `past_forecast` */
    STATION_LOWER,  /**< the lower of base and station; without a station figure the base */
    STATION_OVER,   /**< under a blanket ahead: the lower of base and forecast + 10 F, or nothing */
};

struct history_span {
    int64_t from_s;
    int64_t until_s;
    double base_degc;       /**< figure of the readings, NAN: none */
    double frost_base_degc; /**< the same without the bridge's 3 F */
    double cap_degc;        /**< INFINITY: none */
    enum station_use use;
    bool open;                    /**< in the open: the frost test reads the station too */
    unsigned assumes;             /**< enum assume bits, for instants after now */
    const struct record *reading; /**< the reading it rests on, NULL: none */
};

struct history {
    enum part part;     /**< the part asked for */
    enum part lives_as; /**< whose shelters it has: itself, or the unit */
    enum part readings; /**< whose readings are used: `lives_as`, or air */
    const struct weather_view *weather;
    int64_t now_s;
    double over_degc;                 /**< blanket: forecast + this */
    const struct history_span *spans; /**< ascending, without holes, from INT64_MIN to INT64_MAX */
    size_t count;
    int64_t settled_s;                 /**< from here on nothing changes any more */
    const char *place;                 /**< "open", "room", "blanket" at now */
    bool never_read;                   /**< the present stay is closed and was never read */
    const struct record *last_reading; /**< last reading used at or before now; NULL */
    const struct record *disagree;     /**< latest reading that differs from one within its hour */
    double disagree_degc;              /**< by this much */
};

/** A stretch of constant temperature. */
struct piece {
    int64_t from_s;
    int64_t until_s;
    double temp_degc;   /**< NAN: no reading */
    double frost_degc;  /**< the lowest figure the frost test reads; NAN: none */
    bool past_forecast; /**< after the last forecast hour of an open place with a station */
    const struct history_span *span;
};

/** Where a walk stands. */
struct history_walk {
    const struct history *history;
    size_t span;
    int64_t at_s;
    int64_t until_s;
};

/**
 * The station as one series of hours for [from_s, until_s).
 *
 * @param[out] out     Arrays in the arena of the facts.
 * @param[in]  facts   Job, station and now.
 * @param[in]  from_s  First instant anybody will ask for.
 */
void history_weather(struct weather_view *out, const struct facts *facts, int64_t from_s);

/** The same with a past year behind it; both are borrowed. */
void history_weather_year(struct weather_view *out, const struct weather_view *weather,
                          const struct past_tail *tail);

/** The history of a part under the weather of a past year; spans and weather are borrowed. */
void history_year(struct history *out, const struct history *history,
                  const struct weather_view *weather);

/**
 * The history of one part. Its spans live in the arena of the facts.
 *
 * @param[out] out     Filled.
 * @param[in]  facts   Records, rulebook and now.
 * @param[in]  weather Borrowed for as long as the history.
 * @param[in]  part    pad, footing, joints, bed, lining or unit.
 */
void history_build(struct history *out, const struct facts *facts,
                   const struct weather_view *weather, enum part part);

/** Begin a walk over [from_s, until_s). */
void history_walk_begin(struct history_walk *walk, const struct history *history, int64_t from_s,
                        int64_t until_s);
/** The next piece; false at the end. */
bool history_walk_next(struct history_walk *walk, struct piece *piece);

/**
 * Whole past hours in which the station alone rules and no cap acts: the next such run as a bare
 * array, so that a long-settled clock costs a few instructions an hour. The walk moves on past what
 * is taken.
 *
 * @param[in,out] walk       Where it stands; moved by `*out_hours` hours.
 * @param[in]     hours_most At most so many.
 * @param[out]    out_hours  Hours in the run; 0: take the next piece instead.
 * @return station figures, degC, shape [*out_hours], NAN missing; borrowed from the view.
 */
const double *history_walk_hours(struct history_walk *walk, size_t hours_most, size_t *out_hours);

/**
 * Whether from an instant on the station alone rules and no cap acts, to the end of time: what is
 * kept of past years may then be used.
 */
bool history_is_station_from(const struct history *history, int64_t at_s);

/** Rain figure of the hour that starts at `hour_s` (a whole UTC hour); NAN: none. */
double history_rain_mm(const struct weather_view *weather, int64_t hour_s);

#endif
