/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A folder on disk as a source: the only file of the library that opens files. It reads regular files only, since
 * reading a pipe could block for ever. A file that shrinks while it is read is an error.
 */
#include "hankful.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct open_file {
    int descriptor;
    off_t left; /* unread bytes of the size at opening */
};

/* Returns a static text, unlike strerror independent of locale and thread. */
static const char *cause_of(int error)
{
    static const struct {
        int error;
        const char *cause;
    } causes[] = {
        {EACCES, "Permission denied"},     {EPERM, "Operation not permitted"}, {EIO, "Input/output error"},
        {EISDIR, "Is a directory"},        {ELOOP, "Too many levels of symbolic links"},
        {EMFILE, "Too many open files"},   {ENFILE, "Too many open files in system"},
        {ENOMEM, "Cannot allocate memory"}, {ENXIO, "No such device or address"}, {ENODEV, "No such device"},
        {EOVERFLOW, "Value too large for defined data type"},                     {ESTALE, "Stale file handle"},
    };
    for (size_t i = 0; i < sizeof causes / sizeof causes[0]; i++)
        if (causes[i].error == error)
            return causes[i].cause;
    return "the system does not say why";
}

static ptrdiff_t read_some(void *handle, void *bytes, size_t count, const char **why)
{
    struct open_file *file = handle;
    ssize_t got;
    do
        got = read(file->descriptor, bytes, count);
    while (got < 0 && errno == EINTR);
    if (got < 0)
        *why = cause_of(errno);
    if (got > 0 || count == 0 || file->left <= 0) {
        file->left -= got > 0 ? got : 0;
        return got;
    }
    if (got == 0)
        *why = "it became shorter while it was read";
    return -1;
}

static void close_file(void *handle)
{
    struct open_file *file = handle;
    close(file->descriptor);
    free(file);
}

static enum hk_open refused(int error, const char **why)
{
    *why = cause_of(error);
    return error == ENOENT || error == ENOTDIR || error == ENAMETOOLONG ? HK_OPEN_ABSENT : HK_OPEN_REFUSED;
}

static enum hk_open open_path(const char *path, struct hk_file *file, const char **why)
{
    struct stat status;
    const int descriptor = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    if (descriptor < 0)
        return refused(errno, why);
    struct open_file *handle = malloc(sizeof *handle);
    const bool regular = fstat(descriptor, &status) == 0 && S_ISREG(status.st_mode);
    if (!handle || !regular) {
        *why = regular ? cause_of(ENOMEM) : "it is not a file";
        free(handle);
        close(descriptor);
        return regular ? HK_OPEN_NO_MEMORY : HK_OPEN_REFUSED;
    }
    handle->descriptor = descriptor;
    handle->left = status.st_size;
    *file = (struct hk_file){handle, read_some, close_file, {(uint64_t)status.st_dev, (uint64_t)status.st_ino}};
    return HK_OPEN_DONE;
}

/* Returns "folder/name", owned by the caller; NULL when out of memory. */
static char *path_join(const char *folder, const char *name)
{
    const size_t length = strlen(folder), size = length + strlen(name) + 2;
    char *path = malloc(size);
    if (path)
        snprintf(path, size, "%s%s%s", folder, length == 0 || folder[length - 1] == '/' ? "" : "/", name);
    return path;
}

static enum hk_open open_anywhere(void *folder, const char *name, struct hk_file *file, const char **why)
{
    if (name[0] == '/')
        return open_path(name, file, why);
    char *path = path_join(folder, name);
    if (!path)
        return HK_OPEN_NO_MEMORY;
    const enum hk_open opened = open_path(path, file, why);
    free(path);
    return opened;
}

static bool leads_out(const char *name)
{
    if (name[0] == '/')
        return true;
    for (const char *part = name; part; part = strchr(part, '/')) {
        part += *part == '/';
        if (strncmp(part, "..", 2) == 0 && (part[2] == '/' || part[2] == '\0'))
            return true;
    }
    return false;
}

static enum hk_open open_inside(void *folder, const char *name, struct hk_file *file, const char **why)
{
    if (!leads_out(name))
        return open_anywhere(folder, name, file, why);
    *why = "it is outside the folder";
    return HK_OPEN_REFUSED;
}

struct hk_source hk_source_folder(const char *path)
{
    return (struct hk_source){(void *)(uintptr_t)path, open_anywhere};
}

struct hk_source hk_source_inside(const char *path)
{
    return (struct hk_source){(void *)(uintptr_t)path, open_inside};
}
