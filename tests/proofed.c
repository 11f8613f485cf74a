/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proofed.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

struct proofed proofed_read(const struct hk_catalogue *catalogue, const char *pattern, const char *name,
                            const char *text)
{
    bool project = name && strcmp(name, "project.csv") == 0;
    const struct memory_file files[] = {
        {"project.csv", project ? text : PROJECT, 0},
        {"yarns.csv", strstr(pattern, "trim") || strstr(pattern, "Sew the seam") ? YARNS : YARN, 0},
        {"swatches.csv", SWATCHES, 0},
        {"pattern.txt", pattern, 0},
        {name, text, 0},
        {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct proofed read = {0};
    read.project = hk_project_read(&source, catalogue, &read.diags);
    if (read.project)
        read.tally = hk_tally_count(read.project, &read.diags);
    return read;
}

void proofed_free(struct proofed *read)
{
    hk_tally_free(read->tally);
    hk_project_free(read->project);
    hk_diags_free(&read->diags);
}

static void rows_text(const struct hk_project *project, char *text, size_t size)
{
    size_t at = 0;
    text[0] = '\0';
    for (size_t i = 0; i < hk_written_rows(project) && at < size; i++) {
        struct hk_written_row row = hk_written_row(project, i, 0);
        at += (size_t)snprintf(text + at, size - at, "%zu %s:", row.line, row.label);
        for (size_t s = 0; s < hk_project_sizes(project) && at < size; s++) {
            row = hk_written_row(project, i, s);
            if (!row.there)
                at += (size_t)snprintf(text + at, size - at, " -");
            else if (!row.worked)
                at += (size_t)snprintf(text + at, size - at, " ?");
            else
                at += (size_t)snprintf(text + at, size - at, " %s%" PRId64, row.from_stated ? "~" : "", row.stitches);
            if (row.there && row.worked && row.stated_count > 0 && row.agrees)
                at += (size_t)snprintf(text + at, size - at, "=");
            for (size_t f = 0; row.worked && f < row.stated_count && at < size; f++)
                if (row.stated[f].stated != row.stated[f].actual)
                    at += (size_t)snprintf(text + at, size - at, "!%" PRId64, row.stated[f].stated);
        }
        at += (size_t)snprintf(text + at, size - at, "\n");
    }
}

int64_t proofed_total(const struct proofed *read, size_t size, const char *stitch)
{
    size_t count;
    const struct hk_stitch_total *totals = hk_tally_totals(read->tally, &count);
    for (size_t i = 0; i < count; i++)
        if (totals[i].size == size && strcmp(totals[i].stitch, stitch) == 0)
            return totals[i].count;
    return 0;
}

void assert_rows_at(const struct hk_catalogue *catalogue, const char *pattern, const char *expected,
                    const char *findings, const char *file, int line)
{
    static char text[20000];
    struct proofed read = proofed_read(catalogue, pattern, NULL, NULL);
    if (!read.project)
        fail_msg("%s", findings_text(&read.diags));
    rows_text(read.project, text, sizeof text);
    if (strcmp(text, expected) != 0) {
        print_error("%s--- and not\n%s%s", text, expected, findings_text(&read.diags));
        _fail(file, line);
    }
    /* A tally exists if and only if there is no error. */
    assert_int_equal(read.tally != NULL, read.diags.errors == 0);
    assert_findings_at(&read.diags, findings, file, line);
    read.diags = (struct hk_diags){0};
    proofed_free(&read);
}

void assert_worded_at(const struct hk_catalogue *catalogue, const char *above, const char *rows_above,
                      const struct worded *cases, size_t count, const char *file, int line)
{
    for (size_t i = 0; i < count; i++) {
        char pattern[4000], rows[4000];
        snprintf(pattern, sizeof pattern, "%s%s\n", above, cases[i].lines);
        snprintf(rows, sizeof rows, "%s%s", rows_above, cases[i].rows);
        assert_rows_at(catalogue, pattern, rows, cases[i].findings, file, line);
    }
}
