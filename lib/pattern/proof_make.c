/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Proofreads a written pattern. Its texts are parsed once; then all rows are worked in every size, with the usual
 * conventions first. If counts differ in rows that depend on a convention, the other choice is tried too, and taken if
 * it agrees with more counts and contradicts none that agreed.
 */
#include "pattern/proofing.h"

#include "base/text.h"
#include "pattern/prose.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#define CANNED_MOST 1000
#define DEFINITIONS_MOST 500

/* ---- Parsing of rows ---- */

/* Returns the first error of a list as a problem; copies its texts. */
static struct hk_entry_problem first_problem(struct hk_proofing *p, const struct hk_diags *diags)
{
    for (size_t i = 0; i < diags->count; i++) {
        const struct hk_finding *f = &diags->findings[i];
        if (hk_code_severity(f->code) != HK_SEVERITY_ERROR)
            continue;
        const char *text = hk_arena_print(p->arena, "%s", f->message);
        const char *hint = f->hint ? hk_arena_print(p->arena, "%s", f->hint) : NULL;
        struct hk_place place = {p->written->lines.file, f->at.line, f->at.column};
        return (struct hk_entry_problem){f->code, place, text ? text : "", hint};
    }
    return (struct hk_entry_problem){.code = HK_CODE_ROW_SYNTAX, .text = "it cannot be read"};
}

/* Parses a row; reports only to *problem, which may be NULL. */
static bool row_read(struct hk_proofing *p, const struct hk_row_text *text, size_t definitions, struct hk_row *row,
                     struct hk_entry_problem *problem)
{
    struct hk_diags diags = {0};
    struct hk_row_words words = p->words;
    words.definition_count = definitions;
    bool good = hk_row_read(text, &words, row, p->arena, &diags);
    p->out_of_memory |= diags.out_of_memory;
    p->out_of_memory |= p->arena->out_of_memory;
    if (!good && problem)
        *problem = first_problem(p, &diags);
    hk_diags_free(&diags);
    return good;
}

static const char behind_row[] = "K. "; /* the parser needs a row before counts */

/* Parses the text after a row, the counts that it states. Returns true when all of it is understood. */
static bool tail_read(struct hk_proofing *p, const struct hk_row_text *text, size_t definitions, struct hk_row *row,
                      struct hk_entry_problem *problem)
{
    size_t length = strlen(text->text), head = sizeof behind_row - 1;
    struct hk_row_text *whole = hk_arena_take(p->arena, 1, sizeof *whole);
    char *words = hk_arena_take(p->arena, head + length + 1, 1);
    size_t *origin = hk_arena_take(p->arena, head + length + 1, sizeof *origin);
    if (!whole || !words || !origin) {
        p->out_of_memory = true;
        return false;
    }
    memcpy(words, behind_row, head);
    memcpy(words + head, text->text, length + 1);
    for (size_t i = 0; i < head; i++)
        origin[i] = text->origin[0];
    memcpy(origin + head, text->origin, (length + 1) * sizeof *origin);
    *whole = *text;
    whole->text = words;
    whole->origin = origin;
    return row_read(p, whole, definitions, row, problem);
}

/* Finds the counts at the end of a row that cannot be parsed: its last bracket, or its last sentence. */
static bool stated_find(struct hk_proofing *p, const struct hk_row_text *text, size_t definitions, struct hk_row *row)
{
    size_t length = strlen(text->text);
    for (size_t at = length; at > 0; at--) {
        char c = text->text[at - 1];
        bool opens = c == '(' || c == '[', sentence = at >= 2 && c == ' ' && strchr(".:-", text->text[at - 2]);
        if ((!opens && !sentence) || length - at > 200)
            continue;
        struct hk_row_text part;
        size_t from = opens ? at - 1 : at;
        if (!hk_row_text_part(text, from, length - from, &part, p->arena)) {
            p->out_of_memory = true;
            return false;
        }
        if (tail_read(p, &part, definitions, row, NULL) && row->stated_count > 0 && row->step_count <= 1)
            return true;
        if (p->out_of_memory)
            return false;
    }
    return false;
}

static size_t definitions_for(const struct hk_proofing *p, size_t of_text)
{
    return of_text > 0 ? p->definition_counts[of_text - 1] : 0;
}

static bool of_catalogue(const struct hk_proofing *p, const char *name)
{
    const struct hk_words *words = &p->words.catalogue->words[p->words.terms];
    for (size_t i = 0; i < words->count; i++)
        if (hk_text_same(words->words[i].text, name))
            return true;
    return false;
}

/* Returns the length of the bracket at the start of the text; 0 if it is not closed. */
static size_t bracket_length(const char *text)
{
    size_t depth = 0;
    for (const char *c = text; *c; c++) {
        depth += *c == '(';
        depth -= depth > 0 && *c == ')';
        if (depth == 0)
            return (size_t)(c - text) + 1;
    }
    return 0;
}

/*
 * "(dc, ch 1, dc) in same st or sp", "... in the place indicated": the place, which each use states again, is optional.
 */
static bool definition_read(struct hk_proofing *p, const struct hk_row_text *steps, size_t count, struct hk_row *row)
{
    static const char *const tails[] = {" or ", " in "};
    bool bracket = *steps->text == '(';
    if (!bracket && row_read(p, steps, count, row, NULL))
        return true;
    if (bracket) {
        size_t length = bracket_length(steps->text);
        struct hk_row_text *inner = length > 0 ? hk_arena_take(p->arena, 1, sizeof *inner) : NULL;
        p->out_of_memory |= length > 0 && !inner;
        if (inner && hk_row_text_part(steps, 0, length, inner, p->arena) && row_read(p, inner, count, row, NULL))
            return true;
    }
    for (size_t i = 0; i < sizeof tails / sizeof tails[0] && !p->out_of_memory; i++) {
        const char *tail = strstr(steps->text, tails[i]);
        struct hk_row_text *cut = tail ? hk_arena_take(p->arena, 1, sizeof *cut) : NULL;
        p->out_of_memory |= tail && !cut;
        if (cut && hk_row_text_part(steps, 0, (size_t)(tail - steps->text), cut, p->arena) &&
            row_read(p, cut, count, row, NULL))
            return true;
    }
    return false;
}

static void definitions_read(struct hk_proofing *p)
{
    const struct hk_written *w = p->written;
    size_t count = 0;
    p->definitions = hk_arena_take(p->arena, w->definition_count, sizeof *p->definitions);
    p->definition_counts = hk_arena_take(p->arena, w->definition_count, sizeof *p->definition_counts);
    p->proof->unread = hk_arena_take(p->arena, w->definition_count, sizeof *p->proof->unread);
    p->out_of_memory |= !p->definitions || !p->definition_counts || !p->proof->unread;
    p->words.definitions = p->definitions;
    for (size_t i = 0; i < w->definition_count && !p->out_of_memory; i++) {
        struct hk_row row;
        const char *name = w->definitions[i].name;
        if (count < DEFINITIONS_MOST && !of_catalogue(p, name) &&
            definition_read(p, &w->definitions[i].steps, count, &row) && row.step_count > 0)
            p->definitions[count++] = (struct hk_definition){name, row.steps, row.step_count};
        else
            p->proof->unread[p->proof->unread_count++] = i;
        p->definition_counts[i] = count;
    }
}

/* Returns true when the text after a reference has no work: only the referenced rows are worked. */
static bool tail_plain(struct hk_proof_entry *parsed)
{
    for (size_t i = 1; i < parsed->tail.step_count; i++) {
        const struct hk_step *step = &parsed->tail.steps[i];
        if (step->kind == HK_STEP_TURN || step->kind == HK_STEP_JOIN)
            continue;
        parsed->problem = (struct hk_entry_problem){HK_CODE_ROW_SYNTAX, hk_row_place(&parsed->tail, step->at),
                                                    "work after a reference to rows is not read", "write the row out"};
        return false;
    }
    return true;
}

static void entry_read(struct hk_proofing *p, size_t i)
{
    const struct hk_entry *entry = &p->written->entries[i];
    struct hk_proof_entry *parsed = &p->entries[i];
    size_t definitions = definitions_for(p, entry->definition_count);
    parsed->problem = entry->problem;
    if (entry->kind == HK_ENTRY_BEGIN || entry->kind == HK_ENTRY_CUT)
        return;
    if (entry->kind == HK_ENTRY_ROW)
        parsed->good = row_read(p, &entry->text, definitions, &parsed->row, &parsed->problem);
    else if (entry->kind == HK_ENTRY_REFERENCE) {
        parsed->good = true;
        if (*entry->stated.text) {
            parsed->tailed = tail_read(p, &entry->stated, definitions, &parsed->tail, &parsed->problem);
            parsed->good = parsed->tailed && (parsed->problem.text || tail_plain(parsed));
        }
    }
    if (!parsed->good && !parsed->tailed && !p->out_of_memory)
        parsed->tailed = stated_find(p, &entry->text, definitions, &parsed->tail);
    if (!entry->taken.text || p->out_of_memory)
        return;
    struct hk_entry_problem problem = {0};
    parsed->taken_good = row_read(p, &entry->taken, definitions, &parsed->taken, &problem);
    for (size_t s = 0; parsed->taken_good && s < parsed->taken.step_count; s++) {
        const struct hk_step *step = &parsed->taken.steps[s];
        bool plain =
            (step->kind == HK_STEP_STITCH && step->stitch < p->words.catalogue->stitch_count && !step->where.given) ||
            step->kind == HK_STEP_CHAIN;
        if (!plain) {
            parsed->taken_good = false;
            problem = (struct hk_entry_problem){HK_CODE_ROW_SYNTAX, hk_row_text_place(&entry->taken, 0),
                                                "what to take in place of the row is not a list of numbers of stitches",
                                                "write it as [take as 84 hdc, 6 ch]"};
        }
    }
    if (!parsed->taken_good) {
        parsed->good = false;
        parsed->problem = problem;
    }
}

static struct hk_place place_at_first(const struct hk_row_text *text, size_t offset)
{
    (void)offset;
    const struct hk_row_text *of = text->host;
    return hk_row_text_place(of, 0);
}

const struct hk_row *hk_proof_words(struct hk_proofing *p, const char *words, const struct hk_row_text *at)
{
    for (size_t i = 0; i < p->canned_count; i++)
        if (strcmp(p->canned[i]->words, words) == 0)
            return p->canned[i]->good ? &p->canned[i]->row : NULL;
    struct hk_proof_canned *canned = hk_arena_take(p->arena, 1, sizeof *canned);
    struct hk_proof_canned **list =
        hk_arena_grow(p->arena, p->canned, p->canned_count, &p->canned_capacity, sizeof *list);
    const char *copy = hk_arena_print(p->arena, "%s", words);
    if (!canned || !list || !copy || p->canned_count >= CANNED_MOST) {
        p->out_of_memory |= p->arena->out_of_memory;
        return NULL;
    }
    p->canned = list;
    list[p->canned_count++] = canned;
    *canned = (struct hk_proof_canned){.words = copy, .text = {.text = copy, .place = place_at_first, .host = at}};
    canned->good = row_read(p, &canned->text, 0, &canned->row, NULL);
    return canned->good ? &canned->row : NULL;
}

const char *hk_proof_stitch(const struct hk_proofing *p, size_t stitch)
{
    if (stitch >= p->words.catalogue->stitch_count)
        return "st";
    return hk_stitch_word(&p->words.catalogue->stitches[stitch], p->words.terms);
}

/* ---- Remarks ---- */

void hk_proof_remark(struct hk_proofing *p, size_t entry, size_t size, enum hk_code code, struct hk_place place,
                     const char *text, const char *hint)
{
    for (size_t i = p->remark_of[entry]; i > 0; i = p->remarks[i - 1].next) {
        struct hk_proof_remark *known = &p->remarks[i - 1];
        if (known->code == code && strcmp(known->text, text) == 0) {
            known->sizes[size] = true;
            return;
        }
    }
    if (p->remark_count >= 2 * (size_t)HK_FINDINGS_MOST)
        return;
    struct hk_proof_remark *remarks =
        hk_arena_grow(p->arena, p->remarks, p->remark_count, &p->remark_capacity, sizeof *remarks);
    bool *sizes = hk_arena_take(p->arena, p->written->words.size_count, sizeof *sizes);
    const char *copy = hk_arena_print(p->arena, "%s", text),
               *hint_copy = hint ? hk_arena_print(p->arena, "%s", hint) : NULL;
    if (!remarks || !sizes || !copy || (hint && !hint_copy)) {
        p->out_of_memory = true;
        return;
    }
    p->remarks = remarks;
    sizes[size] = true;
    remarks[p->remark_count++] =
        (struct hk_proof_remark){entry, code, place, copy, hint_copy, sizes, p->remark_of[entry]};
    p->remark_of[entry] = p->remark_count;
}

/* Returns " (size M)", " (sizes M, L)"; "" for all sizes that have the entry. */
static const char *sizes_text(struct hk_proofing *p, const bool *sizes, size_t entry)
{
    enum { named_most = 8 };
    const struct hk_row_words *words = &p->written->words;
    const struct hk_proof_row *rows = &p->proof->rows[entry * words->size_count];
    size_t count = 0, all = 0, named = 0;
    bool any_there = false;
    for (size_t i = 0; i < words->size_count; i++)
        any_there |= rows[i].there;
    for (size_t i = 0; i < words->size_count; i++) {
        count += sizes[i];
        all += !any_there || rows[i].there;
    }
    if (count >= all)
        return "";
    const char *text = count > 1 ? " (sizes " : " (size ";
    for (size_t i = 0; i < words->size_count && text && named < named_most; i++)
        if (sizes[i])
            text = hk_arena_print(p->arena, "%s%s%s", text, named++ ? ", " : "", words->size_names[i]);
    if (text && count > named)
        text = hk_arena_print(p->arena, "%s and %zu more", text, count - named);
    text = text ? hk_arena_print(p->arena, "%s)", text) : NULL;
    p->out_of_memory |= !text;
    return text ? text : "";
}

static void remarks_report(struct hk_proofing *p, struct hk_diags *diags)
{
    for (size_t i = 0; i < p->remark_count && !p->out_of_memory; i++) {
        const struct hk_proof_remark *remark = &p->remarks[i];
        hk_diags_add(diags, remark->code, remark->place, "%s%s", remark->text,
                     sizes_text(p, remark->sizes, remark->entry));
        if (remark->hint)
            hk_diags_hint(diags, "%s", remark->hint);
    }
}

/* ---- Counts that differ ---- */

/* Returns a stated count of an entry in a size; NULL if the size has none. */
static const struct hk_written_stated *figure_of(const struct hk_proofing *p, size_t entry, size_t figure, size_t size)
{
    const struct hk_proof_row *row = &p->proof->rows[entry * p->written->words.size_count + size];
    return row->worked && figure < row->stated_count ? &row->stated[figure] : NULL;
}

/*
 * Returns graded notation of numbers by size, where -1 is "-": "24 (26, 28)", "24", "- (26, 28)". "" when out of
 * memory.
 */
static const char *graded_text(struct hk_proofing *p, const int64_t *values)
{
    size_t sizes = p->written->words.size_count;
    const char *text = "";
    bool same = true;
    int64_t first = -1;
    for (size_t i = 0; i < sizes; i++) {
        first = first < 0 ? values[i] : first;
        same &= values[i] < 0 || values[i] == first;
    }
    if (same)
        text = hk_arena_print(p->arena, "%" PRId64, first);
    for (size_t i = 0; i < sizes && !same && text; i++) {
        const char *before = i == 0 ? "" : i == 1 ? " (" : ", ";
        text = values[i] >= 0 ? hk_arena_print(p->arena, "%s%s%" PRId64, text, before, values[i])
                              : hk_arena_print(p->arena, "%s%s-", text, before);
    }
    if (!same && text)
        text = hk_arena_print(p->arena, "%s)", text);
    p->out_of_memory |= !text;
    return text ? text : "";
}

/* Returns the text of a stated count over all sizes. */
static const char *figures_text(struct hk_proofing *p, size_t entry, size_t figure, bool actual)
{
    size_t sizes = p->written->words.size_count;
    int64_t *values = hk_arena_take(p->arena, sizes, sizeof *values);
    for (size_t i = 0; values && i < sizes; i++) {
        const struct hk_written_stated *of = figure_of(p, entry, figure, i);
        values[i] = !of ? -1 : actual ? of->actual : of->stated;
    }
    p->out_of_memory |= !values;
    return values ? graded_text(p, values) : "";
}

static const struct hk_row *stated_row(const struct hk_proofing *p, size_t entry)
{
    const struct hk_proof_entry *parsed = &p->entries[entry];
    return p->written->entries[entry].kind == HK_ENTRY_ROW && parsed->good ? &parsed->row : &parsed->tail;
}

static void figure_report(struct hk_proofing *p, size_t entry, size_t figure, struct hk_diags *diags)
{
    size_t sizes = p->written->words.size_count;
    bool *wrong = hk_arena_take(p->arena, sizes, sizeof *wrong), any = false;
    const char *what = "", *sum = NULL;
    if (!wrong) {
        p->out_of_memory = true;
        return;
    }
    for (size_t i = 0; i < sizes; i++) {
        const struct hk_written_stated *found = figure_of(p, entry, figure, i);
        if (!found)
            continue;
        wrong[i] = found->stated != found->actual;
        any |= wrong[i];
        if (wrong[i] && !sum)
            sum = p->proof->rows[entry * sizes + i].sum;
        what = found->what;
    }
    if (!any)
        return;
    const struct hk_entry *of = &p->written->entries[entry];
    const struct hk_row *row = stated_row(p, entry);
    struct hk_place place =
        figure < row->stated_count ? hk_row_text_place(row->text, row->stated[figure].at) : of->place;
    const char *stated = figures_text(p, entry, figure, false), *actual = figures_text(p, entry, figure, true);
    const char *title = *of->label ? hk_arena_print(p->arena, "\"%s\" ", of->label) : "the row ";
    hk_diags_add(diags, HK_CODE_COUNT_DIFFERS, place, "%sstates %s %s, and has %s%s%s%s", title ? title : "", stated,
                 what, actual, sizes_text(p, wrong, entry), sum ? ": " : "", sum ? sum : "");
    hk_diags_hint(diags, "the rows below are worked on the computed stitches; check the row, or correct the count");
}

static void counts_report(struct hk_proofing *p, struct hk_diags *diags)
{
    size_t sizes = p->written->words.size_count;
    for (size_t entry = 0; entry < p->written->entry_count && !p->out_of_memory; entry++) {
        size_t figures = 0;
        for (size_t i = 0; i < sizes; i++) {
            const struct hk_proof_row *row = &p->proof->rows[entry * sizes + i];
            if (row->worked && !row->agrees && row->stated_count > figures)
                figures = row->stated_count;
        }
        for (size_t f = 0; f < figures; f++)
            figure_report(p, entry, f, diags);
    }
}

/* Reports stitches left by rows and not used by others. */
static void left_report(struct hk_proofing *p, struct hk_diags *diags)
{
    for (size_t i = 0; i < p->left_count && !p->out_of_memory; i++) {
        const struct hk_proof_left *left = &p->left[i];
        bool named = left->name && *left->name;
        hk_diags_add(diags, HK_CODE_ASSUMPTION, left->place, "\"%.60s\" leaves %s place%s unworked%s%.60s", left->title,
                     graded_text(p, left->by_size), left->most == 1 ? "" : "s", named ? ": " : "",
                     named ? left->name : "");
    }
}

/* Reports the rows computed from lengths. */
static void lengths_report(struct hk_proofing *p, struct hk_diags *diags)
{
    size_t sizes = p->written->words.size_count;
    for (size_t entry = 0; entry < p->written->entry_count && !p->out_of_memory; entry++) {
        const struct hk_entry *of = &p->written->entries[entry];
        if (of->kind != HK_ENTRY_REFERENCE || !of->reference.length_m)
            continue;
        const char *text = "", *swatch = NULL;
        bool any = false;
        for (size_t i = 0; i < sizes && text; i++) {
            const struct hk_proof_row *row = &p->proof->rows[entry * sizes + i];
            const bool by_gauge = row->worked && row->by_gauge;
            any |= by_gauge;
            text = by_gauge ? hk_arena_print(p->arena, "%s%s%" PRId64, text,
                                             i == 0   ? ""
                                             : i == 1 ? " ("
                                                      : ", ",
                                             row->rows)
                            : hk_arena_print(p->arena, "%s%s-", text,
                                             i == 0   ? ""
                                             : i == 1 ? " ("
                                                      : ", ");
        }
        if (sizes > 1 && text)
            text = hk_arena_print(p->arena, "%s)", text);
        p->out_of_memory |= !text;
        if (!any || p->out_of_memory)
            continue;
        p->host->rows_per_m(p->host->context, SIZE_MAX, of->tool_mm, &swatch);
        hk_diags_add(diags, HK_CODE_ASSUMPTION, of->place, "this length is %s rows by the gauge of a swatch", text);
    }
}

/* ---- Conventions ---- */

static void run_all(struct hk_proofing *p)
{
    struct hk_proof *proof = p->proof;
    size_t sizes = p->written->words.size_count;
    memset(proof->rows, 0, p->written->entry_count * sizes * sizeof *proof->rows);
    memset(proof->incomplete, 0, sizes * sizeof *proof->incomplete);
    for (size_t i = 0; i < p->written->work_count * sizes; i++)
        proof->lines[i].count = 0, proof->lines[i].foundation = 0;
    p->remark_count = p->left_count = 0;
    memset(p->remark_of, 0, p->written->entry_count * sizeof *p->remark_of);
    for (size_t size = 0; size < sizes && !p->out_of_memory && !p->spent; size++)
        hk_proof_size(p, size);
}

/* Marks rows that differ from their stated counts or cannot be worked: [entry * sizes + size]. */
static void marks_take(const struct hk_proofing *p, bool *bad)
{
    for (size_t i = 0; i < p->written->entry_count * p->written->words.size_count; i++) {
        const struct hk_proof_row *row = &p->proof->rows[i];
        bad[i] = row->there && (!row->worked || !row->agrees);
    }
}

static unsigned eligible_used(const struct hk_proofing *p, const bool *bad)
{
    unsigned choices = 0;
    for (size_t i = 0; i < p->written->entry_count * p->written->words.size_count; i++)
        if (!bad || bad[i])
            choices |= p->proof->rows[i].choices;
    return choices;
}

/* Returns true when fewer rows are bad and no good row became bad. */
static bool better(const bool *now, const bool *before, size_t count)
{
    bool fewer = false;
    for (size_t i = 0; i < count; i++) {
        if (now[i] && !before[i])
            return false;
        fewer |= before[i] && !now[i];
    }
    return fewer;
}

static void conventions_find(struct hk_proofing *p)
{
    size_t count = p->written->entry_count * p->written->words.size_count;
    bool *bad = hk_arena_take(p->arena, count, sizeof *bad), *trial = hk_arena_take(p->arena, count, sizeof *trial);
    if (!bad || !trial) {
        p->out_of_memory = true;
        return;
    }
    run_all(p);
    marks_take(p, bad);
    /*
     * For a row that cannot be worked it is not known which conventions it depends on, so those of all rows are tried.
     */
    unsigned candidates = eligible_used(p, bad);
    bool unworked = false;
    for (size_t i = 0; i < count; i++)
        unworked |= bad[i] && !p->proof->rows[i].worked;
    if (unworked)
        candidates = eligible_used(p, NULL);
    bool again = false;
    for (unsigned choice = 0; choice < HK_CONVENTIONS && !p->out_of_memory && !p->spent; choice++) {
        if (!(candidates & (1u << choice)))
            continue;
        p->other ^= 1u << choice;
        run_all(p);
        marks_take(p, trial);
        again = !better(trial, bad, count);
        if (again)
            p->other ^= 1u << choice;
        else
            memcpy(bad, trial, count * sizeof *bad);
    }
    if (again && !p->out_of_memory && !p->spent)
        run_all(p);
}

static void conventions_report(struct hk_proofing *p, struct hk_diags *diags)
{
    struct hk_place place = {p->written->lines.file, 0, 0};
    for (unsigned choice = 0; choice < HK_CONVENTIONS; choice++)
        if (p->other & (1u << choice))
            hk_diags_add(diags, HK_CODE_ASSUMPTION, place, "%s: only then do the stated counts agree",
                         hk_convention_text((enum hk_convention)choice, true));
}

/* Stores the reading of ambiguous conventions in each row. */
static void readings_keep(struct hk_proofing *p)
{
    size_t sizes = p->written->words.size_count;
    for (size_t i = 0; i < p->written->entry_count * sizes && !p->out_of_memory; i++) {
        struct hk_proof_row *row = &p->proof->rows[i];
        const struct hk_conventions *stated_ones = &p->written->entries[i / sizes].conventions;
        unsigned other = (stated_ones->other & stated_ones->settled) | (p->other & ~stated_ones->settled);
        const char **readings = row->choices ? hk_arena_take(p->arena, HK_CONVENTIONS, sizeof *readings) : NULL;
        p->out_of_memory |= row->choices && !readings;
        for (unsigned choice = 0; readings && choice < HK_CONVENTIONS; choice++)
            if (row->choices & (1u << choice)) {
                p->proof->taken[(other >> choice) & 1u] |= 1u << choice;
                readings[row->reading_count++] = hk_convention_text((enum hk_convention)choice, other & (1u << choice));
            }
        row->readings = readings;
    }
}

/* Reports rows of stitch patterns that cannot be parsed, used or not. */
static void blocks_report(const struct hk_proofing *p, struct hk_diags *diags)
{
    for (size_t b = 0; b < p->written->block_count; b++)
        for (size_t e = 0; e < p->written->blocks[b].count; e++) {
            const struct hk_proof_entry *parsed = &p->entries[p->written->blocks[b].first + e];
            if (parsed->good)
                continue;
            hk_diags_add(diags, parsed->problem.code, parsed->problem.place, "%s", parsed->problem.text);
            if (parsed->problem.hint)
                hk_diags_hint(diags, "%s", parsed->problem.hint);
        }
}

static void prose_report(const struct hk_written *written, struct hk_diags *diags)
{
    for (size_t i = 0; i < written->sequence_count; i++) {
        if (written->sequences[i].used)
            continue;
        hk_diags_add(diags, HK_CODE_ROW_SYNTAX, written->sequences[i].place,
                     "no rows are worked in these colours: \"%.80s\"", written->sequences[i].text);
        hk_diags_hint(diags,
                      "write it in the piece ahead of its rows, or \"Work in stripe sequence for 20 rows\" there");
    }
    for (size_t i = 0; i < written->prose_count; i++)
        if (written->prose[i].work && !written->prose[i].instruction)
            hk_diags_add(diags, HK_CODE_ASSUMPTION, written->prose[i].place, "no yarn is counted for \"%.80s\"",
                         written->prose[i].text);
    for (size_t i = 0; i < written->prose_count; i++) {
        if (!written->prose[i].count)
            continue;
        hk_diags_add(diags, HK_CODE_ROW_SYNTAX, written->prose[i].place, "\"%.80s\" is a count that follows no row",
                     written->prose[i].text);
        hk_diags_hint(diags, "write it at the end of the row that it belongs to");
    }
    for (size_t i = 0; i < written->prose_count; i++) {
        const struct hk_written_prose *prose = &written->prose[i];
        if (!prose->rows || (prose->work && !prose->instruction))
            continue;
        hk_diags_add(diags, prose->instruction ? HK_CODE_ROW_SYNTAX : HK_CODE_UNUSUAL, prose->place,
                     "\"%.80s\" has a number of rows and is not read", prose->text);
        hk_diags_hint(diags, prose->instruction
                                 ? "write it as \"Work in st st for 18 rows\", \"Rep row 2 18 more times\" "
                                   "or \"Next 18 rows: Sc in each st across\""
                                 : "if it is work, write it as \"Work in st st for 18 rows\" or \"Rep row "
                                   "2 18 more times\"");
    }
}

/* ---- The whole proof ---- */

static void report(struct hk_proofing *p, struct hk_diags *diags)
{
    if (p->spent) {
        hk_diags_add(diags, HK_CODE_COUNT_TOO_LARGE, (struct hk_place){p->written->lines.file, 0, 0},
                     "the pattern has more stitches and rows than can be followed");
        hk_diags_hint(diags, "is a number a slip?");
    }
    blocks_report(p, diags);
    remarks_report(p, diags);
    left_report(p, diags);
    counts_report(p, diags);
    lengths_report(p, diags);
    conventions_report(p, diags);
    prose_report(p->written, diags);
}

struct hk_proof *hk_proof_make(const struct hk_written *written, const struct hk_proof_host *host, int64_t *effort,
                               struct hk_diags *diags)
{
    struct hk_proof *proof = calloc(1, sizeof *proof);
    if (!proof) {
        diags->out_of_memory = true;
        return NULL;
    }
    size_t sizes = written->words.size_count;
    proof->written = written;
    proof->read = hk_arena_take(&proof->arena, written->entry_count, sizeof *proof->read);
    proof->tails = hk_arena_take(&proof->arena, written->entry_count, sizeof(const struct hk_row_text *));
    proof->rows = hk_arena_take(&proof->arena, written->entry_count * sizes, sizeof *proof->rows);
    proof->lines = hk_arena_take(&proof->arena, written->work_count * sizes, sizeof *proof->lines);
    proof->incomplete = hk_arena_take(&proof->arena, sizes, sizeof *proof->incomplete);
    struct hk_proofing p = {.proof = proof,
                            .written = written,
                            .host = host,
                            .arena = &proof->arena,
                            .entries = hk_arena_take(&proof->arena, written->entry_count, sizeof *p.entries),
                            .remark_of = hk_arena_take(&proof->arena, written->entry_count, sizeof *p.remark_of),
                            .words = written->words,
                            .effort = effort};
    p.chain = hk_catalogue_stitch(written->words.catalogue, "ch");
    p.cast_on = hk_catalogue_stitch(written->words.catalogue, "CO");
    p.slip = hk_catalogue_stitch(written->words.catalogue, "sl st");
    p.slipped = hk_catalogue_stitch(written->words.catalogue, "sl");
    p.knit = hk_catalogue_stitch(written->words.catalogue, "k");
    p.purl = hk_catalogue_stitch(written->words.catalogue, "p");
    p.floats = hk_catalogue_stitch(written->words.catalogue, "float");
    p.carried = hk_catalogue_stitch(written->words.catalogue, "carried strand");
    p.needles = hk_word_find(written->lines.bytes, "needles") || hk_word_find(written->lines.bytes, "needle");
    p.out_of_memory = proof->arena.out_of_memory;
    if (!p.out_of_memory)
        definitions_read(&p);
    for (size_t i = 0; i < written->entry_count && !p.out_of_memory; i++) {
        entry_read(&p, i);
        proof->read[i] = p.entries[i].good && !written->entries[i].problem.text;
        proof->tails[i] = p.entries[i].tailed && !proof->read[i] ? p.entries[i].tail.text : NULL;
    }
    if (!p.out_of_memory)
        conventions_find(&p);
    proof->other = p.other;
    if (!p.out_of_memory) {
        proof->choices = eligible_used(&p, NULL);
        readings_keep(&p);
        report(&p, diags);
    }
    p.out_of_memory |= proof->arena.out_of_memory;
    if (!p.out_of_memory)
        return proof;
    diags->out_of_memory = true;
    hk_proof_free(proof);
    return NULL;
}

void hk_proof_free(struct hk_proof *proof)
{
    if (!proof)
        return;
    hk_arena_free(&proof->arena);
    free(proof);
}
