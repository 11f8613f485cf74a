/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/formats.h"

bool sheets_read(struct sheets *sheets, const char *path)
{
    struct package package;
    *sheets = (struct sheets){0};
    if (package_open(&package, sheets, path)) {
        if (package_has(&package, "content.xml"))
            ods_read(&package);
        else if (package_has(&package, "[Content_Types].xml"))
            xlsx_read(&package);
        else
            sheets_refuse(sheets, "it is an archive, but no workbook", "save it as .xlsx or .ods");
    }
    package_close(&package);
    sheets_sort(sheets);
    return !sheets->why;
}
