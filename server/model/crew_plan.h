/* SPDX-License-Identifier: MIT */
/*
 * The proposal for the crews: who goes where, to do what, with what on the truck, and why; what
 * nobody is sent to, and why not. It is a proposal: no date of a job rests on it, the owner
 * decides.
 */
#ifndef EMBERWAIT_MODEL_CREW_PLAN_H
#define EMBERWAIT_MODEL_CREW_PLAN_H

#include <stddef.h>
#include <stdint.h>

#include "model/ids.h"
#include "model/job.h"

/** Why a crew is sent to a piece of work; the first that holds. */
#define CREW_WHY_LIST(X)                                                                           \
    X(UNDER_WAY, "under-way")         /* it is begun */                                            \
    X(HELD_DATE, "held-date")         /* its day is booked or held */                              \
    X(INSPECTION, "inspection")       /* somebody is booked who has to find it done */             \
    X(COVER, "cover")                 /* green joints before the night */                          \
    X(LONG_CLOCK, "long-clock")       /* it starts a long wait: every day sooner counts */         \
    X(WEATHER_LASTS, "weather-lasts") /* outdoors, and the weather closes later */                 \
    X(BAD_WEATHER, "bad-weather")     /* not held by weather that closes outdoor work that day */  \
    X(ON_SITE, "on-site")             /* they are there already */                                 \
    X(WAIT_OVER, "wait-over")         /* it can begin */
#define CREW_ENUM_WHY(name, id) CREW_WHY_##name,
enum crew_why { CREW_WHY_LIST(CREW_ENUM_WHY) CREW_WHY_COUNT };
extern const struct id_table crew_why_ids;

/** What became of an earlier proposal. */
#define CREW_CHANGE_LIST(X)                                                                        \
    X(NONE, "none")             /* as it was, or there was no earlier proposal */                  \
    X(NEW, "new")               /* it was not in the earlier one */                                \
    X(SOONER, "sooner")         /* another, earlier day */                                         \
    X(LATER, "later")           /* a later day */                                                  \
    X(OTHER_CREW, "other-crew") /* the same day by another crew */                                 \
    X(LEFT_OUT, "left-out")     /* nobody is sent to it any more */
#define CREW_ENUM_CHANGE(name, id) CREW_CHANGE_##name,
enum crew_change_kind { CREW_CHANGE_LIST(CREW_ENUM_CHANGE) CREW_CHANGE_COUNT };
extern const struct id_table crew_change_ids;

/** Why it changed; the first that holds. */
#define CREW_CHANGE_WHY_LIST(X)                                                                    \
    X(NONE, "none")                                                                                \
    X(OWN_DATE, "own-date")   /* its own plan has it later now */                                  \
    X(BEHIND, "behind")       /* what it comes after was moved */                                  \
    X(CREW_BUSY, "crew-busy") /* its crew does something else then */                              \
    X(CREW_GONE, "crew-gone") /* that crew is not there any more, or is too small */               \
    X(CLOSED, "closed")       /* the weather or the calendar closes that time */                   \
    X(GAINS, "gains")         /* the whole gains by it */
#define CREW_ENUM_CHANGE_WHY(name, id) CREW_CHANGE_WHY_##name,
enum crew_change_why { CREW_CHANGE_WHY_LIST(CREW_ENUM_CHANGE_WHY) CREW_CHANGE_WHY_COUNT };
extern const struct id_table crew_change_why_ids;

struct crew_change {
    enum crew_change_kind kind;
    enum crew_change_why why;
    int64_t was_start_s;           /**< INSTANT_NONE: it was not there */
    const char *was_crew_id;       /**< NULL */
    const struct job *instead_job; /**< crew-busy: what that crew does then; NULL */
    enum task instead_task;
};

/** Why nobody is sent to a task of a crew. */
#define CREW_UNPLACED_LIST(X)                                                                      \
    X(NO_DATE, "no-date")           /* its own plan has no date */                                 \
    X(NO_HOURS, "no-hours")         /* a quantity is missing: nobody knows how long it takes */    \
    X(LATER, "later")               /* its own plan has it after these weeks */                    \
    X(NO_CREW, "no-crew")           /* no crew has the people */                                   \
    X(BEHIND, "behind")             /* what it comes after is not placed */                        \
    X(NO_ROOM, "no-room")           /* no crew has the time in these weeks */                      \
    X(VISIT, "visit")               /* a look on the way, not a day's work */                      \
    X(AT_NIGHTFALL, "at-nightfall") /* placed each evening that leaves green joints */
#define CREW_ENUM_UNPLACED(name, id) CREW_UNPLACED_##name,
enum crew_unplaced_why { CREW_UNPLACED_LIST(CREW_ENUM_UNPLACED) CREW_UNPLACED_COUNT };
extern const struct id_table crew_unplaced_ids;

/** What goes on the truck. */
#define CREW_LOAD_LIST(X)                                                                          \
    X(FORMS, "forms")                   /* edge boards, stakes */                                  \
    X(BAR, "bar")                       /* bar, chairs, ties, sleeves */                           \
    X(BLOCK, "block")                   /* tower block, mortar, grout */                           \
    X(DECK, "deck")                     /* deck, props */                                          \
    X(CONCRETE_TOOLS, "concrete-tools") /* screed, floats, thermometer */                          \
    X(PAD_COVER, "pad-cover")           /* plastic, wet cover, weights */                          \
    X(BLANKETS, "blankets")                                                                        \
    X(WIND_BREAK, "wind-break")                                                                    \
    X(HEATER, "heater")                                                                            \
    X(MORTAR, "mortar")   /* bags of the lot in use, mixer, clean water */                         \
    X(LEVEL, "level")     /* long level, lines, square */                                          \
    X(BLADE, "blade")     /* saw with blade, water */                                              \
    X(LIFTING, "lifting") /* gantry or hoist, straps */                                            \
    X(IRON, "iron")                                                                                \
    X(DAMPER, "damper")                                                                            \
    X(SCAFFOLD, "scaffold")                                                                        \
    X(FLUE_BAG, "flue-bag") /* rope and bag that catch droppings */                                \
    X(CAP, "cap")           /* cap, sealant, screen */                                             \
    X(FIREBRICK, "firebrick")                                                                      \
    X(SPACERS, "spacers")                                                                          \
    X(SPONGE, "sponge")                                                                            \
    X(TAG, "tag")                                                                                  \
    X(TARP, "tarp")   /* tarp and weights for the night */                                         \
    X(PROBE, "probe") /* probe thermometer */
#define CREW_ENUM_LOAD(name, id) CREW_LOAD_##name,
enum crew_load { CREW_LOAD_LIST(CREW_ENUM_LOAD) CREW_LOAD_COUNT };
extern const struct id_table crew_load_ids;

/** One piece of a crew's day. */
struct crew_work {
    const struct job *job;
    enum task task;
    int64_t start_s;
    int64_t finish_s;
    double drive_h; /**< before it: from the yard, or from the place before; 0: they are there */
    enum crew_why why;
    struct crew_change change;
};

/** What else a crew could do that day. */
struct crew_could {
    const struct job *job;
    enum task task;
    double drive_h;
};

struct crew_day {
    int32_t day;
    const struct crew_work *work;
    size_t work_count;
    double drive_h;                 /**< of the whole day, the way home included */
    uint64_t load;                  /**< bits of enum crew_load */
    int64_t free_from_s;            /**< from then to the end of the day nothing is planned */
    double free_h;                  /**< working hours of it; 0: less than half a day */
    const struct crew_could *could; /**< with free_h: what else is open near by then */
    size_t could_count;
};
struct crew_plan {
    const struct crew *crew;
    const struct crew_day *days; /**< the next working day first, then every day with work */
    size_t day_count;
};

/** A task of a crew that is not in the proposal. */
struct crew_unplaced {
    const struct job *job;
    enum task task;
    enum crew_unplaced_why why;
    struct crew_change change; /**< left-out: where it was; else none */
};

/** A week in crew days. */
struct crew_week {
    int32_t monday;
    double had_days;    /**< of all crews, from now on */
    double needed_days; /**< work that the jobs' own plans put into this week */
    double placed_days; /**< work that the proposal puts into it */
    int idle_jobs;      /**< jobs with work ahead and none for a crew this week: they wait */
    int short_jobs;     /**< jobs that get less of a crew than their own plan asks for */
};

/** A piece of an earlier proposal, as it is handed back. */
struct crew_kept {
    const char *crew_id;
    const char *job_id;
    enum task task;
    int64_t start_s;
};

#endif
