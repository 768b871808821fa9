/* SPDX-License-Identifier: MIT */
/* The words of `emberwait weather`, read strictly: an option nobody knows is a wrong call. */
#ifndef EMBERWAIT_CLI_WEATHER_WORDS_H
#define EMBERWAIT_CLI_WEATHER_WORDS_H

#include <stdbool.h>
#include <stddef.h>

#include "weather/weather.h"

enum { WEATHER_WORDS_FILES_MAX = 1000 };

struct weather_words {
    bool show; /**< `show`, else `import` */
    const char *db;
    const char *station;
    const char *format;
    const char *kind;
    const char *columns;
    const char *only;
    const char *zone;
    const char *latitude;
    const char *longitude;
    const char *year;
    const char *part;
    const char *how;
    const char *job;
    const char *every;
    const char *from;
    const char *to;
    bool keep_good;
    bool keep_questioned;
    bool morning_observer;
    bool dry_run;
    bool print;
    bool create;
    const char *files[WEATHER_WORDS_FILES_MAX];
    size_t file_count;
};

/** Read them; false, with a line on stderr, for a wrong call. */
bool weather_words_read(struct weather_words *out, int argc, char **argv);

/** How to call it, on stderr. */
void weather_words_usage(void);

#endif
