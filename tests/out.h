/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text that a test builds for comparison with the expected text. */
#ifndef TEST_OUT_H
#define TEST_OUT_H

#include "support.h"

#include "pattern/row.h"

#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>

struct out {
    char text[20000];
    size_t length;
};

__attribute__((format(printf, 2, 3))) static inline void put(struct out *out, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    int length = vsnprintf(out->text + out->length, sizeof out->text - out->length, format, args);
    va_end(args);
    out->length += length > 0 ? (size_t)length : 0;
    assert_true(out->length < sizeof out->text);
}

/* Formats one value, or "12/14/16" by size. */
static inline void put_number(struct out *out, struct hk_graded_count number, size_t sizes)
{
    for (size_t i = 0; i < (number.by_size ? sizes : 1); i++)
        put(out, "%s%" PRId64, i ? "/" : "", hk_graded_in(number, i));
}

#endif
