/* SPDX-License-Identifier: MIT */
/*
 * Working days and hours of a crew, an inspector or another trade, by the wall clock of their zone.
 * A day works when its weekday is in the week and it is no day off; its hours are one window less
 * the lunch inside it. Everything is worked out day by day from the wall clock, so that a working
 * day stays 07:00 to 15:30 across a clock change.
 */
#ifndef EMBERWAIT_PLANNER_CALENDAR_H
#define EMBERWAIT_PLANNER_CALENDAR_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/job.h"

enum { CALENDAR_DAYS_MAX = 4000 /**< days looked ahead for a working day: eleven years */ };

/** A working calendar. Everything is borrowed. */
struct calendar {
    const struct zone *zone;
    unsigned work_days; /**< bit 0 = Monday */
    struct window hours;
    struct window lunch;     /**< from == until: none */
    const int32_t *days_off; /**< ascending */
    size_t days_off_count;
    const int32_t *town_off; /**< the town's own holidays, ascending; NULL: none */
    size_t town_off_count;
};

/** The company's own calendar: crews, office, owner. */
void calendar_of_company(struct calendar *out, const struct company *company);

/**
 * The calendar of an inspector or trade.
 *
 * @param[out] out   Without lunch.
 * @param[in]  party Their days and hours; NULL: work days and hours of the company.
 * @param[in]  company Borrowed.
 * @param[in]  zone  The zone their hours are written in.
 */
void calendar_of_party(struct calendar *out, const struct outside_party *party,
                       const struct company *company, const struct zone *zone);

/** Whether a day is in an ascending list, shape [count]. */
bool calendar_has_day(const int32_t *days, size_t count, int32_t day);

/** Whether a civil day is a working day. */
bool calendar_works(const struct calendar *calendar, int32_t day);

/** Working hours of a full day, h. */
double calendar_day_h(const struct calendar *calendar);

/** When work begins on a civil day, whether it is a working day or not. */
int64_t calendar_open_s(const struct calendar *calendar, int32_t day);

/** The first working day at or after a civil day; DAY_NONE when there is none. */
int32_t calendar_next_day(const struct calendar *calendar, int32_t day);

/** Working hours left at an instant of its own civil day, h; 0 on days that do not work. */
double calendar_left_h(const struct calendar *calendar, int64_t at_s);

/**
 * First instant at or after another that lies in working hours and leaves enough of that day.
 *
 * @param[in] calendar Borrowed.
 * @param[in] at_s     Not before.
 * @param[in] left_h   Working hours that must be left, h; the start of a working day always does.
 * @return INSTANT_NONE when no day works.
 */
int64_t calendar_start_s(const struct calendar *calendar, int64_t at_s, double left_h);

/**
 * When work of a length ends, over as many working days as it takes.
 *
 * @param[in] calendar Borrowed.
 * @param[in] start_s  An instant; work runs in working hours from then on.
 * @param[in] hours    Working hours, h, not NAN, not negative.
 * @return INSTANT_NONE when no day works or it would take more than CALENDAR_DAYS_MAX days.
 */
int64_t calendar_finish_s(const struct calendar *calendar, int64_t start_s, double hours);

#endif
