/* SPDX-License-Identifier: MIT */
/*
 * The checks of the tasks: what is looked at, measured, counted or photographed before the work
 * goes on, as one closed vocabulary. The limits stand in the rulebook, the words in schema/words; a
 * new check is one line here and a row in each of them. A record names a check by its short id,
 * because it names the task too; everywhere else a check is `<task>.<short>`.
 */
#ifndef EMBERWAIT_MODEL_CHECK_H
#define EMBERWAIT_MODEL_CHECK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/ids.h"

/* clang-format off */
/* task, its id, check, its short id, how it is answered; in the order in which they are made */
#define CHECK_LIST(X) \
    X(SITE_WALK, "site-walk", OPENING, "opening", YES) \
    X(SITE_WALK, "site-walk", ROOF, "roof", YES) \
    X(SITE_WALK, "site-walk", LOAD, "load", YES) \
    X(SITE_WALK, "site-walk", ACCESS, "access", YES) \
    X(PERMIT_GET, "permit-get", INSPECTIONS, "inspections", YES) \
    X(PERMIT_GET, "permit-get", CUTOFF, "cutoff", TEXT) \
    X(BOOK_TRADES, "book-trades", CONFIRMED, "confirmed", TEXT) \
    X(ORDER_KIT, "order-kit", COUNT, "count", YES) \
    X(ORDER_KIT, "order-kit", SHEET, "sheet", TEXT) \
    X(KIT_RECEIVE, "kit-receive", COUNT, "count", COUNT) \
    X(KIT_RECEIVE, "kit-receive", BREAKAGE, "breakage", YES) \
    X(KIT_RECEIVE, "kit-receive", BAG_DATES, "bag-dates", YES) \
    X(KIT_RECEIVE, "kit-receive", DRY, "dry", YES) \
    X(FOOTING_READY, "footing-ready", THICKNESS, "thickness", MEASURE) \
    X(FOOTING_READY, "footing-ready", BEYOND, "beyond", MEASURE) \
    X(FOOTING_READY, "footing-ready", FROST, "frost", YES) \
    X(FOOTING_READY, "footing-ready", SLAB, "slab", YES) \
    X(FOOTING_READY, "footing-ready", SEISMIC, "seismic", YES) \
    X(FOOTING_READY, "footing-ready", SLIP, "slip", YES) \
    X(TOWER_BLOCK, "tower-block", PLUMB, "plumb", MEASURE) \
    X(TOWER_BLOCK, "tower-block", JOINT, "joint", MEASURE) \
    X(TOWER_BLOCK, "tower-block", HEIGHT, "height", MEASURE) \
    X(DECK_SET, "deck-set", BEARING, "bearing", YES) \
    X(DECK_SET, "deck-set", PROPS, "props", YES) \
    X(PAD_STEEL, "pad-steel", SPACING, "spacing", MEASURE) \
    X(PAD_STEEL, "pad-steel", TIED, "tied", YES) \
    X(PAD_STEEL, "pad-steel", SLEEVES, "sleeves", YES) \
    X(PAD_STEEL, "pad-steel", FORMS, "forms", MEASURE) \
    X(PAD_INSPECT, "pad-inspect", SLIP, "slip", YES) \
    X(PAD_POUR, "pad-pour", THICKNESS, "thickness", MEASURE) \
    X(PAD_POUR, "pad-pour", SLUMP, "slump", MEASURE) \
    X(PAD_POUR, "pad-pour", CONCRETE, "concrete", MEASURE) \
    X(PAD_POUR, "pad-pour", FINISH, "finish", TEXT) \
    X(PAD_PROTECT, "pad-protect", COVERED, "covered", YES) \
    X(PAD_PROTECT, "pad-protect", PROBE, "probe", MEASURE) \
    X(PAD_STRIP, "pad-strip", EDGES, "edges", YES) \
    X(PROPS_OUT, "props-out", MOIST, "moist", YES) \
    X(PROPS_OUT, "props-out", CLEAR, "clear", YES) \
    X(PAD_CHECK, "pad-check", LEVEL, "level", MEASURE) \
    X(PAD_CHECK, "pad-check", SCRATCH, "scratch", YES) \
    X(PAD_CHECK, "pad-check", PROBE, "probe", MEASURE) \
    X(PAD_CHECK, "pad-check", CRACKS, "cracks", YES) \
    X(PAD_CHECK, "pad-check", DRY, "dry", YES) \
    X(LAYOUT, "layout", DIAGONALS, "diagonals", MEASURE) \
    X(LAYOUT, "layout", CENTRED, "centred", MEASURE) \
    X(LAYOUT, "layout", LEVEL, "level", YES) \
    X(AIR_CUT, "air-cut", OPENING, "opening", YES) \
    X(AIR_CUT, "air-cut", MARKED, "marked", YES) \
    X(AIR_CUT, "air-cut", INTAKE, "intake", YES) \
    X(BOX_COURSES, "box-courses", PLUMB, "plumb", YES) \
    X(BOX_COURSES, "box-courses", JOINT, "joint", MEASURE) \
    X(BOX_COURSES, "box-courses", SQUEEZE, "squeeze", YES) \
    X(BOX_COURSES, "box-courses", PHOTOS, "photos", COUNT) \
    X(THROAT_SET, "throat-set", LEVEL, "level", YES) \
    X(THROAT_SET, "throat-set", CLEAR, "clear", YES) \
    X(THROAT_SET, "throat-set", HEIGHT, "height", MEASURE) \
    X(LINTEL_IRON, "lintel-iron", BEARING, "bearing", MEASURE) \
    X(LINTEL_IRON, "lintel-iron", TILT, "tilt", TEXT) \
    X(DAMPER_SET, "damper-set", SWING, "swing", YES) \
    X(DAMPER_SET, "damper-set", CORNERS, "corners", YES) \
    X(THROAT_INSPECT, "throat-inspect", SLIP, "slip", YES) \
    X(SMOKE_CHAMBER, "smoke-chamber", DRY_FIT, "dry-fit", YES) \
    X(SMOKE_CHAMBER, "smoke-chamber", BACK, "back", YES) \
    X(SMOKE_CHAMBER, "smoke-chamber", LEDGE, "ledge", MEASURE) \
    X(SMOKE_CHAMBER, "smoke-chamber", SMOOTH, "smooth", YES) \
    X(TRANSITION_SET, "transition-set", BED, "bed", MEASURE) \
    X(TRANSITION_SET, "transition-set", LEVEL, "level", YES) \
    X(TRANSITION_SET, "transition-set", TIME, "time", TEXT) \
    X(CHIMNEY_RUN, "chimney-run", PLUMB, "plumb", MEASURE) \
    X(CHIMNEY_RUN, "chimney-run", FLUE, "flue", YES) \
    X(CHIMNEY_RUN, "chimney-run", JOINT, "joint", YES) \
    X(CHIMNEY_RUN, "chimney-run", BAG, "bag", YES) \
    X(CHIMNEY_RUN, "chimney-run", WIND, "wind", MEASURE) \
    X(CAP_SET, "cap-set", SLOPES, "slopes", YES) \
    X(CAP_SET, "cap-set", BOND, "bond", YES) \
    X(CAP_SET, "cap-set", SCREEN, "screen", MEASURE) \
    X(ROOF_FLASH, "roof-flash", FLASHING, "flashing", YES) \
    X(ROOF_FLASH, "roof-flash", CRICKET, "cricket", YES) \
    X(NIGHT_COVER, "night-cover", SIDES, "sides", MEASURE) \
    X(NIGHT_COVER, "night-cover", WEIGHTED, "weighted", YES) \
    X(NIGHT_COVER, "night-cover", VENTED, "vented", YES) \
    X(AIR_DUCT, "air-duct", MESH, "mesh", MEASURE) \
    X(AIR_DUCT, "air-duct", CLOSES, "closes", YES) \
    X(AIR_DUCT, "air-duct", WOOD, "wood", YES) \
    X(AIR_DUCT, "air-duct", INTAKE, "intake", YES) \
    X(AIR_DUCT, "air-duct", SLIP, "slip", YES) \
    X(GAS_ROUGH, "gas-rough", PRESSURE, "pressure", YES) \
    X(GAS_ROUGH, "gas-rough", INSPECTED, "inspected", YES) \
    X(GAS_ROUGH, "gas-rough", VALVE, "valve", YES) \
    X(LIGHTER_FLUSH, "lighter-flush", LICENSED, "licensed", YES) \
    X(LIGHTER_FLUSH, "lighter-flush", LEAK, "leak", YES) \
    X(LIGHTER_FLUSH, "lighter-flush", KEY, "key", YES) \
    X(LIGHTER_FLUSH, "lighter-flush", TAG, "tag", YES) \
    X(LIGHTER_TOP, "lighter-top", LICENSED, "licensed", YES) \
    X(LIGHTER_TOP, "lighter-top", LEAK, "leak", YES) \
    X(LIGHTER_TOP, "lighter-top", KEY, "key", YES) \
    X(LIGHTER_TOP, "lighter-top", TAG, "tag", YES) \
    X(LINE_FLOOR, "line-floor", THICKNESS, "thickness", MEASURE) \
    X(LINE_FLOOR, "line-floor", GAP_BACK, "gap-back", MEASURE) \
    X(LINE_FLOOR, "line-floor", GAP_SIDES, "gap-sides", MEASURE) \
    X(LINE_FLOOR, "line-floor", EMPTY, "empty", YES) \
    X(LINE_FLOOR, "line-floor", FLAT, "flat", MEASURE) \
    X(LINE_FLOOR, "line-floor", JOINT, "joint", MEASURE) \
    X(LINE_FLOOR, "line-floor", SLEEVE, "sleeve", YES) \
    X(LINE_BACK, "line-back", BRIDGED, "bridged", YES) \
    X(LINE_SIDES, "line-sides", SPACERS, "spacers", COUNT) \
    X(LINE_CLEAN, "line-clean", SMEARS, "smears", YES) \
    X(LINE_CLEAN, "line-clean", ACID, "acid", YES) \
    X(TAG_HANG, "tag-hang", SEEN, "seen", YES) \
    X(TAG_HANG, "tag-hang", UNDATED, "undated", YES) \
    X(TAG_HANG, "tag-hang", SIGNED, "signed", YES) \
    X(FRAME_OTHERS, "frame-others", HEADER, "header", YES) \
    X(FRAME_OTHERS, "frame-others", OPEN, "open", YES) \
    X(FRAME_INSPECT, "frame-inspect", FRONT, "front", MEASURE) \
    X(FRAME_INSPECT, "frame-inspect", SIDES, "sides", MEASURE) \
    X(FRAME_INSPECT, "frame-inspect", BACK, "back", MEASURE) \
    X(FRAME_INSPECT, "frame-inspect", CHIMNEY, "chimney", MEASURE) \
    X(FRAME_INSPECT, "frame-inspect", BLOCKING, "blocking", YES) \
    X(FRAME_INSPECT, "frame-inspect", DUCT, "duct", YES) \
    X(FRAME_INSPECT, "frame-inspect", SLIP, "slip", YES) \
    X(FACING_OTHERS, "facing-others", WOOD, "wood", YES) \
    X(FACING_OTHERS, "facing-others", LAST_MORTAR, "last-mortar", DATE) \
    X(HEARTH_EXT, "hearth-ext", FRONT, "front", MEASURE) \
    X(HEARTH_EXT, "hearth-ext", SIDES, "sides", MEASURE) \
    X(HEARTH_EXT, "hearth-ext", BURNS, "burns", YES) \
    X(CURE_WATCH, "cure-watch", DRY, "dry", YES) \
    X(CURE_WATCH, "cure-watch", WARM, "warm", MEASURE) \
    X(CURE_WATCH, "cure-watch", CRACKS, "cracks", YES) \
    X(CURE_WATCH, "cure-watch", TAG, "tag", YES) \
    X(FINAL_INSPECT, "final-inspect", DAMPER, "damper", YES) \
    X(FINAL_INSPECT, "final-inspect", AIR, "air", YES) \
    X(FINAL_INSPECT, "final-inspect", ALARMS, "alarms", YES) \
    X(FINAL_INSPECT, "final-inspect", CAP, "cap", YES) \
    X(FINAL_INSPECT, "final-inspect", SLIP, "slip", YES) \
    X(HANDOVER, "handover", SHEET, "sheet", YES) \
    X(HANDOVER, "handover", ALARM, "alarm", YES) \
    X(HANDOVER, "handover", SIGNED, "signed", YES) \
    X(FIRE_1, "fire-1", NO_SIGN, "no-sign", YES) \
    X(FIRE_2, "fire-2", NO_SIGN, "no-sign", YES) \
    X(FIRE_3, "fire-3", NO_SIGN, "no-sign", YES) \
    X(FIRE_4, "fire-4", NO_SIGN, "no-sign", YES) \
    X(FIRE_5, "fire-5", NO_SIGN, "no-sign", YES) \
    X(CLOSE_FILE, "close-file", CRACK, "crack", MEASURE) \
    X(CLOSE_FILE, "close-file", SMOKE, "smoke", YES) \
    X(CLOSE_FILE, "close-file", TIGHT, "tight", YES) \
    X(CLOSE_FILE, "close-file", SIGNED, "signed", YES)
/* clang-format on */

#define CHECK_ENUM(task, task_id, check, id, kind) CHECK_##task##_##check,
enum check_id { CHECK_LIST(CHECK_ENUM) CHECK_COUNT, CHECK_NONE = -1 };

/** How a check is answered. */
#define CHECK_KIND_LIST(X)                                                                         \
    X(MEASURE, "measure") /* a figure in the unit of the check */                                  \
    X(YES, "yes")         /* yes or no */                                                          \
    X(COUNT, "count")     /* how many there are, and of how many */                                \
    X(DATE, "date")       /* a civil day */                                                        \
    X(TEXT, "text")       /* a few words: a time, a name, what was decided */
#define CHECK_ENUM_KIND(name, id) CHECK_KIND_##name,
enum check_kind { CHECK_KIND_LIST(CHECK_ENUM_KIND) CHECK_KINDS };

/** What a figure is in, as written and as shown. */
#define CHECK_UNIT_LIST(X)                                                                         \
    X(IN, "in")                                                                                    \
    X(IN_PER_10_FT, "in-per-10-ft")                                                                \
    X(FT, "ft")                                                                                    \
    X(F, "F")                                                                                      \
    X(MPH, "mph")                                                                                  \
    X(PIECES, "count")
#define CHECK_ENUM_UNIT(name, id) CHECK_UNIT_##name,
enum check_unit { CHECK_UNIT_LIST(CHECK_ENUM_UNIT) CHECK_UNIT_COUNT, CHECK_UNIT_NONE = -1 };

/** What has to be kept beside the answer. A slip may be named by its number or photographed. */
#define EVIDENCE_LIST(X)                                                                           \
    X(NOTHING, "none")                                                                             \
    X(PHOTO, "photo")                                                                              \
    X(INITIALS, "initials")                                                                        \
    X(SLIP, "slip")                                                                                \
    X(CLIP, "clip")
#define CHECK_ENUM_EVIDENCE(name, id) EVIDENCE_##name,
enum evidence { EVIDENCE_LIST(CHECK_ENUM_EVIDENCE) EVIDENCE_COUNT };

/** How a check stands. Only `holds` lets its task go on once any check of it was answered. */
#define CHECK_STATE_LIST(X)                                                                        \
    X(OPEN, "open")               /* no check of the task was answered yet */                      \
    X(HOLDS, "holds")             /* answered, inside every limit asked for, with its evidence */  \
    X(OUT, "out")                 /* a figure outside a limit, a `no`, a count that is short */    \
    X(MISSING, "missing")         /* others of the task were answered, this one was not */         \
    X(NO_EVIDENCE, "no-evidence") /* the photo, initials or slip that go with it are missing */    \
    X(LEFT_OUT, "left-out")       /* may be left out, and was */
#define CHECK_ENUM_STATE(name, id) CHECK_STATE_##name,
enum check_state { CHECK_STATE_LIST(CHECK_ENUM_STATE) CHECK_STATE_COUNT };

/** Distances a kit's own sheet may give; a limit of a check may be one of them. */
#define CLEARANCE_LIST(X)                                                                          \
    X(FRONT_IN, "front_in")                                                                        \
    X(SIDES_IN, "sides_in")                                                                        \
    X(BACK_IN, "back_in")                                                                          \
    X(CHIMNEY_IN, "chimney_in")                                                                    \
    X(HEARTH_FRONT_IN, "hearth_front_in")                                                          \
    X(HEARTH_SIDES_IN, "hearth_sides_in")                                                          \
    X(LINING_IN, "lining_in")
#define CHECK_ENUM_CLEARANCE(name, id) CLEARANCE_##name,
enum clearance { CLEARANCE_LIST(CHECK_ENUM_CLEARANCE) CLEARANCE_COUNT, CLEARANCE_NONE = -1 };

/** `<task>.<short>`; the same with `check.` before it, which is the id of its rule. */
extern const struct id_table check_ids, check_rule_ids;
extern const struct id_table check_kind_ids, check_unit_ids, evidence_ids, check_state_ids,
    clearance_ids;

/** The task a check belongs to. */
enum task check_task(enum check_id check);
/** How a check is answered. */
enum check_kind check_kind_of(enum check_id check);
/** The short id, by which a record of that task names it. */
const char *check_short_id(enum check_id check);
/** A check of a task by its short id; CHECK_NONE when the task has none of that name. */
enum check_id check_find(enum task task, const char *short_id);
/** The checks of a task are those in [*first, *first + return); none: 0. */
size_t check_range(enum task task, int *first);

/** One answer to one check, as a record carries it. */
struct check_result {
    enum check_id check;
    int yes;              /**< 1 yes, 0 no, -1 absent */
    double value;         /**< measure, count; NAN absent */
    double of;            /**< count: of how many; NAN absent */
    int32_t day;          /**< date; DAY_NONE absent */
    const char *text;     /**< text; NULL absent */
    const char *photo;    /**< name of a photo or clip of this very check; NULL absent */
    const char *slip;     /**< number or name of a slip; NULL absent */
    const char *initials; /**< NULL absent */
};

#endif
