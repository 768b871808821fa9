/* SPDX-License-Identifier: MIT */
/*
 * One thing that somebody wrote down: what happened, when, and who says so. Flat on purpose: every
 * kind uses the members its own rules name (intake/record.c has the list), the rest keep their
 * "absent" value, so no reader ever has to ask which arm of a union is alive.
 */
#ifndef EMBERWAIT_MODEL_RECORD_H
#define EMBERWAIT_MODEL_RECORD_H

#include <stdbool.h>
#include <stdint.h>

#include "model/check.h"
#include "model/ids.h"

/** Absent instants and civil days. */
#define INSTANT_NONE INT64_MIN
#define DAY_NONE INT32_MIN

/**
 * A record. Strings are borrowed (arena of the case) and NULL when absent; numbers are NAN when
 * absent; enums are their _NONE; instants INSTANT_NONE; days DAY_NONE.
 */
struct record {
    const char *id;
    enum record_kind kind;
    int64_t at_s;       /**< when it happened */
    int64_t received_s; /**< when the office got it */
    const char *by;     /**< who did, saw or decided it */
    const char *who;    /**< who wrote it down */

    enum task task; /**< done, started, stopped, passed, failed, inspection, booked, held-date */
    enum part part; /**< reading, closed-in, opened, soaked, looked, wet covers */
    enum shelter shelter; /**< closed-in, opened: `how` */
    enum reading_how how; /**< reading: `how` */
    double temp_degc;     /**< reading, degC; 1-to-1 from degf or degc */
    bool in_degf;         /**< the reading was written in degF */

    int32_t day;        /**< logged-day, agreed, held-date, booked: `date`, civil day since 1970 */
    double mean_degc;   /**< logged-day */
    double min_degc;    /**< logged-day */
    bool standing;      /**< soaked: water stood on the shelf */
    bool last;          /**< facing: the last of it */
    enum result result; /**< looked: no-damage-seen or redo; inspection: passed… */
    enum relaid_what what; /**< relaid */
    double percent;        /**< relaid side, % of the panel */
    int days;              /**< patched: 7 or 28; 0 absent */
    const char *initials;  /**< patched with 7 days: the owner's; done, passed: who checked */

    const struct check_result *checks; /**< done, passed, inspection: what was measured */
    size_t check_count;
    bool taken_over; /**< done, passed, inspection: vouched for, not seen by us */

    enum clock_id clock; /**< accepted: `clock`; engineer, overridden: `rule` */
    enum check_id check; /**< overridden: `rule` check.<task>.<check>; else CHECK_NONE */
    enum task excuses;   /**< overridden: `rule` missed.<task>; else TASK_NONE */
    const char *rule;    /**< overridden: as written */
    double floor_h;      /**< engineer, overridden, h */
    double need;         /**< engineer, overridden, in the clock's unit */
    const char *reason;
    const char *sheet; /**< engineer: which sheet; overridden of a check: the listing's page */

    const char *corrects;      /**< corrected: id of the record it names */
    const struct record *with; /**< corrected: the new body; NULL withdraws the record */

    const char *lot;              /**< bag; done, started: the lot that was used */
    enum bag_condition condition; /**< bag: how it was found; BAG_DRY when nobody said */
    enum mortar mortar;           /**< bag */
    double bag_min_degc;          /**< bag: minimum temperature, degC */
    double bag_max_degc;          /**< bag: maximum temperature, degC */
    double bag_min_for_h;         /**< bag: kept above the minimum this long, h */
    double pot_life_min;          /**< bag, minutes */
    int32_t made_on;              /**< bag, civil day */
    double months;                /**< bag: months allowed */

    enum stop_why why;     /**< stopped */
    const char *text;      /**< note, and any record's `note` */
    const char *photo;     /**< name of a photo kept with the record */
    const char *inspector; /**< inspection: `inspector`, the name */
    int fire_number;       /**< fire: 1..5; 0 absent */
    bool stop_sign;        /**< fire: a stop sign was seen */
    enum fire_sign sign;   /**< fire: which one */
    bool told;             /**< note: the homeowner was told where the date stands */
    bool complete;         /**< delivered: all of it, unbroken */
    const char *item;      /**< delivered, booked: what */
    int64_t until_s;       /**< booked: end of the window */
};

/** A record of a kind and instant with every other member absent. */
struct record record_blank(enum record_kind kind, int64_t at_s);

#endif
