/* SPDX-License-Identifier: MIT */
/* Words of the pictures (svg_*): a part of WORD_LIST in words.h. */
#ifndef EMBERWAIT_VIEWS_WORDS_PICTURE_H
#define EMBERWAIT_VIEWS_WORDS_PICTURE_H

/* Name, key, the placeholders it may use. */
#define WORD_PICTURE_LIST(X)                                                                       \
    X(STRIP_TITLE, "strip.title", "what")                                                          \
    X(STRIP_SO_FAR, "strip.so-far", "sums")                                                        \
    X(STRIP_HOURS, "strip.hours", "n what")                                                        \
    X(STRIP_DAYS, "strip.days", "n what")                                                          \
    X(STRIP_SAYS, "strip.says", "from until")                                                      \
    X(STRIP_RANGE, "strip.range", "high low")                                                      \
    X(STRIP_NOW, "strip.now", "")                                                                  \
    X(STRIP_FORECAST, "strip.forecast", "")                                                        \
    X(STRIP_USED, "strip.used", "")                                                                \
    X(STRIP_USED_DAYS, "strip.used-days", "")                                                      \
    X(STRIP_READING, "strip.reading", "")                                                          \
    X(STRIP_CAP, "strip.cap", "")                                                                  \
    X(STRIP_STATION, "strip.station", "")                                                          \
    X(STRIP_BAND, "strip.band", "")                                                                \
    X(STRIP_BAND_SAYS, "strip.band-says", "n")                                                     \
    X(STRIP_AHEAD, "strip.ahead", "")                                                              \
    X(STRIP_TO_COME, "strip.to-come", "")                                                          \
    X(STRIP_STEP, "strip.step", "n")                                                               \
    X(STRIP_OFFSET, "strip.offset", "degrees")                                                     \
    X(STRIP_CUT, "strip.cut", "")                                                                  \
    X(STRIP_DATA, "strip.data", "")                                                                \
    X(STRIP_COL_TIME, "strip.col-time", "")                                                        \
    X(STRIP_COL_COUNTED, "strip.col-counted", "")                                                  \
    X(STRIP_COL_TEMP, "strip.col-temp", "")                                                        \
    X(STRIP_DAYS_TITLE, "strip.days-title", "what")                                                \
    X(STRIP_DAYS_SUMS, "strip.days-sums", "have need sums")                                        \
    X(STRIP_DAYS_FULL, "strip.days-full", "n")                                                     \
    X(STRIP_DAYS_HALF, "strip.days-half", "n")                                                     \
    X(STRIP_DAYS_LOST, "strip.days-lost", "n")                                                     \
    X(STRIP_DAYS_NONE, "strip.days-none", "need")                                                  \
    X(STRIP_UNTIL, "strip.until", "sums time")                                                     \
    X(STRIP_DAYS_SAYS, "strip.days-says", "date")                                                  \
    X(STRIP_DAY_ZERO, "strip.day-zero", "")                                                        \
    X(STRIP_TODAY, "strip.today", "")                                                              \
    X(STRIP_EXPECTED, "strip.expected", "")                                                        \
    X(STRIP_SO_FAR_DAYS, "strip.so-far-days", "sums")                                              \
    X(STRIP_EARLIEST, "strip.earliest", "")                                                        \
    X(STRIP_OLDER, "strip.older", "")                                                              \
    X(STRIP_HOME_TITLE, "strip.home-title", "")                                                    \
    X(STRIP_HOME_ZERO, "strip.home-zero", "")                                                      \
    X(STRIP_HOME_HALF, "strip.home-half", "")                                                      \
    X(STRIP_HOME_LOST, "strip.home-lost", "")                                                      \
    X(STRIP_HOME_AHEAD, "strip.home-ahead", "n")

#endif
