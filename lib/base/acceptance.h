/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Accepted findings: the codes that a file accepts for a range of its lines, and the warnings and notes that were set
 * aside by them. diags.c uses them; readers call hk_diags_accept (diags.h).
 */
#ifndef HK_ACCEPTANCE_H
#define HK_ACCEPTANCE_H

#include "hankful.h"

/* The lines `first` to `last` of a file that accept findings, and the place where they say so, in the same file. */
struct hk_ok_lines {
    struct hk_place at;
    size_t first, last;
};

enum { hk_code_words = (HK_CODE_END + 63) / 64 };

/* A set of codes, one bit for each. */
struct hk_codes {
    uint64_t bits[hk_code_words];
};

/* The codes accepted for the lines `first` to `last` of a file; `met`: the codes of which a finding was set aside. */
struct hk_acceptance {
    size_t first, last;
    size_t line, column; /* the place where they are written */
    struct hk_codes codes, met;
};

/* The acceptances of a file, ascending by `first`; their ranges do not overlap. */
struct hk_accepting_file {
    char *name;
    struct hk_acceptance *acceptances;
    size_t count, capacity;
};

struct hk_acceptances {
    struct hk_accepting_file *files;
    size_t file_count, file_capacity;
    struct hk_finding *findings; /* the first HK_FINDINGS_MOST that were set aside; owns their texts */
    size_t count, capacity;
    size_t dropped;              /* the number beyond them */
    size_t hinting;              /* as in struct hk_diags */
};

void hk_acceptances_free(struct hk_acceptances *acceptances);

/* Returns the acceptance of that code for that line, or NULL. `acceptances` may be NULL. */
struct hk_acceptance *hk_acceptance_find(struct hk_acceptances *acceptances, struct hk_place at, enum hk_code code);

/* Adds a code. Returns false when out of memory. */
bool hk_acceptance_add(struct hk_acceptances *acceptances, const char *file, enum hk_code code, struct hk_ok_lines lines);

static inline bool hk_codes_have(const struct hk_codes *codes, enum hk_code code)
{
    return codes->bits[code / 64] >> (code % 64) & 1;
}

static inline void hk_codes_put(struct hk_codes *codes, enum hk_code code)
{
    codes->bits[code / 64] |= UINT64_C(1) << (code % 64);
}

#endif
