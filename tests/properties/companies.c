/* SPDX-License-Identifier: MIT */
/*
 * companies CASES [SEED]: what must hold for every company, tried on random ones.
 *
 * Standing properties hold of one plan: no task before what it needs, no last chance missed in
 * silence, no crew in two places, work inside hours, fires apart and on permitted days, latest
 * finishes that agree with the forward pass. Worse-is-never-earlier properties compare a job's plan
 * with that of the same job in a company made worse in one thing, before crews are shared out.
 *
 * They are compared with the two rules of how much of a day a crew needs left to begin set to
 * nothing: a delay that brings the crew to the site on the day something else opens saves it the
 * half day it would have needed to drive there, so a worse day can bring a task forward. That is
 * the rule, not a fault; sharing crews out has such turns too.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "compute/civil.h"
#include "firm.h"
#include "planner/calendar.h"
#include "planner/inspect.h"
#include "planner/planner.h"

enum { HOUR_S = 3600 };

static struct rulebook *rulebook;      /* as shipped */
static struct rulebook rulebook_plain; /* without the two rules of the day left */
static struct arena *arenas[2];

static const struct plan *plan_of(const struct firm *firm)
{
    const struct plan *plan = NULL;
    arena_reset(arenas[0]);
    if (planner_run(&plan, &firm->casefile, rulebook, arenas[0]) != STATUS_OK) abort();
    return plan;
}

static bool over(const struct task_plan *task)
{
    return task->state == TASK_STATE_DONE || task->state == TASK_STATE_PASSED;
}

static bool ahead(const struct task_plan *task)
{
    return !over(task) && !task->held && task->state != TASK_STATE_NOT_NEEDED &&
           task->state != TASK_STATE_WORKING && task->task != TASK_CURE_WATCH &&
           task->task != TASK_NIGHT_COVER;
}

static bool acts(const struct task_link *link, const struct job *job)
{
    return rulebook_holds(link->when, link->when_count, &job->options);
}

/* --- standing properties: NULL, or the sentence that does not hold -------------------------------
 */

static const char *needs_hold(const struct job_plan *plan, const struct task_plan *task)
{
    const struct task_rule *rule = &rulebook->tasks[task->task];
    if (!ahead(task)) return NULL;
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (link->kind != LINK_AFTER || !acts(link, plan->job) || link->task == TASK_CURE_WATCH)
            continue;
        const struct task_plan *before = &plan->tasks[link->task];
        const bool fire = task->task > TASK_FIRE_1 && task->task <= TASK_FIRE_5;
        if (before->state == TASK_STATE_NOT_NEEDED || over(before)) continue;
        if (task->state == TASK_STATE_WAIT_OVER) return "ready before what it comes after is over";
        if (task->start_s == INSTANT_NONE) continue;
        if (before->held) return "dated behind a hold point that is not passed";
        if (before->start_s == INSTANT_NONE) return "dated behind a task without a date";
        if (before->finish_s != INSTANT_NONE &&
            task->start_s < before->finish_s + (int64_t)(link->wait_h * HOUR_S) && !fire)
            return "begun before what it comes after is over";
    }
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (link->kind != LINK_AFTER_CLOCK || !acts(link, plan->job)) continue;
        for (size_t k = 0; k < plan->clock_count; k++) {
            const struct clock_plan *clock = &plan->clocks[k];
            if (clock->clock != link->clock) continue;
            const bool open = clock->state == CLOCK_STATE_OPEN;
            if (!open && task->state == TASK_STATE_WAIT_OVER) return "ready with its clock shut";
            if (task->start_s == INSTANT_NONE || clock->state == CLOCK_STATE_ENDED) continue;
            if (clock->opens_s == INSTANT_NONE) return "dated behind a clock without an opening";
            if (task->start_s < clock->opens_s) return "begun before its clock opens";
        }
    }
    return NULL;
}

static bool cautioned(const struct job_plan *plan, enum caution_id id, enum task task)
{
    for (size_t i = 0; i < plan->caution_count; i++)
        if (plan->cautions[i].caution == id && plan->cautions[i].task == task) return true;
    return false;
}

static const char *chances_hold(const struct job_plan *plan, const struct task_plan *task)
{
    const struct task_rule *rule = &rulebook->tasks[task->task];
    if (over(task) || task->state == TASK_STATE_NOT_NEEDED) return NULL;
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (link->kind != LINK_BEFORE || !acts(link, plan->job)) continue;
        const struct task_plan *closes = &plan->tasks[link->task];
        if (closes->state == TASK_STATE_NOT_NEEDED) continue;
        if (closes->state == TASK_STATE_WAIT_OVER) return "ready to close in what is not done";
        if (over(closes) && !cautioned(plan, CAUTION_LAST_CHANCE_MISSED, task->task))
            return "a last chance was missed in silence";
        if (ahead(closes) && closes->start_s != INSTANT_NONE && task->finish_s != INSTANT_NONE &&
            closes->start_s < task->finish_s)
            return "closed in before it is done";
    }
    return NULL;
}

static bool banned(const struct firm *firm, const struct job *job, int32_t day)
{
    for (size_t i = 0; i < firm->company.burn_ban_count; i++) {
        const struct burn_ban *ban = &firm->bans[i];
        if (ban->town != NULL &&
            (job->options.town.name == NULL || strcmp(ban->town, job->options.town.name) != 0))
            continue;
        if (day >= ban->from_day && day <= ban->until_day) return true;
    }
    return false;
}

static const char *fires_hold(const struct firm *firm, const struct job_plan *plan)
{
    const struct fire_plan *fire = &plan->fire;
    const struct zone *zone = plan->job->zone;
    int64_t last_s = fire->last_fire_s;
    for (int t = TASK_FIRE_1; t <= TASK_FIRE_5; t++) {
        const struct task_plan *task = &plan->tasks[t];
        if (!ahead(task) || task->start_s == INSTANT_NONE) continue;
        const int32_t day = civil_day_of(zone, task->start_s);
        if (fire->blocked_by != 0 || fire->cure_complete_day == DAY_NONE)
            return "a fire without its date";
        if (day < fire->cure_complete_day) return "a fire before its date";
        if (banned(firm, plan->job, day)) return "a fire on a day of a burn ban";
        if (fire->sign_hold != NULL) return "a fire before somebody has looked at a sign";
        if (last_s != INSTANT_NONE && task->start_s < last_s + 24 * HOUR_S)
            return "two fires less than a day apart";
        if (plan->job->options.permit &&
            plan->tasks[TASK_FINAL_INSPECT].state != TASK_STATE_PASSED &&
            (plan->tasks[TASK_FINAL_INSPECT].finish_s == INSTANT_NONE ||
             plan->tasks[TASK_FINAL_INSPECT].finish_s > task->start_s))
            return "a fire before the final inspection";
        last_s = task->finish_s;
    }
    return NULL;
}

static const char *dates_hold(const struct firm *firm, const struct job_plan *plan,
                              const struct task_plan *task)
{
    const int64_t now_s = firm->casefile.now_s;
    if (!ahead(task)) return NULL;
    if (task->start_s != INSTANT_NONE && task->start_s < now_s) return "work planned in the past";
    if (task->start_s == INSTANT_NONE && task->because_count == 0) return "no date and no reason";
    if (task->start_s == INSTANT_NONE && task->because[0].until_s != INSTANT_NONE)
        return "no date, and every reason has an end";
    for (size_t i = 1; i < task->because_count; i++)
        if (task->because[i - 1].until_s != INSTANT_NONE &&
            (task->because[i].until_s == INSTANT_NONE ||
             task->because[i].until_s > task->because[i - 1].until_s))
            return "reasons out of order";
    /* what only has to follow something soon is not on the way to the fire */
    const bool follows = task->task == TASK_PAD_PROTECT || task->task == TASK_TAG_HANG;
    if (!follows && task->latest_finish_s != INSTANT_NONE && task->finish_s != INSTANT_NONE &&
        plan->fire.projected_day != DAY_NONE && task->task <= TASK_FIRE_1 &&
        plan->fire.projected_day <= plan->fire.wanted_day && task->latest_finish_s < task->finish_s)
        return "the wanted day is reached, yet a task is too late for it";
    return NULL;
}

static const char *calls_hold(const struct firm *firm, const struct job_plan *plan)
{
    for (size_t i = 0; i < plan->call_in_count; i++) {
        const struct call_in *call = &plan->call_ins[i];
        struct calendar visits;
        inspect_calendar(&visits, call->inspector, &firm->company, plan->job);
        if (!calendar_works(&visits, call->visit_day)) return "a visit on a day nobody serves";
        if (call->request_by_s != INSTANT_NONE && call->request_by_s < firm->casefile.now_s)
            return "a visit whose cut-off has gone";
        if (call->missed_s != INSTANT_NONE &&
            (call->cost_days < 1 || call->missed_s >= firm->casefile.now_s))
            return "a missed cut-off that costs nothing";
    }
    return NULL;
}

static const char *job_holds(const struct firm *firm, const struct job_plan *plan)
{
    const char *said = fires_hold(firm, plan);
    if (said == NULL) said = calls_hold(firm, plan);
    for (int t = 0; t < TASK_COUNT && said == NULL; t++) {
        said = needs_hold(plan, &plan->tasks[t]);
        if (said == NULL) said = chances_hold(plan, &plan->tasks[t]);
        if (said == NULL) said = dates_hold(firm, plan, &plan->tasks[t]);
    }
    return said;
}

static const char *crews_hold(const struct firm *firm, const struct plan *plan)
{
    struct calendar calendar;
    calendar_of_company(&calendar, &firm->company);
    for (size_t c = 0; c < plan->crew_count; c++) {
        int64_t free_s = INSTANT_NONE;
        for (size_t d = 0; d < plan->crews[c].day_count; d++) {
            const struct crew_day *day = &plan->crews[c].days[d];
            for (size_t i = 0; i < day->work_count; i++) {
                const struct crew_work *work = &day->work[i];
                if (work->start_s < free_s) return "a crew in two places";
                if (work->finish_s < work->start_s) return "work that ends before it begins";
                free_s = work->finish_s;
                if (civil_day_of(calendar.zone, work->start_s) != day->day)
                    return "work on another day than it says";
                if (!calendar_works(&calendar, day->day)) return "work on a day off";
                if (work->start_s < calendar_open_s(&calendar, day->day) ||
                    work->finish_s >
                        civil_instant_s(calendar.zone, day->day, calendar.hours.until_min * 60))
                    return "work outside hours";
            }
        }
    }
    return NULL;
}

static const char *standing(const struct firm *firm)
{
    const struct plan *plan = plan_of(firm);
    const char *said = crews_hold(firm, plan);
    for (size_t j = 0; j < plan->job_count && said == NULL; j++)
        said = job_holds(firm, &plan->jobs[j]);
    return said;
}

/* --- worse is never earlier
 * ----------------------------------------------------------------------- */

#define WORSE_LIST(X)                                                                              \
    X(COLDER, "colder hours")                                                                      \
    X(SOAKED, "the unit soaked now")                                                               \
    X(HOLIDAY, "one more day off for everybody")                                                   \
    X(INSPECTOR_OFF, "one more holiday of the inspectors")                                         \
    X(CUTOFF, "the cut-off an hour sooner")                                                        \
    X(BAN, "a burn ban from today")                                                                \
    X(KIT, "the kit takes five days more")                                                         \
    X(PERMIT, "the permit takes five days more")                                                   \
    X(FLOOR, "the town asks for 96 h on the pad")                                                  \
    X(THROAT, "the town wants to see the throat")                                                  \
    X(SHORT_WEEK, "crews work four days")                                                          \
    X(BLENDED, "a blended mix")
#define WORSE_ENUM(name, text) WORSE_##name,
enum worse { WORSE_LIST(WORSE_ENUM) WORSE_COUNT };
#define WORSE_TEXT(name, text) text,
static const char *const worse_names[] = {WORSE_LIST(WORSE_TEXT)};

static void add_day(int32_t *days, size_t *count, int32_t day)
{
    size_t at = *count;
    for (size_t i = 0; i < *count; i++)
        if (days[i] == day) return;
    if (*count == FIRM_DAYS_MAX) return;
    for (; at > 0 && days[at - 1] > day; at--) days[at] = days[at - 1];
    days[at] = day;
    (*count)++;
}

/* A look nobody asked for is on record: to ask for it now changes what the records mean. */
static bool was_looked(const struct firm_job *own)
{
    for (size_t i = 0; i < own->count; i++)
        if (own->records[i].task == TASK_THROAT_INSPECT) return true;
    return false;
}

static void make_worse(struct firm *f, enum worse worse, struct chance *c)
{
    const int32_t today = civil_day_of(f->company.zone, f->casefile.now_s);
    const int32_t day = today + chance_below(c, 20);
    for (size_t j = 0; j < f->job_count; j++) {
        struct job *job = &f->jobs[j];
        if (worse == WORSE_KIT && job->kit_lead_days >= 0) job->kit_lead_days += 5;
        if (worse == WORSE_PERMIT && job->permit_lead_days >= 0) job->permit_lead_days += 5;
        if (worse == WORSE_FLOOR) job->options.town.build_on_floor_h = 96;
        if (worse == WORSE_THROAT && !was_looked(&f->own[j])) job->options.town.throat_look = true;
        if (worse == WORSE_BLENDED) job->options.mix = MIX_BLENDED;
        if (worse == WORSE_CUTOFF && job->options.town.request_cutoff_min >= 60)
            job->options.town.request_cutoff_min -= 60;
        if (worse == WORSE_SOAKED) {
            struct record *r = firm_add(f, j, RECORD_SOAKED, f->casefile.now_s);
            if (r != NULL) r->part = PART_UNIT;
        }
    }
    for (size_t i = 0; worse == WORSE_COLDER && i < f->station.observed.count; i++) f->temp[i] -= 3;
    for (size_t i = 0; worse == WORSE_COLDER && i < f->station.forecast.count; i++)
        f->ahead[i] -= 3;
    if (worse == WORSE_HOLIDAY || worse == WORSE_INSPECTOR_OFF) {
        size_t count = f->inspectors[0].days_off_count;
        add_day(f->inspector_off, &count, day);
        for (int i = 0; i < 2; i++) f->inspectors[i].days_off_count = count;
    }
    if (worse == WORSE_HOLIDAY) add_day(f->days_off, &f->company.days_off_count, day);
    if (worse == WORSE_SHORT_WEEK) f->company.work_days &= ~0x10U;
    if (worse == WORSE_BAN) {
        f->bans[f->company.burn_ban_count++] =
            (struct burn_ban){.from_day = today, .until_day = today + 20};
    }
    firm_mend(f);
}

static int64_t start_or_never(const struct task_plan *task)
{
    return task->start_s == INSTANT_NONE ? INT64_MAX : task->start_s;
}

static const char *compare(const struct job_plan *better, const struct job_plan *worse)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *a = &better->tasks[t], *b = &worse->tasks[t];
        if (!ahead(a) || !ahead(b)) continue;
        if (start_or_never(b) < start_or_never(a)) return id_of(&task_ids, t);
        if (b->state == TASK_STATE_WAIT_OVER && a->state != TASK_STATE_WAIT_OVER &&
            a->state != TASK_STATE_REDO && a->state != TASK_STATE_STOPPED &&
            a->state != TASK_STATE_WAITING_INSPECTOR && a->state != TASK_STATE_WAITING_TRADE &&
            a->state != TASK_STATE_WAITING_WEATHER)
            return id_of(&task_ids, t);
    }
    const int32_t a = better->fire.projected_day, b = worse->fire.projected_day;
    if (!ahead(&better->tasks[TASK_FIRE_1]) || !ahead(&worse->tasks[TASK_FIRE_1])) return NULL;
    if (b != DAY_NONE && (a == DAY_NONE || b < a)) return "the first fire";
    return NULL;
}

static const char *try_worse(const struct firm *firm, enum worse worse, uint64_t seed,
                             struct firm *changed)
{
    static struct job_plan before, after;
    struct chance chance = {seed};
    firm_copy(changed, firm);
    make_worse(changed, worse, &chance);
    for (size_t j = 0; j < firm->job_count; j++) {
        arena_reset(arenas[0]);
        arena_reset(arenas[1]);
        if (planner_job(&before, &firm->jobs[j], &firm->company, &rulebook_plain,
                        firm->casefile.now_s, arenas[0]) != STATUS_OK ||
            planner_job(&after, &changed->jobs[j], &changed->company, &rulebook_plain,
                        firm->casefile.now_s, arenas[1]) != STATUS_OK)
            abort();
        const char *said = compare(&before, &after);
        if (said != NULL) return said;
    }
    return NULL;
}

/* --- a failing company made smaller
 * ---------------------------------------------------------------- */

static bool still_fails(const struct firm *firm, int worse, uint64_t seed)
{
    static struct firm changed;
    if (worse < 0) return standing(firm) != NULL;
    return try_worse(firm, (enum worse)worse, seed, &changed) != NULL;
}

static bool shrink_once(struct firm *firm, int worse, uint64_t seed)
{
    static struct firm smaller;
    for (size_t j = 0; firm->job_count > 1 && j < firm->job_count; j++) {
        firm_copy(&smaller, firm);
        firm_drop_job(&smaller, j);
        if (!still_fails(&smaller, worse, seed)) continue;
        firm_copy(firm, &smaller);
        return true;
    }
    for (size_t j = 0; j < firm->job_count; j++)
        for (size_t i = firm->own[j].count; i-- > 0;) {
            firm_copy(&smaller, firm);
            firm_drop_record(&smaller, j, i);
            if (!still_fails(&smaller, worse, seed)) continue;
            firm_copy(firm, &smaller);
            return true;
        }
    return false;
}

static void report(struct firm *firm, int worse, uint64_t seed, const char *said, uint64_t drawn)
{
    static struct firm changed;
    while (shrink_once(firm, worse, seed)) {
    }
    printf("FAIL seed %llu: %s: %s\n", (unsigned long long)drawn,
           worse < 0 ? "standing" : worse_names[worse], said);
    firm_print(firm, stdout);
    if (worse < 0) return;
    (void)try_worse(firm, (enum worse)worse, seed, &changed);
    printf("and made worse:\n");
    firm_print(&changed, stdout);
}

static bool load_zones(struct zone **zones, size_t count)
{
    static const char *const names[] = {"America/Denver", "America/New_York", "Europe/London",
                                        "America/Phoenix"};
    for (size_t i = 0; i < count; i++)
        if (zone_load(&zones[i], names[i], NULL) != STATUS_OK) return false;
    return true;
}

static void count_reached(const struct plan *plan, long reached[4])
{
    for (size_t j = 0; j < plan->job_count; j++) {
        reached[0] += plan->jobs[j].fire.projected_day != DAY_NONE;
        reached[1] += plan->jobs[j].call_in_count > 0;
        reached[2] += plan->jobs[j].fire.last_fire_s != INSTANT_NONE;
        reached[3] += plan->jobs[j].tasks[TASK_LINE_CLEAN].latest_finish_s != INSTANT_NONE;
    }
}

int main(int argc, char **argv)
{
    long cases = argc > 1 ? strtol(argv[1], NULL, 10) : 5000;
    uint64_t first = argc > 2 ? strtoull(argv[2], NULL, 10) : 20260301;
    struct zone *zones[4];
    struct faults faults = {0};
    static struct firm firm, changed;
    long failed = 0, tried = 0, reached[4] = {0};
    if (rulebook_load_shipped(&rulebook, "modular-masonry", &faults) != STATUS_OK) return 70;
    if (!load_zones(zones, 4)) return 70;
    rulebook_plain = *rulebook;
    rulebook_plain.settings[SETTING_START_LEFT_ON_SITE_H].value = 0;
    rulebook_plain.settings[SETTING_START_LEFT_DRIVE_H].value = 0;
    for (int i = 0; i < 2; i++) arenas[i] = arena_new();
    printf("seeds %llu to %llu\n", (unsigned long long)first,
           (unsigned long long)(first + (uint64_t)cases - 1));
    for (long i = 0; i < cases && failed < 5; i++) {
        uint64_t seed = first + (uint64_t)i, change = 0;
        struct chance pick = {seed ^ 0x51ed270b};
        int worse = -1;
        firm_draw(&firm, seed, zones, 4);
        const char *said = standing(&firm);
        if (said == NULL) count_reached(plan_of(&firm), reached);
        for (int n = 0; n < 2 && said == NULL; n++, tried++) {
            worse = chance_below(&pick, WORSE_COUNT);
            change = chance_next(&pick);
            said = try_worse(&firm, (enum worse)worse, change, &changed);
        }
        if (said == NULL) continue;
        failed++;
        report(&firm, worse, change, said, seed);
    }
    printf("%ld changes for the worse tried; first fires in sight %ld, inspections to call in %ld, "
           "fires lit %ld, linings worked back %ld\n",
           tried, reached[0], reached[1], reached[2], reached[3]);
    for (int i = 0; i < 4 && cases >= 1000; i++)
        if (reached[i] < cases / 100) failed++;
    printf("%ld passed, %ld failed\n", cases - failed, failed);
    for (int i = 0; i < 2; i++) arena_free(arenas[i]);
    for (int i = 0; i < 4; i++) zone_free(zones[i]);
    rulebook_free(rulebook);
    return failed > 0;
}
