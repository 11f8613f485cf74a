/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The internal state of the proof: parsed texts, remarks on entries by size, and the work on one size. */
#ifndef HK_PROOFING_H
#define HK_PROOFING_H

#include "base/diags.h"
#include "pattern/proof.h"

/* An entry's texts as rows. */
struct hk_proof_entry {
    bool good; /* `row` was parsed */
    struct hk_row row;
    bool tailed;        /* the text after a reference or a refused row was parsed */
    struct hk_row tail; /* for its stated counts */
    bool taken_good;
    struct hk_row taken;
    struct hk_entry_problem problem; /* the problem, if not good */
};

/* A remark on an entry, for some sizes. */
struct hk_proof_remark {
    size_t entry;
    enum hk_code code;
    struct hk_place place;
    const char *text, *hint; /* owned by the arena; hint NULL: none */
    bool *sizes;
    size_t next; /* 1 + the next remark of the same entry; 0: none */
};

/* Unused places of a part. */
struct hk_proof_left {
    size_t part;
    const char *title; /* title of the part or its piece */
    const char *name;  /* their purpose, or NULL */
    struct hk_place place;
    int64_t most;
    int64_t *by_size;
};

/* Generated rows, "k" or "sc2tog, sc in each st to last 2 sts, sc2tog". */
struct hk_proof_canned {
    const char *words;
    struct hk_row_text text;
    struct hk_row row;
    bool good;
};

struct hk_proofing {
    struct hk_proof *proof;
    const struct hk_written *written;
    const struct hk_proof_host *host;
    struct hk_arena *arena; /* the arena of the proof */
    struct hk_proof_entry *entries;
    struct hk_row_words words;
    struct hk_definition *definitions;
    size_t
        *definition_counts; /* [definitions of the text]: the number of them, from the first on, that could be parsed */
    struct hk_proof_canned **canned;
    size_t canned_count, canned_capacity;
    struct hk_proof_remark *remarks;
    size_t remark_count, remark_capacity;
    struct hk_proof_left *left;
    size_t left_count, left_capacity;
    size_t *remark_of; /* [entry]: 1 + its last remark; 0: none */
    unsigned other;    /* conventions of this run */
    int64_t *effort;
    size_t chain, cast_on, slip, slipped, knit, purl, floats, carried;
    bool needles; /* the text mentions needles: it is knitting */
    bool spent, out_of_memory;
};

/* Returns a generated row; NULL when it cannot be parsed or when out of memory. */
const struct hk_row *hk_proof_words(struct hk_proofing *p, const char *words, const struct hk_row_text *at);

/* Adds a remark to the entry in this size; copies `text` and `hint`. */
void hk_proof_remark(struct hk_proofing *p, size_t entry, size_t size, enum hk_code code, struct hk_place place,
                     const char *text, const char *hint);

/* Returns the abbreviation of a stitch in the pattern's terms. */
const char *hk_proof_stitch(const struct hk_proofing *p, size_t stitch);

/* Works everything in one size and sets the proof's rows and lines. */
void hk_proof_size(struct hk_proofing *p, size_t size);

#endif
