/* SPDX-License-Identifier: GPL-3.0-or-later */
/* progress.csv: what is worked so far, weighed and timed. */
#ifndef HK_PROGRESS_H
#define HK_PROGRESS_H

#include "project/read/reading.h"

/* Fills the project's progress, after all that its rows name; all mistakes become findings. */
void hk_progress_read(struct hk_reading *reading);

/* Once the folders to learn from are read: what is weighed in one, and in an earlier one too, counts once, with a warning. */
void hk_progress_once(struct hk_project *project, struct hk_diags *diags);

#endif
