/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/outlines.h"

#define CM_PER_M 100.0

const struct hk_schematic_measure *outline_measure(const struct hk_schematic_piece *piece, size_t letter)
{
    for (size_t i = 0; i < piece->measure_count; i++)
        if (piece->measures[i].letter == letter)
            return &piece->measures[i];
    return NULL;
}

size_t outlines_lettered(const struct outlines *outlines, size_t letter)
{
    for (size_t at = outlines->end; at > outlines->first; at--)
        if (outline_measure(&outlines->pieces[at - 1], letter))
            return at - 1;
    return SIZE_MAX;
}

struct outlines outlines_of(const struct report *report, size_t first, size_t end)
{
    struct outlines outlines = {.pieces = report->schematic->pieces, .first = first, .end = end};
    for (size_t i = first; i < end; i++) {
        const struct hk_schematic_piece *piece = &outlines.pieces[i];
        outlines.drawn += outline_drawn(piece);
        for (size_t m = 0; m < piece->measure_count; m++)
            outlines.letters =
                piece->measures[m].letter >= outlines.letters ? piece->measures[m].letter + 1 : outlines.letters;
    }
    outlines.values = outlines.drawn == 1 && report->cut != REPORT_PATTERN;
    return outlines;
}

struct shape_letter report_shape_letter(size_t letter)
{
    struct shape_letter name = {{0}};
    char reversed[sizeof name.text];
    size_t length = 0;
    for (size_t rest = letter + 1; rest > 0 && length + 1 < sizeof reversed; rest = (rest - 1) / 26)
        reversed[length++] = (char)('A' + (rest - 1) % 26);
    for (size_t i = 0; i < length; i++)
        name.text[i] = reversed[length - 1 - i];
    return name;
}

struct number outline_centimetres(double length_m)
{
    return number_stepped(CM_PER_M * length_m, (struct number_step){5, -1}, NUMBER_NEAREST);
}

const char *outline_counted_in(const struct hk_schematic_measure *measure)
{
    return measure->rows ? "rows" : "sts";
}

const char *report_measured_name(const struct hk_schematic_measure *measure)
{
    static const char *const names[] = {[HK_MEASURED_WIDTH] = "width",   [HK_MEASURED_CIRCUMFERENCE] = "around",
                                        [HK_MEASURED_HEIGHT] = "height", [HK_MEASURED_RADIUS] = "radius",
                                        [HK_MEASURED_SIDE] = "side",     [HK_MEASURED_APOTHEM] = "middle to side"};
    return names[measure->measured];
}
