/* SPDX-License-Identifier: MIT */
/* Why: see app_csv_cells.h. */
#include "app/app_csv_cells.h"

#include <stdio.h>
#include <string.h>

#include "base/instant.h"
#include "compute/civil.h"
#include "model/job.h"

#include "base/banned.h"

enum { DAY_S = 86400 };

const char *app_csv_plain(const char *cell)
{
    const bool guarded = cell[0] == '\'' && cell[1] != '\0' && strchr("=+-@\t\r'", cell[1]) != NULL;
    return guarded ? cell + 1 : cell;
}

int app_csv_truth(const char *cell)
{
    static const char *const yes[] = {"yes", "true", "1", "x", "y", "s\u00ed", "si"};
    static const char *const no[] = {"no", "false", "0", "n"};
    for (size_t i = 0; i < sizeof yes / sizeof *yes; i++)
        if (strcmp(cell, yes[i]) == 0) return 1;
    for (size_t i = 0; i < sizeof no / sizeof *no; i++)
        if (strcmp(cell, no[i]) == 0) return 0;
    return -1;
}

static const struct app_csv_column job_columns[] = {
    {"id", NULL, FIELD_ID},
    {"name", NULL, FIELD_TEXT},
    {"time_zone", NULL, FIELD_TEXT},
    {"station", NULL, FIELD_TEXT},
    {"rulebook", NULL, FIELD_TEXT},
    {"crew", NULL, FIELD_TEXT},
    {"site", NULL, FIELD_TEXT},
    {"kit", NULL, FIELD_TEXT},
    {"address", NULL, FIELD_TEXT},
    {"access", NULL, FIELD_TEXT},
    {"note", NULL, FIELD_TEXT},
    {"homeowner", NULL, FIELD_TEXT},
    {"homeowner_mail", NULL, FIELD_TEXT},
    {"homeowner_language", NULL, FIELD_TEXT},
    {"latitude", NULL, FIELD_NUMBER},
    {"longitude", NULL, FIELD_NUMBER},
    {"site_offset_degf", NULL, FIELD_NUMBER},
    {"wanted_fire", NULL, FIELD_TEXT},
    {"permit_lead_days", NULL, FIELD_NUMBER},
    {"kit_lead_days", NULL, FIELD_NUMBER},
    {"base", "options", FIELD_TEXT},
    {"pad", "options", FIELD_TEXT},
    {"place", "options", FIELD_TEXT},
    {"setting_out", "options", FIELD_TEXT},
    {"outside_air", "options", FIELD_BOOL},
    {"lighter", "options", FIELD_TEXT},
    {"lining", "options", FIELD_TEXT},
    {"facing", "options", FIELD_TEXT},
    {"through_roof", "options", FIELD_BOOL},
    {"permit", "options", FIELD_BOOL},
    {"propped", "options", FIELD_BOOL},
    {"mix", "options", FIELD_TEXT},
    {"town.name", "town", FIELD_TEXT},
    {"town.throat_look", "town", FIELD_BOOL},
    {"town.build_on_floor_h", "town", FIELD_NUMBER},
    {"town.request_cutoff", "town", FIELD_TEXT},
    {"town.seismic", "town", FIELD_BOOL},
    {"town.burn_ban_district", "town", FIELD_BOOL},
    {"town.inspector", "town", FIELD_TEXT},
    {"town.holidays", "town", FIELD_JSON},
};

const struct app_csv_column *app_csv_column(struct app_csv_column *room, const char *name)
{
    for (size_t i = 0; i < sizeof job_columns / sizeof *job_columns; i++)
        if (strcmp(job_columns[i].name, name) == 0) return &job_columns[i];
    if (id_find(&quantity_ids, name) < 0) return NULL;
    *room = (struct app_csv_column){name, "quantities", FIELD_NUMBER};
    return room;
}

bool app_csv_event(enum record_kind *kind, const char **task, const char *name)
{
    static const struct {
        const char *prefix;
        enum record_kind kind;
    } events[] = {{"done.", RECORD_DONE}, {"passed.", RECORD_PASSED}};
    for (size_t i = 0; i < sizeof events / sizeof *events; i++) {
        const size_t length = strlen(events[i].prefix);
        if (strncmp(name, events[i].prefix, length) != 0) continue;
        *kind = events[i].kind;
        *task = name + length;
        return id_find(&task_ids, *task) >= 0;
    }
    return false;
}

bool app_csv_when(int64_t *out, const char *cell, const struct zone *zone, int64_t now_s)
{
    char utc[INSTANT_TEXT_MAX + 8];
    const size_t length = strlen(cell);
    if (instant_parse(out, cell, length, NULL) == STATUS_OK) return true;
    const bool date = length == 10;
    if (!date && length != 16 && length != 19) return false;
    (void)snprintf(utc, sizeof utc, "%.10sT%s%sZ", cell, date ? "00:00:00" : cell + 11,
                   !date && length == 16 ? ":00" : "");
    int64_t local_s = 0;
    if (instant_parse(&local_s, utc, strlen(utc), NULL) != STATUS_OK) return false;
    const int32_t day = (int32_t)(local_s / DAY_S);
    if (!date) {
        *out = civil_instant_s(zone, day, (int)(local_s % DAY_S));
        return true;
    }
    *out = civil_day_start_s(zone, day + 1) - 1;
    if (*out > now_s && civil_day_start_s(zone, day) <= now_s) *out = now_s;
    return true;
}
