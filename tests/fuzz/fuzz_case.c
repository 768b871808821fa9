/* SPDX-License-Identifier: MIT */
/*
 * Any bytes into intake, and what comes in as a case through the planner and out as JSON. Nothing
 * may crash, hang or leak; a refusal has a fault, on one line, of well-formed text; a plan is JSON.
 * Built as a libFuzzer target with FUZZ on; tests/unit/test_intake_mutations.c drives the same
 * function with a fixed seed in every test run.
 */
#include <jansson.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "intake/intake.h"
#include "planner/planner.h"
#include "rulebook/rulebook.h"
#include "views/plan_json.h"
#include "views/svg_day_strip.h"
#include "views/svg_hour_strip.h"

/* Hand one input to the program. Never fails: a broken promise aborts. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static struct rulebook *fuzz_rulebook;
static struct words *fuzz_words;
static size_t fuzz_planned;

static void load_once(void)
{
    if (fuzz_rulebook != NULL) return;
    struct faults faults = {0};
    ENSURE(rulebook_load(&fuzz_rulebook, PROJECT_ROOT "/schema/rulebook/modular-masonry.json",
                         PROJECT_ROOT "/schema/sources.json", NULL, &faults) == STATUS_OK);
    ENSURE(words_load(&fuzz_words, PROJECT_ROOT "/schema/words", "en", &faults) == STATUS_OK);
    faults_free(&faults);
}

static void check_line(const char *line)
{
    size_t length = strlen(line);
    ENSURE(strpbrk(line, "\n\r") == NULL);
    ENSURE(utf8_valid(line, length) || length >= FAULT_PATH_MAX - 1); /* cut short at the end */
}

static void check_faults(const struct faults *faults)
{
    ENSURE(faults->count > 0);
    for (size_t i = 0; i < faults->count; i++) {
        check_line(faults->items[i].path);
        check_line(faults->items[i].found);
        check_line(faults->items[i].wanted);
        ENSURE(faults->items[i].found[0] != '\0');
        ENSURE(faults->items[i].wanted[0] != '\0');
    }
}

/* Every part as a picture: whatever the case, it has an end and fits. */
static void check_pictures(const struct plan *plan, struct arena *arena)
{
    const struct casefile *casefile = plan->casefile;
    for (size_t i = 0; i < plan->job_count; i++) {
        struct job_plan drawn = plan->jobs[i];
        struct page page = {.words = fuzz_words,
                            .now_s = casefile->now_s,
                            .company = &casefile->company,
                            .path = "/",
                            .notice = WORD_COUNT};
        struct text text = TEXT_UP_TO(PAGE_BYTES_MAX);
        ENSURE(planner_pictures(&drawn, &casefile->company, fuzz_rulebook, casefile->now_s,
                                arena) == STATUS_OK);
        for (int p = 0; p < PART_COUNT; p++) {
            ENSURE(drawn.parts[p].piece_count <= STRIP_PIECES_MAX);
            svg_hour_strip(&text, &page, &drawn, &drawn.parts[p]);
        }
        for (size_t c = 0; c < drawn.clock_count; c++)
            svg_day_strip(&text, &page, &drawn, &drawn.clocks[c], c % 2 == 0);
        ENSURE(text_status(&text) == STATUS_OK);
        text_free(&text);
    }
}

static void check_plan(const struct casefile *casefile, struct arena *arena)
{
    const struct plan *plan = NULL;
    struct text text = TEXT_UP_TO(1 << 26);
    ENSURE(planner_run(&plan, casefile, fuzz_rulebook, arena) == STATUS_OK);
    plan_json(&text, plan, fuzz_words);
    ENSURE(text_status(&text) == STATUS_OK);
    json_t *json = json_loadb(text.data, text.length, JSON_REJECT_DUPLICATES, NULL);
    ENSURE(json != NULL);
    ENSURE(json_array_size(json_object_get(json, "jobs")) == casefile->job_count);
    json_decref(json);
    text_free(&text);
    check_pictures(plan, arena);
    fuzz_planned++;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct faults faults = {0};
    struct intake intake = {arena_new(), intake_zones_new(), &faults};
    struct casefile *casefile = NULL;
    load_once();
    ENSURE(intake.arena != NULL && intake.zones != NULL);
    enum status status = intake_case_text(&casefile, (const char *)data, size, &intake);
    ENSURE((status == STATUS_OK) == (casefile != NULL));
    if (status == STATUS_OK) {
        ENSURE(faults.count == 0);
        check_plan(casefile, intake.arena);
    } else {
        check_faults(&faults);
    }
    faults_free(&faults);
    arena_free(intake.arena);
    intake_zones_free(intake.zones);
    return 0;
}
