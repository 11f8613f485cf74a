/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * UK names of crochet stitches are shifted by one step from US names. The pairs come from the table stitches: each
 * stitch whose name ends in "crochet", with its first UK-only name that does too. Names of fabrics omit that word
 * ("back loop half double rib"), so names of several words also match without it; names of one word do not ("double
 * seed stitch").
 */
#include "catalogue/terms.h"

#include "base/text.h"

#include <string.h>

static const char closing[] = " crochet";

static size_t without_closing(const char *name)
{
    size_t length = strlen(name), end = sizeof closing - 1;
    return length > end && strcmp(name + length - end, closing) == 0 ? length - end : 0;
}

static const char *uk_name(const struct hk_stitch *stitch)
{
    for (size_t i = 0; i < stitch->also_count; i++) {
        if (!stitch->also_both[i] && stitch->also_terms[i] == HK_TERMS_UK && without_closing(stitch->also[i]))
            return stitch->also[i];
    }
    return NULL;
}

/* Returns true when the first `length` bytes of the name are at `at` as whole words. */
static bool stands_at(const char *words, size_t at, const char *name, size_t length)
{
    if (at > 0 && hk_is_letter(words[at - 1]))
        return false;
    for (size_t i = 0; i < length; i++) {
        if (hk_lower(words[at + i]) != name[i])
            return false;
    }
    return !hk_is_letter(words[at + length]);
}

struct rung {
    const char *from, *to;
    size_t from_length, to_length;
};

static void take_longer(struct rung *best, const char *words, size_t at, struct rung rung)
{
    if (rung.from_length > best->from_length && stands_at(words, at, rung.from, rung.from_length))
        *best = rung;
}

/* Knitting names that differ between the terms and are in no table. */
static const char *const knit_names[][2] = {{"stockinette", "stocking stitch"}};

/* Returns the pair with the longest name at `at`; from_length 0 if there is none. */
static struct rung rung_at(const struct hk_catalogue *catalogue, const char *words, size_t at, enum hk_terms from)
{
    struct rung best = {0};
    for (size_t i = 0; i < sizeof knit_names / sizeof knit_names[0]; i++) {
        const char *a = knit_names[i][from == HK_TERMS_US ? 0 : 1], *b = knit_names[i][from == HK_TERMS_US ? 1 : 0];
        take_longer(&best, words, at, (struct rung){a, b, strlen(a), strlen(b)});
    }
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        const struct hk_stitch *stitch = &catalogue->stitches[i];
        const char *uk = without_closing(stitch->name) ? uk_name(stitch) : NULL;
        if (!uk)
            continue;
        const char *a = from == HK_TERMS_US ? stitch->name : uk, *b = from == HK_TERMS_US ? uk : stitch->name;
        take_longer(&best, words, at, (struct rung){a, b, strlen(a), strlen(b)});
        size_t short_a = without_closing(a), short_b = without_closing(b);
        if (memchr(a, ' ', short_a))
            take_longer(&best, words, at, (struct rung){a, b, short_a, short_b});
    }
    return best;
}

const char *hk_terms_change(const struct hk_catalogue *catalogue, const char *words, enum hk_terms from, enum hk_terms to,
                            struct hk_arena *arena)
{
    const char *done = "";
    if (from == to)
        return words;
    for (size_t at = 0; words[at] && done;) {
        struct rung rung = rung_at(catalogue, words, at, from);
        if (rung.from_length > 0) {
            done = hk_arena_print(arena, "%s%.*s", done, (int)rung.to_length, rung.to);
            at += rung.from_length;
        } else {
            done = hk_arena_print(arena, "%s%c", done, words[at]);
            at++;
        }
    }
    return done;
}
