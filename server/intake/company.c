/* SPDX-License-Identifier: MIT */
/*
 * Why: the working calendar. Inspectors and other trades have the same shape: which days, which
 * hours, by when they must be asked, which days they keep free.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "intake/company.h"
#include "intake/field.h"
#include "intake/kit.h"
#include "model/job.h"

#include "base/banned.h"

enum {
    PARTIES_MAX = 200,
    PEOPLE_MAX = 50,
    REQUEST_DAYS_MAX = 30,
    BURN_BANS_MAX = 200,
    RULES_MAX = 1000
};

static const char *const weekday_text[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
static const struct id_table weekday_ids = {"weekday", weekday_text, 7};

static enum status read_work_days(const struct intake *intake, const struct spot *spot,
                                  json_t *array, unsigned *out)
{
    static const struct field weekday = {.type = FIELD_CHOICE, .choices = &weekday_ids};
    if (field_array(intake, spot, array, 7, "weekdays") == NULL) return STATUS_INVALID;
    enum status status = STATUS_OK;
    for (size_t i = 0; i < json_array_size(array); i++) {
        struct spot here = {.up = spot, .index = i};
        int day = 0;
        enum status one = field_read(intake, &here, &weekday, json_array_get(array, i), &day);
        if (one == STATUS_OK && (*out >> day & 1U) != 0) {
            one = field_fault_value(intake, &here, NULL, "each weekday once",
                                    json_array_get(array, i));
        }
        if (one == STATUS_OK) *out |= 1U << day;
        status = field_worse(status, one);
    }
    if (json_array_size(array) == 0) {
        status = field_fault_value(intake, spot, NULL, "at least one weekday", array);
    }
    return status;
}

/* ["07:00", "15:30"]; `most_equal`: both may be the same (no lunch). */
static enum status read_window(const struct intake *intake, const struct spot *spot, json_t *array,
                               bool may_be_empty, struct window *out)
{
    static const struct field minutes = {.type = FIELD_MINUTES};
    if (!json_is_array(array) || json_array_size(array) != 2) {
        return field_fault_value(intake, spot, NULL, "two times like [\"07:00\", \"15:30\"]",
                                 array);
    }
    struct window window = {0, 0};
    struct spot here = {.up = spot, .index = 0};
    enum status status =
        field_read(intake, &here, &minutes, json_array_get(array, 0), &window.from_min);
    here.index = 1;
    status = field_worse(
        status, field_read(intake, &here, &minutes, json_array_get(array, 1), &window.until_min));
    if (status != STATUS_OK) return status;
    if (window.until_min < window.from_min ||
        (window.until_min == window.from_min && !may_be_empty)) {
        return field_fault_value(intake, &here, NULL, "a time after the first one",
                                 json_array_get(array, 1));
    }
    *out = window;
    return STATUS_OK;
}

/* A growing list of civil days, sorted and without repetitions at the end. */
struct day_list {
    int32_t *days;
    size_t count;
};

static enum status read_days(const struct intake *intake, const struct spot *spot, json_t *array,
                             struct day_list *list)
{
    static const struct field date = {.type = FIELD_DATE};
    if (field_array(intake, spot, array, DAYS_OFF_MAX, "dates") == NULL) return STATUS_INVALID;
    size_t count = json_array_size(array);
    int32_t *days = ARENA_TAKE(intake->arena, list->count + count, int32_t);
    if (days == NULL) return field_no_memory(intake, spot);
    if (list->count > 0) memcpy(days, list->days, list->count * sizeof *days);
    list->days = days;
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        struct spot here = {.up = spot, .index = i};
        int32_t day = 0;
        enum status one = field_read(intake, &here, &date, json_array_get(array, i), &day);
        if (one == STATUS_OK) list->days[list->count++] = day;
        status = field_worse(status, one);
    }
    return status;
}

static int compare_days(const void *a, const void *b)
{
    int32_t x = *(const int32_t *)a, y = *(const int32_t *)b;
    return (x > y) - (x < y);
}

static void sort_days(struct day_list *list)
{
    if (list->count == 0) return;
    qsort(list->days, list->count, sizeof *list->days, compare_days);
    size_t kept = 1;
    for (size_t i = 1; i < list->count; i++) {
        if (list->days[i] != list->days[kept - 1]) list->days[kept++] = list->days[i];
    }
    list->count = kept;
}

enum status company_days(const int32_t **out, size_t *count, json_t *array, const struct spot *spot,
                         const struct intake *intake)
{
    struct day_list list = {NULL, 0};
    enum status status = read_days(intake, spot, array, &list);
    sort_days(&list);
    *out = list.days;
    *count = list.count;
    return status;
}

/* The members a calendar has, wherever it stands; absent ones leave `out` as it is. */
struct calendar {
    unsigned work_days;
    struct window hours;
    struct day_list off;
};

static enum status read_calendar(const struct intake *intake, const struct spot *spot, json_t *json,
                                 struct calendar *out)
{
    enum status status = STATUS_OK;
    json_t *days = json_object_get(json, "work_days");
    json_t *hours = json_object_get(json, "work_hours");
    struct spot here = {.up = spot, .key = "work_days"};
    if (days != NULL) {
        out->work_days = 0;
        status = read_work_days(intake, &here, days, &out->work_days);
    }
    here.key = "work_hours";
    if (hours != NULL) {
        status = field_worse(status, read_window(intake, &here, hours, false, &out->hours));
    }
    static const char *const lists[] = {"days_off", "holidays"};
    for (size_t i = 0; i < 2; i++) {
        json_t *off = json_object_get(json, lists[i]);
        here.key = lists[i];
        if (off != NULL) status = field_worse(status, read_days(intake, &here, off, &out->off));
    }
    sort_days(&out->off);
    return status;
}

static enum status read_crews(const struct intake *intake, const struct spot *spot, json_t *array,
                              struct company *out)
{
    static const struct field fields[] = {
        {"id", FIELD_ID, .required = true, .offset = offsetof(struct crew, id)},
        {"name", FIELD_NAME, .nullable = true, .offset = offsetof(struct crew, name)},
        {"mail", FIELD_MAIL, .nullable = true, .offset = offsetof(struct crew, mail)},
        {"people", FIELD_INTEGER, .required = true, .least = 1, .most = PEOPLE_MAX,
         .offset = offsetof(struct crew, people)},
    };
    if (field_array(intake, spot, array, CREWS_MAX, "crews") == NULL) return STATUS_INVALID;
    size_t count = json_array_size(array);
    struct crew *crews = ARENA_TAKE(intake->arena, count, struct crew);
    if (crews == NULL) return field_no_memory(intake, spot);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        struct spot here = {.up = spot, .index = i};
        status =
            field_worse(status, field_read_object(intake, &here, json_array_get(array, i), fields,
                                                  sizeof fields / sizeof *fields, &crews[i]));
        for (size_t j = 0; j < i && crews[i].id != NULL; j++) {
            if (crews[j].id == NULL || strcmp(crews[j].id, crews[i].id) != 0) continue;
            status = field_worse(status, field_fault(intake, &here, "id", "an id of its own",
                                                     "\"%s\" a second time", crews[i].id));
        }
    }
    out->crews = crews;
    out->crew_count = count;
    return status;
}

/* The weekdays of visits. */
static enum status read_serves(const struct intake *intake, const struct spot *spot, json_t *json,
                               unsigned *out)
{
    json_t *serves = json_is_object(json) ? json_object_get(json, "serves") : NULL;
    struct spot here = {.up = spot, .key = "serves"};
    return serves == NULL ? STATUS_OK : read_work_days(intake, &here, serves, out);
}

static enum status read_parties(const struct intake *intake, const struct spot *spot, json_t *array,
                                const struct company *company, const struct outside_party **out,
                                size_t *out_count)
{
    static const struct field fields[] = {
        {"id", FIELD_ID, .required = true, .offset = offsetof(struct outside_party, id)},
        {"name", FIELD_NAME, .nullable = true, .offset = offsetof(struct outside_party, name)},
        {"phone", FIELD_NAME, .nullable = true, .offset = offsetof(struct outside_party, phone)},
        {"request_cutoff", FIELD_MINUTES, .nullable = true,
         .offset = offsetof(struct outside_party, request_cutoff_min)},
        {"work_days", FIELD_JSON, .required = false},
        {"work_hours", FIELD_JSON, .required = false},
        {"days_off", FIELD_JSON, .required = false},
        {"holidays", FIELD_JSON, .required = false},
        {"serves", FIELD_JSON, .required = false},
        {"request_days", FIELD_INTEGER, .least = 0, .most = REQUEST_DAYS_MAX,
         .offset = offsetof(struct outside_party, request_days)},
    };
    if (field_array(intake, spot, array, PARTIES_MAX, "inspectors or trades") == NULL) {
        return STATUS_INVALID;
    }
    size_t count = json_array_size(array);
    struct outside_party *parties = ARENA_TAKE(intake->arena, count, struct outside_party);
    if (parties == NULL) return field_no_memory(intake, spot);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        struct spot here = {.up = spot, .index = i};
        json_t *json = json_array_get(array, i);
        struct outside_party *party = &parties[i];
        party->request_cutoff_min = -1;
        party->request_days = 1;
        status = field_worse(status, field_read_object(intake, &here, json, fields,
                                                       sizeof fields / sizeof *fields, party));
        struct calendar calendar = {.work_days = company->work_days, .hours = company->hours};
        status = field_worse(status, read_calendar(intake, &here, json, &calendar));
        party->work_days = calendar.work_days;
        party->hours = calendar.hours;
        party->days_off = calendar.off.days;
        party->days_off_count = calendar.off.count;
        status = field_worse(status, read_serves(intake, &here, json, &party->serves));
        for (size_t j = 0; j < i && party->id != NULL; j++) {
            if (parties[j].id == NULL || strcmp(parties[j].id, party->id) != 0) continue;
            status = field_worse(status, field_fault(intake, &here, "id", "an id of its own",
                                                     "\"%s\" a second time", party->id));
        }
    }
    *out = parties;
    *out_count = count;
    return status;
}

/* Days on which nobody may light a fire. */
static enum status read_rules(const struct intake *intake, const struct spot *spot, json_t *array,
                              struct company *out)
{
    static const struct field fields[] = {
        {"id", FIELD_ID, .required = true, .offset = offsetof(struct rule_change, id)},
        {"value", FIELD_NUMBER, .required = true, .least = -1e6, .most = 1e6,
         .offset = offsetof(struct rule_change, value)},
        {"reason", FIELD_TEXT, .required = true, .offset = offsetof(struct rule_change, reason)},
        {"by", FIELD_NAME, .required = true, .offset = offsetof(struct rule_change, by)},
        {"at", FIELD_INSTANT, .required = true, .offset = offsetof(struct rule_change, at_s)},
    };
    if (field_array(intake, spot, array, RULES_MAX, "changed rules") == NULL) return STATUS_INVALID;
    const size_t count = json_array_size(array);
    struct rule_change *rules = ARENA_TAKE(intake->arena, count, struct rule_change);
    if (rules == NULL) return field_no_memory(intake, spot);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        struct spot here = {.up = spot, .index = i};
        status =
            field_worse(status, field_read_object(intake, &here, json_array_get(array, i), fields,
                                                  sizeof fields / sizeof *fields, &rules[i]));
    }
    out->rules = rules;
    out->rule_count = count;
    return status;
}

static enum status read_burn_bans(const struct intake *intake, const struct spot *spot,
                                  json_t *array, struct company *out)
{
    static const struct field fields[] = {
        {"from", FIELD_DATE, .required = true, .offset = offsetof(struct burn_ban, from_day)},
        {"until", FIELD_DATE, .nullable = true, .offset = offsetof(struct burn_ban, until_day)},
        {"town", FIELD_NAME, .nullable = true, .offset = offsetof(struct burn_ban, town)},
    };
    if (field_array(intake, spot, array, BURN_BANS_MAX, "burn bans") == NULL) return STATUS_INVALID;
    size_t count = json_array_size(array);
    struct burn_ban *bans = ARENA_TAKE(intake->arena, count, struct burn_ban);
    if (bans == NULL) return field_no_memory(intake, spot);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        struct spot here = {.up = spot, .index = i};
        bans[i] = (struct burn_ban){.from_day = DAY_NONE, .until_day = DAY_NONE};
        enum status one =
            field_read_object(intake, &here, json_array_get(array, i), fields, 3, &bans[i]);
        if (one == STATUS_OK && bans[i].until_day != DAY_NONE &&
            bans[i].until_day < bans[i].from_day)
            one = field_fault(intake, &here, "until", "a date on or after `from`", "one before it");
        status = field_worse(status, one);
    }
    out->burn_bans = bans;
    out->burn_ban_count = count;
    return status;
}

/* Crews, inspectors and trades. */
static enum status read_people(const struct intake *intake, const struct spot *spot, json_t *json,
                               struct company *out)
{
    enum status status = STATUS_OK;
    json_t *crews = json_object_get(json, "crews");
    json_t *inspectors = json_object_get(json, "inspectors");
    json_t *trades = json_object_get(json, "trades");
    struct spot here = {.up = spot, .key = "crews"};
    if (crews != NULL) status = read_crews(intake, &here, crews, out);
    here.key = "inspectors";
    if (inspectors != NULL) {
        status = field_worse(status, read_parties(intake, &here, inspectors, out, &out->inspectors,
                                                  &out->inspector_count));
    }
    here.key = "trades";
    if (trades != NULL) {
        status = field_worse(
            status, read_parties(intake, &here, trades, out, &out->trades, &out->trade_count));
    }
    json_t *bans = json_object_get(json, "burn_bans");
    here.key = "burn_bans";
    if (bans != NULL) status = field_worse(status, read_burn_bans(intake, &here, bans, out));
    json_t *rules = json_object_get(json, "rules");
    here.key = "rules";
    if (rules != NULL) status = field_worse(status, read_rules(intake, &here, rules, out));
    return status;
}

static enum status read_zone(const struct intake *intake, const struct spot *spot, json_t *json,
                             const struct zone **out)
{
    const char *name = json_string_value(json_object_get(json, "time_zone"));
    if (name == NULL) return STATUS_INVALID; /* told by the row of the member */
    struct fault fault = {.wanted = ""};
    enum status status = intake_zones_get(out, intake->zones, name, &fault);
    if (status == STATUS_OK || status == STATUS_LIMIT) return status;
    return field_fault_value(intake, spot, "time_zone",
                             fault.wanted[0] != '\0' ? fault.wanted
                                                     : "an IANA zone like America/Denver",
                             json_object_get(json, "time_zone"));
}

enum status intake_company(struct company *out, json_t *json, const char *path,
                           const struct intake *intake)
{
    struct company_text {
        const char *name, *phone, *zone, *mail_from, *alarm_mail;
        int photos_mib;
    } text = {.photos_mib = PHOTOS_MIB_DEFAULT};
    static const struct field fields[] = {
        {"name", FIELD_NAME, .nullable = true, .offset = offsetof(struct company_text, name)},
        {"phone", FIELD_NAME, .nullable = true, .offset = offsetof(struct company_text, phone)},
        {"mail_from", FIELD_MAIL, .nullable = true,
         .offset = offsetof(struct company_text, mail_from)},
        {"alarm_mail", FIELD_MAIL, .nullable = true,
         .offset = offsetof(struct company_text, alarm_mail)},
        {"time_zone", FIELD_ID, .required = true, .offset = offsetof(struct company_text, zone)},
        {"work_days", FIELD_JSON, .required = true},
        {"work_hours", FIELD_JSON, .required = true},
        {"lunch", FIELD_JSON, .nullable = true},
        {"days_off", FIELD_JSON, .required = false},
        {"holidays", FIELD_JSON, .required = false},
        {"crews", FIELD_JSON, .required = false},
        {"inspectors", FIELD_JSON, .required = false},
        {"trades", FIELD_JSON, .required = false},
        {"kits", FIELD_JSON, .required = false},
        {"burn_bans", FIELD_JSON, .required = false},
        {"rules", FIELD_JSON, .required = false},
        {"photos_mib", FIELD_INTEGER, .least = 1, .most = PHOTOS_MIB_MAX,
         .offset = offsetof(struct company_text, photos_mib)},
    };
    struct spot spot = {.key = path};
    struct company company = {.name = NULL};
    enum status status =
        field_read_object(intake, &spot, json, fields, sizeof fields / sizeof *fields, &text);
    if (!json_is_object(json)) return status;
    company.name = text.name;
    company.phone = text.phone;
    company.mail_from = text.mail_from;
    company.alarm_mail = text.alarm_mail;
    company.photos_mib = text.photos_mib;
    if (text.zone != NULL) {
        status = field_worse(status, read_zone(intake, &spot, json, &company.zone));
    }
    struct calendar calendar = {.work_days = 0};
    status = field_worse(status, read_calendar(intake, &spot, json, &calendar));
    company.work_days = calendar.work_days;
    company.hours = calendar.hours;
    company.days_off = calendar.off.days;
    company.days_off_count = calendar.off.count;
    json_t *lunch = json_object_get(json, "lunch");
    if (lunch != NULL && !json_is_null(lunch)) {
        struct spot here = {.up = &spot, .key = "lunch"};
        status = field_worse(status, read_window(intake, &here, lunch, true, &company.lunch));
    }
    status = field_worse(status, read_people(intake, &spot, json, &company));
    json_t *kits = json_object_get(json, "kits");
    struct spot kits_spot = {.up = &spot, .key = "kits"};
    if (kits != NULL)
        status = field_worse(
            status, kits_read(intake, &kits_spot, kits, &company.kits, &company.kit_count));
    if (status == STATUS_OK) *out = company;
    return status;
}
