/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef PIECE_H
#define PIECE_H

#include "hankful.h"

/* Returns true when no earlier line of the tally has the name of the piece of this line. */
bool piece_begins(const struct hk_tally *tally, size_t line);

#endif
