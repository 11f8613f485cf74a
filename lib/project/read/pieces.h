/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pieces.csv: the pieces, one line a part. */
#ifndef HK_PIECES_H
#define HK_PIECES_H

#include "project/read/reading.h"

/* Fills the project's lines; all mistakes become findings. */
void hk_pieces_read(struct hk_reading *reading);

#endif
