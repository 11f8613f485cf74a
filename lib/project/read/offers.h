/* SPDX-License-Identifier: GPL-3.0-or-later */
/* offers.csv and shops.csv (hankful(1), FILES). */
#ifndef HK_OFFERS_H
#define HK_OFFERS_H

#include "project/read/reading.h"

#define HK_OFFER_ROWS_MOST ((size_t)5000000)

/* Both files, after yarns.csv. Own findings go to reading->diags. The first two sellers are there without any file. */
void hk_offers_read(struct hk_reading *reading);

#endif
