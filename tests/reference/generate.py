#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""generate.py SEED [--count N --out DIR]: small random cases for the clock arithmetic.

`generate(seed)` always answers the same case for the same seed, with one job in it.  Seeds of one
group (GROUP in a row) share `now`, so that a runner can put many jobs into one file.  Figures and
instants are drawn so that they fall on the thresholds far more often than nature would.
"""
import argparse
import json
import math
import os
import random
from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo

GROUP = 16
HOUR = 3600
DAY = 24 * HOUR
ZONES = ["America/Denver", "America/New_York", "America/Los_Angeles", "America/Chicago",
         "America/Phoenix", "America/St_Johns", "America/Halifax", "America/Santiago",
         "Europe/London", "Europe/Paris", "Asia/Kolkata", "Asia/Kathmandu", "Asia/Tehran",
         "Australia/Adelaide", "Australia/Lord_Howe", "Australia/Sydney", "Pacific/Auckland",
         "Pacific/Chatham", "America/Havana", "UTC"]
EDGE_F = [31, 31.9, 32, 32, 32.1, 33, 35, 39, 39.9, 40, 40, 41, 43, 45, 49.9, 50, 50, 51, 53, 55,
          60, 66, 67.9, 68, 68, 69, 70, 75, 84]
EDGE_C = [-0.1, 0, 0, 0.1, 1, 4, 4.5, 5, 9.9, 10, 10, 10.1, 11, 15, 19.9, 20, 20, 21, 25]
SHIFTS = [(3, 10), (3, 28), (4, 4), (9, 8), (9, 28), (10, 4), (10, 28), (11, 3)]
SPANS = [HOUR, 3 * HOUR, 6 * HOUR, 6 * HOUR, 12 * HOUR, 18 * HOUR, DAY, DAY, DAY - 1, DAY + 1,
         DAY + HOUR, 30 * HOUR, 2 * DAY, 3 * DAY, 3 * DAY, 3 * DAY - 60, 3 * DAY + 1, 4 * DAY,
         6 * DAY, 7 * DAY, 7 * DAY, 7 * DAY - 1, 7 * DAY + 1, 9 * DAY, 1800, 3599, 3600, 3601, 60]


def group_now(group):
    """The instant shared by the cases of one group."""
    rng = random.Random(group * 7919 + 17)
    year = rng.randint(2019, 2030)
    if rng.random() < 0.5:
        month, day = rng.choice(SHIFTS)
        at = datetime(year, month, day, tzinfo=timezone.utc) + timedelta(days=rng.randint(0, 9))
    else:
        at = datetime(year, 1, 1, tzinfo=timezone.utc) + timedelta(days=rng.randint(80, 360))
    at += timedelta(hours=rng.randint(0, 23))
    pick = rng.random()
    if pick > 0.5:
        at += timedelta(minutes=rng.choice([1, 15, 30, 30, 45, 59]))
    if pick > 0.85:
        at += timedelta(seconds=rng.randint(1, 59))
    return int(at.timestamp())


class Maker:
    """One case under construction."""

    def __init__(self, seed):
        self.rng = random.Random(seed * 2654435761 + 1)
        self.seed = seed
        self.now = group_now(seed // GROUP)
        self.zone = ZoneInfo(self.rng.choice(ZONES))
        self.records = []
        self.used = set()
        self.level = self.rng.choice([22, 30, 34, 38, 42, 46, 50, 55, 60, 66, 72])
        self.swing = self.rng.choice([0, 2, 6, 10, 16])
        self.front = None

    # -- chance ---------------------------------------------------------------------------
    def odds(self, p):
        return self.rng.random() < p

    def pick(self, *values):
        return self.rng.choice(values)

    def text(self, at):
        return datetime.fromtimestamp(at, self.zone).isoformat()

    def midnight(self, at):
        """The local midnight that began the day of `at`."""
        d = datetime.fromtimestamp(at, self.zone)
        return int(datetime(d.year, d.month, d.day, tzinfo=self.zone).timestamp())

    def when(self, low, high):
        """An instant in [low, high], often on a whole hour or at midnight."""
        at = self.rng.randint(low, max(low, high))
        kind = self.rng.random()
        if kind < 0.5:
            at -= at % HOUR
        elif kind < 0.62:
            at = self.midnight(at)
        elif kind < 0.85:
            at -= at % 900
        return min(max(at, low), max(low, high))

    def alone(self, low, high):
        """The same, at an instant no other event holds."""
        for _ in range(8):
            at = self.when(low, high)
            if at not in self.used:
                break
        while at in self.used:
            at += 7
        self.used.add(at)
        return at

    def put(self, kind, at, **members):
        self.records.append(dict({"id": "j%d-r%d" % (self.seed, len(self.records) + 1),
                                  "kind": kind, "at": self.text(at)}, **members))
        return at

    def fallen(self, at):
        """Degrees F by which the cold front has lowered everything at an instant."""
        return self.front[1] if self.front and at >= self.front[0] else 0

    def degrees(self, stem="", drop=0):
        """{degf: x} or {degc: x} near the level of this case, often on a threshold."""
        if self.odds(0.45):
            if self.odds(0.7):
                near = [f for f in EDGE_F if abs(f + drop - self.level) <= 14] or EDGE_F
                return {stem + "degf": self.rng.choice(near if self.odds(0.8) else EDGE_F)}
            return {stem + "degc": self.rng.choice(EDGE_C)}
        f = self.level + self.rng.uniform(-self.swing - 3, self.swing + 3) - drop
        if self.odds(0.6):
            return {stem + "degf": round(f * 2) / 2}
        return {stem + "degc": round((f - 32) / 1.8, 1)}

    # -- weather --------------------------------------------------------------------------
    def temps(self, start, count):
        out = []
        offset = self.rng.uniform(-4, 4)
        flat = self.rng.choice(EDGE_C) if self.odds(0.15) else None
        i = 0
        while i < count:
            if self.odds(0.01):
                hole = self.pick(1, 2, 6, 7, 12, 24)
                out += [None] * hole
                i += hole
                continue
            if flat is not None:
                v = flat
            elif self.odds(0.06):
                v = self.rng.choice(EDGE_C)
            else:
                wave = math.sin((start // HOUR + i) % 24 / 24 * 2 * math.pi)
                f = self.level + offset + self.swing * wave + self.rng.uniform(-1, 1)
                f -= self.fallen(start + i * HOUR)
                v = round((f - 32) / 1.8, 1)
            out.append(v)
            i += 1
        return out[:count]

    def rain(self, count):
        out = [0] * count
        for _ in range(self.rng.randint(0, 1 + count // self.pick(20, 60, 60))):
            at = self.rng.randrange(max(1, count))
            for mm in self.pick([0.5], [0.5, 0.5], [1.0], [0.75], [0.25, 0.5, 0.25], [2.5, 2.5],
                                [5.0], [4.75], [3.0, 1.5, 0.5], [6.0, 2.0]):
                if at < count:
                    out[at] = mm
                at += self.pick(1, 1, 2)
        for _ in range(self.rng.choice([0, 0, 0, 1, 2])):
            at, hole = self.rng.randrange(max(1, count)), self.pick(1, 5, 6, 7, 8, 24)
            for i in range(at, min(count, at + hole)):
                out[i] = None
        return out

    def series(self, start, end):
        start -= start % HOUR
        count = max(0, (end - start) // HOUR)
        out = {"start": self.text(start), "temp_degc": self.temps(start, count)}
        if self.odds(0.95):
            out["rain_mm"] = self.rain(count)
        return out

    def station(self, since):
        st = {"latitude": 43.6, "longitude": -116.2}
        hour = self.now - self.now % HOUR
        if self.odds(0.95):
            start = since + self.rng.choice([-50, -30, -2, -1, 0, 0, 3, 20]) * HOUR
            end = hour + self.rng.choice([0, 0, 0, 0, 1, 1, 2, 12, -1, -3, -8, -20]) * HOUR
            st["observed"] = self.series(start, max(end, start - start % HOUR))
        if self.odds(0.85):
            start = hour + self.rng.choice([0, 0, 0, 0, 1, 1, 2, -3, -24]) * HOUR
            long = self.rng.choice([1, 6, 12, 24, 48, 48, 72, 96, 168, 240])
            st["forecast"] = self.series(start, start + long * HOUR)
        return st

    # -- records --------------------------------------------------------------------------
    def how(self, thermostat):
        if self.odds(thermostat):
            return "thermostat"
        return self.pick("probe", "probe", "probe", None, "surface", "air", "air", "thermostat")

    def reading(self, at, part, how):
        members = {"part": part}
        if how is not None:
            members["how"] = how
        self.put("reading", at, **members, **self.degrees(drop=self.fallen(at)))

    def readings(self, part, low, high, most, thermostat=0.1):
        """A run of readings with gaps on the edges of what bridges them."""
        spans = self.pick(SPANS, [DAY], [6 * HOUR], [12 * HOUR, DAY], [3 * DAY, 2 * DAY],
                          [7 * DAY, 6 * DAY], SPANS)
        at = self.when(low, min(high, low + self.pick(HOUR, DAY, 3 * DAY)))
        if self.odds(0.4):
            at = low
        for _ in range(most):
            if at > high:
                break
            self.reading(at, part, self.how(thermostat))
            if self.odds(0.08):
                self.reading(at, part, self.how(0.3))
            if self.odds(0.08):
                self.reading(at + self.pick(600, 1800, 3599, 3600, 3601), part, self.how(0.1))
            at += self.rng.choice(spans)

    def caps(self, part, low, high):
        for _ in range(self.pick(0, 0, 0, 1, 1, 2, 3)):
            at = self.when(low, high + 3 * HOUR)
            self.reading(at, part, self.pick("lowest", "lowest", "impression"))

    def shelters(self, part, low, high, shut):
        """Closed-in and opened records of a part; `shut` is the likelihood of a first shelter."""
        if not self.odds(shut):
            return
        at = low if self.odds(0.6) else self.when(low - 2 * DAY, high)
        on = []
        for _ in range(self.rng.randint(1, 5)):
            if on and self.odds(0.55):
                which = self.rng.choice(on)
                if self.odds(0.5):
                    self.put("opened", at, part=part, how=which)
                    on = [h for h in on if h != which]
                else:
                    self.put("opened", at, part=part)
                    on = []
            else:
                which = self.pick("room", "enclosure", "blanket", "blanket", "room")
                self.put("closed-in", at, part=part, how=which)
                on.append(which)
            if self.odds(0.5):
                return
            at = self.alone(at + 60, high + 2 * HOUR)

    def looks(self, part, low, high, redo):
        for _ in range(self.pick(0, 0, 1, 1, 2)):
            at = self.alone(low, high)
            result = "redo" if self.odds(redo) else "no-damage-seen"
            self.put("looked", at, part=part, result=result, by="Ida")

    def done(self, task, low, high, **members):
        at = self.alone(low, high)
        self.put("done", at, task=task, **members)
        return at

    def kit(self):
        """A sheet that came with a kit: longer here, shorter there."""
        clocks = {}
        for clock, floor, need in (("pad.strip", 24, 12), ("pad.build-on", 24, 24), ("pad.chimney-load", 48, 48),
                                   ("joints.early", 24, 24), ("bed.set", 16, 12), ("lift.next", 12, 6),
                                   ("lining.early", 0, 48), ("unit.dry-cure", 0, 28), ("unit.facing-cure", 0, 14),
                                   ("unit.patch", 0, 28)):
            if self.odds(0.4):
                sheet = clocks[clock] = {}
                if self.odds(0.5) and not clock.startswith("unit"):
                    sheet["floor_h"] = floor + self.pick(-6, 6, 24) if floor > 6 else self.pick(0, 8)
                if self.odds(0.7):
                    sheet["need"] = need + self.pick(-2, 1, 5, 12)
        kit = {"id": "k%d" % self.rng.randint(1, 9), "clocks": clocks}
        if self.odds(0.5):
            kit["bag_min_degf"] = self.pick(38, 48, 55)
        return kit

    # -- stories --------------------------------------------------------------------------
    def pad(self, options, low, high):
        """A pour and what happens to it."""
        pours = [self.done("pad-pour", low, high)]
        if self.odds(0.12):
            pours.append(self.done("pad-pour", pours[0] + HOUR, high))
        pour = max(pours) if self.odds(0.9) else pours[0]
        self.shelters("pad", pour, self.now, 0.55)
        if self.odds(0.8):
            self.readings("pad" if self.odds(0.8) else "air", pour, self.now + HOUR,
                          self.rng.randint(1, 12))
        if self.odds(0.1):
            self.readings("air", pour, self.now, 4)
        self.caps("pad" if self.odds(0.8) else "air", pour, self.now)
        if self.odds(0.12):
            self.put("soaked", self.alone(pour + 60, self.now + HOUR), part="pad")
        if self.odds(0.5):
            self.looks("pad", pour + HOUR, self.now, 0.12)
        if self.odds(0.6):
            self.moist(pour)
        self.papers(options, pour)

    def moist(self, pour):
        at = self.alone(pour, min(self.now, pour + DAY))
        if self.odds(0.3):
            at = pour
        if self.odds(0.4):
            self.put(self.pick("done", "started"), at, task="pad-protect")
        else:
            self.put("wet-cover-on", at)
        while self.odds(0.45):
            at = self.alone(at + HOUR, at + 4 * DAY)
            self.put("wet-cover-off", at)
            if self.odds(0.7):
                at = self.alone(at + HOUR, at + 2 * DAY)
                self.put("wet-cover-on", at)

    def papers(self, options, start):
        """Accepted, engineer and overridden records for the pad's clocks."""
        void = options["base"] != "slab"
        clock = self.pick("pad.strip", "pad.build-on", "pad.chimney-load")
        if self.odds(0.08):
            self.put("accepted", self.alone(start + HOUR, self.now), clock=clock, by="Ida",
                     reason="taken over half built")
        if self.odds(0.12) and "town" not in options:
            rule, floor, need = self.pick(("pad.build-on", 36, 30), ("pad.chimney-load", 72, 60),
                                          ("pad.chimney-load", 96, 48), ("pad.build-on", 60, 24))
            self.put("engineer", self.alone(start, self.now), rule=rule, floor_h=floor, need=need,
                     sheet="S-%d" % self.rng.randint(1, 9))
        if self.odds(0.1):
            floor, need = {"pad.strip": (24, 12), "pad.build-on": (48, 48) if void else (24, 24),
                           "pad.chimney-load": (168, 72) if void else (48, 48)}[clock]
            members = ({"floor_h": floor + self.pick(0, 6, 24)} if self.odds(0.5)
                       else {"need": need * 1.5 + self.pick(0, 6, 12)})
            self.put("overridden", self.alone(start, self.now), rule=clock, reason="soft ground",
                     by="Ida", **members)

    def joints(self, options, low, high):
        """Mortar work: box, transition, chimney lifts, lining."""
        if self.odds(0.5):
            mortar = self.pick("polymer", "hydraulic")
            for _ in range(self.pick(1, 1, 2)):
                least = ({"min_degf": self.pick(35, 40, 45, 50)} if self.odds(0.7)
                         else {"min_degc": self.pick(5, 10)})
                self.put("bag", self.alone(low - 3 * DAY, high), lot="L%d" % self.rng.randint(1, 9),
                         mortar=mortar, **least)
        tasks = ["box-courses", "throat-set", "smoke-chamber", "transition-set"]
        if options["base"] != "slab" and options["pad"] == "new":
            tasks.insert(0, "tower-block")
        at = low
        lots = self.odds(0.4)
        for task in tasks[:self.rng.randint(1, len(tasks))]:
            lot = {"lot": "L%d" % self.rng.randint(1, 9)} if lots and self.odds(0.6) else {}
            at = self.done(task, at, min(high, at + DAY), **lot)
        while self.odds(0.4):
            self.put("stopped", self.alone(at, high), task="chimney-run")
        if self.odds(0.4):
            for task in ["line-floor", "line-back", "line-sides"][:self.rng.randint(1, 3)]:
                self.done(task, at, high)
        for part, p in (("joints", 0.4), ("bed", 0.2), ("lining", 0.2), ("unit", 0.6)):
            if self.odds(p):
                self.shelters(part, low, self.now, 0.5)
                self.readings(part, low, self.now, self.rng.randint(1, 8))
                self.caps(part, low, self.now)
        if self.odds(0.35):
            self.looks(self.pick("joints", "bed", "lining"), low, self.now, 0.2)
        if self.odds(0.1):
            self.put("overridden", self.alone(low, self.now), reason="cold mortar", by="Ida",
                     rule=self.pick("joints.early", "bed.set", "lift.next"), floor_h=36)
        if self.odds(0.1):
            self.put("accepted", self.alone(at, self.now), by="Ida", reason="no readings",
                     clock=self.pick("joints.early", "bed.set", "lift.next", "lining.early"))

    def drying(self, options, low, high):
        """The last wet work on the unit and the days after it."""
        end = self.done("chimney-run", low, min(high, low + 2 * DAY))
        if self.odds(0.9):
            end = self.done("cap-set", end, min(high, end + 2 * DAY))
        if self.odds(0.3):
            self.done("cap-set", low, high)
        clean = self.done("line-clean", end, min(high, end + 5 * DAY)) if self.odds(0.95) else end
        place = options["place"]
        self.shelters("unit", low, self.now, {"indoor": 0.9, "covered": 0.4}.get(place, 0.3))
        if self.odds(0.85):
            every = self.odds(0.5)
            self.readings("unit" if self.odds(0.85) else "air", clean - DAY * self.odds(0.5),
                          self.now, 60 if every else 12, self.pick(0, 0.5, 0.97))
        self.caps("unit", clean, self.now)
        self.events(options, clean)

    def events(self, options, clean):
        now = self.now
        for _ in range(self.pick(0, 0, 1, 2)):
            members = {"standing": True} if self.odds(0.3) else {}
            self.put("soaked", self.alone(clean - 4 * DAY, now), part="unit", **members)
        for on, off, p in (("covered", "uncovered", 0.3), ("wrapped", "unwrapped", 0.15)):
            if self.odds(p):
                at = self.alone(clean - 2 * DAY, now)
                self.put(on, at)
                while self.odds(0.8):
                    at = self.alone(at + HOUR, at + 8 * DAY)
                    self.put(off, at)
                    if self.odds(0.6):
                        break
                    at = self.alone(at + HOUR, at + 8 * DAY)
                    self.put(on, at)
        if options.get("facing") == "mortared":
            for i in range(self.pick(0, 1, 1, 2, 3)):
                last = {"last": True} if self.odds(0.5) else {}
                self.put("facing", self.alone(clean, now), **last)
        for _ in range(self.pick(0, 0, 0, 1, 2)):
            days = {"days": 7, "initials": "MO"} if self.odds(0.6) else {"days": 28}
            self.put("patched", self.alone(clean - DAY, now), **days)
        if self.odds(0.15):
            what = self.pick("floor", "back", "side")
            percent = {"percent": self.pick(11, 40)} if what == "side" else {}
            self.put("relaid", self.alone(clean - DAY, now), what=what, **percent)
        if self.odds(0.15):
            self.put("lit", self.alone(clean - 2 * DAY, now + HOUR))
        if self.odds(0.25):
            self.looks("unit", clean - DAY, now, 0.3)
        days = [self.rng.randint(clean // DAY, now // DAY) for _ in range(self.pick(0, 0, 1, 3))]
        for day in sorted(set(days)):
            self.logged(day * DAY)
        if self.odds(0.1):
            self.put("overridden", self.alone(clean, now), reason="damp coast", by="Ida",
                     **self.pick({"rule": "unit.dry-cure", "need": 30},
                                 {"rule": "unit.dry-cure", "floor_h": self.pick(672, 800, 1001)},
                                 {"rule": "unit.facing-cure", "need": 21}))

    def logged(self, at):
        """A day written down as a mean and a minimum, after it was over."""
        start = self.midnight(at)
        written = start + 27 * HOUR + self.rng.randint(0, DAY)
        if written > self.now:
            return
        mean = self.degrees("mean_")
        name, v = next(iter(mean.items()))
        low = v - self.pick(0, 0, 2, 10)
        self.put("logged-day", written, date=self.text(start)[:10], **mean,
                 **{name.replace("mean", "min"): round(low, 1)})

    def corrections(self):
        plain = [r for r in self.records if r["kind"] in ("reading", "soaked", "lit", "logged-day")]
        if not plain or not self.odds(0.3):
            return
        for r in self.rng.sample(plain, min(len(plain), self.pick(1, 1, 2))):
            at = self.alone(int(datetime.fromisoformat(r["at"]).timestamp()) + 60,
                            self.now + (HOUR if self.odds(0.1) else 0))
            body = None
            if r["kind"] == "reading" and self.odds(0.6):
                body = {k: v for k, v in r.items() if k not in ("degf", "degc")}
                body.update(self.degrees())
            self.put("corrected", at, corrects=r["id"], **{"with": body})
            if self.odds(0.25) and at < self.now:
                again = self.pick(r["id"], self.records[-1]["id"])
                self.put("corrected", self.alone(at + 1, self.now), corrects=again,
                         **{"with": self.pick(None, r) if again == r["id"] else None})

    def options(self, kind):
        options = {"base": self.pick("slab", "slab", "crawl", "basement"),
                   "pad": "existing" if kind == "dry" and self.odds(0.7) else "new",
                   "place": self.pick("indoor", "covered", "exposed", "exposed")}
        if options["base"] != "slab" and self.odds(0.3):
            options["propped"] = True
        if self.odds(0.25):
            options["mix"] = self.pick("blended", "blended", "plain")
        if kind != "pad" and self.odds(0.35):
            options["facing"] = self.pick("mortared", "mortared", "framed", "none")
        if self.odds(0.12):
            options["town"] = {"build_on_floor_h": self.pick(24, 48, 72)}
        return options

    def case(self):
        kind = self.pick("pad", "pad", "mortar", "dry", "dry", "wild")
        options = self.options(kind)
        days = {"pad": self.pick(1, 2, 3, 5, 9, 16), "mortar": self.pick(1, 2, 4, 6),
                "dry": self.pick(5, 20, 32, 45, 70), "wild": self.pick(8, 30, 50)}[kind]
        low = self.now - days * DAY
        if kind == "dry" and self.odds(0.75):
            self.level = self.pick(46, 50, 55, 60, 66, 72)
        if kind == "pad" and self.odds(0.3):
            self.level = max(self.level, self.pick(50, 55, 60, 66))
            self.front = (low + self.rng.randint(12, 60) * HOUR, self.pick(25, 32, 40))
            options["mix"] = self.pick("blended", "plain")
        if options["pad"] == "new" and kind in ("pad", "wild"):
            self.pad(options, low, low + days * DAY // 2)
        if kind in ("mortar", "wild"):
            self.joints(options, low, self.now)
        if kind in ("dry", "wild"):
            self.drying(options, low, self.now)
        self.corrections()
        if self.odds(0.3):
            self.rng.shuffle(self.records)
        name = "s%d" % self.seed
        job = {"id": "j%d" % self.seed, "name": "Case %d" % self.seed,
               "time_zone": self.zone.key, "rulebook": "modular-masonry", "options": options,
               "quantities": {"opening_width_in": 42, "courses": 5, "chimney_ft": 14,
                              "floor_brick": 36, "back_brick": 45, "side_brick": 56,
                              "pad_ft2": 24, "drive_h": 0.6},
               "records": self.records}
        kits = [self.kit()] if self.odds(0.15) else []
        if kits:
            job["kit"] = kits[0]["id"]
        stations = {}
        if self.odds(0.8):
            job["station"] = name
            stations[name] = self.station(low)
        return {"emberwait": 1,
                "now": datetime.fromtimestamp(self.now, timezone.utc).isoformat(),
                "company": {"time_zone": "America/Denver",
                            "work_days": ["mon", "tue", "wed", "thu", "fri"],
                            "work_hours": ["07:00", "15:30"], "lunch": ["12:00", "12:30"],
                            "days_off": [], "crews": [{"id": "north", "people": 3}], "kits": kits},
                "stations": stations, "jobs": [job]}


def generate(seed):
    """The case of a seed."""
    return Maker(seed).case()


def main():
    p = argparse.ArgumentParser()
    p.add_argument("seed", type=int)
    p.add_argument("--count", type=int, default=1)
    p.add_argument("--out")
    args = p.parse_args()
    for seed in range(args.seed, args.seed + args.count):
        text = json.dumps(generate(seed), indent=1)
        if args.out is None:
            print(text)
            continue
        os.makedirs(args.out, exist_ok=True)
        with open(os.path.join(args.out, "case-%d.json" % seed), "w", encoding="utf-8") as f:
            f.write(text + "\n")


if __name__ == "__main__":
    main()
