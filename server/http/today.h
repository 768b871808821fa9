/* SPDX-License-Identifier: MIT */
/* Which crew, which day, whose job: small questions to a plan. Inside http/ only. */
#ifndef EMBERWAIT_HTTP_TODAY_H
#define EMBERWAIT_HTTP_TODAY_H

#include <stdbool.h>
#include <stdint.h>

#include "model/plan.h"

/** The civil day of an instant, days since 1970. */
int32_t today_of(const struct zone *zone, int64_t now_s);
/** A crew by id; NULL when there is none. */
const struct crew *today_crew(const struct company *company, const char *crew_id);
/** A crew's day of the plan's now, by the company's clock; NULL when nothing is planned. */
const struct crew_day *today_of_crew(const struct plan *plan, const char *crew_id);
/** Whether a job is a crew's: it usually goes there, or the plan sends it there within a week. */
bool today_crew_has(const struct plan *plan, const char *crew_id, const struct job *job);

#endif
