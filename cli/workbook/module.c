/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/module.h"

#include "workbook/apart.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

struct writing {
    const struct sheets *sheets;
    const struct sheet_guide *guide;
    const json_t *tables;
    const char *path, *again;
};

static bool write_to(const struct writing *writing, const char *path, const char **why)
{
    return writing->tables ? answer_sheets_write(writing->tables, path, why)
                           : sheets_write(writing->sheets, writing->guide, path, why);
}

static bool same_bytes(const char *one, const char *other)
{
    FILE *a = fopen(one, "rb"), *b = fopen(other, "rb");
    char bytes[2][4096];
    size_t got = 0;
    bool same = a && b;
    while (same && (got = fread(bytes[0], 1, sizeof bytes[0], a)) > 0)
        same = fread(bytes[1], 1, got, b) == got && memcmp(bytes[0], bytes[1], got) == 0;
    same = same && !ferror(a) && fgetc(b) == EOF;
    if (a)
        fclose(a);
    if (b)
        fclose(b);
    return same;
}

/*
 * libxlsxwriter 1.1.5 goes on without what it had no memory for, a cell or a style. The same cells give the same bytes,
 * so the file is written twice.
 */
static bool write_twice(const void *context, const char **why)
{
    const struct writing *writing = context;
    if (!write_to(writing, writing->path, why) || !write_to(writing, writing->again, why))
        return false;
    *why = "the file is not complete; memory may have run out";
    return same_bytes(writing->path, writing->again);
}

static bool write_apart(struct writing writing, const char **why)
{
    const size_t length = strlen(writing.path);
    char *again = malloc(length + 2);
    bool done = false;
    *why = "out of memory";
    if (again) {
        snprintf(again, length + 2, "%s~", writing.path);
        writing.again = again;
        done = apart_run(write_twice, &writing, why);
        unlink(again);
    }
    if (!done)
        unlink(writing.path);
    free(again);
    return done;
}

static bool write_sheets(const struct sheets *sheets, const struct sheet_guide *guide, const char *path,
                         const char **why)
{
    return write_apart((struct writing){.sheets = sheets, .guide = guide, .path = path}, why);
}

static bool write_answer(const json_t *tables, const char *path, const char **why)
{
    return write_apart((struct writing){.tables = tables, .path = path}, why);
}

/* The symbol of the module that is looked up by name. */
__attribute__((visibility("default"))) extern const struct workbook_module hankful_workbook;

const struct workbook_module hankful_workbook = {
    .read = sheets_read,
    .write = write_sheets,
    .write_answer = write_answer,
    .wrote_answer = answer_sheets_wrote,
};
