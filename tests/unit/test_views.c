/* links: views compute model */
/* SPDX-License-Identifier: MIT */
/*
 * The pages as a person would hold them against the trade: the sentences exactly, in both
 * languages; no word that would read as leave to light; nothing that cannot run without scripts;
 * and the homeowner's page showing one date or none.
 */
#include <check.h>
#include <ctype.h>
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>

#include "people_sample.h"
#include "views/says.h"
#include "views/when.h"
#include "views_sample.h"

static struct words *english, *spanish;
static struct sample sample;
static struct text page;

static void load(void)
{
    struct faults faults = {0};
    ck_assert_int_eq(words_load(&english, PROJECT_ROOT "/schema/words", "en", &faults), STATUS_OK);
    ck_assert_int_eq(words_load(&spanish, PROJECT_ROOT "/schema/words", "es", &faults), STATUS_OK);
    ck_assert_int_eq(sample_make(&sample, english), STATUS_OK);
    page = (struct text)TEXT_UP_TO(PAGE_BYTES_MAX);
}

static void unload(void)
{
    text_free(&page);
    zone_free(sample.zone);
    words_free(english);
    words_free(spanish);
}

#define HAS(what) ck_assert_msg(strstr(text_z(&page), (what)) != NULL, "missing: %s", (what))
#define LACKS(what) ck_assert_msg(strstr(text_z(&page), (what)) == NULL, "must not say: %s", (what))

static struct when when_in(const struct words *words)
{
    return (struct when){words, sample.zone, sample.now_s};
}

/* Every page there is, one after the other, in one language. */
static void every_page(const struct words *words)
{
    struct job_links links = {"crew-token", "home-token"};
    sample.page.words = words;
    text_clear(&page);
    html_yard(&page, &sample.page, &sample.plan, sample.changes, 1);
    for (int i = 0; i < SAMPLE_JOBS; i++) {
        html_job(&page, &sample.page, &sample.plan, &sample.plans[i], &links);
        html_home(&page, &sample.page, &sample.plans[i]);
        html_tag(&page, &sample.page, words == english ? spanish : english, &sample.plans[i],
                 "home-token");
    }
    html_crew(&page, &sample.page, &sample.plan, &sample.crews[0], "crew-token");
    html_day_sheet(&page, &sample.page, &sample.plan, &sample.crews[0], NULL);
    html_day_sheet(&page, &sample.page, &sample.plan, NULL, &sample.plans[0]);
    html_problem(&page, &sample.page, STATUS_NOT_FOUND, NULL);
    html_people(&page, &sample.page, people_sample(sample.now_s));
    html_sign_in(&page, &sample.page, &(struct sign_in_form){.name = "Ada", .wrong = true});
    ck_assert_int_eq(text_status(&page), STATUS_OK);
}

/* --- words ----------------------------------------------------------------------------------- */

static void placeholders(const char *text, char out[400])
{
    static const char *const names[] = {
        "age",   "base",    "check", "clock", "count", "date", "day",   "do",    "floor",
        "from",  "limit",   "of",    "why",   "found", "half", "have",  "head",  "hour",
        "hours", "how",     "id",    "kind",  "list",  "lows", "mean",  "min",   "mm",
        "month", "mph",     "n",     "name",  "need",  "now",  "phone", "place", "quantity",
        "says",  "source",  "tail",  "task",  "time",  "unit", "until", "value", "wanted",
        "was",   "weekday", "when",  "year"};
    out[0] = '\0';
    size_t used = 0;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        char wanted[40];
        snprintf(wanted, sizeof wanted, "{%s}", names[i]);
        if (strstr(text, wanted) != NULL)
            used += (size_t)snprintf(out + used, 400 - used, "%s ", names[i]);
    }
}

START_TEST(both_languages_have_the_same_keys_and_the_same_placeholders)
{
    json_t *en = json_load_file(PROJECT_ROOT "/schema/words/en.json", JSON_REJECT_DUPLICATES, NULL);
    json_t *es = json_load_file(PROJECT_ROOT "/schema/words/es.json", JSON_REJECT_DUPLICATES, NULL);
    ck_assert_ptr_nonnull(en);
    ck_assert_ptr_nonnull(es);
    ck_assert_uint_eq(json_object_size(en), json_object_size(es));
    ck_assert_uint_gt(json_object_size(en), 500);
    const char *key;
    json_t *value;
    json_object_foreach(en, key, value)
    {
        const char *other = json_string_value(json_object_get(es, key));
        ck_assert_msg(other != NULL && *other != '\0', "es has no %s", key);
        if (key[0] == '_') continue;
        char a[400], b[400];
        placeholders(json_string_value(value), a);
        placeholders(other, b);
        ck_assert_msg(strcmp(a, b) == 0, "%s: en {%s} es {%s}", key, a, b);
    }
    ck_assert_ptr_nonnull(strstr(json_string_value(json_object_get(es, "_review")), "Review open"));
    json_decref(en);
    json_decref(es);
}
END_TEST

/* Write a copy of the English words with one key changed (NULL: taken out), and load that. */
static enum status load_changed(const char *key, const char *text, struct faults *faults)
{
    char directory[] = "/tmp/words-XXXXXX", path[64];
    ck_assert_ptr_nonnull(mkdtemp(directory));
    json_t *tree = json_load_file(PROJECT_ROOT "/schema/words/en.json", 0, NULL);
    if (text == NULL) {
        json_object_del(tree, key);
    } else {
        json_object_set_new(tree, key, json_string(text));
    }
    snprintf(path, sizeof path, "%s/en.json", directory);
    ck_assert_int_eq(json_dump_file(tree, path, 0), 0);
    json_decref(tree);
    struct words *words = NULL;
    enum status status = words_load(&words, directory, "en", faults);
    ck_assert_ptr_null(words);
    remove(path);
    remove(directory);
    return status;
}

START_TEST(a_missing_empty_unknown_or_misfilled_word_is_refused_by_name)
{
    static const struct {
        const char *key, *text;
    } cases[] = {{"tag.big", NULL},
                 {"task.pad-pour", NULL},
                 {"home.title", ""},
                 {"reason.clock", "Opens {when}"},
                 {"home.title", "Yours {name}"},
                 {"task.fireworks", "Fireworks"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct faults faults = {0};
        ck_assert_int_eq(load_changed(cases[i].key, cases[i].text, &faults), STATUS_INVALID);
        ck_assert_uint_eq(faults.count, 1);
        ck_assert_str_eq(faults.items[0].path, cases[i].key);
        faults_free(&faults);
    }
    struct words *words = NULL;
    ck_assert_int_eq(words_load(&words, "/nonexistent", "en", NULL), STATUS_NOT_FOUND);
    ck_assert_int_eq(words_load(&words, PROJECT_ROOT "/schema/words", "../en", NULL),
                     STATUS_INVALID);
}
END_TEST

/* Bytes of a text in lower case, for a search that ignores case. */
static char *lower(const char *text)
{
    char *copy = strdup(text);
    for (char *at = copy; *at != '\0'; at++) *at = (char)tolower((unsigned char)*at);
    return copy;
}

static bool has_word(const char *text, const char *word)
{
    for (const char *at = strstr(text, word); at != NULL; at = strstr(at + 1, word)) {
        bool begins = at == text || !isalpha((unsigned char)at[-1]);
        if (begins && !isalpha((unsigned char)at[strlen(word)])) return true;
    }
    return false;
}

START_TEST(no_page_says_safe_approved_permitted_or_cured_in_either_language)
{
    static const char *const en[] = {"safe", "approved", "certified", "permitted", "cured", "psi"};
    static const char *const es[] = {"seguro",      "segura",    "aprobado",  "aprobada",
                                     "certificado", "permitido", "permitida", "autorizado",
                                     "autorizada",  "psi"};
    every_page(english);
    char *text = lower(text_z(&page));
    for (size_t i = 0; i < sizeof en / sizeof *en; i++)
        ck_assert_msg(!has_word(text, en[i]), "en says %s", en[i]);
    free(text);
    every_page(spanish);
    text = lower(text_z(&page));
    for (size_t i = 0; i < sizeof es / sizeof *es; i++)
        ck_assert_msg(!has_word(text, es[i]), "es says %s", es[i]);
    free(text);
}
END_TEST

/* --- sentences ------------------------------------------------------------------------------- */

static void ck_says(const char *wanted)
{
    ck_assert_str_eq(text_z(&page), wanted);
    text_clear(&page);
}

START_TEST(warm_hours_and_the_unread_hours_are_said_in_the_trades_own_sentences)
{
    WORDS_SAY(&page, english, WORD_SAYS_WARM_HOURS, {"have", "27"}, {"need", "48"});
    ck_says("27 of 48 warm hours: at 68\u00b0 an hour counts one, at 50\u00b0 half, under 40\u00b0 "
            "nothing. Not strength.");
    WORDS_SAY(&page, spanish, WORD_SAYS_WARM_HOURS, {"have", "27"}, {"need", "48"});
    ck_says("27 de 48 horas tibias: a 68\u00b0 una hora cuenta una, a 50\u00b0 media, a menos de "
            "40\u00b0 nada. No es resistencia.");
    struct caution none = {CAUTION_NO_READING,
                           PART_NONE,
                           TASK_NONE,
                           civil_instant_s(sample.zone, sample.today + 1, 6 * 3600),
                           NAN,
                           QUANTITY_NONE,
                           .record = NULL};
    struct when en = when_in(english), es = when_in(spanish);
    says_caution(&page, &en, &none);
    ck_says("No reading since Sat 6 am; those hours count nothing.");
    says_caution(&page, &es, &none);
    ck_says("Sin lectura desde el s\u00e1bado 6 am; esas horas no cuentan.");
    none.caution = CAUTION_FROZE_TOO_SOON;
    says_caution(&page, &en, &none);
    ck_says("It froze too soon. Stop until the owner looks.");
    says_caution(&page, &es, &none);
    ck_says("Se hel\u00f3 antes de tiempo. Pare hasta que el patr\u00f3n la revise.");
}
END_TEST

START_TEST(a_wait_says_when_it_opens_first_and_its_figures_second)
{
    struct when en = when_in(english), es = when_in(spanish);
    says_reason(&page, &en, &sample.reasons[0]);
    ck_says("Opens Tue 6 am: pad, build on it; 27 of 48 warm hours; at least 48 h");
    says_reason(&page, &es, &sample.reasons[0]);
    ck_says("Abre martes 6 am: losa, construir encima; 27 de 48 horas tibias; al menos 48 h");
    says_standing(&page, &en, MARK_HR, "astm-c1074");
    ck_says("house rule, source: astm-c1074");
}
END_TEST

START_TEST(have_is_cut_down_so_that_a_wait_never_reads_as_over_before_it_is)
{
    says_have_need(&page, english, 47.99, 48, UNIT_WARM_HOUR);
    ck_says("47.9 of 48 warm hours");
    ck_assert_str_eq(says_figure(27.0).z, "27");
    ck_assert_str_eq(says_figure(27.04).z, "27");
    ck_assert_str_eq(says_degrees(-17.7777).z, "0\u00b0F");
    ck_assert_str_eq(says_degrees(NAN).z, "");
}
END_TEST

START_TEST(every_vocabulary_has_a_sentence_in_both_languages)
{
    struct when when[2] = {when_in(english), when_in(spanish)};
    for (int l = 0; l < 2; l++) {
        for (int k = 0; k < REASON_COUNT; k++) {
            struct reason reason = sample_reason((enum reason_kind)k, sample.now_s + 7200,
                                                 TASK_PAD_POUR, CLOCK_BED_SET);
            text_clear(&page);
            says_reason(&page, &when[l], &reason);
            ck_assert_uint_gt(page.length, 5);
            ck_assert_ptr_null(strchr(text_z(&page), '{'));
        }
        for (int c = 0; c < CAUTION_COUNT; c++) {
            struct caution caution = {(enum caution_id)c, PART_PAD, TASK_PAD_POUR,
                                      sample.now_s,       3,        QUANTITY_COURSES,
                                      .record = NULL};
            text_clear(&page);
            says_caution(&page, &when[l], &caution);
            ck_assert_uint_gt(page.length, 5);
            ck_assert_ptr_null(strchr(text_z(&page), '{'));
        }
        text_clear(&page);
        const struct clock_plan clock = {.assumes = 511,
                                         .forecast_made_s = sample.now_s - 30 * 3600,
                                         .site_offset_degc = -5 / 1.8};
        says_assumes(&page, &when[l], &clock);
        ck_assert_uint_gt(page.length, 100);
        ck_assert_ptr_null(strchr(text_z(&page), '{'));
        ck_assert_ptr_nonnull(strstr(text_z(&page), "5\u00b0F"));
        for (unsigned bit = 1; bit <= 256; bit <<= 1) {
            struct text one = TEXT_UP_TO(1000);
            says_assume(&one, &when[l], &clock, bit);
            ck_assert_ptr_nonnull(strstr(text_z(&page), text_z(&one)));
            text_free(&one);
        }
    }
}
END_TEST

START_TEST(dates_and_hours_are_said_as_people_on_a_site_say_them)
{
    struct when en = when_in(english), es = when_in(spanish);
    int32_t april = civil_day(2026, 4, 9);
    ck_assert_str_eq(when_date(&en, april).z, "Thu 9 April");
    ck_assert_str_eq(when_date(&es, april).z, "jueves 9 de abril");
    ck_assert_str_eq(when_date(&en, civil_day(2027, 1, 2)).z, "Sat 2 January 2027");
    ck_assert_str_eq(when_day_time(&es, civil_instant_s(sample.zone, sample.today + 4, 21600)).z,
                     "martes 6 am");
    ck_assert_str_eq(when_day_time(&en, civil_instant_s(sample.zone, sample.today + 7, 45000)).z,
                     "Fri 30 October, 12:30 pm");
    ck_assert_str_eq(when_clock(&en, civil_instant_s(sample.zone, sample.today, 43200)).z, "noon");
    ck_assert_str_eq(when_clock(&en, civil_instant_s(sample.zone, sample.today, 0)).z, "midnight");
    ck_assert_str_eq(when_day_time(&en, INSTANT_NONE).z, "no date yet");
    ck_assert_str_eq(when_age(&en, sample.now_s - 59 * 60).z, "59 min ago");
    ck_assert_str_eq(when_age(&en, sample.now_s - 25 * 3600).z, "25 h ago");
    ck_assert_str_eq(when_age(&es, sample.now_s - 50 * 3600).z, "hace 2 d\u00edas");
}
END_TEST

/* --- pages ----------------------------------------------------------------------------------- */

START_TEST(no_page_has_inline_script_or_style_and_every_name_is_escaped)
{
    every_page(english);
    LACKS("style=\"");
    LACKS("<style");
    LACKS("<script>");
    LACKS("onclick");
    LACKS("onload");
    LACKS("javascript:");
    LACKS("<upper>");
    HAS("The Bench &lt;upper&gt;");
    LACKS("http://");
}
END_TEST

START_TEST(the_yard_answers_whether_the_pad_is_ready_and_how_we_know)
{
    html_yard(&page, &sample.page, &sample.plan, NULL, 0);
    HAS("opens Tue 6 am");
    HAS("27 of 48 warm hours");
    HAS("Rests on: 54\u00b0F probe, Thu 5:31 am (25 h ago)");
    HAS("No reading since Fri 5:01 am; those hours count nothing.");
    ck_assert(strstr(text_z(&page), "opens Tue 6 am") <
              strstr(text_z(&page), "27 of 48 warm hours"));
    HAS("The date agreed (Sun 1 November) no longer holds.");
    HAS("by 2 pm");
    ck_assert_uint_lt(page.length, 60000);
}
END_TEST

START_TEST(the_crew_page_says_do_not_with_its_reason)
{
    html_crew(&page, &sample.page, &sample.plan, &sample.crews[0], "tok/en");
    HAS("Do not build: not before Tue 6 am, and only after checking.");
    HAS("Gate 4471");
    HAS("action=\"/c/tok%2Fen/records\"");
    HAS("noindex");
    LACKS("Mrs Abernathy");
    text_clear(&page);
    sample.page.words = spanish;
    html_crew(&page, &sample.page, &sample.plan, &sample.crews[0], "tok");
    HAS("No construya: no antes del martes 6 am, y solo despu\u00e9s de revisar.");
}
END_TEST

static size_t times_said(const char *what)
{
    size_t times = 0;
    for (const char *at = text_z(&page); (at = strstr(at, what)) != NULL; at += strlen(what))
        times++;
    return times;
}

START_TEST(an_old_forecast_is_said_beside_what_rests_on_it_and_not_to_the_homeowner)
{
    const int64_t made_s = sample.now_s - 30 * 3600;
    const char *const says = "old forecast, made ";
    sample.page.words = english;
    text_clear(&page);
    html_yard(&page, &sample.page, &sample.plan, sample.changes, 1);
    html_crew(&page, &sample.page, &sample.plan, &sample.crews[0], "crew-token");
    html_job(&page, &sample.page, &sample.plan, &sample.plans[2], NULL);
    LACKS(says);
    for (int i = 0; i < SAMPLE_JOBS; i++) {
        sample.plans[i].forecast_old = true;
        sample.plans[i].forecast_made_s = made_s;
        sample.plans[i].tasks[TASK_CURE_WATCH].forecast_old = true;
    }
    for (size_t i = 0; i < sizeof sample.clocks / sizeof *sample.clocks; i++) {
        sample.clocks[i].assumes |= ASSUME_FORECAST | ASSUME_FORECAST_OLD;
        sample.clocks[i].forecast_made_s = made_s;
    }
    text_clear(&page);
    html_yard(&page, &sample.page, &sample.plan, sample.changes, 1);
    ck_assert_uint_ge(times_said(says), 5); /* pads, tonight, the pour, first fires */
    HAS("(30 h ago)");
    text_clear(&page);
    html_crew(&page, &sample.page, &sample.plan, &sample.crews[0], "crew-token");
    ck_assert_uint_ge(times_said(says), 2); /* the day's weather, tonight */
    text_clear(&page);
    html_job(&page, &sample.page, &sample.plan, &sample.plans[2], NULL);
    ck_assert_uint_ge(times_said(says), 3); /* the wait, the task behind it, the first fire */
    text_clear(&page);
    html_home(&page, &sample.page, &sample.plans[2]);
    LACKS("forecast");
}
END_TEST

START_TEST(the_homeowner_sees_the_agreed_date_and_nothing_of_anybody_else)
{
    html_home(&page, &sample.page, &sample.plans[2]);
    HAS("First small fire: not before Fri 13 November, with us there. It may be later.");
    HAS("two drying days added");
    HAS("noindex");
    HAS("10 of 28");
    LACKS("Tue 10 November"); /* the computed date */
    LACKS("Mon 9 November");  /* the date before */
    LACKS("Sample Street");
    LACKS("Larkspur");
    LACKS("Hollow Pine");
    text_clear(&page);
    sample.page.words = spanish;
    html_home(&page, &sample.page, &sample.plans[2]);
    HAS("Primera lumbre chica: no antes del viernes 13 de noviembre, con nosotros. Puede ser "
        "despu\u00e9s.");
}
END_TEST

START_TEST(the_fire_sheet_says_which_fire_is_next_and_a_stop_before_any_size)
{
    static const struct record steam = {.kind = RECORD_FIRE, .sign = SIGN_STEAM};
    struct fire_plan *fire = &sample.plans[2].fire;
    html_home(&page, &sample.page, &sample.plans[2]);
    LACKS("Next is fire"); /* not handed over: no size invites anybody */
    text_clear(&page);
    fire->last_fire_s = sample.page.now_s - 86400;
    fire->next_size = 3;
    html_home(&page, &sample.page, &sample.plans[2]);
    HAS("Next is fire 3: that size and no bigger.");
    text_clear(&page);
    fire->rest_for = &steam;
    fire->rest_until_s = sample.page.now_s + 86400;
    fire->next_extra = true;
    html_home(&page, &sample.page, &sample.plans[2]);
    HAS("Let it dry first.");
    HAS("one more fire of size 1 comes first");
    text_clear(&page);
    fire->sign_hold = &steam;
    html_home(&page, &sample.page, &sample.plans[2]);
    HAS("No fire until we have looked.");
    LACKS("Next is fire");
}
END_TEST

START_TEST(a_date_that_no_longer_holds_is_withdrawn_everywhere_on_the_homeowners_page)
{
    html_home(&page, &sample.page, &sample.plans[3]);
    HAS("We are checking your date. Do not light. Call us.");
    LACKS("1 November");
    text_clear(&page);
    sample.plans[2].fire.agreed_holds = false;
    html_home(&page, &sample.page, &sample.plans[2]);
    HAS("We are checking your date. Do not light. Call us.");
    LACKS("November");
    text_clear(&page);
    html_home(&page, &sample.page, &sample.plans[1]);
    HAS("No date yet. Do not light.");
    LACKS("November");
}
END_TEST

START_TEST(the_tag_has_both_languages_the_phone_and_no_date)
{
    html_tag(&page, &sample.page, spanish, &sample.plans[2], "home-token");
    HAS("DO NOT LIGHT until we remove this tag.");
    HAS("A date is not permission.");
    HAS("NO PRENDER hasta que quitemos esta etiqueta.");
    HAS("Una fecha no es permiso.");
    HAS("555-0142");
    HAS("class=\"qr\"");
    LACKS("<time");
    LACKS("2026");
    LACKS("October");
    LACKS("November");
    LACKS("As of");
}
END_TEST

START_TEST(the_job_page_keeps_a_withdrawn_record_in_sight)
{
    html_job(&page, &sample.page, &sample.plan, &sample.plans[0], NULL);
    HAS("withdrawn by a correction");
    HAS("111\u00b0F");
    HAS("27/48");
    text_clear(&page);
    html_job(&page, &sample.page, &sample.plan, &sample.plans[2], NULL);
    HAS("<s>drying days</s> Earlier count, ended Wed 7 October: 3.5 counted days");
    HAS("not counted: soaked");
    HAS("half: cool");
}
END_TEST

START_TEST(a_refused_form_keeps_what_was_typed_and_marks_the_field)
{
    struct form_field fields[] = {{"id", "the-same-id"}, {"degrees", "4\"4"}, {"part", "pad"}};
    struct fault fault = {"degrees", "4\"4", "a number"};
    struct form_echo echo = {"reading", "hollow-pine", fields, 3, &fault, 1};
    sample.page.echo = &echo;
    html_job(&page, &sample.page, &sample.plan, &sample.plans[0], NULL);
    HAS("name=\"degrees\" inputmode=\"decimal\" autocomplete=\"off\" aria-invalid=\"true\" "
        "value=\"4&quot;4\"");
    HAS("value=\"the-same-id\"");
    HAS("<option value=\"pad\" selected>");
    HAS("Not written down.");
}
END_TEST

START_TEST(each_form_of_a_page_makes_a_record_of_its_own)
{
    html_job(&page, &sample.page, &sample.plan, &sample.plans[0], NULL);
    const char *at = text_z(&page);
    char seen[20][40];
    int count = 0;
    while ((at = strstr(at, "name=\"id\" value=\"")) != NULL) {
        at += strlen("name=\"id\" value=\"");
        snprintf(seen[count], sizeof seen[count], "%.36s", at);
        for (int i = 0; i < count; i++) ck_assert_str_ne(seen[i], seen[count]);
        ck_assert_int_eq(seen[count][14], '4');
        count++;
    }
    ck_assert_int_eq(count, 10);
}
END_TEST

/* --- forms ----------------------------------------------------------------------------------- */

static enum status posted(struct form_field *fields, size_t count, struct form_said *said,
                          struct faults *faults)
{
    text_clear(&page);
    return form_record_json(&page, fields, count, &sample.jobs[0], sample.now_s, said, faults);
}
#define POST(fields, said, faults)                                                                 \
    posted((fields), sizeof(fields) / sizeof *(fields), (said), (faults))

START_TEST(a_reading_becomes_the_record_the_api_takes)
{
    struct form_field fields[] = {{"id", "0123456789"},
                                  {"kind", "reading"},
                                  {"part", "pad"},
                                  {"how", "probe"},
                                  {"degrees", " 44,5 "},
                                  {"scale", "f"},
                                  {"at_local", "2026-10-23T06:00"},
                                  {"by", "Tomas \"T\""},
                                  {"why", "rain"},
                                  {"note", "  "},
                                  {"csrf", "x"}};
    ck_assert_int_eq(POST(fields, NULL, NULL), STATUS_OK);
    ck_assert_str_eq(
        text_z(&page),
        "{\"id\":\"0123456789\",\"kind\":\"reading\",\"at\":\"2026-10-23T06:00:00-06:00\","
        "\"by\":\"Tomas \\\"T\\\"\",\"part\":\"pad\",\"how\":\"probe\",\"degf\":44.5}");
    fields[5].value = "c";
    ck_assert_int_eq(POST(fields, NULL, NULL), STATUS_OK);
    HAS("\"degc\":44.5");
    fields[6].value = "";
    ck_assert_int_eq(POST(fields, NULL, NULL), STATUS_OK);
    HAS("\"at\":\"2026-10-23T06:31:00-06:00\"");
}
END_TEST

START_TEST(a_shelter_and_a_reading_each_get_their_own_how)
{
    struct form_field fields[] = {{"id", "0123456789"},
                                  {"kind", "closed-in"},
                                  {"part", "pad"},
                                  {"shelter", "blanket"},
                                  {"how", "probe"}};
    ck_assert_int_eq(POST(fields, NULL, NULL), STATUS_OK);
    HAS("\"how\":\"blanket\"");
    LACKS("probe");
}
END_TEST

START_TEST(every_fault_of_a_form_is_told_under_its_field)
{
    struct form_field fields[] = {{"id", "short"},
                                  {"kind", "reading"},
                                  {"part", "roof"},
                                  {"degrees", "warm"},
                                  {"at_local", "yesterday"}};
    struct faults faults = {0};
    ck_assert_int_eq(POST(fields, NULL, &faults), STATUS_INVALID);
    ck_assert_uint_eq(page.length, 0);
    static const char *const paths[] = {"id", "at_local", "part", "degrees"};
    ck_assert_uint_eq(faults.count, 4);
    for (size_t i = 0; i < 4; i++) ck_assert_str_eq(faults.items[i].path, paths[i]);
    faults_free(&faults);
    struct form_field machine[] = {{"id", "0123456789"}, {"kind", "engineer"}};
    ck_assert_int_eq(POST(machine, NULL, NULL), STATUS_INVALID);
    struct form_field number[] = {
        {"id", "0123456789"}, {"kind", "reading"}, {"part", "pad"}, {"degrees", "1e400"}};
    ck_assert_int_eq(POST(number, NULL, NULL), STATUS_INVALID);
}
END_TEST

START_TEST(an_hour_that_came_twice_is_taken_as_the_later_and_said)
{
    struct form_said said;
    struct form_field fields[] = {
        {"id", "0123456789"}, {"kind", "lit"}, {"at_local", "2025-11-02T01:30"}};
    ck_assert_int_eq(POST(fields, &said, NULL), STATUS_OK);
    ck_assert(said.hour_twice);
    HAS("2025-11-02T01:30:00-07:00");
    fields[2].value = "2025-11-02T02:30";
    ck_assert_int_eq(POST(fields, &said, NULL), STATUS_OK);
    ck_assert(!said.hour_twice);
    HAS("2025-11-02T02:30:00-07:00");
    /* the first of the two is just over and the second still to come */
    sample.now_s = civil_instant_s(sample.zone, civil_day(2025, 11, 2), 5400) + 600;
    fields[2].value = "2025-11-02T01:30";
    ck_assert_int_eq(POST(fields, &said, NULL), STATUS_OK);
    ck_assert(!said.hour_twice);
    HAS("2025-11-02T01:30:00-06:00");
}
END_TEST

START_TEST(an_hour_that_the_clock_skipped_is_a_fault)
{
    struct form_field fields[] = {
        {"id", "0123456789"}, {"kind", "lit"}, {"at_local", "2026-03-08T02:30"}};
    struct faults faults = {0};
    ck_assert_int_eq(POST(fields, NULL, &faults), STATUS_INVALID);
    ck_assert_str_eq(faults.items[0].path, "at_local");
    faults_free(&faults);
    fields[2].value = "2026-03-08T03:00";
    ck_assert_int_eq(POST(fields, NULL, NULL), STATUS_OK);
    HAS("2026-03-08T03:00:00-06:00");
}
END_TEST

int main(void)
{
    TCase *tests = tcase_create("views");
    tcase_add_checked_fixture(tests, load, unload);
    tcase_add_test(tests, both_languages_have_the_same_keys_and_the_same_placeholders);
    tcase_add_test(tests, a_missing_empty_unknown_or_misfilled_word_is_refused_by_name);
    tcase_add_test(tests, no_page_says_safe_approved_permitted_or_cured_in_either_language);
    tcase_add_test(tests, warm_hours_and_the_unread_hours_are_said_in_the_trades_own_sentences);
    tcase_add_test(tests, a_wait_says_when_it_opens_first_and_its_figures_second);
    tcase_add_test(tests, have_is_cut_down_so_that_a_wait_never_reads_as_over_before_it_is);
    tcase_add_test(tests, every_vocabulary_has_a_sentence_in_both_languages);
    tcase_add_test(tests, dates_and_hours_are_said_as_people_on_a_site_say_them);
    tcase_add_test(tests, no_page_has_inline_script_or_style_and_every_name_is_escaped);
    tcase_add_test(tests, the_yard_answers_whether_the_pad_is_ready_and_how_we_know);
    tcase_add_test(tests, the_crew_page_says_do_not_with_its_reason);
    tcase_add_test(tests, an_old_forecast_is_said_beside_what_rests_on_it_and_not_to_the_homeowner);
    tcase_add_test(tests, the_fire_sheet_says_which_fire_is_next_and_a_stop_before_any_size);
    tcase_add_test(tests, the_homeowner_sees_the_agreed_date_and_nothing_of_anybody_else);
    tcase_add_test(tests,
                   a_date_that_no_longer_holds_is_withdrawn_everywhere_on_the_homeowners_page);
    tcase_add_test(tests, the_tag_has_both_languages_the_phone_and_no_date);
    tcase_add_test(tests, the_job_page_keeps_a_withdrawn_record_in_sight);
    tcase_add_test(tests, a_refused_form_keeps_what_was_typed_and_marks_the_field);
    tcase_add_test(tests, each_form_of_a_page_makes_a_record_of_its_own);
    tcase_add_test(tests, a_reading_becomes_the_record_the_api_takes);
    tcase_add_test(tests, a_shelter_and_a_reading_each_get_their_own_how);
    tcase_add_test(tests, every_fault_of_a_form_is_told_under_its_field);
    tcase_add_test(tests, an_hour_that_came_twice_is_taken_as_the_later_and_said);
    tcase_add_test(tests, an_hour_that_the_clock_skipped_is_a_fault);
    Suite *suite = suite_create("views");
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? 0 : 1;
}
