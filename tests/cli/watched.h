/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `ask` sends to the process that `watched` waits in, and how both read and write all of something. */
#ifndef WATCHED_H
#define WATCHED_H

#include <signal.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/resource.h>
#include <sys/types.h>
#include <unistd.h>

/* The folder that is stood in comes first, then those of standard input, output and error that are open. */
enum { WATCHED_FILES = 4, WATCHED_SIGNALS = 32, WATCHED_TEXT = 1 << 18 };

/* Then come the bytes of `words` words and `settings` variables of the environment, a zero behind each. */
struct watched_request {
    uint32_t open; /* bit N: descriptor N */
    uint32_t words, settings, bytes;
    uint32_t ignored; /* bit N: signal N */
    mode_t umask;
    struct rlimit file_size;
};

struct watched_answer {
    pid_t process;
    int status; /* as of waitpid */
};

static inline bool watched_write(int file, const void *bytes, size_t count)
{
    const char *at = bytes;
    for (ssize_t wrote; count > 0; at += wrote, count -= (size_t)wrote)
        if ((wrote = write(file, at, count)) <= 0)
            return false;
    return true;
}

static inline bool watched_read(int file, void *bytes, size_t count)
{
    char *at = bytes;
    for (ssize_t got; count > 0; at += got, count -= (size_t)got)
        if ((got = read(file, at, count)) <= 0)
            return false;
    return true;
}

#endif
