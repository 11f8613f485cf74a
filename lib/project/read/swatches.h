/* SPDX-License-Identifier: GPL-3.0-or-later */
/* swatches.csv: the swatches, their measures and weights. */
#ifndef HK_SWATCHES_H
#define HK_SWATCHES_H

#include "project/read/reading.h"

/* Fills the project's swatches; all mistakes become findings. The file may be absent unless it is required. */
void hk_swatches_read(struct hk_reading *reading, bool required);

/*
 * Once the folders to learn from are read: removes from them each weighing that stands in an earlier folder too (copied
 * folders have them), with a warning. Warns where two weighings of one swatch differ; both count then.
 */
void hk_swatches_once(struct hk_project *project, struct hk_diags *diags);

#endif
