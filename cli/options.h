/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command line: one table of options, from which the parser and the help are both made. */
#ifndef OPTIONS_H
#define OPTIONS_H

#include "hankful.h"
#include "text.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum option_bit {
    OPTION_SIZE = 1 << 0,
    OPTION_CHANCE = 1 << 1,
    OPTION_JSON = 1 << 2,
    OPTION_PROJECT = 1 << 3,
    OPTION_TABLES = 1 << 4,
    OPTION_WIDTH = 1 << 5,
    OPTION_HELP = 1 << 6,
    OPTION_VERSION = 1 << 7,
    OPTION_ROLE = 1 << 8,
    OPTION_YARNS = 1 << 9,
    OPTION_BY = 1 << 10,
    OPTION_HELD_TOGETHER = 1 << 11,
    OPTION_MOST = 1 << 12,
    OPTION_ROUND = 1 << 13,
    OPTION_TERMS = 1 << 14,
    OPTION_MARKDOWN = 1 << 15,
    OPTION_HTML = 1 << 16,
    OPTION_CSV = 1 << 17,
    OPTION_KIT = 1 << 18,
    OPTION_PATTERN = 1 << 19,
    OPTION_PRICE = 1 << 20,
    OPTION_ENDING = 1 << 21,
    OPTION_DEPOSIT = 1 << 22,
    OPTION_USED = 1 << 23,
    OPTION_LETTER = 1 << 24,
    OPTION_BATCH = 1 << 25,
    OPTION_WASTE = 1 << 26,
    OPTION_SPARE = 1 << 27,
    OPTION_CODE = 1 << 28,
};
#define OPTION_ALWAYS ((unsigned)(OPTION_TABLES | OPTION_WIDTH | OPTION_HELP | OPTION_VERSION))

struct options {
    unsigned given;      /* bits of enum option_bit */
    const char *size;    /* NULL: every size */
    const char *project; /* of convert; NULL: the folder one stands in */
    const char *tables;  /* NULL: searched for */
    double chance;       /* in (0, 1); 0: what the project says */
    size_t width;        /* 0: found out */
    bool json;
    const char *role;    /* of compare; NULL: it chooses */
    const char *yarns;   /* of compare: a catalogue; NULL: yarns.csv */
    enum hk_compare_order by;
    size_t most;         /* of compare: rows; 0: as many as a page holds */
    double round;        /* of materials: amounts are rounded up to multiples of it; 0: of 10 */
    enum hk_terms_wanted terms;
    const char *price, *ending; /* of quote, as typed: what they mean hangs on the currency */
    int64_t batch;
    int64_t deposit_millionths, waste_millionths, spare_millionths, code_millionths;
    char **words; /* what is left: the command's name, then its operands */
    size_t word_count;
};

/* False, with a message on standard error, on wrong usage. Options may stand anywhere before "--". */
bool options_parse(int argc, char **argv, struct options *options);

/* "size" for that bit. */
const char *options_name(unsigned bit);

/* Lines of help for the options of those bits. */
void options_help(struct text *text, unsigned which);

/* Says on standard error: "hankful: ...", as all that is said about usage and the machine. */
#if defined __GNUC__
__attribute__((format(printf, 1, 2)))
#endif
void complain(const char *format, ...);

#endif
