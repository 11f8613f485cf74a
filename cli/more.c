/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "more.h"

#include "files.h"
#include "findings.h"
#include "number.h"

#include <stdlib.h>

bool more_wanted(const struct options *options, uint64_t section)
{
    return options->given & (section | OPTION_ALL);
}

/* Appends the names of the offered options that were not given. Returns their number. */
static size_t append_options(char **words, const struct options *options, uint64_t offered)
{
    size_t count = 0;
    for (uint64_t bit = 1; bit && !(options->given & OPTION_ALL); bit <<= 1) {
        if (!(offered & bit) || options->given & bit)
            continue;
        if (!text_append(words, "%s--%s", count ? ", " : " More: ", options_name(bit)))
            return 0;
        count++;
    }
    return count;
}

static void report(struct text *text, const struct work *work, const struct options *options, uint64_t sections,
                   enum hk_code shown, size_t warnings)
{
    const size_t assumed = findings_assumed(&work->diags, shown),
                 accepted = findings_accepted(&work->diags, HK_SEVERITY_WARNING),
                 accepted_notes = findings_accepted(&work->diags, HK_SEVERITY_NOTE);
    const bool lists = more_wanted(options, OPTION_ASSUMPTIONS), any = assumed || accepted || accepted_notes;
    if (lists) {
        findings_assumed_but(text, &work->diags, work->folder.path, shown);
        findings_list_accepted(text, &work->diags, work->folder.path);
    }
    char *words = text_format("%s", "");
    bool good = words != NULL;
    if (good && warnings)
        good = text_append(&words, " %zu warning%s; hankful check shows %s.", warnings, NUMBER_PLURAL(warnings),
                           warnings == 1 ? "it" : "them");
    if (good && accepted && !lists)
        good = text_append(&words, " %zu accepted warning%s.", accepted, NUMBER_PLURAL(accepted));
    if (good && assumed && !lists)
        good = text_append(&words, " %zu assumption%s.", assumed, NUMBER_PLURAL(assumed));
    if (good && accepted_notes && !lists)
        good = text_append(&words, " %zu accepted assumption%s.", accepted_notes, NUMBER_PLURAL(accepted_notes));
    if (good && append_options(&words, options, sections | (any ? OPTION_ASSUMPTIONS : 0)) > 1)
        good = text_append(&words, "; or --all");
    good = good && words;
    if (good && *words) {
        text_gap(text);
        text_paragraph(text, "%s", words + 1);
    }
    text->failed |= !good;
    free(words);
}

/* The warnings that "hankful check" shows too: not those about options, nor where options state other evidence. */
static size_t warnings_of_files(const struct hk_diags *diags, const struct options *options)
{
    if (options->done)
        return 0;
    size_t count = 0;
    for (size_t i = 0; i < hk_diags_count(diags); i++) {
        const struct hk_finding *finding = hk_diags_finding(diags, i);
        count += hk_code_severity(finding->code) == HK_SEVERITY_WARNING && !folder_is_option(finding->at.file);
    }
    return count;
}

void more_report(struct text *text, const struct work *work, const struct options *options, uint64_t sections,
                 enum hk_code shown)
{
    report(text, work, options, sections, shown, warnings_of_files(&work->diags, options));
}

void more_offer(struct text *text, const struct work *work, const struct options *options, uint64_t sections,
                enum hk_code shown)
{
    report(text, work, options, sections, shown, 0);
}
