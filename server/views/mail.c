/* SPDX-License-Identifier: MIT */
/*
 * Why: see mail.h. GMime writes the headers and the encoding: names with accents, long subjects and
 * lines over 998 bytes are its trade, and an injected header is what it is there to prevent.
 */
#include "views/mail.h"

#include <gmime/gmime.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>

#include "compute/civil.h"
#include "views/says.h"
#include "views/stage.h"

#include "base/banned.h"

enum { SUBJECT_MAX = 400, BODY_MAX = 20000 };

/* --- the message --------------------------------------------------------------------------- */

static void begin_library(void)
{
    g_mime_init();
}

/* A header's text on one line. */
static char *one_line(const char *text)
{
    char *out = g_strdup(text == NULL ? "" : text);
    for (char *c = out; *c != '\0'; c++)
        if ((unsigned char)*c < 0x20 || *c == 0x7f) *c = ' ';
    return out;
}

static GMimePart *part_of(const char *body)
{
    GMimeTextPart *part = g_mime_text_part_new_with_subtype("plain");
    g_mime_text_part_set_charset(part, "utf-8");
    g_mime_text_part_set_text(part, body);
    g_mime_part_set_content_encoding((GMimePart *)part, GMIME_CONTENT_ENCODING_QUOTEDPRINTABLE);
    return (GMimePart *)part;
}

static void set_date(GMimeMessage *message, const struct mail_message *from)
{
    GTimeZone *zone = g_time_zone_new_offset(zone_offset_s(from->zone, from->made_s));
    GDateTime *utc = g_date_time_new_from_unix_utc(from->made_s);
    GDateTime *local = g_date_time_to_timezone(utc, zone);
    g_mime_message_set_date(message, local);
    g_date_time_unref(local);
    g_date_time_unref(utc);
    g_time_zone_unref(zone);
}

static GMimeMessage *build(const struct mail_message *from)
{
    GMimeMessage *message = g_mime_message_new(true);
    char *name = from->from_name == NULL ? NULL : one_line(from->from_name);
    char *sender = one_line(from->from);
    char *receiver = one_line(from->to);
    char *subject = one_line(from->subject);
    const char *at = strchr(sender, '@');
    char *id = g_strdup_printf("%s@%s", from->id, at == NULL ? "localhost" : at + 1);
    GMimePart *part = part_of(from->body);
    g_mime_message_add_mailbox(message, GMIME_ADDRESS_TYPE_FROM, name, sender);
    g_mime_message_add_mailbox(message, GMIME_ADDRESS_TYPE_TO, NULL, receiver);
    g_mime_message_set_subject(message, subject, "utf-8");
    g_mime_message_set_message_id(message, id);
    set_date(message, from);
    if (from->automatic)
        g_mime_object_set_header((GMimeObject *)message, "Auto-Submitted", "auto-generated", NULL);
    g_mime_message_set_mime_part(message, (GMimeObject *)part);
    g_object_unref(part);
    g_free(id);
    g_free(subject);
    g_free(receiver);
    g_free(sender);
    g_free(name);
    return message;
}

void mail_write(struct text *out, const struct mail_message *from)
{
    static pthread_once_t once = PTHREAD_ONCE_INIT;
    (void)pthread_once(&once, begin_library);
    GMimeMessage *message = build(from);
    GMimeFormatOptions *format = g_mime_format_options_new();
    g_mime_format_options_set_newline_format(format, GMIME_NEWLINE_FORMAT_DOS);
    GMimeStream *stream = g_mime_stream_mem_new();
    if (g_mime_object_write_to_stream((GMimeObject *)message, format, stream) < 0)
        out->failed = true;
    else {
        const GByteArray *bytes = g_mime_stream_mem_get_byte_array((GMimeStreamMem *)stream);
        text_add(out, (const char *)bytes->data, bytes->len);
    }
    g_object_unref(stream);
    g_mime_format_options_free(format);
    g_object_unref(message);
}

/* --- drafts -------------------------------------------------------------------------------- */

static void begin(struct mail_draft *out)
{
    *out = (struct mail_draft){.subject = TEXT_UP_TO(SUBJECT_MAX), .body = TEXT_UP_TO(BODY_MAX)};
}

void mail_draft_free(struct mail_draft *draft)
{
    text_free(&draft->subject);
    text_free(&draft->body);
}

static void line(struct text *out, const struct words *words, enum word word)
{
    text_add_z(out, words_get(words, word));
    text_add_z(out, "\n");
}
#define LINE(out, words, word, ...)                                                                \
    do {                                                                                           \
        WORDS_SAY((out), (words), (word), __VA_ARGS__);                                            \
        text_add_z((out), "\n");                                                                   \
    } while (0)

static void say_date(struct text *out, const struct when *when, const struct job_plan *job)
{
    const struct fire_plan *fire = &job->fire;
    if (fire->agreed_day == DAY_NONE) {
        line(out, when->words, WORD_HOME_NO_DATE);
        line(out, when->words, WORD_HOME_NO_DATE_WHY);
    } else if (!fire->agreed_holds) {
        line(out, when->words, WORD_SAYS_CHECKING_DATE);
    } else {
        const struct phrase date = when_date(when, fire->agreed_day);
        LINE(out, when->words, WORD_SAYS_FIRST_FIRE, {"date", date.z});
    }
}

/* The owner's clause at the date that stands. */
static const char *reason_given(const struct job_plan *job)
{
    const char *reason = NULL;
    for (size_t i = 0; i < job->job->record_count; i++) {
        const struct record *r = &job->job->records[i];
        if (r->kind == RECORD_AGREED && r->day == job->fire.agreed_day) reason = r->reason;
    }
    return job->fire.agreed_holds ? reason : NULL;
}

void mail_draft_home(struct mail_draft *out, const struct words *words,
                     const struct company *company, const struct job_plan *job, int64_t now_s,
                     const char *url)
{
    const struct when when = {words, job->job->zone, now_s};
    struct text *body = &out->body;
    begin(out);
    text_add_z(&out->subject, words_get(words, WORD_MAIL_SUBJECT));
    if (job->job->homeowner == NULL)
        line(body, words, WORD_MAIL_HELLO_NONE);
    else
        LINE(body, words, WORD_MAIL_HELLO, {"name", job->job->homeowner});
    text_add_z(body, "\n");
    say_date(body, &when, job);
    const char *reason = reason_given(job);
    if (reason != NULL) LINE(body, words, WORD_MAIL_BECAUSE, {"reason", reason});
    const struct clock_plan *dry = stage_clock(job, CLOCK_UNIT_DRY_CURE);
    if (dry != NULL && dry->have == dry->have) {
        const struct phrase have = says_figure(dry->have), need = says_figure(dry->need);
        LINE(body, words, WORD_MAIL_COUNTED, {"have", have.z}, {"need", need.z});
    }
    line(body, words, WORD_MAIL_UNCHANGED);
    text_add_z(body, "\n");
    if (url != NULL) LINE(body, words, WORD_MAIL_PAGE, {"url", url});
    if (company->phone != NULL) LINE(body, words, WORD_MAIL_CALL, {"phone", company->phone});
    const struct phrase today = when_date_of(&when, now_s);
    LINE(body, words, WORD_MAIL_DATED, {"date", today.z});
    if (company->name == NULL) return;
    text_add_z(body, "\n");
    text_add_z(body, company->name);
    text_add_z(body, "\n");
}

static void say_not_yet(struct text *out, const struct when *when, const struct alarm *alarm)
{
    const int clock = id_find(&clock_ids, alarm->about);
    const struct phrase until = when_day_time(when, alarm->due_s);
    WORDS_SAY(out, when->words, WORD_ALARM_NOT_YET,
              {"clock", clock < 0 ? alarm->about : words_of(when->words, WORD_SET_CLOCK, clock)},
              {"until", until.z});
}

static void say_withdrawn(struct text *out, const struct when *when, const struct alarm *alarm)
{
    int32_t day = DAY_NONE;
    if (strlen(alarm->about) == strlen("2026-01-01"))
        day =
            civil_day((int)strtol(alarm->about, NULL, 10), (int)strtol(alarm->about + 5, NULL, 10),
                      (int)strtol(alarm->about + 8, NULL, 10));
    const struct phrase date = when_date(when, day);
    WORDS_SAY(out, when->words, WORD_ALARM_WITHDRAWN, {"date", date.z});
}

void mail_say_alarm(struct text *out, const struct when *when, const struct alarm *alarm)
{
    const struct phrase until = when_day_time(when, alarm->due_s);
    const int task = id_find(&task_ids, alarm->about);
    switch (alarm->kind) {
    case ALARM_NOT_YET:
        say_not_yet(out, when, alarm);
        break;
    case ALARM_FROST:
        WORDS_SAY(out, when->words, WORD_ALARM_FROST, {"until", until.z});
        break;
    case ALARM_WITHDRAWN:
        say_withdrawn(out, when, alarm);
        break;
    default:
        WORDS_SAY(out, when->words, WORD_ALARM_MISSED,
                  {"task", task < 0 ? alarm->about : words_of(when->words, WORD_SET_TASK, task)});
    }
}

static const char *name_of(const struct job *job)
{
    return job->name == NULL ? job->id : job->name;
}

static void alarm_body(struct text *out, const struct words *words, const struct job *job,
                       const struct alarm *alarm, int64_t now_s)
{
    const struct when when = {words, job->zone, now_s};
    const struct phrase found = when_day_time(&when, alarm->at_s);
    text_add_z(out, name_of(job));
    text_add_z(out, "\n");
    mail_say_alarm(out, &when, alarm);
    text_add_z(out, "\n");
    LINE(out, words, WORD_ALARM_TAIL, {"time", found.z});
}

void mail_draft_alarm(struct mail_draft *out, const struct words *first, const struct words *second,
                      const struct job *job, const struct alarm *alarm, int64_t now_s)
{
    begin(out);
    WORDS_SAY(&out->subject, first, WORD_ALARM_SUBJECT, {"job", name_of(job)});
    alarm_body(&out->body, first, job, alarm, now_s);
    if (second == NULL) return;
    text_add_z(&out->body, "\n");
    alarm_body(&out->body, second, job, alarm, now_s);
}
