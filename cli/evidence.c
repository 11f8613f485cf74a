/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "evidence.h"

#include "findings.h"
#include "number.h"

#include <math.h>
#include <stdlib.h>

#define CHANGES_SAID 2 /* shown for a reading; the JSON has the rest */

static const char *kind_name(enum hk_evidence_kind kind)
{
    switch (kind) {
    case HK_EVIDENCE_SWATCH:
        return "swatch";
    case HK_EVIDENCE_LENGTH:
        return "length";
    case HK_EVIDENCE_GRIST:
        return "grist";
    case HK_EVIDENCE_PIECE:
        return "piece";
    case HK_EVIDENCE_BALL:
        return "ball";
    case HK_EVIDENCE_TESTER:
        return "tester";
    }
    return "";
}

static const char *departure_name(enum hk_departure departure)
{
    static const char *const names[] = {
        [HK_DEPARTURE_WRAPS] = "wraps",   [HK_DEPARTURE_TENSION] = "tension", [HK_DEPARTURE_STITCH] = "stitch",
        [HK_DEPARTURE_TOOL] = "tool",     [HK_DEPARTURE_YARN] = "yarn",       [HK_DEPARTURE_GRIST] = "grist",
        [HK_DEPARTURE_MAKING] = "making", [HK_DEPARTURE_GARMENT] = "garment", [HK_DEPARTURE_SCALE] = "scale",
        [HK_DEPARTURE_BALL] = "ball",     [HK_DEPARTURE_READERS] = "readers",
    };
    return names[departure];
}

/* Returns the subject of the reading. Owner: the caller (free). */
static char *reading_words(const struct hk_evidence_reading *reading)
{
    switch (reading->kind) {
    case HK_EVIDENCE_SWATCH:
        return text_format("swatch %s", reading->name);
    case HK_EVIDENCE_LENGTH:
        return text_format("length of swatch %s", reading->name);
    case HK_EVIDENCE_GRIST:
        return text_format("grams a metre of swatch %s", reading->name);
    case HK_EVIDENCE_PIECE:
        return text_format("%s", reading->name);
    case HK_EVIDENCE_BALL:
        return text_format("a ball of %s", reading->name);
    case HK_EVIDENCE_TESTER:
        return text_format("tester %s", reading->name);
    }
    return NULL;
}

static const char *unit_of(enum hk_evidence_kind kind)
{
    return kind == HK_EVIDENCE_LENGTH ? "m" : kind == HK_EVIDENCE_GRIST ? "g/m" : "g";
}

/* Returns "+3.1%" or "-0.4%". Owner: the caller (free). */
static char *percent_words(double ratio)
{
    const struct hk_number percent = hk_number_text(round(1000 * fabs(ratio)) / 10, 4);
    return text_format("%s%s%%", round(1000 * ratio) < 0 ? "-" : "+", percent.text);
}

/* Returns the name of the departure. Owner: the caller (free). */
static char *departure_words(const struct hk_evidence_change *change)
{
    switch (change->departure) {
    case HK_DEPARTURE_WRAPS:
        return text_format("a wrap against a loop");
    case HK_DEPARTURE_TENSION:
    case HK_DEPARTURE_STITCH:
        return text_format("your %s", change->of);
    case HK_DEPARTURE_TOOL:
        return text_format("your %s mm", number_stated(change->tool_mm).text);
    case HK_DEPARTURE_YARN:
        return text_format("%s", change->of);
    case HK_DEPARTURE_GRIST:
        return text_format("a metre of %s", change->of);
    case HK_DEPARTURE_MAKING:
        return text_format("the making of %s", change->of);
    case HK_DEPARTURE_GARMENT:
        return text_format("your garments in %s", change->of);
    case HK_DEPARTURE_SCALE:
        return text_format("the %s g scale", number_stated(change->step_g).text);
    case HK_DEPARTURE_BALL:
        return text_format("a ball of %s", change->of);
    case HK_DEPARTURE_READERS:
        return text_format("readers against you");
    }
    return NULL;
}

/* Returns "your sc -2.1% to +3.4%". Owner: the caller (free). */
static char *change_words(const struct hk_evidence_change *change)
{
    char *what = departure_words(change), *from, *to;
    if (change->departure == HK_DEPARTURE_SCALE) {
        from = text_format("%s", hk_number_text(change->from, 2).text);
        to = text_format("%s g", hk_number_text(change->to, 2).text);
    } else {
        from = percent_words(change->from);
        to = percent_words(change->to);
    }
    char *words = what && from && to ? text_format("%s %s to %s", what, from, to) : NULL;
    free(what);
    free(from);
    free(to);
    return words;
}

static void add_changes(struct text_table *table, struct text *text, const struct hk_evidence_reading *reading)
{
    char *all = NULL;
    for (size_t i = 0; i < reading->change_count && i < CHANGES_SAID; i++) {
        char *one = change_words(&reading->changes[i]);
        bool good = one && text_append(&all, "%s%s", all ? "; " : "", one);
        free(one);
        text->failed |= !good;
        if (!good)
            break;
    }
    text_table_cell(table, "%s", all ? all : "nothing");
    free(all);
}

static void add_reading(struct text_table *table, struct text *text, const struct hk_evidence_reading *reading)
{
    const char *unit = unit_of(reading->kind);
    char *what = reading_words(reading), *off = percent_words(reading->read / reading->expected - 1);
    text->failed |= !what || !off;
    text_table_cell(table, "%s", what ? what : "");
    text_table_cell(table, "%s %s", hk_number_text(reading->expected, 3).text, unit);
    text_table_cell(table, "%s %s", hk_number_text(reading->read, 4).text, unit);
    text_table_cell(table, "%s", off ? off : "");
    text_table_cell(table, "%s", hk_number_text(round(10 * reading->deviations) / 10, 3).text);
    if (reading->left_out)
        text_table_cell(table, "! left out");
    else
        add_changes(table, text, reading);
    free(what);
    free(off);
}

static bool any_left_out(const struct hk_evidence *evidence)
{
    bool any = false;
    for (size_t i = 0; i < evidence->count; i++)
        any |= evidence->readings[i].left_out;
    return any;
}

void evidence_report(struct text *text, const struct work *work)
{
    struct hk_diags diags = {0};
    struct hk_evidence *evidence = hk_evidence_explain(work->fit, &diags);
    text->failed |= !evidence;
    text_gap(text);
    text_heading(text, "Each weighing and its effect");
    if (evidence && evidence->count == 0)
        text_paragraph(text, "Nothing has been weighed.");
    if (evidence && evidence->count > 0) {
        text_paragraph(
            text,
            "EXPECTED follows from the loop rule and all other weighings; APART is the distance of the reading from "
            "it in standard deviations: more than 3 is an outlier. CHANGED: the departure that the reading moved "
            "most, without it and with it.%s",
            any_left_out(evidence) ? " ! marks a reading so far from all others that it is left out." : "");
        text_gap(text);
        struct text_table *table = text_table(text);
        text_table_column(table, TEXT_WRAP, "READING");
        text_table_column(table, TEXT_RIGHT, "EXPECTED");
        text_table_column(table, TEXT_RIGHT, "READ");
        text_table_column(table, TEXT_RIGHT, "OFF");
        text_table_column(table, TEXT_RIGHT, "APART");
        text_table_column(table, TEXT_WRAP, "CHANGED");
        for (size_t i = 0; i < evidence->count; i++)
            add_reading(table, text, &evidence->readings[i]);
        text_table_print(table);
    }
    hk_evidence_free(evidence);
    hk_diags_free(&diags);
}

static json_t *change_json(struct json *json, const struct hk_evidence_change *change)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "departure", departure_name(change->departure));
    json_put_text(json, object, "of", change->of);
    json_put_real(json, object, "tool_mm", change->tool_mm);
    json_put_real(json, object, "scale_step_g", change->step_g);
    json_put_real(json, object, "from", change->from);
    json_put_real(json, object, "to", change->to);
    return object;
}

void evidence_json(struct json *json, json_t *answer, const struct work *work)
{
    struct hk_diags diags = {0};
    struct hk_evidence *evidence = hk_evidence_explain(work->fit, &diags);
    json_t *readings = json_make_array(json);
    json->failed |= !evidence;
    for (size_t i = 0; evidence && i < evidence->count; i++) {
        const struct hk_evidence_reading *reading = &evidence->readings[i];
        json_t *object = json_make_object(json), *changes = json_make_array(json);
        json_put_text(json, object, "kind", kind_name(reading->kind));
        json_put_text(json, object, "name", reading->name);
        json_put_text(json, object, "file", reading->at.file);
        json_put_whole(json, object, "line", (int64_t)reading->at.line);
        json_put_text(json, object, "unit", unit_of(reading->kind));
        json_put_real(json, object, "read", reading->read);
        json_put_real(json, object, "expected", reading->expected);
        json_put_real(json, object, "deviations", reading->deviations);
        json_put_bool(json, object, "left_out", reading->left_out);
        for (size_t c = 0; c < reading->change_count; c++)
            json_add(json, changes, change_json(json, &reading->changes[c]));
        json_put(json, object, "changes", changes);
        json_add(json, readings, object);
    }
    json_put(json, answer, "readings", readings);
    hk_evidence_free(evidence);
    hk_diags_free(&diags);
}
