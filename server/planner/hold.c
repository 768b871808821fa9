/* SPDX-License-Identifier: MIT */
/* Why: see hold.h. How each check stands, and what follows for its task. */
#include "planner/hold.h"

#include <math.h>

#include "planner/explain.h"
#include "planner/network_internal.h"

#include "base/banned.h"

#define HOLD_SLACK 1e-9 /* a figure typed as a decimal may miss a sixteenth in the last bit */

/* --- while the records are read -------------------------------------------------------------- */

void hold_answer(struct answers *answers, const struct record *record)
{
    for (size_t i = 0; i < record->check_count; i++) {
        const struct check_result *result = &record->checks[i];
        if (result->check == CHECK_NONE || check_task(result->check) != record->task) continue;
        answers->results[result->check] = result;
        answers->records[result->check] = record;
        answers->answered |= task_bit(record->task);
    }
    /* a photo of work that began, was stopped or failed shows nothing that was found right */
    bool shows = record->kind == RECORD_DONE || record->kind == RECORD_PASSED ||
                 record->kind == RECORD_INSPECTION || record->kind == RECORD_PHOTO;
    if (shows && record->photo != NULL) answers->photos[record->task] = record;
    bool pass = record->kind == RECORD_PASSED ||
                (record->kind == RECORD_INSPECTION && record->result == RESULT_PASSED);
    if (pass) answers->passes[record->task] = record;
}

void hold_forget(struct answers *answers, enum task task)
{
    int first = 0;
    size_t count = check_range(task, &first);
    for (size_t i = 0; i < count; i++) {
        answers->results[first + (int)i] = NULL;
        answers->records[first + (int)i] = NULL;
    }
    answers->answered &= ~task_bit(task);
    answers->photos[task] = answers->passes[task] = NULL;
}

/* --- one check ------------------------------------------------------------------------------- */

static bool has_photo(const struct answers *answers, const struct check_plan *plan)
{
    return plan->result->photo != NULL || plan->record->photo != NULL ||
           answers->photos[plan->record->task] != NULL;
}

static bool has_evidence(const struct answers *answers, const struct check_plan *plan)
{
    switch (plan->evidence) {
    case EVIDENCE_PHOTO:
    case EVIDENCE_CLIP:
        return has_photo(answers, plan);
    case EVIDENCE_SLIP:
        return plan->result->slip != NULL || has_photo(answers, plan);
    case EVIDENCE_INITIALS:
        return plan->result->initials != NULL || plan->record->initials != NULL ||
               plan->record->by != NULL;
    default:
        return true;
    }
}

static enum check_state measure_state(const struct check_plan *plan)
{
    const double value = plan->result->value;
    if (isnan(value)) return CHECK_STATE_MISSING;
    bool out = value < plan->least - HOLD_SLACK || value > plan->most + HOLD_SLACK;
    return out ? CHECK_STATE_OUT : CHECK_STATE_HOLDS; /* a limit that is NAN is never passed */
}

/* All that are to be there: exactly, or at least when the job's own quantity says how many. */
static enum check_state count_state(const struct check_plan *plan)
{
    const double value = plan->result->value;
    const double of = isnan(plan->of) ? plan->result->of : plan->of;
    if (isnan(value) || isnan(of)) return CHECK_STATE_MISSING;
    bool all = isnan(plan->of) ? fabs(value - of) <= HOLD_SLACK : value >= of - HOLD_SLACK;
    return all && value > 0 ? CHECK_STATE_HOLDS : CHECK_STATE_OUT;
}

static enum check_state answer_state(const struct check_plan *plan)
{
    const struct check_result *result = plan->result;
    switch (plan->kind) {
    case CHECK_KIND_MEASURE:
        return measure_state(plan);
    case CHECK_KIND_COUNT:
        return count_state(plan);
    case CHECK_KIND_YES:
        if (result->yes < 0) return CHECK_STATE_MISSING;
        return result->yes == 1 ? CHECK_STATE_HOLDS : CHECK_STATE_OUT;
    case CHECK_KIND_DATE:
        return result->day == DAY_NONE ? CHECK_STATE_MISSING : CHECK_STATE_HOLDS;
    default:
        return result->text == NULL ? CHECK_STATE_MISSING : CHECK_STATE_HOLDS;
    }
}

/* Limits into `room`, what is asked of them into the plan. */
static void find_limits(struct check_plan *plan, struct check_limit room[HOLD_LIMITS_MAX],
                        const struct facts *facts)
{
    plan->least = plan->most = NAN;
    plan->limits = room;
    plan->limit_count = hold_limits(room, &plan->accepted, facts, plan->check);
    for (size_t i = 0; i < plan->limit_count; i++) {
        if (!room[i].acts) continue;
        if (room[i].at_most)
            plan->most = fmin(plan->most, room[i].figure); /* fmin and fmax pass over NAN */
        else
            plan->least = fmax(plan->least, room[i].figure);
    }
}

static void find_check(struct check_plan *plan, struct check_limit room[HOLD_LIMITS_MAX],
                       const struct facts *facts, const struct answers *answers, enum check_id id)
{
    const struct check_rule *rule = &facts->rulebook->checks[id];
    const bool answered = (answers->answered & task_bit(check_task(id))) != 0;
    *plan = (struct check_plan){.check = id,
                                .kind = rule->kind,
                                .unit = rule->unit,
                                .evidence = rule->evidence,
                                .optional = rule->optional,
                                .of = NAN,
                                .result = answers->results[id],
                                .record = answers->records[id]};
    if (rule->quantity != QUANTITY_NONE) plan->of = facts->job->quantities[rule->quantity];
    find_limits(plan, room, facts);
    if (plan->result == NULL) {
        plan->state = !answered        ? CHECK_STATE_OPEN
                      : rule->optional ? CHECK_STATE_LEFT_OUT
                                       : CHECK_STATE_MISSING;
        return;
    }
    plan->state = answer_state(plan);
    if (plan->state == CHECK_STATE_HOLDS && !has_evidence(answers, plan))
        plan->state = CHECK_STATE_NO_EVIDENCE;
}

static bool fails(enum check_state state)
{
    return state == CHECK_STATE_OUT || state == CHECK_STATE_MISSING ||
           state == CHECK_STATE_NO_EVIDENCE;
}

static bool applies(const struct facts *facts, enum check_id id)
{
    const struct check_rule *rule = &facts->rulebook->checks[id];
    return rulebook_holds(rule->when, rule->when_count, &facts->job->options);
}

/* --- what follows for the task ------------------------------------------------------------------
 */

static bool some_check_fails(const struct net *net, enum task task)
{
    int first = 0;
    size_t count = check_range(task, &first);
    for (size_t i = 0; i < count; i++) {
        enum check_id id = (enum check_id)(first + (int)i);
        struct check_limit room[HOLD_LIMITS_MAX];
        struct check_plan plan;
        if (!applies(net->facts, id)) continue;
        find_check(&plan, room, net->facts, &net->answers, id);
        if (fails(plan.state)) return true;
    }
    return false;
}

void hold_judge(struct net *net)
{
    for (uint64_t m = net->answers.answered; m != 0; m &= m - 1) {
        enum task task = task_first(m);
        struct step *step = &net->steps[task];
        if (!some_check_fails(net, task)) continue;
        net->answers.failing |= task_bit(task);
        if (step->phase == PHASE_PASSED || step->phase == PHASE_DONE || step->phase == PHASE_NOTED)
            step->phase = PHASE_CHECK;
    }
}

static struct reason reason_of(const struct check_plan *plan)
{
    struct reason reason = explain_plain(
        plan->state == CHECK_STATE_OUT       ? REASON_CHECK_OUT
        : plan->state == CHECK_STATE_MISSING ? REASON_CHECK_MISSING
                                             : REASON_CHECK_EVIDENCE,
        id_of(&check_rule_ids, (int)plan->check), INSTANT_NONE, check_task(plan->check));
    reason.check = plan->check;
    reason.check_unit = plan->unit;
    reason.evidence = plan->evidence;
    if (plan->result != NULL) reason.have = plan->result->value;
    if (plan->kind == CHECK_KIND_COUNT && plan->result != NULL)
        reason.need = isnan(plan->of) ? plan->result->of : plan->of;
    if (plan->kind != CHECK_KIND_MEASURE) return reason;
    reason.at_most = !isnan(plan->most) && !(reason.have < plan->least);
    reason.need = reason.at_most ? plan->most : plan->least;
    for (size_t i = 0; i < plan->limit_count; i++) {
        const struct check_limit *limit = &plan->limits[i];
        if (!limit->acts || limit->at_most != reason.at_most || limit->figure != reason.need)
            continue;
        reason.mark = limit->mark;
        reason.source = limit->source;
        break;
    }
    return reason;
}

void hold_explain(struct bounds *bounds, const struct net *net, enum task task)
{
    int first = 0;
    size_t count = check_range(task, &first);
    for (size_t i = 0; i < count; i++) {
        enum check_id id = (enum check_id)(first + (int)i);
        struct check_limit room[HOLD_LIMITS_MAX];
        struct check_plan plan;
        if (!applies(net->facts, id)) continue;
        find_check(&plan, room, net->facts, &net->answers, id);
        if (fails(plan.state)) explain_add(bounds, reason_of(&plan), false);
    }
}

/* --- into the plan ---------------------------------------------------------------------------- */

static bool shown(const struct net *net, enum task task)
{
    const struct task_plan *plan = &net->out->tasks[task];
    if (plan->state == TASK_STATE_NOT_NEEDED) return false;
    bool over = plan->state == TASK_STATE_DONE || plan->state == TASK_STATE_PASSED;
    return !over || (net->answers.answered & task_bit(task)) != 0;
}

static void fill_task(struct net *net, enum task task)
{
    struct arena *arena = net->facts->arena;
    struct task_plan *out = &net->out->tasks[task];
    int first = 0;
    size_t count = check_range(task, &first);
    struct check_plan *plans = ARENA_TAKE(arena, count, struct check_plan);
    if (count == 0 || plans == NULL) return;
    out->checks = plans;
    for (size_t i = 0; i < count; i++) {
        enum check_id id = (enum check_id)(first + (int)i);
        struct check_limit room[HOLD_LIMITS_MAX];
        if (!applies(net->facts, id)) continue;
        struct check_plan *plan = &plans[out->check_count++];
        find_check(plan, room, net->facts, &net->answers, id);
        struct check_limit *limits = ARENA_TAKE(arena, plan->limit_count, struct check_limit);
        for (size_t k = 0; limits != NULL && k < plan->limit_count; k++) limits[k] = room[k];
        if (limits == NULL) plan->limit_count = 0;
        plan->limits = limits;
    }
}

void hold_fill(struct net *net)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        struct task_plan *out = &net->out->tasks[t];
        out->measured = (net->answers.answered & task_bit((enum task)t)) != 0;
        out->photo = net->answers.photos[t] != NULL;
        out->pass = net->answers.passes[t];
        if (shown(net, (enum task)t)) fill_task(net, (enum task)t);
        for (size_t i = 0; i < out->check_count && !out->photo; i++)
            out->photo = out->checks[i].result != NULL && out->checks[i].result->photo != NULL;
    }
}

/* --- cautions -------------------------------------------------------------------------------- */

static struct caution about(enum caution_id id, enum task task, const struct record *record)
{
    return (struct caution){.caution = id,
                            .part = PART_NONE,
                            .task = task,
                            .at_s = record == NULL ? INSTANT_NONE : record->at_s,
                            .value = NAN,
                            .quantity = QUANTITY_NONE,
                            .record = record,
                            .clock = CLOCK_NONE,
                            .check = CHECK_NONE};
}

/* The record by which somebody vouched for work of a task that nobody of us saw. */
static const struct record *taken_over(const struct facts *facts, enum task task)
{
    for (size_t i = facts->count; i-- > 0;) {
        const struct record *r = facts->records[i];
        if (r->task != task) continue;
        if (r->kind == RECORD_DONE || r->kind == RECORD_PASSED || r->kind == RECORD_INSPECTION)
            return r->taken_over ? r : NULL;
    }
    return NULL;
}

/* What is said of one task; at most two things. */
static size_t cautions_of(struct caution room[2], const struct job_plan *out,
                          const struct facts *facts, enum task task)
{
    const struct task_plan *plan = &out->tasks[task];
    const struct task_rule *rule = &facts->rulebook->tasks[task];
    const struct record *vouched = taken_over(facts, task);
    size_t count = 0;
    int first = 0;
    bool failing = false;
    for (size_t i = 0; i < plan->check_count; i++)
        failing = failing || fails(plan->checks[i].state);
    if (failing) room[count++] = about(CAUTION_CHECK_FAILED, task, NULL);
    if (vouched != NULL) room[count++] = about(CAUTION_TAKEN_OVER, task, vouched);
    bool bare = plan->state == TASK_STATE_PASSED && (rule->hold || rule->inspection) &&
                !plan->measured && plan->pass != NULL && vouched == NULL;
    if (bare && check_range(task, &first) > 0)
        room[count++] = about(CAUTION_PASSED_WITHOUT_CHECKS, task, plan->pass);
    return count;
}

static size_t figures_accepted(struct caution *room, size_t capacity, const struct facts *facts)
{
    size_t count = 0;
    for (size_t i = 0; i < facts->count && count < capacity; i++) {
        const struct record *r = facts->records[i];
        struct check_limit limits[HOLD_LIMITS_MAX];
        const struct record *accepted = NULL;
        if (r->kind != RECORD_OVERRIDDEN || r->check == CHECK_NONE) continue;
        (void)hold_limits(limits, &accepted, facts, r->check);
        if (accepted != r) continue;
        room[count] = about(CAUTION_FIGURE_ACCEPTED, check_task(r->check), r);
        room[count++].check = r->check;
    }
    return count;
}

/* Chances the owner let go by. */
static size_t excused(struct caution *room, size_t capacity, const struct job_plan *out)
{
    size_t count = 0;
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &out->tasks[t];
        for (size_t i = 0; i < task->because_count && count < capacity; i++)
            if (task->because[i].kind == REASON_EXCUSED)
                room[count++] =
                    about(CAUTION_CHANCE_EXCUSED, (enum task)t, task->because[i].record);
    }
    return count;
}

size_t hold_cautions(struct caution *room, size_t capacity, const struct job_plan *out,
                     const struct facts *facts)
{
    size_t count = figures_accepted(room, capacity, facts);
    count += excused(room + count, capacity - count, out);
    for (int t = 0; t < TASK_COUNT; t++) {
        struct caution said[2];
        if (out->tasks[t].state == TASK_STATE_NOT_NEEDED) continue;
        size_t more = cautions_of(said, out, facts, (enum task)t);
        for (size_t i = 0; i < more && count < capacity; i++) room[count++] = said[i];
    }
    return count;
}
