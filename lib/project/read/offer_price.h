/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cell `price` of offers.csv (hankful(1), FILES). */
#ifndef HK_OFFER_PRICE_H
#define HK_OFFER_PRICE_H

#include "project/read/reading.h"

/*
 * Reads "6.40", "5 for 27.99", and quantity prices behind either: "5.60; from 10 5.20; from 20 4.90". *price: a struct
 * hk_offer_price. Returns false with a finding.
 */
bool hk_offer_price_read(struct hk_reading *reading, struct hk_cell cell, void *price);

#endif
