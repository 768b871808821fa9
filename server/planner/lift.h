/* SPDX-License-Identifier: MIT */
/*
 * Chimney lifts: so many feet a day, fewer while the thick bed under the transition piece is young.
 * Begun early, the first lift stops at its few feet and the rest waits for the bed or the morning.
 */
#ifndef EMBERWAIT_PLANNER_LIFT_H
#define EMBERWAIT_PLANNER_LIFT_H

#include "planner/network_internal.h"

/**
 * When the chimney is up.
 *
 * @param[in] net      `lifts_s` says when the bed was laid.
 * @param[in] calendar Of the crew.
 * @param[in] start_s  In working hours.
 * @return INSTANT_NONE when it takes more days than the calendar has.
 */
int64_t lift_finish_s(const struct net *net, const struct calendar *calendar, int64_t start_s);

#endif
