/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "spreads.h"

#include "amount.h"
#include "bar.h"
#include "findings.h"
#include "number.h"

#include <math.h>
#include <stdlib.h>

bool spreads_any(const struct hk_need *need)
{
    return need->evidence_progress + need->evidence_learned + need->evidence_testers > 0;
}

/* ---- The plot ---------------------------------------------------------------------------------------------------- */

/*
 * A reading on an axis of standard deviations from -3 to 3, two columns each: the range of 90%, from -3/2 to 3/2, its
 * middle, and the reading, at the end of the axis if it is beyond.
 */
#define AXIS_DEVIATIONS 3
#define AXIS_COLUMNS_EACH 2
enum { AXIS = 2 * AXIS_DEVIATIONS * AXIS_COLUMNS_EACH + 1, AXIS_MIDDLE = AXIS / 2, AXIS_RANGE = 3 };

struct plot {
    char text[4 * AXIS + 1];
};

static const char *mark(int column, bool unicode)
{
    const int from = abs(column - AXIS_MIDDLE);
    if (from > AXIS_RANGE)
        return unicode ? "\u00b7" : ".";
    if (from == 0)
        return unicode ? "\u253c" : "+";
    if (from < AXIS_RANGE)
        return unicode ? "\u2500" : "-";
    return column < AXIS_MIDDLE ? (unicode ? "\u251c" : "[") : unicode ? "\u2524" : "]";
}

static struct plot plot_of(double deviations, bool unicode)
{
    struct plot plot = {""};
    const double at = AXIS_MIDDLE + fmin(fmax(deviations, -AXIS_DEVIATIONS), AXIS_DEVIATIONS) * AXIS_COLUMNS_EACH;
    const int reading = (int)lround(at);
    size_t length = 0;
    for (int column = 0; column < AXIS; column++)
        length += (size_t)snprintf(plot.text + length, sizeof plot.text - length, "%s",
                                   column != reading ? mark(column, unicode)
                                   : unicode         ? "\u25cf"
                                                     : "*");
    return plot;
}

static void plot_column(struct text_table *table)
{
    text_table_column(table, TEXT_LEFT, "-3    0    3");
}

/* ---- Tables ------------------------------------------------------------------------------------------------------ */

/* Adds the cells of a forecast and of its reading. */
static void add_comparison(struct text_table *table, const struct hk_range *forecast, double read_g, double deviations,
                           bool unicode)
{
    const double off = round(1000 * (read_g / forecast->likely - 1)) / 10;
    text_table_cell(table, "%s g (%s to %s)", amount_shown(forecast, forecast->likely, AMOUNT_G, NUMBER_NEAREST).text,
                    amount_shown(forecast, forecast->low, AMOUNT_G, NUMBER_DOWN).text,
                    amount_shown(forecast, forecast->high, AMOUNT_G, NUMBER_UP).text);
    text_table_cell(table, "%s g", hk_number_text(read_g, 4).text);
    text_table_cell(table, "%s%s%%", off < 0 ? "-" : "+", hk_number_text(fabs(off), fabs(off) < 10 ? 2 : 3).text);
    text_table_cell(table, "%s", hk_number_text(round(10 * deviations) / 10 + 0.0, 3).text);
    text_table_cell(table, "%s", plot_of(deviations, unicode).text);
}

static void comparison_columns(struct text_table *table, const char *read)
{
    text_table_column(table, TEXT_RIGHT, "FORECAST");
    text_table_column(table, TEXT_RIGHT, "%s", read);
    text_table_column(table, TEXT_RIGHT, "OFF");
    text_table_column(table, TEXT_RIGHT, "APART");
    plot_column(table);
}

static void print_makings(const struct hk_calibration *calibration, bool unicode, struct text *text)
{
    const size_t count = calibration->making_count - calibration->left_out;
    text_gap(text);
    text_heading(text, "Finished work against its forecast");
    if (calibration->making_count == 0) {
        text_paragraph(text,
                       "No weighing of finished work, or of work in hand, is in progress.csv here or in a folder that "
                       "learn_from of project.csv names.");
        return;
    }
    text_paragraph(
        text,
        "A making is all that was weighed of one size of a project. FORECAST follows from swatches, balls and "
        "all other makings, with the range that holds 90%%. APART is the distance of the weight from it in "
        "standard deviations; the plot shows it beside the range.%s",
        calibration->left_out > 0 ? " ! marks a weighing so far off that it is left out." : "");
    text_gap(text);
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_WRAP, "MAKING");
    comparison_columns(table, "WEIGHED");
    for (size_t i = 0; i < calibration->making_count; i++) {
        const struct hk_calibration_making *making = &calibration->makings[i];
        text_table_cell(table, "%s%s%s%s%s%s", *making->work ? "! " : "", making->project, *making->size ? ", " : "",
                        making->size, *making->work ? ": " : "", making->work);
        add_comparison(table, &making->forecast_g, making->weighed_g, making->deviations, unicode);
    }
    text_table_print(table);
    text_gap(text);
    text_paragraph(
        text, "%zu of %zu are within the range, where 90%% are expected; %zu of %zu are at most what is enough at %s.",
        calibration->within, count, calibration->covered, count, number_asked(calibration->chance).text);
}

/*
 * Returns "Ane, M; 4.5 mm; 17 x 11": the tool if it is another than the pattern's, the gauge if stated. Owner: the
 * caller (free).
 */
static char *tester_words(const struct hk_calibration_tester *tester)
{
    char *words =
        text_format("%s%s%s%s", tester->odd ? "! " : "", tester->name, *tester->size ? ", " : "", tester->size);
    bool good = words != NULL;
    if (good && tester->tool_mm > 0 && tester->tool_mm != tester->pattern_tool_mm)
        good = text_append(&words, "; %s mm", number_stated(tester->tool_mm).text);
    if (good && tester->gauge_stitches > 0)
        good = text_append(&words, "; %s x %s", hk_number_text(tester->gauge_stitches, 3).text,
                           hk_number_text(tester->gauge_rows, 3).text);
    return good ? words : NULL;
}

static bool any_odd(const struct hk_calibration *calibration)
{
    bool odd = false;
    for (size_t i = 0; i < calibration->tester_count; i++)
        odd |= calibration->testers[i].odd;
    return odd;
}

static void print_testers(const struct hk_calibration *calibration, bool unicode, struct text *text)
{
    if (calibration->tester_count == 0)
        return;
    text_gap(text);
    text_heading(text, "Testers against their forecast");
    text_paragraph(
        text,
        "FORECAST follows from your own weighings and all other testers, at the gauge that is stated after the "
        "name, else at the pattern's; a tool is shown if it is another than the pattern's.%s",
        any_odd(calibration) ? " ! marks an odd result." : "");
    text_gap(text);
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_WRAP, "TESTER");
    comparison_columns(table, "USED");
    for (size_t i = 0; i < calibration->tester_count; i++) {
        const struct hk_calibration_tester *tester = &calibration->testers[i];
        char *words = tester_words(tester);
        text->failed |= !words;
        text_table_cell(table, "%s", words ? words : "");
        add_comparison(table, &tester->forecast_g, tester->used_g, tester->deviations, unicode);
        free(words);
    }
    text_table_print(table);
    text_gap(text);
    const double more = round(1000 * calibration->readers_more) / 10;
    text_paragraph(text, "At the pattern's gauge readers take %s%% %s than you on average.",
                   hk_number_text(fabs(more), 2).text, more < 0 ? "less" : "more");
}

/* ---- Spreads ----------------------------------------------------------------------------------------------------- */

static const char *evidence_noun(enum hk_calibrated spread, bool one)
{
    switch (spread) {
    case HK_CALIBRATED_MAKING:
        return one ? "making" : "makings";
    case HK_CALIBRATED_PIECE:
        return one ? "weighing beside others of its making" : "weighings beside others of their making";
    case HK_CALIBRATED_READER:
        return one ? "tester" : "testers";
    }
    return "";
}

static const char *meaning(enum hk_calibrated spread)
{
    switch (spread) {
    case HK_CALIBRATED_MAKING:
        return "one making from another";
    case HK_CALIBRATED_PIECE:
        return "one piece of a making from another";
    case HK_CALIBRATED_READER:
        return "readers from you";
    }
    return "";
}

/* Returns "12 weighed works give 0.048 (0.031 to 0.074)". Owner: the caller (free). */
static char *estimate_words(const struct hk_calibration_spread *spread)
{
    return text_format("%zu %s %s %s (%s to %s)", spread->evidence,
                       evidence_noun(spread->spread, spread->evidence == 1), spread->evidence == 1 ? "gives" : "give",
                       hk_number_text(spread->estimate, 2).text, hk_number_text(spread->low, 2).text,
                       hk_number_text(spread->high, 2).text);
}

static void print_spread(const struct hk_calibration_spread *spread, struct text *text)
{
    char *given = estimate_words(spread);
    char *head = text_format("%s (%s): %s", spread->name, meaning(spread->spread), hk_number_text(spread->now, 3).text);
    if (!given || !head)
        text->failed = true;
    else if (spread->spread == HK_CALIBRATED_READER)
        text_item(text, "%s is replaced in materials and kits: %s.", head, given);
    else if (spread->evidence == 0)
        text_item(text, "%s stays: there is no %s, and a new one is proposed from %zu on.", head,
                  evidence_noun(spread->spread, true), spread->needed);
    else if (!spread->enough)
        text_item(text, "%s stays: %s, and a new one is proposed from %zu on.", head, given, spread->needed);
    else if (spread->proposal > 0)
        text_item(text, "%s does not fit: %s. Write %s,%s into project.csv.", head, given, spread->name,
                  hk_number_text(spread->proposal, 3).text);
    else
        text_item(text, "%s fits: %s.", head, given);
    free(given);
    free(head);
}

static void print_all(const struct hk_calibration *calibration, struct text *text)
{
    const bool unicode = bar_blocks();
    print_makings(calibration, unicode, text);
    print_testers(calibration, unicode, text);
    text_gap(text);
    text_heading(text, "Spreads");
    text_paragraph(text,
                   "A spread is a standard deviation, 0.05 about 5%%; the range in brackets holds it with 90%%.");
    for (size_t i = 0; i < calibration->spread_count; i++)
        print_spread(&calibration->spreads[i], text);
}

void spreads_print(const struct work *work, struct text *text)
{
    struct hk_diags diags = {0};
    hk_diags_accept_as(&diags, &work->diags);
    struct hk_calibration *calibration = hk_calibration_make(work->fit, work->need->chance, &diags);
    findings_print(&diags, work->folder.path);
    text->failed |= hk_diags_out_of_memory(&diags);
    if (calibration)
        print_all(calibration, text);
    hk_calibration_free(calibration);
    hk_diags_free(&diags);
}

/* ---- JSON -------------------------------------------------------------------------------------------------------- */

static json_t *making_json(struct json *json, const struct hk_calibration_making *making, const char *folder)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "project", making->project);
    json_put_text(json, object, "size", making->size);
    json_put_place(json, object, making->at, folder);
    json_put_whole(json, object, "weighings", (int64_t)making->weighings);
    json_put_real(json, object, "weighed_g", making->weighed_g);
    json_put_amount(json, object, "forecast_g", &making->forecast_g);
    json_put_real(json, object, "deviations", making->deviations);
    json_put_bool(json, object, "left_out", *making->work != '\0');
    json_put_text(json, object, "work", making->work);
    return object;
}

static json_t *tester_json(struct json *json, const struct hk_calibration_tester *tester, const char *folder)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "tester", tester->name);
    json_put_text(json, object, "size", tester->size);
    json_put_place(json, object, tester->at, folder);
    json_put_real(json, object, "tool_mm", tester->tool_mm);
    json_put_real(json, object, "gauge_stitches", tester->gauge_stitches);
    json_put_real(json, object, "gauge_rows", tester->gauge_rows);
    json_put_real(json, object, "used_g", tester->used_g);
    json_put_amount(json, object, "forecast_g", &tester->forecast_g);
    json_put_real(json, object, "deviations", tester->deviations);
    json_put_bool(json, object, "odd", tester->odd);
    json_put_bool(json, object, "left_out", tester->left_out);
    return object;
}

static json_t *spread_json(struct json *json, const struct hk_calibration_spread *spread)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "spread", spread->name);
    json_put_real(json, object, "now", spread->now);
    json_put_real(json, object, "estimate", spread->estimate);
    json_put_real(json, object, "low", spread->low);
    json_put_real(json, object, "high", spread->high);
    json_put_whole(json, object, "evidence", (int64_t)spread->evidence);
    json_put_whole(json, object, "needed", (int64_t)spread->needed);
    json_put_bool(json, object, "enough", spread->enough);
    json_put(json, object, "proposal", spread->proposal > 0 ? json_real(spread->proposal) : json_null());
    return object;
}

void spreads_json(struct json *json, json_t *answer, const struct work *work)
{
    struct hk_diags diags = {0};
    hk_diags_accept_as(&diags, &work->diags);
    struct hk_calibration *calibration = hk_calibration_make(work->fit, work->need->chance, &diags);
    json_t *object = json_make_object(json), *makings = json_make_array(json), *testers = json_make_array(json),
           *spreads = json_make_array(json);
    findings_print(&diags, work->folder.path);
    json->failed |= hk_diags_out_of_memory(&diags);
    for (size_t i = 0; calibration && i < calibration->making_count; i++)
        json_add(json, makings, making_json(json, &calibration->makings[i], work->folder.path));
    for (size_t i = 0; calibration && i < calibration->tester_count; i++)
        json_add(json, testers, tester_json(json, &calibration->testers[i], work->folder.path));
    for (size_t i = 0; calibration && i < calibration->spread_count; i++)
        json_add(json, spreads, spread_json(json, &calibration->spreads[i]));
    json_put_real(json, object, "chance", work->need->chance);
    json_put_whole(json, object, "within", calibration ? (int64_t)calibration->within : 0);
    json_put_whole(json, object, "covered", calibration ? (int64_t)calibration->covered : 0);
    json_put_real(json, object, "readers_more", calibration ? calibration->readers_more : 0);
    json_put(json, object, "makings", makings);
    json_put(json, object, "testers", testers);
    json_put(json, object, "spreads", spreads);
    json_put(json, answer, "spreads", object);
    hk_calibration_free(calibration);
    hk_diags_free(&diags);
}
