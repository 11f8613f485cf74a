/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "materials_writer.h"

#include "grading.h"
#include "json.h"

#include <math.h>

static json_t *numbers_json(struct json *json, const double *values, size_t count)
{
    json_t *array = json_make_array(json);
    for (size_t i = 0; i < count; i++)
        json_add(json, array, isnan(values[i]) ? json_null() : json_real(values[i]));
    return array;
}

/* Returns {"m":[...],"yd":[...]}, or {"count":[...]} for a count. */
static json_t *amount_json(struct json *json, const struct hk_printed *amount, size_t count)
{
    json_t *object = json_make_object(json);
    if (block_one_unit(amount)) {
        json_put(json, object, "count", numbers_json(json, amount->metric, count));
        return object;
    }
    json_put(json, object, amount->metric_unit, numbers_json(json, amount->metric, count));
    json_put(json, object, amount->customary_unit, numbers_json(json, amount->customary, count));
    return object;
}

static json_t *colour_json(struct json *json, const struct hk_materials_colour *colour, size_t count)
{
    json_t *object = json_make_object(json), *balls = json_make_array(json);
    for (size_t i = 0; i < count; i++)
        json_add(json, balls, json_integer(colour->balls[i]));
    json_put_text(json, object, "colour", colour->colour);
    json_put_text(json, object, "roles", colour->roles);
    json_put(json, object, "length", amount_json(json, &colour->length, count));
    json_put(json, object, "mass", amount_json(json, &colour->mass, count));
    json_put(json, object, "balls", balls);
    json_put_bool(json, object, "small", colour->small);
    return object;
}

static json_t *yarns_json(struct json *json, const struct hk_materials *materials)
{
    json_t *yarns = json_make_array(json);
    for (size_t i = 0; i < materials->yarn_count; i++) {
        const struct hk_materials_yarn *yarn = &materials->yarns[i];
        json_t *object = json_make_object(json), *colours = json_make_array(json);
        for (size_t k = 0; k < yarn->colour_count; k++)
            json_add(json, colours, colour_json(json, &yarn->colours[k], materials->size_count));
        json_put_text(json, object, "yarn", yarn->yarn);
        json_put_text(json, object, "fibre", yarn->fibre);
        json_put_text(json, object, "categories", yarn->categories);
        json_put_real(json, object, "put_up_g", yarn->put_up_g);
        json_put_real(json, object, "put_up_m", yarn->put_up_m);
        json_put(json, object, "colours", colours);
        json_add(json, yarns, object);
    }
    return yarns;
}

static json_t *tools_json(struct json *json, const struct hk_materials *materials)
{
    json_t *tools = json_make_array(json);
    for (size_t i = 0; i < materials->tool_count; i++) {
        json_t *object = json_make_object(json);
        json_put_real(json, object, "tool_mm", materials->tools[i].tool_mm);
        json_put_text(json, object, "label", materials->tools[i].label);
        json_put_bool(json, object, "needle", materials->tools[i].needle);
        json_t *sizes = json_make_array(json);
        for (size_t k = 0; k < materials->size_count; k++)
            if (materials->tools[i].uses[k])
                json_add(json, sizes, json_text(materials->sizes[k]));
        json_put(json, object, "sizes", sizes);
        json_add(json, tools, object);
    }
    return tools;
}

static json_t *gauges_json(struct json *json, const struct hk_materials *materials)
{
    json_t *gauges = json_make_array(json);
    for (size_t i = 0; i < materials->gauge_count; i++) {
        const struct hk_materials_gauge *gauge = &materials->gauges[i];
        json_t *object = json_make_object(json);
        json_put_text(json, object, "fabric", gauge->fabric);
        json_put_text(json, object, "swatch", gauge->swatch);
        json_put_text(json, object, "care", gauge->care);
        json_put_real(json, object, "tool_mm", gauge->tool_mm);
        json_put_real(json, object, "stitches", gauge->stitches);
        json_put_real(json, object, "rows", gauge->rows);
        json_put_bool(json, object, "rounds", gauge->rounds);
        json_add(json, gauges, object);
    }
    return gauges;
}

static json_t *named_json(struct json *json, const struct hk_materials *materials)
{
    json_t *measures = json_make_array(json);
    for (size_t i = 0; i < materials->measure_count; i++) {
        json_t *object = json_make_object(json);
        json_put_text(json, object, "name", materials->measures[i].name);
        json_put(json, object, "amount", amount_json(json, &materials->measures[i].amount, materials->size_count));
        json_add(json, measures, object);
    }
    return measures;
}

static json_t *words_json(struct json *json, const struct hk_materials *materials)
{
    json_t *words = json_make_array(json);
    for (size_t i = 0; i < materials->word_count; i++) {
        json_t *object = json_make_object(json);
        json_put_text(json, object, "word", materials->words[i].word);
        json_put_text(json, object, "meaning", materials->words[i].meaning);
        json_add(json, words, object);
    }
    return words;
}

static json_t *texts_json(struct json *json, const char *const *texts, size_t count)
{
    json_t *array = json_make_array(json);
    for (size_t i = 0; i < count; i++)
        json_add(json, array, json_text(texts[i]));
    return array;
}

/* Adds the lines that are stated as lengths. */
static json_t *grading_all_json(struct json *json, const struct work *work)
{
    const struct size_range sizes = pipeline_sizes(work);
    json_t *lines = json_make_array(json);
    for (size_t size = sizes.first; size < sizes.end; size++) {
        for (size_t line = 0; line < hk_tally_lines(work->tally); line++) {
            const struct hk_line_count count = hk_tally_line(work->tally, line, size);
            if (!count.width.count && !count.end_width.count && !count.height.count)
                continue;
            json_t *object = json_make_object(json);
            json_put_text(json, object, "size", hk_project_size(work->project, size));
            json_put_text(json, object, "piece", count.piece);
            json_put_text(json, object, "part", count.part);
            json_put(json, object, "lengths", grading_json(json, &count));
            json_add(json, lines, object);
        }
    }
    return lines;
}

static json_t *testers_json(struct json *json, const struct hk_materials *materials)
{
    if (materials->testers == 0)
        return json_null();
    json_t *object = json_make_object(json);
    json_put_whole(json, object, "count", (int64_t)materials->testers);
    json_put_real(json, object, "reader_low", materials->reader_low);
    json_put_real(json, object, "reader_high", materials->reader_high);
    json_put_real(json, object, "readers_more", materials->readers_more);
    return object;
}

enum outcome block_json(const struct work *work, const struct hk_materials *materials, FILE *out)
{
    struct json json = {0};
    json_t *answer = json_make_answer(&json);
    json_put_text(&json, answer, "project", materials->project);
    json_put_real(&json, answer, "chance", materials->chance);
    json_put(&json, answer, "sizes", texts_json(&json, materials->sizes, materials->size_count));
    json_put_text(&json, answer, "terms", materials->uk ? "UK" : "US");
    json_put_real(&json, answer, "reader", materials->reader);
    json_put(&json, answer, "testers", testers_json(&json, materials));
    json_put_real(&json, answer, "round_to", materials->round_to);
    json_put(&json, answer, "materials", yarns_json(&json, materials));
    json_put(&json, answer, "tools", tools_json(&json, materials));
    json_put(&json, answer, "notions", texts_json(&json, materials->notions, materials->notion_count));
    json_put(&json, answer, "gauge", gauges_json(&json, materials));
    json_put(&json, answer, "finished_size", named_json(&json, materials));
    json_put(&json, answer, "abbreviations", words_json(&json, materials));
    json_put_remarks(&json, answer, &work->diags, work->folder.path);
    json_put(&json, answer, "grading", grading_all_json(&json, work));
    json_put(&json, answer, "margin", materials->margin >= 0 ? json_real(materials->margin) : json_null());
    json_put(&json, answer, "held", texts_json(&json, materials->held, materials->held_count));
    json_put_text(&json, answer, "listing", materials->listing);
    json_put(&json, answer, "chance_all", materials->margin < 0 ? json_real(materials->chance_all) : json_null());
    return json_write(&json, answer, out);
}
