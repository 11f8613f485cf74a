/* SPDX-License-Identifier: GPL-3.0-or-later */
/* yarns.csv: yarns, the roles they fill, and which of them is the plan. */
#ifndef HK_YARNS_H
#define HK_YARNS_H

#include "project/read/reading.h"

/* Fills yarns, candidates and roles of the project; all mistakes become findings. */
void hk_yarns_read(struct hk_reading *reading);

/*
 * Once the folders to learn from are read: removes from them each weighing of full balls that stands in an earlier
 * folder too (copied folders have them), with a warning.
 */
void hk_yarns_once(struct hk_project *project, struct hk_diags *diags);

#endif
