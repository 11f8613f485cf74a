/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "complain.h"

#include "safe.h"

#include <stdarg.h>
#include <stdio.h>

void complain(const char *format, ...)
{
    char words[2000];
    va_list list;
    va_start(list, format);
    vsnprintf(words, sizeof words, format, list);
    va_end(list);
    safe_words(words);
    fprintf(stderr, "hankful: %s\n", words);
}
