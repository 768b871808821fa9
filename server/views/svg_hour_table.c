/* SPDX-License-Identifier: MIT */
/* Why: see svg_hour_table.h. What stands here is read off the same pieces as the picture. */
#include "views/svg_hour_table.h"

#include <math.h>
#include <string.h>

#include "compute/civil.h"
#include "views/html.h"

#include "base/banned.h"

#define LEAST_SAID_H 0.1 /* less would be said as 0 h */
#define SLACK_H 1e-6     /* a crossing is a whole second: 24 warm hours may sum a hair short */

enum { HOUR_S = 3600, DAY_S = 86400, DENSE_DAYS = 24, SHORT_LETTERS = 3, SAYS_BYTES_MAX = 2000 };

void svg_hour_shape(struct text *out, enum hour_class hour, int x, int wide)
{
    const int w = wide;
    switch (hour) {
    case HOUR_FULL:
        text_print(out, "M%d 0h%dv28h-%dz", x, w, w);
        break;
    case HOUR_PART:
        text_print(out, "M%d 14h%dv14h-%dz", x, w, w);
        break;
    case HOUR_NOTHING:
        text_print(out, "M%d 25h%dv3h-%dz", x, w, w);
        break;
    case HOUR_NO_READING:
        text_print(out, "M%d 1h%dv26h-%dzl%d 26m0-26l-%d 26", x, w, w, w, w);
        break;
    case HOUR_STOPPED:
        text_print(out, "M%d 3h%dm-%d 7h%dm-%d 7h%dm-%d 7h%d", x, w, w, w, w, w, w, w);
        break;
    case HOUR_ASSUMED:
        text_print(out, "M%d 1h%dv26h-%dz", x, w, w);
        break;
    case HOUR_CLASS_COUNT:
        break;
    }
}

bool svg_hour_dense(const struct part_strip *strip)
{
    return strip->until_s - strip->from_s > (int64_t)DENSE_DAYS * DAY_S;
}

void svg_short(struct text *out, const char *word)
{
    size_t left = strlen(word);
    for (int i = 0; i < SHORT_LETTERS && left > 0; i++) {
        size_t length = utf8_length(word, left);
        if (length == 0) break;
        text_html(out, word, length);
        word += length;
        left -= length;
    }
}

void svg_day_name(struct text *out, const struct words *words, int32_t day)
{
    int year, month, day_of_month;
    civil_date(day, &year, &month, &day_of_month);
    svg_short(out, words_of(words, WORD_SET_WEEKDAY, civil_weekday(day)));
    text_add_byte(out, ' ');
    text_integer(out, day_of_month);
}

static bool by_days(const struct part_plan *part)
{
    return part->part == PART_UNIT;
}

void svg_capital(struct text *out, const struct page *page, enum word word, const char *what)
{
    struct text plain = TEXT_UP_TO(SAYS_BYTES_MAX);
    WORDS_SAY(&plain, page->words, word, {"what", what});
    if (plain.length > 0 && plain.data[0] >= 'a' && plain.data[0] <= 'z')
        plain.data[0] = (char)(plain.data[0] - 'a' + 'A');
    text_html_z(out, text_z(&plain));
    text_free(&plain);
}

void svg_hour_title(struct text *out, const struct page *page, const struct part_plan *part)
{
    svg_capital(out, page, WORD_STRIP_TITLE, words_of(page->words, WORD_SET_PART, (int)part->part));
}

/* All its waits were over before now: it is drawn to the last crossing, not to now. */
static bool over(const struct page *page, const struct part_plan *part)
{
    return part->strip->until_s < page->now_s;
}

/* Where it ends, as an opening is shown: the next whole hour of the wall clock. */
static int64_t shown_until_s(const struct job_plan *job, const struct part_plan *part)
{
    return civil_hour_up_s(job->job->zone, part->strip->until_s);
}

/* Hours of each class that are over; of the unit whole days. */
static void sums_of(double sums[HOUR_CLASS_COUNT], const struct part_plan *part,
                    const struct clock_plan *clock, int32_t today)
{
    for (int i = 0; i < HOUR_CLASS_COUNT; i++) sums[i] = 0;
    for (size_t i = 0; !by_days(part) && i < part->piece_count; i++) {
        const struct history_piece *p = &part->pieces[i];
        if (!p->ahead) sums[p->hour] += (double)(p->until_s - p->from_s) / HOUR_S;
    }
    for (size_t i = 0; by_days(part) && clock != NULL && i < clock->day_count; i++) {
        const struct counted_day *day = &clock->days[i];
        if (day->day >= today) break;
        enum hour_class hour = day->credit >= 1                ? HOUR_FULL
                               : day->credit > 0               ? HOUR_PART
                               : day->reason == DAY_NO_READING ? HOUR_NO_READING
                                                               : HOUR_NOTHING;
        sums[hour] += 1;
    }
}

/* What most of a class's hours have in common: " (too cold)", where a reason says more than the
 * class.
 */
static void add_why(struct text *out, const struct page *page, const struct part_plan *part,
                    enum hour_class hour)
{
    double hours[HOUR_WHY_COUNT] = {0};
    int most = 0;
    if (by_days(part) || (hour != HOUR_NOTHING && hour != HOUR_STOPPED)) return;
    for (size_t i = 0; i < part->piece_count; i++) {
        const struct history_piece *p = &part->pieces[i];
        if (!p->ahead && p->hour == hour) hours[p->why] += (double)(p->until_s - p->from_s);
    }
    for (int why = 0; why < HOUR_WHY_COUNT; why++)
        if (hours[why] > hours[most]) most = why;
    text_add_z(out, " (");
    text_add_z(out, words_of(page->words, WORD_SET_HOUR_WHY, most));
    text_add_byte(out, ')');
}

/* "12 h in full, 6 h nothing: 15.4 of 48 warm hours" */
static void plain_sums(struct text *out, const struct page *page, const struct job_plan *job,
                       const struct part_plan *part)
{
    const struct clock_plan *clock = stage_clock(job, part->strip->clock);
    double sums[HOUR_CLASS_COUNT];
    sums_of(sums, part, clock, civil_day_of(job->job->zone, page->now_s));
    size_t begin = out->length;
    for (int hour = 0; hour < HOUR_CLASS_COUNT; hour++) {
        if (sums[hour] < LEAST_SAID_H) continue;
        struct phrase n = says_figure(sums[hour]);
        if (out->length > begin) text_add_z(out, ", ");
        WORDS_SAY(out, page->words, by_days(part) ? WORD_STRIP_DAYS : WORD_STRIP_HOURS, {"n", n.z},
                  {"what", words_of(page->words, WORD_SET_HOUR, hour)});
        add_why(out, page, part, (enum hour_class)hour);
    }
    if (clock == NULL || !isfinite(clock->have)) return;
    if (out->length > begin) text_add_z(out, "; ");
    if (!over(page, part)) {
        says_have_need(out, page->words, clock->have, clock->need, clock->unit);
        return;
    }
    double had = 0; /* the clock's own figure has run on since */
    for (size_t i = 0; i < part->piece_count; i++) had += part->pieces[i].credit;
    text_add_z(out, says_figure(had + SLACK_H).z);
    text_add_byte(out, ' ');
    text_add_z(out, words_of(page->words, WORD_SET_UNIT, (int)clock->unit));
}

static void so_far(struct text *out, const struct page *page, const struct job_plan *job,
                   const struct part_plan *part)
{
    struct text sums = TEXT_UP_TO(SAYS_BYTES_MAX);
    plain_sums(&sums, page, job, part);
    if (over(page, part)) {
        const struct when when = html_when(page, job->job->zone);
        struct phrase time = by_days(part) ? when_date_of(&when, part->strip->until_s - 1)
                                           : when_day_time(&when, shown_until_s(job, part));
        HTML_SAY(out, page, WORD_STRIP_UNTIL, {"sums", text_z(&sums)}, {"time", time.z});
    } else {
        HTML_SAY(out, page, by_days(part) ? WORD_STRIP_SO_FAR_DAYS : WORD_STRIP_SO_FAR,
                 {"sums", text_z(&sums)});
    }
    text_free(&sums);
}

void svg_hour_sums(struct text *out, const struct page *page, const struct job_plan *job,
                   const struct part_plan *part)
{
    RAW(out, "<b>");
    svg_hour_title(out, page, part);
    RAW(out, "</b> <span>");
    so_far(out, page, job, part);
    RAW(out, "</span>");
}

void svg_hour_says(struct text *out, const struct page *page, const struct job_plan *job,
                   const struct part_plan *part)
{
    const struct when when = html_when(page, job->job->zone);
    const struct part_strip *s = part->strip;
    double low = NAN, high = NAN;
    for (size_t i = 0; i < part->piece_count; i++) {
        low = fmin(low, part->pieces[i].low_degc);
        high = fmax(high, part->pieces[i].high_degc);
    }
    struct phrase from = when_day_time(&when, s->from_s),
                  until = when_day_time(&when, shown_until_s(job, part));
    struct phrase coldest = says_degrees(low), warmest = says_degrees(high);
    HTML_SAY(out, page, WORD_STRIP_SAYS, {"from", from.z}, {"until", until.z});
    text_add_byte(out, ' ');
    so_far(out, page, job, part);
    if (isfinite(low)) {
        text_add_byte(out, ' ');
        HTML_SAY(out, page, WORD_STRIP_RANGE, {"low", coldest.z}, {"high", warmest.z});
    }
}

/* --- the key ---------------------------------------------------------------------------------- */

static void key_open(struct text *out)
{
    RAW(out,
        "<li><svg width=\"26\" height=\"16\" viewBox=\"0 0 26 28\" preserveAspectRatio=\"none\" "
        "aria-hidden=\"true\">");
}

static void key_close(struct text *out, const char *says)
{
    RAW(out, "</svg>");
    text_html_z(out, says);
    RAW(out, "</li>");
}

static void key_mark(struct text *out, const struct page *page, const char *svg, enum word word)
{
    key_open(out);
    text_add_z(out, svg);
    key_close(out, words_get(page->words, word));
}

static void key_hours(struct text *out, const struct page *page, const struct part_plan *part)
{
    unsigned seen = 0;
    bool ahead = false;
    for (size_t i = 0; i < part->piece_count; i++) {
        seen |= 1U << part->pieces[i].hour;
        ahead = ahead || part->pieces[i].ahead;
    }
    for (int hour = 0; hour < HOUR_CLASS_COUNT; hour++) {
        if ((seen >> hour & 1U) == 0) continue;
        key_open(out);
        text_print(out, "<path class=\"s-%s\" d=\"", id_of(&hour_class_ids, hour));
        svg_hour_shape(out, (enum hour_class)hour, 1, 24);
        RAW(out, "\"/>");
        key_close(out, words_of(page->words, WORD_SET_HOUR, hour));
    }
    if (ahead)
        key_mark(out, page, "<path class=\"s-full s-ahead\" d=\"M1 0h24v28h-24z\"/>",
                 WORD_STRIP_AHEAD);
}

void svg_hour_key(struct text *out, const struct page *page, const struct part_plan *part)
{
    const struct part_strip *s = part->strip;
    bool dot = false, cap = false;
    for (size_t i = 0; i < s->reading_count; i++) {
        const enum reading_how how = s->readings[i]->how;
        if (how == HOW_LOWEST || how == HOW_IMPRESSION)
            cap = true;
        else
            dot = true;
    }
    bool used = false;
    for (size_t i = 0; i < part->piece_count; i++) used = used || !isnan(part->pieces[i].temp_degc);
    RAW(out, "<ul class=\"s-key\">");
    key_hours(out, page, part);
    if (used && svg_hour_dense(s))
        key_mark(out, page,
                 "<path class=\"s-range\" d=\"M5 6h5v16h-5zM10 2h5v15h-5zM15 8h5v17h-5z\"/>",
                 WORD_STRIP_USED_DAYS);
    else if (used)
        key_mark(out, page, "<path class=\"s-used\" d=\"M0 14h26\"/>", WORD_STRIP_USED);
    if (dot)
        key_mark(out, page, "<ellipse class=\"s-dot\" cx=\"13\" cy=\"14\" rx=\"4\" ry=\"7\"/>",
                 WORD_STRIP_READING);
    if (cap) key_mark(out, page, "<path class=\"s-cap\" d=\"M7 6h12L13 22z\"/>", WORD_STRIP_CAP);
    if (s->station_count > 0)
        key_mark(out, page, "<path class=\"s-station\" d=\"M0 20L8 9L17 20L26 8\"/>",
                 WORD_STRIP_STATION);
    if (s->forecast_from_s != INSTANT_NONE)
        key_mark(out, page, "<path class=\"s-sky\" d=\"M1 0h24v28h-24z\"/>", WORD_STRIP_FORECAST);
    if (s->band_count > 0)
        key_mark(out, page, "<path class=\"s-band\" d=\"M1 4h24v20h-24z\"/>", WORD_STRIP_BAND);
    RAW(out, "</ul>");
}

void svg_hour_notes(struct text *out, const struct page *page, const struct job_plan *job,
                    const struct part_plan *part)
{
    const struct part_strip *s = part->strip;
    const struct when when = html_when(page, job->job->zone);
    const bool offset = s->station_count > 0 && job->job->site_offset_degc != 0;
    const bool old = job->forecast_old && s->forecast_from_s != INSTANT_NONE;
    const struct clock_plan *clock = stage_clock(job, s->clock);
    const bool accepted = clock != NULL && clock->accepted != NULL;
    if (s->band_count == 0 && s->step_s == 0 && !s->cut && !offset && !old && !accepted) return;
    RAW(out, "<p class=\"aside\">");
    if (accepted) {
        HTML_SAY(out, page, WORD_JOB_ACCEPTED_BY, {"name", clock->accepted->by});
        RAW(out, ". ");
    }
    if (s->band_count > 0) {
        struct phrase n = says_figure((double)s->years);
        HTML_SAY(out, page, WORD_STRIP_BAND_SAYS, {"n", n.z});
        text_add_byte(out, ' ');
    }
    if (s->step_s > 0) {
        struct phrase n = says_figure((double)s->step_s / HOUR_S);
        HTML_SAY(out, page, WORD_STRIP_STEP, {"n", n.z});
        text_add_byte(out, ' ');
    }
    if (s->cut) {
        html_word(out, page, WORD_STRIP_CUT);
        text_add_byte(out, ' ');
    }
    if (offset) {
        struct phrase degrees = says_difference(job->job->site_offset_degc);
        HTML_SAY(out, page, WORD_STRIP_OFFSET, {"degrees", degrees.z});
    }
    if (old) html_forecast_old(out, page, &when, job->forecast_made_s);
    RAW(out, "</p>");
}

/* --- the table -------------------------------------------------------------------------------- */

static bool same_row(const struct history_piece *a, const struct history_piece *b)
{
    return a->hour == b->hour && a->why == b->why && a->rests == b->rests && a->day == b->day &&
           a->ahead == b->ahead;
}

static void row_time(struct text *out, const struct when *when, const struct part_plan *part,
                     int64_t from_s, int64_t until_s)
{
    const bool days = by_days(part);
    struct phrase from = days ? when_date_of(when, from_s) : when_day_time(when, from_s);
    struct phrase until = days ? when_date_of(when, until_s - 1) : when_day_time(when, until_s);
    text_html_z(out, from.z);
    if (strcmp(from.z, until.z) == 0) return;
    RAW(out, " \u2013 ");
    text_html_z(out, until.z);
}

static void row_counted(struct text *out, const struct page *page, const struct history_piece *p)
{
    if (p->why == HOUR_WHY_DAY) {
        text_html_z(out, says_day_reason(page->words, p->day));
    } else {
        html_of(out, page, WORD_SET_HOUR, (int)p->hour);
        if (p->why != HOUR_WHY_NO_READING) {
            RAW(out, ": ");
            html_of(out, page, WORD_SET_HOUR_WHY, (int)p->why);
        }
    }
    if (!p->ahead || (p->why == HOUR_WHY_DAY && p->day == DAY_AHEAD)) return;
    RAW(out, " <i>");
    html_word(out, page, WORD_STRIP_TO_COME);
    RAW(out, "</i>");
}

static void row(struct text *out, const struct page *page, const struct when *when,
                const struct part_plan *part, size_t first, size_t end)
{
    double low = NAN, high = NAN, credit = 0;
    for (size_t i = first; i < end; i++) {
        low = fmin(low, part->pieces[i].low_degc);
        high = fmax(high, part->pieces[i].high_degc);
        credit += part->pieces[i].credit;
    }
    const struct history_piece *p = &part->pieces[first];
    RAW(out, "<tr><th scope=\"row\">");
    int64_t until_s = part->pieces[end - 1].until_s;
    if (until_s == part->strip->until_s && until_s != when->now_s && !by_days(part))
        until_s = civil_hour_up_s(when->zone, until_s);
    row_time(out, when, part, p->from_s, until_s);
    RAW(out, "</th><td>");
    row_counted(out, page, p);
    RAW(out, "</td><td>");
    if (isfinite(low)) {
        struct phrase coldest = says_degrees(low), warmest = says_degrees(high);
        text_html_z(out, coldest.z);
        if (strcmp(coldest.z, warmest.z) != 0) {
            RAW(out, " \u2013 ");
            text_html_z(out, warmest.z);
        }
        RAW(out, ", ");
        html_of(out, page, WORD_SET_REST, (int)p->rests);
    }
    RAW(out, "</td><td>");
    text_html_z(out, says_figure(credit).z);
    RAW(out, "</td></tr>");
}

void svg_hour_table(struct text *out, const struct page *page, const struct job_plan *job,
                    const struct part_plan *part)
{
    static const enum word columns[] = {WORD_STRIP_COL_TIME, WORD_STRIP_COL_COUNTED,
                                        WORD_STRIP_COL_TEMP};
    const struct when when = html_when(page, job->job->zone);
    RAW(out, "<details class=\"s-data\"><summary>");
    html_word(out, page, WORD_STRIP_DATA);
    RAW(out, "</summary><table><thead><tr>");
    for (size_t i = 0; i < sizeof columns / sizeof *columns; i++) {
        RAW(out, "<th scope=\"col\">");
        html_word(out, page, columns[i]);
        RAW(out, "</th>");
    }
    RAW(out, "<th scope=\"col\">");
    html_of(out, page, WORD_SET_UNIT, by_days(part) ? UNIT_COUNTED_DAY : UNIT_WARM_HOUR);
    RAW(out, "</th></tr></thead><tbody>");
    for (size_t i = 0; i < part->piece_count;) {
        size_t end = i + 1;
        while (end < part->piece_count && same_row(&part->pieces[i], &part->pieces[end])) end++;
        row(out, page, &when, part, i, end);
        i = end;
    }
    RAW(out, "</tbody></table></details>");
}
