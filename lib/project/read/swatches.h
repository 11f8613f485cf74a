/* SPDX-License-Identifier: GPL-3.0-or-later */
/* swatches.csv: what was worked, and what it measured and weighed. */
#ifndef HK_SWATCHES_H
#define HK_SWATCHES_H

#include "project/read/reading.h"

/* Fills the project's swatches; all mistakes become findings. The file may be absent unless it is required. */
void hk_swatches_read(struct hk_reading *reading, bool required);

/*
 * Once the folders to learn from are read: leaves out of these each weighing that stands in an earlier folder too, as a
 * copied folder has it, with a warning; warns where two weighings of one swatch differ, which both count.
 */
void hk_swatches_once(struct hk_project *project, struct hk_diags *diags);

#endif
