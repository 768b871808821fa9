/* SPDX-License-Identifier: MIT */
/*
 * Every ceiling of the program in one place, each with its reason. A limit that is reached is said
 * (STATUS_LIMIT with the fault that names it), never a silent cut.
 */
#ifndef EMBERWAIT_BASE_LIMITS_H
#define EMBERWAIT_BASE_LIMITS_H

#define INSTANT_MIN_S 0LL          /**< 1970-01-01T00:00:00Z; nothing older is a job of ours */
#define INSTANT_MAX_S 7258118400LL /**< 2200-01-01T00:00:00Z; year arithmetic stays exact */

#define PASSWORD_WAIT_S 0.3 /**< for another's password to be stretched; then: try again */

enum {
    FAULTS_MAX = 200,             /**< faults reported of one input; more are counted */
    SERIES_SAMPLES_MAX = 1000000, /**< hours in one series: 114 years */
    JSON_DEPTH_MAX = 32,          /**< nesting; a case file needs 9 */
    CASE_BYTES_MAX = 268435456,   /**< one case file, 256 MiB: 1,000 jobs with 50 years of hours */
    JOBS_MAX = 20000,             /**< jobs in one case or store */
    RECORDS_PER_JOB_MAX = 20000,  /**< a year of half-hourly readings */
    STATIONS_MAX = 1000,
    HISTORY_YEARS_MAX = 200,
    CREWS_MAX = 64,
    PROPOSAL_MAX = 100000,   /**< pieces of an earlier proposal: 64 crews, 21 days, 70 a day */
    ID_BYTES_MAX = 80,       /**< ids of jobs, stations, crews, records */
    NAME_BYTES_MAX = 200,    /**< names of jobs and people */
    MAIL_LOCAL_MAX = 64,     /**< RFC 5321, 4.5.3.1.1 */
    MAIL_BYTES_MAX = 254,    /**< a whole address: RFC 5321, 4.5.3.1.3 less the brackets */
    TEXT_BYTES_MAX = 4000,   /**< notes and reasons */
    DAYS_OFF_MAX = 2000,     /**< company days off and holidays */
    COUNTED_DAYS_MAX = 4000, /**< days a counted-day clock is followed: eleven years */

    PASSWORD_CHARACTERS_MIN = 10, /**< beside one try a minute, length is what counts */
    PASSWORD_BYTES_MAX = 256,     /**< nobody types more; what is stretched has a ceiling */
    PASSWORD_OPERATIONS = 2,      /**< passes of Argon2id: libsodium's interactive ... */
    PASSWORD_MEMORY_MIB = 64,     /**< ... 60 ms; three times the least that is advised (19 MiB) */
    PASSWORDS_AT_ONCE = 1,        /**< stretched together: one of two processors is left ... */
    PASSWORDS_WAITING = 1,        /**< ... and this many wait their turn, each in a thread */
    SESSION_IDLE_S = 3 * 86400,   /**< an office that is shut over a long weekend */
    SESSION_S = 30 * 86400,       /**< then the password is asked for again */
    HEALTH_KEPT_S = 5,            /**< a watcher asks every ten seconds or so */
    SEEN_EVERY_S = 300,           /**< "used last" is right within that: no write a request */

    PHOTO_BYTES_MAX = 2 << 20, /**< one photo; a phone's, shrunk to 1,600 pixels, has 0.2-0.6 MB */
    PHOTO_EDGE_MAX = 12000,    /**< pixels; the largest phone cameras of today make 12,000 */
    PHOTOS_MIB_DEFAULT = 4096, /**< all photos of a company: 50 a job, 25 jobs, five years */
    PHOTOS_MIB_MAX = 1024 * 1024, /**< what a company may set: a copy of it still fits one disk */
};

#endif
