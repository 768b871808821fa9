/* SPDX-License-Identifier: MIT */
/*
 * What the planner answers: clocks, tasks, the fire date, and for each date why. Reasons and
 * cautions are structures, not sentences: the views turn them into English or Spanish from one word
 * list, so a number can never differ between languages. Everything lives in the arena of the plan.
 */
#ifndef EMBERWAIT_MODEL_PLAN_H
#define EMBERWAIT_MODEL_PLAN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/crew_plan.h"
#include "model/gate.h"
#include "model/ids.h"
#include "model/job.h"

/** What a clock's look ahead rests on; bits of clock_plan.assumes. */
enum assume {
    ASSUME_LAST_READING = 1,  /**< the last reading of a room is carried forward */
    ASSUME_FORECAST = 2,      /**< forecast hours are used */
    ASSUME_NOTHING_WRONG = 4, /**< after the forecast ends every open-air day counts in full */
    ASSUME_BLANKET_FORECAST =
        8,                /**< under a blanket: the lower of the last reading and forecast + 10 F */
    ASSUME_ACCEPTED = 16, /**< accepted by a named person without readings */
    ASSUME_STAYS_DRY = 32,       /**< no rain or soaking beyond what is forecast */
    ASSUME_WET_COVER_STAYS = 64, /**< the wet cover stays on */
    ASSUME_FORECAST_OLD = 128,   /**< the forecast hours it uses are of an old forecast */
    ASSUME_SITE_OFFSET = 256,    /**< station figures taken colder for this site ruled in it */
};

/** Why a civil day counted as it did; the first that applies, worst first. */
#define DAY_REASON_LIST(X)                                                                         \
    X(FULL, "full")                                                                                \
    X(HALF_COOL, "half-cool")                                                                      \
    X(HALF_GAPS, "half-gaps")                                                                      \
    X(COLD, "cold")                                                                                \
    X(SOAKED, "soaked")                                                                            \
    X(RAIN, "rain")                                                                                \
    X(RAIN_UNKNOWN, "rain-unknown")                                                                \
    X(WRAPPED, "wrapped")                                                                          \
    X(WET_WORK, "wet-work")                                                                        \
    X(LIT, "lit")                                                                                  \
    X(NO_READING, "no-reading")                                                                    \
    X(AHEAD, "ahead")
#define PLAN_ENUM_DAY(name, id) DAY_##name,
enum day_reason { DAY_REASON_LIST(PLAN_ENUM_DAY) DAY_REASON_COUNT };
extern const struct id_table day_reason_ids;

/** One civil day of a counted-day clock. */
struct counted_day {
    int32_t day;   /**< civil day since 1970, job's zone */
    double credit; /**< 0, 0.5 or 1 */
    enum day_reason reason;
    double mean_degc; /**< NAN when nothing was known */
    double min_degc;
};

/** What the hours of a piece counted. */
#define HOUR_CLASS_LIST(X)                                                                         \
    X(FULL, "full")                                                                                \
    X(PART, "part")                                                                                \
    X(NOTHING, "nothing")                                                                          \
    X(NO_READING, "no-reading")                                                                    \
    X(STOPPED, "stopped")                                                                          \
    X(ASSUMED, "assumed") /* a day after the forecast: taken to count */
#define PLAN_ENUM_HOUR(name, id) HOUR_##name,
enum hour_class { HOUR_CLASS_LIST(PLAN_ENUM_HOUR) HOUR_CLASS_COUNT };
extern const struct id_table hour_class_ids;

/** Why they counted so. */
#define HOUR_WHY_LIST(X)                                                                           \
    X(WARM, "warm")             /* warm enough to count in full */                                 \
    X(COOL, "cool")             /* cooler: counts in part */                                       \
    X(COLD, "cold")             /* below the stall, or the bag's minimum */                        \
    X(NO_READING, "no-reading") /* nobody knows how warm it was */                                 \
    X(BEYOND, "beyond")         /* after the forecast ends nothing is known */                     \
    X(FROZE, "froze")           /* stopped by a freeze until somebody looked */                    \
    X(SOAKED, "soaked")         /* stopped by a soaking until somebody looked */                   \
    X(BELOW_BAG, "below-bag")   /* stopped below the bag's minimum until somebody looked */        \
    X(MORTAR, "mortar")         /* a mortar that earns no warm hours */                            \
    X(DAY_ZERO, "day-zero")     /* the day of the last wet work counts nothing */                  \
    X(DAY, "day")               /* as its civil day counted: `day` says why */
#define PLAN_ENUM_WHY(name, id) HOUR_WHY_##name,
enum hour_why { HOUR_WHY_LIST(PLAN_ENUM_WHY) HOUR_WHY_COUNT };
extern const struct id_table hour_why_ids;

/** What the temperature of a piece rests on. */
#define HOUR_REST_LIST(X)                                                                          \
    X(READING, "reading")                                                                          \
    X(STATION, "station")                                                                          \
    X(CARRIED, "carried") /* the last reading, carried forward */                                  \
    X(FORECAST, "forecast")                                                                        \
    X(BLANKET, "blanket") /* the forecast with the blanket's warmth on it */                       \
    X(CAP, "cap")         /* a cold note: it lowers what is there */                               \
    X(NOTHING, "nothing")
#define PLAN_ENUM_REST(name, id) HOUR_REST_##name,
enum hour_rest { HOUR_REST_LIST(PLAN_ENUM_REST) HOUR_REST_COUNT };
extern const struct id_table hour_rest_ids;

/** A piece of a part's temperature history that was used, for the hour strip. */
struct history_piece {
    int64_t from_s;
    int64_t until_s;
    double temp_degc; /**< mean; NAN: no reading */
    double rate;      /**< warm hours (of the unit: days) per hour */
    double low_degc;  /**< NAN: no reading */
    double high_degc; /**< NAN: no reading */
    double credit;    /**< warm hours (of the unit: days) earned in it */
    enum hour_class hour;
    enum hour_why why;
    enum hour_rest rests;
    enum day_reason day; /**< the unit: what its civil day counted as */
    bool ahead;          /**< at now not over; of the unit: in a day that is not over */
};

/** What past years make of the hours after the forecast ends. */
struct outlook_band {
    int64_t from_s;   /**< until the next one begins, or the strip ends */
    double low_degc;  /**< 1 year in 10 was colder; NAN: too few years */
    double mid_degc;  /**< 1 year in 2 */
    double high_degc; /**< 9 years in 10 were colder */
};

enum {
    STRIP_PIECES_MAX = 400,   /**< more are put together */
    STRIP_READINGS_MAX = 120, /**< of more, the lowest of each stretch of time */
    STRIP_BAND_MAX = 120,
};

/** The hours of a part from its clock's start to the crossing: what a picture is drawn from. */
struct part_strip {
    enum clock_id clock; /**< whose hours these are */
    int64_t from_s;      /**< its start */
    int64_t until_s;     /**< the latest crossing of the part's waits, or as far as is known */
    bool cut;            /**< the crossing lies further ahead than the strip shows */
    int64_t step_s;      /**< pieces were put together to this length; 0: they are exact */
    const struct record *const *readings; /**< ascending; bounded by STRIP_READINGS_MAX */
    size_t reading_count;
    const double *station_degc; /**< hour by hour, site offset included, NAN missing; or NULL */
    int64_t station_from_s;
    size_t station_count;
    int64_t forecast_from_s; /**< the part that is forecast; INSTANT_NONE: none */
    int64_t forecast_until_s;
    const struct outlook_band *band;
    size_t band_count;
    size_t years; /**< past years behind the band */
};

/** When past years would have brought it about; INSTANT_NONE: too few years, or never. */
struct outlook_range {
    int64_t p10_s; /**< 1 year in 10 by then */
    int64_t p50_s; /**< 1 year in 2 */
    int64_t p90_s; /**< 9 years in 10 */
    /* the same chances for the year to come, of the latest years alone */
    int64_t recent_p10_s;
    int64_t recent_p50_s;
    int64_t recent_p90_s;
};
#define OUTLOOK_NONE                                                                               \
    {                                                                                              \
        INSTANT_NONE, INSTANT_NONE, INSTANT_NONE, INSTANT_NONE, INSTANT_NONE, INSTANT_NONE         \
    }

struct clock_plan {
    enum clock_id clock;
    enum part part;
    enum clock_state state;
    double have;
    double need;
    enum unit unit;
    double floor_h;
    enum mark floor_mark;
    enum mark need_mark;
    const char *source;                /**< source id or NULL */
    int64_t start_s;                   /**< INSTANT_NONE: not started */
    int64_t crossing_s;                /**< both conditions hold; INSTANT_NONE: not known */
    int64_t opens_s;                   /**< rounded up to the job's whole hour; INSTANT_NONE */
    int64_t stopped_s;                 /**< check-it: when it stopped; INSTANT_NONE */
    bool stopped_by_soaking;           /**< check-it by a soaking rather than a freeze */
    unsigned assumes;                  /**< enum assume bits */
    int64_t forecast_made_s;           /**< with ASSUME_FORECAST_OLD: when it was made */
    double site_offset_degc;           /**< with ASSUME_SITE_OFFSET: what was added; else 0 */
    const struct record *accepted;     /**< opened without readings, and by whom; NULL */
    const struct record *last_reading; /**< the reading it rests on at now; NULL */
    int64_t no_reading_since_s;        /**< at now nothing is known since then; INSTANT_NONE */
    struct outlook_range outlook;      /**< of the crossing, while it runs */
    const struct counted_day *days;    /**< counted-day clocks: day 1 … ; NULL else */
    size_t day_count;
};

/** Why a lot of mortar is not to be used. */
#define BAG_STATE_LIST(X)                                                                          \
    X(USABLE, "usable")                                                                            \
    X(OUT_OF_DATE, "out-of-date")                                                                  \
    X(DAMP, "damp")                                                                                \
    X(FROZEN, "frozen")
#define PLAN_ENUM_BAG_STATE(name, id) BAG_STATE_##name,
enum bag_state { BAG_STATE_LIST(PLAN_ENUM_BAG_STATE) BAG_STATE_COUNT };
extern const struct id_table bag_state_ids;

#define REASON_LIST(X)                                                                             \
    X(CLOCK, "clock")                 /* a clock has to open */                                    \
    X(CLOCK_STOPPED, "clock-stopped") /* a clock is in check-it or ended */                        \
    X(CLOCK_UNKNOWN, "clock-unknown") /* a clock with no opening time */                           \
    X(CLOCK_NOT_STARTED, "clock-not-started")                                                      \
    X(AFTER, "after")             /* another task first */                                         \
    X(HOLD, "hold")               /* another task's hold point is not passed */                    \
    X(INSPECTION, "inspection")   /* an inspection has to pass */                                  \
    X(TRADE, "trade")             /* another trade first */                                        \
    X(LAST_CHANCE, "last-chance") /* this closes in something not yet done */                      \
    X(MISSED, "missed")           /* the last chance of this has gone */                           \
    X(CREW_DAY, "crew-day")       /* crew hours, days off */                                       \
    X(DRIVE, "drive")             /* too little of the day left to drive there */                  \
    X(FROST_AHEAD, "frost-ahead") /* forms stay on while frost is forecast */                      \
    X(FACING_LAST, "facing-last") /* the last facing mortar is not recorded */                     \
    X(LIT, "lit")                 /* a fire was reported and nobody has looked */                  \
    X(LOOK, "look")               /* somebody has to look first */                                 \
    X(HELD_DATE, "held-date")                                                                      \
    X(STOPPED, "stopped")                                                                          \
    X(BAG, "bag")                                                                                  \
    X(LEAD, "lead")                     /* a permit or a delivery takes so many business days */   \
    X(BURN_BAN, "burn-ban")             /* nobody may light a fire */                              \
    X(ENCLOSURE, "enclosure")           /* an enclosure, blanket or tarp still stands */           \
    X(GUST, "gust")                     /* too windy for a fire outdoors */                        \
    X(FIRE_REST, "fire-rest")           /* dry counted days after steam or a soaking */            \
    X(FIRE_SIGN, "fire-sign")           /* a stop sign: somebody has to look */                    \
    X(CHECK_OUT, "check-out")           /* a check found a figure out of tolerance, or a no */     \
    X(CHECK_MISSING, "check-missing")   /* a check of the task was not made */                     \
    X(CHECK_EVIDENCE, "check-evidence") /* the photo, initials or slip of a check is missing */    \
    X(EXCUSED, "excused")               /* the owner excused a missed last chance */               \
    X(BAG_REFUSED, "bag-refused")       /* the mortar on site is out of date, damp or frozen */    \
    X(WEATHER, "weather")               /* a weather gate is closed */
#define PLAN_ENUM_REASON(name, id) REASON_##name,
enum reason_kind { REASON_LIST(PLAN_ENUM_REASON) REASON_COUNT };
extern const struct id_table reason_ids;

/** One constraint that acts on a date. */
struct reason {
    enum reason_kind kind;
    const char *rule;    /**< stable id: a clock, "after.<task>", "crew-day", … */
    int64_t until_s;     /**< holds the date back until then; INSTANT_NONE: no end known */
    enum task task;      /**< TASK_NONE unless the reason names a task */
    enum clock_id clock; /**< CLOCK_NONE unless the reason names a clock */
    double have;         /**< NAN: no figures */
    double need;
    enum unit unit;
    double floor_h;          /**< NAN: none */
    enum mark mark;          /**< MARK_NONE: a fact, not a rule */
    const char *source;      /**< source id or NULL */
    bool forecast_old;       /**< it rests on an old forecast ... */
    int64_t forecast_made_s; /**< ... that was made then */
    double site_offset_degc; /**< added to the station figures it rests on; 0: none */
    /* of the kinds check-* only */
    enum check_id check;
    enum check_unit check_unit; /**< of `have` and `need`; CHECK_UNIT_NONE: no figures */
    bool at_most;               /**< `need` is the most, else the least */
    enum evidence evidence;
    /* of the kinds bag-refused and excused only */
    const struct record *record; /**< the bag that is refused; who excused it */
    enum bag_state bag;
    const struct gate_figure *figure; /**< of WEATHER: what closes the gate; NULL else */
};

/** Where a figure of a check comes from. */
#define BASIS_LIST(X)                                                                              \
    X(PRACTICE, "practice")   /* common practice or a house rule */                                \
    X(PUBLISHED, "published") /* the published code */                                             \
    X(LISTING, "listing")     /* this kit's own sheet */
#define PLAN_ENUM_BASIS(name, id) BASIS_##name,
enum basis { BASIS_LIST(PLAN_ENUM_BASIS) BASIS_COUNT };
extern const struct id_table basis_ids;

/** One figure on the table for a measure. */
struct check_limit {
    double figure;  /**< in the unit of the check */
    bool at_most;   /**< else at least */
    enum mark mark; /**< MARK_NONE: of a kit's sheet */
    const char *source;
    enum basis basis;
    bool acts; /**< asked for now */
};

/** A check of a task, and how it stands. */
struct check_plan {
    enum check_id check;
    enum check_kind kind;
    enum check_unit unit;
    enum evidence evidence;
    bool optional; /**< may be left out */
    enum check_state state;
    double least; /**< what is asked for; NAN: no limit */
    double most;
    double of; /**< count: of how many, by the job's quantities; NAN: the person says it */
    const struct check_limit *limits;
    size_t limit_count;
    const struct check_result *result; /**< the latest answer; NULL: none */
    const struct record *record;       /**< what carried it; NULL */
    const struct record *accepted;     /**< by which a less strict figure was accepted; NULL */
};

struct task_plan {
    enum task task;
    enum task_state state;
    int64_t start_s; /**< earliest sensible start, INSTANT_NONE: no date */
    int64_t finish_s;
    struct outlook_range outlook;        /**< of the start; of the first fire, once projected */
    struct outlook_range outlook_finish; /**< of the finish */
    int64_t opens_s; /**< the true opening time before crew hours; INSTANT_NONE */
    double hours;    /**< duration for the stated crew; NAN: not known */
    const char *crew_id;
    int64_t done_s;          /**< when it was done; INSTANT_NONE */
    bool held;               /**< done, but its hold point is not passed */
    int64_t latest_finish_s; /**< work-back: the wanted fire date still holds; INSTANT_NONE */
    int32_t days_to_spare;   /**< from finish_s to latest_finish_s, days; DAY_NONE: not known */
    int64_t last_chance_s;   /**< from then on it can never be done; INSTANT_NONE */
    enum task closed_by;     /**< what closes it in; TASK_NONE */
    int64_t due_s;           /**< to be done by then (within); INSTANT_NONE */
    const struct check_plan *checks; /**< in the order they are made; NULL: none, or it is over */
    size_t check_count;
    bool measured;                /**< some check of it was answered */
    bool photo;                   /**< a photo goes with it */
    const struct record *pass;    /**< the record that passed it; NULL */
    bool forecast_old;            /**< its start rests on an old forecast */
    const struct reason *because; /**< latest first */
    size_t because_count;
    const struct gate_measure *measures; /**< what this weather asks for while the work goes on */
    size_t measure_count;
    double bucket_h; /**< how long a bucket of its mortar lasts, h; NAN: no mortar, or no day */
};

#define CAUTION_LIST(X)                                                                            \
    X(READINGS_DISAGREE, "readings-disagree")                                                      \
    X(NO_READING, "no-reading")                                                                    \
    X(FROST_AHEAD, "frost-ahead")                                                                  \
    X(FROZE_TOO_SOON, "froze-too-soon")                                                            \
    X(SOAKED_GREEN_PAD, "soaked-green-pad")                                                        \
    X(HOT, "hot")                                                                                  \
    X(BELOW_BAG_MINIMUM, "below-bag-minimum")                                                      \
    X(LIT_EARLY, "lit-early")                                                                      \
    X(SOAKED_UNIT, "soaked-unit")                                                                  \
    X(COLD_FIRST_DAYS, "cold-first-days")                                                          \
    X(MISSING_QUANTITY, "missing-quantity")                                                        \
    X(LAST_CHANCE_MISSED, "last-chance-missed")                                                    \
    X(NO_STATION, "no-station")                                                                    \
    X(FORECAST_OLD, "forecast-old")                                                                \
    X(NO_OUTLOOK, "no-outlook")                                                                    \
    X(FACING_OPEN, "facing-open")                                                                  \
    X(ACCEPTED_WITHOUT_READINGS, "accepted-without-readings")                                      \
    X(NOT_LOOKED_72_H, "not-looked-72-h")                                                          \
    X(ENGINEER_HELD_TO_FLOOR, "engineer-held-to-floor")                                            \
    X(CALIBRATION_RANGE, "calibration-range")                                                      \
    X(HEARTH_STRICTER, "hearth-stricter")                                                          \
    X(LATE, "late")                                                                                \
    X(LOOK_AGAIN, "look-again")                                                                    \
    X(CUTOFF_MISSED, "cutoff-missed")                                                              \
    X(NO_CREW, "no-crew")                                                                          \
    X(NEVER_SERVES, "never-serves")                                                                \
    X(COVER_BEFORE_RAIN, "cover-before-rain")                                                      \
    X(FIRE_STEP_BACK, "fire-step-back")                                                            \
    X(FIRE_COLD, "fire-cold")                                                                      \
    X(FIRE_TOO_BIG, "fire-too-big")                                                                \
    X(SLOT_TOO_LATE, "slot-too-late")                                                              \
    X(SLOT_LOST, "slot-lost")                                                                      \
    X(PASSED_WITHOUT_CHECKS, "passed-without-checks")                                              \
    X(CHECK_FAILED, "check-failed")                                                                \
    X(FIGURE_ACCEPTED, "figure-accepted")                                                          \
    X(TAKEN_OVER, "taken-over")                                                                    \
    X(CHANCE_EXCUSED, "chance-excused")                                                            \
    X(BAG_REFUSED, "bag-refused")                                                                  \
    X(BAG_USED_REFUSED, "bag-used-refused")                                                        \
    X(BAG_TOO_WARM, "bag-too-warm")                                                                \
    X(BAG_NOT_KEPT, "bag-not-kept")                                                                \
    X(KIT_SHORTER, "kit-shorter")                                                                  \
    X(KIT_UNKNOWN, "kit-unknown")
#define PLAN_ENUM_CAUTION(name, id) CAUTION_##name,
enum caution_id { CAUTION_LIST(PLAN_ENUM_CAUTION) CAUTION_COUNT };
extern const struct id_table caution_ids;

struct caution {
    enum caution_id caution;
    enum part part;              /**< PART_NONE when it speaks of the job */
    enum task task;              /**< TASK_NONE */
    int64_t at_s;                /**< when; INSTANT_NONE */
    double value;                /**< degC or another figure; NAN */
    enum quantity quantity;      /**< QUANTITY_NONE */
    const struct record *record; /**< who said it, or the bag; NULL */
    enum clock_id clock;         /**< kit-shorter only */
    enum check_id check;         /**< figure-accepted only */
    enum bag_state bag;          /**< bag-refused and bag-used-refused only */
};

/** What keeps the first fire without a date; bits. */
enum fire_block {
    FIRE_BLOCK_NOT_LINED = 1,   /**< line-clean is not done: nothing counts yet */
    FIRE_BLOCK_LIT = 2,         /**< a fire was reported and nobody has looked since */
    FIRE_BLOCK_FACING = 4,      /**< mortared facing, and the last of it is not recorded */
    FIRE_BLOCK_CHECK_IT = 8,    /**< a unit clock is in check-it */
    FIRE_BLOCK_ENDED = 16,      /**< a unit clock was ended by a redo */
    FIRE_BLOCK_NO_READING = 32, /**< a unit clock has no end in sight */
};

struct fire_plan {
    int32_t cure_complete_day; /**< civil day the first fire may come, DAY_NONE */
    int32_t earliest_day;
    int32_t likely_day;
    int32_t p10_day, p50_day, p90_day;
    int32_t recent_p10_day, recent_p50_day, recent_p90_day;
    int32_t promise_day;
    int32_t at_recent_rate_day;
    enum clock_id driven_by; /**< the clock that ends latest; CLOCK_NONE */
    unsigned blocked_by;     /**< enum fire_block bits */
    /* the owner's word to the homeowner */
    int32_t agreed_day; /**< the latest `agreed` record, DAY_NONE */
    bool agreed_holds;  /**< the engine still supports it (not blocked, cure_complete <= agreed) */
    /* before there is a date: where everything ahead leads if nothing goes wrong */
    int32_t projected_day; /**< for the owner only; equals earliest's gate once there is one;
                              DAY_NONE */
    /* the break-in fires */
    int next_size;       /**< 1..5, of the next fire; 6: all five are done */
    bool next_extra;     /**< a further number 1 first, for the masonry is cold */
    int stepped_back;    /**< sizes gone back for a gap or a soaking; 0 */
    int64_t last_fire_s; /**< latest fire, stopped or not; INSTANT_NONE */
    int64_t
        rest_until_s; /**< dry counted days end then; INSTANT_NONE: none asked or no end known */
    const struct record *rest_for;  /**< the fire or soaking they are asked for; NULL */
    const struct record *last_sign; /**< the last fire was stopped for a sign; NULL */
    const struct record *sign_hold; /**< a stop sign that nobody has looked at since; NULL */
    int64_t lit_s[5];  /**< by size: when it burnt through without a sign; INSTANT_NONE */
    int64_t too_big_s; /**< a fire bigger than the next one was lit; INSTANT_NONE */
    double cold_degc;  /**< next_extra: how cold the masonry is */
    /* work-back */
    int32_t wanted_day;    /**< the date worked back from; DAY_NONE */
    bool wanted_is_agreed; /**< it is the agreed date, no wanted one is on file */
    bool told;             /**< since the date was agreed the homeowner was told where it stands */
};

/** A part's present temperature and what is known of it, for lists and pictures. */
struct part_plan {
    enum part part;
    bool used; /**< some clock read it */
    const struct record *last_reading;
    double temp_now_degc;               /**< NAN: no reading */
    const char *place;                  /**< "open", "room" or "blanket" at now */
    const struct history_piece *pieces; /**< filled by planner_pictures only */
    size_t piece_count;                 /**< at most STRIP_PIECES_MAX */
    const struct part_strip *strip;     /**< NULL: no strip */
};

/** An unfinished earlier count of the unit, shown struck through. */
struct struck_clock {
    enum clock_id clock;
    int64_t start_s;
    int64_t ended_s;
    double have;
    const struct record *because; /**< the record that ended it */
};

struct job_plan;

/** An inspection that somebody has to ask for. */
struct call_in {
    const struct job_plan *job; /**< borrow: whose it is */
    enum task task;
    const struct outside_party *inspector; /**< NULL: none on file */
    int32_t visit_day;                     /**< the first day it can be seen */
    int64_t request_by_s;  /**< the cut-off for that day, in the town's zone; INSTANT_NONE: none */
    bool today;            /**< the cut-off is today, or gone */
    int64_t missed_s;      /**< a cut-off that went by unused; INSTANT_NONE */
    int32_t cost_days;     /**< the visit comes so many days later for it; 0 */
    int32_t end_cost_days; /**< the first fire comes so many days later for it; 0 */
    uint64_t releases;     /**< bits of the tasks that wait for it */
};

struct job_plan {
    const struct job *job;
    struct task_plan tasks[TASK_COUNT];
    const struct clock_plan *clocks; /**< started clocks, in the order of ids.h */
    size_t clock_count;
    const struct struck_clock *struck;
    size_t struck_count;
    struct fire_plan fire;
    const struct caution *cautions;
    size_t caution_count;
    struct part_plan parts[PART_COUNT];
    bool forecast_old;              /**< the station's forecast is older than it should be ... */
    int64_t forecast_made_s;        /**< ... and was made then */
    const struct call_in *call_ins; /**< inspections to ask for, in the order of the work */
    size_t call_in_count;
    /* the weather's word */
    const struct gate_strip *gates; /**< of the work ahead, in the hours known */
    size_t gate_count;
    struct pour_plan pour;
    struct tonight_item tonight[TONIGHT_COUNT];
    size_t tonight_count;
    const struct half_day *half_days; /**< halves of crew days with hours lost */
    size_t half_day_count;
    double bag_min_degf; /**< least temperature of the lot in use, else of the rulebook */
};

/** A first fire to come. */
struct first_fire {
    const struct job_plan *job;
    int32_t day;                 /**< earliest, or projected before there is one; DAY_NONE */
    bool projected;              /**< nothing counts yet: only where the work ahead leads */
    uint64_t left;               /**< bits of the tasks still to do before it */
    bool thin;                   /**< fewer days between earliest and date given than wanted */
    const struct reason *driver; /**< what holds it back longest; NULL: nothing */
};

/** Work that waits for nobody but a crew. */
struct idle_work {
    const struct job_plan *job;
    enum task task;
    int64_t since_s;
};

/** Somebody who was told a date that no longer stands. */
struct owed_call {
    const struct job_plan *job;
    enum task task;    /**< a trade's booked work; TASK_NONE: the homeowner */
    int32_t told_day;  /**< the date they have */
    int32_t now_day;   /**< the date as it stands; DAY_NONE: none */
    const char *phone; /**< the trade's; NULL */
};

/** The lists of the owner's morning; each is in the order it is read. */
struct plan_lists {
    const struct call_in *call_ins;
    size_t call_in_count;
    const struct first_fire *first_fires;
    size_t first_fire_count;
    const struct idle_work *idle;
    size_t idle_count;
    const struct owed_call *owed;
    size_t owed_count;
};

/** One lot of mortar of the whole company. */
struct bag_lot {
    const struct record *card; /**< the latest card of the lot */
    enum bag_state state;      /**< today, in the company's zone */
    int32_t expires_day;       /**< the last day it may be used; DAY_NONE: not known */
    int32_t age_days;          /**< since it was made; DAY_NONE: not known */
    const struct job **jobs;   /**< jobs that have a card of it and still need mortar */
    size_t job_count;
    bool outlives; /**< no: it is over before the planned work of one of them */
};

struct plan {
    const struct casefile *casefile;
    const struct job_plan *jobs;
    size_t job_count;
    const struct crew_plan *crews;
    size_t crew_count;
    const struct crew_unplaced *unplaced; /**< tasks of crews that nobody is sent to */
    size_t unplaced_count;
    const struct crew_week *weeks; /**< crew days needed and had */
    size_t week_count;
    struct plan_lists lists;
    const struct bag_lot *bags; /**< the one that is out of date first comes first */
    size_t bag_count;
};

#endif
