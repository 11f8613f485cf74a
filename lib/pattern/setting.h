/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words that change yarn and tool: "With MC and 5 mm hook,", "Change to smaller needles.", "With MC and B held
 * together,". */
#ifndef HK_SETTING_H
#define HK_SETTING_H

#include "pattern/label.h"

#define HK_TOGETHER_MOST 8

/* Yarns held together, ascending by role; may be a single yarn. */
struct hk_held {
    size_t roles[HK_TOGETHER_MOST];
    int64_t times[HK_TOGETHER_MOST];
    size_t count;
};

/* The meaning of names in a text. */
struct hk_setting_words {
    const struct hk_row_words *words;
    bool main_named;        /* the text uses MC: A is then the second yarn, not the first */
    const double *tools_mm; /* all tools named in the text, ascending */
    size_t tool_count;
};

struct hk_setting {
    size_t length; /* length in bytes, with the mark after it */
    struct hk_held held;
    bool apart;               /* several yarns are named but not held together */
    double tool_mm;           /* 0: none */
    const char *unknown_tool; /* the position of words for a tool that cannot be read */
    const char *unknown_yarn; /* the position of a name like "B" that no role has; NULL: none */
    bool unnamed;             /* several strands, without a yarn */
    enum hk_side facing;
    bool joins;    /* "Join MC at underarm": work begins on existing work */
    size_t clause; /* the byte of "with sl st in next st" after this yarn; 0: none */
};

/* Returns false when the text does not begin with a setting. */
bool hk_setting_read(const char *text, const struct hk_setting_words *words, struct hk_setting *setting,
                     struct hk_arena *arena);

/* Returns the position where the label of a row names a yarn or tool, "Row 3 (CC)", "With A, row 3"; NULL if none. */
const char *hk_setting_within(const char *label, const struct hk_setting_words *words, struct hk_arena *arena);

/*
 * Returns the role of a name at *cursor, from yarns.csv, or MC, CC, A, B by their order, and advances. SIZE_MAX if
 * none.
 */
size_t hk_yarn_at(const char **cursor, const struct hk_setting_words *words);

/* Finds all tools that a text names in mm or by a label before "hook" or "needle", ascending, without duplicates. */
bool hk_tools_find(const char *text, const struct hk_catalogue *catalogue, double **tools_mm, size_t *count,
                   struct hk_arena *arena);

#endif
