/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "files.h"

#include "options.h"
#include "text.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct open_file {
    int descriptor;
    off_t left; /* of the bytes there were when it was opened */
};

static ptrdiff_t read_some(void *handle, void *bytes, size_t count, const char **why)
{
    struct open_file *file = handle;
    ssize_t got;
    do
        got = read(file->descriptor, bytes, count);
    while (got < 0 && errno == EINTR);
    if (got < 0)
        *why = strerror(errno);
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
    *why = strerror(error);
    return error == ENOENT || error == ENOTDIR || error == ENAMETOOLONG ? HK_OPEN_ABSENT : HK_OPEN_REFUSED;
}

/* Opens a regular file only; a pipe of that name would be waited for without end. */
static enum hk_open open_path(const char *path, struct hk_file *file, const char **why)
{
    struct stat status;
    const int descriptor = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    if (descriptor < 0)
        return refused(errno, why);
    struct open_file *handle = malloc(sizeof *handle);
    if (!handle || fstat(descriptor, &status) != 0 || !S_ISREG(status.st_mode)) {
        *why = handle ? "it is not a file" : strerror(ENOMEM);
        free(handle);
        close(descriptor);
        return HK_OPEN_REFUSED;
    }
    handle->descriptor = descriptor;
    handle->left = status.st_size;
    *file = (struct hk_file){handle, read_some, close_file, {(uint64_t)status.st_dev, (uint64_t)status.st_ino}};
    return HK_OPEN_DONE;
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

static enum hk_open open_in_folder(void *host, const char *name, struct hk_file *file, const char **why)
{
    const struct folder *folder = host;
    if (leads_out(name) && !folder->outside) {
        *why = "it is outside the folder";
        return HK_OPEN_REFUSED;
    }
    char *path = folder_path(folder->path, name);
    if (!path) {
        *why = strerror(ENOMEM);
        return HK_OPEN_REFUSED;
    }
    const enum hk_open opened = open_path(path, file, why);
    free(path);
    return opened;
}

struct hk_source folder_source(struct folder *folder)
{
    return (struct hk_source){folder, open_in_folder};
}

/* Whether the folder one stands in has been removed: then nothing in it can be found, and not for want of a file. */
static bool is_removed(const char *path)
{
    char here[1];
    return path[0] != '/' && !getcwd(here, sizeof here) && errno == ENOENT;
}

enum hk_open folder_open(const char *path, const char **why)
{
    struct stat status;
    if (is_removed(path)) {
        *why = "the folder that you stand in has been removed";
        return HK_OPEN_REFUSED;
    }
    if (stat(path, &status) != 0)
        return refused(errno, why);
    if (!S_ISDIR(status.st_mode))
        return refused(ENOTDIR, why);
    return access(path, X_OK) == 0 ? HK_OPEN_DONE : refused(errno, why);
}

const char *folder_of_tables(const char *option)
{
    const char *environment = getenv("HANKFUL_TABLES");
    if (environment && !*environment)
        environment = NULL;
    const char *path = option ? option : environment ? environment : TABLES_DIR;
    const char *why;
    if (folder_open(path, &why) == HK_OPEN_DONE)
        return path;
    if (option)
        complain("cannot open the folder of tables that --tables names, \"%s\": %s", path, why);
    else if (environment)
        complain("cannot open the folder of tables that HANKFUL_TABLES names, \"%s\": %s", path, why);
    else
        complain("cannot find the shipped tables: --tables and HANKFUL_TABLES name none, and \"%s\": %s", path, why);
    return NULL;
}

char *folder_path(const char *folder, const char *name)
{
    if (name[0] == '/' || strcmp(folder, ".") == 0)
        return text_format("%s", name);
    const size_t length = strlen(folder);
    return text_format("%s%s%s", folder, length && folder[length - 1] == '/' ? "" : "/", name);
}
