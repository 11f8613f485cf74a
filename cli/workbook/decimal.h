/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers of files with a decimal point. The command keeps the numbers of the C locale, whatever the environment says.
 */
#ifndef DECIMAL_H
#define DECIMAL_H

#include <stdbool.h>
#include <stddef.h>

/* Reads a number such as -1.5E-3. Returns the byte behind it; `text` if there is none. */
const char *decimal_read(const char *text, double *value);

/* Reads a whole number. Returns false if the text is anything else, or more than `most`. */
bool decimal_whole(const char *text, unsigned long most, unsigned long *value);

/* Writes 15 significant digits in the form d.dddE+dd. Returns the power of ten. */
int decimal_scientific(double value, char *text, size_t size);
/* Writes a number with so many decimals; without any if `decimals` is below 0. */
void decimal_fixed(double value, int decimals, char *text, size_t size);
/* Writes at most 15 significant digits, with a power of ten where it is shorter. */
void decimal_short(double value, char *text, size_t size);

#endif
