/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful new: copies a project into a folder. Without options it copies tables/start, with --pattern
 * tables/start-pattern; --from starts a project from a written pattern; --add adds files of tables/start-more, with the
 * names of the project in that folder.
 */
#include "added.h"
#include "commands.h"
#include "files.h"
#include "findings.h"
#include "new_files.h"
#include "number.h"
#include "safe.h"
#include "layout.h"
#include "pipeline.h"
#include "workbook/csv_cells.h"
#include "workbook/decimal.h"
#include "workbook/sheet_files.h"
#include "workbook/workbooks.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct start_file {
    const char *name, *purpose;
};

static const struct start_file start_files[] = {
    {"project.csv", "title, sizes, terms, currency, chance"},
    {"grade.csv", "measurements of every size, one a row"},
    {"yarns.csv", "the yarn of each role"},
    {"fabrics.csv", "rows of your own stitch patterns"},
    {"swatches.csv", "swatches that you have worked and weighed"},
    {"pieces.csv", "the parts of the design, one a line"},
};
static const struct start_file pattern_files[] = {
    {"project.csv", "title, sizes, terms, currency, chance"},
    {"yarns.csv", "the yarn of each role"},
    {"swatches.csv", "swatches that you have worked and weighed"},
    {"pattern.txt", "the pattern as it is written"},
};
enum {
    file_most = sizeof start_files / sizeof start_files[0],
    pattern_count = sizeof pattern_files / sizeof pattern_files[0],
    most_bytes = 1 << 20
};

struct project_copy {
    struct new_file files[file_most];
    const struct start_file *kinds;
    struct start_file chosen[file_most]; /* for --add */
    bool adds;
    size_t count;
    const char *start; /* folder of the tables that has the sources */
    const char *folder;
};

/* Reads the whole file. Returns false, with the reason in *why, on failure. */
static bool file_copy(const struct hk_source *source, const char *name, struct new_file *copy, const char **why)
{
    struct hk_file file;
    ptrdiff_t got = 0;
    if (source->open(source->host, name, &file, why) != HK_OPEN_DONE)
        return false;
    copy->bytes = malloc(most_bytes);
    if (!copy->bytes)
        *why = strerror(ENOMEM);
    while (copy->bytes && copy->size < most_bytes &&
           (got = file.read(file.handle, copy->bytes + copy->size, most_bytes - copy->size, why)) > 0)
        copy->size += (size_t)got;
    file.close(file.handle);
    return copy->bytes && got >= 0;
}

static enum outcome read_start(struct project_copy *project, const char *tables)
{
    char *path = folder_path(tables, project->start);
    struct folder start = {path ? path : "", false};
    const struct hk_source source = folder_source(&start);
    bool done = path != NULL;
    if (!done)
        complain("out of memory");
    for (size_t i = 0; done && i < project->count; i++) {
        const char *why = strerror(ENOMEM);
        struct new_file *copy = &project->files[i];
        done = new_file_name(copy, project->folder, project->kinds[i].name) &&
               file_copy(&source, project->kinds[i].name, copy, &why);
        if (!done)
            complain("cannot read the shipped %s (in \"%s\"): %s", project->kinds[i].name, start.path, why);
    }
    free(path);
    return done ? DONE : FAILED;
}

/* ---- From a written pattern ---- */

static bool append_sizes(char **words, const struct hk_text_settings *settings)
{
    const size_t count = settings->size_count ? settings->size_count : settings->graded;
    char *sizes = NULL;
    bool good = true;
    for (size_t i = 0; good && i < count; i++) {
        const char *before = i == 0 ? "" : i == 1 ? " (" : ", ";
        good = settings->size_count ? text_append(&sizes, "%s%s", before, settings->sizes[i])
                                    : text_append(&sizes, "%s%zu", before, i + 1);
    }
    if (count > 1)
        good = good && text_append(&sizes, ")");
    if (count > 0)
        good = good && text_append(words, "sizes,") && append_cell(words, sizes, "\n");
    free(sizes);
    return good;
}

static bool write_project(struct new_file *copy, const struct hk_text_settings *settings)
{
    return text_append(&copy->bytes,
                       "# Begun from a pattern as it is written. Lines that start with # are notes and are not read.\n"
                       "# Besides: currency, of the prices in yarns.csv; chance, that the yarn is "
                       "enough.\n"
                       "field,value\ntitle,") &&
           append_cell(&copy->bytes, *settings->title ? settings->title : "untitled", "\n") &&
           append_sizes(&copy->bytes, settings) && text_append(&copy->bytes, "terms,%s\n", settings->uk ? "UK" : "US");
}

static bool write_yarns(struct new_file *copy, const struct hk_text_settings *settings)
{
    bool good = text_append(
        &copy->bytes,
        "# The yarns. A role is the name that the rows use. put_up, length: of one ball, as its label says.\n"
        "role,yarn,put_up,length,colour\n");
    for (size_t i = 0; good && i < settings->yarn_count; i++) {
        const struct hk_text_yarn *yarn = &settings->yarns[i];
        good = append_cell(&copy->bytes, yarn->role, ",") && append_cell(&copy->bytes, yarn->yarn, ",") &&
               append_cell(&copy->bytes, yarn->put_up, ",") && append_cell(&copy->bytes, yarn->length, ",") &&
               append_cell(&copy->bytes, yarn->colour, "\n");
    }
    return good;
}

static double gauge_tool(const struct hk_text_settings *settings)
{
    if (settings->gauge_tool_mm > 0)
        return settings->gauge_tool_mm;
    return settings->tool_count == 1 ? settings->tools_mm[0] : 0;
}

static bool has_swatch(const struct hk_text_settings *settings)
{
    return settings->gauge_stitches >= 1 && settings->gauge_rows >= 1 && gauge_tool(settings) > 0 &&
           *settings->gauge_fabric;
}

static bool write_swatches(struct new_file *copy, const struct hk_text_settings *settings)
{
    return text_append(&copy->bytes,
                       "# The gauge that the pattern states. Weigh a swatch of your own and write its weight.\n"
                       "swatch,yarn,tool,fabric,stitches,rows,gauge,weight,scale_step\ngauge,") &&
           append_cell(&copy->bytes, settings->yarns[0].role, ",") &&
           text_append(&copy->bytes, "%s mm,", number_stated(gauge_tool(settings)).text) &&
           append_cell(&copy->bytes, settings->gauge_fabric, ",") &&
           text_append(&copy->bytes, "%.0f,%.0f,%s x %s,,\n", settings->gauge_stitches, settings->gauge_rows,
                       number_stated(settings->gauge_stitches).text, number_stated(settings->gauge_rows).text);
}

static bool write_pattern(struct new_file *copy, const struct hk_text_settings *settings)
{
    copy->bytes = malloc(settings->bytes + 1);
    if (copy->bytes)
        memcpy(copy->bytes, settings->text, settings->bytes + 1);
    return copy->bytes != NULL;
}

/* Settings from the text go into the files; pattern.txt is the text itself. */
static bool write_from(struct project_copy *project, const struct hk_text_settings *settings)
{
    static const struct start_file without_swatch[] = {{"project.csv", "title, sizes, terms"},
                                                       {"yarns.csv", "the yarn of each role"},
                                                       {"pattern.txt", "the pattern as it is written"}};
    static bool (*const writers[])(struct new_file *, const struct hk_text_settings *) = {
        write_project, write_yarns, write_swatches, write_pattern};
    const bool swatch = has_swatch(settings);
    if (!swatch) {
        project->kinds = without_swatch;
        project->count = sizeof without_swatch / sizeof without_swatch[0];
    }
    bool good = true;
    for (size_t i = 0; good && i < project->count; i++) {
        struct new_file *copy = &project->files[i];
        good = new_file_name(copy, project->folder, project->kinds[i].name) &&
               writers[i < 2 ? i : i + !swatch](copy, settings);
        copy->size = copy->bytes ? strlen(copy->bytes) : 0;
    }
    return good;
}

static enum outcome read_from(struct project_copy *project, const struct options *options,
                              struct hk_text_settings **settings)
{
    struct work work = {0};
    enum outcome outcome = pipeline_tables(&work, options);
    struct folder here = {".", true};
    const struct hk_source source = folder_source(&here);
    if (outcome == DONE) {
        *settings = hk_text_settings_read(&source, options->from, work.catalogue, &work.diags);
        findings_print(&work.diags, ".");
        outcome = *settings ? DONE : findings_outcome(&work.diags) == FAILED ? FAILED : REFUSED;
    }
    if (outcome == DONE && !write_from(project, *settings)) {
        complain("out of memory");
        outcome = FAILED;
    }
    pipeline_free(&work);
    return outcome;
}

/* Lists the settings that the text lacks, for the designer to fill in. */
static void report_missing(const struct hk_text_settings *settings, struct text *text)
{
    bool any = false;
    for (size_t i = 0; i < settings->yarn_count; i++)
        any |= !*settings->yarns[i].put_up;
    any |= (settings->size_count == 0 && settings->graded > 0) || !has_swatch(settings) || settings->tool_count == 0;
    if (!any)
        return;
    text_gap(text);
    text_heading(text, "The text does not say; write it yourself");
    for (size_t i = 0; i < settings->yarn_count; i++)
        if (!*settings->yarns[i].put_up)
            text_item(text, "yarns.csv: the yarn of %s, and its label", settings->yarns[i].role);
    if (settings->size_count == 0 && settings->graded > 0)
        text_item(text, "project.csv: the names of its %zu sizes", settings->graded);
    if (settings->tool_count == 0)
        text_item(text, "pattern.txt: the hook or needles, where a piece begins: With MC and 5 mm hook, ch 72");
    if (!has_swatch(settings))
        text_item(text, "swatches.csv: a swatch, its gauge and its weight");
}

/* ---- Added to a project ---- */

static void choose_added(struct project_copy *project, uint64_t files)
{
    project->adds = true;
    project->kinds = project->chosen;
    project->start = "start-more";
    for (size_t i = 0; added_file(i) && project->count < file_most; i++)
        if (files & UINT64_C(1) << i)
            project->chosen[project->count++] = (struct start_file){added_file(i)->name, added_file(i)->purpose};
}

static enum outcome fill_in(struct project_copy *project, const struct hk_project *names, const struct hk_tally *tally)
{
    for (size_t i = 0; i < project->count; i++) {
        struct new_file *copy = &project->files[i];
        char *shipped = text_format("%.*s", (int)copy->size, copy->bytes);
        free(copy->bytes);
        copy->bytes = shipped ? added_text(shipped, names, tally) : NULL;
        copy->size = copy->bytes ? strlen(copy->bytes) : 0;
        free(shipped);
        if (!copy->bytes) {
            complain("out of memory");
            return FAILED;
        }
    }
    return DONE;
}

/* Collects the names in the project. Ignores errors in its other files: they may depend on the file to be added. */
static enum outcome read_names(struct project_copy *project, const struct options *options)
{
    struct work work = {.silent = true};
    struct hk_diags diags = {0};
    enum outcome outcome = pipeline_project(&work, options, project->folder, STAGE_TALLY);
    const struct hk_source source = hk_source_folder(project->folder);
    struct hk_project *names = outcome == FAILED ? NULL : hk_project_read_names(&source, work.catalogue, &diags);
    if (outcome != FAILED) {
        findings_print(&diags, project->folder);
        outcome = findings_outcome(&diags);
    }
    if (names && outcome == DONE)
        outcome = fill_in(project, names, work.tally);
    hk_project_free(names);
    hk_diags_free(&diags);
    pipeline_free(&work);
    return outcome;
}

static enum outcome read_added(struct project_copy *project, const struct options *options)
{
    const char *why, *tables = folder_of_tables(options->tables);
    if (!tables)
        return FAILED;
    if (folder_open(project->folder, &why) != HK_OPEN_DONE) {
        complain("cannot open folder \"%s\": %s", project->folder, why);
        return FAILED;
    }
    char *path = folder_path(project->folder, "project.csv");
    struct stat status;
    enum outcome outcome = !path ? FAILED : lstat(path, &status) == 0 ? DONE : REFUSED;
    if (outcome == FAILED)
        complain("out of memory");
    if (outcome == REFUSED)
        complain(
            "\"%s\" holds no project to add to: it has no project.csv; name the folder of one, or make one without "
            "--add",
            project->folder);
    free(path);
    if (outcome == DONE)
        outcome = read_start(project, tables);
    return outcome == DONE ? read_names(project, options) : outcome;
}

/* ---- All of it ---- */

static enum outcome report_made(const struct project_copy *project, const struct hk_text_settings *settings,
                                struct text *text)
{
    struct text_table *table = text_table(text);
    const bool workbook = workbook_named(project->folder);
    text_heading(text, "%s %s", project->adds ? "Added to" : workbook ? "Made" : "Made in", project->folder);
    text_gap(text);
    text_table_column(table, TEXT_LEFT, workbook ? "SHEET" : "FILE");
    text_table_column(table, TEXT_WRAP, "CONTENTS");
    for (size_t i = 0; i < project->count; i++) {
        const char *name = project->kinds[i].name;
        text_table_cell(table, "%.*s", (int)(workbook ? strcspn(name, ".") : strlen(name)), name);
        text_table_cell(table, "%s", project->kinds[i].purpose);
    }
    text_table_print(table);
    if (settings)
        report_missing(settings, text);
    const char *first = project->folder;
    char *folder = text_format("%s%s", *first == '-' ? "./" : "", first), *quoted = folder ? safe_shell(folder) : NULL;
    text_gap(text);
    if (workbook)
        text_paragraph(text, "Open it in a spreadsheet; the comments of the cells in the first row explain. Then:");
    else
        text_paragraph(text, "Open them in a spreadsheet or an editor; lines that start with # explain%s. Then:",
                       project->adds ? ", or are examples that are not read" : "");
    text_line(text, "hankful %s %s", settings || project->adds ? "check" : "need",
              quoted ? quoted : ""); /* text for pasting */
    text->failed = text->failed || !quoted;
    free(folder);
    free(quoted);
    return text_outcome(text);
}

/* Prints the message and checks that it was written. */
static enum outcome answer(const struct project_copy *project, const struct hk_text_settings *settings,
                           const struct options *options, FILE *out)
{
    char *bytes = NULL;
    size_t size = 0;
    FILE *memory = open_memstream(&bytes, &size);
    struct text text = text_to(memory, options->width);
    enum outcome outcome = memory ? report_made(project, settings, &text) : DONE;
    const bool kept = memory && !ferror(memory);
    if (!memory || fclose(memory) != 0 || !kept || !bytes) {
        if (outcome != FAILED)
            complain("out of memory");
        outcome = FAILED;
    }
    if (outcome == DONE && (fwrite(bytes, 1, size, out) != size || fflush(out) != 0)) {
        complain("cannot write the answer: %s", strerror(errno));
        outcome = FAILED;
    }
    free(bytes);
    return outcome;
}

/* ---- As a workbook ---- */

/* Returns the texts of a column of a shipped table, each once. Owner: the caller (free). Returns NULL when memory runs
 * out. */
static const char **column_texts(const struct hk_catalogue *catalogue, const char *table, const char *format,
                                 size_t *count)
{
    size_t t = 0, column = 0;
    while (t < hk_catalogue_tables(catalogue) && strcmp(hk_catalogue_table_name(catalogue, t), table) != 0)
        t++;
    const size_t rows = t < hk_catalogue_tables(catalogue) ? hk_catalogue_rows(catalogue, t) : 0;
    const char **texts = calloc(rows + 1, sizeof *texts);
    *count = 0;
    while (rows && column < hk_catalogue_columns(catalogue, t) &&
           strcmp(hk_catalogue_column(catalogue, t, column), format) != 0)
        column++;
    for (size_t row = 0; texts && row < rows; row++) {
        const char *text = hk_catalogue_cell(catalogue, t, row, column);
        if (*count == 0 || strcmp(texts[*count - 1], text) != 0)
            texts[(*count)++] = text;
    }
    return texts;
}

static int compare_diameters(const void *one, const void *other)
{
    double a = 0, b = 0;
    decimal_read(*(const char *const *)one, &a);
    decimal_read(*(const char *const *)other, &b);
    return (a > b) - (a < b);
}

/* Makes of the diameters "5 mm", each once, the smallest first. */
static bool name_tools(const char **texts, size_t *count)
{
    size_t kept = 0;
    if (*count > 0)
        qsort(texts, *count, sizeof *texts, compare_diameters);
    for (size_t i = 0; i < *count; i++) {
        if (i + 1 < *count && compare_diameters(&texts[i], &texts[i + 1]) == 0)
            continue;
        char *tool = text_format("%s mm", texts[i]);
        if (!tool) {
            *count = kept;
            return false;
        }
        texts[kept++] = tool;
    }
    *count = kept;
    return true;
}

/* Adds a file; its notes, which become comments, speak of sheets. */
static bool add_sheet(struct sheets *sheets, const char *workbook, const char *name, const struct new_file *file)
{
    char *text = text_format("%.*s", (int)file->size, file->bytes),
         *words = text ? workbook_words(workbook, text) : NULL;
    const bool good = words && csv_cells_add(sheets, name, words, strlen(words));
    free(text);
    free(words);
    return good;
}

static enum outcome write_workbook(const struct project_copy *project, const struct options *options)
{
    struct work work = {0};
    struct sheets sheets = {0};
    struct sheet_guide guide = {0};
    enum outcome outcome = pipeline_tables(&work, options);
    if (outcome != DONE) {
        pipeline_free(&work);
        return outcome;
    }
    const char **fabrics = column_texts(work.catalogue, "fabrics", "fabric", &guide.fabrics.count);
    const char **tools = column_texts(work.catalogue, "tools", "tool_mm", &guide.tools.count);
    bool good = tools && name_tools(tools, &guide.tools.count); /* the caller's now, even if there are fewer */
    good = good && fabrics;
    guide.fabrics.texts = fabrics;
    guide.tools.texts = tools;
    for (size_t i = 0; good && i < project->count; i++)
        good = add_sheet(&sheets, project->folder, project->kinds[i].name, &project->files[i]);
    sheets_sort(&sheets);
    if (good)
        outcome = workbook_make(&sheets, &guide, project->folder);
    else
        complain("out of memory");
    for (size_t i = 0; tools && i < guide.tools.count; i++)
        free((char *)(uintptr_t)tools[i]);
    free(fabrics);
    free(tools);
    sheets_free(&sheets);
    pipeline_free(&work);
    return good ? outcome : FAILED;
}

/* Returns whether the name fits the option --workbook. */
static bool name_fits(const struct options *options)
{
    const char *name = options->words[1];
    const bool workbook = options->given & OPTION_WORKBOOK, named = workbook_named(name);
    if (workbook && options->add)
        complain("--add writes files into a folder; copy the workbook into one first: hankful copy my-hat.xlsx my-hat");
    else if (workbook && (!named || !path_ends_in(name, ".xlsx")))
        complain("--workbook makes a file whose name ends in .xlsx, not \"%s\"", name);
    else if (named && options->add)
        complain("--add writes files into a folder, not into a workbook; \"hankful copy\" makes a folder of it");
    else if (named && !workbook)
        complain("\"%s\" is the name of a workbook; add --workbook to make one, or name a folder", name);
    else
        return true;
    return false;
}

/* Reads every file to be written. */
static enum outcome read_all(struct project_copy *project, const struct options *options,
                             struct hk_text_settings **settings)
{
    const bool pattern = options->given & OPTION_PATTERN || options->from;
    if (options->add) {
        choose_added(project, options->add);
        return read_added(project, options);
    }
    project->kinds = pattern ? pattern_files : start_files;
    project->count = pattern ? (size_t)pattern_count : (size_t)file_most;
    project->start = pattern ? "start-pattern" : "start";
    if (options->from)
        return read_from(project, options, settings);
    const char *tables = folder_of_tables(options->tables);
    return tables ? read_start(project, tables) : FAILED;
}

enum outcome cmd_new(const struct options *options, FILE *out)
{
    struct project_copy project = {.folder = options->words[1]};
    struct hk_text_settings *settings = NULL;
    struct sigaction passed_over = {.sa_handler = SIG_IGN}, before;
    if (options->add && options->given & (OPTION_PATTERN | OPTION_FROM)) {
        complain("--add goes with a project that is there, not with --pattern or --from");
        return MISUSED;
    }
    if (!name_fits(options))
        return MISUSED;
    enum outcome outcome = read_all(&project, options, &settings);
    if (outcome == DONE && options->given & OPTION_WORKBOOK) {
        outcome = write_workbook(&project, options);
        if (outcome == DONE && (outcome = answer(&project, settings, options, out)) != DONE)
            unlink(project.folder);
        hk_text_settings_free(settings);
        for (size_t i = 0; i < project.count; i++)
            new_file_free(&project.files[i]);
        return outcome;
    }
    struct new_files set = {.files = project.files,
                            .count = project.count,
                            .folder = project.folder,
                            .remedy = project.adds ? "leave it out of --add" : "name another folder",
                            .completes = !project.adds};
    if (outcome == DONE)
        outcome = new_files_check(&set);
    sigaction(SIGPIPE, &passed_over, &before); /* the files that were made are removed first */
    if (outcome == DONE)
        outcome = new_files_make(&set);
    if (outcome == DONE)
        outcome = answer(&project, settings, options, out);
    new_files_end(&set, outcome == DONE);
    sigaction(SIGPIPE, &before, NULL);
    hk_text_settings_free(settings);
    new_files_free(&set);
    return outcome;
}
