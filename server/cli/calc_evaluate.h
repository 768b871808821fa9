/* SPDX-License-Identifier: MIT */
/*
 * `calc` without its printing: a quantity and its key=value arguments in, figures with unit and
 * source out. Apart from the command so that the table runner of the tests asks the very code the
 * command asks, in its own process.
 */
#ifndef EMBERWAIT_CLI_CALC_EVALUATE_H
#define EMBERWAIT_CLI_CALC_EVALUATE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"

enum {
    CALC_FIGURES_MAX = 24, /**< figures of one answer: the hours of a day */
    CALC_KEYS_MAX = 16,    /**< keys of one quantity */
};

/** What came of a call; the values are exit statuses of sysexits.h. */
enum calc_outcome {
    CALC_OK = 0,
    CALC_USAGE = 64, /**< unknown quantity or key, a key missing, twice, or not for this choice */
    CALC_BAD_VALUE = 65, /**< a value that is no number, no such choice, or outside its range */
    CALC_NO_MEMORY = 71, /**< the machine has no memory for the list */
};

/** How the figures are to be shown. */
enum calc_form {
    CALC_NUMBER, /**< figures[0] */
    CALC_ARRAY,  /**< figures[0..count) in order */
    CALC_OBJECT, /**< figures[i] under names[i] */
};

/** An answer. Texts are literals. */
struct calc_result {
    const char *quantity;
    const char *unit;
    const char *source;  /**< id in schema/sources.json */
    const char *clause;  /**< place in the source; NULL: none */
    const char *basis;   /**< which of several meanings the figure has; NULL: only one */
    const char *caution; /**< a doubtful number says why; NULL: none */
    enum calc_form form;
    size_t count;
    const char *names[CALC_FIGURES_MAX];
    double figures[CALC_FIGURES_MAX];
};

/**
 * Evaluate one call.
 *
 * @param[in]  count      Arguments, the quantity first.
 * @param[in]  arguments  `QUANTITY`, then `key=value`, shape [count]; borrowed.
 * @param[out] out        Filled when CALC_OK.
 * @param[out] fault      Else: the key (or argument), what was found, what was wanted.
 */
MUST_USE enum calc_outcome calc_evaluate(int count, const char *const *arguments,
                                         struct calc_result *out, struct fault *fault);

/** What a key's value may be. */
enum calc_kind {
    CALC_KEY_NUMBER, /**< a finite number from `least` to `most` */
    CALC_KEY_LIST,   /**< comma list of such numbers */
    CALC_KEY_CHOICE, /**< one of the words of `choices`, parted by | */
    CALC_KEY_DATE,   /**< YYYY-MM-DD */
};

/** One key of a quantity. */
struct calc_key {
    const char *name;
    const char *alias; /**< another name for it; NULL: none */
    const char *unit;
    const char *says; /**< for the help */
    const char *choices;
    double least;
    double most;
    enum calc_kind kind;
    bool required;
    bool above_least; /**< `least` itself is refused */
};

/** Arguments of one call, read and inside their ranges. Index as the quantity's keys. */
struct calc_call {
    const struct calc_quantity *quantity;
    bool given[CALC_KEYS_MAX];
    double number[CALC_KEYS_MAX]; /**< number; choice: its index; date: day of the year */
    double *list;                 /**< the one list a quantity can have; own */
    size_t list_count;
    struct fault *fault;
};

/** One quantity: its keys and how it is worked out. */
struct calc_quantity {
    const char *name;
    const char *unit;
    const char *says;
    const struct calc_key *keys;
    size_t key_count;
    enum calc_outcome (*evaluate)(const struct calc_call *call, struct calc_result *out);
};

/** Every quantity, in the order of the help. */
extern const struct calc_quantity *const calc_quantities[];
extern const size_t calc_quantity_count;

/** Whether a key was given. The name must be one of the quantity's. */
bool calc_given(const struct calc_call *call, const char *name);
/** Value of a key, or the default when it was not given. The name must be one of the quantity's. */
double calc_value(const struct calc_call *call, const char *name, double otherwise);
/** Fill the fault and answer CALC_USAGE: a key this call needs, or cannot take. */
enum calc_outcome calc_refuse_key(const struct calc_call *call, const char *name,
                                  const char *wanted);
/** Fill the fault and answer CALC_BAD_VALUE: values that do not fit each other. */
enum calc_outcome calc_refuse_value(const struct calc_call *call, const char *name,
                                    const char *wanted);

#endif
