/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful from: the sizes, motifs or rows that the yarn in hand is enough for. */
#include "findings.h"
#include "json.h"
#include "more.h"
#include "number.h"
#include "pipeline.h"
#include "typed.h"

#include <math.h>
#include <stdlib.h>

/* ---- Text ---- */

static const struct hk_from_role *first_out(const struct hk_from_design *design)
{
    return &design->roles[design->first_out];
}

/* Says what is in hand: "In hand: 4 balls of main (200 g), ...". */
static void report_hand(const struct hk_from_design *design, struct text *text)
{
    char *words = NULL;
    bool good = true;
    for (size_t i = 0; i < design->role_count && good; i++) {
        const struct hk_from_role *role = &design->roles[i];
        if (isnan(role->have_g))
            good = text_append(&words, "%s%s is not stated, and left out", words ? "; " : "In hand: ", role->role_name);
        else
            good = text_append(&words, "%s%s g of %s", words ? "; " : "In hand: ", number_label(role->have_g).text,
                               role->role_name);
    }
    if (good && words)
        text_paragraph(text, "%s.", words);
    text->failed |= !good;
    free(words);
}

static bool several_yarns(const struct hk_from *from)
{
    bool several = false;
    for (size_t i = 0; i < from->size_count; i++)
        several |= from->sizes[i].design.role_count > 1;
    return several;
}

static void report_sizes(const struct hk_from *from, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_LEFT, "ENOUGH");
    text_table_column(table, TEXT_RIGHT, several_yarns(from) ? "CHANCE OF ALL" : "CHANCE");
    text_table_column(table, TEXT_LEFT, "FIRST TO RUN OUT");
    text_table_column(table, TEXT_RIGHT, "LIKELY g");
    for (size_t i = 0; i < from->size_count; i++) {
        const struct hk_from_design *design = &from->sizes[i].design;
        const struct hk_from_role *role = first_out(design);
        text_table_cell(table, "%s", from->sizes[i].size_name);
        text_table_cell(table, design->enough ? "yes" : "no");
        text_table_cell(table, "%s", number_chance(design->chance).text);
        text_table_cell(table, "%s", role->role_name);
        text_table_cell(table, "%s", number_unit(role->mass_g).text);
    }
    text_table_print(table);
}

/* Appends "; with one more: 93%, main runs out first". */
static bool append_next(char **words, const struct hk_from_count *count)
{
    if (!count->next.roles)
        return text_append(words, " A larger number cannot be worked as the design is.");
    return text_append(words, " With one more, the chance is %s; %s runs out first.",
                       number_chance(count->next.chance).text, first_out(&count->next)->role_name);
}

static void report_count(const struct hk_from_count *count, struct text *text)
{
    const char *rows = count->kind == HK_FROM_ROWS ? " rows" : "", *comma = *count->part ? ", " : "";
    char *words = NULL;
    bool good;
    if (count->fixed)
        good = text_append(&words, "%s%s%s: %s%s.", count->piece, comma, count->part, count->fixed,
                           *rows ? "; hankful left shows the row at which the yarn ends" : "");
    else if (count->most == 0)
        good = text_append(&words, "%s%s%s: the yarn is not enough even with one%s; %s runs out first.", count->piece,
                           comma, count->part, count->kind == HK_FROM_ROWS ? " row" : "",
                           first_out(&count->next)->role_name);
    else
        good = text_append(&words, "%s%s%s: %s%s%s", count->piece, comma, count->part,
                           count->unlimited ? "more than " : "at most ", number_whole(count->most).text, rows);
    if (good && count->most > 0 && count->length_m > 0)
        good = text_append(&words, ", %s cm",
                           number_stepped(100 * count->length_m, (struct number_step){1, 0}, NUMBER_DOWN).text);
    if (good && count->most > 0)
        good = text_append(&words, " (the design has %s); the yarn in hand lasts with a chance of %s.",
                           number_whole(count->designed).text, number_chance(count->at.chance).text);
    if (good && count->most > 0 && !count->unlimited)
        good = append_next(&words, count);
    if (good)
        text_entry(text, "%s", words);
    text->failed |= !good;
    free(words);
}

static enum outcome print_text(const struct work *work, const struct hk_from *from, const struct options *options,
                               struct text *text)
{
    if (from->margin >= 0)
        text_heading(text, "%s: what the yarn in hand is enough for, with a flat %s more than is likely", from->project,
                     number_asked(from->margin).text);
    else
        text_heading(text, "%s: what the yarn in hand is enough for, %s sure%s", from->project,
                     number_asked(from->chance).text, several_yarns(from) ? " of each yarn" : "");
    report_hand(&from->sizes[0].design, text);
    text_gap(text);
    report_sizes(from, text);
    if (from->count_count > 0)
        text_gap(text);
    if (from->count_count == 0 && from->size_count == 1) {
        text_gap(text);
        text_paragraph(text, "No one piece takes most of the yarn: --vary names one, for its number or its rows.");
    }
    bool varied = false;
    for (size_t i = 0; i < from->count_count; i++) {
        report_count(&from->counts[i], text);
        varied |= !from->counts[i].fixed;
    }
    if (varied)
        text_paragraph(text, "The rest of the design stays as it is.");
    more_report(text, work, options, 0, HK_CODE_END);
    return text_outcome(text);
}

/* ---- JSON ---- */

static json_t *known(double value)
{
    return isnan(value) ? json_null() : json_real(value);
}

static json_t *design_json(struct json *json, const struct hk_from_design *design)
{
    if (!design->roles)
        return json_null();
    json_t *object = json_make_object(json), *roles = json_make_array(json);
    json_put_bool(json, object, "enough", design->enough);
    json_put_real(json, object, "chance", design->chance);
    json_put_text(json, object, "first_to_run_out", first_out(design)->role_name);
    for (size_t i = 0; i < design->role_count; i++) {
        json_t *role = json_make_object(json);
        json_put_text(json, role, "role", design->roles[i].role_name);
        json_put_text(json, role, "yarn", design->roles[i].yarn);
        json_put_text(json, role, "colour", design->roles[i].colour);
        json_put(json, role, "have_g", known(design->roles[i].have_g));
        json_put_real(json, role, "likely_g", design->roles[i].mass_g);
        json_put(json, role, "chance", known(design->roles[i].chance));
        json_add(json, roles, role);
    }
    json_put(json, object, "roles", roles);
    return object;
}

static json_t *count_json(struct json *json, const struct hk_from *from, const struct hk_from_count *count)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "piece", count->piece);
    json_put_text(json, object, "part", count->part);
    json_put_text(json, object, "size", from->sizes[0].size_name);
    json_put_text(json, object, "what", count->kind == HK_FROM_ROWS ? "rows" : "copies");
    json_put_whole(json, object, "designed", count->designed);
    json_put(json, object, "fixed", count->fixed ? json_string(count->fixed) : json_null());
    json_put(json, object, "most", count->fixed ? json_null() : json_integer(count->most));
    json_put_bool(json, object, "limited", !count->unlimited);
    json_put(json, object, "length_m", count->length_m > 0 ? json_real(count->length_m) : json_null());
    json_put(json, object, "at_most", design_json(json, &count->at));
    json_put(json, object, "one_more", design_json(json, &count->next));
    return object;
}

static enum outcome print_json(const struct work *work, const struct hk_from *from, FILE *out)
{
    struct json json = {0};
    json_t *answer = json_make_answer(&json), *sizes = json_make_array(&json), *counts = json_make_array(&json);
    json_put_text(&json, answer, "project", from->project);
    if (from->margin >= 0)
        json_put_real(&json, answer, "margin", from->margin);
    else
        json_put_real(&json, answer, "chance", from->chance);
    for (size_t i = 0; i < from->size_count; i++) {
        json_t *size = json_make_object(&json);
        json_put_text(&json, size, "size", from->sizes[i].size_name);
        json_put(&json, size, "design", design_json(&json, &from->sizes[i].design));
        json_add(&json, sizes, size);
    }
    for (size_t i = 0; i < from->count_count; i++)
        json_add(&json, counts, count_json(&json, from, &from->counts[i]));
    json_put(&json, answer, "sizes", sizes);
    json_put(&json, answer, "counts", counts);
    json_put_remarks(&json, answer, &work->diags, work->folder.path);
    return json_write(&json, answer, out);
}

/* ---- The command ---- */

enum outcome cmd_from(const struct options *options, FILE *out)
{
    const struct hk_hand hand = typed_hand(options);
    struct work work = {.hand = &hand};
    struct hk_diags diags = {0}; /* those of the project are printed already */
    struct text text = pipeline_text(out, pipeline_folder(options), options);
    struct hk_from *from = NULL;
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options), STAGE_NEED);
    if (outcome == DONE && !(from = hk_from_find(work.need, (struct hk_from_options){options->vary}, &diags))) {
        findings_print(&diags, work.folder.path);
        outcome = findings_outcome(&diags);
        outcome = outcome == REFUSED ? MISUSED : outcome; /* all of them are about options */
    }
    if (from)
        outcome = options->given & OPTION_JSON ? print_json(&work, from, out) : print_text(&work, from, options, &text);
    hk_from_free(from);
    hk_diags_free(&diags);
    pipeline_free(&work);
    return outcome;
}
