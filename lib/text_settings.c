/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A written pattern says most of what a project needs: its sizes, terms, yarns, hooks and gauge. What it does not say
 * is left empty, for the designer to fill in: nothing is guessed at.
 */
#include "pattern/lines.h"
#include "pattern/prose.h"
#include "pattern/setting.h"
#include "quantity.h"
#include "slurp.h"
#include "text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SIZES_MOST 100
#define YARNS_MOST 16
#define TITLE_MOST ((size_t)80)

struct inside {
    struct hk_text_settings settings;
    struct hk_arena arena;
    struct hk_pattern_lines lines;
    char *bytes;
};

static struct hk_arena *arena_of(struct inside *in)
{
    return &in->arena;
}

/* ---- Sizes ---- */

/* "S (M, L)", "XS, S, M", "Small [Medium, Large]" up to a colon, a semicolon or a full stop. */
static size_t sizes_scan(struct inside *in, const char *text, const char **sizes)
{
    size_t count = 0, length = strcspn(text, ":;.");
    const char *end = text + length, *c = text;
    bool brackets = memchr(text, '(', length) || memchr(text, '[', length);
    while (c < end && count < SIZES_MOST) {
        size_t word = strcspn(c, "()[],:;./");
        const char *stop = c + word < end ? c + word : end;
        const char *from = c, *to = stop;
        while (from < to && *from == ' ')
            from++;
        while (to > from && to[-1] == ' ')
            to--;
        if (to > from) {
            if ((size_t)(to - from) > 16)
                return 0;
            sizes[count] = hk_arena_text(arena_of(in), from, (size_t)(to - from));
            if (!sizes[count++])
                return 0;
        }
        c = stop < end ? stop + 1 : end;
    }
    return count > 1 || (count == 1 && !brackets) ? count : 0;
}

static bool is_sizes_heading(const char *text, const char **rest)
{
    static const char *const words[] = {"sizes", "size", NULL};
    const char *end = hk_word_of(text, words);
    if (!end)
        return false;
    end = hk_blanks_skipped(end);
    *rest = *end == ':' ? hk_blanks_skipped(end + 1) : end;
    if (*end == ':' || !*end)
        return true;
    size_t first = strcspn(end, " ([:"); /* "SIZES 2 (4, 6, 8)" */
    const char *open = hk_blanks_skipped(end + first), *close = open + strcspn(open, ")]");
    return (*open == '(' || *open == '[') && *close && !*hk_blanks_skipped(close + 1);
}

static void sizes_find(struct inside *in)
{
    const char **sizes = hk_arena_take(arena_of(in), SIZES_MOST, sizeof *sizes);
    for (size_t i = 0; sizes && i < in->lines.count && in->settings.size_count == 0; i++) {
        const char *rest;
        if (!is_sizes_heading(in->lines.lines[i].text.text, &rest))
            continue;
        if (!*rest && i + 1 < in->lines.count)
            rest = in->lines.lines[i + 1].text.text;
        static const char *const skipped[] = {"to fit", "to fit sizes", "sizes", NULL};
        const char *skip = hk_word_of(rest, skipped);
        in->settings.size_count = sizes_scan(in, hk_blanks_skipped(skip ? skip : rest), sizes);
    }
    in->settings.sizes = sizes;
}

/* Most graded numbers have as many values as there are sizes: the number of values that is met most. */
static void graded_find(struct inside *in)
{
    size_t met[SIZES_MOST + 1] = {0};
    for (const char *c = in->bytes; *c; c++) {
        size_t values = 1;
        if (!hk_is_digit(*c) || (c > in->bytes && hk_is_digit(c[-1])))
            continue;
        const char *open = hk_blanks_skipped(c + hk_digit_run(c));
        if (*open != '(' && *open != '[')
            continue;
        const char *inner = open + 1;
        for (;;) {
            inner = hk_blanks_skipped(inner);
            size_t digits = *inner == '-' ? 1 : hk_digit_run(inner);
            if (digits == 0)
                break;
            values++;
            inner = hk_blanks_skipped(inner + digits);
            if (*inner != ',')
                break;
            inner++;
        }
        if ((*inner == ')' || *inner == ']') && values > 1 && values <= SIZES_MOST &&
            hk_blanks_skipped(inner + 1)[0] != '(')
            met[values]++;
    }
    for (size_t i = 2; i <= SIZES_MOST; i++)
        if (met[i] > 1 && met[i] > met[in->settings.graded])
            in->settings.graded = i;
}

/* ---- Title, terms ---- */

static void title_find(struct inside *in)
{
    bool gauge;
    in->settings.title = "";
    for (size_t i = 0; i < in->lines.count; i++) {
        const char *text = in->lines.lines[i].text.text;
        if (hk_heading_silent(text, &gauge) || strlen(text) > TITLE_MOST || hk_label_begins(text))
            continue;
        size_t length = strlen(text);
        while (length > 0 && strchr(" .*_", text[length - 1]))
            length--;
        const char *title = hk_arena_text(arena_of(in), text, length);
        in->settings.title = title ? title : "";
        return;
    }
}

static bool named_terms(const char *text, const char *const *words)
{
    for (; *words; words++)
        if (hk_word_find(text, *words))
            return true;
    return false;
}

static void terms_find(struct inside *in)
{
    static const char *const uk[] = {"UK terms",      "UK terminology",   "UK crochet terms",
                                     "British terms", "UK abbreviations", NULL};
    static const char *const us[] = {"US terms",       "US terminology",   "US crochet terms",
                                     "American terms", "US abbreviations", NULL};
    static const char *const uk_words[] = {"htr", "dtr", "miss", "tension", "cast off", NULL}, *const us_words[] = {"sc", "hdc",
                                                                                                        "sk", NULL};
    in->settings.terms_named = true;
    in->settings.uk = named_terms(in->bytes, uk);
    if (in->settings.uk || named_terms(in->bytes, us))
        return;
    in->settings.terms_named = false;
    in->settings.uk = named_terms(in->bytes, uk_words) && !named_terms(in->bytes, us_words);
}

/* ---- Yarns ---- */

/* "50 g" and "120 m" of a label in a line; their texts, "" where it has none. *at: where the first of them stands. */
static bool label_find(struct inside *in, const char *line, const char **put_up, const char **length, size_t *at)
{
    *put_up = *length = "";
    *at = strlen(line);
    for (const char *c = line; *c; c++) {
        if (!hk_is_digit(*c) || (c > line && (hk_is_digit(c[-1]) || c[-1] == '.' || hk_is_letter(c[-1]))))
            continue;
        const char *end = c;
        double value, factor;
        enum hk_dimension dimension;
        if (!hk_number_scan(&end, false, &value) || !hk_unit_scan(&end, &dimension, &factor))
            continue;
        bool mass = dimension == HK_MASS, metres = dimension == HK_LENGTH && value * factor >= 5;
        if ((!mass && !metres) || (mass && **put_up) || (metres && **length))
            continue;
        const char *text = hk_arena_text(arena_of(in), c, (size_t)(end - c));
        if (!text)
            return false;
        *(mass ? put_up : length) = text;
        *at = (size_t)(c - line) < *at ? (size_t)(c - line) : *at;
    }
    return **put_up && **length;
}

static const char *role_prefix(const char *text, size_t *length)
{
    static const char *const words[] = {"yarn", "colour", "color", NULL};
    const char *c = text, *word = hk_word_of(c, words);
    c = word ? word + strspn(word, " :") : c;
    c = hk_blanks_skipped(c);
    size_t name = strcspn(c, ":=- (");
    bool role = name > 0 && name <= 3 && c[0] >= 'A' && c[0] <= 'Z' &&
                (name == 1 || hk_text_starts(c, "MC") || hk_text_starts(c, "CC"));
    if (!role || !c[name])
        return NULL;
    *length = name;
    return c;
}

/* Words up to a mark, without figures: a colour; "" where it is none. */
static const char *colour_at(struct inside *in, const char *c)
{
    static const char *const fillers[] = {"in", "color", "colour", "shade", "-", ":", "=", NULL};
    static const char *const none[] = {"balls", "ball", "skeins", "skein", "held", "and", "or",
                                       "for",   "oz",   "yd",     "g",     "m",    NULL};
    for (const char *end; (end = hk_word_of(hk_blanks_skipped(c), fillers)); c = end)
        ;
    c = hk_blanks_skipped(c);
    size_t length = strcspn(c, ",;.()[]/");
    while (length > 0 && c[length - 1] == ' ')
        length--;
    for (size_t i = 0; i < length; i++)
        if (hk_is_digit(c[i]))
            return "";
    if (length == 0 || length > 40 || hk_word_of(c, none))
        return "";
    const char *colour = hk_arena_text(arena_of(in), c, length);
    return colour ? colour : "";
}

/* The colour behind a label: "(50 g / 120 m), Slate". */
static const char *colour_behind(struct inside *in, const char *line, size_t at)
{
    const char *c = line + at;
    c += strcspn(c, ")],;");
    if (*c == ')' || *c == ']')
        c++;
    c = hk_blanks_skipped(c);
    return *c == ',' || *c == ';' ? colour_at(in, c + 1) : "";
}

/* "MC: Quay DK (50 g = 120 m), Slate, 5 (6, 7) balls". */
static bool yarn_read(struct inside *in, const char *text, struct hk_text_yarn *yarn)
{
    size_t at, role;
    *yarn = (struct hk_text_yarn){"", "", "", "", ""};
    if (!label_find(in, text, &yarn->put_up, &yarn->length, &at))
        return false;
    const char *prefix = role_prefix(text, &role), *name = text;
    if (prefix) {
        yarn->role = hk_arena_text(arena_of(in), prefix, role);
        name = hk_blanks_skipped(prefix + role);
        const char *close = *name == '(' ? strchr(name, ')') : NULL;
        if (close && *hk_blanks_skipped(close + 1) == ':') { /* "A (black): Skerry DK" */
            yarn->colour = colour_at(in, name + 1);
            name = close + 1;
        }
        name += strspn(name, " :=-(");
    } else {
        const char *colon = strchr(text, ':');
        name = colon && (size_t)(colon - text) < at ? hk_blanks_skipped(colon + 1) : text;
    }
    size_t length = name < text + at ? (size_t)(text + at - name) : 0;
    const char *mark = memchr(name, '(', length), *comma = memchr(name, ',', length);
    if (mark && (!comma || mark < comma))
        length = (size_t)(mark - name);
    else if (comma)
        length = (size_t)(comma - name);
    while (length > 0 && strchr(" ,;:-(", name[length - 1]))
        length--;
    yarn->yarn = hk_arena_text(arena_of(in), name, length);
    if (yarn->role && *yarn->role && !*yarn->colour)
        yarn->colour = colour_behind(in, text, at);
    return yarn->role && yarn->yarn;
}

/* Names of yarns that rows use, in the order MC, CC, A, B. */
static void roles_find(struct inside *in, struct hk_text_yarn *yarns, size_t *count)
{
    static const char *const names[] = {"MC", "CC", "CC1", "CC2", "CC3", "A", "B", "C", "D", "E", "F"};
    static const char *const before[] = {"with ", "change to ", "in ", "join ", "using ", "switch to "};
    for (size_t i = 0; i < sizeof names / sizeof names[0] && *count < YARNS_MOST; i++) {
        bool used = false, known = false;
        for (size_t b = 0; b < sizeof before / sizeof before[0]; b++) {
            char phrase[32];
            snprintf(phrase, sizeof phrase, "%s%s", before[b], names[i]);
            const char *at = hk_word_find(in->bytes, phrase);
            size_t length = strlen(phrase);
            used |= at && strncmp(at + strlen(before[b]), names[i], strlen(names[i])) == 0 && at[length] != '\'' &&
                    at[length] != '-';
        }
        for (size_t y = 0; y < *count; y++)
            known |= hk_text_same(yarns[y].role, names[i]);
        if (used && !known)
            yarns[(*count)++] = (struct hk_text_yarn){names[i], "", "", "", ""};
    }
}

static void yarns_find(struct inside *in)
{
    struct hk_text_yarn *yarns = hk_arena_take(arena_of(in), YARNS_MOST, sizeof *yarns), label = {"", "", "", "", ""};
    const char *label_line = "";
    size_t count = 0, labels = 0;
    for (size_t i = 0; yarns && i < in->lines.count; i++) {
        struct hk_text_yarn yarn;
        if (hk_label_begins(in->lines.lines[i].text.text) || !yarn_read(in, in->lines.lines[i].text.text, &yarn))
            continue;
        if (!*yarn.role) {
            label = labels++ == 0 ? yarn : (struct hk_text_yarn){"", "", "", "", ""};
            label_line = in->lines.lines[i].text.text;
            continue;
        }
        bool known = false;
        for (size_t y = 0; y < count; y++)
            known |= hk_text_same(yarns[y].role, yarn.role);
        if (!known && count < YARNS_MOST)
            yarns[count++] = yarn;
    }
    if (!yarns)
        return;
    roles_find(in, yarns, &count);
    if (count == 0)
        yarns[count++] = (struct hk_text_yarn){"MC", "", "", "", ""};
    /* One label for all, where the text has only one. */
    for (size_t y = 0; y < count && labels == 1; y++)
        if (!*yarns[y].yarn) {
            yarns[y].yarn = label.yarn;
            yarns[y].put_up = label.put_up;
            yarns[y].length = label.length;
            const char *named = hk_word_find(label_line, yarns[y].role); /* "MC grey, CC red" */
            yarns[y].colour = named ? colour_at(in, named + strlen(yarns[y].role)) : "";
        }
    in->settings.yarns = yarns;
    in->settings.yarn_count = count;
}

/* ---- Gauge ---- */

static bool number_before(const char *line, const char *at, double *value)
{
    while (at > line && at[-1] == ' ')
        at--;
    const char *start = at;
    while (start > line && (hk_is_digit(start[-1]) || start[-1] == '.' || start[-1] == '/'))
        start--;
    return start < at && hk_number_scan(&start, false, value);
}

static const char *word_in(const char *line, const char *const *words)
{
    for (; *words; words++) {
        const char *at = hk_word_find(line, *words);
        if (at)
            return at;
    }
    return NULL;
}

/* "... in hdc", "over stockinette", "in half double crochet": a shipped fabric. */
static const char *fabric_in(struct inside *in, const struct hk_catalogue *catalogue, const char *line)
{
    static const char *const befores[] = {"in", "over", "of", NULL};
    for (const char *c = line; *c; c++) {
        const char *end = (c == line || c[-1] == ' ') ? hk_word_of(c, befores) : NULL;
        if (!end)
            continue;
        end = hk_blanks_skipped(end);
        for (size_t length = strcspn(end, ",.;("); length > 0; length--) {
            const char *name = hk_arena_text(arena_of(in), end, length);
            if (!name)
                return "";
            if (hk_catalogue_fabric(catalogue, name))
                return name;
            const struct hk_words *words = &catalogue->words[in->settings.uk ? HK_UK : HK_US];
            for (size_t i = 0; i < words->count; i++)
                if (hk_text_same(words->words[i].text, name) &&
                    hk_catalogue_fabric(catalogue, catalogue->stitches[words->words[i].stitch].name))
                    return catalogue->stitches[words->words[i].stitch].name;
            if (hk_text_same(name, "st st"))
                return "stockinette";
            while (length > 1 && end[length - 1] != ' ')
                length--;
        }
    }
    return "";
}

static void gauge_find(struct inside *in, const struct hk_catalogue *catalogue)
{
    static const char *const sts[] = {"sts", "st", "stitches", NULL}, *const rows[] = {"rows", "rounds", "rnds", NULL};
    in->settings.gauge_fabric = "";
    for (size_t i = 0; i < in->lines.count; i++) {
        const char *line = in->lines.lines[i].text.text, *st = word_in(line, sts), *row = word_in(line, rows);
        double stitches, row_count;
        bool measured = strstr(line, "10 cm") || strstr(line, "10cm") || strstr(line, "4 in") || strstr(line, "4in") ||
                        strstr(line, "4\"");
        if (hk_label_begins(line) || !st || !row || !measured || !number_before(line, st, &stitches) ||
            !number_before(line, row, &row_count))
            continue;
        in->settings.gauge_stitches = stitches;
        in->settings.gauge_rows = row_count;
        double *tools;
        size_t tool_count;
        if (hk_tools_find(line, catalogue, &tools, &tool_count, arena_of(in)) && tool_count == 1)
            in->settings.gauge_tool_mm = tools[0];
        in->settings.gauge_fabric = fabric_in(in, catalogue, line);
        return;
    }
}

/* ---- All of it ---- */

struct hk_text_settings *hk_text_settings_read(const struct hk_source *source, const char *name,
                                               const struct hk_catalogue *catalogue, struct hk_diags *diags)
{
    struct hk_slurped_file file = {0};
    struct inside *in = calloc(1, sizeof *in);
    if (!in) {
        diags->lost = true;
        return NULL;
    }
    in->settings.inside = in;
    enum hk_slurped slurped = hk_slurp(source, name, HK_PATTERN_BYTES, &file, diags);
    in->bytes = file.text;
    if (slurped == HK_SLURP_ABSENT)
        hk_diags_add(diags, HK_FILE_MISSING, (struct hk_place){name, 0, 0}, "there is no such file");
    if (slurped != HK_SLURPED) {
        hk_text_settings_free(&in->settings);
        return NULL;
    }
    double *tools_mm = NULL;
    in->settings.text = in->bytes;
    in->settings.bytes = file.bytes;
    if (hk_pattern_lines_read(in->bytes, name, NULL, &in->lines, &in->arena) &&
        hk_tools_find(in->bytes, catalogue, &tools_mm, &in->settings.tool_count, &in->arena)) {
        in->settings.tools_mm = tools_mm;
        title_find(in);
        sizes_find(in);
        graded_find(in);
        terms_find(in);
        yarns_find(in);
        gauge_find(in, catalogue);
    }
    if (!in->arena.lost)
        return &in->settings;
    diags->lost = true;
    hk_text_settings_free(&in->settings);
    return NULL;
}

void hk_text_settings_free(struct hk_text_settings *settings)
{
    if (!settings)
        return;
    struct inside *in = settings->inside;
    hk_arena_free(&in->arena);
    free(in->bytes);
    free(in);
}
