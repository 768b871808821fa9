/* SPDX-License-Identifier: MIT */
/* The owner's page of people and links, `GET /people`. */
#ifndef EMBERWAIT_VIEWS_PEOPLE_H
#define EMBERWAIT_VIEWS_PEOPLE_H

#include "views/page.h"

enum people_role { PEOPLE_OWNER, PEOPLE_OFFICE, PEOPLE_STATION };

/** Somebody who signs in, or did. */
struct people_person {
    const char *name;
    enum people_role role;
    int64_t revoked_s; /**< INSTANT_NONE: may come in */
    int64_t seen_s;    /**< INSTANT_NONE: not signed in */
    int sessions;
    int tokens;
};

/** The open link of a crew's phone. */
struct people_link {
    const char *crew_id;
    const char *phone; /**< NULL: nobody's */
    const char *token;
    int64_t made_s;
    int64_t seen_s; /**< INSTANT_NONE: never */
};

struct people {
    const struct people_person *people; /**< shape [person_count] */
    size_t person_count;
    const struct people_link *links; /**< shape [link_count] */
    size_t link_count;
    const char *new_token;          /**< of a script, shown this once; NULL: none */
    const char *token_name;         /**< whose */
    const struct fault *fault;      /**< what was wrong with the form; NULL: nothing */
    const char *typed_name;         /**< of a form that was refused; NULL: nothing */
    const struct people_link *code; /**< shown as a code to scan; NULL: none */
    const char *failed_action;      /**< its field `action`; NULL: none was refused */
};

/** Forms post `action` (add, revoke, sign-out, password, token, link, link-off) to /people. */
void html_people(struct text *out, const struct page *page, const struct people *people);

#endif
