/* SPDX-License-Identifier: MIT */
/* Plans of a view at an instant, and plans of a changed copy that is never stored. */
#ifndef EMBERWAIT_APP_APP_PLAN_H
#define EMBERWAIT_APP_APP_PLAN_H

#include <stddef.h>
#include <stdint.h>

#include "app/app_view.h"
#include "base/arena.h"
#include "model/plan.h"

/**
 * One job by itself: clocks, fire date, tasks as if it had the crew alone.
 *
 * @param[out] out     In `arena`; valid while the arena and the view are held.
 * @param[in]  view    Borrowed.
 * @param[in]  job_id  NUL-ended.
 * @param[in]  now_s   The instant.
 * Status: OK, NOT_FOUND, LIMIT (no memory).
 */
MUST_USE enum status app_plan_job(const struct job_plan **out, const struct app_view *view,
                                  const char *job_id, int64_t now_s, struct arena *arena,
                                  struct faults *faults);

/**
 * Every job together, crews shared out; `out->casefile->now_s` is `now_s`.
 *
 * Status: OK, LIMIT (no memory).
 */
MUST_USE enum status app_plan_all(const struct plan **out, const struct app_view *view,
                                  int64_t now_s, struct arena *arena, struct faults *faults);

/**
 * A copy of a job's plan with its hour strips, for a page that draws them.
 *
 * @param[out] out    In `arena`; valid while the arena, the view and the plan are held.
 * @param[in]  view   The view the plan was made of.
 * @param[in]  plan   The job's plan; borrowed.
 * @param[in]  now_s  The instant it was made at.
 * Status: OK, LIMIT (no memory).
 */
MUST_USE enum status app_plan_pictures(const struct job_plan **out, const struct app_view *view,
                                       const struct job_plan *plan, int64_t now_s,
                                       struct arena *arena, struct faults *faults);

/** The job's row of a plan; NULL when the plan has none. */
const struct job_plan *app_plan_find(const struct plan *plan, const char *job_id);

/** Two plans: as things are, and with the changes. */
struct app_try {
    const struct plan *before;
    const struct plan *after;
};

/**
 * Change a copy and plan both; nothing is stored.
 *
 * `{"records":[…],"options":{…},"quantities":{…},"rulebook":"id","job":{…},"settings":{…},
 * "company":{…},"weather":{…}}`, each optional. Options, quantities, job (its other members: a
 * wanted fire, a crew, lead times) and company are merge patches (null takes a member away);
 * records are added to the job's; settings are numbers by id, never such as could open earlier;
 * weather has `observed` and `forecast` series of the case file, and `shift_degf` for every hour
 * ahead.
 *
 * @param[out] out    Plans in `arena`; valid while the arena and the view are held.
 * @param[in]  json   Shape [length].
 * @param[in]  now_s  The instant.
 * Status: OK, NOT_FOUND (no such job), INVALID, CONFLICT (a record id with another body), LIMIT.
 */
MUST_USE enum status app_try(struct app_try *out, struct app_view *view, const char *job_id,
                             const char *json, size_t length, int64_t now_s, struct arena *arena,
                             struct faults *faults);

#endif
