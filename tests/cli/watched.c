/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Loaded before hankful (LD_PRELOAD) under valgrind, this runs many commands in children of one process. What a watched command
 * takes is hardly the command: valgrind starts, reads the symbols of sixteen libraries and translates every piece of code
 * when it first comes by. Here it does so once: main() runs a few commands in this process, and every one asked for then
 * in a child of its own that begins with all that is translated, and ends and is searched for leaks as any process.
 *
 *     WATCHED_SOCKET=PATH   where `ask` finds it, once it is ready; without it the program runs as it would alone
 *     WATCHED_FIRST=FILE    commands to run here first, one a line, words between single spaces
 *
 * It is not the command's own process in two things: the locale is set before, and so is GSL's handler of errors.
 */
#include "watched.h"

#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <sys/wait.h>

typedef int main_function(int argc, char **argv, char **environment);
typedef int start_function(main_function *main, int argc, char **argv, void (*init)(void), void (*fini)(void),
                           void (*loader_fini)(void), void *stack_end);

enum { WORDS = 1024 };

/* Not on the heap, where valgrind would find it not freed. */
static main_function *program;
static char text[WATCHED_TEXT];
static char *words[WORDS], *settings[WORDS];
static bool first;

start_function __libc_start_main;

static _Noreturn void give_up(const char *what)
{
    perror(what);
    _exit(125);
}

/* main(); 0 has getopt begin anew. */
static int run_program(int count)
{
    optind = 0;
    return program(count, words, environ);
}

/* ---- In this process ---- */

/* The command closes standard output to know that its answer arrived; the next one needs it again. */
int fclose(FILE *stream)
{
    int (*real)(FILE *);
    *(void **)&real = dlsym(RTLD_NEXT, "fclose");
    return first && stream == stdout ? fflush(stream) : real(stream);
}

/* Splits `line` at spaces into words; how many there are. */
static int split(char *line)
{
    int count = 0;
    char *rest;
    for (char *word = strtok_r(line, " ", &rest); word && count < WORDS - 1; word = strtok_r(NULL, " ", &rest))
        words[count++] = word;
    words[count] = NULL;
    return count;
}

static void run_first(const char *path)
{
    const int file = open(path, O_RDONLY | O_CLOEXEC);
    const ssize_t size = file < 0 ? -1 : read(file, text, sizeof text - 1);
    if (size < 0)
        give_up(path);
    close(file);
    const int errors = dup(STDERR_FILENO);
    if (errors < 0 || dup2(STDOUT_FILENO, STDERR_FILENO) < 0)
        give_up(path);
    first = true;
    for (char *line = text, *end; (end = strchr(line, '\n')); line = end + 1) {
        *end = '\0';
        run_program(split(line));
    }
    first = false;
    dup2(errors, STDERR_FILENO);
    close(errors);
}

/* ---- In a child for each command ---- */

/* The head of a request with its descriptors, in `files`. */
static void receive(int peer, struct watched_request *request, int files[WATCHED_FILES])
{
    char control[CMSG_SPACE(WATCHED_FILES * sizeof *files)] = {0};
    struct iovec part = {request, sizeof *request};
    struct msghdr message = {.msg_iov = &part, .msg_iovlen = 1, .msg_control = control, .msg_controllen = sizeof control};
    const ssize_t got = recvmsg(peer, &message, MSG_WAITALL);
    const struct cmsghdr *head = CMSG_FIRSTHDR(&message);
    if (got != sizeof *request || !head || request->words >= WORDS || request->settings >= WORDS || request->bytes > sizeof text ||
        !watched_read(peer, text, request->bytes))
        give_up("a request");
    memcpy(files, CMSG_DATA(head), head->cmsg_len - CMSG_LEN(0));
}

static char *list(char *at, char **texts, size_t count)
{
    for (size_t i = 0; i < count; i++, at += strlen(at) + 1)
        texts[i] = at;
    texts[count] = NULL;
    return at;
}

/* Whatever the one who asked has from its parents and passes on. */
static void become(const struct watched_request *request, const int files[WATCHED_FILES])
{
    int next = 1;
    if (fchdir(files[0]) != 0)
        give_up("the folder");
    for (int file = 0; file <= STDERR_FILENO; file++) {
        close(file);
        if (request->open & 1u << file && dup2(files[next++], file) != file)
            give_up("a descriptor");
    }
    for (int i = 0; i < next; i++)
        close(files[i]);
    for (int i = 1; i < WATCHED_SIGNALS; i++)
        if (i != SIGKILL && i != SIGSTOP)
            signal(i, request->ignored & 1u << i ? SIG_IGN : SIG_DFL);
    umask(request->umask);
    setrlimit(RLIMIT_FSIZE, &request->file_size);
    list(list(text, words, request->words), settings, request->settings);
    environ = settings;
}

/* Waits for the command in a child, tells the one who asked, and goes without a word from valgrind. */
static _Noreturn void wait_for(pid_t child, int peer)
{
    struct watched_answer answer = {.process = child};
    if (child < 0 || waitpid(child, &answer.status, 0) != child || !watched_write(peer, &answer, sizeof answer))
        give_up("a command");
    kill(getpid(), SIGKILL);
    _exit(125);
}

static int run(int peer)
{
    struct watched_request request = {0};
    int files[WATCHED_FILES] = {-1, -1, -1, -1};
    signal(SIGCHLD, SIG_DFL);
    const pid_t child = fork();
    if (child != 0)
        wait_for(child, peer);
    receive(peer, &request, files);
    close(peer);
    become(&request, files);
    return run_program((int)request.words);
}

static int serve(int argc, char **argv, char **environment)
{
    const char *path = getenv("WATCHED_SOCKET");
    if (!path)
        return program(argc, argv, environment);
    run_first(getenv("WATCHED_FIRST"));
    struct sockaddr_un here = {.sun_family = AF_UNIX};
    snprintf(here.sun_path, sizeof here.sun_path, "%s.new", path);
    const int door = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
    if (door < 0 || bind(door, (struct sockaddr *)&here, sizeof here) != 0 || listen(door, SOMAXCONN) != 0 ||
        rename(here.sun_path, path) != 0)
        give_up(path);
    signal(SIGCHLD, SIG_IGN);
    for (int peer; (peer = accept(door, NULL, NULL)) >= 0; close(peer)) {
        if (fork() == 0) {
            close(door);
            return run(peer);
        }
    }
    give_up(path);
}

/* The programs that start valgrind load this too, and are left alone. */
int __libc_start_main(main_function *main, int argc, char **argv, void (*init)(void), void (*fini)(void), void (*loader_fini)(void),
                      void *stack_end)
{
    start_function *real;
    *(void **)&real = dlsym(RTLD_NEXT, "__libc_start_main");
    program = main;
    const bool ours = strcmp(program_invocation_short_name, "hankful") == 0;
    return real(ours ? serve : main, argc, argv, init, fini, loader_fini, stack_end);
}
