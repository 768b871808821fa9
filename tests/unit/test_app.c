/* SPDX-License-Identifier: MIT */
/* links: app */
/* The use cases on a real store: what is stored once, what is refused whole, what comes back. */
#include <check.h>
#include <glob.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "app/app_case.h"
#include "app/app_company.h"
#include "app/app_job.h"
#include "app/app_keep.h"
#include "app/app_link.h"
#include "app/app_plan.h"
#include "app/app_record.h"
#include "app/app_station.h"
#include "base/limits.h"
#include "base/text.h"

#define NOW 1792800000 /* 2026-10-23T20:00:00Z */

static char directory[] = "/tmp/ew-app-XXXXXX";
static char path[256];
static struct app *app;
static struct arena *arena;
static struct faults faults;

static void begin(void)
{
    snprintf(directory, sizeof directory, "/tmp/ew-app-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(directory));
    snprintf(path, sizeof path, "%s/store.db", directory);
    faults = (struct faults){0};
    arena = arena_new();
    const struct app_options options = {.path = path, .create = true, .now_s = NOW};
    ck_assert_int_eq(app_open(&app, &options, &faults), STATUS_OK);
}

/* How many there are to apply. */
static size_t migrations(void)
{
    glob_t found;
    ck_assert_int_eq(glob(PROJECT_ROOT "/schema/migrations/*.sql", 0, NULL, &found), 0);
    const size_t count = found.gl_pathc;
    globfree(&found);
    return count;
}

static void sweep(void)
{
    char command[300];
    snprintf(command, sizeof command, "rm -rf '%s'", directory);
    ck_assert_int_eq(system(command), 0);
}

static void end(void)
{
    app_close(app);
    app = NULL;
    arena_free(arena);
    faults_free(&faults);
    sweep();
}

static const char company[] =
    "{\"time_zone\":\"America/Denver\",\"work_days\":[\"mon\",\"tue\",\"wed\",\"thu\",\"fri\"],"
    "\"work_hours\":[\"07:00\",\"15:30\"],\"lunch\":[\"12:00\",\"12:30\"],"
    "\"crews\":[{\"id\":\"north\",\"people\":3}]}";

static const char station[] =
    "{\"latitude\":43.6,\"longitude\":-116.2,\"observed\":{\"start\":\"2026-10-20T06:00:00Z\","
    "\"temp_degc\":[1.5,null,3],\"rain_mm\":[0,0,0.2]},\"forecast\":{\"start\":"
    "\"2026-10-23T00:00:00Z\",\"temp_degc\":[9,8,7,6]}}";

static const char job_text[] =
    "{\"id\":\"hollow-pine\",\"name\":\"Hollow Pine\",\"station\":\"town\",\"options\":{\"base\":"
    "\"slab\",\"pad\":\"new\",\"place\":\"indoor\"},\"quantities\":{\"courses\":5}}";

static void setting(void)
{
    ck_assert_int_eq(app_company_put(NULL, app, APP_VERSION_ANY, company, strlen(company), &faults),
                     STATUS_OK);
    ck_assert_int_eq(app_station_put_hours(app, "town", station, strlen(station), &faults),
                     STATUS_OK);
    ck_assert_int_eq(
        app_job_create(NULL, NULL, NULL, app, job_text, strlen(job_text), "Ada", NOW, &faults),
        STATUS_OK);
}

static const struct app_added *added;
static size_t added_count;

static enum status add(const char *json)
{
    faults_free(&faults);
    return app_records_add(&added, &added_count, app, "hollow-pine", json, strlen(json), "Ada", NOW,
                           arena, &faults);
}

static const struct job *seen(struct app_view **view)
{
    ck_assert_int_eq(app_view_take(view, app, &faults), STATUS_OK);
    return app_view_job(*view, "hollow-pine");
}

#define POUR                                                                                       \
    "{\"id\":\"r1\",\"kind\":\"done\",\"task\":\"pad-pour\","                                      \
    "\"at\":\"2026-10-20T13:00:00-06:00\"}"
#define READING                                                                                    \
    "{\"id\":\"r2\",\"kind\":\"reading\",\"at\":\"2026-10-20T13:00:00-06:00\",\"part\":\"pad\","   \
    "\"how\":\"probe\",\"degf\":61}"

START_TEST(same_record_twice_is_stored_once_and_known)
{
    setting();
    ck_assert_int_eq(add("[" POUR "," READING "]"), STATUS_OK);
    ck_assert_uint_eq(added_count, 2);
    ck_assert(added[0].created && added[1].created);
    ck_assert_str_eq(added[1].id, "r2");
    /* other order of members, other blanks, a number written otherwise: the same record */
    ck_assert_int_eq(add("{\"degf\": 61.0, \"part\":\"pad\",\"at\":\"2026-10-20T13:00:00-06:00\","
                         "\"how\":\"probe\",\"kind\":\"reading\",\"id\":\"r2\"}"),
                     STATUS_OK);
    ck_assert_uint_eq(added_count, 1);
    ck_assert(!added[0].created);
    struct app_view *view;
    ck_assert_uint_eq(seen(&view)->record_count, 2);
    app_view_release(view);
}
END_TEST

START_TEST(same_id_with_another_body_refuses_the_whole_batch)
{
    setting();
    ck_assert_int_eq(add(READING), STATUS_OK);
    ck_assert_int_eq(add("[" POUR ",{\"id\":\"r2\",\"kind\":\"reading\",\"at\":"
                         "\"2026-10-20T13:00:00-06:00\",\"part\":\"pad\",\"degf\":62}]"),
                     STATUS_CONFLICT);
    ck_assert_uint_eq(faults.count, 1);
    struct app_view *view;
    ck_assert_uint_eq(seen(&view)->record_count, 1);
    app_view_release(view);
    /* nothing of it was stored, so the first of it is still new */
    ck_assert_int_eq(add(POUR), STATUS_OK);
    ck_assert(added[0].created);
}
END_TEST

START_TEST(record_with_a_fault_names_it_and_stores_nothing)
{
    setting();
    ck_assert_int_eq(add("[" POUR ",{\"id\":\"r3\",\"kind\":\"reading\",\"at\":"
                         "\"2026-10-20T13:00:00-06:00\",\"part\":\"pad\",\"degF\":62}]"),
                     STATUS_INVALID);
    ck_assert_uint_ge(faults.count, 1);
    ck_assert_ptr_nonnull(strstr(faults.items[0].path, "records[1]"));
    struct app_view *view;
    ck_assert_uint_eq(seen(&view)->record_count, 0);
    app_view_release(view);
    faults_free(&faults);
    ck_assert_int_eq(app_records_add(&added, &added_count, app, "nobody", POUR, strlen(POUR), NULL,
                                     NOW, arena, &faults),
                     STATUS_NOT_FOUND);
}
END_TEST

START_TEST(stored_record_is_what_was_sent_plus_received_and_who)
{
    setting();
    ck_assert_int_eq(add(READING), STATUS_OK);
    struct text text = TEXT_UP_TO(100000);
    int64_t version = 0;
    ck_assert_int_eq(app_records_list(&text, &version, app, "hollow-pine", &faults), STATUS_OK);
    ck_assert_str_eq(text_z(&text),
                     "{\"records\":[{\"at\":\"2026-10-20T13:00:00-06:00\",\"degf\":61,"
                     "\"how\":\"probe\",\"id\":\"r2\",\"kind\":\"reading\",\"part\":\"pad\","
                     "\"received\":\"2026-10-24T00:00:00Z\",\"who\":\"Ada\"}]}");
    ck_assert_int_eq(version, 2);
    text_free(&text);
}
END_TEST

START_TEST(correction_must_name_a_record_of_the_job)
{
    setting();
    const char *wrong =
        "{\"id\":\"c1\",\"kind\":\"corrected\",\"at\":\"2026-10-21T08:00:00-06:00\","
        "\"corrects\":\"r2\",\"with\":null}";
    ck_assert_int_eq(add(wrong), STATUS_INVALID);
    ck_assert_int_eq(add(READING), STATUS_OK);
    ck_assert_int_eq(add(wrong), STATUS_OK);
    struct app_view *view;
    ck_assert_uint_eq(seen(&view)->record_count, 2);
    app_view_release(view);
}
END_TEST

START_TEST(patch_against_an_old_version_is_refused_and_null_takes_a_member_away)
{
    setting();
    const char *patch = "{\"options\":{\"propped\":true},\"name\":null}";
    int64_t version = 0;
    struct text text = TEXT_UP_TO(100000);
    ck_assert_int_eq(
        app_job_patch(&text, &version, app, "hollow-pine", 1, patch, strlen(patch), NOW, &faults),
        STATUS_OK);
    ck_assert_int_eq(version, 2);
    ck_assert_str_eq(text_z(&text),
                     "{\"id\":\"hollow-pine\",\"options\":{\"base\":\"slab\",\"pad\":\"new\","
                     "\"place\":\"indoor\",\"propped\":true},\"quantities\":{\"courses\":5},"
                     "\"station\":\"town\"}");
    ck_assert_int_eq(
        app_job_patch(NULL, &version, app, "hollow-pine", 1, patch, strlen(patch), NOW, &faults),
        STATUS_CONFLICT);
    /* changing nothing is no new version */
    ck_assert_int_eq(
        app_job_patch(NULL, &version, app, "hollow-pine", 2, patch, strlen(patch), NOW, &faults),
        STATUS_OK);
    ck_assert_int_eq(version, 2);
    const char *bad[] = {"{\"options\":{\"base\":\"swamp\"}}",
                         "{\"id\":\"other\"}",
                         "{\"records\":[]}",
                         "{\"station\":\"moon\"}",
                         "[]",
                         "{\"colour\":1}"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        faults_free(&faults);
        ck_assert_int_eq(app_job_patch(NULL, NULL, app, "hollow-pine", APP_VERSION_ANY, bad[i],
                                       strlen(bad[i]), NOW, &faults),
                         STATUS_INVALID);
        ck_assert_uint_ge(faults.count, 1);
    }
    text_clear(&text);
    ck_assert_int_eq(app_job_get(&text, &version, app, "hollow-pine", &faults), STATUS_OK);
    ck_assert_int_eq(version, 2);
    text_free(&text);
}
END_TEST

START_TEST(job_made_twice_with_the_same_body_is_known_and_with_another_is_refused)
{
    setting();
    bool created = true;
    int64_t version = 0;
    ck_assert_int_eq(app_job_create(NULL, &version, &created, app, job_text, strlen(job_text), NULL,
                                    NOW, &faults),
                     STATUS_OK);
    ck_assert(!created);
    ck_assert_int_eq(version, 1);
    const char *other = "{\"id\":\"hollow-pine\",\"options\":{\"base\":\"slab\",\"pad\":\"new\","
                        "\"place\":\"covered\"}}";
    ck_assert_int_eq(
        app_job_create(NULL, NULL, &created, app, other, strlen(other), NULL, NOW, &faults),
        STATUS_CONFLICT);
    const char *lost = "{\"id\":\"b\",\"station\":\"moon\",\"options\":{\"base\":\"slab\",\"pad\":"
                       "\"new\",\"place\":\"covered\"}}";
    ck_assert_int_eq(
        app_job_create(NULL, NULL, &created, app, lost, strlen(lost), NULL, NOW, &faults),
        STATUS_INVALID);
}
END_TEST

START_TEST(view_does_not_change_and_the_next_one_reads_only_what_did)
{
    setting();
    const char *second = "{\"id\":\"b\",\"options\":{\"base\":\"slab\",\"pad\":\"new\",\"place\":"
                         "\"covered\"}}";
    ck_assert_int_eq(
        app_job_create(NULL, NULL, NULL, app, second, strlen(second), NULL, NOW, &faults),
        STATUS_OK);
    struct app_view *old, *same, *fresh;
    const struct job *before = seen(&old);
    (void)seen(&same);
    ck_assert_ptr_eq(old, same);
    struct app_figures a, b;
    app_figures(app, &a);
    ck_assert_int_eq(add(POUR), STATUS_OK);
    const struct job *after = seen(&fresh);
    app_figures(app, &b);
    ck_assert_ptr_ne(old, fresh);
    ck_assert_uint_eq(b.jobs_parsed - a.jobs_parsed, 1);
    ck_assert_uint_eq(before->record_count, 0);
    ck_assert_uint_eq(after->record_count, 1);
    ck_assert_uint_gt(app_view_generation(fresh), app_view_generation(old));
    ck_assert_ptr_nonnull(after->station);
    ck_assert_int_eq(app_view_job_version(fresh, "hollow-pine"), 2);
    ck_assert_int_eq(app_view_job_version(fresh, "nobody"), 0);
    app_view_release(old);
    app_view_release(same);
    app_view_release(fresh);
}
END_TEST

START_TEST(observed_figures_stay_and_a_newer_forecast_replaces_from_its_start)
{
    setting();
    const char *more = "{\"observed\":{\"start\":\"2026-10-20T07:00:00Z\",\"temp_degc\":[2,null]},"
                       "\"forecast\":{\"start\":\"2026-10-23T02:00:00Z\",\"temp_degc\":[5],"
                       "\"made\":\"2026-10-23T01:00:00Z\"}}";
    ck_assert_int_eq(app_station_put_hours(app, "town", more, strlen(more), &faults), STATUS_OK);
    struct app_view *view;
    (void)seen(&view);
    const struct station *town = app_view_station(view, "town");
    ck_assert_uint_eq(town->observed.count, 3);
    ck_assert_double_eq(town->observed.temp_degc[0], 1.5);
    ck_assert_double_eq(town->observed.temp_degc[1], 2);
    ck_assert(town->observed.temp_degc[2] != town->observed.temp_degc[2]); /* null was sent */
    ck_assert_double_eq(town->observed.rain_mm[2], 0.2); /* no rain was sent: it stays */
    ck_assert_ptr_null(town->observed.gust_mps);
    ck_assert_uint_eq(town->forecast.count, 3);
    ck_assert_double_eq(town->forecast.temp_degc[2], 5);
    ck_assert_double_eq(town->latitude_deg, 43.6);
    ck_assert_int_eq(town->forecast_made_s, 1792717200);
    app_view_release(view);
}
END_TEST

START_TEST(company_keeps_its_version_and_refuses_a_zone_that_breaks_a_record)
{
    setting();
    int64_t version = 0;
    ck_assert_int_eq(app_company_put(&version, app, 1, company, strlen(company), &faults),
                     STATUS_OK);
    ck_assert_int_eq(version, 1);
    /* the 22nd in Brisbane is still the 21st in Denver and in Samoa */
    ck_assert_int_eq(
        add("{\"id\":\"d\",\"kind\":\"logged-day\",\"at\":\"2026-10-22T12:00:00+10:00\","
            "\"date\":\"2026-10-21\",\"mean_degf\":60,\"min_degf\":50}"),
        STATUS_OK);
    const char *samoa = "{\"time_zone\":\"Pacific/Pago_Pago\",\"work_days\":[\"mon\"],"
                        "\"work_hours\":[\"07:00\",\"15:30\"]}";
    ck_assert_int_eq(app_company_put(&version, app, 1, samoa, strlen(samoa), &faults), STATUS_OK);
    const char *west = "{\"time_zone\":\"Etc/GMT+12\",\"work_days\":[\"mon\"],"
                       "\"work_hours\":[\"07:00\",\"15:30\"]}";
    ck_assert_int_eq(app_company_put(&version, app, 1, company, strlen(company), &faults),
                     STATUS_CONFLICT);
    ck_assert_int_eq(app_company_put(&version, app, 2, company, strlen(company), &faults),
                     STATUS_OK);
    /* 10:00 UTC is the 22nd in Denver, but still the 21st twelve hours west of Greenwich */
    ck_assert_int_eq(add("{\"id\":\"e\",\"kind\":\"logged-day\",\"at\":\"2026-10-22T10:00:00Z\","
                         "\"date\":\"2026-10-22\",\"mean_degf\":60,\"min_degf\":50}"),
                     STATUS_OK);
    faults_free(&faults);
    ck_assert_int_eq(app_company_put(&version, app, 3, west, strlen(west), &faults),
                     STATUS_INVALID);
    ck_assert_uint_ge(faults.count, 1);
}
END_TEST

START_TEST(try_changes_a_copy_and_stores_nothing)
{
    setting();
    ck_assert_int_eq(add("[" POUR "," READING "]"), STATUS_OK);
    struct app_view *view;
    (void)seen(&view);
    struct app_try both;
    const char *changes = "{\"records\":[" READING ",{\"id\":\"t\",\"kind\":\"looked\",\"at\":"
                          "\"2026-10-21T08:00:00-06:00\",\"part\":\"pad\",\"result\":\"redo\","
                          "\"by\":\"Ada\"}],\"options\":{\"mix\":\"blended\"},"
                          "\"quantities\":{\"courses\":null}}";
    ck_assert_int_eq(
        app_try(&both, view, "hollow-pine", changes, strlen(changes), NOW, arena, &faults),
        STATUS_OK);
    const struct job *before = app_plan_find(both.before, "hollow-pine")->job;
    const struct job *after = app_plan_find(both.after, "hollow-pine")->job;
    ck_assert_uint_eq(before->record_count, 2);
    ck_assert_uint_eq(after->record_count, 3);
    ck_assert_int_eq(before->options.mix, MIX_PLAIN);
    ck_assert_int_eq(after->options.mix, MIX_BLENDED);
    ck_assert(after->quantities[QUANTITY_COURSES] != after->quantities[QUANTITY_COURSES]);
    const char *bad[] = {"{\"colour\":1}", "{\"options\":1}", "{\"options\":{\"mix\":\"mud\"}}",
                         "{\"records\":[{\"id\":\"x\"}]}"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        ck_assert_int_eq(
            app_try(&both, view, "hollow-pine", bad[i], strlen(bad[i]), NOW, arena, &faults),
            STATUS_INVALID);
    }
    app_view_release(view);
    ck_assert_uint_eq(seen(&view)->record_count, 2);
    app_view_release(view);
}
END_TEST

START_TEST(owner_may_only_agree_to_a_date_the_plan_supports)
{
    setting();
    char id[APP_ID_TEXT_MAX];
    /* nothing is built yet: no date at all */
    ck_assert_int_eq(app_agree(id, app, "hollow-pine", 20800, "Ada", NOW, &faults),
                     STATUS_CONFLICT);
    struct app_view *view;
    ck_assert_uint_eq(seen(&view)->record_count, 0);
    app_view_release(view);
    const char *lined =
        "[{\"id\":\"a\",\"kind\":\"done\",\"task\":\"chimney-run\",\"at\":"
        "\"2026-09-01T12:00:00-06:00\"},{\"id\":\"b\",\"kind\":\"done\",\"task\":\"cap-set\","
        "\"at\":\"2026-09-01T13:00:00-06:00\"},{\"id\":\"c\",\"kind\":\"done\",\"task\":"
        "\"line-clean\",\"at\":\"2026-09-01T14:00:00-06:00\"},{\"id\":\"w\",\"kind\":\"closed-in\","
        "\"at\":\"2026-09-01T14:00:00-06:00\",\"part\":\"unit\",\"how\":\"room\"},"
        "{\"id\":\"t1\",\"kind\":\"reading\",\"at\":\"2026-10-23T14:00:00-06:00\",\"part\":"
        "\"unit\",\"how\":\"thermostat\",\"degf\":65}]";
    ck_assert_int_eq(add(lined), STATUS_OK);
    const struct job_plan *plan;
    (void)seen(&view);
    ck_assert_int_eq(app_plan_job(&plan, view, "hollow-pine", NOW, arena, &faults), STATUS_OK);
    const int32_t day = plan->fire.cure_complete_day;
    ck_assert_int_ne(day, DAY_NONE);
    ck_assert_uint_eq(plan->fire.blocked_by, 0);
    app_view_release(view);
    ck_assert_int_eq(app_agree(id, app, "hollow-pine", day - 1, "Ada", NOW, &faults),
                     STATUS_CONFLICT);
    ck_assert_int_eq(app_agree(id, app, "hollow-pine", day, "Ada", NOW, &faults), STATUS_OK);
    (void)seen(&view);
    ck_assert_int_eq(app_plan_job(&plan, view, "hollow-pine", NOW, arena, &faults), STATUS_OK);
    ck_assert_int_eq(plan->fire.agreed_day, day);
    ck_assert(plan->fire.agreed_holds);
    app_view_release(view);
}
END_TEST

START_TEST(link_is_the_same_until_it_is_revoked)
{
    setting();
    struct app_link a, b, found;
    ck_assert_int_eq(app_link_make(&a, app, APP_LINK_HOMEOWNER, "hollow-pine", NOW, &faults),
                     STATUS_OK);
    ck_assert_int_eq(app_link_make(&b, app, APP_LINK_HOMEOWNER, "hollow-pine", NOW + 1, &faults),
                     STATUS_OK);
    ck_assert_str_eq(a.token, b.token);
    ck_assert_uint_eq(strlen(a.token), 27);
    ck_assert_int_eq(app_link_find(&found, app, a.token, 27, arena, &faults), STATUS_OK);
    ck_assert_int_eq(found.kind, APP_LINK_HOMEOWNER);
    ck_assert_str_eq(found.target, "hollow-pine");
    ck_assert_int_eq(app_link_revoke(app, APP_LINK_HOMEOWNER, "hollow-pine", NOW, &faults),
                     STATUS_OK);
    ck_assert_int_eq(app_link_find(&found, app, a.token, 27, arena, &faults), STATUS_NOT_FOUND);
    ck_assert_int_eq(app_link_revoke(app, APP_LINK_HOMEOWNER, "hollow-pine", NOW, &faults),
                     STATUS_NOT_FOUND);
    ck_assert_int_eq(app_link_make(&b, app, APP_LINK_HOMEOWNER, "hollow-pine", NOW, &faults),
                     STATUS_OK);
    ck_assert_str_ne(a.token, b.token);
    ck_assert_int_eq(b.generation, 2);
    ck_assert_int_eq(app_link_make(&a, app, APP_LINK_CREW, "north", NOW, &faults), STATUS_OK);
    ck_assert_int_eq(app_link_make(&a, app, APP_LINK_FEED, "owner", NOW, &faults), STATUS_OK);
    ck_assert_int_eq(app_link_make(&a, app, APP_LINK_CREW, "south", NOW, &faults),
                     STATUS_NOT_FOUND);
    ck_assert_int_eq(app_link_find(&found, app, "x", 1, arena, &faults), STATUS_NOT_FOUND);
    const struct app_link *all;
    size_t count;
    ck_assert_int_eq(app_link_list(&all, &count, app, arena, &faults), STATUS_OK);
    ck_assert_uint_eq(count, 4);
}
END_TEST

START_TEST(export_comes_back_as_the_same_store)
{
    setting();
    ck_assert_int_eq(add("[" POUR "," READING "]"), STATUS_OK);
    struct text first = TEXT_UP_TO(CASE_BYTES_MAX);
    struct text second = TEXT_UP_TO(CASE_BYTES_MAX);
    ck_assert_int_eq(app_export(&first, app, NOW, &faults), STATUS_OK);
    struct app_imported counts;
    ck_assert_int_eq(app_import(&counts, app, first.data, first.length, NULL, NOW + 9, &faults),
                     STATUS_OK);
    ck_assert_uint_eq(counts.jobs, 0);
    ck_assert_uint_eq(counts.jobs_known, 1);
    ck_assert_uint_eq(counts.records_known, 2);
    char copy[300];
    snprintf(copy, sizeof copy, "%s/other.db", directory);
    struct app *other;
    const struct app_options options = {.path = copy, .create = true, .now_s = NOW};
    ck_assert_int_eq(app_open(&other, &options, &faults), STATUS_OK);
    ck_assert_int_eq(app_import(&counts, other, first.data, first.length, NULL, NOW + 9, &faults),
                     STATUS_OK);
    ck_assert_uint_eq(counts.records, 2);
    ck_assert_int_eq(app_export(&second, other, NOW, &faults), STATUS_OK);
    ck_assert_str_eq(text_z(&first), text_z(&second));
    app_close(other);
    /* a case that contradicts what is stored is refused whole */
    char *at = strstr(first.data, "\"degf\":61");
    ck_assert_ptr_nonnull(at);
    at[8] = '9';
    ck_assert_int_eq(app_import(&counts, app, first.data, first.length, NULL, NOW, &faults),
                     STATUS_CONFLICT);
    ck_assert_int_eq(app_verify(NULL, copy, NULL, &faults), STATUS_OK);
    text_free(&first);
    text_free(&second);
}
END_TEST

START_TEST(backup_is_checked_and_restore_refuses_to_overwrite)
{
    setting();
    ck_assert_int_eq(add(POUR), STATUS_OK);
    char copy[300], live[300];
    snprintf(copy, sizeof copy, "%s/copy.db", directory);
    snprintf(live, sizeof live, "%s/live.db", directory);
    ck_assert_int_eq(app_backup(path, copy, &faults), STATUS_OK);
    ck_assert_int_eq(app_backup_live(app, live, &faults), STATUS_OK);
    ck_assert_int_eq(app_backup(path, copy, &faults), STATUS_CONFLICT);
    struct app_verified counts;
    ck_assert_int_eq(app_verify(&counts, live, NULL, &faults), STATUS_OK);
    ck_assert_uint_eq(counts.records, 1);
    ck_assert_uint_eq(counts.migrations, migrations());
    struct stat found;
    ck_assert_int_eq(stat(copy, &found), 0);
    ck_assert_uint_eq(found.st_mode & 0777, 0600);
    ck_assert_int_eq(add(READING), STATUS_OK);
    ck_assert_int_eq(app_restore(copy, path, false, &faults), STATUS_CONFLICT);
    ck_assert_int_eq(app_restore(copy, path, true, &faults), STATUS_BUSY);
    app_close(app);
    ck_assert_int_eq(app_restore(copy, path, true, &faults), STATUS_OK);
    const struct app_options options = {.path = path, .now_s = NOW};
    ck_assert_int_eq(app_open(&app, &options, &faults), STATUS_OK);
    struct app_view *view;
    ck_assert_uint_eq(seen(&view)->record_count, 1);
    app_view_release(view);
    /* a damaged copy is never put into place */
    FILE *file = fopen(copy, "r+b");
    ck_assert_ptr_nonnull(file);
    char bytes[65536];
    size_t length = fread(bytes, 1, sizeof bytes, file);
    char *at = NULL;
    for (size_t i = 0; i + 8 < length && at == NULL; i++) {
        if (memcmp(bytes + i, "pad-pour", 8) == 0) at = bytes + i;
    }
    ck_assert_ptr_nonnull(at);
    ck_assert_int_eq(fseek(file, at - bytes, SEEK_SET), 0);
    ck_assert_uint_eq(fwrite("pad-Pour", 1, 8, file), 8);
    fclose(file);
    faults_free(&faults);
    ck_assert_int_eq(app_verify(&counts, copy, NULL, &faults), STATUS_CORRUPT);
    ck_assert_uint_ge(faults.count, 1);
    char fresh[300];
    snprintf(fresh, sizeof fresh, "%s/fresh.db", directory);
    ck_assert_int_eq(app_restore(copy, fresh, false, &faults), STATUS_CORRUPT);
    ck_assert_int_ne(access(fresh, F_OK), 0);
}
END_TEST

START_TEST(second_writer_is_kept_out_and_a_reader_is_let_in)
{
    setting();
    struct app *other;
    struct app_options options = {.path = path, .now_s = NOW};
    ck_assert_int_eq(app_open(&other, &options, &faults), STATUS_BUSY);
    options.read_only = true;
    ck_assert_int_eq(app_open(&other, &options, &faults), STATUS_OK);
    struct app_view *view;
    ck_assert_int_eq(app_view_take(&view, other, &faults), STATUS_OK);
    ck_assert_ptr_nonnull(app_view_job(view, "hollow-pine"));
    app_view_release(view);
    ck_assert_int_eq(add(POUR), STATUS_OK);
    ck_assert_int_eq(app_view_take(&view, other, &faults), STATUS_OK);
    ck_assert_uint_eq(app_view_job(view, "hollow-pine")->record_count, 1);
    app_view_release(view);
    ck_assert_int_eq(app_station_put_hours(other, "town", station, strlen(station), &faults),
                     STATUS_DENIED);
    app_close(other);
    ck_assert_int_eq(app_health(app, &faults), STATUS_OK);
}
END_TEST

struct sender {
    pthread_t thread;
    int number;
    int failures;
};

static void *send(void *context)
{
    struct sender *sender = context;
    struct arena *own = arena_new();
    for (int i = 0; i < 20; i++) {
        char json[300];
        snprintf(json, sizeof json,
                 "{\"id\":\"s%d-%d\",\"kind\":\"note\",\"at\":\"2026-10-20T13:00:00-06:00\","
                 "\"note\":\"x\"}",
                 sender->number, i);
        const struct app_added *out;
        size_t count;
        struct app_view *view;
        struct faults own_faults = {0};
        if (app_records_add(&out, &count, app, "hollow-pine", json, strlen(json), NULL, NOW, own,
                            &own_faults) != STATUS_OK ||
            !out[0].created) {
            sender->failures++;
        }
        /* what was acknowledged is in the next view */
        char id[40];
        snprintf(id, sizeof id, "s%d-%d", sender->number, i);
        bool there = false;
        if (app_view_take(&view, app, &own_faults) == STATUS_OK) {
            const struct job *job = app_view_job(view, "hollow-pine");
            for (size_t r = 0; r < job->record_count; r++) {
                there = there || strcmp(job->records[r].id, id) == 0;
            }
            app_view_release(view);
        }
        if (!there) sender->failures++;
        faults_free(&own_faults);
    }
    arena_free(own);
    return NULL;
}

START_TEST(writers_at_once_share_commits_and_each_sees_its_own_record)
{
    setting();
    struct sender senders[8];
    for (int i = 0; i < 8; i++) {
        senders[i] = (struct sender){.number = i};
        ck_assert_int_eq(pthread_create(&senders[i].thread, NULL, send, &senders[i]), 0);
    }
    for (int i = 0; i < 8; i++) {
        ck_assert_int_eq(pthread_join(senders[i].thread, NULL), 0);
        ck_assert_int_eq(senders[i].failures, 0);
    }
    struct app_view *view;
    ck_assert_uint_eq(seen(&view)->record_count, 160);
    app_view_release(view);
    ck_assert_int_eq(app_verify(NULL, path, NULL, &faults), STATUS_OK);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("app");
    TCase *tests = tcase_create("app");
    tcase_add_checked_fixture(tests, begin, end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, same_record_twice_is_stored_once_and_known);
    tcase_add_test(tests, same_id_with_another_body_refuses_the_whole_batch);
    tcase_add_test(tests, record_with_a_fault_names_it_and_stores_nothing);
    tcase_add_test(tests, stored_record_is_what_was_sent_plus_received_and_who);
    tcase_add_test(tests, correction_must_name_a_record_of_the_job);
    tcase_add_test(tests, patch_against_an_old_version_is_refused_and_null_takes_a_member_away);
    tcase_add_test(tests, job_made_twice_with_the_same_body_is_known_and_with_another_is_refused);
    tcase_add_test(tests, view_does_not_change_and_the_next_one_reads_only_what_did);
    tcase_add_test(tests, observed_figures_stay_and_a_newer_forecast_replaces_from_its_start);
    tcase_add_test(tests, company_keeps_its_version_and_refuses_a_zone_that_breaks_a_record);
    tcase_add_test(tests, try_changes_a_copy_and_stores_nothing);
    tcase_add_test(tests, owner_may_only_agree_to_a_date_the_plan_supports);
    tcase_add_test(tests, link_is_the_same_until_it_is_revoked);
    tcase_add_test(tests, export_comes_back_as_the_same_store);
    tcase_add_test(tests, backup_is_checked_and_restore_refuses_to_overwrite);
    tcase_add_test(tests, second_writer_is_kept_out_and_a_reader_is_let_in);
    tcase_add_test(tests, writers_at_once_share_commits_and_each_sees_its_own_record);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
