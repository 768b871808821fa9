/* SPDX-License-Identifier: MIT */
/* Why: the order of the steps; see planner.h. Each step reads what the ones before it found. */
#include "planner/planner.h"

#include <math.h>

#include "planner/bag.h"
#include "planner/cautions.h"
#include "planner/clock.h"
#include "planner/clock_marks.h"
#include "planner/crews.h"
#include "planner/facts.h"
#include "planner/fire.h"
#include "planner/fire_steps.h"
#include "planner/gate.h"
#include "planner/gate_list.h"
#include "planner/history.h"
#include "planner/hold.h"
#include "planner/lists.h"
#include "planner/network.h"
#include "planner/network_year.h"
#include "planner/outlook.h"
#include "planner/strip.h"

enum { DAY_S = 86400 };

/* First instant any clock of the job can ask the weather for: rain before day 0 passes on to day 1.
 */
static int64_t first_asked_s(const struct facts *facts)
{
    int64_t first_s = facts->now_s;
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        bool begins = false;
        for (int c = 0; c < CLOCK_COUNT && !begins; c++)
            begins = clock_is_start(&facts->rulebook->clocks[c], r);
        if (!begins) continue;
        first_s = r->at_s < first_s ? r->at_s : first_s;
        break; /* records ascend */
    }
    const double back_days = rulebook_setting(facts->rulebook, SETTING_DAY_UNCAPPED_DAYS);
    return first_s - ((int64_t)back_days + 3) * DAY_S; /* and the days' own ends, in any zone */
}

static void note_parts(struct job_plan *out, const struct clocks *clocks)
{
    for (int p = 0; p < PART_COUNT; p++) {
        struct part_plan *part = &out->parts[p];
        part->part = (enum part)p;
        part->temp_now_degc = NAN;
        if (!clocks->built[p]) continue;
        const struct history *history = &clocks->histories[p];
        struct history_walk walk;
        struct piece piece;
        history_walk_begin(&walk, history, history->now_s, history->now_s + 1);
        part->used = true;
        part->last_reading = history->last_reading;
        part->place = history->place;
        if (history_walk_next(&walk, &piece)) part->temp_now_degc = piece.temp_degc;
    }
}

enum status planner_job(struct job_plan *out, const struct job *job, const struct company *company,
                        const struct rulebook *rulebook, int64_t now_s, struct arena *arena)
{
    struct past_cache cache = {.arena = arena};
    return planner_job_sharing(out, job, company, rulebook, now_s, arena, &cache);
}

enum status planner_job_sharing(struct job_plan *out, const struct job *job,
                                const struct company *company, const struct rulebook *rulebook,
                                int64_t now_s, struct arena *arena, struct past_cache *cache)
{
    *out = (struct job_plan){.job = job};
    struct facts *facts = ARENA_TAKE(arena, 1, struct facts);
    struct clocks *clocks = ARENA_TAKE(arena, 1, struct clocks);
    struct outlook *outlook = ARENA_TAKE(arena, 1, struct outlook);
    if (facts == NULL || clocks == NULL || outlook == NULL) return STATUS_LIMIT;
    facts_gather(facts, job, company, rulebook, now_s, arena);
    clocks->facts = facts;
    clocks->plans = ARENA_TAKE(arena, CLOCK_COUNT, struct clock_plan);
    struct caution_list cautions = {ARENA_TAKE(arena, CAUTIONS_ROOM, struct caution), 0};
    history_weather(&clocks->weather, facts, first_asked_s(facts));
    clock_set_all(clocks);
    clock_days_all(clocks, out);
    out->clocks = clocks->plans;
    out->clock_count = clocks->count;
    clock_marks(out, clocks);
    fire_plan_find(out, facts);
    fire_steps_find(out, clocks);
    outlook_find(outlook, out, clocks->plans, clocks, cache);
    cautions_find(&cautions, clocks, out);
    out->cautions = cautions.items;
    out->caution_count = cautions.count;
    struct gates *gates = ARENA_TAKE(arena, 1, struct gates);
    if (gates == NULL) return STATUS_LIMIT;
    gates_begin(gates, facts, clocks);
    facts->gates = gates;
    network_plan(out, facts);
    clock_marks_tasks(out, facts->now_s);
    cautions.count += network_cautions(cautions.items + cautions.count,
                                       CAUTIONS_ROOM - cautions.count, out, facts);
    cautions.count +=
        hold_cautions(cautions.items + cautions.count, CAUTIONS_ROOM - cautions.count, out, facts);
    cautions.count +=
        bag_cautions(cautions.items + cautions.count, CAUTIONS_ROOM - cautions.count, facts);
    out->caution_count = cautions.count;
    gate_lists(out, facts);
    note_parts(out, clocks);
    network_years(out, facts, outlook);
    return arena_failed(arena) ? STATUS_LIMIT : STATUS_OK;
}

enum status planner_pictures(struct job_plan *out, const struct company *company,
                             const struct rulebook *rulebook, int64_t now_s, struct arena *arena)
{
    struct facts facts;
    struct clocks clocks = {.facts = &facts};
    struct job_plan again = {.job = out->job};
    facts_gather(&facts, out->job, company, rulebook, now_s, arena);
    clocks.plans = ARENA_TAKE(arena, CLOCK_COUNT, struct clock_plan);
    if (clocks.plans == NULL) return STATUS_LIMIT;
    history_weather(&clocks.weather, &facts, first_asked_s(&facts));
    clock_set_all(&clocks);
    clock_days_all(&clocks, &again);
    strip_fill(out, &clocks);
    return arena_failed(arena) ? STATUS_LIMIT : STATUS_OK;
}

enum status planner_run(const struct plan **out, const struct casefile *casefile,
                        const struct rulebook *rulebook, struct arena *arena)
{
    *out = NULL;
    struct plan *plan = ARENA_TAKE(arena, 1, struct plan);
    struct job_plan *jobs = ARENA_TAKE(arena, casefile->job_count, struct job_plan);
    struct crew_plan *crews = ARENA_TAKE(arena, casefile->company.crew_count, struct crew_plan);
    if (plan == NULL || jobs == NULL || crews == NULL) return STATUS_LIMIT;
    struct past_cache cache = {.arena = arena,
                               .keeps_sums = casefile->job_count >= PAST_SHARING_JOBS};
    for (size_t i = 0; i < casefile->job_count; i++) {
        enum status status = planner_job_sharing(&jobs[i], &casefile->jobs[i], &casefile->company,
                                                 rulebook, casefile->now_s, arena, &cache);
        if (status != STATUS_OK) return status;
    }
    for (size_t i = 0; i < casefile->company.crew_count; i++)
        crews[i].crew = &casefile->company.crews[i];
    *plan = (struct plan){.casefile = casefile,
                          .jobs = jobs,
                          .job_count = casefile->job_count,
                          .crews = crews,
                          .crew_count = casefile->company.crew_count};
    crews_propose(plan, crews, jobs, rulebook, arena);
    gate_lists_crews(jobs, casefile->job_count, crews, casefile->company.crew_count);
    lists_make(plan, rulebook, arena);
    bags_find(plan, rulebook, arena);
    *out = plan;
    return STATUS_OK;
}
