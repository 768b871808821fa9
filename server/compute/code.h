/* SPDX-License-Identifier: MIT */
/*
 * Figures of the model residential code that follow from the size of the fireplace opening. They
 * are what a job is held against when the unit's own listing says nothing else; the adopted local
 * edition governs, so every figure carries its clause and nothing here decides that a job complies.
 */
#ifndef EMBERWAIT_COMPUTE_CODE_H
#define EMBERWAIT_COMPUTE_CODE_H

#include "base/status.h"

#define CODE_OPENING_MAX_FT2                                                                       \
    100.0 /**< no masonry opening is larger; beyond it units are mixed up */
#define CODE_LARGE_OPENING_FT2 6.0 /**< from here on (inclusive) the larger hearth extension */

/** What came of a code figure. */
enum code_status {
    CODE_OK = 0,
    CODE_OPENING = -1, /**< opening not finite or outside (0, 100] ft2 */
    CODE_ASPECT = -2,  /**< aspect of a rectangular flue not finite or outside [1, 20] */
    CODE_SHAPE = -3,   /**< no such shape */
};

/** Shape of the net flue. */
enum code_flue {
    CODE_FLUE_ROUND,
    CODE_FLUE_SQUARE,
    CODE_FLUE_RECTANGULAR,
};

/** Least hearth extension. */
struct code_hearth {
    double front_in; /**< in front of the opening, in */
    double sides_in; /**< beyond each side of the opening, in */
};

/**
 * Least hearth extension of an opening.
 *
 * @param[in]  opening_ft2  Opening width times height, ft2, (0, 100].
 * @param[out] out          16 and 8 in under 6 ft2, 20 and 12 in from 6 ft2; zeroed on a fault.
 *
 * Status:  0 computed;  -1 CODE_OPENING.
 * Notes:   1) Exactly 6 ft2 (within 1e-9) takes the larger; some inspection texts say otherwise.
 * Source:  [irc-r1001] R1001.10 and table R1001.1.
 */
MUST_USE enum code_status code_hearth_extension(double opening_ft2, struct code_hearth *out);

/**
 * Least net flue area of an opening: 1/12 of it round, 1/10 square or rectangular under 2 to 1,
 * 1/8 rectangular from 2 to 1.
 *
 * @param[in]  opening_ft2  Opening width times height, ft2, (0, 100].
 * @param[in]  flue         Shape of the flue.
 * @param[in]  aspect       Long side over short side of a rectangular flue, [1, 20]; ignored else.
 * @param[out] out_in2      in2; NAN on a fault.
 *
 * Status:  0 computed;  -1 CODE_OPENING;  -2 CODE_ASPECT;  -3 CODE_SHAPE. First fault in this
 * order. Notes:   1) The code's other option, a chart with chimney height, is not reproduced.
 * Source:  [irc-r1003] R1003.15.1, from memory.
 */
MUST_USE enum code_status code_flue_area(double opening_ft2, enum code_flue flue, double aspect,
                                         double *out_in2);

#endif
