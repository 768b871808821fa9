/* SPDX-License-Identifier: MIT */
/*
 * Why: see lift.h. The hours of the whole run (set-up and all) are shared out by the foot. Each day
 * holds what the rule and its hours allow, laid as early as they do: a later start or a younger bed
 * never makes the last foot come earlier.
 */
#include "planner/lift.h"

#include <math.h>

#include "compute/civil.h"

#include "base/banned.h"

#define FEET_SLACK 1e-9

/** The run while it is laid out day by day. */
struct run {
    const struct calendar *calendar;
    double hours_a_foot;
    double left_ft;
    int64_t at_s;
};

/* Lay at most so many feet before the day is over; how many. at_s is after them, or NONE. */
static double lay(struct run *run, double feet)
{
    const double fit_ft = calendar_left_h(run->calendar, run->at_s) / run->hours_a_foot;
    feet = fmin(fmin(feet, run->left_ft), fit_ft);
    if (feet <= FEET_SLACK) return 0;
    run->at_s = calendar_finish_s(run->calendar, run->at_s, feet * run->hours_a_foot);
    run->left_ft -= feet;
    return feet;
}

int64_t lift_finish_s(const struct net *net, const struct calendar *calendar, int64_t start_s)
{
    const double total_ft = net->facts->job->quantities[QUANTITY_CHIMNEY_FT];
    const double day_ft = rulebook_setting(net->rulebook, SETTING_LIFT_DAY_FT);
    double young_ft = fmin(day_ft, rulebook_setting(net->rulebook, SETTING_LIFT_FIRST_FT));
    const int64_t old_s =
        net->lifts_s +
        llround(rulebook_setting(net->rulebook, SETTING_LIFT_FIRST_H) * NETWORK_HOUR_S);
    struct run run = {calendar, net->durations[TASK_CHIMNEY_RUN].hours / total_ft, total_ft,
                      start_s};
    if (!(run.hours_a_foot > 0)) return start_s;
    for (int day = 0; day < CALENDAR_DAYS_MAX; day++) {
        const int32_t today = civil_day_of(calendar->zone, run.at_s);
        double laid_ft = 0;
        if (run.at_s < old_s) {
            laid_ft = lay(&run, young_ft);
            young_ft -= laid_ft; /* one first lift, however many days the bed is young */
            if (run.left_ft <= FEET_SLACK) return run.at_s;
            if (run.at_s < old_s) run.at_s = calendar_start_s(calendar, old_s, 0);
            if (run.at_s == INSTANT_NONE) return INSTANT_NONE;
            if (civil_day_of(calendar->zone, run.at_s) != today) continue;
        }
        (void)lay(&run, day_ft - laid_ft);
        if (run.left_ft <= FEET_SLACK) return run.at_s;
        const int32_t next = calendar_next_day(calendar, today + 1);
        if (next == DAY_NONE) return INSTANT_NONE;
        run.at_s = calendar_open_s(calendar, next);
    }
    return INSTANT_NONE;
}
