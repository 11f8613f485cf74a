/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The corners of rounds from a ring: chain spaces of one length that every round, from the first or second on, has
 * equally often. The rows of a fabric are worked again for them; those of pattern.txt have been counted by the proof.
 */
#include "schematic/schematic.h"

#define LEAST 3
#define MOST 8
#define KINDS_MOST 16 /* different lengths of chain spaces in one round */

/* The chain spaces of a round: how many there are of a length. */
struct spaces {
    int64_t chains[KINDS_MOST], counts[KINDS_MOST];
    size_t count;
};

/* The search for corners, round by round. */
struct search {
    struct spaces corners; /* candidates: as often in every round so far */
    int64_t rounds, held;  /* held: rounds that the candidates have lasted */
    bool lost;
};

static void spaces_add(struct spaces *spaces, int64_t chains, int64_t count)
{
    size_t i = 0;
    while (i < spaces->count && spaces->chains[i] != chains)
        i++;
    if (i == KINDS_MOST)
        return;
    if (i == spaces->count) {
        spaces->chains[i] = chains;
        spaces->counts[i] = 0;
        spaces->count++;
    }
    spaces->counts[i] += count;
}

/* Keeps the candidates that the round has too; the first two rounds may bring new ones. */
static void search_round(struct search *search, const struct spaces *spaces)
{
    struct spaces kept = {.count = 0};
    for (size_t i = 0; i < search->corners.count; i++)
        for (size_t j = 0; j < spaces->count; j++)
            if (spaces->chains[j] == search->corners.chains[i] && spaces->counts[j] == search->corners.counts[i])
                spaces_add(&kept, spaces->chains[j], spaces->counts[j]);
    search->rounds++;
    search->lost |= search->held >= 2 && kept.count == 0;
    search->held = kept.count > 0 ? search->held + 1 : 0;
    for (size_t j = 0; j < spaces->count && search->rounds <= 2 && kept.count == 0; j++)
        if (spaces->counts[j] >= LEAST && spaces->counts[j] <= MOST) {
            spaces_add(&kept, spaces->chains[j], spaces->counts[j]);
            search->held = 1;
        }
    search->corners = kept;
}

/* ---- Rows of a fabric ---- */

static void spaces_of_edge(const struct hk_edge *edge, struct spaces *spaces)
{
    *spaces = (struct spaces){.count = 0};
    for (size_t i = 0; i < edge->count; i++)
        if (edge->spots[i].kind == HK_SPOT_SPACE)
            spaces_add(spaces, edge->spots[i].chains, 1);
}

/* Returns true when the stitches between the corners of a round are equal, but for one. */
static bool sides_equal(const struct hk_edge *edge, int64_t chains)
{
    int64_t first = -1, least = INT64_MAX, most = 0, side = 0;
    for (size_t i = 0; i < edge->count; i++) {
        const struct hk_spot *spot = &edge->spots[i];
        bool corner = spot->kind == HK_SPOT_SPACE && spot->chains == chains;
        side += corner ? 0 : spot->kind == HK_SPOT_SPACE ? (int64_t)spot->chains : spot->kind == HK_SPOT_STITCH;
        if (!corner)
            continue;
        if (first < 0)
            first = side;
        else {
            least = side < least ? side : least;
            most = side > most ? side : most;
        }
        side = 0;
    }
    side += first > 0 ? first : 0;
    least = side < least ? side : least;
    most = side > most ? side : most;
    return most - least <= 1;
}

/*
 * Works the rounds of a line again; of the last line set-up and three cycles, which repeat. Returns false with the
 * reason, or when out of memory.
 */
static bool fabric_rounds(struct hk_drawing *drawing, size_t line, struct hk_follow *follow, struct search *search)
{
    const struct hk_worked *worked = hk_drawing_worked(drawing, line);
    const struct hk_fabric *fabric = drawing->project->lines[line].fabric;
    const struct hk_manner manner = {.strict = true};
    bool last = line == drawing->lines[drawing->line_count - 1];
    int64_t rows = worked->runs[worked->run_count - 1].last;
    if (last && rows > (int64_t)(fabric->setup_count + 3 * fabric->cycle_count))
        rows = (int64_t)(fabric->setup_count + 3 * fabric->cycle_count);
    size_t run = 0;
    for (int64_t row = 1; row <= rows; row++) {
        struct hk_followed followed;
        struct spaces spaces;
        while (worked->runs[run].last < row)
            run++;
        if (!hk_follow_row(follow, hk_fabric_row(fabric, row - 1), manner, &followed)) {
            drawing->arena->out_of_memory = true;
            return false;
        }
        if (!followed.good && followed.trouble.spent)
            return hk_drawing_refuse(drawing, "its rounds are too many to be drawn");
        if (!followed.good ||
            followed.width != worked->runs[run].stitches + (row - worked->runs[run].first) * worked->runs[run].step)
            return hk_drawing_refuse(drawing, "its rounds agree with their stated counts in an unusual reading only");
        spaces_of_edge(hk_follow_edge_now(follow), &spaces);
        search_round(search, &spaces);
    }
    return true;
}

/* ---- Rounds of pattern.txt ---- */

static void written_rounds(struct hk_drawing *drawing, size_t line, struct search *search)
{
    const struct hk_project *project = drawing->project;
    const struct hk_written_line *of = &project->written->works[line];
    for (size_t i = of->first; i < of->first + of->count; i++) {
        const struct hk_proof_row *row = &project->proof->rows[i * project->size_count + drawing->size];
        struct spaces spaces = {.count = 0};
        if (!row->there || row->rows == 0)
            continue;
        for (size_t p = 0; p < row->place_count; p++) {
            int64_t chains = hk_space_chains(row->places[p].kind);
            if (chains > 0)
                spaces_add(&spaces, chains, row->places[p].count);
        }
        search_round(search, &spaces);
    }
}

/* ---- The motif ---- */

static bool rounds_search(struct hk_drawing *drawing, struct hk_follow *follow, struct search *search)
{
    for (size_t i = 0; i < drawing->line_count; i++) {
        const struct hk_line *line = hk_drawing_line(drawing, i);
        const struct spaces none = {.count = 0};
        if (line->written)
            written_rounds(drawing, drawing->lines[i], search);
        else if (line->every.given || line->end_stitches.given || hk_drawing_line(drawing, 0)->written ||
                 hk_drawing_worked(drawing, drawing->lines[i])->run_count == 0)
            search_round(search, &none); /* counted without its places */
        else if (!fabric_rounds(drawing, drawing->lines[i], follow, search))
            return false;
    }
    return true;
}

bool hk_motif_find(struct hk_drawing *drawing, struct hk_motif *motif)
{
    const struct hk_conventions conventions = {0};
    struct hk_follow *follow = hk_follow_new(drawing->project->catalogue, &conventions, 0, drawing->effort);
    struct search search = {.rounds = 0};
    if (!follow || !hk_follow_ring(follow)) {
        drawing->arena->out_of_memory = true;
        hk_follow_free(follow);
        return false;
    }
    bool found = rounds_search(drawing, follow, &search);
    const struct spaces *corners = &search.corners;
    *motif = (struct hk_motif){.lost = search.lost};
    if (search.lost)
        motif->corners = LEAST;
    if (found && !search.lost && search.held >= 2) {
        int64_t stitches = hk_drawing_top(drawing)->stitches;
        motif->corners = corners->counts[0];
        motif->side = stitches / motif->corners;
        motif->uneven = stitches % motif->corners != 0;
        for (size_t i = 0; i < corners->count; i++)
            motif->uneven |= corners->counts[i] != motif->corners;
        if (!hk_drawing_line(drawing, 0)->written)
            motif->uneven |= !sides_equal(hk_follow_edge_now(follow), corners->chains[0]);
    }
    hk_follow_free(follow);
    return found;
}
