/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful new: the project that ships as tables/start, copied into a folder. All of it or nothing: everything is read
 * and looked for before the first file is made, no file is ever opened that exists, and what was made is taken away
 * again on failure.
 */
#include "commands.h"
#include "files.h"
#include "findings.h"
#include "text.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const struct {
    const char *name, *purpose;
} start_files[] = {
    {"project.csv", "title, sizes, terms, currency, how sure"},
    {"grade.csv", "measurements of every size, one a row"},
    {"yarns.csv", "the yarn of each role"},
    {"fabrics.csv", "rows of your own stitch patterns"},
    {"swatches.csv", "what you have worked and weighed"},
    {"pieces.csv", "what the design is made of, one part a line"},
};
enum { file_count = sizeof start_files / sizeof start_files[0], most_bytes = 1 << 20 };

struct copy {
    char *path; /* where it goes */
    char *bytes;
    size_t size;
    bool made;
};

struct project_copy {
    struct copy files[file_count];
    const char *folder;
    bool folder_made;
};

/* Reads the whole file. False with *why on failure. */
static bool slurp(const struct hk_source *source, const char *name, struct copy *copy, const char **why)
{
    struct hk_file file;
    ptrdiff_t got = 0;
    if (source->open(source->host, name, &file, why) != HK_OPENED)
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
    char *path = folder_path(tables, "start");
    struct folder start = {path ? path : "", false};
    const struct hk_source source = folder_source(&start);
    bool done = path != NULL;
    for (size_t i = 0; done && i < file_count; i++) {
        const char *why = "";
        project->files[i].path = folder_path(project->folder, start_files[i].name);
        done = project->files[i].path && slurp(&source, start_files[i].name, &project->files[i], &why);
        if (!done)
            complain("cannot read %s of the project to start from (in \"%s\"): %s", start_files[i].name, start.path,
                     why);
    }
    free(path);
    return done ? DONE : FAILED;
}

/* Whether none of the files is there yet; names all that are. */
static enum outcome look_before(const struct project_copy *project)
{
    enum outcome outcome = DONE;
    for (size_t i = 0; i < file_count; i++) {
        struct stat status;
        if (lstat(project->files[i].path, &status) != 0)
            continue;
        complain("\"%s\" is there already and stays as it is; name another folder", project->files[i].path);
        outcome = REFUSED;
    }
    return outcome;
}

static bool write_all(int descriptor, const struct copy *copy)
{
    for (size_t done = 0; done < copy->size;) {
        const ssize_t written = write(descriptor, copy->bytes + done, copy->size - done);
        if (written < 0 && errno != EINTR)
            return false;
        done += written > 0 ? (size_t)written : 0;
    }
    return fsync(descriptor) == 0 || errno == EINVAL || errno == EROFS;
}

static bool make_file(struct copy *copy)
{
    const int descriptor = open(copy->path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (descriptor < 0)
        return false;
    copy->made = true;
    const bool written = write_all(descriptor, copy);
    const int error = errno;
    if (close(descriptor) == 0 && written)
        return true;
    if (!written)
        errno = error;
    return false;
}

static enum outcome make_all(struct project_copy *project)
{
    project->folder_made = mkdir(project->folder, 0777) == 0;
    if (!project->folder_made && errno != EEXIST) {
        complain("cannot make folder \"%s\": %s", project->folder, strerror(errno));
        return FAILED;
    }
    const char *why = folder_refusal(project->folder);
    if (why) {
        complain("cannot open folder \"%s\": %s", project->folder, why);
        return FAILED;
    }
    for (size_t i = 0; i < file_count; i++) {
        if (make_file(&project->files[i]))
            continue;
        complain("cannot write \"%s\": %s", project->files[i].path, strerror(errno));
        return FAILED;
    }
    return DONE;
}

static void take_away(const struct project_copy *project)
{
    for (size_t i = 0; i < file_count; i++)
        if (project->files[i].made)
            unlink(project->files[i].path);
    if (project->folder_made)
        rmdir(project->folder);
}

static enum outcome say_made(const struct project_copy *project, struct text *text)
{
    struct text_table *table = text_table(text);
    text_heading(text, "Made in %s", project->folder);
    text_gap(text);
    text_table_column(table, TEXT_LEFT, "FILE");
    text_table_column(table, TEXT_WRAP, "WHAT IT HOLDS");
    for (size_t i = 0; i < file_count; i++) {
        text_table_cell(table, "%s", start_files[i].name);
        text_table_cell(table, "%s", start_files[i].purpose);
    }
    text_table_print(table);
    text_gap(text);
    text_paragraph(text,
                   "Open them in a spreadsheet or an editor; lines that start with # explain. Then: hankful need %s",
                   project->folder);
    return text_outcome(text);
}

enum outcome cmd_new(const struct options *options, FILE *out)
{
    struct project_copy project = {.folder = options->words[1]};
    struct text text = text_to(out, options->width);
    const char *tables = folder_of_tables(options->tables);
    enum outcome outcome = tables ? read_start(&project, tables) : FAILED;
    if (outcome == DONE)
        outcome = look_before(&project);
    if (outcome == DONE)
        outcome = make_all(&project);
    if (outcome == DONE)
        outcome = say_made(&project, &text);
    if (outcome != DONE)
        take_away(&project);
    for (size_t i = 0; i < file_count; i++) {
        free(project.files[i].path);
        free(project.files[i].bytes);
    }
    return outcome;
}
