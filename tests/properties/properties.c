/* SPDX-License-Identifier: MIT */
/*
 * properties CASES [SEED]: what must hold for every input, tried on random worlds.
 *
 * Standing properties hold of one plan: floors, credits, silence earns nothing, a date needs its
 * support. Worse-is-never-earlier properties compare a plan with the plan of the same world made
 * worse in one thing. A failing world is made smaller until nothing more can be left out of it, and
 * both plans' cases are printed as case files.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "compute/civil.h"
#include "planner/planner.h"
#include "world.h"

enum { HOUR_S = 3600 };

static struct rulebook *rulebook;
static struct arena *arenas[2];

static const struct job_plan *plan_of(const struct world *world, int slot)
{
    static struct job_plan plans[2];
    arena_reset(arenas[slot]);
    if (planner_job(&plans[slot], &world->job, &world->company, rulebook, world->now_s,
                    arenas[slot]) != STATUS_OK)
        abort();
    return &plans[slot];
}

static const struct clock_plan *clock_in(const struct job_plan *plan, enum clock_id id)
{
    for (size_t i = 0; i < plan->clock_count; i++)
        if (plan->clocks[i].clock == id) return &plan->clocks[i];
    return NULL;
}

static int64_t crossing_or_never(const struct clock_plan *clock)
{
    return clock->crossing_s == INSTANT_NONE ? INT64_MAX : clock->crossing_s;
}

static const struct record *latest_done(const struct world *w, const enum task *tasks, size_t n,
                                        bool relaid)
{
    const struct record *latest = NULL;
    for (size_t i = 0; i < w->count; i++) {
        const struct record *r = &w->records[i];
        bool is = relaid && r->kind == RECORD_RELAID;
        for (size_t k = 0; k < n; k++) is = is || (r->kind == RECORD_DONE && r->task == tasks[k]);
        if (is && r->at_s <= w->now_s && (latest == NULL || r->at_s >= latest->at_s)) latest = r;
    }
    return latest;
}

/* --- standing properties: NULL when they hold, else the sentence that does not ---------------- */

static const char *floors_hold(const struct world *w, const struct job_plan *plan)
{
    static const enum task pour[] = {TASK_PAD_POUR};
    static const enum task wet[] = {TASK_BOX_COURSES,    TASK_THROAT_SET,  TASK_SMOKE_CHAMBER,
                                    TASK_TRANSITION_SET, TASK_CHIMNEY_RUN, TASK_CAP_SET,
                                    TASK_LINE_FLOOR,     TASK_LINE_BACK,   TASK_LINE_SIDES,
                                    TASK_LINE_CLEAN};
    const struct record *poured = latest_done(w, pour, 1, false);
    const struct clock_plan *pad = clock_in(plan, CLOCK_PAD_BUILD_ON);
    int64_t floor_s = w->job.options.base == BASE_SLAB ? 24 * HOUR_S : 48 * HOUR_S;
    if (pad != NULL && poured != NULL && crossing_or_never(pad) - poured->at_s < floor_s)
        return "a pad is built on before its floor";
    const struct record *last = latest_done(w, wet, sizeof wet / sizeof *wet, true);
    if (plan->fire.cure_complete_day != DAY_NONE) {
        if (last == NULL) return "a fire date with no wet work on record";
        if (plan->fire.cure_complete_day < civil_day_of(w->job.zone, last->at_s) + 29)
            return "a fire before 28 whole civil days after the last wet work";
    }
    const struct task_plan *fire = &plan->tasks[TASK_FIRE_1];
    if (fire->start_s != INSTANT_NONE && fire->state != TASK_STATE_DONE) {
        if (plan->fire.cure_complete_day != DAY_NONE &&
            fire->start_s < civil_day_start_s(w->job.zone, plan->fire.cure_complete_day))
            return "the first fire is planned before the cure is complete";
        if (last != NULL &&
            fire->start_s <
                civil_day_start_s(w->job.zone, civil_day_of(w->job.zone, last->at_s) + 29))
            return "the first fire is planned before 28 whole civil days";
    }
    return NULL;
}

static const char *credits_hold(const struct world *w, const struct job_plan *plan)
{
    for (size_t i = 0; i < plan->clock_count; i++) {
        const struct clock_plan *c = &plan->clocks[i];
        double elapsed_h = (double)(w->now_s - c->start_s) / HOUR_S;
        double most = c->unit == UNIT_COUNTED_DAY ? civil_day_of(w->job.zone, w->now_s) -
                                                        civil_day_of(w->job.zone, c->start_s)
                                                  : elapsed_h;
        if (!(c->have >= 0) || c->have > most + 1e-6) return "more credit than time";
        if (c->state == CLOCK_STATE_OPEN && c->crossing_s > w->now_s)
            return "open before its crossing";
        if (c->opens_s != INSTANT_NONE && c->opens_s < c->crossing_s)
            return "opens before its crossing";
        if (c->crossing_s != INSTANT_NONE && c->unit != UNIT_COUNTED_DAY &&
            c->clock != CLOCK_PAD_FACING_READY &&
            (double)(c->crossing_s - c->start_s) < c->floor_h * HOUR_S)
            return "crosses before its floor";
        if (c->unit == UNIT_WARM_HOUR && c->crossing_s != INSTANT_NONE &&
            c->clock != CLOCK_PAD_FACING_READY &&
            (double)(c->crossing_s - c->start_s) / HOUR_S < c->need - 1e-3)
            return "an hour counted more than one";
        for (size_t d = 0; d < c->day_count; d++)
            if (c->days[d].credit < 0 || c->days[d].credit > 1)
                return "a day counted more than one";
    }
    return NULL;
}

/* A closed place that nobody ever read earns nothing and has no opening time. */
static const char *silence_earns_nothing(const struct world *w, const struct job_plan *plan)
{
    const struct clock_plan *c = clock_in(plan, CLOCK_PAD_BUILD_ON);
    if (c == NULL) return NULL;
    bool closed = false;
    for (size_t i = 0; i < w->count; i++) {
        const struct record *r = &w->records[i];
        if (r->kind == RECORD_READING || (r->kind == RECORD_OPENED && r->part == PART_PAD) ||
            (r->kind == RECORD_ACCEPTED))
            return NULL;
        if (r->kind == RECORD_CLOSED_IN && r->part == PART_PAD && r->at_s <= c->start_s)
            closed = true;
    }
    if (!closed) return NULL;
    return c->have > 0 || c->crossing_s != INSTANT_NONE ? "an unread closed pad earned" : NULL;
}

static const char *dates_have_support(const struct world *w, const struct job_plan *plan)
{
    (void)w;
    const struct fire_plan *fire = &plan->fire;
    bool blocked = fire->blocked_by != 0;
    if (blocked == (fire->cure_complete_day != DAY_NONE))
        return "a date beside a block, or neither";
    if (fire->agreed_holds && (blocked || fire->cure_complete_day > fire->agreed_day))
        return "the homeowner sees a date the engine does not support";
    for (size_t i = 0; i < plan->clock_count; i++) {
        const struct clock_plan *c = &plan->clocks[i];
        bool stopped = c->state == CLOCK_STATE_CHECK_IT || c->state == CLOCK_STATE_ENDED;
        if (stopped && (c->crossing_s != INSTANT_NONE || c->opens_s != INSTANT_NONE))
            return "a stopped clock has an opening time";
    }
    return NULL;
}

/* What a task asks to be finished first really is. */
static const char *tasks_wait(const struct world *w, const struct job_plan *plan)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &plan->tasks[t];
        const struct task_rule *rule = &rulebook->tasks[t];
        if (task->state == TASK_STATE_NOT_NEEDED) continue;
        if (task->start_s != INSTANT_NONE && task->finish_s != INSTANT_NONE &&
            task->finish_s < task->start_s)
            return "a task ends before it starts";
        if (task->state != TASK_STATE_WAIT_OVER) continue;
        for (size_t i = 0; i < rule->link_count; i++) {
            const struct task_link *link = &rule->links[i];
            if (!rulebook_holds(link->when, link->when_count, &w->job.options)) continue;
            if (link->kind != LINK_AFTER_CLOCK || link->if_started) continue;
            const struct clock_plan *c = clock_in(plan, link->clock);
            if (c != NULL && c->state != CLOCK_STATE_OPEN)
                return "a task's wait is said to be over while its clock is not open";
        }
    }
    return NULL;
}

/* The hours of a picture add up to what its clock has, whatever was put together. */
static const char *pictures_add_up(const struct world *w, const struct job_plan *plan)
{
    static struct arena *arena;
    if (arena == NULL) arena = arena_new();
    if (arena == NULL) abort();
    arena_reset(arena);
    struct job_plan drawn = *plan;
    if (planner_pictures(&drawn, &w->company, rulebook, w->now_s, arena) != STATUS_OK) abort();
    for (int p = 0; p < PART_COUNT; p++) {
        const struct part_plan *part = &drawn.parts[p];
        if (part->strip == NULL) continue;
        const struct clock_plan *c = clock_in(plan, part->strip->clock);
        if (part->piece_count > STRIP_PIECES_MAX) return "a picture has too many pieces";
        double had = 0;
        int64_t at_s = part->strip->from_s;
        for (size_t i = 0; i < part->piece_count; i++) {
            const struct history_piece *piece = &part->pieces[i];
            if (piece->from_s != at_s || piece->until_s <= at_s) return "a picture has a hole";
            if (!piece->ahead) had += piece->credit;
            at_s = piece->until_s;
        }
        if (at_s != part->strip->until_s) return "a picture ends too soon";
        if (at_s < w->now_s) continue; /* all its waits were over before now */
        if (c->unit == UNIT_COUNTED_DAY && had > c->need) had = c->need;
        if (fabs(had - c->have) > 1e-6) return "a picture shows another sum than its clock";
    }
    return NULL;
}

static bool waits_for_its_day(const struct task_plan *task)
{
    return task->start_s != INSTANT_NONE && task->state != TASK_STATE_DONE &&
           task->state != TASK_STATE_PASSED && task->state != TASK_STATE_WORKING && !task->held;
}

/* No planned work begins in an hour that the weather closes to it. */
static const char *work_begins_in_open_weather(const struct world *w, const struct job_plan *plan)
{
    (void)w;
    for (size_t g = 0; g < plan->gate_count; g++) {
        for (int t = 0; t < TASK_COUNT; t++) {
            const struct task_plan *task = &plan->tasks[t];
            if ((plan->gates[g].tasks >> (unsigned)t & 1U) == 0 || !waits_for_its_day(task))
                continue;
            for (size_t s = 0; s < plan->gates[g].count; s++) {
                const struct gate_stretch *stretch = &plan->gates[g].stretches[s];
                if (stretch->state == GATE_CLOSED && task->start_s >= stretch->from_s &&
                    task->start_s < stretch->until_s)
                    return "work is planned in an hour that the weather closes";
            }
        }
    }
    return NULL;
}

static const char *standing(const struct world *w, const struct job_plan *plan)
{
    const char *said = floors_hold(w, plan);
    if (said == NULL) said = credits_hold(w, plan);
    if (said == NULL) said = silence_earns_nothing(w, plan);
    if (said == NULL) said = dates_have_support(w, plan);
    if (said == NULL) said = tasks_wait(w, plan);
    if (said == NULL) said = work_begins_in_open_weather(w, plan);
    if (said == NULL) said = pictures_add_up(w, plan);
    return said;
}

/* --- worse is never earlier ------------------------------------------------------------------- */

enum worse {
    WORSE_READING,
    WORSE_STATION,
    WORSE_FORECAST,
    WORSE_RAIN,
    WORSE_RAIN_AHEAD,
    WORSE_SOAKED,
    WORSE_FACING,
    WORSE_LIT,
    WORSE_RELAID,
    WORSE_PATCHED,
    WORSE_START_LATER,
    WORSE_COUNT
};

static const char *const worse_names[] = {
    "a reading lowered", "a station hour lowered", "a forecast hour lowered", "rain added",
    "rain forecast",     "a soaking added",        "a facing added",          "a fire added",
    "a panel relaid",    "a patch added",          "a start moved later"};

static bool stopped_anywhere(const struct job_plan *plan, bool unit_only)
{
    for (size_t i = 0; i < plan->clock_count; i++) {
        const struct clock_plan *c = &plan->clocks[i];
        if (unit_only && c->part != PART_UNIT) continue;
        if (c->state == CLOCK_STATE_CHECK_IT || c->state == CLOCK_STATE_ENDED) return true;
    }
    return false;
}

static bool any_redo_or_look(const struct world *w)
{
    for (size_t i = 0; i < w->count; i++)
        if (w->records[i].kind == RECORD_LOOKED) return true;
    return false;
}

static int64_t past_instant(const struct world *w, struct chance *c)
{
    int64_t begin_s = w->station.observed.start_s;
    return begin_s + (int64_t)chance_below(c, (int)((w->now_s - begin_s) / 60) + 1) * 60;
}

static bool lower(double *values, size_t count, struct chance *c)
{
    if (count == 0) return false;
    size_t i = (size_t)chance_below(c, (int)count);
    if (isnan(values[i])) return false;
    values[i] -= chance_between(c, 0.1, 15);
    return true;
}

static bool lower_reading(struct world *w, struct chance *c)
{
    for (int tries = 0; tries < 8 && w->count > 0; tries++) {
        struct record *r = &w->records[chance_below(c, (int)w->count)];
        if (r->kind != RECORD_READING) continue;
        r->temp_degc -= chance_between(c, 0.1, 15);
        return true;
    }
    return false;
}

static bool start_later(struct world *w, struct chance *c)
{
    static const enum task starts[] = {TASK_PAD_POUR, TASK_LINE_CLEAN, TASK_CAP_SET,
                                       TASK_CHIMNEY_RUN, TASK_TRANSITION_SET};
    const enum task task = starts[chance_below(c, 5)];
    for (size_t i = 0; i < w->count; i++) {
        struct record *r = &w->records[i];
        if (r->kind != RECORD_DONE || r->task != task) continue;
        r->at_s += (int64_t)(1 + chance_below(c, 48)) * 1800;
        return r->at_s <= w->now_s;
    }
    return false;
}

/* Make the world worse; false: this world cannot be, that way. */
static bool make_worse(struct world *w, enum worse worse, struct chance *c)
{
    struct record *r = NULL;
    switch (worse) {
    case WORSE_READING:
        return lower_reading(w, c);
    case WORSE_STATION:
        return lower(w->temp, w->station.observed.count, c);
    case WORSE_FORECAST:
        return lower(w->ahead, w->station.forecast.count, c);
    case WORSE_RAIN: {
        size_t i = (size_t)chance_below(c, (int)w->station.observed.count);
        if (isnan(w->rain[i])) return false;
        w->rain[i] += chance_between(c, 0.2, 8);
        return true;
    }
    case WORSE_RAIN_AHEAD: {
        size_t i = (size_t)chance_below(c, (int)w->station.forecast.count + 1);
        if (i >= w->station.forecast.count || isnan(w->ahead_rain[i])) return false;
        w->ahead_rain[i] += chance_between(c, 0.2, 8);
        return true;
    }
    case WORSE_SOAKED:
        r = world_add(w, RECORD_SOAKED, past_instant(w, c));
        if (r != NULL) r->part = chance_of(c, 50) ? PART_PAD : PART_UNIT;
        return r != NULL;
    case WORSE_FACING:
        return world_add(w, RECORD_FACING, past_instant(w, c)) != NULL;
    case WORSE_LIT:
        return world_add(w, RECORD_LIT, past_instant(w, c)) != NULL;
    case WORSE_RELAID:
        r = world_add(w, RECORD_RELAID, past_instant(w, c));
        if (r != NULL) r->what = RELAID_FLOOR;
        return r != NULL;
    case WORSE_PATCHED:
        r = world_add(w, RECORD_PATCHED, past_instant(w, c));
        if (r != NULL) r->days = 28;
        return r != NULL;
    case WORSE_START_LATER:
        return start_later(w, c);
    case WORSE_COUNT:
        break;
    }
    return false;
}

/*
 * New wet work after a stop or a redo begins a new clock, which is the way back to a date: there
 * "never earlier" speaks of the clocks that were not stopped.
 */
static bool excused(const struct world *w, const struct job_plan *before,
                    const struct job_plan *after, enum worse worse)
{
    if (worse == WORSE_START_LATER)
        return any_redo_or_look(w) || stopped_anywhere(before, false) ||
               stopped_anywhere(after, false);
    if (worse == WORSE_FACING || worse == WORSE_RELAID || worse == WORSE_PATCHED)
        return stopped_anywhere(before, true);
    return false;
}

/* Worse weather ahead: what has the same constraints does not begin earlier. */
static const char *starts_not_earlier(const struct job_plan *before, const struct job_plan *after)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *a = &before->tasks[t], *b = &after->tasks[t];
        if (!waits_for_its_day(a) || !waits_for_its_day(b) || a->opens_s != b->opens_s) continue;
        if (b->start_s < a->start_s) return id_of(&task_ids, t);
    }
    return NULL;
}

static const char *never_earlier(const struct world *w, const struct job_plan *before,
                                 const struct job_plan *after, enum worse worse)
{
    if (excused(w, before, after, worse)) return NULL;
    for (size_t i = 0; i < before->clock_count; i++) {
        const struct clock_plan *a = &before->clocks[i];
        const struct clock_plan *b = clock_in(after, a->clock);
        if (b == NULL) continue;
        if (crossing_or_never(b) < crossing_or_never(a)) return id_of(&clock_ids, a->clock);
    }
    if (worse == WORSE_FORECAST || worse == WORSE_RAIN_AHEAD) {
        const char *said = starts_not_earlier(before, after);
        if (said != NULL) return said;
    }
    int32_t a = before->fire.cure_complete_day, b = after->fire.cure_complete_day;
    bool facing_done = worse == WORSE_FACING || worse == WORSE_START_LATER;
    if (!facing_done && b != DAY_NONE && (a == DAY_NONE || b < a)) return "fire date";
    return NULL;
}

/* --- trying and shrinking --------------------------------------------------------------------- */

static const char *try_worse(const struct world *w, enum worse worse, uint64_t seed,
                             struct world *changed)
{
    struct chance chance = {seed};
    world_copy(changed, w);
    if (!make_worse(changed, worse, &chance)) return NULL;
    return never_earlier(w, plan_of(w, 0), plan_of(changed, 1), worse);
}

static const char *same_twice(const struct world *w)
{
    const struct job_plan *a = plan_of(w, 0), *b = plan_of(w, 1);
    if (a->clock_count != b->clock_count) return "two plans of one case differ";
    for (size_t i = 0; i < a->clock_count; i++)
        if (a->clocks[i].crossing_s != b->clocks[i].crossing_s ||
            a->clocks[i].have != b->clocks[i].have)
            return "two plans of one case differ";
    return NULL;
}

static bool still_fails(const struct world *w, int worse, uint64_t seed)
{
    static struct world changed;
    if (worse < 0) return standing(w, plan_of(w, 0)) != NULL;
    return try_worse(w, (enum worse)worse, seed, &changed) != NULL;
}

static void report(struct world *w, int worse, uint64_t seed, const char *said, uint64_t world_seed)
{
    static struct world smaller, changed;
    bool shrunk = true;
    while (shrunk) {
        shrunk = false;
        for (size_t i = w->count; i-- > 0;) {
            world_copy(&smaller, w);
            world_drop(&smaller, i);
            if (!still_fails(&smaller, worse, seed)) continue;
            world_copy(w, &smaller);
            shrunk = true;
        }
    }
    printf("FAIL seed %llu: %s: %s\n", (unsigned long long)world_seed,
           worse < 0 ? "standing" : worse_names[worse], said);
    world_print(w, stdout);
    if (worse < 0) return;
    (void)try_worse(w, (enum worse)worse, seed, &changed);
    printf("and made worse:\n");
    world_print(&changed, stdout);
}

static bool load_zones(struct zone **zones, size_t count)
{
    static const char *const names[] = {"America/Denver",   "America/New_York", "Europe/London",
                                        "Australia/Sydney", "Asia/Kolkata",     "America/Phoenix"};
    for (size_t i = 0; i < count; i++)
        if (zone_load(&zones[i], names[i], NULL) != STATUS_OK) return false;
    return true;
}

int main(int argc, char **argv)
{
    long cases = argc > 1 ? strtol(argv[1], NULL, 10) : 5000;
    uint64_t first = argc > 2 ? strtoull(argv[2], NULL, 10) : 20260101;
    struct zone *zones[6];
    struct faults faults = {0};
    if (rulebook_load_shipped(&rulebook, "modular-masonry", &faults) != STATUS_OK) return 70;
    if (!load_zones(zones, 6)) return 70;
    arenas[0] = arena_new();
    arenas[1] = arena_new();
    static struct world world, changed;
    long failed = 0, tried = 0;
    printf("seeds %llu to %llu\n", (unsigned long long)first,
           (unsigned long long)(first + (uint64_t)cases - 1));
    for (long i = 0; i < cases && failed < 5; i++) {
        uint64_t seed = first + (uint64_t)i;
        world_draw(&world, seed, zones, 6);
        const char *said = standing(&world, plan_of(&world, 0));
        if (said == NULL && i % 16 == 0) said = same_twice(&world);
        int worse = -1;
        struct chance pick = {seed ^ 0x5bd1e995};
        uint64_t change = 0;
        for (int n = 0; n < 3 && said == NULL; n++) {
            worse = chance_below(&pick, WORSE_COUNT);
            change = chance_next(&pick);
            said = try_worse(&world, (enum worse)worse, change, &changed);
            tried++;
        }
        if (said == NULL) continue;
        failed++;
        report(&world, worse, change, said, seed);
    }
    printf("%ld changes for the worse tried\n%ld passed, %ld failed\n", tried, cases - failed,
           failed);
    for (int i = 0; i < 2; i++) arena_free(arenas[i]);
    for (int i = 0; i < 6; i++) zone_free(zones[i]);
    rulebook_free(rulebook);
    return failed > 0;
}
