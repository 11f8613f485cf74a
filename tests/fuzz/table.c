/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as a CSV file: a table of well-formed cells that know their places, or errors. */
#include "fuzz.h"

#include "base/text.h"

#include <string.h>

static const struct hk_column columns[] = {
    {"role", true, true}, {"yarn", true, false}, {"put_up", false, false}, {NULL, false, false}};

static void check_cell(struct hk_cell cell, struct hk_place before)
{
    size_t bad, length = strlen(cell.text);
    fuzz_hold(hk_text_valid_utf8(cell.text, length, &bad));
    fuzz_hold(length <= HK_CELL_BYTES);
    struct hk_place start = hk_cell_place(cell, 0), end = hk_cell_place(cell, length);
    fuzz_hold(start.line > before.line || (start.line == before.line && start.column >= before.column));
    fuzz_hold(end.line > start.line || (end.line == start.line && end.column >= start.column));
}

static void check_table(const struct hk_table *table)
{
    struct hk_place before = {0};
    for (size_t row = 0; row < hk_table_rows(table); row++) {
        for (size_t i = 0; i < hk_table_columns(table); i++) {
            check_cell(hk_table_at(table, row, i), before);
            before = hk_cell_place(hk_table_at(table, row, i), 0);
        }
    }
}

static void read_as(struct fuzz_folder *folder, const struct hk_column *known)
{
    struct hk_diags diags = {0};
    struct hk_source source = fuzz_source(folder);
    struct hk_table *table = hk_table_read(&source, "yarns.csv", (struct hk_table_options){known, 0, true}, &diags);
    fuzz_hold(table || diags.errors > 0);
    if (table)
        check_table(table);
    fuzz_check_findings(&diags, folder);
    hk_table_free(table);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct fuzz_folder folder = {0};
    fuzz_folder_one(&folder, "yarns.csv", bytes, size);
    read_as(&folder, columns);
    read_as(&folder, NULL);
    return 0;
}
