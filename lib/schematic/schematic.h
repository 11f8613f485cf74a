/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The common parts of drawing the schematic (public part in hankful.h). */
#ifndef HK_SCHEMATIC_H
#define HK_SCHEMATIC_H

#include "schematic/levels.h"
#include "schematic/stacks.h"
#include "tally/tally.h"

/* One outline in one size under construction. */
struct hk_drawing {
    const struct hk_tally *tally;
    const struct hk_project *project;
    size_t size;
    struct hk_arena *arena; /* the arena of the schematic */
    int64_t *effort;        /* left for all outlines, in places worked */
    size_t *lines;          /* those that this size works, upward; the first has index 0 */
    size_t line_count;
    const struct hk_swatch **width_gauges, **height_gauges; /* by line of the project; NULL: none */
    struct hk_levels levels;
    size_t *first_levels;  /* of each of the lines: the first level that it has added; [line_count]: all levels */
    bool rounds;           /* else rows */
    int64_t other_rows;    /* worked in a stitch without a gauge, and drawn by that of the other rows */
    const char *other_why; /* the reason not to draw it by them, where they are too many */
    const char *why;       /* the reason not to draw it; NULL: none */
};

/* Gauges are stitches and rows in 10 cm. */
#define HK_GAUGE_LENGTH_M 0.1

/* Returns the width of stitches, the height of rows of a line, in metres. The line has a gauge. */
static inline double hk_drawing_width(const struct hk_drawing *drawing, size_t line, int64_t stitches)
{
    return (double)stitches * HK_GAUGE_LENGTH_M / drawing->width_gauges[line]->gauge_stitches;
}

static inline double hk_drawing_height(const struct hk_drawing *drawing, size_t line, int64_t rows)
{
    return (double)rows * HK_GAUGE_LENGTH_M / drawing->height_gauges[line]->gauge_rows;
}

static inline const struct hk_worked *hk_drawing_worked(const struct hk_drawing *drawing, size_t line)
{
    return &drawing->tally->lines[drawing->size * drawing->project->line_count + line];
}

static inline const struct hk_line *hk_drawing_line(const struct hk_drawing *drawing, size_t i)
{
    return &drawing->project->lines[drawing->lines[i]];
}

/* Returns true when a line of pattern.txt begins in a ring, or in a few chains that take the place of one. */
bool hk_written_from_ring(const struct hk_drawing *drawing, size_t line);

static inline bool hk_drawing_from_ring(const struct hk_drawing *drawing)
{
    const struct hk_line *line = hk_drawing_line(drawing, 0);
    return line->written ? hk_written_from_ring(drawing, drawing->lines[0]) : line->start == HK_START_RING;
}

/* Sets the reason (NULL: memory ran out while it was made). Returns false. */
static inline bool hk_drawing_refuse(struct hk_drawing *drawing, const char *why)
{
    drawing->why = why;
    return false;
}

/*
 * Add the levels of a line of pieces.csv, or of pattern.txt, on those of the lines below it. Return false with the
 * reason, or when out of memory.
 */
bool hk_rows_add(struct hk_drawing *drawing, size_t line);
bool hk_written_add(struct hk_drawing *drawing, size_t line);

/* Returns true when a line of pattern.txt is worked in rounds in this size. */
bool hk_written_rounds(const struct hk_drawing *drawing, size_t line);

/*
 * Begins the next line at the last level. There is a step where its first row has other stitches than
 * the row below, or another gauge. Returns false when out of memory.
 */
bool hk_drawing_stand(struct hk_drawing *drawing, size_t line, int64_t stitches);

/* Returns the last level. */
static inline struct hk_level *hk_drawing_top(const struct hk_drawing *drawing)
{
    return &drawing->levels.levels[drawing->levels.count - 1];
}

/* The corners of a motif. */
struct hk_motif {
    int64_t corners; /* 0: it has none */
    int64_t side;    /* stitches of one side, with the chains of its corner */
    bool lost;       /* the first rounds have corners, the last have not */
    bool uneven;     /* the sides differ */
};

/* Finds the corners of rounds from a ring. Returns false when the rounds are too large, or when out of memory. */
bool hk_motif_find(struct hk_drawing *drawing, struct hk_motif *motif);

/* Sets the outline, its points and its measures from the levels. */
void hk_flat_draw(struct hk_drawing *drawing, struct hk_schematic_piece *piece);
void hk_rounds_draw(struct hk_drawing *drawing, struct hk_schematic_piece *piece);
/* Sets the points and measures along the levels; `scale`: the drawn width of a metre of the rows. */
void hk_levels_draw(struct hk_drawing *drawing, enum hk_measured measured, double scale,
                    struct hk_schematic_piece *piece);

/*
 * Keeps the measures of one outline that its drawing needs, the same in all its sizes, and sets their letters. Returns
 * false when out of memory.
 */
bool hk_measures_choose(struct hk_schematic_piece *pieces, size_t count, struct hk_arena *arena);

#endif
