/* SPDX-License-Identifier: MIT */
/*
 * The jobs of the demonstration as tables: what was written down, and when, counted from a moment
 * of the job (the pour, the last wet work) that moves with now. Everything is kept in working
 * hours, because nobody pours on a Sunday.
 */
#ifndef EMBERWAIT_APP_DEMO_JOB_H
#define EMBERWAIT_APP_DEMO_JOB_H

#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/instant.h"
#include "base/json.h"
#include "base/zone.h"

/** How the time of a line is told. */
enum demo_when {
    DEMO_WORK_DAYS, /**< `n` working days after the moment's day (and the part's), at the wall clock
                     */
    DEMO_MINUTES,   /**< `n` minutes after the moment; `at` > 0: came in that long before now */
    DEMO_TODAY,     /**< `n` civil days after today, at the wall clock */
};

/**
 * One record. `more` is its further members as JSON with ' for ", and dates as `<w-3+28>`: working
 * days, then civil days, after the moment's day; `<n+2>` the same after today.
 */
struct demo_line {
    enum demo_when when;
    int n;
    int at; /**< wall clock, hour * 100 + minute */
    const char *kind;
    const char *more; /**< NULL: none */
};

/* The tables are written with these. */
#define WORK(days, hhmm, kind, more)                                                               \
    {                                                                                              \
        DEMO_WORK_DAYS, (days), (hhmm), kind, more                                                 \
    }
#define AFTER(minutes, kind, more)                                                                 \
    {                                                                                              \
        DEMO_MINUTES, (minutes), 0, kind, more                                                     \
    }
#define LATE(minutes, before_now, kind, more)                                                      \
    {                                                                                              \
        DEMO_MINUTES, (minutes), (before_now), kind, more                                          \
    }
#define LINES_END                                                                                  \
    {                                                                                              \
        .kind = NULL                                                                               \
    }
#define TODAY(days, hhmm, kind, more)                                                              \
    {                                                                                              \
        DEMO_TODAY, (days), (hhmm), kind, more                                                     \
    }

/** A stretch of lines that several jobs share, so many working days after the job's moment. */
struct demo_part {
    const struct demo_line *lines; /**< to LINES_END */
    int work_days;
};

/** The same reading taken again and again. */
struct demo_readings {
    const char *part;
    const char *how;
    int from_day, until_day; /**< civil days after the moment's day */
    int every;               /**< days */
    int at[2];               /**< wall clock; 0: not */
    double degf;
    double spread_degf; /**< at most so far off */
};

enum { DEMO_PARTS_MAX = 12, DEMO_READINGS_MAX = 3 };

/** One job. */
struct demo_job {
    const char *head; /**< members of the job but `records`, as `more` of a line */
    const char *lead; /**< who writes unless a line says */
    const char *inspector;
    int before_min; /**< the moment is so long before now, then back into working hours */
    struct demo_part parts[DEMO_PARTS_MAX];
    struct demo_readings readings[DEMO_READINGS_MAX];
    const char *logged; /**< logged days from the moment's next day to yesterday: F full, H half, Z
                             nothing; the last letter goes on. NULL: none */
};

/** The jobs: from the first walk to the finished box, and from the lining to the first fire. */
extern const struct demo_job demo_jobs_base[];
extern const size_t demo_jobs_base_count;
extern const struct demo_job demo_jobs_unit[];
extern const size_t demo_jobs_unit_count;

/* What jobs have in common, each to LINES_END: demo_parts.c. */
extern const struct demo_line demo_part_office[];
extern const struct demo_line demo_part_footing[];
extern const struct demo_line demo_part_existing_pad[];
extern const struct demo_line demo_part_tower[];
extern const struct demo_line demo_part_steel[];
extern const struct demo_line demo_part_pour_in_room[];
extern const struct demo_line demo_part_pad_released[];
extern const struct demo_line demo_part_box[];
extern const struct demo_line demo_part_stack[];
extern const struct demo_line demo_part_lining[];
extern const struct demo_line demo_part_framed[];
extern const struct demo_line demo_part_hearth[];
extern const struct demo_line demo_part_roof[];
extern const struct demo_line demo_part_air[];
extern const struct demo_line demo_part_gas[];
extern const struct demo_line demo_part_lighter_top[];

/**
 * Write one job with its records up to now, in the order in which they came in.
 *
 * @param[in,out] json  Inside the array `jobs`.
 * @param[in]     job   Borrowed.
 * @param[in]     index Its place among all jobs; goes into the ids of its records.
 * @param[in]     now_s Now.
 * @param[in]     zone  Of the valley; borrowed.
 * @param[in]     arena For the records while they are put in order; see arena_failed.
 */
void demo_job_write(struct json *json, const struct demo_job *job, size_t index, int64_t now_s,
                    const struct zone *zone, struct arena *arena);

#endif
