/* SPDX-License-Identifier: MIT */
/* Why: see weather_words.h. One table of options, so that none is read that usage does not name. */
#include "cli/weather_words.h"

#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/banned.h"

#define AT(member) offsetof(struct weather_words, member)

static const struct {
    const char *name;
    const char *says;
    bool flag;
    bool show; /* also a word of `show` */
    size_t offset;
} options[] = {
    {"--db", "STORE (or EMBERWAIT_DB)", false, true, AT(db)},
    {"--station", "ID", false, true, AT(station)},
    {"--format", "csv|ghcn-dly|ghcn-csv|nws|epw|logger", false, false, AT(format)},
    {"--kind", "observed|forecast|history", false, false, AT(kind)},
    {"--columns", "time=time_hour,temp_degf=temp", false, false, AT(columns)},
    {"--only", "COLUMN=VALUE (csv, logger)", false, false, AT(only)},
    {"--zone", "IANA zone of times without offset", false, false, AT(zone)},
    {"--latitude", "DEGREES", false, false, AT(latitude)},
    {"--longitude", "DEGREES", false, false, AT(longitude)},
    {"--year", "YEAR (where a typical year is put)", false, false, AT(year)},
    {"--part", "pad|footing|joints|bed|lining|unit|air (logger)", false, false, AT(part)},
    {"--how", "probe|surface|air|thermostat (logger)", false, false, AT(how)},
    {"--job", "ID (logger)", false, false, AT(job)},
    {"--every", "MINUTES, coldest kept; 0 all (logger; 30)", false, false, AT(every)},
    {"--from", "TIME", false, true, AT(from)},
    {"--to", "TIME", false, true, AT(to)},
    {"--keep-good", "leave faulty rows out, keep the others", true, false, AT(keep_good)},
    {"--keep-questioned", "keep figures that stand out", true, false, AT(keep_questioned)},
    {"--morning-observer", "maximum and rain belong to the day before", true, false,
     AT(morning_observer)},
    {"--dry-run", "report only", true, false, AT(dry_run)},
    {"--print", "JSON on stdout, nothing stored", true, false, AT(print)},
    {"--create", "make the store when there is none", true, false, AT(create)},
};
enum { OPTIONS = sizeof options / sizeof *options };

void weather_words_usage(void)
{
    (void)fputs("usage: emberwait weather import --db STORE --station ID --format FORMAT FILE... "
                "(- for stdin)\n       emberwait weather show --db STORE --station ID "
                "[--from TIME] [--to TIME]\n",
                stderr);
    for (size_t i = 0; i < OPTIONS; i++) {
        (void)fprintf(stderr, "  %-19s %s\n", options[i].name, options[i].says);
    }
}

/* The option a word names, with `=VALUE` behind it or not; OPTIONS when there is none. */
static size_t find_option(const char *word, const char **value)
{
    for (size_t i = 0; i < OPTIONS; i++) {
        const size_t length = strlen(options[i].name);
        if (strncmp(word, options[i].name, length) != 0) continue;
        if (word[length] != '\0' && (word[length] != '=' || options[i].flag)) continue;
        *value = word[length] == '=' ? word + length + 1 : NULL;
        return i;
    }
    return OPTIONS;
}

static bool wrong(const char *word, const char *wanted)
{
    (void)fprintf(stderr, "weather: found \"%s\", wanted %s\n", word, wanted);
    return false;
}

static bool take_option(struct weather_words *out, int argc, char **argv, int *i)
{
    const char *word = argv[*i];
    const char *value = NULL;
    const size_t option = find_option(word, &value);
    if (option == OPTIONS) return wrong(word, "one of the options below");
    if (out->show && !options[option].show) return wrong(word, "an option of weather show");
    char *place = (char *)out + options[option].offset;
    if (options[option].flag) {
        const bool yes = true;
        memcpy(place, &yes, sizeof yes);
        return true;
    }
    if (value == NULL && *i + 1 < argc) value = argv[++*i];
    if (value == NULL) return wrong(word, "a value behind it");
    memcpy(place, &value, sizeof value);
    return true;
}

bool weather_words_read(struct weather_words *out, int argc, char **argv)
{
    bool rest = false;
    *out = (struct weather_words){.db = getenv("EMBERWAIT_DB")};
    if (argc < 2) return wrong("", "import or show");
    out->show = strcmp(argv[1], "show") == 0;
    if (!out->show && strcmp(argv[1], "import") != 0) return wrong(argv[1], "import or show");
    for (int i = 2; i < argc; i++) {
        const char *word = argv[i];
        if (!rest && strcmp(word, "--") == 0) {
            rest = true;
        } else if (!rest && word[0] == '-' && word[1] == '-') {
            if (!take_option(out, argc, argv, &i)) return false;
        } else if (!rest && word[0] == '-' && word[1] != '\0') {
            return wrong(word, "one of the options below");
        } else if (out->show || out->file_count == WEATHER_WORDS_FILES_MAX) {
            return wrong(word, out->show ? "no file" : "at most 1000 files");
        } else {
            out->files[out->file_count++] = word;
        }
    }
    return true;
}
