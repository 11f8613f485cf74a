/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The size that a name stands for which no size has. */
#ifndef HK_SIZE_MEANT_H
#define HK_SIZE_MEANT_H

#include "project/names.h"

/*
 * Returns the index of the size that is called otherwise, "2X" for "XXL", "M" for "medium"; or a word mistyped, "baby"
 * for "babby". SIZE_MAX if there is none: "3X" is not a slip for "2X", nor is "XXL" for "XL".
 */
size_t hk_size_meant(struct hk_names sizes, const char *name);

#endif
