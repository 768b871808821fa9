#!/usr/bin/env node
// SPDX-License-Identifier: MIT
// holidays.mjs list COUNTRY[-STATE] YEAR          print the public holidays of a year, one a line
// holidays.mjs write LIST COMPANY.json [ID]       put the dates of a looked-through list into a company
//
// The list is made for the owner to look through: a line that begins with # (a day his crews work) is
// left out by `write`, and a line may be added by hand. `write` puts the dates into `holidays` of the
// company or, with ID, of that inspector or trade; dates of other years stay, dates of the same year are
// replaced. Nothing is fetched while the program runs: the rules come with the package (`npm ci` in this
// folder, once). COMPANY.json is what GET /api/v1/company answers; PUT it back afterwards.
//
// Exit status: 0; 64 wrong use; 65 a list or company that cannot be read; 69 the package is not there.
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";

const LINE = /^(\d{4}-\d{2}-\d{2})(\s.*)?$/;

function fail(status, text) {
    console.error("holidays: " + text);
    process.exit(status);
}

function load() {
    try {
        return createRequire(import.meta.url)("date-holidays");
    } catch {
        return fail(69, "found no package date-holidays, wanted `npm ci` in deploy/holidays");
    }
}

/** The days of rest of a year: public and bank holidays, each date once, with its names. */
function daysOf(place, year) {
    const Holidays = load();
    const [country, state] = place.split("-");
    const known = new Holidays().getCountries();
    if (!(country in known)) fail(64, `found ${country}, wanted a country like US, CA, GB`);
    const states = new Holidays().getStates(country) ?? {};
    const code = state === undefined ? undefined
        : Object.keys(states).find((one) => one.toLowerCase() === state.toLowerCase());
    if (state !== undefined && code === undefined)
        fail(64, `found ${place}, wanted one of ${Object.keys(states).join(" ")}`);
    const days = new Map();
    const rules = code === undefined ? new Holidays(country) : new Holidays(country, code);
    for (const one of rules.getHolidays(year, "en") ?? []) {
        if (one.type !== "public" && one.type !== "bank") continue;
        const date = one.date.slice(0, 10);
        if (!date.startsWith(String(year))) continue;
        days.set(date, [...(days.get(date) ?? []), one.name]);
    }
    return [...days].sort(([a], [b]) => (a < b ? -1 : 1));
}

function list(place, yearText) {
    const year = Number(yearText);
    if (!/^\d{4}$/.test(yearText ?? "") || year < 1970 || year > 2200)
        fail(64, `found ${yearText}, wanted a year from 1970 to 2200`);
    const days = daysOf(place, year);
    if (days.length === 0) fail(65, `found no holidays of ${place} in ${year}`);
    console.log(`# Public holidays of ${place} in ${year}. Put # before a day on which you work.`);
    for (const [date, names] of days) {
        const weekday = new Date(date + "T12:00:00Z").toLocaleDateString("en", { weekday: "short", timeZone: "UTC" });
        console.log(`${date} ${weekday} ${names.join(" / ")}`);
    }
}

function readDates(path) {
    const dates = [];
    readFileSync(path, "utf8").split("\n").forEach((line, index) => {
        const text = line.trim();
        if (text === "" || text.startsWith("#")) return;
        const match = LINE.exec(text);
        const real = match && new Date(match[1] + "T12:00:00Z");
        if (!match || Number.isNaN(real.getTime()) || real.toISOString().slice(0, 10) !== match[1])
            fail(65, `${path}: line ${index + 1}: found "${text.slice(0, 60)}", wanted a date like 2027-05-31 and a name`);
        dates.push(match[1]);
    });
    if (dates.length === 0) fail(65, `${path}: found no date, wanted at least one`);
    return dates;
}

function write(listPath, companyPath, id) {
    const dates = readDates(listPath);
    let company;
    try {
        company = JSON.parse(readFileSync(companyPath, "utf8"));
    } catch (error) {
        fail(65, `${companyPath}: ${error.message}`);
    }
    if (company === null || typeof company !== "object" || !Array.isArray(company.work_days))
        fail(65, `${companyPath}: found no work_days, wanted a company`);
    const parties = [...(company.inspectors ?? []), ...(company.trades ?? [])];
    const whose = id === undefined ? company : parties.find((one) => one.id === id);
    if (whose === undefined) fail(64, `found no inspector or trade ${id}, wanted one of ${parties.map((one) => one.id).join(" ")}`);
    const years = new Set(dates.map((date) => date.slice(0, 4)));
    const others = (whose.holidays ?? []).filter((date) => !years.has(date.slice(0, 4)));
    whose.holidays = [...new Set([...others, ...dates])].sort();
    writeFileSync(companyPath, JSON.stringify(company, null, 1) + "\n");
    console.log(`${dates.length} holidays of ${[...years].join(", ")} written into ${id ?? "the company"}`);
}

const [command, ...rest] = process.argv.slice(2);
if (command === "list" && rest.length === 2) list(...rest);
else if (command === "write" && (rest.length === 2 || rest.length === 3)) write(...rest);
else fail(64, "usage: holidays.mjs list COUNTRY[-STATE] YEAR | write LIST COMPANY.json [ID]");
