/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "piece.h"

#include <string.h>

bool piece_begins(const struct hk_tally *tally, size_t line)
{
    for (size_t i = 0; i < line; i++)
        if (strcmp(hk_tally_line(tally, i, 0).piece, hk_tally_line(tally, line, 0).piece) == 0)
            return false;
    return true;
}
