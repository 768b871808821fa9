/* SPDX-License-Identifier: MIT */
/* Why: see app_crew.h. */
#include "app/app_crew.h"

#include <jansson.h>
#include <string.h>

#include "base/banned.h"

bool app_crew_may_kind(const char *kind)
{
    static const char *const owners[] = {"agreed", "held-date", "accepted", "engineer",
                                         "overridden"};
    for (size_t i = 0; i < sizeof owners / sizeof *owners; i++) {
        if (strcmp(kind, owners[i]) == 0) return false;
    }
    return true;
}

static const char *text_of(const json_t *json, const char *name)
{
    return json_string_value(json_object_get(json, name));
}

/* By the crew's own link, or by that of one of its phones: "Luis (north)". */
static bool wrote(const char *who, const char *crew_id)
{
    if (who == NULL) return false;
    const size_t length = strlen(who);
    const size_t id = strlen(crew_id);
    if (length == id) return memcmp(who, crew_id, id) == 0;
    return length > id + 3 && memcmp(who + length - id - 3, " (", 2) == 0 &&
           memcmp(who + length - id - 1, crew_id, id) == 0 && who[length - 1] == ')';
}

static bool may_one(const json_t *record, const struct job *job, const char *crew_id)
{
    const char *kind = text_of(record, "kind");
    if (kind == NULL) return true;
    if (strcmp(kind, "corrected") != 0) return app_crew_may_kind(kind);
    const char *with = text_of(json_object_get(record, "with"), "kind");
    if (with != NULL && !app_crew_may_kind(with)) return false;
    const char *corrects = text_of(record, "corrects");
    for (size_t i = 0; corrects != NULL && i < job->record_count; i++) {
        const struct record *target = &job->records[i];
        if (strcmp(target->id, corrects) == 0) return wrote(target->who, crew_id);
    }
    return true; /* of the same list, or of none: the reader tells */
}

bool app_crew_may(const char *json, size_t length, const struct job *job, const char *crew_id)
{
    json_t *parsed = json_loadb(json, length, 0, NULL);
    if (parsed == NULL) return true;
    bool may = true;
    if (json_is_object(parsed)) may = may_one(parsed, job, crew_id);
    for (size_t i = 0; i < json_array_size(parsed); i++)
        may = may && may_one(json_array_get(parsed, i), job, crew_id);
    json_decref(parsed);
    return may;
}
