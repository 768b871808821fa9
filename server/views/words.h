/* SPDX-License-Identifier: MIT */
/*
 * Every word a person reads comes from schema/words/<language>.json, so that a bilingual mason can
 * review one file and the owner can change a word without a compiler. The keys are listed here as
 * enums: a page cannot ask for a word that is not there, and a file that lacks one, or uses a
 * {placeholder} that the page does not fill, is refused when it is loaded, never shown as a blank.
 */
#ifndef EMBERWAIT_VIEWS_WORDS_H
#define EMBERWAIT_VIEWS_WORDS_H

#include <stddef.h>

#include "base/status.h"
#include "base/text.h"
#include "model/check.h"
#include "model/crew_plan.h"
#include "model/gate.h"
#include "model/ids.h"
#include "model/job.h"
#include "views/words_hold.h"
#include "views/words_office.h"
#include "views/words_people.h"
#include "views/words_picture.h"
#include "views/words_site.h"

/* The single texts of schema/words: name, key, the placeholders it may use. */
#define WORD_LIST(X)                                                                               \
    WORD_PEOPLE_LIST(X)                                                                            \
    WORD_HOLD_LIST(X)                                                                              \
    WORD_OFFICE_LIST(X)                                                                            \
    WORD_SITE_LIST(X)                                                                              \
    X(LANG_NAME, "lang.name", "")                                                                  \
    X(LANG_SWITCH, "lang.switch", "")                                                              \
    X(WHEN_NOON, "when.noon", "")                                                                  \
    X(WHEN_MIDNIGHT, "when.midnight", "")                                                          \
    X(WHEN_CLOCK, "when.clock", "half hour")                                                       \
    X(WHEN_AM, "when.am", "")                                                                      \
    X(WHEN_PM, "when.pm", "")                                                                      \
    X(WHEN_DAY_TIME, "when.day-time", "clock weekday")                                             \
    X(WHEN_DATE_TIME, "when.date-time", "clock date")                                              \
    X(WHEN_DATE, "when.date", "day month weekday")                                                 \
    X(WHEN_DATE_YEAR, "when.date-year", "day month weekday year")                                  \
    X(WHEN_NONE, "when.none", "")                                                                  \
    X(WHEN_MINUTES, "when.minutes", "n")                                                           \
    X(WHEN_HOURS, "when.hours", "n")                                                               \
    X(WHEN_DAYS, "when.days", "n")                                                                 \
    X(CHANGE_RECORD, "change.record", "kind time")                                                 \
    X(CHANGE_RECORD_TASK, "change.record-task", "kind task time")                                  \
    X(CHANGE_WEATHER, "change.weather", "task")                                                    \
    X(CHANGE_NOT_DONE, "change.not-done", "task")                                                  \
    X(CHANGE_CALENDAR, "change.calendar", "task")                                                  \
    X(SLIP_HERE, "slip.here", "here end task")                                                     \
    X(SLIP_BECAUSE, "slip.because", "task says")                                                   \
    X(SLIP_DAY_LATE, "slip.day-late", "n")                                                         \
    X(SLIP_DAYS_LATE, "slip.days-late", "n")                                                       \
    X(SLIP_DAY_EARLY, "slip.day-early", "n")                                                       \
    X(SLIP_DAYS_EARLY, "slip.days-early", "n")                                                     \
    X(WORK_BACK_TITLE, "work-back.title", "date")                                                  \
    X(WORK_BACK_REACHED, "work-back.reached", "date")                                              \
    X(WORK_BACK_LATE, "work-back.late", "date")                                                    \
    X(WORK_BACK_UNKNOWN, "work-back.unknown", "")                                                  \
    X(WORK_BACK_LIST, "work-back.list", "")                                                        \
    X(WORK_BACK_BY, "work-back.by", "task time")                                                   \
    X(WORK_BACK_FULL, "work-back.full", "")                                                        \
    X(WORK_BACK_GATES, "work-back.gates", "")                                                      \
    X(FIGURES_OF, "figures.of", "have need unit")                                                  \
    X(FIGURES_BAR, "figures.bar", "have need")                                                     \
    X(FIGURES_FLOOR, "figures.floor", "floor")                                                     \
    X(REASON_UNTIL, "reason.until", "until")                                                       \
    X(SAYS_PLACE, "says.place", "place says")                                                      \
    X(SAYS_PAIR, "says.pair", "head tail")                                                         \
    X(SAYS_DONOT, "says.donot", "head tail")                                                       \
    X(SAYS_NO_READING_EVER, "says.no-reading-ever", "")                                            \
    X(SAYS_FORECAST_OLD, "says.forecast-old", "age time")                                          \
    X(SAYS_SITE_OFFSET, "says.site-offset", "degrees")                                             \
    X(SAYS_NOT_BEFORE_CHECK, "says.not-before-check", "until")                                     \
    X(SAYS_WARM_HOURS, "says.warm-hours", "have need")                                             \
    X(SAYS_BAG_MINIMUM, "says.bag-minimum", "min")                                                 \
    X(SAYS_INSPECTOR_PASSED, "says.inspector-passed", "date name")                                 \
    X(SAYS_FROZE, "says.froze", "")                                                                \
    X(SAYS_STOP_SIGNS, "says.stop-signs", "")                                                      \
    X(SAYS_FIRST_FIRE, "says.first-fire", "date")                                                  \
    X(SAYS_CHECKING_DATE, "says.checking-date", "")                                                \
    X(SAYS_NOT_PERMISSION, "says.not-permission", "")                                              \
    X(PAGE_AS_OF, "page.as-of", "time")                                                            \
    X(PAGE_OLD, "page.old", "")                                                                    \
    X(PAGE_OLD_SAYS, "page.old-says", "")                                                          \
    X(PAGE_MAY_CHANGE, "page.may-change", "")                                                      \
    X(PAGE_SKIP, "page.skip", "")                                                                  \
    X(PAGE_BECAUSE, "page.because", "")                                                            \
    X(PAGE_CAUTIONS, "page.cautions", "")                                                          \
    X(PAGE_SOURCE, "page.source", "source")                                                        \
    X(PAGE_NONE, "page.none", "")                                                                  \
    X(PAGE_CLOCK_SKEW, "page.clock-skew", "n")                                                     \
    X(PAGE_KEPT, "page.kept", "")                                                                  \
    X(PAGE_SENT, "page.sent", "")                                                                  \
    X(PAGE_REFUSED, "page.refused", "")                                                            \
    X(PAGE_HOUR_TWICE, "page.hour-twice", "")                                                      \
    X(PAGE_FOUND_WANTED, "page.found-wanted", "found wanted")                                      \
    X(PAGE_CALL, "page.call", "phone")                                                             \
    X(PAGE_BACK, "page.back", "")                                                                  \
    X(PAGE_PRINT, "page.print", "")                                                                \
    X(NAV_TODAY, "nav.today", "")                                                                  \
    X(NAV_PADS, "nav.pads", "")                                                                    \
    X(NAV_TONIGHT, "nav.tonight", "")                                                              \
    X(NAV_CALL_IN, "nav.call-in", "")                                                              \
    X(NAV_JOBS, "nav.jobs", "")                                                                    \
    X(NAV_FIRST_FIRES, "nav.first-fires", "")                                                      \
    X(YARD_TITLE, "yard.title", "")                                                                \
    X(YARD_OWED, "yard.owed", "")                                                                  \
    X(YARD_OWED_SAYS, "yard.owed-says", "date")                                                    \
    X(YARD_OWED_NEW, "yard.owed-new", "date")                                                      \
    X(YARD_CHANGED, "yard.changed", "")                                                            \
    X(YARD_CHANGED_SAYS, "yard.changed-says", "date was")                                          \
    X(YARD_WHO_WHERE, "yard.who-where", "")                                                        \
    X(YARD_CREW_NONE, "yard.crew-none", "")                                                        \
    X(YARD_DRIVE, "yard.drive", "hours")                                                           \
    X(YARD_WORK_HOURS, "yard.work-hours", "hours")                                                 \
    X(YARD_CALL_IN, "yard.call-in", "")                                                            \
    X(YARD_CALL_BY, "yard.call-by", "time")                                                        \
    X(YARD_CALL_RELEASES, "yard.call-releases", "task")                                            \
    X(YARD_PADS, "yard.pads", "")                                                                  \
    X(YARD_PAD_OPENS, "yard.pad-opens", "time")                                                    \
    X(YARD_PAD_OVER, "yard.pad-over", "")                                                          \
    X(YARD_PAD_NO_TIME, "yard.pad-no-time", "")                                                    \
    X(YARD_RESTS_ON, "yard.rests-on", "age how time value")                                        \
    X(YARD_RESTS_ON_STATION, "yard.rests-on-station", "")                                          \
    X(YARD_TONIGHT, "yard.tonight", "")                                                            \
    X(YARD_TONIGHT_GREEN, "yard.tonight-green", "")                                                \
    X(YARD_TONIGHT_PAD, "yard.tonight-pad", "")                                                    \
    X(YARD_TONIGHT_FLUE, "yard.tonight-flue", "")                                                  \
    X(YARD_TONIGHT_LOW, "yard.tonight-low", "time value")                                          \
    X(YARD_TONIGHT_RAIN, "yard.tonight-rain", "mm time")                                           \
    X(YARD_TONIGHT_DRY, "yard.tonight-dry", "")                                                    \
    X(YARD_TONIGHT_UNKNOWN, "yard.tonight-unknown", "")                                            \
    X(YARD_TONIGHT_GUST, "yard.tonight-gust", "mph")                                               \
    X(YARD_COVER_TONIGHT, "yard.cover-tonight", "")                                                \
    X(YARD_POUR, "yard.pour", "")                                                                  \
    X(YARD_POUR_NIGHTS, "yard.pour-nights", "lows")                                                \
    X(YARD_POUR_RAIN, "yard.pour-rain", "hours mm")                                                \
    X(YARD_READY, "yard.ready", "")                                                                \
    X(YARD_IDLE, "yard.idle", "time")                                                              \
    X(YARD_JOBS, "yard.jobs", "")                                                                  \
    X(YARD_JOB, "yard.job", "")                                                                    \
    X(YARD_WHERE, "yard.where", "")                                                                \
    X(YARD_NEXT, "yard.next", "")                                                                  \
    X(YARD_FIRE_DATE, "yard.fire-date", "")                                                        \
    X(YARD_NOT_BEFORE, "yard.not-before", "date")                                                  \
    X(YARD_EARLIEST, "yard.earliest", "")                                                          \
    X(YARD_LIKELY, "yard.likely", "")                                                              \
    X(YARD_NINE_IN_TEN, "yard.nine-in-ten", "")                                                    \
    X(YARD_DATE_GIVEN, "yard.date-given", "")                                                      \
    X(YARD_PROPOSED, "yard.proposed", "")                                                          \
    X(YARD_NONE_GIVEN, "yard.none-given", "")                                                      \
    X(YARD_SPARE, "yard.spare", "n")                                                               \
    X(YARD_DRIVEN_BY, "yard.driven-by", "clock")                                                   \
    X(YARD_HELD_BACK, "yard.held-back", "count need")                                              \
    X(YARD_RECENT_RATE, "yard.recent-rate", "")                                                    \
    X(JOB_TASKS, "job.tasks", "")                                                                  \
    X(JOB_CLOCKS, "job.clocks", "")                                                                \
    X(JOB_DRYING, "job.drying", "")                                                                \
    X(JOB_RECORDS, "job.records", "")                                                              \
    X(JOB_WRITE, "job.write", "")                                                                  \
    X(JOB_LINKS, "job.links", "")                                                                  \
    X(JOB_LINK_CREW, "job.link-crew", "")                                                          \
    X(JOB_LINK_HOME, "job.link-home", "")                                                          \
    X(JOB_LINK_CREW_MAKE, "job.link-crew-make", "")                                                \
    X(JOB_LINK_CREW_OFF, "job.link-crew-off", "")                                                  \
    X(JOB_LINK_HOME_MAKE, "job.link-home-make", "")                                                \
    X(JOB_LINK_HOME_OFF, "job.link-home-off", "")                                                  \
    X(JOB_LINK_TAG, "job.link-tag", "")                                                            \
    X(JOB_LINK_SHEET, "job.link-sheet", "")                                                        \
    X(JOB_WARM_NOTE, "job.warm-note", "")                                                          \
    X(JOB_REST, "job.rest", "")                                                                    \
    X(JOB_TASK, "job.task", "")                                                                    \
    X(JOB_STATE, "job.state", "")                                                                  \
    X(JOB_DATE, "job.date", "")                                                                    \
    X(JOB_OPENS, "job.opens", "")                                                                  \
    X(JOB_STARTED, "job.started", "time")                                                          \
    X(JOB_DONE, "job.done", "time")                                                                \
    X(JOB_HELD, "job.held", "")                                                                    \
    X(JOB_STOPPED_AT, "job.stopped-at", "time")                                                    \
    X(JOB_ACCEPTED_BY, "job.accepted-by", "name")                                                  \
    X(JOB_ASSUMES, "job.assumes", "list")                                                          \
    X(JOB_STRUCK, "job.struck", "have time unit")                                                  \
    X(JOB_STRUCK_WHY, "job.struck-why", "kind")                                                    \
    X(JOB_DAY, "job.day", "")                                                                      \
    X(JOB_MEAN_MIN, "job.mean-min", "mean min")                                                    \
    X(JOB_DAYS_CAPTION, "job.days-caption", "")                                                    \
    X(JOB_TAKEN, "job.taken", "time")                                                              \
    X(JOB_RECEIVED, "job.received", "time")                                                        \
    X(JOB_BY, "job.by", "name")                                                                    \
    X(JOB_WRITTEN_BY, "job.written-by", "name")                                                    \
    X(JOB_CORRECTS, "job.corrects", "id")                                                          \
    X(JOB_WITHDRAWN, "job.withdrawn", "")                                                          \
    X(JOB_CORRECTED, "job.corrected", "")                                                          \
    X(JOB_NO_FIRE_DATE, "job.no-fire-date", "")                                                    \
    X(JOB_HOURS, "job.hours", "hours")                                                             \
    X(JOB_PLACE_NOTE, "job.place-note", "base place")                                              \
    X(JOB_MORE_RECORDS, "job.more-records", "n")                                                   \
    X(JOB_NOW_READS, "job.now-reads", "value")                                                     \
    X(JOB_STRIP, "job.strip", "")                                                                  \
    WORD_PICTURE_LIST(X)                                                                           \
    X(FORM_READING, "form.reading", "")                                                            \
    X(FORM_TASK, "form.task", "")                                                                  \
    X(FORM_SHELTER, "form.shelter", "")                                                            \
    X(FORM_LOOK, "form.look", "")                                                                  \
    X(FORM_MEND, "form.mend", "")                                                                  \
    X(FORM_INSPECTION, "form.inspection", "")                                                      \
    X(FORM_LOGGED_DAY, "form.logged-day", "")                                                      \
    X(FORM_AGREE, "form.agree", "")                                                                \
    X(FORM_NOTE, "form.note", "")                                                                  \
    X(FORM_BAG, "form.bag", "")                                                                    \
    X(FORM_PART, "form.part", "")                                                                  \
    X(FORM_HOW, "form.how", "")                                                                    \
    X(FORM_DEGREES, "form.degrees", "")                                                            \
    X(FORM_SCALE, "form.scale", "")                                                                \
    X(FORM_WHEN, "form.when", "")                                                                  \
    X(FORM_WHEN_NOW, "form.when-now", "")                                                          \
    X(FORM_BY, "form.by", "")                                                                      \
    X(FORM_WHAT, "form.what", "")                                                                  \
    X(FORM_TASK_NAME, "form.task-name", "")                                                        \
    X(FORM_WHY, "form.why", "")                                                                    \
    X(FORM_SHELTER_KIND, "form.shelter-kind", "")                                                  \
    X(FORM_RESULT, "form.result", "")                                                              \
    X(FORM_STANDING, "form.standing", "")                                                          \
    X(FORM_DAYS, "form.days", "")                                                                  \
    X(FORM_INITIALS, "form.initials", "")                                                          \
    X(FORM_PANEL, "form.panel", "")                                                                \
    X(FORM_PERCENT, "form.percent", "")                                                            \
    X(FORM_LAST, "form.last", "")                                                                  \
    X(FORM_DATE, "form.date", "")                                                                  \
    X(FORM_MEAN, "form.mean", "")                                                                  \
    X(FORM_MIN, "form.min", "")                                                                    \
    X(FORM_INSPECTOR, "form.inspector", "")                                                        \
    X(FORM_REASON, "form.reason", "")                                                              \
    X(FORM_NOTE_TEXT, "form.note-text", "")                                                        \
    X(FORM_NONE, "form.none", "")                                                                  \
    X(FORM_SEND, "form.send", "")                                                                  \
    X(FORM_AGREE_SEND, "form.agree-send", "")                                                      \
    X(FORM_READ, "form.read", "")                                                                  \
    X(FORM_STOP_WHY, "form.stop-why", "")                                                          \
    X(FORM_LOT, "form.lot", "")                                                                    \
    X(FORM_MORTAR, "form.mortar", "")                                                              \
    X(FORM_BAG_MIN, "form.bag-min", "")                                                            \
    X(FORM_MADE_ON, "form.made-on", "")                                                            \
    X(FORM_MONTHS, "form.months", "")                                                              \
    X(FORM_AGREE_NOTE, "form.agree-note", "")                                                      \
    X(FORM_AGREE_LEAST, "form.agree-least", "date")                                                \
    X(CREW_TITLE, "crew.title", "")                                                                \
    X(CREW_DO, "crew.do", "")                                                                      \
    X(CREW_DO_NOT, "crew.do-not", "")                                                              \
    X(CREW_BEFORE_LEAVE, "crew.before-leave", "")                                                  \
    X(CREW_WEATHER, "crew.weather", "")                                                            \
    X(CREW_NOT_BEFORE, "crew.not-before", "time")                                                  \
    X(CREW_NOTHING, "crew.nothing", "")                                                            \
    X(CREW_NO_JOBS, "crew.no-jobs", "")                                                            \
    X(CREW_TEMP, "crew.temp", "")                                                                  \
    X(CREW_RAIN, "crew.rain", "")                                                                  \
    X(CREW_GUST, "crew.gust", "")                                                                  \
    X(CREW_DRY, "crew.dry", "")                                                                    \
    X(CREW_NO_WEATHER, "crew.no-weather", "")                                                      \
    X(CREW_HOUR, "crew.hour", "")                                                                  \
    X(CREW_TOMORROW_INSPECTION, "crew.tomorrow-inspection", "task")                                \
    X(CREW_BAG_LIFE, "crew.bag-life", "")                                                          \
    X(CREW_SHEET, "crew.sheet", "")                                                                \
    X(CREW_LAST_READING, "crew.last-reading", "time value")                                        \
    X(CREW_WRONG, "crew.wrong", "phone")                                                           \
    X(CREW_MATERIALS, "crew.materials", "list")                                                    \
    X(CREW_TOOLS, "crew.tools", "")                                                                \
    X(CREW_DAY, "crew.day", "date")                                                                \
    X(CREW_WRITE, "crew.write", "")                                                                \
    X(CREW_NAME_TAP, "crew.name-tap", "")                                                          \
    X(CREW_NAME_OTHER, "crew.name-other", "")                                                      \
    X(CREW_TEMPERATURE, "crew.temperature", "")                                                    \
    X(CREW_SOMETHING_WRONG, "crew.something-wrong", "")                                            \
    X(CREW_BOSS, "crew.boss", "")                                                                  \
    X(CREW_COVER, "crew.cover", "")                                                                \
    X(CREW_MORE, "crew.more", "")                                                                  \
    X(CREW_WORDS, "crew.words", "")                                                                \
    X(CREW_WORDS_ADD, "crew.words-add", "")                                                        \
    X(CREW_MINE, "crew.mine", "")                                                                  \
    X(CREW_MINE_NONE, "crew.mine-none", "")                                                        \
    X(CREW_WAITING, "crew.waiting", "n")                                                           \
    X(CREW_ITEM_SENT, "crew.item-sent", "")                                                        \
    X(CREW_ITEM_WAITS, "crew.item-waits", "")                                                      \
    X(CREW_ITEM_REFUSED, "crew.item-refused", "")                                                  \
    X(CREW_ITEM_UNDONE, "crew.item-undone", "")                                                    \
    X(CREW_ITEM_CORRECTED, "crew.item-corrected", "")                                              \
    X(CREW_UNDO, "crew.undo", "")                                                                  \
    X(CREW_CORRECT, "crew.correct", "")                                                            \
    X(CREW_TAKE_BACK, "crew.take-back", "")                                                        \
    X(CREW_AGAIN, "crew.again", "")                                                                \
    X(CREW_WITHOUT_PHOTO, "crew.without-photo", "")                                                \
    X(CREW_WHY_LINK, "crew.why-link", "")                                                          \
    X(CREW_WHY_JOB, "crew.why-job", "")                                                            \
    X(CREW_WHY_CLASH, "crew.why-clash", "")                                                        \
    X(CREW_WHY_FIELD, "crew.why-field", "what")                                                    \
    X(CREW_WHY_ROOM, "crew.why-room", "")                                                          \
    X(CREW_WHY_PHOTO, "crew.why-photo", "")                                                        \
    X(CREW_CLOCK, "crew.clock", "n")                                                               \
    X(CREW_PLAIN_HTTP, "crew.plain-http", "")                                                      \
    X(CREW_NO_STORE, "crew.no-store", "")                                                          \
    X(CREW_READY, "crew.ready", "")                                                                \
    X(CREW_DEGREES_WRONG, "crew.degrees-wrong", "")                                                \
    X(CREW_FIELD_WRONG, "crew.field-wrong", "field")                                               \
    X(CREW_TIME_WRONG, "crew.time-wrong", "")                                                      \
    X(CREW_OTHER_WRONG, "crew.other-wrong", "")                                                    \
    X(CREW_ERASE, "crew.erase", "")                                                                \
    X(CREW_BAG_POT, "crew.bag-pot", "n")                                                           \
    X(CREW_NO_NAME, "crew.no-name", "")                                                            \
    X(CREW_NO_DEGREES, "crew.no-degrees", "")                                                      \
    X(CREW_NO_WHY, "crew.no-why", "")                                                              \
    X(CREW_NO_CHOICE, "crew.no-choice", "")                                                        \
    X(SAYS_MEAN_WIND, "says.mean-wind", "says")                                                    \
    X(SAYS_MEASURE, "says.measure", "do why")                                                      \
    X(CREW_MEASURES, "crew.measures", "")                                                          \
    X(CREW_GATE_HOURS, "crew.gate-hours", "from until why")                                        \
    X(CREW_BUCKET, "crew.bucket", "min")                                                           \
    X(YARD_TONIGHT_BEFORE, "yard.tonight-before", "time")                                          \
    X(YARD_TONIGHT_LATE, "yard.tonight-late", "")                                                  \
    X(YARD_TONIGHT_COVERED, "yard.tonight-covered", "")                                            \
    X(YARD_TONIGHT_ALARM, "yard.tonight-alarm", "")                                                \
    X(YARD_TONIGHT_NOBODY, "yard.tonight-nobody", "")                                              \
    X(YARD_POUR_NO, "yard.pour-no", "why")                                                         \
    X(YARD_HALF_DAYS, "yard.half-days", "")                                                        \
    X(YARD_HALF_DAY, "yard.half-day", "date half hours of task why")                               \
    X(YARD_HALF_MORNING, "yard.half-morning", "")                                                  \
    X(YARD_HALF_AFTERNOON, "yard.half-afternoon", "")                                              \
    X(CREW_CLOSED_IN, "crew.closed-in", "")                                                        \
    X(CREW_OPENED, "crew.opened", "")                                                              \
    X(HOME_TITLE, "home.title", "")                                                                \
    X(HOME_WHERE, "home.where", "")                                                                \
    X(HOME_STAGE_QUOTED, "home.stage-quoted", "")                                                  \
    X(HOME_STAGE_PERMIT, "home.stage-permit", "")                                                  \
    X(HOME_STAGE_BASE, "home.stage-base", "")                                                      \
    X(HOME_STAGE_BOX, "home.stage-box", "")                                                        \
    X(HOME_STAGE_STACK, "home.stage-stack", "")                                                    \
    X(HOME_STAGE_LINING, "home.stage-lining", "")                                                  \
    X(HOME_STAGE_FACING, "home.stage-facing", "")                                                  \
    X(HOME_STAGE_DRYING, "home.stage-drying", "")                                                  \
    X(HOME_STAGE_FIRST_FIRES, "home.stage-first-fires", "")                                        \
    X(HOME_STAGE_CLOSED, "home.stage-closed", "")                                                  \
    X(HOME_STAGE_ON_HOLD, "home.stage-on-hold", "")                                                \
    X(HOME_COUNTED, "home.counted", "have need")                                                   \
    X(HOME_NO_DATE, "home.no-date", "")                                                            \
    X(HOME_NO_DATE_WHY, "home.no-date-why", "")                                                    \
    X(HOME_MOVED, "home.moved", "")                                                                \
    X(HOME_MOVED_LINE, "home.moved-line", "when")                                                  \
    X(HOME_NEXT, "home.next", "")                                                                  \
    X(HOME_NEXT_FIRE, "home.next-fire", "")                                                        \
    X(HOME_PLEASE, "home.please", "")                                                              \
    X(HOME_DO_NOT, "home.do-not", "")                                                              \
    X(HOME_DO_NOT_LIGHT, "home.do-not-light", "")                                                  \
    X(HOME_DO_NOT_TAG, "home.do-not-tag", "")                                                      \
    X(HOME_DO_NOT_STORE, "home.do-not-store", "")                                                  \
    X(HOME_FIRES, "home.fires", "")                                                                \
    X(HOME_FIRES_NOTE, "home.fires-note", "")                                                      \
    X(HOME_FIRE_NEXT, "home.fire-next", "n")                                                       \
    X(HOME_FIRE_LOOK, "home.fire-look", "")                                                        \
    X(HOME_FIRE_REST, "home.fire-rest", "")                                                        \
    X(HOME_FIRE_BACK, "home.fire-back", "")                                                        \
    X(HOME_FIRE_EXTRA, "home.fire-extra", "")                                                      \
    X(HOME_FIRE_N, "home.fire-n", "n")                                                             \
    X(HOME_FIRE_DONE, "home.fire-done", "")                                                        \
    X(HOME_FIRE_DAY, "home.fire-day", "")                                                          \
    X(HOME_STOP, "home.stop", "")                                                                  \
    X(HOME_STOP_THEN, "home.stop-then", "")                                                        \
    X(HOME_CARE, "home.care", "")                                                                  \
    X(HOME_CALL, "home.call", "")                                                                  \
    X(HOME_CALL_NONE, "home.call-none", "")                                                        \
    X(TAG_BIG, "tag.big", "")                                                                      \
    X(TAG_PERMISSION, "tag.permission", "")                                                        \
    X(TAG_WHY, "tag.why", "")                                                                      \
    X(TAG_STORE, "tag.store", "")                                                                  \
    X(TAG_SCAN, "tag.scan", "")                                                                    \
    X(TAG_INITIALS, "tag.initials", "")                                                            \
    X(TAG_TITLE, "tag.title", "")                                                                  \
    X(SHEET_TITLE, "sheet.title", "")                                                              \
    X(SHEET_READINGS, "sheet.readings", "")                                                        \
    X(SHEET_TIMES, "sheet.times", "")                                                              \
    X(SHEET_PAPER, "sheet.paper", "time")                                                          \
    X(PROBLEM_TITLE, "problem.title", "")                                                          \
    X(PROBLEM_NOT_FOUND, "problem.not-found", "")                                                  \
    X(PROBLEM_DENIED, "problem.denied", "")                                                        \
    X(PROBLEM_BUSY, "problem.busy", "")                                                            \
    X(PROBLEM_OTHER, "problem.other", "")

/* Words for every value of a vocabulary: name, key prefix, id table, placeholders they may use. */
#define WORD_SET_LIST(X)                                                                           \
    X(TASK, "task.", task_ids, "")                                                                 \
    X(STATE, "state.", task_state_ids, "")                                                         \
    X(CLOCK, "clock.", clock_ids, "")                                                              \
    X(CLOCK_STATE, "clock-state.", clock_state_ids, "")                                            \
    X(PART, "part.", part_ids, "")                                                                 \
    X(HOW, "how.", reading_how_ids, "")                                                            \
    X(SHELTER, "shelter.", shelter_ids, "")                                                        \
    X(KIND, "kind.", record_kind_ids, "")                                                          \
    X(RESULT, "result.", result_ids, "")                                                           \
    X(RELAID, "relaid.", relaid_what_ids, "")                                                      \
    X(WHY, "why.", stop_why_ids, "")                                                               \
    X(MORTAR, "mortar.", mortar_ids, "")                                                           \
    X(UNIT, "unit.", unit_ids, "")                                                                 \
    X(MARK, "mark.", mark_ids, "")                                                                 \
    X(BASE, "base.", base_ids, "")                                                                 \
    X(PLACE, "place.", place_ids, "")                                                              \
    X(QUANTITY, "quantity.", quantity_ids, "")                                                     \
    X(DAY, "day.", day_reason_ids, "")                                                             \
    X(HOUR, "hour.", hour_class_ids, "")                                                           \
    X(HOUR_WHY, "hour-why.", hour_why_ids, "")                                                     \
    X(REST, "rest.", hour_rest_ids, "")                                                            \
    X(REASON, "reason.", reason_ids, "clock task until check evidence by lot bag")                 \
    X(LANGUAGE, "language.", language_ids, "")                                                     \
    X(PAD_OPTION, "pad-option.", pad_option_ids, "")                                               \
    X(SETTING_OUT, "setting-out.", setting_out_ids, "")                                            \
    X(LIGHTER, "lighter.", lighter_ids, "")                                                        \
    X(LINING, "lining-option.", lining_option_ids, "")                                             \
    X(FACING, "facing-option.", facing_option_ids, "")                                             \
    X(MIX, "mix.", mix_ids, "")                                                                    \
    X(LOAD, "load.", crew_load_ids, "")                                                            \
    X(UNPLACED, "unplaced.", crew_unplaced_ids, "")                                                \
    X(CAUTION, "caution.", caution_ids, "time task value quantity by lot bag clock check")         \
    X(CHECK_OF, "check.", check_ids, "")                                                           \
    X(MEASURE, "measure.", check_unit_ids, "")                                                     \
    X(EVIDENCE, "evidence.", evidence_ids, "")                                                     \
    X(CHECK_STATE, "check-state.", check_state_ids, "")                                            \
    X(BASIS, "basis.", basis_ids, "")                                                              \
    X(BAG_STATE, "bag-state.", bag_state_ids, "")                                                  \
    X(CHECK, "check.", task_ids, "")                                                               \
    X(ASSUME, "assume.", assume_word_ids, "age degrees time")                                      \
    X(BLOCK, "block.", block_word_ids, "")                                                         \
    X(GATE_STATE, "gate-state.", gate_state_ids, "")                                               \
    X(GATE_RULE, "gate-rule.", gate_rule_ids, "value limit")                                       \
    X(WEATHER_DO, "weather-do.", measure_id_ids, "")                                               \
    X(TONIGHT, "tonight.", tonight_ids, "")                                                        \
    X(STAGE, "stage.", stage_ids, "")                                                              \
    X(WEEKDAY, "weekday.", weekday_ids, "")                                                        \
    X(MONTH, "month.", month_ids, "")                                                              \
    X(MATERIAL, "material.", material_ids, "")                                                     \
    X(TOOL, "tool.", tool_ids, "")

#define WORDS_ENUM_WORD(name, key, args) WORD_##name,
enum word { WORD_LIST(WORDS_ENUM_WORD) WORD_COUNT };
#define WORDS_ENUM_SET(name, prefix, table, args) WORD_SET_##name,
enum word_set { WORD_SET_LIST(WORDS_ENUM_SET) WORD_SET_COUNT };

/** Vocabularies that only the views have: assume bits, fire block bits, weekdays, months. */
extern const struct id_table assume_word_ids, block_word_ids, weekday_ids, month_ids;

/** The words of one language. Immutable once loaded; may be read by many threads. */
struct words;

/**
 * Read the words of a language.
 *
 * @param[out] out        Own; free with words_free. NULL on any fault.
 * @param[in]  directory  Folder that holds <language>.json, e.g. `…/schema/words`.
 * @param[in]  language   `en` or `es`.
 * @param[out] faults     Every key missing, unknown, empty, or with an unknown placeholder; or
 * NULL. Status: OK, INVALID (faults), NOT_FOUND (no such file), IO.
 */
MUST_USE enum status words_load(struct words **out, const char *directory, const char *language,
                                struct faults *faults);
/** Free the words; NULL is allowed. */
void words_free(struct words *words);
/** `en` or `es`. Borrow. */
const char *words_language(const struct words *words);
/** The text of a single key. Borrow; never NULL or empty. */
const char *words_get(const struct words *words, enum word word);
/** The text for a value of a vocabulary; a value outside it is a bug (REQUIRE). Borrow. */
const char *words_of(const struct words *words, enum word_set set, int value);

/** One placeholder and what stands in for it; a NULL text counts as empty. */
struct word_arg {
    const char *name;
    const char *text;
};

/**
 * Write a template with its {placeholders} filled. Plain text: escape it for HTML afterwards.
 *
 * @param[in,out] out       Appended to.
 * @param[in]     template  From words_get or words_of.
 * @param[in]     args      Every placeholder of the template; one that is missing is a bug.
 * @param[in]     count     Number of args.
 */
void words_fill(struct text *out, const char *template, const struct word_arg *args, size_t count);

/** words_fill of a single key: `WORDS_SAY(out, words, WORD_X, {"n", "3"});` at least one arg. */
#define WORDS_SAY(out, words, word, ...)                                                           \
    words_fill((out), words_get((words), (word)), (const struct word_arg[]){__VA_ARGS__},          \
               sizeof((const struct word_arg[]){__VA_ARGS__}) / sizeof(struct word_arg))

#endif
