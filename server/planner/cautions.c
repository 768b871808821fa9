/* SPDX-License-Identifier: MIT */
/* Why: see cautions.h. Each caution is one function, so that its test can read like its sentence.
 */
#include "planner/cautions.h"

#include <math.h>

#include "compute/civil.h"
#include "planner/bag.h"

enum { HOUR_S = 3600 };
#define SLACK_DEGC 1e-9

void cautions_add(struct caution_list *list, struct caution caution)
{
    if (list->items == NULL || list->count >= CAUTIONS_ROOM) return;
    list->items[list->count++] = caution;
}

static struct caution about(enum caution_id id, enum part part, int64_t at_s, double value)
{
    return (struct caution){.caution = id,
                            .part = part,
                            .task = TASK_NONE,
                            .at_s = at_s,
                            .value = value,
                            .quantity = QUANTITY_NONE};
}

static const struct clock_plan *find(const struct job_plan *plan, enum clock_id id)
{
    for (size_t i = 0; i < plan->clock_count; i++)
        if (plan->clocks[i].clock == id) return &plan->clocks[i];
    return NULL;
}

/* Frost is forecast before the first-frost limit is reached: the hour, and how cold. */
static void frost_ahead(struct caution_list *list, struct clocks *clocks,
                        const struct job_plan *plan)
{
    const struct clock_plan *clock = find(plan, CLOCK_PAD_FIRST_FROST);
    if (clock == NULL || clock->state != CLOCK_STATE_RUNNING) return;
    const struct facts *facts = clocks->facts;
    const struct history *history = clock_history(clocks, PART_PAD);
    const double frost_degc = rulebook_setting(facts->rulebook, SETTING_FROST_DEGC);
    int64_t until_s = clock->crossing_s == INSTANT_NONE ? history->settled_s : clock->crossing_s;
    struct history_walk walk;
    struct piece piece;
    history_walk_begin(&walk, history, facts->now_s, until_s);
    while (history_walk_next(&walk, &piece)) {
        if (!(piece.frost_degc < frost_degc - SLACK_DEGC)) continue;
        cautions_add(list, about(CAUTION_FROST_AHEAD, PART_PAD, piece.from_s, piece.frost_degc));
        return;
    }
}

static void stopped(struct caution_list *list, const struct job_plan *plan)
{
    const struct clock_plan *pad = find(plan, CLOCK_PAD_FIRST_FROST);
    if (pad != NULL && pad->state == CLOCK_STATE_CHECK_IT)
        cautions_add(
            list, about(pad->stopped_by_soaking ? CAUTION_SOAKED_GREEN_PAD : CAUTION_FROZE_TOO_SOON,
                        PART_PAD, pad->stopped_s, NAN));
    const struct clock_plan *joints = find(plan, CLOCK_JOINTS_EARLY);
    if (joints != NULL && joints->state == CLOCK_STATE_CHECK_IT)
        cautions_add(list, about(CAUTION_BELOW_BAG_MINIMUM, PART_JOINTS, joints->stopped_s, NAN));
}

/* Which parts matter now: those of a clock that is still running. */
static bool part_runs(const struct job_plan *plan, enum part part)
{
    for (size_t i = 0; i < plan->clock_count; i++)
        if (plan->clocks[i].part == part && plan->clocks[i].state == CLOCK_STATE_RUNNING)
            return true;
    return false;
}

static void readings(struct caution_list *list, struct clocks *clocks, const struct job_plan *plan)
{
    const double hot_degc = rulebook_setting(clocks->facts->rulebook, SETTING_HOT_DEGC);
    for (int p = 0; p < PART_COUNT; p++) {
        if (!clocks->built[p]) continue;
        const struct history *h = &clocks->histories[p];
        if (h->disagree != NULL)
            cautions_add(list, about(CAUTION_READINGS_DISAGREE, (enum part)p, h->disagree->at_s,
                                     h->disagree_degc));
        if (!part_runs(plan, (enum part)p)) continue;
        if (h->never_read)
            cautions_add(list, about(CAUTION_NO_READING, (enum part)p, INSTANT_NONE, NAN));
        if (h->last_reading != NULL && h->last_reading->temp_degc > hot_degc + SLACK_DEGC)
            cautions_add(list, about(CAUTION_HOT, (enum part)p, h->last_reading->at_s,
                                     h->last_reading->temp_degc));
    }
}

/* Unread for long in a place that nobody heats: somebody should look. */
static void unread(struct caution_list *list, const struct clocks *clocks,
                   const struct job_plan *plan)
{
    const struct facts *facts = clocks->facts;
    const int64_t long_s =
        (int64_t)(rulebook_setting(facts->rulebook, SETTING_DAY_LOOK_AFTER_H) * HOUR_S);
    for (size_t i = 0; i < plan->clock_count; i++) {
        const struct clock_plan *c = &plan->clocks[i];
        if (c->state != CLOCK_STATE_RUNNING || c->no_reading_since_s == INSTANT_NONE) continue;
        if (facts->now_s - c->no_reading_since_s <= long_s) continue;
        cautions_add(list, about(CAUTION_NOT_LOOKED_72_H, c->part, c->no_reading_since_s, NAN));
        return;
    }
}

/* Wet or cold days inside the drying: said, with the day. */
static void drying(struct caution_list *list, const struct facts *facts,
                   const struct job_plan *plan)
{
    const struct clock_plan *dry = find(plan, CLOCK_UNIT_DRY_CURE);
    if (dry == NULL || dry->state == CLOCK_STATE_OPEN) return;
    const double frost_degc = rulebook_setting(facts->rulebook, SETTING_FROST_DEGC);
    const int32_t today = civil_day_of(facts->job->zone, facts->now_s);
    const double early = rulebook_setting(facts->rulebook, SETTING_DAY_EARLY_DAYS);
    double counted = 0;
    for (size_t i = 0; i < dry->day_count && dry->days[i].day < today; i++) {
        const struct counted_day *day = &dry->days[i];
        if (counted < early && day->min_degc < frost_degc - SLACK_DEGC) {
            cautions_add(list, about(CAUTION_COLD_FIRST_DAYS, PART_UNIT,
                                     civil_day_start_s(facts->job->zone, day->day), day->min_degc));
            break;
        }
        counted += day->credit;
    }
    const struct record *wet = NULL;
    for (size_t i = facts->count; i-- > 0 && wet == NULL;) {
        const struct record *r = facts->records[i];
        if (r->kind == RECORD_SOAKED && r->part == PART_UNIT) wet = r;
    }
    if (wet != NULL) cautions_add(list, about(CAUTION_SOAKED_UNIT, PART_UNIT, wet->at_s, NAN));
    if ((plan->fire.blocked_by & FIRE_BLOCK_LIT) != 0)
        cautions_add(list, about(CAUTION_LIT_EARLY, PART_UNIT,
                                 facts_latest(facts, RECORD_LIT, TASK_NONE)->at_s, NAN));
    if ((plan->fire.blocked_by & FIRE_BLOCK_FACING) != 0)
        cautions_add(list, about(CAUTION_FACING_OPEN, PART_UNIT, INSTANT_NONE, NAN));
}

static void standing(struct caution_list *list, const struct facts *facts,
                     const struct job_plan *plan)
{
    for (size_t i = 0; i < plan->clock_count; i++) {
        const struct clock_plan *clock = &plan->clocks[i];
        bool said = i > 0 && plan->clocks[i - 1].accepted != NULL &&
                    plan->clocks[i - 1].part == clock->part; /* once a part */
        if (clock->accepted != NULL && !said)
            cautions_add(list, about(CAUTION_ACCEPTED_WITHOUT_READINGS, clock->part,
                                     clock->accepted->at_s, NAN));
        struct clock_terms terms;
        clock_terms_find(&terms, facts, clock->clock);
        if (terms.kit_shorter) {
            struct caution shorter = about(CAUTION_KIT_SHORTER, PART_NONE, INSTANT_NONE, NAN);
            shorter.clock = clock->clock;
            cautions_add(list, shorter);
        }
        if (terms.held_to_floor)
            cautions_add(list, about(CAUTION_ENGINEER_HELD_TO_FLOOR, clock->part, INSTANT_NONE,
                                     terms.floor_h.value));
    }
}

/* What the card of the lot in the young joints asks for, and what they had: too warm when it was
 * used, too cold before the time on the card was over. */
static void bag_card(struct caution_list *list, struct clocks *clocks, const struct job_plan *plan)
{
    const struct clock_plan *joints = find(plan, CLOCK_JOINTS_EARLY);
    const struct facts *facts = clocks->facts;
    const struct record *card = joints == NULL ? NULL : bag_in_use(facts, joints->start_s);
    if (card == NULL) return;
    const double least_degc = bag_minimum_degc(facts, card);
    const double kept_h = isnan(card->bag_min_for_h) ? 0 : card->bag_min_for_h;
    int64_t until_s = joints->start_s + (int64_t)(kept_h * HOUR_S);
    if (until_s > facts->now_s) until_s = facts->now_s;
    struct history_walk walk;
    struct piece piece;
    history_walk_begin(&walk, clock_history(clocks, PART_JOINTS), joints->start_s,
                       until_s > joints->start_s ? until_s : joints->start_s + 1);
    bool warm = false, cold = false;
    while (!cold && history_walk_next(&walk, &piece)) {
        struct caution said =
            about(CAUTION_BAG_TOO_WARM, PART_JOINTS, piece.from_s, piece.temp_degc);
        said.record = card;
        bool first = piece.from_s == joints->start_s;
        if (first && !warm && piece.temp_degc > card->bag_max_degc + SLACK_DEGC) {
            warm = true;
            cautions_add(list, said);
        }
        cold = kept_h > 0 && piece.temp_degc < least_degc - SLACK_DEGC;
        said.caution = CAUTION_BAG_NOT_KEPT;
        if (cold) cautions_add(list, said);
    }
}

/* A job of a kit whose sheet was taken off the company's file: nothing lengthens, and that is said.
 */
static void kit(struct caution_list *list, const struct facts *facts)
{
    const char *id = facts->job->kit_id;
    if (id != NULL && company_kit(facts->company, id) == NULL)
        cautions_add(list, about(CAUTION_KIT_UNKNOWN, PART_NONE, INSTANT_NONE, NAN));
}

static void station(struct caution_list *list, const struct facts *facts)
{
    const struct station *s = facts->job->station;
    if (s == NULL) {
        if (facts->job->options.place != PLACE_INDOOR)
            cautions_add(list, about(CAUTION_NO_STATION, PART_NONE, INSTANT_NONE, NAN));
        return;
    }
    double old_h = rulebook_setting(facts->rulebook, SETTING_FORECAST_OLD_H);
    if (s->forecast_made_s != INSTANT_NONE &&
        (double)(facts->now_s - s->forecast_made_s) > old_h * HOUR_S)
        cautions_add(list, about(CAUTION_FORECAST_OLD, PART_NONE, s->forecast_made_s, NAN));
    double years = rulebook_setting(facts->rulebook, SETTING_OUTLOOK_YEARS);
    if ((double)s->history_count < years)
        cautions_add(list,
                     about(CAUTION_NO_OUTLOOK, PART_NONE, INSTANT_NONE, (double)s->history_count));
}

void cautions_find(struct caution_list *list, struct clocks *clocks, const struct job_plan *plan)
{
    frost_ahead(list, clocks, plan);
    stopped(list, plan);
    readings(list, clocks, plan);
    unread(list, clocks, plan);
    drying(list, clocks->facts, plan);
    standing(list, clocks->facts, plan);
    bag_card(list, clocks, plan);
    kit(list, clocks->facts);
    station(list, clocks->facts);
}
