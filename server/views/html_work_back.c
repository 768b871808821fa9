/* SPDX-License-Identifier: MIT */
/*
 * Work-back on the job's page: the latest day for each open task, so that the wanted fire date
 * still holds. It leans on the best case, and says so first: a day here is no plan.
 */
#include "views/html_work_back.h"

#include "base/banned.h"
#include "views/html.h"
#include "views/stage.h"

static void answer(struct text *out, const struct page *page, const struct when *when,
                   const struct fire_plan *fire)
{
    const struct phrase day = when_date(when, fire->projected_day);
    RAW(out, "<p>");
    if (fire->projected_day == DAY_NONE) {
        html_word(out, page, WORD_WORK_BACK_UNKNOWN);
    } else if (fire->projected_day <= fire->wanted_day) {
        HTML_SAY(out, page, WORD_WORK_BACK_REACHED, {"date", day.z});
    } else {
        RAW(out, "<b>");
        HTML_SAY(out, page, WORD_WORK_BACK_LATE, {"date", day.z});
        RAW(out, "</b>");
    }
    RAW(out, "</p><p class=\"aside\">");
    html_word(out, page, WORD_WORK_BACK_FULL);
    RAW(out, ". ");
    html_word(out, page, WORD_WORK_BACK_GATES);
    RAW(out, ".</p>");
}

static void task_item(struct text *out, const struct page *page, const struct when *when,
                      const struct task_plan *task)
{
    const struct phrase by = when_day_time(when, task->latest_finish_s);
    const bool short_of = task->days_to_spare != DAY_NONE && task->days_to_spare < 0;
    text_add_z(out, short_of ? "<li class=\"wrong\">" : "<li>");
    HTML_SAY(out, page, WORD_WORK_BACK_BY,
             {"task", words_of(page->words, WORD_SET_TASK, (int)task->task)}, {"time", by.z});
    if (task->days_to_spare != DAY_NONE) {
        const struct phrase spare = says_figure((double)task->days_to_spare);
        RAW(out, "; ");
        HTML_SAY(out, page, WORD_YARD_SPARE, {"n", spare.z});
    }
    RAW(out, "</li>");
}

void html_work_back(struct text *out, const struct page *page, const struct when *when,
                    const struct job_plan *job)
{
    if (job->fire.wanted_day == DAY_NONE) return;
    const struct phrase wanted = when_date(when, job->fire.wanted_day);
    RAW(out, "<section><h2 id=\"work-back\">");
    HTML_SAY(out, page, WORD_WORK_BACK_TITLE, {"date", wanted.z});
    RAW(out, "</h2>");
    answer(out, page, when, &job->fire);
    bool begun = false;
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &job->tasks[t];
        if (stage_task_over(task) || task->latest_finish_s == INSTANT_NONE) continue;
        if (!begun) RAW(out, "<details open><summary>");
        if (!begun) html_word(out, page, WORD_WORK_BACK_LIST);
        if (!begun) RAW(out, "</summary><ul class=\"rows\">");
        begun = true;
        task_item(out, page, when, task);
    }
    if (begun) RAW(out, "</ul></details>");
    RAW(out, "</section>");
}
