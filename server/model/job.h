/* SPDX-License-Identifier: MIT */
/* A job, the company that does it, and a case: everything one plan is worked out from. */
#ifndef EMBERWAIT_MODEL_JOB_H
#define EMBERWAIT_MODEL_JOB_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/zone.h"
#include "model/check.h"
#include "model/ids.h"
#include "model/record.h"
#include "model/series.h"

/** What this town asks for beyond the default. */
struct town {
    const char *name;        /**< NULL when absent */
    bool throat_look;        /**< inspector sees the throat before it is covered */
    double build_on_floor_h; /**< NAN when absent; lengthens pad.build-on */
    int request_cutoff_min;  /**< minutes after local midnight of the business day before; -1 */
    bool seismic;            /**< bars, ties and straps are asked for */
    bool burn_ban_district;
    const char *inspector; /**< id of the inspector who serves it; NULL: by name, else the first */
    const int32_t *days_off; /**< its own holidays: nobody inspects then; ascending */
    size_t days_off_count;
};

struct options {
    enum base base;      /**< must be given */
    enum pad_option pad; /**< must be given */
    enum place place;    /**< must be given */
    enum setting_out setting_out;
    bool outside_air;
    enum lighter lighter;
    enum lining_option lining;
    enum facing_option facing;
    bool through_roof;
    bool permit; /**< default true */
    bool propped;
    enum mix mix;
    struct town town;
};

#define QUANTITY_LIST(X)                                                                           \
    X(OPENING_WIDTH_IN, "opening_width_in")                                                        \
    X(OPENING_HEIGHT_IN, "opening_height_in")                                                      \
    X(COURSES, "courses")                                                                          \
    X(CHIMNEY_FT, "chimney_ft")                                                                    \
    X(BLOCK_RISE_IN, "block_rise_in")                                                              \
    X(FLOOR_BRICK, "floor_brick")                                                                  \
    X(BACK_BRICK, "back_brick")                                                                    \
    X(SIDE_BRICK, "side_brick")                                                                    \
    X(PAD_FT2, "pad_ft2")                                                                          \
    X(PAD_THICKNESS_IN, "pad_thickness_in")                                                        \
    X(TOWER_FT, "tower_ft")                                                                        \
    X(TOWER_BLOCKS, "tower_blocks")                                                                \
    X(SLEEVES, "sleeves")                                                                          \
    X(DUCT_FT, "duct_ft")                                                                          \
    X(GAS_FT, "gas_ft")                                                                            \
    X(FACING_FT2, "facing_ft2")                                                                    \
    X(PALLETS, "pallets")                                                                          \
    X(DRIVE_H, "drive_h")
#define JOB_ENUM_QUANTITY(name, id) QUANTITY_##name,
enum quantity { QUANTITY_LIST(JOB_ENUM_QUANTITY) QUANTITY_COUNT, QUANTITY_NONE = -1 };
extern const struct id_table quantity_ids;

/** A kit's own printed sheet, entered once. It lengthens; what would shorten is shown, not used. */
struct kit {
    const char *id;
    const char *name;     /**< NULL when absent */
    const char *revision; /**< of the instruction sheet; NULL when absent */
    const char *page;     /**< the listing page its distances stand on; NULL: none is named */
    double floor_h[CLOCK_COUNT];           /**< NAN when absent */
    double need[CLOCK_COUNT];              /**< in the clock's unit; NAN when absent */
    double clearances_in[CLEARANCE_COUNT]; /**< in; NAN when absent */
    double bag_min_degc;                   /**< NAN when absent */
};
#define LANGUAGE_LIST(X) X(EN, "en") X(ES, "es")
#define JOB_ENUM_LANGUAGE(name, id) LANGUAGE_##name,
/** Languages that pages and messages come in; English is what is taken when nobody said. */
enum language { LANGUAGE_LIST(JOB_ENUM_LANGUAGE) LANGUAGE_COUNT };
extern const struct id_table language_ids;

struct job {
    const char *id;
    const char *name;
    const struct zone *zone;       /**< borrow */
    const char *station_id;        /**< NULL: no station */
    const struct station *station; /**< borrow; NULL: no station */
    const char *rulebook_id;       /**< default "modular-masonry" */
    struct options options;
    double latitude_deg; /**< NAN when absent */
    double longitude_deg;
    double site_offset_degc; /**< added to every station figure; 0 when absent, never above 0 */
    double quantities[QUANTITY_COUNT]; /**< NAN when absent */
    const struct record *records;      /**< in the order given */
    size_t record_count;
    /* what the crew and the homeowner need to know; NULL when absent */
    const char *access; /**< gate, lockbox hint, pets, parking */
    const char *address;
    const char *homeowner;
    const char *homeowner_mail;
    enum language homeowner_language;
    const char *note;
    const char *crew_id;     /**< the crew that usually goes there */
    const char *site;        /**< jobs with one site stand at one address; NULL: its own */
    const char *kit_id;      /**< NULL: no sheet on file */
    int32_t wanted_fire_day; /**< work back from here; DAY_NONE: from the date agreed, if any */
    int permit_lead_days;    /**< business days from the site walk; -1: nobody said */
    int kit_lead_days;       /**< business days from the order; -1: nobody said */
};

struct crew {
    const char *id;
    const char *name; /**< NULL when absent */
    const char *mail; /**< NULL when absent */
    int people;
};

/** A daily window, minutes after local midnight. */
struct window {
    int from_min;
    int until_min;
};

/** An inspector or another trade: which days, which hours, how far ahead it must be asked. */
struct outside_party {
    const char *id;
    const char *name;
    unsigned work_days; /**< bit 0 = Monday */
    struct window hours;
    int request_cutoff_min; /**< -1 when absent */
    unsigned serves;        /**< inspector: days of visits, bits as work_days; 0: the work_days */
    int request_days;       /**< business days ahead that a visit is asked for; 1 */
    const int32_t *days_off;
    size_t days_off_count;
    const char *phone;
};

/** Days on which nobody may light a fire. */
struct burn_ban {
    int32_t from_day;
    int32_t until_day; /**< the last day of it; DAY_NONE: nobody knows yet */
    const char *town;  /**< name of the town; NULL: everywhere */
};

/** A number of the rulebook that the owner changed, later only. The latest of an id is in force. */
struct rule_change {
    const char *id; /**< of a setting, or CLOCK.need, CLOCK.floor_h */
    double value;   /**< in the unit the rulebook writes it in */
    const char *reason;
    const char *by;
    int64_t at_s;
};

struct company {
    const char *name;        /**< NULL when absent */
    const char *phone;       /**< NULL when absent */
    const char *mail_from;   /**< whom messages come from; NULL when absent */
    const char *alarm_mail;  /**< who is told when something went wrong; NULL when absent */
    const struct zone *zone; /**< borrow */
    unsigned work_days;      /**< bit 0 = Monday */
    struct window hours;     /**< in the company's zone */
    struct window lunch;     /**< from == until: none */
    const int32_t *days_off; /**< civil days, days_off and holidays together, ascending */
    size_t days_off_count;
    const struct crew *crews;
    size_t crew_count;
    const struct outside_party *inspectors;
    size_t inspector_count;
    const struct outside_party *trades;
    size_t trade_count;
    const struct burn_ban *burn_bans;
    size_t burn_ban_count;
    int photos_mib;         /**< room for all photos together */
    const struct kit *kits; /**< sheets, by id */
    size_t kit_count;
    const struct rule_change *rules; /**< in the order they were made */
    size_t rule_count;
};

/** A kit of the company by its id; NULL when it has none of that id, or `id` is NULL. */
const struct kit *company_kit(const struct company *company, const char *id);

struct crew_kept;

/** A case: what `plan` reads and what the store hands to the planner. */
struct casefile {
    int64_t now_s;
    const struct zone *now_zone; /**< how `now` is printed back; the company's zone */
    struct company company;
    const struct station *stations;
    size_t station_count;
    const struct job *jobs;
    size_t job_count;
    const struct crew_kept *proposal; /**< an earlier proposal for the crews; NULL: none */
    size_t proposal_count;
};

#endif
