/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful report --json: the outlines of the pieces, stripes, and where each ball ends. */
#include "report/report.h"

static const char *outline_name(enum hk_outline outline)
{
    static const char *const names[] = {[HK_OUTLINE_UNKNOWN] = "unknown",
                                        [HK_OUTLINE_FLAT] = "flat",
                                        [HK_OUTLINE_TUBE] = "tube",
                                        [HK_OUTLINE_DISC] = "disc",
                                        [HK_OUTLINE_POLYGON] = "polygon"};
    return names[outline];
}

static const char *at_name(enum hk_measured_at at)
{
    static const char *const names[] = {[HK_MEASURED_WHOLE] = "whole",
                                        [HK_MEASURED_START] = "start",
                                        [HK_MEASURED_WITHIN] = "within",
                                        [HK_MEASURED_PART] = "part",
                                        [HK_MEASURED_END] = "end"};
    return names[at];
}

static json_t *piece_json(struct json *json, const struct report *report, const struct hk_schematic_piece *piece)
{
    json_t *object = json_make_object(json), *points = json_make_array(json), *measures = json_make_array(json);
    json_put_text(json, object, "piece", piece->piece);
    json_put_text(json, object, "part", piece->part);
    json_put_text(json, object, "size", hk_project_size(report->work->project, piece->size));
    json_put_whole(json, object, "copies", piece->copies);
    json_put_text(json, object, "outline", outline_name(piece->outline));
    json_put_text(json, object, "why", piece->why);
    for (size_t i = 0; i < piece->point_count; i++) {
        json_t *point = json_make_object(json);
        json_put_real(json, point, "x_cm", 100 * piece->points[i].x_m);
        json_put_real(json, point, "y_cm", 100 * piece->points[i].y_m);
        json_add(json, points, point);
    }
    for (size_t i = 0; i < piece->measure_count; i++) {
        json_t *measure = json_make_object(json);
        json_put_text(json, measure, "letter", report_shape_letter(piece->measures[i].letter).text);
        json_put_text(json, measure, "measured", report_measured_name(&piece->measures[i]));
        json_put_text(json, measure, "at", at_name(piece->measures[i].at));
        json_put_text(json, measure, "part", piece->measures[i].part);
        json_put_bool(json, measure, "rows", piece->measures[i].rows);
        json_put_whole(json, measure, "count", piece->measures[i].count);
        json_put_real(json, measure, "length_cm", 100 * piece->measures[i].length_m);
        json_add(json, measures, measure);
    }
    json_put(json, object, "points_cm", points);
    json_put_real(json, object, "radius_cm", 100 * piece->radius_m);
    json_put(json, object, "measures", measures);
    return object;
}

enum outcome report_json(const struct report *report, FILE *out)
{
    struct json json = {.failed = report->markup.failed};
    json_t *answer = json_make_answer(&json), *pieces = json_make_array(&json);
    json_put_text(&json, answer, "project", hk_project_title(report->work->project));
    for (size_t i = 0; report->schematic && i < report->schematic->piece_count; i++)
        json_add(&json, pieces, piece_json(&json, report, &report->schematic->pieces[i]));
    json_put(&json, answer, "schematic", pieces);
    json_put(&json, answer, "ball_ends", report_balls_json(&json, report));
    json_put(&json, answer, "stripes", report_stripes_json(&json, report));
    return json_write(&json, answer, out);
}
