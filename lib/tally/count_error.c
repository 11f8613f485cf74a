/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tally/count_error.h"

#include <inttypes.h>
#include <stdio.h>

#define WIDTHS_TEXT 64

/* Writes `44 or 50` or `44`. Returns false when neither is known. */
static bool widths_text(const int64_t widths[2], char text[WIDTHS_TEXT])
{
    bool first = widths[0] != HK_NOT_STATED, second = widths[1] != HK_NOT_STATED && widths[1] != widths[0];
    if (first && second)
        snprintf(text, WIDTHS_TEXT, "%" PRId64 " or %" PRId64, widths[0], widths[1]);
    else if (first || second)
        snprintf(text, WIDTHS_TEXT, "%" PRId64, first ? widths[0] : widths[1]);
    return first || second;
}

static const char *stitches_word(int64_t count)
{
    return count == 1 ? "stitch" : "stitches";
}

/*
 * The text for a row of a part, whose number differs from that in fabrics.csv after set-up rows and in later repeats:
 * "row 2 of", or "its row 2, which is row 1 of" with a comma after the fabric's name.
 */
struct row_words {
    char text[96];
    const char *comma;
};

static struct row_words row_words(const struct hk_subject *subject, const struct hk_count_error *error)
{
    const struct hk_fabric *fabric = subject->work->fabric;
    int64_t in_cycles = error->row - 1 - (int64_t)fabric->setup_count;
    int64_t own = in_cycles < 0 ? error->row : in_cycles % (int64_t)fabric->cycle_count + 1;
    struct row_words words = {.comma = ","};
    if (in_cycles >= 0 && own == error->row) {
        snprintf(words.text, sizeof words.text, "row %" PRId64 " of", own);
        words.comma = "";
    } else if (in_cycles >= 0) {
        snprintf(words.text, sizeof words.text, "its row %" PRId64 ", which is row %" PRId64 " of", error->row, own);
    } else if (own == 1) {
        snprintf(words.text, sizeof words.text, "its row 1, which is the set-up of");
    } else {
        snprintf(words.text, sizeof words.text, "its row %" PRId64 ", which is set-up %" PRId64 " of", error->row, own);
    }
    return words;
}

/* Returns true when the row needs a ring or no stitches, so no number of stitches is right. */
static bool needs_in_ring(const struct hk_subject *subject, const struct hk_count_error *error)
{
    return subject->work->start == HK_START_RING && error->row == 1 && error->below == 0;
}

/* Reports the stitches below the row. */
static void report_below(const struct hk_subject *subject, const struct hk_count_error *error, struct hk_diags *diags)
{
    const char *fabric = subject->work->fabric->name, *word = stitches_word(error->below);
    struct row_words row = row_words(subject, error);
    struct hk_place at = hk_cell_place(subject->stitches, 0);
    bool continues = subject->work->start == HK_START_CONTINUE;
    if (error->row > 1)
        hk_diags_add(diags, HK_CODE_WIDTH, at, "%s: %s \"%s\"%s does not fit the %" PRId64 " %s of the row below",
                     subject->title, row.text, fabric, row.comma, error->below, word);
    else if (continues)
        hk_diags_add(diags, HK_CODE_WIDTH, at, "%s: %s \"%s\"%s does not fit the %" PRId64 " %s of the line before",
                     subject->title, row.text, fabric, row.comma, error->below, word);
    else if (needs_in_ring(subject, error))
        hk_diags_add(diags, HK_CODE_WIDTH, at, "%s: %s \"%s\"%s needs %" PRId64 " %s below it, and a ring has none",
                     subject->title, row.text, fabric, row.comma, error->needs, stitches_word(error->needs));
    else
        hk_diags_add(diags, HK_CODE_WIDTH, at, "%s: %s \"%s\"%s does not fit %" PRId64 " %s", subject->title, row.text,
                     fabric, row.comma, error->below, word);
}

/* Reports a fabric whose cycle widens or narrows, so no width fits for long: usually an error in its rows. */
static bool report_creep(const struct hk_subject *subject, const struct hk_count_error *error, const char *fits,
                         struct hk_diags *diags)
{
    const struct hk_fabric *fabric = subject->work->fabric;
    int64_t gain = error->gain, most = gain < 0 ? -gain : gain;
    if (error->row <= 1 || gain == 0)
        return false;
    hk_diags_hint(diags, "%s%sas written \"%s\" gets %" PRId64 " %s %s %s: is that meant?", fits ? fits : "",
                  fits ? " would fit; " : "", fabric->name, most, stitches_word(most), gain < 0 ? "narrower" : "wider",
                  fabric->cycle_count == 1 ? "with every row" : "each time it is worked through");
    return true;
}

/* Reports a row without a repeat whose width suggests that its stitches should be repeated. */
static bool report_stars(const struct hk_subject *subject, const struct hk_count_error *error, int64_t width,
                         int64_t all, struct hk_diags *diags)
{
    const struct hk_row *row = hk_fabric_row(subject->work->fabric, error->row - 1);
    if (row->repeats || width < 1 || all <= width || all % width != 0)
        return false;
    hk_diags_hint(diags, "put stars around what goes on to the end of the row, as in *sc 1*");
    return true;
}

/* Reports cut lengths, which need an edge. */
static bool report_cut(const struct hk_subject *subject, const struct hk_count_error *error, struct hk_diags *diags)
{
    if (!hk_row_without_stitches(hk_fabric_row(subject->work->fabric, error->row - 1)))
        return false;
    hk_diags_hint(diags, "%s",
                  error->row > 1 ? "give it a fabric and a line of its own, which starts on an edge"
                                 : "start it with edge");
    return true;
}

static void report_count_error(const struct hk_subject *subject, const struct hk_count_error *error,
                               struct hk_diags *diags)
{
    char row[WIDTHS_TEXT], all[WIDTHS_TEXT];
    bool fits_row = widths_text(error->fits_row, row), fits_all = widths_text(error->fits_all, all);
    bool stated = error->row == 1 && subject->work->start != HK_START_CONTINUE; /* then both state the same width */
    report_below(subject, error, diags);
    if (needs_in_ring(subject, error)) {
        hk_diags_hint(diags, "start it with chain, or write row 1 with stitches in ring");
        return;
    }
    if (report_cut(subject, error, diags) || report_stars(subject, error, error->needs, error->below, diags))
        return;
    if (!fits_all && report_creep(subject, error, fits_row ? row : NULL, diags))
        return;
    if (stated && (fits_all || fits_row))
        hk_diags_hint(diags, "%s would do", fits_all ? all : row);
    else if (fits_row && fits_all)
        hk_diags_hint(diags, "it fits %s; started with %s, all rows fit", row, all);
    else if (fits_row)
        hk_diags_hint(diags, "it fits %s", row);
    else if (fits_all)
        hk_diags_hint(diags, "started with %s, all rows fit", all);
    else if (error->needs == 0)
        hk_diags_hint(diags, "this row uses up no stitches; start it with chain");
    else if (error->needs > 0)
        hk_diags_hint(diags, "this row needs at least %" PRId64, error->needs);
    else
        hk_diags_hint(diags, "%s", error->trouble.text);
}

/*
 * Returns the place of the row of the project's own fabric; for a shipped fabric that of the cell that names it, since
 * the user cannot edit the shipped file.
 */
static struct hk_place row_place(const struct hk_subject *subject, const struct hk_count_error *error)
{
    return subject->own_fabric && error->row_of ? hk_row_place(error->row_of, error->trouble.at)
                                                : hk_cell_place(subject->stitches, 0);
}

static void report_endless(const struct hk_subject *subject, const struct hk_count_error *error, struct hk_diags *diags)
{
    struct row_words row = row_words(subject, error);
    hk_diags_add(diags, HK_CODE_ROW_ENDLESS, row_place(subject, error),
                 "%s: there is no end to the repeat of %s \"%s\"", subject->title, row.text,
                 subject->work->fabric->name);
    hk_diags_hint(diags, "let each run of the repeat use up stitches of the row below");
}

/* Reports a row that cannot be worked on the stitches below. */
static void report_trouble(const struct hk_subject *subject, const struct hk_count_error *error, struct hk_diags *diags)
{
    struct row_words row = row_words(subject, error);
    hk_diags_add(diags, error->trouble.code, row_place(subject, error), "%s: %s \"%s\": %s", subject->title, row.text,
                 subject->work->fabric->name, error->trouble.text);
    if (*error->trouble.hint)
        hk_diags_hint(diags, "%s", error->trouble.hint);
}

static void report_differs(const struct hk_subject *subject, const struct hk_count_error *error, struct hk_diags *diags)
{
    bool edge = subject->work->start == HK_START_EDGE;
    struct row_words row = row_words(subject, error);
    hk_diags_add(diags, HK_CODE_COUNT_DIFFERS, hk_cell_place(subject->stitches, 0),
                 "%s: %" PRId64 " %s stated, and %s \"%s\"%s %s %" PRId64, subject->title, subject->work->stitches,
                 subject->work->stitches == 1 ? "stitch is" : "stitches are", row.text, subject->work->fabric->name,
                 row.comma, edge ? "takes" : "leaves", error->counted);
    bool follows = subject->work->start == HK_START_RING || subject->work->start == HK_START_CONTINUE;
    if (hk_row_without_stitches(hk_fabric_row(subject->work->fabric, 0)))
        hk_diags_hint(diags, "leave the cell empty");
    else if (error->counted == 0)
        hk_diags_hint(diags, "start it with edge or continue: the row leaves no stitches to count");
    else if (!follows && report_stars(subject, error, error->counted, subject->work->stitches, diags))
        return;
    else if (follows)
        hk_diags_hint(diags, "write %" PRId64 ", or leave the cell empty", error->counted);
    else
        hk_diags_hint(diags, "write %" PRId64, error->counted);
}

static void report_miscounted(const struct hk_subject *subject, const struct hk_count_error *error,
                              struct hk_diags *diags)
{
    struct row_words row = row_words(subject, error);
    hk_diags_add(diags, HK_CODE_COUNT_DIFFERS, hk_row_place(error->row_of, error->stated->at),
                 "%s: %s \"%s\"%s comes to %" PRId64 " %s, and it says %" PRId64, subject->title, row.text,
                 subject->work->fabric->name, row.comma, error->counted, stitches_word(error->counted), error->below);
    hk_diags_hint(diags, "check the row and those below it, or the count behind it");
}

static void report_unknown(const struct hk_subject *subject, const struct hk_count_error *error, struct hk_diags *diags)
{
    struct row_words row = row_words(subject, error);
    hk_diags_add(diags, HK_CODE_CELL_MISSING, hk_cell_place(subject->stitches, 0),
                 "%s: %s \"%s\"%s may be of any width, and no stitches are stated", subject->title, row.text,
                 subject->work->fabric->name, row.comma);
    hk_diags_hint(diags, "write how many stitches it leaves");
}

static void report_rigid(const struct hk_subject *subject, const struct hk_count_error *error, struct hk_diags *diags)
{
    struct row_words row = row_words(subject, error);
    hk_diags_add(diags, HK_CODE_WIDTH, hk_cell_place(subject->end_stitches, 0),
                 "%s: %s \"%s\"%s has no repeat, so it has no other width to taper to", subject->title, row.text,
                 subject->work->fabric->name, row.comma);
    hk_diags_hint(diags, "leave end_stitches empty, or write the row with a repeat such as *sc*");
}

/* Reports rows that the shaping in `every` cannot shape. */
static void report_unshaped(const struct hk_subject *subject, enum hk_counting answer,
                            const struct hk_count_error *error, struct hk_diags *diags)
{
    struct row_words row = row_words(subject, error);
    bool shapes = answer == HK_COUNTING_SHAPES;
    hk_diags_add(diags, HK_CODE_WIDTH, hk_cell_place(subject->every, 0), "%s: %s \"%s\"%s %s", subject->title, row.text,
                 subject->work->fabric->name, row.comma,
                 shapes ? "shapes by itself" : "has no stitch whose decrease is in the tables");
    hk_diags_hint(diags, shapes ? "leave the cell empty"
                                : "write rows with the decreases into fabrics.csv, or end_stitches alone");
}

static void report_too_many(const struct hk_subject *subject, const struct hk_count_error *error,
                            struct hk_diags *diags)
{
    hk_diags_add(diags, HK_CODE_COUNT_TOO_LARGE, hk_cell_place(subject->stitches, 0),
                 "%s: too much to count at row %" PRId64, subject->title, error->row);
    hk_diags_hint(diags, "at most a million stitches in a row, and a million rows, can be counted");
}

void hk_spent_report(struct hk_cell cell, struct hk_diags *diags)
{
    hk_diags_add(diags, HK_CODE_COUNT_TOO_LARGE, hk_table_place(cell.table),
                 "too many rows to count in all sizes together");
    hk_diags_hint(diags,
                  "at most 10^8 stitches can be followed: look for rows with too many digits, or ask for fewer sizes");
}

void hk_count_error_report(const struct hk_subject *subject, enum hk_counting answer,
                           const struct hk_count_error *error, struct hk_diags *diags)
{
    switch (answer) {
    case HK_COUNTING_NO_WIDTH:
        report_count_error(subject, error, diags);
        break;
    case HK_COUNTING_TROUBLE:
        report_trouble(subject, error, diags);
        break;
    case HK_COUNTING_ENDLESS:
        report_endless(subject, error, diags);
        break;
    case HK_COUNTING_DIFFERS:
        report_differs(subject, error, diags);
        break;
    case HK_COUNTING_MISCOUNTED:
        report_miscounted(subject, error, diags);
        break;
    case HK_COUNTING_UNKNOWN:
        report_unknown(subject, error, diags);
        break;
    case HK_COUNTING_RIGID:
        report_rigid(subject, error, diags);
        break;
    case HK_COUNTING_SHAPES:
    case HK_COUNTING_NO_DECREASE:
        report_unshaped(subject, answer, error, diags);
        break;
    case HK_COUNTING_TOO_MANY:
        report_too_many(subject, error, diags);
        break;
    case HK_COUNTING_SPENT:
        hk_spent_report(subject->stitches, diags);
        break;
    case HK_COUNTING_DONE:
    case HK_COUNTING_NO_MEMORY:
        break;
    }
}
