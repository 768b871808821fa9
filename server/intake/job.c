/* SPDX-License-Identifier: MIT */
/*
 * Why: a job with its options, quantities and records. Base, pad and place must be said, because a
 * guess there would move every date; what else is absent takes the usual value.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"
#include "intake/company.h"
#include "intake/field.h"
#include "intake/record.h"
#include "model/job.h"

#include "base/banned.h"

enum { LEAD_DAYS_MAX = 400 /**< business days: a year and a half */ };

static const char *const rulebook_text[] = {"modular-masonry"};
static const struct id_table rulebook_names = {"rulebook", rulebook_text, 1};

#define OPTION(id, member, table)                                                                  \
    {                                                                                              \
        .name = id, .type = FIELD_CHOICE, .choices = &(table),                                     \
        .offset = offsetof(struct options, member)                                                 \
    }
#define MUST(id, member, table)                                                                    \
    {                                                                                              \
        .name = id, .type = FIELD_CHOICE, .required = true, .choices = &(table),                   \
        .offset = offsetof(struct options, member)                                                 \
    }
#define FLAG(id, type_, member)                                                                    \
    {                                                                                              \
        .name = id, .type = FIELD_BOOL, .offset = offsetof(type_, member)                          \
    }

static enum status read_town(const struct intake *intake, const struct spot *spot, json_t *json,
                             struct town *out)
{
    static const struct field fields[] = {
        {"name", FIELD_NAME, .nullable = true, .offset = offsetof(struct town, name)},
        FLAG("throat_look", struct town, throat_look),
        {"build_on_floor_h", FIELD_NUMBER, .nullable = true, .least = 0, .most = 8760,
         .offset = offsetof(struct town, build_on_floor_h)},
        {"request_cutoff", FIELD_MINUTES, .nullable = true,
         .offset = offsetof(struct town, request_cutoff_min)},
        FLAG("seismic", struct town, seismic),
        FLAG("burn_ban_district", struct town, burn_ban_district),
        {"inspector", FIELD_ID, .nullable = true, .offset = offsetof(struct town, inspector)},
        {"holidays", FIELD_JSON, .nullable = true},
    };
    enum status status =
        field_read_object(intake, spot, json, fields, sizeof fields / sizeof *fields, out);
    json_t *holidays = json_is_object(json) ? json_object_get(json, "holidays") : NULL;
    if (holidays == NULL || json_is_null(holidays)) return status;
    struct spot here = {.up = spot, .key = "holidays"};
    return field_worse(status,
                       company_days(&out->days_off, &out->days_off_count, holidays, &here, intake));
}

static enum status read_options(const struct intake *intake, const struct spot *spot, json_t *json,
                                struct options *out)
{
    static const struct field fields[] = {
        MUST("base", base, base_ids),
        MUST("pad", pad, pad_option_ids),
        MUST("place", place, place_ids),
        OPTION("setting_out", setting_out, setting_out_ids),
        FLAG("outside_air", struct options, outside_air),
        OPTION("lighter", lighter, lighter_ids),
        OPTION("lining", lining, lining_option_ids),
        OPTION("facing", facing, facing_option_ids),
        FLAG("through_roof", struct options, through_roof),
        FLAG("permit", struct options, permit),
        FLAG("propped", struct options, propped),
        OPTION("mix", mix, mix_ids),
        {"town", FIELD_JSON, .nullable = true},
    };
    *out = (struct options){
        .permit = true,
        .town = {.build_on_floor_h = NAN, .request_cutoff_min = -1},
    };
    enum status status =
        field_read_object(intake, spot, json, fields, sizeof fields / sizeof *fields, out);
    json_t *town = json_object_get(json, "town");
    if (town != NULL && !json_is_null(town)) {
        struct spot here = {.up = spot, .key = "town"};
        status = field_worse(status, read_town(intake, &here, town, &out->town));
    }
    return status;
}

static enum status read_quantities(const struct intake *intake, const struct spot *spot,
                                   json_t *json, double out[QUANTITY_COUNT])
{
    struct field fields[QUANTITY_COUNT];
    for (size_t i = 0; i < QUANTITY_COUNT; i++) {
        fields[i] = (struct field){.name = quantity_ids.ids[i],
                                   .type = FIELD_NUMBER,
                                   .nullable = true,
                                   .least = 0,
                                   .most = 100000,
                                   .offset = i * sizeof *out};
    }
    return field_read_object(intake, spot, json, fields, QUANTITY_COUNT, out);
}

static enum status find_station(const struct intake *intake, const struct spot *spot,
                                const struct station *stations, size_t count, struct job *job)
{
    if (job->station_id == NULL || stations == NULL) return STATUS_OK;
    char wanted[FAULT_TEXT_MAX] = "a station of the case (it has none)";
    size_t used = 0;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(stations[i].id, job->station_id) == 0) {
            job->station = &stations[i];
            return STATUS_OK;
        }
        if (used + strlen(stations[i].id) + 24 < sizeof wanted) {
            used += (size_t)snprintf(wanted + used, sizeof wanted - used, "%s%s",
                                     used == 0 ? "one of " : ", ", stations[i].id);
        }
    }
    return field_fault(intake, spot, "station", wanted, "\"%s\"", job->station_id);
}

/* The members of a job that are not a plain value. */
static enum status read_nested(const struct intake *intake, const struct spot *spot, json_t *json,
                               struct job *job)
{
    json_t *options = json_object_get(json, "options");
    json_t *quantities = json_object_get(json, "quantities");
    json_t *records = json_object_get(json, "records");
    enum status status = STATUS_OK;
    struct spot here = {.up = spot, .key = "options"};
    if (options != NULL) status = read_options(intake, &here, options, &job->options);
    here.key = "quantities";
    if (quantities != NULL) {
        status = field_worse(status, read_quantities(intake, &here, quantities, job->quantities));
    }
    here.key = "records";
    if (records != NULL) {
        status = field_worse(status, records_read(&job->records, &job->record_count, records, &here,
                                                  job->zone, NULL, 0, intake));
    }
    return status;
}

/* What is read beside the job itself. */
struct job_row {
    struct job job;
    const char *zone_name;
    int rulebook;
};

static const struct field job_fields[] = {
    {"id", FIELD_ID, .required = true, .offset = offsetof(struct job_row, job.id)},
    {"name", FIELD_NAME, .nullable = true, .offset = offsetof(struct job_row, job.name)},
    {"time_zone", FIELD_ID, .nullable = true, .offset = offsetof(struct job_row, zone_name)},
    {"station", FIELD_ID, .nullable = true, .offset = offsetof(struct job_row, job.station_id)},
    {"rulebook", FIELD_CHOICE, .choices = &rulebook_names,
     .offset = offsetof(struct job_row, rulebook)},
    {"latitude", FIELD_NUMBER, .nullable = true, .least = -90, .most = 90,
     .offset = offsetof(struct job_row, job.latitude_deg)},
    {"longitude", FIELD_NUMBER, .nullable = true, .least = -180, .most = 180,
     .offset = offsetof(struct job_row, job.longitude_deg)},
    {"site_offset_degf", FIELD_DELTA_F, .nullable = true, .least = -30, .most = 0,
     .offset = offsetof(struct job_row, job.site_offset_degc)},
    {"access", FIELD_TEXT, .nullable = true, .offset = offsetof(struct job_row, job.access)},
    {"address", FIELD_TEXT, .nullable = true, .offset = offsetof(struct job_row, job.address)},
    {"homeowner", FIELD_NAME, .nullable = true, .offset = offsetof(struct job_row, job.homeowner)},
    {"homeowner_mail", FIELD_MAIL, .nullable = true,
     .offset = offsetof(struct job_row, job.homeowner_mail)},
    {"homeowner_language", FIELD_CHOICE, .choices = &language_ids,
     .offset = offsetof(struct job_row, job.homeowner_language)},
    {"note", FIELD_TEXT, .nullable = true, .offset = offsetof(struct job_row, job.note)},
    {"crew", FIELD_ID, .nullable = true, .offset = offsetof(struct job_row, job.crew_id)},
    {"site", FIELD_NAME, .nullable = true, .offset = offsetof(struct job_row, job.site)},
    {"kit", FIELD_ID, .nullable = true, .offset = offsetof(struct job_row, job.kit_id)},
    {"wanted_fire", FIELD_DATE, .nullable = true,
     .offset = offsetof(struct job_row, job.wanted_fire_day)},
    {"permit_lead_days", FIELD_INTEGER, .nullable = true, .least = 0, .most = LEAD_DAYS_MAX,
     .offset = offsetof(struct job_row, job.permit_lead_days)},
    {"kit_lead_days", FIELD_INTEGER, .nullable = true, .least = 0, .most = LEAD_DAYS_MAX,
     .offset = offsetof(struct job_row, job.kit_lead_days)},
    {"options", FIELD_JSON, .required = true},
    {"quantities", FIELD_JSON, .required = false},
    {"records", FIELD_JSON, .required = false},
};

enum status intake_job(struct job *out, json_t *json, const char *path,
                       const struct zone *company_zone, const struct station *stations,
                       size_t station_count, const struct intake *intake)
{
    struct spot spot = {.key = path};
    struct job_row row = {.job = {.zone = company_zone,
                                  .latitude_deg = NAN,
                                  .longitude_deg = NAN,
                                  .wanted_fire_day = DAY_NONE,
                                  .permit_lead_days = -1,
                                  .kit_lead_days = -1,
                                  .rulebook_id = rulebook_text[0]}};
    struct job *job = &row.job;
    for (size_t i = 0; i < QUANTITY_COUNT; i++) job->quantities[i] = NAN;
    enum status status = field_read_object(intake, &spot, json, job_fields,
                                           sizeof job_fields / sizeof *job_fields, &row);
    if (!json_is_object(json)) return status;
    if (row.zone_name != NULL) {
        struct fault fault = {.wanted = ""};
        enum status zone = intake_zones_get(&job->zone, intake->zones, row.zone_name, &fault);
        if (zone == STATUS_LIMIT) return field_no_memory(intake, &spot);
        if (zone != STATUS_OK) {
            status = field_fault_value(intake, &spot, "time_zone",
                                       fault.wanted[0] != '\0' ? fault.wanted : "an IANA zone",
                                       json_object_get(json, "time_zone"));
        }
    }
    job->rulebook_id = rulebook_text[row.rulebook];
    if (job->name == NULL) job->name = job->id;
    status = field_worse(status, find_station(intake, &spot, stations, station_count, job));
    status = field_worse(status, read_nested(intake, &spot, json, job));
    if (status == STATUS_OK) *out = *job;
    return status;
}
