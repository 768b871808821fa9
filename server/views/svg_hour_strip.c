/* SPDX-License-Identifier: MIT */
/* Why: see svg_hour_strip.h. One path for each class of hour, whatever their number; what must not
 * be stretched (words, readings) stands outside the stretched part, placed in percent. */
#include "views/svg_hour_strip.h"

#include <math.h>

#include "compute/civil.h"
#include "views/html.h"
#include "views/svg_hour_table.h"

#include "base/banned.h"

enum {
    HOUR_S = 3600,
    WIDE = 2000,       /* units across, stretched over the width of the page */
    PANEL_TOP = 18,    /* px: under the words "now" and "forecast" */
    PANEL_HIGH = 150,  /* px: the temperatures */
    STRIP_TOP = 176,   /* px: the hours */
    STRIP_HIGH = 28,   /* px */
    FOOT = 220,        /* px: base line of the days' names */
    ALL_HIGH = 228,    /* px */
    LABELS_NARROW = 6, /* names of days that fit a phone */
    LABELS_WIDE = 14,
    CROSS_MOST = 80, /* units a crossed-out frame is wide at most */
};

/* Where things lie: time across, degF down. */
struct frame_of {
    const struct part_strip *strip;
    const struct zone *zone;
    double low_degf, high_degf;
};

static int x_of(const struct frame_of *f, int64_t at_s)
{
    double share =
        (double)(at_s - f->strip->from_s) / (double)(f->strip->until_s - f->strip->from_s);
    return (int)lround(fmin(1, fmax(0, share)) * WIDE);
}

static double degf_of(double degc)
{
    return degc * 1.8 + 32;
}

static int y_of(const struct frame_of *f, double degf)
{
    double share = (f->high_degf - degf) / (f->high_degf - f->low_degf);
    return (int)lround(fmin(1, fmax(0, share)) * PANEL_HIGH);
}

/* A place across as a percentage with one decimal: what is not stretched stands there. */
static void put_percent(struct text *out, int x)
{
    text_integer(out, x / (WIDE / 100));
    text_add_byte(out, '.');
    text_integer(out, x % (WIDE / 100) * 1000 / WIDE);
    text_add_byte(out, '%');
}

static void put_pair(struct text *out, char command, int x, int y)
{
    text_add_byte(out, command);
    text_integer(out, x);
    text_add_byte(out, ' ');
    text_integer(out, y);
}

static void put_one(struct text *out, char command, int value)
{
    text_add_byte(out, command);
    text_integer(out, value);
}

static void stretch(struct frame_of *f, double degc)
{
    if (!isfinite(degc)) return;
    f->low_degf = fmin(f->low_degf, floor(degf_of(degc)) - 2);
    f->high_degf = fmax(f->high_degf, ceil(degf_of(degc)) + 2);
}

/* From freezing to 68 F at least, and all that is drawn. */
static struct frame_of frame_of(const struct job_plan *job, const struct part_plan *part)
{
    const struct part_strip *strip = part->strip;
    struct frame_of f = {strip, job->job->zone, 28, 72};
    for (size_t i = 0; i < part->piece_count; i++) {
        stretch(&f, part->pieces[i].temp_degc);
        stretch(&f, part->pieces[i].low_degc);
    }
    for (size_t i = 0; i < strip->station_count; i++) stretch(&f, strip->station_degc[i]);
    for (size_t i = 0; i < strip->band_count; i++) {
        stretch(&f, strip->band[i].low_degc);
        stretch(&f, strip->band[i].high_degc);
    }
    for (size_t i = 0; i < strip->reading_count; i++) stretch(&f, strip->readings[i]->temp_degc);
    return f;
}

/* --- the temperatures ------------------------------------------------------------------------- */

static void forecast_shade(struct text *out, const struct frame_of *f)
{
    if (f->strip->forecast_from_s == INSTANT_NONE) return;
    int x = x_of(f, f->strip->forecast_from_s), to = x_of(f, f->strip->forecast_until_s);
    if (to <= x) return;
    text_print(out, "<path class=\"s-sky\" d=\"M%d 0H%dV%dH%dz\"/>", x, to, PANEL_HIGH, x);
}

/* Out along the upper edge and back along the lower one, stretch by stretch. */
static void band_piece(struct text *out, const struct frame_of *f, size_t first, size_t end)
{
    const struct part_strip *s = f->strip;
    for (size_t i = first; i < end; i++) {
        int64_t ends_s = i + 1 < s->band_count ? s->band[i + 1].from_s : s->until_s;
        int y = y_of(f, degf_of(s->band[i].high_degc));
        if (i == first)
            put_pair(out, 'M', x_of(f, s->band[i].from_s), y);
        else
            put_one(out, 'V', y);
        put_one(out, 'H', x_of(f, ends_s));
    }
    for (size_t i = end; i-- > first;) {
        put_one(out, 'V', y_of(f, degf_of(s->band[i].low_degc)));
        put_one(out, 'H', x_of(f, s->band[i].from_s));
    }
    text_add_byte(out, 'z');
}

static void band(struct text *out, const struct frame_of *f)
{
    const struct part_strip *s = f->strip;
    if (s->band_count == 0) return;
    RAW(out, "<path class=\"s-band\" d=\"");
    for (size_t i = 0; i < s->band_count;) {
        size_t end = i;
        while (end < s->band_count && !isnan(s->band[end].low_degc)) end++;
        if (end > i) band_piece(out, f, i, end);
        i = end + 1;
    }
    RAW(out, "\"/>");
}

static const int guides_degf[] = {32, 40, 50, 68};
enum { GUIDE_COUNT = sizeof guides_degf / sizeof *guides_degf };

static void guides(struct text *out, const struct frame_of *f)
{
    RAW(out, "<path class=\"s-guide\" d=\"");
    for (int i = 0; i < GUIDE_COUNT; i++) {
        put_pair(out, 'M', 0, y_of(f, guides_degf[i]));
        put_one(out, 'h', WIDE);
    }
    RAW(out, "\"/>");
}

/* Midnights from top to bottom; noons a short tick on the hours. */
static void day_ticks(struct text *out, const struct frame_of *f, bool noon)
{
    const struct part_strip *s = f->strip;
    int32_t first = civil_day_of(f->zone, s->from_s), last = civil_day_of(f->zone, s->until_s);
    const bool dense = svg_hour_dense(s); /* of many days the Mondays are enough */
    if (noon && dense) return;
    text_print(out, "<path class=\"%s\" d=\"", noon ? "s-noon" : "s-day");
    for (int32_t day = first; day <= last; day++) {
        int64_t at_s =
            noon ? civil_instant_s(f->zone, day, 12 * HOUR_S) : civil_day_start_s(f->zone, day);
        if (at_s <= s->from_s || at_s >= s->until_s) continue;
        if (dense && civil_weekday(day) != 0) continue;
        put_pair(out, 'M', x_of(f, at_s), noon ? PANEL_HIGH - 6 : 0);
        put_one(out, 'v', noon ? 6 : PANEL_HIGH);
    }
    RAW(out, "\"/>");
}

static int32_t day_of_middle(const struct frame_of *f, const struct history_piece *piece)
{
    return civil_day_of(f->zone, piece->from_s + (piece->until_s - piece->from_s) / 2);
}

/* The station day by day: its mean, at noon. */
static void station_days(struct text *out, const struct frame_of *f)
{
    const struct part_strip *s = f->strip;
    bool on = false;
    RAW(out, "<path class=\"s-station\" d=\"");
    for (size_t i = 0; i < s->station_count;) {
        const int32_t day = civil_day_of(f->zone, s->station_from_s + (int64_t)i * HOUR_S);
        double sum = 0;
        int known = 0;
        for (; i < s->station_count &&
               civil_day_of(f->zone, s->station_from_s + (int64_t)i * HOUR_S) == day;
             i++) {
            if (isnan(s->station_degc[i])) continue;
            sum += s->station_degc[i];
            known++;
        }
        if (known > 0)
            put_pair(out, on ? 'L' : 'M', x_of(f, civil_instant_s(f->zone, day, 12 * HOUR_S)),
                     y_of(f, degf_of(sum / known)));
        on = known > 0;
    }
    RAW(out, "\"/>");
}

static void station_line(struct text *out, const struct frame_of *f)
{
    const struct part_strip *s = f->strip;
    if (s->station_count == 0) return;
    RAW(out, "<path class=\"s-station\" d=\"");
    bool on = false;
    for (size_t i = 0; i < s->station_count; i++) {
        int64_t middle_s = s->station_from_s + (int64_t)i * HOUR_S + HOUR_S / 2;
        bool drawn = !isnan(s->station_degc[i]) && middle_s >= s->from_s && middle_s <= s->until_s;
        if (drawn)
            put_pair(out, on ? 'L' : 'M', x_of(f, middle_s), y_of(f, degf_of(s->station_degc[i])));
        on = drawn;
    }
    RAW(out, "\"/>");
}

/* Many days: hours cannot be told apart any more, so each day is drawn from its low to its high. */
static void used_days(struct text *out, const struct frame_of *f, const struct part_plan *part)
{
    RAW(out, "<path class=\"s-range\" d=\"");
    for (size_t i = 0; i < part->piece_count;) {
        const int32_t day = day_of_middle(f, &part->pieces[i]);
        double low = NAN, high = NAN;
        size_t end = i;
        for (; end < part->piece_count && day_of_middle(f, &part->pieces[end]) == day; end++) {
            low = fmin(low, part->pieces[end].low_degc);
            high = fmax(high, part->pieces[end].high_degc);
        }
        if (isfinite(low)) {
            int top = y_of(f, degf_of(high)), foot = y_of(f, degf_of(low));
            put_pair(out, 'M', x_of(f, part->pieces[i].from_s), top);
            put_one(out, 'H', x_of(f, part->pieces[end - 1].until_s));
            put_one(out, 'v', foot - top < 2 ? 2 : foot - top);
            put_one(out, 'H', x_of(f, part->pieces[i].from_s));
            text_add_byte(out, 'z');
        }
        i = end;
    }
    RAW(out, "\"/>");
}

/* The temperature the clock went by, as it went by it: level while nothing changed. */
static void used_line(struct text *out, const struct frame_of *f, const struct part_plan *part)
{
    RAW(out, "<path class=\"s-used\" d=\"");
    bool on = false;
    int level = 0;
    for (size_t i = 0; i < part->piece_count; i++) {
        const struct history_piece *p = &part->pieces[i];
        if (isnan(p->temp_degc)) {
            on = false;
            continue;
        }
        int y = y_of(f, degf_of(p->temp_degc));
        if (!on)
            put_pair(out, 'M', x_of(f, p->from_s), y);
        else if (y != level)
            put_one(out, 'V', y);
        put_one(out, 'H', x_of(f, p->until_s));
        on = true;
        level = y;
    }
    RAW(out, "\"/>");
}

static void now_line(struct text *out, const struct frame_of *f, int64_t now_s, int high)
{
    if (now_s < f->strip->from_s || now_s > f->strip->until_s) return;
    text_print(out, "<path class=\"s-now\" d=\"M%d 0v%d\"/>", x_of(f, now_s), high);
}

/* --- the hours -------------------------------------------------------------------------------- */

/* All hours of a class, past or ahead, in one path; neighbours are drawn as one. */
static void hours(struct text *out, const struct frame_of *f, const struct part_plan *part,
                  enum hour_class hour, bool ahead)
{
    bool any = false;
    for (size_t i = 0; i < part->piece_count;) {
        const struct history_piece *p = &part->pieces[i];
        size_t end = i + 1;
        if (p->hour != hour || p->ahead != ahead) {
            i = end;
            continue;
        }
        while (end < part->piece_count && part->pieces[end].hour == hour &&
               part->pieces[end].ahead == ahead)
            end++;
        int x = x_of(f, p->from_s), to = x_of(f, part->pieces[end - 1].until_s);
        if (!any)
            text_print(out, "<path class=\"s-%s%s\" d=\"", id_of(&hour_class_ids, (int)hour),
                       ahead ? " s-ahead" : "");
        any = true;
        /* a crossed-out frame as wide as the page would not read as one */
        for (int most = hour == HOUR_NO_READING ? CROSS_MOST : WIDE; to - x > most; x += most)
            svg_hour_shape(out, hour, x, most);
        svg_hour_shape(out, hour, x, to > x ? to - x : 1);
        i = end;
    }
    if (any) RAW(out, "\"/>");
}

/* --- words in the picture --------------------------------------------------------------------- */

static void label_open(struct text *out, const char *style, int x, int y, const char *anchor)
{
    text_print(out, "<text class=\"%s\" x=\"", style);
    put_percent(out, x);
    text_print(out, "\" y=\"%d\"%s>", y, anchor);
}

static void label(struct text *out, const char *style, int x, int y, const char *anchor,
                  const char *says)
{
    label_open(out, style, x, y, anchor);
    text_html_z(out, says);
    RAW(out, "</text>");
}

/* In the margin on the right, where no line runs through them. */
static void guide_labels(struct text *out, const struct frame_of *f)
{
    for (int i = 0; i < GUIDE_COUNT; i++) {
        struct phrase degrees = says_degrees((guides_degf[i] - 32) / 1.8);
        label(out, "s-t", WIDE, PANEL_TOP + y_of(f, guides_degf[i]) + 4, " dx=\"5\"", degrees.z);
    }
}

static void day_labels(struct text *out, const struct page *page, const struct frame_of *f)
{
    const struct part_strip *s = f->strip;
    int32_t first = civil_day_of(f->zone, s->from_s), last = civil_day_of(f->zone, s->until_s);
    int count = last - first + 1;
    int wide = (count + LABELS_WIDE - 1) / LABELS_WIDE;
    int narrow = (count + LABELS_NARROW - 1) / LABELS_NARROW;
    narrow = (narrow + wide - 1) / wide * wide; /* a phone's labels are some of the others */
    if (svg_hour_dense(s)) { /* whole weeks, so that the names stand on Mondays */
        wide = (wide + 6) / 7 * 7;
        narrow = (narrow + wide - 1) / wide * wide;
        first += (7 - civil_weekday(first)) % 7;
    }
    for (int32_t day = first; day <= last; day += wide) {
        int64_t at_s = civil_day_start_s(f->zone, day);
        int x = x_of(f, at_s < s->from_s ? s->from_s : at_s);
        if (x > WIDE * 93 / 100 ||
            (day == first && x_of(f, civil_day_start_s(f->zone, day + 1)) < WIDE * 5 / 100))
            continue; /* no room for a name */
        label_open(out, (day - first) % narrow == 0 ? "s-t" : "s-t s-w", x, FOOT, "");
        svg_day_name(out, page->words, day);
        RAW(out, "</text>");
    }
}

static void now_label(struct text *out, const struct page *page, const struct frame_of *f)
{
    const struct part_strip *s = f->strip;
    if (page->now_s < s->from_s || page->now_s > s->until_s) return;
    int x = x_of(f, page->now_s);
    const char *anchor = x > WIDE * 9 / 10   ? " text-anchor=\"end\""
                         : x < WIDE * 1 / 20 ? ""
                                             : " text-anchor=\"middle\"";
    label(out, "s-t s-b", x, 12, anchor, words_get(page->words, WORD_STRIP_NOW));
    if (s->forecast_from_s == INSTANT_NONE) return;
    int from = x_of(f, s->forecast_from_s), to = x_of(f, s->forecast_until_s);
    if (to - from < WIDE / 4) return;
    label(out, "s-t", (from + to) / 2, 12, " text-anchor=\"middle\"",
          words_get(page->words, WORD_STRIP_FORECAST));
}

/* Readings as dots, cold notes as points down. */
static void readings(struct text *out, const struct frame_of *f)
{
    for (size_t i = 0; i < f->strip->reading_count; i++) {
        const struct record *r = f->strip->readings[i];
        int y = PANEL_TOP + y_of(f, degf_of(r->temp_degc));
        bool cap = r->how == HOW_LOWEST || r->how == HOW_IMPRESSION;
        text_add_z(out, cap ? "<svg class=\"s-cap\" x=\"" : "<circle class=\"s-dot\" cx=\"");
        put_percent(out, x_of(f, r->at_s));
        if (cap)
            text_print(out, "\" y=\"%d\"><path d=\"M-5-8h10L0 0z\"/></svg>", y);
        else
            text_print(out, "\" cy=\"%d\" r=\"4\"/>", y);
    }
}

static void open_inner(struct text *out, int y, int high)
{
    text_print(out,
               "<svg y=\"%d\" width=\"100%%\" height=\"%d\" viewBox=\"0 0 %d %d\" "
               "preserveAspectRatio=\"none\" fill=\"none\" stroke=\"#2b3338\">",
               y, high, (int)WIDE, high);
}

static void picture(struct text *out, const struct page *page, const struct frame_of *f,
                    const struct part_plan *part)
{
    open_inner(out, PANEL_TOP, PANEL_HIGH);
    forecast_shade(out, f);
    band(out, f);
    const bool dense = svg_hour_dense(f->strip);
    if (dense) used_days(out, f, part); /* broad: the guide lines stand over it */
    guides(out, f);
    day_ticks(out, f, false);
    day_ticks(out, f, true);
    if (!dense) {
        station_line(out, f);
        used_line(out, f, part);
    } else if (f->strip->station_count > 0) {
        station_days(out, f);
    }
    now_line(out, f, page->now_s, PANEL_HIGH);
    RAW(out, "</svg>");
    open_inner(out, STRIP_TOP, STRIP_HIGH);
    for (int hour = 0; hour < HOUR_CLASS_COUNT; hour++) {
        hours(out, f, part, (enum hour_class)hour, false);
        hours(out, f, part, (enum hour_class)hour, true);
    }
    text_print(out, "<path class=\"s-frame\" d=\"M0 0h%dv%dh-%dz\"/>", (int)WIDE, (int)STRIP_HIGH,
               (int)WIDE);
    now_line(out, f, page->now_s, STRIP_HIGH);
    RAW(out, "</svg>");
    readings(out, f);
    guide_labels(out, f);
    now_label(out, page, f);
    day_labels(out, page, f);
}

void svg_hour_strip(struct text *out, const struct page *page, const struct job_plan *job,
                    const struct part_plan *part)
{
    if (part->strip == NULL || part->piece_count == 0) return;
    const struct frame_of f = frame_of(job, part);
    RAW(out, "<figure class=\"strip\"><figcaption>");
    svg_hour_sums(out, page, job, part);
    RAW(out, "</figcaption>");
    text_print(out, "<svg class=\"s-hours\" width=\"100%%\" height=\"%d\" role=\"img\"><title>",
               (int)ALL_HIGH);
    svg_hour_title(out, page, part);
    RAW(out, "</title><desc>");
    svg_hour_says(out, page, job, part);
    RAW(out, "</desc>");
    picture(out, page, &f, part);
    RAW(out, "</svg>");
    svg_hour_key(out, page, part);
    svg_hour_notes(out, page, job, part);
    svg_hour_table(out, page, job, part);
    RAW(out, "</figure>");
}
