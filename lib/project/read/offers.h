/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where yarn is to be had: offers.csv and shops.csv (hankful(1), FILES). */
#ifndef HK_OFFERS_H
#define HK_OFFERS_H

#include "project/read/yarns.h"

/* Price lists may be long. */
#define HK_OFFERS_BYTES ((size_t)512 << 20)
#define HK_OFFER_ROWS_MOST ((size_t)5000000)

/* Both files, after yarns.csv. Own findings go to reading->diags. The first two sellers are there without any file. */
void hk_offers_read(struct hk_reading *reading);

/* Whether the offer is one of that yarn for its role, in that colour. */
bool hk_offer_counts(const struct hk_offer *offer, const struct hk_candidate *candidate);

#endif
