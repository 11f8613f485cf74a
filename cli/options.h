/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command line: one table of options, the source of both the parser and the help. */
#ifndef OPTIONS_H
#define OPTIONS_H

#include "complain.h"
#include "hankful.h"
#include "layout.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Bits: an enum may not hold them all. */
#define OPTION_SIZE (UINT64_C(1) << 0)
#define OPTION_CHANCE (UINT64_C(1) << 1)
#define OPTION_JSON (UINT64_C(1) << 2)
#define OPTION_PROJECT (UINT64_C(1) << 3)
#define OPTION_TABLES (UINT64_C(1) << 4)
#define OPTION_WIDTH (UINT64_C(1) << 5)
#define OPTION_HELP (UINT64_C(1) << 6)
#define OPTION_VERSION (UINT64_C(1) << 7)
#define OPTION_ROLE (UINT64_C(1) << 8)
#define OPTION_YARNS (UINT64_C(1) << 9)
#define OPTION_BY (UINT64_C(1) << 10)
#define OPTION_HELD_TOGETHER (UINT64_C(1) << 11)
#define OPTION_MOST (UINT64_C(1) << 12)
#define OPTION_ROUND (UINT64_C(1) << 13)
#define OPTION_TERMS (UINT64_C(1) << 14)
#define OPTION_MARKDOWN (UINT64_C(1) << 15)
#define OPTION_HTML (UINT64_C(1) << 16)
#define OPTION_CSV (UINT64_C(1) << 17)
#define OPTION_KIT (UINT64_C(1) << 18)
#define OPTION_PATTERN (UINT64_C(1) << 19)
#define OPTION_PRICE (UINT64_C(1) << 20)
#define OPTION_ENDING (UINT64_C(1) << 21)
#define OPTION_DEPOSIT (UINT64_C(1) << 22)
#define OPTION_USED_YARN (UINT64_C(1) << 23)
#define OPTION_LETTER (UINT64_C(1) << 24)
#define OPTION_BATCH (UINT64_C(1) << 25)
#define OPTION_WASTE (UINT64_C(1) << 26)
#define OPTION_SPARE (UINT64_C(1) << 27)
#define OPTION_CODE (UINT64_C(1) << 28)
#define OPTION_TOGETHER (UINT64_C(1) << 29)
#define OPTION_TIMES (UINT64_C(1) << 30)
#define OPTION_SECONDS (UINT64_C(1) << 31)
#define OPTION_LIST (UINT64_C(1) << 32)
#define OPTION_ROWS (UINT64_C(1) << 33)
#define OPTION_EACH (UINT64_C(1) << 34)
#define OPTION_EVIDENCE (UINT64_C(1) << 35)
#define OPTION_PLAIN (UINT64_C(1) << 36)
#define OPTION_PROSE (UINT64_C(1) << 37)
#define OPTION_FROM (UINT64_C(1) << 38)
#define OPTION_TABLE (UINT64_C(1) << 39)
#define OPTION_CHANGES (UINT64_C(1) << 40)
#define OPTION_ADD (UINT64_C(1) << 41)
#define OPTION_WHY (UINT64_C(1) << 42)
#define OPTION_WHERE (UINT64_C(1) << 43)
#define OPTION_STEPS (UINT64_C(1) << 44)
#define OPTION_HOURS (UINT64_C(1) << 45)
#define OPTION_ASSUMPTIONS (UINT64_C(1) << 46)
#define OPTION_ALL (UINT64_C(1) << 47)
#define OPTION_SVG (UINT64_C(1) << 59)
#define OPTION_PARTS (UINT64_C(1) << 57)
#define OPTION_LENGTHS (UINT64_C(1) << 58)
#define OPTION_SPREADS (UINT64_C(1) << 55)
#define OPTION_SURE (UINT64_C(1) << 48)
#define OPTION_DISCOUNT (UINT64_C(1) << 49)
#define OPTION_PRICES (UINT64_C(1) << 50)
#define OPTION_SALES (UINT64_C(1) << 54)
#define OPTION_CLIENT (UINT64_C(1) << 51)
#define OPTION_LISTING (UINT64_C(1) << 52)
#define OPTION_UNITS (UINT64_C(1) << 53)
#define OPTION_USED (UINT64_C(1) << 56)
#define OPTION_DONE (UINT64_C(1) << 60)
#define OPTION_LEFT (UINT64_C(1) << 61)
#define OPTION_HAVE (UINT64_C(1) << 62)
#define OPTION_VARY (UINT64_C(1) << 63)
#define OPTION_ALWAYS (OPTION_TABLES | OPTION_WIDTH | OPTION_HELP | OPTION_VERSION)

/* The commands that accept an option, as bits. */
enum {
    COMMAND_NEW = 1 << 0,
    COMMAND_CHECK = 1 << 1,
    COMMAND_NEED = 1 << 2,
    COMMAND_SHOP = 1 << 3,
    COMMAND_COMPARE = 1 << 4,
    COMMAND_MATERIALS = 1 << 5,
    COMMAND_PATTERN = 1 << 6,
    COMMAND_QUOTE = 1 << 7,
    COMMAND_CONVERT = 1 << 8,
    COMMAND_TABLES = 1 << 9,
    COMMAND_REPORT = 1 << 10,
    COMMAND_LEFT = 1 << 11,
    COMMAND_FROM = 1 << 12,
    COMMAND_ALL = (1 << 13) - 1
};

/* The discounts of a list of prices; the option may be given several times. */
struct discounts {
    int64_t millionths[8];
    size_t count;
};

/* Options as given; 0 and NULL where absent. */
struct options {
    uint64_t given;      /* bits of OPTION_... */
    const char *size;    /* NULL: every size */
    const char *project; /* for convert; NULL: the current folder */
    const char *tables;  /* NULL: the default location */
    double chance;       /* in (0, 1); 0: the project's */
    int64_t width;       /* columns; 0: detected */
    const char *role;    /* for compare; NULL: chosen by the command */
    const char *from;    /* for new: a written pattern with settings */
    uint64_t add;        /* for new: bits of the files to add to a project (added.h) */
    const char *svg;     /* for report: a folder for pictures */
    const char *yarns;   /* for compare: a catalogue; NULL: yarns.csv */
    int by;              /* for compare: enum hk_compare_order */
    int64_t most;        /* for compare: number of rows; 0: the default */
    int round;           /* for materials: multiple for rounding up; 0: 10 */
    int terms;           /* enum hk_terms_wanted */
    const char *price, *ending, *deposit, *code, *batch; /* for quote, as typed: their meaning depends on the project */
    int64_t waste_millionths, spare_millionths;
    double sure;         /* for quote, in (0, 1); 0: not given */
    int64_t sales;       /* for quote --pattern; 0: not given */
    struct discounts discounts;
    int units;           /* for materials: enum hk_units */
    const char *done, *used, *left, *have; /* for left, and have for from: as typed (struct hk_hand) */
    const char *vary;    /* for from: the piece whose number or rows vary; NULL: chosen by the library */
    const char *client;  /* for quote: who the letter is to */
    int64_t times;       /* for shop: garments of each size; 0: one */
    double seconds;      /* for shop: limit of the search; 0: the library's */
    char **words;        /* remaining words: the command's name and its operands */
    size_t word_count;
};

/*
 * Parses the arguments. Returns false, with a message on standard error, on wrong usage. Options may appear anywhere
 * before "--".
 */
bool options_parse(int argc, char **argv, struct options *options);

/*
 * Reads "50%" as a share, at most `most`, to the ten-thousandth of a percent, and "12" as a whole number, as the options
 * of these kinds do. Return false, with a message that names the option, for other words.
 */
bool options_share(const char *option, const char *word, double most, int64_t *millionths);
bool options_kits(const char *option, const char *word, int64_t *kits);

/* Refuses each of the given options, bits, with what it goes with. Returns false if there is one. */
bool options_go_with(const struct options *options, uint64_t bits, const char *wanted);

/* Returns the name of the option, "size". */
const char *options_name(uint64_t bit);

/* Returns the options that a command, COMMAND_..., takes. */
uint64_t options_of(unsigned command);

/* Writes the help lines of the given options, in the wording for the command. */
void options_help(struct text *text, unsigned command, uint64_t which);

#endif
