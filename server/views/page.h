/* SPDX-License-Identifier: MIT */
/*
 * What a page is made from, and the pages. A page is a pure function of its model: it appends one
 * whole HTML document to a text and asks nobody for anything, so that the same model gives the same
 * bytes and a test can hold them. Everything is escaped; there is no inline script or style, and
 * each page does its job with no JavaScript at all. After a page, check text_status.
 */
#ifndef EMBERWAIT_VIEWS_PAGE_H
#define EMBERWAIT_VIEWS_PAGE_H

#include <stddef.h>
#include <stdint.h>

#include "base/status.h"
#include "base/text.h"
#include "model/alarm.h"
#include "model/plan.h"
#include "views/form.h"
#include "views/words.h"

enum {
    PAGE_SEED_BYTES = 16,
    PAGE_BYTES_MAX =
        4 << 20, /**< a good limit for the text of a page: `TEXT_UP_TO(PAGE_BYTES_MAX)` */
};

/** A form that was refused: shown again with what was typed and what was wrong. */
struct form_echo {
    const char *form; /**< the posted field `form`, e.g. "reading" */
    const char *job_id;
    const struct form_field *fields;
    size_t field_count;
    const struct fault *faults; /**< path = name of a field */
    size_t fault_count;
};

/** What every page needs. All pointers are borrowed for the call. */
struct page {
    const struct words *words;     /**< the language of the page */
    int64_t now_s;                 /**< "as of": the `now` of the plan */
    const struct company *company; /**< its zone shows the as-of time; its phone is shown */
    const char
        *base_url;    /**< scheme and host for links on paper, no slash at the end; NULL: none */
    const char *path; /**< path of this page, for the language switch and the way back */
    const char *csrf; /**< put into every form as `csrf`; NULL: not put */
    const char *signed_in; /**< who has a way out at the top; NULL: nobody */
    bool people;           /**< whoever looks may go to the page of people */
    const char *demo;      /**< the owner of a show, said at the top; NULL: no show */
    bool forms;            /**< false: the page is shown without its forms */
    unsigned char
        form_seed[PAGE_SEED_BYTES]; /**< fresh random bytes: makes the forms' record ids */
    const struct form_echo *echo;   /**< NULL: no form was refused */
    const char *const *names;       /**< crew page: whose phones, this one's first */
    size_t name_count;
    enum word notice;                /**< WORD_COUNT: none; e.g. WORD_PAGE_SENT after a redirect */
    const struct alarm_list *alarms; /**< NULL: none are shown */
};

/** A computed fire date that moved, for the morning page. */
struct date_change {
    const struct job_plan *job;
    int32_t was_day;             /**< DAY_NONE: none */
    int32_t now_day;             /**< DAY_NONE: none */
    const struct change *change; /**< why; NULL: not said */
};

/** Links that are handed out; NULL: there is none, or it was switched off. */
struct job_links {
    const char *crew_token;
    const char *home_token;
};

/**
 * The owner's morning with every list whole, `GET /yard`.
 *
 * @param[in,out] out   Appended to.
 * @param[in] page      Model; its forms are not used here.
 * @param[in] plan      All open jobs; jobs without a crew or a station are fine.
 * @param[in] changes   Dates that moved since yesterday evening, [change_count]; may be NULL.
 * @param[in] change_count  Their number.
 */
void html_yard(struct text *out, const struct page *page, const struct plan *plan,
               const struct date_change *changes, size_t change_count);

/** The owner's morning on one screen, `GET /`; the same as html_yard, short. */
void html_today(struct text *out, const struct page *page, const struct plan *plan,
                const struct date_change *changes, size_t change_count);

/** One list whole: `GET /pads`, `/tonight`, `/call-in`, `/jobs`, `/weeks`, `/first-fires`,
 * `/dates`. */
void html_pads(struct text *out, const struct page *page, const struct plan *plan);
void html_tonight(struct text *out, const struct page *page, const struct plan *plan);
void html_call_in(struct text *out, const struct page *page, const struct plan *plan);
void html_jobs(struct text *out, const struct page *page, const struct plan *plan);
void html_weeks(struct text *out, const struct page *page, const struct plan *plan);
void html_first_fires(struct text *out, const struct page *page, const struct plan *plan);
void html_dates(struct text *out, const struct page *page, const struct plan *plan);

/** The form of a new job, empty or with what was typed. */
struct new_job {
    const struct form_field *fields; /**< shape [field_count] */
    size_t field_count;
    const struct faults *faults; /**< path = name of a field; NULL */
    const char *const *stations; /**< ids, shape [station_count] */
    size_t station_count;
};

/** A new job, `GET /jobs/new`; posts the columns of a spreadsheet's row to itself. */
void html_new_job(struct text *out, const struct page *page, const struct new_job *form);

/** The page of rules. */
struct rules_page {
    const char *rules;      /**< as rulebook_show writes them, NUL-ended */
    const char *const *ids; /**< numbers that can be changed, shape [id_count] */
    size_t id_count;
    const struct form_field *fields; /**< what was typed; shape [field_count] */
    size_t field_count;
    const struct faults *faults; /**< path = name of a field; NULL */
};

/** The rules in force and the owner's changes, `GET /rules`; posts id, value, reason, by. */
void html_rules(struct text *out, const struct page *page, const struct rules_page *rules);

/** One job with its tasks, waits, days, records and forms, `GET /jobs/{id}`. Links may be NULL. */
void html_job(struct text *out, const struct page *page, const struct plan *plan,
              const struct job_plan *job, const struct job_links *links);

/** A job taken over half built, `GET /jobs/{id}/take-over`: ticks with days, posted to itself. */
void html_take_over(struct text *out, const struct page *page, const struct job_plan *job);

/** A crew's day, `GET /c/{token}`. Forms post to /c/{token}/records with a field `job`. */
void html_crew(struct text *out, const struct page *page, const struct plan *plan,
               const struct crew *crew, const char *token);

/**
 * The homeowner's page, `GET /h/{token}`. It shows the date the owner agreed, and that only while
 * the plan still supports it; never an address, a computed date or another customer.
 */
void html_home(struct text *out, const struct page *page, const struct job_plan *job);

/**
 * The do-not-light tag, `GET /jobs/{id}/tag`: both languages, no date, the phone large.
 *
 * @param[in] second      Words of the other language.
 * @param[in] home_token  NULL: no code is printed. A code also needs page->base_url.
 */
void html_tag(struct text *out, const struct page *page, const struct words *second,
              const struct job_plan *job, const char *home_token);

/** One page of paper for a crew (`GET /c/{token}/sheet`) or, crew NULL, for one job (day-sheet). */
void html_day_sheet(struct text *out, const struct page *page, const struct plan *plan,
                    const struct crew *crew, const struct job_plan *job);

struct job_moves; /* model/change.h */

/**
 * What a try would move, the answer to `POST /jobs/{id}/try`.
 *
 * @param[in] job    As it would be.
 * @param[in] moves  Of every job, shape [count].
 */
void html_try(struct text *out, const struct page *page, const struct job_plan *job,
              const struct job_moves *moves, size_t count);

/** A message that was sent before. */
struct tell_sent {
    int64_t made_s;
    int64_t sent_s; /**< INSTANT_NONE: it still waits */
    const char *receiver, *subject, *body;
};

/** The draft of a message to a homeowner. */
struct tell {
    const char *id;       /**< of the message that would be queued */
    const char *receiver; /**< NULL: the job has no address */
    const char *subject, *body;
    bool can_send;                /**< the host sends mail; else it is copied by hand */
    const struct fault *wrong;    /**< the last try was refused; NULL */
    const struct tell_sent *sent; /**< newest first, shape [sent_count] */
    size_t sent_count;
};

/** What a homeowner would be told, `GET /jobs/{id}/tell`; posts id, subject, body to itself. */
void html_tell(struct text *out, const struct page *page, const struct job_plan *job,
               const struct tell *tell);

/** Where a record stands in the chain. */
struct proof_mark {
    const char *record_id;
    int64_t seq;
    char hash[65]; /**< 64 hex digits and NUL */
};

/** A photo of a job, without its bytes. */
struct proof_photo {
    const char *id;
    const char *who; /**< NULL: nobody said */
    const char *sha256;
    int64_t taken_s; /**< INSTANT_NONE: not said */
    int64_t received_s;
    int width, height; /**< pixels */
};

/** What a proof file needs besides the plan. */
struct proof {
    const struct proof_mark *marks;
    size_t mark_count;
    int64_t tip_seq; /**< the last record of the whole store */
    const char *tip_hash;
    const struct proof_photo *photos;
    size_t photo_count;
    const struct tell_sent *sent; /**< messages to the homeowner, newest first */
    size_t sent_count;
};

/** All that is on record of a job, to be printed, `GET /jobs/{id}/proof`. */
void html_proof(struct text *out, const struct page *page, const struct job_plan *job,
                const struct proof *proof);

/** A letter to a homeowner who reads paper, `GET /jobs/{id}/letter`. home_token NULL: no code. */
void html_letter(struct text *out, const struct page *page, const struct job_plan *job,
                 const char *home_token);

/** The first fires on paper, `GET /jobs/{id}/fire-sheet`: large print, no date of a fire. */
void html_fire_sheet(struct text *out, const struct page *page, const struct job_plan *job);

/** What a row of a spreadsheet becomes. */
struct import_row {
    size_t line;
    const char *job_id;
    bool new_job;
    size_t cells, records;
};

/** The page that takes rows in. */
struct import_page {
    const char *what;              /**< "jobs" or "records" */
    const char *csv;               /**< what was pasted; NULL */
    const struct import_row *rows; /**< shape [row_count] */
    size_t row_count;
    bool kept;                   /**< they were taken in, not only looked at */
    const struct faults *faults; /**< why they were not; NULL */
};

/** Rows of a spreadsheet in, `GET /import`; posts what, csv and, to keep them, keep. */
void html_import(struct text *out, const struct page *page, const struct import_page *import);

/** What is shown when something could not be done. `fault` may be NULL. */
void html_problem(struct text *out, const struct page *page, enum status status,
                  const struct fault *fault);

/** What the door shows. */
struct sign_in_form {
    const char *name;  /**< as it was typed; NULL: not yet */
    const char *to;    /**< where to go on afterwards; NULL: the first page */
    bool wrong;        /**< the last try was */
    const char *go_on; /**< an address to look at again at once; NULL: none */
};

/** The owner's door, `GET /sign-in`: posts `name`, `password` and `to` to /sign-in. */
void html_sign_in(struct text *out, const struct page *page, const struct sign_in_form *form);

#endif
