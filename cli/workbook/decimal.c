/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/decimal.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *decimal_read(const char *text, double *value)
{
    char *end;
    *value = strtod(text, &end);
    return end;
}

bool decimal_whole(const char *text, unsigned long most, unsigned long *value)
{
    *value = 0;
    const char *c = text;
    for (; *c >= '0' && *c <= '9'; c++) {
        *value = *value * 10 + (unsigned long)(*c - '0');
        if (*value > most)
            return false;
    }
    return c > text && !*c;
}

int decimal_scientific(double value, char *text, size_t size)
{
    snprintf(text, size, "%.14e", value);
    const char *power = strchr(text, 'e');
    return power ? (int)strtol(power + 1, NULL, 10) : 999; /* infinity has none */
}

void decimal_fixed(double value, int decimals, char *text, size_t size)
{
    snprintf(text, size, "%.*f", decimals > 0 ? decimals : 0, value);
}

void decimal_short(double value, char *text, size_t size)
{
    snprintf(text, size, "%.15g", value);
}
