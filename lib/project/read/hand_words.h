/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The texts of --done, --used, --left and --have: their items, and what is wrong with them. */
#ifndef HK_HAND_WORDS_H
#define HK_HAND_WORDS_H

#include "project/read/reading.h"

struct hk_hand_reading {
    struct hk_reading *reading;
    size_t size; /* that is worked; SIZE_MAX: not known */
    bool good;   /* nothing was wrong so far */
};

/* A part of a text: bytes from `start`. */
struct hk_hand_item {
    struct hk_table *table;
    const char *text; /* the whole */
    size_t start, length;
};

/* Adds the finding about a cell; a text NULL: memory ran out for it. */
void hk_hand_wrong(struct hk_hand_reading *hand, struct hk_cell cell, const char *message, const char *hint);

/* The item without blanks around it. */
struct hk_cell hk_hand_cell(const struct hk_hand_item *item);

/* A part of an item; `start` counts from the item's own. */
struct hk_hand_item hk_hand_part(const struct hk_hand_item *item, size_t start, size_t length);

/* The text of an option as a table, which the project owns; NULL when it is not stated or memory ran out. */
struct hk_table *hk_hand_table(struct hk_reading *reading, const char *option, const char *text);

/* Sets the next item of a list: up to a comma or semicolon that is not between digits. False at the end. */
bool hk_hand_next(const struct hk_hand_item *whole, size_t *at, struct hk_hand_item *item);

#endif
