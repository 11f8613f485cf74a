/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A whole file of the source as UTF-8 text: read within a limit, told from what is no text, decoded. */
#ifndef HK_READ_FILE_H
#define HK_READ_FILE_H

#include "hankful.h"

enum hk_file_read {
    HK_FILE_READ_WHOLE,
    HK_FILE_READ_ABSENT, /* no finding: whether that is a mistake is for the caller to say */
    HK_FILE_READ_FAILED, /* with a finding, or diags->out_of_memory */
};

/*
 * text: well-formed UTF-8 without byte order mark or zero byte, closed by a zero; owner: the caller (free). What is
 * not UTF-8 is read as UTF-16 where a byte order mark says so, else as Windows-1252, with a warning. *slurped is
 * untouched unless HK_FILE_READ_WHOLE.
 */
struct hk_file_text {
    char *text;
    size_t bytes;
    struct hk_identity identity;
};
enum hk_file_read hk_read_file(const struct hk_source *source, const char *name, size_t most_bytes,
                               struct hk_file_text *read, struct hk_diags *diags);

/* How to get a file that hk_read_file takes, said the same way everywhere. */
#define HK_SAVE_AS_CSV "in the spreadsheet: File, Save as, Text CSV, character set UTF-8"

#endif
