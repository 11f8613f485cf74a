/* SPDX-License-Identifier: GPL-3.0-or-later */
/* offers.csv and shops.csv (hankful(1), FILES). */
#ifndef HK_OFFERS_H
#define HK_OFFERS_H

#include "project/read/reading.h"

#define HK_OFFER_ROWS_MOST ((size_t)5000000)

/* Reads both files, after yarns.csv; all mistakes become findings. The first two sellers exist without any file. */
void hk_offers_read(struct hk_reading *reading);

#endif
