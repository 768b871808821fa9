/* SPDX-License-Identifier: MIT */
/*
 * Why: see words.h. A file is read whole with jansson, every key is looked up once into a flat
 * table, and the tree is thrown away; a lookup afterwards is one index.
 */
#include "views/words.h"

#include <errno.h>
#include <jansson.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/plan.h"
#include "views/crew_load.h"
#include "views/stage.h"

#include "base/banned.h"

enum { WORDS_KEY_MAX = 80, WORDS_PATH_MAX = 1024, WORDS_LANGUAGE_MAX = 8 };

static const char *const assume_text[] = {"last-reading",     "forecast",     "nothing-wrong",
                                          "blanket-forecast", "accepted",     "stays-dry",
                                          "wet-cover-stays",  "forecast-old", "site-offset"};
const struct id_table assume_word_ids = {"assumption", assume_text,
                                         sizeof assume_text / sizeof *assume_text};
static const char *const block_text[] = {"not-lined", "lit",   "facing",
                                         "check-it",  "ended", "no-reading"};
const struct id_table block_word_ids = {"fire block", block_text,
                                        sizeof block_text / sizeof *block_text};
static const char *const weekday_text[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
const struct id_table weekday_ids = {"weekday", weekday_text, 7};
static const char *const month_text[] = {"jan", "feb", "mar", "apr", "may", "jun",
                                         "jul", "aug", "sep", "oct", "nov", "dec"};
const struct id_table month_ids = {"month", month_text, 12};

struct word_row {
    const char *key;
    const char *args;
};
#define WORDS_ROW(name, key, args) {key, args},
static const struct word_row word_rows[WORD_COUNT] = {WORD_LIST(WORDS_ROW)};

struct set_row {
    const char *prefix;
    const struct id_table *table;
    const char *args;
};
#define WORDS_SET_ROW(name, prefix, table, args) {prefix, &table, args},
static const struct set_row set_rows[WORD_SET_COUNT] = {WORD_SET_LIST(WORDS_SET_ROW)};

struct words {
    char language[WORDS_LANGUAGE_MAX];
    char *single[WORD_COUNT];
    char **sets[WORD_SET_COUNT]; /**< [set][value] */
};

/* Whether `name` (of `length`) is one of the blank-separated words of `list`. */
static bool listed(const char *list, const char *name, size_t length)
{
    while (*list != '\0') {
        size_t n = strcspn(list, " ");
        if (n == length && memcmp(list, name, n) == 0) return true;
        list += n;
        while (*list == ' ') list++;
    }
    return false;
}

/* Every {placeholder} of a text must be one the pages fill. */
static bool placeholders_ok(const char *text, const char *args)
{
    for (const char *open = strchr(text, '{'); open != NULL; open = strchr(open + 1, '{')) {
        const char *close = strchr(open, '}');
        if (close == NULL || !listed(args, open + 1, (size_t)(close - open - 1))) return false;
    }
    return true;
}

/* Take one key out of the tree into `*slot`; false when there is no memory. */
static bool take_key(json_t *tree, const char *key, const char *args, char **slot,
                     struct faults *faults, bool *bad)
{
    const char *text = json_string_value(json_object_get(tree, key));
    if (text == NULL || *text == '\0') {
        faults_add(faults, key, "a text", "%s", text == NULL ? "nothing" : "an empty text");
        *bad = true;
    } else if (!placeholders_ok(text, args)) {
        faults_add(faults, key, *args == '\0' ? "no placeholder" : args, "%s", text);
        *bad = true;
    } else {
        *slot = strdup(text);
        if (*slot == NULL) return false;
    }
    json_object_del(tree, key);
    return true;
}

static bool take_sets(struct words *words, json_t *tree, struct faults *faults, bool *bad)
{
    for (size_t set = 0; set < WORD_SET_COUNT; set++) {
        const struct set_row *row = &set_rows[set];
        words->sets[set] = calloc(row->table->count, sizeof *words->sets[set]);
        if (words->sets[set] == NULL) return false;
        for (size_t i = 0; i < row->table->count; i++) {
            char key[WORDS_KEY_MAX];
            int n = snprintf(key, sizeof key, "%s%s", row->prefix, row->table->ids[i]);
            REQUIRE(n > 0 && (size_t)n < sizeof key);
            if (!take_key(tree, key, row->args, &words->sets[set][i], faults, bad)) return false;
        }
    }
    return true;
}

/* What is left in the tree is known to nobody; keys that begin with `_` are notes to the reader. */
static void refuse_unknown(json_t *tree, struct faults *faults, bool *bad)
{
    const char *key;
    json_t *value;
    json_object_foreach(tree, key, value)
    {
        if (key[0] == '_') continue;
        faults_add(faults, key, "a key the pages use", "an unknown key");
        *bad = true;
    }
}

static enum status read_tree(json_t **tree, const char *directory, const char *language,
                             struct faults *faults)
{
    char path[WORDS_PATH_MAX];
    int n = snprintf(path, sizeof path, "%s/%s.json", directory, language);
    if (n < 0 || (size_t)n >= sizeof path) return faults_add(faults, "", "a shorter path", "%d", n);
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        int why = errno;
        faults_add(faults, path, "a readable file", "%s", strerror(why));
        return why == ENOENT ? STATUS_NOT_FOUND : STATUS_IO;
    }
    json_error_t error;
    *tree = json_loadf(file, JSON_REJECT_DUPLICATES, &error);
    fclose(file);
    if (*tree == NULL) {
        return faults_add(faults, path, "JSON, each key once", "line %d: %s", error.line,
                          error.text);
    }
    if (!json_is_object(*tree)) return faults_add(faults, path, "an object", "something else");
    return STATUS_OK;
}

enum status words_load(struct words **out, const char *directory, const char *language,
                       struct faults *faults)
{
    *out = NULL;
    if (strcmp(language, "en") != 0 && strcmp(language, "es") != 0) {
        return faults_add(faults, "language", "en or es", "%s", language);
    }
    json_t *tree = NULL;
    enum status status = read_tree(&tree, directory, language, faults);
    struct words *words = status == STATUS_OK ? calloc(1, sizeof *words) : NULL;
    if (words == NULL) {
        json_decref(tree);
        return status == STATUS_OK ? STATUS_IO : status;
    }
    memcpy(words->language, language, strlen(language) + 1);
    bool bad = false;
    bool memory = true;
    for (size_t i = 0; memory && i < WORD_COUNT; i++) {
        memory =
            take_key(tree, word_rows[i].key, word_rows[i].args, &words->single[i], faults, &bad);
    }
    memory = memory && take_sets(words, tree, faults, &bad);
    if (memory) refuse_unknown(tree, faults, &bad);
    json_decref(tree);
    if (!memory || bad) {
        words_free(words);
        return memory ? STATUS_INVALID : STATUS_IO;
    }
    *out = words;
    return STATUS_OK;
}

void words_free(struct words *words)
{
    if (words == NULL) return;
    for (size_t i = 0; i < WORD_COUNT; i++) free(words->single[i]);
    for (size_t set = 0; set < WORD_SET_COUNT; set++) {
        if (words->sets[set] == NULL) continue;
        for (size_t i = 0; i < set_rows[set].table->count; i++) free(words->sets[set][i]);
        free(words->sets[set]);
    }
    free(words);
}

const char *words_language(const struct words *words)
{
    return words->language;
}

const char *words_get(const struct words *words, enum word word)
{
    REQUIRE((unsigned)word < WORD_COUNT);
    return words->single[word];
}

const char *words_of(const struct words *words, enum word_set set, int value)
{
    REQUIRE((unsigned)set < WORD_SET_COUNT);
    REQUIRE(value >= 0 && (size_t)value < set_rows[set].table->count);
    return words->sets[set][value];
}

void words_fill(struct text *out, const char *template, const struct word_arg *args, size_t count)
{
    const char *at = template;
    for (;;) {
        size_t plain = strcspn(at, "{");
        text_add(out, at, plain);
        at += plain;
        if (*at == '\0') return;
        size_t length = strcspn(at, "}");
        const struct word_arg *found = NULL;
        for (size_t i = 0; i < count && found == NULL; i++) {
            if (strlen(args[i].name) == length - 1 && memcmp(args[i].name, at + 1, length - 1) == 0)
                found = &args[i];
        }
        REQUIRE(found != NULL);
        if (found->text != NULL) text_add_z(out, found->text);
        at += length + 1;
    }
}
