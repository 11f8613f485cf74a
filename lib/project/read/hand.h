/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Work in progress and yarn in hand, as typed on a command line (struct hk_hand). */
#ifndef HK_HAND_H
#define HK_HAND_H

#include "project/read/reading.h"

/* Adds rows to the project's progress, and its yarn in hand, after progress.csv; all mistakes become findings. */
void hk_hand_read(struct hk_reading *reading);

#endif
