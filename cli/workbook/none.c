/* SPDX-License-Identifier: GPL-3.0-or-later */
/* In place of the readers and writers of workbooks, in a build without their libraries. */
#include "workbook/answer_sheets.h"
#include "workbook/sheets.h"
#include "workbook/sheets_write.h"

#define MISSING "this hankful was built without workbooks"

bool sheets_read(struct sheets *sheets, const char *path)
{
    (void)path;
    *sheets = (struct sheets){0};
    return sheets_refuse(sheets, MISSING, "use a folder of CSV files, or build it with libzip, expat and libxlsxwriter");
}

bool sheets_write(const struct sheets *sheets, const struct sheet_guide *guide, const char *path, const char **why)
{
    (void)sheets, (void)guide, (void)path;
    *why = MISSING;
    return false;
}

bool answer_sheets_write(const json_t *tables, const char *path, const char **why)
{
    (void)tables, (void)path;
    *why = MISSING;
    return false;
}

bool answer_sheets_wrote(const char *path)
{
    (void)path;
    return false;
}
