/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/apart.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#define REASON 400

/* What the child says when it is done; else it says the reason. Its exit status is that of what watches it, such as
 * valgrind. */
#define DONE_WORD "+"

static _Noreturn void work_here(apart_work *work, const void *context, int out)
{
    const char *why = "";
    const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (nowhere >= 0)
        dup2(nowhere, STDERR_FILENO);
    if (work(context, &why))
        why = DONE_WORD;
    const size_t length = strnlen(why, REASON - 1);
    _exit(write(out, why, length) == (ssize_t)length ? 0 : 1);
}

/* Reads what fits, up to the end. */
static void read_all(int in, char text[REASON])
{
    size_t used = 0;
    ssize_t got;
    do {
        got = read(in, text + used, REASON - 1 - used);
        used += got > 0 ? (size_t)got : 0;
    } while (got > 0 || (got < 0 && errno == EINTR));
    text[used] = '\0';
}

bool apart_run(apart_work *work, const void *context, const char **why)
{
    static char reason[REASON];
    int ends[2], status = 0;
    *why = reason;
    if (pipe(ends) != 0) {
        snprintf(reason, sizeof reason, "%s", strerror(errno));
        return false;
    }
    const pid_t child = fork();
    if (child == 0)
        work_here(work, context, ends[1]);
    const int error = errno;
    close(ends[1]);
    if (child < 0)
        snprintf(reason, sizeof reason, "%s", strerror(error));
    else
        read_all(ends[0], reason);
    close(ends[0]);
    while (child > 0 && waitpid(child, &status, 0) < 0 && errno == EINTR)
        ;
    if (child > 0 && WIFSIGNALED(status))
        snprintf(reason, sizeof reason, "its process was ended by signal %d; memory may have run out",
                 WTERMSIG(status));
    return strcmp(reason, DONE_WORD) == 0;
}
