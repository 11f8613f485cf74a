/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful new: the project that ships as tables/start, copied into a folder. All of it or nothing: everything is read
 * and looked for before the first file is made; every file is written whole, and to the disk itself, under a name of its
 * own beside, and gets its real name when all of them are there, never in place of another; what was made is taken away
 * again on failure, also where the answer does not arrive. A power cut or a kill leaves no half file under a real name, and
 * what it leaves is completed by the next try: some of the files, as they ship.
 */
#include "commands.h"
#include "files.h"
#include "findings.h"
#include "safe.h"
#include "text.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
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
    char *path;   /* where it goes */
    char *beside; /* where it is written first */
    char *bytes;
    size_t size;
    bool there;         /* at path, as it ships: left by a try that was killed */
    bool written, made; /* beside, at path */
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
    if (!done)
        complain("out of memory");
    for (size_t i = 0; done && i < file_count; i++) {
        const char *why = strerror(ENOMEM);
        struct copy *copy = &project->files[i];
        copy->path = folder_path(project->folder, start_files[i].name);
        copy->beside = copy->path ? text_format("%s.%ld~", copy->path, (long)getpid()) : NULL;
        done = copy->beside && slurp(&source, start_files[i].name, copy, &why);
        if (!done)
            complain("cannot read %s of the project to start from (in \"%s\"): %s", start_files[i].name, start.path,
                     why);
    }
    free(path);
    return done ? DONE : FAILED;
}

/* Whether a file at path is what would be written there. */
static bool is_same(const struct copy *copy)
{
    char bytes[4096];
    size_t done = 0;
    const int descriptor = open(copy->path, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (descriptor < 0)
        return false;
    ssize_t got = read(descriptor, bytes, sizeof bytes);
    while (got > 0 && (size_t)got <= copy->size - done && memcmp(bytes, copy->bytes + done, (size_t)got) == 0) {
        done += (size_t)got;
        got = read(descriptor, bytes, sizeof bytes);
    }
    close(descriptor);
    return got == 0 && done == copy->size;
}

/* Whether no file is in the way: none is there yet, or some are, and all of them as they ship. Names all that are there. */
static enum outcome look_before(struct project_copy *project)
{
    size_t there = 0, same = 0;
    for (size_t i = 0; i < file_count; i++) {
        struct stat status;
        if (lstat(project->files[i].path, &status) != 0)
            continue;
        there++;
        project->files[i].there = is_same(&project->files[i]);
        same += project->files[i].there;
    }
    if (there == same && there < file_count)
        return DONE;
    for (size_t i = 0; i < file_count; i++) {
        struct stat status;
        if (lstat(project->files[i].path, &status) == 0)
            complain("\"%s\" is there already and stays as it is; name another folder", project->files[i].path);
    }
    return REFUSED;
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

static bool write_beside(struct copy *copy)
{
    struct stat status;
    if (copy->there)
        return true;
    if (lstat(copy->beside, &status) == 0 && S_ISREG(status.st_mode))
        unlink(copy->beside); /* of a process of this number that was killed */
    const int descriptor = open(copy->beside, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (descriptor < 0)
        return false;
    copy->written = true;
    const bool written = write_all(descriptor, copy);
    const int error = errno;
    if (close(descriptor) == 0 && written)
        return true;
    if (!written)
        errno = error;
    return false;
}

/* A second link never takes the place of a file; where a disk knows no links, the name is looked for once more first. */
static bool give_name(struct copy *copy)
{
    struct stat status;
    if (copy->there)
        return true;
    copy->made = link(copy->beside, copy->path) == 0;
    if (!copy->made && (errno == EPERM || errno == EOPNOTSUPP || errno == ENOSYS) && lstat(copy->path, &status) != 0)
        copy->made = rename(copy->beside, copy->path) == 0;
    return copy->made;
}

static void fsync_folder(const char *folder)
{
    const int descriptor = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor < 0)
        return;
    (void)fsync(descriptor); /* not every disk can: the files themselves are there */
    close(descriptor);
}

static enum outcome make_all(struct project_copy *project)
{
    project->folder_made = mkdir(project->folder, 0777) == 0;
    if (!project->folder_made && errno != EEXIST) {
        complain("cannot make folder \"%s\": %s", project->folder, strerror(errno));
        return FAILED;
    }
    const char *why;
    if (folder_open(project->folder, &why) != HK_OPENED) {
        complain("cannot open folder \"%s\": %s", project->folder, why);
        return FAILED;
    }
    bool done = true;
    size_t i = 0;
    for (; i < (size_t)2 * file_count && done; i++)
        done = i < file_count ? write_beside(&project->files[i]) : give_name(&project->files[i - file_count]);
    if (!done)
        complain("cannot write \"%s\": %s", project->files[(i - 1) % file_count].path, strerror(errno));
    return done ? DONE : FAILED;
}

/* The names beside, and where the whole was not done all that was made. */
static void take_away(const struct project_copy *project, bool all)
{
    for (size_t i = 0; i < file_count; i++) {
        if (project->files[i].written)
            unlink(project->files[i].beside);
        if (project->files[i].made && all)
            unlink(project->files[i].path);
    }
    if (project->folder_made && all)
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
    const char *first = project->folder;
    char *folder = text_format("%s%s", *first == '-' ? "./" : "", first), *quoted = folder ? safe_shell(folder) : NULL;
    text_gap(text);
    text_paragraph(text, "Open them in a spreadsheet or an editor; lines that start with # explain. Then:");
    text_line(text, "hankful need %s", quoted ? quoted : ""); /* to be pasted */
    text->lost = text->lost || !quoted;
    free(folder);
    free(quoted);
    return text_outcome(text);
}

/* Says it, and makes sure that it arrived. */
static enum outcome answer(const struct project_copy *project, const struct options *options, FILE *out)
{
    char *bytes = NULL;
    size_t size = 0;
    FILE *memory = open_memstream(&bytes, &size);
    struct text text = text_to(memory, options->width);
    enum outcome outcome = memory ? say_made(project, &text) : DONE;
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

enum outcome cmd_new(const struct options *options, FILE *out)
{
    struct project_copy project = {.folder = options->words[1]};
    struct sigaction passed_over = {.sa_handler = SIG_IGN}, before;
    const char *tables = folder_of_tables(options->tables);
    enum outcome outcome = tables ? read_start(&project, tables) : FAILED;
    if (outcome == DONE)
        outcome = look_before(&project);
    sigaction(SIGPIPE, &passed_over, &before); /* what was made is taken away first */
    if (outcome == DONE)
        outcome = make_all(&project);
    if (outcome == DONE)
        outcome = answer(&project, options, out);
    take_away(&project, outcome != DONE);
    sigaction(SIGPIPE, &before, NULL);
    if (outcome == DONE)
        fsync_folder(project.folder);
    for (size_t i = 0; i < file_count; i++) {
        free(project.files[i].path);
        free(project.files[i].beside);
        free(project.files[i].bytes);
    }
    return outcome;
}
