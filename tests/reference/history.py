# SPDX-License-Identifier: MIT
"""Temperature history of a part, worked out from records and a weather station.

This is the second, independent implementation of the clock arithmetic: it exists so that the
daemon's answers can be held against somebody else's.  It shares no code and no tables with it.

Model: time is cut into pieces [a, b) on which the figure does not change.  Each piece carries the
figure that earns credit, the figure the frost test looks at, and whether it lies past the forecast.
Degrees Fahrenheit throughout, because the thresholds of the trade are whole degrees Fahrenheit.
"""
from bisect import bisect_left, bisect_right
from datetime import datetime

HOUR = 3600
DAY = 24 * HOUR
INF = 1 << 60
CAPS = ("lowest", "impression")


def instant(text):
    """Whole seconds since 1970 UTC of an RFC 3339 text."""
    return int(datetime.fromisoformat(text).timestamp())


def fahrenheit(degc):
    return degc * 9 / 5 + 32


def figure_f(record, stem=""):
    """The temperature of a record, degF, from `<stem>degf` or `<stem>degc`."""
    if stem + "degf" in record:
        return float(record[stem + "degf"])
    return fahrenheit(record[stem + "degc"])


class Station:
    """Hourly figures as they may be used at `now`: past observed, future forecast."""

    def __init__(self, station, now):
        self.now = now
        self.now_hour = now // HOUR
        self.series = {}
        for name in ("observed", "forecast"):
            s = (station or {}).get(name)
            if s:
                self.series[name] = (instant(s["start"]) // HOUR, s)
        self.first = self.last = None
        self.forecast_end = -INF
        if "forecast" in self.series:
            start, s = self.series["forecast"]
            for i, v in enumerate(s.get("temp_degc", [])):
                if v is not None:
                    self.forecast_end = (start + i + 1) * HOUR
        spans = [(st, st + len(s.get("temp_degc", []))) for st, s in self.series.values()]
        if spans:
            self.first = min(a for a, _ in spans)
            self.last = max(b for _, b in spans)
        self.temps = {}
        if spans:
            for h in range(self.first, self.last):
                v = self._pick("temp_degc", h)
                if v is not None:
                    self.temps[h] = fahrenheit(v)

    def _at(self, name, what, hour):
        if name not in self.series:
            return None
        start, s = self.series[name]
        values = s.get(what) or []
        i = hour - start
        return values[i] if 0 <= i < len(values) else None

    def _pick(self, what, hour):
        if hour < self.now_hour:
            return self._at("observed", what, hour)
        if hour > self.now_hour:
            return self._at("forecast", what, hour)
        v = self._at("observed", what, hour)
        return v if v is not None else self._at("forecast", what, hour)

    def temp(self, hour):
        return self.temps.get(hour)

    def rain(self, hour):
        return self._pick("rain_mm", hour)


class Reading:
    """All readings of one instant in one stay: the lowest, within the hour up to it."""
    __slots__ = ("at", "figure", "air", "thermostat")

    def __init__(self, at, figure, air, thermostat):
        self.at, self.figure, self.air, self.thermostat = at, figure, air, thermostat


def stays_of(records, part):
    """[(start, end, 'open'|'room'|'blanket')] of a part, from its shelter records."""
    on = set()
    place = "open"
    since = -INF
    stays = []
    moves = [r for r in records if r["kind"] in ("closed-in", "opened") and r.get("part") == part]
    i = 0
    while i < len(moves):
        at = moves[i]["_at"]
        while i < len(moves) and moves[i]["_at"] == at:
            r = moves[i]
            if r["kind"] == "closed-in":
                on.add(r["how"])
            elif "how" in r:
                on.discard(r["how"])
            else:
                on.clear()
            i += 1
        new = "room" if on & {"room", "enclosure"} else "blanket" if on else "open"
        if new != place:
            stays.append((since, at, place))
            place, since = new, at
    stays.append((since, INF, place))
    return stays


def how(record):
    return record.get("how", "probe")


def sources(records, part):
    """The readings and caps that speak for a part, and the part whose shelters count."""
    mine = [r for r in records if r["kind"] == "reading" and r["part"] == part]
    shelter = any(r["kind"] in ("closed-in", "opened") and r.get("part") == part for r in records)
    plain = [r for r in mine if how(r) not in CAPS]
    caps = [r for r in mine if how(r) in CAPS]
    if part in ("joints", "bed", "lining") and not plain and not shelter:
        readings, more, where = sources(records, "unit")
        return readings, caps + more, where
    if plain:
        return plain, caps, part
    air = [r for r in records if r["kind"] == "reading" and r["part"] == "air"]
    return ([r for r in air if how(r) not in CAPS],
            caps + [r for r in air if how(r) in CAPS], part)


def merge(raw):
    """One Reading per instant from the raw records of one stay (sorted by time)."""
    out = []
    times = [r["_at"] for r in raw]
    figures = [figure_f(r) for r in raw]
    for at in sorted(set(times)):
        lo = bisect_left(times, at - HOUR)
        hi = bisect_right(times, at)
        same = [how(raw[i]) for i in range(bisect_left(times, at), hi)]
        out.append(Reading(at, min(figures[lo:hi]), all(h == "air" for h in same),
                           all(h == "thermostat" for h in same)))
    return out


def open_spans(start, end, readings):
    """Spans (a, b, kind, credit base, frost base, air) of a stay in the open."""
    if not readings:
        return [(start, end, "station", None, None, False)]
    out = [(start, readings[0].at, "station", None, None, False)]
    for i, r in enumerate(readings):
        last = i + 1 == len(readings)
        until = end if last else readings[i + 1].at
        hold = min(r.at + 6 * HOUR, until)
        if not last and until - r.at <= DAY:
            nxt = readings[i + 1]
            low = min(r.figure, nxt.figure)
            out.append((r.at, hold, "fixed", low, low, r.air or nxt.air))
            out.append((hold, until, "lower", low, low, False))
        else:
            out.append((r.at, hold, "fixed", r.figure, r.figure, r.air))
            out.append((hold, until, "station", None, None, False))
    return out


def closed_spans(start, end, place, readings, now):
    """The same for a stay in a room or under a blanket; here the station never fills in."""
    none = ("none", None, None, False)
    if not readings:
        return [(start, end) + none]
    out = [(start, readings[0].at) + none]
    room = place == "room"
    for r, nxt in zip(readings, readings[1:]):
        gap = nxt.at - r.at
        both = room and r.thermostat and nxt.thermostat
        low = min(r.figure, nxt.figure)
        if gap <= DAY or (both and gap <= 7 * DAY):
            out.append((r.at, nxt.at, "fixed", low, low, False))
        elif gap <= 3 * DAY:
            out.append((r.at, nxt.at, "fixed", low - 3, low, False))
        else:
            hold = min(nxt.at, r.at + (7 * DAY if both else DAY))
            out.append((r.at, hold, "fixed", r.figure, r.figure, False))
            out.append((hold, nxt.at) + none)
    r = readings[-1]
    hold = min(end, r.at + (7 * DAY if room and r.thermostat else DAY))
    out.append((r.at, hold, "fixed", r.figure, r.figure, False))
    if hold < end:
        carried = min(end, max(hold, now))
        out.append((hold, carried) + none)
        kind = "fixed" if room else "blanket"
        out.append((carried, end, kind, r.figure, r.figure, False))
    return out


def cap_spans(caps, readings):
    """[(a, b, degF)] of every cap."""
    times = sorted({r["_at"] for r in readings} | {r["_at"] for r in caps})
    out = []
    for r in caps:
        at = r["_at"]
        if how(r) == "impression":
            out.append((at - 6 * HOUR, at + 6 * HOUR, figure_f(r)))
        else:
            i = bisect_left(times, at)
            back = max(times[i - 1], at - DAY) if i else at - DAY
            out.append((back, at, figure_f(r)))
    return out


def figures_at(kind, base, frost, air, place, station_f):
    """(credit figure, frost figure) of one piece."""
    if kind == "station":
        credit = station_f
    elif kind == "fixed":
        credit = base
        if air and station_f is not None:
            credit = min(base, station_f)
    elif kind == "lower":
        credit = base if station_f is None else min(base, station_f)
    elif kind == "blanket":
        credit = None if station_f is None else min(base, station_f + 10)
    else:
        credit = None
    tested = [v for v in (frost, station_f if place == "open" else None) if v is not None]
    return credit, min(tested) if tested else None


class History:
    """Pieces (a, b, credit degF | None, frost degF | None, past-forecast) from `since` on."""

    def __init__(self, records, part, station, now, since, has_station):
        self.now = now
        readings, caps, where = sources(records, part)
        readings = sorted(readings, key=lambda r: r["_at"])
        self.pieces = []
        for start, end, place in stays_of(records, where):
            if end <= since:
                continue
            inside = merge([r for r in readings if start <= r["_at"] < end])
            spans = (open_spans(start, end, inside) if place == "open"
                     else closed_spans(start, end, place, inside, now))
            for a, b, *rest in spans:
                a = max(a, since)
                if a < b:
                    self._hours(a, b, rest, place, station, has_station)
        spans = cap_spans(caps, readings)
        if spans:
            self._cap(spans)

    def _hours(self, a, b, rest, place, station, has_station):
        """Cut a span at the hours of the station, and at `now`."""
        kind, base, frost, air = rest
        if a < self.now < b:
            self._hours(a, self.now, rest, place, station, has_station)
            a = self.now
        if place != "open" and kind != "blanket" or station.first is None:
            self._piece(a, b, rest, place, None, has_station and station.first is None, station)
            return
        lo, hi = station.first * HOUR, station.last * HOUR
        if a < lo:
            self._piece(a, min(b, lo), rest, place, None, has_station, station)
        t = max(a, lo)
        stop = min(b, hi)
        while t < stop:
            nxt = min(stop, t - t % HOUR + HOUR)
            self._piece(t, nxt, rest, place, station.temp(t // HOUR), has_station, station)
            t = nxt
        if b > hi:
            self._piece(max(a, hi), b, rest, place, None, has_station, station)

    def _piece(self, a, b, rest, place, station_f, has_station, station):
        kind, base, frost, air = rest
        credit, tested = figures_at(kind, base, frost, air, place, station_f)
        past = (has_station and place == "open" and credit is None
                and a >= self.now and a >= station.forecast_end)
        self.pieces.append((a, b, credit, tested, past))

    def _cap(self, spans):
        edges = sorted({e for a, b, _ in spans for e in (a, b)})
        out = []
        for a, b, credit, tested, past in self.pieces:
            cuts = [a] + edges[bisect_right(edges, a):bisect_left(edges, b)] + [b]
            for x, y in zip(cuts, cuts[1:]):
                caps = [f for p, q, f in spans if p <= x and y <= q]
                if caps:
                    low = min(caps)
                    out.append((x, y, None if credit is None else min(credit, low),
                                low if tested is None else min(tested, low), past))
                else:
                    out.append((x, y, credit, tested, past))
        self.pieces = out
