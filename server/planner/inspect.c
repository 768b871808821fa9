/* SPDX-License-Identifier: MIT */
/*
 * Why: see inspect.h. A town that inspects on Tuesdays and Thursdays takes requests on every
 * business day: its office days are Monday to Friday (or the work_days of an inspector with days of
 * visits of its own), less its holidays and the town's.
 */
#include "planner/inspect.h"

#include <string.h>

#include "compute/civil.h"
#include "model/record.h"

#include "base/banned.h"

enum { MINUTE_S = 60, WEEK_OFFICE_DAYS = 0x1f };

static bool is_called(const struct outside_party *party, const char *name)
{
    return strcmp(party->id, name) == 0 || (party->name != NULL && strcmp(party->name, name) == 0);
}

const struct outside_party *inspect_party(const struct company *company, const struct job *job)
{
    const struct town *town = &job->options.town;
    const char *names[2] = {town->inspector, town->name};
    for (int n = 0; n < 2; n++)
        for (size_t i = 0; names[n] != NULL && i < company->inspector_count; i++)
            if (is_called(&company->inspectors[i], names[n])) return &company->inspectors[i];
    return company->inspector_count > 0 ? &company->inspectors[0] : NULL;
}

void inspect_calendar(struct calendar *out, const struct outside_party *party,
                      const struct company *company, const struct job *job)
{
    calendar_of_party(out, party, company, job->zone);
    if (party != NULL && party->serves != 0) out->work_days = party->serves;
    out->town_off = job->options.town.days_off;
    out->town_off_count = job->options.town.days_off_count;
}

/* The days on which a request is taken. */
static void office_calendar(struct calendar *out, const struct outside_party *party,
                            const struct company *company, const struct job *job)
{
    inspect_calendar(out, party, company, job);
    if (party == NULL)
        out->work_days = company->work_days;
    else
        out->work_days =
            party->serves != 0 ? party->work_days : (party->work_days | WEEK_OFFICE_DAYS);
}

static int cutoff_min(const struct outside_party *party, const struct job *job)
{
    const int town_min = job->options.town.request_cutoff_min;
    if (town_min >= 0) return town_min;
    return party == NULL ? -1 : party->request_cutoff_min;
}

int64_t inspect_request_by_s(const struct company *company, const struct job *job,
                             int32_t visit_day)
{
    const struct outside_party *party = inspect_party(company, job);
    const int minutes = cutoff_min(party, job);
    if (minutes < 0) return INSTANT_NONE;
    struct calendar office;
    office_calendar(&office, party, company, job);
    int left = party == NULL ? 1 : party->request_days;
    int32_t day = visit_day;
    for (int i = 0; left > 0 && i < CALENDAR_DAYS_MAX; i++)
        if (calendar_works(&office, --day)) left--;
    return civil_instant_s(job->zone, day, minutes * MINUTE_S);
}

int64_t inspect_first_visit_s(const struct company *company, const struct job *job, int64_t now_s)
{
    const struct outside_party *party = inspect_party(company, job);
    if (cutoff_min(party, job) < 0) return INSTANT_NONE;
    struct calendar visits;
    inspect_calendar(&visits, party, company, job);
    int32_t day = civil_day_of(job->zone, now_s);
    for (int i = 0; i < CALENDAR_DAYS_MAX; i++) {
        day = calendar_next_day(&visits, day);
        if (day == DAY_NONE) return INSTANT_NONE;
        if (inspect_request_by_s(company, job, day) >= now_s) return calendar_open_s(&visits, day);
        day++;
    }
    return INSTANT_NONE;
}
