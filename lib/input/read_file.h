/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads a whole file of the source as UTF-8 text, with a limit on its size. Binary files are refused. */
#ifndef HK_READ_FILE_H
#define HK_READ_FILE_H

#include "hankful.h"

enum hk_file_read {
    HK_FILE_READ_WHOLE,
    HK_FILE_READ_ABSENT, /* without a finding: the caller decides whether it is a mistake */
    HK_FILE_READ_FAILED, /* with a finding, or diags->out_of_memory */
};

/*
 * text: well-formed UTF-8 without byte order mark or zero byte, zero-terminated; owner: the caller (free). A file that
 * is not UTF-8 is decoded as UTF-16 if it has that byte order mark, else as Windows-1252 with a warning. Set only with
 * HK_FILE_READ_WHOLE.
 */
struct hk_file_text {
    char *text;
    size_t bytes;
    struct hk_identity identity;
};
enum hk_file_read hk_read_file(const struct hk_source *source, const char *name, size_t most_bytes,
                               struct hk_file_text *read, struct hk_diags *diags);

/* The hint, for all messages, how to save a file that hk_read_file accepts. */
#define HK_SAVE_AS_CSV "in the spreadsheet: File, Save as, Text CSV, character set UTF-8"

#endif
