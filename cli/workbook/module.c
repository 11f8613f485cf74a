/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/module.h"

#include "workbook/apart.h"

#include <unistd.h>

struct writing {
    const struct sheets *sheets;
    const struct sheet_guide *guide;
    const json_t *tables;
    const char *path;
};

static bool write_sheets(const void *context, const char **why)
{
    const struct writing *writing = context;
    return sheets_write(writing->sheets, writing->guide, writing->path, why);
}

static bool write_tables(const void *context, const char **why)
{
    const struct writing *writing = context;
    return answer_sheets_write(writing->tables, writing->path, why);
}

static bool run(apart_work *work, const struct writing *writing, const char **why)
{
    const bool done = apart_run(work, writing, why);
    if (!done)
        unlink(writing->path);
    return done;
}

static bool write_apart(const struct sheets *sheets, const struct sheet_guide *guide, const char *path, const char **why)
{
    return run(write_sheets, &(struct writing){.sheets = sheets, .guide = guide, .path = path}, why);
}

static bool write_answer_apart(const json_t *tables, const char *path, const char **why)
{
    return run(write_tables, &(struct writing){.tables = tables, .path = path}, why);
}

/* The symbol of the module that is looked up by name. */
__attribute__((visibility("default"))) extern const struct workbook_module hankful_workbook;

const struct workbook_module hankful_workbook = {
    .read = sheets_read,
    .write = write_apart,
    .write_answer = write_answer_apart,
    .wrote_answer = answer_sheets_wrote,
};
