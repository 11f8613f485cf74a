/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/acceptance.h"

#include <stdlib.h>
#include <string.h>

void hk_acceptances_free(struct hk_acceptances *acceptances)
{
    if (!acceptances)
        return;
    for (size_t i = 0; i < acceptances->file_count; i++) {
        free(acceptances->files[i].name);
        free(acceptances->files[i].acceptances);
    }
    free(acceptances->files);
    free(acceptances);
}

static struct hk_accepting_file *file_find(struct hk_acceptances *acceptances, const char *name)
{
    for (size_t i = acceptances->file_count; i > 0; i--)
        if (strcmp(acceptances->files[i - 1].name, name) == 0)
            return &acceptances->files[i - 1];
    return NULL;
}

/* Returns the number of acceptances that begin at or before the line. */
static size_t begun_at(const struct hk_accepting_file *file, size_t line)
{
    size_t low = 0, high = file->count;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (file->acceptances[middle].first <= line)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

struct hk_acceptance *hk_acceptance_find(struct hk_acceptances *acceptances, struct hk_place at, enum hk_code code)
{
    struct hk_accepting_file *file = acceptances && at.file && at.line > 0 ? file_find(acceptances, at.file) : NULL;
    const size_t begun = file ? begun_at(file, at.line) : 0;
    if (begun == 0)
        return NULL;
    struct hk_acceptance *acceptance = &file->acceptances[begun - 1];
    return at.line <= acceptance->last && hk_codes_have(&acceptance->codes, code) ? acceptance : NULL;
}

/* The analyzer of gcc 12 loses the pointers in an array that realloc moves, and reports leaks of what they own. */
#if defined __GNUC__ && !defined __clang__
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wanalyzer-malloc-leak"
#endif

static struct hk_accepting_file *file_take(struct hk_acceptances *acceptances, const char *name)
{
    struct hk_accepting_file *known = file_find(acceptances, name);
    if (known)
        return known;
    if (acceptances->file_count == acceptances->file_capacity) {
        const size_t capacity = acceptances->file_capacity ? 2 * acceptances->file_capacity : 4;
        struct hk_accepting_file *larger = realloc(acceptances->files, capacity * sizeof *larger);
        if (!larger)
            return NULL;
        acceptances->files = larger;
        acceptances->file_capacity = capacity;
    }
    struct hk_accepting_file *file = &acceptances->files[acceptances->file_count];
    *file = (struct hk_accepting_file){.name = strdup(name)};
    if (!file->name)
        return NULL;
    acceptances->file_count++;
    return file;
}

/* Returns the acceptance of these lines, a new one where there is none; NULL when out of memory. */
static struct hk_acceptance *acceptance_take(struct hk_accepting_file *file, struct hk_ok_lines lines)
{
    const size_t at = begun_at(file, lines.first);
    if (at > 0 && file->acceptances[at - 1].first == lines.first)
        return &file->acceptances[at - 1];
    if (file->count == file->capacity) {
        const size_t capacity = file->capacity ? 2 * file->capacity : 8;
        struct hk_acceptance *larger = realloc(file->acceptances, capacity * sizeof *larger);
        if (!larger)
            return NULL;
        file->acceptances = larger;
        file->capacity = capacity;
    }
    memmove(&file->acceptances[at + 1], &file->acceptances[at], (file->count - at) * sizeof *file->acceptances);
    file->count++;
    file->acceptances[at] = (struct hk_acceptance){
        .first = lines.first, .last = lines.last, .line = lines.at.line, .column = lines.at.column};
    return &file->acceptances[at];
}

bool hk_acceptance_add(struct hk_acceptances *acceptances, const char *name, enum hk_code code, struct hk_ok_lines lines)
{
    struct hk_accepting_file *file = file_take(acceptances, name);
    if (!file)
        return false;
    struct hk_acceptance *acceptance = acceptance_take(file, lines);
    if (!acceptance)
        return false;
    hk_codes_put(&acceptance->codes, code);
    return true;
}

#if defined __GNUC__ && !defined __clang__
#pragma GCC diagnostic pop
#endif
