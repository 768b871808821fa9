#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""clocks.py CASE.json: every clock of every job, as the second implementation works it out.

Second implementation, see history.py.  It knows nothing of tasks, crews, dates of work or words;
only of clocks and of the day on which the drying is over.
"""
import json
import math
import sys
from bisect import bisect_right
from datetime import date, datetime
from zoneinfo import ZoneInfo

from days import Calendar, DryingDays, intervals, next_whole_hour
from history import DAY, HOUR, INF, History, Station, figure_f, instant

NEAR_F = 1e-9
NEAR_S = 1e-6
JOINT_TASKS = ("tower-block", "box-courses", "throat-set", "smoke-chamber", "transition-set",
               "chimney-run", "cap-set")
LINE_TASKS = ("line-floor", "line-back", "line-sides")
ZONES = {}


def zone_of(name):
    if name not in ZONES:
        ZONES[name] = ZoneInfo(name)
    return ZONES[name]


def effective(raw, now):
    """Records in force at `now`: corrections carried out, in order of time, then of the file."""
    known = [(instant(r["at"]), i, r) for i, r in enumerate(raw)]
    corrections = sorted((at, i) for at, i, r in known if r["kind"] == "corrected" and at <= now)
    replaced = {}
    for _, i in reversed(corrections):
        body = raw[i]
        if body["id"] in replaced:
            body = replaced[body["id"]]
            if body is None or body["kind"] != "corrected":
                continue
        replaced.setdefault(body["corrects"], body["with"])
    out = []
    for _, i, r in known:
        body = replaced.get(r["id"], r)
        if body is None or body["kind"] == "corrected":
            continue
        at = instant(body["at"])
        if at <= now:
            out.append((at, i, dict(body, _at=at)))
    out.sort(key=lambda x: x[:2])
    return [r for _, _, r in out]


class Accrual:
    """Credit earned from a start on: rates per second over pieces, pauses left out."""

    def __init__(self, pieces, start, rate, pauses=()):
        self.a, self.b, self.rates, self.before = [], [], [], []
        total = 0.0
        for x, y, f, _, _ in pieces:
            r = rate(f) if f is not None else 0.0
            if r <= 0 or y <= start:
                continue
            for p, q in self._cut(max(x, start), y, pauses):
                self.a.append(p)
                self.b.append(q)
                self.rates.append(r)
                self.before.append(total)
                total += r * (q - p)

    @staticmethod
    def _cut(a, b, pauses):
        for p, q in pauses:
            if q <= a or p >= b:
                continue
            if a < p:
                yield a, p
            a = max(a, q)
            if a >= b:
                return
        yield a, b

    def at(self, t):
        """Credit in seconds at instant t."""
        i = bisect_right(self.a, t) - 1
        if i < 0:
            return 0.0
        return self.before[i] + self.rates[i] * (min(t, self.b[i]) - self.a[i])

    def reach(self, seconds):
        """First instant with that credit, or None."""
        if seconds <= 0:
            return 0
        for a, b, r, c in zip(self.a, self.b, self.rates, self.before):
            if c + r * (b - a) >= seconds - NEAR_S:
                return a + max(0.0, (seconds - c) / r)
        return None


def warm_rate(stall_f):
    """Warm hours per hour: linear from 32 F to 68 F, nothing below the stall, never above 1."""
    def rate(f):
        if f < stall_f - NEAR_F:
            return 0.0
        return min(1.0, max(0.0, (f - 32) / 36))
    return rate


def kept_rate(f):
    return 1.0 if f >= 50 - NEAR_F else 0.0


def whole_second(t):
    """First whole second at or after t."""
    return None if t is None else math.ceil(t - NEAR_S)


class Job:
    def __init__(self, job, stations, now, kits=None):
        self.kit = (kits or {}).get(job.get("kit"), {})
        self.now, self.options = now, job["options"]
        self.zone = zone_of(job["time_zone"])
        self.records = effective(job["records"], now)
        self.has_station = "station" in job
        self.station = Station(stations.get(job.get("station")), now)
        self.blended = 1.5 if self.options.get("mix") == "blended" else 1
        self.void = self.options["base"] != "slab"
        self.histories = {}
        self.clocks = []

    # -- records --------------------------------------------------------------------------
    def done(self, *tasks, kinds=("done",)):
        """Latest instant at which one of the tasks was recorded, or None."""
        at = [r["_at"] for r in self.records if r["kind"] in kinds and r["task"] in tasks]
        return max(at) if at else None

    def of(self, kind, part=None):
        return [r for r in self.records
                if r["kind"] == kind and (part is None or r.get("part") == part)]

    def looks(self, part, result=None):
        return [r["_at"] for r in self.of("looked", part)
                if result is None or r["result"] == result]

    def ended(self, part, start):
        return any(at > start for at in self.looks(part, "redo"))

    def history(self, part, since):
        got = self.histories.get(part)
        if got is None or got[0] > since:
            pieces = History(self.records, part, self.station, self.now, since,
                             self.has_station).pieces
            got = self.histories[part] = (since, pieces)
        return got[1]

    # -- rules ----------------------------------------------------------------------------
    def rule(self, clock, floor, need, pad=False, floor_cp=False):
        """(floor h, target) in force: default, blended, town and kit, engineer, overridden."""
        if pad:
            need = need * self.blended
        if clock == "pad.build-on":
            floor = max(floor, self.options.get("town", {}).get("build_on_floor_h", 0))
        sheet = self.kit.get("clocks", {}).get(clock, {})
        floor, need = max(floor, sheet.get("floor_h", 0)), max(need, sheet.get("need", 0))
        for r in self.of("engineer"):
            if r["rule"] == clock:
                if not floor_cp:
                    floor = r.get("floor_h", floor)
                need = r.get("need", need)
        for r in self.of("overridden"):
            if r["rule"] == clock:
                floor = max(floor, r.get("floor_h", 0))
                need = max(need, r.get("need", 0))
        return floor, need

    def bag(self, start):
        """(mortar | None, stall degF) of the lot in use when a mortar clock starts."""
        lots = [r["lot"] for r in self.records
                if r["kind"] in ("done", "started") and r["_at"] == start and "lot" in r]
        if lots:  # the work says which bag it was, whenever its card was written
            bags = [r for r in self.of("bag") if r["lot"] == lots[-1]]
        else:
            bags = [r for r in self.of("bag") if r["_at"] <= start]
        kit_f = self.kit.get("bag_min_degf", -100)
        if not bags:
            return None, max(50.0, kit_f)
        card = bags[-1]
        has = "min_degf" in card or "min_degc" in card
        return card.get("mortar"), max(figure_f(card, "min_") if has else 50.0, kit_f)

    # -- answers --------------------------------------------------------------------------
    def put(self, clock, state, have, need, unit, floor, crossing):
        self.clocks.append({
            "clock": clock, "state": state, "have": have, "need": need, "unit": unit,
            "floor_h": floor, "crossing": self.text(crossing),
            "opens": None if crossing is None else
            self.text(next_whole_hour(self.zone, crossing))})

    def text(self, at):
        return None if at is None else datetime.fromtimestamp(at, self.zone).isoformat()

    def put_set(self, clock, part, start, floor, need, accrual, stop):
        """A clock with a floor and a target; `stop` is the instant it went to check-it."""
        have = accrual.at(self.now if stop is None else stop) / HOUR
        crossing = None
        state = "running"
        if self.ended(part, start):
            state = "ended"
        elif stop is not None:
            state = "check-it"
        else:
            credit = accrual.reach(need * HOUR)
            if credit is not None:
                crossing = whole_second(max(credit, start + floor * HOUR))
            for r in self.of("accepted"):
                if r["clock"] == clock and r["_at"] >= start:
                    at = max(r["_at"], math.ceil(start + floor * HOUR))
                    crossing = at if crossing is None else min(crossing, at)
            if crossing is not None and crossing <= self.now:
                state = "open"
        self.put(clock, state, have, need, "warm-hour", floor, crossing)
        return crossing

    # -- the pad --------------------------------------------------------------------------
    def frost(self, pieces, pour):
        """(pauses, instant of the unanswered event | None)."""
        limit = 24 * self.blended * HOUR - NEAR_S
        cold = [(a, b) for a, b, _, f, _ in pieces
                if f is not None and f < 32 - NEAR_F and a < self.now]
        soaks = [r["_at"] for r in self.of("soaked", "pad") if r["_at"] > pour]
        sound = self.looks("pad", "no-damage-seen")
        pauses, since = [], pour
        while True:
            warm = Accrual(pieces, pour, warm_rate(40), pauses)
            events = [max(a, since) for a, b in cold if min(b, self.now) > since]
            events += [s for s in soaks if s >= since]
            event = next((e for e in sorted(events) if warm.at(e) < limit), None)
            if event is None:
                return pauses, None
            look = next((at for at in sound if at > event), None)
            if look is None:
                return pauses, event
            pauses.append((event, look))
            since = look

    def pad(self):
        pour = self.done("pad-pour")
        if pour is None:
            return
        pieces = self.history("pad", pour)
        pauses, stop = self.frost(pieces, pour)
        cut = pauses + ([(stop, INF)] if stop is not None else [])
        warm = Accrual(pieces, pour, warm_rate(40), cut)
        void = self.void
        table = [("pad.strip", 24, 12, False), ("pad.first-frost", 0, 24, False),
                 ("pad.build-on", 48, 48, False) if void else ("pad.build-on", 24, 24, True),
                 ("pad.chimney-load", 72 if self.options.get("propped") else 168, 72, False)
                 if void else ("pad.chimney-load", 48, 48, False)]
        for clock, floor, need, floor_cp in table:
            floor, need = self.rule(clock, floor, need, True, floor_cp)
            self.put_set(clock, "pad", pour, floor, need, warm, stop)
        moist = self.moist(pieces, pour, cut, stop)
        self.facing_ready(pour, warm, moist, stop)

    def moist(self, pieces, pour, cut, stop):
        """Hours kept wet at 50 F or more; answers the crossing.

        The hours need not follow on each other, so 168 is a target and a blended mix lengthens it.
        """
        marks = []
        for r in self.records:
            if r["_at"] < pour:
                continue
            on = (r["kind"] == "wet-cover-on" or
                  r["kind"] in ("done", "started") and r["task"] == "pad-protect")
            if on or r["kind"] == "wet-cover-off":
                marks.append({"kind": "on" if on else "off", "_at": r["_at"]})
        wet = intervals(marks, "on", "off")
        if not wet:
            return None
        start = wet[0][0]
        dry, t = [], 0
        for a, b in wet:
            dry.append((t, a))
            t = INF if b is None else b
        dry.append((t, INF))
        breaks = self.union(dry + cut)
        kept = Accrual(pieces, start, kept_rate, breaks)
        need = 168 * self.blended
        have = kept.at(self.now if stop is None else stop) / HOUR
        crossing, state = None, "running"
        if self.ended("pad", pour):  # a pad to be redone has no moist cure until the next pour
            state = "ended"
        elif stop is not None:
            state = "check-it"
        else:
            crossing = whole_second(kept.reach(need * HOUR))
            if crossing is not None and crossing <= self.now:
                state = "open"
        self.put("pad.moist-cure", state, have, need, "hour", 0, crossing)
        return crossing

    @staticmethod
    def union(spans):
        out = []
        for a, b in sorted(s for s in spans if s[0] < s[1]):
            if out and a <= out[-1][1]:
                out[-1] = (out[-1][0], max(b, out[-1][1]))
            else:
                out.append((a, b))
        return out

    def facing_ready(self, pour, warm, moist, stop):
        floor, need = self.rule("pad.facing-ready", 336, 84, True)
        have = warm.at(self.now if stop is None else stop) / HOUR
        crossing, state = None, "running"
        if self.ended("pad", pour):
            state = "ended"
        elif stop is not None:
            state = "check-it"
        else:
            credit = warm.reach(need * HOUR)
            ways = [] if credit is None else [whole_second(max(credit, pour + floor * HOUR))]
            if moist is not None:
                ways.append(moist)
            crossing = min(ways) if ways else None
            if crossing is not None and crossing <= self.now:
                state = "open"
        self.put("pad.facing-ready", state, have, need, "warm-hour", floor, crossing)

    # -- mortar ---------------------------------------------------------------------------
    def chilled(self, pieces, start, least_f):
        """Polymer mortar below its bag minimum in the first 24 h: (pauses, unanswered)."""
        cold = []
        for a, b, f, tested, _ in pieces:
            f = tested if f is None else f  # nothing there but a cap: the cap is believed
            if f is not None and f < least_f - NEAR_F:
                cold.append((max(a, start), min(b, start + DAY, self.now)))
        sound = self.looks("joints", "no-damage-seen")
        pauses, since = [], start
        while True:
            event = next((max(a, since) for a, b in cold if b > max(a, since)), None)
            if event is None:
                return pauses, None
            look = next((at for at in sound if at > event), None)
            if look is None:
                return pauses, event
            pauses.append((event, look))
            since = look

    def mortar(self, clock, part, start, floor, need):
        if start is None:
            return
        floor, need = self.rule(clock, floor, need)
        kind, stall = self.bag(start)
        pieces = self.history(part, start)
        pauses, stop = [], None
        if clock == "joints.early" and kind == "polymer":
            pauses, stop = self.chilled(pieces, start, stall)
        cut = pauses + ([(stop, INF)] if stop is not None else [])
        rate = (lambda f: 0.0) if kind in ("air-drying", "heat-setting") else warm_rate(stall)
        self.put_set(clock, part, start, floor, need, Accrual(pieces, start, rate, cut), stop)

    def mortars(self):
        self.mortar("joints.early", "joints", self.done(*JOINT_TASKS), 24, 24)
        self.mortar("bed.set", "bed", self.done("transition-set"), 16, 12)
        self.mortar("lift.next", "joints",
                    self.done("chimney-run", kinds=("done", "stopped")), 12, 6)
        lined = [self.done(*LINE_TASKS)] + [r["_at"] for r in self.of("relaid")]
        lined = [at for at in lined if at is not None]
        self.mortar("lining.early", "lining", max(lined) if lined else None, 0, 48)

    # -- the unit -------------------------------------------------------------------------
    def counted(self, start, need, ended, floor=0):
        """dict of one counted-day clock."""
        lit = any(r["_at"] > start and not any(at > r["_at"] for at in self.looks("unit"))
                  for r in self.of("lit"))
        have, day = self.days.run(start, need)
        state = "ended" if ended else "check-it" if lit else "running"
        crossing = None
        if state == "running" and day is not None:
            while self.days.calendar.midnight(day + 1) < start + floor * HOUR:
                day += 1
            crossing = self.days.calendar.midnight(day + 1)
            if crossing <= self.now:
                state = "open"
        return {"state": state, "have": have, "need": need, "start": start, "floor": floor,
                "crossing": crossing, "date": None if crossing is None else day + 1}

    def dry_ended(self):
        """A `redo` ends the unit's clock; only a relaid panel or a new lining begins another."""
        begins = [r["_at"] for r in self.of("relaid")]
        begins += [r["_at"] for r in self.of("done") if r["task"] == "line-clean"]
        first = min(r["_at"] for r in self.of("done") if r["task"] == "line-clean")
        return any(first < at and not any(b > at for b in begins)
                   for at in self.looks("unit", "redo"))

    def dropped(self, start):
        """(ended, dropped) of a facing or patch clock."""
        redo = next((at for at in self.looks("unit", "redo") if at > start), None)
        if redo is None:
            return False, False
        later = [r for r in self.records if r["_at"] > redo and (
            r["kind"] in ("relaid", "facing", "patched") or
            r["kind"] == "done" and r["task"] == "line-clean")]
        return True, bool(later)

    def unit(self):
        """Counted-day clocks; answers the first date after all of them, or None."""
        starts = [r["_at"] for r in self.records if r["kind"] in ("facing", "patched", "relaid")]
        cleaned = self.done("line-clean")
        if cleaned is not None:
            starts.append(cleaned)
        if not starts:
            return None
        calendar = Calendar(self.zone)
        since = calendar.midnight(calendar.day_of(min(starts)))
        self.days = DryingDays(self.records, self.history("unit", since), calendar, self.station,
                               self.now, self.options["place"] == "exposed")
        every = []
        if cleaned is not None:
            start = max(starts_of for starts_of in [cleaned, self.done("chimney-run"),
                                                    self.done("cap-set")] +
                        [r["_at"] for r in self.of("relaid")] if starts_of is not None)
            floor, need = self.rule("unit.dry-cure", 0, 28)
            clock = self.counted(start, need, self.dry_ended(), floor)
            every.append(clock)
            self.put_counted("unit.dry-cure", clock)
        every += self.facings() + self.patches()
        mortared = self.options.get("facing") == "mortared"
        last = any(r.get("last") is True for r in self.of("facing"))
        held = any(not any(at > r["_at"] for at in self.looks("unit")) for r in self.of("lit"))
        if cleaned is None or held or mortared and not last:
            return None
        if any(c["date"] is None for c in every):
            return None
        return date.fromordinal(max(c["date"] for c in every)).isoformat()

    def facings(self):
        at = [r["_at"] for r in self.of("facing")]
        if not at:
            return []
        ended, dropped = self.dropped(max(at))
        if dropped:
            return []
        floor, need = self.rule("unit.facing-cure", 0, 14)
        clock = self.counted(max(at), need, ended, floor)
        self.put_counted("unit.facing-cure", clock)
        return [clock]

    def patches(self):
        out = []
        for r in self.of("patched"):
            ended, dropped = self.dropped(r["_at"])
            if not dropped:
                need = 7 if r.get("days") == 7 and r.get("initials") else 28
                floor, need = self.rule("unit.patch", 0, need)
                out.append(self.counted(r["_at"], need, ended, floor))
        if out:
            endless = [c for c in out if c["crossing"] is None]
            self.put_counted("unit.patch", endless[0] if endless else
                             max(out, key=lambda c: c["crossing"]))
        return out

    def put_counted(self, clock, c):
        self.put(clock, c["state"], c["have"], c["need"], "counted-day", c["floor"], c["crossing"])

    def answer(self, job_id):
        self.pad()
        self.mortars()
        return {"id": job_id, "clocks": self.clocks, "fire": {"cure_complete": self.unit()}}


def clocks(case):
    """The answer for a whole case."""
    now = instant(case["now"])
    stations = case.get("stations", {})
    kits = {kit["id"]: kit for kit in case["company"].get("kits", [])}
    return {"jobs": [Job(j, stations, now, kits).answer(j["id"]) for j in case["jobs"]]}


def main():
    if len(sys.argv) != 2:
        sys.exit("usage: clocks.py CASE.json")
    with open(sys.argv[1], encoding="utf-8") as f:
        print(json.dumps(clocks(json.load(f)), indent=1))


if __name__ == "__main__":
    main()
