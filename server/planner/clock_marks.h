/* SPDX-License-Identifier: MIT */
/* What stands beside a clock's date: that it rests on an old forecast, or on station figures that
 * were taken colder for the site. A mark never moves a date. */
#ifndef EMBERWAIT_PLANNER_CLOCK_MARKS_H
#define EMBERWAIT_PLANNER_CLOCK_MARKS_H

#include "planner/clock.h"

/**
 * Mark every clock worked out so far, and say in the plan whether the station's forecast is old.
 *
 * @param[in,out] out     forecast_old, forecast_made_s.
 * @param[in,out] clocks  assumes, forecast_made_s and site_offset_degc of each plan.
 */
void clock_marks(struct job_plan *out, struct clocks *clocks);

/**
 * Mark every task whose start rests on an old forecast: by a wait or the weather of its own, or by
 * a task that goes before it.
 */
void clock_marks_tasks(struct job_plan *out, int64_t now_s);

/** A forecast made longer ago than the rulebook's `forecast.old`. */
bool clock_marks_old(const struct facts *facts);

#endif
