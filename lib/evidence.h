/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was weighed, unravelled and timed, as data of the fit; what cannot be right is said. */
#ifndef HK_EVIDENCE_H
#define HK_EVIDENCE_H

#include "parameters.h"

/* The swatches of a folder. */
void hk_evidence_enter(struct hk_maker *m, struct hk_folder *folder);

/* The pieces in the making of the project itself. */
void hk_evidence_enter_progress(struct hk_maker *m);

#endif
