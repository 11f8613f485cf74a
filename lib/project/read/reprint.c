/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * pattern.txt printed again, and read again: every row must have the same result as in the whole pattern. Wrapped lines
 * get shorter in one size; where they are then read otherwise, each is printed on one line.
 */
#include "pattern/reprint.h"

#include "base/diags.h"
#include "project/read/pattern_file.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#define EFFORT_MOST ((int64_t)100000000)

struct hk_reprint {
    struct hk_arena arena;
    const char *text;
    struct hk_reprint_change *changes;
    size_t change_count;
};

/* One way to print it, and how it reads. */
struct trial {
    const struct hk_project *project;
    struct hk_reprint_wanted wanted;
    bool markdown;
    struct hk_arena *arena;
    struct hk_reprinting edits;
    const char *text;
    struct hk_diags found; /* where it differs */
};

/* ---- Read again ---- */

static bool is_row(const struct hk_entry *entry)
{
    return entry->kind == HK_ENTRY_ROW || entry->kind == HK_ENTRY_REFERENCE || entry->kind == HK_ENTRY_REFUSED;
}

/* The next entry from `i` on that is a row and is not dropped; entry_count: there is none. */
static size_t next_row(const struct hk_written *written, const bool *dropped, size_t i)
{
    while (i < written->entry_count && (!is_row(&written->entries[i]) || (dropped && dropped[i])))
        i++;
    return i;
}

/* Compares the result of a row in a size with its result when it is read again. */
static void rows_compare(struct trial *t, const struct hk_entry *entry, const struct hk_proof_row *row,
                         const struct hk_proof_row *again)
{
    if (!row->there || !row->worked)
        return;
    if (!again->there || !again->worked)
        hk_diags_add(&t->found, HK_CODE_PRINT_DIFFERS, entry->place, "printed so, the row cannot be worked any more");
    else if (again->stitches != row->stitches || again->left != row->left || again->rows != row->rows)
        hk_diags_add(&t->found, HK_CODE_PRINT_DIFFERS, entry->place,
                     "printed so, the row comes to %" PRId64 " stitches and leaves %" PRId64 ", not %" PRId64
                     " and %" PRId64,
                     again->stitches, again->left, row->stitches, row->left);
    else
        return;
    hk_diags_hint(&t->found, "compare what is printed with pattern.txt there, and correct it by hand");
}

static int64_t total_of(const struct hk_written *written, const struct hk_proof *proof, size_t size, size_t stitch)
{
    const size_t sizes = written->words.size_count;
    int64_t total = 0;
    for (size_t i = 0; i < written->work_count; i++) {
        const struct hk_proof_line *line = &proof->lines[i * sizes + size];
        const int64_t times = hk_graded_in(written->pieces[written->works[i].piece].times, size) *
                              hk_graded_in(written->parts[written->works[i].part_index].times, size);
        for (size_t j = 0; j < line->count; j++)
            for (size_t s = 0; s < line->works[j].stitch_count; s++)
                if (line->works[j].stitches[s].stitch == stitch)
                    total += times * line->works[j].stitches[s].count * (line->works[j].rows ? line->works[j].rows : 1);
    }
    return total;
}

static void totals_compare(struct trial *t, const struct hk_written *again, const struct hk_proof *proof, size_t size,
                           size_t size_again)
{
    const struct hk_project *project = t->project;
    for (size_t s = 0; s < project->catalogue->stitch_count; s++) {
        const int64_t whole = total_of(project->written, project->proof, size, s),
                      now = total_of(again, proof, size_again, s);
        if (whole == now)
            continue;
        hk_diags_add(&t->found, HK_CODE_PRINT_DIFFERS, (struct hk_place){project->written->lines.file, 0, 0},
                     "printed so, size %s has %" PRId64 " %s in all, not %" PRId64, project->sizes[size], now,
                     hk_stitch_word(&project->catalogue->stitches[s], project->terms), whole);
        hk_diags_hint(&t->found, "compare what is printed with pattern.txt, and correct it by hand");
        return;
    }
}

static void proofs_compare(struct trial *t, const struct hk_written *again, const struct hk_proof *proof)
{
    const struct hk_written *whole = t->project->written;
    const bool one = t->wanted.size != SIZE_MAX;
    const size_t sizes = whole->words.size_count, sizes_again = again->words.size_count;
    size_t i = next_row(whole, t->edits.dropped, 0), j = next_row(again, NULL, 0);
    for (; i < whole->entry_count && j < again->entry_count;
         i = next_row(whole, t->edits.dropped, i + 1), j = next_row(again, NULL, j + 1))
        for (size_t s = 0; s < sizes_again; s++)
            rows_compare(t, &whole->entries[i], &t->project->proof->rows[i * sizes + (one ? t->wanted.size : s)],
                         &proof->rows[j * sizes_again + s]);
    if (i < whole->entry_count || j < again->entry_count) {
        hk_diags_add(&t->found, HK_CODE_PRINT_DIFFERS, (struct hk_place){whole->lines.file, 0, 0},
                     "printed so, it has other rows than before");
        hk_diags_hint(&t->found, "compare what is printed with pattern.txt, and correct it by hand");
    }
    for (size_t s = 0; s < sizes_again && t->found.count == 0; s++)
        totals_compare(t, again, proof, one ? t->wanted.size : s, s);
}

static bool words_again(const struct trial *t, struct hk_row_words *words, struct hk_arena *arena)
{
    if (!hk_pattern_file_words(t->project, words, arena))
        return false;
    words->terms = t->wanted.terms;
    if (t->wanted.size != SIZE_MAX) {
        words->size_names += t->wanted.size;
        words->size_count = 1;
    }
    return true;
}

static void read_again(struct trial *t)
{
    struct hk_arena arena = {0};
    struct hk_diags silent = {0};
    struct hk_row_words words;
    struct hk_written again;
    struct hk_proof *proof = NULL;
    int64_t effort = EFFORT_MOST;
    const struct hk_proof_host host = hk_pattern_file_host(t->project);
    if (words_again(t, &words, &arena) && hk_written_read(t->text, t->project->written->lines.file, &words, &again, &arena))
        proof = hk_proof_make(&again, &host, &effort, &silent);
    if (proof)
        proofs_compare(t, &again, proof);
    t->found.out_of_memory |= !proof || silent.out_of_memory;
    hk_proof_free(proof);
    hk_diags_free(&silent);
    hk_arena_free(&arena);
}

/* ---- Printing ---- */

static bool as_markdown(struct trial *t)
{
    struct hk_row_words words;
    struct hk_pattern_lines lines;
    if (!words_again(t, &words, t->arena) ||
        !hk_pattern_lines_read(t->text, t->project->written->lines.file, &words, &lines, t->arena))
        return false;
    t->text = hk_reprint_markdown(&lines, t->arena);
    return t->text != NULL;
}

static bool try(struct trial *t)
{
    t->edits = (struct hk_reprinting){
        .written = t->project->written, .proof = t->project->proof, .wanted = &t->wanted, .arena = t->arena};
    hk_diags_free(&t->found);
    t->found = (struct hk_diags){0};
    t->text = hk_reprint_find(&t->edits) ? hk_reprint_apply(&t->edits) : NULL;
    if (!t->text || (t->markdown && !as_markdown(t)))
        return false;
    read_again(t);
    return !t->found.out_of_memory;
}

/* The names of yarns, colours and roles, whose words are not stitches. */
static bool names_make(const struct hk_project *project, struct hk_reprint_wanted *wanted, struct hk_arena *arena)
{
    const char **names =
        hk_arena_take(arena, project->yarn_count + project->candidate_count + project->role_count, sizeof *names);
    size_t count = 0;
    if (!names)
        return false;
    for (size_t i = 0; i < project->yarn_count; i++)
        names[count++] = project->yarns[i].name;
    for (size_t i = 0; i < project->candidate_count; i++)
        if (*project->candidates[i].colour)
            names[count++] = project->candidates[i].colour;
    for (size_t i = 0; i < project->role_count; i++)
        names[count++] = project->roles[i].name;
    wanted->names = names;
    wanted->name_count = count;
    return true;
}

static const char *file_slice(const struct trial *t, size_t from, size_t end)
{
    return hk_arena_text(t->arena, t->project->written->lines.bytes + from, end - from);
}

static bool changes_keep(struct hk_reprint *reprint, const struct trial *t)
{
    reprint->changes = hk_arena_take(&reprint->arena, t->edits.edit_count, sizeof *reprint->changes);
    for (size_t i = 0; reprint->changes && i < t->edits.edit_count; i++) {
        const struct hk_reprint_edit *edit = &t->edits.edits[i];
        if (edit->quiet)
            continue;
        const struct hk_place place = hk_pattern_place(&t->project->written->lines, edit->from);
        const char *before = file_slice(t, edit->from, edit->end);
        if (!before)
            return false;
        reprint->changes[reprint->change_count++] =
            (struct hk_reprint_change){place.line, place.column, before, edit->text};
    }
    return reprint->changes != NULL;
}

static void report(const struct trial *t, struct hk_diags *diags)
{
    for (size_t i = 0; i < t->edits.left_count; i++) {
        hk_diags_add(diags, HK_CODE_PRINT_LEFT, t->edits.left[i].place, "%s", t->edits.left[i].text);
        if (t->edits.left[i].hint)
            hk_diags_hint(diags, "%s", t->edits.left[i].hint);
    }
    for (size_t i = 0; i < t->found.count; i++) {
        hk_diags_add(diags, HK_CODE_PRINT_DIFFERS, t->found.findings[i].at, "%s", t->found.findings[i].message);
        hk_diags_hint(diags, "%s", t->found.findings[i].hint);
    }
}

struct hk_reprint *hk_reprint_make(const struct hk_project *project, struct hk_reprint_options options,
                                   struct hk_diags *diags)
{
    if (!project->proof) {
        hk_diags_add(diags, HK_CODE_FILE_MISSING, (struct hk_place){"pattern.txt", 0, 0}, "there is no written pattern to print");
        hk_diags_hint(diags, "write the pattern into pattern.txt");
        return NULL;
    }
    struct hk_reprint *reprint = calloc(1, sizeof *reprint);
    if (!reprint) {
        diags->out_of_memory = true;
        return NULL;
    }
    struct trial t = {.project = project,
                      .wanted = {.size = options.size == HK_NO_SIZE ? SIZE_MAX : options.size,
                                 .terms = options.terms == HK_TERMS_WANTED_PROJECT ? project->terms
                                          : options.terms == HK_TERMS_WANTED_US    ? HK_TERMS_US
                                                                            : HK_TERMS_UK},
                      .markdown = options.markdown,
                      .arena = &reprint->arena};
    bool good = names_make(project, &t.wanted, t.arena) && try(&t);
    if (good && t.found.count > 0) {
        t.wanted.unwrap = true;
        good = try(&t);
    }
    reprint->text = t.text;
    good = good && changes_keep(reprint, &t);
    if (good)
        report(&t, diags);
    hk_diags_free(&t.found);
    if (good && !diags->out_of_memory)
        return reprint;
    diags->out_of_memory = true;
    hk_reprint_free(reprint);
    return NULL;
}

void hk_reprint_free(struct hk_reprint *reprint)
{
    if (!reprint)
        return;
    hk_arena_free(&reprint->arena);
    free(reprint);
}

const char *hk_reprint_text(const struct hk_reprint *reprint)
{
    return reprint->text;
}

size_t hk_reprint_changes(const struct hk_reprint *reprint)
{
    return reprint->change_count;
}

struct hk_reprint_change hk_reprint_change(const struct hk_reprint *reprint, size_t i)
{
    return reprint->changes[i];
}
