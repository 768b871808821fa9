/* SPDX-License-Identifier: MIT */
/*
 * What the files of the gates share: gate.c keeps hours and caches, gate_rules.c says which number
 * a rule has, gate_hour.c judges an hour of building, gate_pour.c an hour of a pour.
 */
#ifndef EMBERWAIT_PLANNER_GATE_INTERNAL_H
#define EMBERWAIT_PLANNER_GATE_INTERNAL_H

#include "planner/gate.h"

/** What stands over the work. */
enum gate_exposure {
    EXPOSURE_SKY,   /**< nothing */
    EXPOSURE_SIDES, /**< a roof, open at the sides */
    EXPOSURE_HOUSE, /**< a house that nobody recorded as closed in */
    EXPOSURE_ROOM,  /**< a room or an enclosure */
};

/** One hour while it is judged. */
struct gate_look {
    struct gates *gates;
    enum gate_class gate;
    enum gate_exposure exposure;
    size_t hour;                   /**< index from gates->from_s */
    const struct gate_sky *sky;    /**< of that hour; sky[-k] is k hours before */
    struct gate_hour *out;         /**< the word and what decides */
    struct gate_measure *measures; /**< [MEASURE_ID_COUNT], the worst of each; NULL: not wanted */
};

/** A setting of the job's rulebook. */
double gate_setting(const struct gates *gates, enum setting setting);

/** Fill in a figure: value and limit in the rule's own SI unit, degC, m/s, mm, h. */
struct gate_figure gate_figure_of(const struct gates *gates, enum gate_rule rule, double value,
                                  double limit, int64_t at_s);

/** How far a figure lies past its limit; what has no figure is 0. */
double gate_figure_excess(const struct gate_figure *figure);

/** A figure of the hour is known: it is at least open. */
void gate_know(struct gate_look *look);

/** The hour is closed by a rule. */
void gate_close(struct gate_look *look, enum gate_rule rule, double value, double limit);

/** The hour needs a measure; the worst figure of each is kept. */
void gate_ask(struct gate_look *look, enum measure_id measure, enum gate_rule rule, double value,
              double limit);

/** The strongest wind of the hour: the gust, else the mean wind. NAN: not known. */
double gate_wind_mps(const struct gate_sky *sky);

/** Rain reaches the work in the hour `back` hours before this one. */
bool gate_wet(const struct gate_look *look, size_t back);

/** Ice: frost, and rain or snow within the hours before. */
void gate_judge_ice(struct gate_look *look);

/** Lowest figure of a part in this hour, degC; NAN: not known. */
double gate_part_degc(struct gate_look *look, enum part part);

/** Judge an hour of anything but a pour. */
void gate_judge_hour(struct gate_look *look);

/** Judge an hour of a pour. */
void gate_judge_pour(struct gate_look *look);

/** Somebody looks on a day: it is a crew day, or a held date or a booking of the pad says so. */
bool gate_looked_at(const struct gates *gates, int32_t day);

#endif
