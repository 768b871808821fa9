/* SPDX-License-Identifier: MIT */
/*
 * What holds back a fire beyond the order of the tasks: the fire date of the unit, everything that
 * takes that date away, a unit wetted too short a time ago, the rests and looks after a stop sign,
 * an enclosure that stands, a burn ban, the wind.
 */
#ifndef EMBERWAIT_PLANNER_FIRE_GATE_H
#define EMBERWAIT_PLANNER_FIRE_GATE_H

#include "planner/network_internal.h"

/** Add what holds this fire back to its bounds; without a fire date there is no end to it. */
void fire_gate_add(struct bounds *bounds, struct net *net, enum task task);

/** End of the last hour that made a wet day on an unroofed unit since an instant; INSTANT_NONE. */
int64_t fire_gate_rained_on_s(const struct facts *facts, int64_t from_s);

/** The first instant at or after another on a day without a burn ban; INSTANT_NONE: no end known.
 */
int64_t fire_gate_after_ban_s(const struct facts *facts, int64_t at_s);

#endif
