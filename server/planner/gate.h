/* SPDX-License-Identifier: MIT */
/*
 * Weather gates: which hours are closed to a kind of work, which are open only with a measure, and
 * the figure that decides. A gate speaks of whole hours that are observed or forecast; an hour of
 * which nothing is known never holds work back, and a figure that is not known decides nothing.
 *
 * How the rules are read where they leave room (the cautious way):
 *  - Pieces in adhesive mortar stop under the bag's minimum (50 F without a card) and under 40 F,
 * by the lower of air and pieces. Ordinary mortar (block tower, stone, hearth) goes on in bands by
 * the air now, each with its measure; the card of a hydraulic mortar stops it at its own minimum.
 *  - What protects work after it goes by the mean of the day and is a list of measures, never a
 * stop.
 *  - A part in a room or enclosure is asked for its own readings only, each for as long as it
 * holds; no station, rain or wind there. A house that nobody recorded as closed in has a roof (no
 * rain, no wind on the unit) and the temperature of the station. For the pad's deck and pour such a
 * house has no roof. Of a chimney that passes a roof, the stack is out of doors whatever the room
 * is.
 *  - Under a roof with open sides rain counts when it is driven: strong gusts, or wind not known.
 *  - Rain that was is wet for two hours; after rain or snow there is ice under frost for twelve.
 *  - Where no gust is known the mean wind alone is asked, and the figure says so.
 *  - A pour is closed by frost or ice on its base, by rain in its hour and the six hours after it,
 * and by a night that blankets cannot make up for. Nights under 40 F ask for blankets, evaporation
 * for a wind break, a day off after it for somebody who looks, an afternoon start for an earlier
 * one.
 *  - Lightning, standing water and whether a scaffold may be climbed are left to the people there.
 *
 * Everything lives in the arena of the facts and is worked out when first asked for.
 */
#ifndef EMBERWAIT_PLANNER_GATE_H
#define EMBERWAIT_PLANNER_GATE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/gate.h"
#include "planner/calendar.h"
#include "planner/clock.h"
#include "planner/facts.h"

enum {
    GATE_HOURS_MAX = 24 * 21, /**< hours a gate looks at: a forecast past three weeks is none */
    GATE_BACK_H = 24,         /**< hours before them that are kept: what was wet, what froze */
    GATE_HOUR_S = 3600,
};

/** The station in one hour, site offset included; NAN: not known. */
struct gate_sky {
    double temp_degc;
    double rain_mm;
    double rh_pct;
    double wind_mps;
    double gust_mps;
};

/** The gates of one job. Made with gates_begin; only these functions look inside. */
struct gates {
    const struct facts *facts;
    struct clocks *clocks;
    struct calendar calendar;   /**< the company's */
    int64_t from_s;             /**< whole UTC hour: the crew's day has begun by then */
    int64_t until_s;            /**< end of the last hour known */
    size_t count;               /**< hours between them */
    const struct gate_sky *sky; /**< [GATE_BACK_H + count] from GATE_BACK_H hours before from_s */
    const double *parts[PART_COUNT]; /**< [count] lowest of the hour, degC; NULL: not asked yet */
    bool rooms[PART_COUNT];          /**< with `parts`: the part stands in a room */
    const struct gate_hour *hours[GATE_CLASS_COUNT]; /**< [count]; NULL: not asked yet */
    const struct record *bag;                        /**< card of the lot in use; NULL */
};

/**
 * Begin the gates of a job; nothing is evaluated yet.
 *
 * @param[out] out    Filled; `count` is 0 when memory failed: then no gate holds anything.
 * @param[in]  facts  Records, station, rulebook and now; borrowed.
 * @param[in]  clocks Histories of the parts are taken from here where they are built; borrowed.
 */
void gates_begin(struct gates *out, const struct facts *facts, struct clocks *clocks);

/** The gate of a task; GATE_CLASS_NONE: it has none. */
enum gate_class gates_class(enum task task);

/** What a gate says of the hour that holds an instant; NULL: that hour is not known. */
const struct gate_hour *gates_hour(struct gates *gates, enum gate_class gate, int64_t at_s);

/**
 * The measures of work between two instants, each with its worst figure.
 *
 * @param[out] room     At most MEASURE_ID_COUNT are written, in the order of measure_id.
 * @param[in]  gates    Of the job.
 * @param[in]  gate     Of the task.
 * @param[in]  calendar Whose hours are worked.
 * @param[in]  start_s  Begin of the work; a pour is asked about its hour of the day.
 * @param[in]  finish_s End of the work.
 * @return how many were written.
 */
size_t gates_measures(struct gate_measure room[MEASURE_ID_COUNT], struct gates *gates,
                      enum gate_class gate, const struct calendar *calendar, int64_t start_s,
                      int64_t finish_s);

/** How long a bucket lasts, h, in the warmest hour of work between two instants; NAN: no mortar. */
double gates_bucket_h(struct gates *gates, enum gate_class gate, int64_t start_s, int64_t finish_s);

/** The known hours of a gate from an instant on as stretches in the arena; NULL when none. */
const struct gate_stretch *gates_stretches(size_t *out_count, struct gates *gates,
                                           enum gate_class gate, int64_t from_s);

/** Least temperature at which adhesive mortar is laid, degC: the bag's, else the rulebook's. */
double gates_bag_degc(const struct gates *gates);

/** Whether a part stands in a room or an enclosure. */
bool gates_in_room(struct gates *gates, enum part part);

/** A station figure of the hour that holds an instant; all NAN outside what is kept. */
struct gate_sky gates_sky(const struct gates *gates, int64_t at_s);

/** Lowest station temperature of the night that begins on a civil day of the job, degC; NAN. */
double gates_night_low_degc(const struct gates *gates, int32_t day);

/** Rain of the hours that start in [from_s, until_s), mm; NAN: none is known. */
double gates_rain_mm(const struct gates *gates, int64_t from_s, int64_t until_s);

#endif
