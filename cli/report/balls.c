/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where each ball ends, in the order of the work. */
#include "json.h"
#include "number.h"
#include "place.h"
#include "report/page.h"

#include <stdlib.h>

static void place_cell(struct report *report, const struct hk_ball_place *place)
{
    char *words = place_words(place);
    markup_element(&report->markup, "td", words ? words : "", "class", "words", NULL);
    report->markup.failed |= !words;
    free(words);
}

static void role_rows(struct report *report, size_t at, const struct hk_ball_ends *ends)
{
    const struct hk_need_role *role = &report->work->need->roles[at];
    for (size_t i = 0; i < ends->count; i++) {
        page_row_from(report, "report:/ball_ends/%zu/ends/%zu", at, i);
        page_name(report, role->size_name);
        page_cell(report, role->role_name);
        markup_element(&report->markup, "td", number_whole(ends->ends[i].ball).text, NULL);
        place_cell(report, &ends->ends[i].likely);
        place_cell(report, &ends->ends[i].earliest);
        place_cell(report, &ends->ends[i].latest);
        page_row_end(report);
    }
}

void report_balls(struct report *report)
{
    static const struct page_head heads[] = {{"Size", false},
                                             {"Yarn", false},
                                             {"Ball", true},
                                             {"Likely ends after", false},
                                             {"At the earliest", false},
                                             {"At the latest", false},
                                             {NULL, false}};
    const struct hk_need *need = report->work->need;
    struct hk_diags diags = {0};
    page_section(report, "balls", "Where each ball ends");
    page_paragraph(
        report,
        "The last row that a ball finishes, by the likely amount and by the ends of its range, if the pieces are "
        "worked in the order of the design.");
    page_table(report, "The last row of each ball");
    page_heads(report, heads);
    page_body(report);
    for (size_t i = 0; i < need->role_count; i++) {
        struct hk_ball_ends *ends = hk_need_ball_ends(need, i, &diags);
        report->markup.failed |= !ends;
        if (ends)
            role_rows(report, i, ends);
        hk_need_ball_ends_free(ends);
    }
    page_table_end(report);
    page_section_end(report);
    hk_diags_free(&diags);
}

/* ---- The same as data ---- */

json_t *report_balls_json(struct json *json, const struct report *report)
{
    const struct hk_need *need = report->work->need;
    json_t *roles = json_make_array(json);
    struct hk_diags diags = {0};
    for (size_t i = 0; i < need->role_count; i++) {
        struct hk_ball_ends *ends = hk_need_ball_ends(need, i, &diags);
        json_t *object = json_make_object(json);
        json->failed |= !ends;
        json_put_text(json, object, "size", need->roles[i].size_name);
        json_put_text(json, object, "role", need->roles[i].role_name);
        json_put(json, object, "ends", ball_ends_json(json, ends ? ends->ends : NULL, ends ? ends->count : 0));
        json_add(json, roles, object);
        hk_need_ball_ends_free(ends);
    }
    hk_diags_free(&diags);
    return roles;
}
