/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The list of findings: the name and severity of each code, adding a finding, accepted findings, and sorting. Messages
 * are shown on a terminal and quote users' cells, so this file alone keeps each to one line of limited length.
 */
#include "base/diags.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct code_entry {
    const char *name;
    enum hk_severity severity;
};

/* The names are part of the JSON output: they never change. */
static const struct code_entry codes[] = {
    [HK_CODE_FILE_MISSING] = {"file-missing", HK_SEVERITY_ERROR},
    [HK_CODE_FILE_UNREADABLE] = {"file-unreadable", HK_SEVERITY_ERROR},
    [HK_CODE_FILE_TOO_LARGE] = {"file-too-large", HK_SEVERITY_ERROR},
    [HK_CODE_FILE_FORMAT] = {"file-format", HK_SEVERITY_ERROR},
    [HK_CODE_FILE_ENCODING] = {"file-encoding", HK_SEVERITY_WARNING},
    [HK_CODE_CSV_SYNTAX] = {"csv-syntax", HK_SEVERITY_ERROR},
    [HK_CODE_HEADER_MISSING] = {"header-missing", HK_SEVERITY_ERROR},
    [HK_CODE_COLUMN_UNKNOWN] = {"column-unknown", HK_SEVERITY_WARNING},
    [HK_CODE_COLUMN_DOUBLED] = {"column-doubled", HK_SEVERITY_ERROR},
    [HK_CODE_COLUMN_MISSING] = {"column-missing", HK_SEVERITY_ERROR},
    [HK_CODE_ROWS_MISSING] = {"rows-missing", HK_SEVERITY_ERROR},
    [HK_CODE_CELL_MISSING] = {"cell-missing", HK_SEVERITY_ERROR},
    [HK_CODE_CELL_TOO_LARGE] = {"cell-too-large", HK_SEVERITY_ERROR},
    [HK_CODE_CELL_EXTRA] = {"cell-extra", HK_SEVERITY_ERROR},
    [HK_CODE_NUMBER] = {"number", HK_SEVERITY_ERROR},
    [HK_CODE_UNIT_MISSING] = {"unit-missing", HK_SEVERITY_ERROR},
    [HK_CODE_UNIT_WRONG] = {"unit-wrong", HK_SEVERITY_ERROR},
    [HK_CODE_RANGE] = {"range", HK_SEVERITY_ERROR},
    [HK_CODE_SPREADSHEET_DAMAGE] = {"spreadsheet-damage", HK_SEVERITY_ERROR},
    [HK_CODE_MONEY] = {"money", HK_SEVERITY_ERROR},
    [HK_CODE_GRADE_COUNT] = {"grade-count", HK_SEVERITY_ERROR},
    [HK_CODE_GRADE_FORM] = {"grade-form", HK_SEVERITY_ERROR},
    [HK_CODE_CHOICE] = {"choice", HK_SEVERITY_ERROR},
    [HK_CODE_NAME_UNKNOWN] = {"name-unknown", HK_SEVERITY_ERROR},
    [HK_CODE_NAME_DOUBLED] = {"name-doubled", HK_SEVERITY_ERROR},
    [HK_CODE_CATEGORY] = {"category", HK_SEVERITY_WARNING},
    [HK_CODE_YARN_CLASH] = {"yarn-clash", HK_SEVERITY_ERROR},
    [HK_CODE_ROW_SYNTAX] = {"row-syntax", HK_SEVERITY_ERROR},
    [HK_CODE_ROW_TERMS] = {"row-terms", HK_SEVERITY_ERROR},
    [HK_CODE_ROW_PLACE] = {"row-place", HK_SEVERITY_ERROR},
    [HK_CODE_ROW_NESTED] = {"row-nested", HK_SEVERITY_ERROR},
    [HK_CODE_ROW_ENDLESS] = {"row-endless", HK_SEVERITY_ERROR},
    [HK_CODE_FABRIC_ROWS] = {"fabric-rows", HK_SEVERITY_ERROR},
    [HK_CODE_WIDTH] = {"width", HK_SEVERITY_ERROR},
    [HK_CODE_COUNT_DIFFERS] = {"count-differs", HK_SEVERITY_ERROR},
    [HK_CODE_COUNT_TOO_LARGE] = {"count-too-large", HK_SEVERITY_ERROR},
    [HK_CODE_START] = {"start", HK_SEVERITY_ERROR},
    [HK_CODE_CIRCLE] = {"circle", HK_SEVERITY_ERROR},
    [HK_CODE_TAKEN] = {"taken", HK_SEVERITY_ERROR},
    [HK_CODE_GAUGE_MISSING] = {"gauge-missing", HK_SEVERITY_ERROR},
    [HK_CODE_SWATCH_TAILS] = {"swatch-tails", HK_SEVERITY_ERROR},
    [HK_CODE_SCALE_COARSE] = {"scale-coarse", HK_SEVERITY_WARNING},
    [HK_CODE_SCATTER] = {"scatter", HK_SEVERITY_WARNING},
    [HK_CODE_OUTLIER] = {"outlier", HK_SEVERITY_WARNING},
    [HK_CODE_PROGRESS] = {"progress", HK_SEVERITY_ERROR},
    [HK_CODE_FIT] = {"fit", HK_SEVERITY_ERROR},
    [HK_CODE_BALL_SMALL] = {"ball-small", HK_SEVERITY_ERROR},
    [HK_CODE_PRICE_MISSING] = {"price-missing", HK_SEVERITY_WARNING},
    [HK_CODE_PRICE_NOTHING] = {"price-nothing", HK_SEVERITY_WARNING},
    [HK_CODE_COST_MISSING] = {"cost-missing", HK_SEVERITY_ERROR},
    [HK_CODE_COST_ALL] = {"cost-all", HK_SEVERITY_ERROR},
    [HK_CODE_OFFER_DOUBLED] = {"offer-doubled", HK_SEVERITY_WARNING},
    [HK_CODE_OFFER_LENGTH] = {"offer-length", HK_SEVERITY_WARNING},
    [HK_CODE_OFFER_SMALL] = {"offer-small", HK_SEVERITY_WARNING},
    [HK_CODE_OFFER_NONE] = {"offer-none", HK_SEVERITY_ERROR},
    [HK_CODE_STOCK_SHORT] = {"stock-short", HK_SEVERITY_ERROR},
    [HK_CODE_STOCK_LOTS] = {"stock-lots", HK_SEVERITY_ERROR},
    [HK_CODE_BASKET] = {"basket", HK_SEVERITY_ERROR},
    [HK_CODE_GRADING_FALLS] = {"grading-falls", HK_SEVERITY_WARNING},
    [HK_CODE_ASSUMPTION] = {"assumption", HK_SEVERITY_NOTE},
    [HK_CODE_LENGTHS] = {"lengths", HK_SEVERITY_NOTE},
    [HK_CODE_STANDS] = {"stands", HK_SEVERITY_NOTE},
    [HK_CODE_UNTAKEN] = {"untaken", HK_SEVERITY_NOTE},
    [HK_CODE_UNUSUAL] = {"unusual", HK_SEVERITY_WARNING},
    [HK_CODE_NOTE_FILLED] = {"note-filled", HK_SEVERITY_WARNING},
    [HK_CODE_LINE_DOUBLED] = {"line-doubled", HK_SEVERITY_WARNING},
    [HK_CODE_ROLE_UNUSED] = {"role-unused", HK_SEVERITY_WARNING},
    [HK_CODE_FABRIC_HIDES] = {"fabric-hides", HK_SEVERITY_WARNING},
    [HK_CODE_SWATCH_DOUBLED] = {"swatch-doubled", HK_SEVERITY_WARNING},
    [HK_CODE_SIZE_WITHOUT] = {"size-without", HK_SEVERITY_WARNING},
    [HK_CODE_SIZE_EMPTY] = {"size-empty", HK_SEVERITY_ERROR},
    [HK_CODE_CANCELLED] = {"cancelled", HK_SEVERITY_ERROR},
    [HK_CODE_PRINT_LEFT] = {"print-left", HK_SEVERITY_WARNING},
    [HK_CODE_PRINT_DIFFERS] = {"print-differs", HK_SEVERITY_ERROR},
    [HK_CODE_TESTER] = {"tester", HK_SEVERITY_ERROR},
    [HK_CODE_OK_UNUSED] = {"ok-unused", HK_SEVERITY_NOTE},
};
static_assert(sizeof codes / sizeof codes[0] == HK_CODE_END, "every code has a name and a severity");

/* A longer message keeps this much of its head and of its tail, which states the error after the quoted cell. */
#define TEXT_END_BYTES ((size_t)300)

const char *hk_code_name(enum hk_code code)
{
    return (size_t)code < HK_CODE_END ? codes[code].name : NULL;
}

enum hk_severity hk_code_severity(enum hk_code code)
{
    return (size_t)code < HK_CODE_END ? codes[code].severity : HK_SEVERITY_ERROR;
}

static void finding_free(struct hk_finding *finding)
{
    free((char *)(uintptr_t)finding->at.file);
    free((char *)(uintptr_t)finding->message);
    free((char *)(uintptr_t)finding->hint);
    *finding = (struct hk_finding){0};
}

void hk_diags_free(struct hk_diags *diags)
{
    struct hk_acceptances *acceptances = diags->acceptances;
    for (size_t i = 0; i < diags->count; i++)
        finding_free(&diags->findings[i]);
    free(diags->findings);
    for (size_t i = 0; acceptances && i < acceptances->count; i++)
        finding_free(&acceptances->findings[i]);
    free(acceptances ? acceptances->findings : NULL);
    hk_acceptances_free(acceptances);
    *diags = (struct hk_diags){0};
}

bool hk_diags_ok(const struct hk_diags *diags)
{
    return diags->errors == 0 && !diags->out_of_memory;
}

size_t hk_diags_count(const struct hk_diags *diags)
{
    return diags->count;
}

const struct hk_finding *hk_diags_finding(const struct hk_diags *diags, size_t i)
{
    return i < diags->count ? &diags->findings[i] : NULL;
}

size_t hk_diags_dropped(const struct hk_diags *diags)
{
    return diags->dropped;
}

size_t hk_diags_errors(const struct hk_diags *diags)
{
    return diags->errors;
}

bool hk_diags_machine_failed(const struct hk_diags *diags)
{
    return diags->machine;
}

bool hk_diags_out_of_memory(const struct hk_diags *diags)
{
    return diags->out_of_memory;
}

void hk_diags_set_out_of_memory(struct hk_diags *diags)
{
    diags->out_of_memory = true;
}

static bool continues_character(char c)
{
    return ((unsigned char)c & 0xC0) == 0x80;
}

static void middle_cut(char *text, size_t length)
{
    static const char gap[] = " ... ";
    size_t head = TEXT_END_BYTES, tail = length - TEXT_END_BYTES;
    while (head > 0 && continues_character(text[head]))
        head--;
    while (tail < length && continues_character(text[tail]))
        tail++;
    memcpy(text + head, gap, sizeof gap - 1);
    memmove(text + head + sizeof gap - 1, text + tail, length - tail + 1);
}

/*
 * Replaces control characters by blanks: C0, DEL, and C1 in UTF-8. A quoted cell may hold line breaks and escape
 * sequences.
 */
static void controls_blank(char *text)
{
    for (unsigned char *c = (unsigned char *)text; *c; c++) {
        if (*c < 0x20 || *c == 0x7F)
            *c = ' ';
        else if (c[0] == 0xC2 && c[1] >= 0x80 && c[1] < 0xA0)
            c[0] = c[1] = ' ';
    }
}

static char *text_format(const char *format, va_list args)
{
    va_list again;
    va_copy(again, args);
    int length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    if (length < 0)
        return NULL;
    char *text = malloc((size_t)length + 1);
    if (!text)
        return NULL;
    vsnprintf(text, (size_t)length + 1, format, args);
    if ((size_t)length > 2 * TEXT_END_BYTES + 16)
        middle_cut(text, (size_t)length);
    controls_blank(text);
    return text;
}

static bool texts_same(const char *a, const char *b)
{
    return a == b || (a && b && strcmp(a, b) == 0);
}

static bool findings_same(const struct hk_finding *a, const struct hk_finding *b)
{
    return a->at.line == b->at.line && a->at.column == b->at.column && a->code == b->code &&
           texts_same(a->at.file, b->at.file) && strcmp(a->message, b->message) == 0;
}

/*
 * Returns true when the known finding reports spreadsheet damage to the same cell: other errors in it are consequences.
 */
static bool damaged_there(const struct hk_finding *known, const struct hk_finding *finding)
{
    return known->code == HK_CODE_SPREADSHEET_DAMAGE && finding->at.line > 0 && known->at.line == finding->at.line &&
           known->at.column == finding->at.column && texts_same(known->at.file, finding->at.file);
}

/* Returns 1 + the index of an equal finding among `count` findings, or 0. */
static size_t find_same(const struct hk_finding *findings, size_t count, const struct hk_finding *finding)
{
    for (size_t i = count; i > 0; i--) {
        const struct hk_finding *known = &findings[i - 1];
        if (findings_same(known, finding) || damaged_there(known, finding))
            return i;
    }
    return 0;
}

static bool make_room(struct hk_finding **findings, size_t count, size_t *capacity)
{
    if (count < *capacity)
        return true;
    size_t most = *capacity ? 2 * *capacity : 16;
    struct hk_finding *larger = realloc(*findings, most * sizeof *larger);
    if (!larger)
        return false;
    *findings = larger;
    *capacity = most;
    return true;
}

static void count_code(struct hk_diags *diags, enum hk_code code)
{
    diags->errors += hk_code_severity(code) == HK_SEVERITY_ERROR;
    diags->machine |= code == HK_CODE_FILE_UNREADABLE;
}

/* The analyzer of gcc 12 loses the pointers in an array that realloc moves, and reports a leak of the file name. */
#if defined __GNUC__ && !defined __clang__
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wanalyzer-malloc-leak"
#endif
/* Takes over the finding's message. */
static void append(struct hk_diags *diags, struct hk_finding finding)
{
    const char *file = finding.at.file;
    finding.at.file = file ? strdup(file) : NULL;
    if ((file && !finding.at.file) || !make_room(&diags->findings, diags->count, &diags->capacity)) {
        finding_free(&finding);
        diags->out_of_memory = true;
        return;
    }
    diags->findings[diags->count++] = finding;
    diags->hinting = diags->count;
}
#if defined __GNUC__ && !defined __clang__
#pragma GCC diagnostic pop
#endif

/*
 * In a full list an error replaces the last finding that is not an error, so errors stay visible. Returns true when
 * there is room.
 */
static bool give_way(struct hk_diags *diags, enum hk_code code)
{
    if (hk_code_severity(code) != HK_SEVERITY_ERROR || diags->errors >= HK_FINDINGS_MOST)
        return false;
    for (size_t i = diags->count; i > 0; i--) {
        if (hk_code_severity(diags->findings[i - 1].code) == HK_SEVERITY_ERROR)
            continue;
        finding_free(&diags->findings[i - 1]);
        memmove(&diags->findings[i - 1], &diags->findings[i], (diags->count - i) * sizeof *diags->findings);
        diags->count--;
        diags->dropped++;
        return true;
    }
    return false;
}

/* ---- Accepted findings ------------------------------------------------------------------------------------------- */

/* Sets a finding aside; takes over its texts. Returns 1 + its index; 0: it is not kept. */
static size_t set_aside(struct hk_diags *diags, struct hk_finding finding)
{
    struct hk_acceptances *aside = diags->acceptances;
    assert(aside);
    const size_t same = aside->count < HK_FINDINGS_MOST ? find_same(aside->findings, aside->count, &finding) : 0;
    const bool full = aside->count == HK_FINDINGS_MOST;
    if (same || full || !make_room(&aside->findings, aside->count, &aside->capacity)) {
        finding_free(&finding);
        aside->dropped += full;
        diags->out_of_memory |= !same && !full;
        return same;
    }
    aside->findings[aside->count++] = finding;
    return aside->count;
}

/* Sets aside a new finding that its line accepts; takes over the message. */
static void add_accepted(struct hk_diags *diags, struct hk_acceptance *acceptance, struct hk_finding finding)
{
    hk_codes_put(&acceptance->met, finding.code);
    finding.at.file = strdup(finding.at.file);
    if (finding.at.file) {
        diags->acceptances->hinting = set_aside(diags, finding);
        return;
    }
    finding_free(&finding);
    diags->out_of_memory = true;
}

/* Sets aside the findings that the acceptance covers and that were added before it. */
static void sweep(struct hk_diags *diags, enum hk_code code, struct hk_ok_lines lines)
{
    size_t kept = 0;
    for (size_t i = 0; i < diags->count; i++) {
        const struct hk_place at = diags->findings[i].at;
        const bool here = diags->findings[i].code == code && at.line >= lines.first && at.line <= lines.last &&
                          texts_same(at.file, lines.at.file);
        struct hk_acceptance *acceptance = here ? hk_acceptance_find(diags->acceptances, at, code) : NULL;
        if (!acceptance) {
            diags->findings[kept++] = diags->findings[i];
            continue;
        }
        hk_codes_put(&acceptance->met, code);
        set_aside(diags, diags->findings[i]);
    }
    if (kept < diags->count)
        diags->hinting = 0;
    diags->count = kept;
}

void hk_diags_accept(struct hk_diags *diags, enum hk_code code, struct hk_ok_lines lines)
{
    assert((size_t)code < HK_CODE_END && hk_code_severity(code) != HK_SEVERITY_ERROR);
    if (!diags->acceptances)
        diags->acceptances = calloc(1, sizeof *diags->acceptances);
    if (diags->acceptances && hk_acceptance_add(diags->acceptances, lines.at.file, code, lines))
        sweep(diags, code, lines);
    else
        diags->out_of_memory = true;
}

bool hk_diags_accepts(const struct hk_diags *diags, enum hk_code code, struct hk_place at)
{
    return hk_acceptance_find(diags->acceptances, at, code);
}

bool hk_diags_accept_as(struct hk_diags *diags, const struct hk_diags *project)
{
    const struct hk_acceptances *from = project->acceptances;
    for (size_t f = 0; from && f < from->file_count; f++)
        for (size_t i = 0; i < from->files[f].count; i++) {
            const struct hk_acceptance *a = &from->files[f].acceptances[i];
            const struct hk_ok_lines lines = {{from->files[f].name, a->line, a->column}, a->first, a->last};
            for (int code = 0; code < HK_CODE_END; code++)
                if (hk_codes_have(&a->codes, (enum hk_code)code))
                    hk_diags_accept(diags, (enum hk_code)code, lines);
        }
    return !diags->out_of_memory;
}

/* Returns true when only the shop, the hours, the quote or the reprint may find it, or these too. */
static bool found_later(enum hk_code code)
{
    static const enum hk_code later[] = {HK_CODE_PRICE_MISSING, HK_CODE_OFFER_SMALL, HK_CODE_PRINT_LEFT, HK_CODE_ASSUMPTION,
                                         HK_CODE_OUTLIER,       HK_CODE_SCATTER,     HK_CODE_SCALE_COARSE};
    for (size_t i = 0; i < sizeof later / sizeof later[0]; i++)
        if (later[i] == code)
            return true;
    return false;
}

void hk_diags_unused(struct hk_diags *diags)
{
    const struct hk_acceptances *aside = diags->acceptances;
    for (size_t f = 0; aside && f < aside->file_count; f++)
        for (size_t i = 0; i < aside->files[f].count; i++) {
            const struct hk_acceptance *a = &aside->files[f].acceptances[i];
            for (int code = 0; code < HK_CODE_END; code++) {
                if (!hk_codes_have(&a->codes, (enum hk_code)code) || hk_codes_have(&a->met, (enum hk_code)code) ||
                    found_later((enum hk_code)code))
                    continue;
                hk_diags_add(diags, HK_CODE_OK_UNUSED, (struct hk_place){aside->files[f].name, a->line, a->column},
                             "ok: \"%s\" is accepted here, and nothing is found that it stands for",
                             hk_code_name((enum hk_code)code));
                hk_diags_hint(diags, "take it out");
            }
        }
}

size_t hk_diags_accepted(const struct hk_diags *diags)
{
    return diags->acceptances ? diags->acceptances->count + diags->acceptances->dropped : 0;
}

const struct hk_finding *hk_diags_accepted_finding(const struct hk_diags *diags, size_t i)
{
    return diags->acceptances && i < diags->acceptances->count ? &diags->acceptances->findings[i] : NULL;
}

/* ---- Adding ------------------------------------------------------------------------------------------------------ */

void hk_diags_add(struct hk_diags *diags, enum hk_code code, struct hk_place at, const char *format, ...)
{
    assert((size_t)code < HK_CODE_END);
    struct hk_acceptance *acceptance = hk_acceptance_find(diags->acceptances, at, code);
    diags->hinting = 0;
    if (diags->acceptances)
        diags->acceptances->hinting = 0;
    if (!acceptance && diags->count == HK_FINDINGS_MOST && !give_way(diags, code)) {
        diags->dropped++;
        count_code(diags, code);
        return;
    }
    va_list args;
    va_start(args, format);
    struct hk_finding finding = {.code = code, .at = at, .message = text_format(format, args)};
    va_end(args);
    if (!finding.message) {
        diags->out_of_memory = true;
        count_code(diags, code);
        return;
    }
    if (acceptance) {
        add_accepted(diags, acceptance, finding);
        return;
    }
    diags->hinting = find_same(diags->findings, diags->count, &finding);
    if (diags->hinting) {
        free((char *)(uintptr_t)finding.message);
        return;
    }
    count_code(diags, code);
    append(diags, finding);
}

/* The finding that the next hint belongs to, or NULL. */
static struct hk_finding *hinted(struct hk_diags *diags)
{
    struct hk_acceptances *aside = diags->acceptances;
    if (diags->hinting)
        return &diags->findings[diags->hinting - 1];
    return aside && aside->hinting ? &aside->findings[aside->hinting - 1] : NULL;
}

void hk_diags_hint(struct hk_diags *diags, const char *format, ...)
{
    struct hk_finding *finding = hinted(diags);
    if (!finding || finding->hint)
        return;
    va_list args;
    va_start(args, format);
    finding->hint = text_format(format, args);
    va_end(args);
    if (!finding->hint)
        diags->out_of_memory = true;
}

void hk_diags_report(struct hk_diags *diags, enum hk_code code, struct hk_place at, const char *message,
                     const char *hint)
{
    hk_diags_add(diags, code, at, "%s", message);
    if (hint)
        hk_diags_hint(diags, "%s", hint);
}

/* ---- Sorting ----------------------------------------------------------------------------------------------------- */

/* The manual's list of files; other files come after these, by name. */
static const char *const file_names[] = {"project.csv",  "grade.csv",    "yarns.csv",   "fabrics.csv",
                                         "swatches.csv", "pattern.txt",  "pieces.csv",  "offers.csv",
                                         "shops.csv",    "progress.csv", "testers.csv", "costs.csv"};
enum { file_count = sizeof file_names / sizeof file_names[0] };

const char *hk_project_file(size_t i)
{
    return i < file_count ? file_names[i] : NULL;
}

/* The position of a file in this list. */
static size_t file_rank(const char *file)
{
    size_t i = 0;
    while (i < file_count && strcmp(file, file_names[i]) != 0)
        i++;
    return i;
}

static int files_compare(const char *a, const char *b)
{
    if (!a || !b)
        return (a != NULL) - (b != NULL);
    if (strcmp(a, b) == 0)
        return 0;
    size_t rank_a = file_rank(a), rank_b = file_rank(b);
    return rank_a != rank_b ? (rank_a > rank_b) - (rank_a < rank_b) : strcmp(a, b);
}

static int findings_compare(const struct hk_finding *a, const struct hk_finding *b)
{
    int files = files_compare(a->at.file, b->at.file);
    if (files != 0)
        return files;
    if (a->at.line != b->at.line)
        return a->at.line < b->at.line ? -1 : 1;
    return (a->at.column > b->at.column) - (a->at.column < b->at.column);
}

/* Insertion sort: there are at most HK_FINDINGS_MOST findings, mostly in order, and equals must keep their order. */
static void sort(struct hk_finding *findings, size_t count)
{
    for (size_t i = 1; i < count; i++) {
        struct hk_finding finding = findings[i];
        size_t at = i;
        for (; at > 0 && findings_compare(&findings[at - 1], &finding) > 0; at--)
            findings[at] = findings[at - 1];
        findings[at] = finding;
    }
}

void hk_diags_sort(struct hk_diags *diags)
{
    sort(diags->findings, diags->count);
    diags->hinting = 0;
    if (!diags->acceptances)
        return;
    sort(diags->acceptances->findings, diags->acceptances->count);
    diags->acceptances->hinting = 0;
}
