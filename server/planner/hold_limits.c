/* SPDX-License-Identifier: MIT */
/*
 * Why: what a measure is held against. The rulebook's figures for this job stand beside the kit's
 * own. Order of authority: a listing page that is named rules over practice and code; without a
 * page the kit's figure can only ask for more. Then the owner's word: it may accept the less strict
 * of two figures that are on the table, never a figure of its own.
 */
#include "planner/hold.h"

#include <math.h>

#include "compute/code.h"

#include "base/banned.h"

#define HOLD_SLACK 1e-9
#define IN2_PER_FT2 144.0

/* An opening that nobody measured is taken to be large: the larger figures are asked for. */
static bool opening_fits(const struct job *job, enum opening_size opening)
{
    const double area_ft2 = job->quantities[QUANTITY_OPENING_WIDTH_IN] *
                            job->quantities[QUANTITY_OPENING_HEIGHT_IN] / IN2_PER_FT2;
    const bool large = !(area_ft2 + HOLD_SLACK < CODE_LARGE_OPENING_FT2);
    return opening == OPENING_ANY || (opening == OPENING_FROM_6_FT2) == large;
}

/* Whether figure a asks for more than b; both at least, or both at most. */
static bool stricter(bool at_most, double a, double b)
{
    return at_most ? a < b - HOLD_SLACK : a > b + HOLD_SLACK;
}

static size_t rule_limits(struct check_limit *room, const struct facts *facts,
                          const struct check_rule *rule)
{
    size_t count = 0;
    for (size_t i = 0; i < rule->limit_count; i++) {
        const struct check_limit_rule *limit = &rule->limits[i];
        if (!rulebook_holds(limit->when, limit->when_count, &facts->job->options)) continue;
        if (!opening_fits(facts->job, limit->opening)) continue;
        room[count++] =
            (struct check_limit){.figure = limit->figure,
                                 .at_most = limit->at_most,
                                 .mark = limit->mark,
                                 .source = limit->source,
                                 .basis = limit->mark == MARK_P ? BASIS_PUBLISHED : BASIS_PRACTICE,
                                 .acts = true};
    }
    return count;
}

/* The kit's own least distance; its page is what gives it authority over the others. */
static size_t kit_limit(struct check_limit *room, size_t count, const struct facts *facts,
                        const struct check_rule *rule)
{
    const struct kit *kit = company_kit(facts->company, facts->job->kit_id);
    if (kit == NULL || rule->clearance == CLEARANCE_NONE) return count;
    const double figure = kit->clearances_in[rule->clearance];
    if (isnan(figure)) return count;
    bool least = true; /* stricter than all of them */
    for (size_t i = 0; i < count; i++) {
        if (room[i].at_most) continue;
        if (kit->page != NULL) room[i].acts = false;
        least = least && stricter(false, figure, room[i].figure);
    }
    room[count] = (struct check_limit){.figure = figure,
                                       .mark = MARK_NONE,
                                       .source = kit->page,
                                       .basis = BASIS_LISTING,
                                       .acts = kit->page != NULL || least};
    return count + 1;
}

/* The latest word on a check that accepts one of the figures and names a page. */
static const struct record *accepting(const struct facts *facts, enum check_id check,
                                      const struct check_limit *limits, size_t count)
{
    for (size_t i = facts->count; i-- > 0;) {
        const struct record *r = facts->records[i];
        if (r->kind != RECORD_OVERRIDDEN || r->check != check || r->sheet == NULL) continue;
        for (size_t k = 0; k < count; k++)
            if (fabs(limits[k].figure - r->need) <= HOLD_SLACK) return r;
    }
    return NULL;
}

size_t hold_limits(struct check_limit room[HOLD_LIMITS_MAX], const struct record **accepted,
                   const struct facts *facts, enum check_id check)
{
    const struct check_rule *rule = &facts->rulebook->checks[check];
    *accepted = NULL;
    size_t count = rule_limits(room, facts, rule);
    count = kit_limit(room, count, facts, rule);
    const struct record *record = accepting(facts, check, room, count);
    if (record == NULL) return count;
    bool at_most = false;
    for (size_t k = 0; k < count; k++)
        if (fabs(room[k].figure - record->need) <= HOLD_SLACK) at_most = room[k].at_most;
    for (size_t k = 0; k < count; k++) {
        bool passed_over = room[k].acts && room[k].at_most == at_most &&
                           stricter(at_most, room[k].figure, record->need);
        if (!passed_over) continue;
        room[k].acts = false;
        *accepted = record;
    }
    return count;
}
