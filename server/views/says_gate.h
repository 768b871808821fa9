/* SPDX-License-Identifier: MIT */
/*
 * The weather's figures as sentences: what closes a gate, and what a measure is asked for by. A
 * figure is shown with as many decimals as it takes to stand apart from its limit.
 */
#ifndef EMBERWAIT_VIEWS_SAYS_GATE_H
#define EMBERWAIT_VIEWS_SAYS_GATE_H

#include "model/gate.h"
#include "views/says.h"

/** A figure with its unit: "38.5°F", "24 mph", "10:00" of the day. Empty: not known. */
struct phrase says_gate_value(const struct words *words, const struct gate_figure *figure,
                              double value);

/** "gusts 31 mph, limit 25 mph"; nothing when no rule decides. */
void says_gate_figure(struct text *out, const struct words *words,
                      const struct gate_figure *figure);

/** "Blankets on the truck before the pour (night low 31°F, under 40°F)". */
void says_gate_measure(struct text *out, const struct words *words,
                       const struct gate_measure *measure);

#endif
