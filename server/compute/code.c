/* SPDX-License-Identifier: MIT */
/* Two table look-ups; code.h says what they are not. */
#include "compute/code.h"

#include <math.h>
#include <stdbool.h>

#define IN2_PER_FT2 144.0
#define EDGE 1e-9 /* at an edge the larger class holds, also after width times height rounded */

static bool opening_in_range(double opening_ft2)
{
    return opening_ft2 > 0.0 && opening_ft2 <= CODE_OPENING_MAX_FT2;
}

enum code_status code_hearth_extension(double opening_ft2, struct code_hearth *out)
{
    *out = (struct code_hearth){0.0, 0.0};
    if (!opening_in_range(opening_ft2)) return CODE_OPENING;
    bool large = opening_ft2 + EDGE >= CODE_LARGE_OPENING_FT2;
    *out = large ? (struct code_hearth){20.0, 12.0} : (struct code_hearth){16.0, 8.0};
    return CODE_OK;
}

enum code_status code_flue_area(double opening_ft2, enum code_flue flue, double aspect,
                                double *out_in2)
{
    double parts = 10.0;
    *out_in2 = NAN;
    if (!opening_in_range(opening_ft2)) return CODE_OPENING;
    switch (flue) {
    case CODE_FLUE_ROUND:
        parts = 12.0;
        break;
    case CODE_FLUE_SQUARE:
        break;
    case CODE_FLUE_RECTANGULAR:
        if (!(aspect >= 1.0 && aspect <= 20.0)) return CODE_ASPECT;
        if (aspect + EDGE >= 2.0) parts = 8.0;
        break;
    default:
        return CODE_SHAPE;
    }
    *out_in2 = opening_ft2 * IN2_PER_FT2 / parts;
    return CODE_OK;
}
