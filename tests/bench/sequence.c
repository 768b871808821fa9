/* SPDX-License-Identifier: MIT */
/*
 * sequence DIR|FILE [--schedules N | --seconds S] [--minimum-lags] [--seed N]: the crew engine in
 * public terms.
 *
 * Reads problems in the two published text formats (.sm: finish-to-start arcs; .sch: lags between
 * starts), solves each within the budget and prints `name makespan lower_bound seconds`, where the
 * lower bound is the critical path. A problem that has no schedule is refused with its reason.
 * Beside DIR or above it, best-known.csv (or, with --minimum-lags, minimum-lags-only.csv) gives the
 * figures to compare with. Every schedule is tried again here by code that shares nothing with the
 * engine: lags, capacities slot by slot, nothing before 0.
 */
#include <dirent.h>
#include <errno.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/arena.h"
#include "sequence/sequence.h"

enum { NAME_MAX_BYTES = 256, PATH_MAX_BYTES = 4096, ABOVE_MAX = 4, TEXT_MAX_BYTES = 1 << 24 };

struct instance {
    char name[NAME_MAX_BYTES];
    struct sequence_activity *activities;
    struct sequence_use *uses;
    struct sequence_arc *arcs;
    int32_t *capacity;
    int32_t count, arc_count, resource_count;
};

struct settings {
    const char *dir;
    long long schedules;
    double seconds;
    bool minimum_lags;
    unsigned long long seed;
};

struct totals {
    int solved, refused, wrong;
    double over_path, over_known;
    int known, at_known;
    double seconds;
};

static double clock_s(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

/* ---- reading: numbers one after the other, words skipped ---- */

struct text {
    char *at;
    bool bad;
};

static bool number(struct text *text, long *out)
{
    while (*text->at != '\0' && strchr(" \t\r\n[]", *text->at) != NULL) text->at++;
    char *end;
    errno = 0;
    *out = strtol(text->at, &end, 10);
    if (end == text->at || errno != 0 || *out < -1000000 || *out > 1000000) {
        text->bad = true;
        return false;
    }
    text->at = end;
    return true;
}

static long next(struct text *text)
{
    long value = 0;
    return number(text, &value) ? value : 0;
}

static bool skip_past(struct text *text, const char *word)
{
    char *found = strstr(text->at, word);
    if (found == NULL) {
        text->bad = true;
        return false;
    }
    text->at = found + strlen(word);
    return true;
}

static void skip_line(struct text *text)
{
    text->at += strcspn(text->at, "\n");
    if (*text->at == '\n') text->at++;
}

static bool make_room(struct instance *out, long count, long resources, struct arena *arena)
{
    if (count < 1 || count > 100000 || resources < 0 || resources > SEQUENCE_USES_MAX) return false;
    out->count = (int32_t)count;
    out->resource_count = (int32_t)resources;
    out->activities = ARENA_TAKE(arena, (size_t)count, struct sequence_activity);
    out->uses = ARENA_TAKE(arena, (size_t)(count * resources), struct sequence_use);
    out->capacity = ARENA_TAKE(arena, (size_t)resources, int32_t);
    return out->activities != NULL && out->uses != NULL && out->capacity != NULL;
}

static bool add_arc(struct instance *out, struct sequence_arc arc, struct arena *arena)
{
    if ((out->arc_count & (out->arc_count - 1)) == 0) { /* full at every power of two */
        size_t room = out->arc_count == 0 ? 1 : (size_t)out->arc_count * 2;
        struct sequence_arc *arcs = ARENA_TAKE(arena, room, struct sequence_arc);
        if (arcs == NULL) return false;
        if (out->arc_count > 0) memcpy(arcs, out->arcs, sizeof *arcs * (size_t)out->arc_count);
        out->arcs = arcs;
    }
    out->arcs[out->arc_count++] = arc;
    return true;
}

static void set_activity(struct instance *out, int32_t j, long duration, struct text *text)
{
    struct sequence_use *uses = out->uses + (size_t)j * (size_t)out->resource_count;
    for (int32_t r = 0; r < out->resource_count; r++)
        uses[r] = (struct sequence_use){r, (int32_t)next(text)};
    out->activities[j] = (struct sequence_activity){.duration = (int32_t)duration,
                                                    .uses = uses,
                                                    .use_count = out->resource_count,
                                                    .calendar = SEQUENCE_NONE,
                                                    .place = SEQUENCE_NONE,
                                                    .keep_choice = SEQUENCE_NONE};
}

/* Published project file: jobs from 1, finish-to-start. */
static const char *read_sm(struct instance *out, struct text *text, struct arena *arena)
{
    if (!skip_past(text, "supersource/sink")) return "no count of jobs";
    skip_past(text, ":");
    long count = next(text);
    if (!skip_past(text, "- renewable")) return "no count of resources";
    skip_past(text, ":");
    if (!make_room(out, count, next(text), arena)) return "more than fits";
    if (!skip_past(text, "PRECEDENCE RELATIONS:")) return "no precedence relations";
    skip_line(text);
    skip_line(text);
    for (long i = 0; i < count; i++) {
        long from = next(text), modes = next(text), successors = next(text);
        if (modes != 1) return "more than one mode";
        for (long k = 0; k < successors && !text->bad; k++) {
            struct sequence_arc arc = {(int32_t)from - 1, (int32_t)next(text) - 1, 0, true};
            if (!add_arc(out, arc, arena)) return "no memory";
        }
    }
    if (!skip_past(text, "REQUESTS/DURATIONS:")) return "no durations";
    for (int i = 0; i < 3; i++) skip_line(text);
    for (long i = 0; i < count; i++) {
        long id = next(text);
        next(text);
        if (id != i + 1) return "jobs out of order";
        set_activity(out, (int32_t)i, next(text), text);
    }
    if (!skip_past(text, "RESOURCEAVAILABILITIES:")) return "no capacities";
    for (int i = 0; i < 2; i++) skip_line(text);
    for (int32_t r = 0; r < out->resource_count; r++) out->capacity[r] = (int32_t)next(text);
    return text->bad ? "not a number where one was wanted" : NULL;
}

/* Which activities can be reached from which, by any lag: a row of bits each. */
static uint8_t *reachable(const struct instance *in, struct arena *arena)
{
    const size_t n = (size_t)in->count, row = (n + 7) / 8;
    uint8_t *reach = ARENA_TAKE(arena, n * row, uint8_t);
    if (reach == NULL) return NULL;
    for (int32_t a = 0; a < in->arc_count; a++)
        reach[(size_t)in->arcs[a].from * row + (size_t)in->arcs[a].to / 8] |=
            (uint8_t)(1 << in->arcs[a].to % 8);
    for (size_t k = 0; k < n; k++)
        for (size_t i = 0; i < n; i++)
            if (reach[i * row + k / 8] >> k % 8 & 1)
                for (size_t b = 0; b < row; b++) reach[i * row + b] |= reach[k * row + b];
    return reach;
}

/* Keep minimum lags only. In these files two activities tied by a minimum and a maximum lag lie on
 * a circle of lags; the maximum lags go, and so does a lag of 0 on a circle, which is the "not
 * before" half of such a tie and would, alone, force activities to start at one instant. The proven
 * optima of minimum-lags-only.csv are those of this reading. */
static const char *minimum_only(struct instance *out, bool minimum_lags, struct arena *arena)
{
    const size_t row = ((size_t)out->count + 7) / 8;
    uint8_t *reach = minimum_lags ? reachable(out, arena) : NULL;
    if (minimum_lags && reach == NULL) return "no memory";
    int32_t kept = 0;
    for (int32_t a = 0; a < out->arc_count; a++) {
        const struct sequence_arc arc = out->arcs[a];
        if (arc.lag < 0 && !minimum_lags)
            return "maximum lags, which the engine has not; see --minimum-lags";
        bool circle = minimum_lags && arc.lag <= 0 &&
                      reach[(size_t)arc.to * row + (size_t)arc.from / 8] >> arc.from % 8 & 1;
        if (arc.lag >= 0 && !circle) out->arcs[kept++] = arc;
    }
    out->arc_count = kept;
    return NULL;
}

/* Lags between starts, jobs from 0. Lags below zero are maximum lags. */
static const char *read_sch(struct instance *out, struct text *text, bool minimum_lags,
                            struct arena *arena)
{
    long count = next(text) + 2;
    if (!make_room(out, count, next(text), arena)) return "more than fits";
    skip_line(text);
    for (long i = 0; i < count; i++) {
        long from = next(text), modes = next(text), successors = next(text), first = out->arc_count;
        if (modes != 1) return "more than one mode";
        for (long k = 0; k < successors && !text->bad; k++) {
            struct sequence_arc arc = {(int32_t)from, (int32_t)next(text), 0, false};
            if (arc.from < 0 || arc.from >= count || arc.to < 0 || arc.to >= count)
                return "a successor that is no activity";
            if (!add_arc(out, arc, arena)) return "no memory";
        }
        for (long k = 0; k < successors && !text->bad; k++)
            out->arcs[first + k].lag = (int32_t)next(text);
    }
    const char *fault = minimum_only(out, minimum_lags, arena);
    if (fault != NULL) return fault;
    for (long i = 0; i < count; i++) {
        long id = next(text);
        next(text);
        if (id != i) return "activities out of order";
        set_activity(out, (int32_t)i, next(text), text);
    }
    for (int32_t r = 0; r < out->resource_count; r++) out->capacity[r] = (int32_t)next(text);
    return text->bad ? "not a number where one was wanted" : NULL;
}

static char *slurp(const char *path, struct arena *arena)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL) return NULL;
    size_t room = 1 << 16, length = 0, got;
    char *text = ARENA_TAKE(arena, room + 1, char);
    while (text != NULL && (got = fread(text + length, 1, room - length, file)) > 0) {
        length += got;
        if (length < room) continue;
        char *larger = room * 2 > TEXT_MAX_BYTES ? NULL : ARENA_TAKE(arena, room * 2 + 1, char);
        if (larger != NULL) memcpy(larger, text, length);
        text = larger;
        room *= 2;
    }
    fclose(file);
    return text;
}

/* ---- figures to compare with ---- */

static char *known_text(const struct settings *settings, struct arena *arena)
{
    const char *name = settings->minimum_lags ? "minimum-lags-only.csv" : "best-known.csv";
    char path[PATH_MAX_BYTES] = "";
    size_t length = strlen(settings->dir);
    if (length + 64 >= sizeof path) return NULL;
    memcpy(path, settings->dir, length + 1);
    for (int i = 0; i <= ABOVE_MAX; i++) {
        snprintf(path + length, sizeof path - length, "/%s", name);
        char *text = slurp(path, arena);
        if (text != NULL) return text;
        snprintf(path + length, sizeof path - length, "/..");
        length += 3;
    }
    return NULL;
}

/* The best figure of an instance, 0 when none. Column 5 of best-known, 4 of the lag variants. */
static long known_of(const char *text, const struct settings *settings, const char *name)
{
    char wanted[NAME_MAX_BYTES + 2];
    snprintf(wanted, sizeof wanted, ",%s,", name);
    const char *slash = strrchr(settings->dir, '/');
    for (const char *at = text; at != NULL && (at = strstr(at, wanted)) != NULL; at++) {
        const char *line = at;
        while (line > text && line[-1] != '\n') line--;
        const char *set = slash == NULL ? settings->dir : slash + 1;
        size_t set_length = (size_t)(at - line);
        if (strncmp(set, line, set_length) != 0 || set[set_length] != '\0') continue;
        for (int comma = 0; comma < (settings->minimum_lags ? 2 : 3) && at != NULL; comma++) {
            at = strchr(at + (comma == 0 ? 1 : 0), ',');
            if (at != NULL) at++;
        }
        return at == NULL ? 0 : strtol(at, NULL, 10);
    }
    return 0;
}

/* ---- the check that shares nothing with the engine ---- */

static const char *wrong(const struct instance *in, const struct sequence_answer *answer,
                         int32_t makespan, struct arena *arena)
{
    static char says[128];
    for (int32_t j = 0; j < in->count; j++)
        if (answer->start[j] < 0 || answer->start[j] + in->activities[j].duration > makespan)
            return "an activity outside the schedule";
    for (int32_t a = 0; a < in->arc_count; a++) {
        const struct sequence_arc *arc = &in->arcs[a];
        long gap = (long)answer->start[arc->to] - answer->start[arc->from];
        if (gap >= arc->lag + (arc->from_finish ? in->activities[arc->from].duration : 0)) continue;
        snprintf(says, sizeof says, "lag of %d to %d not kept", arc->from, arc->to);
        return says;
    }
    int32_t *used = ARENA_TAKE(arena, (size_t)makespan + 1, int32_t);
    for (int32_t r = 0; r < in->resource_count && used != NULL; r++) {
        memset(used, 0, ((size_t)makespan + 1) * sizeof *used);
        for (int32_t j = 0; j < in->count; j++)
            for (int32_t s = 0; s < in->activities[j].duration; s++)
                used[answer->start[j] + s] += in->uses[j * in->resource_count + r].amount;
        for (int32_t s = 0; s <= makespan; s++)
            if (used[s] > in->capacity[r]) return "more used than there is";
    }
    return used == NULL ? "no memory" : NULL;
}

/* ---- one instance ---- */

struct until {
    double end_s;
};

static bool time_is_up(void *own)
{
    return clock_s() >= ((struct until *)own)->end_s;
}

/* One event after everything: its finish is the makespan. */
static void add_end(struct instance *in, struct arena *arena, struct sequence_problem *problem)
{
    const size_t n = (size_t)in->count, m = (size_t)in->arc_count;
    struct sequence_activity *activities = ARENA_TAKE(arena, n + 1, struct sequence_activity);
    struct sequence_arc *arcs = ARENA_TAKE(arena, n + m, struct sequence_arc);
    if (activities == NULL || arcs == NULL) exit(70);
    memcpy(activities, in->activities, n * sizeof *activities);
    if (m > 0) memcpy(arcs, in->arcs, m * sizeof *arcs);
    activities[n] = (struct sequence_activity){.weight = 1,
                                               .calendar = SEQUENCE_NONE,
                                               .place = SEQUENCE_NONE,
                                               .keep_choice = SEQUENCE_NONE};
    int64_t horizon = 1;
    for (size_t j = 0; j < n; j++) {
        arcs[m + j] = (struct sequence_arc){(int32_t)j, in->count, 0, true};
        int32_t longest = in->activities[j].duration;
        for (size_t a = 0; a < m; a++) {
            if (arcs[a].from != (int32_t)j) continue;
            int32_t lag = arcs[a].lag + (arcs[a].from_finish ? in->activities[j].duration : 0);
            if (lag > longest) longest = lag;
        }
        horizon += longest;
    }
    *problem = (struct sequence_problem){.activities = activities,
                                         .count = in->count + 1,
                                         .arcs = arcs,
                                         .arc_count = (int32_t)(n + m),
                                         .capacity = in->capacity,
                                         .resource_count = in->resource_count,
                                         .horizon = (int32_t)horizon,
                                         .changeover_calendar = SEQUENCE_NONE};
}

/* No schedule is shorter than the critical path, nor than all work on one resource side by side. */
static int64_t least_possible(const struct instance *in, int32_t path)
{
    int64_t least = path;
    for (int32_t r = 0; r < in->resource_count; r++) {
        int64_t work = 0;
        for (int32_t j = 0; j < in->count; j++)
            work +=
                (int64_t)in->activities[j].duration * in->uses[j * in->resource_count + r].amount;
        if (in->capacity[r] > 0 && (work + in->capacity[r] - 1) / in->capacity[r] > least)
            least = (work + in->capacity[r] - 1) / in->capacity[r];
    }
    return least;
}

static void refuse(struct totals *totals, const char *name, const char *why)
{
    totals->refused++;
    printf("%s refused: %s\n", name, why);
}

static void solve(struct instance *in, const struct settings *settings, const char *known,
                  struct totals *totals, struct arena *arena)
{
    struct sequence_problem problem;
    struct fault fault;
    double begin_s = clock_s();
    add_end(in, arena, &problem);
    if (sequence_check(&problem, &fault, arena) != STATUS_OK) {
        refuse(totals, in->name, fault.found);
        return;
    }
    int32_t *earliest = ARENA_TAKE(arena, (size_t)problem.count, int32_t);
    if (earliest == NULL) exit(70);
    int32_t path = sequence_critical_path(&problem, earliest);
    struct until until = {begin_s + settings->seconds};
    struct sequence_budget budget = {.schedules =
                                         settings->seconds > 0 ? INT64_MAX : settings->schedules,
                                     .seed = settings->seed,
                                     .enough = least_possible(in, path),
                                     .stop = settings->seconds > 0 ? time_is_up : NULL,
                                     .own = &until};
    struct sequence_answer answer;
    if (sequence_solve(&answer, &problem, &budget, arena) != STATUS_OK) exit(70);
    double took_s = clock_s() - begin_s;
    int32_t makespan = (int32_t)answer.cost;
    const char *fault_found = wrong(in, &answer, makespan, arena);
    if (answer.schedules > budget.schedules) fault_found = "more schedules than the budget";
    printf("%s %d %d %.3f%s%s\n", in->name, makespan, path, took_s,
           fault_found == NULL ? "" : " WRONG: ", fault_found == NULL ? "" : fault_found);
    totals->wrong += fault_found != NULL;
    totals->solved++;
    totals->seconds += took_s;
    totals->over_path += path > 0 ? 100.0 * (makespan - path) / path : 0;
    long best = known == NULL ? 0 : known_of(known, settings, in->name);
    if (best <= 0) return;
    totals->known++;
    totals->at_known += makespan <= best;
    totals->over_known += 100.0 * (double)(makespan - best) / (double)best;
}

static bool ends_in(const char *name, const char *end)
{
    size_t n = strlen(name), m = strlen(end);
    return n > m && strcmp(name + n - m, end) == 0;
}

static void one_file(const char *name, const struct settings *settings, const char *known,
                     struct totals *totals)
{
    struct arena *arena = arena_new();
    char path[PATH_MAX_BYTES];
    struct instance in = {0};
    if (arena == NULL) exit(70);
    snprintf(path, sizeof path, "%s/%s", settings->dir, name);
    snprintf(in.name, sizeof in.name, "%.*s", (int)(strrchr(name, '.') - name), name);
    struct text text = {slurp(path, arena), false};
    const char *fault = text.at == NULL ? "cannot be read"
                        : ends_in(name, ".sm")
                            ? read_sm(&in, &text, arena)
                            : read_sch(&in, &text, settings->minimum_lags, arena);
    if (fault != NULL)
        refuse(totals, in.name, fault);
    else
        solve(&in, settings, known, totals, arena);
    arena_free(arena);
}

static int wanted_file(const struct dirent *entry)
{
    return ends_in(entry->d_name, ".sm") || ends_in(entry->d_name, ".sch");
}

static bool read_settings(struct settings *out, int argc, char **argv)
{
    *out = (struct settings){.schedules = 5000, .seed = 1};
    for (int i = 1; i < argc; i++) {
        bool more = i + 1 < argc;
        if (strcmp(argv[i], "--minimum-lags") == 0)
            out->minimum_lags = true;
        else if (strcmp(argv[i], "--schedules") == 0 && more)
            out->schedules = strtoll(argv[++i], NULL, 10);
        else if (strcmp(argv[i], "--seconds") == 0 && more)
            out->seconds = strtod(argv[++i], NULL);
        else if (strcmp(argv[i], "--seed") == 0 && more)
            out->seed = strtoull(argv[++i], NULL, 10);
        else if (argv[i][0] != '-' && out->dir == NULL)
            out->dir = argv[i];
        else
            return false;
    }
    return out->dir != NULL && out->schedules >= 1 && out->seconds >= 0;
}

int main(int argc, char **argv)
{
    struct settings settings;
    if (!read_settings(&settings, argc, argv)) {
        fputs("sequence DIR [--schedules N | --seconds S] [--minimum-lags] [--seed N]\n", stderr);
        return 64;
    }
    size_t length = strlen(argv[1]);
    char *dir = argv[1];
    for (int i = 1; i < argc; i++)
        if (argv[i] == settings.dir) dir = argv[i];
    for (length = strlen(dir); length > 1 && dir[length - 1] == '/';) dir[--length] = '\0';
    struct dirent **names;
    int count = scandir(settings.dir, &names, wanted_file, alphasort);
    if (count < 0) {
        fprintf(stderr, "%s: %s\n", settings.dir, strerror(errno));
        return 66;
    }
    struct arena *arena = arena_new();
    if (arena == NULL) return 70;
    const char *known = known_text(&settings, arena);
    struct totals totals = {0};
    for (int i = 0; i < count; i++) {
        one_file(names[i]->d_name, &settings, known, &totals);
        free(names[i]);
    }
    free(names);
    printf("%d solved, %d refused, %d wrong", totals.solved, totals.refused, totals.wrong);
    if (totals.solved > 0)
        printf("; mean deviation from the critical path %.3f %%", totals.over_path / totals.solved);
    if (totals.known > 0)
        printf("; from best known %.3f %% (%d of %d reached)", totals.over_known / totals.known,
               totals.at_known, totals.known);
    printf("; %.3f s\n", totals.seconds);
    arena_free(arena);
    return totals.wrong > 0 ? 70 : 0;
}
