// SPDX-License-Identifier: MIT
// read.mjs < FEED: what the npm package ical.js makes of a calendar, as JSON: each entry with its
// times as instants, worked out from the feed's own VTIMEZONE. Exits 77 without the package.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";

let ICAL;
try {
    const loaded = createRequire(import.meta.url)("ical.js");
    ICAL = loaded.default ?? loaded;
} catch {
    console.error("ical.js is not installed: run `npm ci` in tests/calendar");
    process.exit(77);
}
const calendar = new ICAL.Component(ICAL.parse(readFileSync(0, "utf8")));
for (const zone of calendar.getAllSubcomponents("vtimezone"))
    ICAL.TimezoneService.register(new ICAL.Timezone(zone));
const out = { name: calendar.getFirstPropertyValue("name"), events: [] };
for (const entry of calendar.getAllSubcomponents("vevent")) {
    const event = new ICAL.Event(entry);
    const whole = event.startDate.isDate;
    const instant = (time) => (whole ? time.toString() : time.toUnixTime());
    out.events.push({
        uid: event.uid,
        summary: event.summary,
        description: event.description,
        sequence: event.sequence,
        status: entry.getFirstPropertyValue("status"),
        zone: whole ? null : event.startDate.zone.tzid,
        start: instant(event.startDate),
        end: instant(event.endDate),
    });
}
console.log(JSON.stringify(out));
