/* SPDX-License-Identifier: MIT */
/*
 * Why: what is written of each task, from one pass over the records in the order in which things
 * happened. A `done` of a hold point is not a pass; a pass with a note is not a pass; an inspector
 * who did not come changes nothing. What happens later wins. A bare pass is a pass by name; once a
 * check of the task was answered, the checks decide (hold.h).
 */
#include "planner/network_internal.h"

#include <math.h>

#include "base/banned.h"

enum { FIRE_LAST = TASK_FIRE_5 - TASK_FIRE_1 + 1 };

/* Opened again: what was measured of it speaks of work that is no more. */
static void again(struct net *net, enum task task, int64_t at_s)
{
    net->steps[task].redone_s = at_s;
    hold_forget(&net->answers, task);
}

static void reopen(struct net *net, enum task task, enum phase phase, int64_t at_s)
{
    net->steps[task].phase = phase;
    again(net, task, at_s);
}

static void on_started(struct net *net, enum task task, int64_t at_s)
{
    struct step *step = &net->steps[task];
    bool over = step->phase == PHASE_PASSED || (step->phase == PHASE_DONE && !step->hold);
    if (over) again(net, task, at_s);
    if (step->phase != PHASE_STARTED && step->phase != PHASE_STOPPED) step->started_s = at_s;
    if (step->phase == PHASE_STOPPED && step->started_s == INSTANT_NONE) step->started_s = at_s;
    step->phase = PHASE_STARTED;
}

static void on_stopped(struct step *step, int64_t at_s)
{
    if (step->phase != PHASE_NONE && step->phase != PHASE_STARTED) return;
    step->phase = PHASE_STOPPED;
    step->stopped_s = at_s;
}

/* Done. A second done after a finish is work done again; `done` right after `passed` is not. */
static void on_done(struct net *net, enum task task, int64_t at_s, bool done_before)
{
    struct step *step = &net->steps[task];
    if (step->hold && step->phase == PHASE_PASSED && !done_before) return;
    bool over = step->phase == PHASE_PASSED || (step->phase == PHASE_DONE && !step->hold);
    if (over) again(net, task, at_s);
    step->phase = PHASE_DONE;
    step->done_s = at_s;
}

static void on_passed(struct step *step, int64_t at_s)
{
    bool keeps_done = !step->hold && step->phase == PHASE_DONE;
    step->phase = PHASE_PASSED;
    if (!keeps_done) step->done_s = at_s;
}

static void on_inspection(struct net *net, const struct record *record)
{
    struct step *step = &net->steps[record->task];
    switch (record->result) {
    case RESULT_PASSED:
        on_passed(step, record->at_s);
        break;
    case RESULT_PASSED_WITH_NOTE:
        if (step->hold) {
            step->phase = PHASE_NOTED;
            step->done_s = record->at_s;
        }
        break;
    case RESULT_FAILED:
        reopen(net, record->task, PHASE_FAILED, record->at_s);
        break;
    default:
        break; /* not come: nothing has happened */
    }
}

static bool starts_with(const struct clock_rule *rule, enum record_kind kind)
{
    for (size_t i = 0; i < rule->start_count; i++)
        if (rule->starts[i].kind == kind) return true;
    return false;
}

static bool over(const struct step *step)
{
    return step->phase == PHASE_DONE || step->phase == PHASE_NOTED || step->phase == PHASE_PASSED;
}

/* A look that says redo: of each clock of that part, the latest work that started it. */
static void on_redo(struct net *net, const struct record *look)
{
    for (int c = 0; c < CLOCK_COUNT; c++) {
        const struct clock_rule *rule = &net->rulebook->clocks[c];
        if (rule->part != look->part) continue;
        enum task latest = TASK_NONE;
        for (size_t i = 0; i < rule->start_count; i++) {
            enum task task = rule->starts[i].task;
            if (rule->starts[i].kind != RECORD_DONE || task == TASK_NONE) continue;
            const struct step *step = &net->steps[task];
            if (over(step) && (latest == TASK_NONE || step->done_s >= net->steps[latest].done_s))
                latest = task;
        }
        if (latest != TASK_NONE) reopen(net, latest, PHASE_REDO, look->at_s);
    }
}

/* A panel laid again answers a redo of the work whose clock a relaid panel starts. */
static void on_relaid(struct net *net, int64_t at_s)
{
    for (int c = 0; c < CLOCK_COUNT; c++) {
        const struct clock_rule *rule = &net->rulebook->clocks[c];
        if (!starts_with(rule, RECORD_RELAID)) continue;
        for (size_t i = 0; i < rule->start_count; i++) {
            if (rule->starts[i].task == TASK_NONE) continue;
            struct step *step = &net->steps[rule->starts[i].task];
            if (step->phase != PHASE_REDO) continue;
            step->phase = PHASE_DONE;
            step->done_s = at_s;
            again(net, rule->starts[i].task, at_s);
        }
    }
}

/* A cover on a poured pad is its protection, whether or not somebody tapped the task. */
static void on_pad_cover(struct net *net, const struct record *record)
{
    struct step *step = &net->steps[TASK_PAD_PROTECT];
    bool pad = record->part == PART_PAD ||
               (record->part == PART_NONE && record->kind == RECORD_WET_COVER_ON);
    if (!pad || !over(&net->steps[TASK_PAD_POUR])) return;
    if (record->kind == RECORD_CLOSED_IN && record->shelter == SHELTER_ROOM) return;
    if (!over(step)) on_done(net, TASK_PAD_PROTECT, record->at_s, false);
}

static void on_fire(struct net *net, const struct record *record)
{
    if (record->fire_number < 1 || record->fire_number > FIRE_LAST) return;
    enum task task = (enum task)(TASK_FIRE_1 + record->fire_number - 1);
    if (record->stop_sign)
        reopen(net, task, PHASE_FAILED, record->at_s);
    else
        on_done(net, task, record->at_s, true);
}

/* Mortar on the facing is work on it; the last of it ends it. */
static void on_facing(struct net *net, const struct record *record)
{
    if (record->last)
        on_done(net, TASK_FACING_OTHERS, record->at_s, true);
    else if (!over(&net->steps[TASK_FACING_OTHERS]))
        on_started(net, TASK_FACING_OTHERS, record->at_s);
}

/* A missed last chance is excused by name. Not an inspection: only a slip stands for one. */
static void on_overridden(struct net *net, const struct record *record)
{
    if (record->excuses == TASK_NONE) return;
    if (net->rulebook->tasks[record->excuses].inspection) return;
    net->steps[record->excuses].excused = record;
}

static void on_task(struct net *net, const struct record *record, uint64_t *done)
{
    struct step *step = &net->steps[record->task];
    switch (record->kind) {
    case RECORD_STARTED:
        on_started(net, record->task, record->at_s);
        break;
    case RECORD_STOPPED:
        on_stopped(step, record->at_s);
        break;
    case RECORD_DONE:
        on_done(net, record->task, record->at_s, (*done & task_bit(record->task)) != 0);
        *done |= task_bit(record->task);
        break;
    case RECORD_PASSED:
        on_passed(step, record->at_s);
        break;
    case RECORD_FAILED:
        reopen(net, record->task, PHASE_FAILED, record->at_s);
        break;
    case RECORD_INSPECTION:
        on_inspection(net, record);
        break;
    case RECORD_BOOKED:
    case RECORD_HELD_DATE:
        step->booked = record;
        break;
    default:
        break;
    }
}

void network_records(struct net *net)
{
    uint64_t done = 0;
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_rule *rule = &net->rulebook->tasks[t];
        net->steps[t] = (struct step){.hold = rule->hold || rule->inspection,
                                      .started_s = INSTANT_NONE,
                                      .done_s = INSTANT_NONE,
                                      .stopped_s = INSTANT_NONE,
                                      .redone_s = INSTANT_NONE,
                                      .implied_s = INSTANT_NONE,
                                      .closed_by = TASK_NONE,
                                      .root = TASK_NONE,
                                      .release_s = INSTANT_NONE};
    }
    for (size_t i = 0; i < net->facts->count; i++) {
        const struct record *record = net->facts->records[i];
        switch (record->kind) {
        case RECORD_LOOKED:
            if (record->result == RESULT_REDO) on_redo(net, record);
            break;
        case RECORD_RELAID:
            on_relaid(net, record->at_s);
            break;
        case RECORD_WET_COVER_ON:
        case RECORD_CLOSED_IN:
            on_pad_cover(net, record);
            break;
        case RECORD_FIRE:
            on_fire(net, record);
            break;
        case RECORD_FACING:
            on_facing(net, record);
            break;
        case RECORD_DELIVERED:
            if (net->steps[TASK_ORDER_KIT].phase == PHASE_NONE)
                on_done(net, TASK_ORDER_KIT, record->at_s, false);
            break;
        case RECORD_OVERRIDDEN:
            on_overridden(net, record);
            break;
        default:
            if (record->task == TASK_NONE) break;
            on_task(net, record, &done);
            hold_answer(&net->answers, record);
            break;
        }
    }
    hold_judge(net);
}
