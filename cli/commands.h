/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The commands: the data that main.c needs to dispatch them and to print help. */
#ifndef COMMANDS_H
#define COMMANDS_H

#include "options.h"

#include <stdio.h>

/* Exit status. */
enum outcome {
    DONE = 0,
    REFUSED = 1, /* the input has errors, or the task is impossible */
    MISUSED = 2, /* wrong usage */
    FAILED = 3,  /* a failure of the machine: file missing, out of memory, disk full */
};

struct command {
    const char *name;
    unsigned bit;            /* COMMAND_...: the command takes the options of that bit */
    const char *operands;    /* "[FOLDER]" */
    size_t least, most;      /* number of operands */
    const char *summary;     /* a noun phrase in one line */
    const char *explanation; /* a paragraph or more; each sentence on an action begins with a verb */
    const char *examples[4]; /* command lines to try, ended by NULL */
    void (*print_more)(struct text *text); /* writer of the help text after the options; NULL: none */
    /*
     * The command. It writes its answer to `out`, completely or not at all; main.c then copies it to standard output.
     * For `new` and --each, `out` is standard output itself.
     */
    enum outcome (*run)(const struct options *options, FILE *out);
};

enum outcome cmd_new(const struct options *options, FILE *out);
enum outcome cmd_check(const struct options *options, FILE *out);
enum outcome cmd_need(const struct options *options, FILE *out);
enum outcome cmd_shop(const struct options *options, FILE *out);
enum outcome cmd_left(const struct options *options, FILE *out);
enum outcome cmd_from(const struct options *options, FILE *out);
enum outcome cmd_compare(const struct options *options, FILE *out);
enum outcome cmd_materials(const struct options *options, FILE *out);
enum outcome cmd_pattern(const struct options *options, FILE *out);
enum outcome cmd_quote(const struct options *options, FILE *out);
enum outcome cmd_report(const struct options *options, FILE *out);
enum outcome cmd_convert(const struct options *options, FILE *out);
enum outcome cmd_tables(const struct options *options, FILE *out);

#endif
