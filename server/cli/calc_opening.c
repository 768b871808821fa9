/* SPDX-License-Identifier: MIT */
/*
 * Quantities that follow from the size of a fireplace opening. The opening may be given in any of
 * three ways, but in one only: two that disagree would have to be reconciled by guessing.
 */
#include <math.h>
#include <stdbool.h>

#include "cli/calc_evaluate.h"
#include "cli/calc_keys.h"
#include "compute/code.h"

#include "base/banned.h"

#define OPENING_MAX_IN 1200.0
#define OPENING_KEY(name_, alias_, unit_, most_, says_)                                            \
    {                                                                                              \
        .name = (name_), .alias = (alias_), .unit = (unit_), .says = (says_),                      \
        .kind = CALC_KEY_NUMBER, .least = 0.0, .most = (most_), .above_least = true                \
    }
#define OPENING                                                                                    \
    OPENING_KEY("opening_ft2", "area_ft2", "ft2", CODE_OPENING_MAX_FT2, "opening area"),           \
        OPENING_KEY("opening_in2", "area_in2", "in2", CODE_OPENING_MAX_FT2 * 144.0,                \
                    "or in square inches"),                                                        \
        OPENING_KEY("width_in", "opening_width_in", "in", OPENING_MAX_IN, "or width and height"),  \
        OPENING_KEY("height_in", "opening_height_in", "in", OPENING_MAX_IN,                        \
                    "height, with width_in")

static const struct calc_key hearth_keys[] = {OPENING};

/* The opening from whichever of its three ways was given; exactly one. */
static enum calc_outcome opening_of(const struct calc_call *call, double *out_ft2)
{
    static const char wanted[] = "one of opening_ft2=, opening_in2=, or width_in= and height_in=";
    bool feet = calc_given(call, "opening_ft2");
    bool inches = calc_given(call, "opening_in2");
    bool width = calc_given(call, "width_in");
    bool height = calc_given(call, "height_in");
    if (width != height) return calc_refuse_key(call, width ? "height_in" : "width_in", wanted);
    if (feet + inches + width != 1) return calc_refuse_key(call, "opening_ft2", wanted);
    if (feet) *out_ft2 = calc_value(call, "opening_ft2", NAN);
    if (inches) *out_ft2 = calc_value(call, "opening_in2", NAN) / 144.0;
    if (width)
        *out_ft2 = calc_value(call, "width_in", NAN) * calc_value(call, "height_in", NAN) / 144.0;
    if (width && !(*out_ft2 > 0.0 && *out_ft2 <= CODE_OPENING_MAX_FT2))
        return calc_refuse_value(call, "width_in", "an opening above 0, at most 100 ft2");
    return CALC_OK;
}

static enum calc_outcome hearth_extension(const struct calc_call *call, struct calc_result *out)
{
    double opening_ft2 = NAN;
    struct code_hearth hearth;
    enum calc_outcome outcome = opening_of(call, &opening_ft2);
    if (outcome != CALC_OK) return outcome;
    int status = code_hearth_extension(opening_ft2, &hearth);
    out->form = CALC_OBJECT;
    out->count = 2;
    out->names[0] = "front_in";
    out->figures[0] = hearth.front_in;
    out->names[1] = "sides_in";
    out->figures[1] = hearth.sides_in;
    out->source = "irc-r1001";
    out->clause = "IRC R1001.10 and Table R1001.1";
    out->basis = hearth.front_in > 16.0 ? "opening of 6 ft2 or more" : "opening under 6 ft2";
    return calc_took(call, status);
}

const struct calc_quantity calc_hearth_extension = {
    .name = "hearth-extension",
    .unit = "in",
    KEYS(hearth_keys),
    .says = "least hearth extension of an opening, front and each side",
    .evaluate = hearth_extension};

static const struct calc_key flue_keys[] = {
    OPENING,
    CHOICE("shape", "round|square|rectangular", false, "of the flue; all shapes unless given"),
    {.name = "aspect",
     .alias = "aspect_ratio",
     .unit = "",
     .says = "rectangular: long side over short side",
     .kind = CALC_KEY_NUMBER,
     .least = 1.0,
     .most = 20.0},
};

/* All four classes under their names, when no shape was asked for. */
static int flue_every_shape(double opening_ft2, struct calc_result *out)
{
    static const struct {
        const char *name;
        enum code_flue flue;
        double aspect;
    } classes[] = {
        {"round_in2", CODE_FLUE_ROUND, 1.0},
        {"square_in2", CODE_FLUE_SQUARE, 1.0},
        {"rectangular_under_2_to_1_in2", CODE_FLUE_RECTANGULAR, 1.5},
        {"rectangular_from_2_to_1_in2", CODE_FLUE_RECTANGULAR, 2.0},
    };
    out->form = CALC_OBJECT;
    out->count = sizeof classes / sizeof classes[0];
    for (size_t i = 0; i < out->count; i++) {
        out->names[i] = classes[i].name;
        int status =
            code_flue_area(opening_ft2, classes[i].flue, classes[i].aspect, &out->figures[i]);
        if (status < 0) return status;
    }
    return CODE_OK;
}

static enum calc_outcome flue_area(const struct calc_call *call, struct calc_result *out)
{
    static const enum code_flue flues[] = {CODE_FLUE_ROUND, CODE_FLUE_SQUARE,
                                           CODE_FLUE_RECTANGULAR};
    double opening_ft2 = NAN;
    enum calc_outcome outcome = opening_of(call, &opening_ft2);
    if (outcome != CALC_OK) return outcome;
    out->source = "irc-r1003";
    out->clause = "IRC R1003.15.1, from memory";
    bool aspect = calc_given(call, "aspect");
    if (!calc_given(call, "shape")) {
        if (aspect) return calc_refuse_key(call, "aspect", "aspect= only with shape=rectangular");
        return calc_took(call, flue_every_shape(opening_ft2, out));
    }
    enum code_flue flue = flues[(int)calc_value(call, "shape", NAN)];
    if ((flue == CODE_FLUE_RECTANGULAR) != aspect)
        return calc_refuse_key(call, "aspect", "aspect= with, and only with, shape=rectangular");
    return calc_took(
        call, code_flue_area(opening_ft2, flue, calc_value(call, "aspect", 1.0), out->figures));
}

const struct calc_quantity calc_flue_area = {.name = "flue-area",
                                             .unit = "in2",
                                             KEYS(flue_keys),
                                             .says = "least net flue area of an opening",
                                             .evaluate = flue_area};
