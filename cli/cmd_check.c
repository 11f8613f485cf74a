/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful check: every mistake in the folder; on request the stitches of every row in every size, with equal rows grouped. */
#include "count_table.h"
#include "findings.h"
#include "grading.h"
#include "json.h"
#include "more.h"
#include "number.h"
#include "piece.h"
#include "pipeline.h"
#include "proofreading.h"
#include "rows.h"
#include "spreads.h"
#include "workbook/workbooks.h"

#include <stdlib.h>
#include <string.h>

/* ---- Text ---- */

enum fact { FACT_COPIES, FACT_FOUNDATION };

static int64_t fact_value(struct hk_line_count count, enum fact fact)
{
    return !count.times ? 0 : fact == FACT_COPIES ? count.times : count.foundation;
}

/* Adds a row for the foundation; leaves it out where every size has one copy, or no foundation. */
static void add_fact(struct text_table *table, const struct hk_tally *tally, size_t line, struct size_range sizes,
                     enum fact fact, const char **part)
{
    const int64_t usual = fact == FACT_COPIES ? 1 : 0;
    bool matters = false;
    for (size_t size = sizes.first; size < sizes.end; size++)
        matters |= fact_value(hk_tally_line(tally, line, size), fact) != usual;
    if (!matters)
        return;
    text_table_cell(table, "%s", *part);
    text_table_cell(table, "%s", fact == FACT_COPIES ? "copies" : "foundation");
    *part = "";
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const int64_t value = fact_value(hk_tally_line(tally, line, size), fact);
        text_table_cell(table, "%s", value ? number_whole(value).text : "-");
    }
}

static void add_line(struct text_table *table, const struct work *work, size_t line, struct size_range sizes,
                     bool every_row)
{
    const struct hk_tally *tally = work->tally;
    const struct hk_line_count count = hk_tally_line(tally, line, sizes.first);
    const char *part = *count.part ? count.part : count.fabric;
    add_fact(table, tally, line, sizes, FACT_FOUNDATION, &part);
    rows_print(table, tally, line, sizes, every_row, &part);
    add_fact(table, tally, line, sizes, FACT_COPIES, &part);
    grading_rows(table, work, line, sizes, false, &part);
}

static bool same_piece(const struct hk_tally *tally, size_t a, size_t b)
{
    return hk_tally_line(tally, a, 0).written == hk_tally_line(tally, b, 0).written &&
           strcmp(hk_tally_line(tally, a, 0).piece, hk_tally_line(tally, b, 0).piece) == 0;
}

/* Shows one table for each piece. Lines of a piece need not be adjacent. */
static void print_piece(const struct work *work, size_t first, struct size_range sizes, bool every_row,
                        struct text *text)
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
            add_line(table, work, line, sizes, every_row);
    text_table_print(table);
}

static bool piece_seen(const struct hk_tally *tally, size_t line)
{
    for (size_t i = 0; i < line; i++)
        if (same_piece(tally, i, line))
            return true;
    return false;
}

/* Shows the lines of pieces.csv; the lines of pattern.txt are shown row by row. */
static bool lines_listed(const struct hk_tally *tally)
{
    for (size_t line = 0; line < hk_tally_lines(tally); line++)
        if (!hk_tally_line(tally, line, 0).written)
            return true;
    return false;
}

/* Returns the rows of a size, each copied part counted once. */
static int64_t rows_of(const struct hk_tally *tally, size_t size)
{
    int64_t rows = 0;
    for (size_t line = 0; line < hk_tally_lines(tally); line++) {
        const struct hk_line_count count = hk_tally_line(tally, line, size);
        if (count.times && count.run_count)
            rows += count.runs[count.run_count - 1].last;
    }
    return rows;
}

/* "7 pieces, 11 parts and 389 rows in size M; 2 roles, 2 swatches." */
static void print_read(const struct work *work, struct text *text)
{
    const struct size_range sizes = pipeline_sizes(work);
    const size_t parts = hk_tally_lines(work->tally), roles = hk_project_roles(work->project),
                 swatches = hk_project_swatches(work->project);
    int64_t least = rows_of(work->tally, sizes.first), most = least;
    size_t pieces = 0;
    for (size_t line = 0; line < parts; line++)
        pieces += piece_begins(work->tally, line);
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const int64_t rows = rows_of(work->tally, size);
        least = rows < least ? rows : least;
        most = rows > most ? rows : most;
    }
    char *rows = least == most ? text_format("%s row%s", number_whole(most).text, NUMBER_PLURAL((size_t)most))
                               : text_format("%s to %s rows", number_whole(least).text, number_whole(most).text);
    char *where = hk_project_sizes(work->project) == 1 ? text_format("%s", "")
                  : sizes.end - sizes.first == 1
                      ? text_format(" in size %s", hk_project_size(work->project, sizes.first))
                      : text_format(" in %zu sizes", sizes.end - sizes.first);
    text->failed |= !rows || !where;
    char *weighed = swatches ? text_format("%zu swatch%s", swatches, swatches == 1 ? "" : "es") : text_format("no swatch");
    text->failed |= !weighed;
    text_paragraph(text, "Read: %zu piece%s, %zu part%s and %s%s, copies counted once; %zu role%s, %s.", pieces,
                   NUMBER_PLURAL(pieces), parts, NUMBER_PLURAL(parts), rows ? rows : "", where ? where : "", roles,
                   NUMBER_PLURAL(roles), weighed ? weighed : "");
    free(weighed);
    free(rows);
    free(where);
}

static void print_verdict(const struct work *work, struct text *text)
{
    const size_t errors = hk_diags_errors(&work->diags), warnings = findings_count(&work->diags, HK_SEVERITY_WARNING);
    if (errors)
        text_paragraph(text, "%zu error%s. Fix %s to get an answer.", errors, NUMBER_PLURAL(errors),
                       errors == 1 ? "it" : "them");
    else if (warnings)
        text_heading(text, "%s: no errors, %zu warning%s", hk_project_title(work->project), warnings,
                     NUMBER_PLURAL(warnings));
    else
        text_heading(text, "%s: no errors", hk_project_title(work->project));
}

/* The stitches of pieces.csv, by part; those of pattern.txt are shown row by row. */
static void print_parts(const struct work *work, bool every_row, struct text *text)
{
    const struct size_range sizes = pipeline_sizes(work);
    if (!lines_listed(work->tally))
        return;
    text_gap(text);
    text_paragraph(text, "Stitches that each row leaves (%s terms). The foundation is chains, or stitches cast on.",
                   hk_project_uk_terms(work->project) ? "UK" : "US");
    for (size_t line = 0; line < hk_tally_lines(work->tally); line++)
        if (!hk_tally_line(work->tally, line, 0).written && !piece_seen(work->tally, line))
            print_piece(work, line, sizes, every_row, text);
    grading_swatches(work, sizes, text);
}

/* Returns the sections that the folder has something for. */
static uint64_t sections_of(const struct work *work)
{
    uint64_t sections = proofreading_prose_lines(work) ? OPTION_PROSE : 0;
    if (work->project && hk_project_written(work->project))
        sections |= OPTION_ROWS;
    if (work->project && hk_written_choice(work->project, 0))
        sections |= OPTION_ASSUMPTIONS;
    if (work->tally && lines_listed(work->tally))
        sections |= OPTION_ROWS | OPTION_PARTS;
    if (work->tally && grading_any(work, pipeline_sizes(work)))
        sections |= OPTION_LENGTHS;
    if (work->need && spreads_any(work->need))
        sections |= OPTION_SPREADS;
    return sections;
}

/* The verdict, what was read, what needs a look; then the sections asked for. The tally is missing where there are errors. */
/* Names the sheets of a workbook that are not read. */
static void print_others(const struct work *work, struct text *text)
{
    bool failed;
    char *names = workbook_others(work->folder.path, &failed);
    if (names)
        text_paragraph(text, "Sheets that are not read: %s.", names);
    text->failed |= failed;
    free(names);
}

static enum outcome print_text(const struct work *work, const struct options *options, struct text *text)
{
    const bool every_row = more_wanted(options, OPTION_ROWS), parts = every_row || more_wanted(options, OPTION_PARTS);
    print_verdict(work, text);
    if (work->tally)
        print_read(work, text);
    print_others(work, text);
    proofreading_summary(work, text);
    proofreading_print(work, parts, text);
    if (work->tally && parts)
        print_parts(work, every_row, text);
    else if (work->tally && more_wanted(options, OPTION_LENGTHS))
        grading_print(work, pipeline_sizes(work), text);
    if (more_wanted(options, OPTION_PROSE))
        proofreading_prose(work, text);
    if (more_wanted(options, OPTION_ASSUMPTIONS))
        proofreading_choices(work, text);
    if (work->need && (options->given & OPTION_SPREADS || (options->given & OPTION_ALL && spreads_any(work->need))))
        spreads_print(work, text);
    if (findings_any(&work->diags, HK_SEVERITY_WARNING)) {
        text_gap(text);
        text_paragraph(text, "A warning that is understood stays away once its code stands in the column ok of its row%s.",
                       work->project && hk_project_written(work->project) ? ", or in a line \"ok: CODE\" above it in pattern.txt"
                                                                          : "");
    }
    more_offer(text, work, options, sections_of(work), HK_CODE_LENGTHS);
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
    json_put_real(json, object, "width_m", count->width.finished_m);
    json_put_real(json, object, "height_m", count->height.finished_m);
    json_put(json, object, "lengths", grading_json(json, count));
    return object;
}

/* Writes the JSON row by row: frees one line of the design in one size before it makes the next. */
static void write_counts(struct json *json, const struct work *work, FILE *out)
{
    const struct size_range sizes = pipeline_sizes(work);
    for (size_t size = sizes.first; size < sizes.end; size++) {
        for (size_t line = 0; line < hk_tally_lines(work->tally); line++) {
            const struct hk_line_count count = hk_tally_line(work->tally, line, size);
            json_write_row(json, count_json(json, hk_project_size(work->project, size), &count), out);
        }
    }
}

static enum outcome print_json(const struct work *work, const struct options *options, bool ok, FILE *out)
{
    struct json json = {0};
    json_t *first = json_make_answer(&json), *last = json_make_object(&json);
    json_put_bool(&json, first, "ok", ok);
    json_put_findings(&json, first, "errors", &work->diags, HK_SEVERITY_ERROR, work->folder.path);
    json_put_findings(&json, first, "warnings", &work->diags, HK_SEVERITY_WARNING, work->folder.path);
    bool complete;
    json_put(&json, last, "rows", proofreading_rows(&json, work));
    json_put(&json, last, "totals", proofreading_totals(&json, work, &complete));
    json_put_bool(&json, last, "totals_complete", complete);
    json_put_findings(&json, last, "assumptions", &work->diags, HK_SEVERITY_NOTE, work->folder.path);
    json_put_accepted(&json, last, &work->diags, work->folder.path);
    if (workbook_named(work->folder.path)) {
        bool failed;
        char *names = workbook_others(work->folder.path, &failed);
        json.failed |= failed;
        json_put_text(&json, last, "sheets_not_read", names);
        free(names);
    }
    if (ok && options->given & OPTION_SPREADS)
        spreads_json(&json, last, work);
    json_write_first(&json, first, "counts", out);
    if (ok)
        write_counts(&json, work, out);
    return json_write_last(&json, last, out);
}

/* ---- A table to print ---- */

static enum outcome print_table(const struct work *work, const struct options *options, FILE *out, struct text *text)
{
    const bool every_row = options->given & OPTION_ROWS;
    if (options->given & OPTION_MARKDOWN)
        return count_table_markdown(work, every_row, out);
    if (options->given & OPTION_CSV)
        return count_table_csv(work, every_row, out);
    return count_table_text(work, every_row, text);
}

/* Markdown and CSV are formats of the table; the command accepts only one of them. */
static bool formats_fit(const struct options *options)
{
    const uint64_t given = options->given;
    const bool pasted = given & (OPTION_MARKDOWN | OPTION_CSV);
    if (pasted && !(given & OPTION_TABLE))
        complain("check writes --markdown and --csv of its table only; add --table");
    else if ((given & OPTION_MARKDOWN && given & OPTION_CSV) || (given & OPTION_TABLE && given & OPTION_JSON))
        complain("one of --markdown, --csv and --json at a time; the rows of --json are those of --table");
    else
        return true;
    return false;
}

enum outcome cmd_check(const struct options *options, FILE *out)
{
    struct work work = {0};
    struct text text = pipeline_text(out, pipeline_folder(options), options);
    if (!formats_fit(options))
        return MISUSED;
    enum outcome found = pipeline_project(&work, options, pipeline_folder(options), STAGE_NEED);
    if (found == DONE && work.size == HK_NO_SIZE) {
        hk_diags_unused(&work.diags);
        hk_diags_sort(&work.diags);
        found = findings_outcome(&work.diags);
    }
    enum outcome shown = found;
    if (options->given & OPTION_TABLE && (found == DONE || (found == REFUSED && work.project)))
        shown = print_table(&work, options, out, &text);
    else if ((found == DONE || found == REFUSED) && options->given & OPTION_JSON)
        shown = print_json(&work, options, found == DONE, out);
    else if (found == DONE || found == REFUSED)
        shown = print_text(&work, options, &text);
    pipeline_free(&work);
    return shown == FAILED ? FAILED : found;
}
