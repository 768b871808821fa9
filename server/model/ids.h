/* SPDX-License-Identifier: MIT */
/*
 * The closed vocabularies everybody shares: tasks, clocks, record kinds, parts, states, options.
 * Each list is written once, as an X-macro, and gives an enum and a table of the kebab-case ids
 * that stand in case files, answers, pages, tests and talk. A new clock or record kind is one line
 * here and, for a clock or task, one row in schema/rulebook.
 */
#ifndef EMBERWAIT_MODEL_IDS_H
#define EMBERWAIT_MODEL_IDS_H

#include <stdbool.h>
#include <stddef.h>

#define TASK_LIST(X)                                                                               \
    X(SITE_WALK, "site-walk")                                                                      \
    X(PERMIT_GET, "permit-get")                                                                    \
    X(ORDER_KIT, "order-kit")                                                                      \
    X(BOOK_TRADES, "book-trades")                                                                  \
    X(KIT_RECEIVE, "kit-receive")                                                                  \
    X(FOOTING_READY, "footing-ready")                                                              \
    X(TOWER_BLOCK, "tower-block")                                                                  \
    X(DECK_SET, "deck-set")                                                                        \
    X(PAD_STEEL, "pad-steel")                                                                      \
    X(PAD_INSPECT, "pad-inspect")                                                                  \
    X(PAD_POUR, "pad-pour")                                                                        \
    X(PAD_PROTECT, "pad-protect")                                                                  \
    X(PAD_STRIP, "pad-strip")                                                                      \
    X(PAD_CHECK, "pad-check")                                                                      \
    X(PROPS_OUT, "props-out")                                                                      \
    X(AIR_CUT, "air-cut")                                                                          \
    X(LAYOUT, "layout")                                                                            \
    X(BOX_COURSES, "box-courses")                                                                  \
    X(THROAT_SET, "throat-set")                                                                    \
    X(LINTEL_IRON, "lintel-iron")                                                                  \
    X(DAMPER_SET, "damper-set")                                                                    \
    X(THROAT_INSPECT, "throat-inspect")                                                            \
    X(SMOKE_CHAMBER, "smoke-chamber")                                                              \
    X(TRANSITION_SET, "transition-set")                                                            \
    X(CHIMNEY_RUN, "chimney-run")                                                                  \
    X(CAP_SET, "cap-set")                                                                          \
    X(ROOF_FLASH, "roof-flash")                                                                    \
    X(NIGHT_COVER, "night-cover")                                                                  \
    X(AIR_DUCT, "air-duct")                                                                        \
    X(GAS_ROUGH, "gas-rough")                                                                      \
    X(LIGHTER_FLUSH, "lighter-flush")                                                              \
    X(LIGHTER_TOP, "lighter-top")                                                                  \
    X(LINE_FLOOR, "line-floor")                                                                    \
    X(LINE_BACK, "line-back")                                                                      \
    X(LINE_SIDES, "line-sides")                                                                    \
    X(LINE_CLEAN, "line-clean")                                                                    \
    X(TAG_HANG, "tag-hang")                                                                        \
    X(FRAME_OTHERS, "frame-others")                                                                \
    X(FRAME_INSPECT, "frame-inspect")                                                              \
    X(FACING_OTHERS, "facing-others")                                                              \
    X(HEARTH_EXT, "hearth-ext")                                                                    \
    X(CURE_WATCH, "cure-watch")                                                                    \
    X(FINAL_INSPECT, "final-inspect")                                                              \
    X(HANDOVER, "handover")                                                                        \
    X(FIRE_1, "fire-1")                                                                            \
    X(FIRE_2, "fire-2")                                                                            \
    X(FIRE_3, "fire-3")                                                                            \
    X(FIRE_4, "fire-4")                                                                            \
    X(FIRE_5, "fire-5")                                                                            \
    X(CLOSE_FILE, "close-file")

#define CLOCK_LIST(X)                                                                              \
    X(PAD_STRIP, "pad.strip")                                                                      \
    X(PAD_FIRST_FROST, "pad.first-frost")                                                          \
    X(PAD_BUILD_ON, "pad.build-on")                                                                \
    X(PAD_CHIMNEY_LOAD, "pad.chimney-load")                                                        \
    X(PAD_MOIST_CURE, "pad.moist-cure")                                                            \
    X(PAD_FACING_READY, "pad.facing-ready")                                                        \
    X(JOINTS_EARLY, "joints.early")                                                                \
    X(BED_SET, "bed.set")                                                                          \
    X(LIFT_NEXT, "lift.next")                                                                      \
    X(LINING_EARLY, "lining.early")                                                                \
    X(UNIT_DRY_CURE, "unit.dry-cure")                                                              \
    X(UNIT_FACING_CURE, "unit.facing-cure")                                                        \
    X(UNIT_PATCH, "unit.patch")

#define RECORD_KIND_LIST(X)                                                                        \
    X(DONE, "done")                                                                                \
    X(STARTED, "started")                                                                          \
    X(STOPPED, "stopped")                                                                          \
    X(PASSED, "passed")                                                                            \
    X(FAILED, "failed")                                                                            \
    X(INSPECTION, "inspection")                                                                    \
    X(READING, "reading")                                                                          \
    X(LOGGED_DAY, "logged-day")                                                                    \
    X(COVERED, "covered")                                                                          \
    X(UNCOVERED, "uncovered")                                                                      \
    X(CLOSED_IN, "closed-in")                                                                      \
    X(OPENED, "opened")                                                                            \
    X(WRAPPED, "wrapped")                                                                          \
    X(UNWRAPPED, "unwrapped")                                                                      \
    X(WET_COVER_ON, "wet-cover-on")                                                                \
    X(WET_COVER_OFF, "wet-cover-off")                                                              \
    X(SOAKED, "soaked")                                                                            \
    X(LOOKED, "looked")                                                                            \
    X(PATCHED, "patched")                                                                          \
    X(RELAID, "relaid")                                                                            \
    X(FACING, "facing")                                                                            \
    X(LIT, "lit")                                                                                  \
    X(FIRE, "fire")                                                                                \
    X(DELIVERED, "delivered")                                                                      \
    X(BAG, "bag")                                                                                  \
    X(BOOKED, "booked")                                                                            \
    X(AGREED, "agreed")                                                                            \
    X(HELD_DATE, "held-date")                                                                      \
    X(ACCEPTED, "accepted")                                                                        \
    X(ENGINEER, "engineer")                                                                        \
    X(OVERRIDDEN, "overridden")                                                                    \
    X(CORRECTED, "corrected")                                                                      \
    X(PHOTO, "photo")                                                                              \
    X(NOTE, "note")

#define PART_LIST(X)                                                                               \
    X(PAD, "pad")                                                                                  \
    X(FOOTING, "footing")                                                                          \
    X(JOINTS, "joints")                                                                            \
    X(BED, "bed")                                                                                  \
    X(LINING, "lining")                                                                            \
    X(UNIT, "unit")                                                                                \
    X(AIR, "air")

#define READING_HOW_LIST(X)                                                                        \
    X(PROBE, "probe")                                                                              \
    X(SURFACE, "surface")                                                                          \
    X(AIR, "air")                                                                                  \
    X(THERMOSTAT, "thermostat")                                                                    \
    X(LOWEST, "lowest")                                                                            \
    X(IMPRESSION, "impression")

#define SHELTER_LIST(X)                                                                            \
    X(ROOM, "room")                                                                                \
    X(ENCLOSURE, "enclosure")                                                                      \
    X(BLANKET, "blanket")

#define RESULT_LIST(X)                                                                             \
    X(NO_DAMAGE_SEEN, "no-damage-seen")                                                            \
    X(REDO, "redo")                                                                                \
    X(PASSED, "passed")                                                                            \
    X(PASSED_WITH_NOTE, "passed-with-note")                                                        \
    X(FAILED, "failed")                                                                            \
    X(NOT_COME, "not-come")

#define RELAID_WHAT_LIST(X)                                                                        \
    X(FLOOR, "floor")                                                                              \
    X(BACK, "back")                                                                                \
    X(SIDE, "side")

#define MORTAR_LIST(X)                                                                             \
    X(POLYMER, "polymer")                                                                          \
    X(HYDRAULIC, "hydraulic")                                                                      \
    X(AIR_DRYING, "air-drying")                                                                    \
    X(HEAT_SETTING, "heat-setting")

#define BAG_CONDITION_LIST(X) X(DRY, "dry") X(DAMP, "damp") X(FROZEN, "frozen")

#define STOP_WHY_LIST(X)                                                                           \
    X(RAIN, "rain")                                                                                \
    X(WIND, "wind")                                                                                \
    X(COLD, "cold")                                                                                \
    X(MISSING_PART, "missing-part")                                                                \
    X(NOT_READY, "not-ready")                                                                      \
    X(HURT, "hurt")                                                                                \
    X(OTHER, "other")

/** What was seen at a fire that had to be stopped. */
#define FIRE_SIGN_LIST(X)                                                                          \
    X(STEAM, "steam")                                                                              \
    X(WATER, "water")                                                                              \
    X(POPPING, "popping")                                                                          \
    X(CRACK, "crack")                                                                              \
    X(LOOSE, "loose")                                                                              \
    X(SMOKE, "smoke")                                                                              \
    X(ALARM, "alarm")

#define CLOCK_STATE_LIST(X)                                                                        \
    X(NOT_STARTED, "not-started")                                                                  \
    X(RUNNING, "running")                                                                          \
    X(OPEN, "open")                                                                                \
    X(CHECK_IT, "check-it")                                                                        \
    X(ENDED, "ended")

#define TASK_STATE_LIST(X)                                                                         \
    X(NOT_YET, "not-yet")                                                                          \
    X(WAIT_OVER, "wait-over")                                                                      \
    X(WORKING, "working")                                                                          \
    X(WAITING_CURE, "waiting-cure")                                                                \
    X(WAITING_INSPECTOR, "waiting-inspector")                                                      \
    X(WAITING_WEATHER, "waiting-weather")                                                          \
    X(WAITING_PART, "waiting-part")                                                                \
    X(WAITING_TRADE, "waiting-trade")                                                              \
    X(CHECK_IT, "check-it")                                                                        \
    X(DONE, "done")                                                                                \
    X(PASSED, "passed")                                                                            \
    X(STOPPED, "stopped")                                                                          \
    X(REDO, "redo")                                                                                \
    X(NOT_NEEDED, "not-needed")

#define UNIT_LIST(X)                                                                               \
    X(WARM_HOUR, "warm-hour")                                                                      \
    X(COUNTED_DAY, "counted-day")                                                                  \
    X(HOUR, "hour")                                                                                \
    X(DEGF, "F")                                                                                   \
    X(MPH, "mph")                                                                                  \
    X(INCH, "in")                                                                                  \
    X(KGM2H, "kg/m2/h")

#define MARK_LIST(X)                                                                               \
    X(P, "P")                                                                                      \
    X(CP, "CP")                                                                                    \
    X(HR, "HR")

/* Option values. Absent options take the first value unless job.h says they must be given. */
#define BASE_LIST(X) X(SLAB, "slab") X(CRAWL, "crawl") X(BASEMENT, "basement")
#define PAD_OPTION_LIST(X) X(NEW, "new") X(EXISTING, "existing")
#define PLACE_LIST(X) X(INDOOR, "indoor") X(COVERED, "covered") X(EXPOSED, "exposed")
#define SETTING_OUT_LIST(X) X(PLATE, "plate") X(CHALK, "chalk")
#define LIGHTER_LIST(X) X(NONE, "none") X(FLUSH, "flush") X(TOP, "top")
#define LINING_OPTION_LIST(X) X(THIN, "thin") X(MIXED, "mixed") X(THICK, "thick")
#define FACING_OPTION_LIST(X) X(NONE, "none") X(FRAMED, "framed") X(MORTARED, "mortared")
#define MIX_LIST(X) X(PLAIN, "plain") X(BLENDED, "blended")

#define IDS_ENUM_TASK(name, id) TASK_##name,
enum task { TASK_LIST(IDS_ENUM_TASK) TASK_COUNT, TASK_NONE = -1 };
#define IDS_ENUM_CLOCK(name, id) CLOCK_##name,
enum clock_id { CLOCK_LIST(IDS_ENUM_CLOCK) CLOCK_COUNT, CLOCK_NONE = -1 };
#define IDS_ENUM_KIND(name, id) RECORD_##name,
enum record_kind { RECORD_KIND_LIST(IDS_ENUM_KIND) RECORD_KIND_COUNT, RECORD_KIND_NONE = -1 };
#define IDS_ENUM_PART(name, id) PART_##name,
enum part { PART_LIST(IDS_ENUM_PART) PART_COUNT, PART_NONE = -1 };
#define IDS_ENUM_HOW(name, id) HOW_##name,
enum reading_how { READING_HOW_LIST(IDS_ENUM_HOW) HOW_COUNT, HOW_NONE = -1 };
#define IDS_ENUM_SHELTER(name, id) SHELTER_##name,
enum shelter { SHELTER_LIST(IDS_ENUM_SHELTER) SHELTER_COUNT, SHELTER_NONE = -1 };
#define IDS_ENUM_RESULT(name, id) RESULT_##name,
enum result { RESULT_LIST(IDS_ENUM_RESULT) RESULT_COUNT, RESULT_NONE = -1 };
#define IDS_ENUM_RELAID(name, id) RELAID_##name,
enum relaid_what { RELAID_WHAT_LIST(IDS_ENUM_RELAID) RELAID_COUNT, RELAID_NONE = -1 };
#define IDS_ENUM_MORTAR(name, id) MORTAR_##name,
enum mortar { MORTAR_LIST(IDS_ENUM_MORTAR) MORTAR_COUNT, MORTAR_NONE = -1 };
#define IDS_ENUM_BAG(name, id) BAG_##name,
enum bag_condition { BAG_CONDITION_LIST(IDS_ENUM_BAG) BAG_CONDITION_COUNT };
#define IDS_ENUM_STOP(name, id) STOP_##name,
enum stop_why { STOP_WHY_LIST(IDS_ENUM_STOP) STOP_COUNT, STOP_NONE = -1 };
#define IDS_ENUM_SIGN(name, id) SIGN_##name,
enum fire_sign { FIRE_SIGN_LIST(IDS_ENUM_SIGN) SIGN_COUNT, SIGN_NONE = -1 };
#define IDS_ENUM_CLOCK_STATE(name, id) CLOCK_STATE_##name,
enum clock_state { CLOCK_STATE_LIST(IDS_ENUM_CLOCK_STATE) CLOCK_STATE_COUNT };
#define IDS_ENUM_TASK_STATE(name, id) TASK_STATE_##name,
enum task_state { TASK_STATE_LIST(IDS_ENUM_TASK_STATE) TASK_STATE_COUNT };
#define IDS_ENUM_UNIT(name, id) UNIT_##name,
enum unit { UNIT_LIST(IDS_ENUM_UNIT) UNIT_COUNT };
#define IDS_ENUM_MARK(name, id) MARK_##name,
enum mark { MARK_LIST(IDS_ENUM_MARK) MARK_COUNT, MARK_NONE = -1 };
#define IDS_ENUM_BASE(name, id) BASE_##name,
enum base { BASE_LIST(IDS_ENUM_BASE) BASE_COUNT };
#define IDS_ENUM_PAD(name, id) PAD_##name,
enum pad_option { PAD_OPTION_LIST(IDS_ENUM_PAD) PAD_COUNT };
#define IDS_ENUM_PLACE(name, id) PLACE_##name,
enum place { PLACE_LIST(IDS_ENUM_PLACE) PLACE_COUNT };
#define IDS_ENUM_SETTING_OUT(name, id) SETTING_OUT_##name,
enum setting_out { SETTING_OUT_LIST(IDS_ENUM_SETTING_OUT) SETTING_OUT_COUNT };
#define IDS_ENUM_LIGHTER(name, id) LIGHTER_##name,
enum lighter { LIGHTER_LIST(IDS_ENUM_LIGHTER) LIGHTER_COUNT };
#define IDS_ENUM_LINING(name, id) LINING_##name,
enum lining_option { LINING_OPTION_LIST(IDS_ENUM_LINING) LINING_COUNT };
#define IDS_ENUM_FACING(name, id) FACING_##name,
enum facing_option { FACING_OPTION_LIST(IDS_ENUM_FACING) FACING_COUNT };
#define IDS_ENUM_MIX(name, id) MIX_##name,
enum mix { MIX_LIST(IDS_ENUM_MIX) MIX_COUNT };

/** A vocabulary: `count` ids, `ids[value]` is the id of enum value `value`. */
struct id_table {
    const char *what; /**< plain name for faults: "task", "clock", … */
    const char *const *ids;
    size_t count;
};

extern const struct id_table bag_condition_ids;
extern const struct id_table task_ids, clock_ids, record_kind_ids, part_ids, reading_how_ids,
    shelter_ids, result_ids, relaid_what_ids, mortar_ids, stop_why_ids, fire_sign_ids,
    clock_state_ids, task_state_ids, unit_ids, mark_ids, base_ids, pad_option_ids, place_ids,
    setting_out_ids, lighter_ids, lining_option_ids, facing_option_ids, mix_ids;

/** Value of an id in a table, or -1 when it is not there. */
int id_find(const struct id_table *table, const char *id);
/** Id of a value; the value must be in the table (REQUIRE). */
const char *id_of(const struct id_table *table, int value);

#endif
