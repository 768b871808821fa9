/* SPDX-License-Identifier: MIT */
/* Why: see crew_day.h. */
#include "views/crew_day.h"

#include <math.h>
#include <string.h>

#include "compute/civil.h"
#include "views/says.h"
#include "views/stage.h"

#include "base/banned.h"

/* Work of an office, an inspector, another trade or the homeowner: not a crew's to do. */
static bool crew_task(enum task task)
{
    switch (task) {
    case TASK_SITE_WALK:
    case TASK_PERMIT_GET:
    case TASK_ORDER_KIT:
    case TASK_BOOK_TRADES:
    case TASK_PAD_INSPECT:
    case TASK_THROAT_INSPECT:
    case TASK_FRAME_INSPECT:
    case TASK_FINAL_INSPECT:
    case TASK_ROOF_FLASH:
    case TASK_AIR_DUCT:
    case TASK_GAS_ROUGH:
    case TASK_LIGHTER_FLUSH:
    case TASK_LIGHTER_TOP:
    case TASK_FRAME_OTHERS:
    case TASK_FACING_OTHERS:
    case TASK_FIRE_2:
    case TASK_FIRE_3:
    case TASK_FIRE_4:
    case TASK_FIRE_5:
    case TASK_CLOSE_FILE:
        return false;
    default:
        return true;
    }
}

uint64_t crew_day_tasks(void)
{
    uint64_t tasks = 0;
    for (int t = 0; t < TASK_COUNT; t++)
        if (crew_task((enum task)t)) tasks |= UINT64_C(1) << t;
    return tasks;
}

static bool may_begin(enum task_state state)
{
    return state == TASK_STATE_WAIT_OVER || state == TASK_STATE_WORKING;
}

bool crew_day_mixes(enum task task)
{
    return (task >= TASK_LAYOUT && task <= TASK_CAP_SET && task != TASK_DAMPER_SET &&
            task != TASK_THROAT_INSPECT) ||
           (task >= TASK_LINE_FLOOR && task <= TASK_LINE_SIDES);
}

/* The latest bag record that holds a figure; NULL: none. */
static const struct record *bag_with(const struct job_plan *job,
                                     double (*figure)(const struct record *record))
{
    const struct record *latest = NULL;
    for (size_t i = 0; i < job->job->record_count; i++) {
        const struct record *record = &job->job->records[i];
        if (record->kind != RECORD_BAG || !isfinite(figure(record))) continue;
        if (latest == NULL || record->at_s >= latest->at_s) latest = record;
    }
    return latest;
}

static double bag_pot_min(const struct record *record)
{
    return record->pot_life_min;
}

double crew_day_bag_pot_min(const struct job_plan *job)
{
    const struct record *bag = bag_with(job, bag_pot_min);
    return bag == NULL ? NAN : bag->pot_life_min;
}

static bool listed(const struct job_plan *const *jobs, size_t count, const struct job_plan *job)
{
    for (size_t i = 0; i < count; i++) {
        if (jobs[i] == job) return true;
    }
    return false;
}

static const struct job_plan *plan_of(const struct plan *plan, const struct job *job)
{
    for (size_t i = 0; i < plan->job_count; i++) {
        if (plan->jobs[i].job == job) return &plan->jobs[i];
    }
    return NULL;
}

/* The crew's planned day, or NULL. */
static const struct crew_day *day_of(const struct page *page, const struct plan *plan,
                                     const struct crew *crew)
{
    int32_t today = civil_day_of(page->company->zone, page->now_s);
    for (size_t c = 0; c < plan->crew_count; c++) {
        if (strcmp(plan->crews[c].crew->id, crew->id) != 0) continue;
        for (size_t d = 0; d < plan->crews[c].day_count; d++) {
            if (plan->crews[c].days[d].day == today) return &plan->crews[c].days[d];
        }
    }
    return NULL;
}

static bool has_work(const struct job_plan *job)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        if (crew_task((enum task)t) && (may_begin(job->tasks[t].state) || job->tasks[t].held))
            return true;
    }
    return false;
}

size_t crew_day_jobs(const struct page *page, const struct plan *plan, const struct crew *crew,
                     const struct job_plan *jobs[CREW_JOBS_MAX])
{
    size_t count = 0;
    const struct crew_day *day = day_of(page, plan, crew);
    for (size_t w = 0; day != NULL && w < day->work_count && count < CREW_JOBS_MAX; w++) {
        const struct job_plan *job = plan_of(plan, day->work[w].job);
        if (job != NULL && !listed(jobs, count, job)) jobs[count++] = job;
    }
    if (count > 0) return count;
    for (size_t i = 0; i < plan->job_count && count < CREW_JOBS_MAX; i++) {
        const char *id = plan->jobs[i].job->crew_id;
        if (id != NULL && strcmp(id, crew->id) == 0 && has_work(&plan->jobs[i]))
            jobs[count++] = &plan->jobs[i];
    }
    return count;
}

size_t crew_day_do(const struct page *page, const struct plan *plan, const struct crew *crew,
                   const struct job_plan *job, const struct task_plan *tasks[CREW_DO_MAX])
{
    bool taken[TASK_COUNT] = {false};
    size_t count = 0;
    /* Done and not passed comes first: everything behind it waits for its checks. */
    for (int t = 0; t < TASK_COUNT && count < CREW_DO_MAX; t++) {
        if (!crew_task((enum task)t) || !job->tasks[t].held) continue;
        taken[t] = true;
        tasks[count++] = &job->tasks[t];
    }
    for (size_t c = 0; c < plan->crew_count; c++) {
        if (crew != NULL && strcmp(plan->crews[c].crew->id, crew->id) != 0) continue;
        const struct crew_day *day = day_of(page, plan, plan->crews[c].crew);
        for (size_t w = 0; day != NULL && w < day->work_count && count < CREW_DO_MAX; w++) {
            enum task task = day->work[w].task;
            if (day->work[w].job != job->job || taken[task] || stage_task_over(&job->tasks[task]))
                continue;
            taken[task] = true;
            tasks[count++] = &job->tasks[task];
        }
    }
    for (int t = 0; t < TASK_COUNT && count < CREW_DO_MAX; t++) {
        if (!taken[t] && crew_task((enum task)t) && may_begin(job->tasks[t].state))
            tasks[count++] = &job->tasks[t];
    }
    return count;
}

/* What must not be done: while the first task of [from..until] that is left may not be begun. */
struct forbidden {
    enum word head;
    enum task from;
    enum task until;
    enum stage first; /**< shown in these stages only: what nobody is near needs no sentence */
    enum stage last;
};
static const struct forbidden forbidden_list[] = {
    {WORD_DONOT_PAD_POUR, TASK_PAD_POUR, TASK_PAD_POUR, STAGE_BASE, STAGE_BASE},
    {WORD_DONOT_PAD_STRIP, TASK_PAD_STRIP, TASK_PAD_STRIP, STAGE_BASE, STAGE_BOX},
    {WORD_DONOT_BUILD, TASK_LAYOUT, TASK_BOX_COURSES, STAGE_BASE, STAGE_BOX},
    {WORD_DONOT_PROPS_OUT, TASK_PROPS_OUT, TASK_PROPS_OUT, STAGE_BASE, STAGE_LINING},
    {WORD_DONOT_COVER_THROAT, TASK_SMOKE_CHAMBER, TASK_SMOKE_CHAMBER, STAGE_BOX, STAGE_BOX},
    {WORD_DONOT_CHIMNEY_RUN, TASK_CHIMNEY_RUN, TASK_CHIMNEY_RUN, STAGE_BOX, STAGE_STACK},
    {WORD_DONOT_LINE, TASK_LINE_FLOOR, TASK_LINE_FLOOR, STAGE_BOX, STAGE_LINING},
    {WORD_DONOT_FACING, TASK_FACING_OTHERS, TASK_FACING_OTHERS, STAGE_LINING, STAGE_FACING},
};

static void say_forbidden(const struct when *when, enum word head, const struct task_plan *task,
                          void (*each)(void *, const char *), void *context)
{
    struct text tail = TEXT_UP_TO(4000);
    struct text sentence = TEXT_UP_TO(4200);
    const struct reason *first = task->because_count > 0 ? &task->because[0] : NULL;
    bool timed = first == NULL || first->kind == REASON_CLOCK || first->kind == REASON_CREW_DAY ||
                 first->kind == REASON_DRIVE;
    if (timed && task->opens_s != INSTANT_NONE) {
        struct phrase until = when_day_time(when, task->opens_s);
        WORDS_SAY(&tail, when->words, WORD_SAYS_NOT_BEFORE_CHECK, {"until", until.z});
    } else if (first != NULL) {
        says_reason(&tail, when, first);
    } else {
        text_add_z(&tail, says_state(when->words, task->state));
    }
    WORDS_SAY(&sentence, when->words, WORD_SAYS_DONOT, {"head", words_get(when->words, head)},
              {"tail", text_z(&tail)});
    each(context, text_z(&sentence));
    text_free(&tail);
    text_free(&sentence);
}

/* Green joints: the sentence of the clock itself. */
static bool say_uncover(const struct when *when, const struct job_plan *job,
                        void (*each)(void *, const char *), void *context)
{
    const struct clock_plan *joints = stage_clock(job, CLOCK_JOINTS_EARLY);
    if (joints == NULL || joints->state != CLOCK_STATE_RUNNING) return false;
    struct task_plan task = {.opens_s = joints->opens_s, .state = TASK_STATE_WAITING_CURE};
    say_forbidden(when, WORD_DONOT_UNCOVER, &task, each, context);
    return true;
}

void crew_day_do_not(const struct when *when, const struct job_plan *job,
                     void (*each)(void *context, const char *sentence), void *context)
{
    size_t count = say_uncover(when, job, each, context) ? 1 : 0;
    enum stage stage = stage_of(job);
    for (size_t i = 0; i < sizeof forbidden_list / sizeof *forbidden_list; i++) {
        const struct forbidden *row = &forbidden_list[i];
        if (stage < row->first || stage > row->last || count + 1 >= CREW_DO_NOT_MAX) continue;
        int t = (int)row->from;
        while (t < (int)row->until && stage_task_over(&job->tasks[t])) t++;
        if (stage_task_over(&job->tasks[t]) || may_begin(job->tasks[t].state)) continue;
        say_forbidden(when, row->head, &job->tasks[t], each, context);
        count++;
    }
    if (stage < STAGE_BOX || stage >= STAGE_FIRST_FIRES) return;
    struct text sentence = TEXT_UP_TO(1000);
    WORDS_SAY(&sentence, when->words, WORD_SAYS_DONOT,
              {"head", words_get(when->words, WORD_DONOT_LIGHT)},
              {"tail", words_get(when->words, WORD_SAYS_NOT_PERMISSION)});
    each(context, text_z(&sentence));
    text_free(&sentence);
}

size_t crew_day_leave(const struct job_plan *job, enum word leave[CREW_LEAVE_MAX])
{
    size_t count = 0;
    enum stage stage = stage_of(job);
    const struct clock_plan *joints = stage_clock(job, CLOCK_JOINTS_EARLY);
    const struct clock_plan *moist = stage_clock(job, CLOCK_PAD_MOIST_CURE);
    const struct task_plan *pour = &job->tasks[TASK_PAD_POUR];
    bool pad = (moist != NULL && moist->state == CLOCK_STATE_RUNNING) || may_begin(pour->state);
    bool mortar = joints != NULL && joints->state == CLOCK_STATE_RUNNING;
    for (int t = 0; t < TASK_COUNT; t++) {
        if (crew_day_mixes((enum task)t) && may_begin(job->tasks[t].state)) mortar = true;
    }
    bool flue =
        (stage_task_done(job, TASK_CHIMNEY_RUN) || may_begin(job->tasks[TASK_CHIMNEY_RUN].state)) &&
        !stage_task_over(&job->tasks[TASK_CAP_SET]);
    if (pad) leave[count++] = WORD_LEAVE_PAD;
    if (mortar) leave[count++] = WORD_LEAVE_JOINTS;
    if (flue) leave[count++] = WORD_LEAVE_FLUE;
    if (stage >= STAGE_LINING && stage < STAGE_FIRST_FIRES) leave[count++] = WORD_LEAVE_TAG;
    leave[count++] = WORD_LEAVE_READING;
    leave[count++] = WORD_LEAVE_PHOTOS;
    return count;
}

enum task crew_day_inspection_tomorrow(const struct page *page, const struct job_plan *job)
{
    static const enum task inspections[] = {TASK_PAD_INSPECT, TASK_THROAT_INSPECT,
                                            TASK_FRAME_INSPECT, TASK_FINAL_INSPECT};
    int32_t tomorrow = civil_day_of(job->job->zone, page->now_s) + 1;
    for (size_t i = 0; i < sizeof inspections / sizeof *inspections; i++) {
        const struct task_plan *task = &job->tasks[inspections[i]];
        if (stage_task_over(task)) continue;
        if (task->start_s != INSTANT_NONE &&
            civil_day_of(job->job->zone, task->start_s) == tomorrow)
            return inspections[i];
        for (size_t r = 0; r < job->job->record_count; r++) {
            const struct record *record = &job->job->records[r];
            if (record->kind == RECORD_BOOKED && record->task == inspections[i] &&
                record->day == tomorrow)
                return inspections[i];
        }
    }
    return TASK_NONE;
}
