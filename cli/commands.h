/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The commands: what main.c needs to dispatch and to help, and what every command answers with. */
#ifndef COMMANDS_H
#define COMMANDS_H

#include "options.h"

#include <stdio.h>

/* The exit status. */
enum outcome {
    DONE = 0,
    REFUSED = 1, /* the input has errors, or the answer is that it cannot be done */
    MISUSED = 2, /* wrong usage */
    FAILED = 3,  /* the machine failed: no file, no memory, disk full */
};

struct command {
    const char *name;
    unsigned bit;            /* COMMAND_...: its options are those of that bit */
    const char *operands;    /* "[FOLDER]" */
    size_t least, most;      /* operands */
    const char *summary;     /* a noun phrase in one line */
    const char *explanation; /* a paragraph or more; each sentence that says what it does begins with a verb */
    const char *examples[4]; /* what may be typed, up to a NULL */
    void (*print_more)(struct text *text); /* what its help has behind the options; NULL: nothing */
    /* Writes its answer to `out`, all of it or none: what is there when it ends is written to standard output. `new`
     * and
     * --each are given that itself. */
    enum outcome (*run)(const struct options *options, FILE *out);
};

enum outcome cmd_new(const struct options *options, FILE *out);
enum outcome cmd_check(const struct options *options, FILE *out);
enum outcome cmd_need(const struct options *options, FILE *out);
enum outcome cmd_shop(const struct options *options, FILE *out);
enum outcome cmd_compare(const struct options *options, FILE *out);
enum outcome cmd_materials(const struct options *options, FILE *out);
enum outcome cmd_pattern(const struct options *options, FILE *out);
enum outcome cmd_quote(const struct options *options, FILE *out);
enum outcome cmd_convert(const struct options *options, FILE *out);
enum outcome cmd_tables(const struct options *options, FILE *out);

#endif
