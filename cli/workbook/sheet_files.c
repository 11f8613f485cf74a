/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/sheet_files.h"

#include "files.h"
#include "hankful.h"
#include "new_files.h"
#include "workbook/csv_cells.h"
#include "workbook/module.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum outcome workbook_make(const struct sheets *sheets, const struct sheet_guide *guide, const char *path)
{
    struct new_file file = {0};
    struct stat status;
    const char *why = NULL;
    if (lstat(path, &status) == 0) {
        complain("\"%s\" is there already and stays as it is; name another workbook", path);
        return REFUSED;
    }
    if (!module_load(&why)) {
        complain("cannot write \"%s\": %s", path, why);
        return FAILED;
    }
    if (!new_file_name(&file, ".", path)) {
        complain("out of memory");
        new_file_free(&file);
        return FAILED;
    }
    const bool begun = new_file_begin(&file), written = begun && sheets_write(sheets, guide, file.beside, &why);
    if (begun && !written)
        complain("cannot write \"%s\": %s", path, why);
    const bool done = written && new_file_settle(&file, false);
    new_file_free(&file);
    return done ? DONE : FAILED;
}

/* Reads a whole file. Returns false, with the reason in `sheets`, on failure. */
static bool add_file(struct sheets *sheets, const struct hk_source *source, const char *name)
{
    struct hk_file file;
    const char *why = NULL;
    const enum hk_open opened = source->open(source->host, name, &file, &why);
    if (opened == HK_OPEN_ABSENT)
        return true;
    if (opened != HK_OPEN_DONE)
        return opened == HK_OPEN_NO_MEMORY ? sheets_no_memory(sheets) : sheets_refuse(sheets, why, NULL);
    char *bytes = malloc(SHEETS_TEXT_BYTES);
    size_t size = 0;
    ptrdiff_t got = 0;
    while (bytes && size < SHEETS_TEXT_BYTES &&
           (got = file.read(file.handle, bytes + size, SHEETS_TEXT_BYTES - size, &why)) > 0)
        size += (size_t)got;
    file.close(file.handle);
    if (!bytes)
        sheets_no_memory(sheets);
    else if (got < 0)
        sheets_refuse(sheets, why, NULL);
    else if (size == SHEETS_TEXT_BYTES)
        sheets_refuse(sheets, "the file is larger than 64 MB", NULL);
    else
        csv_cells_add(sheets, name, bytes, size);
    free(bytes);
    return !sheets->why;
}

enum outcome folder_sheets(struct sheets *sheets, const char *folder)
{
    const struct hk_source source = hk_source_folder(folder);
    const char *name;
    for (size_t i = 0; (name = hk_project_file(i)); i++) {
        if (add_file(sheets, &source, name))
            continue;
        char *path = folder_path(folder, name);
        complain("cannot read \"%s\": %s%s%s", path ? path : name, sheets->why, sheets->remedy ? "; " : "",
                 sheets->remedy ? sheets->remedy : "");
        free(path);
        return sheets->no_memory ? FAILED : REFUSED;
    }
    sheets_sort(sheets);
    return DONE;
}
