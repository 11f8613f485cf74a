/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The number of a cell as text: its value, with the decimals, the percent sign and the unit or currency of its format.
 */
#ifndef SHOWN_H
#define SHOWN_H

#include <stdbool.h>
#include <stddef.h>

#define SHOWN_AFFIX 40
#define SHOWN_TEXT 200

/* A number format: what is written around the number. */
struct shown_format {
    char before[SHOWN_AFFIX], after[SHOWN_AFFIX]; /* a unit or currency; a blank between it and the number included */
    int decimals;                                 /* at least; 0: as many as the value has */
    bool percent, date;
};

/* Reads a format code of Office Open XML, such as 0.00" cm" or [$€-2] #,##0.00 (ECMA-376-1, 18.8.31). */
struct shown_format shown_format_of(const char *code);

/* Returns the code of a numbered format that files do not spell out (ECMA-376-1, 18.8.30); NULL: none, or General. */
const char *shown_builtin(unsigned long id);

/* Writes the value: 15 significant digits, as spreadsheets keep; decimals as the format shows, if it shows more. */
void shown_number(double value, const struct shown_format *format, char text[SHOWN_TEXT]);

/*
 * Writes a date or time, given in days since 1899-12-30 (since 1904-01-01 if from_1904), as the format code shows it;
 * in ISO 8601 if it would look like a plain number.
 */
void shown_date(double days, bool from_1904, const char *code, char text[SHOWN_TEXT]);

/*
 * Writes the value of an OpenDocument cell that is shown as `shown`: the value itself, with the decimals of `shown` if
 * those are more, and with the words around its digits.
 */
void shown_as(double value, bool percent, const char *shown, char text[SHOWN_TEXT]);

#endif
