/* SPDX-License-Identifier: MIT */
/*
 * The planner answers structures; here they become sentences, in either language, from one word
 * list, so that a figure can never differ between languages. Plain text: whoever puts it into a
 * page escapes it. Degrees are Fahrenheit on every screen. Nothing here says that anything is
 * allowed, and nothing speaks of strength.
 */
#ifndef EMBERWAIT_VIEWS_SAYS_H
#define EMBERWAIT_VIEWS_SAYS_H

#include "base/text.h"
#include "model/plan.h"
#include "views/when.h"

/** A temperature as screens say it, "44°F"; empty for NAN. */
struct phrase says_degrees(double temp_degc);
/** A figure with at most one decimal, cut down, never up: 47.96 is "47.9", 27.0 is "27". */
struct phrase says_figure(double value);
/** A figure of a check with its unit, inches as a carpenter writes them: "1 1/4 in."; "": NAN. */
struct phrase says_measure(const struct words *words, double value, enum check_unit unit);

/** "Opens Tue 6 am: pad, build on it; 27 of 48 warm hours; at least 48 h". */
void says_reason(struct text *out, const struct when *when, const struct reason *reason);
/** The standing of a reason's number: "house rule", "published, source: astm-c1074"; or nothing. */
void says_standing(struct text *out, const struct when *when, enum mark mark, const char *source);
/** "No reading since Sat 6 am; those hours count nothing." with the part before it. */
void says_caution(struct text *out, const struct when *when, const struct caution *caution);
/** All assumptions of a clock, joined by "; ". Nothing when there is none. */
void says_assumes(struct text *out, const struct when *when, const struct clock_plan *clock);
/** One assumption of a clock. */
void says_assume(struct text *out, const struct when *when, const struct clock_plan *clock,
                 enum assume assume);
/** "rests on an old forecast, made Tue 6 am (30 h ago)". */
void says_forecast_old(struct text *out, const struct when *when, int64_t made_s);
/** A difference of temperature without its sign, as screens say it: "5°F". */
struct phrase says_difference(double difference_degc);
/** Why a day counted as it did: "half: cool". */
const char *says_day_reason(const struct words *words, enum day_reason reason);
/** A task's state in words. */
const char *says_state(const struct words *words, enum task_state state);
/** Every reason the first fire has no date, each a sentence, one after the other. */
void says_fire_blocks(struct text *out, const struct words *words, unsigned blocked_by);
/** "27 of 48 warm hours". Floors `have`, so that 47.9 never reads as 48. */
void says_have_need(struct text *out, const struct words *words, double have, double need,
                    enum unit unit);

#endif
