/* SPDX-License-Identifier: MIT */
/* A page of people and links as tests show it; every name is our own invention. */
#ifndef EMBERWAIT_TESTS_PEOPLE_SAMPLE_H
#define EMBERWAIT_TESTS_PEOPLE_SAMPLE_H

#include "model/record.h"
#include "views/people.h"

/** `now_s` is the page's. The model lives until the next call. */
static inline const struct people *people_sample(int64_t now_s)
{
    enum { DAY_S = 86400 };
    static struct people_person persons[4];
    static struct people_link links[2];
    static struct people people;
    persons[0] = (struct people_person){"Ada Bells", PEOPLE_OWNER, INSTANT_NONE, now_s - 60, 2, 1};
    persons[1] = (struct people_person){"Ben <b>", PEOPLE_OFFICE, INSTANT_NONE, INSTANT_NONE, 0, 0};
    persons[2] =
        (struct people_person){"forecast", PEOPLE_STATION, INSTANT_NONE, now_s - DAY_S, 0, 1};
    persons[3] =
        (struct people_person){"Old Hand", PEOPLE_OFFICE, now_s - 9 * DAY_S, INSTANT_NONE, 0, 0};
    links[0] = (struct people_link){"north", "Luis", "token-of-luis", now_s - DAY_S, now_s - 300};
    links[1] = (struct people_link){"north", NULL, "token-of-nobody", now_s - DAY_S, INSTANT_NONE};
    people = (struct people){.people = persons,
                             .person_count = 4,
                             .links = links,
                             .link_count = 2,
                             .new_token = "token-shown-once",
                             .token_name = "forecast",
                             .code = &links[0]};
    return &people;
}

#endif
