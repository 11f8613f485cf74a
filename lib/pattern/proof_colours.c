/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sequences of colours: the colour of each row. */
#include "pattern/proof_run.h"

#include <inttypes.h>

/* Returns the colour sequence of the entry; a new sequence begins with the next row. NULL: none. */
static const struct hk_written_sequence *sequence_now(struct proof_run *run)
{
    size_t colours = hk_proof_entry_at(run)->colours;
    if (colours != run->colours)
        run->colour_row = 0;
    run->colours = colours;
    return colours > 0 ? &run->w->sequences[colours - 1] : NULL;
}

/* Returns the rows of one repeat of the sequence. */
static int64_t turn_of(const struct proof_run *run, const struct hk_written_sequence *sequence)
{
    int64_t rows = 0;
    for (size_t i = 0; i < sequence->count; i++)
        rows += hk_graded_in(sequence->rows[i], run->size);
    return rows;
}

static size_t held_at(const struct proof_run *run, const struct hk_written_sequence *sequence, int64_t row)
{
    size_t i = 0;
    for (; i + 1 < sequence->count && row >= hk_graded_in(sequence->rows[i], run->size); i++)
        row -= hk_graded_in(sequence->rows[i], run->size);
    return sequence->helds[i];
}

static int64_t divisor(int64_t a, int64_t b)
{
    while (b > 0) {
        int64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

struct planned_row *hk_proof_coloured(struct proof_run *run, struct planned_row *cycle, size_t *count, int64_t total)
{
    const struct hk_written_sequence *sequence = sequence_now(run);
    int64_t turn = sequence ? turn_of(run, sequence) : 0, rows = (int64_t)*count;
    if (!sequence || rows == 0 || total == 0)
        return cycle;
    if (turn == 0) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "the sequence of colours has no rows in this size",
                        "write for how many rows each of them is worked");
        return NULL;
    }
    int64_t by = turn / divisor(rows, turn), all = by > total / rows ? total : rows * by;
    struct planned_row *coloured = hk_arena_take(run->p->arena, (size_t)all, sizeof *coloured);
    if (!coloured) {
        hk_proof_lose(run);
        return NULL;
    }
    for (int64_t i = 0; i < all; i++) {
        coloured[i] = cycle[i % rows];
        coloured[i].held = held_at(run, sequence, (run->colour_row + i) % turn);
    }
    run->colour_row = (run->colour_row + total) % turn;
    *count = (size_t)all;
    return coloured;
}

size_t hk_proof_colour_next(struct proof_run *run, size_t held)
{
    const struct hk_written_sequence *sequence = sequence_now(run);
    int64_t turn = sequence ? turn_of(run, sequence) : 0;
    if (turn == 0)
        return held;
    held = held_at(run, sequence, run->colour_row);
    run->colour_row = (run->colour_row + 1) % turn;
    return held;
}
