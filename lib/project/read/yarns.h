/* SPDX-License-Identifier: GPL-3.0-or-later */
/* yarns.csv: yarns, the roles they fill, and which of them is the plan. */
#ifndef HK_YARNS_H
#define HK_YARNS_H

#include "project/read/reading.h"

/* Fills yarns, candidates and roles of the project; all mistakes become findings. */
void hk_yarns_read(struct hk_reading *reading);

#endif
