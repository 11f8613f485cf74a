/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fuzz.h"

#include "base/text.h"

#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SEPARATOR "==== "

_Noreturn void fuzz_broken(const char *fact, const char *file, int line)
{
    fprintf(stderr, "%s:%d: does not hold: %s\n", file, line, fact);
    abort();
}

/* ---- Folders ------------------------------------------------------------------------------------------------------- */

void fuzz_folder_one(struct fuzz_folder *folder, const char *name, const uint8_t *bytes, size_t size)
{
    struct fuzz_file *file = &folder->files[folder->count++];
    snprintf(file->name, sizeof file->name, "%s", name);
    file->bytes = bytes;
    file->size = size;
}

static bool begins_file(const uint8_t *bytes, size_t size)
{
    return size >= strlen(SEPARATOR) && memcmp(bytes, SEPARATOR, strlen(SEPARATOR)) == 0;
}

static size_t line_length(const uint8_t *bytes, size_t size)
{
    const uint8_t *end = memchr(bytes, '\n', size);
    return end ? (size_t)(end - bytes) + 1 : size;
}

void fuzz_folder_split(struct fuzz_folder *folder, const uint8_t *bytes, size_t size)
{
    for (size_t at = 0, line; at < size; at += line) {
        line = line_length(bytes + at, size - at);
        if (begins_file(bytes + at, line)) {
            char name[sizeof folder->files->name] = "";
            if (folder->count == FUZZ_FILES)
                return;
            for (size_t i = strlen(SEPARATOR); i + 1 < line && strlen(name) + 1 < sizeof name; i++)
                name[strlen(name)] = (char)bytes[at + i];
            fuzz_folder_one(folder, name, bytes + at + line, 0);
        } else if (folder->count > 0) {
            folder->files[folder->count - 1].size += line;
        }
    }
}

struct reader {
    const struct fuzz_file *file;
    size_t at;
};

static ptrdiff_t read_some(void *handle, void *bytes, size_t count, const char **why)
{
    struct reader *reader = handle;
    size_t left = reader->file->size - reader->at, got = left < count ? left : count;
    (void)why;
    if (got > 0)
        memcpy(bytes, reader->file->bytes + reader->at, got);
    reader->at += got;
    return (ptrdiff_t)got;
}

static const struct fuzz_file *find_file(const struct fuzz_folder *folder, const char *name)
{
    for (size_t i = 0; i < folder->count; i++)
        if (strcmp(folder->files[i].name, name) == 0)
            return &folder->files[i];
    return NULL;
}

static enum hk_open open_file(void *host, const char *name, struct hk_file *file, const char **why)
{
    struct reader *reader = NULL;
    const struct fuzz_file *found = find_file(host, name);
    (void)why;
    if (!found)
        return HK_OPEN_ABSENT;
    reader = calloc(1, sizeof *reader);
    fuzz_hold(reader);
    reader->file = found;
    *file = (struct hk_file){.handle = reader, .read = read_some, .close = free};
    return HK_OPEN_DONE;
}

struct hk_source fuzz_source(struct fuzz_folder *folder)
{
    return (struct hk_source){folder, open_file};
}

/* ---- The shipped tables -------------------------------------------------------------------------------------------- */

static ptrdiff_t disk_read(void *handle, void *bytes, size_t count, const char **why)
{
    (void)why;
    return (ptrdiff_t)fread(bytes, 1, count, handle);
}

static void disk_close(void *handle)
{
    fclose(handle);
}

static enum hk_open disk_open(void *host, const char *name, struct hk_file *file, const char **why)
{
    char path[4096];
    (void)why;
    snprintf(path, sizeof path, "%s/%s", (const char *)host, name);
    FILE *stream = fopen(path, "rb");
    if (!stream)
        return HK_OPEN_ABSENT;
    *file = (struct hk_file){.handle = stream, .read = disk_read, .close = disk_close};
    return HK_OPEN_DONE;
}

const struct hk_catalogue *fuzz_catalogue(void)
{
    static struct hk_catalogue *catalogue;
    if (!catalogue) {
        struct hk_diags diags = {0};
        char tables[] = TABLES_DIR;
        gsl_set_error_handler_off();
        catalogue = hk_catalogue_read(&(struct hk_source){tables, disk_open}, &diags);
        fuzz_hold(catalogue && diags.count == 0);
    }
    return catalogue;
}

/* ---- A small design ------------------------------------------------------------------------------------------------ */

void fuzz_folder_complete(struct fuzz_folder *folder)
{
    static const struct {
        const char *name, *text;
    } files[] = {
        {"project.csv", "field,value\ntitle,Flag\nsizes,S (M)\ncurrency,EUR\n"},
        {"yarns.csv", "role,yarn,put_up,length,colour,price\nmain,Quay DK,50 g,120 m,Slate,5.80\ntrim,Quay DK,50 g,120 m,Buoy red,5.80\n"},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nflag,single crochet,main,5 mm,60,90 (99)\nhem,single crochet,trim,5 mm,60,9\n"},
    };
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++)
        if (folder->count < FUZZ_FILES && !find_file(folder, files[i].name))
            fuzz_folder_one(folder, files[i].name, (const uint8_t *)files[i].text, strlen(files[i].text));
}

bool fuzz_stages_make(struct fuzz_stages *s, struct fuzz_folder *folder, struct hk_diags *diags)
{
    struct hk_source source = fuzz_source(folder);
    struct hk_shop_options options = hk_shop_defaults();
    options.seconds = FUZZ_SEARCH_S;
    *s = (struct fuzz_stages){.project = hk_project_read(&source, fuzz_catalogue(), diags)};
    s->tally = s->project ? hk_tally_count(s->project, diags) : NULL;
    s->fit = s->tally ? hk_fit_make(s->tally, diags) : NULL;
    s->need = s->fit ? hk_need_predict(s->fit, hk_need_defaults(), diags) : NULL;
    s->shop = s->need ? hk_shop_plan(s->need, options, diags) : NULL;
    s->time = s->shop ? hk_fit_time(s->tally, diags) : NULL;
    s->hours = s->time ? hk_hours_predict(s->time, HK_NO_SIZE, diags) : NULL;
    fuzz_hold(s->hours || diags->errors > 0);
    return s->hours != NULL;
}

void fuzz_stages_free(struct fuzz_stages *s)
{
    hk_hours_free(s->hours);
    hk_time_fit_free(s->time);
    hk_shop_free(s->shop);
    hk_need_free(s->need);
    hk_fit_free(s->fit);
    hk_tally_free(s->tally);
    hk_project_free(s->project);
}

/* ---- Findings ------------------------------------------------------------------------------------------------------ */

/* The unit of UTF-16 that ends at byte `at`, in a file that says so; 0 where none does. */
static unsigned unit_at(const struct fuzz_file *file, size_t at)
{
    if (at % 2 == 0)
        return 0;
    bool little = file->bytes[0] == 0xFF;
    return (unsigned)file->bytes[little ? at : at - 1] << 8 | file->bytes[little ? at - 1 : at];
}

static bool is_utf16(const struct fuzz_file *file)
{
    return file->size >= 2 && ((file->bytes[0] == 0xFF && file->bytes[1] == 0xFE) || (file->bytes[0] == 0xFE && file->bytes[1] == 0xFF));
}

static bool ends_line(const struct fuzz_file *file, size_t at)
{
    if (is_utf16(file))
        return unit_at(file, at) == '\n' || (unit_at(file, at) == '\r' && (at + 2 >= file->size || unit_at(file, at + 2) != '\n'));
    return file->bytes[at] == '\n' || (file->bytes[at] == '\r' && (at + 1 == file->size || file->bytes[at + 1] != '\n'));
}

/* A line, from 1, and where it starts. */
struct line {
    const struct fuzz_file *file;
    size_t number, start;
};

/* To line `number`, from `line` where it stands before: findings are sorted, and may be many. The one behind the last line end has no bytes. False where there is none. */
static bool go_to_line(struct line *line, const struct fuzz_file *file, size_t number)
{
    if (line->file != file || line->number > number)
        *line = (struct line){file, 1, 0};
    for (size_t at = line->start; at < file->size && line->number < number; at++)
        if (ends_line(file, at))
            *line = (struct line){file, line->number + 1, at + 1};
    return line->number == number;
}

static size_t line_bytes(const struct line *line)
{
    size_t at = line->start;
    while (at < line->file->size && !ends_line(line->file, at))
        at++;
    return at - line->start;
}

/* Characters are no more than bytes, in whatever encoding; one column behind the last is a place too. */
static void check_place(struct hk_place at, const struct fuzz_folder *folder, struct line *line)
{
    if (at.line == 0)
        return;
    const struct fuzz_file *file = at.file ? find_file(folder, at.file) : NULL;
    fuzz_hold(file);
    fuzz_hold(go_to_line(line, file, at.line));
    fuzz_hold(at.column >= 1 && at.column <= line_bytes(line) + 1);
}

static void check_words(const char *words)
{
    size_t bad;
    bool valid = hk_text_valid_utf8(words, strlen(words), &bad);
    if (!valid)
        fprintf(stderr, "not UTF-8 at byte %zu: %s\n", bad, words);
    fuzz_hold(*words && valid);
    for (const char *c = words; *c; c++)
        fuzz_hold((unsigned char)*c >= ' ' && *c != 0x7F);
}

void fuzz_check_findings(struct hk_diags *diags, const struct fuzz_folder *folder)
{
    size_t errors = 0;
    struct line line = {0};
    fuzz_hold(!diags->out_of_memory && !diags->machine);
    hk_diags_sort(diags);
    for (size_t i = 0; i < diags->count; i++) {
        const struct hk_finding *finding = &diags->findings[i];
        fuzz_hold(hk_code_name(finding->code));
        errors += hk_code_severity(finding->code) == HK_SEVERITY_ERROR;
        check_place(finding->at, folder, &line);
        check_words(finding->message);
        if (finding->hint)
            check_words(finding->hint);
    }
    fuzz_hold(errors <= diags->errors && diags->errors <= errors + diags->dropped);
    fuzz_hold(hk_diags_ok(diags) == (diags->errors == 0));
    hk_diags_free(diags);
}

/* ---- Cells --------------------------------------------------------------------------------------------------------- */

static const struct hk_column cell_column[] = {{"cell", true, false}, {NULL, false, false}};

bool fuzz_cell_make(struct fuzz_cell *cell, const uint8_t *bytes, size_t size)
{
    size_t length = 0;
    *cell = (struct fuzz_cell){0};
    cell->text = malloc(2 * size + sizeof "cell\n\"\"\n");
    fuzz_hold(cell->text);
    length = (size_t)sprintf(cell->text, "cell\n\"");
    for (size_t i = 0; i < size; i++) {
        cell->text[length++] = (char)bytes[i];
        if (bytes[i] == '"')
            cell->text[length++] = '"';
    }
    length += (size_t)sprintf(cell->text + length, "\"\n");
    fuzz_folder_one(&cell->folder, "cell.csv", (const uint8_t *)cell->text, length);
    struct hk_source source = fuzz_source(&cell->folder);
    cell->table = hk_table_read(&source, "cell.csv", (struct hk_table_options){cell_column, 0, true}, &cell->diags);
    if (!cell->table || hk_table_rows(cell->table) != 1)
        return false;
    cell->cell = hk_table_cell(cell->table, 0, 0);
    return true;
}

void fuzz_cell_free(struct fuzz_cell *cell)
{
    fuzz_check_findings(&cell->diags, &cell->folder);
    hk_table_free(cell->table);
    free(cell->text);
}
