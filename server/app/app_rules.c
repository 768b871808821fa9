/* SPDX-License-Identifier: MIT */
/*
 * Why: see app_rules.h. Changes stand in the company, so that they go out and come back with it and
 * a case file says by which numbers it was planned.
 */
#include "app/app_rules.h"

#include <string.h>

#include "app/app_company.h"
#include "app/app_internal.h"
#include "base/instant.h"

#include "base/banned.h"

void app_rules_show(struct text *out, const struct app_view *view)
{
    rulebook_show(out, app_view_any_rulebook(view));
}

const char *app_rules_id(size_t index)
{
#define RULES_NUMBERS(name, id) id ".need", id ".floor_h",
    static const char *const clocks[] = {CLOCK_LIST(RULES_NUMBERS)};
    const size_t count = sizeof clocks / sizeof *clocks;
    if (index < count) return clocks[index];
    return index - count < SETTING_COUNT ? id_of(&setting_ids, (int)(index - count)) : NULL;
}

/* The stored company, or the default one. */
static enum status company_json(json_t **out, int64_t *version, struct app *app,
                                struct faults *faults)
{
    struct text text = TEXT_UP_TO(APP_BODY_BYTES_MAX);
    struct faults none = {0};
    enum status status = app_company_get(&text, version, app, &none);
    faults_free(&none);
    if (status == STATUS_NOT_FOUND) {
        text_add_z(&text, app_company_default);
        *version = 0;
        status = app_text_status(&text, faults);
    }
    if (status == STATUS_OK) status = app_parse_stored(out, text.data, text.length, faults);
    text_free(&text);
    return status;
}

/* `rules[7].value` of the change that comes is `value`. */
static void name_faults(struct faults *faults)
{
    for (size_t i = 0; i < faults->count; i++) {
        char *path = faults->items[i].path;
        const char *dot = strchr(path, '.');
        if (strncmp(path, "rules[", 6) == 0 && dot != NULL)
            memmove(path, dot + 1, strlen(dot + 1) + 1);
    }
}

enum status app_rules_change(struct app *app, const char *id, double value, const char *reason,
                             const char *by, int64_t now_s, struct faults *faults)
{
    char at[INSTANT_TEXT_MAX];
    int64_t version = 0;
    json_t *company = NULL;
    if (reason == NULL || reason[0] == '\0')
        return faults_add(faults, "reason", "why it is changed", "nothing");
    enum status status = company_json(&company, &version, app, faults);
    if (status != STATUS_OK) return status;
    instant_format(at, now_s, NULL);
    json_t *rules = json_object_get(company, "rules");
    if (rules == NULL) {
        rules = json_array();
        (void)json_object_set_new(company, "rules", rules);
    }
    json_t *change = json_pack("{s:s,s:f,s:s,s:s,s:s}", "id", id, "value", value, "reason", reason,
                               "by", by, "at", at);
    struct text body = TEXT_UP_TO(APP_BODY_BYTES_MAX);
    if (change == NULL || json_array_append_new(rules, change) != 0) status = app_no_memory(faults);
    if (status == STATUS_OK) app_canonical(&body, company, NULL);
    if (status == STATUS_OK) status = app_text_status(&body, faults);
    if (status == STATUS_OK)
        status = app_company_put(NULL, app, version, body.data, body.length, faults);
    name_faults(faults);
    text_free(&body);
    json_decref(company);
    return status;
}
