/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What moisture a yarn may hold, from the fibres that its label names. */
#ifndef HK_MOISTURE_H
#define HK_MOISTURE_H

#include "catalogue/catalogue.h"

/*
 * The agreed allowance of "wool", "70% merino, 30% silk" or "cotton and linen", of the dry mass, from the table fibres: the
 * lowest and the highest where the label leaves it open (wool, carded or combed). Shares are by mass as labelled. False,
 * *low and *high untouched, where a fibre is unknown or the shares do not come to 100%.
 */
bool hk_moisture_allowance(const struct hk_catalogue *catalogue, const char *label, double *low, double *high);

#endif
