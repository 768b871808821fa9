/* SPDX-License-Identifier: MIT */
/*
 * Who inspects for a job, on which days, and until when a visit can still be asked for. The cut-off
 * is a wall-clock time of the town, on a business day so many business days before the visit.
 */
#ifndef EMBERWAIT_PLANNER_INSPECT_H
#define EMBERWAIT_PLANNER_INSPECT_H

#include "planner/calendar.h"

/** The inspector of the job's town: the one it names, else one of its name, else the first. */
const struct outside_party *inspect_party(const struct company *company, const struct job *job);

/** Days and hours of visits, in the job's zone; `party` may be NULL: the company's days. */
void inspect_calendar(struct calendar *out, const struct outside_party *party,
                      const struct company *company, const struct job *job);

/**
 * Until when a visit on a day can be asked for.
 *
 * @param[in] company   Borrowed.
 * @param[in] job       Its town and zone.
 * @param[in] visit_day A civil day.
 * @return INSTANT_NONE when nobody said a cut-off.
 */
int64_t inspect_request_by_s(const struct company *company, const struct job *job,
                             int32_t visit_day);

/** The opening of the first visit that can still be asked for; INSTANT_NONE: no cut-off is known.
 */
int64_t inspect_first_visit_s(const struct company *company, const struct job *job, int64_t now_s);

#endif
