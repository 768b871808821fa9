/* SPDX-License-Identifier: MIT */
/*
 * What a task uses up and what it is done with, so that a crew loads the truck once. Small fixed
 * vocabularies instead of sentences: lists of several tasks can be put together without saying a
 * thing twice, and are the same list in both languages. Common practice; none of it is a rule.
 */
#ifndef EMBERWAIT_VIEWS_CREW_LOAD_H
#define EMBERWAIT_VIEWS_CREW_LOAD_H

#include <stdint.h>

#include "model/ids.h"

#define MATERIAL_LIST(X)                                                                           \
    X(CONCRETE, "concrete")                                                                        \
    X(BLOCK, "block")                                                                              \
    X(GROUT, "grout")                                                                              \
    X(STEEL, "steel")                                                                              \
    X(FORMS, "forms")                                                                              \
    X(DECK, "deck")                                                                                \
    X(PROPS, "props")                                                                              \
    X(SLEEVES, "sleeves")                                                                          \
    X(WET_COVER, "wet-cover")                                                                      \
    X(BLANKETS, "blankets")                                                                        \
    X(TARP, "tarp")                                                                                \
    X(UNIT_PIECES, "unit-pieces")                                                                  \
    X(ADHESIVE, "adhesive")                                                                        \
    X(ANGLE, "angle")                                                                              \
    X(DAMPER, "damper")                                                                            \
    X(CHIMNEY_BLOCK, "chimney-block")                                                              \
    X(CAP, "cap")                                                                                  \
    X(FIREBRICK, "firebrick")                                                                      \
    X(REFRACTORY, "refractory")                                                                    \
    X(SPACERS, "spacers")                                                                          \
    X(SPONGE, "sponge")                                                                            \
    X(TAG, "tag")                                                                                  \
    X(HEARTH, "hearth")                                                                            \
    X(FIRE_SHEET, "fire-sheet")                                                                    \
    X(KINDLING, "kindling")
#define TOOL_LIST(X)                                                                               \
    X(LEVEL, "level")                                                                              \
    X(TAPE, "tape")                                                                                \
    X(STRING, "string")                                                                            \
    X(PROBE, "probe")                                                                              \
    X(TROWELS, "trowels")                                                                          \
    X(MIXER, "mixer")                                                                              \
    X(MALLET, "mallet")                                                                            \
    X(SAW, "saw")                                                                                  \
    X(FLOATS, "floats")                                                                            \
    X(PLIERS, "pliers")                                                                            \
    X(BAR, "bar")                                                                                  \
    X(HOIST, "hoist")                                                                              \
    X(SCAFFOLD, "scaffold")                                                                        \
    X(ROPE_BAG, "rope-bag")                                                                        \
    X(LIGHT, "light")                                                                              \
    X(GLOVES, "gloves")

#define CREW_LOAD_MATERIAL(name, id) MATERIAL_##name,
enum material { MATERIAL_LIST(CREW_LOAD_MATERIAL) MATERIAL_COUNT };
#define CREW_LOAD_TOOL(name, id) TOOL_##name,
enum tool { TOOL_LIST(CREW_LOAD_TOOL) TOOL_COUNT };
extern const struct id_table material_ids, tool_ids;

/** What a task uses up: bit n is material n. */
uint64_t crew_load_materials(enum task task);
/** What a task is done with: bit n is tool n. */
uint64_t crew_load_tools(enum task task);

#endif
