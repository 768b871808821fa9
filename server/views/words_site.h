/* SPDX-License-Identifier: MIT */
/* What not to do, what to leave behind, safety, fires, stop signs and care: said on site and to the
 * homeowner. A part of WORD_LIST in words.h. */
#ifndef EMBERWAIT_VIEWS_WORDS_SITE_H
#define EMBERWAIT_VIEWS_WORDS_SITE_H

/* Name, key, the placeholders it may use. */
#define WORD_SITE_LIST(X)                                                                          \
    X(DONOT_PAD_POUR, "donot.pad-pour", "")                                                        \
    X(DONOT_PAD_STRIP, "donot.pad-strip", "")                                                      \
    X(DONOT_PROPS_OUT, "donot.props-out", "")                                                      \
    X(DONOT_BUILD, "donot.build", "")                                                              \
    X(DONOT_COVER_THROAT, "donot.cover-throat", "")                                                \
    X(DONOT_CHIMNEY_RUN, "donot.chimney-run", "")                                                  \
    X(DONOT_LINE, "donot.line", "")                                                                \
    X(DONOT_UNCOVER, "donot.uncover", "")                                                          \
    X(DONOT_CLOSE_IN, "donot.close-in", "")                                                        \
    X(DONOT_FACING, "donot.facing", "")                                                            \
    X(DONOT_LIGHT, "donot.light", "")                                                              \
    X(LEAVE_PAD, "leave.pad", "")                                                                  \
    X(LEAVE_JOINTS, "leave.joints", "")                                                            \
    X(LEAVE_FLUE, "leave.flue", "")                                                                \
    X(LEAVE_TAG, "leave.tag", "")                                                                  \
    X(LEAVE_READING, "leave.reading", "")                                                          \
    X(LEAVE_PHOTOS, "leave.photos", "")                                                            \
    X(SAFETY_CEMENT, "safety.cement", "")                                                          \
    X(SAFETY_CUT, "safety.cut", "")                                                                \
    X(SAFETY_LIFT, "safety.lift", "")                                                              \
    X(SAFETY_HUNG, "safety.hung", "")                                                              \
    X(SAFETY_SCAFFOLD, "safety.scaffold", "")                                                      \
    X(SAFETY_HEATER, "safety.heater", "")                                                          \
    X(SAFETY_GAS, "safety.gas", "")                                                                \
    X(FIRE_1, "fire.1", "")                                                                        \
    X(FIRE_2, "fire.2", "")                                                                        \
    X(FIRE_3, "fire.3", "")                                                                        \
    X(FIRE_4, "fire.4", "")                                                                        \
    X(FIRE_5, "fire.5", "")                                                                        \
    X(STOP_SIGN_STEAM, "stop-sign.steam", "")                                                      \
    X(STOP_SIGN_WATER, "stop-sign.water", "")                                                      \
    X(STOP_SIGN_POPPING, "stop-sign.popping", "")                                                  \
    X(STOP_SIGN_CRACK, "stop-sign.crack", "")                                                      \
    X(STOP_SIGN_LOOSE, "stop-sign.loose", "")                                                      \
    X(STOP_SIGN_SMOKE, "stop-sign.smoke", "")                                                      \
    X(STOP_SIGN_ALARM, "stop-sign.alarm", "")                                                      \
    X(PLEASE_RAIN, "please.rain", "")                                                              \
    X(PLEASE_AIR, "please.air", "")                                                                \
    X(PLEASE_WARM, "please.warm", "")                                                              \
    X(PLEASE_WASH, "please.wash", "")                                                              \
    X(PLEASE_MANTEL, "please.mantel", "")                                                          \
    X(PLEASE_LEAN, "please.lean", "")                                                              \
    X(PLEASE_PHOTO, "please.photo", "")                                                            \
    X(CARE_ALARMS, "care.alarms", "")                                                              \
    X(CARE_CLEAR, "care.clear", "")                                                                \
    X(CARE_FUEL, "care.fuel", "")                                                                  \
    X(CARE_WOOD, "care.wood", "")                                                                  \
    X(CARE_DAMPER, "care.damper", "")                                                              \
    X(CARE_ASH, "care.ash", "")                                                                    \
    X(CARE_GAS, "care.gas", "")                                                                    \
    X(CARE_YEARLY, "care.yearly", "")                                                              \
    X(CARE_BAN, "care.ban", "")                                                                    \
    X(CARE_OUT, "care.out", "")

#endif
