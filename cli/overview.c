/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "overview.h"

#include "findings.h"
#include "hankful.h"
#include "layout.h"
#include "piece.h"
#include "pipeline.h"
#include "safe.h"
#include "workbook/workbooks.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/*
 * Limit of the trial search for baskets, in seconds for all sizes: the trial shows gaps in the offers, not the cheapest
 * basket.
 */
static const double trial_seconds = 0.5;
enum { names_most = 12 };

static bool is_there(const char *path)
{
    struct stat status;
    return lstat(path, &status) == 0;
}

/* Returns whether the project has a file, or the sheet for it. */
static bool has(const char *project, const char *file)
{
    const struct sheets *sheets = workbook_sheets(project);
    if (!workbook_named(project))
        return is_there(file);
    for (size_t i = 0; sheets && i < sheets->count; i++)
        if (sheets->list[i].wanted && strcmp(sheets_file(sheets->list[i].name), file) == 0)
            return true;
    return false;
}

static bool has_any(const char *project)
{
    for (size_t i = 0; hk_project_file(i); i++)
        if (has(project, hk_project_file(i)))
            return true;
    return false;
}

/* Returns the only workbook of the folder; names that begin with . or ~ are a spreadsheet's own. Owner: the caller
 * (free). */
static char *only_workbook(bool *failed)
{
    DIR *folder = opendir(".");
    const struct dirent *entry;
    size_t count = 0;
    char *name = NULL;
    while (folder && count < 2 && (entry = readdir(folder))) {
        if (entry->d_name[0] == '.' || entry->d_name[0] == '~' || !workbook_named(entry->d_name))
            continue;
        count++;
        free(name);
        name = text_format("%s", entry->d_name);
        *failed |= !name;
    }
    if (folder)
        closedir(folder);
    if (count == 1)
        return name;
    free(name);
    return NULL;
}

char *overview_project(bool *failed)
{
    *failed = false;
    char *project = has_any(".") ? text_format(".") : only_workbook(failed);
    *failed |= has_any(".") && !project;
    if (!project || *failed || has_any(project))
        return project;
    const struct sheets *sheets = workbook_sheets(project);
    *failed = !sheets || sheets->no_memory;
    free(project);
    workbooks_forget();
    return NULL;
}

/* ---- Contents ---- */

/* Names of one kind: the first names as words, and the number of names. */
struct names {
    char *words;
    size_t count;
    bool failed;
};

static void add_name(struct names *names, const char *name)
{
    if (!names->failed && names->count < names_most)
        names->failed = !text_append(&names->words, "%s%s", names->count ? ", " : "", name);
    names->count++;
}

/* Formats "Sizes: S, M, L". */
static void print_names(struct text *text, const char *what, struct names *names)
{
    const char *words = names->words ? names->words : "";
    if (names->count > names_most)
        text_paragraph(text, "%s: %s and %zu more", what, words, names->count - names_most);
    else if (names->count)
        text_paragraph(text, "%s: %s", what, words);
    text->failed = text->failed || names->failed;
    free(names->words);
}

static void print_files(const char *project, struct text *text)
{
    struct names names = {0};
    const bool workbook = workbook_named(project);
    for (size_t i = 0; hk_project_file(i); i++) {
        const char *file = hk_project_file(i);
        char *name =
            has(project, file) ? text_format("%.*s", (int)(workbook ? strcspn(file, ".") : strlen(file)), file) : NULL;
        names.failed |= has(project, file) && !name;
        if (name)
            add_name(&names, name);
        free(name);
    }
    if (workbook)
        text_paragraph(text, "Workbook: %s", project);
    print_names(text, workbook ? "Sheets" : "Files", &names);
}

static void print_sizes(const struct hk_project *project, struct text *text)
{
    struct names names = {0};
    for (size_t i = 0; i < hk_project_sizes(project); i++)
        add_name(&names, hk_project_size(project, i));
    print_names(text, "Sizes", &names);
}

static void print_yarns(const struct hk_project *project, struct text *text)
{
    struct names names = {0};
    for (size_t i = 0; i < hk_project_roles(project); i++) {
        const struct hk_project_role role = hk_project_role(project, i);
        char *name = text_format("%s in %s%s%s", role.name, role.yarn, *role.colour ? " " : "", role.colour);
        names.failed |= !name;
        add_name(&names, name ? name : "");
        free(name);
    }
    print_names(text, "Yarns", &names);
}

static void print_pieces(const struct hk_tally *tally, struct text *text)
{
    struct names names = {0};
    for (size_t line = 0; line < hk_tally_lines(tally); line++) {
        if (piece_begins(tally, line))
            add_name(&names, hk_tally_line(tally, line, 0).piece);
    }
    print_names(text, "Pieces", &names);
}

/* Swatches and all other weighings, of pieces, balls and unravelled work. */
static void print_evidence(const struct work *work, struct text *text)
{
    text_paragraph(text, "Swatches: %zu. Weights and lengths of yarn measured: %zu.",
                   hk_project_swatches(work->project), work->need->evidence);
}

static void print_contents(const struct work *work, struct text *text)
{
    text_heading(text, "%s", work->project ? hk_project_title(work->project) : "A project with errors");
    print_files(work->folder.path, text);
    if (work->project)
        print_sizes(work->project, text);
    if (work->tally)
        print_pieces(work->tally, text);
    if (work->project)
        print_yarns(work->project, text);
    if (work->need)
        print_evidence(work, text);
}

/* ---- Errors ---- */

static void print_error(const struct hk_finding *finding, const char *project, struct text *text)
{
    char *place = finding_place(finding->at, project), *words = finding_words(finding, project);
    text_item(text, "%s: %s", place ? place : "", words ? words : "");
    text->failed = text->failed || !place || !words;
    free(place);
    free(words);
}

/* The number of errors, and the first three of them. */
static void print_errors(const struct hk_diags *diags, const char *project, struct text *text)
{
    enum { shown_most = 3 };
    const size_t errors = hk_diags_errors(diags), warnings = findings_count(diags, HK_SEVERITY_WARNING);
    size_t shown = 0;
    text_gap(text);
    char count[2][32] = {"No", "no"};
    if (errors)
        snprintf(count[0], sizeof count[0], "%zu", errors);
    if (warnings)
        snprintf(count[1], sizeof count[1], "%zu", warnings);
    const size_t accepted = findings_accepted(diags, HK_SEVERITY_WARNING);
    char more[48] = "";
    if (accepted)
        snprintf(more, sizeof more, "; %zu accepted", accepted);
    text_heading(text, "%s error%s, %s warning%s%s", count[0], errors == 1 ? "" : "s", count[1], warnings == 1 ? "" : "s",
                 more);
    for (size_t i = 0; i < hk_diags_count(diags) && shown < shown_most; i++) {
        const struct hk_finding *finding = hk_diags_finding(diags, i);
        if (hk_code_severity(finding->code) != HK_SEVERITY_ERROR)
            continue;
        print_error(finding, project, text);
        shown++;
    }
    if (errors > shown)
        text_item(text, "%zu more", errors - shown);
}

/* ---- Suggested commands ---- */

/* Commands with their results; at most the first four added are shown. `workbook`: files cannot be added. */
struct advice {
    bool workbook;
    struct {
        const char *command, *gives;
    } lines[4];
    size_t count;
};

static void advise(struct advice *advice, bool sensible, const char *command, const char *gives)
{
    const bool adds = strncmp(command, "hankful new --", strlen("hankful new --")) == 0;
    if (!sensible || (advice->workbook && adds) || advice->count == sizeof advice->lines / sizeof advice->lines[0])
        return;
    advice->lines[advice->count].command = command;
    advice->lines[advice->count++].gives = gives;
}

static bool has_error(const struct hk_diags *diags, enum hk_code code, const char *file)
{
    for (size_t i = 0; i < hk_diags_count(diags); i++) {
        const struct hk_finding *finding = hk_diags_finding(diags, i);
        if (finding->code == code && finding->at.file && (!file || strcmp(finding->at.file, file) == 0))
            return true;
    }
    return false;
}

/* Findings of a trial are not findings of the project, except that memory ran out, also within GLPK. */
static void end_trial(struct work *work, struct hk_diags *diags)
{
    if (hk_diags_out_of_memory(diags) || hk_diags_machine_failed(diags))
        hk_diags_set_out_of_memory(&work->diags);
    hk_diags_free(diags);
}

/* Returns whether a project can begin with pattern.txt. */
static bool is_pattern(struct work *work)
{
    struct hk_diags diags = {0};
    const struct hk_source source = hk_source_folder(".");
    const bool there = !workbook_named(work->folder.path) && is_there("pattern.txt");
    struct hk_text_settings *settings =
        there ? hk_text_settings_read(&source, "pattern.txt", work->catalogue, &diags) : NULL;
    const bool good = settings != NULL;
    hk_text_settings_free(settings);
    end_trial(work, &diags);
    return good;
}

static void advise_repair(struct advice *advice, struct work *work)
{
    static const char begun[] = "my-pattern", sample[] = "my-hat";
    const struct hk_diags *diags = &work->diags;
    const bool missing = has_error(diags, HK_CODE_FILE_MISSING, NULL), written = missing && is_pattern(work);
    advise(advice, true, "hankful check", "every error, with its place and a hint");
    advise(advice, !has(work->folder.path, "swatches.csv") && has_error(diags, HK_CODE_GAUGE_MISSING, NULL),
           "hankful new --add swatches .", "a file for swatches and their gauge");
    advise(advice, written && !is_there(begun), "hankful new --from pattern.txt my-pattern",
           "a project that begins with pattern.txt, in the folder my-pattern");
    advise(advice, missing && !written && !is_there(sample), "hankful new my-hat",
           "a small complete project, in the folder my-hat: each file is explained in its notes");
    advise(advice, has_error(diags, HK_CODE_NAME_UNKNOWN, "pieces.csv"), "hankful tables fabrics",
           "the stitch patterns that are known by name");
    advise(advice, has_error(diags, HK_CODE_NAME_UNKNOWN, "fabrics.csv") || has_error(diags, HK_CODE_ROW_SYNTAX, NULL),
           "hankful tables stitches", "the stitches that a row may name");
    advise(advice, advice->count < 2, "hankful help check", "options of check");
}

/* Returns whether the price of a commission can be computed. */
static bool quote_works(struct work *work, const struct hk_shop *shop)
{
    struct hk_diags diags = {0};
    struct hk_time_fit *time = hk_fit_time(work->tally, &diags);
    struct hk_hours *hours = time ? hk_hours_predict(time, HK_NO_SIZE, &diags) : NULL;
    struct hk_quote *quote =
        hours ? hk_quote_make(work->need, shop, hours, hk_quote_defaults(HK_QUESTION_COMMISSION), &diags) : NULL;
    const bool works = quote != NULL;
    hk_quote_free(quote);
    hk_hours_free(hours);
    hk_time_fit_free(time);
    end_trial(work, &diags);
    return works;
}

static struct hk_shop *try_shop(struct work *work)
{
    struct hk_diags diags = {0};
    struct hk_shop_options wanted = hk_shop_defaults();
    wanted.seconds = trial_seconds / (double)work->need->size_count;
    wanted.unpriced_silent = true;
    struct hk_shop *shop = hk_shop_plan(work->need, wanted, &diags);
    end_trial(work, &diags);
    return shop;
}

static void advise_answers(struct advice *advice, struct work *work)
{
    const char *project = work->folder.path;
    const bool offers = has(project, "offers.csv"), costs = has(project, "costs.csv"),
               shops = has(project, "shops.csv");
    const bool weighed = work->need->evidence > work->need->evidence_balls + work->need->evidence_testers;
    struct hk_shop *shop = offers || costs ? try_shop(work) : NULL;
    advise(advice, findings_any(&work->diags, HK_SEVERITY_WARNING), "hankful check", "the warnings, with their places");
    advise(advice, !has(project, "swatches.csv") && !weighed, "hankful new --add swatches .",
           "a file for weighed swatches");
    advise(advice, true, "hankful need",
           weighed ? "the yarn that each size takes"
                   : "the yarn that each size takes, and which swatch to work and weigh");
    advise(advice, offers && shop, "hankful shop", "the balls to buy, by shop, and their cost");
    advise(advice, !offers && shops, "hankful new --add offers .", "a file for the prices of shops");
    advise(advice, !offers && !shops, "hankful new --add offers,shops .",
           "files for the prices and the postage of shops");
    advise(advice, costs && shop && quote_works(work, shop), "hankful quote", "the price to ask for a piece");
    advise(advice, true, "hankful materials", "the materials as a pattern prints them");
    advise(advice, !costs, "hankful new --add costs .",
           "a file for hours, fees and other costs, of which quote makes a price");
    hk_shop_free(shop);
}

/* Writes the commands; those of one word get the name of a workbook. */
static void print_advice(const struct advice *advice, const char *project, struct text *text)
{
    struct text_table *table = text_table(text);
    char *name = advice->workbook ? text_format("%s%s", *project == '-' ? "./" : "", project) : NULL;
    char *quoted = name ? safe_shell(name) : NULL;
    text->failed |= advice->workbook && !quoted;
    text_gap(text);
    text_heading(text, "Next");
    text_gap(text);
    text_table_column(table, TEXT_LEFT, "COMMAND");
    text_table_column(table, TEXT_WRAP, "RESULT");
    for (size_t i = 0; i < advice->count; i++) {
        const char *command = advice->lines[i].command;
        const bool named = quoted && !strchr(command + strlen("hankful "), ' ');
        text_table_cell(table, "%s%s%s", command, named ? " " : "", named ? quoted : "");
        text_table_cell(table, "%s", advice->lines[i].gives);
    }
    text_table_print(table);
    free(name);
    free(quoted);
}

static void print_next(struct work *work, bool good, struct text *text)
{
    struct advice advice = {.workbook = workbook_named(work->folder.path)};
    if (good && work->need->evidence == work->need->evidence_balls) {
        text_gap(text);
        text_paragraph(text,
                       "No swatch is weighed yet. Weigh one, washed and dried, with its tails, and write its stitches, "
                       "rows, weight and the step of the scale into swatches.csv; a scale that shows 0.1 g tells far "
                       "more than one of 1 g.");
    }
    if (good)
        advise_answers(&advice, work);
    else
        advise_repair(&advice, work);
    print_advice(&advice, work->folder.path, text);
}

enum outcome overview(const char *project, const struct options *options, FILE *out)
{
    struct work work = {.silent = true};
    struct text text = pipeline_text(out, project, options);
    const enum outcome found = pipeline_project(&work, options, project, STAGE_NEED);
    enum outcome shown = found;
    if (found == DONE || found == REFUSED) {
        print_contents(&work, &text);
        print_errors(&work.diags, project, &text);
        print_next(&work, found == DONE, &text);
        shown = hk_diags_out_of_memory(&work.diags) ? findings_outcome(&work.diags) : text_outcome(&text);
    }
    pipeline_free(&work);
    return shown == FAILED ? FAILED : found;
}
