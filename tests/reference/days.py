# SPDX-License-Identifier: MIT
"""Civil days of the job's zone and what each of them earns on a drying clock.

Second implementation, see history.py.  Day numbers are proleptic ordinals; credit is counted in
halves so that sums are exact.
"""
from bisect import bisect_right
from datetime import date, datetime, timedelta

from history import DAY, HOUR, figure_f

NEAR = 1e-9


def offset_of(zone, at):
    return int(datetime.fromtimestamp(at, zone).utcoffset().total_seconds())


def next_whole_hour(zone, at):
    """First instant at or after `at` whose wall clock shows a whole hour."""
    while True:
        offset = offset_of(zone, at)
        after = at + (-(at + offset)) % HOUR
        if after == at or offset_of(zone, after) == offset:
            return after
        low, high = at, after
        while high - low > 1:
            mid = (low + high) // 2
            if offset_of(zone, mid) == offset:
                low = mid
            else:
                high = mid
        at = high


class Calendar:
    """Midnights of a zone, remembered."""

    def __init__(self, zone):
        self.zone = zone
        self.known = {}

    def midnight(self, day):
        """Instant at which civil day `day` begins."""
        at = self.known.get(day)
        if at is None:
            d = date.fromordinal(day)
            at = int(datetime(d.year, d.month, d.day, tzinfo=self.zone).timestamp())
            self.known[day] = at
        return at

    def day_of(self, at):
        return datetime.fromtimestamp(at, self.zone).toordinal()


def intervals(records, on, off):
    """[(a, b)] between records of kind `on` and the next of kind `off`; b None while it lasts."""
    out = []
    since = None
    for r in records:
        if r["kind"] == on and since is None:
            since = r["_at"]
        elif r["kind"] == off and since is not None:
            out.append((since, r["_at"]))
            since = None
    if since is not None:
        out.append((since, None))
    return out


class DryingDays:
    """Credit of each civil day at the unit, in halves (0, 1 or 2)."""

    def __init__(self, records, pieces, calendar, station, now, exposed):
        self.pieces, self.calendar, self.station = pieces, calendar, station
        self.now, self.exposed = now, exposed
        self.starts = [p[0] for p in pieces]
        self.memo, self.rains = {}, {}
        self.logged, self.zero = {}, set()
        self.wrapped = intervals(records, "wrapped", "unwrapped")
        self.covered = intervals(records, "covered", "uncovered")
        self.caps = [r["_at"] for r in records
                     if r["kind"] == "done" and r["task"] == "cap-set"]
        for r in records:
            self._note(r)
        self.settled = self._settled(records)

    def _note(self, r):
        if r["kind"] in ("facing", "patched", "relaid", "lit"):
            self.zero.add(self.calendar.day_of(r["_at"]))
        elif r["kind"] == "soaked" and r["part"] == "unit":
            day = self.calendar.day_of(r["_at"])
            self.zero.update(range(day, day + (6 if r.get("standing") else 3)))
        elif r["kind"] == "logged-day":
            self.logged[date.fromisoformat(r["date"]).toordinal()] = (
                figure_f(r, "mean_"), figure_f(r, "min_"))

    def _settled(self, records):
        """A day from which on every day is like the one before it."""
        last = max([self.starts[-1] if self.starts else 0, self.now] + [r["_at"] for r in records])
        if self.station.last is not None:
            last = max(last, self.station.last * HOUR)
        for end in (self.station.series.get("forecast"), self.station.series.get("observed")):
            if end:
                last = max(last, (end[0] + len(end[1].get("rain_mm") or [])) * HOUR)
        return max([self.calendar.day_of(last)] + list(self.logged)) + 8

    def credit(self, day):
        got = self.memo.get(day)
        if got is None:
            got = self.memo[day] = self._credit(day)
        return got

    def _credit(self, day):
        if day in self.zero:
            return 0
        a, b = self.calendar.midnight(day), self.calendar.midnight(day + 1)
        if any(s < b and (e is None or e > a) for s, e in self.wrapped):
            return 0
        if self.exposed and self._rained(day):
            return 0
        if day in self.logged:
            mean, low = self.logged[day]
            return self._grade(mean, low)
        had, total, low, missing = self._sum(a, b)
        if missing > 6 * HOUR:
            return 0
        if had == 0:
            return 2 if missing == 0 else 0
        return min(self._grade(total / had, low), 1 if missing else 2)

    @staticmethod
    def _grade(mean, low):
        if mean >= 50 - NEAR and low >= 40 - NEAR:
            return 2
        return 1 if mean >= 40 - NEAR and low >= 32 - NEAR else 0

    def _sum(self, a, b):
        had = missing = 0
        total, low = 0.0, 1e9
        i = max(0, bisect_right(self.starts, a) - 1)
        while i < len(self.pieces) and self.pieces[i][0] < b:
            x, y, f, _, past = self.pieces[i]
            seconds = min(y, b) - max(x, a)
            i += 1
            if seconds <= 0:
                continue
            if f is not None:
                had += seconds
                total += f * seconds
                low = min(low, f)
            elif not past:
                missing += seconds
        return had, total, low, missing

    def _open_hours(self, day):
        """(rain mm, past hours without a figure) of the day's hours that start uncovered."""
        got = self.rains.get(day)
        if got is None:
            a, b = self.calendar.midnight(day), self.calendar.midnight(day + 1)
            total, unknown = 0.0, 0
            for h in range(-(-a // HOUR), -(-b // HOUR)):
                t = h * HOUR
                if any(s <= t and (e is None or t < e) for s, e in self.covered):
                    continue
                mm = self.station.rain(h)
                if mm is not None:
                    total += mm
                elif t + HOUR <= self.now:
                    unknown += 1
            got = self.rains[day] = (total, unknown)
        return got

    def _rained(self, day):
        if self._open_hours(day)[1] > 6:
            return True
        for back in range(3):
            mm = self._open_hours(day - back)[0]
            reach = -1
            if mm >= 1 - NEAR:
                began = self.calendar.midnight(day - back)
                capped = bool(self.caps) and max(self.caps) < began
                reach = 0 if capped else 2
            if mm >= 5 - NEAR:
                reach = max(reach, 1)
            if back <= reach:
                return True
        return False

    def run(self, start, target):
        """(counted days over at `now`, ordinal of the day the count is reached | None)."""
        first = self.calendar.day_of(start) + 1
        count = have = 0
        need = int(round(2 * target))
        day = first
        reached = None
        while True:
            over = self.calendar.midnight(day + 1) <= self.now
            if reached is not None and not over:
                break
            if reached is None:
                count += self.credit(day)
                if over:
                    have = min(count, need)
                if count >= need:
                    reached = day
                    break
            if reached is None and day > self.settled and not over:
                each = self.credit(day)
                if each:
                    reached = day - (-(need - count) // each)
                break
            day += 1
        return have / 2, reached
