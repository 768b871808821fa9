/* SPDX-License-Identifier: MIT */
/*
 * The planner's face: facts + rulebook + now -> plan. Pure: the same case and rulebook give the
 * same plan, byte for byte once printed. It takes memory from the arena only, reads no clock, file,
 * JSON or database.
 *
 * Reading order inside the folder: facts (which records count), history (how warm was it),
 * clock_* (what has it earned and when does it open), fire (the date), network (what may start),
 * explain (why).
 */
#ifndef EMBERWAIT_PLANNER_PLANNER_H
#define EMBERWAIT_PLANNER_PLANNER_H

#include "base/arena.h"
#include "base/status.h"
#include "model/job.h"
#include "model/plan.h"
#include "planner/past.h"
#include "rulebook/rulebook.h"

/**
 * Work out the plan of every job of a case.
 *
 * @param[out] out       Plan in `arena`; valid as long as the arena, the case and the rulebook are.
 * @param[in]  casefile  Checked case; borrowed.
 * @param[in]  rulebook  Checked rulebook; borrowed. Jobs that name another are not planned here.
 * @param[in]  arena     Memory of the answer.
 * Status: OK, LIMIT (no memory).
 */
MUST_USE enum status planner_run(const struct plan **out, const struct casefile *casefile,
                                 const struct rulebook *rulebook, struct arena *arena);

/**
 * Work out the plan of one job: clocks, fire date, tasks as if it had the crew for itself.
 *
 * @param[out] out       Filled; points into `arena`.
 * @param[in]  job       Borrowed.
 * @param[in]  company   Working calendar; borrowed.
 * @param[in]  rulebook  Borrowed.
 * @param[in]  now_s     The instant of the computation.
 * @param[in]  arena     Memory of the answer.
 * Status: OK, LIMIT (no memory).
 */
MUST_USE enum status planner_job(struct job_plan *out, const struct job *job,
                                 const struct company *company, const struct rulebook *rulebook,
                                 int64_t now_s, struct arena *arena);

/**
 * The same, sharing what is worked out of past years with other jobs or other plans.
 *
 * @param[in,out] cache Used and added to; whoever keeps it between plans gives it another version
 *                      when the hours of its stations have changed. One thread at a time.
 * Status: OK, LIMIT (no memory).
 */
MUST_USE enum status planner_job_sharing(struct job_plan *out, const struct job *job,
                                         const struct company *company,
                                         const struct rulebook *rulebook, int64_t now_s,
                                         struct arena *arena, struct past_cache *cache);

/**
 * Fill the hour strips of a plan that was made at the same `now` from the same facts. Apart from
 * the plan itself, because only a page that draws them needs them.
 *
 * @param[in,out] out    A copy of the job's plan; `parts` is filled, the rest stays as it is.
 * @param[in]  company   As the plan was made with.
 * @param[in]  rulebook  As the plan was made with.
 * @param[in]  now_s     As the plan was made at.
 * @param[in]  arena     Memory of the pieces.
 * Status: OK, LIMIT (no memory).
 */
MUST_USE enum status planner_pictures(struct job_plan *out, const struct company *company,
                                      const struct rulebook *rulebook, int64_t now_s,
                                      struct arena *arena);

#endif
