/* SPDX-License-Identifier: GPL-3.0-or-later */
/* In place of the readers and writers of workbooks, in a build without their libraries. */
#include "workbook/sheets.h"

bool sheets_read(struct sheets *sheets, const char *path)
{
    (void)path;
    *sheets = (struct sheets){0};
    return sheets_refuse(sheets, "this hankful was built without workbooks", "use a folder of CSV files, or build it with libzip, expat and libxlsxwriter");
}
