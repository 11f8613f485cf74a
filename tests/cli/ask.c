/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Stands in for hankful where one process runs all its commands (see watched.c): ask SOCKET LOGS LOG hankful WORDS... sends its words, folder,
 * environment and open files there, and ends as the command ended. What valgrind wrote of that, if anything, is moved from the folder
 * LOGS to the file LOG.
 */
#include "watched.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <sys/wait.h>

extern char **environ;

static char text[WATCHED_TEXT];

static _Noreturn void give_up(const char *what)
{
    perror(what);
    exit(125);
}

/* Puts texts, NULL behind the last, behind what was put before; how many there were. */
static uint32_t put(struct watched_request *request, char **texts)
{
    uint32_t count = 0;
    for (; texts[count]; count++) {
        const size_t size = strlen(texts[count]) + 1;
        if (size > sizeof text - request->bytes) {
            fprintf(stderr, "ask: too many words\n");
            exit(125);
        }
        memcpy(text + request->bytes, texts[count], size);
        request->bytes += (uint32_t)size;
    }
    return count;
}

static uint32_t ignored_signals(void)
{
    uint32_t ignored = 0;
    struct sigaction now;
    for (int i = 1; i < WATCHED_SIGNALS; i++)
        if (sigaction(i, NULL, &now) == 0 && now.sa_handler == SIG_IGN)
            ignored |= 1u << i;
    return ignored;
}

/* Which standard files are open; what is not stays so on the other side, but here nothing else may come to stand in its place. */
static uint32_t open_files(void)
{
    uint32_t opened = 0;
    for (int file = 0; file <= STDERR_FILENO; file++)
        if (fcntl(file, F_GETFD) >= 0)
            opened |= 1u << file;
    for (int file = 0; file <= STDERR_FILENO;)
        if ((file = open("/dev/null", O_RDWR)) < 0)
            give_up("/dev/null");
    return opened;
}

static int connect_to(const char *path)
{
    struct sockaddr_un there = {.sun_family = AF_UNIX};
    snprintf(there.sun_path, sizeof there.sun_path, "%s", path);
    const int door = socket(AF_UNIX, SOCK_STREAM, 0);
    if (door < 0 || connect(door, (struct sockaddr *)&there, sizeof there) != 0)
        give_up(path);
    return door;
}

static void send_request(int door, struct watched_request *request)
{
    union {
        char bytes[CMSG_SPACE(WATCHED_FILES * sizeof(int))];
        struct cmsghdr head;
    } control = {0};
    struct iovec part = {request, sizeof *request};
    int files[WATCHED_FILES] = {open(".", O_RDONLY | O_DIRECTORY)};
    size_t count = 1;
    for (int file = 0; file <= STDERR_FILENO; file++)
        if (request->open & 1u << file)
            files[count++] = file;
    control.head = (struct cmsghdr){CMSG_LEN(count * sizeof *files), SOL_SOCKET, SCM_RIGHTS};
    memcpy(CMSG_DATA(&control.head), files, count * sizeof *files);
    const struct msghdr message = {
        .msg_iov = &part, .msg_iovlen = 1, .msg_control = control.bytes, .msg_controllen = CMSG_SPACE(count * sizeof *files)};
    if (sendmsg(door, &message, 0) != sizeof *request || !watched_write(door, text, request->bytes))
        give_up("ask");
}

static void keep_log(pid_t process, const char *logs, const char *kept)
{
    char log[4096];
    struct stat file;
    snprintf(log, sizeof log, "%s/watched.%ld", logs, (long)process);
    if (stat(log, &file) != 0 || (file.st_size > 0 ? rename(log, kept) : unlink(log)) != 0)
        give_up(log);
}

int main(int argc, char **argv)
{
    struct watched_request request = {.open = open_files(), .ignored = ignored_signals(), .umask = umask(0)};
    struct watched_answer answer;
    if (argc < 5)
        return 125;
    umask(request.umask);
    request.words = put(&request, argv + 4);
    request.settings = put(&request, environ);
    if (getrlimit(RLIMIT_FSIZE, &request.file_size) != 0)
        give_up("ask");
    const int door = connect_to(argv[1]);
    send_request(door, &request);
    if (!watched_read(door, &answer, sizeof answer))
        give_up("ask: no answer");
    keep_log(answer.process, argv[2], argv[3]);
    if (WIFSIGNALED(answer.status)) {
        signal(WTERMSIG(answer.status), SIG_DFL);
        raise(WTERMSIG(answer.status));
    }
    return WEXITSTATUS(answer.status);
}
