/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Loaded before the C library (LD_PRELOAD), this counts allocations and makes one fail, or all from one on; also reads
 * that give less than there is, as of a file that shrinks. glibc calls malloc and its kin through their public names
 * wherever memory is taken (strdup, open_memstream, GSL, GLPK ...), and keeps its own under __libc_ names.
 *
 *     FAULT_AT=N           allocation N fails, from 1
 *     FAULT_FOREVER=1      and every one after it
 *     FAULT_READ=BYTES     after so many bytes in all, reads find the end of the file
 *     FAULT_REPORT=FILE    where "ALLOCATIONS LIVE\n" is written at the end: blocks asked for, blocks not freed
 *
 * Blocks that GSL takes itself are not counted as not freed: GSL 2.7 forgets the vectors it has when it has no memory
 * for the next one of a solver's workspace (gsl_multifit_nlinear_alloc), and nobody else can give those back.
 */
#include <errno.h>
#include <fcntl.h>
#include <link.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/syscall.h>
#include <unistd.h>

void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *memory, size_t size);
void __libc_free(void *memory);

static unsigned long taken, fail_at, reads_left;
static long live;
static bool started, forever, reads_end;

/* Where GSL's code is, and the blocks that it has taken; 0: a free place. */
static uintptr_t gsl_start, gsl_end;
static void *gsl_blocks[4096];

static int find_gsl(struct dl_phdr_info *object, size_t size, void *context)
{
    (void)size;
    (void)context;
    for (int i = 0; strstr(object->dlpi_name, "libgsl.") && i < object->dlpi_phnum; i++) {
        const ElfW(Phdr) *part = &object->dlpi_phdr[i];
        if (part->p_type != PT_LOAD || !(part->p_flags & PF_X))
            continue;
        gsl_start = object->dlpi_addr + part->p_vaddr;
        gsl_end = gsl_start + part->p_memsz;
    }
    return 0;
}

/* Puts `with` in the place of `block`; false where it is in none. */
static bool gsl_replace(const void *block, void *with)
{
    for (size_t i = 0; gsl_start && i < sizeof gsl_blocks / sizeof gsl_blocks[0]; i++) {
        if (gsl_blocks[i] != block)
            continue;
        gsl_blocks[i] = with;
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
    dl_iterate_phdr(find_gsl, NULL);
    fail_at = number("FAULT_AT");
    forever = number("FAULT_FOREVER") != 0;
    reads_end = getenv("FAULT_READ") != NULL;
    reads_left = number("FAULT_READ");
    taken = 0;
    started = true;
}

__attribute__((destructor)) static void report(void)
{
    const char *path = getenv("FAULT_REPORT");
    char text[64];
    int file = path ? open(path, O_WRONLY | O_CREAT | O_TRUNC, 0666) : -1;
    int size = snprintf(text, sizeof text, "%lu %ld\n", taken, live);
    if (file >= 0 && write(file, text, (size_t)size) == size)
        close(file);
}

static bool fails(void)
{
    if (!started)
        return false;
    taken++;
    if (fail_at == 0 || (taken != fail_at && !(forever && taken > fail_at)))
        return false;
    errno = ENOMEM;
    return true;
}

static void *counted(void *memory, const void *caller)
{
    bool gsl = (uintptr_t)caller >= gsl_start && (uintptr_t)caller < gsl_end;
    if (memory && !(gsl && gsl_replace(NULL, memory)))
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
    if (moved && !memory)
        live++;
    if (!moved && memory && size == 0)
        live--;
    return moved;
}

void free(void *memory)
{
    if (memory && !gsl_replace(memory, NULL))
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
