/* SPDX-License-Identifier: MIT */
/*
 * Random companies for the property tests of the network: jobs with options, crews, inspectors,
 * trades, weather, records in and out of order. A company follows from its seed, can be made
 * smaller record by record and job by job, and written out as a case file.
 */
#ifndef EMBERWAIT_TESTS_FIRM_H
#define EMBERWAIT_TESTS_FIRM_H

#include <stdio.h>

#include "world.h"

enum { FIRM_JOBS_MAX = 3, FIRM_RECORDS_MAX = 110, FIRM_HOURS_MAX = 24 * 60, FIRM_DAYS_MAX = 24 };

struct firm_job {
    struct record records[FIRM_RECORDS_MAX];
    char ids[FIRM_RECORDS_MAX][12];
    size_t count;
    char id[8];
};

struct firm {
    struct firm_job own[FIRM_JOBS_MAX];
    struct job jobs[FIRM_JOBS_MAX];
    size_t job_count;
    double temp[FIRM_HOURS_MAX], rain[FIRM_HOURS_MAX], ahead[24 * 10], ahead_rain[24 * 10],
        ahead_gust[24 * 10];
    struct station station;
    struct crew crews[3];
    struct outside_party inspectors[2], trades[5];
    int32_t days_off[FIRM_DAYS_MAX], inspector_off[FIRM_DAYS_MAX];
    struct burn_ban bans[2];
    struct company company;
    struct casefile casefile;
};

/** Draw a company. `zones` are borrowed, [zone_count]. */
void firm_draw(struct firm *firm, uint64_t seed, struct zone *const *zones, size_t zone_count);
/** Copy; pointers inside are mended. */
void firm_copy(struct firm *to, const struct firm *from);
/** Point everything inside at the copy's own arrays. */
void firm_mend(struct firm *firm);
/** Append a blank record to a job; NULL when full. Mends. */
struct record *firm_add(struct firm *firm, size_t job, enum record_kind kind, int64_t at_s);
/** Leave one record or one job out. Mends. */
void firm_drop_record(struct firm *firm, size_t job, size_t index);
void firm_drop_job(struct firm *firm, size_t job);
/** Write it as a case file. */
void firm_print(const struct firm *firm, FILE *out);

#endif
