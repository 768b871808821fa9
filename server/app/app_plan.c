/* SPDX-License-Identifier: MIT */
/* Why: see app_plan.h. A view is planned as it is; what is changed on a copy is in app_try.c. */
#include "app/app_plan.h"

#include <string.h>

#include "app/app_internal.h"
#include "planner/planner.h"

#include "base/banned.h"

enum status app_plan_job(const struct job_plan **out, const struct app_view *view,
                         const char *job_id, int64_t now_s, struct arena *arena,
                         struct faults *faults)
{
    const struct job *job = app_view_job(view, job_id);
    if (job == NULL) {
        (void)faults_add(faults, "job", "the id of a job of this store", "\"%s\"", job_id);
        return STATUS_NOT_FOUND;
    }
    struct job_plan *plan = ARENA_TAKE(arena, 1, struct job_plan);
    if (plan == NULL) return app_no_memory(faults);
    const enum status status = planner_job(plan, job, &app_view_case(view)->company,
                                           app_view_rulebook(view, job), now_s, arena);
    if (status != STATUS_OK) return app_no_memory(faults);
    *out = plan;
    return STATUS_OK;
}

enum status app_plan_case(const struct plan **out, const struct casefile *casefile,
                          const struct rulebook *rulebook, int64_t now_s, struct arena *arena,
                          struct faults *faults)
{
    struct casefile *copy = ARENA_TAKE(arena, 1, struct casefile);
    if (copy == NULL) return app_no_memory(faults);
    *copy = *casefile;
    copy->now_s = now_s;
    return planner_run(out, copy, rulebook, arena) == STATUS_OK ? STATUS_OK : app_no_memory(faults);
}

enum status app_plan_all(const struct plan **out, const struct app_view *view, int64_t now_s,
                         struct arena *arena, struct faults *faults)
{
    return app_plan_case(out, app_view_case(view), app_view_any_rulebook(view), now_s, arena,
                         faults);
}

enum status app_plan_pictures(const struct job_plan **out, const struct app_view *view,
                              const struct job_plan *plan, int64_t now_s, struct arena *arena,
                              struct faults *faults)
{
    struct job_plan *copy = ARENA_TAKE(arena, 1, struct job_plan);
    if (copy == NULL) return app_no_memory(faults);
    *copy = *plan;
    const enum status status = planner_pictures(copy, &app_view_case(view)->company,
                                                app_view_rulebook(view, plan->job), now_s, arena);
    if (status != STATUS_OK) return app_no_memory(faults);
    *out = copy;
    return STATUS_OK;
}

const struct job_plan *app_plan_find(const struct plan *plan, const char *job_id)
{
    for (size_t i = 0; i < plan->job_count; i++) {
        if (strcmp(plan->jobs[i].job->id, job_id) == 0) return &plan->jobs[i];
    }
    return NULL;
}
