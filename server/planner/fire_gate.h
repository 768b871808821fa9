/* SPDX-License-Identifier: MIT */
/*
 * What holds back a fire beyond the order of the tasks: the fire date of the unit, everything that
 * takes that date away, and a unit wetted too short a time ago.
 */
#ifndef EMBERWAIT_PLANNER_FIRE_GATE_H
#define EMBERWAIT_PLANNER_FIRE_GATE_H

#include "planner/network_internal.h"

/** True for the break-in fire whose turn it is: the first, or one whose forerunner has been lit. */
bool fire_gate_is_next(const struct net *net, enum task task);

/** Add what holds this fire back to its bounds; without a fire date there is no end to it. */
void fire_gate_add(struct bounds *bounds, const struct net *net, enum task task);

#endif
