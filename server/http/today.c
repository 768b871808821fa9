/* SPDX-License-Identifier: MIT */
/* Why: see today.h. */
#include "http/today.h"

#include <string.h>

#include "base/banned.h"

enum {
    DAY_S = 86400,
    /* what is proposed later opens no job to a crew: it may never come to it. A phone without a
     * signal sends what it kept within days. */
    AHEAD_DAYS = 7,
};

int32_t today_of(const struct zone *zone, int64_t now_s)
{
    return (int32_t)zone_floor_div(now_s + zone_offset_s(zone, now_s), DAY_S);
}

const struct crew *today_crew(const struct company *company, const char *crew_id)
{
    for (size_t i = 0; i < company->crew_count; i++) {
        if (strcmp(company->crews[i].id, crew_id) == 0) return &company->crews[i];
    }
    return NULL;
}

static const struct crew_plan *crew_plan_of(const struct plan *plan, const char *crew_id)
{
    for (size_t i = 0; i < plan->crew_count; i++) {
        if (strcmp(plan->crews[i].crew->id, crew_id) == 0) return &plan->crews[i];
    }
    return NULL;
}

const struct crew_day *today_of_crew(const struct plan *plan, const char *crew_id)
{
    const struct crew_plan *crew = crew_plan_of(plan, crew_id);
    const int32_t today = today_of(plan->casefile->company.zone, plan->casefile->now_s);
    for (size_t i = 0; crew != NULL && i < crew->day_count; i++) {
        if (crew->days[i].day == today) return &crew->days[i];
    }
    return NULL;
}

bool today_crew_has(const struct plan *plan, const char *crew_id, const struct job *job)
{
    if (job->crew_id != NULL && strcmp(job->crew_id, crew_id) == 0) return true;
    const struct crew_plan *crew = crew_plan_of(plan, crew_id);
    const int32_t last = today_of(plan->casefile->company.zone, plan->casefile->now_s) + AHEAD_DAYS;
    for (size_t i = 0; crew != NULL && i < crew->day_count; i++) {
        if (crew->days[i].day > last) continue;
        for (size_t k = 0; k < crew->days[i].work_count; k++) {
            if (crew->days[i].work[k].job == job) return true;
        }
    }
    return false;
}
