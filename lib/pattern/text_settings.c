/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Extracts project settings from a written pattern: sizes, terms, yarns, hooks and gauge. Settings that are not stated
 * stay empty for the designer to fill in; nothing is guessed.
 */
#include "base/text.h"
#include "input/quantity.h"
#include "input/read_file.h"
#include "pattern/lines.h"
#include "pattern/prose.h"
#include "pattern/setting.h"
#include "pattern/shipped_fabrics.h"

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

struct sizes {
    const char **names;
    size_t count;
    bool good;
};

static void size_add(struct inside *in, struct sizes *sizes, const char *from, const char *to)
{
    static const size_t name_most = 16;
    while (from < to && strchr(" ,", *from))
        from++;
    while (to > from && strchr(" ,", to[-1]))
        to--;
    if (from == to)
        return;
    const char *name = hk_arena_text(arena_of(in), from, (size_t)(to - from));
    sizes->good &= name && (size_t)(to - from) <= name_most && sizes->count < SIZES_MOST;
    if (sizes->good)
        sizes->names[sizes->count++] = name;
}

/* Reads names separated by marks or "and". */
static void sizes_part(struct inside *in, struct sizes *sizes, const char *from, const char *end, const char *marks)
{
    for (const char *c = from; c < end; c++) {
        const char *and = *c == ' ' ? hk_word_at(c + 1, "and") : NULL;
        if (!and&&!strchr(marks, *c))
            continue;
        size_add(in, sizes, from, c);
        from = and? and : c + 1;
    }
    size_add(in, sizes, from, end);
}

/* Reads names outside brackets: "S (32 in), M (36 in)". */
static void sizes_outside(struct inside *in, struct sizes *sizes, const char *c)
{
    sizes->count = 0;
    for (;;) {
        size_t name = strcspn(c, "([");
        size_add(in, sizes, c, c + name);
        c += name;
        c += strcspn(c, ")]");
        if (!*c)
            return;
        c++;
    }
}

/*
 * "S (M, L)", "XS (S, M) (L, XL)", "S, M and L", "S/M/L" up to a colon or a full stop. Returns their number; 0 if they
 * cannot be read. Words after the last bracket are not a name: "4 (6, 8) years".
 */
static size_t sizes_scan(struct inside *in, const char *text, const char **names)
{
    struct sizes sizes = {.names = names, .good = true};
    size_t length = 0;
    for (size_t depth = 0; text[length] && (depth > 0 || !strchr(":.", text[length])); length++) {
        depth += text[length] == '(' || text[length] == '[';
        depth -= depth > 0 && (text[length] == ')' || text[length] == ']');
    }
    const char *line = hk_arena_text(arena_of(in), text, length);
    if (!line)
        return 0;
    const char *c = line + strcspn(line, "([;");
    if (!*c || *c == ';' || memchr(line, ',', (size_t)(c - line)) || hk_word_at(line, "one size")) {
        sizes_part(in, &sizes, line, c, strpbrk(line, ",([") ? ",&" : ",&/");
    } else {
        size_add(in, &sizes, line, c);
        while (*c == '(' || *c == '[') {
            size_t inner = strcspn(c, ")]");
            sizes_part(in, &sizes, c + 1, c + inner, HK_VALUE_MARKS);
            c = hk_blanks_skipped(c + inner + (c[inner] != '\0'));
        }
        if (*c == ',' && strpbrk(c, "(["))
            sizes_outside(in, &sizes, line);
        else
            sizes.good &= !strpbrk(c, "([");
    }
    bool list = text[length] == ':' && sizes.count == 1; /* "S: to fit 80 cm", and a line for each other size */
    return sizes.good && !list ? sizes.count : 0;
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
        static const char *const skipped[] = {"to fit sizes", "to fit", "sizes", NULL};
        const char *skip = hk_word_of(rest, skipped);
        in->settings.size_count = sizes_scan(in, hk_blanks_skipped(skip ? skip : rest), sizes);
    }
    in->settings.sizes = sizes;
}

/* Returns the number of values of a graded number at `c`, "72 (78, 84)"; 1 if it is not graded. */
static size_t values_at(const char *c)
{
    size_t values = 1;
    c = hk_blanks_skipped(c + hk_digit_run(c));
    while (*c == '(' || *c == '[') {
        size_t here = values;
        do {
            c = hk_blanks_skipped(c + 1);
            size_t digits = *c == '-' ? 1 : hk_digit_run(c);
            if (digits == 0)
                return values;
            here++;
            c = hk_blanks_skipped(c + digits);
        } while (*c && strchr(HK_VALUE_MARKS, *c));
        if (*c != ')' && *c != ']')
            return values;
        values = here;
        c = hk_blanks_skipped(c + 1);
    }
    return values;
}

/* Finds the most frequent number of values of graded numbers, usually the number of sizes. */
static void graded_find(struct inside *in)
{
    size_t met[SIZES_MOST + 1] = {0};
    for (size_t i = 0; i < in->lines.count; i++) {
        const char *text = in->lines.lines[i].text.text, *times = NULL; /* "inc x 6 (18)" ends with a count */
        for (const char *c = text; *c; c++) {
            if (*c == 'x' || *c == 'X')
                times = hk_blanks_skipped(c + 1);
            if (!hk_is_digit(*c))
                continue;
            size_t values = c == times ? 1 : values_at(c);
            met[values <= SIZES_MOST ? values : 0]++;
            c += hk_digit_run(c) - 1;
        }
    }
    met[0] = 0;
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
        if (length == 0)
            continue;
        in->settings.title = hk_arena_text(arena_of(in), text, length);
        return;
    }
}

static bool named_any(const char *text, const char *const *words)
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
    static const char *const uk_words[] = {"htr", "dtr", "miss", "tension", "cast off", NULL}, *const us_words[] = {
                                                                                                   "sc", "hdc", "sk",
                                                                                                   NULL};
    in->settings.terms_named = true;
    in->settings.uk = named_any(in->bytes, uk);
    if (in->settings.uk || named_any(in->bytes, us))
        return;
    in->settings.terms_named = false;
    in->settings.uk = named_any(in->bytes, uk_words) && !named_any(in->bytes, us_words);
}

/* ---- Yarns ---- */

/* Finds the texts "50 g" and "120 m" of a label in a line, "" if absent; they are from *at to *behind. */
static bool label_find(struct inside *in, const char *line, const char **put_up, const char **length, size_t *at,
                       size_t *behind)
{
    *put_up = *length = "";
    *at = strlen(line);
    *behind = 0;
    for (const char *c = line; *c; c++) {
        if (!hk_is_digit(*c) || (c > line && (hk_is_digit(c[-1]) || hk_is_letter(c[-1]))))
            continue;
        if (c > line + 1 && strchr(".,", c[-1]) && hk_is_digit(c[-2])) /* part of "1,234" */
            continue;
        const char *end = c;
        double value, factor;
        enum hk_dimension dimension;
        if (!hk_number_scan(&end, false, &value) || !hk_unit_scan(&end, &dimension, &factor))
            continue;
        bool mass = dimension == HK_DIM_MASS, metres = dimension == HK_DIM_LENGTH && value * factor >= 5;
        if ((!mass && !metres) || (mass && **put_up) || (metres && **length))
            continue;
        const char *text = hk_arena_text(arena_of(in), c, (size_t)(end - c) - (end[-1] == '.'));
        if (!text)
            return false;
        *(mass ? put_up : length) = text;
        *at = *behind ? *at : (size_t)(c - line);
        *behind = (size_t)(end - line);
    }
    return **put_up && **length;
}

/* "MC: ", "B - ", "Colour A ". A single letter needs a mark after it: "A 50 g ball" names no role. */
static const char *role_prefix(const char *text, size_t *length)
{
    static const char *const words[] = {"yarn", "colour", "color", NULL};
    const char *word = hk_word_of(text, words), *c = word ? word + strspn(word, " :") : text;
    size_t name = strcspn(c, ":=- (");
    bool marked = word || strchr(":=-(", *hk_blanks_skipped(c + name));
    *length = name;
    if (*c < 'A' || *c > 'Z' || name > 3)
        return NULL;
    return (name == 1 && marked) || hk_text_starts(c, "MC") || hk_text_starts(c, "CC") ? c : NULL;
}

/* Returns a colour: words up to a mark, without digits; "" if none. */
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
    return hk_arena_text(arena_of(in), c, length);
}

/* Returns the colour after a label: "(50 g / 120 m), Slate". */
static const char *colour_behind(struct inside *in, const char *c)
{
    c += strcspn(c, ")],;");
    c = hk_blanks_skipped(c + (*c == ')' || *c == ']'));
    return *c == ',' || *c == ';' ? colour_at(in, c + 1) : "";
}

/* "MC: Quay DK (50 g = 120 m), Slate, 5 (6, 7) balls". */
static bool yarn_read(struct inside *in, const char *text, struct hk_text_yarn *yarn)
{
    size_t at, behind, role;
    *yarn = (struct hk_text_yarn){"", "", "", "", ""};
    if (!label_find(in, text, &yarn->put_up, &yarn->length, &at, &behind))
        return false;
    const char *prefix = role_prefix(text, &role), *colon = memchr(text, ':', at);
    const char *name = colon ? hk_blanks_skipped(colon + 1) : text;
    if (prefix) {
        name = hk_blanks_skipped(prefix + role);
        const char *close = memchr(name, ')', (size_t)(text + at - name));
        bool inside = close && *name == '(' && *hk_blanks_skipped(close + 1) == ':'; /* "A (black): Skerry DK" */
        yarn->colour = inside ? colour_at(in, name + 1) : colour_behind(in, text + behind);
        name = inside ? close + 1 : name;
        name += strspn(name, " :=-(");
        yarn->role = hk_arena_text(arena_of(in), prefix, role);
    }
    size_t length = strcspn(name, "([,"), most = (size_t)(text + at - name);
    length = length < most ? length : most;
    while (length > 0 && strchr(" ;:-", name[length - 1]))
        length--;
    yarn->yarn = hk_arena_text(arena_of(in), name, length > 1 ? length : 0); /* "A 50 g ball" */
    return yarn->role && yarn->yarn && yarn->colour;
}

/* Returns true when the text has the phrase followed by the name in its exact case: "with A", not "with a hook". */
static bool names_role(const char *text, const char *before, const char *name)
{
    char phrase[32];
    snprintf(phrase, sizeof phrase, "%s%s", before, name);
    for (const char *at = text; (at = hk_word_find(at, phrase)); at++) {
        const char *end = at + strlen(phrase);
        if (strncmp(end - strlen(name), name, strlen(name)) == 0 && *end != '\'' && *end != '-')
            return true;
    }
    return false;
}

/* "Yarn: Quay DK in Slate (A), 3 balls, and Buoy (B), 1 ball": returns true when a line on yarn has the name in
 * brackets. */
static bool lists_role(const struct inside *in, const char *name)
{
    static const char *const words[] = {"yarn", "yarns", NULL};
    char bracket[16];
    snprintf(bracket, sizeof bracket, "(%s)", name);
    for (size_t i = 0; i < in->lines.count; i++)
        if (hk_word_of(in->lines.lines[i].text.text, words) && strstr(in->lines.lines[i].text.text, bracket))
            return true;
    return false;
}

/* Finds the names of yarns used by rows, or listed, in the order MC, CC, A, B. */
static void roles_find(struct inside *in, struct hk_text_yarn *yarns, size_t *count)
{
    static const char *const names[] = {"MC", "CC", "CC1", "CC2", "CC3", "A", "B", "C", "D", "E", "F"};
    static const char *const before[] = {"with ",      "change to ",   "in ",         "join ",    "using ",
                                         "switch to ", "needles and ", "needle and ", "hook and "};
    for (size_t i = 0; i < sizeof names / sizeof names[0] && *count < YARNS_MOST; i++) {
        bool used = lists_role(in, names[i]), known = false;
        for (size_t b = 0; b < sizeof before / sizeof before[0]; b++)
            used |= names_role(in->bytes, before[b], names[i]);
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
            label = yarn;
            labels++;
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
    /* If the text has only one label, it applies to all yarns. */
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

/* Reads the number before `at`, but not the end of a range, "16-18 sts". */
static bool number_before(const char *line, const char *at, double *value)
{
    const char *start = at > line && at[-1] == ' ' ? at - 1 : at;
    while (start > line && (hk_is_digit(start[-1]) || strchr("./", start[-1]) ||
                            (start[-1] == ' ' && strchr(start, '/') && strchr(start, '/') < at)))
        start--;
    start = hk_blanks_skipped(start);
    return (start == line || start[-1] != '-') && hk_number_scan(&start, false, value);
}

/* Reads the number before one of the words. */
static bool number_of(const char *line, const char *const *words, double *value)
{
    for (; *words; words++)
        for (const char *at = line; (at = hk_word_find(at, *words)); at++)
            if (number_before(line, at, value))
                return true;
    return false;
}

/* Returns a copy, since the settings may outlive the catalogue. "" when out of memory. */
static const char *text_kept(struct inside *in, const char *text)
{
    const char *copy = hk_arena_text(arena_of(in), text, strlen(text));
    return copy ? copy : "";
}

/* Returns a shipped fabric named in a line: "in hdc", "over stockinette", "in half double crochet". */
static const char *fabric_in(struct inside *in, const struct hk_catalogue *catalogue, const char *line)
{
    static const char *const befores[] = {"in", "over", "of", NULL};
    for (const char *c = line; *c; c++) {
        const char *end = (c == line || c[-1] == ' ') ? hk_word_of(c, befores) : NULL;
        if (!end)
            continue;
        end = hk_blanks_skipped(end);
        for (size_t length = strcspn(end, ",.;:("); length > 0; length--) {
            const char *name = hk_arena_text(arena_of(in), end, length);
            if (!name)
                return "";
            if (hk_catalogue_fabric(catalogue, name))
                return name;
            const struct hk_words *words = &catalogue->words[in->settings.uk ? HK_TERMS_UK : HK_TERMS_US];
            for (size_t i = 0; i < words->count; i++)
                if (hk_text_same(words->words[i].text, name) &&
                    hk_catalogue_fabric(catalogue, catalogue->stitches[words->words[i].stitch].name))
                    return text_kept(in, catalogue->stitches[words->words[i].stitch].name);
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
    static const char *const sts[] = {"sts", "st", "stitches", NULL}, *const rows[] = {"rows", "rounds", "rnds", NULL},
                             *const sides[] = {"10 cm", "10cm", "4 in", "4in", "4 inches", "4\"", NULL};
    in->settings.gauge_fabric = "";
    for (size_t i = 0; i < in->lines.count; i++) {
        const char *line = in->lines.lines[i].text.text;
        double stitches, row_count;
        if (hk_label_begins(line) || !named_any(line, sides) || !number_of(line, sts, &stitches) ||
            !number_of(line, rows, &row_count))
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

/* ---- The whole file ---- */

struct hk_text_settings *hk_text_settings_read(const struct hk_source *source, const char *name,
                                               const struct hk_catalogue *catalogue, struct hk_diags *diags)
{
    struct hk_file_text file = {0};
    struct inside *in = calloc(1, sizeof *in);
    if (!in) {
        diags->out_of_memory = true;
        return NULL;
    }
    in->settings.inside = in;
    enum hk_file_read read = hk_read_file(source, name, HK_PATTERN_BYTES, &file, diags);
    in->bytes = file.text;
    if (read == HK_FILE_READ_ABSENT)
        hk_diags_add(diags, HK_CODE_FILE_MISSING, (struct hk_place){name, 0, 0}, "there is no such file");
    if (read != HK_FILE_READ_WHOLE) {
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
    if (!in->arena.out_of_memory)
        return &in->settings;
    diags->out_of_memory = true;
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
