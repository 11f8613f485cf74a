/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful check: every mistake in the folder; the stitches of every row in every size, rows that agree taken together.
 */
#include "findings.h"
#include "json.h"
#include "number.h"
#include "work.h"

#include <inttypes.h>
#include <string.h>

/* The sizes shown are those from `first` up to, not including, `end`. */
struct span {
    size_t first, end;
};

static struct span sizes_shown(const struct work *work)
{
    if (work->size != HK_NO_SIZE)
        return (struct span){work->size, work->size + 1};
    return (struct span){0, hk_project_sizes(work->project)};
}

/* ---- Text ---- */

/* The run that the row belongs to, or NULL: that size has no such row. */
static const struct hk_row_run *run_of(const struct hk_line_count *line, int64_t row)
{
    for (size_t i = 0; i < line->run_count; i++)
        if (row >= line->runs[i].first && row <= line->runs[i].last)
            return &line->runs[i];
    return NULL;
}

/* The last row up to which every size goes on as in `row`; 0 if no size has that row. */
static int64_t alike_until(const struct hk_tally *tally, size_t line, struct span sizes, int64_t row)
{
    int64_t until = 0;
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const struct hk_line_count count = hk_tally_line(tally, line, size);
        const struct hk_row_run *run = count.times ? run_of(&count, row) : NULL;
        if (run && (!until || run->last < until))
            until = run->last;
    }
    return until;
}

static void add_run(struct text_table *table, const struct hk_row_run *run, int64_t row, int64_t until)
{
    if (!run) {
        text_table_cell(table, "-");
        return;
    }
    const int64_t from = run->stitches + (row - run->first) * run->step;
    const int64_t to = from + (until - row) * run->step;
    if (from == to)
        text_table_cell(table, "%s", number_whole(from).text);
    else if (until == row + 1)
        text_table_cell(table, "%s, %s", number_whole(from).text, number_whole(to).text);
    else
        text_table_cell(table, "%s to %s, %+" PRId64, number_whole(from).text, number_whole(to).text, run->step);
}

static void add_rows(struct text_table *table, const struct hk_tally *tally, size_t line, struct span sizes,
                     const char **part)
{
    int64_t until;
    for (int64_t row = 1; (until = alike_until(tally, line, sizes, row)) != 0; row = until + 1) {
        text_table_cell(table, "%s", *part);
        *part = "";
        if (row == until)
            text_table_cell(table, "row %s", number_whole(row).text);
        else
            text_table_cell(table, "rows %s-%s", number_whole(row).text, number_whole(until).text);
        for (size_t size = sizes.first; size < sizes.end; size++) {
            const struct hk_line_count count = hk_tally_line(tally, line, size);
            add_run(table, count.times ? run_of(&count, row) : NULL, row, until);
        }
    }
}

enum fact { FACT_COPIES, FACT_FOUNDATION, FACT_WIDTH_CM, FACT_WIDTH_IN, FACT_HEIGHT_CM, FACT_HEIGHT_IN };

static double fact_value(struct hk_line_count count, enum fact fact)
{
    if (!count.times)
        return 0;
    switch (fact) {
    case FACT_COPIES:
        return (double)count.times;
    case FACT_FOUNDATION:
        return (double)count.foundation;
    case FACT_WIDTH_CM:
        return 100 * count.width_m;
    case FACT_WIDTH_IN:
        return count.width_m / HK_M_PER_INCH;
    case FACT_HEIGHT_CM:
        return 100 * count.height_m;
    case FACT_HEIGHT_IN:
        return count.height_m / HK_M_PER_INCH;
    }
    return 0;
}

/* Whether a fact is worth a row: there is one, or more than the one copy that goes without saying. */
static bool fact_matters(const struct hk_tally *tally, size_t line, struct span sizes, enum fact fact)
{
    const double usual = fact == FACT_COPIES ? 1 : 0;
    for (size_t size = sizes.first; size < sizes.end; size++)
        if (fact_value(hk_tally_line(tally, line, size), fact) != usual)
            return true;
    return false;
}

static void add_fact(struct text_table *table, const struct hk_tally *tally, size_t line, struct span sizes,
                     enum fact fact, const char **part)
{
    static const char *const names[] = {
        [FACT_COPIES] = "copies",      [FACT_FOUNDATION] = "foundation", [FACT_WIDTH_CM] = "width, cm",
        [FACT_WIDTH_IN] = "width, in", [FACT_HEIGHT_CM] = "height, cm",  [FACT_HEIGHT_IN] = "height, in"};
    static const struct number_step tenths = {1, -1};
    if (!fact_matters(tally, line, sizes, fact))
        return;
    text_table_cell(table, "%s", *part);
    text_table_cell(table, "%s", names[fact]);
    *part = "";
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const double value = fact_value(hk_tally_line(tally, line, size), fact);
        if (value == 0)
            text_table_cell(table, "-");
        else if (fact == FACT_COPIES || fact == FACT_FOUNDATION)
            text_table_cell(table, "%s", number_whole((int64_t)value).text);
        else
            text_table_cell(table, "%s", number_stepped(value, tenths, NUMBER_NEAREST).text);
    }
}

static void add_line(struct text_table *table, const struct hk_tally *tally, size_t line, struct span sizes)
{
    const struct hk_line_count count = hk_tally_line(tally, line, sizes.first);
    const char *part = *count.part ? count.part : count.fabric;
    add_fact(table, tally, line, sizes, FACT_FOUNDATION, &part);
    add_rows(table, tally, line, sizes, &part);
    add_fact(table, tally, line, sizes, FACT_COPIES, &part);
    add_fact(table, tally, line, sizes, FACT_WIDTH_CM, &part);
    add_fact(table, tally, line, sizes, FACT_WIDTH_IN, &part);
    add_fact(table, tally, line, sizes, FACT_HEIGHT_CM, &part);
    add_fact(table, tally, line, sizes, FACT_HEIGHT_IN, &part);
}

static bool same_piece(const struct hk_tally *tally, size_t a, size_t b)
{
    return strcmp(hk_tally_line(tally, a, 0).piece, hk_tally_line(tally, b, 0).piece) == 0;
}

/* One table for a piece, whose lines need not stand together. */
static void print_piece(const struct work *work, size_t first, struct span sizes, struct text *text)
{
    struct text_table *table = text_table(text);
    text_gap(text);
    text_heading(text, "%s", hk_tally_line(work->tally, first, 0).piece);
    text_table_column(table, TEXT_KEY, "PART");
    text_table_column(table, TEXT_KEY, "STITCHES IN");
    for (size_t size = sizes.first; size < sizes.end; size++)
        text_table_column(table, TEXT_RIGHT, "%s", hk_project_size(work->project, size));
    for (size_t line = first; line < hk_tally_lines(work->tally); line++)
        if (same_piece(work->tally, line, first))
            add_line(table, work->tally, line, sizes);
    text_table_print(table);
}

static bool piece_seen(const struct hk_tally *tally, size_t line)
{
    for (size_t i = 0; i < line; i++)
        if (same_piece(tally, i, line))
            return true;
    return false;
}

static size_t warnings_in(const struct hk_diags *diags)
{
    size_t warnings = 0;
    for (size_t i = 0; i < diags->count; i++)
        warnings += hk_code_severity(diags->findings[i].code) == HK_WARNING;
    return warnings;
}

static enum outcome print_counts(const struct work *work, struct text *text)
{
    const size_t warnings = warnings_in(&work->diags);
    if (warnings)
        text_heading(text, "%s: no mistakes, %zu warning%s", hk_project_title(work->project), warnings,
                     warnings == 1 ? "" : "s");
    else
        text_heading(text, "%s: no mistakes", hk_project_title(work->project));
    text_paragraph(text,
                   "Stitches that each row leaves (%s terms). The foundation is chains, or stitches cast on; "
                   "widths and heights are what the gauge makes of the counts.",
                   hk_project_uk_terms(work->project) ? "UK" : "US");
    for (size_t line = 0; line < hk_tally_lines(work->tally); line++)
        if (!piece_seen(work->tally, line))
            print_piece(work, line, sizes_shown(work), text);
    findings_assumed(text, &work->diags, work->folder.path);
    return text_outcome(text);
}

static enum outcome print_mistakes(const struct work *work, struct text *text)
{
    const size_t errors = work->diags.errors;
    text_paragraph(text, "%zu mistake%s to mend; nothing is reckoned until then.", errors, errors == 1 ? "" : "s");
    return text_outcome(text);
}

/* ---- JSON ---- */

static json_t *runs_json(struct json *json, const struct hk_line_count *count)
{
    json_t *runs = json_make_array(json);
    for (size_t i = 0; i < count->run_count; i++) {
        json_t *run = json_make_object(json);
        json_put_whole(json, run, "first", count->runs[i].first);
        json_put_whole(json, run, "last", count->runs[i].last);
        json_put_whole(json, run, "stitches", count->runs[i].stitches);
        json_put_whole(json, run, "step", count->runs[i].step);
        json_add(json, runs, run);
    }
    return runs;
}

static json_t *count_json(struct json *json, const char *size, const struct hk_line_count *count)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "size", size);
    json_put_text(json, object, "piece", count->piece);
    json_put_text(json, object, "part", count->part);
    json_put_text(json, object, "fabric", count->fabric);
    json_put_whole(json, object, "times", count->times);
    json_put_whole(json, object, "foundation", count->foundation);
    json_put(json, object, "rows", runs_json(json, count));
    json_put_real(json, object, "width_m", count->width_m);
    json_put_real(json, object, "height_m", count->height_m);
    return object;
}

static json_t *counts_json(struct json *json, const struct work *work)
{
    const struct span sizes = sizes_shown(work);
    json_t *counts = json_make_array(json);
    for (size_t size = sizes.first; size < sizes.end; size++) {
        for (size_t line = 0; line < hk_tally_lines(work->tally); line++) {
            const struct hk_line_count count = hk_tally_line(work->tally, line, size);
            json_add(json, counts, count_json(json, hk_project_size(work->project, size), &count));
        }
    }
    return counts;
}

static enum outcome print_json(const struct work *work, bool ok, FILE *out)
{
    struct json json = {0};
    json_t *answer = json_make_answer(&json);
    json_put_bool(&json, answer, "ok", ok);
    json_put_findings(&json, answer, "errors", &work->diags, HK_ERROR, work->folder.path);
    json_put_findings(&json, answer, "warnings", &work->diags, HK_WARNING, work->folder.path);
    json_put(&json, answer, "counts", ok ? counts_json(&json, work) : json_make_array(&json));
    json_put_findings(&json, answer, "assumed", &work->diags, HK_NOTE, work->folder.path);
    return json_write(&json, answer, out);
}

enum outcome cmd_check(const struct options *options, FILE *out)
{
    struct work work = {0};
    struct text text = text_to(out, options->width);
    const enum outcome found = work_project(&work, options, work_folder(options), STAGE_NEED);
    enum outcome shown = found;
    if ((found == DONE || found == REFUSED) && options->json)
        shown = print_json(&work, found == DONE, out);
    else if (found == DONE)
        shown = print_counts(&work, &text);
    else if (found == REFUSED)
        shown = print_mistakes(&work, &text);
    work_free(&work);
    return shown == FAILED ? FAILED : found;
}
