/* SPDX-License-Identifier: MIT */
/* Why: see app_station.h. */
#include "app/app_station.h"

#include "app/app_internal.h"
#include "store/store_station.h"

#include "base/banned.h"

static enum status put_run(struct store_txn *txn, void *context, struct fault *fault)
{
    return store_station_put(txn, context, fault);
}

enum status app_station_put(struct app *app, const struct station *station, struct faults *faults)
{
    struct station copy = *station;
    struct fault fault = {0};
    const enum status status =
        store_write(app->store, (struct store_work){put_run, &copy, false}, &fault);
    return app_fault(faults, status, &fault);
}

enum status app_station_put_hours(struct app *app, const char *station_id, const char *json,
                                  size_t length, struct faults *faults)
{
    json_t *parsed = NULL;
    enum status status = intake_parse(&parsed, json, length, faults);
    if (status != STATUS_OK) return status;
    struct arena *arena = arena_new();
    struct station station;
    const struct intake intake = {.arena = arena, .zones = NULL, .faults = faults};
    status = arena == NULL ? app_no_memory(faults)
                           : intake_station(&station, station_id, parsed, "", &intake);
    if (status == STATUS_OK) status = app_station_put(app, &station, faults);
    arena_free(arena);
    json_decref(parsed);
    return status;
}
