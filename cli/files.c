/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "files.h"

#include "complain.h"
#include "layout.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>
#include <unistd.h>

struct hk_source folder_source(const struct folder *folder)
{
    return folder->outside ? hk_source_folder(folder->path) : hk_source_inside(folder->path);
}

static enum hk_open refused(int error, const char **why)
{
    *why = strerror(error);
    return error == ENOENT || error == ENOTDIR || error == ENAMETOOLONG ? HK_OPEN_ABSENT : HK_OPEN_REFUSED;
}

/*
 * Returns whether the current folder has been removed: then no path in it can be opened, even if the file was never
 * missing.
 */
static bool is_removed(const char *path)
{
    char here[1];
    return path[0] != '/' && !getcwd(here, sizeof here) && errno == ENOENT;
}

enum hk_open folder_open(const char *path, const char **why)
{
    struct stat status;
    if (is_removed(path)) {
        *why = "the current folder has been removed";
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

bool folder_is_option(const char *name)
{
    return name && strncmp(name, "--", 2) == 0;
}

char *folder_path(const char *folder, const char *name)
{
    if (name[0] == '/' || folder_is_option(name) || strcmp(folder, ".") == 0)
        return text_format("%s", name);
    const size_t length = strlen(folder);
    return text_format("%s%s%s", folder, length && folder[length - 1] == '/' ? "" : "/", name);
}

bool path_ends_in(const char *path, const char *ending)
{
    const size_t length = strlen(path), wanted = strlen(ending);
    return length > wanted && strcasecmp(path + length - wanted, ending) == 0;
}
