/* SPDX-License-Identifier: GPL-3.0-or-later */
/* progress.csv: unfinished work, weighed and timed. */
#ifndef HK_PROGRESS_H
#define HK_PROGRESS_H

#include "project/read/reading.h"

/* Fills the project's progress, after the files that its rows refer to; all mistakes become findings. */
void hk_progress_read(struct hk_reading *reading);

/* Once the folders to learn from are read: a weighing that stands in an earlier folder too counts once, with a warning. */
void hk_progress_once(struct hk_project *project, struct hk_diags *diags);

#endif
