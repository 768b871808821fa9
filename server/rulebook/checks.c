/* SPDX-License-Identifier: MIT */
/*
 * Why: the checks of a task: how each is answered, what a measure is held against, what is kept.
 * Where practice and the published code give two figures both stand here, each with its mark; all
 * that act for a job have to hold, so the stricter is asked for and neither is chosen by a program.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "rulebook/rows.h"

#include "base/banned.h"

static const char *const opening_text[] = {"any", "from-6-ft2", "under-6-ft2"};
static const struct id_table opening_ids = {"size of opening", opening_text, 3};

static const double FIGURE_MAX = 1000.0;

/* --- reading ------------------------------------------------------------------------------- */

static void limit_read(struct reader *reader, const char *path, const json_t *row,
                       struct check_rule *check)
{
    static const char *const members[] = {"least",   "most", "mark", "source",
                                          "opening", "when", NULL};
    if (!row_object(reader, path, row, members)) return;
    struct check_limit_rule *limit = &check->limits[check->limit_count];
    *limit = (struct check_limit_rule){.figure = NAN, .mark = MARK_NONE};
    bool low = row_double(reader, path, row, "least", 0.0, FIGURE_MAX, false, &limit->figure);
    bool high = row_double(reader, path, row, "most", 0.0, FIGURE_MAX, false, &limit->figure);
    if (low == high) reader_fault(reader, path, "one of least and most", low ? "both" : "neither");
    limit->at_most = high;
    row_standing(reader, path, row, &limit->mark, &limit->source);
    int opening = row_id(reader, path, row, "opening", &opening_ids, false);
    if (opening > 0) limit->opening = (enum opening_size)opening;
    limit->when_count = row_conditions(reader, path, row, limit->when);
    check->limit_count++;
}

static void limits_read(struct reader *reader, const char *path, const json_t *row,
                        struct check_rule *check)
{
    if (json_object_get(row, "limits") == NULL) return;
    const json_t *list = row_array(reader, path, row, "limits");
    struct path at = path_member(path, "limits");
    if (json_array_size(list) > CHECK_LIMITS_MAX) {
        reader_fault(reader, at.text, "at most 4 limits", "%zu", json_array_size(list));
        return;
    }
    if (check->kind != CHECK_KIND_MEASURE)
        reader_fault(reader, at.text, "no limits: only a measure has them", "limits");
    for (size_t i = 0; i < json_array_size(list); i++)
        limit_read(reader, path_index(at.text, i).text, json_array_get(list, i), check);
}

static void kind_read(struct reader *reader, const char *path, const json_t *row,
                      struct check_rule *check)
{
    int kind = row_id(reader, path, row, "kind", &check_kind_ids, true);
    int evidence = row_id(reader, path, row, "evidence", &evidence_ids, true);
    check->kind = kind < 0 ? CHECK_KIND_TEXT : (enum check_kind)kind;
    check->evidence = evidence < 0 ? EVIDENCE_NOTHING : (enum evidence)evidence;
    bool measure = check->kind == CHECK_KIND_MEASURE;
    check->unit = check->kind == CHECK_KIND_COUNT ? CHECK_UNIT_PIECES : CHECK_UNIT_NONE;
    int unit = row_id(reader, path, row, "unit", &check_unit_ids, measure);
    bool pieces = unit == CHECK_UNIT_PIECES;
    if (unit >= 0 && pieces == measure)
        reader_fault(reader, path_member(path, "unit").text,
                     measure ? "the unit of the figure" : "no unit: only a measure has one", "%s",
                     id_of(&check_unit_ids, unit));
    if (unit >= 0 && measure) check->unit = (enum check_unit)unit;
    int quantity = row_id(reader, path, row, "of", &quantity_ids, false);
    if (quantity >= 0 && check->kind != CHECK_KIND_COUNT)
        reader_fault(reader, path_member(path, "of").text, "no `of`: only a count has one", "%s",
                     id_of(&quantity_ids, quantity));
    check->quantity = quantity < 0 ? QUANTITY_NONE : (enum quantity)quantity;
    int clearance = row_id(reader, path, row, "kit", &clearance_ids, false);
    if (clearance >= 0 && !measure)
        reader_fault(reader, path_member(path, "kit").text, "no `kit`: only a measure has one",
                     "%s", id_of(&clearance_ids, clearance));
    check->clearance = clearance < 0 ? CLEARANCE_NONE : (enum clearance)clearance;
}

static void check_read(struct reader *reader, const char *path, const json_t *row, enum task task,
                       size_t index)
{
    static const char *const members[] = {"id",     "says",     "kind", "unit", "of", "kit",
                                          "limits", "evidence", "when", "is",   NULL};
    if (!row_object(reader, path, row, members)) return;
    const char *id = row_string(reader, path, row, "id", true);
    enum check_id found = id == NULL ? CHECK_NONE : check_find(task, id);
    if (found == CHECK_NONE || reader->check_rows[found] >= 0) {
        if (id != NULL)
            reader_fault(reader, path_member(path, "id").text,
                         found == CHECK_NONE ? "a known check of this task" : "each check once",
                         "\"%.80s\"", id);
        return;
    }
    reader->check_rows[found] = (int)index;
    struct check_rule *check = &reader->book->checks[found];
    check->says = row_string(reader, path, row, "says", true);
    kind_read(reader, path, row, check);
    if (check->kind != check_kind_of(found))
        reader_fault(reader, path_member(path, "kind").text,
                     id_of(&check_kind_ids, (int)check_kind_of(found)), "%s",
                     id_of(&check_kind_ids, (int)check->kind));
    const char *is = row_string(reader, path, row, "is", false);
    if (is != NULL && strcmp(is, "optional") != 0)
        reader_fault(reader, path_member(path, "is").text, "\"optional\", or no such member",
                     "\"%.80s\"", is);
    check->optional = is != NULL;
    limits_read(reader, path, row, check);
    check->when_count = row_conditions(reader, path, row, check->when);
}

void checks_read(struct reader *reader, const char *path, const json_t *row, enum task task)
{
    const json_t *list = json_object_get(row, "checks");
    struct path at = path_member(path, "checks");
    if (list != NULL && !json_is_array(list))
        reader_fault(reader, at.text, "a list of checks", "%s", json_found(list).text);
    for (size_t i = 0; json_is_array(list) && i < json_array_size(list); i++)
        check_read(reader, path_index(at.text, i).text, json_array_get(list, i), task, i);
    int first = 0;
    size_t count = check_range(task, &first);
    for (size_t i = 0; i < count; i++) {
        if (reader->check_rows[first + (int)i] >= 0) continue;
        reader_fault(reader, at.text, "a row for every check of the task", "no %s",
                     check_short_id((enum check_id)(first + (int)i)));
    }
}

/* --- against the shipped book ---------------------------------------------------------------- */

static const double SLACK = 1e-9;

static bool limit_covers(const struct check_limit_rule *mine,
                         const struct check_limit_rule *shipped)
{
    if (mine->at_most != shipped->at_most) return false;
    if (mine->at_most ? mine->figure > shipped->figure + SLACK
                      : mine->figure < shipped->figure - SLACK)
        return false;
    if (mine->opening != OPENING_ANY && mine->opening != shipped->opening) return false;
    return conditions_cover(mine->when, mine->when_count, shipped->when, shipped->when_count);
}

static void check_baseline(struct reader *reader, const char *path, const struct check_rule *mine,
                           const struct check_rule *shipped)
{
    bool weaker = mine->kind != shipped->kind || mine->unit != shipped->unit ||
                  mine->clearance != shipped->clearance || mine->quantity != shipped->quantity;
    if (weaker)
        reader_fault(reader, path_member(path, "kind").text,
                     "the kind, unit, `of` and `kit` of the shipped check", "something else");
    if (shipped->evidence != EVIDENCE_NOTHING && mine->evidence != shipped->evidence)
        reader_fault(reader, path_member(path, "evidence").text,
                     id_of(&evidence_ids, (int)shipped->evidence), "%s",
                     id_of(&evidence_ids, (int)mine->evidence));
    if (mine->optional && !shipped->optional)
        reader_fault(reader, path_member(path, "is").text,
                     "a check that has to be made, as shipped", "optional");
    if (!conditions_cover(mine->when, mine->when_count, shipped->when, shipped->when_count))
        reader_fault(reader, path_member(path, "when").text,
                     "at least the jobs the shipped check is for", "fewer");
    for (size_t i = 0; i < shipped->limit_count; i++) {
        bool covered = false;
        for (size_t k = 0; k < mine->limit_count && !covered; k++)
            covered = limit_covers(&mine->limits[k], &shipped->limits[i]);
        if (covered) continue;
        reader_fault(reader, path_member(path, "limits").text,
                     "every limit of the shipped check, no weaker", "none of at %s %.6g",
                     shipped->limits[i].at_most ? "most" : "least", shipped->limits[i].figure);
    }
}

void checks_baseline(struct reader *reader, const struct rulebook *baseline)
{
    for (int i = 0; i < CHECK_COUNT; i++) {
        enum task task = check_task((enum check_id)i);
        struct path row = path_index("tasks", (size_t)reader->task_rows[task]);
        struct path path = path_member(row.text, "checks");
        check_baseline(reader, path_index(path.text, (size_t)reader->check_rows[i]).text,
                       &reader->book->checks[i], &baseline->checks[i]);
    }
}

/* --- as sentences ------------------------------------------------------------------------- */

static void show_limit(struct text *text, const struct check_limit_rule *limit,
                       enum check_unit unit)
{
    text_print(text, "at %s %.6g %s", limit->at_most ? "most" : "least", limit->figure,
               id_of(&check_unit_ids, (int)unit));
    text_print(text, " [%s", id_of(&mark_ids, (int)limit->mark));
    if (limit->source != NULL) text_print(text, ", %s", limit->source);
    text_add_byte(text, ']');
    if (limit->opening == OPENING_FROM_6_FT2) text_add_z(text, " for an opening of 6 ft2 or more");
    if (limit->opening == OPENING_UNDER_6_FT2) text_add_z(text, " for an opening under 6 ft2");
    if (limit->when_count == 0) return;
    text_add_z(text, " for ");
    show_conditions(text, limit->when, limit->when_count);
}

static void show_check(struct text *text, const struct check_rule *check, enum check_id id)
{
    text_print(text, "    %s: %s", check_short_id(id), check->says);
    if (check->unit != CHECK_UNIT_NONE && check->limit_count == 0)
        text_print(text, ", in %s", id_of(&check_unit_ids, (int)check->unit));
    for (size_t i = 0; i < check->limit_count; i++) {
        text_add_z(text, i == 0 ? ", " : " and ");
        show_limit(text, &check->limits[i], check->unit);
    }
    if (check->quantity != QUANTITY_NONE)
        text_print(text, ", one for each of %s", id_of(&quantity_ids, (int)check->quantity));
    if (check->clearance != CLEARANCE_NONE)
        text_add_z(text, "; the kit's own figure takes the place when its page is named");
    if (check->evidence != EVIDENCE_NOTHING)
        text_print(text, "; with %s", id_of(&evidence_ids, (int)check->evidence));
    if (check->optional) text_add_z(text, "; may be left out");
    if (check->when_count > 0) text_add_z(text, "; only for ");
    show_conditions(text, check->when, check->when_count);
    text_add_z(text, ".\n");
}

void checks_show(struct text *text, const struct rulebook *book, enum task task)
{
    int first = 0;
    size_t count = check_range(task, &first);
    for (size_t i = 0; i < count; i++)
        show_check(text, &book->checks[first + (int)i], (enum check_id)(first + (int)i));
}
