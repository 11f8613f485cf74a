/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The two formats of a workbook. */
#ifndef FORMATS_H
#define FORMATS_H

#include "workbook/package.h"

/* Read all sheets; `sheets` of the package has the reason of a failure. */
void xlsx_read(struct package *package);
void ods_read(struct package *package);

#endif
