/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words that change yarn and tool: "With MC and 5 mm hook,", "Change to smaller needles.", "With MC and B held
 * together,". */
#ifndef HK_SETTING_H
#define HK_SETTING_H

#include "pattern/label.h"

#define HK_TOGETHER_MOST 8

/* Yarns that are held together, ascending by role; one yarn is a set too. */
struct hk_held {
    size_t roles[HK_TOGETHER_MOST];
    int64_t times[HK_TOGETHER_MOST];
    size_t count;
};

/* What names in a text mean. */
struct hk_setting_words {
    const struct hk_row_words *words;
    bool main_named;        /* MC stands in the text: A is then the second yarn, not the first */
    const double *tools_mm; /* all tools that the text names, ascending */
    size_t tool_count;
};

struct hk_setting {
    size_t length; /* bytes, with the mark behind */
    struct hk_held held;
    bool apart;               /* several yarns are named that are not held together */
    double tool_mm;           /* 0: none */
    const char *unknown_tool; /* words that name a tool and cannot be read: where they stand */
    bool unnamed;             /* several strands, and not of which yarn */
    enum hk_side facing;
    bool joins;    /* "Join MC at underarm": work begins on something that is there */
    size_t clause; /* the byte of "with sl st in next st" behind such a yarn; 0: none */
};

/* False where no such words stand at the beginning of the text. */
bool hk_setting_read(const char *text, const struct hk_setting_words *words, struct hk_setting *setting,
                     struct hk_arena *arena);

/* Where the words of a row's label name a yarn or tool, "Row 3 (CC)", "With A, row 3"; NULL: they name none. */
const char *hk_setting_within(const char *label, const struct hk_setting_words *words, struct hk_arena *arena);

/* The role that a name stands for at *cursor: of yarns.csv, or MC, CC, A, B by their order. Advances. SIZE_MAX: none.
 */
size_t hk_yarn_at(const char **cursor, const struct hk_setting_words *words);

/* All tools that a text names in mm or as a label before "hook" or "needle", ascending, none twice. */
bool hk_tools_find(const char *text, const struct hk_catalogue *catalogue, double **tools_mm, size_t *count,
                   struct hk_arena *arena);

#endif
