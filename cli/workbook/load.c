/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The functions of the module as the command calls them: each loads it first. */
#include "workbook/module.h"

#include <dlfcn.h>
#include <stdio.h>
#include <string.h>

static const char missing[] =
    "this hankful was built without workbooks; use a folder of CSV files, one for each sheet, or "
    "build it with libzip, expat and libxlsxwriter";

const struct workbook_module *module_load(const char **why)
{
    static const struct workbook_module *module;
    static void *handle; /* stays loaded to the end */
    static char reason[400];
    if (module)
        return module;
    *why = missing;
    if (!WORKBOOKS)
        return NULL;
    /* looked up beside the library of Hankful: in the folders that the command names to the loader */
    if (!handle)
        handle = dlopen(MODULE_FILE, RTLD_NOW | RTLD_LOCAL);
    module = handle ? dlsym(handle, MODULE_SYMBOL) : NULL;
    if (module)
        return module;
    const char *error = dlerror();
    const char *memory =
        error && strstr(error, "memory") ? "" : ", or memory ran out"; /* then the loader may blame the file */
    snprintf(reason, sizeof reason, "the module for workbooks cannot be loaded%s: %s", memory,
             error ? error : MODULE_FILE);
    *why = reason;
    return NULL;
}

bool sheets_read(struct sheets *sheets, const char *path)
{
    const char *why;
    const struct workbook_module *module = module_load(&why);
    if (module)
        return module->read(sheets, path);
    *sheets = (struct sheets){.machine = true};
    return sheets_refuse(sheets, why, NULL);
}

bool sheets_write(const struct sheets *sheets, const struct sheet_guide *guide, const char *path, const char **why)
{
    const struct workbook_module *module = module_load(why);
    return module && module->write(sheets, guide, path, why);
}

bool answer_sheets_write(const json_t *tables, const char *path, const char **why)
{
    const struct workbook_module *module = module_load(why);
    return module && module->write_answer(tables, path, why);
}

bool answer_sheets_wrote(const char *path)
{
    const char *why;
    const struct workbook_module *module = module_load(&why);
    return module && module->wrote_answer(path);
}
