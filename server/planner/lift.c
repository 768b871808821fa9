/* SPDX-License-Identifier: MIT */
/*
 * Why: see lift.h. The hours of the whole run (set-up and all) are shared out by the foot, so that
 * a day's lift takes its part of them; a day holds what the rule allows and what its hours allow.
 */
#include "planner/lift.h"

#include <math.h>

#include "compute/civil.h"

#include "base/banned.h"

#define FEET_SLACK 1e-9

/* The next working morning after an instant. */
static int64_t next_morning_s(const struct calendar *calendar, int64_t at_s)
{
    int32_t day = calendar_next_day(calendar, civil_day_of(calendar->zone, at_s) + 1);
    return day == DAY_NONE ? INSTANT_NONE : calendar_open_s(calendar, day);
}

/** The run while it is laid out day by day. */
struct run {
    const struct calendar *calendar;
    double hours_a_foot;
    double left_ft;
    int64_t at_s;
};

/* Lay so many feet from run->at_s on, over night if the day is too short for them. */
static bool lay(struct run *run, double feet)
{
    feet = fmin(feet, run->left_ft);
    run->at_s = calendar_finish_s(run->calendar, run->at_s, feet * run->hours_a_foot);
    run->left_ft -= feet;
    return run->at_s != INSTANT_NONE;
}

int64_t lift_finish_s(const struct net *net, const struct calendar *calendar, int64_t start_s)
{
    const double total_ft = net->facts->job->quantities[QUANTITY_CHIMNEY_FT];
    const double day_ft = rulebook_setting(net->rulebook, SETTING_LIFT_DAY_FT);
    const double first_ft = rulebook_setting(net->rulebook, SETTING_LIFT_FIRST_FT);
    const int64_t old_s =
        net->lifts_s +
        llround(rulebook_setting(net->rulebook, SETTING_LIFT_FIRST_H) * NETWORK_HOUR_S);
    struct run run = {calendar, net->durations[TASK_CHIMNEY_RUN].hours / total_ft, total_ft,
                      start_s};
    double allowed_ft = day_ft;
    if (start_s < old_s) {
        if (!lay(&run, fmin(first_ft, day_ft)) || run.left_ft <= FEET_SLACK) return run.at_s;
        const int32_t today = civil_day_of(calendar->zone, run.at_s);
        allowed_ft = day_ft - fmin(first_ft, day_ft);
        if (run.at_s < old_s) run.at_s = calendar_start_s(calendar, old_s, 0);
        if (run.at_s == INSTANT_NONE) return INSTANT_NONE;
        if (civil_day_of(calendar->zone, run.at_s) != today) allowed_ft = day_ft;
    }
    /* The same share each day, as few days as the rule allows. */
    double rest_ft = run.left_ft - fmin(run.left_ft, allowed_ft);
    double share_ft = allowed_ft >= day_ft ? run.left_ft / ceil(run.left_ft / day_ft - FEET_SLACK)
                                           : run.left_ft - rest_ft;
    for (int day = 0; day < CALENDAR_DAYS_MAX; day++) {
        if (share_ft > FEET_SLACK && !lay(&run, share_ft)) return INSTANT_NONE;
        if (run.left_ft <= FEET_SLACK) return run.at_s;
        if (day == 0 && allowed_ft < day_ft)
            share_ft = run.left_ft / ceil(run.left_ft / day_ft - FEET_SLACK);
        run.at_s = next_morning_s(calendar, run.at_s);
        if (run.at_s == INSTANT_NONE) return INSTANT_NONE;
    }
    return INSTANT_NONE;
}
