/* SPDX-License-Identifier: MIT */
/*
 * Why: see ics.h. libical builds and folds the lines; the VTIMEZONE is made from our own zone
 * table, because an entry has to show the same wall clock as every page, whatever zone files the
 * reader's machine has.
 */
#include "views/ics.h"

#include <libical/ical.h>
#include <stdio.h>
#include <stdlib.h>

#include "compute/civil.h"
#include "views/says.h"
#include "views/when.h"

#include "base/banned.h"

enum { DAY_S = 86400, YEAR_S = 366 * DAY_S, ZONES_MAX = 32, REFRESH_MIN = 60 };

static struct icaltimetype wall_time(const struct zone *zone, int64_t at_s)
{
    const int64_t local_s = at_s + (zone == NULL ? 0 : zone_offset_s(zone, at_s));
    const int32_t day = (int32_t)zone_floor_div(local_s, DAY_S);
    const int second = (int)(local_s - (int64_t)day * DAY_S);
    struct icaltimetype out = icaltime_null_time();
    civil_date(day, &out.year, &out.month, &out.day);
    out.hour = second / 3600;
    out.minute = second / 60 % 60;
    out.second = second % 60;
    if (zone == NULL) out.zone = icaltimezone_get_utc_timezone();
    return out;
}

static struct icaltimetype whole_day(int32_t day)
{
    struct icaltimetype out = icaltime_null_date();
    civil_date(day, &out.year, &out.month, &out.day);
    return out;
}

/* --- zones --------------------------------------------------------------------------------- */

/* One clock change: from then on the wall clock is `to_s` off UTC. */
static icalcomponent *observance(const struct zone *zone, size_t span, int64_t onset_s)
{
    const struct zone_span *now = &zone->spans[span];
    const int32_t before_s = span == 0 ? now->offset_s : zone->spans[span - 1].offset_s;
    icalcomponent *out =
        now->offset_s > before_s ? icalcomponent_new_xdaylight() : icalcomponent_new_xstandard();
    struct icaltimetype onset = wall_time(NULL, onset_s + before_s);
    onset.zone = NULL; /* the clock as it was before the change, RFC 5545 3.6.5 */
    icalcomponent_add_property(out, icalproperty_new_tzname(now->abbreviation));
    icalcomponent_add_property(out, icalproperty_new_tzoffsetfrom(before_s));
    icalcomponent_add_property(out, icalproperty_new_tzoffsetto(now->offset_s));
    icalcomponent_add_property(out, icalproperty_new_dtstart(onset));
    return out;
}

static void add_zone(icalcomponent *calendar, const struct zone *zone, int64_t from_s,
                     int64_t until_s)
{
    icalcomponent *out = icalcomponent_new_vtimezone();
    icalcomponent_add_property(out, icalproperty_new_tzid(zone->name));
    const size_t first = zone_span_at(zone, from_s);
    for (size_t i = first; i < zone->count; i++) {
        const int64_t onset_s = i == first ? from_s : zone->spans[i].from_s;
        if (onset_s > until_s) break;
        icalcomponent_add_component(out, observance(zone, i, onset_s));
    }
    icalcomponent_add_component(calendar, out);
}

static const struct zone *zone_of(const struct feed *feed, const struct feed_event *event)
{
    return event->job == NULL ? feed->plan->casefile->company.zone : event->job->zone;
}

static void add_zones(icalcomponent *calendar, const struct feed *feed)
{
    const struct zone *known[ZONES_MAX];
    size_t count = 0;
    int64_t from_s = feed->made_s, until_s = from_s;
    for (size_t i = 0; i < feed->count; i++) {
        if (feed->events[i].start_s == INSTANT_NONE) continue;
        if (feed->events[i].start_s < from_s) from_s = feed->events[i].start_s;
        if (feed->events[i].finish_s > until_s) until_s = feed->events[i].finish_s;
    }
    for (size_t i = 0; i < feed->count && count < ZONES_MAX; i++) {
        const struct zone *zone = zone_of(feed, &feed->events[i]);
        size_t k = 0;
        while (k < count && known[k] != zone) k++;
        if (k < count || feed->events[i].start_s == INSTANT_NONE) continue;
        known[count++] = zone;
        add_zone(calendar, zone, from_s - YEAR_S, until_s + YEAR_S);
    }
}

/* --- entries ------------------------------------------------------------------------------- */

static void say_summary(struct text *out, const struct feed *feed, const struct feed_event *event,
                        const struct words *words)
{
    text_add_z(out,
               event->job == NULL || event->job->name == NULL ? event->job_id : event->job->name);
    text_add_z(out, ": ");
    text_add_z(out, event->task == TASK_NONE ? words_get(words, WORD_FEED_DATE_GIVEN)
                                             : words_of(words, WORD_SET_TASK, (int)event->task));
    if (feed->crew != NULL || event->crew == NULL) return;
    text_print(out, " (%s)", event->crew->name == NULL ? event->crew->id : event->crew->name);
}

static void say_description(struct text *out, const struct feed *feed,
                            const struct feed_event *event, const struct words *words)
{
    const struct zone *zone = zone_of(feed, event);
    const struct when when = {words, zone, feed->plan->casefile->now_s};
    if (event->status == FEED_CANCELLED) {
        text_add_z(out, words_get(words, WORD_FEED_TAKEN_BACK));
        text_add_z(out, "\n");
    } else if (event->plan != NULL) {
        text_add_z(out, says_state(words, event->plan->state));
        text_add_z(out, "\n");
        if (event->plan->because_count > 0) {
            says_reason(out, &when, &event->plan->because[0]);
            text_add_z(out, "\n");
        }
    }
    text_add_z(out, words_get(words, WORD_FEED_STALE));
}

static void add_times(icalcomponent *out, const struct feed *feed, const struct feed_event *event)
{
    if (event->day != DAY_NONE) {
        icalcomponent_add_property(out, icalproperty_new_dtstart(whole_day(event->day)));
        icalcomponent_add_property(out, icalproperty_new_dtend(whole_day(event->day + 1)));
        return;
    }
    const struct zone *zone = zone_of(feed, event);
    icalproperty *start = icalproperty_new_dtstart(wall_time(zone, event->start_s));
    icalproperty *end = icalproperty_new_dtend(wall_time(zone, event->finish_s));
    icalproperty_add_parameter(start, icalparameter_new_tzid(zone->name));
    icalproperty_add_parameter(end, icalparameter_new_tzid(zone->name));
    icalcomponent_add_property(out, start);
    icalcomponent_add_property(out, end);
}

static icalproperty_status status_of(enum feed_status status)
{
    if (status == FEED_CANCELLED) return ICAL_STATUS_CANCELLED;
    return status == FEED_CONFIRMED ? ICAL_STATUS_CONFIRMED : ICAL_STATUS_TENTATIVE;
}

static void add_event(icalcomponent *calendar, struct text *said, const struct feed *feed,
                      const struct feed_event *event, const struct words *words)
{
    icalcomponent *out = icalcomponent_new_vevent();
    icalcomponent_add_property(out, icalproperty_new_uid(event->uid));
    icalcomponent_add_property(out, icalproperty_new_dtstamp(wall_time(NULL, event->changed_s)));
    icalcomponent_add_property(out,
                               icalproperty_new_lastmodified(wall_time(NULL, event->changed_s)));
    icalcomponent_add_property(out, icalproperty_new_sequence((int)event->sequence));
    icalcomponent_add_property(out, icalproperty_new_status(status_of(event->status)));
    icalcomponent_add_property(out, icalproperty_new_class(ICAL_CLASS_PRIVATE));
    add_times(out, feed, event);
    text_clear(said);
    say_summary(said, feed, event, words);
    icalcomponent_add_property(out, icalproperty_new_summary(text_z(said)));
    text_clear(said);
    say_description(said, feed, event, words);
    icalcomponent_add_property(out, icalproperty_new_description(text_z(said)));
    if (event->day != DAY_NONE || event->status == FEED_CANCELLED)
        icalcomponent_add_property(out, icalproperty_new_transp(ICAL_TRANSP_TRANSPARENT));
    icalcomponent_add_component(calendar, out);
}

static void add_head(icalcomponent *calendar, struct text *said, const struct feed *feed,
                     const struct words *words)
{
    const struct company *company = &feed->plan->casefile->company;
    text_clear(said);
    if (company->name != NULL) text_print(said, "%s: ", company->name);
    if (feed->crew == NULL)
        text_add_z(said, words_get(words, WORD_FEED_OWNER));
    else
        text_add_z(said, feed->crew->name == NULL ? feed->crew->id : feed->crew->name);
    icalcomponent_add_property(calendar, icalproperty_new_version("2.0"));
    icalcomponent_add_property(calendar, icalproperty_new_prodid("-//Emberwait//Emberwait//EN"));
    icalcomponent_add_property(calendar, icalproperty_new_calscale("GREGORIAN"));
    icalcomponent_add_property(calendar, icalproperty_new_method(ICAL_METHOD_PUBLISH));
    icalcomponent_add_property(calendar, icalproperty_new_name(text_z(said)));
    icalproperty *refresh =
        icalproperty_new_refreshinterval(icaldurationtype_from_int(REFRESH_MIN * 60));
    icalproperty_add_parameter(refresh, icalparameter_new_value(ICAL_VALUE_DURATION));
    icalcomponent_add_property(calendar, refresh);
}

void ics_write(struct text *out, const struct feed *feed, const struct words *words)
{
    struct text said = TEXT_UP_TO(8192);
    icalcomponent *calendar = icalcomponent_new_vcalendar();
    add_head(calendar, &said, feed, words);
    add_zones(calendar, feed);
    for (size_t i = 0; i < feed->count; i++)
        add_event(calendar, &said, feed, &feed->events[i], words);
    char *bytes = icalcomponent_as_ical_string_r(calendar);
    if (bytes == NULL || text_status(&said) != STATUS_OK)
        out->failed = true;
    else
        text_add_z(out, bytes);
    free(bytes);
    icalcomponent_free(calendar);
    text_free(&said);
}
