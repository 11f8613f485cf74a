/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of the proof: texts that are read once, what is said of entries in which sizes, and the work on one size. */
#ifndef HK_PROOFING_H
#define HK_PROOFING_H

#include "base/diags.h"
#include "pattern/proof.h"

/* An entry's texts as rows. */
struct hk_proof_entry {
    bool good; /* `row` has been read */
    struct hk_row row;
    bool tailed;        /* what stands behind a reference or a refused row has been read */
    struct hk_row tail; /* for its stated counts */
    bool taken_good;
    struct hk_row taken;
    struct hk_entry_problem problem; /* why it is not good */
};

/* Said of an entry, of some sizes. */
struct hk_proof_remark {
    size_t entry;
    enum hk_code code;
    struct hk_place place;
    const char *text, *hint; /* of the arena; hint NULL: none */
    bool *sizes;
    size_t next; /* 1 + another one of the same entry; 0: none */
};

/* Places of a part that nothing has been worked into. */
struct hk_proof_left {
    size_t part;
    const char *title; /* of the part or its piece */
    const char *name;  /* what they wait for, or NULL */
    struct hk_place place;
    int64_t most;
    int64_t *by_size;
};

/* Rows of words of our own, "k" or "sc2tog, sc in each st to last 2 sts, sc2tog". */
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
    struct hk_arena *arena; /* of the proof */
    struct hk_proof_entry *entries;
    struct hk_row_words words;
    struct hk_definition *definitions;
    size_t *definition_counts; /* [definitions of the text]: how many of them, from the first on, could be read */
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
    bool needles; /* the text speaks of needles: it is knitted */
    bool spent, out_of_memory;
};

/* NULL: it cannot be read, or memory runs out. */
const struct hk_row *hk_proof_words(struct hk_proofing *p, const char *words, const struct hk_row_text *at);

/* Says it of the entry in that size; `text` and `hint` are copied. */
void hk_proof_remark(struct hk_proofing *p, size_t entry, size_t size, enum hk_code code, struct hk_place place,
                     const char *text, const char *hint);

/* How these terms write a stitch. */
const char *hk_proof_stitch(const struct hk_proofing *p, size_t stitch);

/* Everything in one size, into the proof's rows and lines. */
void hk_proof_size(struct hk_proofing *p, size_t size);

#endif
