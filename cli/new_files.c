/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "new_files.h"

#include "files.h"
#include "layout.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

bool new_file_name(struct new_file *file, const char *folder, const char *name)
{
    file->path = folder_path(folder, name);
    file->beside = file->path ? text_format("%s.%ld~", file->path, (long)getpid()) : NULL;
    return file->beside != NULL;
}

/* Returns whether the file at path already has the bytes to be written. */
static bool is_same(const struct new_file *file)
{
    char bytes[4096];
    size_t done = 0;
    const int descriptor = open(file->path, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (descriptor < 0)
        return false;
    ssize_t got = read(descriptor, bytes, sizeof bytes);
    while (got > 0 && (size_t)got <= file->size - done && memcmp(bytes, file->bytes + done, (size_t)got) == 0) {
        done += (size_t)got;
        got = read(descriptor, bytes, sizeof bytes);
    }
    close(descriptor);
    return got == 0 && done == file->size;
}

enum outcome new_files_check(struct new_files *set)
{
    size_t there = 0, same = 0;
    for (size_t i = 0; i < set->count; i++) {
        struct stat status;
        if (lstat(set->files[i].path, &status) != 0)
            continue;
        there++;
        set->files[i].there = is_same(&set->files[i]);
        same += set->files[i].there;
    }
    if (there == 0 || (there == same && there < set->count && set->completes))
        return DONE;
    for (size_t i = 0; i < set->count; i++) {
        struct stat status;
        if (lstat(set->files[i].path, &status) == 0)
            complain("\"%s\" is there already and stays as it is; %s", set->files[i].path, set->remedy);
    }
    return REFUSED;
}

static bool write_all(int descriptor, const struct new_file *file)
{
    for (size_t done = 0; done < file->size;) {
        const ssize_t written = write(descriptor, file->bytes + done, file->size - done);
        if (written < 0 && errno != EINTR)
            return false;
        done += written > 0 ? (size_t)written : 0;
    }
    return fsync(descriptor) == 0 || errno == EINVAL || errno == EROFS;
}

static bool write_beside(struct new_file *file)
{
    struct stat status;
    if (file->there)
        return true;
    if (lstat(file->beside, &status) == 0 && S_ISREG(status.st_mode))
        unlink(file->beside); /* left by a killed process with the same process id */
    const int descriptor = open(file->beside, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (descriptor < 0)
        return false;
    file->written = true;
    const bool written = write_all(descriptor, file);
    const int error = errno;
    if (close(descriptor) == 0 && written)
        return true;
    if (!written)
        errno = error;
    return false;
}

/*
 * Gives the file its real name. link() never replaces a file; on a file system without links, checks again and renames.
 */
static bool give_name(struct new_file *file)
{
    struct stat status;
    if (file->there)
        return true;
    file->made = link(file->beside, file->path) == 0;
    if (!file->made && (errno == EPERM || errno == EOPNOTSUPP || errno == ENOSYS) && lstat(file->path, &status) != 0)
        file->made = rename(file->beside, file->path) == 0;
    return file->made;
}

static void fsync_folder(const char *folder)
{
    const int descriptor = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor < 0)
        return;
    (void)fsync(descriptor); /* some file systems cannot sync a folder; the files themselves are synced */
    close(descriptor);
}

enum outcome new_files_make(struct new_files *set)
{
    set->folder_made = mkdir(set->folder, 0777) == 0;
    if (!set->folder_made && errno != EEXIST) {
        complain("cannot make folder \"%s\": %s", set->folder, strerror(errno));
        return FAILED;
    }
    const char *why;
    if (folder_open(set->folder, &why) != HK_OPEN_DONE) {
        complain("cannot open folder \"%s\": %s", set->folder, why);
        return FAILED;
    }
    const struct new_file *at = NULL; /* the file that could not be written */
    for (size_t i = 0; i < set->count && !at; i++)
        at = write_beside(&set->files[i]) ? NULL : &set->files[i];
    for (size_t i = 0; i < set->count && !at; i++)
        at = give_name(&set->files[i]) ? NULL : &set->files[i];
    if (at)
        complain("cannot write \"%s\": %s", at->path, strerror(errno));
    return at ? FAILED : DONE;
}

void new_files_end(const struct new_files *set, bool keep)
{
    for (size_t i = 0; i < set->count; i++) {
        if (set->files[i].written)
            unlink(set->files[i].beside);
        if (set->files[i].made && !keep)
            unlink(set->files[i].path);
    }
    if (set->folder_made && !keep)
        rmdir(set->folder);
    if (keep)
        fsync_folder(set->folder);
}

void new_files_free(const struct new_files *set)
{
    for (size_t i = 0; i < set->count; i++) {
        free(set->files[i].path);
        free(set->files[i].beside);
        free(set->files[i].bytes);
    }
}
