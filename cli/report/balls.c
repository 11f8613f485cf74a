/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where each ball ends, in the order of the work. */
#include "json.h"
#include "number.h"
#include "report/page.h"

#include <stdlib.h>

/* Writes "sleeves (2), row 14"; "-" where the work is done before. */
static void place_cell(struct report *report, const struct hk_ball_place *place)
{
    struct markup *markup = &report->markup;
    markup_open(markup, "td", "class", "words", NULL);
    if (!*place->piece)
        markup_text(markup, "-");
    else if (place->row == 0)
        markup_text(markup, "%s", place->piece);
    else
        markup_text(markup, "%s%s%s%s%s%s, row %s", place->piece, *place->part ? ", " : "", place->part,
                    place->copy > 1 ? " (" : "", place->copy > 1 ? number_whole(place->copy).text : "",
                    place->copy > 1 ? ")" : "", number_whole(place->row).text);
    markup_close(markup, "td");
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
        "worked in the order of the design. A second piece alike has (2).");
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

/* Returns null where the work is done before. */
static json_t *place_json(struct json *json, const struct hk_ball_place *place)
{
    if (!*place->piece)
        return json_null();
    json_t *object = json_make_object(json);
    json_put_text(json, object, "piece", place->piece);
    json_put_text(json, object, "part", place->part);
    json_put_whole(json, object, "copy", place->copy);
    json_put_whole(json, object, "row", place->row);
    return object;
}

static json_t *ends_json(struct json *json, const struct hk_ball_ends *ends)
{
    json_t *list = json_make_array(json);
    for (size_t i = 0; ends && i < ends->count; i++) {
        json_t *object = json_make_object(json);
        json_put_whole(json, object, "ball", ends->ends[i].ball);
        json_put(json, object, "likely", place_json(json, &ends->ends[i].likely));
        json_put(json, object, "earliest", place_json(json, &ends->ends[i].earliest));
        json_put(json, object, "latest", place_json(json, &ends->ends[i].latest));
        json_add(json, list, object);
    }
    return list;
}

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
        json_put(json, object, "ends", ends_json(json, ends));
        json_add(json, roles, object);
        hk_need_ball_ends_free(ends);
    }
    hk_diags_free(&diags);
    return roles;
}
