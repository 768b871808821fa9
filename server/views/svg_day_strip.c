/* SPDX-License-Identifier: MIT */
/* Why: see svg_day_strip.h. One path for each sign, whatever the number of days that have it. */
#include "views/svg_day_strip.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "compute/civil.h"
#include "views/html.h"
#include "views/svg_hour_table.h"

#include "base/banned.h"

enum {
    WEEK = 7,
    WEEKS_MOST = 26, /* half a year; what is older is in the export */
    CELL_WIDE = 44,
    CELL_HIGH = 36,
    GUTTER = 46,     /* the week's name */
    HEAD = 16,       /* the weekdays' names */
    DAY_MARK_X = 19, /* where a sign stands in its cell; it is 18 x 18 */
    DAY_MARK_Y = 14,
    AHEAD_MOST = 60
};

/* Signs of days: what is filled, what is a line; both relative to the sign's corner. */
enum day_mark {
    DAY_MARK_FULL,
    DAY_MARK_HALF_COOL,
    DAY_MARK_HALF_GAPS,
    DAY_MARK_COLD,
    DAY_MARK_SOAKED,
    DAY_MARK_RAIN,
    DAY_MARK_RAIN_UNKNOWN,
    DAY_MARK_WRAPPED,
    DAY_MARK_WET_WORK,
    DAY_MARK_LIT,
    DAY_MARK_NO_READING,
    DAY_MARK_AHEAD,
    DAY_MARK_ZERO,
    DAY_MARK_LOST, /* the homeowner's: not counted, for whatever reason */
    DAY_MARK_COUNT
};
_Static_assert((int)DAY_MARK_AHEAD == (int)DAY_AHEAD,
               "signs of days stand in the order of reasons");

static const struct {
    const char *fill, *line;
} signs[DAY_MARK_COUNT] = {
    [DAY_MARK_FULL] = {"h18v18h-18z", NULL},
    [DAY_MARK_HALF_COOL] = {"m0 9h18v9h-18z", "h18v18h-18z"},
    [DAY_MARK_HALF_GAPS] = {"v18h18z", "h18v18h-18z"},
    [DAY_MARK_COLD] = {NULL, "m9 0v18m-8-13l16 8m0-8l-16 8"},
    [DAY_MARK_SOAKED] = {NULL, "m0 4q4.5-5 9 0t9 0m-18 6q4.5-5 9 0t9 0m-18 6q4.5-5 9 0t9 0"},
    [DAY_MARK_RAIN] = {NULL, "m5 0l-3 7m9-7l-3 7m9-7l-3 7m-7 4l-3 7m9-7l-3 7"},
    [DAY_MARK_RAIN_UNKNOWN] = {NULL, "m5 0l-3 7m1 4l-3 7m9-14q0-4 4-4t4 4q0 3-4 5v4m0 3v2"},
    [DAY_MARK_WRAPPED] = {NULL, "h18v18h-18zm5 5h8v8h-8z"},
    [DAY_MARK_WET_WORK] = {NULL, "m0 2h18l-9 15z"},
    [DAY_MARK_LIT] = {"m9 0l9 17h-18zm-1 5v6h2v-6zm0 8v2h2v-2z", NULL},
    [DAY_MARK_NO_READING] = {NULL, "h18v18h-18zl18 18m0-18l-18 18"},
    [DAY_MARK_AHEAD] = {NULL, "h18v18h-18z"},
    [DAY_MARK_ZERO] = {NULL, "m9 1a8 8 0 1 0 .1 0z"},
    [DAY_MARK_LOST] = {NULL, "h18v18h-18zm4 9h10"},
};

/* The stretch of days that is drawn. */
struct month {
    const struct page *page;
    const struct when when;
    const struct clock_plan *clock;
    bool home;
    int32_t zero_day; /* day of the last wet work */
    int32_t today;
    int32_t first_day; /* the first that is drawn: a day of the count */
    int32_t last_day;
    int32_t monday; /* of the first row */
    int rows;
};

static struct month month_of(const struct page *page, const struct job_plan *job,
                             const struct clock_plan *clock, bool home)
{
    struct month m = {.page = page,
                      .when = html_when(page, job->job->zone),
                      .clock = clock,
                      .home = home,
                      .zero_day = civil_day_of(job->job->zone, clock->start_s),
                      .today = civil_day_of(job->job->zone, page->now_s)};
    m.first_day = m.zero_day;
    m.last_day = m.zero_day + (int32_t)clock->day_count;
    if (clock->state == CLOCK_STATE_RUNNING && clock->crossing_s != INSTANT_NONE) {
        int32_t full = civil_day_of(job->job->zone, clock->crossing_s - 1);
        if (full > m.last_day)
            m.last_day = full; /* the last day judged stands for those after it */
    }
    if (m.last_day < m.today && clock->state == CLOCK_STATE_RUNNING) m.last_day = m.today;
    if (home && m.last_day >= m.today) m.last_day = m.today > m.zero_day ? m.today - 1 : m.zero_day;
    if (m.last_day - m.first_day >= WEEKS_MOST * WEEK) {
        /* long counts: what is past is cut first, a far end after that */
        int32_t from = m.today - WEEKS_MOST * WEEK / 2;
        if (from > m.first_day) m.first_day = from;
        if (m.last_day - m.first_day >= WEEKS_MOST * WEEK)
            m.last_day = m.first_day + WEEKS_MOST * WEEK - 1;
    }
    m.monday = m.first_day - civil_weekday(m.first_day);
    m.rows = (m.last_day - m.monday) / WEEK + 1;
    return m;
}

static const struct counted_day *judged(const struct month *m, int32_t day)
{
    int32_t index = day - m->zero_day - 1;
    if (index < 0 || m->clock->day_count == 0) return NULL;
    if ((size_t)index >= m->clock->day_count) {
        if (m->clock->crossing_s == INSTANT_NONE || day < m->today) return NULL;
        index = (int32_t)m->clock->day_count - 1;
    }
    return &m->clock->days[index];
}

static bool is_ahead(const struct month *m, int32_t day)
{
    return day >= m->today && day != m->zero_day;
}

static enum day_mark sign_of(const struct month *m, int32_t day)
{
    if (day == m->zero_day) return DAY_MARK_ZERO;
    const struct counted_day *d = judged(m, day);
    if (d == NULL) return DAY_MARK_AHEAD;
    if (m->home)
        return d->credit >= 1 ? DAY_MARK_FULL : d->credit > 0 ? DAY_MARK_HALF_COOL : DAY_MARK_LOST;
    if (is_ahead(m, day) && d->credit >= 1) return DAY_MARK_AHEAD;
    return (enum day_mark)d->reason;
}

static int cell_x(const struct month *m, int32_t day)
{
    return GUTTER + (day - m->monday) % WEEK * CELL_WIDE;
}

static int cell_y(const struct month *m, int32_t day)
{
    return HEAD + (day - m->monday) / WEEK * CELL_HIGH;
}

/* All days of a sign that lie on one side of today, as one path each for what is filled and lined.
 */
static void sign_paths(struct text *out, const struct month *m, enum day_mark sign, bool ahead)
{
    for (int lines = 0; lines <= 1; lines++) {
        const char *shape = lines ? signs[sign].line : signs[sign].fill;
        bool any = false;
        if (shape == NULL) continue;
        for (int32_t day = m->first_day; day <= m->last_day; day++) {
            if (sign_of(m, day) != sign || is_ahead(m, day) != ahead) continue;
            if (!any)
                text_print(out, "<path class=\"%s%s%s\" d=\"", lines ? "d-line" : "d-fill",
                           sign == DAY_MARK_AHEAD ? " d-dash" : "", ahead ? " s-ahead" : "");
            any = true;
            text_print(out, "M%d %d%s", cell_x(m, day) + DAY_MARK_X, cell_y(m, day) + DAY_MARK_Y,
                       shape);
        }
        if (any) RAW(out, "\"/>");
    }
}

static void grid(struct text *out, const struct month *m)
{
    RAW(out, "<path class=\"d-grid\" d=\"");
    for (int row = 0; row <= m->rows; row++)
        text_print(out, "M%d %dh%d", (int)GUTTER, HEAD + row * CELL_HIGH, WEEK * CELL_WIDE);
    for (int column = 0; column <= WEEK; column++)
        text_print(out, "M%d %dv%d", GUTTER + column * CELL_WIDE, (int)HEAD, m->rows * CELL_HIGH);
    RAW(out, "\"/>");
    if (m->today < m->first_day || m->today > m->last_day) return;
    text_print(out, "<path class=\"d-today\" d=\"M%d %dh%dv%dh-%dz\"/>", cell_x(m, m->today),
               cell_y(m, m->today), (int)CELL_WIDE, (int)CELL_HIGH, (int)CELL_WIDE);
}

static void names(struct text *out, const struct month *m)
{
    int year, month, day_of_month;
    for (int weekday = 0; weekday < WEEK; weekday++) {
        text_print(out, "<text class=\"s-t\" x=\"%d\" y=\"11\">", GUTTER + weekday * CELL_WIDE + 3);
        svg_short(out, words_of(m->page->words, WORD_SET_WEEKDAY, weekday));
        RAW(out, "</text>");
    }
    for (int row = 0; row < m->rows; row++) {
        civil_date(m->monday + row * WEEK, &year, &month, &day_of_month);
        text_print(out, "<text class=\"s-t\" y=\"%d\">%d ", HEAD + row * CELL_HIGH + 22,
                   day_of_month);
        svg_short(out, words_of(m->page->words, WORD_SET_MONTH, month - 1));
        RAW(out, "</text>");
    }
    for (int32_t day = m->first_day; day <= m->last_day; day++) {
        civil_date(day, &year, &month, &day_of_month);
        text_print(out, "<text class=\"d-n\" x=\"%d\" y=\"%d\">%d</text>", cell_x(m, day) + 3,
                   cell_y(m, day) + 12, day_of_month);
    }
}

/* --- in words --------------------------------------------------------------------------------- */

static void title(struct text *out, const struct month *m)
{
    if (m->home)
        html_word(out, m->page, WORD_STRIP_HOME_TITLE);
    else
        svg_capital(out, m->page, WORD_STRIP_DAYS_TITLE,
                    words_of(m->page->words, WORD_SET_CLOCK, (int)m->clock->clock));
}

static void add_sum(struct text *out, const struct month *m, int count, enum word word)
{
    if (count == 0) return;
    struct phrase n = says_figure(count);
    if (out->length > 0) text_add_z(out, ", ");
    WORDS_SAY(out, m->page->words, word, {"n", n.z});
}

/* A reason without what it counted: "cold" of "not counted: cold". */
static const char *bare_reason(const char *says)
{
    const char *colon = strstr(says, ": ");
    return colon == NULL ? says : colon + 2;
}

/* "34 cold, 13 rain": what took the days that did not count. */
static void add_reasons(struct text *out, const struct month *m)
{
    int counts[DAY_REASON_COUNT] = {0};
    for (size_t i = 0; i < m->clock->day_count && m->clock->days[i].day < m->today; i++)
        if (m->clock->days[i].credit <= 0) counts[m->clock->days[i].reason]++;
    size_t begin = out->length;
    for (int reason = 0; reason < DAY_REASON_COUNT; reason++) {
        if (counts[reason] == 0) continue;
        text_add_z(out, out->length == begin ? ": " : ", ");
        text_integer(out, counts[reason]);
        text_add_byte(out, ' ');
        text_add_z(out, bare_reason(says_day_reason(m->page->words, (enum day_reason)reason)));
    }
}

/* How many days counted, in whole and in half, and how many did not, and why. */
static void sums(struct text *out, const struct month *m)
{
    int full = 0, half = 0, lost = 0;
    for (size_t i = 0; i < m->clock->day_count && m->clock->days[i].day < m->today; i++) {
        double credit = m->clock->days[i].credit;
        if (credit >= 1)
            full++;
        else if (credit > 0)
            half++;
        else
            lost++;
    }
    struct text all = TEXT_UP_TO(2000);
    add_sum(&all, m, full, WORD_STRIP_DAYS_FULL);
    add_sum(&all, m, half, WORD_STRIP_DAYS_HALF);
    add_sum(&all, m, lost, WORD_STRIP_DAYS_LOST);
    if (!m->home) add_reasons(&all, m);
    struct phrase have = says_figure(m->clock->have), need = says_figure(m->clock->need);
    if (all.length == 0)
        HTML_SAY(out, m->page, WORD_STRIP_DAYS_NONE, {"need", need.z});
    else
        HTML_SAY(out, m->page, WORD_STRIP_DAYS_SUMS, {"sums", text_z(&all)}, {"have", have.z},
                 {"need", need.z});
    text_free(&all);
}

static const char *sign_says(const struct month *m, enum day_mark sign)
{
    const struct words *words = m->page->words;
    switch (sign) {
    case DAY_MARK_ZERO:
        return words_get(words, m->home ? WORD_STRIP_HOME_ZERO : WORD_STRIP_DAY_ZERO);
    case DAY_MARK_LOST:
        return words_get(words, WORD_STRIP_HOME_LOST);
    case DAY_MARK_HALF_COOL:
        if (m->home) return words_get(words, WORD_STRIP_HOME_HALF);
        break;
    default:
        break;
    }
    return says_day_reason(words, (enum day_reason)sign);
}

static void key_item(struct text *out, const struct month *m, enum day_mark sign)
{
    RAW(out, "<li><svg width=\"20\" height=\"20\" viewBox=\"-1 -1 20 20\" aria-hidden=\"true\">");
    if (signs[sign].fill != NULL)
        text_print(out, "<path class=\"d-fill\" d=\"M0 0%s\"/>", signs[sign].fill);
    if (signs[sign].line != NULL)
        text_print(out, "<path class=\"d-line%s\" d=\"M0 0%s\"/>",
                   sign == DAY_MARK_AHEAD ? " d-dash s-ahead" : "", signs[sign].line);
    RAW(out, "</svg>");
    text_html_z(out, sign_says(m, sign));
    RAW(out, "</li>");
}

static void key(struct text *out, const struct month *m)
{
    unsigned seen = 0;
    bool expected = false, assumed = false;
    for (int32_t day = m->first_day; day <= m->last_day; day++) {
        enum day_mark sign = sign_of(m, day);
        seen |= 1U << sign;
        expected = expected || (is_ahead(m, day) && sign != DAY_MARK_AHEAD);
        const struct counted_day *d = judged(m, day);
        assumed = assumed || (d != NULL && d->reason == DAY_AHEAD && is_ahead(m, day));
    }
    RAW(out, "<ul class=\"s-key\">");
    for (int sign = 0; sign < DAY_MARK_COUNT; sign++)
        if ((seen >> sign & 1U) != 0) key_item(out, m, (enum day_mark)sign);
    if (m->today >= m->first_day && m->today <= m->last_day) {
        RAW(out, "<li><svg width=\"20\" height=\"20\" viewBox=\"-1 -1 20 20\" "
                 "aria-hidden=\"true\"><path class=\"d-today\" d=\"M1 1h16v16h-16z\"/></svg>");
        html_word(out, m->page, WORD_STRIP_TODAY);
        RAW(out, "</li>");
    }
    RAW(out, "</ul>");
    if (!expected && !assumed) return;
    RAW(out, "<p class=\"aside\">");
    if (expected) html_word(out, m->page, WORD_STRIP_EXPECTED);
    if (expected && assumed) text_add_byte(out, ' ');
    if (assumed) html_word(out, m->page, WORD_STRIP_EARLIEST);
    RAW(out, "</p>");
}

/* The homeowner's days to come: how many, and no more. */
static void still_to_come(struct text *out, const struct month *m)
{
    const struct clock_plan *c = m->clock;
    double left = ceil(c->need - c->have - 1e-9);
    if (c->state != CLOCK_STATE_RUNNING || !isfinite(left) || left < 1) return;
    int count = (int)fmin(left, AHEAD_MOST);
    struct phrase n = says_figure(left);
    RAW(out, "<p>");
    HTML_SAY(out, m->page, WORD_STRIP_HOME_AHEAD, {"n", n.z});
    int rows = (count + 2 * WEEK - 1) / (2 * WEEK);
    text_print(out,
               "</p><svg class=\"s-left\" viewBox=\"0 0 %d %d\" aria-hidden=\"true\"><path "
               "class=\"d-line d-dash s-ahead\" d=\"",
               2 * WEEK * 24, rows * 24);
    for (int i = 0; i < count; i++)
        text_print(out, "M%d %dh18v18h-18z", i % (2 * WEEK) * 24 + 3, i / (2 * WEEK) * 24 + 3);
    RAW(out, "\"/></svg>");
}

static void row_figures(struct text *out, const struct month *m, const struct counted_day *d)
{
    RAW(out, "<td>");
    if (d != NULL && isfinite(d->mean_degc)) {
        struct phrase mean = says_degrees(d->mean_degc), low = says_degrees(d->min_degc);
        HTML_SAY(out, m->page, WORD_JOB_MEAN_MIN, {"mean", mean.z}, {"min", low.z});
    }
    RAW(out, "</td>");
}

static void table(struct text *out, const struct month *m)
{
    RAW(out, "<details class=\"s-data\"><summary>");
    html_word(out, m->page, WORD_STRIP_DATA);
    RAW(out, "</summary><table><thead><tr><th scope=\"col\">");
    html_word(out, m->page, WORD_JOB_DAY);
    RAW(out, "</th><th scope=\"col\">");
    html_word(out, m->page, WORD_STRIP_COL_COUNTED);
    RAW(out, "</th>");
    if (!m->home) {
        RAW(out, "<th scope=\"col\">");
        html_word(out, m->page, WORD_STRIP_COL_TEMP);
        RAW(out, "</th>");
    }
    RAW(out, "</tr></thead><tbody>");
    for (int32_t day = m->first_day; day <= m->last_day; day++) {
        enum day_mark sign = sign_of(m, day);
        const struct counted_day *d = judged(m, day);
        RAW(out, "<tr><th scope=\"row\">");
        text_html_z(out, when_date(&m->when, day).z);
        RAW(out, "</th><td>");
        text_html_z(out, sign_says(m, sign));
        if (is_ahead(m, day) && sign != DAY_MARK_AHEAD) {
            RAW(out, " <i>");
            html_word(out, m->page, WORD_STRIP_TO_COME);
            RAW(out, "</i>");
        }
        RAW(out, "</td>");
        if (!m->home) row_figures(out, m, d);
        RAW(out, "</tr>");
    }
    RAW(out, "</tbody></table></details>");
}

void svg_day_strip(struct text *out, const struct page *page, const struct job_plan *job,
                   const struct clock_plan *clock, bool home)
{
    if (clock->unit != UNIT_COUNTED_DAY || clock->start_s == INSTANT_NONE) return;
    const struct month m = month_of(page, job, clock, home);
    RAW(out, "<figure class=\"strip\"><figcaption><b>");
    title(out, &m);
    RAW(out, "</b> <span>");
    sums(out, &m);
    RAW(out, "</span></figcaption>");
    text_print(out, "<svg class=\"s-days\" viewBox=\"0 0 %d %d\" role=\"img\"><title>",
               GUTTER + WEEK * CELL_WIDE + 1, HEAD + m.rows * CELL_HIGH + 1);
    title(out, &m);
    RAW(out, "</title><desc>");
    struct phrase zero = when_date(&m.when, m.zero_day);
    HTML_SAY(out, page, WORD_STRIP_DAYS_SAYS, {"date", zero.z});
    text_add_byte(out, ' ');
    sums(out, &m);
    RAW(out, "</desc><g fill=\"none\" stroke=\"#2b3338\">");
    grid(out, &m);
    for (int sign = 0; sign < DAY_MARK_COUNT; sign++) {
        sign_paths(out, &m, (enum day_mark)sign, false);
        sign_paths(out, &m, (enum day_mark)sign, true);
    }
    RAW(out, "</g>");
    names(out, &m);
    RAW(out, "</svg>");
    key(out, &m);
    if (home) still_to_come(out, &m);
    if (m.first_day > m.zero_day) {
        RAW(out, "<p class=\"aside\">");
        html_word(out, page, WORD_STRIP_OLDER);
        RAW(out, "</p>");
    }
    table(out, &m);
    RAW(out, "</figure>");
}
