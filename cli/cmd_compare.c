/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful compare: every candidate in place of the planned yarn of a role, with a verdict and its reason. */
#include "amount.h"
#include "findings.h"
#include "json.h"
#include "more.h"
#include "number.h"
#include "pipeline.h"

#include <stdlib.h>
#include <string.h>

/* Number of rows shown by default; --most changes it, --json shows all rows. */
static const size_t rows_shown = 10;

struct money {
    char text[HK_MONEY_TEXT];
};

static struct money money(const struct hk_compare *compare, int64_t minor)
{
    struct money money = {"-"};
    if (minor >= 0)
        hk_money_text(minor, compare->minor_digits, money.text);
    return money;
}

static const char *tool_word(const struct hk_compare *compare)
{
    return compare->needles ? "needle" : "hook";
}

/* ---- Text ---- */

/* Returns "Holm DK Lichen, 50 g + Holm Lace Lichen, 25 g" or "Holm Lace Lichen x2, 25 g". Owner: the caller (free). */
static char *row_name(const struct hk_compare_row *row)
{
    char *name = NULL;
    for (size_t i = 0; i < row->yarn_count; i++) {
        const struct hk_compare_yarn *yarn = &row->yarns[i];
        if (!text_append(&name, "%s%s%s%s%s, %s\u00a0g", i ? " + " : "", yarn->yarn, *yarn->colour ? " " : "", yarn->colour,
                         yarn->strands > 1 ? " x2" : "", number_label(yarn->put_up_g).text))
            return NULL;
    }
    return name;
}

/* Formats "6", or "6 + 4" for two yarns. */
static char *balls_words(const struct hk_compare_row *row)
{
    char *words = NULL;
    for (size_t i = 0; i < row->yarn_count; i++) {
        const struct number balls = number_whole(row->yarns[i].balls);
        if (!text_append(&words, "%s%s", i ? " + " : "", row->yarns[i].balls ? balls.text : "-"))
            return NULL;
    }
    return words;
}

static const char *verdict_words(const struct hk_compare *compare, const struct hk_compare_row *row)
{
    if (row == &compare->plan)
        return "the plan";
    switch (row->verdict) {
    case HK_VERDICT_FITS:
        return "fits";
    case HK_VERDICT_OTHER_TOOL:
        return compare->needles ? "fits with another needle" : "fits with another hook";
    case HK_VERDICT_DIFFERS:
        return "differs";
    }
    return "";
}

/* The digits shown follow from the row's own spread. */
static struct number as_known(const struct hk_compare_row *row, double value, double of)
{
    return number_stepped(value, number_step(of * row->spread, 0), NUMBER_NEAREST);
}

/* The thickness ratio applies to all yarns of the candidate together. */
static struct hk_range mass_of(const struct hk_compare_row *row)
{
    struct hk_range sum = row->yarns[0].mass_g;
    for (size_t i = 1; i < row->yarn_count; i++) {
        const struct hk_range *of = &row->yarns[i].mass_g;
        sum = (struct hk_range){sum.likely + of->likely, sum.low + of->low, sum.high + of->high, sum.enough + of->enough};
    }
    return sum;
}

/* The change in the mass of the finished piece, relative to the planned yarn. */
static void add_change(struct text_table *table, const struct hk_compare *compare, const struct hk_compare_row *row)
{
    const double change = row->piece_g / compare->plan.piece_g - 1;
    const bool none = change > -0.005 && change < 0.005;
    if (row == &compare->plan)
        text_table_cell(table, "-");
    else
        text_table_cell(table, "%s%s", none || change < 0 ? "" : "+", none ? "0%" : number_share(change).text);
}

/* Adds the name, which begins every row. */
static void add_name(struct text *text, struct text_table *table, const struct hk_compare_row *row)
{
    char *name = row_name(row);
    text->failed |= !name;
    text_table_cell(table, "%s", name ? name : "");
    free(name);
}

static void add_row(struct text *text, struct text_table *table, const struct hk_compare *compare,
                    const struct hk_compare_row *row)
{
    char *balls = balls_words(row);
    const struct hk_range mass_g = mass_of(row);
    text->failed |= !balls;
    add_name(text, table, row);
    if (row->verdict == HK_VERDICT_OTHER_TOOL && row != &compare->plan)
        text_table_cell(table, "fits, %s mm", number_stated(row->keeping_tool_mm).text);
    else
        text_table_cell(table, "%s", verdict_words(compare, row));
    text_table_cell(table, "%s", balls ? balls : "");
    text_table_cell(table, "%s", money(compare, row->cost_minor).text);
    text_table_cell(table, "%s", amount_enough(&row->length_m, AMOUNT_M).text);
    text_table_cell(table, "%s", amount_enough(&row->length_m, AMOUNT_YD).text);
    text_table_cell(table, "%s", amount_enough(&mass_g, AMOUNT_G).text);
    free(balls);
}

static void add_detail(struct text *text, struct text_table *table, const struct hk_compare *compare,
                       const struct hk_compare_row *row)
{
    add_name(text, table, row);
    text_table_cell(table, "%s", as_known(row, row->left_over_m, row->length_m.likely).text);
    text_table_cell(table, "%s", as_known(row, row->piece_g, row->piece_g).text);
    add_change(table, compare, row);
    if (row->keeping_tool_mm > 0 && row->verdict != HK_VERDICT_DIFFERS)
        text_table_cell(table, "%s mm", number_stated(row->keeping_tool_mm).text);
    else
        text_table_cell(table, "-");
    text_table_cell(table, "%s", *row->categories ? row->categories : "-");
}

static size_t shown(const struct hk_compare *compare, const struct options *options)
{
    const size_t most = options->most ? (size_t)options->most : rows_shown;
    return most < compare->row_count ? most : compare->row_count;
}

static void print_table(const struct hk_compare *compare, size_t count, struct text *text)
{
    struct text_table *table = text_table(text);
    const char *currency = compare->currency;
    text_gap(text);
    text_table_column(table, TEXT_KEY | TEXT_WRAP, "YARN");
    text_table_column(table, TEXT_LEFT, "VERDICT");
    text_table_column(table, TEXT_RIGHT, "BALLS");
    text_table_column(table, TEXT_RIGHT, "COST%s%s", *currency ? " " : "", currency);
    text_table_column(table, TEXT_RIGHT, "ENOUGH m");
    text_table_column(table, TEXT_RIGHT, "yd");
    text_table_column(table, TEXT_RIGHT, "g");
    add_row(text, table, compare, &compare->plan);
    for (size_t i = 0; i < count; i++)
        add_row(text, table, compare, &compare->rows[i]);
    text_table_print(table);
}

static void print_details(const struct hk_compare *compare, size_t count, struct text *text)
{
    struct text_table *table = text_table(text);
    text_gap(text);
    text_table_column(table, TEXT_KEY | TEXT_WRAP, "YARN");
    text_table_column(table, TEXT_RIGHT, "LEFT OVER m");
    text_table_column(table, TEXT_RIGHT, "PIECE g");
    text_table_column(table, TEXT_RIGHT, "CHANGE");
    text_table_column(table, TEXT_RIGHT, compare->needles ? "NEEDLE" : "HOOK");
    text_table_column(table, TEXT_WRAP, "CATEGORY");
    add_detail(text, table, compare, &compare->plan);
    for (size_t i = 0; i < count; i++)
        add_detail(text, table, compare, &compare->rows[i]);
    text_table_print(table);
}

/* Returns "5% larger" or "of the same size". Owner: the caller (free). */
static char *ratio_words(double ratio, const char *same, const char *less, const char *more)
{
    const double apart = ratio - 1;
    if (apart > -0.005 && apart < 0.005)
        return text_format("%s", same);
    return text_format("%s %s", number_share(apart < 0 ? -apart : apart).text, apart < 0 ? less : more);
}

/* Formats "6 mm (US J-10)"; a label that names another system is given as it is. */
static char *tool_words(double tool_mm, const char *label)
{
    const bool us = strncmp(label, "US ", 3) == 0;
    return text_format("%s mm%s%s%s", number_stated(tool_mm).text, !*label ? "" : us ? " (" : " (US ", label, *label ? ")" : "");
}

/* Returns the reason for the verdict. Owner: the caller (free). */
static char *verdict_reason(const struct hk_compare *compare, const struct hk_compare_row *row, const char *size,
                            const char *thickness, const char *keeping)
{
    const struct number planned = number_stated(row->tool_mm);
    switch (row->reason) {
    case HK_REASON_GAUGE:
        return text_format("stitches are %s on the planned %s", size, tool_word(compare));
    case HK_REASON_TOOL:
        return text_format("stitches would be %s on %s mm; %s keeps the gauge and takes about %s m%s", size, planned.text,
                           keeping, as_known(row, row->keeping_length_m, row->keeping_length_m).text,
                           row->yarn_count > 1 ? " of each" : "");
    case HK_REASON_CATEGORY:
        return text_format("its category is %s, and the planned yarn's is %s", *row->categories ? row->categories : "none",
                           *compare->plan.categories ? compare->plan.categories : "none");
    case HK_REASON_THICKNESS:
        return text_format("it is %s than the planned yarn, so the fabric would be %s", thickness,
                           row->thickness > 1 ? "denser" : "more open");
    case HK_REASON_NO_TOOL:
        return text_format("stitches would be %s on %s mm", size, planned.text);
    case HK_REASON_BALL_SMALL:
        return text_format("no number of its balls is enough: a join takes more than a ball");
    }
    return NULL;
}

/* Appends the nearest tool and what remains, where no tool keeps the gauge. */
static bool append_nearest(char **words, const struct hk_compare *compare, const struct hk_compare_row *row)
{
    if (row->keeping_tool_mm > 0 || !(row->nearest_tool_mm > 0) || row->reason == HK_REASON_BALL_SMALL)
        return true;
    char *tool = tool_words(row->nearest_tool_mm, row->nearest_label);
    char *size = ratio_words(row->nearest_size, "of the same size", "smaller", "larger");
    const bool good = tool && size && text_append(words, "; no %s keeps the gauge: on the nearest, %s, stitches are still %s",
                                                  tool_word(compare), tool, size);
    free(tool);
    free(size);
    return good;
}

static bool never_swatched(const struct hk_compare_row *row)
{
    for (size_t i = 0; i < row->yarn_count; i++)
        if (!row->yarns[i].weighed)
            return true;
    return false;
}

/*
 * Appends why a strand of the yarn needs more metres than the plan: with loops the ratio of the likely lengths, and range
 * that of the rest, which is of the ranges above them.
 */
static bool append_more(char **words, const struct hk_compare *compare, const struct hk_compare_row *row)
{
    const double strands = (double)row->yarns[0].strands; /* 2 of one yarn; two yarns have the length of each */
    const double more = row->length_m.enough / strands / compare->plan.length_m.enough;
    const double loops = row->length_m.likely / strands / compare->plan.length_m.likely, range = more / loops;
    const double least = 1.01;
    if (!(more >= least) || row->reason == HK_REASON_BALL_SMALL)
        return true;
    bool good = text_append(words, "; it needs %s more metres than the plan%s: ", number_share(more - 1).text,
                            row->yarn_count > 1 ? ", each" : strands > 1 ? ", each strand" : "");
    if (good && range >= least)
        good = text_append(words, "the range is wider%s (%s)", never_swatched(row) ? ", never swatched" : "",
                           number_share(range - 1).text);
    if (good && loops >= least)
        good = text_append(words, "%sits loops are longer (%s)", range >= least ? ", and " : "", number_share(loops - 1).text);
    return good;
}

/* Owner: the caller (free). */
static char *reason_words(const struct hk_compare *compare, const struct hk_compare_row *row)
{
    char *size = ratio_words(row->stitch_size, "of the same size", "smaller", "larger");
    char *thickness = ratio_words(row->thickness, "as thick", "thinner", "thicker");
    char *keeping = tool_words(row->keeping_tool_mm, row->keeping_label);
    char *words = size && thickness && keeping ? verdict_reason(compare, row, size, thickness, keeping) : NULL;
    if (words && !(append_nearest(&words, compare, row) && append_more(&words, compare, row))) {
        free(words);
        words = NULL; /* out of memory; the caller notices it */
    }
    free(size);
    free(thickness);
    free(keeping);
    return words;
}

/* Formats "8.5%" or "17 to 18.3%". */
static char *moisture_words(const struct hk_compare_row *row)
{
    const struct number low = number_percent(row->moisture_low), high = number_percent(row->moisture_high);
    if (strcmp(low.text, high.text) == 0)
        return text_format("%s", low.text);
    return text_format("%s to %s", low.text, high.text);
}

/* Returns " (cotton)", or "". Owner: the caller (free). */
static char *fibre_words(const struct hk_compare_row *row)
{
    const bool one = row->yarn_count == 1 && *row->yarns[0].fibre;
    return text_format("%s%s%s", one ? " (" : "", one ? row->yarns[0].fibre : "", one ? ")" : "");
}

/* The effect of damp air, where it differs from the effect on the planned yarn or is not known. */
static void add_damp(const struct hk_compare *compare, const struct hk_compare_row *row, char **words)
{
    const struct hk_compare_row *plan = &compare->plan;
    char *own = moisture_words(row), *planned = moisture_words(plan);
    char *fibre = fibre_words(row), *planned_fibre = fibre_words(plan);
    const bool less = row->moisture_low + row->moisture_high < plan->moisture_low + plan->moisture_high;
    if (!own || !planned || !fibre || !planned_fibre) {
        free(*words);
        *words = NULL;
    }
    if (!*words)
        ; /* out of memory; the caller notices it */
    else if (row->damp)
        text_append(words, "; its fibre%s may hold %s of its dry weight in moisture, the planned yarn's%s %s, so it gains "
                           "%s weight in damp air",
                    fibre, own, planned_fibre, planned, less ? "less" : "more");
    else if (row->moisture_low < 0 && plan->moisture_low >= 0 && *fibre)
        text_append(words, "; the moisture that its fibre%s may hold is not known, so its weight in damp air is open",
                    fibre);
    free(own);
    free(planned);
    free(fibre);
    free(planned_fibre);
}

static void print_reasons(const struct hk_compare *compare, size_t count, struct text *text)
{
    text_gap(text);
    text_heading(text, "Why");
    for (size_t i = 0; i < count; i++) {
        const struct hk_compare_row *row = &compare->rows[i];
        char *name = row_name(row), *words = reason_words(compare, row);
        text->failed |= !name || !words;
        add_damp(compare, row, &words);
        text->failed |= !words;
        text_item(text, "%s %s: %s", name ? name : "", verdict_words(compare, row), words ? words : "");
        free(name);
        free(words);
    }
}

/* Appends "First by cost: Mole DK, 50 g: 8 balls, EUR 47.20; it needs ...", or "Mole DK, 50 g fits: ..." of the only one. */
static bool append_first(char **words, const struct hk_compare *compare, const char *order, const char *name)
{
    const struct hk_compare_row *first = &compare->rows[0];
    const bool only = compare->row_count == 1;
    bool good = text_append(words, "%s%s%s%s%s: %s ball%s", only ? "" : "First by ", only ? "" : order, only ? "" : ": ", name,
                            only ? " fits" : "", number_whole(first->balls).text, first->balls == 1 ? "" : "s");
    if (good && first->cost_minor >= 0)
        good = text_append(words, ", %.3s%s%s", compare->currency, *compare->currency ? " " : "",
                           money(compare, first->cost_minor).text);
    return good && append_more(words, compare, first) && text_append(words, ".");
}

/*
 * "For main of M, in place of Holm DK Lichen, 50 g: 3 of 5 yarns fit. First by cost: Mole DK Lichen, 50 g: 8 balls, EUR
 * 47.20."
 */
static void report_first(const struct work *work, const struct hk_compare *compare, const struct options *options,
                         struct text *text)
{
    static const char *const orders[] = {"cost", "length", "mass", "balls"};
    const bool sized = hk_project_sizes(work->project) > 1;
    size_t fit = 0;
    for (size_t i = 0; i < compare->row_count; i++)
        fit += compare->rows[i].verdict != HK_VERDICT_DIFFERS;
    char *plan = row_name(&compare->plan), *name = compare->row_count ? row_name(&compare->rows[0]) : NULL, *words = NULL;
    bool good = plan && name && text_append(&words, "For %s%s%s, in place of %s: ", compare->role, sized ? " of " : "",
                                            sized ? compare->size : "", plan);
    if (good && fit == 0)
        good = compare->row_count == 1 ? text_append(&words, "%s does not fit.", name)
                                       : text_append(&words, "none of %zu yarns fits.", compare->row_count);
    else if (good)
        good = (compare->row_count == 1 || text_append(&words, "%zu of %zu yarns %s. ", fit, compare->row_count,
                                                       fit == 1 ? "fits" : "fit")) &&
               append_first(&words, compare, orders[options->by], name);
    if (good && compare->margin >= 0)
        good = text_append(&words, " Enough: the likely amount and a flat %s more, as asked for.",
                           number_asked(compare->margin).text);
    else if (good)
        good = text_append(&words, " Enough with a chance of %s.", number_asked(compare->chance).text);
    if (good)
        text_paragraph(text, "%s", words);
    text->failed |= !good;
    free(plan);
    free(name);
    free(words);
}

static void report_how(const struct hk_compare *compare, struct text *text)
{
    text_gap(text);
    text_paragraph(
        text,
        "Amounts are worked with the plan's %ss, where a thicker yarn makes longer loops; %s is the size that keeps "
        "the gauge. PIECE is the likely mass of the finished piece, all its yarns together.",
        tool_word(compare), compare->needles ? "NEEDLE" : "HOOK");
    if (compare->offers)
        text_paragraph(text, "Where offers.csv has a yarn, COST is by its cheapest offer of that ball in whole packs, postage "
                             "and discounts left out.");
}

static void report_no_pair(const struct hk_compare *compare, struct text *text)
{
    for (size_t i = 0; i < compare->row_count; i++)
        if (compare->rows[i].yarn_count > 1 || compare->rows[i].yarns[0].strands > 1)
            return;
    text_gap(text);
    text_paragraph(text, "No two of these yarns held together weigh as much a metre as the planned one, within 5%%.");
}

static enum outcome print_text(const struct work *work, const struct hk_compare *compare, const struct options *options,
                               struct text *text)
{
    const size_t count = shown(compare, options);
    report_first(work, compare, options, text);
    print_table(compare, count, text);
    if (count < compare->row_count) {
        text_gap(text);
        text_paragraph(text, "The first %s of %s yarns; --most shows more, --json all.", number_whole((int64_t)count).text,
                       number_whole((int64_t)compare->row_count).text);
    }
    if (options->given & OPTION_HELD_TOGETHER)
        report_no_pair(compare, text);
    if (more_wanted(options, OPTION_WHY)) {
        report_how(compare, text);
        print_details(compare, count, text);
        print_reasons(compare, count, text);
    }
    more_report(text, work, options, OPTION_WHY, HK_CODE_END);
    return text_outcome(text);
}

/* ---- JSON ---- */

static const char *verdict_name(enum hk_verdict verdict)
{
    switch (verdict) {
    case HK_VERDICT_FITS:
        return "fits";
    case HK_VERDICT_OTHER_TOOL:
        return "fits with another hook";
    case HK_VERDICT_DIFFERS:
        return "differs";
    }
    return "";
}

static const char *reason_name(enum hk_reason reason)
{
    switch (reason) {
    case HK_REASON_GAUGE:
        return "gauge";
    case HK_REASON_TOOL:
        return "tool";
    case HK_REASON_CATEGORY:
        return "category";
    case HK_REASON_THICKNESS:
        return "thickness";
    case HK_REASON_NO_TOOL:
        return "no-tool";
    case HK_REASON_BALL_SMALL:
        return "ball-small";
    }
    return "";
}

static json_t *yarn_json(struct json *json, const struct hk_compare_yarn *yarn, int digits)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "yarn", yarn->yarn);
    json_put_text(json, object, "colour", yarn->colour);
    json_put_text(json, object, "fibre", yarn->fibre);
    json_put_real(json, object, "put_up_g", yarn->put_up_g);
    json_put_real(json, object, "put_up_m", yarn->put_up_m);
    json_put_amount(json, object, "mass_g", &yarn->mass_g);
    json_put_whole(json, object, "balls", yarn->balls);
    json_put_money(json, object, "price", yarn->price_minor, digits);
    json_put_money(json, object, "cost", yarn->cost_minor, digits);
    json_put_whole(json, object, "price_for", yarn->price_for);
    json_put_real(json, object, "left_over_m", yarn->left_over_m);
    json_put_bool(json, object, "weighed", yarn->weighed);
    json_put_whole(json, object, "strands", yarn->strands);
    return object;
}

static void put_known(struct json *json, json_t *object, const char *key, double value, bool known)
{
    json_put(json, object, key, known ? json_real(value) : json_null());
}

static json_t *row_json(struct json *json, const struct hk_compare *compare, const struct hk_compare_row *row)
{
    json_t *object = json_make_object(json), *yarns = json_make_array(json);
    char *why = reason_words(compare, row);
    json->failed = json->failed || !why;
    for (size_t i = 0; i < row->yarn_count; i++)
        json_add(json, yarns, yarn_json(json, &row->yarns[i], compare->minor_digits));
    json_put(json, object, "yarns", yarns);
    json_put_text(json, object, "verdict", verdict_name(row->verdict));
    json_put_text(json, object, "reason", reason_name(row->reason));
    json_put_text(json, object, "why", why);
    json_put_amount(json, object, "length_m", &row->length_m);
    json_put_real(json, object, "spread", row->spread);
    json_put_real(json, object, "mass_g", row->mass_g);
    json_put_whole(json, object, "balls", row->balls);
    json_put_money(json, object, "cost", row->cost_minor, compare->minor_digits);
    json_put_real(json, object, "left_over_m", row->left_over_m);
    json_put_real(json, object, "piece_g", row->piece_g);
    json_put_real(json, object, "thickness", row->thickness);
    json_put_real(json, object, "stitch_size", row->stitch_size);
    json_put_real(json, object, "tool_mm", row->tool_mm);
    put_known(json, object, "keeping_tool_mm", row->keeping_tool_mm, row->keeping_tool_mm > 0);
    json_put_text(json, object, "keeping_label", row->keeping_label);
    put_known(json, object, "keeping_length_m", row->keeping_length_m, row->keeping_tool_mm > 0);
    put_known(json, object, "nearest_tool_mm", row->nearest_tool_mm, row->nearest_tool_mm > 0);
    json_put_text(json, object, "nearest_label", row->nearest_label);
    put_known(json, object, "nearest_stitch_size", row->nearest_size, row->nearest_tool_mm > 0);
    json_put_text(json, object, "categories", row->categories);
    put_known(json, object, "moisture_low", row->moisture_low, row->moisture_low >= 0);
    put_known(json, object, "moisture_high", row->moisture_high, row->moisture_low >= 0);
    json_put_bool(json, object, "damp", row->damp);
    free(why);
    return object;
}

static enum outcome print_json(const struct work *work, const struct hk_compare *compare, const struct options *options,
                               FILE *out)
{
    struct json json = {0};
    json_t *first = json_make_answer(&json), *last = json_make_object(&json);
    const size_t count = options->most ? shown(compare, options) : compare->row_count;
    json_put_text(&json, first, "project", compare->project);
    json_put_real(&json, first, "chance", compare->chance);
    json_put_text(&json, first, "currency", compare->currency);
    json_put_text(&json, first, "size", compare->size);
    json_put_text(&json, first, "role", compare->role);
    json_put(&json, first, "plan", row_json(&json, compare, &compare->plan));
    json_write_first(&json, first, "compare", out);
    for (size_t i = 0; i < count && !json.failed; i++)
        json_write_row(&json, row_json(&json, compare, &compare->rows[i]), out);
    json_put_remarks(&json, last, &work->diags, work->folder.path);
    json_put(&json, last, "margin", compare->margin >= 0 ? json_real(compare->margin) : json_null());
    return json_write_last(&json, last, out);
}

/* ---- The command ---- */

/* Reads the catalogue that --yarns names and prints its findings. */
static enum outcome read_list(const struct work *work, const char *path, struct hk_yarn_list **list)
{
    const char *slash = strrchr(path, '/');
    char *directory = slash ? text_format("%.*s", slash == path ? 1 : (int)(slash - path), path) : text_format(".");
    struct folder folder = {directory, true};
    struct hk_diags diags = {0};
    if (!directory) {
        complain("out of memory");
        return FAILED;
    }
    const struct hk_source source = folder_source(&folder);
    *list = hk_yarn_list_read(&source, slash ? slash + 1 : path, work->project, &diags);
    hk_diags_sort(&diags);
    findings_print(&diags, directory);
    const enum outcome outcome = findings_outcome(&diags);
    hk_diags_free(&diags);
    free(directory);
    return *list || outcome != DONE ? outcome : REFUSED;
}

static enum outcome compare(const struct work *work, const struct options *options, FILE *out)
{
    struct hk_compare_options wanted = hk_compare_defaults();
    struct hk_yarn_list *list = NULL;
    struct hk_diags diags = {0};
    struct text text = pipeline_text(out, pipeline_folder(options), options);
    enum outcome outcome = options->yarns ? read_list(work, options->yarns, &list) : DONE;
    wanted.role = options->role;
    wanted.list = list;
    wanted.order = (enum hk_compare_order)options->by;
    wanted.held_together = options->given & OPTION_HELD_TOGETHER;
    hk_diags_accept_as(&diags, &work->diags);
    struct hk_compare *compare = outcome == DONE ? hk_compare_make(work->need, wanted, &diags) : NULL;
    findings_print(&diags, work->folder.path);
    if (outcome == DONE)
        outcome = findings_outcome(&diags);
    if (compare && outcome == DONE)
        outcome = options->given & OPTION_JSON ? print_json(work, compare, options, out)
                                               : print_text(work, compare, options, &text);
    hk_compare_free(compare);
    hk_yarn_list_free(list);
    hk_diags_free(&diags);
    return outcome;
}

enum outcome cmd_compare(const struct options *options, FILE *out)
{
    struct work work = {0};
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options), STAGE_NEED);
    if (outcome == DONE)
        outcome = compare(&work, options, out);
    pipeline_free(&work);
    return outcome;
}
