/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Any text as pattern.txt: every row is within bounds and says how it was worked, what agrees is what is stated, totals
 * are sums of what is there, and the settings that a project could begin with are read from the same text. Printed again
 * it is the same where nothing is asked for, and changes lie in order within it.
 */
#include "fuzz.h"

#include "tally/tally.h"

static void check_row(const struct hk_project *project, size_t i, size_t size)
{
    const struct hk_written_row row = hk_written_row(project, i, size);
    bool agrees = true;
    fuzz_hold(row.line > 0 && row.piece && row.part && row.label && row.words);
    fuzz_hold(row.there || !row.worked);
    if (!row.worked)
        return;
    fuzz_hold(row.rows >= 0 && row.stitches >= 0 && row.left >= 0);
    for (size_t p = 0; p < row.place_count; p++)
        fuzz_hold(row.places[p].kind && row.places[p].count > 0);
    for (size_t s = 0; s < row.stated_count; s++)
        agrees &= row.stated[s].stated == row.stated[s].actual;
    fuzz_hold(agrees || !row.agrees);
}

static void check_project(const struct hk_project *project)
{
    size_t count, line;
    bool complete, work;
    for (size_t i = 0; i < hk_written_rows(project); i++)
        for (size_t size = 0; size < hk_project_sizes(project); size++)
            check_row(project, i, size);
    const struct hk_stitch_total *totals = hk_written_totals(project, &count, &complete);
    for (size_t i = 0; i < count; i++)
        fuzz_hold(totals[i].count > 0 && totals[i].size < hk_project_sizes(project) && totals[i].stitch);
    for (size_t i = 0; hk_written_prose(project, i, &line, &work); i++)
        fuzz_hold(line > 0);
    for (size_t i = 0; hk_written_choice(project, i); i++)
        fuzz_hold(i < 64);
}

static void check_reprint(const struct hk_project *project, const struct hk_reprint_options options, bool same,
                          struct fuzz_folder *folder)
{
    struct hk_diags diags = {0};
    struct hk_reprint *reprint = hk_reprint_make(project, options, &diags);
    fuzz_hold((reprint != NULL) == hk_project_written(project));
    size_t line = 1, column = 0;
    for (size_t i = 0; reprint && i < hk_reprint_changes(reprint); i++) {
        const struct hk_reprint_change change = hk_reprint_change(reprint, i);
        fuzz_hold(change.line > line || (change.line == line && change.column > column));
        fuzz_hold(*change.before && change.after);
        line = change.line;
        column = change.column;
    }
    fuzz_hold(!reprint || !same || (line == 1 && column == 0));
    fuzz_check_findings(&diags, folder);
    hk_reprint_free(reprint);
}

static void check_reprints(const struct hk_project *project, struct fuzz_folder *folder)
{
    const struct hk_reprint_options ways[] = {
        {HK_NO_SIZE, HK_TERMS_WANTED_US, false}, {1, HK_TERMS_WANTED_US, false}, {HK_NO_SIZE, HK_TERMS_WANTED_UK, false}, {2, HK_TERMS_WANTED_UK, true}};
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++)
        check_reprint(project, ways[i], i == 0, folder);
}

static void check_settings(struct fuzz_folder *folder)
{
    struct hk_diags diags = {0};
    struct hk_source source = fuzz_source(folder);
    struct hk_text_settings *settings = hk_text_settings_read(&source, "pattern.txt", fuzz_catalogue(), &diags);
    fuzz_hold((settings != NULL) == (diags.errors == 0));
    if (settings) {
        fuzz_hold(settings->yarn_count >= 1 && settings->title);
        for (size_t i = 0; i < settings->size_count; i++)
            fuzz_hold(settings->sizes[i] && *settings->sizes[i]);
    }
    fuzz_check_findings(&diags, folder);
    hk_text_settings_free(settings);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    static const char project_csv[] = "field,value\nsizes,\"S (M, L)\"\n";
    static const char yarns_csv[] = "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\ntrim,Quay Lace,25 g,210 m\n";
    static const char swatches_csv[] =
        "swatch,yarn,tool,fabric,stitches,rows,gauge\nplain,main,5 mm,single crochet,20,20,16 x 18\n";
    struct fuzz_folder folder = {0};
    struct hk_diags diags = {0};
    fuzz_folder_one(&folder, "pattern.txt", bytes, size);
    fuzz_folder_one(&folder, "project.csv", (const uint8_t *)project_csv, sizeof project_csv - 1);
    fuzz_folder_one(&folder, "yarns.csv", (const uint8_t *)yarns_csv, sizeof yarns_csv - 1);
    fuzz_folder_one(&folder, "swatches.csv", (const uint8_t *)swatches_csv, sizeof swatches_csv - 1);
    struct hk_source source = fuzz_source(&folder);
    struct hk_project *project = hk_project_read(&source, fuzz_catalogue(), &diags);
    struct hk_tally *tally = NULL;
    fuzz_hold((project != NULL) == (diags.errors == 0));
    if (project) {
        check_project(project);
        check_reprints(project, &folder);
        tally = hk_tally_count(project, &diags);
        fuzz_hold((tally != NULL) == (diags.errors == 0));
    }
    fuzz_check_findings(&diags, &folder);
    check_settings(&folder);
    hk_tally_free(tally);
    hk_project_free(project);
    return 0;
}
