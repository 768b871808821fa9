/* SPDX-License-Identifier: MIT */
/* Words of the owner's screens, of messages, calendars, paper and spreadsheets: a part of WORD_LIST
 * in words.h. */
#ifndef EMBERWAIT_VIEWS_WORDS_OFFICE_H
#define EMBERWAIT_VIEWS_WORDS_OFFICE_H

#define WORD_OFFICE_LIST(X)                                                                        \
    X(ALARM_TITLE, "alarm.title", "")                                                              \
    X(ALARM_NOT_YET, "alarm.not-yet", "clock until")                                               \
    X(ALARM_FROST, "alarm.frost", "until")                                                         \
    X(ALARM_WITHDRAWN, "alarm.withdrawn", "date")                                                  \
    X(ALARM_MISSED, "alarm.missed", "task")                                                        \
    X(ALARM_FOUND, "alarm.found", "time")                                                          \
    X(ALARM_OVER, "alarm.over", "time")                                                            \
    X(ALARM_SEEN, "alarm.seen", "")                                                                \
    X(ALARM_SUBJECT, "alarm.subject", "job")                                                       \
    X(ALARM_TAIL, "alarm.tail", "time")                                                            \
    X(MAIL_HELLO, "mail.hello", "name")                                                            \
    X(MAIL_HELLO_NONE, "mail.hello-none", "")                                                      \
    X(MAIL_SUBJECT, "mail.subject", "")                                                            \
    X(MAIL_BECAUSE, "mail.because", "reason")                                                      \
    X(MAIL_COUNTED, "mail.counted", "have need")                                                   \
    X(MAIL_UNCHANGED, "mail.unchanged", "")                                                        \
    X(MAIL_PAGE, "mail.page", "url")                                                               \
    X(MAIL_DATED, "mail.dated", "date")                                                            \
    X(MAIL_CALL, "mail.call", "phone")                                                             \
    X(TELL_TITLE, "tell.title", "")                                                                \
    X(TELL_JOB, "tell.job", "")                                                                    \
    X(TELL_TO, "tell.to", "address")                                                               \
    X(TELL_NO_ADDRESS, "tell.no-address", "")                                                      \
    X(TELL_SUBJECT, "tell.subject", "")                                                            \
    X(TELL_BODY, "tell.body", "")                                                                  \
    X(TELL_SEND, "tell.send", "")                                                                  \
    X(TELL_COPY, "tell.copy", "")                                                                  \
    X(TELL_EARLIER, "tell.earlier", "")                                                            \
    X(TELL_WAITS, "tell.waits", "")                                                                \
    X(TELL_LEFT, "tell.left", "time")                                                              \
    X(PROOF_TITLE, "proof.title", "")                                                              \
    X(PROOF_AS_OF, "proof.as-of", "time")                                                          \
    X(PROOF_NOT_STRENGTH, "proof.not-strength", "")                                                \
    X(PROOF_MISSING, "proof.missing", "")                                                          \
    X(PROOF_NOT_DONE, "proof.not-done", "")                                                        \
    X(PROOF_NOT_PASSED, "proof.not-passed", "")                                                    \
    X(PROOF_NO_MEASURES, "proof.no-measures", "")                                                  \
    X(PROOF_NO_PHOTO, "proof.no-photo", "")                                                        \
    X(PROOF_WAITS, "proof.waits", "")                                                              \
    X(PROOF_WAIT, "proof.wait", "")                                                                \
    X(PROOF_BEGAN, "proof.began", "")                                                              \
    X(PROOF_STATE, "proof.state", "")                                                              \
    X(PROOF_FIGURES, "proof.figures", "")                                                          \
    X(PROOF_BOTH, "proof.both", "")                                                                \
    X(PROOF_RULE, "proof.rule", "")                                                                \
    X(PROOF_STRUCK, "proof.struck", "")                                                            \
    X(PROOF_WORK, "proof.work", "")                                                                \
    X(PROOF_TASK, "proof.task", "")                                                                \
    X(PROOF_DONE_AT, "proof.done-at", "")                                                          \
    X(PROOF_PASSED_BY, "proof.passed-by", "")                                                      \
    X(PROOF_CHECKS, "proof.checks", "")                                                            \
    X(PROOF_NO_ANSWER, "proof.no-answer", "")                                                      \
    X(PROOF_YES, "proof.yes", "")                                                                  \
    X(PROOF_NO, "proof.no", "")                                                                    \
    X(PROOF_ACCEPTED_BY, "proof.accepted-by", "name")                                              \
    X(PROOF_PHOTOS, "proof.photos", "")                                                            \
    X(PROOF_PHOTO, "proof.photo", "")                                                              \
    X(PROOF_RECORDS, "proof.records", "")                                                          \
    X(PROOF_NUMBER, "proof.number", "")                                                            \
    X(PROOF_HAPPENED, "proof.happened", "")                                                        \
    X(PROOF_RECEIVED, "proof.received", "")                                                        \
    X(PROOF_BY, "proof.by", "")                                                                    \
    X(PROOF_SAYS, "proof.says", "")                                                                \
    X(PROOF_MARK, "proof.mark", "")                                                                \
    X(PROOF_CHAIN, "proof.chain", "")                                                              \
    X(PROOF_CHAIN_SAYS, "proof.chain-says", "")                                                    \
    X(PROOF_TIP, "proof.tip", "n")                                                                 \
    X(LETTER_TITLE, "letter.title", "")                                                            \
    X(LETTER_PLEASE, "letter.please", "")                                                          \
    X(LETTER_STALE, "letter.stale", "date")                                                        \
    X(FIRE_SHEET_TITLE, "fire-sheet.title", "")                                                    \
    X(FIRE_SHEET_BIG, "fire-sheet.big", "")                                                        \
    X(FIRE_SHEET_WITH_US, "fire-sheet.with-us", "")                                                \
    X(FIRE_SHEET_STALE, "fire-sheet.stale", "date")                                                \
    X(IMPORT_TITLE, "import.title", "")                                                            \
    X(IMPORT_HOW, "import.how", "")                                                                \
    X(IMPORT_WHAT, "import.what", "")                                                              \
    X(IMPORT_JOBS, "import.jobs", "")                                                              \
    X(IMPORT_RECORDS, "import.records", "")                                                        \
    X(IMPORT_JOBS_OUT, "import.jobs-out", "")                                                      \
    X(IMPORT_RECORDS_OUT, "import.records-out", "")                                                \
    X(IMPORT_PASTE, "import.paste", "")                                                            \
    X(IMPORT_LOOK, "import.look", "")                                                              \
    X(IMPORT_KEEP, "import.keep", "")                                                              \
    X(IMPORT_REFUSED, "import.refused", "")                                                        \
    X(IMPORT_KEPT, "import.kept", "")                                                              \
    X(IMPORT_WOULD, "import.would", "")                                                            \
    X(IMPORT_LINE, "import.line", "")                                                              \
    X(IMPORT_JOB, "import.job", "")                                                                \
    X(IMPORT_BECOMES, "import.becomes", "")                                                        \
    X(IMPORT_NEW, "import.new", "cells records")                                                   \
    X(IMPORT_THERE, "import.there", "cells records")                                               \
    X(FEED_OWNER, "feed.owner", "")                                                                \
    X(FEED_DATE_GIVEN, "feed.date-given", "")                                                      \
    X(FEED_TAKEN_BACK, "feed.taken-back", "")                                                      \
    X(FEED_STALE, "feed.stale", "")                                                                \
    X(NAV_RULES, "nav.rules", "")                                                                  \
    X(NAV_SCREENS, "nav.screens", "")                                                              \
    X(NAV_WEEKS, "nav.weeks", "")                                                                  \
    X(NAV_DATES, "nav.dates", "")                                                                  \
    X(NAV_ALL, "nav.all", "")                                                                      \
    X(NAV_SHEET, "nav.sheet", "")                                                                  \
    X(TODAY_MORE, "today.more", "n")                                                               \
    X(TODAY_NOBODY_OWED, "today.nobody-owed", "")                                                  \
    X(TODAY_MOVED_NONE, "today.moved-none", "")                                                    \
    X(TODAY_FIRST, "today.first", "n task")                                                        \
    X(TODAY_LOAD, "today.load", "list")                                                            \
    X(TODAY_NO_PHOTO, "today.no-photo", "")                                                        \
    X(TODAY_NO_PHOTO_SAYS, "today.no-photo-says", "task time")                                     \
    X(TODAY_CREW_DAY, "today.crew-day", "drive work")                                              \
    X(TODAY_FREE, "today.free", "hours list time")                                                 \
    X(NEW_INTRO, "new.intro", "")                                                                  \
    X(NEW_WHO, "new.who", "")                                                                      \
    X(NEW_SWITCHES, "new.switches", "")                                                            \
    X(NEW_QUANTITIES, "new.quantities", "")                                                        \
    X(NEW_SEND, "new.send", "")                                                                    \
    X(NEW_NAME, "new.name", "")                                                                    \
    X(NEW_ID, "new.id", "")                                                                        \
    X(NEW_ADDRESS, "new.address", "")                                                              \
    X(NEW_ACCESS, "new.access", "")                                                                \
    X(NEW_HOMEOWNER, "new.homeowner", "")                                                          \
    X(NEW_MAIL, "new.mail", "")                                                                    \
    X(NEW_LANGUAGE, "new.language", "")                                                            \
    X(NEW_CREW, "new.crew", "")                                                                    \
    X(NEW_STATION, "new.station", "")                                                              \
    X(NEW_WANTED, "new.wanted", "")                                                                \
    X(NEW_PLACE, "new.place", "")                                                                  \
    X(NEW_BASE, "new.base", "")                                                                    \
    X(NEW_PAD, "new.pad", "")                                                                      \
    X(NEW_PROPPED, "new.propped", "")                                                              \
    X(NEW_MIX, "new.mix", "")                                                                      \
    X(NEW_SETTING_OUT, "new.setting-out", "")                                                      \
    X(NEW_AIR, "new.air", "")                                                                      \
    X(NEW_LIGHTER, "new.lighter", "")                                                              \
    X(NEW_LINING, "new.lining", "")                                                                \
    X(NEW_FACING, "new.facing", "")                                                                \
    X(NEW_ROOF, "new.roof", "")                                                                    \
    X(NEW_PERMIT, "new.permit", "")                                                                \
    X(NEW_TOWN, "new.town", "")                                                                    \
    X(NEW_CUTOFF, "new.cutoff", "")                                                                \
    X(NEW_THROAT, "new.throat", "")                                                                \
    X(NEW_FLOOR, "new.floor", "")                                                                  \
    X(RULES_CHANGE, "rules.change", "")                                                            \
    X(RULES_LATER, "rules.later", "")                                                              \
    X(RULES_ID, "rules.id", "")                                                                    \
    X(RULES_VALUE, "rules.value", "")                                                              \
    X(RULES_REASON, "rules.reason", "")                                                            \
    X(RULES_SEND, "rules.send", "")                                                                \
    X(RULES_CHANGES, "rules.changes", "")                                                          \
    X(RULES_ONE, "rules.one", "by id time value")                                                  \
    X(TRY_BUTTON, "try.button", "")                                                                \
    X(TRY_TITLE, "try.title", "")                                                                  \
    X(TRY_NOTHING_KEPT, "try.nothing-kept", "")                                                    \
    X(TRY_STAYS, "try.stays", "date")                                                              \
    X(TRY_FROM_TO, "try.from-to", "now was")                                                       \
    X(TRY_NOW_PLANNED, "try.now-planned", "")                                                      \
    X(TRY_WOULD, "try.would", "")                                                                  \
    X(TRY_OTHERS, "try.others", "")                                                                \
    X(RULES_SAY, "rules.say", "")                                                                  \
    X(JOBS_NEW, "jobs.new", "")                                                                    \
    X(CALL_TITLE, "call.title", "")                                                                \
    X(CALL_VISIT, "call.visit", "date")                                                            \
    X(CALL_MISSED, "call.missed", "days end time")                                                 \
    X(CALL_LATER, "call.later", "")                                                                \
    X(CALL_NONE, "call.none", "")                                                                  \
    X(WEEKS_TITLE, "weeks.title", "")                                                              \
    X(WEEKS_WEEK, "weeks.week", "")                                                                \
    X(WEEKS_HAD, "weeks.had", "")                                                                  \
    X(WEEKS_NEEDED, "weeks.needed", "")                                                            \
    X(WEEKS_PLACED, "weeks.placed", "")                                                            \
    X(WEEKS_IDLE, "weeks.idle", "")                                                                \
    X(WEEKS_SHORT, "weeks.short", "")                                                              \
    X(WEEKS_CREWS, "weeks.crews", "")                                                              \
    X(WEEKS_DAY, "weeks.day", "")                                                                  \
    X(WEEKS_PROPOSAL, "weeks.proposal", "")                                                        \
    X(WEEKS_UNPLACED, "weeks.unplaced", "")                                                        \
    X(WEEKS_BAGS, "weeks.bags", "")                                                                \
    X(WEEKS_BAG, "weeks.bag", "date lot state")                                                    \
    X(WEEKS_BAG_JOBS, "weeks.bag-jobs", "list")                                                    \
    X(WEEKS_HALF_DAYS, "weeks.half-days", "")                                                      \
    X(FIRES_TITLE, "fires.title", "")                                                              \
    X(FIRES_LEFT, "fires.left", "")                                                                \
    X(FIRES_HELD_BY, "fires.held-by", "")                                                          \
    X(FIRES_THIN, "fires.thin", "")                                                                \
    X(FIRES_PROJECTED, "fires.projected", "")                                                      \
    X(FIRES_NONE, "fires.none", "")                                                                \
    X(DATES_TITLE, "dates.title", "")                                                              \
    X(DATES_JOB, "dates.job", "")                                                                  \
    X(DATES_WHO, "dates.who", "")                                                                  \
    X(DATES_STANDS, "dates.stands", "")                                                            \
    X(DATES_WITHDRAWN, "dates.withdrawn", "")                                                      \
    X(DATES_NOW, "dates.now", "")                                                                  \
    X(DATES_WAS, "dates.was", "")                                                                  \
    X(DATES_COMPUTED, "dates.computed", "")                                                        \
    X(DATES_NONE, "dates.none", "")

#endif
