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
/* task, its id, check, its short id; in the order in which the checks are made */
#define CHECK_LIST(X) \
    X(SITE_WALK, "site-walk", OPENING, "opening") \
    X(SITE_WALK, "site-walk", ROOF, "roof") \
    X(SITE_WALK, "site-walk", LOAD, "load") \
    X(SITE_WALK, "site-walk", ACCESS, "access") \
    X(PERMIT_GET, "permit-get", INSPECTIONS, "inspections") \
    X(PERMIT_GET, "permit-get", CUTOFF, "cutoff") \
    X(BOOK_TRADES, "book-trades", CONFIRMED, "confirmed") \
    X(ORDER_KIT, "order-kit", COUNT, "count") \
    X(ORDER_KIT, "order-kit", SHEET, "sheet") \
    X(KIT_RECEIVE, "kit-receive", COUNT, "count") \
    X(KIT_RECEIVE, "kit-receive", BREAKAGE, "breakage") \
    X(KIT_RECEIVE, "kit-receive", BAG_DATES, "bag-dates") \
    X(KIT_RECEIVE, "kit-receive", DRY, "dry") \
    X(FOOTING_READY, "footing-ready", THICKNESS, "thickness") \
    X(FOOTING_READY, "footing-ready", BEYOND, "beyond") \
    X(FOOTING_READY, "footing-ready", FROST, "frost") \
    X(FOOTING_READY, "footing-ready", SLAB, "slab") \
    X(FOOTING_READY, "footing-ready", SEISMIC, "seismic") \
    X(FOOTING_READY, "footing-ready", SLIP, "slip") \
    X(TOWER_BLOCK, "tower-block", PLUMB, "plumb") \
    X(TOWER_BLOCK, "tower-block", JOINT, "joint") \
    X(TOWER_BLOCK, "tower-block", HEIGHT, "height") \
    X(DECK_SET, "deck-set", BEARING, "bearing") \
    X(DECK_SET, "deck-set", PROPS, "props") \
    X(PAD_STEEL, "pad-steel", SPACING, "spacing") \
    X(PAD_STEEL, "pad-steel", TIED, "tied") \
    X(PAD_STEEL, "pad-steel", SLEEVES, "sleeves") \
    X(PAD_STEEL, "pad-steel", FORMS, "forms") \
    X(PAD_INSPECT, "pad-inspect", SLIP, "slip") \
    X(PAD_POUR, "pad-pour", THICKNESS, "thickness") \
    X(PAD_POUR, "pad-pour", SLUMP, "slump") \
    X(PAD_POUR, "pad-pour", CONCRETE, "concrete") \
    X(PAD_POUR, "pad-pour", FINISH, "finish") \
    X(PAD_PROTECT, "pad-protect", COVERED, "covered") \
    X(PAD_PROTECT, "pad-protect", PROBE, "probe") \
    X(PAD_STRIP, "pad-strip", EDGES, "edges") \
    X(PROPS_OUT, "props-out", MOIST, "moist") \
    X(PROPS_OUT, "props-out", CLEAR, "clear") \
    X(PAD_CHECK, "pad-check", LEVEL, "level") \
    X(PAD_CHECK, "pad-check", SCRATCH, "scratch") \
    X(PAD_CHECK, "pad-check", PROBE, "probe") \
    X(PAD_CHECK, "pad-check", CRACKS, "cracks") \
    X(PAD_CHECK, "pad-check", DRY, "dry") \
    X(LAYOUT, "layout", DIAGONALS, "diagonals") \
    X(LAYOUT, "layout", CENTRED, "centred") \
    X(LAYOUT, "layout", LEVEL, "level") \
    X(AIR_CUT, "air-cut", OPENING, "opening") \
    X(AIR_CUT, "air-cut", MARKED, "marked") \
    X(AIR_CUT, "air-cut", INTAKE, "intake") \
    X(BOX_COURSES, "box-courses", PLUMB, "plumb") \
    X(BOX_COURSES, "box-courses", JOINT, "joint") \
    X(BOX_COURSES, "box-courses", SQUEEZE, "squeeze") \
    X(BOX_COURSES, "box-courses", PHOTOS, "photos") \
    X(THROAT_SET, "throat-set", LEVEL, "level") \
    X(THROAT_SET, "throat-set", CLEAR, "clear") \
    X(THROAT_SET, "throat-set", HEIGHT, "height") \
    X(LINTEL_IRON, "lintel-iron", BEARING, "bearing") \
    X(LINTEL_IRON, "lintel-iron", TILT, "tilt") \
    X(DAMPER_SET, "damper-set", SWING, "swing") \
    X(DAMPER_SET, "damper-set", CORNERS, "corners") \
    X(THROAT_INSPECT, "throat-inspect", SLIP, "slip") \
    X(SMOKE_CHAMBER, "smoke-chamber", DRY_FIT, "dry-fit") \
    X(SMOKE_CHAMBER, "smoke-chamber", BACK, "back") \
    X(SMOKE_CHAMBER, "smoke-chamber", LEDGE, "ledge") \
    X(SMOKE_CHAMBER, "smoke-chamber", SMOOTH, "smooth") \
    X(TRANSITION_SET, "transition-set", BED, "bed") \
    X(TRANSITION_SET, "transition-set", LEVEL, "level") \
    X(TRANSITION_SET, "transition-set", TIME, "time") \
    X(CHIMNEY_RUN, "chimney-run", PLUMB, "plumb") \
    X(CHIMNEY_RUN, "chimney-run", FLUE, "flue") \
    X(CHIMNEY_RUN, "chimney-run", JOINT, "joint") \
    X(CHIMNEY_RUN, "chimney-run", BAG, "bag") \
    X(CHIMNEY_RUN, "chimney-run", WIND, "wind") \
    X(CAP_SET, "cap-set", SLOPES, "slopes") \
    X(CAP_SET, "cap-set", BOND, "bond") \
    X(CAP_SET, "cap-set", SCREEN, "screen") \
    X(ROOF_FLASH, "roof-flash", FLASHING, "flashing") \
    X(ROOF_FLASH, "roof-flash", CRICKET, "cricket") \
    X(NIGHT_COVER, "night-cover", SIDES, "sides") \
    X(NIGHT_COVER, "night-cover", WEIGHTED, "weighted") \
    X(NIGHT_COVER, "night-cover", VENTED, "vented") \
    X(AIR_DUCT, "air-duct", MESH, "mesh") \
    X(AIR_DUCT, "air-duct", CLOSES, "closes") \
    X(AIR_DUCT, "air-duct", WOOD, "wood") \
    X(AIR_DUCT, "air-duct", INTAKE, "intake") \
    X(AIR_DUCT, "air-duct", SLIP, "slip") \
    X(GAS_ROUGH, "gas-rough", PRESSURE, "pressure") \
    X(GAS_ROUGH, "gas-rough", INSPECTED, "inspected") \
    X(GAS_ROUGH, "gas-rough", VALVE, "valve") \
    X(LIGHTER_FLUSH, "lighter-flush", LICENSED, "licensed") \
    X(LIGHTER_FLUSH, "lighter-flush", LEAK, "leak") \
    X(LIGHTER_FLUSH, "lighter-flush", KEY, "key") \
    X(LIGHTER_FLUSH, "lighter-flush", TAG, "tag") \
    X(LIGHTER_TOP, "lighter-top", LICENSED, "licensed") \
    X(LIGHTER_TOP, "lighter-top", LEAK, "leak") \
    X(LIGHTER_TOP, "lighter-top", KEY, "key") \
    X(LIGHTER_TOP, "lighter-top", TAG, "tag") \
    X(LINE_FLOOR, "line-floor", THICKNESS, "thickness") \
    X(LINE_FLOOR, "line-floor", GAP_BACK, "gap-back") \
    X(LINE_FLOOR, "line-floor", GAP_SIDES, "gap-sides") \
    X(LINE_FLOOR, "line-floor", EMPTY, "empty") \
    X(LINE_FLOOR, "line-floor", FLAT, "flat") \
    X(LINE_FLOOR, "line-floor", JOINT, "joint") \
    X(LINE_FLOOR, "line-floor", SLEEVE, "sleeve") \
    X(LINE_BACK, "line-back", BRIDGED, "bridged") \
    X(LINE_SIDES, "line-sides", SPACERS, "spacers") \
    X(LINE_CLEAN, "line-clean", SMEARS, "smears") \
    X(LINE_CLEAN, "line-clean", ACID, "acid") \
    X(TAG_HANG, "tag-hang", SEEN, "seen") \
    X(TAG_HANG, "tag-hang", UNDATED, "undated") \
    X(TAG_HANG, "tag-hang", SIGNED, "signed") \
    X(FRAME_OTHERS, "frame-others", HEADER, "header") \
    X(FRAME_OTHERS, "frame-others", OPEN, "open") \
    X(FRAME_INSPECT, "frame-inspect", FRONT, "front") \
    X(FRAME_INSPECT, "frame-inspect", SIDES, "sides") \
    X(FRAME_INSPECT, "frame-inspect", BACK, "back") \
    X(FRAME_INSPECT, "frame-inspect", CHIMNEY, "chimney") \
    X(FRAME_INSPECT, "frame-inspect", BLOCKING, "blocking") \
    X(FRAME_INSPECT, "frame-inspect", DUCT, "duct") \
    X(FRAME_INSPECT, "frame-inspect", SLIP, "slip") \
    X(FACING_OTHERS, "facing-others", WOOD, "wood") \
    X(FACING_OTHERS, "facing-others", LAST_MORTAR, "last-mortar") \
    X(HEARTH_EXT, "hearth-ext", FRONT, "front") \
    X(HEARTH_EXT, "hearth-ext", SIDES, "sides") \
    X(HEARTH_EXT, "hearth-ext", BURNS, "burns") \
    X(CURE_WATCH, "cure-watch", DRY, "dry") \
    X(CURE_WATCH, "cure-watch", WARM, "warm") \
    X(CURE_WATCH, "cure-watch", CRACKS, "cracks") \
    X(CURE_WATCH, "cure-watch", TAG, "tag") \
    X(FINAL_INSPECT, "final-inspect", DAMPER, "damper") \
    X(FINAL_INSPECT, "final-inspect", AIR, "air") \
    X(FINAL_INSPECT, "final-inspect", ALARMS, "alarms") \
    X(FINAL_INSPECT, "final-inspect", CAP, "cap") \
    X(FINAL_INSPECT, "final-inspect", SLIP, "slip") \
    X(HANDOVER, "handover", SHEET, "sheet") \
    X(HANDOVER, "handover", ALARM, "alarm") \
    X(HANDOVER, "handover", SIGNED, "signed") \
    X(FIRE_1, "fire-1", NO_SIGN, "no-sign") \
    X(FIRE_2, "fire-2", NO_SIGN, "no-sign") \
    X(FIRE_3, "fire-3", NO_SIGN, "no-sign") \
    X(FIRE_4, "fire-4", NO_SIGN, "no-sign") \
    X(FIRE_5, "fire-5", NO_SIGN, "no-sign") \
    X(CLOSE_FILE, "close-file", CRACK, "crack") \
    X(CLOSE_FILE, "close-file", SMOKE, "smoke") \
    X(CLOSE_FILE, "close-file", TIGHT, "tight") \
    X(CLOSE_FILE, "close-file", SIGNED, "signed")
/* clang-format on */

#define CHECK_ENUM(task, task_id, check, id) CHECK_##task##_##check,
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
