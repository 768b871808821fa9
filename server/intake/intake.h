/* SPDX-License-Identifier: MIT */
/*
 * JSON -> model, for everything that comes from outside: a whole case file, and one job, record,
 * company, station or series at a time for the server and the store. Nothing behind this door ever
 * looks at raw JSON again.
 *
 * Every fault is reported, not only the first; each says where (`jobs[0].records[3].degf`), what
 * was found and what was wanted. Members nobody knows are refused by name: a misspelt `degf` would
 * otherwise be a reading that silently earns nothing. Text and numbers are copied into the arena,
 * so the JSON may go once the call is back.
 *
 * Reading order: field (one member), record_members (the table of members by record kind), record,
 * series, company, job, casefile.
 */
#ifndef EMBERWAIT_INTAKE_INTAKE_H
#define EMBERWAIT_INTAKE_INTAKE_H

#include <jansson.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/status.h"
#include "base/zone.h"
#include "model/job.h"
#include "model/take_over.h"

/** Zones already read, by name. Models borrow their zones from it: free it after them. */
struct intake_zones;

/** An empty cache; NULL when there is no memory. Own; free with intake_zones_free. */
struct intake_zones *intake_zones_new(void);
/** Free the cache and every zone in it; NULL is allowed. */
void intake_zones_free(struct intake_zones *zones);
/**
 * A zone by its IANA name, read on first use. Not for several threads at once.
 *
 * @param[out]    out    Borrow, as long as the cache lives.
 * @param[in,out] zones  The cache.
 * @param[in]     name   NUL-ended name.
 * @param[out]    fault  found / wanted; may be NULL.
 * Status: as zone_load, and LIMIT when there is no memory.
 */
MUST_USE enum status intake_zones_get(const struct zone **out, struct intake_zones *zones,
                                      const char *name, struct fault *fault);

/** What every intake call works with; all borrowed. */
struct intake {
    struct arena *arena;        /**< takes the model; must outlive it */
    struct intake_zones *zones; /**< must outlive the model */
    struct faults *faults;      /**< takes every fault */
};

/**
 * Read a whole case.
 *
 * @param[out] out     In the arena. NULL on any status but OK.
 * @param[in]  root    Parsed JSON; borrowed.
 * @param[in]  intake  Arena, zones, faults.
 * Status: OK, INVALID (see the faults), LIMIT (no memory).
 */
MUST_USE enum status intake_case(struct casefile **out, json_t *root, const struct intake *intake);

/**
 * Read a whole case from its bytes.
 *
 * @param[out] out     In the arena. NULL on any status but OK.
 * @param[in]  bytes   JSON text, UTF-8, at most CASE_BYTES_MAX, need not end in NUL.
 * @param[in]  length  Bytes.
 * @param[in]  intake  Arena, zones, faults.
 * Status: OK, INVALID, LIMIT (too large, or no memory).
 */
MUST_USE enum status intake_case_text(struct casefile **out, const char *bytes, size_t length,
                                      const struct intake *intake);

/**
 * Parse JSON bytes the strict way: no duplicate members, no bytes behind the value, valid UTF-8, at
 * most JSON_DEPTH_MAX deep. Whole numbers come out as reals, so that no number is too big to be
 * named in a fault.
 *
 * @param[out] out     Own; json_decref. NULL on any status but OK.
 * @param[in]  bytes   JSON text, need not end in NUL.
 * @param[in]  length  Bytes.
 * @param[in]  faults  The path of a fault is `line L:C`.
 * Status: OK, INVALID, LIMIT (longer than CASE_BYTES_MAX).
 */
MUST_USE enum status intake_parse(json_t **out, const char *bytes, size_t length,
                                  struct faults *faults);

/**
 * Read a list of records of one job.
 *
 * The same id with the same body counts once; with another body it is a fault. A `corrected` record
 * must name a record of this list or of `stored`.
 *
 * @param[out] out           In the arena, in the order given.
 * @param[out] out_count     Records kept.
 * @param[in]  array         JSON array of records; borrowed.
 * @param[in]  path          Where the array stands, for faults: `jobs[0].records`.
 * @param[in]  zone          Zone of the job, for civil days; borrowed. NULL: dates not compared.
 * @param[in]  stored        Records the job has already; borrowed. May be NULL.
 * @param[in]  stored_count  Their number.
 * @param[in]  intake        Arena, zones, faults.
 * Status: OK, INVALID, LIMIT.
 */
MUST_USE enum status intake_records(const struct record **out, size_t *out_count, json_t *array,
                                    const char *path, const struct zone *zone,
                                    const struct record *stored, size_t stored_count,
                                    const struct intake *intake);

/**
 * Read one record. Parameters as intake_records; `out` is filled only on OK.
 *
 * @param[out] out           Filled; points into the arena.
 * @param[in]  json          JSON object; borrowed.
 * @param[in]  path          Where it stands, for faults.
 * @param[in]  zone          Zone of the job; borrowed, may be NULL.
 * @param[in]  stored        Records the job has already; may be NULL.
 * @param[in]  stored_count  Their number.
 * @param[in]  intake        Arena, zones, faults.
 * Status: OK, INVALID, LIMIT.
 */
MUST_USE enum status intake_record(struct record *out, json_t *json, const char *path,
                                   const struct zone *zone, const struct record *stored,
                                   size_t stored_count, const struct intake *intake);

/**
 * Read what is taken over of a half-built job.
 *
 * @param[out] out     Filled on OK; points into the arena.
 * @param[in]  json    JSON object; borrowed.
 * @param[in]  path    Where it stands, for faults.
 * @param[in]  zone    Zone of the job, for civil days; borrowed.
 * @param[in]  now_s   Work after it is refused.
 * @param[in]  intake  Arena, faults.
 * Status: OK, INVALID, LIMIT.
 */
MUST_USE enum status intake_take_over(struct take_over *out, json_t *json, const char *path,
                                      const struct zone *zone, int64_t now_s,
                                      const struct intake *intake);

/**
 * Read a job, with or without its `records`.
 *
 * @param[out] out            Filled on OK; points into the arena.
 * @param[in]  json           JSON object; borrowed.
 * @param[in]  path           Where it stands, for faults.
 * @param[in]  company_zone   Zone of a job that names none; borrowed.
 * @param[in]  stations       Where `station` is looked up; borrowed. NULL: taken as it is, and
 *                            out->station stays NULL.
 * @param[in]  station_count  Their number.
 * @param[in]  intake         Arena, zones, faults.
 * Status: OK, INVALID, LIMIT.
 */
MUST_USE enum status intake_job(struct job *out, json_t *json, const char *path,
                                const struct zone *company_zone, const struct station *stations,
                                size_t station_count, const struct intake *intake);

/**
 * Read a company: zone, working calendar, crews, inspectors, other trades.
 *
 * @param[out] out     Filled on OK; points into the arena and the zone cache.
 * @param[in]  json    JSON object; borrowed.
 * @param[in]  path    Where it stands, for faults.
 * @param[in]  intake  Arena, zones, faults.
 * Status: OK, INVALID, LIMIT.
 */
MUST_USE enum status intake_company(struct company *out, json_t *json, const char *path,
                                    const struct intake *intake);

/**
 * The member `proposal` of a case: an earlier proposal for the crews.
 *
 * @param[in,out] out    Its proposal is filled, in the arena.
 * @param[in]     array  Borrow; NULL: there was none.
 * @param[in]     intake Arena, zones, faults.
 * Status: OK, INVALID, LIMIT.
 */
MUST_USE enum status intake_proposal(struct casefile *out, json_t *array,
                                     const struct intake *intake);

/**
 * Read a station.
 *
 * @param[out] out     Filled on OK; points into the arena.
 * @param[in]  id      Its id, NUL-ended; copied.
 * @param[in]  json    JSON object; borrowed.
 * @param[in]  path    Where it stands, for faults.
 * @param[in]  intake  Arena, zones, faults.
 * Status: OK, INVALID, LIMIT.
 */
MUST_USE enum status intake_station(struct station *out, const char *id, json_t *json,
                                    const char *path, const struct intake *intake);

/**
 * Read a series of hours: `start` on a whole UTC hour, arrays of one length, null a missing hour.
 *
 * @param[out] out         Filled on OK; arrays in the arena.
 * @param[out] out_made_s  `made`, when a forecast was made; INSTANT_NONE when absent. NULL: the
 *                         member is not known here.
 * @param[in]  json        JSON object; borrowed.
 * @param[in]  path        Where it stands, for faults.
 * @param[in]  intake      Arena, zones, faults.
 * Status: OK, INVALID, LIMIT.
 */
MUST_USE enum status intake_series(struct series *out, int64_t *out_made_s, json_t *json,
                                   const char *path, const struct intake *intake);

#endif
