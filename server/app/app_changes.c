/* SPDX-License-Identifier: MIT */
/* Why: see app_changes.h. The planner does the work; here are the rulebook, the evening, the
 * memory. */
#include "app/app_changes.h"

#include <string.h>

#include "app/app_internal.h"
#include "compute/civil.h"
#include "planner/changes.h"

#include "base/banned.h"

enum { EVENING_S = 17 * 3600 };

int64_t app_changes_evening_s(const struct company *company, int64_t now_s)
{
    return civil_instant_s(company->zone, civil_day_of(company->zone, now_s) - 1, EVENING_S);
}

enum status app_changes_since(const struct change **out, size_t *count, const struct app_view *view,
                              const struct plan *plan, int64_t since_s, struct arena *arena,
                              struct faults *faults)
{
    const enum status status =
        changes_since(out, count, plan, since_s, app_view_any_rulebook(view), arena);
    return status == STATUS_OK ? STATUS_OK : app_no_memory(faults);
}

enum status app_changes_between(const struct job_moves **out, size_t *count,
                                const struct plan *before, const struct plan *after,
                                struct arena *arena, struct faults *faults)
{
    struct job_moves *list = ARENA_TAKE(arena, after->job_count, struct job_moves);
    *count = 0;
    *out = list;
    if (list == NULL) return app_no_memory(faults);
    for (size_t i = 0; i < after->job_count && i < before->job_count; i++)
        changes_compare(&list[(*count)++], &before->jobs[i], &after->jobs[i], arena);
    return arena_failed(arena) ? app_no_memory(faults) : STATUS_OK;
}
