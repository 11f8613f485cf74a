/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful convert: one amount, or one yarn, in every unit. */
#include "findings.h"
#include "json.h"
#include "number.h"
#include "pipeline.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- Text ---- */

/*
 * Significant digits shown: for exact results from a label or an amount, for limits of a category, for a rule of thumb.
 */
enum { exact_digits = 4, rough_digits = 3, rule_digits = 2 };

/* Drops trailing zeros after the decimal mark from an exact value. */
static struct number trimmed(struct number number)
{
    size_t length = strlen(number.text);
    if (!strchr(number.text, '.'))
        return number;
    while (number.text[length - 1] == '0')
        length--;
    number.text[number.text[length - 1] == '.' ? length - 1 : length] = '\0';
    return number;
}

static void add_values(struct text_table *table, const char *what, const char *unit, double a, double b, int digits)
{
    text_table_cell(table, "%s", what);
    const int range_digits = digits < rough_digits ? digits : rough_digits;
    if (a == b)
        text_table_cell(table, "%s", trimmed(number_digits(a, digits)).text);
    else
        text_table_cell(table, "%s to %s", number_digits(fmin(a, b), range_digits).text,
                        number_digits(fmax(a, b), range_digits).text);
    text_table_cell(table, "%s", unit);
}

static void add_scaled(struct text_table *table, const char *what, const char *unit, const double value[2], double one)
{
    add_values(table, what, unit, value[0] / one, value[1] / one, exact_digits);
}

static void add_grist(struct text_table *table, const struct hk_yarn_number number[2], int digits)
{
    const struct hk_yarn_number *a = &number[0], *b = &number[1];
    add_values(table, "fineness", "tex (g/km)", a->tex, b->tex, digits);
    add_values(table, "", "m in 100 g", a->metres_in_100_g, b->metres_in_100_g, digits);
    add_values(table, "", "yd/lb", a->yards_a_pound, b->yards_a_pound, digits);
    add_values(table, "metric count", "Nm (m/g)", a->metric_nm, b->metric_nm, digits);
    add_values(table, "denier", "den (g in 9000 m)", a->denier, b->denier, digits);
    add_values(table, "cotton count", "Ne (840 yd/lb)", a->cotton_ne, b->cotton_ne, digits);
    add_values(table, "worsted count", "560 yd/lb", a->worsted_ne, b->worsted_ne, digits);
    add_values(table, "woollen run", "1600 yd/lb", a->woollen_run, b->woollen_run, digits);
    add_values(table, "wraps", "in 1 in", a->wraps_per_inch, b->wraps_per_inch, rough_digits);
    add_values(table, "diameter", "mm", a->diameter_mm, b->diameter_mm, rough_digits);
}

static void report_categories(const struct hk_convert *result, struct text *text)
{
    char *names = NULL;
    for (size_t i = 0; i < result->category_count; i++) {
        const char *mark = i == 0 ? "" : i + 1 == result->category_count ? " and " : ", ";
        if (!text_append(&names, "%s%s", mark, result->categories[i]))
            text->failed = true;
    }
    if (names) {
        text_gap(text);
        text_paragraph(text, "Yarn categor%s: %s.%s", result->category_count == 1 ? "y" : "ies", names,
                       result->category_count == 1 ? "" : " Categories overlap, so no single one follows.");
    }
    free(names);
}

static void report_rule(const struct hk_convert *result, struct text *text)
{
    text_gap(text);
    text_paragraph(text,
                   "The mass of a length follows from the thickness by a rule of thumb only; a label or a scale is "
                   "more exact.");
    if (result->finer_too || result->coarser_too)
        text_paragraph(text, "The category is open at one end: %s yarn belongs to it too.",
                       result->finer_too ? "finer" : "coarser");
}

/* "150 g (5.291 oz), 360 m (393.7 yd)", or one of them. Owner: the caller (free); NULL: out of memory. */
static char *amount_words(double mass_g, double length_m)
{
    char *words = text_format("%s", "");
    bool good = words != NULL;
    if (good && mass_g > 0)
        good = text_append(&words, "%s g (%s oz)", trimmed(number_digits(mass_g, exact_digits)).text,
                           trimmed(number_digits(mass_g / HK_G_PER_OUNCE, exact_digits)).text);
    if (good && length_m > 0)
        text_append(&words, "%s%s m (%s yd)", mass_g > 0 ? ", " : "", trimmed(number_digits(length_m, exact_digits)).text,
                    trimmed(number_digits(length_m / HK_M_PER_YARD, exact_digits)).text);
    return words;
}

/* "3 balls of 50 g (1.764 oz), 120 m (131.2 yd) hold 150 g ...", or how many there are to be, and what is left over. */
static void report_balls(const struct hk_convert *result, struct text *text)
{
    const double balls = result->asks_balls ? result->whole_balls[1] : result->given_balls;
    const bool range = result->asks_balls && result->whole_balls[0] < result->whole_balls[1];
    const char *word = result->put_up_word;
    char *each = amount_words(result->put_up_g, result->put_up_m);
    char *more = result->asks_balls ? amount_words(result->left_g, result->left_m)
                                    : amount_words(range ? 0 : result->mass_g[0],
                                                   result->length_m[0] < result->length_m[1] ? 0 : result->length_m[0]);
    if (!each || !more)
        text->failed = true;
    else if (range)
        text_paragraph(text, "%s to %s %ss of %s.", number_label(result->whole_balls[0]).text, number_label(balls).text, word,
                       each);
    else if (result->asks_balls)
        text_paragraph(text, "%s %s%s of %s.%s%s%s", number_label(balls).text, word, NUMBER_PLURAL(balls), each,
                       *more ? " Left over: " : "", more, *more ? "." : "");
    else
        text_paragraph(text, "%s %s%s of %s: %s.", number_label(balls).text, word, NUMBER_PLURAL(balls), each, more);
    free(each);
    free(more);
    text_gap(text);
}

/* The amount in balls, and what whole ones leave, unless that is said above; nothing where they are not known. */
static void add_balls(struct text_table *table, const struct hk_convert *result, struct text *text)
{
    if (!(result->balls[1] > 0))
        return;
    char *each = result->put_up_g > 0 ? text_format("of %s g each", number_label(result->put_up_g).text)
                                      : text_format("of %s m each", number_label(result->put_up_m).text);
    char *what = text_format("%ss", result->put_up_word);
    add_values(table, what ? what : "", each ? each : "", result->balls[0], result->balls[1], rough_digits);
    if (result->balls[0] < result->whole_balls[0] || result->balls[1] < result->whole_balls[1]) {
        text_table_cell(table, "%s", "");
        if (result->whole_balls[0] < result->whole_balls[1])
            text_table_cell(table, "%s to %s", number_label(result->whole_balls[0]).text,
                            number_label(result->whole_balls[1]).text);
        else
            text_table_cell(table, "%s", number_label(result->whole_balls[1]).text);
        text_table_cell(table, "whole %s%s", result->put_up_word, NUMBER_PLURAL(result->whole_balls[1]));
    }
    const double left_g[2] = {result->left_g, result->left_g}, left_m[2] = {result->left_m, result->left_m};
    if (result->left_g > 0 && !result->asks_balls) {
        add_scaled(table, "left over", "g", left_g, 1);
        add_scaled(table, "", "oz", left_g, HK_G_PER_OUNCE);
    }
    if (result->left_m > 0 && !result->asks_balls) {
        add_scaled(table, result->left_g > 0 ? "" : "left over", "m", left_m, 1);
        add_scaled(table, "", "yd", left_m, HK_M_PER_YARD);
    }
    text->failed |= !each || !what;
    free(each);
    free(what);
}

static enum outcome print_text(const struct hk_convert *result, struct text *text)
{
    if (result->asks_balls || result->given_balls > 0)
        report_balls(result, text);
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_LEFT, "QUANTITY");
    text_table_column(table, TEXT_RIGHT, "VALUE");
    text_table_column(table, TEXT_LEFT, "UNIT");
    if (result->has_mass) {
        add_scaled(table, "mass", "g", result->mass_g, 1);
        add_scaled(table, "", "oz", result->mass_g, HK_G_PER_OUNCE);
    }
    if (result->has_length) {
        add_scaled(table, "length", "m", result->length_m, 1);
        add_scaled(table, "", "yd", result->length_m, HK_M_PER_YARD);
    }
    if (result->has_number)
        add_grist(table, result->number, result->by_rule ? rule_digits : exact_digits);
    add_balls(table, result, text);
    text_table_print(table);
    if (result->by_rule)
        report_rule(result, text);
    report_categories(result, text);
    return text_outcome(text);
}

/* ---- JSON ---- */

static void put_pair(struct json *json, json_t *object, const char *key, double a, double b)
{
    json_t *pair = json_make_array(json);
    json_add(json, pair, json_real(fmin(a, b)));
    json_add(json, pair, json_real(fmax(a, b)));
    json_put(json, object, key, pair);
}

static void put_grist(struct json *json, json_t *answer, const struct hk_yarn_number number[2])
{
    const struct hk_yarn_number *a = &number[0], *b = &number[1];
    put_pair(json, answer, "tex", a->tex, b->tex);
    put_pair(json, answer, "metric_nm", a->metric_nm, b->metric_nm);
    put_pair(json, answer, "denier", a->denier, b->denier);
    put_pair(json, answer, "cotton_ne", a->cotton_ne, b->cotton_ne);
    put_pair(json, answer, "worsted_ne", a->worsted_ne, b->worsted_ne);
    put_pair(json, answer, "woollen_run", a->woollen_run, b->woollen_run);
    put_pair(json, answer, "metres_in_100_g", a->metres_in_100_g, b->metres_in_100_g);
    put_pair(json, answer, "yards_a_pound", a->yards_a_pound, b->yards_a_pound);
    put_pair(json, answer, "wraps_per_inch", a->wraps_per_inch, b->wraps_per_inch);
    put_pair(json, answer, "diameter_mm", a->diameter_mm, b->diameter_mm);
}

/* Each value is a pair, lowest and highest; a key is present if its value is known. */
static enum outcome print_json(const struct hk_convert *result, FILE *out)
{
    struct json json = {0};
    json_t *answer = json_make_answer(&json), *categories = json_make_array(&json);
    if (result->has_mass)
        put_pair(&json, answer, "mass_g", result->mass_g[0], result->mass_g[1]);
    if (result->has_length)
        put_pair(&json, answer, "length_m", result->length_m[0], result->length_m[1]);
    if (result->has_number)
        put_grist(&json, answer, result->number);
    json_put(&json, answer, "by_rule", json_boolean(result->by_rule));
    json_put(&json, answer, "finer_too", json_boolean(result->finer_too));
    json_put(&json, answer, "coarser_too", json_boolean(result->coarser_too));
    if (result->put_up_g > 0)
        json_put_real(&json, answer, "put_up_g", result->put_up_g);
    if (result->put_up_m > 0)
        json_put_real(&json, answer, "put_up_m", result->put_up_m);
    if (result->put_up_g > 0 || result->put_up_m > 0) {
        json_put_text(&json, answer, "put_up_word", result->put_up_word);
        put_pair(&json, answer, "balls", result->balls[0], result->balls[1]);
        put_pair(&json, answer, "whole_balls", result->whole_balls[0], result->whole_balls[1]);
        json_put_real(&json, answer, "left_g", result->left_g);
        json_put_real(&json, answer, "left_m", result->left_m);
    }
    for (size_t i = 0; i < result->category_count; i++)
        json_add(&json, categories, json_text(result->categories[i]));
    json_put(&json, answer, "categories", categories);
    return json_write(&json, answer, out);
}

/* ---- Words ---- */

/*
 * A finding about the words has the word's number as its line; the message shows the typed word in place of a file
 * name.
 */
static void print_word_findings(const struct hk_diags *diags, char *const *words, size_t count)
{
    for (size_t i = 0; i < hk_diags_count(diags); i++) {
        const struct hk_finding *finding = hk_diags_finding(diags, i);
        const size_t line = finding->at.line;
        const char *hint = finding->hint ? finding->hint : "";
        if (hk_code_severity(finding->code) == HK_SEVERITY_NOTE)
            continue;
        if (line && line <= count)
            complain("convert: \"%s\": %s%s%s", words[line - 1], finding->message, *hint ? "; " : "", hint);
        else
            complain("convert: %s%s%s", finding->message, *hint ? "; " : "", hint);
    }
}

/* The result for the words, with the tables and, if one is open, the project. */
struct attempt {
    bool done;
    struct hk_convert result;
    struct hk_diags diags;
};

static void attempt(struct attempt *attempt, const struct work *work, const struct options *options)
{
    hk_diags_free(&attempt->diags);
    *attempt = (struct attempt){0};
    attempt->done = hk_convert_words((const char *const *)options->words + 1, options->word_count - 1, work->catalogue,
                                     work->project, &attempt->result, &attempt->diags);
}

static bool stands_in_project(void)
{
    struct hk_file file;
    struct folder here = {".", false};
    const struct hk_source source = folder_source(&here);
    const char *why;
    if (source.open(source.host, "project.csv", &file, &why) != HK_OPEN_DONE)
        return false;
    file.close(file.handle);
    return true;
}

/*
 * Words may name a yarn of a project: the one in --project, or, if the words need one, the one in the current folder.
 */
static enum outcome try_words(struct work *work, struct attempt *tried, const struct options *options)
{
    enum outcome outcome = options->project ? pipeline_project(work, options, options->project, STAGE_PROJECT)
                                            : pipeline_tables(work, options);
    if (outcome != DONE)
        return outcome;
    attempt(tried, work, options);
    if (tried->done || options->project || !stands_in_project())
        return DONE;
    outcome = pipeline_project(work, options, ".", STAGE_PROJECT);
    if (outcome == DONE)
        attempt(tried, work, options);
    return outcome;
}

enum outcome cmd_convert(const struct options *options, FILE *out)
{
    struct work work = {0};
    struct attempt tried = {0};
    struct text text = text_to(out, options->width);
    enum outcome outcome = try_words(&work, &tried, options);
    if (outcome == DONE) {
        print_word_findings(&tried.diags, options->words + 1, options->word_count - 1);
        outcome = findings_outcome(&tried.diags);
        if (outcome == DONE && !tried.done)
            outcome = REFUSED;
    }
    if (outcome == DONE)
        outcome = options->given & OPTION_JSON ? print_json(&tried.result, out) : print_text(&tried.result, &text);
    hk_convert_free(&tried.result);
    hk_diags_free(&tried.diags);
    pipeline_free(&work);
    return outcome;
}
