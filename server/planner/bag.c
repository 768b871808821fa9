/* SPDX-License-Identifier: MIT */
/*
 * Why: see bag.h. A lot that was damp or frozen once stays so: nobody can see that a bag has become
 * good again. A lot without a date, or without months, is never out of date; the card says what is
 * known, and nothing is guessed.
 */
#include "planner/bag.h"

#include <math.h>
#include <string.h>

#include "compute/civil.h"

#include "base/banned.h"

static bool is_work(const struct record *r)
{
    return r->kind == RECORD_DONE || r->kind == RECORD_STARTED;
}

static bool same_lot(const struct record *a, const struct record *b)
{
    return a->lot != NULL && b->lot != NULL && strcmp(a->lot, b->lot) == 0;
}

/* The latest card of a lot. It may be written down after the work: it is the same bag. */
static const struct record *card_of(const struct facts *facts, const struct record *named)
{
    for (size_t i = facts->count; i-- > 0;) {
        const struct record *r = facts->records[i];
        if (r->kind == RECORD_BAG && same_lot(r, named)) return r;
    }
    return NULL;
}

const struct record *bag_in_use(const struct facts *facts, int64_t at_s)
{
    const struct record *bag = NULL, *named = NULL;
    for (size_t i = 0; i < facts->count && facts->records[i]->at_s <= at_s; i++) {
        const struct record *r = facts->records[i];
        if (r->kind == RECORD_BAG) bag = r;
        if (r->at_s == at_s && is_work(r) && r->lot != NULL) named = r;
    }
    return named == NULL ? bag : card_of(facts, named);
}

double bag_minimum_degc(const struct facts *facts, const struct record *card)
{
    const struct kit *kit = company_kit(facts->company, facts->job->kit_id);
    double least_degc = rulebook_setting(facts->rulebook, SETTING_MORTAR_STALL_DEGC);
    if (card != NULL && !isnan(card->bag_min_degc)) least_degc = card->bag_min_degc;
    return kit == NULL ? least_degc : fmax(least_degc, kit->bag_min_degc); /* NAN: passed over */
}

int32_t bag_expires_day(const struct record *card)
{
    enum { MONTHS = 12, MONTH_DAYS = 30 };
    if (card == NULL || card->made_on == DAY_NONE || isnan(card->months)) return DAY_NONE;
    int year = 0, month = 0, day = 0;
    civil_date(card->made_on, &year, &month, &day);
    const double whole = floor(card->months + 1e-9);
    const int months = month - 1 + (int)whole;
    year += months / MONTHS;
    month = months % MONTHS + 1;
    while (!civil_date_valid(year, month, day)) day--;
    return civil_day(year, month, day) + (int32_t)floor((card->months - whole) * MONTH_DAYS + 1e-9);
}

enum bag_state bag_state(const struct facts *facts, const struct record *card, int32_t day,
                         int64_t at_s)
{
    enum bag_condition worst = card->condition;
    for (size_t i = 0; i < facts->count && facts->records[i]->at_s <= at_s; i++) {
        const struct record *r = facts->records[i];
        if (r->kind == RECORD_BAG && same_lot(r, card) && r->condition > worst)
            worst = r->condition;
    }
    if (worst == BAG_FROZEN) return BAG_STATE_FROZEN;
    if (worst == BAG_DAMP) return BAG_STATE_DAMP;
    const int32_t last = bag_expires_day(card);
    return last != DAY_NONE && day > last ? BAG_STATE_OUT_OF_DATE : BAG_STATE_USABLE;
}

const struct record *bag_refused(const struct facts *facts, enum bag_state *state)
{
    const int32_t today = civil_day_of(facts->job->zone, facts->now_s);
    const struct record *refused = NULL;
    for (size_t i = facts->count; i-- > 0;) {
        const struct record *r = facts->records[i];
        if (r->kind != RECORD_BAG || card_of(facts, r) != r) continue;
        enum bag_state one = bag_state(facts, r, today, facts->now_s);
        if (one == BAG_STATE_USABLE) return NULL;
        if (refused != NULL) continue;
        refused = r;
        *state = one;
    }
    return refused;
}

/* --- cautions -------------------------------------------------------------------------------- */

static struct caution about(enum caution_id id, enum task task, const struct record *card,
                            enum bag_state state, int64_t at_s)
{
    return (struct caution){.caution = id,
                            .part = PART_NONE,
                            .task = task,
                            .at_s = at_s,
                            .value = NAN,
                            .quantity = QUANTITY_NONE,
                            .record = card,
                            .clock = CLOCK_NONE,
                            .check = CHECK_NONE,
                            .bag = state};
}

static size_t add(struct caution *room, size_t capacity, size_t count, struct caution caution)
{
    if (count < capacity) room[count++] = caution;
    return count;
}

size_t bag_cautions(struct caution *room, size_t capacity, const struct facts *facts)
{
    size_t count = 0;
    const int32_t today = civil_day_of(facts->job->zone, facts->now_s);
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->kind == RECORD_BAG && card_of(facts, r) == r) {
            enum bag_state state = bag_state(facts, r, today, facts->now_s);
            if (state != BAG_STATE_USABLE)
                count = add(room, capacity, count,
                            about(CAUTION_BAG_REFUSED, TASK_NONE, r, state, r->at_s));
        }
        if (r->kind != RECORD_DONE || r->task == TASK_NONE ||
            !facts->rulebook->tasks[r->task].mortar)
            continue;
        const struct record *card = r->lot != NULL ? card_of(facts, r) : bag_in_use(facts, r->at_s);
        if (card == NULL) continue;
        enum bag_state used =
            bag_state(facts, card, civil_day_of(facts->job->zone, r->at_s), r->at_s);
        if (used != BAG_STATE_USABLE)
            count = add(room, capacity, count,
                        about(CAUTION_BAG_USED_REFUSED, r->task, card, used, r->at_s));
    }
    return count;
}

/* --- the company's lots ------------------------------------------------------------------------
 */

/* The last planned start of mortar work of a job; INSTANT_NONE: no date; `needs`: there is some. */
static int64_t last_mortar_s(const struct job_plan *job, const struct rulebook *rulebook,
                             bool *needs)
{
    int64_t last_s = INSTANT_NONE;
    *needs = false;
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &job->tasks[t];
        bool over = task->state == TASK_STATE_NOT_NEEDED || task->state == TASK_STATE_DONE ||
                    task->state == TASK_STATE_PASSED || task->held;
        if (!rulebook->tasks[t].mortar || over) continue;
        *needs = true;
        if (task->start_s > last_s) last_s = task->start_s;
    }
    return last_s;
}

/* Room for a lot, or the lot that is there. */
static struct bag_lot *lot_of(struct bag_lot *lots, size_t *count, const struct record *card)
{
    for (size_t i = 0; i < *count; i++)
        if (same_lot(lots[i].card, card)) return &lots[i];
    lots[*count] = (struct bag_lot){.card = card, .outlives = true};
    return &lots[(*count)++];
}

static void note_lot(struct bag_lot *lot, const struct record *card, const struct job_plan *job,
                     int64_t last_s, int64_t now_s, struct arena *arena, size_t jobs)
{
    const struct job *the_job = job->job;
    const int32_t today = civil_day_of(the_job->zone, now_s);
    const int32_t last_day = bag_expires_day(card);
    if (lot->jobs == NULL) lot->jobs = ARENA_TAKE(arena, jobs, const struct job *);
    if (lot->jobs == NULL) return;
    if (lot->job_count == 0 || lot->jobs[lot->job_count - 1] != the_job)
        lot->jobs[lot->job_count++] = the_job;
    if (card->at_s >= lot->card->at_s) lot->card = card;
    if (card->condition == BAG_FROZEN)
        lot->state = BAG_STATE_FROZEN;
    else if (card->condition == BAG_DAMP && lot->state != BAG_STATE_FROZEN)
        lot->state = BAG_STATE_DAMP;
    if (last_day != DAY_NONE && last_s != INSTANT_NONE &&
        civil_day_of(the_job->zone, last_s) > last_day)
        lot->outlives = false;
    lot->expires_day = bag_expires_day(lot->card);
    lot->age_days = lot->card->made_on == DAY_NONE ? DAY_NONE : today - lot->card->made_on;
    bool out = lot->expires_day != DAY_NONE && today > lot->expires_day;
    if (out && lot->state == BAG_STATE_USABLE) lot->state = BAG_STATE_OUT_OF_DATE;
}

static bool runs_out_before(const struct bag_lot *a, const struct bag_lot *b)
{
    if (a->expires_day != b->expires_day) {
        if (a->expires_day == DAY_NONE || b->expires_day == DAY_NONE)
            return b->expires_day == DAY_NONE;
        return a->expires_day < b->expires_day;
    }
    return strcmp(a->card->lot, b->card->lot) < 0;
}

static void sort_lots(struct bag_lot *lots, size_t count)
{
    for (size_t i = 1; i < count; i++) {
        struct bag_lot moved = lots[i];
        size_t place = i;
        for (; place > 0 && runs_out_before(&moved, &lots[place - 1]); place--)
            lots[place] = lots[place - 1];
        lots[place] = moved;
    }
}

static bool has_card(const struct job *job)
{
    for (size_t i = 0; i < job->record_count; i++) {
        const struct record *r = &job->records[i];
        const struct record *with = r->kind == RECORD_CORRECTED ? r->with : NULL;
        if (r->kind == RECORD_BAG || (with != NULL && with->kind == RECORD_BAG)) return true;
    }
    return false;
}

void bags_find(struct plan *plan, const struct rulebook *rulebook, struct arena *arena)
{
    const int64_t now_s = plan->casefile->now_s;
    size_t cards = 0;
    for (size_t j = 0; j < plan->job_count; j++)
        for (size_t i = 0; i < plan->jobs[j].job->record_count; i++) {
            enum record_kind kind = plan->jobs[j].job->records[i].kind;
            cards += kind == RECORD_BAG || kind == RECORD_CORRECTED; /* its body may be a card */
        }
    struct bag_lot *lots = ARENA_TAKE(arena, cards, struct bag_lot);
    if (cards == 0 || lots == NULL) return;
    size_t count = 0;
    for (size_t j = 0; j < plan->job_count; j++) {
        const struct job_plan *job = &plan->jobs[j];
        struct facts facts;
        bool needs = false;
        const int64_t last_s = last_mortar_s(job, rulebook, &needs);
        if (!needs || !has_card(job->job)) continue;
        facts_gather(&facts, job->job, &plan->casefile->company, rulebook, now_s, arena);
        for (size_t i = 0; i < facts.count; i++) {
            const struct record *card = facts.records[i];
            if (card->kind != RECORD_BAG || card->lot == NULL) continue;
            note_lot(lot_of(lots, &count, card), card, job, last_s, now_s, arena, plan->job_count);
        }
    }
    sort_lots(lots, count);
    plan->bags = lots;
    plan->bag_count = count;
}
