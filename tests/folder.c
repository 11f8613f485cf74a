/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "folder.h"

#include <stdlib.h>

const struct folder good_folder = {
    .project = "field,value\n"
               "title,Sampler\n"
               "sizes,\"S (M, L)\"\n"
               "currency,EUR\n",
    .grade = "name,unit,S,M,L,print\n"
             "width,,20,24,28,\n"
             "length,cm,10,12,14,yes\n",
    .yarns = "role,yarn,put_up,length,colour,price\n"
             "main,Quay DK,50 g,120 m,Slate,6.40\n"
             "lace,Quay Lace,25 g,210 m,Slate,7\n",
    .fabrics = "fabric,row,make\n"
               "pairs,1,\"tch 1, *sc 2*\"\n"
               "pairs,2,\"tch 1, *sc*\"\n",
    .swatches = "swatch,yarn,tool,fabric,stitches,rows,gauge,weight\n"
                "plain,main,4 mm,single crochet,20,20,20 x 25,9 g\n",
    .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
              "strip,single crochet,main,4 mm,width,10\n",
};

static const char *either(const char *own, const char *good)
{
    return own ? own : good;
}

static void leave_out(struct hk_diags *diags, enum hk_code code)
{
    size_t kept = 0;
    for (size_t i = 0; i < diags->count; i++) {
        struct hk_finding *finding = &diags->findings[i];
        if (finding->code != code) {
            diags->findings[kept++] = *finding;
            continue;
        }
        free((char *)(uintptr_t)finding->at.file);
        free((char *)(uintptr_t)finding->message);
        free((char *)(uintptr_t)finding->hint);
    }
    diags->count = kept;
    diags->hinting = 0;
}

struct hk_project *folder_read(const struct hk_catalogue *catalogue, struct folder folder, struct hk_diags *diags)
{
    struct memory_file all[] = {
        {"project.csv", either(folder.project, good_folder.project), 0},
        {"grade.csv", either(folder.grade, good_folder.grade), 0},
        {"yarns.csv", either(folder.yarns, good_folder.yarns), 0},
        {"fabrics.csv", either(folder.fabrics, good_folder.fabrics), 0},
        {"swatches.csv", either(folder.swatches, good_folder.swatches), 0},
        {"pieces.csv", either(folder.pieces, good_folder.pieces), 0},
        {folder.other_name, either(folder.other_text, ""), 0},
        {folder.other2_name, either(folder.other2_text, ""), 0},
    };
    struct memory_file files[sizeof all / sizeof all[0] + 1] = {{0}};
    size_t count = 0;
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        if (all[i].name && *all[i].text)
            files[count++] = all[i];
    }
    struct hk_source source = memory_source(files);
    struct hk_project *project = hk_project_read(&source, catalogue, diags);
    if (!folder.roles_matter)
        leave_out(diags, HK_CODE_ROLE_UNUSED);
    return project;
}

struct hk_project *folder_good(const struct hk_catalogue *catalogue, struct folder folder)
{
    struct hk_diags diags = {0};
    struct hk_project *project = folder_read(catalogue, folder, &diags);
    assert_findings(&diags, "");
    assert_non_null(project);
    return project;
}

void assert_folder_bad_at(const struct hk_catalogue *catalogue, struct folder folder, const char *expected,
                          const char *file, int line)
{
    struct hk_diags diags = {0};
    struct hk_project *project = folder_read(catalogue, folder, &diags);
    assert_findings_at(&diags, expected, file, line);
    if (project) {
        hk_project_free(project);
        print_error("the folder gave a project\n");
        _fail(file, line);
    }
}

struct stages stages_from(struct hk_project *project, size_t size)
{
    struct hk_diags diags = {0};
    struct hk_need_options options = hk_need_defaults();
    struct stages stages = {.project = project};
    options.size = size;
    assert_non_null(stages.project);
    assert_non_null(stages.tally = hk_tally_count(stages.project, &diags));
    assert_non_null(stages.fit = hk_fit_make(stages.tally, &diags));
    assert_non_null(stages.need = hk_need_predict(stages.fit, options, &diags));
    assert_int_equal(diags.errors, 0);
    hk_diags_free(&diags);
    return stages;
}

struct stages stages_of(const struct hk_catalogue *catalogue, struct folder folder, size_t size)
{
    struct hk_diags diags = {0};
    struct hk_project *project = folder_read(catalogue, folder, &diags);
    assert_int_equal(diags.errors, 0);
    hk_diags_free(&diags);
    return stages_from(project, size);
}

void stages_free(struct stages stages)
{
    hk_need_free(stages.need);
    hk_fit_free(stages.fit);
    hk_tally_free(stages.tally);
    hk_project_free(stages.project);
}
