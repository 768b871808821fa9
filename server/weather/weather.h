/* SPDX-License-Identifier: MIT */
/*
 * Importers of published open weather formats: bytes in, hours (or days, or readings) and a report
 * out. No database, no clock, no network. A file is read in blocks, so that a long one costs the
 * hours it holds and not its bytes; ceilings are below and are said when reached.
 *
 * Nothing is dropped in silence. What a file marks as missing or as failed is counted by reason;
 * what cannot be read is a fault, and one fault refuses the whole file unless the caller asked to
 * keep what is good. A figure that stands far out from both its neighbours is questioned: counted,
 * told, and left out, because a missing hour earns nothing and a wrong one may earn or stop. One
 * that lies far beyond all the station has had in that month is told too; a warm one is left out, a
 * cold one stays, for a freeze that is left out is worse than one that somebody has to look at.
 *
 * Call order: weather_new, weather_read for each file, weather_finish, then the answers.
 */
#ifndef EMBERWAIT_WEATHER_WEATHER_H
#define EMBERWAIT_WEATHER_WEATHER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/status.h"
#include "base/text.h"
#include "base/zone.h"
#include "compute/diurnal.h"
#include "model/series.h"
#include "weather/range.h"

enum {
    WEATHER_BYTES_MAX = 268435456,     /**< one file, 256 MiB: 114 years of hours at 250 bytes */
    WEATHER_JSON_BYTES_MAX = 33554432, /**< a forecast in JSON is parsed whole; real ones 1 MiB */
    WEATHER_LINE_BYTES_MAX = 65536,    /**< one row; longer is not one of these formats */
    WEATHER_FIELDS_MAX = 512,          /**< fields of a row; GHCN by-station files have some 120 */
    WEATHER_ROWS_MAX = 2000000,        /**< readings kept before they become hours */
    WEATHER_ITEMS_MAX = 50,            /**< faults and questioned figures told one by one */
    WEATHER_COLUMNS_BYTES_MAX = 2000,  /**< a column map */
    WEATHER_COLUMN_NAME_MAX = 64,      /**< a column's name, NUL included */
    WEATHER_FIRST_YEAR = 1750,         /**< daily records begin with the thermometer */
    WEATHER_LAST_YEAR = 2199,
};

#define WEATHER_HOUR_JUMP_DEGC                                                                     \
    12.0 /**< an hour (to three) off both neighbours by more: questioned */
#define WEATHER_DAY_JUMP_DEGC 15.0 /**< a minimum below, a maximum above both neighbours' by it */
#define WEATHER_RANGE_DEGC 10.0    /**< beyond all the station had in that month by more */
#define WEATHER_RANGE_YEARS 5      /**< so many years of the month must be known to say so */

/** Formats, all published. */
enum weather_format {
    WEATHER_CSV,      /**< [rfc4180] with named columns and units */
    WEATHER_GHCN_DLY, /**< NOAA GHCN-Daily, fixed columns */
    WEATHER_GHCN_CSV, /**< NOAA GHCN-Daily, one station's CSV */
    WEATHER_NWS,      /**< U.S. National Weather Service GeoJSON: hourly periods or grid layers */
    WEATHER_EPW,      /**< EnergyPlus weather */
    WEATHER_LOGGER,   /**< CSV of a data logger: readings of a part */
    WEATHER_FORMAT_COUNT
};

/** Word of a format on the command line, e.g. `ghcn-dly`. */
const char *weather_format_name(enum weather_format format);
/** Format by its word; WEATHER_FORMAT_COUNT when there is none. */
enum weather_format weather_format_find(const char *word);

/** Why a figure or a row was not taken as it stood. */
enum weather_reason {
    WEATHER_MISSING,    /**< marked missing by the file */
    WEATHER_QUALITY,    /**< failed a check of its publisher (QFLAG) */
    WEATHER_TRACE,      /**< trace of rain, taken as 0 */
    WEATHER_REPEATED,   /**< the same instant with the same figures: kept once */
    WEATHER_UNUSED,     /**< elements, rows or layers that were not asked for */
    WEATHER_TOO_OLD,    /**< hours before 1970, which no series holds */
    WEATHER_NO_HOURS,   /**< days whose hours could not be worked out */
    WEATHER_THINNED,    /**< logger readings left out beside a colder one of the same span */
    WEATHER_QUESTIONED, /**< told one by one, left out unless asked for */
    WEATHER_UNUSUAL,    /**< beyond the station's range: told; the warm left out unless asked for */
    WEATHER_SHAPE,      /**< fault: a row of the wrong length, a quote that never ends */
    WEATHER_UNREADABLE, /**< fault: not a number, an unknown unit */
    WEATHER_OUT_OF_RANGE, /**< fault: no weather on record */
    WEATHER_BAD_TIME,     /**< fault: no such time, or one that the wall clock never showed */
    WEATHER_AFTER_NOW,    /**< fault: observed, but later than now */
    WEATHER_CONTRADICTED, /**< fault: two different figures for one instant */
    WEATHER_REASON_COUNT
};

/** Kebab-case id of a reason. */
const char *weather_reason_name(enum weather_reason reason);
/** Whether it refuses the file. */
bool weather_reason_is_fault(enum weather_reason reason);

/** One thing told of by itself; where is in `fault.path`: `FILE:LINE COLUMN` or a JSON path. */
struct weather_item {
    enum weather_reason reason;
    struct fault fault;
};

/** What came of a file, or of several. */
struct weather_report {
    size_t rows;  /**< rows, lines or periods read, headers not counted */
    size_t hours; /**< hours with at least one figure */
    size_t days;  /**< days with at least one figure */
    size_t counts[WEATHER_REASON_COUNT];
    size_t faults; /**< sum of the counts that are faults */
    struct weather_item items[WEATHER_ITEMS_MAX];
    size_t item_count;
    size_t items_dropped; /**< told ones past WEATHER_ITEMS_MAX, counted only */
};

/** What is wanted; zeroed is a good start but for the NAN and INSTANT_NONE members. */
struct weather_options {
    enum weather_format format;
    const char *columns; /**< `time=time_hour,temp_degf=temp`; NULL: columns by their own names */
    const char *only_column; /**< rows whose column has this value; NULL: all */
    const char *only_value;
    const struct zone *zone; /**< of times without offset; NULL: such times are refused */
    bool keep_good;          /**< faults are counted and left out instead of refusing the file */
    bool keep_questioned;    /**< questioned figures stay in */
    const struct weather_range *range; /**< what the station had before this file; NULL: nothing */
    bool past;             /**< observed or history: what is later than now_s is a fault */
    bool morning_observer; /**< maximum and rain of a day are read next morning: a day back */
    int64_t now_s;         /**< INSTANT_NONE: not compared */
    int typical_year;      /**< where a typical year is put; 0: the first row's year */
    double latitude_deg;   /**< for hours out of days; NAN: as the file says */
    double longitude_deg;
    struct diurnal_constants diurnal; /**< of the rulebook */
};

/** Bytes from somewhere: a file, a pipe, memory. */
struct weather_source {
    const char *name; /**< for faults */
    /** Up to `capacity` bytes into `out`; 0 at the end, -1 when the machine refused. */
    long (*read)(void *context, char *out, size_t capacity);
    void *context;
};

/**
 * A decimal number, whole text, at most 40 bytes: no hexadecimal, no infinity, no NAN.
 *
 * @return false when it is anything else; `*out` is then untouched.
 */
bool weather_number(double *out, const char *text);

/** A source that reads from memory: `context` of weather_read_bytes. */
struct weather_bytes {
    const char *data;
    size_t length;
    size_t at;
};
/** Reader of a struct weather_bytes. */
long weather_read_bytes(void *context, char *out, size_t capacity);

/** Days as columns; day `first_day + i`; NAN is a missing figure. */
struct weather_days {
    int32_t first_day; /**< days since 1970-01-01 */
    size_t count;
    double *min_degc;
    double *max_degc;
    double *rain_mm;
    double *wind_mps;
};

/** One reading of a logger. */
struct weather_reading {
    int64_t at_s;
    double temp_degc;
};

/** An import at work. */
struct weather;

/**
 * Begin an import.
 *
 * @param[out] out      Own; weather_free.
 * @param[in]  options  Copied; zone and texts borrowed until weather_free.
 * @param[out] fault    What is wrong with the column map.
 * Status: OK, INVALID, LIMIT (no memory).
 */
MUST_USE enum status weather_new(struct weather **out, const struct weather_options *options,
                                 struct fault *fault);

/** Free it and all its answers; NULL is allowed. */
void weather_free(struct weather *weather);

/**
 * Read one file. Several may be read one after the other: their hours are put together.
 *
 * Status: OK (with or without faults in the report); INVALID (not this format at all: the fault
 *         says what was found); LIMIT (a ceiling above); IO.
 */
MUST_USE enum status weather_read(struct weather *weather, const struct weather_source *source,
                                  struct fault *fault);

/**
 * Put the rows together: sort, merge into hours, question, and make hours out of days.
 *
 * Several readings within an hour: temperature, humidity and wind are averaged, gusts take the
 * highest, rain is added up. A day's rain is spread evenly over its 24 hours (house rule), its wind
 * holds all day; its hours follow Parton & Logan by the solar time of the middle of each hour.
 *
 * Status: OK; INVALID (faults and not keep_good, nothing taken at all, or days without a place);
 *         LIMIT.
 */
MUST_USE enum status weather_finish(struct weather *weather, struct fault *fault);

/** Hours; count 0 when there are none. Columns without any figure are NULL. Borrow. */
const struct series *weather_series(const struct weather *weather);
/** Days of a daily format; count 0 for the others. Borrow. */
const struct weather_days *weather_days(const struct weather *weather);
/** Readings of a logger in order of time, shape [*count]. Borrow. */
const struct weather_reading *weather_readings(const struct weather *weather, size_t *count);
/** The report. Borrow. */
const struct weather_report *weather_report(const struct weather *weather);
/** When the forecast was made; INSTANT_NONE when the file does not say. */
int64_t weather_made_s(const struct weather *weather);
/** Place from the options, else from the file; NAN when neither says. */
void weather_place(const struct weather *weather, double *latitude_deg, double *longitude_deg);
/** Whether the hours are a typical year put together out of several. */
bool weather_is_typical(const struct weather *weather);

/**
 * Local solar time of an instant: hours since the sun's midnight, and the day since 1970 it is in.
 *
 * @param[in]  at_s           Instant.
 * @param[in]  longitude_deg  East positive.
 * @param[out] out_day        Day since 1970-01-01.
 * @return 0..24 h. Within a minute; equation of time after Spencer (1971), from memory.
 */
double weather_solar_h(int64_t at_s, double longitude_deg, int32_t *out_day);

/**
 * Temperature at one instant out of days, Parton & Logan.
 *
 * @return degC; NAN when the day, or the next day's minimum after sunset, is not known.
 */
double weather_days_at(const struct weather_days *days, int64_t at_s, double latitude_deg,
                       double longitude_deg, const struct diurnal_constants *constants);

/** How a station's hours are called: `observed`, `forecast`, `history`. */
enum weather_kind { WEATHER_OBSERVED, WEATHER_FORECAST, WEATHER_HISTORY, WEATHER_KIND_COUNT };

/** Word of a kind. */
const char *weather_kind_name(enum weather_kind kind);
/** Kind by its word; WEATHER_KIND_COUNT when there is none. */
enum weather_kind weather_kind_find(const char *word);

/** A station's hours as JSON, the shape of the case file and of PUT /api/v1/stations/{id}/hours. */
void weather_station_json(struct text *out, const struct station *station);

/**
 * Readings as a JSON list of records, ids made of job, part, how and instant, so that the same file
 * sent twice is known.
 *
 * @param[in] every_s  The coldest reading of each span of this length is kept, at its own time;
 *                     0: all.
 */
void weather_records_json(struct text *out, struct weather *weather, const char *job,
                          const char *part, const char *how, int64_t every_s);

/** The report as lines for people. `name` is what it is a report of. */
void weather_report_text(struct text *out, const struct weather *weather);

#endif
