/* SPDX-License-Identifier: MIT */
/*
 * Bags of mortar: which card rules at an instant, until when a lot may be used, and which mortar is
 * not to be used at all. A clock, a gate and a caution all ask here, so that none of them reads
 * another bag than the others.
 */
#ifndef EMBERWAIT_PLANNER_BAG_H
#define EMBERWAIT_PLANNER_BAG_H

#include "model/plan.h"
#include "planner/facts.h"

/**
 * The card of the lot in use at an instant: of the lot that work recorded at that very instant
 * names, else the latest card until then. NULL: no card (of that lot) is on record.
 */
const struct record *bag_in_use(const struct facts *facts, int64_t at_s);

/** Least temperature of mortar, degC: the card's, without one the rulebook's; a kit's sheet may ask
 *  for more, never for less. `card` may be NULL. */
double bag_minimum_degc(const struct facts *facts, const struct record *card);

/** The last civil day on which a lot may be used: made on, and the months it keeps. A month that is
 *  too short ends on its last day; a part of a month counts 30 days to the month, rounded down.
 *  DAY_NONE: the card does not say. */
int32_t bag_expires_day(const struct record *card);

/**
 * Whether a lot may be used on a day.
 *
 * @param[in] facts  The job.
 * @param[in] card   A card of the lot. Whether it was ever damp or frozen is asked of every card.
 * @param[in] day    Civil day of the job.
 * @param[in] at_s   Cards after it are not known yet.
 */
enum bag_state bag_state(const struct facts *facts, const struct record *card, int32_t day,
                         int64_t at_s);

/** The bag that keeps mortar work from starting: there are cards, and no lot may be used today.
 *  NULL: nothing does. */
const struct record *bag_refused(const struct facts *facts, enum bag_state *state);

/** Mortar that is not to be used, and mortar that was used although it was not to be; returns how
 *  many cautions were put into room[capacity]. */
size_t bag_cautions(struct caution *room, size_t capacity, const struct facts *facts);

/** Fill the lots of all jobs that still need mortar; the one that runs out first comes first. */
void bags_find(struct plan *plan, const struct rulebook *rulebook, struct arena *arena);

#endif
