/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Any bytes as a workbook: an archive as it is ("PK..."), else the parts of one, each behind a line "==== name". Every
 * sheet becomes the text of its file, whose places lead back to the cells, and a CSV file; or there is a reason.
 */
#include "fuzz.h"

#include "workbook/csv_cells.h"
#include "workbook/sheet_text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <zip.h>

/* Packs the parts, without compression. Owner: the caller (zip_source_free). NULL: libzip does not take these names. */
static zip_source_t *packed(const struct fuzz_folder *folder)
{
    zip_source_t *archive = zip_source_buffer_create(NULL, 0, 0, NULL);
    zip_source_keep(archive);
    zip_t *zip = zip_open_from_source(archive, ZIP_TRUNCATE, NULL);
    bool good = zip != NULL;
    for (size_t i = 0; good && i < folder->count; i++) {
        zip_source_t *part = zip_source_buffer(zip, folder->files[i].bytes, folder->files[i].size, 0);
        const zip_int64_t at = zip_file_add(zip, folder->files[i].name, part, 0);
        good = at >= 0 && zip_set_file_compression(zip, (zip_uint64_t)at, ZIP_CM_STORE, 0) == 0;
        if (at < 0)
            zip_source_free(part);
    }
    if (good && zip_close(zip) == 0)
        return archive;
    if (zip)
        zip_discard(zip);
    zip_source_free(archive);
    return NULL;
}

static bool write_parts(int file, const uint8_t *bytes, size_t size)
{
    struct fuzz_folder folder = {0};
    fuzz_folder_split(&folder, bytes, size);
    zip_source_t *archive = packed(&folder);
    if (!archive)
        return false;
    char some[4096];
    zip_int64_t got;
    zip_source_open(archive);
    while ((got = zip_source_read(archive, some, sizeof some)) > 0)
        fuzz_hold(write(file, some, (size_t)got) == (ssize_t)got);
    zip_source_close(archive);
    zip_source_free(archive);
    return true;
}

static void check_sheet(const struct sheets *sheets, const struct sheet *sheet)
{
    struct sheet_text text = {0};
    const char *why;
    size_t size = 0;
    for (size_t i = 0; i < sheet->count; i++) {
        const struct sheet_cell *cell = &sheet->cells[i];
        fuzz_hold(cell->row < SHEETS_ROWS && cell->column < SHEETS_COLUMNS && cell->text < sheets->used);
        fuzz_hold(i == 0 || cell->row > cell[-1].row || (cell->row == cell[-1].row && cell->column >= cell[-1].column));
    }
    const bool made = sheet_text_make(&text, sheets, sheet);
    fuzz_hold(made || text.too_large);
    for (size_t i = 0; made && i < text.mark_count; i++) {
        const struct sheet_mark *mark = &text.marks[i], *found = sheet_text_cell(&text, mark->line, mark->character);
        fuzz_hold(found && found->line == mark->line && found->character == mark->character);
        fuzz_hold(sheet_is_pattern(sheet) || mark->line == mark->row + 1);
    }
    sheet_text_free(&text);
    char *file = csv_cells_text(sheets, sheet, &size, &why);
    struct sheets again = {0};
    if (file && csv_cells_add(&again, sheets_file(sheet->name), file, size))
        sheets_sort(&again);
    fuzz_hold(!again.no_memory);
    sheets_free(&again);
    free(file);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct sheets sheets = {0};
    char path[40];
    FILE *kept = tmpfile();
    fuzz_hold(kept);
    const int file = fileno(kept);
    const bool archive = size >= 2 && memcmp(bytes, "PK", 2) == 0;
    snprintf(path, sizeof path, "/proc/self/fd/%d", file);
    if (archive ? write(file, bytes, size) == (ssize_t)size : write_parts(file, bytes, size)) {
        const bool read = sheets_read(&sheets, path);
        fuzz_hold(read == !sheets.why && !sheets.no_memory && !sheets.absent && !sheets.machine);
        for (size_t i = 0; read && i < sheets.count; i++)
            if (sheets.list[i].wanted)
                check_sheet(&sheets, &sheets.list[i]);
        sheets_free(&sheets);
    }
    fclose(kept);
    return 0;
}
