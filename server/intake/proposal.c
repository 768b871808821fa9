/* SPDX-License-Identifier: MIT */
/*
 * Why: an earlier proposal for the crews, handed back as a case, so that the next one can keep it.
 * Names of jobs and crews are not checked against the case: a job may be closed and a crew gone
 * since; what is not there any more is told by the plan as a change.
 */
#include <stddef.h>

#include "base/limits.h"
#include "intake/field.h"
#include "model/crew_plan.h"
#include "model/job.h"

#include "base/banned.h"

enum status intake_proposal(struct casefile *out, json_t *array, const struct intake *intake)
{
    static const struct field fields[] = {
        {"crew", FIELD_ID, .required = true, .offset = offsetof(struct crew_kept, crew_id)},
        {"job", FIELD_ID, .required = true, .offset = offsetof(struct crew_kept, job_id)},
        {"task", FIELD_CHOICE, .required = true, .offset = offsetof(struct crew_kept, task),
         .choices = &task_ids},
        {"start", FIELD_INSTANT, .required = true, .offset = offsetof(struct crew_kept, start_s)},
    };
    struct spot spot = {.key = "proposal"};
    if (array == NULL) return STATUS_OK;
    if (field_array(intake, &spot, array, PROPOSAL_MAX, "pieces of work") == NULL)
        return STATUS_INVALID;
    const size_t count = json_array_size(array);
    struct crew_kept *kept = ARENA_TAKE(intake->arena, count, struct crew_kept);
    if (kept == NULL) return field_no_memory(intake, &spot);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        struct spot here = {.up = &spot, .index = i};
        status =
            field_worse(status, field_read_object(intake, &here, json_array_get(array, i), fields,
                                                  sizeof fields / sizeof *fields, &kept[i]));
    }
    out->proposal = kept;
    out->proposal_count = count;
    return status;
}
