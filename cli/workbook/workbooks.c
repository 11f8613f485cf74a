/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/workbooks.h"

#include "files.h"
#include "layout.h"
#include "workbook/sheet_text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>

/* ---- Names ---- */

static bool ends_as_workbook(const char *path, size_t length)
{
    return (length > 5 && strncasecmp(path + length - 5, ".xlsx", 5) == 0) ||
           (length > 4 && strncasecmp(path + length - 4, ".ods", 4) == 0);
}

static bool is_folder(const char *path)
{
    struct stat status;
    return stat(path, &status) == 0 && S_ISDIR(status.st_mode);
}

bool workbook_named(const char *path)
{
    return ends_as_workbook(path, strlen(path)) && !is_folder(path);
}

/*
 * Splits "hats/my-hat.xlsx/pieces.csv" in place: cuts the path behind the workbook, and returns "pieces.csv". A name
 * that is in another folder, as those of learn_from are, is sought beside the workbook:
 * "my-hat.xlsx/../other/pieces.csv" and "my-hat.xlsx/other/pieces.csv" are "other/pieces.csv". Returns NULL if no
 * workbook is in the path.
 */
static const char *split(char *path)
{
    for (char *slash = strchr(path, '/'); slash; slash = strchr(slash + 1, '/')) {
        if (!ends_as_workbook(path, (size_t)(slash - path)))
            continue;
        *slash = '\0';
        const bool folder = is_folder(path);
        if (!folder && !strchr(slash + 1, '/'))
            return slash + 1;
        *slash = '/';
        if (folder)
            continue;
        char *start = slash; /* of the workbook's own name */
        while (start > path && start[-1] != '/')
            start--;
        const char *rest = slash + (strncmp(slash + 1, "../", 3) == 0 ? 4 : 1);
        memmove(start, rest, strlen(rest) + 1);
        return split(path);
    }
    return NULL;
}

/* ---- Workbooks that were read ---- */

struct opened {
    struct opened *next;
    char *path;
    struct sheets sheets;
    struct sheet_text *texts; /* of each sheet, made when they are first read */
    uint64_t device, number;
};

static struct opened *all;

static void free_one(struct opened *one)
{
    for (size_t i = 0; one->texts && i < one->sheets.count; i++)
        sheet_text_free(&one->texts[i]);
    free(one->texts);
    free(one->path);
    sheets_free(&one->sheets);
    free(one);
}

void workbooks_forget(void)
{
    while (all) {
        struct opened *next = all->next;
        free_one(all);
        all = next;
    }
}

/* Returns NULL when memory runs out. */
static struct opened *open_workbook(const char *path)
{
    struct opened *one = all;
    while (one && strcmp(one->path, path) != 0)
        one = one->next;
    if (one)
        return one;
    one = calloc(1, sizeof *one);
    struct stat status;
    char *copy = one ? strdup(path) : NULL;
    if (!copy) {
        free(one);
        return NULL;
    }
    one->path = copy;
    sheets_read(&one->sheets, path);
    one->texts = calloc(one->sheets.count + 1, sizeof *one->texts);
    if (!one->texts)
        sheets_no_memory(&one->sheets);
    if (stat(path, &status) == 0) {
        one->device = (uint64_t)status.st_dev;
        one->number = (uint64_t)status.st_ino;
    }
    one->next = all;
    all = one;
    return one;
}

const struct sheets *workbook_sheets(const char *path)
{
    const struct opened *one = workbook_named(path) ? open_workbook(path) : NULL;
    return one ? &one->sheets : NULL;
}

/* Returns the index of the sheet that stands for a file; the number of sheets if there is none. */
static size_t sheet_of(const struct opened *one, const char *file)
{
    size_t i = 0;
    while (i < one->sheets.count &&
           (!one->sheets.list[i].wanted || strcmp(sheets_file(one->sheets.list[i].name), file) != 0))
        i++;
    return i;
}

/* Returns the text of a sheet; NULL, with the reason in *why, if it cannot be made. */
static const struct sheet_text *text_of(struct opened *one, size_t sheet, const char **why)
{
    struct sheet_text *text = &one->texts[sheet];
    if (text->bytes || sheet_text_make(text, &one->sheets, &one->sheets.list[sheet]))
        return text;
    *why = text->too_large ? "it has more text than any project" : "out of memory";
    if (!text->too_large)
        sheets_no_memory(&one->sheets);
    sheet_text_free(text);
    return NULL;
}

/* ---- As a source ---- */

static enum hk_open open_sheet(struct opened *one, const char *file, struct hk_file *opened, const char **why)
{
    const struct sheets *sheets = &one->sheets;
    if (sheets->no_memory)
        return HK_OPEN_NO_MEMORY;
    if (sheets->why) {
        *why = sheets->why;
        return sheets->absent ? HK_OPEN_ABSENT : HK_OPEN_REFUSED;
    }
    const size_t sheet = sheet_of(one, file);
    if (sheet == sheets->count)
        return HK_OPEN_ABSENT;
    const struct sheet_text *text = text_of(one, sheet, why);
    if (!text)
        return sheets->no_memory ? HK_OPEN_NO_MEMORY : HK_OPEN_REFUSED;
    const struct hk_memory_file files[] = {{file, text->bytes ? text->bytes : ""}, {NULL, NULL}};
    const struct hk_source memory = hk_source_memory(files);
    const enum hk_open done = memory.open(memory.host, file, opened, why);
    if (done == HK_OPEN_DONE) {
        opened->identity.device = one->device ^ ((uint64_t)(sheet + 1) << 48);
        opened->identity.number = one->number;
    }
    return done;
}

char *project_path(const char *folder, const char *name)
{
    char *path = folder_path(folder, name);
    if (path && split(path))
        path[strlen(path)] = '/'; /* as it was */
    return path;
}

static enum hk_open open_file(void *host, const char *name, struct hk_file *file, const char **why)
{
    char *path = folder_path(host, name);
    if (!path)
        return HK_OPEN_NO_MEMORY;
    const char *sheet = split(path);
    struct opened *one = sheet ? open_workbook(path) : NULL;
    enum hk_open opened = HK_OPEN_NO_MEMORY;
    if (one) {
        opened = open_sheet(one, sheet, file, why);
    } else if (!sheet) {
        const struct hk_source folder = hk_source_folder(".");
        opened = folder.open(folder.host, path, file, why);
    }
    free(path);
    return opened;
}

struct hk_source project_source(const char *path)
{
    return (struct hk_source){(void *)(uintptr_t)path, open_file};
}

enum hk_open project_open(const char *path, const char **why)
{
    if (!workbook_named(path))
        return folder_open(path, why);
    const struct opened *one = open_workbook(path);
    *why = one ? one->sheets.why : NULL;
    if (!one || one->sheets.no_memory)
        return HK_OPEN_NO_MEMORY;
    if (one->sheets.absent)
        return HK_OPEN_ABSENT;
    return one->sheets.machine ? HK_OPEN_REFUSED : HK_OPEN_DONE; /* what is wrong with its contents is a finding */
}

/* ---- Findings and places ---- */

static void report_unsolved(struct opened *one, struct hk_diags *diags)
{
    const char *why;
    for (size_t i = 0; i < one->sheets.count; i++) {
        const struct sheet *sheet = &one->sheets.list[i];
        const struct sheet_text *text = sheet->wanted ? text_of(one, i, &why) : NULL;
        for (size_t c = 0; text && c < sheet->count; c++) {
            if (sheet->cells[c].kind != CELL_UNSOLVED)
                continue;
            const struct sheet_mark *mark = sheet_text_place(text, sheet->cells[c].row, sheet->cells[c].column);
            const struct hk_place at = {sheets_file(sheet->name), mark ? mark->line : 0, mark ? mark->character : 0};
            hk_diags_report(diags, HK_CODE_SPREADSHEET_DAMAGE, at, "the formula has no saved result",
                            "open the workbook in a spreadsheet and save it, or type the value");
        }
    }
}

/* Warns of sheets that are not read, and are named nearly like one that is missing. */
static void report_misnamed(const struct opened *one, struct hk_diags *diags)
{
    const char *missing[64], *file;
    char names[64][20];
    size_t count = 0;
    for (size_t i = 0; count < 64 && (file = hk_project_file(i)); i++)
        if (sheet_of(one, file) == one->sheets.count) {
            snprintf(names[count], sizeof names[count], "%.*s", (int)strcspn(file, "."), file);
            missing[count] = names[count];
            count++;
        }
    for (size_t i = 0; i < one->sheets.count; i++) {
        const char *name = one->sheets.list[i].name;
        const size_t nearest = one->sheets.list[i].wanted ? HK_NO_NAME : hk_nearest_name(name, missing, count);
        char *message = nearest == HK_NO_NAME ? NULL : text_format("the sheet \"%s\" is not read", name);
        char *hint = message ? text_format("did you mean %s?", missing[nearest]) : NULL;
        if (hint)
            hk_diags_report(diags, HK_CODE_UNUSUAL, (struct hk_place){NULL, 0, 0}, message, hint);
        else if (nearest != HK_NO_NAME)
            hk_diags_set_out_of_memory(diags);
        free(message);
        free(hint);
    }
}

bool workbook_report(const char *path, struct hk_diags *diags)
{
    struct opened *one = workbook_named(path) ? open_workbook(path) : NULL;
    if (!workbook_named(path))
        return true;
    if (!one || one->sheets.no_memory) {
        hk_diags_set_out_of_memory(diags);
        return false;
    }
    if (one->sheets.why) {
        hk_diags_report(diags, HK_CODE_FILE_FORMAT, (struct hk_place){NULL, 0, 0}, one->sheets.why, one->sheets.remedy);
        return false;
    }
    report_unsolved(one, diags);
    report_misnamed(one, diags);
    return true;
}

char *workbook_others(const char *path, bool *failed)
{
    const struct sheets *sheets = workbook_sheets(path);
    char *names = NULL;
    *failed = false;
    for (size_t i = 0; sheets && i < sheets->count && !*failed; i++)
        if (!sheets->list[i].wanted && strcmp(sheets->list[i].name, SHEET_LISTS) != 0)
            *failed = !text_append(&names, "%s%s", names ? ", " : "", sheets->list[i].name);
    return names;
}

/* Finds the cell of a place in the text of a sheet. */
static void find_cell(struct opened *one, const char *file, struct hk_place at, struct workbook_place *place)
{
    const char *why;
    const size_t sheet = sheet_of(one, file);
    const bool there = sheet < one->sheets.count;
    const struct sheet_text *text = there && at.line ? text_of(one, sheet, &why) : NULL;
    const struct sheet_mark *mark = text ? sheet_text_cell(text, at.line, at.column) : NULL;
    place->sheet = there ? strdup(one->sheets.list[sheet].name) : text_format("%.*s", (int)strcspn(file, "."), file);
    if (!mark)
        return;
    char letters[SHEET_LETTERS];
    const bool within = sheet_is_pattern(&one->sheets.list[sheet]) || mark->row + 1 == at.line;
    place->row = within ? mark->row + 1 : at.line; /* an empty row has no cells */
    place->column = within ? mark->column + 1 : 1;
    sheet_letters((uint32_t)place->column - 1, letters);
    snprintf(place->cell, sizeof place->cell, "%s%zu", letters, place->row);
}

bool workbook_place(const char *folder, struct hk_place at, struct workbook_place *place, bool *failed)
{
    char *path = at.file ? folder_path(folder, at.file) : strdup(folder);
    const char *sheet = path && at.file ? split(path) : NULL;
    *place = (struct workbook_place){.path = path};
    *failed = false;
    if (path && !at.file && workbook_named(path))
        return true;
    struct opened *one = sheet ? open_workbook(path) : NULL;
    if (one) {
        find_cell(one, sheet, at, place);
        *failed = !place->sheet;
        return true;
    }
    *failed = !path || sheet;
    workbook_place_free(place);
    return false;
}

/* Returns the file of a project whose name begins at `at`; NULL: none. */
static const char *file_at(const char *words, const char *at)
{
    const char *file;
    const bool begins = at == words || !strchr("abcdefghijklmnopqrstuvwxyz/._-", at[-1]);
    for (size_t i = 0; begins && (file = hk_project_file(i)); i++)
        if (strncmp(at, file, strlen(file)) == 0)
            return file;
    return NULL;
}

/* Appends "the sheet pieces" for the file at `at`. Returns the first byte behind it; NULL when memory runs out. */
static const char *append_sheet(char **changed, const char *file, const char *at)
{
    const size_t behind = *changed ? strlen(*changed) : 0;
    const bool named = behind >= 5 && strcmp(*changed + behind - 5, "file ") == 0; /* "a file costs.csv" */
    if (named)
        (*changed)[behind - 5] = '\0';
    at += strlen(file);
    const bool row = *at == ':' && at[1] >= '0' && at[1] <= '9'; /* "swatches.csv:9" */
    const bool good = text_append(changed, "%s%.*s%s", named ? "sheet " : "the sheet ", (int)strcspn(file, "."), file,
                                  row ? ", row " : "");
    return good ? at + row : NULL;
}

char *workbook_words(const char *folder, const char *words)
{
    char *changed = NULL;
    if (!workbook_named(folder) || !*words)
        return strdup(words);
    if (strcmp(words, "the file is missing") == 0)
        return strdup("the sheet is missing");
    for (const char *at = words; at && *at;) {
        const char *file = NULL, *end = at;
        while (*end && !(file = file_at(words, end)))
            end++;
        if (end > at && !text_append(&changed, "%.*s", (int)(end - at), at))
            at = NULL;
        else
            at = file ? append_sheet(&changed, file, end) : end;
        if (!at) {
            free(changed);
            changed = NULL;
        }
    }
    return changed;
}

void workbook_place_free(struct workbook_place *place)
{
    free(place->path);
    free(place->sheet);
    *place = (struct workbook_place){0};
}
