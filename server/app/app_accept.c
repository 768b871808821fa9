/* SPDX-License-Identifier: MIT */
/* Why: see app_accept.h. The figures come from where the plan takes them, so that what is taken at
 * the door is what acts. */
#include "app/app_accept.h"

#include <math.h>
#include <stdio.h>

#include "planner/hold.h"

#include "base/banned.h"

#define FIGURE_SLACK 1e-9

/* "2 or 1.25" */
static void list_figures(char *out, size_t size, const struct check_limit *limits, size_t count)
{
    size_t used = (size_t)snprintf(out, size, "%s",
                                   count == 0 ? "no acceptance: this check has no figures"
                                              : "one of the figures on the table: ");
    for (size_t i = 0; i < count && used < size; i++) {
        int more =
            snprintf(out + used, size - used, "%s%.6g", i == 0 ? "" : ", ", limits[i].figure);
        if (more > 0) used += (size_t)more;
    }
}

static enum status check_one(const struct facts *facts, const struct record *record, size_t index,
                             const char *path, struct faults *faults)
{
    struct check_limit limits[HOLD_LIMITS_MAX];
    const struct record *accepted = NULL;
    const size_t count = hold_limits(limits, &accepted, facts, record->check);
    for (size_t i = 0; i < count; i++)
        if (fabs(limits[i].figure - record->need) <= FIGURE_SLACK) return STATUS_OK;
    char where[FAULT_PATH_MAX];
    char wanted[FAULT_TEXT_MAX];
    (void)snprintf(where, sizeof where, "%s[%zu].need", path, index);
    list_figures(wanted, sizeof wanted, limits, count);
    return faults_add(faults, where, wanted, "%.6g for %s", record->need, record->rule);
}

/* What an inspector has to see is not the owner's to let go by. */
static enum status excuse_one(const struct rulebook *rulebook, const struct record *record,
                              size_t index, const char *path, struct faults *faults)
{
    if (!rulebook->tasks[record->excuses].inspection) return STATUS_OK;
    char where[FAULT_PATH_MAX];
    (void)snprintf(where, sizeof where, "%s[%zu].rule", path, index);
    return faults_add(faults, where, "work of our own: an inspection is passed by its slip", "%s",
                      record->rule);
}

enum status app_accept_check(const struct rulebook *rulebook, const struct company *company,
                             const struct job *job, const struct record *records, size_t count,
                             const char *path, struct faults *faults)
{
    const struct facts facts = {.job = job, .company = company, .rulebook = rulebook};
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        const struct record *record = &records[i];
        if (record->kind == RECORD_CORRECTED && record->with != NULL) record = record->with;
        if (record->kind != RECORD_OVERRIDDEN) continue;
        if (record->excuses != TASK_NONE &&
            excuse_one(rulebook, record, i, path, faults) != STATUS_OK)
            status = STATUS_INVALID;
        if (record->check == CHECK_NONE) continue;
        if (check_one(&facts, record, i, path, faults) != STATUS_OK) status = STATUS_INVALID;
    }
    return status;
}

enum status app_accept_check_case(const struct rulebook *rulebook, const struct casefile *casefile,
                                  struct faults *faults)
{
    enum status status = STATUS_OK;
    for (size_t i = 0; i < casefile->job_count; i++) {
        const struct job *job = &casefile->jobs[i];
        char path[FAULT_PATH_MAX];
        (void)snprintf(path, sizeof path, "jobs[%zu].records", i);
        if (app_accept_check(rulebook, &casefile->company, job, job->records, job->record_count,
                             path, faults) != STATUS_OK)
            status = STATUS_INVALID;
    }
    return status;
}
