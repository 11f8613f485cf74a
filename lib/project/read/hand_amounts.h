/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Amounts of yarn: "118 g", "4 balls", "main 118 g, trim 20 g", "118 g of main". */
#ifndef HK_HAND_AMOUNTS_H
#define HK_HAND_AMOUNTS_H

#include "project/read/hand_words.h"

struct hk_hand_amount {
    struct hk_of_yarn of; /* SIZE_MAX: not stated */
    double number;        /* grams, or balls */
    bool balls;
    double step_g;             /* of the last digit */
    struct hk_cell cell, name; /* of the number, and of the role or yarn */
};

/* The amounts of a text. */
struct hk_hand_amounts {
    struct hk_hand_amount *list;
    size_t count;
};

/* Reads the amounts of an option's text, NULL: none; where `balls`, numbers of balls too. */
struct hk_hand_amounts hk_hand_read_amounts(struct hk_hand_reading *hand, const char *option, const char *words,
                                            bool balls, enum hk_sign sign);

#endif
