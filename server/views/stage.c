/* SPDX-License-Identifier: MIT */
/* Why: see stage.h. */
#include "views/stage.h"

#include "base/banned.h"

#define STAGE_TEXT(name, id) id,
static const char *const stage_text[] = {STAGE_LIST(STAGE_TEXT)};
const struct id_table stage_ids = {"stage", stage_text, STAGE_COUNT};

bool stage_task_over(const struct task_plan *task)
{
    return task->state == TASK_STATE_DONE || task->state == TASK_STATE_PASSED ||
           task->state == TASK_STATE_NOT_NEEDED;
}

bool stage_task_done(const struct job_plan *job, enum task task)
{
    enum task_state state = job->tasks[task].state;
    return state == TASK_STATE_DONE || state == TASK_STATE_PASSED ||
           (job->tasks[task].held && job->tasks[task].done_s != INSTANT_NONE);
}

const struct clock_plan *stage_clock(const struct job_plan *job, enum clock_id clock)
{
    for (size_t i = 0; i < job->clock_count; i++) {
        if (job->clocks[i].clock == clock && job->clocks[i].state != CLOCK_STATE_NOT_STARTED)
            return &job->clocks[i];
    }
    return NULL;
}

enum stage stage_of(const struct job_plan *job)
{
    if (stage_task_done(job, TASK_CLOSE_FILE)) return STAGE_CLOSED;
    if (stage_task_done(job, TASK_HANDOVER) || stage_task_done(job, TASK_FIRE_1))
        return STAGE_FIRST_FIRES;
    if (stage_task_done(job, TASK_LINE_CLEAN))
        return stage_task_over(&job->tasks[TASK_FACING_OTHERS]) ? STAGE_DRYING : STAGE_FACING;
    if (stage_task_done(job, TASK_CAP_SET)) return STAGE_LINING;
    if (stage_task_done(job, TASK_TRANSITION_SET)) return STAGE_STACK;
    if (stage_task_done(job, TASK_PAD_CHECK) || stage_task_done(job, TASK_LAYOUT)) return STAGE_BOX;
    if (stage_task_done(job, TASK_PERMIT_GET) || stage_task_done(job, TASK_PAD_POUR))
        return STAGE_BASE;
    if (!stage_task_done(job, TASK_SITE_WALK)) return STAGE_QUOTED;
    return stage_task_over(&job->tasks[TASK_PERMIT_GET]) ? STAGE_BASE : STAGE_PERMIT;
}

/* Lower is asked about sooner. */
static int task_rank(const struct task_plan *task)
{
    switch (task->state) {
    case TASK_STATE_STOPPED:
    case TASK_STATE_REDO:
        return 0;
    case TASK_STATE_CHECK_IT:
        return 1;
    case TASK_STATE_WORKING:
        return 2;
    case TASK_STATE_WAIT_OVER:
        return 3;
    default:
        return task->start_s == INSTANT_NONE ? 5 : 4;
    }
}

const struct task_plan *stage_next_task(const struct job_plan *job)
{
    const struct task_plan *best = NULL;
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &job->tasks[t];
        if (stage_task_over(task)) continue;
        if (best == NULL) {
            best = task;
            continue;
        }
        int rank = task_rank(task);
        int best_rank = task_rank(best);
        if (rank < best_rank || (rank == 4 && best_rank == 4 && task->start_s < best->start_s))
            best = task;
    }
    return best;
}

static bool any_caution(const struct job_plan *job, enum caution_id caution)
{
    for (size_t i = 0; i < job->caution_count; i++) {
        if (job->cautions[i].caution == caution) return true;
    }
    return false;
}

enum attention stage_attention(const struct job_plan *job)
{
    if (stage_of(job) == STAGE_CLOSED) return ATTENTION_CLOSED;
    const struct fire_plan *fire = &job->fire;
    if ((fire->agreed_day != DAY_NONE && !fire->agreed_holds) ||
        (fire->blocked_by & FIRE_BLOCK_LIT) != 0)
        return ATTENTION_CALL;
    for (size_t i = 0; i < job->clock_count; i++) {
        if (job->clocks[i].state == CLOCK_STATE_CHECK_IT) return ATTENTION_STOPPED;
    }
    const struct task_plan *next = stage_next_task(job);
    int rank = next == NULL ? 5 : task_rank(next);
    if (rank <= 1) return ATTENTION_STOPPED;
    if (rank <= 3) return ATTENTION_READY;
    if (any_caution(job, CAUTION_NO_READING) || any_caution(job, CAUTION_NOT_LOOKED_72_H))
        return ATTENTION_READING;
    return ATTENTION_WAITING;
}
