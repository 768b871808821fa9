/* SPDX-License-Identifier: MIT */
/* The tasks of a job under each past year. */
#ifndef EMBERWAIT_PLANNER_NETWORK_YEAR_H
#define EMBERWAIT_PLANNER_NETWORK_YEAR_H

#include "planner/outlook.h"

/**
 * Rank the start and finish of every task ahead over the past years.
 *
 * @param[in,out] out     After network_plan; its tasks take their outlook.
 * @param[in]     facts   The same facts.
 * @param[in,out] outlook After outlook_find; with too few years nothing is filled.
 */
void network_years(struct job_plan *out, const struct facts *facts, struct outlook *outlook);

#endif
