/* SPDX-License-Identifier: GPL-3.0-or-later */
/* testers.csv: what other makers of the design used. */
#ifndef HK_TESTERS_H
#define HK_TESTERS_H

#include "project/read/reading.h"

/* Fills the project's testers, after the sizes, yarns and pieces; all mistakes become findings. */
void hk_testers_read(struct hk_reading *reading);

#endif
