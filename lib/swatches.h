/* SPDX-License-Identifier: GPL-3.0-or-later */
/* swatches.csv: what was worked, and what it measured and weighed. */
#ifndef HK_SWATCHES_H
#define HK_SWATCHES_H

#include "reading.h"

/* Fills the project's swatches; all mistakes become findings. The file may be absent unless it is required. */
void hk_swatches_read(struct hk_reading *reading, bool required);

#endif
