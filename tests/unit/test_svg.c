/* SPDX-License-Identifier: MIT */
/* links: views planner intake */
/*
 * Pictures: well-formed, without any style or script inside (the pages' policy lets none act), told
 * apart by shape, said in words and as a table in both languages, and saying what the clock says.
 * Whole pictures are held against tests/snapshot/pictures-*.html; to take new ones on purpose run
 * with EMBERWAIT_SNAPSHOT=write and read the difference.
 */
#include <stdio.h>
#include <stdlib.h>

#include "clock_case.h"
#include "views/says.h"
#include "views/svg_day_strip.h"
#include "views/svg_hour_strip.h"

#define MONDAY POUR("2026-01-05T00:00")
#define FROZEN_AND_LOOKED                                                                          \
    MONDAY DEGC("pad", "probe", 12, "2026-01-05T01:00") LOOK("pad", "2026-01-05T10:00")
#define LINED                                                                                      \
    WORK("chimney-run", "2026-01-05T09:00")                                                        \
    WORK("cap-set", "2026-01-05T10:00") WORK("line-clean", "2026-01-05T15:00")
#define OUTDOORS                                                                                   \
    LINED SOAKED("unit", "2026-01-09T09:00") PLAIN("wrapped", "2026-01-13T09:00")                  \
        PLAIN("unwrapped", "2026-01-13T15:00")                                                     \
            WITH("patched", "\"days\":28,\"by\":\"Ana\"", "2026-01-15T09:00")

static struct words *words[2];
static struct text drawn;

static void load(void)
{
    for (int l = 0; l < 2; l++) {
        const char *language = l == 0 ? "en" : "es";
        if (words_load(&words[l], PROJECT_ROOT "/schema/words", language, NULL) != STATUS_OK)
            abort();
    }
    drawn = (struct text)TEXT_UP_TO(PAGE_BYTES_MAX);
}

static void unload(void)
{
    text_free(&drawn);
    words_free(words[0]);
    words_free(words[1]);
}

static struct page page_in(int language)
{
    return (struct page){.words = words[language],
                         .now_s = the_now_s,
                         .company = the_company,
                         .path = "/",
                         .notice = WORD_COUNT};
}

static struct job_plan *with_pictures(struct job_plan *plan)
{
    ck_assert_int_eq(planner_pictures(plan, the_company, book, the_now_s, case_intake.arena),
                     STATUS_OK);
    return plan;
}

static struct job_plan *frozen_pad(void)
{
    return with_pictures(plan_told(.now = "2026-01-06T06:00",
                                   .observed = "6*10 3*-2 3*3 2*null 20*24",
                                   .forecast = "40*12 200*8", .records = FROZEN_AND_LOOKED));
}

static struct job_plan *outdoor_unit(void)
{
    return with_pictures(
        plan_told(.now = "2026-01-20T12:00", .options = EXPOSED,
                  .observed = "48*18 24*6 24*18 24*18 24*2 24*18 24*18 48*18 24*null 108*18",
                  .observed_rain = "72*0 24*0 24*0.2 96*0 24*null 132*0", .forecast = "60*18 24*1",
                  .forecast_rain = "84*0", .records = OUTDOORS));
}

static void draw_hours(const struct job_plan *plan, enum part part, int language)
{
    const struct page page = page_in(language);
    text_clear(&drawn);
    svg_hour_strip(&drawn, &page, plan, &plan->parts[part]);
    ck_assert_int_eq(text_status(&drawn), STATUS_OK);
}

static void draw_days(const struct job_plan *plan, enum clock_id clock, int language, bool home)
{
    const struct page page = page_in(language);
    text_clear(&drawn);
    svg_day_strip(&drawn, &page, plan, clock_in(plan, clock), home);
    ck_assert_int_eq(text_status(&drawn), STATUS_OK);
}

/* --- a reader of well-formed XML, as strict as the pictures need -------------------------------
 */

enum { DEPTH_MOST = 32, NAME_MOST = 32 };

static size_t name_length(const char *at)
{
    return strspn(at, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-");
}

/* One attribute, and the place behind it: quoted, and neither a style, a handler nor an id. */
static const char *read_attribute(const char *at)
{
    size_t length = name_length(at);
    ck_assert_msg(length > 0, "no attribute at %.60s", at);
    ck_assert_msg(strncmp(at, "style", length) != 0, "an inline style: %.60s", at);
    ck_assert_msg(strncmp(at, "on", 2) != 0, "a handler: %.60s", at);
    ck_assert_msg(strncmp(at, "href=\"#", 7) == 0 || strncmp(at, "href", length) != 0,
                  "a reference out of the page: %.60s", at);
    const char *value = at + length;
    if (*value == ' ' || *value == '>' || *value == '/') {
        ck_assert_msg(strncmp(at, "open", length) == 0, "an attribute without value: %.60s", at);
        return value;
    }
    ck_assert_msg(value[0] == '=' && value[1] == '"', "not quoted: %.60s", at);
    value += 2;
    size_t size = strcspn(value, "\"");
    ck_assert_msg(value[size] == '"' && memchr(value, '<', size) == NULL, "no end: %.60s", at);
    ck_assert_msg(length != 2 || strncmp(at, "id", 2) != 0, "an id, twice on a page: %.60s", at);
    return value + size + 1;
}

static void ck_well_formed(const char *text)
{
    char open[DEPTH_MOST][NAME_MOST];
    int depth = 0;
    for (const char *at = text; *at != '\0';) {
        if (*at == '&') {
            ck_assert_msg(strncmp(at, "&amp;", 5) == 0 || strncmp(at, "&lt;", 4) == 0 ||
                              strncmp(at, "&gt;", 4) == 0 || strncmp(at, "&quot;", 6) == 0 ||
                              strncmp(at, "&#", 2) == 0,
                          "an entity XML does not have: %.40s", at);
            at++;
            continue;
        }
        if (*at != '<') {
            at++;
            continue;
        }
        bool closes = at[1] == '/';
        at += closes ? 2 : 1;
        size_t length = name_length(at);
        ck_assert_msg(length > 0 && length < NAME_MOST, "no name at %.40s", at);
        char name[NAME_MOST];
        snprintf(name, sizeof name, "%.*s", (int)length, at);
        ck_assert_str_ne(name, "style");
        ck_assert_str_ne(name, "script");
        at += length;
        if (closes) {
            ck_assert_int_gt(depth, 0);
            ck_assert_str_eq(open[--depth], name);
            ck_assert_int_eq(*at, '>');
            at++;
            continue;
        }
        while (*at == ' ') at = read_attribute(at + 1);
        if (at[0] == '/' && at[1] == '>') {
            at += 2;
            continue;
        }
        ck_assert_msg(*at == '>', "a tag without end: %.40s", at);
        at++;
        ck_assert_int_lt(depth, DEPTH_MOST);
        snprintf(open[depth++], NAME_MOST, "%s", name);
    }
    ck_assert_int_eq(depth, 0);
}

static void ck_shows(const char *wanted)
{
    ck_assert_msg(strstr(text_z(&drawn), wanted) != NULL, "no \"%s\" in %.300s", wanted,
                  text_z(&drawn));
}

static void ck_shows_not(const char *unwanted)
{
    ck_assert_msg(strstr(text_z(&drawn), unwanted) == NULL, "\"%s\" in %.300s", unwanted,
                  text_z(&drawn));
}

/* --- the pictures ------------------------------------------------------------------------------
 */

START_TEST(every_picture_is_well_formed_and_carries_no_style_or_script)
{
    const struct job_plan *pad = frozen_pad();
    for (int l = 0; l < 2; l++) {
        draw_hours(pad, PART_PAD, l);
        ck_assert_uint_gt(drawn.length, 1000);
        ck_well_formed(text_z(&drawn));
    }
    const struct job_plan *unit = outdoor_unit();
    for (int l = 0; l < 2; l++) {
        draw_hours(unit, PART_UNIT, l);
        ck_well_formed(text_z(&drawn));
        draw_days(unit, CLOCK_UNIT_DRY_CURE, l, false);
        ck_well_formed(text_z(&drawn));
        draw_days(unit, CLOCK_UNIT_DRY_CURE, l, true);
        ck_well_formed(text_z(&drawn));
    }
}
END_TEST

START_TEST(an_hour_strip_says_the_figures_of_its_clock)
{
    const struct job_plan *plan = frozen_pad();
    draw_hours(plan, PART_PAD, 0);
    struct text figures = TEXT_UP_TO(400);
    const struct clock_plan *clock = clock_in(plan, CLOCK_PAD_BUILD_ON);
    says_have_need(&figures, words[0], clock->have, clock->need, clock->unit);
    ck_shows(text_z(&figures));
    text_free(&figures);
    ck_shows("role=\"img\"><title>Pad: hour by hour</title><desc>From ");
    ck_shows(
        "2 h counted nothing (too cold), 2 h no reading, 4 h stopped until looked at (it froze too "
        "soon); 19.5 of 24");
}
END_TEST

START_TEST(a_wait_that_is_over_says_what_was_earned_until_then_and_no_minute)
{
    const struct job_plan *plan =
        with_pictures(plan_told(.now = "2026-01-20T12:00", .observed = "400*9", .records = MONDAY));
    draw_hours(plan, PART_PAD, 0);
    ck_shows(
        "Until Fri 9 January, 11 am, when its waits were over: 106.6 h in part; 48 warm hours.");
    ck_shows_not("So far");
    ck_shows_not(":40 ");
}
END_TEST

START_TEST(the_stations_line_says_what_was_taken_off_and_how_old_its_forecast_is)
{
    const struct job_plan *plan =
        with_pictures(plan_told(.now = "2026-01-06T12:00", .observed = "36*9", .forecast = "240*9",
                                .forecast_from = "2026-01-05T00:00",
                                .more = ",\"site_offset_degf\":-5", .records = MONDAY));
    draw_hours(plan, PART_PAD, 0);
    ck_shows("line is drawn 5\u00b0F colder, as for this site.");
    ck_shows("old forecast, made Mon midnight (36 h ago)");
    ck_well_formed(text_z(&drawn));
    draw_hours(frozen_pad(), PART_PAD, 0);
    ck_shows_not("colder, as for this site");
    ck_shows_not("old forecast");
}
END_TEST

START_TEST(a_wait_accepted_without_readings_says_by_whom_under_its_unread_hours)
{
    const struct job_plan *plan =
        with_pictures(plan_told(.now = "2026-01-20T12:00",
                                .records = MONDAY CLOSE("pad", "room", "2026-01-05T00:00")
                                    ACCEPTED("pad.build-on", "2026-01-15T09:00")));
    draw_hours(plan, PART_PAD, 0);
    ck_shows("Accepted without readings by Ana");
    ck_shows("no reading");
    ck_shows_not("temperature it went by");
    const char *path = strstr(text_z(&drawn), "class=\"s-no-reading\"");
    ck_assert_ptr_nonnull(path);
    int frames = 0; /* one crossed-out frame after another, not one as wide as the page */
    for (const char *at = path; *at != '/'; at++) frames += *at == 'M';
    ck_assert_int_ge(frames, 20);
    ck_well_formed(text_z(&drawn));
}
END_TEST

/* Three weeks go by the hour, four by the day: a line of hours would be a black bar on a phone. */
START_TEST(of_many_days_each_is_drawn_from_its_low_to_its_high)
{
    const struct job_plan *plan = with_pictures(
        plan_told(.now = "2026-02-10T12:00", .options = EXPOSED, .observed = "24*18 200*9 644*6",
                  .observed_rain = "868*0", .forecast = "48*6", .records = LINED));
    draw_hours(plan, PART_UNIT, 0);
    ck_shows("class=\"s-range\"");
    ck_shows("each day from low to high");
    ck_shows_not("class=\"s-used\"");
    ck_well_formed(text_z(&drawn));
    draw_hours(frozen_pad(), PART_PAD, 0);
    ck_shows("class=\"s-used\"");
    ck_shows_not("class=\"s-range\"");
}
END_TEST

START_TEST(days_that_none_had_are_not_said)
{
    const struct job_plan *plan =
        with_pictures(plan_told(.now = "2026-01-08T12:00",
                                .records = LINED CLOSE("unit", "room", "2026-01-05T00:00")
                                    DEGC("unit", "thermostat", 18, "2026-01-05T08:00")));
    draw_days(plan, CLOCK_UNIT_DRY_CURE, 0, false);
    ck_shows("So far 2 of 28 days: 2 counted.");
    ck_shows_not("counted half");
    draw_days(with_pictures(plan_told(.now = "2026-01-05T18:00", .records = LINED)),
              CLOCK_UNIT_DRY_CURE, 0, true);
    ck_shows("No day is over yet: 0 of 28.");
}
END_TEST

START_TEST(each_class_of_hour_is_one_path_of_its_own_shape)
{
    draw_hours(frozen_pad(), PART_PAD, 0);
    static const char *const once[] = {
        "<path class=\"s-full\" d=\"M", "<path class=\"s-part\" d=\"M",
        "<path class=\"s-no-reading\" d=\"M", "<path class=\"s-stopped\" d=\"M"};
    for (size_t i = 0; i < sizeof once / sizeof *once; i++) {
        const char *first = strstr(text_z(&drawn), once[i]);
        ck_assert_msg(first != NULL, "no %s", once[i]);
        const char *key = strstr(first + 1, once[i]); /* its sign in the key */
        ck_assert_msg(key != NULL, "no key for %s", once[i]);
        ck_assert_ptr_null(strstr(key + 1, once[i]));
    }
    ck_shows("<path class=\"s-part s-ahead\" d=\"M");
}
END_TEST

START_TEST(guide_lines_are_named_and_now_is_marked)
{
    draw_hours(frozen_pad(), PART_PAD, 0);
    ck_shows(">32\u00b0F<");
    ck_shows(">40\u00b0F<");
    ck_shows(">50\u00b0F<");
    ck_shows(">68\u00b0F<");
    ck_shows(">now</text>");
    ck_shows("class=\"s-sky\"");
    ck_shows("class=\"s-dot\"");
}
END_TEST

START_TEST(a_strip_of_days_has_a_sign_and_words_for_each_lost_one)
{
    draw_days(outdoor_unit(), CLOCK_UNIT_DRY_CURE, 0, false);
    static const char *const said[] = {"not counted: soaked",    "not counted: wrapped tight",
                                       "not counted: wet work",  "not counted: rain not known",
                                       "day 0: last wet work",   "today",
                                       "Drying days: day by day"};
    for (size_t i = 0; i < sizeof said / sizeof *said; i++) ck_shows(said[i]);
    ck_shows("6 did not count: 3 soaked, 1 rain not known, 1 wrapped tight, 1 wet work.");
    draw_days(outdoor_unit(), CLOCK_UNIT_DRY_CURE, 1, false);
    ck_shows("d\u00eda 0");
    ck_shows("hoy");
}
END_TEST

/* Where the days to come stand is a date: the homeowner's picture ends with yesterday. */
START_TEST(the_homeowner_sees_no_day_to_come_and_no_reason)
{
    const struct job_plan *plan = outdoor_unit();
    draw_days(plan, CLOCK_UNIT_DRY_CURE, 0, true);
    ck_shows("Mon 19 January");
    ck_shows_not("Tue 20 January");
    ck_shows_not("January 21");
    ck_shows_not("February");
    ck_shows_not("soaked");
    ck_shows_not("wrapped");
    ck_shows("not counted");
    ck_shows("Still to come");
}
END_TEST

START_TEST(a_picture_that_does_not_fit_says_so)
{
    const struct job_plan *plan = frozen_pad();
    const struct page page = page_in(0);
    struct text small = TEXT_UP_TO(700);
    svg_hour_strip(&small, &page, plan, &plan->parts[PART_PAD]);
    ck_assert_int_eq(text_status(&small), STATUS_LIMIT);
    text_free(&small);
}
END_TEST

/* The longest picture there can be: still small beside a page. */
START_TEST(the_largest_picture_is_under_40_kb)
{
    char hours[30000];
    size_t used = 0;
    for (int i = 0; i < 1500; i++)
        used += (size_t)snprintf(hours + used, sizeof hours - used, "%s1*%.1f", i == 0 ? "" : " ",
                                 (i * 7919 % 400) * 0.1 - 5);
    const struct job_plan *plan =
        with_pictures(plan_told(.now = "2026-03-08T12:00", .options = EXPOSED, .observed = hours,
                                .observed_rain = "1500*0", .forecast = "100*3", .records = LINED));
    draw_hours(plan, PART_UNIT, 0);
    ck_assert_uint_lt(drawn.length, 40000);
    ck_well_formed(text_z(&drawn));
}
END_TEST

/* --- whole pictures ----------------------------------------------------------------------------
 */

static void broken_into_lines(struct text *out)
{
    for (const char *at = text_z(&drawn); *at != '\0'; at++) {
        if (at[0] == '<' && at[1] != '/' && out->length > 0) text_add_byte(out, '\n');
        text_add_byte(out, *at);
    }
    text_add_byte(out, '\n');
}

static void held_against(const char *name, const struct text *now)
{
    char path[400];
    snprintf(path, sizeof path, PROJECT_ROOT "/tests/snapshot/%s", name);
    const char *write = getenv("EMBERWAIT_SNAPSHOT");
    if (write != NULL && strcmp(write, "write") == 0) {
        FILE *file = fopen(path, "wb");
        ck_assert_ptr_nonnull(file);
        fwrite(now->data, 1, now->length, file);
        ck_assert_int_eq(fclose(file), 0);
    }
    FILE *file = fopen(path, "rb");
    ck_assert_msg(file != NULL, "no %s", path);
    struct text before = TEXT_UP_TO(PAGE_BYTES_MAX);
    char buffer[4096];
    for (size_t n; (n = fread(buffer, 1, sizeof buffer, file)) > 0;) text_add(&before, buffer, n);
    fclose(file);
    size_t at = 0, line = 1;
    while (at < now->length && at < before.length && now->data[at] == before.data[at])
        if (now->data[at++] == '\n') line++;
    ck_assert_msg(at == now->length && at == before.length, "%s differs in line %zu: %.120s", name,
                  line, text_z(now) + (at > 40 ? at - 40 : 0));
    text_free(&before);
}

START_TEST(the_pictures_are_what_was_last_agreed)
{
    static const char *const names[] = {"pictures-en.html", "pictures-es.html"};
    for (int l = 0; l < 2; l++) {
        struct text all = TEXT_UP_TO(PAGE_BYTES_MAX);
        draw_hours(frozen_pad(), PART_PAD, l);
        broken_into_lines(&all);
        draw_days(outdoor_unit(), CLOCK_UNIT_DRY_CURE, l, false);
        broken_into_lines(&all);
        draw_days(outdoor_unit(), CLOCK_UNIT_DRY_CURE, l, true);
        broken_into_lines(&all);
        held_against(names[l], &all);
        text_free(&all);
    }
}
END_TEST

int main(void)
{
    load();
    const TTest *const tests[] = {
        every_picture_is_well_formed_and_carries_no_style_or_script,
        an_hour_strip_says_the_figures_of_its_clock,
        a_wait_that_is_over_says_what_was_earned_until_then_and_no_minute,
        the_stations_line_says_what_was_taken_off_and_how_old_its_forecast_is,
        a_wait_accepted_without_readings_says_by_whom_under_its_unread_hours,
        of_many_days_each_is_drawn_from_its_low_to_its_high,
        days_that_none_had_are_not_said,
        each_class_of_hour_is_one_path_of_its_own_shape,
        guide_lines_are_named_and_now_is_marked,
        a_strip_of_days_has_a_sign_and_words_for_each_lost_one,
        the_homeowner_sees_no_day_to_come_and_no_reason,
        a_picture_that_does_not_fit_says_so,
        the_largest_picture_is_under_40_kb,
        the_pictures_are_what_was_last_agreed,
    };
    int failed = case_run("svg", tests, sizeof tests / sizeof *tests);
    unload();
    return failed;
}
