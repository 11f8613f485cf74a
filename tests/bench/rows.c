/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How long reading and following written rows takes: 200 rows in nine sizes of about 300 stitches, then ten times the
 * stitches, then ten times the rows. Asserts nothing but that every row comes out and states what it comes to.
 *
 *     ninja -C BUILD tests/bench_rows && BUILD/tests/bench_rows
 */
#include "../support.h"
#include "../written.h"
#include "base/arena.h"
#include "stopwatch.h"

#include <inttypes.h>
#include <stdio.h>

#define RUNS 9
#define SIZES 9

/* They leave as many stitches as they find, a multiple of 12. */
static const char *const rows[] = {
    "Ch 1, sc in each st across, turn.",
    "Ch 3 (counts as dc), dc in next st and in each st across, turn.",
    "Ch 1, sc in first 2 sts, *ch 1, sk next st, sc in next st; rep from * to end, turn.",
    "Ch 1, sc in first sc, *sc in next ch-1 sp, sc in next sc; rep from * to last sc, sc in last sc, turn.",
    "Ch 1, *sc in next 4 sts, 2 sc in next st, sc2tog, sc in next 5 sts; rep from * across, turn.",
    "Ch 1, *sk next st, 3 dc in next st, sk next st, dc in next 3 sts; rep from * across, turn.",
    "Ch 1, *[sc in next st, dc in next st] 3 times, hdc in next 6 sts; rep from * across, turn.",
    "Ch 2, hdc in each st to last 3 sts, hdc in last 3 sts, turn.",
};
#define PATTERN (sizeof rows / sizeof *rows)

static int64_t stitches_of(size_t size, int64_t about)
{
    return about + 12 * ((int64_t)size - 4);
}

/* "... 252 (264, 276, ...) sts" behind a row, as a designer states it. */
static void state(char *text, size_t room, const char *row, int64_t about)
{
    size_t used = (size_t)snprintf(text, room, "%s %" PRId64 " (", row, stitches_of(0, about));
    for (size_t size = 1; size < SIZES; size++)
        used +=
            (size_t)snprintf(text + used, room - used, "%s%" PRId64, size > 1 ? ", " : "", stitches_of(size, about));
    snprintf(text + used, room - used, ") sts, counting each ch-1 as a st");
}

static void read_rows(const struct hk_row_words *words, struct hk_row *read, size_t count, int64_t about,
                      struct hk_arena *arena)
{
    struct hk_diags diags = {0};
    for (size_t i = 0; i < count; i++) {
        char text[400];
        state(text, sizeof text, rows[i % PATTERN], about);
        if (!written_read(text, words, &read[i], arena, &diags)) {
            printf("%s: %s\n", text, diags.count ? diags.findings[0].message : "no memory");
            exit(3);
        }
    }
    hk_diags_free(&diags);
}

static void follow_size(const struct hk_row_words *words, const struct hk_row *read, size_t count, int64_t about,
                        size_t size)
{
    const struct hk_conventions conventions = {0};
    struct hk_follow *follow = hk_follow_new(words->catalogue, &conventions, size, NULL);
    if (!follow || !hk_follow_edge(follow, stitches_of(size, about), HK_SPOT_ANY))
        exit(3);
    for (size_t i = 0; i < count; i++) {
        struct hk_followed followed;
        if (!hk_follow_row(follow, &read[i], (struct hk_manner){0}, &followed))
            exit(3);
        if (!followed.good || followed.compared_count != 1 || !followed.compared[0].agrees) {
            printf("row %zu, %s: %s, %" PRId64 "\n", i, rows[i % PATTERN], followed.trouble.text, followed.count);
            exit(3);
        }
    }
    hk_follow_free(follow);
}

static double bench(const struct hk_row_words *words, size_t count, int64_t about, double before)
{
    double reading[RUNS], following[RUNS];
    struct hk_row *read = malloc(count * sizeof *read);
    if (!read)
        exit(3);
    for (size_t run = 0; run < RUNS; run++) {
        struct hk_arena arena = {0};
        const double start = cpu_s();
        read_rows(words, read, count, about, &arena);
        const double middle = cpu_s();
        for (size_t size = 0; size < SIZES; size++)
            follow_size(words, read, count, about, size);
        following[run] = cpu_s() - middle;
        reading[run] = middle - start;
        hk_arena_free(&arena);
    }
    free(read);
    double followed = stopwatch_median(following, RUNS);
    printf("%5zu %9" PRId64 " %8.2f %10.2f %7.2f\n", count, about, 1e3 * stopwatch_median(reading, RUNS),
           1e3 * followed, before > 0 ? followed / before : 1);
    return followed;
}

int main(void)
{
    struct hk_catalogue *catalogue = shipped_catalogue();
    const struct hk_row_words words = written_words(catalogue, HK_TERMS_US, SIZES);
    printf(" rows  stitches  read ms  follow ms   ratio   nine sizes\n");
    double once = bench(&words, 200, 300, 0);
    bench(&words, 200, 3000, once);
    bench(&words, 2000, 300, once);
    hk_catalogue_free(catalogue);
    return 0;
}
