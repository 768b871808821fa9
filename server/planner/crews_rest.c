/* SPDX-License-Identifier: MIT */
/*
 * Why: what the days themselves do not show. No task of a crew is dropped in silence: what is not
 * placed is listed with its reason. A free half day names what else is open near by; a day says
 * what goes on the truck; a week says whether there are crew days enough.
 */
#include <math.h>

#include "compute/civil.h"
#include "planner/crews_internal.h"
#include "planner/gate_list.h"

#include "base/banned.h"

enum { COULD_MAX = 6, HOUR_S = 3600 };

/* --- what nobody is sent to --------------------------------------------------------------------
 */

static void list_unplaced(struct crews *crews, const struct crew_plan *plans, struct plan *plan)
{
    const size_t cells = crews->casefile->job_count * TASK_COUNT;
    size_t count = 0;
    for (size_t i = 0; i < cells; i++) {
        const int32_t item = crews->item_of[i];
        if (item != SEQUENCE_NONE) {
            const struct crews_item *it = &crews->items[item];
            const bool here = crews_placed(crews, item + it->pieces - 1);
            const bool cover = it->tasks[0] == TASK_NIGHT_COVER && here;
            if (!it->by_crew ||
                (here && !(cover && it->job->tasks[TASK_NIGHT_COVER].crew_id == NULL)))
                continue;
            crews->why_not[i] = (cover ? CREW_UNPLACED_AT_NIGHTFALL : CREW_UNPLACED_NO_ROOM) + 1;
        }
        count += crews->why_not[i] != 0;
    }
    struct crew_unplaced *list = ARENA_TAKE(crews->arena, count, struct crew_unplaced);
    if (list == NULL) return;
    plan->unplaced = list;
    for (size_t i = 0; i < cells; i++) {
        const enum task task = (enum task)(i % TASK_COUNT);
        const struct job_plan *job = &crews->jobs[i / TASK_COUNT];
        if (crews->why_not[i] == 0 || !crews_task_ours(crews, task)) continue;
        const bool begun =
            crews->item_of[i] != SEQUENCE_NONE && crews_placed(crews, crews->item_of[i]);
        list[plan->unplaced_count++] = (struct crew_unplaced){
            .job = job->job,
            .task = task,
            .why = (enum crew_unplaced_why)(crews->why_not[i] - 1),
            .change =
                begun ? (struct crew_change){.was_start_s = INSTANT_NONE, .instead_task = TASK_NONE}
                      : crews_change_of(crews, plans, job, task, NULL, INSTANT_NONE)};
    }
}

/* --- free half days ----------------------------------------------------------------------------
 */

/* Whether a task could be begun at an instant as far as its job goes. */
static bool open_then(const struct crews *crews, size_t job, enum task task, int64_t at_s)
{
    const struct job_plan *plan = &crews->jobs[job];
    const struct task_plan *own = &plan->tasks[task];
    if (task == TASK_CURE_WATCH) return own->state == TASK_STATE_WORKING;
    if (crews_task_over(own) || own->start_s == INSTANT_NONE || own->start_s > at_s) return false;
    if (own->state == TASK_STATE_CHECK_IT || task == TASK_NIGHT_COVER) return false;
    if (gate_closed_from_s(plan, task, at_s, at_s + HOUR_S) != INSTANT_NONE) return false;
    for (uint64_t m = crews_waits_for(crews, plan, task); m != 0; m &= m - 1) {
        int32_t item = crews->item_of[crews_at(crews, job, (enum task)__builtin_ctzll(m))];
        if (item == SEQUENCE_NONE) return false;
        item += crews->items[item].pieces - 1;
        if (!crews_placed(crews, item)) return false;
        if (crews_instant_s(crews, crews->answer.finish[item]) > at_s) return false;
    }
    const int32_t item = crews->item_of[crews_at(crews, job, task)];
    return item == SEQUENCE_NONE || !crews_placed(crews, item) ||
           crews_instant_s(crews, crews->answer.start[item]) > at_s;
}

static void find_could(struct crews *crews, const struct crew *crew, struct crew_day *day)
{
    struct crew_could *list = ARENA_TAKE(crews->arena, COULD_MAX, struct crew_could);
    const double near_h = rulebook_setting(crews->rulebook, SETTING_DRIVE_NEAR_H);
    const struct job *from = day->work_count > 0 ? day->work[day->work_count - 1].job : NULL;
    if (list == NULL) return;
    day->could = list;
    for (size_t j = 0; j < crews->casefile->job_count && day->could_count < COULD_MAX; j++) {
        const struct job *job = crews->jobs[j].job;
        double drive_h = job->quantities[QUANTITY_DRIVE_H];
        if (from != NULL) drive_h = crews_between_h(crews, from, job);
        if (!(drive_h <= near_h)) continue;
        for (int t = 0; t < TASK_COUNT && day->could_count < COULD_MAX; t++) {
            const enum task task = (enum task)t;
            const int64_t at_s = day->free_from_s + llround(drive_h * HOUR_S);
            if (!crews_task_ours(crews, task)) continue;
            if (crews->rulebook->tasks[t].people > crew->people) continue;
            if (!open_then(crews, j, task, at_s)) continue;
            list[day->could_count++] = (struct crew_could){job, task, drive_h};
        }
    }
}

static void find_free(struct crews *crews, const struct crew *crew, struct crew_day *day)
{
    int64_t from_s = calendar_open_s(&crews->calendar, day->day);
    if (from_s < crews->casefile->now_s) from_s = crews->casefile->now_s;
    if (day->work_count > 0) from_s = day->work[day->work_count - 1].finish_s;
    day->free_from_s = from_s;
    day->free_h = calendar_left_h(&crews->calendar, from_s);
    if (day->free_h < rulebook_setting(crews->rulebook, SETTING_CREWS_HALF_DAY_H)) {
        day->free_h = 0;
        day->free_from_s = INSTANT_NONE;
        return;
    }
    find_could(crews, crew, day);
}

/* --- the load ----------------------------------------------------------------------------------
 */

#define LOAD(name) (UINT64_C(1) << CREW_LOAD_##name)

static const uint64_t load_of[TASK_COUNT] = {
    [TASK_KIT_RECEIVE] = LOAD(LIFTING) | LOAD(TARP),
    [TASK_TOWER_BLOCK] = LOAD(BLOCK) | LOAD(LEVEL),
    [TASK_DECK_SET] = LOAD(DECK),
    [TASK_PAD_STEEL] = LOAD(FORMS) | LOAD(BAR) | LOAD(LEVEL),
    [TASK_PAD_POUR] = LOAD(CONCRETE_TOOLS) | LOAD(PROBE),
    [TASK_PAD_PROTECT] = LOAD(PAD_COVER) | LOAD(PROBE),
    [TASK_PAD_CHECK] = LOAD(LEVEL) | LOAD(PROBE),
    [TASK_AIR_CUT] = LOAD(BLADE),
    [TASK_LAYOUT] = LOAD(LEVEL),
    [TASK_BOX_COURSES] = LOAD(LIFTING) | LOAD(LEVEL),
    [TASK_THROAT_SET] = LOAD(LIFTING) | LOAD(LEVEL),
    [TASK_LINTEL_IRON] = LOAD(IRON),
    [TASK_DAMPER_SET] = LOAD(DAMPER),
    [TASK_SMOKE_CHAMBER] = LOAD(LIFTING) | LOAD(LEVEL),
    [TASK_TRANSITION_SET] = LOAD(LIFTING) | LOAD(LEVEL),
    [TASK_CHIMNEY_RUN] = LOAD(LIFTING) | LOAD(SCAFFOLD) | LOAD(FLUE_BAG) | LOAD(LEVEL),
    [TASK_CAP_SET] = LOAD(CAP) | LOAD(SCAFFOLD) | LOAD(LIFTING),
    [TASK_NIGHT_COVER] = LOAD(TARP),
    [TASK_LINE_FLOOR] = LOAD(FIREBRICK) | LOAD(SPACERS) | LOAD(BLADE),
    [TASK_LINE_BACK] = LOAD(FIREBRICK) | LOAD(BLADE),
    [TASK_LINE_SIDES] = LOAD(FIREBRICK) | LOAD(BLADE),
    [TASK_LINE_CLEAN] = LOAD(SPONGE),
    [TASK_TAG_HANG] = LOAD(TAG),
    [TASK_CURE_WATCH] = LOAD(PROBE),
};

static uint64_t load_of_measure(enum measure_id measure)
{
    switch (measure) {
    case DO_BLANKETS:
    case DO_INSULATE_AFTER:
        return LOAD(BLANKETS);
    case DO_WIND_BREAK:
    case DO_SLOW_EVAPORATION:
        return LOAD(WIND_BREAK);
    case DO_ENCLOSE:
    case DO_HEAT_AFTER:
        return LOAD(HEATER) | LOAD(BLANKETS);
    case DO_COVER_AFTER:
        return LOAD(TARP);
    default:
        return 0;
    }
}

static void find_load(struct crews *crews, struct crew_day *day)
{
    for (size_t i = 0; i < day->work_count; i++) {
        const struct crew_work *work = &day->work[i];
        const struct job_plan *job = &crews->jobs[work->job - crews->casefile->jobs];
        const struct task_plan *task = &job->tasks[work->task];
        day->load |= load_of[work->task];
        if (crews->rulebook->tasks[work->task].mortar) day->load |= LOAD(MORTAR);
        for (size_t m = 0; m < task->measure_count; m++)
            day->load |= load_of_measure(task->measures[m].measure);
    }
}

/* --- weeks -------------------------------------------------------------------------------------
 */

static double days_had(const struct crews *crews, int32_t monday)
{
    double hours = 0;
    for (int32_t day = monday; day < monday + 7; day++) {
        int64_t at_s = civil_day_start_s(crews->calendar.zone, day);
        if (civil_day_start_s(crews->calendar.zone, day + 1) <= crews->casefile->now_s) continue;
        if (at_s < crews->casefile->now_s) at_s = crews->casefile->now_s;
        hours += calendar_left_h(&crews->calendar, at_s);
    }
    return hours / calendar_day_h(&crews->calendar) * (double)crews->casefile->company.crew_count;
}

/* Crew hours that the own plan of a job puts into a week; `ahead`: it has crew work at all. */
static double needed_h(const struct crews *crews, size_t job, int32_t monday, bool *ahead)
{
    double hours = 0;
    *ahead = false;
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &crews->jobs[job].tasks[t];
        if (crews_task_over(task) || !crews_task_ours(crews, (enum task)t)) continue;
        if (t == TASK_CURE_WATCH || t == TASK_NIGHT_COVER) continue;
        *ahead = true;
        if (task->start_s == INSTANT_NONE || isnan(task->hours)) continue;
        int64_t at_s =
            task->start_s > crews->casefile->now_s ? task->start_s : crews->casefile->now_s;
        int32_t day = civil_day_of(crews->calendar.zone, at_s);
        if (day >= monday && day < monday + 7) hours += task->hours;
    }
    return hours;
}

static void placed_hours(const struct crews *crews, const struct crew_plan *plans, int32_t monday,
                         double *hours)
{
    for (size_t j = 0; j < crews->casefile->job_count; j++) hours[j] = 0;
    for (size_t c = 0; c < crews->casefile->company.crew_count; c++)
        for (size_t d = 0; d < plans[c].day_count; d++) {
            const struct crew_day *day = &plans[c].days[d];
            if (day->day < monday || day->day >= monday + 7) continue;
            for (size_t i = 0; i < day->work_count; i++) {
                const struct crew_work *work = &day->work[i];
                if (work->task == TASK_NIGHT_COVER) continue;
                hours[work->job - crews->casefile->jobs] +=
                    (double)crews_open_count(crews, 0, crews_slot_up(crews, work->start_s),
                                             crews_slot_up(crews, work->finish_s)) *
                    CREWS_SLOT_S / HOUR_S;
            }
        }
}

static void find_weeks(struct crews *crews, const struct crew_plan *plans, struct plan *plan)
{
    struct crew_week *weeks = ARENA_TAKE(crews->arena, CREWS_WEEKS, struct crew_week);
    double *placed = ARENA_TAKE(crews->arena, crews->casefile->job_count, double);
    const double day_h = calendar_day_h(&crews->calendar);
    if (weeks == NULL || placed == NULL || !(day_h > 0)) return;
    for (int w = 0; w < CREWS_WEEKS; w++) {
        struct crew_week *week = &weeks[w];
        week->monday = crews->first_day - civil_weekday(crews->first_day) + 7 * w;
        week->had_days = days_had(crews, week->monday);
        placed_hours(crews, plans, week->monday, placed);
        for (size_t j = 0; j < crews->casefile->job_count; j++) {
            bool ahead;
            double needed = needed_h(crews, j, week->monday, &ahead);
            week->needed_days += needed / day_h;
            week->placed_days += placed[j] / day_h;
            if (ahead && needed <= 0 && placed[j] <= 0) week->idle_jobs++;
            if (placed[j] + 0.1 < needed) week->short_jobs++;
        }
    }
    plan->weeks = weeks;
    plan->week_count = CREWS_WEEKS;
}

void crews_rest_find(struct crews *crews, struct crew_plan *plans, struct plan *plan)
{
    list_unplaced(crews, plans, plan);
    for (size_t c = 0; c < crews->casefile->company.crew_count; c++)
        for (size_t d = 0; d < plans[c].day_count; d++) {
            struct crew_day *day = &crews->days[c][d];
            find_free(crews, plans[c].crew, day);
            find_load(crews, day);
        }
    find_weeks(crews, plans, plan);
}
