/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bar.h"

#include <langinfo.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#define WHOLE (sizeof "\u2588" - 1) /* bytes of a whole column */

bool bar_blocks(void)
{
    const locale_t locale = newlocale(LC_CTYPE_MASK, "", (locale_t)0);
    if (!locale)
        return false;
    const bool blocks = strcasecmp(nl_langinfo_l(CODESET, locale), "UTF-8") == 0;
    freelocale(locale);
    return blocks;
}

struct bar bar_of(double ratio, bool blocks)
{
    /* U+258F to U+2589, one eighth to seven eighths, and U+2588, a whole column */
    static const char *const eighths[] = {"", "\u258f", "\u258e", "\u258d", "\u258c", "\u258b", "\u258a", "\u2589"};
    struct bar bar = {""};
    const double cut = fmin(fmax(ratio, 0), 1);
    int units = (int)lround(8 * BAR_COLUMNS * cut);
    units = cut > 0 && units == 0 ? 1 : units;
    if (!blocks) {
        memset(bar.text, '#', (size_t)(units + 7) / 8);
        return bar;
    }
    size_t length = 0;
    for (int i = 0; i < units / 8; i++, length += WHOLE)
        memcpy(bar.text + length, "\u2588", WHOLE);
    snprintf(bar.text + length, sizeof bar.text - length, "%s", eighths[units % 8]);
    return bar;
}
