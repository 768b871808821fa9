/* SPDX-License-Identifier: MIT */
/*
 * The rulebook: every number and link the planner uses, read from JSON once and never changed
 * afterwards. Each number carries its mark (P published, CP common practice, HR house rule), its
 * source if it has one, and the least value it may ever take. The planner holds no number of its
 * own.
 */
#ifndef EMBERWAIT_RULEBOOK_RULEBOOK_H
#define EMBERWAIT_RULEBOOK_RULEBOOK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/status.h"
#include "base/text.h"
#include "compute/maturity.h"
#include "model/check.h"
#include "model/ids.h"
#include "model/job.h"

/** Scalar settings. Id, then what it is in the units of its JSON row. Degrees are held in degC. */
#define SETTING_LIST(X)                                                                            \
    X(READING_HOLD_OPEN_H, "reading.hold-open")             /* 6 h: a reading holds in the open */ \
    X(READING_PAIR_H, "reading.pair")                       /* 24 h: two readings bridge */        \
    X(READING_PAIR_THERMOSTAT_H, "reading.pair-thermostat") /* 168 h: thermostat notes, room */    \
    X(READING_BRIDGE_H, "reading.bridge")                   /* 72 h: bridged less 3 F */           \
    X(READING_BRIDGE_LESS_DEGC, "reading.bridge-less")      /* 3 F */                              \
    X(READING_HOLD_CLOSED_H, "reading.hold-closed")         /* 24 h: holds in a closed place */    \
    X(READING_HOLD_THERMOSTAT_H, "reading.hold-thermostat") /* 168 h */                            \
    X(READING_FIGURE_H, "reading.figure")               /* 1 h: lowest within the hour up to it */ \
    X(READING_DISAGREE_DEGC, "reading.disagree")        /* 8 F */                                  \
    X(READING_BLANKET_AHEAD_H, "reading.blanket-ahead") /* 24 h carried under a blanket */         \
    X(READING_BLANKET_OVER_DEGC, "reading.blanket-over") /* 10 F over the forecast */              \
    X(CAP_LOWEST_H, "cap.lowest")                        /* 24 h back at most */                   \
    X(CAP_IMPRESSION_H, "cap.impression")                /* 6 h either side */                     \
    X(FROST_DEGC, "frost.below")                         /* 32 F, strict */                        \
    X(FROST_LIMIT, "frost.limit")                        /* 24 warm hours */                       \
    X(BLENDED_FACTOR, "blended.factor")                  /* 1.5 */                                 \
    X(MORTAR_STALL_DEGC, "mortar.stall")                 /* 50 F without a bag card */             \
    X(MORTAR_POLYMER_H, "mortar.polymer-watch")         /* 24 h below the bag minimum: check-it */ \
    X(MOIST_DEGC, "moist.at-least")                     /* 50 F */                                 \
    X(DAY_FULL_MEAN_DEGC, "day.full-mean")              /* 50 F */                                 \
    X(DAY_FULL_MIN_DEGC, "day.full-min")                /* 40 F */                                 \
    X(DAY_HALF_MEAN_DEGC, "day.half-mean")              /* 40 F */                                 \
    X(DAY_HALF_MIN_DEGC, "day.half-min")                /* 32 F */                                 \
    X(DAY_SOAKED_DAYS, "day.soaked")                    /* 2 days after */                         \
    X(DAY_STANDING_DAYS, "day.standing")                /* 5 days after */                         \
    X(DAY_RAIN_MM, "day.rain")                          /* 1.0 mm that day */                      \
    X(DAY_RAIN_NEXT_MM, "day.rain-next")                /* 5.0 mm the next day too */              \
    X(DAY_UNCAPPED_DAYS, "day.uncapped")                /* 2 days after, flue uncapped */          \
    X(DAY_RAIN_UNKNOWN_H, "day.rain-unknown")           /* 6 h without a rain figure */            \
    X(DAY_NO_READING_H, "day.no-reading")               /* 6 h without a reading */                \
    X(PATCH_DAYS_INITIALS, "patch.initials")            /* 7 days with the owner's initials */     \
    X(PATCH_DAYS, "patch.days")                         /* 28 days */                              \
    X(RELAID_SIDE_PERCENT, "relaid.side")               /* 10 % */                                 \
    X(PROMISE_INDOOR_DAYS, "promise.indoor")            /* 3 days */                               \
    X(PROMISE_COVERED_DAYS, "promise.covered")          /* 7 days */                               \
    X(OUTLOOK_YEARS, "outlook.years")                   /* 5 years at least */                     \
    X(OUTLOOK_RECENT_YEARS, "outlook.recent-years")     /* 19 years: latest ones, ranked apart */  \
    X(RECENT_RATE_DAYS, "recent-rate.days")             /* 14 days */                              \
    X(HOT_DEGC, "hot.above")                            /* 90 F: a hot-weather check */            \
    X(START_LEFT_ON_SITE_H, "start.left-on-site")       /* 2 h left */                             \
    X(START_LEFT_DRIVE_H, "start.left-drive")           /* 4 h left */                             \
    X(START_DRIVE_OVER_H, "start.drive-over")           /* 0.5 h drive */                          \
    X(DRIVE_ROAD_FACTOR, "drive.road-factor")           /* 1.3 times the straight line */          \
    X(DRIVE_SPEED_MPS, "drive.speed")                   /* 40 mph */                               \
    X(DRIVE_NEAR_H, "drive.near")                       /* 1/3 h */                                \
    X(CREWS_HALF_DAY_H, "crews.half-day")               /* 4 h */                                  \
    X(CREWS_LONG_CLOCK, "crews.long-clock")             /* 3 times */                              \
    X(CREWS_KEEP_H, "crews.keep")                       /* 4 h */                                  \
    X(FORECAST_OLD_H, "forecast.old")                   /* 24 h */                                 \
    X(FIRE_DRY_H, "fire.dry")                           /* 72 h unwetted */                        \
    X(FIRE_GAP_H, "fire.gap")                           /* 24 h between fires */                   \
    X(EVAPORATION_CAUTION_KGM2H, "evaporation.caution") /* 0.5 */                                  \
    X(EVAPORATION_ACT_KGM2H, "evaporation.act")         /* 1.0 */                                  \
    X(THIN_LINING_FACTOR, "thin-lining.factor")         /* 0.85 of the lining hours */             \
    X(DAY_HALF_CREDIT, "day.half-credit")               /* 1/2 */                                  \
    X(DAY_EARLY_DAYS, "day.early")                      /* 7 counted days: cold asks for a look */ \
    X(DAY_LOOK_AFTER_H, "day.look-after")               /* 72 h without a reading: look */         \
    X(LIFT_DAY_FT, "lift.day")                          /* 8 ft of chimney a day */                \
    X(LIFT_FIRST_FT, "lift.first")                      /* 4 ft on a young bed */                  \
    X(LIFT_FIRST_H, "lift.first-until")                 /* 24 h: a bed is young until then */      \
    X(GATE_COLD_DEGC, "gate.cold")                      /* 40 F: no masonry below, no bag card */  \
    X(GATE_GUST_MPS, "gate.gust")                       /* 25 mph */                               \
    X(GATE_SCAFFOLD_GUST_MPS, "gate.scaffold-gust")     /* 20 mph */                               \
    X(GATE_POUR_DEGC, "gate.pour-cold")                 /* 40 F: first nights need blankets */     \
    X(GATE_POUR_RAIN_MM, "gate.pour-rain")              /* 0.1 in forecast ... */                  \
    X(GATE_POUR_RAIN_H, "gate.pour-rain-ahead")         /* ... in the next 6 h */                  \
    X(GATE_RAIN_MM, "gate.rain")                        /* 0.01 in */                              \
    X(GATE_DRIVEN_RAIN_MPS, "gate.driven-rain")         /* 15 mph */                               \
    X(GATE_DRY_H, "gate.dry")                           /* 2 h */                                  \
    X(GATE_ICE_H, "gate.ice")                           /* 12 h */                                 \
    X(GATE_LAYOUT_DEGC, "gate.layout-cold")             /* 40 F */                                 \
    X(GATE_STRIP_DEGC, "gate.strip-cold")               /* 40 F */                                 \
    X(GATE_POUR_NIGHTS, "gate.pour-nights")             /* 3 day */                                \
    X(GATE_POUR_LIFT_DEGC, "gate.pour-lift")            /* 25 F-difference */                      \
    X(GATE_POUR_KEEP_DEGC, "gate.pour-keep")            /* 50 F */                                 \
    X(GATE_POUR_PLACED_DEGC, "gate.pour-placed")        /* 55 F */                                 \
    X(GATE_POUR_BEFORE_H, "gate.pour-before")           /* 12 h */                                 \
    X(EVAPORATION_CONCRETE_DEGC, "evaporation.concrete")   /* 70 F */                              \
    X(GATE_BAND_1_DEGC, "gate.band-1")                     /* 40 F */                              \
    X(GATE_BAND_2_DEGC, "gate.band-2")                     /* 32 F */                              \
    X(GATE_BAND_3_DEGC, "gate.band-3")                     /* 25 F */                              \
    X(GATE_BAND_4_DEGC, "gate.band-4")                     /* 20 F */                              \
    X(GATE_BAND_WIND_MPS, "gate.band-wind")                /* 15 mph */                            \
    X(GATE_HOT_DEGC, "gate.hot")                           /* 100 F */                             \
    X(GATE_HOT_BREEZY_DEGC, "gate.hot-breezy")             /* 90 F */                              \
    X(GATE_VERY_HOT_DEGC, "gate.very-hot")                 /* 115 F */                             \
    X(GATE_VERY_HOT_BREEZY_DEGC, "gate.very-hot-breezy")   /* 105 F */                             \
    X(GATE_BREEZE_MPS, "gate.breeze")                      /* 8 mph */                             \
    X(PROTECT_COVER_DEGC, "protect.cover")                 /* 40 F */                              \
    X(PROTECT_INSULATE_DEGC, "protect.insulate")           /* 25 F */                              \
    X(PROTECT_HEAT_DEGC, "protect.heat")                   /* 20 F */                              \
    X(BUCKET_LIFE_H, "bucket.life")                        /* 1.5 h */                             \
    X(BUCKET_WARM_DEGC, "bucket.warm")                     /* 80 F */                              \
    X(BUCKET_LIFE_WARM_H, "bucket.life-warm")              /* 0.75 h */                            \
    X(BUCKET_ORDINARY_H, "bucket.ordinary")                /* 2.5 h */                             \
    X(BUCKET_ORDINARY_HOT_H, "bucket.ordinary-hot")        /* 2 h */                               \
    X(ALARM_PROBE_DEGC, "alarm.probe")                     /* 36 F */                              \
    X(COVER_BEFORE_RAIN_H, "cover.before-rain")            /* 1 h */                               \
    X(FIRE_STEP_BACK_OPEN_DAYS, "fire.step-back-outdoors") /* 14 days between fires */             \
    X(FIRE_STEP_BACK_ROOM_DAYS, "fire.step-back-indoors")  /* 30 days between fires */             \
    X(FIRE_GUST_MPS, "fire.gust")                          /* 25 mph: no fire outdoors above */    \
    X(FIRE_COLD_DEGC, "fire.cold")                         /* 40 F: one more number 1 first */     \
    X(FIRE_REST_DAYS, "fire.rest")                         /* 3 dry counted days after steam */    \
    X(FIRE_SOAKED_DAYS, "fire.soaked")                     /* 3 dry days after rain on the unit */ \
    X(PROMISE_THIN_DAYS, "promise.thin")                   /* fewer days than this are few */      \
    X(ALARM_REPEAT_H, "alarm.repeat")                      /* 2 h: one repeat */                   \
    X(ALARM_QUIET_FROM_H, "alarm.quiet-from")              /* 21 h: the quiet begins */            \
    X(ALARM_QUIET_UNTIL_H, "alarm.quiet-until")            /* 5.5 h: it ends */                    \
    X(ALARM_CAN_ACT_H, "alarm.can-act")                    /* 0.5 h: time to act */                \
    X(DIURNAL_PEAK_LAG_H, "diurnal.peak-lag")              /* Parton & Logan a */                  \
    X(DIURNAL_NIGHT_FALL, "diurnal.night-fall")            /* Parton & Logan b */                  \
    X(DIURNAL_MIN_LAG_H, "diurnal.min-lag")                /* Parton & Logan c */
#define RULEBOOK_ENUM_SETTING(name, id) SETTING_##name,
enum setting { SETTING_LIST(RULEBOOK_ENUM_SETTING) SETTING_COUNT };
extern const struct id_table setting_ids;

/** A number of the rulebook with its standing. */
struct rule_number {
    double value;       /**< NAN: absent (a clock without a floor or a target) */
    enum mark mark;     /**< MARK_NONE only when value is NAN */
    const char *source; /**< id in schema/sources.json; NULL when it has none */
    double least;       /**< never below this; NAN: no bound */
};

/** Which jobs a clock's numbers are for. */
enum clock_when {
    CLOCK_WHEN_ALWAYS,
    CLOCK_WHEN_GROUND,       /**< base slab */
    CLOCK_WHEN_VOID,         /**< crawl or basement */
    CLOCK_WHEN_VOID_PROPPED, /**< crawl or basement with props: taken before CLOCK_WHEN_VOID */
};

struct clock_variant {
    enum clock_when when;
    struct rule_number floor_h;
    struct rule_number need;
};

enum clock_kind {
    CLOCK_KIND_SET,    /**< floor and warm hours */
    CLOCK_KIND_MOIST,  /**< hours kept wet at 50 F or more */
    CLOCK_KIND_EITHER, /**< facing-ready: `other` clock, or floor and warm hours, first */
    CLOCK_KIND_DAYS,   /**< counted days */
};

enum { CLOCK_VARIANTS_MAX = 4, CLOCK_STARTS_MAX = 12 };

/** A clock starts at the latest record of these. */
struct clock_start {
    enum record_kind kind;
    enum task task; /**< TASK_NONE: any record of the kind */
};

struct clock_rule {
    enum clock_id clock;
    enum part part;
    enum clock_kind kind;
    enum unit unit;
    struct maturity_law law; /**< set clocks; its stall is replaced by the bag's when `mortar` */
    bool mortar;             /**< the stall is the bag minimum; law.stall_degc: without a card */
    enum mark law_mark;      /**< standing of the law's shape and constants */
    const char *law_source;  /**< NULL when it has none */
    struct rule_number stall_degc; /**< the law's stall and its standing */
    struct rule_number cap;        /**< the law's cap and its standing */
    enum clock_id other;           /**< CLOCK_KIND_EITHER; CLOCK_NONE else */
    struct clock_variant variants[CLOCK_VARIANTS_MAX];
    size_t variant_count;
    struct clock_start starts[CLOCK_STARTS_MAX];
    size_t start_count;
    enum task once;   /**< the clock exists only once this is done; TASK_NONE: at its first start */
    const char *name; /**< plain name, English */
    const char *from; /**< what it starts from, in plain words: "the pour" */
    const char *says; /**< plain sentence, English, for `rulebook show` */
};

/* --- tasks --------------------------------------------------------------------------------- */

/** An option a condition can test. */
#define OPTION_LIST(X)                                                                             \
    X(BASE, "base")                                                                                \
    X(PAD, "pad")                                                                                  \
    X(PLACE, "place")                                                                              \
    X(SETTING_OUT, "setting_out")                                                                  \
    X(OUTSIDE_AIR, "outside_air")                                                                  \
    X(LIGHTER, "lighter")                                                                          \
    X(LINING, "lining")                                                                            \
    X(FACING, "facing")                                                                            \
    X(THROUGH_ROOF, "through_roof")                                                                \
    X(PERMIT, "permit")                                                                            \
    X(PROPPED, "propped")                                                                          \
    X(MIX, "mix")                                                                                  \
    X(THROAT_LOOK, "town.throat_look")                                                             \
    X(SEISMIC, "town.seismic")
#define RULEBOOK_ENUM_OPTION(name, id) OPTION_##name,
enum option { OPTION_LIST(RULEBOOK_ENUM_OPTION) OPTION_COUNT };
extern const struct id_table option_ids;

/** Holds when the option's value is one of the bits of `values` (booleans: 0 no, 1 yes). */
struct condition {
    enum option option;
    unsigned values;
};

#define LINK_LIST(X)                                                                               \
    X(AFTER, "after")             /* the named task is finished (hold point passed) */             \
    X(AFTER_CLOCK, "after-clock") /* the named clock is open */                                    \
    X(BEFORE, "before")           /* last chance: this must be finished before the named starts */ \
    X(WITHIN, "within")           /* no later than hours after the named task */                   \
    X(WITH, "with")               /* at the same time as the named task */
#define RULEBOOK_ENUM_LINK(name, id) LINK_##name,
enum link_kind { LINK_LIST(RULEBOOK_ENUM_LINK) LINK_COUNT };
extern const struct id_table link_ids;

enum { CONDITIONS_MAX = 4, LINKS_MAX = 12, PER_MAX = 6 };

struct task_link {
    enum link_kind kind;
    enum task task;      /**< TASK_NONE for AFTER_CLOCK */
    enum clock_id clock; /**< CLOCK_NONE else */
    double wait_h;       /**< after: elapsed wait; within: the limit; 0 */
    bool same_day;       /**< within: also not later than the named task's own civil day */
    bool if_started;     /**< after-clock: a clock that never started does not hold this back */
    struct condition when[CONDITIONS_MAX];
    size_t when_count; /**< all must hold; 0: always */
    enum mark mark;
    const char *source; /**< mark CP and no source for the plain order of the work */
};

#define WHO_LIST(X)                                                                                \
    X(OWNER, "owner")                                                                              \
    X(OFFICE, "office")                                                                            \
    X(CREW, "crew")                                                                                \
    X(MASON, "mason")                                                                              \
    X(INSPECTOR, "inspector")                                                                      \
    X(PLUMBER, "plumber")                                                                          \
    X(HVAC, "hvac")                                                                                \
    X(ROOFER, "roofer")                                                                            \
    X(FRAMER, "framer")                                                                            \
    X(SETTER, "setter")                                                                            \
    X(HOMEOWNER, "homeowner")
#define RULEBOOK_ENUM_WHO(name, id) WHO_##name,
enum who { WHO_LIST(RULEBOOK_ENUM_WHO) WHO_COUNT };
extern const struct id_table who_ids;

/** Quantities a duration is linear in: those of job.h and figures derived from them. */
#define MEASURE_LIST(X)                                                                            \
    X(COURSES, "courses")                                                                          \
    X(CHIMNEY_LOW_FT, "chimney_low_ft")   /* the first 12 ft */                                    \
    X(CHIMNEY_HIGH_FT, "chimney_high_ft") /* what is above 12 ft */                                \
    X(FLOOR_BRICK, "floor_brick")                                                                  \
    X(BACK_BRICK, "back_brick")                                                                    \
    X(SIDE_BRICK, "side_brick")                                                                    \
    X(PAD_FT2, "pad_ft2")                                                                          \
    X(PAD_YD3, "pad_yd3")                                                                          \
    X(TOWER_BLOCKS, "tower_blocks")                                                                \
    X(SLEEVES, "sleeves")                                                                          \
    X(DUCT_FT, "duct_ft")                                                                          \
    X(GAS_FT, "gas_ft")                                                                            \
    X(FACING_FT2, "facing_ft2")                                                                    \
    X(PALLETS, "pallets")                                                                          \
    X(DRIVE_H, "drive_h")
#define RULEBOOK_ENUM_MEASURE(name, id) MEASURE_##name,
enum measure { MEASURE_LIST(RULEBOOK_ENUM_MEASURE) MEASURE_COUNT };
extern const struct id_table measure_ids;

struct task_rule {
    enum task task;
    enum who who;
    int people;
    struct condition when[CONDITIONS_MAX];
    size_t when_count;
    struct task_link links[LINKS_MAX];
    size_t link_count;
    double hours_fixed; /**< h for the stated crew */
    struct {
        enum measure measure;
        double hours_each;
    } per[PER_MAX];
    size_t per_count;
    bool lining_hours; /**< thin lining: times thin-lining.factor */
    enum mark hours_mark;
    bool hold;                /**< a hold point: `done` alone releases nothing, `passed` does */
    bool inspection;          /**< passes by an inspection record */
    bool outdoors;            /**< weather gate applies when the place is not indoor */
    bool makes_joints;        /**< leaves green joints: night-cover is due */
    bool no_undo;             /**< cannot be undone once done */
    bool mortar;              /**< needs mortar out of a bag */
    const char *hours_source; /**< NULL when it has none */
    const char *name;         /**< plain name, English */
    const char *check;        /**< what is looked at before going on */
    const char *proof;        /**< what is kept */
};

/** For which openings a limit is: those of 6 ft2 or more, or smaller; an unknown one is large. */
enum opening_size { OPENING_ANY, OPENING_FROM_6_FT2, OPENING_UNDER_6_FT2 };

/** One figure that a measure is held against; all that act for a job have to hold. */
struct check_limit_rule {
    double figure; /**< in the unit of the check */
    bool at_most;  /**< else at least */
    enum mark mark;
    const char *source; /**< NULL when it has none */
    enum opening_size opening;
    struct condition when[CONDITIONS_MAX];
    size_t when_count;
};

enum { CHECK_LIMITS_MAX = 4 };

/** What is looked at, measured or counted before a task is done or passed. */
struct check_rule {
    enum check_kind kind;
    enum check_unit unit; /**< CHECK_UNIT_NONE unless a measure or a count */
    enum evidence evidence;
    bool optional;            /**< may be left out */
    enum quantity quantity;   /**< count: of how many, from the job; QUANTITY_NONE: it is said */
    enum clearance clearance; /**< the kit's own figure may take the place; CLEARANCE_NONE */
    struct check_limit_rule limits[CHECK_LIMITS_MAX];
    size_t limit_count;
    struct condition when[CONDITIONS_MAX]; /**< all must hold; none: always */
    size_t when_count;
    const char *says; /**< plain words, English */
};

struct rulebook {
    const char *id;
    const char *title;
    struct rule_number settings[SETTING_COUNT];
    const char *setting_units[SETTING_COUNT]; /**< as written in the JSON: "h", "F", … */
    const char *setting_says[SETTING_COUNT];
    struct clock_rule clocks[CLOCK_COUNT];
    struct task_rule tasks[TASK_COUNT];
    struct check_rule checks[CHECK_COUNT];
    void *owner; /**< memory of the loader */
};

/**
 * Read and check a rulebook; every fault is listed.
 *
 * @param[out] out      Own; free with rulebook_free. NULL on any status but OK.
 * @param[in]  path     File to read, at most 1 MiB.
 * @param[in]  sources  schema/sources.json: every `source` must be an id in it.
 * @param[in]  baseline The shipped rulebook that no number may open earlier than; NULL: none.
 * @param[in,out] faults All faults: path, found, wanted.
 * Status: OK, INVALID, LIMIT, NOT_FOUND, IO.
 */
MUST_USE enum status rulebook_load(struct rulebook **out, const char *path, const char *sources,
                                   const struct rulebook *baseline, struct faults *faults);

/**
 * Read and check a shipped rulebook, data_dir()/schema/rulebook/<id>.json.
 *
 * @param[out] out      Own; free with rulebook_free. NULL on any status but OK.
 * @param[in]  id       Lower-case letters, digits and `-` only.
 * @param[in,out] faults All faults.
 * Status: OK, INVALID (id or contents), NOT_FOUND, LIMIT, IO.
 */
MUST_USE enum status rulebook_load_shipped(struct rulebook **out, const char *id,
                                           struct faults *faults);

/** Free a rulebook; NULL is allowed. */
void rulebook_free(struct rulebook *rulebook);

/** A setting's value. */
static inline double rulebook_setting(const struct rulebook *rulebook, enum setting setting)
{
    return rulebook->settings[setting].value;
}

/**
 * Put another number into a copy of a rulebook, for a try.
 *
 * @param[in,out] book    The copy.
 * @param[in]     shipped What it may not be earlier than.
 * @param[in]     id      Of a setting.
 * @param[in]     value   In the unit the setting is written in.
 * @param[in,out] faults  An unknown id, a number out of bounds or on the earlier side.
 * Status: OK, INVALID.
 */
MUST_USE enum status rulebook_try_setting(struct rulebook *book, const struct rulebook *shipped,
                                          const char *id, double value, struct faults *faults);

/**
 * A rulebook with the owner's changes, in the order they were made.
 *
 * An id is that of a setting, or a clock's with `.need` or `.floor_h`: then every variant of the
 * clock that has less gets that number. None can make anything earlier than shipped.
 *
 * @param[out] out     A copy that borrows the rest from `shipped`.
 * @param[in]  changes Shape [count].
 * @param[in,out] faults `rules[N].id` or `.value`; the others are still applied.
 * Status: OK, INVALID.
 */
MUST_USE enum status rulebook_change(struct rulebook *out, const struct rulebook *shipped,
                                     const struct rule_change *changes, size_t count,
                                     struct faults *faults);

/** True when every condition holds for these options. */
bool rulebook_holds(const struct condition *conditions, size_t count,
                    const struct options *options);

/** The variant of a clock for these options; never NULL for a checked rulebook. */
const struct clock_variant *rulebook_variant(const struct clock_rule *rule,
                                             const struct options *options);

/**
 * Every rule as a plain sentence with its mark and source, in sections.
 *
 * @param[in,out] text      Added to; the caller checks text_status.
 * @param[in]     rulebook  Checked; borrowed.
 */
void rulebook_show(struct text *text, const struct rulebook *rulebook);

#endif
