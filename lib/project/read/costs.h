/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads costs.csv. */
#ifndef HK_COSTS_READ_H
#define HK_COSTS_READ_H

#include "project/read/reading.h"

/* Fills the project's costs, after its sizes and its currency; all mistakes become findings. */
void hk_costs_read(struct hk_reading *reading);

#endif
