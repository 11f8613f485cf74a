/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Loaded before the C library (LD_PRELOAD), this counts allocations and makes one fail, or all from one on; also reads
 * that give less than there is, as of a file that shrinks. glibc calls malloc and its kin through their public names
 * wherever memory is taken (strdup, open_memstream, GSL, GLPK ...), and keeps its own under __libc_ names.
 *
 *     FAULT_AT=N           allocation N fails, from 1
 *     FAULT_FOREVER=1      and every one after it
 *     FAULT_SWEEP=FD       all in one: the process forks a child in which an allocation fails and goes on itself when
 * the child has ended, so what comes before runs once. It does so at the first allocation of each chain of callers.
 * Child N works in the new folder N, with `out` and `err` in it for its output after the output before; about each, "N
 * STATUS LIVE\n" is written to FD, STATUS as of waitpid, and at the end "ALLOCATIONS -1 LIVE\n". FAULT_AT is ignored
 *     FAULT_LIST=FILE      where "N\n" is written for each allocation at which FAULT_SWEEP would fork; none fails
 *     FAULT_READ=BYTES     after so many bytes in all, reads find the end of the file
 *     FAULT_REPORT=FILE    where "ALLOCATIONS LIVE\n" is written at the end: blocks asked for, blocks not freed
 *
 * Blocks that GSL, libzip and the loader take themselves are not counted as not freed, since nobody else can give them
 * back: GSL 2.7 forgets the vectors it has when it has no memory for the next one of a solver's workspace
 * (gsl_multifit_nlinear_alloc), libzip 1.7 what it has read of a part that it then cannot open (zip_fopen), and the
 * loader what it has of a module that it then cannot load.
 */
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <link.h>
#include <signal.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *memory, size_t size);
void __libc_free(void *memory);

static unsigned long taken, fail_at, reads_left;
static long live;
static bool started, forever, reads_end;

/* Of a sweep: where points are told of (0: none), where they are listed, and what a child leaves behind. */
static int sweep, list = -1;
static long *child_live;
enum { FILES = 64, SECONDS = 60 };

/* Hashes of the chains of callers that were tried; 0: a free place. */
enum { CALLERS = 10, OWN_CALLERS = 3, WAYS = 8192 };
static uint64_t ways[WAYS];

/* Where the code of these libraries is, and the blocks that it has taken; 0: a free place. */
static const char *const forgetful[] = {"libgsl.", "libzip.", "/ld-"};
enum { FORGETFUL = sizeof forgetful / sizeof forgetful[0] };
static struct {
    uintptr_t start, end;
} code[FORGETFUL];
static void *forgotten[4096];

static int find_code(struct dl_phdr_info *object, size_t size, void *context)
{
    (void)size;
    (void)context;
    for (int library = 0; library < FORGETFUL; library++) {
        for (int i = 0; strstr(object->dlpi_name, forgetful[library]) && i < object->dlpi_phnum; i++) {
            const ElfW(Phdr) *part = &object->dlpi_phdr[i];
            if (part->p_type != PT_LOAD || !(part->p_flags & PF_X))
                continue;
            code[library].start = object->dlpi_addr + part->p_vaddr;
            code[library].end = code[library].start + part->p_memsz;
        }
    }
    return 0;
}

static bool is_forgetful(const void *caller)
{
    bool within = false;
    for (int i = 0; i < FORGETFUL; i++)
        within |= (uintptr_t)caller >= code[i].start && (uintptr_t)caller < code[i].end;
    return within;
}

/* Puts `with` in the place of `block`; false where it is in none. */
static bool replace_forgotten(const void *block, void *with)
{
    for (size_t i = 0; code[0].start && i < sizeof forgotten / sizeof forgotten[0]; i++) {
        if (forgotten[i] != block)
            continue;
        forgotten[i] = with;
        return true;
    }
    return false;
}

static unsigned long number(const char *name)
{
    const char *text = getenv(name);
    unsigned long value = 0;
    for (; text && *text >= '0' && *text <= '9'; text++)
        value = 10 * value + (unsigned long)(*text - '0');
    return value;
}

/* Before this, the loader and other libraries take memory: a failure there is theirs to report. */
__attribute__((constructor)) static void start(void)
{
    dl_iterate_phdr(find_code, NULL);
    fail_at = number("FAULT_AT");
    forever = number("FAULT_FOREVER") != 0;
    reads_end = getenv("FAULT_READ") != NULL;
    reads_left = number("FAULT_READ");
    sweep = (int)number("FAULT_SWEEP");
    if (sweep) {
        /* cppcheck-suppress invalidFunctionArg ; mmap(2) asks for -1 where there is no file */
        child_live = mmap(NULL, sizeof *child_live, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
        if (child_live == MAP_FAILED)
            abort();
        fail_at = 0;
        const long before = live;
        void *first;
        backtrace(&first, 1); /* loads what it needs, and keeps it */
        live = before;
    }
    if (getenv("FAULT_LIST")) {
        list = open(getenv("FAULT_LIST"), O_WRONLY | O_CREAT | O_EXCL, 0666);
        void *first;
        backtrace(&first, 1);
    }
    taken = 0;
    started = true;
}

__attribute__((destructor)) static void report(void)
{
    if (child_live)
        *child_live = live;
    char end[64];
    const int end_size = snprintf(end, sizeof end, "%lu -1 %ld\n", taken, live);
    if (sweep && write(sweep, end, (size_t)end_size) != end_size)
        abort();
    const char *path = child_live ? NULL : getenv("FAULT_REPORT");
    char text[64];
    int file = path ? open(path, O_WRONLY | O_CREAT | O_TRUNC, 0666) : -1;
    int size = snprintf(text, sizeof text, "%lu %ld\n", taken, live);
    if (file >= 0 && write(file, text, (size_t)size) == size)
        close(file);
}

/* Has `file` write to a new one that begins with what the old one holds: it was written before the fork. */
static void continue_in(const char *name, int file)
{
    char bytes[4096];
    ssize_t got;
    off_t at = 0;
    const int new = open(name, O_WRONLY | O_CREAT | O_EXCL, 0666);
    for (; (got = pread(file, bytes, sizeof bytes, at)) > 0; at += got)
        if (write(new, bytes, (size_t)got) != got)
            abort();
    if (new < 0 || got < 0 || dup2(new, file) < 0)
        abort();
    close(new);
}

static void start_child(void)
{
    char name[24];
    snprintf(name, sizeof name, "%lu", taken);
    if (mkdir(name, 0777) != 0 || chdir(name) != 0)
        abort();
    continue_in("out", STDOUT_FILENO);
    continue_in("err", STDERR_FILENO);
    if (chdir("..") != 0) /* the command may read the folder that it stands in */
        abort();
    alarm(SECONDS);
    sweep = 0;
    fail_at = taken;
}

/*
 * Open files are shared with the child, so their places are put back after it. It is the bare call of the kernel since memory is
 * asked for where locks of the C library are held: these must stand in the child as they are, with the thread that holds them.
 */
static void try_child(void)
{
    off_t places[FILES];
    char line[64];
    int status = 0;
    for (int file = 0; file < FILES; file++)
        places[file] = lseek(file, 0, SEEK_CUR);
    *child_live = 0;
    const pid_t child = (pid_t)syscall(SYS_clone, SIGCHLD, 0, 0, 0, 0);
    if (child == 0) {
        start_child();
        return;
    }
    if (child < 0 || waitpid(child, &status, 0) != child)
        abort();
    for (int file = 0; file < FILES; file++)
        if (places[file] >= 0 && lseek(file, places[file], SEEK_SET) < 0)
            abort();
    const int size = snprintf(line, sizeof line, "%lu %d %ld\n", taken, status, *child_live);
    if (write(sweep, line, (size_t)size) != size)
        abort();
}

/* Whether the callers of this allocation (FNV-1a over their addresses) have not been tried. */
static bool untried(void)
{
    void *callers[OWN_CALLERS + CALLERS];
    const int depth = backtrace(callers, OWN_CALLERS + CALLERS);
    uint64_t hash = 14695981039346656037u;
    for (int i = OWN_CALLERS; i < depth; i++)
        hash = (hash ^ (uint64_t)(uintptr_t)callers[i]) * 1099511628211u;
    hash |= 1;
    size_t at = (hash >> 17) % WAYS;
    for (size_t passed = 0; ways[at] && ways[at] != hash; passed++, at = (at + 1) % WAYS)
        if (passed == WAYS)
            abort();
    const bool tried = ways[at] == hash;
    ways[at] = hash;
    return !tried;
}

static void write_point(void)
{
    char line[24];
    const int size = snprintf(line, sizeof line, "%lu\n", taken);
    if (write(list, line, (size_t)size) != size)
        abort();
}

static bool fails(void)
{
    if (!started)
        return false;
    taken++;
    const int kept = errno;
    if (sweep && untried())
        try_child();
    if (list >= 0 && untried())
        write_point();
    errno = kept;
    if (fail_at == 0 || (taken != fail_at && !(forever && taken > fail_at)))
        return false;
    errno = ENOMEM;
    return true;
}

static void *counted(void *memory, const void *caller)
{
    if (memory && !(is_forgetful(caller) && replace_forgotten(NULL, memory)))
        live++;
    return memory;
}

void *malloc(size_t size)
{
    return fails() ? NULL : counted(__libc_malloc(size), __builtin_return_address(0));
}

void *calloc(size_t count, size_t size)
{
    return fails() ? NULL : counted(__libc_calloc(count, size), __builtin_return_address(0));
}

void *realloc(void *memory, size_t size)
{
    if (fails())
        return NULL;
    void *moved = __libc_realloc(memory, size);
    if (moved && memory)
        replace_forgotten(memory, moved);
    if (moved && !memory)
        live++;
    if (!moved && memory && size == 0)
        live--;
    return moved;
}

void free(void *memory)
{
    if (memory && !replace_forgotten(memory, NULL))
        live--;
    __libc_free(memory);
}

ssize_t read(int file, void *bytes, size_t count)
{
    if (reads_end && count > reads_left)
        count = reads_left;
    ssize_t got = syscall(SYS_read, file, bytes, count);
    if (reads_end && got > 0)
        reads_left -= (unsigned long)got;
    return got;
}
