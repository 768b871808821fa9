/* SPDX-License-Identifier: MIT */
/* links: intake model */
/*
 * A good case comes in whole; a bad one is told of in full, each fault with its place, what was
 * found and what was wanted. Bad input is made by changing one thing of a good case.
 */
#include <check.h>
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "intake/intake.h"

static struct faults faults;
static struct intake intake;

static void set_up(void)
{
    memset(&faults, 0, sizeof faults);
    intake = (struct intake){arena_new(), intake_zones_new(), &faults};
    ck_assert_ptr_nonnull(intake.arena);
    ck_assert_ptr_nonnull(intake.zones);
}

static void tear_down(void)
{
    faults_free(&faults);
    arena_free(intake.arena);
    intake_zones_free(intake.zones);
}

#define COMPANY                                                                                    \
    "\"company\":{\"time_zone\":\"America/Denver\",\"work_days\":[\"mon\",\"tue\",\"wed\"],"       \
    "\"work_hours\":[\"07:00\",\"15:30\"],\"lunch\":[\"12:00\",\"12:30\"],"                        \
    "\"days_off\":[\"2026-12-25\",\"2026-11-26\"],\"holidays\":[\"2026-12-25\",\"2026-07-03\"],"   \
    "\"crews\":[{\"id\":\"north\",\"people\":3}]}"
#define STATIONS                                                                                   \
    "\"stations\":{\"town\":{\"latitude\":43.6,\"longitude\":-116.2,\"observed\":{\"start\":"      \
    "\"2026-10-20T00:00:00-06:00\",\"temp_degc\":[1.5,null],\"rain_mm\":[0,0.2]},"                 \
    "\"forecast\":{\"start\":\"2026-10-21T00:00:00-06:00\",\"temp_degc\":[],"                      \
    "\"made\":\"2026-10-20T09:00:00Z\"}}}"
#define OPTIONS "\"options\":{\"base\":\"slab\",\"pad\":\"new\",\"place\":\"indoor\"}"

/* A case whose only job has these further members and records. */
static const char *case_of(const char *members, const char *records)
{
    return arena_print(intake.arena,
                       "{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00-06:00\"," COMPANY
                       "," STATIONS ",\"jobs\":[{\"id\":\"elm\",\"station\":\"town\"," OPTIONS
                       "%s,\"records\":[%s]}]}",
                       members, records);
}

static enum status read_case(const char *text, struct casefile **out)
{
    faults_free(&faults);
    return intake_case_text(out, text, strlen(text), &intake);
}

static const struct job *good_job(const char *members, const char *records)
{
    struct casefile *out = NULL;
    enum status status = read_case(case_of(members, records), &out);
    if (faults.count > 0) {
        ck_abort_msg("%s: found %s, wanted %s", faults.items[0].path, faults.items[0].found,
                     faults.items[0].wanted);
    }
    ck_assert_int_eq(status, STATUS_OK);
    ck_assert_uint_eq(out->job_count, 1);
    return &out->jobs[0];
}

static const struct record *good_record(const char *body)
{
    const struct job *job =
        good_job("", arena_print(intake.arena,
                                 "{\"id\":\"r1\",\"at\":\"2026-10-20T13:00:00-06:00\",%s}", body));
    ck_assert_uint_eq(job->record_count, 1);
    return &job->records[0];
}

/* The text is refused with exactly one fault at `path`; words of found and wanted are in it. */
static void refused(const char *text, const char *path, const char *found, const char *wanted)
{
    struct casefile *out = NULL;
    enum status status = read_case(text, &out);
    ck_assert_int_eq(status, STATUS_INVALID);
    ck_assert_ptr_null(out);
    for (size_t i = 1; i < faults.count; i++) {
        ck_abort_msg("a second fault: %s: found %s, wanted %s", faults.items[i].path,
                     faults.items[i].found, faults.items[i].wanted);
    }
    ck_assert_uint_eq(faults.count, 1);
    ck_assert_str_eq(faults.items[0].path, path);
    if (strstr(faults.items[0].found, found) == NULL) {
        ck_abort_msg("found \"%s\" lacks \"%s\"", faults.items[0].found, found);
    }
    if (strstr(faults.items[0].wanted, wanted) == NULL) {
        ck_abort_msg("wanted \"%s\" lacks \"%s\"", faults.items[0].wanted, wanted);
    }
}

static void refused_record(const char *body, const char *member, const char *found,
                           const char *wanted)
{
    const char *record =
        arena_print(intake.arena, "{\"id\":\"r1\",\"at\":\"2026-10-20T13:00:00-06:00\",%s}", body);
    const char *path =
        arena_print(intake.arena, "jobs[0].records[0]%s%s", *member ? "." : "", member);
    refused(case_of("", record), path, found, wanted);
}

/* --- what comes in -----------------------------------------------------------------------------
 */

START_TEST(a_good_case_comes_in_whole)
{
    struct casefile *out = NULL;
    ck_assert_int_eq(read_case(case_of(",\"latitude\":43.61,\"site_offset_degf\":-9,"
                                       "\"quantities\":{\"courses\":5,\"drive_h\":0.6}",
                                       ""),
                               &out),
                     STATUS_OK);
    ck_assert_int_eq(out->now_s, 1792800000);
    ck_assert_str_eq(out->company.zone->name, "America/Denver");
    ck_assert_uint_eq(out->company.work_days, 7);
    ck_assert_int_eq(out->company.hours.from_min, 420);
    ck_assert_int_eq(out->company.hours.until_min, 930);
    ck_assert_int_eq(out->company.lunch.from_min, 720);
    ck_assert_uint_eq(out->company.days_off_count, 3); /* sorted, the same day once */
    ck_assert_int_lt(out->company.days_off[0], out->company.days_off[1]);
    ck_assert_int_lt(out->company.days_off[1], out->company.days_off[2]);
    const struct job *job = &out->jobs[0];
    ck_assert_str_eq(job->name, "elm");
    ck_assert_ptr_eq(job->zone, out->company.zone);
    ck_assert_ptr_eq(job->station, &out->stations[0]);
    ck_assert_double_eq_tol(job->site_offset_degc, -5.0, 1e-12);
    ck_assert_double_eq(job->quantities[QUANTITY_COURSES], 5.0);
    ck_assert(isnan(job->quantities[QUANTITY_PALLETS]));
    ck_assert(isnan(job->longitude_deg));
    ck_assert(job->options.permit);
    ck_assert_int_eq(job->options.town.request_cutoff_min, -1);
    ck_assert(isnan(job->options.town.build_on_floor_h));
    const struct station *station = &out->stations[0];
    ck_assert_uint_eq(station->observed.count, 2);
    ck_assert_double_eq(station->observed.temp_degc[0], 1.5);
    ck_assert(isnan(station->observed.temp_degc[1]));
    ck_assert_double_eq(station->observed.rain_mm[1], 0.2);
    ck_assert_ptr_null(station->observed.wind_mps);
    ck_assert_int_eq(station->forecast_made_s, 1792486800);
}
END_TEST

START_TEST(a_forecast_that_does_not_say_when_it_was_made_was_made_when_it_begins)
{
    static const struct {
        const char *forecast;
        int64_t made_s;
    } cases[] = {
        {"{\"start\":\"2026-10-20T06:00:00Z\",\"temp_degc\":[1,2]}", 1792476000},
        {"{\"start\":\"2026-10-20T06:00:00Z\",\"temp_degc\":[]}", INSTANT_NONE},
        {"{\"start\":\"2026-10-20T06:00:00Z\",\"made\":\"2026-10-20T04:30:00Z\",\"temp_degc\":[1]}",
         1792470600},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct casefile *out = NULL;
        const char *text = arena_print(intake.arena,
                                       "{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY
                                       ",\"stations\":{\"town\":{\"forecast\":%s}},\"jobs\":[]}",
                                       cases[i].forecast);
        ck_assert_int_eq(read_case(text, &out), STATUS_OK);
        ck_assert_int_eq(out->stations[0].forecast_made_s, cases[i].made_s);
    }
}
END_TEST

START_TEST(options_said_are_taken_and_options_absent_take_their_usual_value)
{
    struct casefile *out = NULL;
    const char *text = "{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY
                       ",\"jobs\":[{\"id\":\"a\",\"time_zone\":\"Asia/Kathmandu\",\"options\":"
                       "{\"base\":\"basement\",\"pad\":\"existing\",\"place\":\"exposed\","
                       "\"setting_out\":\"chalk\",\"lighter\":\"top\",\"lining\":\"thick\","
                       "\"facing\":\"mortared\",\"mix\":\"blended\",\"permit\":false,"
                       "\"propped\":true,\"town\":{\"build_on_floor_h\":72,"
                       "\"request_cutoff\":\"14:00\",\"throat_look\":true}}}]}";
    ck_assert_int_eq(read_case(text, &out), STATUS_OK);
    const struct options *o = &out->jobs[0].options;
    ck_assert_int_eq(o->base, BASE_BASEMENT);
    ck_assert_int_eq(o->pad, PAD_EXISTING);
    ck_assert_int_eq(o->place, PLACE_EXPOSED);
    ck_assert_int_eq(o->setting_out, SETTING_OUT_CHALK);
    ck_assert_int_eq(o->lighter, LIGHTER_TOP);
    ck_assert_int_eq(o->lining, LINING_THICK);
    ck_assert_int_eq(o->facing, FACING_MORTARED);
    ck_assert_int_eq(o->mix, MIX_BLENDED);
    ck_assert(!o->permit);
    ck_assert(o->propped);
    ck_assert_int_eq(o->town.request_cutoff_min, 840);
    ck_assert_double_eq(o->town.build_on_floor_h, 72.0);
    ck_assert(o->town.throat_look);
    ck_assert_str_eq(out->jobs[0].zone->name, "Asia/Kathmandu");
    ck_assert_ptr_null(out->jobs[0].station);
    const struct job *plain = good_job("", "");
    ck_assert_int_eq(plain->options.setting_out, SETTING_OUT_PLATE);
    ck_assert_int_eq(plain->options.lighter, LIGHTER_NONE);
    ck_assert_int_eq(plain->options.lining, LINING_THIN);
    ck_assert_int_eq(plain->options.facing, FACING_NONE);
    ck_assert_int_eq(plain->options.mix, MIX_PLAIN);
    ck_assert(!plain->options.outside_air && !plain->options.through_roof);
    ck_assert(!plain->options.propped && plain->options.permit);
}
END_TEST

START_TEST(a_reading_keeps_its_unit_and_is_taken_by_probe_unless_said)
{
    const struct record *r = good_record("\"kind\":\"reading\",\"part\":\"pad\",\"degf\":50");
    ck_assert_double_eq_tol(r->temp_degc, 10.0, 1e-12);
    ck_assert(r->in_degf);
    ck_assert_int_eq(r->how, HOW_PROBE);
    ck_assert_int_eq(r->part, PART_PAD);
    ck_assert_int_eq(r->task, TASK_NONE);
    ck_assert_int_eq(r->day, DAY_NONE);
    r = good_record("\"kind\":\"reading\",\"part\":\"air\",\"how\":\"lowest\",\"degc\":-3.25");
    ck_assert_double_eq(r->temp_degc, -3.25);
    ck_assert(!r->in_degf);
    ck_assert_int_eq(r->how, HOW_LOWEST);
    ck_assert_int_eq(r->part, PART_AIR);
}
END_TEST

START_TEST(the_edges_of_a_reading_are_in_and_what_is_past_them_is_out)
{
    good_record("\"kind\":\"reading\",\"part\":\"pad\",\"degf\":-60");
    good_record("\"kind\":\"reading\",\"part\":\"pad\",\"degf\":200");
    good_record("\"kind\":\"reading\",\"part\":\"pad\",\"degc\":-51.1111111");
    good_record("\"kind\":\"reading\",\"part\":\"pad\",\"degc\":93.3333333");
    refused_record("\"kind\":\"reading\",\"part\":\"pad\",\"degf\":-60.01", "degf", "-60.01",
                   "-60 to 200 F");
    refused_record("\"kind\":\"reading\",\"part\":\"pad\",\"degf\":400", "degf", "400",
                   "-60 to 200 F");
    refused_record("\"kind\":\"reading\",\"part\":\"pad\",\"degc\":93.4", "degc", "93.4", "number");
    refused_record("\"kind\":\"reading\",\"part\":\"pad\",\"degf\":1e308", "degf", "1e+308",
                   "-60 to 200 F");
    refused_record("\"kind\":\"reading\",\"part\":\"pad\",\"degf\":100000000000000000000000000",
                   "degf", "1e+26", "-60 to 200 F");
}
END_TEST

START_TEST(every_kind_takes_its_own_members)
{
    ck_assert_int_eq(good_record("\"kind\":\"done\",\"task\":\"pad-pour\"")->task, TASK_PAD_POUR);
    const struct record *r =
        good_record("\"kind\":\"closed-in\",\"part\":\"pad\",\"how\":\"blanket\"");
    ck_assert_int_eq(r->shelter, SHELTER_BLANKET);
    ck_assert_int_eq(r->how, HOW_NONE);
    ck_assert_int_eq(good_record("\"kind\":\"opened\",\"part\":\"unit\"")->shelter, SHELTER_NONE);
    ck_assert_int_eq(good_record("\"kind\":\"wet-cover-on\"")->part, PART_PAD);
    ck_assert(good_record("\"kind\":\"soaked\",\"part\":\"unit\",\"standing\":true")->standing);
    r = good_record("\"kind\":\"looked\",\"part\":\"pad\",\"result\":\"redo\",\"by\":\"Ana\"");
    ck_assert_int_eq(r->result, RESULT_REDO);
    ck_assert_str_eq(r->by, "Ana");
    ck_assert_int_eq(good_record("\"kind\":\"patched\"")->days, 0);
    r = good_record("\"kind\":\"patched\",\"days\":7,\"initials\":\"RK\"");
    ck_assert_int_eq(r->days, 7);
    ck_assert_str_eq(r->initials, "RK");
    ck_assert(good_record("\"kind\":\"facing\",\"last\":true")->last);
    ck_assert(good_record("\"kind\":\"delivered\",\"item\":\"kit\"")->complete);
    ck_assert(!good_record("\"kind\":\"delivered\",\"complete\":false")->complete);
    r = good_record("\"kind\":\"logged-day\",\"date\":\"2026-10-20\",\"mean_degf\":59,"
                    "\"min_degf\":41");
    ck_assert_double_eq_tol(r->mean_degc, 15.0, 1e-12);
    ck_assert_double_eq_tol(r->min_degc, 5.0, 1e-12);
    ck_assert_int_eq(r->day, 20746);
    r = good_record("\"kind\":\"overridden\",\"rule\":\"pad.strip\",\"floor_h\":30,"
                    "\"by\":\"R\",\"reason\":\"town\"");
    ck_assert_int_eq(r->clock, CLOCK_PAD_STRIP);
    ck_assert_double_eq(r->floor_h, 30.0);
    ck_assert(isnan(r->need));
    r = good_record("\"kind\":\"bag\",\"lot\":\"L7\",\"mortar\":\"polymer\",\"min_degf\":41");
    ck_assert_double_eq_tol(r->bag_min_degc, 5.0, 1e-12);
    ck_assert_int_eq(good_record("\"kind\":\"inspection\",\"task\":\"pad-inspect\","
                                 "\"result\":\"passed-with-note\"")
                         ->result,
                     RESULT_PASSED_WITH_NOTE);
    ck_assert_str_eq(good_record("\"kind\":\"note\",\"text\":\"gate\\nleft\"")->text, "gate\nleft");
    ck_assert_str_eq(good_record("\"kind\":\"lit\",\"note\":\"paper\"")->text, "paper");
}
END_TEST

/* --- rules of records --------------------------------------------------------------------------
 */

START_TEST(a_kind_refuses_what_does_not_belong_to_it)
{
    refused_record("\"kind\":\"lit\",\"task\":\"layout\"", "task", "unknown member \"task\"",
                   "nearest");
    refused_record("\"kind\":\"reading\",\"part\":\"pad\",\"degF\":50,\"degc\":10", "degF",
                   "unknown member \"degF\"", "\"degf\"");
    refused_record("\"kind\":\"done\",\"task\":\"pad-pure\"", "task", "\"pad-pure\"",
                   "perhaps \"pad-pour\"");
    /* every choice is told, to the last one */
    refused_record("\"kind\":\"done\",\"task\":\"\"", "task", "\"\"", "fire-5, close-file");
    refused_record("\"kind\":\"x\"", "kind", "\"x\"", "corrected, photo, note");
    refused_record("\"kind\":\"redding\"", "kind", "\"redding\"", "perhaps \"reading\"");
    refused_record("\"kind\":\"soaked\",\"part\":\"air\"", "part", "\"air\"", "pad, footing");
    refused_record("\"kind\":\"closed-in\",\"part\":\"pad\",\"how\":\"probe\"", "how", "\"probe\"",
                   "room, enclosure, blanket");
    refused_record("\"kind\":\"looked\",\"part\":\"pad\",\"result\":\"passed\"", "result",
                   "\"passed\"", "no-damage-seen, redo");
    refused_record("\"kind\":\"covered\",\"part\":\"pad\"", "part", "\"pad\"", "unit");
}
END_TEST

START_TEST(a_record_that_lacks_what_its_kind_needs_is_refused)
{
    refused_record("\"kind\":\"done\"", "task", "nothing", "one of site-walk");
    refused_record("\"kind\":\"soaked\"", "part", "nothing", "one of pad");
    refused_record("\"kind\":\"reading\",\"part\":\"pad\"", "degf", "nothing",
                   "exactly one of degf or degc");
    refused_record("\"kind\":\"reading\",\"part\":\"pad\",\"degf\":50,\"degc\":10", "degf", "both",
                   "exactly one of degf or degc");
    refused_record("\"kind\":\"accepted\",\"clock\":\"pad.strip\",\"reason\":\"x\"", "by",
                   "nothing", "text");
    refused_record("\"kind\":\"engineer\",\"rule\":\"pad.strip\"", "", "neither",
                   "floor_h and need");
    refused_record("\"kind\":\"relaid\"", "what", "nothing", "floor, back, side");
    refused_record("\"kind\":\"note\"", "note", "nothing", "exactly one of note or text");
    refused(case_of("", "{\"id\":\"r1\",\"kind\":\"lit\"}"), "jobs[0].records[0].at", "nothing",
            "instant");
    refused(case_of("", "{\"kind\":\"lit\",\"at\":\"2026-10-20T13:00:00Z\"}"),
            "jobs[0].records[0].id", "nothing", "id");
}
END_TEST

START_TEST(a_side_of_ten_percent_or_less_is_a_patch)
{
    refused_record("\"kind\":\"relaid\",\"what\":\"side\",\"percent\":10", "percent", "10",
                   "record it as patched");
    refused_record("\"kind\":\"relaid\",\"what\":\"side\"", "percent", "nothing",
                   "record it as patched");
    good_record("\"kind\":\"relaid\",\"what\":\"side\",\"percent\":10.5");
    good_record("\"kind\":\"relaid\",\"what\":\"floor\",\"percent\":3");
}
END_TEST

START_TEST(a_patch_is_for_seven_or_for_twenty_eight_days)
{
    good_record("\"kind\":\"patched\",\"days\":28");
    good_record("\"kind\":\"patched\",\"days\":7");
    refused_record("\"kind\":\"patched\",\"days\":14", "days", "14", "7 or 28");
    refused_record("\"kind\":\"patched\",\"days\":6.5", "days", "6.5", "whole number");
}
END_TEST

START_TEST(a_logged_day_is_not_in_the_future_of_the_job_and_its_minimum_is_below_its_mean)
{
    /* 2026-10-20T13:00-06:00 is still the 20th in Denver */
    refused_record("\"kind\":\"logged-day\",\"date\":\"2026-10-21\",\"mean_degc\":9,"
                   "\"min_degc\":4",
                   "date", "2026-10-21", "not after the day");
    refused_record("\"kind\":\"logged-day\",\"date\":\"2026-10-20\",\"mean_degc\":4,"
                   "\"min_degc\":9",
                   "min_degc", "9", "not above the mean");
    refused_record("\"kind\":\"logged-day\",\"date\":\"2026-10-20\",\"mean_degf\":50,"
                   "\"min_degc\":4",
                   "min_degc", "one in F", "in one unit");
    good_record("\"kind\":\"logged-day\",\"date\":\"2026-10-20\",\"mean_degc\":4,\"min_degc\":4");
}
END_TEST

#define R1                                                                                         \
    "{\"id\":\"r1\",\"kind\":\"reading\",\"at\":\"2026-10-20T13:00:00-06:00\","                    \
    "\"part\":\"pad\",\"degf\":61}"

START_TEST(the_same_record_twice_counts_once_and_another_body_is_a_fault)
{
    const struct job *job = good_job("", R1 "," R1);
    ck_assert_uint_eq(job->record_count, 1);
    /* the order of members and 61 or 61.0 are the same body */
    job = good_job("", R1 ",{\"degf\":61.0,\"part\":\"pad\",\"id\":\"r1\",\"kind\":\"reading\","
                          "\"at\":\"2026-10-20T13:00:00-06:00\"}");
    ck_assert_uint_eq(job->record_count, 1);
    refused(case_of("", R1 ",{\"id\":\"r1\",\"kind\":\"reading\",\"part\":\"pad\",\"degf\":62,"
                           "\"at\":\"2026-10-20T13:00:00-06:00\"}"),
            "jobs[0].records[1].id", "\"r1\"", "another record has it");
}
END_TEST

#define CORRECTED(id, target, with)                                                                \
    "{\"id\":\"" id "\",\"kind\":\"corrected\",\"at\":\"2026-10-21T08:00:00-06:00\","              \
    "\"corrects\":\"" target "\",\"with\":" with "}"

START_TEST(a_correction_takes_what_it_leaves_out_from_the_record_it_corrects)
{
    /* the correction may stand before the record it names */
    const struct job *job =
        good_job("", CORRECTED("c1", "r1", "{\"part\":\"pad\",\"degf\":41}") "," R1);
    ck_assert_uint_eq(job->record_count, 2);
    const struct record *with = job->records[0].with;
    ck_assert_ptr_nonnull(with);
    ck_assert_str_eq(with->id, "r1");
    ck_assert_int_eq(with->kind, RECORD_READING);
    ck_assert_int_eq(with->at_s, job->records[1].at_s);
    ck_assert_double_eq_tol(with->temp_degc, 5.0, 1e-12);
    job = good_job("", R1 "," CORRECTED("c1", "r1", "null"));
    ck_assert_ptr_null(job->records[1].with);
    /* a correction of a withdrawal stands for the first record again */
    job = good_job("", R1 "," CORRECTED("c1", "r1",
                                        "null") "," CORRECTED("c2", "c1",
                                                              "{\"part\":\"bed\",\"degc\":7,\"at\":"
                                                              "\"2026-10-20T14:00:00-06:00\"}"));
    with = job->records[2].with;
    ck_assert_str_eq(with->id, "r1");
    ck_assert_int_eq(with->part, PART_BED);
    ck_assert_int_eq(with->at_s, job->records[0].at_s + 3600);
}
END_TEST

START_TEST(a_correction_has_to_name_a_record_and_be_right_itself)
{
    refused(case_of("", R1 "," CORRECTED("c1", "r9", "null")), "jobs[0].records[1].corrects",
            "\"r9\"", "a record of this job");
    refused(case_of("", CORRECTED("c1", "c1", "null")), "jobs[0].records[0].corrects", "\"c1\"",
            "a record of this job");
    refused(case_of("", R1 "," CORRECTED("c1", "r1", "{\"part\":\"pad\",\"degf\":400}")),
            "jobs[0].records[1].with.degf", "400", "-60 to 200 F");
    refused(
        case_of("", R1 "," CORRECTED("c1", "r1", "{\"id\":\"r2\",\"part\":\"pad\",\"degf\":4}")),
        "jobs[0].records[1].with.id", "\"r2\"", "that is corrected");
    refused(case_of("", R1 "," CORRECTED("c1", "r1", "{\"kind\":\"corrected\",\"with\":null}")),
            "jobs[0].records[1].with.kind", "corrected", "other than corrected");
    refused(case_of("", R1 "," CORRECTED("c1", "r1", "7")), "jobs[0].records[1].with", "7",
            "an object");
    refused(case_of("", CORRECTED("c1", "c2", "{}") "," CORRECTED("c2", "c1", "null")),
            "jobs[0].records[0].corrects", "\"c2\"", "name each other");
}
END_TEST

START_TEST(a_record_of_its_own_can_correct_a_stored_one)
{
    const struct job *job = good_job("", R1);
    json_t *json = json_loads(CORRECTED("c1", "r1", "{\"part\":\"pad\",\"degf\":50}"), 0, NULL);
    struct record record;
    ck_assert_int_eq(
        intake_record(&record, json, "record", job->zone, job->records, job->record_count, &intake),
        STATUS_OK);
    ck_assert_double_eq_tol(record.with->temp_degc, 10.0, 1e-12);
    ck_assert_int_eq(intake_record(&record, json, "record", job->zone, NULL, 0, &intake),
                     STATUS_INVALID);
    ck_assert_str_eq(faults.items[0].path, "record.corrects");
    json_decref(json);
}
END_TEST

/* --- bad cases ---------------------------------------------------------------------------------
 */

START_TEST(malformed_text_is_told_by_line_and_column)
{
    refused("", "line 1:1", "", "JSON");
    refused("{\n  \"emberwait\": 1,\n  oops}", "line 3:6", "", "JSON");
    refused("{\"emberwait\":1} x", "line 1:17", "", "JSON");
    refused("{\"emberwait\":NaN}", "line 1:16", "", "JSON");
    refused("{\"emberwait\":1e999}", "line 1:18", "", "JSON");
    refused("{\"now\":1,\"now\":2}", "line 1:14", "now", "JSON");
    refused("{\"now\":\"\xff\"}", "line 1:9", "0xff", "UTF-8");
    refused("{\"now\":\"\xc0\xaf\"}", "line 1:9", "0xc0", "UTF-8");
    refused("\n{\"now\":\"\xed\xa0\x80\"}", "line 2:9", "0xed", "UTF-8");
}
END_TEST

START_TEST(nesting_past_the_ceiling_is_refused_before_it_is_parsed)
{
    size_t depth = 100000;
    char *text = malloc(2 * depth + 1);
    memset(text, '[', depth);
    memset(text + depth, ']', depth);
    text[2 * depth] = '\0';
    refused(text, "line 1:33", "deeper", "32 deep");
    free(text);
    /* brackets in a text are text */
    good_job("", "{\"id\":\"n\",\"at\":\"2026-10-20T13:00:00Z\",\"kind\":\"note\",\"text\":"
                 "\"[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[\\\"[[[[[[[[[[[\"}");
}
END_TEST

START_TEST(the_top_of_a_case_is_checked)
{
    refused("[]", "", "an array of 0", "an object");
    refused("7", "", "7", "an object");
    refused("{\"emberwait\":2,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY ",\"jobs\":[]}",
            "emberwait", "2", "1 to 1");
    refused("{\"emberwait\":1," COMPANY ",\"jobs\":[]}", "now", "nothing", "instant");
    refused("{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY "}", "jobs", "nothing",
            "this member");
    refused("{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY ",\"jobs\":[],"
            "\"job\":[]}",
            "job", "unknown member \"job\"", "\"jobs\"");
    refused("{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY ",\"jobs\":{}}", "jobs",
            "an object", "an array");
}
END_TEST

START_TEST(instants_out_of_the_years_we_know_are_refused)
{
    const char *const bad[] = {"1969-12-31T23:59:59Z",
                               "9999-01-01T00:00:00Z",
                               "2200-01-02T00:00:00Z",
                               "2026-10-20T13:00:00",
                               "2026-02-30T00:00:00Z",
                               "2026-10-20",
                               "yesterday",
                               ""};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        refused(case_of("", arena_print(intake.arena,
                                        "{\"id\":\"r1\",\"kind\":\"lit\",\"at\":\"%s\"}", bad[i])),
                "jobs[0].records[0].at", bad[i], "");
    }
    refused_record("\"kind\":\"agreed\",\"date\":\"9999-01-01\"", "date", "9999-01-01", "");
    refused_record("\"kind\":\"agreed\",\"date\":\"1969-12-31\"", "date", "1969-12-31", "");
    refused_record("\"kind\":\"agreed\",\"date\":20261001", "date", "20261001", "a date");
}
END_TEST

START_TEST(a_job_says_its_base_pad_and_place)
{
    refused("{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY
            ",\"jobs\":[{\"id\":\"a\",\"options\":{\"base\":\"slab\",\"place\":\"indoor\"}}]}",
            "jobs[0].options.pad", "nothing", "new, existing");
    refused("{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY
            ",\"jobs\":[{\"id\":\"a\"}]}",
            "jobs[0].options", "nothing", "");
    refused(case_of(",\"rulebook\":\"other\"", ""), "jobs[0].rulebook", "\"other\"",
            "modular-masonry");
    refused(case_of(",\"time_zone\":\"America/Denvr\"", ""), "jobs[0].time_zone", "America/Denvr",
            "");
    refused(case_of(",\"time_zone\":\"../../etc/passwd\"", ""), "jobs[0].time_zone", "passwd", "");
    refused(case_of(",\"site_offset_degf\":1", ""), "jobs[0].site_offset_degf", "1", "-30 to 0 F");
    refused(case_of(",\"quantities\":{\"course\":5}", ""), "jobs[0].quantities.course",
            "unknown member", "\"courses\"");
    refused(case_of(",\"quantities\":{\"courses\":-1}", ""), "jobs[0].quantities.courses", "-1",
            "0 to 100000");
    refused(case_of(",\"name\":7", ""), "jobs[0].name", "7", "a text");
}
END_TEST

START_TEST(an_unknown_station_is_told_with_those_there_are)
{
    refused("{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY "," STATIONS
            ",\"jobs\":[{\"id\":\"a\",\"station\":\"twon\"," OPTIONS "}]}",
            "jobs[0].station", "\"twon\"", "one of town");
    refused("{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY
            ",\"jobs\":[{\"id\":\"a\",\"station\":\"town\"," OPTIONS "}]}",
            "jobs[0].station", "\"town\"", "it has none");
}
END_TEST

START_TEST(ids_are_their_own)
{
    refused("{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY
            ",\"jobs\":[{\"id\":\"a\"," OPTIONS "},{\"id\":\"b\"," OPTIONS
            "},{\"id\":\"a\"," OPTIONS "}]}",
            "jobs[2].id", "\"a\" a second time", "an id of its own");
    refused(case_of(",\"crew\":\"\"", ""), "jobs[0].crew", "0 bytes", "1 to 80");
    char id[82];
    memset(id, 'x', sizeof id);
    id[81] = '\0';
    refused(case_of(arena_print(intake.arena, ",\"crew\":\"%s\"", id), ""), "jobs[0].crew",
            "81 bytes", "1 to 80");
    id[80] = '\0';
    ck_assert_str_eq(good_job(arena_print(intake.arena, ",\"crew\":\"%s\"", id), "")->crew_id, id);
}
END_TEST

/* --- company, stations -------------------------------------------------------------------------
 */

static void refused_company(const char *text, const char *path, const char *found,
                            const char *wanted)
{
    refused(arena_print(intake.arena,
                        "{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\",\"company\":{%s},"
                        "\"jobs\":[]}",
                        text),
            path, found, wanted);
}

START_TEST(a_working_calendar_is_checked)
{
#define ZONE "\"time_zone\":\"America/Denver\","
#define DAYS "\"work_days\":[\"mon\"],"
#define HOURS "\"work_hours\":[\"07:00\",\"15:30\"]"
    refused_company(DAYS HOURS, "company.time_zone", "nothing", "");
    refused_company(ZONE HOURS, "company.work_days", "nothing", "");
    refused_company(ZONE "\"work_days\":[\"mond\"]," HOURS, "company.work_days[0]", "\"mond\"",
                    "perhaps \"mon\"");
    refused_company(ZONE "\"work_days\":[\"mon\",\"mon\"]," HOURS, "company.work_days[1]",
                    "\"mon\"", "once");
    refused_company(ZONE "\"work_days\":[]," HOURS, "company.work_days", "an array of 0",
                    "at least one");
    refused_company(ZONE DAYS "\"work_hours\":[\"07:00\",\"07:00\"]", "company.work_hours[1]",
                    "\"07:00\"", "after the first");
    refused_company(ZONE DAYS "\"work_hours\":[\"7:00\",\"15:30\"]", "company.work_hours[0]",
                    "\"7:00\"", "07:00");
    refused_company(ZONE DAYS "\"work_hours\":[\"07:00\",\"24:01\"]", "company.work_hours[1]",
                    "\"24:01\"", "24:00");
    refused_company(ZONE DAYS "\"work_hours\":\"07:00\"", "company.work_hours", "\"07:00\"",
                    "two times");
    refused_company(ZONE DAYS HOURS ",\"days_off\":[\"2026-13-01\"]", "company.days_off[0]",
                    "2026-13-01", "");
    refused_company(ZONE DAYS HOURS ",\"crews\":[{\"id\":\"a\",\"people\":0}]",
                    "company.crews[0].people", "0", "1 to 50");
    refused_company(ZONE DAYS HOURS ",\"crews\":[{\"id\":\"a\",\"people\":2},{\"id\":\"a\","
                                    "\"people\":3}]",
                    "company.crews[1].id", "\"a\" a second time", "of its own");
}
END_TEST

START_TEST(an_inspector_keeps_the_companys_days_unless_his_own_are_said)
{
    struct casefile *out = NULL;
    const char *text =
        "{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\",\"company\":{" ZONE DAYS HOURS
        ",\"inspectors\":[{\"id\":\"town\",\"request_cutoff\":\"14:00\",\"holidays\":"
        "[\"2026-11-26\"]}],\"trades\":[{\"id\":\"plumber\",\"work_days\":[\"sat\"],"
        "\"phone\":\"555 0100\"}]},\"jobs\":[]}";
    ck_assert_int_eq(read_case(text, &out), STATUS_OK);
    const struct outside_party *inspector = &out->company.inspectors[0];
    ck_assert_int_eq(inspector->request_cutoff_min, 840);
    ck_assert_uint_eq(inspector->work_days, 1);
    ck_assert_int_eq(inspector->hours.until_min, 930);
    ck_assert_uint_eq(inspector->days_off_count, 1);
    ck_assert_uint_eq(out->company.trades[0].work_days, 32);
    ck_assert_int_eq(out->company.trades[0].request_cutoff_min, -1);
}
END_TEST

static void refused_station(const char *text, const char *path, const char *found,
                            const char *wanted)
{
    refused(arena_print(intake.arena,
                        "{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY
                        ",\"stations\":{\"s\":{%s}},\"jobs\":[]}",
                        text),
            path, found, wanted);
}

START_TEST(hours_of_weather_are_checked)
{
#define START "\"start\":\"2026-10-20T06:00:00Z\""
    refused_station("\"observed\":{\"temp_degc\":[]}", "stations.s.observed.start", "nothing", "");
    refused_station("\"observed\":{\"start\":\"2026-10-20T06:30:00Z\"}",
                    "stations.s.observed.start", "06:30", "whole UTC hour");
    refused_station("\"observed\":{" START ",\"temp_degc\":[1,2],\"rain_mm\":[0]}",
                    "stations.s.observed.rain_mm", "1 hours, and 2 in temp_degc", "one length");
    refused_station("\"observed\":{" START ",\"temp_degc\":[1,70.1]}",
                    "stations.s.observed.temp_degc[1]", "70.1", "-90 to 70");
    refused_station("\"observed\":{" START ",\"rain_mm\":[-0.1]}", "stations.s.observed.rain_mm[0]",
                    "-0.1", "0 to 500");
    refused_station("\"forecast\":{" START ",\"rh_pct\":[\"40\"]}", "stations.s.forecast.rh_pct[0]",
                    "\"40\"", "0 to 100");
    refused_station("\"observed\":{" START ",\"made\":"
                    "\"2026-10-20T06:00:00Z\"}",
                    "stations.s.observed.made", "unknown member", "");
    refused_station("\"history\":[{" START ",\"wind_mps\":[121]}]",
                    "stations.s.history[0].wind_mps[0]", "121", "0 to 120");
    refused_station("\"latitude\":91", "stations.s.latitude", "91", "-90 to 90");
    refused_station("\"observed\":{\"start\":\"2199-12-31T23:00:00Z\",\"temp_degc\":[1,2]}",
                    "stations.s.observed", "2 hours", "before 2200");
}
END_TEST

START_TEST(a_series_of_ten_million_hours_is_refused)
{
    size_t count = 10 * 1000 * 1000;
    const char *head = "{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\"," COMPANY
                       ",\"stations\":{\"s\":{\"observed\":{" START ",\"temp_degc\":[";
    char *text = malloc(strlen(head) + 2 * count + 64);
    size_t used = strlen(head);
    memcpy(text, head, used);
    for (size_t i = 0; i < count; i++) {
        text[used++] = '7';
        text[used++] = i + 1 < count ? ',' : ']';
    }
    memcpy(text + used, "}}},\"jobs\":[]}", sizeof "}}},\"jobs\":[]}");
    refused(text, "stations.s.observed.temp_degc", "an array of 10000000", "at most 1000000 hours");
    free(text);
}
END_TEST

START_TEST(all_faults_are_told_not_only_the_first)
{
    struct casefile *out = NULL;
    ck_assert_int_eq(
        read_case(
            "{\"emberwait\":1,\"now\":\"soon\",\"company\":{\"time_zone\":\"Mars/Olympus\","
            "\"work_days\":[\"mon\"],\"work_hours\":[\"07:00\",\"15:30\"]},\"jobs\":[{"
            "\"id\":\"a\",\"station\":\"x\",\"options\":{\"base\":\"slap\",\"pad\":\"new\","
            "\"place\":\"indoor\",\"propped\":1},\"records\":[{\"id\":\"r1\",\"kind\":"
            "\"reading\",\"at\":\"2026-10-20T13:00:00Z\",\"degf\":400},{\"kind\":\"lit\"}]}]}",
            &out),
        STATUS_INVALID);
    const char *const paths[] = {"now",
                                 "company.time_zone",
                                 "jobs[0].station",
                                 "jobs[0].options.base",
                                 "jobs[0].options.propped",
                                 "jobs[0].records[0].part",
                                 "jobs[0].records[0].degf",
                                 "jobs[0].records[1].id",
                                 "jobs[0].records[1].at"};
    ck_assert_uint_eq(faults.count, sizeof paths / sizeof *paths);
    for (size_t i = 0; i < faults.count; i++) ck_assert_str_eq(faults.items[i].path, paths[i]);
}
END_TEST

START_TEST(faults_past_the_ceiling_are_counted)
{
    struct casefile *out = NULL;
    char *records = malloc(64 * 400);
    size_t used = 0;
    for (int i = 0; i < 400; i++)
        used += (size_t)snprintf(records + used, 16, "%s%d", i ? "," : "", i);
    ck_assert_int_eq(read_case(case_of("", records), &out), STATUS_INVALID);
    ck_assert_uint_eq(faults.count, FAULTS_MAX);
    ck_assert_uint_eq(faults.dropped, 200);
    free(records);
}
END_TEST

START_TEST(what_is_found_is_shortened_and_stays_on_one_line)
{
    struct casefile *out = NULL;
    ck_assert_int_eq(read_case(case_of(",\"a\\nb\":1,\"rulebook\":\"ééééééééééééééééééééééééé"
                                       "éééééééééééééééééééééé\\u0001\"",
                                       ""),
                               &out),
                     STATUS_INVALID);
    ck_assert_uint_eq(faults.count, 2);
    ck_assert_str_eq(faults.items[0].path, "jobs[0].a?b");
    ck_assert_str_eq(faults.items[1].found, "\"éééééééééééééééééééééééééééééé…\"");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("intake");
    TCase *cases = tcase_create("intake");
    tcase_set_timeout(cases, 60);
    tcase_add_checked_fixture(cases, set_up, tear_down);
    tcase_add_test(cases, a_good_case_comes_in_whole);
    tcase_add_test(cases, a_forecast_that_does_not_say_when_it_was_made_was_made_when_it_begins);
    tcase_add_test(cases, options_said_are_taken_and_options_absent_take_their_usual_value);
    tcase_add_test(cases, a_reading_keeps_its_unit_and_is_taken_by_probe_unless_said);
    tcase_add_test(cases, the_edges_of_a_reading_are_in_and_what_is_past_them_is_out);
    tcase_add_test(cases, every_kind_takes_its_own_members);
    tcase_add_test(cases, a_kind_refuses_what_does_not_belong_to_it);
    tcase_add_test(cases, a_record_that_lacks_what_its_kind_needs_is_refused);
    tcase_add_test(cases, a_side_of_ten_percent_or_less_is_a_patch);
    tcase_add_test(cases, a_patch_is_for_seven_or_for_twenty_eight_days);
    tcase_add_test(cases,
                   a_logged_day_is_not_in_the_future_of_the_job_and_its_minimum_is_below_its_mean);
    tcase_add_test(cases, the_same_record_twice_counts_once_and_another_body_is_a_fault);
    tcase_add_test(cases, a_correction_takes_what_it_leaves_out_from_the_record_it_corrects);
    tcase_add_test(cases, a_correction_has_to_name_a_record_and_be_right_itself);
    tcase_add_test(cases, a_record_of_its_own_can_correct_a_stored_one);
    tcase_add_test(cases, malformed_text_is_told_by_line_and_column);
    tcase_add_test(cases, nesting_past_the_ceiling_is_refused_before_it_is_parsed);
    tcase_add_test(cases, the_top_of_a_case_is_checked);
    tcase_add_test(cases, instants_out_of_the_years_we_know_are_refused);
    tcase_add_test(cases, a_job_says_its_base_pad_and_place);
    tcase_add_test(cases, an_unknown_station_is_told_with_those_there_are);
    tcase_add_test(cases, ids_are_their_own);
    tcase_add_test(cases, a_working_calendar_is_checked);
    tcase_add_test(cases, an_inspector_keeps_the_companys_days_unless_his_own_are_said);
    tcase_add_test(cases, hours_of_weather_are_checked);
    tcase_add_test(cases, a_series_of_ten_million_hours_is_refused);
    tcase_add_test(cases, all_faults_are_told_not_only_the_first);
    tcase_add_test(cases, faults_past_the_ceiling_are_counted);
    tcase_add_test(cases, what_is_found_is_shortened_and_stays_on_one_line);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
