/* SPDX-License-Identifier: GPL-3.0-or-later */
/* In place of the readers and writers of workbooks, in a build without their libraries. */
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
