/* SPDX-License-Identifier: MIT */
/* The words of the door and of the page of people and links; see words.h. */
#ifndef EMBERWAIT_VIEWS_WORDS_PEOPLE_H
#define EMBERWAIT_VIEWS_WORDS_PEOPLE_H

#define WORD_PEOPLE_LIST(X)                                                                        \
    X(SIGN_TITLE, "sign.title", "")                                                                \
    X(SIGN_NAME, "sign.name", "")                                                                  \
    X(SIGN_PASSWORD, "sign.password", "")                                                          \
    X(SIGN_WRONG, "sign.wrong", "")                                                                \
    X(SIGN_WAIT, "sign.wait", "minutes")                                                           \
    X(SIGN_AS, "sign.as", "name")                                                                  \
    X(SIGN_OUT, "sign.out", "")                                                                    \
    X(SIGN_DEMO, "sign.demo", "name")                                                              \
    X(PEOPLE_TITLE, "people.title", "")                                                            \
    X(PEOPLE_FIRST, "people.first", "")                                                            \
    X(PEOPLE_WHO, "people.who", "")                                                                \
    X(PEOPLE_NAME, "people.name", "")                                                              \
    X(PEOPLE_ROLE, "people.role", "")                                                              \
    X(PEOPLE_ROLE_OWNER, "people.role-owner", "")                                                  \
    X(PEOPLE_ROLE_OFFICE, "people.role-office", "")                                                \
    X(PEOPLE_ROLE_STATION, "people.role-station", "")                                              \
    X(PEOPLE_SEEN, "people.seen", "time")                                                          \
    X(PEOPLE_NEVER, "people.never", "")                                                            \
    X(PEOPLE_SESSIONS, "people.sessions", "n")                                                     \
    X(PEOPLE_TOKENS, "people.tokens", "n")                                                         \
    X(PEOPLE_SHUT, "people.shut", "time")                                                          \
    X(PEOPLE_REVOKE, "people.revoke", "")                                                          \
    X(PEOPLE_EVERYWHERE, "people.everywhere", "")                                                  \
    X(PEOPLE_NEW_PASSWORD, "people.new-password", "")                                              \
    X(PEOPLE_SET, "people.set", "")                                                                \
    X(PEOPLE_TOKEN, "people.token", "")                                                            \
    X(PEOPLE_TOKEN_IS, "people.token-is", "name")                                                  \
    X(PEOPLE_ADD, "people.add", "")                                                                \
    X(PEOPLE_LINKS, "people.links", "")                                                            \
    X(PEOPLE_LINKS_SAY, "people.links-say", "")                                                    \
    X(PEOPLE_CREW, "people.crew", "")                                                              \
    X(PEOPLE_PHONE, "people.phone", "")                                                            \
    X(PEOPLE_NOBODYS, "people.nobodys", "")                                                        \
    X(PEOPLE_NOT_USED, "people.not-used", "")                                                      \
    X(PEOPLE_LINK_MAKE, "people.link-make", "")                                                    \
    X(PEOPLE_LINK_OFF, "people.link-off", "")                                                      \
    X(SIGN_ENTER, "sign.enter", "")                                                                \
    X(PEOPLE_CODE, "people.code", "")                                                              \
    X(PEOPLE_CODE_SAY, "people.code-say", "name")                                                  \
    X(NAV_PEOPLE, "nav.people", "")

#endif
