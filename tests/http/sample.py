# SPDX-License-Identifier: MIT
"""A small yard: two jobs, two crews, a station. Every name is our own invention."""

COMPANY = {"name": "Wren Hearth", "phone": "555-0100", "time_zone": "America/Denver",
           "work_days": ["mon", "tue", "wed", "thu", "fri"], "work_hours": ["07:00", "15:30"],
           "lunch": ["12:00", "12:30"], "days_off": [],
           "crews": [{"id": "north", "people": 3}, {"id": "south", "people": 2}]}
STATION = {"latitude": 43.6, "longitude": -116.2,
           "observed": {"start": "2026-10-20T00:00:00-06:00", "temp_degc": [9.5] * 90, "rain_mm": [0] * 90},
           "forecast": {"start": "2026-10-23T18:00:00-06:00", "temp_degc": [8] * 48, "rain_mm": [0] * 48}}
JOB = {"id": "hollow-pine", "name": "Hollow Pine", "time_zone": "America/Denver", "station": "town",
       "crew": "north",
       "options": {"base": "slab", "pad": "new", "place": "indoor"},
       "quantities": {"opening_width_in": 42, "courses": 5, "chimney_ft": 14, "pad_ft2": 24, "drive_h": 0.6},
       "records": [{"id": "pour", "kind": "done", "task": "pad-pour", "at": "2026-10-20T13:00:00-06:00"},
                   {"id": "warm", "kind": "reading", "at": "2026-10-20T13:00:00-06:00", "part": "pad",
                    "how": "probe", "degf": 61}]}
OTHER = {"id": "crooked creek", "name": "Crooked Creek", "station": "town", "crew": "south",
         "options": {"base": "crawl", "pad": "new", "place": "exposed"}}


def reading(id, at="2026-10-23T12:00:00-06:00", **more):
    return {"id": id, "kind": "reading", "at": at, "part": "pad", "how": "probe", "degf": 50, **more}


def fill(client):
    for answer in (client.put("/api/v1/company", COMPANY),
                   client.put("/api/v1/stations/town/hours", STATION),
                   client.post("/api/v1/jobs", JOB),
                   client.post("/api/v1/jobs", OTHER)):
        assert answer.status in (200, 201), answer
