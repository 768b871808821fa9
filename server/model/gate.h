/* SPDX-License-Identifier: MIT */
/*
 * What a weather gate says, and the lists made of it: which hours are closed to a kind of work and
 * by which figure; what has to be done so that an hour counts as open; what is due before the
 * night; whether a pad can be poured; which halves of crew days are lost. Figures are in the unit
 * they are spoken in (degF, mph, inches), so that the sentence, the JSON and the threshold are one
 * number.
 */
#ifndef EMBERWAIT_MODEL_GATE_H
#define EMBERWAIT_MODEL_GATE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/ids.h"

/** How an hour stands, best last but one: a list that a monotone rule can take the worst of. */
#define GATE_STATE_LIST(X)                                                                         \
    X(UNKNOWN, "unknown")      /* no figure is known: such an hour never holds work back */        \
    X(OPEN, "open")            /* nothing against it in the figures known */                       \
    X(MEASURE, "with-measure") /* open if the measures named are taken */                          \
    X(CLOSED, "closed")
#define GATE_ENUM_STATE(name, id) GATE_##name,
enum gate_state { GATE_STATE_LIST(GATE_ENUM_STATE) GATE_STATE_COUNT };
extern const struct id_table gate_state_ids;

/**
 * The rules of the gates. Each is the setting of that id; `bag.minimum` is the card of the lot in
 * use (without a card the setting mortar.stall) and `gate.look` asks the calendar.
 */
#define GATE_RULE_LIST(X)                                                                          \
    X(FROST, "frost.below")                                                                        \
    X(ICE, "gate.ice")                                                                             \
    X(RAIN, "gate.rain")                                                                           \
    X(DRY, "gate.dry")                                                                             \
    X(GUST, "gate.gust")                                                                           \
    X(SCAFFOLD, "gate.scaffold-gust")                                                              \
    X(COLD, "gate.cold")                                                                           \
    X(BAG, "bag.minimum")                                                                          \
    X(LAYOUT, "gate.layout-cold")                                                                  \
    X(STRIP, "gate.strip-cold")                                                                    \
    X(POUR_RAIN, "gate.pour-rain")                                                                 \
    X(POUR_KEEP, "gate.pour-keep")                                                                 \
    X(POUR_COLD, "gate.pour-cold")                                                                 \
    X(POUR_PLACED, "gate.pour-placed")                                                             \
    X(POUR_BEFORE, "gate.pour-before")                                                             \
    X(LOOK, "gate.look")                                                                           \
    X(EVAPORATION_CAUTION, "evaporation.caution")                                                  \
    X(EVAPORATION_ACT, "evaporation.act")                                                          \
    X(BAND_1, "gate.band-1")                                                                       \
    X(BAND_2, "gate.band-2")                                                                       \
    X(BAND_3, "gate.band-3")                                                                       \
    X(BAND_4, "gate.band-4")                                                                       \
    X(BAND_WIND, "gate.band-wind")                                                                 \
    X(HOT, "gate.hot")                                                                             \
    X(HOT_BREEZY, "gate.hot-breezy")                                                               \
    X(VERY_HOT, "gate.very-hot")                                                                   \
    X(VERY_HOT_BREEZY, "gate.very-hot-breezy")                                                     \
    X(FLUE, "gate.flue")                                                                           \
    X(PROTECT_COVER, "protect.cover")                                                              \
    X(PROTECT_INSULATE, "protect.insulate")                                                        \
    X(PROTECT_HEAT, "protect.heat")
#define GATE_ENUM_RULE(name, id) GATE_RULE_##name,
enum gate_rule { GATE_RULE_LIST(GATE_ENUM_RULE) GATE_RULE_COUNT, GATE_RULE_NONE = -1 };
extern const struct id_table gate_rule_ids;

/** Kinds of work that share one gate. */
#define GATE_CLASS_LIST(X)                                                                         \
    X(RECEIVE, "receive") /* unloading: no ice */                                                  \
    X(GROUND, "ground")   /* footing: ground not frozen */                                         \
    X(BLOCK, "block")     /* ordinary mortar: working bands by air now */                          \
    X(DECK, "deck")       /* dry, no ice */                                                        \
    X(POUR, "pour")                                                                                \
    X(STRIP, "strip")   /* forms off a pad that is warm enough */                                  \
    X(LAYOUT, "layout") /* base dry, no frost, warm enough */                                      \
    X(PIECES, "pieces") /* precast pieces in adhesive mortar */                                    \
    X(SCAFFOLD, "scaffold")                                                                        \
    X(ROOF, "roof") /* dry roof */                                                                 \
    X(LINING, "lining")                                                                            \
    X(FACING, "facing") /* stone or hearth in ordinary mortar */
#define GATE_ENUM_CLASS(name, id) GATE_CLASS_##name,
enum gate_class { GATE_CLASS_LIST(GATE_ENUM_CLASS) GATE_CLASS_COUNT, GATE_CLASS_NONE = -1 };
extern const struct id_table gate_class_ids;

/** A figure that decides. */
struct gate_figure {
    enum gate_rule rule; /**< GATE_RULE_NONE: nothing decides */
    double value;        /**< in `unit`; NAN: no figure (a calendar's word) */
    double limit;        /**< in `unit`; NAN */
    enum unit unit;
    enum mark mark;     /**< MARK_NONE: a fact (a bag's card) */
    const char *source; /**< source id or NULL */
    int64_t at_s;       /**< hour of the figure; INSTANT_NONE */
    bool mean_wind;     /**< no gust is known: the mean wind alone was asked */
};

/** One whole hour of a gate. */
struct gate_hour {
    enum gate_state state;
    struct gate_figure figure; /**< of the state; rule NONE when open or unknown */
};

/** Hours that follow one another with the same word and the same rule; the worst figure of them. */
struct gate_stretch {
    int64_t from_s;
    int64_t until_s;
    enum gate_state state;
    struct gate_figure figure;
};

/** A gate over the hours known, for the tasks that share it. */
struct gate_strip {
    enum gate_class gate;
    uint64_t tasks; /**< bits of the unfinished tasks it is for */
    const struct gate_stretch *stretches;
    size_t count;
};

/** What has to be done so that the work may go on in this weather. */
#define MEASURE_ID_LIST(X)                                                                         \
    X(BLANKETS, "blankets")                                                                        \
    X(PLACE_WARM, "place-warm")                                                                    \
    X(WATCH_EVAPORATION, "watch-evaporation")                                                      \
    X(SLOW_EVAPORATION, "slow-evaporation")                                                        \
    X(NAME_WHO_LOOKS, "name-who-looks")                                                            \
    X(POUR_EARLY, "pour-early")                                                                    \
    X(HEAT_ONE, "heat-sand-or-water")                                                              \
    X(HEAT_BOTH, "heat-sand-and-water")                                                            \
    X(WARM_SURFACE, "warm-surfaces")                                                               \
    X(WIND_BREAK, "wind-break")                                                                    \
    X(ENCLOSE, "enclose-and-heat")                                                                 \
    X(COOL, "cool-the-mortar")                                                                     \
    X(SHADE, "shade-everything")                                                                   \
    X(CLOSE_FLUE, "close-the-flue")                                                                \
    X(COVER_AFTER, "cover-after")                                                                  \
    X(INSULATE_AFTER, "insulate-after")                                                            \
    X(HEAT_AFTER, "keep-warm-after")
#define GATE_ENUM_MEASURE(name, id) DO_##name,
enum measure_id { MEASURE_ID_LIST(GATE_ENUM_MEASURE) MEASURE_ID_COUNT, MEASURE_ID_NONE = -1 };
extern const struct id_table measure_id_ids;

struct gate_measure {
    enum measure_id measure;
    struct gate_figure figure; /**< what asks for it */
};

/** Can this pad be poured: asked of the first hours the crew could, weather aside. */
struct pour_plan {
    bool asked; /**< the pad waits to be poured and has a day */
    enum gate_state state;
    struct gate_figure figure;
    int64_t from_s; /**< the hours asked about */
    int64_t until_s;
    double low_degf[3]; /**< lows of the nights after it; NAN: not known */
    double rain_in;     /**< in the hours after it; NAN: not known */
    double rain_limit_in;
    double rain_h;       /**< how many hours after it */
    double blanket_degf; /**< nights under this ask for blankets */
    bool roof;           /**< a roof is over it: rain is not asked */
};

/** What is due before the night. */
#define TONIGHT_LIST(X)                                                                            \
    X(PAD, "pad")       /* cover or blanket the pad */                                             \
    X(JOINTS, "joints") /* cover green joints */                                                   \
    X(FLUE, "flue")     /* close the open flue */                                                  \
    X(UNIT, "unit")     /* cover the drying unit */
#define GATE_ENUM_TONIGHT(name, id) TONIGHT_##name,
enum tonight_what { TONIGHT_LIST(GATE_ENUM_TONIGHT) TONIGHT_COUNT };
extern const struct id_table tonight_ids;

struct tonight_item {
    enum tonight_what what;
    const char *crew_id;       /**< by whom; NULL: nobody is named */
    int64_t before_s;          /**< to be done before */
    bool covered;              /**< a cover or blanket is on record */
    bool blanket;              /**< a blanket, not only a cover */
    bool can_act;              /**< what decides is still ahead */
    bool alarm;                /**< frost before the pad's first-frost limit */
    struct gate_figure figure; /**< what decides; rule NONE: cover it anyway */
    double low_degf;           /**< NAN: not known */
    int64_t low_s;
    double rain_in;  /**< sum; NAN: not known */
    int64_t rain_s;  /**< first hour of it; INSTANT_NONE: none */
    double gust_mph; /**< NAN: not known */
    bool mean_wind;
    int64_t gust_s;
};

/** A half of a crew day with hours lost outdoors. */
struct half_day {
    int32_t day;    /**< company's civil day */
    bool afternoon; /**< after lunch */
    enum task task; /**< the work it would have been */
    double hours;   /**< working hours of the half */
    double hours_lost;
    bool lost; /**< too little of the half is left to begin */
    struct gate_figure figure;
};

#endif
